import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

const book = openBook(`set a = 3 L # litres
set b = a * 2 + 500 mL
set pull = 60 mbar
set warm = boils_at(pull, strength: 40 %vol)
set un = 10 ± 1 g
set two = un * 2 + (5 ± 1 g)
set hot = (20 ± 1 °C) + 5 K
set got = blank
set wait = got * 2
set bad = 1 g + 1 L
set after = bad * a
set s = "Juniper"
set choose = if a > 2 L then s else "x"
set best = find x from 1 to 3 so that x^2 is a / 1 L
table t
| i | x (L) | y       |
| p | 1     | = x * 2 |
| q | 2     |         |
| r | 3     | 4 L     |
column z = x + a
column run = if before.run is blank then x else before.run + x
column share = x / foot.x
column past = book.a + x
foot x = sum(x)
set total = sum(t.x where x > 1 L)
set one = t.q.x * 2
set list = [a, b, 1 L]
set many = [1, 2, 3, 4, 5, 6, 7] * 2
set blend = marry([1 L, 2 L], [40 %vol, 50 %vol])
set part = blend.volume + a
define twice(x) = x * 2
set call = twice(a) + 1 L
check b > a : "more"
step "Pour {b}."
chart "c" : bars t.x by t.i
`);
const why = (path: string) => book.why(path)!;

describe("the working of a value", () => {
  it.each([
    // path, its formula filled in, and what each operation comes to, the innermost first
    ["b", "3 L * 2 + 500 mL", ["3 L * 2 = 6 L", "3 L * 2 + 500 mL = 6.5 L"]],
    ["warm", "boils_at(60 mbar, strength: 40 %vol)", ["boils_at(60 mbar, strength: 40 %vol) = 24.955 °C"]],
    [
      "two",
      "10.0 ± 1.0 g * 2 + (5 ± 1 g)",
      ["10.0 ± 1.0 g * 2 = 20.0 ± 2.0 g", "10.0 ± 1.0 g * 2 + (5 ± 1 g) = 25.0 ± 2.2 g"],
    ],
    [
      "choose",
      'if 3 L > 2 L then "Juniper" else "x"',
      ["3 L > 2 L = true", 'if 3 L > 2 L then "Juniper" else "x" = "Juniper"'],
    ],
    // A search and a choice among entries are not taken apart.
    [
      "best",
      "find x from 1 to 3 so that x^2 is 3 L / 1 L",
      ["find x from 1 to 3 so that x^2 is 3 L / 1 L = 1.7321"],
    ],
    [
      "total",
      "sum([1 L, 2 L, 3 L] where x > 1 L)",
      ["[1 L, 2 L, 3 L] where x > 1 L = [2 L, 3 L]", "sum([1 L, 2 L, 3 L] where x > 1 L) = 5 L"],
    ],
    ["wait", "(not filled in yet) * 2", ["(not filled in yet) * 2 = (not filled in yet)"]],
    ["after", "(fault) * 3 L", ["(fault) * 3 L = (fault)"]],
    ["one", "2 L * 2", ["2 L * 2 = 4 L"]],
    ["list", "[3 L, 6.5 L, 1 L]", ["[3 L, 6.5 L, 1 L] = [3 L, 6.5 L, 1 L]"]],
    // Of a long list the first six entries.
    ["many", "[1, 2, 3, 4, 5, 6, 7] * 2", ["[1, 2, 3, 4, 5, 6, 7] * 2 = [2, 4, 6, 8, 10, 12, … 7 in all]"]],
    ["part", "2.9988 L + 3 L", ["2.9988 L + 3 L = 5.9988 L"]],
    ["call", "twice(3 L) + 1 L", ["twice(3 L) = 6 L", "twice(3 L) + 1 L = 7 L"]],
    // In a row: its own cells, the row before, the foot, the book.
    ["t.p.y", "1 L * 2", ["1 L * 2 = 2 L"]],
    ["t.q.z", "2 L + 3 L", ["2 L + 3 L = 5 L"]],
    [
      "t.q.run",
      "if 1 L is blank then 2 L else 1 L + 2 L",
      ["1 L is blank = false", "1 L + 2 L = 3 L", "if 1 L is blank then 2 L else 1 L + 2 L = 3 L"],
    ],
    ["t.r.share", "3 L / 6 L", ["3 L / 6 L = 0.5"]],
    ["t.q.past", "3 L + 2 L", ["3 L + 2 L = 5 L"]],
    ["t.foot.x", "sum([1 L, 2 L, 3 L])", ["sum([1 L, 2 L, 3 L]) = 6 L"]],
    // A whole column has its formula, but no working of its own.
    ["t.z", "x + a", []],
  ])("%s", (path, filled, working) => {
    expect(why(path).filled).toBe(filled);
    expect(why(path).working.map((w) => `${w.text} = ${w.result}`)).toEqual(working);
  });
  it("of a result tells its parts, and of one part only that", () => {
    expect(why("blend").working[0]!.result).toMatch(
      /^volume: 2\.9988 L, strength: 46\.685 %vol, mass: 2808\.3 g, /,
    );
    expect(why("blend.volume").working[0]!.result).toBe("2.9988 L");
    expect(why("list.2").working[0]!.result).toBe("6.5 L");
  });
  it("stops after 24 steps", () => {
    const long = openBook(`set q = ${Array.from({ length: 30 }, (_, i) => `${i} * 2`).join(" + ")}`).why(
      "q",
    )!;
    expect(long.working).toHaveLength(24);
    expect(long.working[23]).toEqual({ text: "23 * 2", result: "46" });
    expect(long.shown.text).toBe("870");
  });
});

