import * as edits from "../../../grammar";
import type { Book, TableItem } from "../../engine";
import { tableAt } from "./items";
import { cellPlace, FORMULAS_ROW, NAMES_ROW } from "./place";
import { type Edit, made, type Refusal } from "./slot";

/** Rows and columns of a table added, moved and taken away, each with its name and with where the writer lands. */

const gone: Refusal = { refused: "The table is not in the book any more." };

const rowWord = (table: TableItem, row: number): string => table.rowName(row) || `row ${row + 1}`;

/** A blank row below another (-1: above the first). The keyboard goes to its name. */
export function addRow(book: Book, key: string, below: number): Edit | Refusal {
  const table = tableAt(book, key);
  if (table === undefined) return gone;
  return made(book, `adding a row to ${table.name}`, edits.addRows(book.tree, table.tree, below + 1, [[]]), {
    lands: cellPlace(key, below + 1, 0),
  });
}

/** Takes rows away, whole lines. */
export function removeRows(book: Book, key: string, first: number, last: number): Edit | Refusal {
  const table = tableAt(book, key);
  if (table === undefined) return gone;
  const from = Math.max(0, first);
  const to = Math.min(last, table.rowCount - 1);
  const patches: edits.Patch[] = [];
  for (let row = from; row <= to; row++) {
    const removed = edits.removeRow(book.tree, table.tree, row);
    if (removed.refused !== undefined) return made(book, "", removed);
    patches.push(...removed.patches);
  }
  if (patches.length === 0) return { refused: "There is no row here to remove." };
  const says = from === to ? `removing ${rowWord(table, from)}` : `removing ${to - from + 1} rows`;
  return made(
    book,
    says,
    { patches },
    {
      lands: cellPlace(key, to >= table.rowCount - 1 ? Math.max(0, from - 1) : from, 0),
    },
  );
}

/** Changes places with the row above or below. */
export function moveRow(book: Book, key: string, row: number, way: "up" | "down"): Edit | Refusal {
  const table = tableAt(book, key);
  if (table === undefined) return gone;
  const to = row + (way === "up" ? -1 : 1);
  if (to < 0) return { refused: "It is the first row already." };
  if (to >= table.rowCount) return { refused: "It is the last row already." };
  return made(book, `moving ${rowWord(table, row)} ${way}`, edits.moveRow(book.tree, table.tree, row, to), {
    lands: cellPlace(key, to, 0),
  });
}

const typedColumns = (table: TableItem): number => table.columns.filter((c) => c.typed).length;

/** A new column: typed at the right of another, or computed behind all others. Its name is opened. */
export function addColumn(
  book: Book,
  key: string,
  sort: "typed" | "computed",
  beside?: number,
): Edit | Refusal {
  const table = tableAt(book, key);
  if (table === undefined) return gone;
  const name = freshColumn(table, sort === "typed" ? "amount" : "result");
  const typed = typedColumns(table);
  const at = sort === "computed" ? table.columns.length : Math.min((beside ?? typed - 1) + 1, typed);
  const edited =
    sort === "computed"
      ? edits.addComputedColumn(book.tree, table.tree, name, "blank")
      : edits.addColumn(book.tree, table.tree, at, { name });
  return made(book, `adding column ${name}`, edited, { lands: cellPlace(key, NAMES_ROW, at), open: true });
}

function freshColumn(table: TableItem, stem: string): string {
  const taken = new Set(table.columns.map((c) => c.name));
  if (!taken.has(stem)) return stem;
  for (let i = 2; ; i++) if (!taken.has(`${stem} ${i}`)) return `${stem} ${i}`;
}

/** Takes a column away: its cells, or its formula, and the foot under it. */
export function removeColumn(book: Book, key: string, column: number): Edit | Refusal {
  const table = tableAt(book, key);
  const about = table?.columns[column];
  if (table === undefined || about === undefined) return gone;
  return made(book, `removing column ${about.name}`, edits.removeColumn(book.tree, table.tree, about.name), {
    lands: cellPlace(key, NAMES_ROW, Math.max(0, column - 1)),
  });
}

/** Changes places with the column at the left or right; typed ones with typed ones, computed with computed. */
export function moveColumn(book: Book, key: string, column: number, way: "left" | "right"): Edit | Refusal {
  const table = tableAt(book, key);
  const about = table?.columns[column];
  if (table === undefined || about === undefined) return gone;
  const to = column + (way === "left" ? -1 : 1);
  if (table.columns[to]?.typed !== about.typed)
    return { refused: "A computed column stands at the right of the typed ones." };
  const place = about.typed ? to : to - typedColumns(table);
  return made(
    book,
    `moving column ${about.name} ${way}`,
    edits.moveColumn(book.tree, table.tree, about.name, place),
    { lands: cellPlace(key, about.typed ? NAMES_ROW : FORMULAS_ROW, to) },
  );
}
