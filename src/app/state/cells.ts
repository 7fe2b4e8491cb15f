import { type Edited, setCells } from "../../../grammar";
import type { Book, TableItem } from "../../engine";
import { wordsOf } from "./cell-slots";
import type { ClipCell } from "./clipboard";
import { tableAt } from "./items";
import { cellPlace, type Extent } from "./place";
import { type Edit, made, type Refusal } from "./slot";

/** Changes of many cells at once: each is one edit, and one entry on the undo stack. */

const gone: Refusal = { refused: "The table is not in the book any more." };

/** The chosen rectangle of typed and computed cells, for a copy. Headings and feet are left out. */
export function clipOf(table: TableItem, extent: Extent): readonly (readonly ClipCell[])[] {
  const rows: ClipCell[][] = [];
  for (let row = Math.max(0, extent.top); row <= Math.min(extent.bottom, table.rowCount - 1); row++) {
    const cells: ClipCell[] = [];
    for (let column = extent.left; column <= extent.right; column++) cells.push(wordsOf(table, row, column));
    rows.push(cells);
  }
  return rows;
}

type Block = (string | undefined)[][];

/** Writes the typed cells of a block from a place on; what would fall on computed columns is left out. */
function write(book: Book, table: TableItem, row: number, column: number, block: Block): Edited {
  const typed = table.columns.filter((c) => c.typed).length;
  const kept = block.map((cells) => cells.slice(0, Math.max(0, typed - column)));
  return setCells(book.tree, table.tree, row, column, kept);
}

const cellsOf = (block: Block): number => block.flat().filter((c) => c !== undefined).length;

/** Leaves the chosen typed cells blank. */
export function clearCells(book: Book, key: string, extent: Extent): Edit | Refusal {
  const table = tableAt(book, key);
  if (table === undefined) return gone;
  const top = Math.max(0, extent.top);
  const block: Block = [];
  for (let row = top; row <= Math.min(extent.bottom, table.rowCount - 1); row++)
    block.push(columnsIn(extent).map((c) => (table.columns[c]?.typed ? "" : undefined)));
  const count = cellsOf(block);
  if (count === 0)
    return { refused: "Computed cells cannot be emptied; change the formula under the heading." };
  const one = `emptying ${table.columns[extent.left]!.name} of ${table.rowName(top) || `row ${top + 1}`}`;
  return made(
    book,
    count === 1 ? one : `emptying ${count} cells`,
    write(book, table, top, extent.left, block),
  );
}

const columnsIn = (extent: Extent): number[] =>
  Array.from({ length: extent.right - extent.left + 1 }, (_, i) => extent.left + i);

/**
 * Repeats the top row of the chosen rectangle in the rows below it; a single row is repeated to the end of the
 * table. Row names are left alone.
 */
export function fillDown(book: Book, key: string, extent: Extent): Edit | Refusal {
  const table = tableAt(book, key);
  if (table === undefined) return gone;
  const top = Math.max(0, extent.top);
  const bottom =
    extent.bottom > extent.top ? Math.min(extent.bottom, table.rowCount - 1) : table.rowCount - 1;
  if (bottom <= top) return { refused: "There is no row below to fill." };
  const source = columnsIn(extent).map((c) =>
    c > 0 && table.columns[c]?.typed ? wordsOf(table, top, c).raw : undefined,
  );
  const block: Block = Array.from({ length: bottom - top }, () => [...source]);
  const count = cellsOf(block);
  if (count === 0) return { refused: "Only typed columns can be filled down." };
  return made(book, `filling ${count} cells`, write(book, table, top + 1, extent.left, block));
}

/** What stands in the way of a paste, or nothing. */
export function pasteTrouble(
  table: TableItem,
  column: number,
  rows: readonly (readonly string[])[],
): { readonly columnsOver: number; readonly computed: number } {
  const width = Math.max(0, ...rows.map((r) => r.length));
  const over = Math.max(0, column + width - table.columns.length);
  let computed = 0;
  for (let c = column; c < Math.min(column + width, table.columns.length); c++)
    if (!table.columns[c]!.typed) computed++;
  return { columnsOver: over, computed };
}

/** Writes pasted words from a cell on; rows that the table lacks are added. One cell fills the whole rectangle. */
export function pasteCells(
  book: Book,
  key: string,
  extent: Extent,
  rows: readonly (readonly string[])[],
): Edit | Refusal {
  const table = tableAt(book, key);
  if (table === undefined) return gone;
  if (rows.length === 0) return { refused: "There is nothing to paste." };
  const top = Math.max(0, extent.top);
  const single = rows.length === 1 && rows[0]!.length === 1;
  const block: Block = single
    ? Array.from({ length: extent.bottom - top + 1 }, () => columnsIn(extent).map(() => rows[0]![0]))
    : rows.map((row) => [...row]);
  const typed = table.columns.filter((c) => c.typed).length;
  const count = cellsOf(block.map((cells) => cells.slice(0, Math.max(0, typed - extent.left))));
  if (count === 0) return { refused: "Nothing was written: the columns from here on are computed." };
  return made(
    book,
    count === 1 ? "pasting a cell" : `pasting ${count} cells`,
    write(book, table, top, extent.left, block),
    { lands: cellPlace(key, top, extent.left) },
  );
}