describe("what a value uses, and what uses it", () => {
  it.each([
    ["a", [], ["b", "after", "choose", "best", "list", "part", "call", "t.z", "t.past", "check 1"]],
    ["b", ["a: 3 L typed"], ["list", "check 1", "step 1"]],
    ["after", ["bad: 1 g (a mass) and 1 L (a volume) do not add. computed", "a: 3 L typed"], []],
    ["wait", ["got: got is not filled in yet typed"], []],
    ["best", ["a: 3 L typed"], []],
    ["two", ["un: 10.0 ± 1.0 g typed"], []],
    ["list", ["a: 3 L typed", "b: 6.5 L computed"], []],
    ["part", ["blend.volume: 2.9988 L computed", "a: 3 L typed"], []],
    ["blend", [], ["part"]],
    ["total", ["t.x: 3 entries typed"], []],
    ["one", ["t.q.x: 2 L typed"], []],
    ["t.foot.x", ["t.x: 3 entries typed"], ["t.share"]],
    ["t.p.y", ["t.p.x: 1 L typed"], []],
    ["t.q.z", ["t.q.x: 2 L typed", "a: 3 L typed"], []],
    ["t.z", ["t.x: 3 entries typed", "a: 3 L typed"], []],
    ["t.q.run", ["t.p.run: 1 L computed", "t.q.x: 2 L typed"], []],
    ["t.p.run", ["before.run: there is no row before the first typed", "t.p.x: 1 L typed"], []],
    ["t.q.share", ["t.q.x: 2 L typed", "t.foot.x: 6 L computed"], []],
    ["t.q.past", ["a: 3 L typed", "t.q.x: 2 L typed"], []],
    ["t.x", [], ["total", "one", "t.y", "t.z", "t.run", "t.share", "t.past", "t.foot.x", "chart 1"]],
  ])("%s", (path, uses, usedBy) => {
    expect(why(path).uses.map((u) => `${u.path}: ${u.text || u.message} ${u.origin}`)).toEqual(uses);
    expect(why(path).usedBy).toEqual(usedBy);
  });
  it("is told with its place in the text, and where it comes from", () => {
    for (const [path, origin, text] of [
      ["a", "typed", "3 L"],
      ["b", "computed", "a * 2 + 500 mL"],
      ["best", "found", "find x from 1 to 3 so that x^2 is a / 1 L"],
      ["got", "typed", "blank"],
      ["t.q.x", "typed", "2"],
      ["t.p.y", "computed", "x * 2"],
      ["t.foot.x", "computed", "sum(x)"],
    ] as const) {
      const { from, to, formula, shown } = why(path);
      expect([shown.origin, formula, book.text.slice(from, to)], path).toEqual([origin, text, text]);
    }
  });
  it("names the functions of the vocabulary, with all that is known of them", () => {
    expect(why("warm").functions).toMatchObject([
      { name: "boils_at", says: expect.stringMatching(/first bubble/), cautions: [expect.any(String)] },
    ]);
    for (const key of ["equation", "source", "range"] as const)
      expect(why("warm").functions[0]![key], key).toMatch(/\w/);
    expect(why("call").functions).toEqual([]);
    expect(why("a").functions).toEqual([]);
  });
  it("is nothing for what has no formula of its own", () => {
    for (const path of ["nobody", "t", "t.q", "twice", ""]) expect(book.why(path), path).toBeUndefined();
  });
});

