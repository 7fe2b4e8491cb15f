import { describe, expect, it, vi } from "vitest";
import { openBook } from "../../src/engine";
import { workingsOf } from "../../src/engine/book";
import { Calculation } from "../../src/engine/calculation";
import { cellsKey } from "../../src/engine/names";
import type { ComputedNode } from "../../src/engine/plan";
import { sameValue } from "../../src/engine/sameness";
import { format, toBig } from "../../src/quantity";
import { carefulColumn } from "./careful";

/** Columns of arithmetic, worked out in loops over blocks of rows: what comes out, and in which rows the loop was left. */

/** Column `f` of table `t`: its cells, and how many of them were worked out one by one. */
function worked(text: string) {
  const evaluated = vi.spyOn(Calculation.prototype, "evaluate");
  const { calculation, plan } = workingsOf(openBook(text));
  const codes = evaluated.mock.calls.map(([code]) => code);
  evaluated.mockRestore();
  const key = cellsKey("t", "f");
  const store = calculation.store(key)!;
  const cells = Array.from({ length: store.length }, (_, row) => store.get(row));
  const { code } = (plan.nodes.get(key) as ComputedNode).compiled;
  return {
    texts: cells.map((cell) => (cell.type === "quantity" ? format(cell) : cell.type)),
    cells,
    byCell: codes.filter((one) => one === code).length,
    store,
    isCareful: carefulColumn(key, calculation).every((value, row) => sameValue(value, cells[row]!)),
  };
}

const HEAD = "| n | a (L) | m (mL) | b (number) | p (%) | k (GBP/L) | g (°C) |";
const THREE = [
  "| one | 1.5 | 250 | 3 | 10 | 12.40 | 20 |",
  "| two | 0.25 | 4.5 | 0 | 20 | 8 | 30 |",
  "| six | -2 | 1000 | -0.5 | 5 | 0.05 | -5 |",
];
const table = (formula: string, rows: readonly string[] = THREE, head = HEAD): string =>
  ["table t", head, ...rows, `column f = ${formula}`].join("\n");

