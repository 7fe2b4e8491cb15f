import { describe, expect, it } from "vitest";
import { parseBook, parseFormula, type SyntaxMessage } from "../../grammar";
import { fixed, marked } from "./notation";

/**
 * Messages word for word: what is marked, what is said, what to do, and what each button says and does. The corpus of
 * errors holds one book for each kind; here stand the other ways in which each kind can come.
 */

const lines = (source: string, message: SyntaxMessage): readonly string[] => [
  marked(source, message),
  message.says,
  ...(message.help === undefined ? [] : [message.help]),
  ...fixed(source, message).map((mended, i) => `${message.fixes![i]!.says} => ${mended}`),
];
const ofFormula = (source: string): readonly (readonly string[])[] =>
  parseFormula(source).messages.map((message) => lines(source, message));
/** Of a book of one line; of several lines, what is told of the last. */
function ofBook(text: string): readonly (readonly string[])[] {
  const statement = parseBook(text).statements.at(-1)!;
  const source = text.slice(statement.at, statement.at + statement.length);
  return statement.messages.map((message) => lines(source, message));
}

type Case = readonly [source: string, ...lines: readonly string[]];

const VALUE = "A value is a number, a name, a text, or a formula in brackets.";
const CHOICE = "A choice is `if condition then one else other`, and the `else` is required.";
const SEARCH = "A search is `find x from 1 to 2 so that x^2 is 2`.";
const SPAN = "A span is `x within 1 to 3`.";
const COMMENT = "A comment begins with `#`.";
const BACKTICKS = "As a name it takes backticks.";
const IN_BACKTICKS = "A name with blanks or signs in it stands in backticks.";
const FIXED =
  "In a formula `before`, `foot` and `book` always mean the same: the row before, the foot, the whole book.";
const LABEL = "A label such as `to:` stands only before an argument of a function.";
const STRAIGHT = 'A text stands between straight quotes: "like this".';
const STATEMENTS =
  "A statement begins with one of `language`, `book`, `about`, `part`, `set`, `define`, `table`, `column`, `foot`, `check`, `chart`, `step`, `seen`; a remark begins with `#`.";

