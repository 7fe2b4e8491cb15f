import type { Book, Shown, TableItem } from "../../engine";
import { placedItems, tableAt } from "./items";
import type { Draft } from "./notebook";
import { slotAt } from "./slots";
import { spotAt } from "./spot";

/** What the name under the caret means, so that its place can be lit. */
export interface Lit {
  /** The name as a whole path. */
  readonly path: string;
  /** Key of the table; a column of it, a row of it, or one cell. */
  readonly table?: string;
  readonly column?: number;
  readonly row?: number;
  /** Key of another item. */
  readonly item?: string;
  readonly shown?: Shown | undefined;
}

/** The place that the name under the caret means, or undefined when it means none. */
export function litBy(book: Book, draft: Draft): Lit | undefined {
  const slot = slotAt(book, draft.place);
  if (slot === undefined) return undefined;
  const spot = spotAt(draft.text, draft.caret, slot.language);
  if (spot === undefined || spot.expects.includes("unit")) return undefined;
  const path = spot.word === "" ? [...spot.path] : [...spot.path, spot.word];
  if (path.length === 0) return undefined;
  const home = draft.place.in === "cell" ? tableAt(book, draft.place.key) : undefined;
  return litPath(
    book,
    path,
    home === undefined
      ? undefined
      : { key: draft.place.key, table: home, row: draft.place.in === "cell" ? draft.place.row : -1 },
  );
}

interface Home {
  readonly key: string;
  readonly table: TableItem;
  readonly row: number;
}

/** The place of a path as it is written in a formula; `home` is the table whose columns bare names mean. */
export function litPath(book: Book, path: readonly string[], home: Home | undefined): Lit | undefined {
  const [first, second, third] = path;
  if (first === undefined) return undefined;
  const written = path.join(".");
  if (home !== undefined) {
    const column = columnOf(home.table, first === "before" || first === "foot" ? second : first);
    if (column >= 0 && (first === "before" || first === "foot")) {
      const row = first === "foot" ? home.table.rowCount : home.row - 1;
      return { path: written, table: home.key, column, ...(row >= 0 ? { row } : {}) };
    }
    if (column >= 0) {
      const inRow = home.row >= 0 && home.row < home.table.rowCount;
      return {
        path: written,
        table: home.key,
        column,
        ...(inRow ? { row: home.row, shown: home.table.cell(home.row, column) } : {}),
      };
    }
  }
  const found = placedItems(book).find(
    (p) =>
      (p.item.type === "value" || p.item.type === "table" || p.item.type === "define") &&
      p.item.name === first,
  );
  if (found === undefined) return undefined;
  if (found.item.type === "value") {
    const part = found.item.parts.find((p) => p.path.replaceAll("`", "") === written);
    return { path: written, item: found.key, shown: part ?? found.item.shown };
  }
  if (found.item.type !== "table") return { path: written, item: found.key };
  const table = found.item;
  const at = { path: written, table: found.key };
  if (second === undefined) return at;
  if (second === "foot") {
    const column = columnOf(table, third);
    return column < 0 ? at : { ...at, column, row: table.rowCount, shown: table.feet.get(third!)?.shown };
  }
  const column = columnOf(table, second);
  if (column >= 0) return { ...at, column };
  const row = rowOf(table, second);
  if (row < 0) return at;
  const cell = columnOf(table, third);
  return cell < 0 ? { ...at, row } : { ...at, row, column: cell, shown: table.cell(row, cell) };
}

const columnOf = (table: TableItem, name: string | undefined): number =>
  name === undefined ? -1 : table.columns.findIndex((c) => c.name === name);

function rowOf(table: TableItem, name: string): number {
  for (let row = 0; row < table.rowCount; row++) if (table.rowName(row) === name) return row;
  return -1;
}
