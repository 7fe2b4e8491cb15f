import { describe, expect, it, vi } from "vitest";
import { openBook, openBookWith, type Searches, underwayOf } from "../../src/engine";
import { Allowance, WORK_LIMIT } from "../../src/engine/allowance";
import { workingsOf } from "../../src/engine/book";
import { Chain } from "../../src/engine/chain";
import { Left, LongLists } from "../../src/engine/long-lists";
import { cellsKey } from "../../src/engine/names";
import { sameValue } from "../../src/engine/sameness";
import { format } from "../../src/quantity";
import { type Value, text as words } from "../../src/vocabulary/value";
import { carefulColumn } from "./careful";

/** What books take, counted step by step, and what becomes of them where that is more than there is. */

const workOf = (text: string): number => workingsOf(openBook(text)).calculation.allowance.counted.work;
const callsOf = (text: string): number => workingsOf(openBook(text)).calculation.allowance.counted.calls;
const table = (rows: readonly string[], ...after: string[]): string =>
  ["table t", "| n | a (L) | b (number) |", ...rows, ...after].join("\n");
const rows = (count: number, row = (i: number) => `${i} | 1`): string[] =>
  Array.from({ length: count }, (_, i) => `| r${i} | ${row(i)} |`);

describe("the work of a book", () => {
  it.each([
    ["nothing", "", 0],
    ["what was typed into a table", table(rows(40)), 0],
    // A formula has a part for itself and for each of its operands.
    ["a value", "set a = 1", 1],
    ["a sum", "set a = 1 + 2", 3],
    ["two values", "set a = 1 + 2\nset b = a", 4],
    // A loop takes a thirty-second of a step a part, and four to keep a cell.
    ["a column in a loop", table(rows(64), "column f = a + a"), 64 * (3 / 32 + 4)],
    ["a column of one row", table(rows(1), "column f = a + a"), 3 / 32 + 4],
    ["a column of no rows", table([], "column f = a + a"), 0],
    ["a column cell by cell", table(rows(64), "column f = b^2"), 64 * (3 / 32 + 4) + 64 * 7],
    [
      "one of whose cells is",
      table(
        rows(64, (i) => `${i === 9 ? "" : i} | 1`),
        "column f = a + a",
      ),
      64 * (3 / 32 + 4) + 7,
    ],
    ["a cell with a formula", table(["| r | = 1 L + 1 L | 1 |"]), 3],
    ["a foot", table(rows(3), "foot a = 1 L + 2 L"), 3],
  ])("of %s", (_, text, work) => expect(workOf(text)).toBe(work));
  it.each([
    ["set a = 1", 0],
    ["set a = abs(1)", 1],
    ["define f(x) = abs(x)\nset a = f(1)", 2],
    ["set a = boils_at(60 mbar)", 1],
    ["set a = sum([1, 2])", 1],
    [table(rows(3), "foot a = sum(a)"), 1],
    [table(rows(3), "column f = abs(a)"), 3],
  ])("of %j counts the calls", (text, calls) => expect(callsOf(text)).toBe(calls));
  it("of a call over a list grows with the list, unless it looks one entry up", () => {
    const call = (formula: string, count: number) => workOf(table(rows(count), `set s = ${formula}`));
    expect(call("mean(t.a)", 50) - call("mean(t.a)", 20)).toBe(30);
    expect(call("mean([1, 2, 3])", 1) - call("mean([1, 2])", 1)).toBe(40 + 2);
    expect(call('pick(t.a, "r1")', 50) - call('pick(t.a, "r1")', 20)).toBe(0);
    expect(call("sum(t.a)", 50) - call("sum(t.a)", 20)).toBe(0);
  });
  it("of an edit is that of the rows that are worked out again", () => {
    const text = (first: string) =>
      table(
        rows(64, (i) => `${i === 0 ? first : i} | 1`),
        "column f = b^2 + a / 1 L",
        "set k = 1 + 1",
      );
    const start = openBook(text("5"));
    const { allowance } = workingsOf(start.edit(text("6"))).calculation;
    expect(allowance.counted.work).toBe(7 + 4);
    expect(workingsOf(start.edit(`${text("5")}\n# a remark`)).calculation.allowance.counted.work).toBe(0);
  });
});

