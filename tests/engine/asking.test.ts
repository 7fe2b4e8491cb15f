import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

const book = openBook(`set a = 3 L
set long_name = 1 g + 1 L + 2 mL
set got = blank
set k = 3 Kg
set un = 10 ± 1 g
table t
| i | x (L) |
| p | 1     |
| q |       |
foot x = sum(x)
set blend = marry([1 L, 2 L], [40 %vol, 50 %vol])
define plus(x, y) = x + 1 g
define three(n) = 3
`);

describe("a question", () => {
  it.each([
    // formula, value, unit, text
    ["a * 2", 6, "L", "6 L"],
    ['"x"', "x", "", "x"],
    ["true", true, "", "true"],
    ["a < 1 L", false, "", "false"],
    ["2026-03-01", "2026-03-01", "", "2026-03-01"],
    ["blend", null, "", "a result with parts"],
    ["[1, 2]", null, "", "2 entries"],
    ["[]", null, "", "0 entries"],
    ["un", 10, "g", "10.0 ± 1.0 g"],
  ])("%s", (formula, value, unit, text) => {
    expect(book.ask(formula)).toMatchObject({ formula, value, unit, text, state: "ok", message: null });
    expect(book.ask(formula)).not.toHaveProperty("span");
    expect(book.ask(formula)).not.toHaveProperty("help");
    expect(book.ask(formula)).not.toHaveProperty("fixes");
  });
  it("of a value with parts is answered with each of them by its name", () => {
    const parts = (formula: string) =>
      book.ask(formula).parts?.map((p) => `${p.name}: ${p.message ?? p.text}`);
    expect(parts("[1, 2]")).toEqual(["1: 1", "2: 2"]);
    expect(parts("t.x")).toEqual(["p: 1 L", "q: needs t.q.x"]);
    expect(parts("blend")?.slice(0, 2)).toEqual(["volume: 2.9988 L", "strength: 46.685 %vol"]);
    expect(parts("t")).toEqual(["i.p: p", "i.q: q", "x.p: 1 L", "x.q: needs t.q.x"]);
    expect(parts("[]")).toBeUndefined();
    expect(parts("a")).toBeUndefined();
  });
  it("carries the uncertainty, the notes and the cautions of what it uses", () => {
    expect(book.ask("un * 2").uncertainty).toBe(2);
    expect(book.ask("a").uncertainty).toBeNull();
    expect(book.ask("sum(t.x)").notes).toEqual(["1 of 2 is blank"]);
    expect(book.ask("boils_at(60 mbar)").cautions).toEqual([
      "Glass under vacuum can implode: inspect it, shield it, fill it at most half.",
    ]);
    expect(book.ask("a")).not.toHaveProperty("cautions");
  });
  it.each([
    // what cannot be answered, why, and the words that are at fault
    ["a +", "Behind `+` a value is expected, but nothing follows.", ""],
    ["2,5 L", "`2,5`: is this `2.5`, or `2, 5`?", "2,5"],
    ["(a", "The `(` is not closed.", "("],
    ["1 + (2 L + 1 g)", "2 L (a volume) and 1 g (a mass) do not add.", "(2 L + 1 g)"],
    ["a / 0", "3 L is divided by 0.", "a / 0"],
    ["nobody", "Nothing here is called `nobody`.", "nobody"],
    ["1 + plus(1 L, 2)", "1 L (a volume) and 1 g (a mass) do not add.", "plus(1 L, 2)"],
    ["3 Kg + 1 g", "Kg is no unit; capitals count.", "Kg"],
    ["boils_at(60 mbar, strenght: 3 %vol)", "`boils_at` has no argument called `strenght`.", "strenght"],
    ['stays_liquid_to("glue", 30 %)', "`stays_liquid_to` knows no `glycol` called “glue”.", '"glue"'],
    [
      "stays_liquid_to(3, 30 %)",
      "`stays_liquid_to` wants a text for `glycol`, and is given a plain number.",
      "3",
    ],
  ])("%s is no question: %s", (formula, message, at) => {
    const { state, span, ...asked } = book.ask(formula);
    expect([state, asked.message, formula.slice(span!.from, span!.to)]).toEqual(["fault", message, at]);
    expect([asked.value, asked.text, asked.unit, asked.uncertainty, asked.notes]).toEqual([
      null,
      "",
      "",
      null,
      [],
    ]);
  });
  it("comes with what to do, and a rewrite that is certain or a guess", () => {
    expect(book.ask("3 Kg")).toMatchObject({
      help: "Write `3 kg` (kilogram).",
      fixes: [{ says: "Write kg", certain: true, edits: [{ span: { from: 2, to: 4 }, text: "kg" }] }],
    });
    expect(book.ask("boils_at(60 mbar, strenght: 3 %vol)").fixes).toMatchObject([
      { says: "Write strength", certain: false, edits: [{ span: { from: 18, to: 26 }, text: "strength" }] },
    ]);
    expect(book.ask("2,5 L").fixes!.map((f) => f.says)).toEqual(["Write 2.5", "Write 2, 5"]);
    expect(book.ask('stays_liquid_to("glue", 30 %)').help).toBe('Choose "ethylene" or "propylene".');
    expect(book.ask("a +")).not.toHaveProperty("fixes");
  });
  it("about a fault or a gap of the book names it, and puts nothing of it into the question", () => {
    const elsewhere = book.ask("long_name * 2");
    expect(elsewhere.message).toBe("needs long_name, where: 1 g (a mass) and 1 L (a volume) do not add.");
    expect(book.ask("k").message).toBe("needs k, where: Kg is no unit; capitals count.");
    for (const asked of [elsewhere, book.ask("k")]) {
      expect(asked).not.toHaveProperty("span");
      expect(asked).not.toHaveProperty("help");
      expect(asked).not.toHaveProperty("fixes");
    }
    expect(book.ask("got * 2")).toMatchObject({ state: "gap", message: "needs got", value: null });
  });
});