const FORMULAS: Readonly<Record<string, readonly Case[]>> = {
  brackets: [
    ["(a", "bracket-open (", "The `(` is not closed.", "Each `(` needs its `)`.", "Close it with ) => (a)"],
    ["[a", "bracket-open [", "The `[` is not closed.", "Each `[` needs its `]`.", "Close it with ] => [a]"],
    [
      "(a]",
      "bracket-other ]",
      "`]` stands where `)` closes the `(`.",
      "Brackets close in the order in which they were opened.",
      "Write ) => (a)",
      "Put ) before it => (a)]",
    ],
    [
      "a]",
      "bracket-stray ]",
      "This `]` closes nothing.",
      "Take it out, or put in the bracket that opens.",
      "Take it out => a",
    ],
    ["(())", "bracket-empty ()", "There is nothing between these brackets.", "A value is expected there."],
    ["f(a,)", "value-missing )", "Between `,` and `)` a value is missing.", VALUE],
    ["f(: 3)", "value-missing :", "Behind `(` a value is expected, but `:` stands here.", VALUE],
    [
      "[where]",
      "name-reserved where",
      "`where` is a word of the language, and a value is expected here.",
      BACKTICKS,
      "Write `where` => [`where`]",
    ],
    ["[a, ]", "value-missing ]", "Between `,` and `]` a value is missing.", VALUE],
  ],
  "what is missing": [
    ["* a", "value-missing *", "At the start a value is expected, but `*` stands here.", VALUE],
    ["a +", "value-missing ^", "Behind `+` a value is expected, but nothing follows.", VALUE],
    ["", "formula-empty ^", "There is no formula here.", VALUE],
    ["# a", "formula-empty ^# a", "There is no formula here.", VALUE],
    ["if a", "word-expected ^", "Behind `a` `then` is expected, but nothing follows.", CHOICE],
    ["if a then b", "word-expected ^", "Behind `b` `else` is expected, but nothing follows.", CHOICE],
    ["find x", "word-expected ^", "Behind `x` `from` is expected, but nothing follows.", SEARCH],
    ["find", "word-expected ^", "Behind `find` a name is expected, but nothing follows.", SEARCH],
    ["find x from 1", "word-expected ^", "Behind `1` `to` is expected, but nothing follows.", SEARCH],
    ["find x from 1 to 2", "word-expected ^", "Behind `2` `so` is expected, but nothing follows.", SEARCH],
    [
      "find x from 1 to 2 so",
      "word-expected ^",
      "Behind `so` `that` is expected, but nothing follows.",
      SEARCH,
    ],
    ["a within 1", "word-expected ^", "Behind `1` `to` is expected, but nothing follows.", SPAN],
    [
      "a in 3",
      "unit-expected 3",
      "Behind `in` a unit is expected, but `3` stands here.",
      "Name the unit in which the value is shown, such as `in mL`.",
    ],
    [
      "a.",
      "part-expected ^",
      "Behind the dot a name is expected, but nothing follows.",
      "A dot leads to a column, a row or a part: `stills.juniper.volume`.",
    ],
  ],
  "what is too much": [
    [
      "a where b where c",
      "where-twice where",
      "`where` stands once in a formula.",
      "Join two conditions with `and`, or put the first list in brackets.",
    ],
    [
      "1 to 2 to 3",
      "to-twice to",
      "A range has one start and one end.",
      "A range is `1 to 10 step 2`; a label such as `to:` has its colon.",
    ],
    ["a step b", "step-alone step", "`step` stands only behind `to`.", "A range is `1 to 10 step 2`."],
    [
      "a in L in mL",
      "unit-twice in",
      "A value is shown in one unit, and this is a second.",
      "Take one of the two out.",
    ],
    ...["+", "-", "*", "/", "^", "±"].map(
      (sign): Case => [
        `1 < b + (a) in mL ${sign} 2`,
        `unit-shown ${sign}`,
        `Behind \`in mL\` the value is whole, so \`${sign}\` cannot follow.`,
        "Show the result in the unit at the end, or put the value with its unit in brackets.",
        `Put brackets around it => 1 < (b + (a) in mL) ${sign} 2`,
      ],
    ),
    [
      "a = b",
      "equals-inside =",
      "`=` gives a name its formula, and this is inside one.",
      "Two values are compared with `is`; an argument's label ends with `:`.",
      "Write is => a is b",
    ],
    [
      "a then b",
      "formula-ended then",
      "The formula is whole before `then`.",
      "Take out what stands behind it, or join it with an operator.",
    ],
    [
      "a try 2",
      "clause-misplaced try",
      "`try` stands only behind the formula of a `set`.",
      "If it is meant as a name, an operator is missing before it.",
    ],
    [
      "a ask b",
      "clause-misplaced ask",
      "`ask` stands only in a `step`.",
      "If it is meant as a name, an operator is missing before it.",
    ],
    [
      "a for b",
      "clause-misplaced for",
      "`for` stands only in a `curve` chart.",
      "If it is meant as a name, an operator is missing before it.",
    ],
    [
      "a mark b",
      "clause-misplaced mark",
      "`mark` stands only in a `curve` chart.",
      "If it is meant as a name, an operator is missing before it.",
    ],
    [
      "a wait b",
      "clause-misplaced wait",
      "`wait` stands only in a `step`.",
      "If it is meant as a name, an operator is missing before it.",
    ],
    [
      "a expect b",
      "clause-misplaced expect",
      "`expect` stands only behind `ask` in a `step`.",
      "If it is meant as a name, an operator is missing before it.",
    ],
    [
      "f(to: a: b)",
      "label-misplaced :",
      LABEL,
      "Take the colon out, or put the label directly behind `(` or `,` of the call.",
    ],
    [
      "a: 3",
      "label-misplaced :",
      LABEL,
      "Take the colon out, or put the label directly behind `(` or `,` of the call.",
    ],
    [
      "[a: 3]",
      "label-misplaced :",
      LABEL,
      "Take the colon out, or put the label directly behind `(` or `,` of the call.",
    ],
    ["(in: 3)", "label-misplaced in", LABEL, "Take the label out."],
    ["find x from to: 3", "label-misplaced to", LABEL, "Take the label out."],
  ],
  "words of the language for names": [
    [
      "to + 1",
      "name-reserved to",
      "`to` is a word of the language, and a value is expected here.",
      BACKTICKS,
      "Write `to` => `to` + 1",
    ],
    [
      "1 + step",
      "name-reserved step",
      "`step` is a word of the language, and a value is expected here.",
      BACKTICKS,
      "Write `step` => 1 + `step`",
    ],
    [
      "f(where, 2)",
      "name-reserved where",
      "`where` is a word of the language, and a value is expected here.",
      BACKTICKS,
      "Write `where` => f(`where`, 2)",
    ],
    [
      "find to from 1 to 2 so that a",
      "name-reserved to",
      "`to` is a word of the language, and a value is expected here.",
      BACKTICKS,
      "Write `to` => find `to` from 1 to 2 so that a",
    ],
    ["a + in mL", "value-missing in", "Behind `+` a value is expected, but `in` stands here.", VALUE],
    ["a + then b", "value-missing then", "Behind `+` a value is expected, but `then` stands here.", VALUE],
  ],
  "two values side by side": [
    [
      "a b",
      "operator-missing a b",
      "Between `a` and `b` an operator is missing.",
      "If the two words are one name, it stands in backticks: `a b`.",
      "Write `a b` => `a b`",
      "Multiply with * => a * b",
    ],
    [
      "`a b` c",
      "operator-missing `a b` c",
      "Between “`a b`” and `c` an operator is missing.",
      "If the two words are one name, it stands in backticks: `a b c`.",
      "Write `a b c` => `a b c`",
      "Multiply with * => `a b` * c",
    ],
    [
      "a 2 L",
      "operator-missing a 2",
      "Between `a` and `2` an operator is missing.",
      "Put an operator such as `+` or `*` between them.",
      "Multiply with * => a * 2 L",
    ],
    [
      "2 L 3",
      "operator-missing 2 L 3",
      "Between `L` and `3` an operator is missing.",
      "Put an operator such as `+` or `*` between them.",
      "Multiply with * => 2 L * 3",
    ],
    [
      'a "b"',
      'operator-missing a "b"',
      'Between `a` and `"b"` an operator is missing.',
      "Put an operator such as `+` or `*` between them.",
    ],
    [
      "f(a 2)",
      "operator-missing a 2",
      "Between `a` and `2` an operator is missing.",
      "Put an operator or a comma between them.",
      "Put a comma between => f(a, 2)",
      "Multiply with * => f(a * 2)",
    ],
    [
      '["a" "b"]',
      'operator-missing "a" "b"',
      'Between `"a"` and `"b"` an operator is missing.',
      "Put an operator or a comma between them.",
      'Put a comma between => ["a", "b"]',
    ],
    [
      "(a) 2",
      "operator-missing ) 2",
      "Between `)` and `2` an operator is missing.",
      "Put an operator such as `+` or `*` between them.",
      "Multiply with * => (a) * 2",
    ],
    [
      "2 (a)",
      "operator-missing 2 (",
      "Between `2` and `(` an operator is missing.",
      "To multiply, write `*`; nothing multiplies by standing side by side.",
      "Multiply with * => 2 * (a)",
    ],
    [
      "a.b (c)",
      "operator-missing b (",
      "Between `b` and `(` an operator is missing.",
      "To multiply, write `*`; nothing multiplies by standing side by side.",
      "Multiply with * => a.b * (c)",
    ],
    [
      "[a] g",
      "unit-behind-bracket g",
      "A unit cannot stand behind a bracket, and `g` is no operator.",
      "To show the value in a unit write `in g`; to give a plain number a unit, `* 1 g`; to multiply, `* g`.",
      "Write in => [a] in g",
      "Write * 1 => [a] * 1 g",
      "Multiply with * => [a] * g",
    ],
    [
      "true false",
      "operator-missing true false",
      "Between `true` and `false` an operator is missing.",
      "Put an operator such as `+` or `*` between them.",
      "Multiply with * => true * false",
    ],
    [
      "12 Feb 2026",
      "date-form 12 Feb 2026",
      "`12 Feb 2026` is no way to write a date here.",
      "A date is year-month-day: 2026-02-12.",
      "Write 2026-02-12 => 2026-02-12",
    ],
    [
      "30 Feb 2026",
      "date-form 30 Feb 2026",
      "`30 Feb 2026` is no way to write a date here.",
      "A date is year-month-day, such as 2026-02-03.",
    ],
  ],
  "comparisons in a row": [
    [
      "1 < x < 3",
      "comparison-chained <",
      "A comparison has two sides, and this is a third.",
      "Write `x within 1 to 3`.",
      "Write x within 1 to 3 => x within 1 to 3",
      "Write 1 < x and x < 3 => 1 < x and x < 3",
    ],
    [
      "3 ≥ x > 1",
      "comparison-chained >",
      "A comparison has two sides, and this is a third.",
      "Write `x within 1 to 3`.",
      "Write x within 1 to 3 => x within 1 to 3",
      "Write 3 ≥ x and x > 1 => 3 ≥ x and x > 1",
    ],
    [
      "1 ≤ x ≤ 3",
      "comparison-chained ≤",
      "A comparison has two sides, and this is a third.",
      "Write `x within 1 to 3`.",
      "Write x within 1 to 3 => x within 1 to 3",
      "Write 1 ≤ x and x ≤ 3 => 1 ≤ x and x ≤ 3",
    ],
    [
      "1 < x > 3",
      "comparison-chained >",
      "A comparison has two sides, and this is a third.",
      "Write `1 < x and x > 3`.",
      "Write 1 < x and x > 3 => 1 < x and x > 3",
    ],
    [
      "a is b ≠ c",
      "comparison-chained ≠",
      "A comparison has two sides, and this is a third.",
      "Write `a is b and b ≠ c`.",
      "Write a is b and b ≠ c => a is b and b ≠ c",
    ],
    [
      "a or [1] < (b) < c[ and d",
      "comparison-chained <",
      "A comparison has two sides, and this is a third.",
      "Write `(b) within [1] to c[ and d`.",
      "Write (b) within [1] to c[ and d => a or (b) within [1] to c[ and d",
      "Write [1] < (b) and (b) < c[ and d => a or [1] < (b) and (b) < c[ and d",
    ],
    [
      "if 1 < x < 3 then a else b",
      "comparison-chained <",
      "A comparison has two sides, and this is a third.",
      "Write `x within 1 to 3`.",
      "Write x within 1 to 3 => if x within 1 to 3 then a else b",
      "Write 1 < x and x < 3 => if 1 < x and x < 3 then a else b",
    ],
    [
      "1 < x <",
      "formula-ended <",
      "The formula is whole before `<`.",
      "Take out what stands behind it, or join it with an operator.",
    ],
  ],
  numbers: [
    [
      "1,234,567",
      "number-comma 1,234,567",
      "`1,234,567`: is this `1234567`, or `1, 234, 567`?",
      "The decimal sign is a point, and a blank stands behind a comma.",
      "Write 1234567 => 1234567",
      "Write 1, 234, 567 => 1, 234, 567",
    ],
    [
      "1.234.567,8",
      "number-points 1.234.567",
      "`1.234.567` has more than one point.",
      "A number has one decimal point.",
    ],
    [
      "1.234,8",
      "number-comma 1.234,8",
      "`1.234,8`: is this `1234.8`, or `1.234, 8`?",
      "The decimal sign is a point, and a blank stands behind a comma.",
      "Write 1234.8 => 1234.8",
      "Write 1.234, 8 => 1.234, 8",
    ],
    [
      "12,5 kg / 2",
      "number-comma 12,5",
      "`12,5`: is this `12.5`, or `12, 5`?",
      "The decimal sign is a point, and a blank stands behind a comma.",
      "Write 12.5 => 12.5 kg / 2",
      "Write 12, 5 => 12, 5 kg / 2",
    ],
    [
      "1 234.5 g",
      "number-grouped 1 234.5",
      "The digits of `1 234.5` are set apart.",
      "Digits are written without a gap.",
      "Write 1234.5 => 1234.5 g",
    ],
    [
      "1__0_0",
      "number-grouped 1__0_0",
      "The digits of `1__0_0` are set apart.",
      "Digits are written without a gap.",
      "Write 100 => 100",
    ],
    [
      ".5e-3",
      "number-point .5e-3",
      "`.5e-3` begins with a point.",
      "A number begins with a digit.",
      "Write 0.5e-3 => 0.5e-3",
    ],
    [
      "5.",
      "number-point 5.",
      "`5.` ends with a point.",
      "A digit stands behind the decimal point.",
      "Write 5 => 5",
    ],
    [
      "1.5. + 2",
      "number-point 1.5.",
      "`1.5.` ends with a point.",
      "A digit stands behind the decimal point.",
      "Write 1.5 => 1.5 + 2",
    ],
    ["1 ¼ L", "number-fraction 1 ¼", "`1 ¼` holds a fraction sign.", "Write `1.25`.", "Write 1.25 => 1.25 L"],
    [
      "3⅙",
      "number-fraction 3⅙",
      "`3⅙` holds a fraction sign.",
      "Write `(3 + 1 / 6)`.",
      "Write (3 + 1 / 6) => (3 + 1 / 6)",
    ],
    ["⅞ L", "number-fraction ⅞", "`⅞` is no number here.", "Write `0.875`.", "Write 0.875 => 0.875 L"],
    [
      "3/4 L",
      "number-ratio 3/4 L",
      "`3/4 L`: is this `0.75 L`, or 3 divided by 4 L?",
      "Write `0.75 L`, or `3 / 4 L` with blanks around the stroke to divide.",
      "Write 0.75 L => 0.75 L",
      "Write 3 / 4 L => 3 / 4 L",
    ],
    [
      "2/7 % vol",
      "number-ratio 2/7 % vol",
      "`2/7 % vol`: is this `2 / 7 * 1 % vol`, or 2 divided by 7 % vol?",
      "Write `2 / 7 * 1 % vol`, or `2 / 7 % vol` with blanks around the stroke to divide.",
      "Write 2 / 7 * 1 % vol => 2 / 7 * 1 % vol",
      "Write 2 / 7 % vol => 2 / 7 % vol",
    ],
    [
      "1e40",
      "number-long 1e40",
      "`1e40` has more than 34 digits when it is written out.",
      "Use a larger or a smaller unit.",
    ],
    [
      "2026-02-30",
      "date-impossible 2026-02-30",
      "There is no day `2026-02-30`.",
      "A date is year-month-day.",
    ],
    [
      "30/2/2026",
      "date-form 30/2/2026",
      "`30/2/2026` is no way to write a date here.",
      "A date is year-month-day, such as 2026-02-03. To reckon with the numbers, write `30 / 2 / 2026`.",
      "Write 30 / 2 / 2026 => 30 / 2 / 2026",
    ],
    [
      "30.2.2026",
      "date-form 30.2.2026",
      "`30.2.2026` is no way to write a date here.",
      "A date is year-month-day, such as 2026-02-03.",
    ],
  ],
  money: [
    [
      "5€",
      "currency-sign €",
      "Money carries the code of its currency, not `€`.",
      "Write `EUR`.",
      "Write EUR => 5 EUR",
    ],
    [
      "5 £/L",
      "currency-sign £/L",
      "Money carries the code of its currency, not `£`.",
      "Write `GBP/L`.",
      "Write GBP/L => 5 GBP/L",
    ],
    [
      "a in €/kg + b",
      "currency-sign €/kg",
      "Money carries the code of its currency, not `€`.",
      "Write `EUR/kg`.",
      "Write EUR/kg => a in EUR/kg + b",
    ],
    [
      "€ 5.50",
      "currency-sign € 5.50",
      "Money carries the code of its currency, not `€`.",
      "Write `5.50 EUR`.",
      "Write 5.50 EUR => 5.50 EUR",
    ],
    [
      "5 ¥",
      "currency-sign ¥",
      "Money carries the code of its currency, not `¥`.",
      "Write `JPY` or `CNY`.",
      "Write JPY => 5 JPY",
      "Write CNY => 5 CNY",
    ],
    [
      "20 ¢",
      "currency-sign ¢",
      "`¢` is no unit.",
      "Write the amount with the code of its currency, such as `0.20 USD`.",
    ],
  ],
  "signs and quotes": [
    [
      "a==b",
      "operator-other ==",
      "Two values are compared with `is`, not `==`.",
      "Write `is`.",
      "Write is => a is b",
    ],
    [
      "a === b",
      "operator-other ===",
      "Two values are compared with `is`, not `===`.",
      "Write `is`.",
      "Write is => a is b",
    ],
    [
      "a!==b",
      "operator-other !==",
      "Two values are told apart with `is not`, not `!==`.",
      "Write `is not`.",
      "Write is not => a is not b",
    ],
    [
      "a&&b",
      "operator-other &&",
      "Two conditions are joined with `and`, not `&&`.",
      "Write `and`.",
      "Write and => a and b",
    ],
    [
      "a & b",
      "operator-other &",
      "Two conditions are joined with `and`, not `&`.",
      "Write `and`.",
      "Write and => a and b",
    ],
    [
      "a||b",
      "operator-other ||",
      "Two conditions are joined with `or`, not `||`.",
      "Write `or`.",
      "Write or => a or b",
    ],
    [
      "!a",
      "operator-other !",
      "A condition is turned round with `not`, not `!`.",
      "Write `not`.",
      "Write not => not a",
    ],
    [
      "a =< b",
      "operator-other =<",
      "At most is written `<=`, not `=<`.",
      "Write `<=`.",
      "Write <= => a <= b",
    ],
    ["a=>b", "operator-other =>", "At least is written `>=`, not `=>`.", "Write `>=`.", "Write >= => a>=b"],
    ["2**3", "operator-other **", "A power is written `^`, not `**`.", "Write `^`.", "Write ^ => 2^3"],
    [
      "a := b",
      "operator-other :=",
      "A name is given its value with `=`, not `:=`.",
      "Write `=`.",
      "Write = => a = b",
    ],
    [
      "f(a;b)",
      "operator-other ;",
      "Arguments are set apart with `,`, not `;`.",
      "Write `,`.",
      "Write , => f(a,b)",
    ],
    ["a->b", "operator-other ->", "`->` means nothing in a formula.", "Take it out.", "Take it out => ab"],
    [
      "a≈b",
      "character-lookalike ≈",
      "`≈` is written `is` in a formula.",
      "Write `is`.",
      "Write is => a is b",
    ],
    [
      "√x",
      "character-lookalike √",
      "`√` is written `sqrt` in a formula.",
      "The square root of x is `sqrt(x)`.",
      "Write sqrt => sqrt x",
    ],
    ["a＊b", "character-lookalike ＊", "`＊` is written `*` in a formula.", "Write `*`.", "Write * => a*b"],
    [
      "x ‰",
      "unit-alone ‰",
      "The unit `‰` does not stand behind a number.",
      "To show a value in it write `in ‰`; to give a plain number the unit, `* 1 ‰`.",
      "Write in ‰ => x in ‰",
      "Write * 1 ‰ => x * 1 ‰",
    ],
    ["“a” b", "quote-curly “a”", "`“a”` stands in curly quotes.", STRAIGHT, 'Write straight quotes => "a" b'],
    ["„a‟", "quote-curly „a‟", "`„a‟` stands in curly quotes.", STRAIGHT, 'Write straight quotes => "a"'],
    ["«a»", "quote-curly «a»", "`«a»` stands in curly quotes.", STRAIGHT, 'Write straight quotes => "a"'],
    ["“a", "quote-curly “a", "`“a` stands in curly quotes.", STRAIGHT, 'Write straight quotes => "a"'],
    ["a'", "quote-single '", "`'` is no text.", 'A text stands between straight double quotes: "like this".'],
    [
      "‚a’",
      "quote-single ‚a’",
      "`‚a’` is no text.",
      'A text stands between straight double quotes: "like this".',
      'Write "a" => "a"',
    ],
    [
      '"a',
      'text-open "a',
      'The text `"a` is not closed.',
      'A text ends with " on the line on which it began.',
      'Close it with " => "a"',
    ],
    [
      '"a„',
      "quote-curly „",
      'The text opens with " and is closed with „.',
      STRAIGHT,
      'Write " instead => "a"',
    ],
    [
      '"a {b',
      "brace-open {",
      "This `{` is not closed before the text ends.",
      "Close the formula with `}`; a brace that is meant as such is written `\\{`.",
    ],
    [
      '"a } b"',
      "brace-stray }",
      "This `}` closes nothing.",
      "Braces hold a formula; a brace that is meant as such is written `\\}`.",
      'Write \\} => "a \\} b"',
    ],
    [
      '"a { } b"',
      "brace-empty { }",
      "There is no formula in these braces.",
      "Braces that are meant as such are written `\\{` and `\\}`.",
    ],
    [
      '"\\n"',
      "text-escape \\n",
      "`\\n` means nothing in a text.",
      'A backslash stands only before `"`, `\\`, `{`, `}` and `|`.',
      'Write \\\\ => "\\\\n"',
    ],
    [
      '"\\😀"',
      "text-escape \\😀",
      "`\\😀` means nothing in a text.",
      'A backslash stands only before `"`, `\\`, `{`, `}` and `|`.',
      'Write \\\\ => "\\\\😀"',
    ],
    [
      "`a + b",
      "name-open `a + b",
      "The name “`a + b” has no second backtick.",
      "A name in backticks ends on its line.",
    ],
    ["`` + b", "name-empty ``", "There is nothing between the backticks.", "A name has at least one letter."],
    [
      "}",
      "brace-outside }",
      "`}` stands outside a text.",
      "Braces hold a formula inside a text; a formula itself uses `(` and `)`.",
    ],
    ["|", "bar-outside |", "A `|` stands outside a row.", "A row of a table begins with `|`."],
    [
      "@12345678",
      "mark-outside @12345678",
      "A mark stands only in `seen`.",
      "A mark is `@` and eight hexadecimal digits.",
    ],
    ["@123456789", "mark-form @123456789", "This is no mark.", "A mark is `@` and eight hexadecimal digits."],
    ["@1234567g", "mark-form @1234567g", "This is no mark.", "A mark is `@` and eight hexadecimal digits."],
    [
      "a ? b",
      "character-unknown ?",
      "`?` (U+003F) means nothing in a formula.",
      "If it belongs to a name, the name stands in backticks; if it belongs to a text, the text stands in quotes.",
    ],
    [
      "a 😀 b",
      "character-unknown 😀",
      "`😀` (U+1F600) means nothing in a formula.",
      "If it belongs to a name, the name stands in backticks; if it belongs to a text, the text stands in quotes.",
    ],
    [
      "a \u00AD b",
      "character-unknown \u00AD",
      "The character U+00AD means nothing in a formula.",
      "If it belongs to a name, the name stands in backticks; if it belongs to a text, the text stands in quotes.",
    ],
    [
      "a \u200B b",
      "character-unseen \u200B",
      "Here stands a blank of no width (U+200B), which cannot be seen.",
      "Such a character makes a line read differently from how it looks. Take it out.",
      "Take it out => a  b",
    ],
  ],
  "what is too long to be shown in full": [
    [
      `${"a".repeat(40)} b`,
      `operator-missing ${"a".repeat(40)} b`,
      `Between \`${"a".repeat(40)}\` and \`b\` an operator is missing.`,
      `If the two words are one name, it stands in backticks: \`${"a".repeat(40)} b\`.`,
      `Write \`${"a".repeat(38)}… => \`${"a".repeat(40)} b\``,
      `Multiply with * => ${"a".repeat(40)} * b`,
    ],
    [
      `${"a".repeat(41)} 3`,
      `operator-missing ${"a".repeat(41)} 3`,
      `Between \`${"a".repeat(39)}…\` and \`3\` an operator is missing.`,
      "Put an operator such as `+` or `*` between them.",
      `Multiply with * => ${"a".repeat(41)} * 3`,
    ],
    [
      `"${"😀".repeat(41)}`,
      `text-open "${"😀".repeat(41)}`,
      `The text \`"${"😀".repeat(38)}…\` is not closed.`,
      'A text ends with " on the line on which it began.',
      `Close it with " => "${"😀".repeat(41)}"`,
    ],
  ],
};

