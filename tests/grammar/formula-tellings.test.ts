import { describe, expect, it } from "vitest";
import { parseFormula } from "../../grammar";
import { BACKTICKS, type Case, certainOnlyIfAlone, ofBook, ofFormula, VALUE } from "./tellings";

/** What is told of formulas that cannot be read, word for word. */

const CHOICE = "A choice is `if condition then one else other`, and the `else` is required.";
const SEARCH = "A search is `find x from 1 to 2 so that x^2 is 2`.";
const SPAN = "A span is `x within 1 to 3`.";
const LABEL = "A label such as `to:` stands only before an argument of a function.";
const STRAIGHT = 'A text stands between straight quotes: "like this".';

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

describe("what is told of formulas", () => {
  certainOnlyIfAlone(
    Object.values(FORMULAS)
      .flat()
      .map(([source]) => [source, parseFormula(source).messages[0]!]),
  );
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
