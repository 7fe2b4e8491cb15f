import "../../../grammar/alterations-here";
import { addStatement } from "../../../grammar";
import type { Book } from "../../engine";
import { placedItems } from "./items";
import { cellPlace } from "./place";
import { type Edit, made, type Refusal } from "./slot";

/** A table's text, and the name under which it stands in the book. */
export interface NewTable {
  readonly name: string;
  readonly statement: string;
}

/** Names that a new table cannot have. */
export const takenNames = (book: Book): ReadonlySet<string> =>
  new Set(placedItems(book).flatMap(({ item }) => ("name" in item ? [item.name] : [])));

/** Puts tables at the end of the book, before its ticks, as one change. */
export function bringIn(book: Book, tables: readonly NewTable[]): Edit | Refusal {
  const [first] = tables;
  if (first === undefined) return { refused: "No table was chosen." };
  const lines = tables.map((table) => table.statement.trimEnd()).join("\n\n");
  const apart = book.text === "" || /(^|\n)[ \t]*\r?\n$/.test(book.text) ? "" : "\n";
  return made(
    book,
    tables.length === 1 ? `bringing in table ${first.name}` : `bringing in ${tables.length} tables`,
    addStatement(book.tree, "end", apart + lines),
    { lands: cellPlace(`table:${first.name}`, 0, 0) },
  );
}
