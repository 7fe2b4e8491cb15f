import { cell, type Expression } from "../expression";
import type { SheetCell } from "../sheet";

/** A set of constants on the coefficient sheet: what it is, from where, and its numbers, lowest power first. */
export interface CoefficientSet {
  readonly name: string;
  readonly source: string;
  readonly values: readonly number[];
}

/**
 * The sheet of constants. A formula refers to them by cell, so that a reader can check each digit against the
 * publication, and no formula carries a number that nobody can place.
 */
export class Coefficients {
  private readonly sets: CoefficientSet[] = [];
  private readonly places = new Map<string, number>();

  constructor(readonly sheet: string) {}

  /** References to the constants of a set; the same name always means the same set. */
  refer(set: CoefficientSet): Expression[] {
    let column = this.places.get(set.name);
    if (column === undefined) {
      column = this.sets.length + 1;
      this.sets.push(set);
      this.places.set(set.name, column);
    }
    return set.values.map((_, i) => cell({ sheet: this.sheet, row: FIRST_ROW + i, column: column! }));
  }

  get isEmpty(): boolean {
    return this.sets.length === 0;
  }

  read(row: number, column: number): number | null {
    return this.sets[column - 1]?.values[row - FIRST_ROW] ?? null;
  }

  /** A column for each set, its name and source above it. */
  rows(): SheetCell[][] {
    const most = this.sets.reduce((n, s) => Math.max(n, s.values.length), 0);
    const line = (head: string, each: (set: CoefficientSet) => SheetCell): SheetCell[] => [
      { value: head, role: "heading" },
      ...this.sets.map(each),
    ];
    return [
      line("constants of", (s) => ({ value: s.name, role: "heading" })),
      line("source", (s) => ({ value: s.source, role: "remark" })),
      ...Array.from({ length: most }, (_, i) =>
        line(String(i + 1), (s): SheetCell => ({ value: s.values[i] ?? null, role: "typed" })),
      ),
    ];
  }
}

const FIRST_ROW = 2;
