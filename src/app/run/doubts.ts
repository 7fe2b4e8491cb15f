import type { Book } from "../../engine";
import { deviationFrom, readReading } from "./readings";
import { type Run, recordOf, typedFor } from "./run";
import { type BenchStep, readingLabel } from "./steps";

/** What speaks against taking a step for done. */
export interface Doubt {
  /** In one sentence. */
  readonly says: string;
  /** Its wait never began. */
  readonly wait: boolean;
  /** How many of its readings were typed and could not be read. */
  readonly unread: number;
  /** How many were read far from their plan. */
  readonly far: number;
  /** Which of its readings is to be read again first, from 0; undefined when none is. */
  readonly again?: number;
}

/**
 * Why a step cannot be taken for done without a word: its wait never began, or what was typed at it is no reading, or
 * is one far from what was planned. A wait that was passed over once, and a reading that was gone on with as it
 * stands, is not asked about again. Undefined when nothing speaks against it.
 */
export function doubtAt(book: Book, run: Run, step: BenchStep): Doubt | undefined {
  const record = recordOf(run, step);
  const wait =
    step.wait !== undefined &&
    step.wait.milliseconds !== 0 &&
    record?.timer === undefined &&
    record?.doneAt === undefined;
  const readings = step.asks.flatMap((ask, index) => {
    const typed = typedFor(run, ask.path);
    const read = readReading(book, ask, typed);
    const label = readingLabel(ask.path);
    if (read.state === "refused")
      return [{ index, far: false, says: `“${typed.trim()}” is no reading of ${label}` }];
    if (read.state === "unclear")
      return [{ index, far: false, says: `“${typed.trim()}” at ${label} may mean two numbers` }];
    if (read.state !== "read") return [];
    const typedAt = run.readings.find((r) => r.path === ask.path)?.at ?? 0;
    if (record?.doneAt !== undefined && typedAt <= record.doneAt) return [];
    const far = deviationFrom(ask.expect, read.value)?.far;
    return far === undefined ? [] : [{ index, far: true, says: `${label} is ${far}` }];
  });
  if (!wait && readings.length === 0) return undefined;
  const planned = step.wait === undefined || step.wait.text === "" ? "" : ` of ${step.wait.text}`;
  const says = [...(wait ? [`The wait${planned} never began`] : []), ...readings.map((r) => r.says)].join(
    ", and ",
  );
  const far = readings.filter((r) => r.far).length;
  return {
    says: `${says}.`,
    wait,
    unread: readings.length - far,
    far,
    ...(readings[0] === undefined ? {} : { again: readings[0].index }),
  };
}

/** The steps that ask for what was not read, or could not be, each with what it asks for. */
export function wantingSteps(
  book: Book,
  run: Run,
  steps: readonly BenchStep[],
): readonly { readonly step: BenchStep; readonly labels: readonly string[] }[] {
  return steps.flatMap((step) => {
    const labels = step.asks
      .filter((ask) =>
        ["empty", "refused", "unclear"].includes(readReading(book, ask, typedFor(run, ask.path)).state),
      )
      .map((ask) => readingLabel(ask.path));
    return labels.length === 0 ? [] : [{ step, labels }];
  });
}
