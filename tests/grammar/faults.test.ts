import { describe, expect, it } from "vitest";
import { daysInWords, parseBook, parseFormula, printFormula } from "../../grammar";
import { currencySign } from "../../src/quantity";
import { fixed, marked } from "./notation";

/** A source, what each message marks, what each says, and what the fixes of the first make of the source. */
type Case = readonly [
  source: string,
  marks: readonly string[],
  says: readonly string[],
  fixes?: readonly string[],
];

const CASES: Readonly<Record<string, readonly Case[]>> = {
  "numbers that can be read in two ways": [
    ["12,5 L", ["number-comma 12,5"], ["`12,5`: is this `12.5`, or `12, 5`?"], ["12.5 L", "12, 5 L"]],
    [
      "1,000",
      ["number-comma 1,000"],
      ["`1,000`: is this `1.000`, or `1000`, or `1, 000`?"],
      ["1.000", "1000", "1, 000"],
    ],
    [
      "1,000.5",
      ["number-comma 1,000.5"],
      ["`1,000.5`: is this `1000.5`, or `1, 000.5`?"],
      ["1000.5", "1, 000.5"],
    ],
    [
      "1,000.55",
      ["number-comma 1,000.55"],
      ["`1,000.55`: is this `1000.55`, or `1, 000.55`?"],
      ["1000.55", "1, 000.55"],
    ],
    ["12,5 %", ["number-comma 12,5"], ["`12,5`: is this `12.5`, or `12, 5`?"], ["12.5 %", "12, 5 %"]],
    ["12,5 °C", ["number-comma 12,5"], ["`12,5`: is this `12.5`, or `12, 5`?"], ["12.5 °C", "12, 5 °C"]],
    ["[1,2,3]", ["number-comma 1,2,3"], ["`1,2,3`: is this `1, 2, 3`?"], ["[1, 2, 3]"]],
    ["f(1,2)", ["number-comma 1,2"], ["`1,2`: is this `1.2`, or `1, 2`?"], ["f(1.2)", "f(1, 2)"]],
    [
      "1/2 L",
      ["number-ratio 1/2 L"],
      ["`1/2 L`: is this `0.5 L`, or 1 divided by 2 L?"],
      ["0.5 L", "1 / 2 L"],
    ],
    [
      "3/8 kg",
      ["number-ratio 3/8 kg"],
      ["`3/8 kg`: is this `0.375 kg`, or 3 divided by 8 kg?"],
      ["0.375 kg", "3 / 8 kg"],
    ],
    [
      "1.5/0.25 L",
      ["number-ratio 1.5/0.25 L"],
      ["`1.5/0.25 L`: is this `6 L`, or 1.5 divided by 0.25 L?"],
      ["6 L", "1.5 / 0.25 L"],
    ],
    [
      "1/3 L",
      ["number-ratio 1/3 L"],
      ["`1/3 L`: is this `1 / 3 * 1 L`, or 1 divided by 3 L?"],
      ["1 / 3 * 1 L", "1 / 3 L"],
    ],
    [
      "1 000 000 L",
      ["number-grouped 1 000 000"],
      ["The digits of `1 000 000` are set apart."],
      ["1000000 L"],
    ],
    ["1\u202f000 g", ["number-grouped 1\u202f000"], ["The digits of `1 000` are set apart."], ["1000 g"]],
    ["1_000", ["number-grouped 1_000"], ["The digits of `1_000` are set apart."], ["1000"]],
    [".5 L", ["number-point .5"], ["`.5` begins with a point."], ["0.5 L"]],
    ["5. L", ["number-point 5."], ["`5.` ends with a point."], ["5 L"]],
    ["1.2.3", ["number-points 1.2.3"], ["`1.2.3` has more than one point."]],
    ["1 .5", ["number-point .5"], ["`.5` begins with a point."], ["1 0.5"]],
    ["½ L", ["number-fraction ½"], ["`½` is no number here."], ["0.5 L"]],
    ["1½ L", ["number-fraction 1½"], ["`1½` holds a fraction sign."], ["1.5 L"]],
    ["⅓", ["number-fraction ⅓"], ["`⅓` is no number here."], ["(1 / 3)"]],
    ["2⅓", ["number-fraction 2⅓"], ["`2⅓` holds a fraction sign."], ["(2 + 1 / 3)"]],
  ],
  "numbers that are too long": [
    [
      "12345678901234567890123456789012345",
      ["number-long 12345678901234567890123456789012345"],
      ["`12345678901234567890123456789012345` has more than 34 digits when it is written out."],
    ],
    ["1e40", ["number-long 1e40"], ["`1e40` has more than 34 digits when it is written out."]],
    ["1e-40", ["number-long 1e-40"], ["`1e-40` has more than 34 digits when it is written out."]],
    ["1e99999", ["number-long 1e99999"], ["`1e99999` has more than 34 digits when it is written out."]],
  ],
  "dates in other forms": [
    [
      "3.2.2026",
      ["date-form 3.2.2026"],
      ["`3.2.2026` is no way to write a date here."],
      ["2026-02-03", "2026-03-02"],
    ],
    ["31.12.24", ["date-form 31.12.24"], ["`31.12.24` is no way to write a date here."], ["2024-12-31"]],
    ["30.2.2026", ["date-form 30.2.2026"], ["`30.2.2026` is no way to write a date here."]],
    ["2.2.26", ["date-form 2.2.26"], ["`2.2.26` is no way to write a date here."], ["2026-02-02"]],
    ["2026.2.3", ["date-form 2026.2.3"], ["`2026.2.3` is no way to write a date here."], ["2026-02-03"]],
    [
      "3/2/2026",
      ["date-form 3/2/2026"],
      ["`3/2/2026` is no way to write a date here."],
      ["2026-02-03", "2026-03-02", "3 / 2 / 2026"],
    ],
    [
      "24-12-1999 - sown",
      ["date-form 24-12-1999"],
      ["`24-12-1999` is no way to write a date here."],
      ["1999-12-24 - sown", "24 - 12 - 1999 - sown"],
    ],
    [
      "sown + 2026/2/3",
      ["date-form 2026/2/3"],
      ["`2026/2/3` is no way to write a date here."],
      ["sown + 2026-02-03", "sown + 2026 / 2 / 3"],
    ],
    [
      "2026-2-3",
      ["date-form 2026-2-3"],
      ["`2026-2-3` is no way to write a date here."],
      ["2026-02-03", "2026 - 2 - 3"],
    ],
    [
      "30/2/2026",
      ["date-form 30/2/2026"],
      ["`30/2/2026` is no way to write a date here."],
      ["30 / 2 / 2026"],
    ],
    ["2026-02-30", ["date-impossible 2026-02-30"], ["There is no day `2026-02-30`."]],
    ["2026-13-01", ["date-impossible 2026-13-01"], ["There is no day `2026-13-01`."]],
    ["2025-02-29", ["date-impossible 2025-02-29"], ["There is no day `2025-02-29`."]],
  ],
  "money by its sign": [
    ["5 €", ["currency-sign €"], ["Money carries the code of its currency, not `€`."], ["5 EUR"]],
    ["€5", ["currency-sign €5"], ["Money carries the code of its currency, not `€`."], ["5 EUR"]],
    ["£ 3.50", ["currency-sign £ 3.50"], ["Money carries the code of its currency, not `£`."], ["3.50 GBP"]],
    [
      "$5",
      ["currency-sign $5"],
      ["Money carries the code of its currency, not `$`."],
      ["5 USD", "5 CAD", "5 AUD", "5 NZD"],
    ],
    ["¥ 3", ["currency-sign ¥ 3"], ["Money carries the code of its currency, not `¥`."], ["3 JPY", "3 CNY"]],
    ["5 ¢", ["currency-sign ¢"], ["`¢` is no unit."]],
  ],
  "operators from elsewhere": [
    ["a == b", ["operator-other =="], ["Two values are compared with `is`, not `==`."], ["a is b"]],
    ["a != b", ["operator-other !="], ["Two values are told apart with `is not`, not `!=`."], ["a is not b"]],
    ["a <> b", ["operator-other <>"], ["Two values are told apart with `is not`, not `<>`."], ["a is not b"]],
    ["a => b", ["operator-other =>"], ["At least is written `>=`, not `=>`."], ["a >= b"]],
    ["2 ** 3", ["operator-other **"], ["A power is written `^`, not `**`."], ["2 ^ 3"]],
    ["a && b", ["operator-other &&"], ["Two conditions are joined with `and`, not `&&`."], ["a and b"]],
    ["a | b", ["bar-outside |"], ["A `|` stands outside a row."]],
    ["!a", ["operator-other !"], ["A condition is turned round with `not`, not `!`."], ["not a"]],
    ["f(a; b)", ["operator-other ;"], ["Arguments are set apart with `,`, not `;`."], ["f(a, b)"]],
    ["a -> b", ["operator-other ->"], ["`->` means nothing in a formula."], ["a  b"]],
    ["a = b", ["equals-inside ="], ["`=` gives a name its formula, and this is inside one."], ["a is b"]],
  ],
  "signs that only look alike": [
    ["a \u2013 b", ["character-lookalike \u2013"], ["`\u2013` is written `-` in a formula."], ["a - b"]],
    ["a \u2014 b", ["character-lookalike \u2014"], ["`\u2014` is written `-` in a formula."], ["a - b"]],
    ["a＋b", ["character-lookalike ＋"], ["`＋` is written `+` in a formula."], ["a+b"]],
    ["x²", ["character-lookalike ²"], ["`²` is written `^2` in a formula."], ["x^2"]],
    ["x³", ["character-lookalike ³"], ["`³` is written `^3` in a formula."], ["x^3"]],
    ["a ≈ b", ["character-lookalike ≈"], ["`≈` is written `is` in a formula."], ["a is b"]],
    ["a √ b", ["character-lookalike √"], ["`√` is written `sqrt` in a formula."], ["a sqrt b"]],
    ["77 ℉", ["character-lookalike ℉"], ["`℉` is written `°F` in a formula."], ["77 °F"]],
    ["25 ℃", ["character-lookalike ℃"], ["`℃` is written `°C` in a formula."], ["25 °C"]],
  ],
  quotes: [
    [
      "\u201cabc\u201d",
      ["quote-curly \u201cabc\u201d"],
      ["`\u201cabc\u201d` stands in curly quotes."],
      ['"abc"'],
    ],
    ['"abc\u201d', ["quote-curly \u201d"], ['The text opens with " and is closed with \u201d.'], ['"abc"']],
    ['"abc', ['text-open "abc'], ['The text `"abc` is not closed.'], ['"abc"']],
    ["'abc'", ["quote-single 'abc'"], ["`'abc'` is no text."], ['"abc"']],
    ["\u2018abc\u2019", ["quote-single \u2018abc\u2019"], ["`\u2018abc\u2019` is no text."], ['"abc"']],
    ["`abc", ["name-open `abc"], ["The name \u201c`abc\u201d has no second backtick."]],
    ["``", ["name-empty ``"], ["There is nothing between the backticks."]],
  ],
  texts: [
    ['"a {b"', ["brace-open {"], ["This `{` is not closed before the text ends."]],
    ['"a {} b"', ["brace-empty {}"], ["There is no formula in these braces."]],
    ['"a } b"', ["brace-stray }"], ["This `}` closes nothing."], ['"a \\} b"']],
    ['"a \\n b"', ["text-escape \\n"], ["`\\n` means nothing in a text."], ['"a \\\\n b"']],
    [
      '"a {b c} d {e +} f"',
      ["operator-missing b c", 'value-missing ^} f"'],
      ["Between `b` and `c` an operator is missing.", "Behind `+` a value is expected, but nothing follows."],
      ['"a {`b c`} d {e +} f"', '"a {b * c} d {e +} f"'],
    ],
    [
      '"{"{x y}"}"',
      ["operator-missing x y"],
      ["Between `x` and `y` an operator is missing."],
      ['"{"{`x y`}"}"', '"{"{x * y}"}"'],
    ],
  ],
  "characters that cannot be seen or mean nothing": [
    [
      "a\u200bb",
      ["character-unseen \u200b"],
      ["Here stands a blank of no width (U+200B), which cannot be seen."],
      ["ab"],
    ],
    [
      "a\u202eb",
      ["character-unseen \u202e"],
      ["Here stands a control for writing direction (U+202E), which cannot be seen."],
      ["ab"],
    ],
    [
      '"a\u0007"',
      ["character-unseen \u0007"],
      ["Here stands a control character (U+0007), which cannot be seen."],
      ['"a"'],
    ],
    [
      "a ? \u200bb",
      ["character-unknown ?", "character-unseen \u200b"],
      [
        "`?` (U+003F) means nothing in a formula.",
        "Here stands a blank of no width (U+200B), which cannot be seen.",
      ],
    ],
    ["a ? b", ["character-unknown ?"], ["`?` (U+003F) means nothing in a formula."]],
    [
      "{a}",
      ["brace-outside {", "brace-outside }"],
      ["`{` stands outside a text.", "`}` stands outside a text."],
    ],
    ["abc@12345678", ["mark-outside @12345678"], ["A mark stands only in `seen`."]],
    ["x ~ y", ["character-unknown ~"], ["`~` (U+007E) means nothing in a formula."]],
  ],
  brackets: [
    ["(a + b", ["bracket-open ("], ["The `(` is not closed."], ["(a + b)"]],
    ["f(a, [1, 2", ["bracket-open ["], ["The `[` is not closed."], ["f(a, [1, 2]"]],
    ["f(a]", ["bracket-other ]"], ["`]` stands where `)` closes the `(`."], ["f(a)", "f(a)]"]],
    [
      "f(a, [1, 2)",
      ["bracket-other )"],
      ["`)` stands where `]` closes the `[`."],
      ["f(a, [1, 2]", "f(a, [1, 2])"],
    ],
    ["a)", ["bracket-stray )"], ["This `)` closes nothing."], ["a"]],
    ["()", ["bracket-empty ()"], ["There is nothing between these brackets."]],
    ["f(a,)", ["value-missing )"], ["Between `,` and `)` a value is missing."]],
    ["(a +)", ["value-missing )"], ["Between `+` and `)` a value is missing."]],
    ["(if a then b)", ["word-expected )"], ["Behind `b` `else` is expected, but `)` stands here."]],
    ["[if a]", ["word-expected ]"], ["Behind `a` `then` is expected, but `]` stands here."]],
    ["f(a within 1)", ["word-expected )"], ["Behind `1` `to` is expected, but `)` stands here."]],
    ["(find x)", ["word-expected )"], ["Behind `x` `from` is expected, but `)` stands here."]],
    ["(a in)", ["unit-expected )"], ["Behind `in` a unit is expected, but `)` stands here."]],
    ["(a.)", ["part-expected )"], ["Behind the dot a name is expected, but `)` stands here."]],
    ["f(a, [)", ["value-missing )"], ["Between `[` and `)` a value is missing."]],
    ["f(,)", ["value-missing ,"], ["Behind `(` a value is expected, but `,` stands here."]],
  ],
  "two values side by side": [
    ["2 (y)", ["operator-missing 2 ("], ["Between `2` and `(` an operator is missing."], ["2 * (y)"]],
    ["2 L (a)", ["operator-missing 2 L ("], ["Between `L` and `(` an operator is missing."], ["2 L * (a)"]],
    [
      "(a + b) L",
      ["unit-behind-bracket L"],
      ["A unit cannot stand behind a bracket, and `L` is no operator."],
      ["(a + b) in L", "(a + b) * 1 L", "(a + b) * L"],
    ],
    [
      "(a + b) %",
      ["unit-alone %"],
      ["The unit `%` does not stand behind a number."],
      ["(a + b) in %", "(a + b) * 1 %"],
    ],
    ["x °C", ["unit-alone °C"], ["The unit `°C` does not stand behind a number."], ["x in °C", "x * 1 °C"]],
    ["a b", ["operator-missing a b"], ["Between `a` and `b` an operator is missing."], ["`a b`", "a * b"]],
    [
      "[1 2]",
      ["operator-missing 1 2"],
      ["Between `1` and `2` an operator is missing."],
      ["[1, 2]", "[1 * 2]"],
    ],
    ["a 3", ["operator-missing a 3"], ["Between `a` and `3` an operator is missing."], ["a * 3"]],
    ['"a" b', ['operator-missing "a" b'], ['Between `"a"` and `b` an operator is missing.']],
  ],
  "comparisons in a row": [
    [
      "1 < x < 3",
      ["comparison-chained <"],
      ["A comparison has two sides, and this is a third."],
      ["x within 1 to 3", "1 < x and x < 3"],
    ],
    [
      "3 > x >= 1",
      ["comparison-chained >="],
      ["A comparison has two sides, and this is a third."],
      ["x within 1 to 3", "3 > x and x >= 1"],
    ],
    [
      "a is b is c",
      ["comparison-chained is"],
      ["A comparison has two sides, and this is a third."],
      ["a is b and b is c"],
    ],
    [
      "f(a, b + 1 < c in g < 2 * (d + 1))",
      ["comparison-chained <"],
      ["A comparison has two sides, and this is a third."],
      ["f(a, c in g within b + 1 to 2 * (d + 1))", "f(a, b + 1 < c in g and c in g < 2 * (d + 1))"],
    ],
  ],
  "something missing": [
    ["", ["formula-empty ^"], ["There is no formula here."]],
    ["a + * b", ["value-missing *"], ["Behind `+` a value is expected, but `*` stands here."]],
    ["a and", ["value-missing ^"], ["Behind `and` a value is expected, but nothing follows."]],
    ["a is", ["value-missing ^"], ["Behind `is` a value is expected, but nothing follows."]],
    ["a.\u0301b", ["character-unknown \u0301"], ["`\u0301` (U+0301) means nothing in a formula."]],
    ["a.", ["part-expected ^"], ["Behind the dot a name is expected, but nothing follows."]],
    ["a.(b)", ["part-expected ("], ["Behind the dot a name is expected, but `(` stands here."]],
    ["x in 3", ["unit-expected 3"], ["Behind `in` a unit is expected, but `3` stands here."]],
    ["x in", ["unit-expected ^"], ["Behind `in` a unit is expected, but nothing follows."]],
    ["if a then b", ["word-expected ^"], ["Behind `b` `else` is expected, but nothing follows."]],
    ["if a else b", ["word-expected else"], ["Behind `a` `then` is expected, but `else` stands here."]],
    ["a within 1", ["word-expected ^"], ["Behind `1` `to` is expected, but nothing follows."]],
    ["find 3 from 1 to 2", ["word-expected 3"], ["Behind `find` a name is expected, but `3` stands here."]],
    ["find x of 3", ["word-expected of"], ["Behind `x` `from` is expected, but `of` stands here."]],
    [
      "find x from 1 to 2 so x",
      ["word-expected x"],
      ["Behind `so` `that` is expected, but `x` stands here."],
    ],
  ],
  "something too much": [
    ["a where b where c", ["where-twice where"], ["`where` stands once in a formula."]],
    ["1 to 2 to 3", ["to-twice to"], ["A range has one start and one end."]],
    ["1 step 3", ["step-alone step"], ["`step` stands only behind `to`."]],
    ["a in mL in L", ["unit-twice in"], ["A value is shown in one unit, and this is a second."]],
    [
      "a in mL + 3",
      ["unit-shown +"],
      ["Behind `in mL` the value is whole, so `+` cannot follow."],
      ["(a in mL) + 3"],
    ],
    ["a by b", ["clause-misplaced by"], ["`by` stands only in a `chart`."]],
    [
      "to: 3",
      ["label-misplaced to"],
      ["A label such as `to:` stands only before an argument of a function."],
    ],
    [
      "(to: 3)",
      ["label-misplaced to"],
      ["A label such as `to:` stands only before an argument of a function."],
    ],
    [
      "f(a: b: c)",
      ["label-misplaced :"],
      ["A label such as `to:` stands only before an argument of a function."],
    ],
    [
      "to + 1",
      ["name-reserved to"],
      ["`to` is a word of the language, and a value is expected here."],
      ["`to` + 1"],
    ],
  ],
};

