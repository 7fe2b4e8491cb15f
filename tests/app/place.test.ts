import { describe, expect, it } from "vitest";
import { type GridShape, type Move, moved, NAMES_ROW } from "../../src/app/state/place";

const shape: GridShape = { rows: 30, columns: 4, hasFoot: true };
const all: readonly Move[] = [
  "up",
  "down",
  "left",
  "right",
  "row-start",
  "row-end",
  "first",
  "last",
  "page-up",
  "page-down",
];

describe("moving through a table", () => {
  it("never leaves it and never wraps", () => {
    for (const move of all)
      for (let row = NAMES_ROW; row <= shape.rows; row++)
        for (let column = 0; column < shape.columns; column++) {
          const to = moved({ row, column }, move, shape);
          expect(to.row).toBeGreaterThanOrEqual(NAMES_ROW);
          expect(to.row).toBeLessThanOrEqual(shape.rows);
          expect(to.column).toBeGreaterThanOrEqual(0);
          expect(to.column).toBeLessThan(shape.columns);
          if (move === "left" || move === "right") expect(to.row).toBe(row);
          if (move === "up" || move === "down") expect(to.column).toBe(column);
        }
  });

  it("reaches names and formulas above the first row, and the foot below the last", () => {
    expect(moved({ row: 0, column: 1 }, "up", shape)).toEqual({ row: -1, column: 1 });
    expect(moved({ row: 29, column: 1 }, "down", shape)).toEqual({ row: 30, column: 1 });
    expect(moved({ row: 29, column: 1 }, "down", { ...shape, hasFoot: false })).toEqual({
      row: 29,
      column: 1,
    });
  });

  it("stays on the headings of a table without rows", () => {
    const empty = { rows: 0, columns: 2, hasFoot: false };
    expect(moved({ row: NAMES_ROW, column: 0 }, "down", empty).row).toBe(-1);
    expect(moved({ row: NAMES_ROW, column: 0 }, "last", empty)).toEqual({ row: -1, column: 1 });
  });
});
