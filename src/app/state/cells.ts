import type { Book, TableItem } from "../../engine";
import { cellPatches } from "./cell-slots";
import type { ClipCell } from "./clipboard";
import { tableAt } from "./items";
import { cellPlace, type Extent } from "./place";
import type { Edit, Refusal } from "./slot";
import { endOfLine, fromCell, lineEndOf, type Patch, patched, toCell } from "./source";

/** Changes of many cells at once: each is one edit, and one entry on the undo stack. */

const gone: Refusal = { refused: "The table is not in the book any more." };

/** The typed words of a cell, or what a computed one shows. */
export function wordsOf(table: TableItem, row: number, column: number): ClipCell {
  const about = table.columns[column]!;
  const shown = table.cell(row, column);
  const text = shown.state === "ok" ? shown.text : "";
  const cell = about.typed ? table.tree.rows[row]?.node.cells[column] : undefined;
  return { raw: cell === undefined ? text : fromCell(cell.raw.trim()), text };
}

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

/** Writes a rectangle of words, row by row; cells of computed columns are never among them. */
function written(
  book: Book,
  table: TableItem,
  cells: ReadonlyMap<number, readonly (readonly [number, string])[]>,
): Patch[] {
  const patches: Patch[] = [];
  for (const [row, words] of cells) patches.push(...cellPatches(book, table, row, words));
  return patches;
}

/** Leaves the chosen typed cells blank. */
export function clearCells(book: Book, key: string, extent: Extent): Edit | Refusal {
  const table = tableAt(book, key);
  if (table === undefined) return gone;
  const cells = new Map<number, (readonly [number, string])[]>();
  let count = 0;
  for (let row = Math.max(0, extent.top); row <= Math.min(extent.bottom, table.rowCount - 1); row++)
    for (let column = extent.left; column <= extent.right; column++) {
      if (!table.columns[column]?.typed) continue;
      cells.set(row, [...(cells.get(row) ?? []), [column, ""]]);
      count++;
    }
  if (count === 0)
    return { refused: "Computed cells cannot be emptied; change the formula under the heading." };
  const says =
    count === 1
      ? `emptying ${table.columns[extent.left]!.name} of ${table.rowName(extent.top) || `row ${extent.top + 1}`}`
      : `emptying ${count} cells`;
  return { says, text: patched(book.text, written(book, table, cells)) };
}

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
  const cells = new Map<number, (readonly [number, string])[]>();
  let count = 0;
  for (let row = top + 1; row <= bottom; row++)
    for (let column = Math.max(1, extent.left); column <= extent.right; column++) {
      if (!table.columns[column]?.typed) continue;
      cells.set(row, [...(cells.get(row) ?? []), [column, wordsOf(table, top, column).raw]]);
      count++;
    }
  if (count === 0) return { refused: "Only typed columns can be filled down." };
  return { says: `filling ${count} cells`, text: patched(book.text, written(book, table, cells)) };
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
  const source = single
    ? Array.from({ length: extent.bottom - top + 1 }, () =>
        Array.from({ length: extent.right - extent.left + 1 }, () => rows[0]![0]!),
      )
    : rows;
  const typed = table.columns.filter((c) => c.typed).length;
  const cells = new Map<number, (readonly [number, string])[]>();
  const added: string[][] = [];
  let count = 0;
  source.forEach((words, r) => {
    const row = top + r;
    const line = words.flatMap((word, c): (readonly [number, string])[] =>
      extent.left + c < typed ? [[extent.left + c, word] as const] : [],
    );
    count += line.length;
    if (row < table.rowCount) cells.set(row, line);
    else {
      const fresh: string[] = Array.from({ length: typed }, () => "");
      for (const [column, word] of line) fresh[column] = word;
      added.push(fresh);
    }
  });
  if (count === 0) return { refused: "Nothing was written: the columns from here on are computed." };
  const patches = written(book, table, cells);
  if (added.length > 0) {
    const last = table.tree.rows.at(-1) ?? table.tree.heading;
    if (last === undefined) return { refused: "This table has no heading yet." };
    const at = endOfLine(book.text, last.at + last.length);
    const eol = lineEndOf(book.text);
    const lines = added.map((words) => `${eol}| ${words.map(toCell).join(" | ")} |`);
    patches.push({ from: at, to: at, text: lines.join("") });
  }
  return {
    says: count === 1 ? "pasting a cell" : `pasting ${count} cells`,
    text: patched(book.text, patches),
    lands: cellPlace(key, top, extent.left),
  };
}
