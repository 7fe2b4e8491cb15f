import type { BenchStep } from "./steps";

/**
 * One run through the steps of a book at the bench: where it stands, what was read, when its clocks were started.
 * Everything here is plain data that the browser can keep; clocks keep the moments at which they were started and
 * stopped, never ticks, so that they go on through a reload, a closed tab and an empty battery. Times are
 * milliseconds since 1970, always given by the caller.
 */
export interface Run {
  readonly layout: 1;
  /** The book under whose name the browser keeps it. */
  readonly book: string;
  readonly title: string;
  readonly begunAt: number;
  /** Day of the run as ISO text, for the first column of dates. */
  readonly day: string;
  /** Name of the row that the run becomes. */
  readonly name: string;
  /** Number of the step that is shown, from 1; one more than there are steps stands for the end. */
  readonly at: number;
  readonly steps: readonly StepRecord[];
  readonly readings: readonly Reading[];
  /** What else goes into the new row, written at the end. */
  readonly extras: readonly Extra[];
  /** Tables whose readings fill a row that waits for them, instead of a new one. */
  readonly into: readonly { readonly table: string; readonly row: string }[];
  readonly warm?: WarmCount;
  readonly finishedAt?: number;
}
export interface StepRecord {
  /** The sentence of the step as written, so that a step added above does not take its clock. */
  readonly key: string;
  readonly number: number;
  readonly doneAt?: number;
  readonly timer?: Timer;
}
/** A clock: how long it ran before it was last stopped, and since when it runs now. */
export interface Timer {
  readonly before: number;
  readonly since?: number;
  /** The end was told, and heard. */
  readonly heard?: boolean;
}
/** What was read, as it was typed. */
export interface Reading {
  readonly path: string;
  readonly typed: string;
  readonly at: number;
}
export interface Extra {
  readonly table: string;
  readonly column: string;
  readonly typed: string;
}
/** The warm clock: time between 5 and 60 °C, over all spells. */
export interface WarmCount extends Timer {
  /** Hours of the rule that were told and heard: 2, then 4. */
  readonly heardHours: number;
}

type StepAt = Pick<BenchStep, "key" | "number" | "all">;

export type RunAction =
  | { readonly type: "go"; readonly to: number }
  | { readonly type: "done"; readonly step: StepAt; readonly at: number }
  | { readonly type: "undone"; readonly step: StepAt }
  | { readonly type: "read"; readonly path: string; readonly typed: string; readonly at: number }
  | {
      readonly type: "timer";
      readonly step: StepAt;
      readonly do: "start" | "pause" | "again" | "heard";
      readonly at: number;
    }
  | { readonly type: "warm"; readonly do: "start" | "pause"; readonly at: number }
  /** Minutes that it was warm before anybody counted, or that were counted too many. */
  | { readonly type: "warm-add"; readonly minutes: number; readonly at: number }
  | { readonly type: "warm-heard"; readonly hours: number }
  | { readonly type: "name"; readonly name: string }
  | { readonly type: "day"; readonly day: string }
  | { readonly type: "extra"; readonly table: string; readonly column: string; readonly typed: string }
  | { readonly type: "into"; readonly table: string; readonly row: string | undefined }
  | { readonly type: "finish"; readonly at: number }
  | { readonly type: "take-up" };

/** A run at its first step. `day` is the local day as ISO text. */
export function beginRun(book: string, title: string, at: number, day: string): Run {
  return {
    layout: 1,
    book,
    title,
    begunAt: at,
    day,
    name: "",
    at: 1,
    steps: [],
    readings: [],
    extras: [],
    into: [],
  };
}

