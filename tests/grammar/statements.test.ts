import { describe, expect, it } from "vitest";
import { parseBook, type StatementNode, type SyntaxMessage } from "../../grammar";
import { fixed, marked, shape } from "./notation";

/** The only statement of a text. */
function statement(source: string): StatementNode {
  const { statements } = parseBook(source);
  expect(statements).toHaveLength(1);
  expect(statements[0]!.messages.filter(({ severity }) => severity === "fault")).toEqual([]);
  return statements[0]!.node;
}

describe("each statement", () => {
  it("book, about and part hold plain text, escapes resolved", () => {
    expect(statement('book "Harbour \\"gin\\" \\{1\\}"')).toMatchObject({
      type: "book",
      text: 'Harbour "gin" {1}',
    });
    expect(statement('about "x"')).toMatchObject({ type: "about", text: "x", textSpan: { from: 6, to: 9 } });
    expect(statement('part "Stills"')).toMatchObject({ type: "part", text: "Stills" });
  });
  it("language states a version", () => {
    expect(statement("language 1")).toEqual({ type: "language", version: 1 });
  });
  it("set names a formula", () => {
    const node = statement("set `my jar` = 2.4 L");
    expect(node).toMatchObject({ type: "set", name: "my jar", nameSpan: { from: 4, to: 12 } });
    expect(node.type === "set" && shape(node.formula)).toBe("2.4_L");
    expect(node).not.toHaveProperty("trial");
  });
  it("set may try a range or choices", () => {
    const range = statement("set a = 500 mL try 100 mL to 700 mL step 50 mL");
    expect(
      range.type === "set" &&
        [range.trial?.from, range.trial?.to, range.trial?.step].map((f) => f && shape(f)),
    ).toEqual(["100_mL", "700_mL", "50_mL"]);
    const choices = statement('set a = "sucrose" try ["sucrose", "glucose"]');
    expect(choices.type === "set" && shape(choices.trial!.from)).toBe('["sucrose" "glucose"]');
  });
  it("the words of statements are free as names", () => {
    for (const name of [
      "table",
      "set",
      "check",
      "chart",
      "step".replace("step", "seen"),
      "part",
      "try",
      "by",
    ])
      expect(statement(`set ${name} = ${name} + 1`)).toMatchObject({ type: "set", name });
  });
  it("define names parameters and a formula", () => {
    const node = statement("define loss(a, `b c`) = a - `b c`");
    expect(node).toMatchObject({
      type: "define",
      name: "loss",
      parameters: [{ name: "a" }, { name: "b c" }],
    });
    expect(node.type === "define" && shape(node.formula)).toBe("(- a <b c>)");
  });
  it("table names a table and perhaps titles it", () => {
    expect(parseBook('table t "My table"\n| a |').tables[0]).toMatchObject({ name: "t", title: "My table" });
    expect(parseBook("table t\n| a |").tables[0]).not.toHaveProperty("title");
  });
  it("check holds a formula and perhaps a text, and the colon of a call is no colon of the check", () => {
    const node = statement('check f(a, to: 3) > 2 : "enough"');
    expect(node).toMatchObject({ type: "check", text: "enough" });
    expect(node.type === "check" && shape(node.formula)).toBe("(> (f() a to:3) 2)");
    expect(statement("check a")).not.toHaveProperty("text");
  });
  it("chart draws bars, lines and dots by something", () => {
    for (const style of ["bars", "line", "dots"]) {
      const node = statement(`chart "T" : ${style} t.a, t.b by t.item`);
      expect(node).toMatchObject({ type: "chart", title: "T", style });
      expect(node.type === "chart" && node.style !== "curve" && [...node.what, node.by].map(shape)).toEqual([
        "(. t a)",
        "(. t b)",
        "(. t item)",
      ]);
    }
  });
  it("chart draws a curve over a variable, with a mark if wanted", () => {
    const source = 'chart "T" : curve f(x), g(x) for x from 1 mbar to 2 mbar mark pull';
    const node = statement(source);
    expect(node).toMatchObject({ type: "chart", style: "curve", variable: "x" });
    if (node.type !== "chart" || node.style !== "curve") throw new Error("no curve");
    expect([...node.what, node.from, node.to, node.mark!].map(shape)).toEqual([
      "(f() x)",
      "(g() x)",
      "1_mbar",
      "2_mbar",
      "pull",
    ]);
    expect(source.slice(node.variableSpan.from, node.variableSpan.to)).toBe("x");
  });
  it("the styles of charts are free as names", () => {
    expect(statement('chart "T" : bars bars, dots by line')).toMatchObject({
      what: [{ name: "bars" }, { name: "dots" }],
    });
  });
  it("step holds a sentence with formulas, waits and asks", () => {
    const source =
      'step "Stir in {water.add in mL} now." wait 40 min ask runs.got in mL expect 400 mL ± 10 mL ask x';
    const node = statement(source);
    if (node.type !== "step") throw new Error("no step");
    expect(shape(node.text)).toBe('"Stir in {(in (. water add) mL)} now."');
    expect(shape(node.wait!)).toBe("40_min");
    expect(
      node.asks.map(({ path, unit, expect: plan }) => [shape(path), unit?.text, plan && shape(plan)]),
    ).toEqual([
      ["(. runs got)", "mL", "(± 400_mL 10_mL)"],
      ["x", undefined, undefined],
    ]);
    expect(node.asks.map(({ span }) => source.slice(span.from, span.to))).toEqual([
      "ask runs.got in mL expect 400 mL ± 10 mL",
      "ask x",
    ]);
  });
  it("seen ticks a path with a mark", () => {
    const node = statement('seen t.foot.cost @2FFCFED6 "checked"');
    expect(node).toMatchObject({ type: "seen", mark: "@2ffcfed6", text: "checked" });
    expect(node.type === "seen" && shape(node.path)).toBe("(. (. t foot) cost)");
  });
});

