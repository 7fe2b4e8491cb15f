import type { Book, Shown, TableItem, ValueItem } from "../report";
import { show } from "../show";
import type { Found } from "./found";

interface Known {
  readonly values: ReadonlyMap<string, ValueItem>;
  readonly tables: ReadonlyMap<string, TableItem>;
}

const known = new WeakMap<readonly unknown[], Known>();

/** The items of a book by name. */
export function itemsOf(book: Book): Known {
  let found = known.get(book.items);
  if (found === undefined) {
    const values = new Map<string, ValueItem>();
    const tables = new Map<string, TableItem>();
    for (const item of book.items) {
      if (item.type === "value") values.set(item.name, item);
      else if (item.type === "table") tables.set(item.name, item);
    }
    found = { values, tables };
    known.set(book.items, found);
  }
  return found;
}

/** What something comes to now, printed as the page prints it; undefined for what has no value of its own. */
export function shownOf(found: Found, book: Book): Shown | undefined {
  const { meant } = found;
  if (meant.type === "value") return itemsOf(book).values.get(meant.name)?.shown;
  if (meant.type === "cell" && meant.row >= 0) {
    const table = itemsOf(book).tables.get(meant.table);
    const column = table?.columns.findIndex((c) => c.name === meant.column) ?? -1;
    if (table && column >= 0 && meant.row < table.rowCount) return table.cell(meant.row, column);
  }
  if (meant.type === "column" || meant.type === "cell") return wholeColumn(found, book, meant);
  if (meant.type === "foot" && meant.column !== "")
    return itemsOf(book).tables.get(meant.table)?.feet.get(meant.column)?.shown;
  const value = found.value();
  return value && show(value, found.path, found.name, "computed");
}

/** A whole column is told by its length: its entries may be thousands, and nobody looks at them here. */
function wholeColumn(
  found: Found,
  book: Book,
  { table, column }: { readonly table: string; readonly column: string },
): Shown | undefined {
  const item = itemsOf(book).tables.get(table);
  const value = found.value();
  if (item === undefined || value === undefined) return undefined;
  const words = `${item.rowCount} ${item.rowCount === 1 ? "entry" : "entries"}`;
  const message = item.columns.find((c) => c.name === column)?.fault;
  return {
    path: found.path,
    label: column,
    value,
    origin: "computed",
    state: message === undefined ? "ok" : "fault",
    text: words,
    number: words,
    unit: "",
    ...(message !== undefined && { message }),
    notes: [],
  };
}
