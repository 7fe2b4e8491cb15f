import { describe, expect, it } from "vitest";
import { type Formula, parseFormula } from "../../grammar";
import { reads } from "./notation";

describe("numbers, units and dates", () => {
  it("reads a number with and without a unit", () => {
    reads("2.4 L", "2.4_L");
    reads("2.4L", "2.4_L");
    reads("42", "42");
    reads("18 %", "18_%");
    reads("42 %vol", "42_%vol");
    reads("42 % vol", "42_% vol");
    reads("3 ‰", "3_‰");
    reads("25 °C", "25_°C");
    reads("25 ºC", "25_ºC");
    reads("2 us_gal", "2_us_gal");
  });
  it("takes the typographic blanks for blanks", () => {
    reads("2.4\u00A0L + 1\u202Fg - 1\u2009g - 1\u2007g", "(- (- (+ 2.4_L 1_g) 1_g) 1_g)");
  });
  it("joins unit words without blanks, each with its exponent", () => {
    reads("11.20 GBP/L", "11.20_GBP/L");
    reads("4.2 kJ/kg/K", "4.2_kJ/kg/K");
    reads("2 m^3", "2_m^3");
    reads("2 m³", "2_m³");
    reads("3 s^-1", "3_s^-1");
    reads("3 W*h", "3_W*h");
    reads("3 W·h", "3_W·h");
  });
  it("lets the unit win directly behind a digit, and divides with blanks", () => {
    reads("2 L/jars", "2_L/jars");
    reads("2 L / jars", "(/ 2_L jars)");
    reads("2 L/4", "(/ 2_L 4)");
    reads("1 / 2 L", "(/ 1 2_L)");
    reads("1/2", "(/ 1 2)");
  });
  it("leaves the letters of units free as names", () => {
    reads("L * h", "(* L h)");
    reads("g + 1 g", "(+ g 1_g)");
  });
  it("never takes a reserved or clause word for a unit", () => {
    reads("1 to 3", "(to 1 3)");
    reads("300 in K", "(in 300 K)");
    reads("a is 3 and b", "(and (is a 3) b)");
  });
  it("reads exponents and writes them out", () => {
    reads("1e-3 g", "0.001_g");
    reads("1.5e3", "1500");
    reads("2E+2 mL", "200_mL");
    reads("1.38e-23", "0.0000000000000000000000138");
    reads("2 e", "2_e");
  });
  it("folds a sign into a lone reading, and into nothing else", () => {
    reads("-10 °C", "-10_°C");
    reads("+5 g", "5_g");
    reads("- -10", "10");
    reads("-10 ± 2 °C", "(± -10 2_°C)");
    reads("30 °C - -10 °C", "(- 30_°C -10_°C)");
    reads("-(10)", "(- 10)");
    reads("-x", "(- x)");
    reads("+x", "x");
    reads("-2^2", "(- (^ 2 2))");
    reads("-x ± 2", "(- (± x 2))");
    reads("-(10 ± 2)", "(- (± 10 2))");
  });
  it("reads a date, never a subtraction", () => {
    reads("2026-02-03", "2026-02-03");
    reads("2026-02-24 - 2026-02-03", "(- 2026-02-24 2026-02-03)");
    reads("2026 - 02", "(- 2026 02)");
    reads("2024-02-29", "2024-02-29");
  });
});

describe("names, parts and calls", () => {
  it("reads names of any script, and anything in backticks", () => {
    reads("žitná", "žitná");
    reads("水", "水");
    reads("_x1", "_x1");
    reads("`bay leaf`", "<bay leaf>");
    reads("`to`", "to");
    reads("`2 & 3`", "<2 & 3>");
  });
  it("compares names in normal form C", () => {
    expect(parseFormula("cafe\u0301").formula).toMatchObject({ name: "caf\u00e9" });
    expect(parseFormula("`cafe\u0301 x`").formula).toMatchObject({ name: "caf\u00e9 x" });
  });
  it("takes any word, digits with letters, a date or backticks behind a dot", () => {
    reads("x.to", "(. x to)");
    reads("runs.1.got", "(. (. runs 1) got)");
    reads("runs.2a", "(. runs 2a)");
    reads("runs.2026-02-03.got", "(. (. runs 2026-02-03) got)");
    reads("stills.`bay leaf`.spirit", "(. (. stills bay leaf) spirit)");
    reads("f(x).part", "(. (f() x) part)");
    reads("[1, 2].2", "(. [1 2] 2)");
  });
  it("reads arguments by place and by label, whatever the label's word", () => {
    reads("f()", "(f())");
    reads("f(a, 2 L)", "(f() a 2_L)");
    reads("let_down(1 L, 96 %vol, to: 40 %vol).add", "(. (let_down() 1_L 96_%vol to:40_%vol) add)");
    reads("f(in: 1, where: 2)", "(f() in:1 where:2)");
    reads("f(`my label` : 1)", "(f() my label:1)");
    reads("f(a where b)", "(f() (where a b))");
  });
  it("keeps clause words free as names", () => {
    reads("by + for * mark", "(+ by (* for mark))");
    reads("wait(ask, try: expect)", "(wait() ask try:expect)");
  });
  it("reads lists, blank, true and false", () => {
    reads("[]", "[]");
    reads("[1 L,2 L]", "[1_L 2_L]");
    reads("[[1], blank, true, false]", "[[1] blank true false]");
  });
});