describe("a curve that is asked for", () => {
  const a = book.value("a")!;
  const value = (formula: string) => book.ask(formula).raw;
  const points = (formula: string, from = a, to = value("4000 mL"), count = 3) =>
    book
      .curve(formula, "x", from, to, count)
      .map(({ x, y }) => [x, y].map((v) => (v.type === "quantity" ? `${v.n.v} ${v.unit.text}` : v.type)));
  it("runs evenly from end to end, in the unit of the first", () => {
    expect(points("x * 2")).toEqual([
      ["3 L", "6 L"],
      ["3.5 L", "7 L"],
      ["4 L", "8 L"],
    ]);
  });
  it("is a fault where the formula is one, and has no point where it cannot be drawn", () => {
    expect(points("x + 1 g")).toEqual([
      ["3 L", "fault"],
      ["3.5 L", "fault"],
      ["4 L", "fault"],
    ]);
    expect(points("x *")).toEqual([]);
    expect(points("x", a, value("4 g"))).toEqual([]);
    expect(points("x", a, value("got"))).toEqual([]);
    expect(points("x", value("true"), a)).toEqual([]);
  });
});

describe("the mark of a formula", () => {
  it("is that of the tokens alone, with the parameters of a definition", () => {
    expect(book.markOf("a")).toBe(openBook("set b =   3   L # litres\n").markOf("b"));
    expect(book.markOf("a")).not.toBe(openBook("set b = 4 L\n").markOf("b"));
    const plus = openBook("define more(x,y)=x+1 g\ndefine less(y, x) = x + 1 g\n");
    expect(plus.markOf("more")).toBe(book.markOf("plus"));
    expect(plus.markOf("less")).not.toBe(book.markOf("plus"));
    // The example of the language's specification.
    expect(
      openBook(
        "table t\n| i | volume (L) | strength (%vol) |\n| r | 1 | 40 |\ncolumn p = pure_volume(volume, strength)\n",
      ).markOf("t.p"),
    ).toBe("@2ffcfed6");
  });
  it("is there for what has a formula or was typed, and for nothing else", () => {
    for (const path of ["a", "t.x", "t.p.x", "t.foot.x", "plus", "three", "blend.volume"])
      expect(book.markOf(path), path).toMatch(/^@[0-9a-f]{8}$/);
    for (const path of ["nobody", "t.nobody", "t.foot.i", "nobody.x"])
      expect(book.markOf(path), path).toBeUndefined();
  });
  it("of a value counts before that of a function of the same name", () => {
    const both = openBook("define f(x) = x\nset f = 3 L\n");
    expect(both.markOf("f")).toBe(book.markOf("a"));
  });
});

