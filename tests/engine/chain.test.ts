import fc from "fast-check";
import { describe, expect, it, vi } from "vitest";
import { openBook } from "../../src/engine";
import { workingsOf } from "../../src/engine/book";
import { Chain } from "../../src/engine/chain";
import { cellsKey } from "../../src/engine/names";
import { sameValue } from "../../src/engine/sameness";
import { format } from "../../src/quantity";
import { carefulColumn } from "./careful";

/** Columns that build on the row before: the fast path must give what the careful one gives, and be taken. */

/** Column `f` of table `t`, and how many of its rows were worked out one by one: behind each the fast path is tried. */
function worked(text: string) {
  const tried = vi.spyOn(Chain.prototype, "run");
  const { calculation } = workingsOf(openBook(text));
  const byCell = tried.mock.calls.length;
  tried.mockRestore();
  const key = cellsKey("t", "f");
  const store = calculation.store(key)!;
  const cells = Array.from({ length: store.length }, (_, row) => store.get(row));
  return {
    cells,
    texts: cells.map((cell) => (cell.type === "quantity" ? format(cell) : cell.type)),
    byCell,
    isCareful: carefulColumn(key, calculation).every((value, row) => sameValue(value, cells[row]!)),
  };
}

const table = (rows: readonly string[], formula: string): string =>
  ["table t", "| n | a (L) | b (number) |", ...rows, `column f = ${formula}`].join("\n");
const many = (count: number, row: (i: number) => string): string[] =>
  Array.from({ length: count }, (_, i) => `| r${i} | ${row(i)} |`);
const tenths = (count: number): string[] => many(count, (i) => `${((i + 1) / 10).toFixed(1)} | 1`);

