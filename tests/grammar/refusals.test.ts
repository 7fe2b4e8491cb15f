import { describe, expect, it } from "vitest";
import {
  addColumn,
  addComputedColumn,
  addFoot,
  addRows,
  addStatement,
  type BookTree,
  type Edited,
  moveColumn,
  moveRow,
  moveStatement,
  newDefine,
  newSet,
  newTable,
  parseBook,
  type Refusal,
  type Renamed,
  removeColumn,
  removeRow,
  removeTick,
  rename,
  setBracket,
  setCell,
  setCells,
  setComment,
  setFormula,
  setStepClauses,
  setStepText,
  setTick,
  setTitle,
  setTrial,
} from "../../grammar";
import { statementAt, tableOf } from "./editing";

/** Every edit that cannot be made, and how the writer is told: what stands in the way, and what to do. */

const BOOK = `set a = 1
set broken = (
define f(x) = x + a
check a > 0
step "Stir." ask a
table t "T"
| item    | volume (mL) | old |
|---------|-------------|-----|
| juniper |        2400 | 1   |
| bay     |         350 | = a |
column cost = volume * 2
foot cost = sum(cost)
table u
| i |
| x |
set b = mean(t.volume) + t.bay.old
set c = sum(t.volume where volume > (find vacuum from 1 to 2 so that vacuum is old))
`;
const NAKED = "table t\nset a = 1\n";
const APART = "table t\n| i |\nset a = 1\ncolumn c = 1\nset b = 2\n";

type Made = Edited | { readonly line: string } | { readonly lines: string };
type Case = readonly [
  what: string,
  edit: (tree: BookTree) => Made,
  says: string,
  help?: string,
  text?: string,
];

const at = (tree: BookTree, line: number) => statementAt(tree, line);
const set = (tree: BookTree, line: number): Renamed => ({ kind: "set", statement: at(tree, line) });
const column = (tree: BookTree, name: string): Renamed => ({ kind: "column", table: tableOf(tree), name });

const WHOLE_ROWS = "The rows of a table stand together.";
const OTHER_NAME = "Choose another name.";
const NEARER = "Choose another name, or rename the parameter, variable or column first.";
const FIXED = "In a formula `before`, `foot` and `book` always mean the same.";
const NO_UNIT = "`two words` is neither a unit nor `number`, `text` or `date`.";
const COMPUTED = "A computed column is changed by its formula.";

