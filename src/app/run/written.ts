import type { Book, TableItem } from "../../engine";
import { dayColumn } from "./gathering";
import type { Run } from "./run";
import { asked } from "./wanted";

/** What stands in the book already of what a run read. */

const plainName = (name: string): string => name.normalize("NFC").trim().toLowerCase();
export const sameName = (a: string, b: string): boolean => plainName(a) === plainName(b);

/** The row of that name, however it is spelt; -1 when there is none. */
export function rowNamed(table: TableItem, name: string): number {
  for (let row = 0; row < table.rowCount; row++) if (sameName(table.rowName(row), name)) return row;
  return -1;
}

/** A typed cell as it stands in the text, "" for a blank one. */
export const rawCell = (table: TableItem, row: number, column: number): string =>
  table.tree.rows[row]?.node.cells[column]?.raw.trim() ?? "";

/**
 * Whether what a finished run wrote still stands in the book: after an undo, or when the browser went away before the
 * book was saved, it does not.
 */
export function isWritten(book: Book, run: Run): boolean {
  for (const { path } of run.readings) {
    const wanted = asked(book, path);
    if (wanted === undefined) continue;
    if (wanted.in === "value") {
      if (wanted.item.shown.state === "gap") return false;
    } else {
      const { table, column } = wanted;
      const name = run.into.find((i) => i.table === table.name)?.row ?? run.name;
      const row = dayColumn(table) === 0 ? rowNamed(table, run.day) : rowNamed(table, name);
      if (row < 0 || rawCell(table, row, column) === "") return false;
    }
  }
  return true;
}