/** The run after something happened. Pure: the same run and action give the same run. */
export function runAfter(run: Run, action: RunAction): Run {
  switch (action.type) {
    case "go":
      return action.to === run.at ? run : { ...run, at: Math.max(1, action.to) };
    case "done":
      return {
        ...withRecord(run, action.step, (record) => ({ ...record, doneAt: action.at })),
        at: action.step.number + 1,
      };
    case "undone":
      return withRecord(run, action.step, ({ doneAt: _, ...record }) => record);
    case "read": {
      const others = run.readings.filter((r) => r.path !== action.path);
      if (action.typed.trim() === "") return { ...run, readings: others };
      const reading = { path: action.path, typed: action.typed, at: action.at };
      const known = run.readings.findIndex((r) => r.path === action.path);
      return { ...run, readings: known < 0 ? [...others, reading] : run.readings.with(known, reading) };
    }
    case "timer":
      return withRecord(run, action.step, (record) => {
        const timer = turned(record.timer, action.do, action.at);
        const { timer: _, ...rest } = record;
        return timer === undefined ? rest : { ...rest, timer };
      });
    case "warm": {
      const timer = turned(run.warm, action.do, action.at);
      return timer === undefined
        ? run
        : { ...run, warm: { ...timer, heardHours: run.warm?.heardHours ?? 0 } };
    }
    case "warm-add": {
      const warm = run.warm ?? { before: 0, heardHours: 0 };
      // A correction never takes away more than was counted: it may reach into the spell that runs now.
      const total = Math.max(0, elapsed(warm, action.at) + action.minutes * 60_000);
      return {
        ...run,
        warm: { ...warm, before: total, ...(warm.since === undefined ? {} : { since: action.at }) },
      };
    }
    case "warm-heard":
      return run.warm === undefined ? run : { ...run, warm: { ...run.warm, heardHours: action.hours } };
    case "name":
      return { ...run, name: action.name };
    case "day":
      return { ...run, day: action.day };
    case "extra": {
      const others = run.extras.filter((e) => e.table !== action.table || e.column !== action.column);
      if (action.typed === "") return { ...run, extras: others };
      const { table, column, typed } = action;
      return { ...run, extras: [...others, { table, column, typed }] };
    }
    case "into": {
      const others = run.into.filter((i) => i.table !== action.table);
      return {
        ...run,
        into: action.row === undefined ? others : [...others, { table: action.table, row: action.row }],
      };
    }
    case "finish":
      return { ...run, finishedAt: action.at };
    case "take-up": {
      const { finishedAt: _, ...rest } = run;
      return rest;
    }
  }
}

function turned(
  timer: Timer | undefined,
  what: "start" | "pause" | "again" | "heard",
  at: number,
): Timer | undefined {
  switch (what) {
    case "start":
      return timer?.since !== undefined ? timer : { before: timer?.before ?? 0, since: at };
    case "pause":
      return timer?.since === undefined ? timer : { ...stopped(timer), before: elapsed(timer, at) };
    case "again":
      return undefined;
    case "heard":
      return timer === undefined ? timer : { ...timer, heard: true };
  }
}

const stopped = ({ since: _, ...timer }: Timer): Timer => timer;

function withRecord(run: Run, step: StepAt, change: (record: StepRecord) => StepRecord): Run {
  const { key, number } = step;
  const known = recordOf(run, step);
  const record = { ...change(known ?? { key, number }), key, number };
  const steps =
    known === undefined ? [...run.steps, record] : run.steps.map((r) => (r === known ? record : r));
  return { ...run, steps };
}

/**
 * What is known of a step: by its sentence, else by its number when that sentence was rewritten while the run went
 * on.
 */
export function recordOf(run: Run, step: StepAt): StepRecord | undefined {
  return (
    run.steps.find((r) => r.key === step.key) ??
    run.steps.find((r) => r.number === step.number && !step.all.has(r.key))
  );
}

/** How long a clock has run, in milliseconds. A clock of the machine that was set back takes nothing away. */
export function elapsed(timer: Timer | undefined, now: number): number {
  if (timer === undefined) return 0;
  return timer.before + (timer.since === undefined ? 0 : Math.max(0, now - timer.since));
}

/** What was typed for a path, or "". */
export const typedFor = (run: Run, path: string): string =>
  run.readings.find((r) => r.path === path)?.typed ?? "";

/** Whether kept data has the shape of a run. */
export function isRun(kept: unknown): kept is Run {
  if (typeof kept !== "object" || kept === null) return false;
  const run = kept as Partial<Record<keyof Run, unknown>>;
  return (
    run.layout === 1 &&
    typeof run.book === "string" &&
    typeof run.begunAt === "number" &&
    typeof run.at === "number" &&
    [run.steps, run.readings, run.extras, run.into].every(Array.isArray)
  );
}

/** Milliseconds as a clock shows them: `0:42:18`; whole seconds are counted down to, never past. */
export function clockText(milliseconds: number): string {
  const seconds = Math.floor(Math.max(0, milliseconds) / 1000);
  const two = (n: number) => String(n).padStart(2, "0");
  return `${Math.floor(seconds / 3600)}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
}

/** A stretch of time in words: `2 h 5 min`, `40 min`, `20 s`. */
export function spanText(milliseconds: number): string {
  const seconds = Math.round(milliseconds / 1000);
  if (seconds < 60) return `${seconds} s`;
  const minutes = Math.round(seconds / 60);
  const h = Math.floor(minutes / 60);
  const min = minutes % 60;
  return h === 0 ? `${min} min` : min === 0 ? `${h} h` : `${h} h ${min} min`;
}