for (const [group, cases] of Object.entries(FORMULAS))
  describe(group, () => {
    for (const [source, ...telling] of cases)
      it(JSON.stringify(source), () => expect(ofFormula(source)).toEqual([telling]));
  });

const STATEMENT_CASES: Readonly<Record<string, readonly Case[]>> = {
  "the fixed part of a statement": [
    [
      "language",
      "statement-shape ^",
      "Behind `language` a number is expected, but nothing follows.",
      "The whole looks like `language 1`.",
    ],
    [
      "about 3",
      "statement-shape 3",
      "Behind `about` a text in quotes is expected, but `3` stands here.",
      'The whole looks like `about "Title"`.',
    ],
    [
      "part",
      "statement-shape ^",
      "Behind `part` a text in quotes is expected, but nothing follows.",
      'The whole looks like `part "Title"`.',
    ],
    [
      "set",
      "statement-shape ^",
      "Behind `set` a name is expected, but nothing follows.",
      "The whole looks like `set name = formula`.",
    ],
    [
      "set a",
      "statement-shape ^",
      "Behind `a` `=` is expected, but nothing follows.",
      "The whole looks like `set name = formula`.",
    ],
    [
      "set 3 = a",
      "statement-shape 3",
      "Behind `set` a name is expected, but `3` stands here.",
      "The whole looks like `set name = formula`.",
    ],
    [
      "set where = 3",
      "name-reserved where",
      "`where` is a word of the language.",
      BACKTICKS,
      "Write `where` => set `where` = 3",
    ],
    [
      "define f = 3",
      "statement-shape =",
      "Behind `f` `(` is expected, but `=` stands here.",
      "The whole looks like `define name(a, b) = formula`.",
    ],
    [
      "define f(3) = a",
      "statement-shape 3",
      "Behind `(` a parameter's name is expected, but `3` stands here.",
      "The whole looks like `define name(a, b) = formula`.",
    ],
    [
      "define f(a, ) = a",
      "statement-shape )",
      "Behind `,` a name is expected, but `)` stands here.",
      "The whole looks like `define name(a, b) = formula`.",
    ],
    [
      "define f(if) = a",
      "name-reserved if",
      "`if` is a word of the language.",
      BACKTICKS,
      "Write `if` => define f(`if`) = a",
    ],
    [
      "define f(a) 3",
      "statement-shape 3",
      "Behind `)` `=` is expected, but `3` stands here.",
      "The whole looks like `define name(a, b) = formula`.",
    ],
    [
      "table",
      "statement-shape ^",
      "Behind `table` a name is expected, but nothing follows.",
      'The whole looks like `table name "Title"`.',
    ],
    [
      "table in",
      "name-reserved in",
      "`in` is a word of the language.",
      BACKTICKS,
      "Write `in` => table `in`",
    ],
    [
      "table t\n| i |\ncolumn",
      "statement-shape ^",
      "Behind `column` a name is expected, but nothing follows.",
      "The whole looks like `column name = formula`.",
    ],
    [
      "table t\n| i |\nfoot i",
      "statement-shape ^",
      "Behind `i` `=` is expected, but nothing follows.",
      "The whole looks like `column name = formula`.",
    ],
    [
      'chart "x" bars a by b',
      "statement-shape bars",
      'Behind `"x"` `:` is expected, but `bars` stands here.',
      'The whole looks like `chart "Title" : bars what by name`.',
      'Write a colon => chart "x" : bars a by b',
    ],
    [
      'chart "x"',
      "statement-shape ^",
      'Behind `"x"` `:` is expected, but nothing follows.',
      'The whole looks like `chart "Title" : bars what by name`.',
      'Write a colon => chart "x" :',
    ],
    [
      'chart "x" :',
      "statement-shape ^",
      "Behind `:` `bars`, `line`, `dots` or `curve` is expected, but nothing follows.",
      'The whole looks like `chart "Title" : bars what by name`.',
    ],
    [
      'chart "x" : dots a',
      "statement-shape ^",
      "Behind `a` `by` is expected, but nothing follows.",
      'The whole looks like `chart "Title" : bars what by name`.',
    ],
    [
      'chart "x" : curve a for 3',
      "statement-shape 3",
      "Behind `for` a name is expected, but `3` stands here.",
      'The whole looks like `chart "Title" : curve what for x from 1 to 2`.',
    ],
    [
      'chart "x" : curve a for to',
      "name-reserved to",
      "`to` is a word of the language.",
      BACKTICKS,
      'Write `to` => chart "x" : curve a for `to`',
    ],
    [
      'chart "x" : curve a for x from 1',
      "statement-shape ^",
      "Behind `1` `to` is expected, but nothing follows.",
      'The whole looks like `chart "Title" : curve what for x from 1 to 2`.',
    ],
    [
      "step a",
      "statement-shape a",
      "Behind `step` a text in quotes is expected, but `a` stands here.",
      'The whole looks like `step "What to do."`.',
    ],
    [
      "seen a",
      "statement-shape ^",
      "Behind `a` a mark such as `@2ffcfed6` is expected, but nothing follows.",
      "The whole looks like `seen name @2ffcfed6`.",
    ],
  ],
  "names of several words": [
    [
      "set a b = 3",
      "name-spaced a b",
      "`a b` is no single word.",
      IN_BACKTICKS,
      "Write `a b` => set `a b` = 3",
      "Write a_b => set a_b = 3",
    ],
    [
      "set a - b.c = 3",
      "name-spaced a - b.c",
      "`a - b.c` is no single word.",
      IN_BACKTICKS,
      "Write `a - b.c` => set `a - b.c` = 3",
      "Write a_b_c => set a_b_c = 3",
    ],
    [
      "set a 2 = 3",
      "name-spaced a 2",
      "`a 2` is no single word.",
      IN_BACKTICKS,
      "Write `a 2` => set `a 2` = 3",
      "Write a_2 => set a_2 = 3",
    ],
    [
      "table t\n| i |\ncolumn a b = 3",
      "name-spaced a b",
      "`a b` is no single word.",
      IN_BACKTICKS,
      "Write `a b` => column `a b` = 3",
      "Write a_b => column a_b = 3",
    ],
    [
      "set a `b` = 3",
      "statement-shape `b`",
      "Behind `a` `=` is expected, but “`b`” stands here.",
      "The whole looks like `set name = formula`.",
    ],
    [
      "set a + b = 3",
      "statement-shape +",
      "Behind `a` `=` is expected, but `+` stands here.",
      "The whole looks like `set name = formula`.",
    ],
    [
      "set a b",
      "statement-shape b",
      "Behind `a` `=` is expected, but `b` stands here.",
      "The whole looks like `set name = formula`.",
    ],
  ],
  "names that are taken by the language": [
    ["set before = 1", "name-fixed before", "`before` cannot name a set.", FIXED],
    ["table t\n| i |\ncolumn book = 1", "name-fixed book", "`book` cannot name a column.", FIXED],
    ["table t\n| before | x |", "name-fixed before", "`before` cannot name a column.", FIXED],
    ["table t\n| i | x |\n| foot | 1 |", "name-fixed foot", "`foot` cannot name a row.", FIXED],
  ],
  "words that begin no statement": [
    [
      "Check a",
      "statement-capital Check",
      "`Check` begins with a capital.",
      "The first word of a statement is written small.",
      "Write check => check a",
    ],
    [
      "SET a = 1",
      "statement-capital SET",
      "`SET` begins with a capital.",
      "The first word of a statement is written small.",
      "Write set => set a = 1",
    ],
    [
      "colum a = 1",
      "statement-unknown colum",
      "`colum` begins no statement; `column` is near.",
      STATEMENTS,
      "Write column => column a = 1",
    ],
    [
      "juniper",
      "statement-unknown juniper",
      "`juniper` begins no statement.",
      STATEMENTS,
      "Make it a comment => # juniper",
    ],
    [
      "3 L",
      "statement-unknown 3",
      "A statement begins with a word, and `3` is none.",
      STATEMENTS,
      "Make it a comment => # 3 L",
    ],
    [
      "😀",
      "statement-unknown \ud83d",
      "A statement begins with a word, and `😀` is none.",
      STATEMENTS,
      "Make it a comment => # 😀",
    ],
    [
      "a := 3",
      "statement-set a",
      "`a` is given a value without `set`.",
      "A value of its own begins with `set`; a column of a table begins with `column`.",
      "Write set => set a := 3",
      "Write column => column a := 3",
    ],
    [
      "`a b` = 3",
      "statement-set `",
      "“`a b` = 3” is given a value without `set`.",
      "A value of its own begins with `set`; a column of a table begins with `column`.",
      "Write set => set `a b` = 3",
      "Write column => column `a b` = 3",
    ],
    [
      "juniper == 3",
      "statement-unknown juniper",
      "`juniper` begins no statement.",
      STATEMENTS,
      "Make it a comment => # juniper == 3",
    ],
    [
      "a\u200Bb = 3",
      "character-unseen \u200B",
      "Here stands a blank of no width (U+200B), which cannot be seen.",
      "Such a character makes a line read differently from how it looks. Take it out.",
      "Take it out => ab = 3",
    ],
  ],
  "what stands behind the end of a statement": [
    [
      'book "a" b',
      "statement-ended b",
      'Behind `"a"` the statement is whole, and `b` has no place.',
      COMMENT,
    ],
    [
      'part "a" "b"',
      'statement-ended "b"',
      'Behind `"a"` the statement is whole, and `"b"` has no place.',
      COMMENT,
    ],
    [
      'table t "a" 3',
      "statement-ended 3",
      'Behind `"a"` the statement is whole, and `3` has no place.',
      COMMENT,
    ],
    [
      'seen a @00000000 "a" b',
      "statement-ended b",
      'Behind `"a"` the statement is whole, and `b` has no place.',
      COMMENT,
    ],
    [
      "seen a @00000000 b",
      "statement-ended b",
      "Behind the mark a text in quotes may stand, and `b` is none.",
    ],
    [
      'step "a" b',
      "statement-ended b",
      "Behind the text of a step stand only `wait` and `ask`, not `b`.",
      COMMENT,
    ],
    [
      'check "b" c',
      'operator-missing "b" c',
      'Between `"b"` and `c` an operator is missing.',
      "Put an operator such as `+` or `*` between them.",
    ],
    [
      'step "a" ask b expect "c" d',
      'operator-missing "c" d',
      'Between `"c"` and `d` an operator is missing.',
      "Put an operator such as `+` or `*` between them.",
    ],
    [
      'check a > "b" c',
      'operator-missing "b" c',
      'Between `"b"` and `c` an operator is missing.',
      "Put an operator such as `+` or `*` between them.",
    ],
    [
      'check a "b"',
      'colon-missing "b"',
      'A `:` is missing before `"b"`.',
      'A check is `check formula : "what it means"`.',
      'Write a colon => check a : "b"',
    ],
    [
      'check a : "b" "c"',
      'colon-missing "c"',
      'A `:` is missing before `"c"`.',
      'A check is `check formula : "what it means"`.',
      'Write a colon => check a : "b" : "c"',
    ],
    ["check a : b", "word-expected b", "Behind `:` a text is expected, but `b` stands here."],
    ['chart "x" : bars a by b for c', "clause-misplaced for", "`for` stands only in a `curve` chart."],
    ['step "x" ask a by b', "clause-misplaced by", "`by` stands only in a `chart`."],
    [
      "set a = b by c",
      "clause-misplaced by",
      "`by` stands only in a `chart`.",
      "If it is meant as a name, an operator is missing before it.",
    ],
    [
      "set a = 1 try 2 to 3 to 4",
      "to-twice to",
      "A range has one start and one end.",
      "A range is `1 to 10 step 2`; a label such as `to:` has its colon.",
    ],
  ],
  "what a statement forbids": [
    [
      "set a = b + 1 try 2",
      "try-computed b + 1",
      "`try` needs a plain quantity or text to move, and this is computed.",
      "Moving the slider rewrites just that quantity. Give it a `set` of its own, and compute with its name.",
    ],
    [
      'set a = "x {b}" try 2',
      'try-computed "x {b}"',
      "`try` needs a plain quantity or text to move, and this is computed.",
      "Moving the slider rewrites just that quantity. Give it a `set` of its own, and compute with its name.",
    ],
    [
      "set a = 2 ± b try 2",
      "try-computed 2 ± b",
      "`try` needs a plain quantity or text to move, and this is computed.",
      "Moving the slider rewrites just that quantity. Give it a `set` of its own, and compute with its name.",
    ],
    [
      "set a = b ± 2 try 2",
      "try-computed b ± 2",
      "`try` needs a plain quantity or text to move, and this is computed.",
      "Moving the slider rewrites just that quantity. Give it a `set` of its own, and compute with its name.",
    ],
    [
      "define f(a, b, a) = 1",
      "parameter-twice a",
      "Two parameters are named `a`.",
      "Every parameter has a name of its own.",
    ],
    [
      'step "x" ask [a].2',
      "path-expected [a].2",
      "`ask` names a value or a column, and this is something else.",
      "Write a name, or names joined with dots.",
    ],
    [
      "seen [a] @00000000",
      "path-expected [a]",
      "`seen` names a value, a column, a cell or a definition, and this is something else.",
      "Write a name, or names joined with dots.",
    ],
    [
      "language 2",
      "language-newer language 2",
      "This book is written in version 2 of the language, and version 1 is known here.",
      "Open it with a newer release; what this one can read is shown, but it may be wrong.",
    ],
    [
      "language 1.5",
      "language-unknown language 1.5",
      "There is no such version of the language.",
      "Write `language 1`.",
      "Write language 1 => language 1",
    ],
    [
      "language 0",
      "language-unknown language 0",
      "There is no such version of the language.",
      "Write `language 1`.",
      "Write language 1 => language 1",
    ],
    [
      "set a = 1\nlanguage 1",
      "language-place language 1",
      "`language` stands in the first line of a book.",
      "Move it up, or take it out.",
    ],
    [
      'book "a {b} {c"',
      "brace-open {",
      "This `{` is not closed before the text ends.",
      "Close the formula with `}`; a brace that is meant as such is written `\\{`.",
    ],
    [
      'check a : "x {b + } {c}"',
      "title-brace {",
      "This text is plain, and its `{` would open a formula.",
      "Formulas in braces stand in the text of a step, or in a text inside a formula.",
      'Write the braces as \\{ and \\} => check a : "x \\{b + \\} \\{c\\}"',
    ],
  ],
  "rows, rulers, columns and feet in the wrong place": [
    [
      "| a |",
      "row-homeless | a |",
      "This row belongs to no table.",
      "A table begins with `table name`, and its rows follow.",
      "Begin a table here => table table_1\n| a |",
    ],
    [
      "column a = 1",
      "column-homeless column a = 1",
      "This `column` belongs to no table.",
      "It stands under the rows of its table. A value of its own begins with `set`.",
      "Write set => set a = 1",
    ],
    [
      "foot a = 1",
      "column-homeless foot a = 1",
      "This `foot` belongs to no table.",
      "It stands under the rows of its table. A value of its own begins with `set`.",
    ],
    [
      "table t",
      "heading-missing t",
      "The table `t` has no heading.",
      "Under `table` stands a row that names the columns: `| item | volume (mL) |`.",
    ],
    [
      "table t\n| i |\n| a |\n|---|",
      "ruler-place |---|",
      "A row of dashes stands only directly under the heading.",
      "Take it out.",
    ],
    [
      "table t\n| i |\ncolumn x = 1\n| a |",
      "row-late | a |",
      "This row stands behind `column` in line 3, so its values are not used.",
      "The rows of a table stand together directly under its heading. Move the row up.",
    ],
    [
      "table t\n| i |\n| a |\nset x = (\nset y = 1\n| b |",
      "row-late | b |",
      "This row stands behind `set` in line 4, so its values are not used.",
      "The rows of a table stand together directly under its heading. Move the row up.",
    ],
    [
      "table t\n| i |\nhello\n| b |",
      "row-late | b |",
      "This row stands behind `a statement that cannot be read` in line 3, so its values are not used.",
      "The rows of a table stand together directly under its heading. Move the row up.",
    ],
  ],
  headings: [
    ["table t\n| a | |", "heading-empty ^|", "A column has no name.", "Every heading names its column."],
    [
      "table t\n| a | b | a (mL) |",
      "heading-twice a",
      "Two columns are named `a`.",
      "Every column has a name of its own.",
    ],
    [
      "table t\n| a | `b` (mL) |",
      "heading-backticks `b` (mL)",
      "“`b` (mL)” is not one name in backticks.",
      "A heading in backticks is the name alone; a heading with a unit is written plainly, such as `volume (mL)`.",
    ],
    [
      "table t\n| a | ` |",
      "heading-backticks `",
      "“`” is not one name in backticks.",
      "A heading in backticks is the name alone; a heading with a unit is written plainly, such as `volume (mL)`.",
    ],
    [
      "table t\n| a | b (2 x) |",
      "heading-bracket (2 x)",
      "`(2 x)` is neither a unit nor one of `number`, `text`, `date`.",
      "A name that ends in a bracket stands in backticks.",
      "Write `b (2 x)` => | a | `b (2 x)` |",
    ],
    [
      "table t\n| a | b () |",
      "heading-bracket ()",
      "`()` is neither a unit nor one of `number`, `text`, `date`.",
      "A name that ends in a bracket stands in backticks.",
      "Write `b ()` => | a | `b ()` |",
    ],
    [
      "table t\n| a | b (£/L) |",
      "currency-sign £/L",
      "Money carries the code of its currency, not `£`.",
      "Write `GBP/L`.",
      "Write GBP/L => | a | b (GBP/L) |",
    ],
    [
      "table t\n| a | b ($) |",
      "currency-sign $",
      "Money carries the code of its currency, not `$`.",
      "Write `USD` or `CAD` or `AUD` or `NZD`.",
      "Write USD => | a | b (USD) |",
      "Write CAD => | a | b (CAD) |",
      "Write AUD => | a | b (AUD) |",
      "Write NZD => | a | b (NZD) |",
    ],
    [
      "table t\n| a | b",
      "row-open ^",
      "The row does not end with a `|`.",
      "Every row begins and ends with a bar; a comment behind it holds no bar.",
      "Close the row with | => | a | b |",
    ],
  ],
  rows: [
    [
      "table t\n| a | b |\n| x | 1",
      "row-open ^",
      "The row does not end with a `|`.",
      "Every row begins and ends with a bar; a comment behind it holds no bar.",
      "Close the row with | => | x | 1 |",
    ],
    [
      "table t\n| a | b |\n| x | 1 | 2 | 3 |",
      "row-cells  2 | 3 ",
      "The row has 4 cells, and the table 2 columns.",
      "A bar inside a cell is written `\\|`.",
    ],
    [
      "table t\n| a |\n| x | 1 |",
      "row-cells  1 ",
      "The row has 2 cells, and the table 1 column.",
      "A bar inside a cell is written `\\|`.",
    ],
    [
      "table t\n| a |\n| x | # c | d",
      "row-cells  # c | d",
      "The row has 3 cells, and the table 1 column.",
      "A comment behind a row holds no bar; a bar inside a cell is written `\\|`.",
    ],
    [
      "table t\n| a | b | c |\n| x |",
      "row-cells ^",
      "The row ends before `b`, `c`.",
      "Every row has a cell for each heading; leave it empty when its value is not known.",
      "Add the empty cells => | x |  |  |",
    ],
    [
      "table t\n| a | = |\n| = 3 | 1 |",
      "cell-named = 3",
      "The first column names the row, so this is taken as its name.",
      "A computed value stands in another column.",
    ],
  ],
  cells: (
    [
      [
        "12,5",
        "number-comma 12,5",
        "`12,5` is written with a comma.",
        "The decimal sign is a point: `12.5`.",
        "Write 12.5 => 12.5",
      ],
      [
        "1,000",
        "number-comma 1,000",
        "`1,000`: is this `1.000`, or `1000`?",
        "The decimal sign is a point, and digits are written without a gap.",
        "Write 1.000 => 1.000",
        "Write 1000 => 1000",
      ],
      [
        "1,2,3",
        "number-comma 1,2,3",
        "`1,2,3` is no number.",
        "The decimal sign is a point, and digits are written without a gap.",
      ],
      [
        "12,5 mL",
        "number-comma 12,5",
        "`12,5` is written with a comma.",
        "The decimal sign is a point: `12.5`.",
        "Write 12.5 => 12.5 mL",
      ],
      [
        "2 eggs more",
        "cell-remark 2 eggs more",
        "`2 eggs more` begins like a number and goes on as something else.",
        "A cell that begins with a digit holds a quantity or a date. When it is a remark put it in quotes, or head the column `(text)`.",
        'Write "2 eggs more" => "2 eggs more"',
      ],
      [
        "2 * 3",
        "cell-remark 2 * 3",
        "`2 * 3` begins like a number and goes on as something else.",
        "A cell that is to be computed begins with `=`. When it is a remark put it in quotes, or head the column `(text)`.",
        "Write = 2 * 3 => = 2 * 3",
        'Write "2 * 3" => "2 * 3"',
      ],
      [
        '2 x "y" \\ z',
        'cell-remark 2 x "y" \\ z',
        '`2 x "y" \\ z` begins like a number and goes on as something else.',
        "A cell that begins with a digit holds a quantity or a date. When it is a remark put it in quotes, or head the column `(text)`.",
        'Write "2 x \\"y\\" \\\\ z" => "2 x \\"y\\" \\\\ z"',
      ],
      [
        "3.2.2026",
        "date-form 3.2.2026",
        "`3.2.2026` is no way to write a date here.",
        "A date is year-month-day: is it 2026-02-03 or 2026-03-02?",
        "Write 2026-02-03 => 2026-02-03",
        "Write 2026-03-02 => 2026-03-02",
      ],
      [
        '"a" b',
        "cell-text  b",
        "Something stands behind the text of this cell.",
        'A `"` inside a text is written `\\"`.',
      ],
      [
        '"a',
        'text-open "a',
        'The text `"a` is not closed.',
        'A text that begins with `"` ends with `"` in its cell.',
        'Close it with " => "a"',
      ],
      [
        "“a”",
        "quote-curly “a”",
        "`“a”` stands in curly quotes.",
        "A text in a cell needs no quotes, or straight ones.",
        'Write straight quotes => "a"',
      ],
      [
        "= a # b",
        "comment-inside #",
        "A comment cannot stand here.",
        "A comment stands at the end of a line, outside texts and cells.",
      ],
      [
        "= 12 Feb 2026",
        "date-form 12 Feb 2026",
        "`12 Feb 2026` is no way to write a date here.",
        "A date is year-month-day: 2026-02-12.",
        "Write 2026-02-12 => = 2026-02-12",
      ],
      [
        "= a b",
        "operator-missing a b",
        "Between `a` and `b` an operator is missing.",
        "If the two words are one name, it stands in backticks: `a b`.",
        "Write `a b` => = `a b`",
        "Multiply with * => = a * b",
      ],
      [
        "= 1 < x < 3",
        "comparison-chained <",
        "A comparison has two sides, and this is a third.",
        "Write `x within 1 to 3`.",
        "Write x within 1 to 3 => = x within 1 to 3",
        "Write 1 < x and x < 3 => = 1 < x and x < 3",
      ],
      ["=", "value-missing ^ |", "Behind `=` a value is expected, but nothing follows.", VALUE],
    ] as readonly Case[]
  ).map(
    ([cell, marks, says, ...rest]): Case => [
      `table t\n| i | x |\n| a | ${cell} |`,
      marks!,
      says!,
      ...rest.map((line) =>
        line.includes(" => ") ? `${line.replace(/ => (.*)$/s, " => | a | $1 |")}` : line,
      ),
    ],
  ),
};