describe("what an edited book takes over", () => {
  const text = (z: string, first = "0 | 1", k = "abs(1)") =>
    table(
      rows(4, (i) => (i === 0 ? first : `${i} | ${i + 1}`)),
      "column f = abs(b)^2",
      `set k = ${k}`,
      "set m = k + 1",
      `set z = ${z}`,
    );
  /** What was counted as taken over in an edit. */
  const kept = (book: ReturnType<typeof openBook>, to: string) => {
    const asked = vi.spyOn(Allowance.prototype, "isStopped");
    const edited = book.edit(to);
    const [besides] = asked.mock.calls.find(([given]) => given !== undefined)!;
    asked.mockRestore();
    return { edited, besides: { ...besides! } };
  };
  // The column took 4 * (4 / 32 + 4) in a loop that did none of it and 4 * 8 cell by cell, and counts as if each
  // row were worked out by itself once more: after an edit perhaps no loop can be taken.
  const column = 16.5 + 32 + 32;
  it("counts as what it took, and what an edit of a row took counts on top", () => {
    const start = openBook(text("1"));
    const other = kept(start, text("2"));
    // `abs(1)` has two parts and `k + 1` three; `z` is worked out anew. Each row has a call, and `k` has one.
    expect(other.besides).toEqual({ calls: 5, work: column + 2 + 3 });
    const row = kept(other.edited, text("2", "0 | 9"));
    expect(row.besides).toEqual({ calls: 5, work: column + 2 + 3 + 1 });
    const again = kept(row.edited, text("3", "0 | 9"));
    expect(again.besides).toEqual({ calls: 6, work: column + 8 + 2 + 3 });
    // A cell that is written otherwise and comes to the same: there is nothing to work out.
    const same = kept(again.edited, text("3", "0 | 9.0"));
    expect(same.besides).toEqual({ calls: 6, work: column + 8 + 2 + 3 + 1 });
    // A value that comes to the same costs what it took last.
    const value = kept(same.edited, text("3", "0 | 9.0", "abs(0 + 1)"));
    expect(value.besides).toEqual({ calls: 5, work: column + 8 + 3 + 1 });
    expect(kept(value.edited, text("4", "0 | 9.0", "abs(0 + 1)")).besides).toEqual({
      calls: 6,
      work: column + 8 + 4 + 3,
    });
    expect(kept(openBook("set a = 1"), text("1")).besides).toEqual({ calls: 0, work: 0 });
  });
});

describe("where the work is at its end", () => {
  /** A book that has only so much work left. */
  const within = (left: number, text: string) => {
    const count = vi.spyOn(Allowance.prototype, "isPieceDone");
    let charged = false;
    count.mockImplementation(function (this: Allowance) {
      if (!charged && this.spent > 0) {
        charged = true;
        this.charge({ calls: 0, work: WORK_LIMIT - this.spent - left });
      }
      return false;
    });
    try {
      return openBook(text);
    } finally {
      count.mockRestore();
    }
  };
  const text = table(rows(4), "set begin = 1", "column f = b^2", "column g = 1 + 2", "foot b = 3");
  // The column is begun in a loop, which takes 4 * (3 / 32 + 4) = 16.375, and then cell by cell, 7 each.
  const states = (left: number): string => {
    const book = within(left, `set begin = 1\n${table(rows(4), "column f = b^2")}`);
    return ["r0", "r1", "r2", "r3"].map((r) => (book.ask(`t.${r}.f`).state === "ok" ? "." : "!")).join("");
  };
  it("cells are worked out as long as there is enough for one", () => {
    expect(states(16.375 + 28)).toBe("....");
    expect(states(16.375 + 27)).toBe("...!");
    expect(states(16.375 + 21)).toBe("...!");
    expect(states(16.375 + 20)).toBe("..!!");
    expect(states(16.375 + 6)).toBe("!!!!");
    // Where there is not enough for the loop there may be enough for a cell.
    expect(states(16)).toBe("..!!");
    expect(states(7)).toBe(".!!!");
    expect(states(0)).toBe("!!!!");
  });
  it("what is behind is a fault, in every row and every value", () => {
    const book = within(1, text.replace("set begin = 1\n", "").replace("table t", "set begin = 1\ntable t"));
    expect(book.messages.map((m) => m.code)).toContain("work-limit");
    // A cell that was not worked out is a fault of its own, a column that was not begun is one as a whole.
    for (const [path, at, formula] of [
      ["t.r0.f", "t.r0.f", "b^2"],
      ["t.r3.f", "t.r3.f", "b^2"],
      ["t.r0.g", "t.g", "1 + 2"],
      ["t.r3.g", "t.g", "1 + 2"],
      ["t.foot.b", "t.foot.b", "3"],
    ] as const) {
      const value = book.value(path);
      expect(value).toMatchObject({ type: "fault", code: "work-limit", place: { path: at } });
      const { from, to } = value?.type === "fault" && value.place ? value.place : { from: 0, to: 0 };
      expect(
        book.text.split("\n").some((line) => line.slice(from, to) === formula),
        path,
      ).toBe(true);
    }
    expect(book.value("begin")).toMatchObject({ n: { v: 1 } });
  });
});