for (const [group, cases] of Object.entries(CASES)) {
  describe(group, () => {
    for (const [source, marks, says, fixes = []] of cases) {
      it(`${JSON.stringify(source)} is told`, () => {
        const { messages } = parseFormula(source);
        expect(messages.map((message) => marked(source, message))).toEqual(marks);
        expect(messages.map((message) => message.says)).toEqual(says);
        expect(fixed(source, messages[0]!)).toEqual(fixes);
        expect(messages.every((message) => message.severity === "fault")).toBe(true);
      });
    }
  });
}

describe("a number with an exponent", () => {
  it.each([
    ["1e0", "1"],
    ["1E+05", "100000"],
    ["1e00000001", "10"],
    ["12e-1", "1.2"],
    ["12e-2", "0.12"],
    ["12e-3", "0.012"],
    ["12.50e1", "125.0"],
    ["12.50e2", "1250"],
    ["12.50e3", "12500"],
    ["0.05e1", "0.5"],
    ["0.05e2", "5"],
    ["0.05e-1", "0.005"],
    ["007e0", "7"],
    ["007.0e1", "70"],
    ["0e999", "0"],
    ["1e33", `1${"0".repeat(33)}`],
    ["0.1e34", `1${"0".repeat(33)}`],
    ["1e-33", `0.${"0".repeat(32)}1`],
    ["1.5", "1.5"],
    ["007", "007"],
  ])("%s is %s", (source, digits) => {
    expect(parseFormula(source)).toMatchObject({ formula: { type: "number", digits }, messages: [] });
  });
  it.each(["1e34", "1e-34", "1.5e-33", "10e33", "1e1000", "1e-1000", "1e+999", `${"1".repeat(33)}e2`])(
    "%s is too long when it is written out",
    (source) => expect(parseFormula(source).messages.map(({ code }) => code)).toEqual(["number-long"]),
  );
});