for (const [group, cases] of Object.entries(STATEMENT_CASES))
  describe(group, () => {
    for (const [source, ...telling] of cases)
      it(JSON.stringify(source), () => expect(ofBook(source)).toEqual([telling]));
  });

describe("a button", () => {
  /** Codes whose one fix is the one thing that can be meant, so that one click may apply it. */
  const CERTAIN = new Set([
    ...["number-grouped", "number-point", "number-fraction", "operator-other", "character-lookalike"],
    ...["quote-curly", "quote-single", "currency-sign", "title-brace", "brace-stray", "character-unseen"],
    ...["colon-missing", "statement-shape", "row-open", "language-unknown", "statement-capital"],
  ]);
  const sure = (source: string, { code, says, fixes = [] }: SyntaxMessage): readonly boolean[] => {
    if (code === "name-spaced") return [true, false];
    if (code === "name-reserved") return [says.endsWith("is a word of the language.")];
    if (code === "number-comma") return fixes.map(() => says.endsWith("is written with a comma."));
    if (source.includes("√") || source.includes("->")) return [false];
    return fixes.map(() => CERTAIN.has(code) && fixes.length === 1);
  };
  it("is certain only where one thing alone can be meant", () => {
    const formulas = Object.values(FORMULAS).flat();
    const statements = Object.values(STATEMENT_CASES).flat();
    const messages = [
      ...formulas.map(([source]) => [source, parseFormula(source).messages[0]!] as const),
      ...statements.map(([source]) => [source, parseBook(source).statements.at(-1)!.messages[0]!] as const),
    ].filter(([, { fixes }]) => fixes !== undefined);
    expect(messages.length).toBeGreaterThan(100);
    for (const [source, message] of messages)
      expect(
        message.fixes!.map(({ certain }) => certain),
        source,
      ).toEqual(sure(source, message));
  });
});

