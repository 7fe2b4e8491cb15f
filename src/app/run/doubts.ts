import type { Book } from "../../engine";
import { readReading } from "./readings";
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
}

/**
 * Why a step cannot be taken for done without a word: its wait never began, or what was typed at it is no reading.
 * A wait that was passed over once is not asked about again. Undefined when nothing speaks against it.
 */
export function doubtAt(book: Book, run: Run, step: BenchStep): Doubt | undefined {
  const record = recordOf(run, step);
  const wait =
    step.wait !== undefined &&
    step.wait.milliseconds !== 0 &&
    record?.timer === undefined &&
    record?.doneAt === undefined;
  const unread = step.asks.flatMap((ask) => {
    const typed = typedFor(run, ask.path);
    const { state } = readReading(book, ask, typed);
    if (state === "refused") return [`“${typed.trim()}” is no reading of ${readingLabel(ask.path)}`];
    if (state === "unclear") return [`“${typed.trim()}” at ${readingLabel(ask.path)} may mean two numbers`];
    return [];
  });
  if (!wait && unread.length === 0) return undefined;
  const planned = step.wait === undefined || step.wait.text === "" ? "" : ` of ${step.wait.text}`;
  const says = [...(wait ? [`The wait${planned} never began`] : []), ...unread].join(", and ");
  return { says: `${says}.`, wait, unread: unread.length };
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
