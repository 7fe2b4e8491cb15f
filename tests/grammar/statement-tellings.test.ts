import { describe, expect, it } from "vitest";
import { parseBook } from "../../grammar";
import { BACKTICKS, type Case, certainOnlyIfAlone, ofBook, VALUE } from "./tellings";

/** What is told of statements, rows and cells that cannot be read, word for word. */

const COMMENT = "A comment begins with `#`.";
const IN_BACKTICKS = "A name with blanks or signs in it stands in backticks.";
const FIXED =
  "In a formula `before`, `foot` and `book` always mean the same: the row before, the foot, the whole book.";
const STATEMENTS =
  "A statement begins with one of `language`, `book`, `about`, `part`, `set`, `define`, `table`, `column`, `foot`, `check`, `chart`, `step`, `seen`; a remark begins with `#`.";

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
        "2 eggs \\| more",
        "cell-remark 2 eggs \\| more",
        "`2 eggs \\| more` begins like a number and goes on as something else.",
        "A cell that begins with a digit holds a quantity or a date. When it is a remark put it in quotes, or head the column `(text)`.",
        'Write "2 eggs \\| more" => "2 eggs \\| more"',
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

describe("what is told of statements", () => {
  certainOnlyIfAlone(
    Object.values(STATEMENT_CASES)
      .flat()
      .map(([source]) => [source, parseBook(source).statements.at(-1)!.messages[0]!]),
  );
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