const CASES: Readonly<Record<string, readonly Case[]>> = {
  "name-empty": [
    ["a set", (t) => newSet(t, " ", "1"), "A value needs a name, without a backtick and on one line."],
    [
      "a define",
      (t) => newDefine(t, "a`b", ["x"], "x"),
      "A definition needs a name, without a backtick and on one line.",
    ],
    [
      "a parameter",
      (t) => newDefine(t, "g", ["x", "a\nb"], "x"),
      "A parameter needs a name, without a backtick and on one line.",
    ],
    [
      "a table",
      (t) => newTable(t, "", "", ["i"], []),
      "A table needs a name, without a backtick and on one line.",
    ],
    [
      "a column",
      (t) => addColumn(t, tableOf(t), 1, { name: "" }),
      "A column needs a name, without a backtick and on one line.",
    ],
    [
      "a row",
      (t) => rename(t, { kind: "row", table: tableOf(t), row: 0 }, "\r"),
      "A row needs a name, without a backtick and on one line.",
    ],
    [
      "a table to be renamed",
      (t) => rename(t, { kind: "table", table: tableOf(t) }, "`"),
      "A table needs a name, without a backtick and on one line.",
    ],
  ],
  "name-fixed": [
    ["a set", (t) => newSet(t, "before", "1"), "`before` cannot name a value.", FIXED],
    ["a parameter", (t) => newDefine(t, "g", ["foot"], "1"), "`foot` cannot name a parameter.", FIXED],
    ["a table", (t) => newTable(t, "book", "", ["i"], []), "`book` cannot name a table.", FIXED],
    ["a set to be renamed", (t) => rename(t, set(t, 1), "foot"), "`foot` cannot name a value.", FIXED],
  ],
  "name-taken": [
    ["a set by a set", (t) => newSet(t, "a", "1"), "`a` is taken: line 1 has that name.", OTHER_NAME],
    [
      "a set by a broken one",
      (t) => newSet(t, "broken", "1"),
      "`broken` is taken: line 2 has that name.",
      OTHER_NAME,
    ],
    [
      "a table by a table",
      (t) => newTable(t, "u", "", ["i"], []),
      "`u` is taken: line 13 has that name.",
      OTHER_NAME,
    ],
    [
      "a define by a define",
      (t) => newDefine(t, "f", ["x"], "x"),
      "`f` is taken: line 3 has that name.",
      OTHER_NAME,
    ],
    [
      "a define by a function that is called",
      (t) => rename(t, { kind: "define", statement: at(t, 3) }, "mean"),
      "Line 16 calls another function `mean`.",
      OTHER_NAME,
    ],
    [
      "a new column by a written one",
      (t) => addColumn(t, tableOf(t), 1, { name: "old" }),
      "The table has a column `old` already.",
      OTHER_NAME,
    ],
    [
      "a computed column by another",
      (t) => addComputedColumn(t, tableOf(t), "cost", "1"),
      "The table has a column `cost` already.",
      OTHER_NAME,
    ],
    [
      "a column to be renamed by a column",
      (t) => rename(t, column(t, "old"), "cost"),
      "The table has a column `cost` already.",
      OTHER_NAME,
    ],
    [
      "a column to be renamed by a row",
      (t) => rename(t, column(t, "old"), "juniper"),
      "A row of the table is named `juniper`.",
      OTHER_NAME,
    ],
    [
      "a row by a column",
      (t) => rename(t, { kind: "row", table: tableOf(t), row: 0 }, "volume"),
      "A column of the table is named `volume`.",
      OTHER_NAME,
    ],
    [
      "a row by one that a formula asks for",
      (t) => rename(t, { kind: "row", table: tableOf(t), row: 0 }, "bay"),
      "Another row is named `bay`, and a formula asks for a row by that name.",
      OTHER_NAME,
    ],
  ],
  "name-hidden": [
    [
      "a set behind a parameter",
      (t) => rename(t, set(t, 1), "x"),
      "In line 3 `x` means something nearer.",
      NEARER,
    ],
    [
      "a column behind a variable",
      (t) => rename(t, column(t, "old"), "vacuum"),
      "In line 17 `vacuum` means something nearer.",
      NEARER,
    ],
    [
      "the variable of a search, by a column",
      (t) => rename(t, column(t, "x"), "y"),
      "In line 4 `y` means something else, which the column would hide.",
      OTHER_NAME,
      "set y = 3\ntable t\n| i | x |\ncolumn k = find y from 1 to 2 so that y is x\n",
    ],
  ],
  "rename-nothing": [["a check", (t) => rename(t, set(t, 4), "other"), "This statement has no name."]],
  "parameter-none": [
    ["a define", (t) => newDefine(t, "g", [], "1"), "A definition has at least one parameter."],
  ],
  "parameter-twice": [
    ["a define", (t) => newDefine(t, "g", ["x", "y", " x "], "1"), "Two parameters are named `x`."],
  ],
  "formula-empty": [
    [
      "a set",
      (t) => setFormula(t, at(t, 1), " \n "),
      "There is no formula to write.",
      "To leave a value open write `blank`.",
    ],
  ],
  "formula-none": [["a step", (t) => setFormula(t, at(t, 5), "1"), "This statement has no formula."]],
  "trial-none": [["a check", (t) => setTrial(t, at(t, 4), "1 to 2"), "Only a `set` can be tried."]],
  "title-none": [["a set", (t) => setTitle(t, at(t, 1), "A"), "This statement has no title."]],
  "step-none": [
    ["a sentence", (t) => setStepText(t, at(t, 1), "Stir."), "This is no step."],
    ["what stands behind it", (t) => setStepClauses(t, at(t, 1), "ask a"), "This is no step."],
  ],
  "step-text": ['a "b" c', "a {b", "a \\", 'b"'].map(
    (typed): Case => [
      typed,
      (t) => setStepText(t, at(t, 5), typed),
      "This is not one text.",
      'A `"` in it is written `\\"`, and every `{` has its `}`.',
    ],
  ),
  "comment-bar": [["a row", (t) => setComment(t, at(t, 9), "a | b"), "A comment behind a row holds no bar."]],
  "tick-missing": [["a path", (t) => removeTick(t, "t.volume"), "`t.volume` has no tick."]],
  "heading-missing": [
    ["no columns", (t) => newTable(t, "v", "", [], []), "A table has at least one column."],
    [
      "a row",
      (t) => addRows(t, tableOf(t), 0, [["x"]]),
      "The table has no heading to add a row to.",
      undefined,
      NAKED,
    ],
    [
      "a column",
      (t) => addColumn(t, tableOf(t), 1, { name: "x" }),
      "The table has no heading to add a column to.",
      undefined,
      NAKED,
    ],
    [
      "a computed column",
      (t) => addComputedColumn(t, tableOf(t), "x", "1"),
      "The table has no heading yet.",
      undefined,
      NAKED,
    ],
  ],
  "heading-bracket": [
    ["a new column", (t) => addColumn(t, tableOf(t), 1, { name: "x", bracket: " two words " }), NO_UNIT],
    ["an old one", (t) => setBracket(t, tableOf(t), "volume", " two words "), NO_UNIT],
  ],
  "column-first": [
    [
      "before it",
      (t) => addColumn(t, tableOf(t), 0, { name: "x" }),
      "The first column names the rows; add the new one behind it.",
    ],
    [
      "behind none",
      (t) => addColumn(t, tableOf(t), 4, { name: "x" }),
      "The first column names the rows; add the new one behind it.",
    ],
    ["out", (t) => removeColumn(t, tableOf(t), "item"), "The first column names the rows and stays."],
    [
      "away",
      (t) => moveColumn(t, tableOf(t), "item", 1),
      "The first column names the rows and stays where it is.",
    ],
    [
      "displaced",
      (t) => moveColumn(t, tableOf(t), "old", 0),
      "The first column names the rows and stays where it is.",
    ],
  ],
  "column-missing": [
    ["by name, out", (t) => removeColumn(t, tableOf(t), "x"), "The table `t` has no column `x`."],
    ["by name, moved", (t) => moveColumn(t, tableOf(t), "x", 1), "The table `t` has no column `x`."],
    [
      "by name, bracket",
      (t) => setBracket(t, tableOf(t), "cost", "mL"),
      "The table `t` has no column `cost`.",
    ],
    ["by name, foot", (t) => addFoot(t, tableOf(t), "x", "1"), "The table `t` has no column `x`."],
    [
      "by place, computed",
      (t) => setCell(t, tableOf(t), 0, 3, "1"),
      "The table has no written column 4.",
      COMPUTED,
    ],
    [
      "by place, negative",
      (t) => setCell(t, tableOf(t), 0, -1, "1"),
      "The table has no written column 0.",
      COMPUTED,
    ],
    [
      "behind the last",
      (t) => moveColumn(t, tableOf(t), "old", 3),
      "The table has no written column 4.",
      COMPUTED,
    ],
    [
      "before the first",
      (t) => moveColumn(t, tableOf(t), "old", -1),
      "The table has no written column 0.",
      COMPUTED,
    ],
    [
      "computed, behind the last",
      (t) => moveColumn(t, tableOf(t), "cost", 1),
      "The table has no written column 2.",
      COMPUTED,
    ],
  ],
  "columns-missing": [
    [
      "a row",
      (t) => addRows(t, tableOf(t), 0, [["x"], ["1", "2", "3", "4"]]),
      "The table has 3 columns, and a row has more cells.",
    ],
    [
      "a block",
      (t) => setCells(t, tableOf(t), 0, 2, [["1"], ["1", "2"]]),
      "The block is 2 columns wide, and from here the table has 1.",
      "Add columns first, or paste further to the left.",
    ],
    [
      "a block that begins behind the table",
      (t) => setCells(t, tableOf(t), 0, 5, [["1"]]),
      "The block is 1 column wide, and from here the table has 0.",
      "Add columns first, or paste further to the left.",
    ],
  ],
  "row-missing": [
    ["a cell", (t) => setCell(t, tableOf(t), 2, 0, "x"), "The table has no row 3."],
    ["a block below", (t) => setCells(t, tableOf(t), 3, 0, [["x"]]), "The table has no row 4."],
    ["a block above", (t) => setCells(t, tableOf(t), -1, 0, [["x"]]), "The table has no row 0."],
    ["a new row below", (t) => addRows(t, tableOf(t), 3, [["x"]]), "The table has no row 4."],
    ["a new row above", (t) => addRows(t, tableOf(t), -1, [["x"]]), "The table has no row 0."],
    ["out", (t) => removeRow(t, tableOf(t), 2), "The table has no row 3."],
    [
      "renamed",
      (t) => rename(t, { kind: "row", table: tableOf(t), row: 9 }, "x"),
      "The table has no row 10.",
    ],
    ["from", (t) => moveRow(t, tableOf(t), 2, 0), "The table has no row 3."],
    ["to", (t) => moveRow(t, tableOf(t), 0, 2), "The table has no row 3."],
  ],
  "row-cells": [
    [
      "a column",
      (t) => addColumn(t, tableOf(t), 1, { name: "x" }),
      "The row in line 4 has not as many cells as the heading.",
      "Mend that row first.",
      "table t\n| a | b |\n| x | 1 |\n| y |\n",
    ],
    [
      "a column of a row that is open",
      (t) => removeColumn(t, tableOf(t), "b"),
      "The row in line 3 has not as many cells as the heading.",
      "Mend that row first.",
      "table t\n| a | b |\n| x | 1\n",
    ],
  ],
  "foot-taken": [
    [
      "a column",
      (t) => addFoot(t, tableOf(t), "cost", "1"),
      "The column `cost` has a foot already.",
      "Change the formula of that one.",
    ],
  ],
  "move-part": [
    [
      "a row",
      (t) => moveStatement(t, at(t, 9), { before: at(t, 1) }),
      "What belongs to a table moves within it.",
      "Move the row or column of the table.",
    ],
  ],
  "move-between": [
    [
      "a set before a row",
      (t) => moveStatement(t, at(t, 1), { before: at(t, 9) }),
      "Line 9 is a row of a table.",
      WHOLE_ROWS,
    ],
    [
      "a new statement before a heading",
      (t) => addStatement(t, { before: at(t, 7) }, "set n = 1"),
      "Line 7 is a row of a table.",
      WHOLE_ROWS,
    ],
    [
      "a new statement before a ruler",
      (t) => addStatement(t, { before: at(t, 8) }, "set n = 1"),
      "Line 8 is a row of a table.",
      WHOLE_ROWS,
    ],
    [
      "a table before the column of another",
      (t) => moveStatement(t, at(t, 13), { before: at(t, 11) }),
      "Line 11 belongs to the table `t`.",
      "A table cannot stand inside another.",
    ],
  ],
  "move-apart": [
    [
      "a table",
      (t) => moveStatement(t, at(t, 1), { behind: at(t, 5) }),
      "Other statements stand between the parts of this table.",
      "Move those first.",
      APART,
    ],
  ],
};