describe("a column of arithmetic", () => {
  it.each([
    // formula, its three cells, how many of them are left to be worked out one by one
    ["a", "1.5 L, 0.25 L, -2 L", 0],
    ["-a", "-1.5 L, -0.25 L, 2 L", 0],
    ["-b", "-3, 0, 0.5", 0],
    ["b * -1", "-3, 0, 0.5", 0],
    ["a + a", "3 L, 0.5 L, -4 L", 0],
    ["a + m", "1.75 L, 0.2545 L, -1 L", 0],
    ["m + a", "1750 mL, 254.5 mL, -1000 mL", 0],
    ["a - m", "1.25 L, 0.2455 L, -3 L", 0],
    ["a + 0.5 L", "2 L, 0.75 L, -1.5 L", 0],
    ["0.5 L + a", "2 L, 0.75 L, -1.5 L", 0],
    ["a - 0.5 L", "1 L, -0.25 L, -2.5 L", 0],
    ["0.5 L - a", "-1 L, 0.25 L, 2.5 L", 0],
    ["a + 1 mL + 2 mL", "1.503 L, 0.253 L, -1.997 L", 0],
    ["a + (1 mL + 2 mL)", "1.503 L, 0.253 L, -1.997 L", 0],
    ["a + (5 mL - 2 mL)", "1.503 L, 0.253 L, -1.997 L", 0],
    ["a * b", "4.5 L, 0 L, 1 L", 0],
    ["a * 3", "4.5 L, 0.75 L, -6 L", 0],
    ["3 * a", "4.5 L, 0.75 L, -6 L", 0],
    ["a * (2 * 3)", "9 L, 1.5 L, -12 L", 0],
    ["a * k", "18.60 GBP, 2.00 GBP, -0.10 GBP", 0],
    ["m * k", "3.10 GBP, 0.036 GBP, 0.05 GBP", 0],
    ["a * p", "0.15 L, 0.05 L, -0.1 L", 0],
    ["a / 10", "0.15 L, 0.025 L, -0.2 L", 0],
    ["m / 1000", "0.25 mL, 0.0045 mL, 1 mL", 0],
    ["a / 1", "1.5 L, 0.25 L, -2 L", 0],
    ["a / 4", "0.375 L, 0.0625 L, -0.5 L", 0],
    ["a / (1 + 3)", "0.375 L, 0.0625 L, -0.5 L", 0],
    ["a / 2 L", "0.75, 0.125, -1", 0],
    ["a / 500 mL", "3, 0.5, -4", 0],
    ["m / a", "0.16667, 0.018, -0.5", 0],
    ["3 L / a", "2, 12, -1.5", 0],
    ["a in mL", "1500 mL, 250 mL, -2000 mL", 0],
    ["m in L", "0.25 L, 0.0045 L, 1 L", 0],
    ["a in L", "1.5 L, 0.25 L, -2 L", 0],
    ["(a + m) in cL", "175 cL, 25.45 cL, -100 cL", 0],
    ["(a + m) * 2 - m * 3", "2.75 L, 0.4955 L, -5 L", 0],
    // What is the same in every row is worked out once.
    ["a + largest(t.a)", "3 L, 1.75 L, -0.5 L", 0],
    ["a * count(t.a)", "4.5 L, 0.75 L, -6 L", 0],
    ["a * (if 2 > 1 then 2 else 3)", "3 L, 0.5 L, -4 L", 0],
    ["a + t.two.m", "1.5045 L, 0.2545 L, -1.9955 L", 0],
    ["a + (2000 mL in L)", "3.5 L, 2.25 L, 0 L", 0],
    // Whether there is something decides which side is taken.
    ["if a is blank then 1 L else a", "1.5 L, 0.25 L, -2 L", 0],
    ["if blank is a then 1 L else a * 2", "3 L, 0.5 L, -4 L", 0],
    ["if a is not blank then m else 1 mL", "250 mL, 4.5 mL, 1000 mL", 0],
    ["if a is blank then m else a", "1.5 L, 0.25 L, -2 L", 0],
    // The first row has none before it.
    ["before.a", "gap, 1.5 L, 0.25 L", 1],
    ["a - before.a", "gap, -1.25 L, -2.25 L", 1],
    ["before.a + before.m", "gap, 1.75 L, 0.2545 L", 1],
    ["if before.a is blank then a else before.a + a", "1.5 L, 1.75 L, -1.75 L", 1],
    ["if before.a is not blank then a - before.a else 0.125 L", "0.125 L, -1.25 L, -2.25 L", 1],
    ["if before.a is blank then 3 L else 7 L", "3 L, 7 L, 7 L", 3],
    ["if before.a is blank then 1 L / 3 else a / 3", "0.33333 L, 0.083333 L, -0.66667 L", 1],
    ["if before.a is blank then 5e-1 L else a / 3", "0.5 L, 0.083333 L, -0.66667 L", 3],
    // Left to be worked out one by one: temperatures, a remark, another kind, another unit in the first row, one number.
    ["g", "20 °C, 30 °C, -5 °C", 3],
    ["g + 1 K", "21 °C, 31 °C, -4 °C", 3],
    ["g - 10 °C", "10 K, 20 K, -15 K", 3],
    ["b + p", "3.1, 0.2, -0.45", 3],
    ["b + 10 %", "3.1, 0.1, -0.4", 3],
    ["a + 1 kg", "fault, fault, fault", 3],
    ["a in kg", "fault, fault, fault", 3],
    ["a in L/L", "fault, fault, fault", 3],
    ["b^2", "9, 0, 0.25", 3],
    ["7 L", "7 L, 7 L, 7 L", 3],
    // Once also to find that it is one number.
    ["largest(t.a)", "1.5 L, 1.5 L, 1.5 L", 4],
    ["a + smallest([a, m])", "1.75 L, 0.2545 L, -4 L", 3],
    ["a + (5 ± 1 mL)", "1.5050 ± 0.0010 L, 0.2550 ± 0.0010 L, -1.9950 ± 0.0010 L", 3],
    ["if a > 1 L then a else m", "1.5 L, 4.5 mL, 1000 mL", 3],
    ["if a is 1.5 L then a else m", "1.5 L, 4.5 mL, 1000 mL", 3],
    ["if before.a is blank then 100 mL else before.a", "100 mL, 1.5 L, 0.25 L", 3],
    ["if before.a is blank then 1 L / 3 else before.a", "0.33333 L, 1.5 L, 0.25 L", 3],
    ["if before.a is blank then 1 kg else before.a", "1 kg, fault, fault", 3],
    ['if before.a is blank then "none" else before.a', "text, fault, fault", 3],
    ["if before.a is blank then 2026-02-03 else before.a", "date, fault, fault", 3],
  ])("%s", (formula, texts, byCell) => {
    const column = worked(table(formula));
    expect(column.texts.join(", ")).toBe(texts);
    expect(column).toMatchObject({ byCell, isCareful: true });
    for (const cell of column.cells)
      if (cell.type === "quantity") expect(Object.is(cell.n.v, -0)).toBe(false);
  });
});