/** Column `f` of table `t` that builds on its own row before; how often the fast path was begun. */
function worked(text: string) {
  const tried = vi.spyOn(Chain.prototype, "run");
  const { calculation } = workingsOf(openBook(text));
  const byCell = tried.mock.calls.length;
  tried.mockRestore();
  const key = cellsKey("t", "f");
  const store = calculation.store(key)!;
  const cells = Array.from({ length: store.length }, (_, row) => store.get(row));
  return {
    texts: cells.map((cell) => (cell.type === "quantity" ? format(cell) : cell.type)),
    byCell,
    isCareful: carefulColumn(key, calculation).every((v, row) => sameValue(v, cells[row]!)),
  };
}
const carried = (step: string, first = "a"): string =>
  `column f = if before.f is blank then ${first} else ${step}`;

describe("a chain of rows", () => {
  it.each([0, 1, 2, 1023, 1024, 1025, 2048, 2049])("of %d rows adds up to the last", (count) => {
    const sum = worked(
      table(
        rows(count, () => "0.1 | 1"),
        carried("before.f + a"),
      ),
    );
    expect(sum).toMatchObject({ byCell: Math.min(1, count), isCareful: true });
    expect(sum.texts.length).toBe(count);
    if (count > 0) expect(sum.texts.at(-1)).toBe(`${count / 10} L`);
  });
  it.each([
    // The row with a gap, and how often the fast path is begun: behind the first row, the gap, and the row behind that.
    [1, 3],
    [1022, 3],
    [1023, 3],
    [1024, 3],
    [1025, 3],
    [2047, 3],
    [2048, 3],
    [2098, 3],
    [2099, 2],
  ])("with a gap in row %d goes on behind it", (gap, byCell) => {
    const column = worked(
      table(
        rows(2100, (i) => `${i === gap ? "" : "1"} | 1`),
        carried("before.f + a", "1 L"),
      ),
    );
    expect(column).toMatchObject({ byCell, isCareful: true });
    expect(column.texts[gap - 1]).toBe(`${gap} L`);
    expect(column.texts[gap]).toBe("gap");
    if (gap < 2099) expect(column.texts[gap + 1]).toBe("1 L");
    if (gap < 2098) expect(column.texts[gap + 2]).toBe("2 L");
  });
  it.each([
    // What is looked at in the row before, and has a gap there: the row behind the gap is left.
    [1022, 1023],
    [1023, 1024],
    [1024, 1025],
  ])("that looks at another column above leaves the row behind its gap in row %d", (gap, row) => {
    const column = worked(
      table(
        rows(1100, (i) => `${i === gap ? "" : "1"} | 1`),
        carried("before.f + before.a", "1 L"),
      ),
    );
    expect(column.texts.flatMap((t, i) => (t === "gap" ? [i] : []))).toEqual([row]);
    expect(column.texts[row - 1]).toBe(`${row} L`);
    expect(column.texts[row + 1]).toBe("1 L");
    expect(column).toMatchObject({ byCell: 3, isCareful: true });
  });
  it.each([
    // the first row, the step, the last of 12 rows, how often the fast path was begun
    ["approximate ones", "1 L / 3", "before.f * 2", "682.67 L", 1],
    ["a share of them", "1000 L", "before.f * 0.5", "0.48828125 L", 12],
    ["a difference from a constant", "3 L", "5 L - before.f", "2 L", 1],
    ["a constant under it", "2", "1 / before.f", "0.5", 12],
    ["what comes to no number", "2", "1 / (before.f - 2)", "fault", 12],
    ["another unit", "1 L", "before.f + 500 mL", "6.5 L", 2],
    ["its own unit", "1 L", "(before.f in mL) in L", "1 L", 2],
    ["a unit that turns", "1 L", "before.f in mL", "1000 mL", 12],
    ["temperatures", "20 °C", "before.f + 1 K", "31 °C", 12],
    ["a remark", "1", "before.f + 10 %", "2.1", 12],
    ["more decimals", "1", "before.f + 0.001", "1.011", 2],
    ["a negative one", "1", "-before.f", "-1", 1],
    ["a zero", "0", "before.f * -1", "0", 1],
    ["an approximate zero", "0 / 3", "before.f * -1", "0", 1],
  ])("of %s: from %s by %s", (_, first, step, last, byCell) => {
    const column = worked(
      table(
        rows(12, () => "1 | 1"),
        carried(step, first),
      ),
    );
    expect(column.texts.at(-1)).toBe(last);
    expect([column.byCell, column.isCareful]).toEqual([byCell, true]);
  });
  it("edited in one row comes to what a fresh one comes to, over the border of a block", () => {
    const text = (odd: number, cell: string) =>
      table(
        rows(1100, (i) => `${i === odd ? cell : "0.5"} | 1`),
        carried("before.f + a"),
      );
    const start = openBook(text(-1, ""));
    for (const row of [0, 1, 1022, 1023, 1024, 1099])
      for (const cell of ["0.125", "", "3 ± 1", "2 mL"]) {
        const book = start.edit(text(row, cell));
        const fresh = openBook(text(row, cell));
        for (const at of [0, 1, 2, 1022, 1023, 1024, 1025, 1098, 1099])
          expect(
            sameValue(book.value(`t.r${at}.f`)!, fresh.value(`t.r${at}.f`)!),
            `${row} ${cell} ${at}`,
          ).toBe(true);
      }
  });
});

