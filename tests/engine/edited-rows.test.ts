import { describe, expect, it, vi } from "vitest";
import { type Book, openBook } from "../../src/engine";
import { workingsOf } from "../../src/engine/book";
import { Calculation } from "../../src/engine/calculation";
import { cellsKey, setKey } from "../../src/engine/names";
import type { ComputedNode } from "../../src/engine/plan";

/** What the edit of a table works out again, cell by cell, and that all comes to what a fresh book comes to. */

const ROWS = [
  "| a | 1.5 | x |",
  "| b | 2 | x |",
  "| c | 3 | x |",
  "| d | 4 | y |",
  "| e | 5 | y |",
  "| f | 6 | y |",
];
interface Parts {
  head: string;
  rows: readonly string[];
  after: readonly string[];
  before: readonly string[];
}
const write = ({
  head = "| n | v (L) | w |",
  rows = ROWS,
  after = [],
  before = [],
}: Partial<Parts>): string => [...before, "table t", head, ...rows, ...after].join("\n");
const swapped = (row: number, text: string): string[] => ROWS.map((r, i) => (i === row ? text : r));

/** After an edit: which rows of column `f` were worked out one by one, and the book, which must be as a fresh one. */
function edited(from: string, to: string): { rows: number[]; book: Book; was: Book } {
  const was = openBook(from);
  const evaluated = vi.spyOn(Calculation.prototype, "evaluate");
  const book = was.edit(to);
  const calls = evaluated.mock.calls.slice();
  evaluated.mockRestore();
  const { plan } = workingsOf(book);
  const { code } = (plan.nodes.get(cellsKey("t", "f")) as ComputedNode).compiled;
  const rows = calls.filter(([one]) => one === code).map(([, , row]) => row!);
  const fresh = openBook(to);
  expect(book.answers()).toEqual(fresh.answers());
  expect(book.messages).toEqual(fresh.messages);
  return { rows, book, was };
}
const shown = (book: Book): string =>
  ["a", "b", "c", "d", "e", "f"]
    .map((row) => book.ask(`t.${row}.f`))
    .map((a) => (a.state === "ok" ? a.text : a.state))
    .join(", ");