describe("a fraction sign", () => {
  it.each([
    ["½", "0.5"],
    ["¼", "0.25"],
    ["¾", "0.75"],
    ["⅕", "0.2"],
    ["⅖", "0.4"],
    ["⅗", "0.6"],
    ["⅘", "0.8"],
    ["⅛", "0.125"],
    ["⅜", "0.375"],
    ["⅝", "0.625"],
    ["⅞", "0.875"],
    ["⅒", "0.1"],
  ])("%s is %s, also behind a whole number", (sign, decimal) => {
    for (const [source, meant] of [
      [sign, decimal],
      [`2${sign}`, `2${decimal.slice(1)}`],
      [`2 ${sign}`, `2${decimal.slice(1)}`],
    ] as const)
      expect(fixed(source, parseFormula(source).messages[0]!)).toEqual([meant]);
  });
  it.each([
    ["⅓", "1 / 3"],
    ["⅔", "2 / 3"],
    ["⅙", "1 / 6"],
    ["⅚", "5 / 6"],
    ["⅐", "1 / 7"],
    ["⅑", "1 / 9"],
  ])("%s, which no decimal is, is %s", (sign, division) => {
    for (const [source, meant] of [
      [sign, `(${division})`],
      [`2${sign}`, `(2 + ${division})`],
      [`2 ${sign}`, `(2 + ${division})`],
    ] as const)
      expect(fixed(source, parseFormula(source).messages[0]!)).toEqual([meant]);
  });
});