const numbers = (cells: readonly string[], head = "| n | b (number) | c (number) |"): [string[], string] => [
  cells.map((cell, i) => `| r${i} | ${cell} |`),
  head,
];

describe("a column at the borders of exact numbers", () => {
  it.each([
    // cells of b and c, formula, the cells, how many one by one
    // A mantissa of 2^49 at most is proved to come out exactly.
    ["562949953421312 | 0", "b + 0", "562949953421312", 0],
    ["562949953421312 | 0", "b + 1", "562949953421313", 1],
    ["-562949953421312 | 0", "b - 0", "-562949953421312", 0],
    ["-562949953421312 | 0", "b - 1", "-562949953421313", 1],
    ["281474976710656 | 2", "b * c", "562949953421312", 0],
    ["281474976710656 | 3", "b * c", "844424930131968", 1],
    ["281474976710656 | 2", "b * 2", "562949953421312", 0],
    ["281474976710656 | 2", "b * 3", "844424930131968", 1],
    ["5629499534213.12 | 0.01", "b + c", "5629499534213.13", 1],
    ["5629499534213.11 | 0.01", "b + c", "5629499534213.12", 0],
    // What is large on the way counts, though the end is small.
    ["562949953421312 | 562949953421312", "b + c - c", "562949953421312", 1],
    ["281474976710656 | 140737488355328", "b + c - c", "281474976710656", 0],
    // Decimals, up to 15.
    ["0.0000001 | 0.00000001", "b * c", "0.000000000000001", 0],
    ["0.00000001 | 0.00000001", "b * c", "0.0000000000000001", 1],
    ["0.0000001 | 3", "b / 100000000", "0.000000000000001", 0],
    ["0.0000001 | 3", "b / 1000000000", "0.0000000000000001", 1],
  ])("of %s: %s is %s", (cells, formula, decimal, byCell) => {
    const column = worked(table(formula, ...numbers([cells])));
    const [cell] = column.cells;
    if (cell?.type !== "quantity") throw new Error("no number");
    expect(toBig(cell.n).toFixed()).toBe(decimal);
    expect(column).toMatchObject({ byCell, isCareful: true });
  });
  it("takes a first row of more decimals beside the rest while all fit, and works the rest out one by one when not", () => {
    const first = (decimals: string) => `if before.b is blank then ${decimals} else before.b`;
    const rows = (b: string) => numbers([`${b} | 0`, "3 | 0", "4 | 0"]);
    expect(worked(table(first("0.12345"), ...rows("5629499534"))).byCell).toBe(1);
    expect(worked(table(first("0.12345"), ...rows("5629499535"))).byCell).toBe(3);
    const column = worked(table(first("0.12345"), ...rows("1.5")));
    expect(column.texts).toEqual(["0.12345", "1.5", "3"]);
    expect(column.store.dp).toBe(5);
    expect(column).toMatchObject({ byCell: 1, isCareful: true });
    // The number of the first row is one of the column's too.
    const large = worked(table(first("5629499535"), ...rows("0.12345")));
    expect(large).toMatchObject({ byCell: 3, isCareful: true });
    expect(worked(table(first("5629499534"), ...rows("0.12345")))).toMatchObject({
      byCell: 1,
      isCareful: true,
    });
  });
  it("of a long run of terms is left to the careful path behind 64", () => {
    const run = (count: number) => worked(table(`b${" + 1".repeat(count)}`, ...numbers(["1 | 0", "2 | 0"])));
    expect(run(64)).toMatchObject({ texts: ["65", "66"], byCell: 0, isCareful: true });
    expect(run(65)).toMatchObject({ texts: ["66", "67"], byCell: 2, isCareful: true });
  });
  it("is rounded on the way before the errors of its doubles add up", () => {
    // Each product by 1.1 brings one decimal and one error more.
    const column = worked(table(`b${" * 1.1".repeat(12)}`, ...numbers(["1.1 | 0", "3.3 | 0", "-0.7 | 0"])));
    expect(column.cells.map((c) => c.type === "quantity" && toBig(c.n).toFixed())).toEqual([
      "3.4522712143931",
      "10.3568136431793",
      "-2.1968998637047",
    ]);
    expect(column).toMatchObject({ byCell: 0, isCareful: true });
  });
});

