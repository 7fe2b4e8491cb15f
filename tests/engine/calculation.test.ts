import { describe, expect, it } from "vitest";
import { parseFormula } from "../../grammar";
import { openBook } from "../../src/engine";
import { workingsOf } from "../../src/engine/book";
import { compile } from "../../src/engine/compile";
import { cellsKey, footKey, setKey } from "../../src/engine/names";
import { exact, format, parseUnit, quantity } from "../../src/quantity";
import type { Value } from "../../src/vocabulary/value";

/** A calculation that is asked for one thing: with what was drawn, with a value turned, with little work, by a path. */

const shown = (value: Value | undefined): string =>
  value === undefined
    ? "nothing"
    : value.type === "quantity"
      ? format(value)
      : value.type === "text"
        ? value.text
        : value.type;

const BOOK = `set a = 5 ± 1 g
set b = a * 2
set c = 7 g
set d = c * 2
set e = b + d
set list = [a, c]
set blend = marry([1 L, 2 L], [40 ± 1 %vol, 50 %vol])
set strong = blend.strength
table t
| n    | x (g)   | y (g) |
| one  | 1 ± 0.5 | 1     |
|      | 2       | 2     |
| same | 3 ± 0.1 | 4     |
| same | 4       | 8     |
column f = x * 2
column g = y * 2
foot x = sum(x)
set total = sum(t.f)
set plain = sum(t.g)
`;

describe("what is drawn", () => {
  const { calculation } = workingsOf(openBook(BOOK));
  it.each([
    // what is asked for, where each input is off by so many of its uncertainties
    [setKey("e"), 0, "24 g"],
    [setKey("e"), 1, "26 g"],
    [setKey("e"), -2, "20 g"],
    [setKey("a"), 1, "6 g"],
    [setKey("d"), 1, "14 g"],
    [setKey("total"), 1, "21.2 g"],
    [setKey("total"), -1, "18.8 g"],
    [setKey("plain"), 1, "30 g"],
    [footKey("t", "x"), 1, "10.6 g"],
  ])("moves %s by %d to %s, without ± of its own", (key, by, text) => {
    expect(shown(calculation.drawn(key, () => by).value(key))).toBe(text);
  });
  it("is worked out again only where something carries ±, and above what is asked for", () => {
    const drawn = calculation.drawn(setKey("e"), () => 1);
    for (const name of ["c", "d", "total", "blend", "list"])
      expect(drawn.value(setKey(name)), name).toBe(calculation.value(setKey(name)));
    for (const name of ["a", "b", "e"])
      expect(drawn.value(setKey(name)), name).not.toBe(calculation.value(setKey(name)));
    expect(drawn.store(cellsKey("t", "f"))).toBe(calculation.store(cellsKey("t", "f")));
    const total = calculation.drawn(setKey("total"), () => 1);
    expect(total.store(cellsKey("t", "f"))).not.toBe(calculation.store(cellsKey("t", "f")));
    expect(shown(total.cell(cellsKey("t", "x"), 0))).toBe("1.5 g");
    expect(shown(total.cell(cellsKey("t", "x"), 1))).toBe("2 g");
    // ± in an entry of a list, and in a part of a record, counts too.
    expect(calculation.drawn(setKey("list"), () => 1).value(setKey("list"))).toMatchObject({
      entries: [{ n: { v: 6 } }, { n: { v: 7 } }],
    });
    const strong = (by: number) => {
      const value = calculation.drawn(setKey("strong"), () => by).value(setKey("strong"));
      return value.type === "quantity" ? value.n.v : Number.NaN;
    };
    expect(strong(1)).toBeGreaterThan(strong(0) + 0.2);
  });
});

describe("what is drawn in a long column", () => {
  it.each([0, 1023, 1024, 2099])("is worked out again where row %d alone carries ±", (row) => {
    const rows = Array.from({ length: 2100 }, (_, i) => `| r${i} | ${i === row ? "5 ± 1" : "1"} |`);
    const text = ["table t", "| n | x (g) |", ...rows, "column f = x * 2", "set q = sum(t.f)"].join("\n");
    const { calculation } = workingsOf(openBook(text));
    expect(shown(calculation.value(setKey("q")))).toBe("4208.0 ± 2.0 g");
    expect(shown(calculation.drawn(setKey("q"), () => 1).value(setKey("q")))).toBe("4210 g");
    expect(shown(calculation.drawn(setKey("q"), () => -2).value(setKey("q")))).toBe("4204 g");
  });
});