describe("a ratio before a unit", () => {
  it.each([
    ["1/4 L", "0.25 L"],
    ["10/4 L", "2.5 L"],
    ["100/2 L", "50 L"],
    ["0/5 L", "0 L"],
    ["1/64 L", "0.015625 L"],
    ["0.5/0.125 L", "4 L"],
    ["2.25/1.5 L", "1.5 L"],
    ["1.5/2.25 L", "1.5 / 2.25 * 1 L"],
    ["1/128 L", "1 / 128 * 1 L"],
    ["1/0 L", "1 / 0 * 1 L"],
    ["123456789/1 L", "123456789 L"],
    ["1234567890/1 L", "1234567890 / 1 * 1 L"],
    ["1/1000000000 L", "1 / 1000000000 * 1 L"],
  ])("%s may be %s, told only where that is short", (source, first) => {
    const [message] = parseFormula(source).messages;
    expect(fixed(source, message!)[0]).toBe(first);
  });
});

describe("arithmetic that is no date", () => {
  it("stands, with blanks around its signs or with numbers that no date has", () => {
    for (const [source, printed] of [
      ["3 / 2 / 2026", "3 / 2 / 2026"],
      ["3 - 2 - 2026", "3 - 2 - 2026"],
      ["3/2/1000", "3 / 2 / 1000"],
      ["3/2/2100", "3 / 2 / 2100"],
      ["1899/2/3", "1899 / 2 / 3"],
      ["3/2/20260", "3 / 2 / 20260"],
      ["300/2/2026", "300 / 2 / 2026"],
      ["3/2-2026", "3 / 2 - 2026"],
      ["3/2/26", "3 / 2 / 26"],
      ["3/2/2026.5", "3 / 2 / 2026.5"],
      ["6/3/2/2026", "6 / 3 / 2 / 2026"],
      ["6 * 3/2/2026", "6 * 3 / 2 / 2026"],
      ["3/2/2026*4", "3 / 2 / 2026 * 4"],
      ["2026/2/3/4", "2026 / 2 / 3 / 4"],
    ] as const) {
      const { formula, messages } = parseFormula(source);
      expect(messages, source).toEqual([]);
      expect(printFormula(formula)).toBe(printed);
    }
  });
  it("keeps the question of its unit", () => {
    expect(parseFormula("3/2/2026 L").messages.map((message) => marked("3/2/2026 L", message))).toEqual([
      "number-ratio 2/2026 L",
    ]);
  });
});