describe("an edit of one row", () => {
  it.each([
    // column f, the row that is edited and how, the rows that are worked out again, what all come to
    ["v * 2", 0, "| a | 7 | x |", [0], "14 L, 4 L, 6 L, 8 L, 10 L, 12 L"],
    ["v * 2", 5, "| f | 7 | y |", [5], "3 L, 4 L, 6 L, 8 L, 10 L, 14 L"],
    ["v * 2", 2, "| c | | x |", [2], "3 L, 4 L, gap, 8 L, 10 L, 12 L"],
    ["v * 2", 2, "| c | 3.125 | x |", [2], "3 L, 4 L, 6.25 L, 8 L, 10 L, 12 L"],
    ["v * 2", 2, "| c | 3000 mL | x |", [], "3 L, 4 L, 6 L, 8 L, 10 L, 12 L"],
    ["v * 2", 2, "| c | 3 ± 0.5 | x |", [2], "3 L, 4 L, 6.0 ± 1.0 L, 8 L, 10 L, 12 L"],
    ["v * 2", 2, "| c | = 1 L / 3 | x |", [2], "3 L, 4 L, 0.66667 L, 8 L, 10 L, 12 L"],
    ["v * 2", 2, "| c | soon | x |", [2], "3 L, 4 L, fault, 8 L, 10 L, 12 L"],
    // Written otherwise but of the same value, and what the formula does not look at.
    ["v * 2", 2, "| c | 3.0 | x |", [], "3 L, 4 L, 6 L, 8 L, 10 L, 12 L"],
    ["v * 2", 2, "| c | 3 | z |", [], "3 L, 4 L, 6 L, 8 L, 10 L, 12 L"],
    // Whether a unit of the column may have been another had it been worked out from the top.
    [
      'if w is "z" then 1000 mL else v',
      0,
      "| a | 1.5 | z |",
      [0, 0, 1, 2, 3, 4, 5],
      "1000 mL, 2 L, 3 L, 4 L, 5 L, 6 L",
    ],
    ['if w is "z" then 1000 mL else v', 1, "| b | 2 | z |", [1], "1.5 L, 1000 mL, 3 L, 4 L, 5 L, 6 L"],
    [
      'if w is "z" then v / 3 else v',
      0,
      "| a | 1.5 | z |",
      [0, 0, 1, 2, 3, 4, 5],
      "0.5 L, 2 L, 3 L, 4 L, 5 L, 6 L",
    ],
    // What looks at the row before: the row behind it too, if there is one.
    ["before.v", 2, "| c | 9 | x |", [3], "gap, 1.5 L, 2 L, 9 L, 4 L, 5 L"],
    ["before.v", 5, "| f | 9 | y |", [], "gap, 1.5 L, 2 L, 3 L, 4 L, 5 L"],
    ["before.v", 4, "| e | 9 | y |", [5], "gap, 1.5 L, 2 L, 3 L, 4 L, 9 L"],
    [
      "(if before.v is blank then 0 L else before.v) + v",
      2,
      "| c | 9 | x |",
      [2, 3],
      "1.5 L, 3.5 L, 11 L, 13 L, 9 L, 11 L",
    ],
    // A total is not of this row alone: the whole column is worked out anew, in a loop.
    ["v * count(t.v)", 2, "| c | 9 | x |", [], "9 L, 12 L, 54 L, 24 L, 30 L, 36 L"],
    ["sum(t.v) - v", 5, "| f | 7 | y |", [], "21 L, 20.5 L, 19.5 L, 18.5 L, 17.5 L, 15.5 L"],
  ] as const)("%s, row %d: %s", (formula, row, text, rows, all) => {
    const after = [`column f = ${formula}`];
    const change = edited(write({ after }), write({ rows: swapped(row, text), after }));
    expect(shown(change.book)).toBe(all);
    expect(change.rows).toEqual(rows);
    // And back again.
    const back = change.book.edit(write({ after }));
    expect(shown(back)).toBe(shown(change.was));
    expect(back.answers()).toEqual(change.was.answers());
  });
  it("reaches a column behind a column, by the rows that came out otherwise", () => {
    const after = ["column g = whole(v / 2 L)", "column f = g + 1"];
    const some = edited(write({ after }), write({ rows: swapped(0, "| a | 1.75 | x |"), after }));
    expect(some.rows).toEqual([]);
    expect(workingsOf(some.book).calculation.store(cellsKey("t", "g"))).toBe(
      workingsOf(some.was).calculation.store(cellsKey("t", "g")),
    );
    expect(edited(write({ after }), write({ rows: swapped(0, "| a | 4 | x |"), after })).rows).toEqual([0]);
  });
  it("of half of the rows is worked out by rows, of more as a whole", () => {
    const after = ["column f = v * 2"];
    const rows = (count: number) =>
      ROWS.map((r, i) => (i < count ? r.replace("| 1.5 |", "| 9 |").replace(/\| (\d) \|/, "| 1$1 |") : r));
    expect(edited(write({ after }), write({ rows: rows(3), after })).rows).toEqual([0, 1, 2]);
    expect(edited(write({ after }), write({ rows: rows(4), after })).rows).toEqual([]);
  });
  it.each([
    ["one more", [...ROWS, "| g | 7 | y |"], "3 L, 4 L, 6 L, 8 L, 10 L, 12 L"],
    ["one fewer", ROWS.slice(1), "fault, 4 L, 6 L, 8 L, 10 L, 12 L"],
    ["another order", [...ROWS.slice(1), ROWS[0]!], "3 L, 4 L, 6 L, 8 L, 10 L, 12 L"],
    ["none", [], "fault, fault, fault, fault, fault, fault"],
  ])("that has %s is as a fresh book", (_, rows, all) => {
    const after = ["column f = v * 2"];
    expect(shown(edited(write({ after }), write({ rows, after })).book)).toBe(all);
  });
  it("names what is wrong by what the row is called now", () => {
    const after = ["column f = v + 1 kg"];
    const { book, rows } = edited(write({ after }), write({ rows: swapped(1, "| new | 2 | x |"), after }));
    expect(book.value("t.new.f")).toMatchObject({ type: "fault", place: { path: "t.new.f" } });
    expect(rows).toEqual([1]);
    // The second of a name is called otherwise; where the first is new, both are.
    const twice = edited(write({ after }), write({ rows: swapped(3, "| b | 4 | y |"), after }));
    expect(twice.rows).toEqual([3]);
    expect(workingsOf(twice.book).calculation.cell(cellsKey("t", "f"), 3)).toMatchObject({
      place: { path: "t.`b (2)`.f" },
    });
    const first = edited(write({ after }), write({ rows: swapped(0, "| b | 1.5 | x |"), after }));
    expect(first.rows).toEqual([0, 1]);
  });
});