describe("what an uncertainty is made of", () => {
  it("is told by its inputs, the largest first, as a difference", () => {
    const told = (path: string) =>
      why(path).contributions.map((c) => `${c.input} ${c.amount} ${c.share.toFixed(2)}`);
    // 2 × 1 g and 1 g: 4 to 1 in squares.
    expect(told("two")).toEqual(["un 2 g 0.80", "two 1 g 0.20"]);
    expect(told("hot")).toEqual(["hot 1 K 1.00"]);
    expect(told("a")).toEqual([]);
    expect(told("s")).toEqual([]);
  });
  it("is nothing where the parts cancel", () => {
    expect(openBook("set u = 1 ± 1 g\nset q = u - u").why("q")!.contributions).toEqual([]);
  });
});

describe("several uncertainties in one formula", () => {
  const measured = openBook(
    [
      "set q = (1 ± 1 g) + (2 ± 2 g) + (3 ± 3 g)",
      "set b = 5 ± 1 g",
      "set a = 5 ± 1 g",
      "set both = b + a",
      "table t",
      "| i | x (g) | a b (g) |",
      "| p | 1 | 1 |",
      "| q | 2 | 3 ± 1 |",
      "column two = (x ± 1 g) * (2 ± 1)",
      "foot x = sum(x) + 0 * x.p",
      "column far = `a b` + t.p.x + book.b + foot.x",
    ].join("\n"),
  );
  const made = (path: string) => measured.why(path)!.contributions.map((c) => `${c.input} ${c.amount}`);
  it("are told apart by their count, in each row by its path, and in the order of their names where they are alike", () => {
    expect(made("q")).toEqual(["q (3) 3 g", "q (2) 2 g", "q 1 g"]);
    expect(made("t.p.two")).toEqual(["t.p.two 2 g", "t.p.two (2) 1 g"]);
    expect(made("t.q.two")).toEqual(["t.q.two 2 g", "t.q.two (2) 2 g"]);
    expect(made("both")).toEqual(["a 1 g", "b 1 g"]);
  });
  it("stand beside what the formula uses, each by its path and its last word", () => {
    const uses = (path: string) => measured.why(path)!.uses.map((u) => `${u.path} | ${u.label} | ${u.text}`);
    expect(uses("t.q.far")).toEqual([
      "t.q.`a b` | a b | 3.0 ± 1.0 g",
      "t.p.x | x | 1 g",
      "b | b | 5.0 ± 1.0 g",
      "t.foot.x | x | 3 g",
    ]);
    expect(uses("t.far")).toEqual([
      "t.`a b` | a b | 2 entries",
      "t.p.x | x | 1 g",
      "b | b | 5.0 ± 1.0 g",
      "t.foot.x | x | 3 g",
    ]);
    expect(uses("t.foot.x")).toEqual(["t.x | x | 2 entries", "t.x.p | p | 1 g"]);
  });
  it("stand beside the row before, which is a column where a whole column is asked for", () => {
    const book = openBook(
      "table t\n| i | x (g) |\n| p | 1 |\n| q | 2 |\ncolumn run = (if before.run is blank then 0 g else before.run) + before.x\n",
    );
    const uses = (path: string) => book.why(path)!.uses.map((u) => `${u.path}: ${u.message ?? u.text}`);
    expect(uses("t.run")).toEqual(["before.run: 2 entries", "before.x: 2 entries"]);
    expect(uses("t.q.run")).toEqual(["t.p.run: there is no row before the first", "t.p.x: 1 g"]);
  });
  it("stand beside every name of a formula, however it is built", () => {
    const parts = openBook(
      ["set a = 1", "set b = 2", "set c = true", "define f(x) = x", "table t", "| i | x |", "| r | 1 |"].join(
        "\n",
      ),
    );
    const names = (formula: string) =>
      openBook(`${parts.text}\nset q = ${formula}`)
        .why("q")!
        .uses.map((u) => u.path);
    for (const [formula, uses] of [
      ['"{a} and {b + 1}"', ["a", "b"]],
      ["[a, b, a]", ["a", "b"]],
      ["f(a) + f(x: b)", ["a", "b"]],
      ["-a + not_there", ["a", "not_there"]],
      ["not c", ["c"]],
      ["(a in mL)", ["a"]],
      ["a ± b", ["a", "b"]],
      ["a < b and c or a is b", ["a", "b", "c"]],
      ["a within b to t.r.x", ["a", "b", "t.r.x"]],
      ["a to b step t.r.x", ["a", "b", "t.r.x"]],
      ["a to b", ["a", "b"]],
      ["if c then a else b", ["c", "a", "b"]],
      ["find z from a to b so that z * z is t.r.x", ["a", "b", "t.r.x"]],
      ["t.x where x > a", ["t.x"]],
      ["(if c then t else t).r.x", ["c", "t"]],
      ["2 * (a - (b - a))", ["a", "b"]],
    ] as const)
      expect([formula, names(formula)]).toEqual([formula, uses]);
  });
  it("stand beside a list by its entries, the first six of a longer one", () => {
    const filled = (formula: string) => openBook(`set l = ${formula}\nset q = sum(l)`).why("q")!.filled;
    expect(filled("1 to 5")).toBe("sum([1, 2, 3, 4, 5])");
    expect(filled("1 to 6")).toBe("sum([1, 2, 3, 4, 5, 6])");
    expect(filled("1 to 7")).toBe("sum([1, 2, 3, 4, 5, 6, … 7 in all])");
    expect(filled('["a", "b"]')).toBe('sum(["a", "b"])');
  });
  it("are told of a value whose formula is at fault, in its own words", () => {
    const faulty = openBook("table t\n| i | x (g) |\n| p | 1 |\ncolumn f = nobody + x\n");
    const { uses, working, filled } = faulty.why("t.p.f")!;
    expect(uses.map((u) => [u.path, u.state, u.text])).toEqual([
      ["nobody", "fault", ""],
      ["t.p.x", "ok", "1 g"],
    ]);
    expect([filled, working]).toEqual(["(fault) + 1 g", [{ text: "(fault) + 1 g", result: "(fault)" }]]);
    const whole = faulty.why("t.f")!;
    expect(whole.uses.map((u) => [u.path, u.state, u.message ?? u.text])).toEqual([
      ["nobody", "fault", "Nothing here is called `nobody`."],
      ["t.x", "ok", "1 entry"],
    ]);
    expect([whole.filled, whole.working]).toEqual(["nobody + x", []]);
  });
});
