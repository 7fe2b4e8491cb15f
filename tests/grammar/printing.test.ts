import { describe, expect, it } from "vitest";
import { type Formula, parseFormula, printFormula, quoteText } from "../../grammar";

const NOWHERE = { from: 0, to: 0 };

/** Formulas in the writing that printing gives them: each prints as it stands. */
const CANONICAL: Readonly<Record<string, readonly string[]>> = {
  "values by themselves": [
    "42",
    "2.4 L",
    "-10 °C",
    "11.20 GBP/L",
    "2026-02-03",
    "true",
    "false",
    "blank",
    "volume",
    "`bay leaf`",
    "`to`",
    '""',
    '"add {a in mL} now"',
    '"a \\"b\\" \\\\ \\{c\\} |"',
    '"{"{a}"}"',
    "[]",
    "[1, 2 L, [a]]",
    "[a to b, a where b, if a then b else c]",
  ],
  "calls and paths": [
    "f()",
    "f(a)",
    "f(a, `b c`, to: 3, `d e`: 4, 5a: 1)",
    "f(a where b, c to d)",
    "`f x`(1)",
    "a.b",
    "a.to.1.2a.2026-02-03.`b c`",
    "f(x).part",
    "[1, 2].2",
    "(a + b).c",
    "(-a).b",
    "(2 L).b",
    "(2).b",
    "(-2).b",
    '"x".b',
    "true.b",
    "(a^b).c",
  ],
  "powers, ± and signs": [
    "a^b",
    "a^b^c",
    "(a^b)^c",
    "a^-b",
    "a^-2",
    "a^-(2)",
    "a^-b^c",
    "a^(b + c)",
    "a^(-b).c",
    "(-a)^b",
    "(-2)^b",
    "-a^b",
    "2^3",
    "(2 m)^3",
    "a.b^c.d",
    "(a ± b)^c",
    "a ± b",
    "a ± b^c",
    "a^b ± c",
    "2 ± 1",
    "-2 ± 1",
    "-2 °C ± 1 K",
    "(a ± b) ± c",
    "a ± (b ± c)",
    "a ± (-b)",
    "-a ± b",
    "-(2 ± 1)",
    "-(2)",
    "-(-2)",
    "--a",
    "-(a * b)",
    "-f(a)",
  ],
  "products and sums": [
    "a * b / c",
    "a * (b / c)",
    "a / (b * c)",
    "a * -b",
    "-a * b",
    "a * -2",
    "-2 * a",
    "a * b ± c",
    "(a * b) ± c",
    "(a + b) * c",
    "a * (b + c)",
    "a^b * c^d",
    "a + b - c",
    "a - (b + c)",
    "a - (b - c)",
    "a + b * c",
    "a * b + c * d",
    "a^b + c",
    "a + b^c",
    "a - -b",
    "a - -2",
    "(a + b)^c + d",
    "(a or b) + c",
    "(a in L) + b",
    "(a < b) + c",
    "(if a then b else c) + d",
    "a + (find x from 1 to 2 so that x is a)",
    "a + (b to c)",
    "(a where b) + c",
    "(not a) + b",
  ],
  "units and comparisons": [
    "a in mL",
    "a + b in mL",
    "(a in mL) in L",
    "(a in mL) * 2",
    "-a in mL",
    "a < b",
    "a <= b",
    "a > b",
    "a >= b",
    "a is b",
    "a is not b",
    "a in L < b in mL",
    "a + b is c * d",
    "(a < b) is (c < d)",
    "(not a) is b",
    "a is (not b)",
    "(a and b) is c",
    "a within b to c",
    "a + 1 within b in L to c - 2",
    "(a is b) within c to d",
    "a within (b < c) to d",
    "a within b to (c < d)",
    "a within (b to c) to d",
    "a is (b within c to d)",
  ],
  "and, or, not": [
    "a and b and c",
    "a and (b and c)",
    "a or b or c",
    "a or (b or c)",
    "a and b or c and d",
    "(a or b) and (c or d)",
    "not a",
    "not not a",
    "not a < b",
    "not (a and b)",
    "not a and not b",
    "(a to b) and c",
    "a or (b where c)",
  ],
  "ranges, choices, searches and conditions": [
    "a to b",
    "a to b step c",
    "a or b to c and d step e",
    "(a to b) to c",
    "a to (b to c)",
    "a to b step (c to d)",
    "if a then b else c",
    "if a then b else if c then d else e",
    "if if a then b else c then d else e",
    "if a then if b then c else d else e",
    "if a to b then c to d else e to f",
    "if (a where b) then c else d",
    "if a then (b where c) else d",
    "if a then b else (c where d)",
    "if a then b else c where d",
    "(if a then b else c) to d",
    "find x from a to b so that x is c",
    "find `a b` from a + b to c * d so that x + 1 is c in L",
    "find x from (a in L) to (b < c) so that x within c to d",
    "find x from 1 to 2 so that (not a)",
    "find x from 1 to 2 so that (a and b)",
    "a where b",
    "(a where b) where c",
    "a where (b where c)",
    "a to b where c to d",
    "f(x).list where not volume is blank",
  ],
};