describe("an edit of a heading", () => {
  it.each([
    ["another unit", "| n | v (mL) | w |", "3 mL, 4 mL, 6 mL, 8 mL, 10 mL, 12 mL"],
    ["another kind", "| n | v (kg) | w |", "3 kg, 4 kg, 6 kg, 8 kg, 10 kg, 12 kg"],
    ["no unit", "| n | v | w |", "3, 4, 6, 8, 10, 12"],
    ["a unit that is none", "| n | v (Q) | w |", "fault, fault, fault, fault, fault, fault"],
    ["another name", "| n | u (L) | w |", "fault, fault, fault, fault, fault, fault"],
    ["another order", "| n | w | v (L) |", "fault, fault, fault, fault, fault, fault"],
    ["text", "| n | v (text) | w |", "fault, fault, fault, fault, fault, fault"],
  ])("to %s is as a fresh book", (_, head, all) => {
    const after = ["column f = v * 2"];
    const { book } = edited(write({ after }), write({ head, after }));
    expect(shown(book)).toBe(all);
    edited(write({ head, after }), write({ after }));
  });
  it("whose unit is that of its first quantity goes with that one", () => {
    const head = "| n | v | w |";
    const mL = ROWS.map((r) => r.replace(/\| ([\d.]+) \|/, "| $1 mL |"));
    const after = ["column f = v * 2"];
    const first = edited(
      write({ head, rows: mL, after }),
      write({ head, rows: [mL[0]!.replace("mL", "L"), ...mL.slice(1)], after }),
    );
    expect(shown(first.book)).toBe("3 L, 0.004 L, 0.006 L, 0.008 L, 0.01 L, 0.012 L");
    const other = edited(
      write({ head, rows: mL, after }),
      write({ head, rows: [mL[0]!, mL[1]!.replace("mL", "L"), ...mL.slice(2)], after }),
    );
    expect(shown(other.book)).toBe("3 mL, 4000 mL, 6 mL, 8 mL, 10 mL, 12 mL");
    expect(other.rows).toEqual([1]);
  });
});

describe("an edit of what a column looks at outside", () => {
  it.each([
    ["set k = 2", "set k = 3", "4.5 L, 6 L, 9 L, 12 L, 15 L, 18 L"],
    ["set k = 2", "set k = 2.0", "3 L, 4 L, 6 L, 8 L, 10 L, 12 L"],
    ["set k = 2", "set k = 1 + 1", "3 L, 4 L, 6 L, 8 L, 10 L, 12 L"],
    [
      "set k = 2",
      "set k = 2 ± 1",
      "3.0 ± 1.5 L, 4.0 ± 2.0 L, 6.0 ± 3.0 L, 8.0 ± 4.0 L, 10.0 ± 5.0 L, 12.0 ± 6.0 L",
    ],
    ["set k = 2", "set k = blank", "gap, gap, gap, gap, gap, gap"],
    ["set k = 2", "set l = 2", "fault, fault, fault, fault, fault, fault"],
    ["set k = 2 ± 1", "set k = 2", "3 L, 4 L, 6 L, 8 L, 10 L, 12 L"],
    ["set k = 1 / 3", "set k = 2", "3 L, 4 L, 6 L, 8 L, 10 L, 12 L"],
  ])("from %s to %s", (from, to, all) => {
    const after = ["column f = v * k"];
    expect(shown(edited(write({ before: [from], after }), write({ before: [to], after })).book)).toBe(all);
  });
  it("keeps the column where the value is the same", () => {
    const after = ["column f = v * k", "set sum = sum(t.f)"];
    const { was, book } = edited(
      write({ before: ["set k = 2"], after }),
      write({ before: ["set k = 1 + 1"], after }),
    );
    const [then, now] = [workingsOf(was).calculation, workingsOf(book).calculation];
    expect(now.store(cellsKey("t", "f"))).toBe(then.store(cellsKey("t", "f")));
    expect(now.value(setKey("sum"))).toBe(then.value(setKey("sum")));
    expect(now.unchanged([setKey("sum"), cellsKey("t", "f")])).toBe(true);
    expect(now.unchanged([setKey("sum"), "nothing of that name"])).toBe(false);
    expect(then.unchanged([setKey("sum")])).toBe(false);
  });
});

describe("an edit of a column that builds on its own row before", () => {
  const after = ["column f = (if before.f is blank then 0 L else before.f) + v", "set last = t.f.f"];
  it.each([
    [0, "| a | 2.5 | x |", "2.5 L, 4.5 L, 7.5 L, 11.5 L, 16.5 L, 22.5 L"],
    [5, "| f | 0.125 | y |", "1.5 L, 3.5 L, 6.5 L, 10.5 L, 15.5 L, 15.625 L"],
    [2, "| c | | x |", "1.5 L, 3.5 L, gap, 4 L, 9 L, 15 L"],
    [2, "| c | 3 ± 1 | x |", "1.5 L, 3.5 L, 6.5 ± 1.0 L, 10.5 ± 1.0 L, 15.5 ± 1.0 L, 21.5 ± 1.0 L"],
    [0, "| a | 1.5 | other |", "1.5 L, 3.5 L, 6.5 L, 10.5 L, 15.5 L, 21.5 L"],
  ])("row %d: %s", (row, text, all) => {
    const { book } = edited(write({ after }), write({ rows: swapped(row, text), after }));
    expect(shown(book)).toBe(all);
    expect(book.edit(write({ after })).answers()).toEqual(openBook(write({ after })).answers());
  });
});