describe("what a broken statement would have defined", () => {
  const unread = (source: string): unknown => {
    const { node } = parseBook(source).statements[0]!;
    return node.type === "unread" ? [node.keyword, node.name, node.defines] : node.type;
  };
  it("is told as far as it can be read", () => {
    expect(unread("set a = (1 +")).toEqual(["set", "a", "set"]);
    expect(unread("set `a b` 3")).toEqual(["set", "a b", "set"]);
    expect(unread("set cafe\u0301 = ")).toEqual(["set", "caf\u00e9", "set"]);
    expect(unread("set lemon peel = 3")).toEqual(["set", "lemon peel", "set"]);
    expect(unread("define f(a = 3")).toEqual(["define", "f", "define"]);
    expect(unread('table t "x')).toEqual(["table", "t", "table"]);
    expect(unread("column c = ")).toEqual(["column", "c", "column"]);
    expect(unread("foot c")).toEqual(["foot", "c", "foot"]);
    expect(unread("set = 3")).toEqual(["set", undefined, undefined]);
    expect(unread("check 3 +")).toEqual(["check", undefined, undefined]);
    expect(unread("hello world")).toEqual([undefined, undefined, undefined]);
  });
  it("is told of statements whose first word is mistaken, too", () => {
    expect(unread("Set a = 3")).toEqual(["set", "a", "set"]);
    expect(unread("sett a = 3")).toEqual(["set", "a", "set"]);
    expect(unread("a = 3")).toEqual(["set", "a", "set"]);
    expect(unread("`a b` = 3")).toEqual(["set", "a b", "set"]);
  });
  it("leaves a formula in braces unread in its place, and the sentence around it whole", () => {
    const node = parseBook('step "add {a b} of {c}"').statements[0]!.node;
    expect(node.type === "step" && shape(node.text)).toBe('"add {?} of {c}"');
  });
});