describe("what a book counts", () => {
  const tally = (text: string) => openBook(text).tally;
  const nothing = { faults: 0, gaps: 0, unmet: 0, unknown: 0 };
  it.each([
    ["", nothing],
    ["set a = 3 L", nothing],
    ["set a = blank\nset b = a * 2", { ...nothing, gaps: 1 }],
    ["set a = 1 g + 1 L\nset b = a * 2", { ...nothing, faults: 1 }],
    // The first column only names the rows, and a column of texts may be left empty.
    ["table t\n| i | x (L) | n (text) | m |\n| | | | |\n| q | | | |", { ...nothing, gaps: 4 }],
    ["check 1 > 2", { ...nothing, unmet: 1 }],
    ["set a = blank\ncheck a > 2", { ...nothing, gaps: 1, unknown: 1 }],
    ["check 1 < 2", nothing],
    ["sugar, two cups", { ...nothing, faults: 1 }],
  ])("%j", (text, wanted) => expect(tally(text)).toEqual(wanted));
});

describe("the cautions of a book", () => {
  const ethanol = /^Ethanol vapour ignites/;
  const rows = "table t\n| i | p (mbar) | s (%vol) |\n| a | 60 | 40 |\n";
  it.each([
    // What a function says about this strength alone is carried by the value, wherever it stands.
    ["a value", "set a = boils_at(60 mbar, strength: 40 %vol)"],
    ["an entry of a list", "set a = [boils_at(60 mbar, strength: 40 %vol), 3 °C]"],
    ["a computed column", `${rows}column b = boils_at(p, strength: s)`],
    ["a foot", `${rows}foot p = boils_at(p.a, strength: 40 %vol)`],
    ["a check", "check boils_at(60 mbar, strength: 40 %vol) > 3 °C"],
  ])("has that of %s", (_, text) => {
    expect(openBook(text).cautions.some((c) => ethanol.test(c))).toBe(true);
  });
  it("has each once, and none of what is not called", () => {
    const text = "set a = boils_at(60 mbar, strength: 40 %vol)\nset b = boils_at(50 mbar, strength: 40 %vol)";
    const { cautions } = openBook(text);
    expect(cautions.length).toBe(new Set(cautions).size);
    expect(openBook("set a = boils_at(60 mbar)").cautions.some((c) => ethanol.test(c))).toBe(false);
    expect(openBook("set a = 1\nset b = 100 + 10 %").cautions).toEqual([]);
  });
});

describe("an uncertainty that is asked for", () => {
  it("is called by the question, counted on", () => {
    const { raw } = openBook("").ask("(5 ± 1 g) + (6 ± 2 g)");
    expect(raw.type === "quantity" && [...raw.spread!.keys()]).toEqual(["this formula", "this formula (2)"]);
  });
});

