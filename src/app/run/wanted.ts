import type { Book, TableItem, ValueItem } from "../../engine";
import { partsOf } from "../state/paths";

/** What a step's question is written into: a column of a table, or a value of the book. */
export type Wanted =
  | {
      readonly in: "table";
      readonly table: TableItem;
      /** Among the typed columns. */
      readonly column: number;
      /** Unit of the heading, "" when each cell has its own. */
      readonly unit: string;
      readonly holds: "quantity" | "words" | "date";
    }
  | { readonly in: "value"; readonly item: ValueItem; readonly holds: "quantity" | "words" | "date" };

/** Where the reading of a path goes; undefined when the book has no such place to write to. */
export function asked(book: Book, path: string): Wanted | undefined {
  const [name, part, ...more] = partsOf(path);
  if (name === undefined || more.length > 0) return undefined;
  for (const item of book.items) {
    if (item.type === "value" && item.name === name && part === undefined) {
      const { value } = item.shown;
      const holds = value.type === "text" ? "words" : value.type === "date" ? "date" : "quantity";
      return { in: "value", item, holds };
    }
    if (item.type === "table" && item.name === name && part !== undefined) {
      const column = item.columns.findIndex((c) => c.name === part && c.typed);
      if (column < 0) return undefined;
      return { in: "table", table: item, column, ...headingOf(item, column) };
    }
  }
  return undefined;
}

/** What the heading of a typed column says of its cells. */
export function headingOf(
  table: TableItem,
  column: number,
): { readonly unit: string; readonly holds: "quantity" | "words" | "date" } {
  const heading = table.tree.heading?.node.columns[column];
  const unit = heading?.unit?.text ?? "";
  if (heading?.holds === "date") return { unit: "", holds: "date" };
  if (heading?.holds === "text" || column === 0) return { unit: "", holds: "words" };
  if (heading?.holds === "number" || unit !== "") return { unit, holds: "quantity" };
  const { holds } = table.columns[column]!;
  return { unit, holds: holds === "text" ? "words" : holds === "date" ? "date" : "quantity" };
}