describe.each(Object.entries(CANONICAL))("printing %s", (_, formulas) => {
  it.each(formulas)("%s", (source) => {
    const { formula, messages } = parseFormula(source);
    expect(messages).toEqual([]);
    expect(printFormula(formula)).toBe(source);
  });
});

describe("printing", () => {
  it.each([
    ["( a )", "a"],
    ["-(a ± b)", "-a ± b"],
    ["((a + b)) + (c)", "a + b + c"],
    ["a+(b*c)", "a + b * c"],
    ["a*(b^c)", "a * b^c"],
    ["(a in L) is b", "a in L is b"],
    ["(a is b) and c", "a is b and c"],
    ["(not a) and b", "not a and b"],
    ["(a and b) or c", "a and b or c"],
    ["if (a) then (b) else (if c then d else e)", "if a then b else if c then d else e"],
    ["a × b ÷ c − d", "a * b / c - d"],
    ["a ≤ b", "a <= b"],
    ["a ≠ b", "a is not b"],
    ["5 +- 1 g", "5 ± 1 g"],
    ["+a", "a"],
    ["+ 5 g", "5 g"],
    ["- - 5", "5"],
    ["1.5e3", "1500"],
    ["f( a,to : 3 )", "f(a, to: 3)"],
    ["`a`.`b`", "a.b"],
    ["[ 1 , 2 ]", "[1, 2]"],
    ['"{ a+b }"', '"{a + b}"'],
  ])("leaves out what is not needed: %s is %s", (source, printed) => {
    expect(printFormula(parseFormula(source).formula)).toBe(printed);
  });
  it("writes bars by their escape in a cell, and only there", () => {
    const { formula } = parseFormula('f("a|b", `c|d`, `e|f`: x.`g|h`) + "{"i|j"}"');
    expect(printFormula(formula)).toBe('f("a|b", `c|d`, `e|f`: x.`g|h`) + "{"i|j"}"');
    expect(printFormula(formula, {})).toBe(printFormula(formula));
    expect(printFormula(formula, { inCell: true })).toBe(
      'f("a\\|b", `c\\|d`, `e\\|f`: x.`g\\|h`) + "{"i\\|j"}"',
    );
    expect(
      printFormula(parseFormula("find `a|b` from 1 to 2 so that `f|g`(1) is 2").formula, { inCell: true }),
    ).toBe("find `a\\|b` from 1 to 2 so that `f\\|g`(1) is 2");
  });
  it("writes a text in quotes, its signs escaped", () => {
    expect(quoteText('a "b" \\ {c} |')).toBe('"a \\"b\\" \\\\ \\{c\\} |"');
    expect(quoteText("a|b", { inCell: true })).toBe('"a\\|b"');
    expect(quoteText("")).toBe('""');
  });
  it("shows what could not be read as a gap in its place", () => {
    const unread: Formula = { type: "unread", span: NOWHERE };
    expect(printFormula(unread)).toBe("…");
    expect(printFormula({ type: "negate", of: unread, span: NOWHERE })).toBe("-…");
  });
});
