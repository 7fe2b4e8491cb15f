import type { Book, TableItem } from "../../engine";
import { partsOf } from "../state/paths";

/** Which tables gather runs, and which of their columns tell one from another. */

/** What a table, its title or its first column is called when its rows are runs. */
const RUNS = /^(runs?|trials?|batch(es)?)$/i;

/**
 * Whether a table gathers runs: steps write into it, or its rows have days or are called runs, and are no parts of a sum.
 * Where the book adds the rows up and takes no mean of any column, they are the parts of a blend or the entries of an
 * account.
 */
export function gathersRuns(book: Book, table: TableItem): boolean {
  const asked = book.items.some(
    (item) => item.type === "step" && item.asks.some((ask) => partsOf(ask.path)[0] === table.name),
  );
  if (asked) return true;
  const feet = table.tree.feet.map(({ node }) => (node.formula.type === "call" ? node.formula.name : ""));
  const called = [table.name, table.title, table.columns[0]!.name].some((name) => RUNS.test(name));
  return (called || dayColumn(table) !== undefined) && (!feet.includes("sum") || feet.includes("mean"));
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