describe("several faults of one statement", () => {
  it("are told in turn, those inside a title left out", () => {
    const marks = (source: string): readonly string[] => ofBook(source).map(([mark]) => mark!);
    expect(marks('check f("{b c}") : "x {d e} {f}"')).toEqual(["operator-missing b c", "title-brace {"]);
    expect(marks('chart "x {a}" : bars "{b c}" by d')).toEqual(["operator-missing b c", "title-brace {"]);
  });
  it("of a table are those of its name and of its missing heading", () => {
    expect(ofBook("table foot").map(([mark, says]) => [mark, says])).toEqual([
      ["name-fixed foot", "`foot` cannot name a table."],
      ["heading-missing foot", "The table `foot` has no heading."],
    ]);
  });
});

describe("a slider", () => {
  it("moves a plain reading, with its uncertainty or without, a date and a plain text", () => {
    for (const plain of ["2", "2 L", "-2 °C", "2 ± 1 L", "-2 ± 1", "2026-02-03", '"x"', '""'])
      expect(ofBook(`set a = ${plain} try 1`), plain).toEqual([]);
    for (const computed of ["b", "1 + 1", "2 ± b", "b ± 1", "(1 + 1) ± 2", "true", "[1, 2]", '"{b}"'])
      expect(
        ofBook(`set a = ${computed} try 1`).map(([mark]) => mark),
        computed,
      ).toEqual([`try-computed ${computed}`]);
  });
});