describe("a column that builds on the row before", () => {
  it.each([
    ["adds up", "if before.f is blank then a else before.f + a", "0.1 L, 0.3 L, 0.6 L, 1 L", 1],
    [
      "asks the other way",
      "if before.f is not blank then before.f + a else a",
      "0.1 L, 0.3 L, 0.6 L, 1 L",
      1,
    ],
    ["takes away", "if blank is before.f then 5 L else before.f - a", "5 L, 4.8 L, 4.5 L, 4.1 L", 2],
    ["takes from", "if before.f is blank then a else a - before.f", "0.1 L, 0.1 L, 0.2 L, 0.2 L", 1],
    [
      "uses it twice",
      "if before.f is blank then a else before.f + a + before.f",
      "0.1 L, 0.4 L, 1.1 L, 2.6 L",
      1,
    ],
    ["turns its sign", "if before.f is blank then a else a + -before.f", "0.1 L, 0.1 L, 0.2 L, 0.2 L", 1],
    ["multiplies", "if before.f is blank then b else before.f * 2", "1, 2, 4, 8", 1],
    ["converts", "if before.f is blank then 100 mL else before.f + a", "100 mL, 300 mL, 600 mL, 1000 mL", 1],
    [
      "looks at another column of the row before",
      "if before.f is blank then a else before.f + before.a",
      "0.1 L, 0.2 L, 0.4 L, 0.7 L",
      1,
    ],
    [
      "divides",
      "if before.f is blank then 2 L / 3 else before.f / 2 + a",
      "0.66667 L, 0.53333 L, 0.56667 L, 0.68333 L",
      1,
    ],
    ["does not use it after all", "if before.f is blank then a else a * 2", "0.1 L, 0.4 L, 0.6 L, 0.8 L", 1],
    ["comes to one number", "if before.f is blank then a else 7 L", "0.1 L, 7 L, 7 L, 7 L", 1],
  ])("%s", (_, formula, first, byCell) => {
    const column = worked(table(tenths(20), formula));
    expect(column.texts.slice(0, 4).join(", ")).toBe(first);
    expect(column.isCareful).toBe(true);
    expect(column.byCell).toBe(byCell);
  });

  it("goes on over the borders of blocks", () => {
    const column = worked(
      table(
        many(3000, () => "0.1 | 1"),
        "if before.f is blank then a else before.f + a",
      ),
    );
    expect(column.texts[1023]).toBe("102.4 L");
    expect(column.texts[1024]).toBe("102.5 L");
    expect(column.texts[2999]).toBe("300 L");
    expect(column).toMatchObject({ isCareful: true, byCell: 1 });
  });

  it("leaves a row that looks at no plain number to the careful path, and goes on behind it", () => {
    const rows = many(2100, (i) => `${i === 70 ? "" : i === 1500 ? "0.1 ± 0.05" : "0.1"} | 1`);
    const gaps = worked(table(rows.slice(0, 200), "if before.f is blank then 0.5 L else before.f + a"));
    expect(gaps.texts[69]).toBe("7.4 L");
    expect(gaps.texts[70]).toBe("gap");
    expect(gaps.texts[71]).toBe("0.5 L");
    expect(gaps.texts[72]).toBe("0.6 L");
    expect(gaps).toMatchObject({ isCareful: true, byCell: 3 });
    // What carries ± is never a plain number again.
    const spread = worked(table(rows, "if before.f is blank then 0.5 L else before.f + a"));
    expect(spread.texts[1499]).toBe("143.3 L");
    expect(spread).toMatchObject({ isCareful: true, byCell: 3 + 600 });
  });

  it("hands over to the careful path where a number leaves the exact range, with not a digit lost", () => {
    const column = worked(table(tenths(70), "if before.f is blank then b else before.f * 2"));
    expect(column.texts[46]).toBe(String(2 ** 46));
    expect(column.cells[60]).toMatchObject({ n: { v: 2 ** 60 } });
    expect(column.isCareful).toBe(true);
    expect(column.byCell).toBeGreaterThan(10);
    expect(column.byCell).toBeLessThan(30);
  });

  it.each([
    ["decimals that grow with every row", "if before.f is blank then a else before.f * 0.5 + a"],
    ["a quotient by ten", "if before.f is blank then 1000 else before.f / 10 * 10 + b"],
    ["a unit that changes", "if before.f is blank then 1 L else before.f * 1 m"],
    ["a constant of another kind", "if before.f is blank then 1 kg else before.f + a"],
    ["a branch that is a text", 'if before.f is blank then "none" else before.f + a'],
    ["a condition of another sort", "if before.f > 1 L then a else 2 L"],
    ["a column that does not exist", "if before.g is blank then a else before.f + a"],
  ])("is as it is without the fast path with %s", (_, formula) => {
    const column = worked(table(tenths(12), formula));
    expect(column.isCareful).toBe(true);
  });

  it("is what the careful path makes of it, whatever the formula", () => {
    const number = fc.constantFrom("1", "0.25", "10", "3.7", "1000");
    const { sum } = fc.letrec<{ sum: string; leaf: string }>((tie) => ({
      leaf: fc.oneof(
        fc.constantFrom("a", "b", "before.f", "before.f", "before.a", "before.b"),
        number,
        number.map((n) => `${n} L`),
      ),
      sum: fc.oneof(
        { depthSize: "small" },
        tie("leaf"),
        fc
          .tuple(tie("sum"), fc.constantFrom("+", "-", "+", "-", "*", "/"), tie("sum"))
          .map(([l, o, r]) => `(${l} ${o} ${r})`),
        tie("sum").map((of) => `(${of} in mL)`),
      ),
    }));
    const cell = fc.oneof(
      { weight: 12, arbitrary: fc.integer({ min: -400, max: 4000 }).map((n) => (n / 100).toFixed(2)) },
      { weight: 1, arbitrary: fc.constantFrom("", "0.5 ± 0.1", "123456789012.345") },
    );
    let fast = 0;
    fc.assert(
      fc.property(
        fc.array(fc.tuple(cell, cell), { minLength: 2, maxLength: 12 }),
        fc.constantFrom("a", "b", "1 L", "0.25", "a * 3"),
        sum,
        (rows, head, formula) => {
          const column = worked(
            table(
              rows.map(([a, b], i) => `| r${i} | ${a} | ${b} |`),
              `if before.f is blank then ${head} else ${formula}`,
            ),
          );
          expect(column.isCareful).toBe(true);
          if (column.byCell < rows.length) fast++;
        },
      ),
      { numRuns: Number(process.env.INVACUO_RUNS ?? 200) },
    );
    expect(fast).toBeGreaterThan(20);
  });
});
