import type { Book, TableItem } from "../../engine";
import { partsOf } from "../state/paths";
import { benchSteps } from "./steps";
import { dayColumn } from "./wanted";

/** Which tables gather runs, and which of their columns tell one from another. */

/** Whether a table gathers runs: steps write into it, or it has a column of days. */
export function gathersRuns(book: Book, table: TableItem): boolean {
  if (dayColumn(table) !== undefined) return true;
  return benchSteps(book).some((s) => s.asks.some((ask) => partsOf(ask.path)[0] === table.name));
}

/** Columns that runs can be judged by: those of numbers. */
export const judgedColumns = (table: TableItem): readonly number[] =>
  table.columns.flatMap((c, i) => (c.holds === "quantity" ? [i] : []));