describe("a text that is put together", () => {
  const long = openBook(`set s = "${"x".repeat(10_000)}"\nset a = 3 L\nset bad = 1 / 0`);
  it("may have 20,000 characters", () => {
    expect(long.ask('"{s}{s}"')).toMatchObject({ state: "ok", text: "x".repeat(20_000) });
    expect(long.ask('"{s}{s}!"')).toMatchObject({
      state: "fault",
      message: "This text comes to 20001 characters; 20,000 is the most.",
    });
  });
  it.each([
    ['"{a} in all"', "3 L in all"],
    ['"{a in mL}{a}"', "3000 mL3 L"],
    ['"{[1, 2]} and {true}, {2026-02-03}"', "1, 2 and true, 2026-02-03"],
    ['"{[1, blank]}"', "1, not filled in yet"],
    ['"{[1, 1 / 0]}"', "1, fault"],
    ['"{"{a}"}"', "3 L"],
  ])("%s reads %s", (formula, text) => expect(long.ask(formula)).toMatchObject({ state: "ok", text }));
  it("is held up by what stands in it", () => {
    expect(long.ask('"{blank} {bad}"')).toMatchObject({
      state: "fault",
      message: "needs bad, where: 1 is divided by 0.",
    });
    expect(long.ask('"{blank}!"').state).toBe("gap");
    expect(long.ask('"{marry([1 L], [40 %vol])}"').message).toMatch(/^A result with parts has no value/);
  });
});

describe("what holds a value up", () => {
  const held = openBook(`set a = 3 L
set got = blank in g
set bad = 1 L + 1 g
set w = 100 + 10 %
set l = [w, 2]
set late = got * 2
set worse = bad * 2
table t
| i | x (g) |
| p | 1 |
| q | |
foot x = sum(x)
set tot = sum(t.x) * 2
`);
  const WRONG = "needs bad, where: 1 L (a volume) and 1 g (a mass) do not add.";
  const REMARK = "10 % counts as 0.1: 100 + 10 % is 100.1. For 10 % more write `100 * (1 + 10 %)`.";
  it.each([
    // The first cause is told, whatever stands between.
    ["got", "gap", "needs got"],
    ["late", "gap", "needs got"],
    ["late + 1 g", "gap", "needs got"],
    ["t.q.x", "gap", "needs t.q.x"],
    ["bad", "fault", WRONG],
    ["worse", "fault", WRONG],
    ["worse + 1", "fault", WRONG],
    // A list is a fault with one in it, and a gap when it is nothing else.
    ["[bad, 1]", "fault", WRONG],
    ["[got, bad]", "fault", WRONG],
    ["[got, got]", "gap", "needs got"],
    ["[got, 1 g]", "ok", null],
    ["[1 g, got]", "ok", null],
    ["[]", "ok", null],
    ["t.q", "ok", null],
  ])("%s: %s, %s", (formula, state, message) => {
    expect(held.ask(formula)).toMatchObject({ state, message });
    if (state !== "ok") expect(held.ask(formula)).toMatchObject({ value: null, uncertainty: null });
  });
  it("is told with each part, and a remark with the parts that have it", () => {
    const parts = (formula: string) =>
      held.ask(formula).parts!.map((p) => [p.name, p.state, p.text, p.message, p.notes]);
    expect(parts("[bad, a]")).toEqual([
      ["1", "fault", "", WRONG, []],
      ["2", "ok", "3 L", null, []],
    ]);
    expect(parts("l")).toEqual([
      ["1", "ok", "100.1", null, [REMARK]],
      ["2", "ok", "2", null, []],
    ]);
    expect(parts("t.q")).toEqual([
      ["i", "ok", "q", null, []],
      ["x", "gap", "", "needs t.q.x", []],
    ]);
    // What a selection says of itself is said of each that it leaves.
    expect(parts("t.x where x > 0 g")).toEqual([
      ["p", "ok", "1 g", null, ["1 row left out, its condition is not known"]],
    ]);
    expect(held.ask("tot").notes).toEqual(["1 of 2 is blank"]);
  });
  it("is told where it stands without a detour", () => {
    const said = Object.fromEntries(held.answers().map((a) => [a.name, a.message]));
    expect(said).toMatchObject({
      got: "got is not filled in yet",
      late: "needs got",
      bad: "1 L (a volume) and 1 g (a mass) do not add.",
      worse: WRONG,
      "t.q.x": "t.q.x is not filled in yet",
      "t.foot.x": null,
    });
  });
});
