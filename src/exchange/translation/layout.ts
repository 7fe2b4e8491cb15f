import type { Shown, TableItem, ValueItem } from "../../engine";
import type { Value } from "../../vocabulary";
import { cell, type Place } from "../expression";
import type { Content } from "../recalculation";
import { EPOCH_DAYS } from "../sheet";
import { isEmpty, quantityTerm, type Term, textTerm, truthTerm } from "./term";

/**
 * Where every value of a book stands in the workbook. Made before any formula is translated, so that a formula
 * may refer to what stands further down.
 */
export interface Layout {
  readonly sets: ReadonlyMap<string, SetSpot>;
  readonly tables: ReadonlyMap<string, TableSpot>;
}
export interface SetSpot {
  readonly item: ValueItem;
  /** The value, or its parts flattened in order, each with its cell. */
  readonly cells: readonly { readonly shown: Shown; readonly at: Place }[];
}
export interface TableSpot {
  readonly item: TableItem;
  readonly sheet: string;
  /** Row of the first entry on the sheet. */
  readonly firstRow: number;
  /** Column on the sheet by name. */
  readonly columns: ReadonlyMap<string, ColumnSpot>;
  readonly footRow: number | undefined;
  readonly names: readonly string[];
}
export interface ColumnSpot {
  readonly index: number;
  readonly column: number;
  /** Any row is a gap: formulas over it must allow for that. */
  readonly gaps: boolean;
}

/** A value as it stands in a cell. */
export function contentOf(shown: Shown): { content: Content; isDate: boolean } {
  const { value } = shown;
  switch (value.type) {
    case "quantity":
      return { content: value.n.v, isDate: false };
    case "text":
      return { content: value.text, isDate: false };
    case "truth":
      return { content: value.value, isDate: false };
    case "date":
      return { content: value.day + EPOCH_DAYS, isDate: true };
    case "gap":
      return { content: null, isDate: false };
    case "fault":
      return { content: shown.message ?? value.says, isDate: false };
    default:
      return { content: shown.text, isDate: false };
  }
}

/**
 * The cell of a value as a term. `like` is a value of the kind that the cell would have when it is filled in,
 * for a gap whose own kind cannot be told. Undefined when nothing is known of its kind.
 */
export function termOfCell(value: Value, at: Place, gaps: boolean, like?: Value): Term | undefined {
  const reference = cell(at);
  const missing = gaps ? [isEmpty(reference)] : [];
  switch (value.type) {
    case "quantity":
      return quantityTerm(reference, value.unit, missing);
    case "text":
      return textTerm(reference, missing);
    case "truth":
      return truthTerm(reference, missing);
    case "date":
      return { type: "date", expression: reference, missing };
    case "gap":
      return like === undefined || like.type === "gap" ? undefined : termOfCell(like, at, true);
    default:
      return undefined;
  }
}

export const placeOfCell = (spot: TableSpot, row: number, column: ColumnSpot): Place => ({
  sheet: spot.sheet,
  row: spot.firstRow + row,
  column: column.column,
});