describe("fixes", () => {
  const all = Object.values(CASES).flat();
  it("mend what they mark: a certain fix never leaves the fault it was for", () => {
    for (const [source] of all) {
      const [first] = parseFormula(source).messages;
      first!.fixes?.forEach((fix, i) => {
        const mended = fixed(source, first!)[i]!;
        if (!fix.certain) return;
        const left = parseFormula(mended).messages.filter((message) => message.code === first!.code);
        expect(left.length, mended).toBeLessThan(
          parseFormula(source).messages.filter(({ code }) => code === first!.code).length,
        );
      });
    }
  });
  it("say what the button writes", () => {
    for (const [source] of all)
      for (const message of parseFormula(source).messages)
        for (const fix of message.fixes ?? []) expect(fix.says).toMatch(/^[A-Z].*\S$/);
  });
});

describe("signs of other languages and keyboards", () => {
  it.each([
    ["==", "is"],
    ["!==", "is not"],
    ["!=", "is not"],
    ["<>", "is not"],
    ["=>", ">="],
    ["=<", "<="],
    ["**", "^"],
    ["&&", "and"],
    ["&", "and"],
    ["||", "or"],
    ["–", "-"],
    ["—", "-"],
    ["\u2012", "-"],
    ["\u2010", "-"],
    ["\u2011", "-"],
    ["﹣", "-"],
    ["－", "-"],
    ["＋", "+"],
    ["＊", "*"],
    ["∗", "*"],
    ["⋅", "*"],
    ["•", "*"],
    ["✕", "*"],
    ["∕", "/"],
    ["⁄", "/"],
    ["≈", "is"],
    ["≡", "is"],
  ])("`a %s b` is mended to `a %s b`", (met, meant) => {
    const [message] = parseFormula(`a ${met} b`).messages;
    expect(fixed(`a ${met} b`, message!)).toEqual([`a ${meant} b`]);
  });
  it.each([
    ["€", "EUR"],
    ["£", "GBP"],
    ["₹", "INR"],
    ["₽", "RUB"],
    ["₩", "KRW"],
    ["₺", "TRY"],
    ["₴", "UAH"],
    ["₪", "ILS"],
    ["₫", "VND"],
    ["₦", "NGN"],
    ["₱", "PHP"],
    ["₡", "CRC"],
    ["₸", "KZT"],
    ["₾", "GEL"],
    ["฿", "THB"],
    ["₲", "PYG"],
    ["₵", "GHS"],
    ["₼", "AZN"],
  ])("%s is %s, before the amount and behind it", (sign, code) => {
    for (const text of [`${sign}5`, `5 ${sign}`]) {
      const [message] = parseFormula(text).messages;
      expect(message!.code).toBe("currency-sign");
      expect(fixed(text, message!)).toEqual([`5 ${code}`]);
      expect(currencySign(sign)).toEqual([code]);
    }
  });
});

