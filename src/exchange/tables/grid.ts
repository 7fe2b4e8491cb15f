import { LIMITS, tooLarge } from "./limits";

/** A cell of a foreign table: data to place, never code. */
export interface GridCell {
  /** What a reader sees; for a number its plain decimal writing. */
  readonly text: string;
  /** Set when the file itself says that it is a number: there is nothing to guess then. */
  readonly number?: string;
  /** Uncertainty, when a column of its own gave it. */
  readonly spread?: string;
  /** Set when the file itself says that it is a day. */
  readonly day?: string;
  /** A formula of the file, as text. It is shown and dropped: only its last value comes in. */
  readonly formula?: string;
  /** The file shows a failure (`#DIV/0!`). */
  readonly failed?: boolean;
}
export type GridRow = readonly (GridCell | undefined)[];

export interface Grid {
  /** Name of the sheet, or of the file. */
  readonly name: string;
  readonly rows: readonly GridRow[];
  /** What had to be left behind, in sentences. */
  readonly notes: readonly string[];
}

export interface GridBudget {
  cells: number;
  places: number;
}
export const newBudget = (): GridBudget => ({ cells: 0, places: 0 });

/** Collects the cells of one sheet and keeps it within bounds. */
export class GridBuilder {
  private readonly rows: (GridCell | undefined)[][] = [];
  readonly notes: string[] = [];
  private filled = 0;
  private cutTexts = 0;
  constructor(
    readonly name: string,
    /** Counts filled cells, and places kept for cells, over all sheets of the file. */
    private readonly budget: GridBudget,
  ) {}

  put(row: number, column: number, cell: GridCell): void {
    if (cell.text === "" && cell.formula === undefined) return;
    if (row >= LIMITS.rows) throw tooLarge(`${this.name} has more than ${LIMITS.rows} rows`);
    if (column >= LIMITS.columns) throw tooLarge(`${this.name} has more than ${LIMITS.columns} columns`);
    if (++this.budget.cells > LIMITS.cells) throw tooLarge(`it has more than ${LIMITS.cells} filled cells`);
    this.filled++;
    this.budget.places +=
      Math.max(0, row + 1 - this.rows.length) + Math.max(0, column + 1 - (this.rows[row]?.length ?? 0));
    if (this.budget.places > LIMITS.places) throw tooLarge("its cells stand too far apart");
    while (this.rows.length <= row) this.rows.push([]);
    const line = this.rows[row]!;
    while (line.length < column) line.push(undefined);
    if (cell.text.length > LIMITS.cellCharacters) {
      this.cutTexts++;
      line[column] = { ...cell, text: cell.text.slice(0, LIMITS.cellCharacters) };
    } else line[column] = cell;
  }

  get isEmpty(): boolean {
    return this.filled === 0;
  }

  done(): Grid {
    const formulas = this.rows.flat().filter((c) => c?.formula !== undefined).length;
    const notes = [...this.notes];
    if (formulas > 0) {
      notes.push(
        `${formulas === 1 ? "One cell holds a formula" : `${formulas} cells hold formulas`} of the other program; the last ${formulas === 1 ? "value comes" : "values come"} in, the formula does not.`,
      );
    }
    const failed = this.rows.flat().filter((c) => c?.failed).length;
    if (failed > 0) notes.push(`${failed} failed ${failed === 1 ? "cell is" : "cells are"} left blank.`);
    if (this.cutTexts > 0)
      notes.push(`${this.cutTexts} texts were cut after ${LIMITS.cellCharacters} characters.`);
    return { name: this.name, rows: this.rows, notes };
  }
}

/**
 * The plain decimal writing of a double with the 15 digits that spreadsheets have: `61.2`, never `6.12e1` or
 * `61.200000000000003`.
 */
export function plainDecimal(value: number): string {
  const text = String(Number(value.toPrecision(15)));
  const found = /^(-?)(\d+)(?:\.(\d+))?e([+-]\d+)$/.exec(text);
  if (found === null) return text;
  const [, sign, whole, part = "", exponent] = found;
  const shift = Number(exponent);
  const digits = whole + part;
  const point = whole!.length + shift;
  if (point <= 0) return `${sign}0.${"0".repeat(-point)}${digits}`;
  if (point >= digits.length) return sign + digits + "0".repeat(point - digits.length);
  return `${sign}${digits.slice(0, point)}.${digits.slice(point)}`;
}
