/**
 * Where something stands on the page, told so that it survives recalculation: by the name of the item and,
 * in a table, by row and column.
 */

/** Rows of a table as the keyboard walks them: names, formulas, the typed rows from 0, then the foot. */
export const NAMES_ROW = -2;
export const FORMULAS_ROW = -1;

/** What of an item can be written. `statement` is the whole of it, as it stands in the text. */
export type Field = "formula" | "name" | "title" | "text" | "remark" | "range" | "clauses" | "statement";

export interface CellPlace {
  readonly in: "cell";
  /** Key of the table's item. */
  readonly key: string;
  readonly row: number;
  readonly column: number;
}
export interface ItemPlace {
  readonly in: "item";
  readonly key: string;
  readonly field: Field;
}
export type Place = CellPlace | ItemPlace;

/** A rectangle of cells, both ends included. */
export interface Extent {
  readonly top: number;
  readonly bottom: number;
  readonly left: number;
  readonly right: number;
}

export const cellPlace = (key: string, row: number, column: number): CellPlace => ({
  in: "cell",
  key,
  row,
  column,
});
export const itemPlace = (key: string, field: Field): ItemPlace => ({ in: "item", key, field });

export function samePlace(a: Place | undefined, b: Place | undefined): boolean {
  if (a === undefined || b === undefined) return a === b;
  if (a.in === "cell") return b.in === "cell" && a.key === b.key && a.row === b.row && a.column === b.column;
  return b.in === "item" && a.key === b.key && a.field === b.field;
}

/** The rectangle between two corners. */
export function extentOf(
  a: { readonly row: number; readonly column: number },
  b: { readonly row: number; readonly column: number },
): Extent {
  return {
    top: Math.min(a.row, b.row),
    bottom: Math.max(a.row, b.row),
    left: Math.min(a.column, b.column),
    right: Math.max(a.column, b.column),
  };
}

export const holds = (extent: Extent, row: number, column: number): boolean =>
  row >= extent.top && row <= extent.bottom && column >= extent.left && column <= extent.right;

/** How many cells a rectangle has. */
export const cellsIn = (extent: Extent): number =>
  (extent.bottom - extent.top + 1) * (extent.right - extent.left + 1);

/** What the keyboard can reach in a table. */
export interface GridShape {
  readonly rows: number;
  readonly columns: number;
  readonly hasFoot: boolean;
}

export type Move =
  | "up"
  | "down"
  | "left"
  | "right"
  | "row-start"
  | "row-end"
  | "first"
  | "last"
  | "page-up"
  | "page-down";

/** Rows that Page Up and Page Down step over. */
export const PAGE_OF_ROWS = 10;

/** The cell that a movement leads to. Movement stops at the edges and never wraps. */
export function moved(
  from: { readonly row: number; readonly column: number },
  move: Move,
  shape: GridShape,
): { row: number; column: number } {
  const lowest = shape.rows - 1 + (shape.hasFoot ? 1 : 0);
  const rightmost = Math.max(0, shape.columns - 1);
  const row = (r: number) => Math.min(Math.max(r, NAMES_ROW), lowest);
  const column = (c: number) => Math.min(Math.max(c, 0), rightmost);
  switch (move) {
    case "up":
      return { row: row(from.row - 1), column: from.column };
    case "down":
      return { row: row(from.row + 1), column: from.column };
    case "left":
      return { row: from.row, column: column(from.column - 1) };
    case "right":
      return { row: from.row, column: column(from.column + 1) };
    case "row-start":
      return { row: from.row, column: 0 };
    case "row-end":
      return { row: from.row, column: rightmost };
    case "first":
      return { row: shape.rows > 0 ? 0 : NAMES_ROW, column: 0 };
    case "last":
      return { row: lowest, column: rightmost };
    case "page-up":
      return { row: row(from.row - PAGE_OF_ROWS), column: from.column };
    case "page-down":
      return { row: row(from.row + PAGE_OF_ROWS), column: from.column };
  }
}