describe("a long list in the middle of a formula", () => {
  /** How many entries of so much work are made before the formula is left, with pieces of one step. */
  const madeBeforeLeft = (work: number): number => {
    const allowance = new Allowance(1);
    const once = new LongLists(allowance).entries("here");
    let made = 0;
    for (; made < 50; made++) {
      try {
        once(() => {
          allowance.spend(work);
          return words("x");
        });
      } catch (error) {
        if (!(error instanceof Left)) throw error;
        break;
      }
    }
    return made;
  };
  it("is left behind ten pieces, and not before", () => {
    expect([20, 10, 9, 5, 4, 1].map(madeBeforeLeft)).toEqual([1, 1, 2, 2, 3, 10]);
  });
  it("recalls what was made, and goes on with what was not", () => {
    const allowance = new Allowance(1);
    const lists = new LongLists(allowance);
    let made = 0;
    const entry = (once: (make: () => Value) => Value) =>
      once(() => {
        allowance.spend(10);
        return words(String(++made));
      });
    const first = lists.entries("here");
    expect(entry(first)).toEqual(words("1"));
    expect(() => entry(first)).toThrow(Left);
    lists.begin();
    const again = lists.entries("here");
    expect([entry(again), entry(again)]).toEqual([words("1"), words("2")]);
    expect(made).toBe(2);
    // What was recalled counts as if it were made.
    expect(allowance.spent).toBe(30);
    // Another place is another list.
    lists.begin();
    expect(entry(lists.entries("there"))).toEqual(words("3"));
  });
});

describe("cells that need each other", () => {
  it.each([
    // Two columns that build on each other, row by row.
    [["column f = g + 1", "column g = if before.f is blank then 0 else before.f"], "1, 2, 3, 4"],
    [["column f = if before.g is blank then 1 else before.g * 2", "column g = f + 1"], "1, 4, 10, 22"],
    // A column that looks at a cell of its own, which looks at none.
    [["column f = if b is 1 then 5 else t.r0.f + b"], "5, 7, 8, 9"],
    [["column f = if b is 4 then 5 else t.r3.f - b"], "4, 3, 2, 5"],
    // One of them turns in a circle, and the others do not.
    [["column f = if b is 2 then g else b", "column g = f"], "1, fault, 3, 4"],
    [["column f = if b < 3 then b else t.r0.f + sum(t.b)"], "1, 2, 11, 11"],
  ])("%j come to %s", (columns, all) => {
    const book = openBook(
      table(
        rows(4, (i) => `${i} | ${i + 1}`),
        ...columns,
      ),
    );
    const told = ["r0", "r1", "r2", "r3"]
      .map((r) => book.ask(`t.${r}.f`))
      .map((a) => (a.state === "ok" ? a.text : a.state));
    expect(told.join(", ")).toBe(all);
    // An edit that takes a column out and back comes to the same.
    const back = book.edit(book.text.replace(/^column f.*$/m, "column f = 1")).edit(book.text);
    expect(back.answers()).toEqual(book.answers());
    expect(back.messages).toEqual(book.messages);
  });
});

describe("work in pieces", () => {
  const pieces = (piece: number, text: string): number => {
    const waits: Searches = {
      begin: () => ({
        piece,
        goesOn: () => false,
        at: () => ({ known: undefined, goesOn: () => true, came: () => undefined }),
      }),
    };
    let book = openBookWith(waits, text);
    let count = 1;
    for (let underway = underwayOf(book); underway; underway = underwayOf(book)) {
      book = underway.goOn(() => false) ?? underway.soFar();
      count++;
    }
    expect(book.answers()).toEqual(openBook(text).answers());
    return count;
  };
  it("is one where there is room for all of it, and more where there is less", () => {
    const text = table(rows(64), "column f = b^2", "set s = 1 + 2", "set p = 2 + s");
    expect(pieces(WORK_LIMIT, text)).toBe(1);
    const counts = [10_000, 200, 50, 10].map((piece) => pieces(piece, text));
    expect(counts).toEqual([...counts].sort((a, b) => a - b));
    expect(counts[0]).toBe(1);
    expect(counts[3]).toBeGreaterThan(20);
  });
});