describe("what stands in brackets of its own", () => {
  const first = (source: string): readonly string[] => ofFormula(source)[0]!;
  it("does not end the side of a comparison", () => {
    expect(first("1 < (a or b) < [c, d]").at(2)).toBe("Write `(a or b) within 1 to [c, d]`.");
    expect(first("f(a, b) < c < (d and e) and g").at(2)).toBe("Write `c within f(a, b) to (d and e)`.");
    expect(first("[a is b] > c >= f(d to e)").at(2)).toBe("Write `c within f(d to e) to [a is b]`.");
    expect(first("g(a < b < c)").at(2)).toBe("Write `b within a to c`.");
    expect(first("[x, a < b < c]").at(2)).toBe("Write `b within a to c`.");
  });
  it("is closed again for what follows", () => {
    for (const source of ["[a] 2", "f(a) 2", "([a]) 2", "[(a)] 2"])
      expect(first(source).at(2), source).toBe("Put an operator such as `+` or `*` between them.");
    for (const source of ["[a 2", "f([a] 2", "[f(a) 2", "[(a) 2]"])
      expect(first(source).at(2), source).toBe("Put an operator or a comma between them.");
    expect(first("[a] + (b")[1]).toBe("The `(` is not closed.");
    expect(first("(a) + [b")[1]).toBe("The `[` is not closed.");
    expect(first("[(a + b]")[1]).toBe("`]` stands where `)` closes the `(`.");
    expect(first("[a])")[1]).toBe("This `)` closes nothing.");
  });
});

describe("a formula in a brace", () => {
  it("is told at its place in the whole statement", () => {
    expect(ofBook('step "add {1 < x < 3} and {12 Feb 2026} and {x 3}"').map(([marks]) => marks)).toEqual([
      "comparison-chained <",
      "date-form 12 Feb 2026",
      "operator-missing x 3",
    ]);
  });
});