describe.each(Object.entries(CASES))("refused as %s", (code, cases) => {
  for (const [what, edit, says, help, text = BOOK] of cases)
    it(what, () => {
      const wanted: Refusal = help === undefined ? { code, says } : { code, says, help };
      expect(edit(parseBook(text))).toEqual({ refused: wanted });
    });
});

describe("what is not refused", () => {
  const allowed = (edit: (tree: BookTree) => Made, text = BOOK): void => {
    expect(edit(parseBook(text))).not.toHaveProperty("refused");
  };
  it("a definition may have the name of a value, a fixed name, and a parameter that of the definition", () => {
    allowed((t) => newDefine(t, "a", ["x"], "x"));
    // Rows of one name are refused only where a formula asks for that row, not for anything else of the table.
    allowed(
      (t) => rename(t, { kind: "row", table: tableOf(t), row: 0 }, "s"),
      "table t\n| i | x |\n| r | 1 |\n| s | 2 |\nset a = t.x + sum(t.x)\n",
    );
    allowed((t) => newDefine(t, "foot", ["a"], "a"));
    allowed((t) => newDefine(t, "g", ["g"], "g"));
    allowed((t) => newSet(t, "f", "1"));
  });
  it("at the ends: the last column and row, the row below, no rows at all", () => {
    allowed((t) => addColumn(t, tableOf(t), 3, { name: "x" }));
    allowed((t) => moveColumn(t, tableOf(t), "volume", 2));
    allowed((t) => setCell(t, tableOf(t), 1, 2, "x"));
    allowed((t) => setCells(t, tableOf(t), 2, 0, [["1", "2", "3"]]));
    allowed((t) => addRows(t, tableOf(t), 2, [["1", "2", "3"]]));
    allowed((t) => addRows(t, tableOf(t), 7, []));
    allowed((t) => moveColumn(t, tableOf(t), "cost", 0));
  });
  it("a statement may go before the table, its columns and its feet", () => {
    for (const line of [6, 11, 12]) allowed((t) => addStatement(t, { before: at(t, line) }, "set n = 1"));
    allowed((t) => moveStatement(t, at(t, 1), { before: at(t, 11) }));
    allowed((t) => moveStatement(t, at(t, 13), { before: at(t, 6) }));
  });
  it("a tick of any path, with a remark or without", () => {
    allowed((t) => setTick(t, "t.volume", "@00000000"));
  });
});