type Case = readonly [source: string, marks: string, says: string, fixes?: readonly string[]];
const CASES: readonly Case[] = [
  ["set", "statement-shape ^", "Behind `set` a name is expected, but nothing follows."],
  ["set a 3", "statement-shape 3", "Behind `a` `=` is expected, but `3` stands here."],
  ["set to = 3", "name-reserved to", "`to` is a word of the language.", ["set `to` = 3"]],
  [
    "set lemon peel = 3",
    "name-spaced lemon peel",
    "`lemon peel` is no single word.",
    ["set `lemon peel` = 3", "set lemon_peel = 3"],
  ],
  [
    "set lemon-peel = 3",
    "name-spaced lemon-peel",
    "`lemon-peel` is no single word.",
    ["set `lemon-peel` = 3", "set lemon_peel = 3"],
  ],
  ["set book = 3", "name-fixed book", "`book` cannot name a set."],
  [
    "set a = b try 1 to 2",
    "try-computed b",
    "`try` needs a plain quantity or text to move, and this is computed.",
  ],
  ["Set a = 3", "statement-capital Set", "`Set` begins with a capital.", ["set a = 3"]],
  ["sett a = 3", "statement-unknown sett", "`sett` begins no statement; `set` is near.", ["set a = 3"]],
  ["a = 3", "statement-set a", "`a` is given a value without `set`.", ["set a = 3", "column a = 3"]],
  ["hello", "statement-unknown hello", "`hello` begins no statement.", ["# hello"]],
  ["- 3", "statement-unknown -", "A statement begins with a word, and `-` is none.", ["# - 3"]],
  ["define f() = 3", "statement-shape )", "Behind `(` a parameter's name is expected, but `)` stands here."],
  ["define f(a, a) = 3", "parameter-twice a", "Two parameters are named `a`."],
  ["define f(to) = 3", "name-reserved to", "`to` is a word of the language.", ["define f(`to`) = 3"]],
  [
    "book Harbour",
    "statement-shape Harbour",
    "Behind `book` a text in quotes is expected, but `Harbour` stands here.",
  ],
  ["book “Harbour”", "quote-curly “Harbour”", "`“Harbour”` stands in curly quotes.", ['book "Harbour"']],
  [
    'book "a {b + } c"',
    "title-brace {",
    "This text is plain, and its `{` would open a formula.",
    ['book "a \\{b + \\} c"'],
  ],
  ['about "a" b', "statement-ended b", 'Behind `"a"` the statement is whole, and `b` has no place.'],
  [
    "language 2",
    "language-newer language 2",
    "This book is written in version 2 of the language, and version 1 is known here.",
  ],
  ["language 0", "language-unknown language 0", "There is no such version of the language.", ["language 1"]],
  ['check a "x"', 'colon-missing "x"', 'A `:` is missing before `"x"`.', ['check a : "x"']],
  ['check : "x"', "value-missing :", "Behind `check` a value is expected, but `:` stands here."],
  [
    'chart "x" bars a by b',
    "statement-shape bars",
    'Behind `"x"` `:` is expected, but `bars` stands here.',
    ['chart "x" : bars a by b'],
  ],
  [
    'chart "x" : pie a by b',
    "statement-shape pie",
    "Behind `:` `bars`, `line`, `dots` or `curve` is expected, but `pie` stands here.",
  ],
  ['chart "x" : bars a for b', "statement-shape for", "Behind `a` `by` is expected, but `for` stands here."],
  ['chart "x" : curve a by b', "statement-shape by", "Behind `a` `for` is expected, but `by` stands here."],
  ['step "x" expect 3', "clause-misplaced expect", "`expect` stands only behind `ask` in a `step`."],
  ['step "x" ask f(a)', "path-expected f(a)", "`ask` names a value or a column, and this is something else."],
  [
    'step "a" now',
    "statement-ended now",
    "Behind the text of a step stand only `wait` and `ask`, not `now`.",
  ],
  [
    "seen f(a) @00000000",
    "path-expected f(a)",
    "`seen` names a value, a column, a cell or a definition, and this is something else.",
  ],
  ["seen a @123", "mark-form @123", "This is no mark."],
  ["seen a", "statement-shape ^", "Behind `a` a mark such as `@2ffcfed6` is expected, but nothing follows."],
  ["column a = 3", "column-homeless column a = 3", "This `column` belongs to no table.", ["set a = 3"]],
  ["| a |", "row-homeless | a |", "This row belongs to no table.", ["table table_1\n| a |"]],
  ["table t", "heading-missing t", "The table `t` has no heading."],
];

describe("faults of statements", () => {
  for (const [source, marks, says, fixes = []] of CASES)
    it(`${JSON.stringify(source)} is told`, () => {
      const messages = parseBook(source).statements.flatMap((one): readonly SyntaxMessage[] => one.messages);
      expect(messages.map((message) => marked(source, message))).toEqual([marks]);
      expect(messages[0]!.says).toBe(says);
      expect(fixed(source, messages[0]!)).toEqual(fixes);
    });
});