describe("a column with rows that hold more than a number", () => {
  it.each([
    // cells of b and c, formula, the cells, how many one by one: those rows alone
    [["1 | 0", "4 | 2", "6 | 3"], "b / c", "fault, 2, 2", 1],
    [["1 | 1", " | 2", "6 | 3"], "b / c", "1, gap, 2", 1],
    [["1 | 1", "4 | ", "6 | "], "b + c", "2, gap, gap", 2],
    [["1 | 1", "4 ± 1 | 1", "6 | 3"], "b + c", "2, 5.0 ± 1.0, 9", 1],
    [["1 | 1", "= 1 L | 1", "6 | 3"], "b + c", "2, fault, 9", 1],
    [["1 | ", "4 | ", "6 | 3"], "b * 2", "2, 8, 12", 0],
    [["1 | ", "4 | ", "6 | 3"], "if c is blank then b else c", "1, 4, 3", 2],
    [["1 | ", "4 | ", "6 | 3"], "if c is not blank then c else b", "1, 4, 3", 2],
    [["1 | 1", " | 2", "6 | 3"], "before.b", "gap, 1, gap", 2],
    [["1 | 1", " | 2", "6 | 3"], "before.c", "gap, 1, 2", 1],
    [["1 | 1", " | 2", "6 | 3"], "before.c + b", "gap, gap, 8", 2],
    [["1 | 1", "2 | 2", "6 | 0"], "before.c / c", "gap, 0.5, fault", 2],
    [[" | ", " | ", " | "], "b + c", "gap, gap, gap", 3],
    [["= 1 / 3 | 1", "= 2 / 3 | 1", "1 | 3"], "b * c", "0.33333, 0.66667, 3", 1],
    [[], "b + c", "", 0],
    [["5 | 3"], "b + c", "8", 0],
    [["5 | 3"], "before.b + c", "gap", 1],
  ])("%j: %s", (cells, formula, texts, byCell) => {
    const column = worked(table(formula, ...numbers(cells)));
    expect(column.texts.join(", ")).toBe(texts);
    expect(column).toMatchObject({ byCell, isCareful: true });
  });
});

describe("a column of several blocks", () => {
  const rows = (count: number, odd: Readonly<Record<number, string>> = {}) =>
    numbers(Array.from({ length: count }, (_, i) => odd[i] ?? `${i} | ${i % 7}`));
  it.each([1, 2, 3, 4, 5, 1023, 1024, 1025, 2047, 2048, 2049])("has %d rows, each right", (count) => {
    const sum = worked(table("b * 2 + c", ...rows(count)));
    expect(sum.cells.map((c) => c.type === "quantity" && c.n.v)).toEqual(
      Array.from({ length: count }, (_, i) => i * 2 + (i % 7)),
    );
    expect(sum).toMatchObject({ byCell: 0, isCareful: true });
    const above = worked(table("before.b * 2 + c", ...rows(count)));
    expect(above.cells.map((c) => c.type === "quantity" && c.n.v)).toEqual(
      Array.from({ length: count }, (_, i) => i > 0 && (i - 1) * 2 + (i % 7)),
    );
    expect(above).toMatchObject({ byCell: 1, isCareful: true });
  });
  it.each([
    // The row that has no number, those that are then worked out one by one for `c + b` and for `before.b + c`.
    [0, [0], [0, 1]],
    [1022, [1022], [0, 1023]],
    [1023, [1023], [0, 1024]],
    [1024, [1024], [0, 1025]],
    [2047, [2047], [0, 2048]],
    [2048, [2048], [0, 2049]],
    [2099, [2099], [0]],
  ])("leaves the row %d, which has no number, and the one behind it", (row, beside, above) => {
    const text = rows(2100, { [row]: " | 1" });
    const gaps = (column: ReturnType<typeof worked>): number[] =>
      column.cells.flatMap((cell, i) => (cell.type === "gap" ? [i] : []));
    const same = worked(table("c + b", ...text));
    expect(gaps(same)).toEqual(beside);
    expect(same).toMatchObject({ byCell: beside.length, isCareful: true });
    const behind = worked(table("before.b + c", ...text));
    expect(gaps(behind)).toEqual(above);
    expect(behind).toMatchObject({ byCell: above.length, isCareful: true });
  });
});

