import type { Expression, Place } from "./expression";

/**
 * A book on its way into a spreadsheet file: sheets of cells that know nothing of any file format.
 * `workbook.ts` makes it from a book once; `xlsx.ts` and `ods.ts` write it, `csv.ts` writes one sheet of it.
 */
export interface Workbook {
  readonly title: string;
  readonly sheets: readonly Sheet[];
}

export interface Sheet {
  /** At most 31 characters, without the marks that a format refuses; unique, capitals apart (see `sheetNames`). */
  readonly name: string;
  readonly rows: readonly (readonly SheetCell[])[];
  /** Width of each column, in characters. */
  readonly widths: readonly number[];
  /** Rows at the top and columns at the left that stay in view. */
  readonly frozen: { readonly rows: number; readonly columns: number };
  readonly charts: readonly SheetChart[];
}

/** What a cell is for; each becomes one look in the file. */
export type CellRole =
  | "plain"
  | "title"
  | "heading"
  | "typed"
  | "computed"
  /** A computed value that does not recalculate in the file. */
  | "kept"
  | "gap"
  | "fault"
  | "foot"
  | "remark"
  | "formula"
  | "caution";

export interface SheetCell {
  /** A number is finite; a date is the count of days since 1899-12-30; null is an empty cell. */
  readonly value: number | string | boolean | null;
  readonly isDate?: boolean;
  readonly formula?: Expression;
  readonly note?: string;
  readonly role: CellRole;
  /** Decimals shown; without it as many as the number needs. */
  readonly decimals?: number;
}

export interface SheetChart {
  readonly title: string;
  readonly style: "bars" | "line" | "dots";
  /** Whether x are names beside which the values stand (bars), or numbers or dates that place them. */
  readonly named: boolean;
  readonly series: readonly { readonly label: Place; readonly xs: Block; readonly ys: Block }[];
  readonly xTitle: string;
  readonly yTitle: string;
  /** Where it stands: the cell under its upper left corner, and its size in cells. */
  readonly at: {
    readonly row: number;
    readonly column: number;
    readonly rows: number;
    readonly columns: number;
  };
}
/** Cells of one column below each other. */
export interface Block {
  readonly sheet: string;
  readonly column: number;
  readonly fromRow: number;
  readonly toRow: number;
}

export const EMPTY: SheetCell = { value: null, role: "plain" };
export const words = (value: string, role: CellRole = "plain", note?: string): SheetCell =>
  note === undefined ? { value, role } : { value, role, note };

/** Days from 1899-12-30, on which both formats count by default, to 1970-01-01. */
export const EPOCH_DAYS = 25_569;

const LONGEST_NAME = 31;

/**
 * Names that both formats take as sheet names: the wishes in their order, without `\ / * [ ] : ?` and outer
 * apostrophes, at most 31 characters, and no two alike when capitals are ignored.
 */
export function sheetNames(wishes: readonly string[]): string[] {
  const taken = new Set<string>();
  return wishes.map((wish) => {
    const base =
      cut(
        wish
          .normalize("NFC")
          .replace(/[\p{Cc}\p{Cs}\\/*[\]:?$.']+/gu, " ")
          .replace(/\s+/g, " ")
          .trim(),
        LONGEST_NAME,
      ) || "Sheet";
    let name = base;
    for (let n = 2; taken.has(name.toLowerCase()); n++) {
      const tail = ` ${n}`;
      name = cut(base, LONGEST_NAME - tail.length) + tail;
    }
    taken.add(name.toLowerCase());
    return name;
  });
}

// Formats count UTF-16 units; a cut through a surrogate pair would leave half a character.
function cut(text: string, most: number): string {
  let out = "";
  for (const character of text) {
    if (out.length + character.length > most) break;
    out += character;
  }
  return out.trim();
}