describe("in a statement", () => {
  const told = (text: string) => parseBook(text).statements.flatMap(({ messages }) => messages);
  it("a fault inside a brace marks and mends the place in the whole statement", () => {
    const text = 'step "add {2,5 g} now"';
    const [message] = told(text);
    expect(marked(text, message!)).toBe("number-comma 2,5");
    expect(fixed(text, message!)).toEqual(['step "add {2.5 g} now"', 'step "add {2, 5 g} now"']);
  });
  it("a word that only begins like a clause is no clause", () => {
    for (const word of ["trying", "bywater", "askew", "waiting", "forever", "marks"]) {
      const text = `set a = b ${word}`;
      expect(told(text).map((message) => marked(text, message))).toEqual([`operator-missing b ${word}`]);
    }
  });
});

describe("a date in words", () => {
  it.each([
    ["12 Feb 2026", "2026-02-12"],
    ["1st January 2026", "2026-01-01"],
    ["2nd feb. 26", "2026-02-02"],
    ["3rd-Mar-2026", "2026-03-03"],
    ["4th/Apr/2026", "2026-04-04"],
    ["5May2026", "2026-05-05"],
    ["6. June 2026", "2026-06-06"],
    ["7 July, 2026", "2026-07-07"],
    ["8 aug 1999", "1999-08-08"],
    ["9 Sept 2026", "2026-09-09"],
    ["10 OCTOBER 2026", "2026-10-10"],
    ["11 Nov 00", "2000-11-11"],
    ["31 Dec 99", "2099-12-31"],
    ["Feb 3, 2026", "2026-02-03"],
    ["February 3rd 26", "2026-02-03"],
  ])("%s is %s", (text, day) => expect(daysInWords(text)).toEqual([day]));
  it.each(["30 Feb 2026", "31 Apr 2026", "0 May 2026", "Feb 29 2025"])("%s is no day", (text) =>
    expect(daysInWords(text)).toEqual([]),
  );
  it.each([
    "2026-02-03",
    "12 Feb",
    "Feb 2026",
    "12 Fob 2026",
    "12 February2 2026",
    "123 Feb 2026",
    "12 Feb 026",
    "12 Feb 2026 x",
    "x 12 Feb 2026",
    "12    Feb 2026",
    "12 Februar 2026",
    "Feb 32026",
  ])("%s is none", (text) => expect(daysInWords(text)).toBeUndefined());
});