describe("a column of units that are no powers of ten apart", () => {
  const TIMES = "| n | h (h) | m (min) | s (s) | w (lb) | g (g) |";
  const ROWS = [
    "| one | 1.5 | 30 | 36 | 2 | 0.1 |",
    "| two | 0.1 | 7 | 1.8 | 0.5 | -3 |",
    "| six | -2 | 0 | 90 | 0 | 7 |",
  ];
  it.each([
    // Exact where the factor is a decimal, and so is the end; approximate where it is not.
    ["m + h", "120 min, 13 min, -120 min", 0],
    ["m - h", "-60 min, 1 min, 120 min", 0],
    ["s + h", "5436 s, 361.8 s, -7110 s", 0],
    ["h in min", "90 min, 6 min, -120 min", 0],
    ["h in s", "5400 s, 360 s, -7200 s", 0],
    ["g + w", "907.28474 g, 223.796185 g, 7 g", 0],
    ["w in g", "907.18474 g, 226.796185 g, 0 g", 0],
    ["h + m", "2 h, 0.21667 h, -2 h", 0],
    ["m in h", "0.5 h, 0.11667 h, 0 h", 0],
    ["s in h", "0.01 h, 0.0005 h, 0.025 h", 0],
    ["h * 3 + m / 7", "4.5714 h, 0.31667 h, -6 h", 0],
    ["m * 2 + h * 3 - s", "329.4 min, 31.97 min, -361.5 min", 0],
    ["h / m", "3, 0.85714, fault", 1],
    ["m / h", "0.33333, 1.1667, 0", 0],
    ["w / g", "9071.8, -75.599, 0", 0],
    // The errors of the doubles add up before the factor comes, and are rounded away first.
    ["m + (h + h + h)", "300 min, 25 min, -360 min", 0],
    ["m + (h + h + h + h)", "390 min, 31 min, -480 min", 0],
    ["m + (h + h + h + h + h)", "480 min, 37 min, -600 min", 0],
    ["m + (h + h + h + h + h + h + h)", "660 min, 49 min, -840 min", 0],
    ["((h + h + h + h + h) in min) + m", "480 min, 37 min, -600 min", 0],
    ["((h * 1.1 * 1.1 * 1.1) in min) in s", "7187.4 s, 479.16 s, -9583.2 s", 0],
  ])("%s", (formula, texts, byCell) => {
    const column = worked(table(formula, ROWS, TIMES));
    expect(column.texts.join(", ")).toBe(texts);
    expect(column).toMatchObject({ byCell, isCareful: true });
  });
  it.each([
    // 2^49 / 60 is 9,382,499,223,688.5: behind it the minutes leave the range of exact numbers.
    ["9382499223688", "562949953421280", 0],
    ["9382499223689", "562949953421340", 1],
    ["-9382499223688", "-562949953421280", 0],
    ["-9382499223689", "-562949953421340", 1],
  ])("%s h in min is %s min", (hours, minutes, byCell) => {
    const column = worked(table("h in min", [`| one | ${hours} |`], "| n | h (h) |"));
    const [cell] = column.cells;
    expect(cell?.type === "quantity" && toBig(cell.n).toFixed()).toBe(minutes);
    expect(column).toMatchObject({ byCell, isCareful: true });
  });
});

describe("a column of temperatures in K", () => {
  it.each([
    ["k", "293.15 K, 303.15 K"],
    ["k in °C", "20 °C, 30 °C"],
    ["k in °F", "68 °F, 86 °F"],
    ["k + d", "298.15 K, 310.15 K"],
    ["d + k", "298.15 K, 310.15 K"],
    ["k - g", "0 K, 0 K"],
    ["d + d", "10 K, 14 K"],
    ["d * 2 - d", "5 K, 7 K"],
    // A point on a scale has no multiple and no negative, and a difference is no point.
    ["k * 2", "fault, fault"],
    ["-k", "fault, fault"],
    ["k + k", "fault, fault"],
    ["d in °C", "fault, fault"],
  ])("%s", (formula, texts) => {
    const head = ["table t", "| n | g (°C) | d (K) |", "| a | 20 | 5 |", "| b | 30 | 7 |"];
    const column = worked([...head, "column k = g in K", `column f = ${formula}`].join("\n"));
    expect(column.texts.join(", ")).toBe(texts);
    expect(column.isCareful).toBe(true);
  });
});