describe("how tightly things bind", () => {
  it("binds ^ to the right, then ±, signs, * and /, + and -", () => {
    reads("2^3^2", "(^ 2 (^ 3 2))");
    reads("2^-3^2", "(^ 2 (- (^ 3 2)))");
    reads("2^-3", "(^ 2 -3)");
    reads("2 * 3 ± 1", "(* 2 (± 3 1))");
    reads("2 ± 3^2", "(± 2 (^ 3 2))");
    reads("a - b - c", "(- (- a b) c)");
    reads("a / b * c", "(* (/ a b) c)");
    reads("a + b * c", "(+ a (* b c))");
    reads("(2 m)^3", "(^ 2_m 3)");
    reads("2 m ^ 3", "(^ 2_m 3)");
  });
  it("binds `in` looser than + and tighter than <", () => {
    reads("a + b in g > 3 g", "(> (in (+ a b) g) 3_g)");
    reads("(x in mL) / 2", "(/ (in x mL) 2)");
  });
  it("orders not, and, or", () => {
    reads("not a and b or c", "(or (and (not a) b) c)");
    reads("not not a is b", "(not (not (is a b)))");
    reads("a or b and c", "(or a (and b c))");
  });
  it("reads every comparison, also in its other writing", () => {
    reads("a <= b", "(<= a b)");
    reads("a ≤ b", "(<= a b)");
    reads("a ≥ b", "(>= a b)");
    reads("a is not b", "(is not a b)");
    reads("a ≠ b", "(is not a b)");
    reads("x within 1 to 3 + 2", "(within x 1 (+ 3 2))");
    reads("x is not blank", "(is not x blank)");
  });
  it("takes the other signs for the usual ones", () => {
    reads("a × b · c ÷ d", "(/ (* (* a b) c) d)");
    reads("a − b", "(- a b)");
    reads("5 +- 1 g", "(± 5 1_g)");
  });
  it("reads ranges, with a step and without", () => {
    reads("10 mbar to 40 mbar step 10 mbar", "(to 10_mbar 40_mbar 10_mbar)");
    reads("1 to a or b", "(to 1 (or a b))");
  });
  it("lets `if` reach as far right as it can, and chains `else if`", () => {
    reads("if a > 2 L then b + 1 else c + 1", "(if (> a 2_L) (+ b 1) (+ c 1))");
    reads("if a then 1 else if b then 2 else 3", "(if a 1 (if b 2 3))");
    reads("if a then if b then 1 else 2 else 3", "(if a (if b 1 2) 3)");
    reads("(if a then 1 else 2) * 3", "(* (if a 1 2) 3)");
  });
  it("reads a search", () => {
    reads("find x from 1 to 2 so that x^2 is 2", "(find x 1 2 (is (^ x 2) 2))");
  });
  it("binds where loosest, once in each bracket", () => {
    reads("sum(t.volume where strength > 50 %vol)", "(sum() (where (. t volume) (> strength 50_%vol)))");
    reads("if a then b else c where d", "(where (if a b c) d)");
    reads("(a where b) where c", "(where (where a b) c)");
  });
});

describe("text", () => {
  it("resolves escapes and keeps the rest", () => {
    reads('"a \\"b\\" \\\\ \\{c\\} \\|"', '"a "b" \\ {c} |"');
    reads('""', '""');
    reads('"# no comment ‘curly’"', '"# no comment ‘curly’"');
  });
  it("reads formulas in braces, and text in those", () => {
    reads('"add {a in mL} now"', '"add {(in a mL)} now"');
    reads('"{if a is "x" then "y{b}" else ""}"', '"{(if (is a "x") "y{b}" "")}"');
    reads('"{`a"}b`}"', '"{<a"}b>}"');
  });
  it("keeps the pieces of a text apart, an empty text as one piece", () => {
    expect(parseFormula('"a{b}{c}"').formula).toMatchObject({
      pieces: ["a", { type: "name", name: "b" }, { type: "name", name: "c" }],
    });
    expect(parseFormula('""').formula).toMatchObject({ pieces: [""] });
  });
  it("ends a comment only where one began", () => {
    reads("a # b", "a");
    reads('"a # b" # c', '"a # b"');
  });
});

describe("places", () => {
  const at = (
    source: string,
    pick: (formula: Formula) => { from: number; to: number } | undefined,
  ): string => {
    const span = pick(parseFormula(source).formula)!;
    return source.slice(span.from, span.to);
  };
  it("covers a formula with its brackets and signs", () => {
    expect(at(" (a + b) ", (f) => f.span)).toBe("(a + b)");
    expect(at("- 10 °C", (f) => f.span)).toBe("- 10 °C");
    expect(at("a * (b + c)", (f) => (f.type === "arithmetic" ? f.right.span : undefined))).toBe("(b + c)");
  });
  it("marks operators, names, parts, labels and units", () => {
    expect(at("a is  not b", (f) => (f.type === "compare" ? f.operatorSpan : undefined))).toBe("is  not");
    expect(at("f(to: 3)", (f) => (f.type === "call" ? f.arguments[0]!.labelSpan : undefined))).toBe("to");
    expect(at("`f x`(3)", (f) => (f.type === "call" ? f.nameSpan : undefined))).toBe("`f x`");
    expect(at("a.`b c`", (f) => (f.type === "part" ? f.partSpan : undefined))).toBe("`b c`");
    expect(at("a in GBP/L", (f) => (f.type === "shown" ? f.unit.span : undefined))).toBe("GBP/L");
  });
  it("counts places inside texts from the start of the whole", () => {
    const source = '"x {"y {a in mL}"}"';
    const { formula } = parseFormula(source);
    const inner =
      formula.type === "text" && typeof formula.pieces[1] !== "string" ? formula.pieces[1]! : undefined;
    expect(inner?.type).toBe("text");
    const deep = inner?.type === "text" && typeof inner.pieces[1] !== "string" ? inner.pieces[1]! : undefined;
    expect(source.slice(deep!.span.from, deep!.span.to)).toBe("a in mL");
  });
});
