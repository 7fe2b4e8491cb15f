import type { Book, TableItem } from "../../engine";
import { partsOf } from "../state/paths";

/** Which tables gather runs, and which of their columns tell one from another. */

/** Whether a table gathers runs: steps write into it, or it has a column of days. */
export function gathersRuns(book: Book, table: TableItem): boolean {
  if (dayColumn(table) !== undefined) return true;
  return book.items.some(
    (item) => item.type === "step" && item.asks.some((ask) => partsOf(ask.path)[0] === table.name),
  );
}

/** Columns that runs can be judged by: those of numbers. */
export const judgedColumns = (table: TableItem): readonly number[] =>
  table.columns.flatMap((c, i) => (c.holds === "quantity" ? [i] : []));

/** The first column that holds days, by its heading or by what stands in it; undefined without one. */
export function dayColumn(table: TableItem): number | undefined {
  const headings = table.tree.heading?.node.columns ?? [];
  const declared = headings.findIndex((h) => h.holds === "date");
  if (declared >= 0) return declared;
  const seen = table.columns.findIndex((c, i) => c.typed && i > 0 && c.holds === "date");
  return seen < 0 ? undefined : seen;
}