describe("a date with the name of its month", () => {
  it.each(["3 Feb 2026", "3 February 2026", "3rd Feb. 26"])("%s is told as year-month-day", (text) => {
    const [message] = parseBook(`table t\n| i | on (date) |\n| r | ${text} |`).statements[2]!.messages;
    expect(message?.help).toContain("2026-02-03");
  });
});

describe("messages", () => {
  it("are sentences of their own, in plain words, with no token names in them", () => {
    for (const [source] of Object.values(CASES).flat())
      for (const { says, help } of parseFormula(source).messages) {
        expect(says).toMatch(/^[A-Z`“].*[.?]$/u);
        if (help !== undefined) expect(help).toMatch(/[.?]$/);
        expect(`${says} ${help ?? ""}`).not.toMatch(
          /token|expecting|EOF|undefined|NaN|OpenBracket|redundant/i,
        );
      }
  });
  it("are told once for one cause: a stray sign in a call makes one message", () => {
    expect(parseFormula("f(1; 2)").messages).toHaveLength(1);
    expect(parseFormula("f(€)").messages).toHaveLength(1);
  });
  it("are all told when there are several causes", () => {
    expect(parseFormula("a == b != c").messages.map(({ code }) => code)).toEqual([
      "operator-other",
      "operator-other",
    ]);
  });
});