describe("a table of several blocks", () => {
  const text = (odd: Readonly<Record<number, string>> = {}) =>
    [
      "table t",
      "| n | v (L) | w |",
      ...Array.from({ length: 2100 }, (_, i) => `| r${i} | ${odd[i] ?? i} | x |`),
      "column f = v * 2",
      "column g = before.v + v",
      "foot f = sum(f)",
    ].join("\n");
  it.each([0, 1022, 1023, 1024, 2047, 2048, 2099])(
    "that is edited in row %d copies that block and no other",
    (row) => {
      const was = openBook(text());
      const book = was.edit(text({ [row]: "0.25" }));
      const stores = [was, book].map((b) => workingsOf(b).calculation.store(cellsKey("t", "f"))!);
      expect(stores[0]!.blocks.map((b, i) => b === stores[1]!.blocks[i])).toEqual(
        [0, 1, 2].map((i) => i !== Math.floor(row / 1024)),
      );
      expect(book.ask(`t.r${row}.f`).text).toBe("0.5 L");
      expect(was.ask(`t.r${row}.f`).text).toBe(`${row * 2} L`);
      expect(book.ask("t.foot.f").text).toBe(`${2100 * 2099 - row * 2 + 0.5} L`);
      expect(was.ask("t.foot.f").text).toBe(`${2100 * 2099} L`);
      if (row < 2099) expect(book.ask(`t.r${row + 1}.g`).text).toBe(`${row + 1.25} L`);
      expect(workingsOf(book).calculation.store(cellsKey("t", "g"))!.get(2099)).toEqual(
        workingsOf(openBook(text({ [row]: "0.25" })))
          .calculation.store(cellsKey("t", "g"))!
          .get(2099),
      );
    },
  );
});

describe("an edit of a column with formulas in its cells", () => {
  const text = (first: string, last: string, k = "2") =>
    [
      `set k = ${k}`,
      "table t",
      "| n | v (L) | w |",
      `| a | ${first} | x |`,
      "| b | = k * 1 L | x |",
      "| c | 3 | x |",
      `| d | ${last} | x |`,
      "| e | 5 | x |",
      "| f | 6 | x |",
      "column f = v * 2",
    ].join("\n");
  /** The cells of `v` whose formulas are worked out again, by row, and what column `f` comes to. */
  const again = (from: string, to: string): [number[], string] => {
    const was = openBook(from);
    const evaluated = vi.spyOn(Calculation.prototype, "evaluate");
    const book = was.edit(to);
    const calls = evaluated.mock.calls.slice();
    evaluated.mockRestore();
    const node = workingsOf(book).plan.nodes.get(cellsKey("t", "v"))!;
    const codes = node.type === "typed" ? [...node.formulas.values()].map((c) => c.code) : [];
    expect(book.answers()).toEqual(openBook(to).answers());
    return [calls.filter(([code]) => codes.includes(code)).map(([, , row]) => row!), shown(book)];
  };
  const start = text("1.5", "= k * 2 L");
  it.each([
    // A number beside them leaves them alone; one of them is worked out by itself.
    ["a number", text("7", "= k * 2 L"), [], "14 L, 4 L, 6 L, 8 L, 10 L, 12 L"],
    ["one of them", text("1.5", "= k * 3 L"), [3], "3 L, 4 L, 6 L, 12 L, 10 L, 12 L"],
    ["one of them to a number", text("1.5", "4"), [], "3 L, 4 L, 6 L, 8 L, 10 L, 12 L"],
    ["a number to a formula", text("= k * 1 L", "= k * 2 L"), [0], "4 L, 4 L, 6 L, 8 L, 10 L, 12 L"],
    ["what they look at", text("1.5", "= k * 2 L", "3"), [1, 3], "3 L, 6 L, 6 L, 12 L, 10 L, 12 L"],
  ])("%s works out the others no more", (_, to, rows, all) => {
    expect(again(start, to)).toEqual([rows, all]);
    expect(again(to, start)[1]).toBe("3 L, 4 L, 6 L, 8 L, 10 L, 12 L");
  });
});
