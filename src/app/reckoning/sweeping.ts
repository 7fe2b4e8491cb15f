import type { Statement } from "../../../grammar";
import type { Book, ChartItem, Shown, ValueItem } from "../../engine";
import { type SweepPicture, type SweepResult, sweepRun } from "../run/sweeps";
import type { Progress } from "./jobs";

/** A sweep as plain data: without the statement that it is drawn for, and of each value only what is shown. */
export type SweepWork =
  | { readonly says: string }
  | (Omit<SweepPicture, "chart"> & { readonly chart: Omit<ChartItem, "statement"> });

/** Milliseconds for which a sweep may hold the page; what takes longer is done beside it. */
const QUICK = 60;

/** The sweep at once, where it is quick; undefined where it is not. */
export function quickSweep(
  book: Book,
  item: ValueItem,
  result: SweepResult,
): SweepPicture | { readonly says: string } | undefined {
  const run = sweepRun(book, item, result);
  const until = performance.now() + QUICK;
  while (performance.now() < until) {
    const step = run.next();
    if (step.done) return step.value;
  }
  return undefined;
}

/** The sweep of the value of a name, point by point, as plain data. */
export function* sweepWork(
  book: Book,
  name: string,
  result: SweepResult,
): Generator<Progress, SweepWork, void> {
  const item = book.items.find((i) => i.type === "value" && i.name === name);
  if (item?.type !== "value") return { says: `${name} is not in the book any more.` };
  const swept = yield* sweepRun(book, item, result);
  if (!("rows" in swept)) return swept;
  const { statement: _, ...chart } = swept.chart;
  const rows = swept.rows.map((row) => ({ ...row, input: plain(row.input), outcome: plain(row.outcome) }));
  return { ...swept, rows, chart };
}

/** What is shown of a value; its number, which knows its units, stays where it was worked out. */
const plain = (shown: Shown): Shown => ({ ...shown, value: { type: shown.value.type } as Shown["value"] });

/** The picture of a sweep that was worked out elsewhere. */
export const withStatement = (
  swept: SweepWork,
  statement: Statement,
): SweepPicture | { readonly says: string } =>
  "rows" in swept ? { ...swept, chart: { ...swept.chart, statement } } : swept;