describe("a value that is turned", () => {
  const { calculation } = workingsOf(openBook(BOOK));
  const g = (digits: string) => quantity(exact(digits), parseUnit("g"));
  it("is seen by what hangs on it and is wanted, and by nothing else", () => {
    const wanted = new Set([setKey("e")]);
    const trial = calculation.trial(setKey("c"), g("8"), wanted);
    expect(["c", "d", "e"].map((name) => shown(trial.value(setKey(name))))).toEqual([
      "8 g",
      "16 g",
      "26.0 ± 2.0 g",
    ]);
    expect(trial.value(setKey("b"))).toBe(calculation.value(setKey("b")));
    expect(trial.value(setKey("list"))).toBe(calculation.value(setKey("list")));
    expect(shown(calculation.value(setKey("e")))).toBe("24.0 ± 2.0 g");
  });
  it("may be one of several", () => {
    const settings = new Map([
      [setKey("a"), g("1")],
      [setKey("c"), g("2")],
    ]);
    const other = calculation.with(settings, new Set([setKey("e")]));
    expect(["a", "b", "c", "d", "e"].map((name) => shown(other.value(setKey(name))))).toEqual([
      "1 g",
      "2 g",
      "2 g",
      "4 g",
      "6 g",
    ]);
    // A value that is set itself is not worked out again from another one.
    const both = calculation.with(new Map([...settings, [setKey("b"), g("10")]]), new Set([setKey("e")]));
    expect(shown(both.value(setKey("e")))).toBe("14 g");
  });
});

describe("a question that may take only so much work", () => {
  const { calculation, plan } = workingsOf(openBook(BOOK));
  const within = (formula: string, work: number): string => {
    const { code } = compile(parseFormula(formula).formula, { names: plan.names, place: "book", frames: [] });
    return shown(calculation.evaluateWithin(work, code, { pathOf: () => "" }));
  };
  it.each([
    // 40 steps to make each entry of a list, and one for each that a function walks through.
    ["c", 0, "7 g"],
    ["count([1, 2])", 82, "2"],
    ["count([1, 2])", 81, "nothing"],
    ["count(1 to 100)", 4100, "100"],
    ["count(1 to 100)", 4099, "nothing"],
  ])("%s with %d steps is %s", (formula, work, is) => {
    const { counted } = calculation.allowance;
    expect(within(formula, work)).toBe(is);
    expect(calculation.allowance.counted).toEqual(counted);
  });
});

describe("a path to a value", () => {
  const book = openBook(BOOK);
  it.each<[string, string, string?]>([
    // path, value, how the path is written
    ["c", "7 g", "c"],
    ["blend.strength", "46.68 ± 0.33 %vol", "blend.strength"],
    ["list.2", "7 g", "list.2"],
    ["t.one.y", "1 g", "t.one.y"],
    ["t.y.one", "1 g", "t.one.y"],
    // A nameless row is shown with its number, and no path reaches it.
    ["t.y.`row 2`", "nothing"],
    ["t.`row 2`.y", "nothing"],
    ["t.one.g", "2 g", "t.one.g"],
    ["t.foot.x", "10.00 ± 0.51 g", "t.foot.x"],
    ["t.y", "list", "t.y"],
    ["t.g", "list", "t.g"],
    ["t.foot.y", "nothing"],
    ["t.two.y", "nothing"],
    ["t.y.two", "nothing"],
    ["t.one.z", "nothing"],
    ["nobody", "nothing"],
    ["c +", "nothing"],
    ["c + d", "nothing"],
    ["list.3", "nothing"],
  ])("%s is %s", (path, is, written) => {
    expect(shown(book.value(path))).toBe(is);
    expect(book.why(path)?.path).toBe(written);
  });
});
