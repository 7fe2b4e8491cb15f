import { describe, expect, it } from "vitest";
import {
  addColumn,
  addRows,
  addStatement,
  applyPatches,
  type BookTree,
  type Edited,
  moveColumn,
  moveRow,
  moveStatement,
  newDefine,
  newSet,
  newTable,
  parseBook,
  removeColumn,
  removeStatement,
  removeTick,
  setCell,
  setCells,
  setComment,
  setFormula,
  setTick,
  setTitle,
} from "../../grammar";
import { writeHeading } from "../../grammar/table-edits";
import { edited, statementAt, tableOf } from "./editing";

const at = (tree: BookTree, line: number) => statementAt(tree, line);
const patchesOf = (text: string, edit: (tree: BookTree) => Edited) => edit(parseBook(text)).patches;

describe("patches", () => {
  it("are made in the order of their places, those at one place in the order given", () => {
    expect(
      applyPatches("abcdef", [
        { from: 4, to: 5, insert: "E" },
        { from: 0, to: 1, insert: "" },
        { from: 2, to: 2, insert: "1" },
        { from: 2, to: 2, insert: "2" },
        { from: 2, to: 3, insert: "C" },
        { from: 6, to: 6, insert: "!" },
      ]),
    ).toBe("b12CdEf!");
    expect(applyPatches("abc", [])).toBe("abc");
  });
  it.each([
    [
      [
        { from: 0, to: 2, insert: "" },
        { from: 1, to: 3, insert: "" },
      ],
      "1..3",
    ],
    [[{ from: 2, to: 1, insert: "" }], "2..1"],
    [[{ from: 3, to: 5, insert: "" }], "3..5"],
    [[{ from: -1, to: 0, insert: "" }], "-1..0"],
  ])("that overlap or leave the text are a mistake of the caller: %j", (patches, which) => {
    expect(() => applyPatches("abcd", patches)).toThrow(
      new RangeError(`patch ${which} overlaps another or leaves the text`),
    );
  });
  it("may touch", () => {
    expect(
      applyPatches("abcd", [
        { from: 0, to: 2, insert: "x" },
        { from: 2, to: 4, insert: "y" },
      ]),
    ).toBe("xy");
  });
  it("of an edit leave out what stays, at both ends", () => {
    const formula = (from: string, to: string) =>
      patchesOf(`set a = ${from}`, (tree) => setFormula(tree, at(tree, 1), to));
    expect(formula("12", "1234")).toEqual([{ from: 10, to: 10, insert: "34" }]);
    expect(formula("1234", "34")).toEqual([{ from: 8, to: 10, insert: "" }]);
    expect(formula("1234", "1994")).toEqual([{ from: 9, to: 11, insert: "99" }]);
    expect(formula("abab", "ababab")).toEqual([{ from: 12, to: 12, insert: "ab" }]);
    expect(formula("aba", "a")).toEqual([{ from: 9, to: 11, insert: "" }]);
    expect(formula("a", "b")).toEqual([{ from: 8, to: 9, insert: "b" }]);
    expect(formula("a", "a")).toEqual([]);
  });
});

describe("taking a line out", () => {
  const without = (text: string, line: number): string =>
    edited(text, (tree) => removeStatement(tree, at(tree, line)));
  it.each([
    [
      "takes one of two blank lines that would meet",
      "set a = 1\n\nset x = 2\n\nset c = 3\n",
      3,
      "set a = 1\n\nset c = 3\n",
    ],
    [
      "takes no blank line behind a statement",
      "set a = 1\nset x = 2\n\nset c = 3",
      2,
      "set a = 1\n\nset c = 3",
    ],
    [
      "takes no blank line before a statement",
      "set a = 1\n\nset x = 2\nset c = 3",
      3,
      "set a = 1\n\nset c = 3",
    ],
    ["takes the blank line that would begin the book", "set x = 1\n\nset b = 2", 1, "set b = 2"],
    ["takes it behind a byte order mark too", "\uFEFFset x = 1\n\nset b = 2", 1, "\uFEFFset b = 2"],
    ["takes it behind a blank line that begins the book", "\nset x = 1\n\nset b = 2", 2, "\nset b = 2"],
    [
      "takes lines of blanks for blank lines",
      "set a = 1\r\n\r\nset x = 2\r\n \t\r\nset c = 3",
      3,
      "set a = 1\r\n\r\nset c = 3",
    ],
    ["leaves the blank line at the end", "set a = 1\n\nset x = 2\n", 3, "set a = 1\n\n"],
    ["takes the line end before a last line that has none", "set a = 1\nset x = 2", 2, "set a = 1"],
    ["takes both its characters", "set a = 1\r\nset x = 2", 2, "set a = 1"],
    ["takes the comments directly above", "# a\n  # b\nset x = 1\nset y = 2", 3, "set y = 2"],
    ["leaves comments above a blank line", "# a\n\n# b\nset x = 1\nset y = 2\n", 4, "# a\n\nset y = 2\n"],
    ["leaves the statement above with its comment", "set a = 1 # a\nset x = 1\n", 2, "set a = 1 # a\n"],
    [
      "takes all lines of a statement, and its comment",
      "set x = f(1, # a\n# b\n2) # c\nset y = 2",
      1,
      "set y = 2",
    ],
    [
      "leaves the last of two blank lines",
      "set a = 1\n\n\nset x = 2\n\nset y = 3",
      4,
      "set a = 1\n\n\nset y = 3",
    ],
    [
      "leaves what cannot be read and belongs to no table, when a table goes",
      "table t\n| i |\nset x = (\nfoot i = (\n",
      1,
      "set x = (\n",
    ],
    ["leaves nothing of the only line", "set x = 1", 1, ""],
    ["leaves the mark of the only line", "\uFEFFset x = 1\n", 1, "\uFEFF"],
    ["leaves it where that line has no end", "\uFEFFset x = 1", 1, "\uFEFF"],
  ])("%s", (_, text, line, expected) => expect(without(text, line)).toBe(expected));
});

describe("putting a line in", () => {
  const last = (text: string, typed = "set n = 3"): string =>
    edited(text, (tree) => addStatement(tree, "end", typed));
  const behind = (text: string, line: number): string =>
    edited(text, (tree) => addStatement(tree, { behind: at(tree, line) }, "set n = 3"));
  const above = (text: string, line: number): string =>
    edited(text, (tree) => addStatement(tree, { before: at(tree, line) }, "set n = 3"));
  it("at the end takes the line ends of the book", () => {
    expect(last("")).toBe("set n = 3\n");
    expect(last("\uFEFF")).toBe("\uFEFFset n = 3\n");
    expect(last("# c")).toBe("# c\nset n = 3");
    expect(last("# c\r\nset a = 1")).toBe("# c\r\nset a = 1\r\nset n = 3");
    expect(last("\n")).toBe("\nset n = 3\n");
    expect(last("set a = 1\n", "set n = f(1,\r\n2)")).toBe("set a = 1\nset n = f(1,\n2)\n");
    expect(last("set a = 1\r\n", "# x\nset n = 3")).toBe("set a = 1\r\n# x\r\nset n = 3\r\n");
  });
  it("before the ticks at the end goes before their comments, with a blank line behind it", () => {
    expect(last("set a = 1\n\n# ticks\nseen a @00000000\nseen b @00000000\n")).toBe(
      "set a = 1\n\nset n = 3\n\n# ticks\nseen a @00000000\nseen b @00000000\n",
    );
    expect(last("seen a @00000000\nset a = 1\n")).toBe("seen a @00000000\nset a = 1\nset n = 3\n");
  });
  it("before a statement goes before its comments, not those of others", () => {
    expect(above("set a = 1 # a\n# b\nset b = 2", 3)).toBe("set a = 1 # a\nset n = 3\n# b\nset b = 2");
    expect(above("\uFEFFset a = 1", 1)).toBe("\uFEFFset n = 3\nset a = 1");
  });
  it("behind a row or a table goes behind all of the table; behind a column or foot, directly behind it", () => {
    const text = "table t\n| i |\n| x |\nset a = 1\ncolumn c = 1\nfoot c = sum(c)\nset b = 2";
    const after = (line: number): number => behind(text, line).split("\n").indexOf("set n = 3");
    expect([1, 2, 3, 4, 5, 6, 7].map(after)).toEqual([6, 6, 6, 4, 5, 6, 7]);
  });
  it("may stand before a row that belongs to no table", () => {
    expect(above("| a |", 1)).toBe("set n = 3\n| a |");
  });
});

describe("moving", () => {
  const moved = (text: string, line: number, place: "before" | "behind", goal: number): string =>
    edited(text, (tree) =>
      moveStatement(
        tree,
        at(tree, line),
        place === "before" ? { before: at(tree, goal) } : { behind: at(tree, goal) },
      ),
    );
  it("to where a statement stands already changes nothing", () => {
    const text = "set a = 1\n# b\nset b = 2\nset c = 3";
    for (const [line, place, goal] of [
      [3, "before", 3],
      [3, "behind", 3],
      [3, "behind", 1],
      [3, "before", 4],
    ] as const)
      expect(
        patchesOf(text, (tree) =>
          moveStatement(
            tree,
            at(tree, line),
            place === "before" ? { before: at(tree, goal) } : { behind: at(tree, goal) },
          ),
        ),
      ).toEqual([]);
    const table = "table t\n| i |\n| x |\ncolumn c = 1";
    for (const goal of [2, 3, 4])
      expect(
        patchesOf(table, (tree) => moveStatement(tree, at(tree, 1), { behind: at(tree, goal) })),
      ).toEqual([]);
  });
  it("takes the line ends along, also where the last line has none", () => {
    const text = "set a = 1\r\nset b = 2\r\nset c = 3";
    expect(moved(text, 3, "before", 1)).toBe("set c = 3\r\nset a = 1\r\nset b = 2");
    expect(moved(text, 1, "behind", 3)).toBe("set b = 2\r\nset c = 3\r\nset a = 1");
    expect(moved("set a = 1\nset b = 2", 1, "behind", 2)).toBe("set b = 2\nset a = 1");
    expect(moved("set a = 1\nset b = 2", 2, "before", 1)).toBe("set b = 2\nset a = 1");
  });
  it("a table goes with all that belongs to it, a statement that cannot be read too", () => {
    const text = "set a = 1\n# t\ntable t\n| i |\n|---|\n| x |\ncolumn c = (\nfoot i = 1\nset b = 2\n";
    expect(moved(text, 3, "before", 1)).toBe(
      "# t\ntable t\n| i |\n|---|\n| x |\ncolumn c = (\nfoot i = 1\nset a = 1\nset b = 2\n",
    );
    expect(moved(text, 1, "behind", 6)).toBe(
      "# t\ntable t\n| i |\n|---|\n| x |\ncolumn c = (\nfoot i = 1\nset a = 1\nset b = 2\n",
    );
  });
  it("a row keeps what stands between", () => {
    const text = "table t\r\n| i |\r\n| x | # one\r\n\r\n| y |";
    const rows = (from: number, to: number): string =>
      edited(text, (tree) => moveRow(tree, tableOf(tree), from, to));
    expect(rows(0, 1)).toBe("table t\r\n| i |\r\n\r\n| y |\r\n| x | # one");
    expect(rows(1, 0)).toBe("table t\r\n| i |\r\n| y |\r\n| x | # one\r\n");
  });
  it("a column to its own place changes nothing", () => {
    expect(
      patchesOf("table t\n| i | x |\n| a | 1 |", (tree) => moveColumn(tree, tableOf(tree), "x", 1)),
    ).toEqual([]);
  });
});

describe("the blanks of a cell", () => {
  const cell = (row: string, typed: string, column = 0): string =>
    edited(`table t\n| i | x |\n${row}`, (tree) => setCell(tree, tableOf(tree), 0, column, typed)).split(
      "\n",
    )[2]!;
  it.each([
    ["|a|b|", 0, "xy", "| xy |b|"],
    ["|a|b|", 0, "", "| |b|"],
    ["| a | b |", 0, "", "|   | b |"],
    ["| a | b |", 1, "c", "| a | c |"],
    ["| a | b |", 1, "cde", "| a | cde |"],
    ["| a |     b |", 1, "cd", "| a |    cd |"],
    ["| a |     b |", 1, "cdefg", "| a | cdefg |"],
    ["| a |     b |", 1, "cdefgh", "| a | cdefgh |"],
    ["| a |     b|", 1, "cd", "| a |   cd |"],
    ["| a |     b|", 1, "cdefgh", "| a | cdefgh |"],
    ["| a |  b   |", 1, "cde", "| a |  cde |"],
    ["| a |  b   |", 1, "c", "| a |  c   |"],
    ["| a |      |", 1, "c", "| a | c    |"],
    ["| a ||", 1, "c", "| a | c |"],
    ["| a |  |", 1, "cd", "| a | cd |"],
    ["| a |\tb\t|", 1, "c", "| a | c |"],
  ])("%s, cell %i is written %j", (row, column, typed, written) => {
    expect(cell(row, typed, column)).toBe(written);
  });
  it("escapes a bar that is not escaped yet, and parts a backslash from the bar", () => {
    expect(cell("| a | b |", "c|d", 1)).toBe("| a | c\\|d |");
    expect(cell("| a | b |", "c\\|d", 1)).toBe("| a | c\\|d |");
    expect(cell("| a | b |", "|", 1)).toBe("| a | \\| |");
    expect(cell("| a |b|", "\\", 1)).toBe("| a | \\  |");
  });
  it("of a block with holes stay, also where the row has too few cells", () => {
    for (const block of [[[undefined]], [[undefined, undefined]], [[]]])
      expect(
        patchesOf("table t\n| i | x |\n| a |", (tree) => setCells(tree, tableOf(tree), 0, 0, block)),
      ).toEqual([]);
  });
  it("of a row that is open are few", () => {
    expect(cell("| a | b", "c", 1)).toBe("| a | c");
    expect(cell("| a | b", "c", 0)).toBe("| c | b");
    expect(cell("| a", "c", 1)).toBe("| a | c |");
    expect(cell("| a |", "c", 1)).toBe("| a | c |");
  });
  it("of a new row are as wide as those of the heading", () => {
    const text = "table t\n| item   |x|\n";
    expect(edited(text, (tree) => addRows(tree, tableOf(tree), 0, [["a", "123"], ["bcdefghi"]]))).toBe(
      `${text}| a      | 123 |\n| bcdefghi |  |\n`,
    );
  });
});

describe("taking a computed column out", () => {
  it("takes its foot too, wherever that stands", () => {
    for (const [text, expected] of [
      ["foot c = 1\ncolumn c = 1\nset b = 2\n", "set b = 2\n"],
      ["column c = 1\nset b = 2\nfoot c = 1\n", "set b = 2\n"],
      ["foot c = 1\nset b = 2\ncolumn c = 1\n", "set b = 2\n"],
      ["column c = 1\nfoot a = 1\nfoot c = 1\n", "foot a = 1\n"],
    ] as const)
      expect(edited(`table t\n| a |\n${text}`, (tree) => removeColumn(tree, tableOf(tree), "c"))).toBe(
        `table t\n| a |\n${expected}`,
      );
  });
});

describe("headings", () => {
  it("are written with their bracket, or in backticks where the name ends like one", () => {
    expect(writeHeading("a", "")).toBe("a");
    expect(writeHeading("a", "mL")).toBe("a (mL)");
    expect(writeHeading("a (b)", "")).toBe("`a (b)`");
    expect(writeHeading("a (b) c", "")).toBe("a (b) c");
    expect(writeHeading("a (b)", "mL")).toBe("a (b) (mL)");
    expect(writeHeading("a|b|c", "")).toBe("a\\|b\\|c");
  });
  it("of a new column make it as wide as its widest cell", () => {
    const text = "table t\n| i |\n|---|\n| a |\n| b |\n";
    expect(
      edited(text, (tree) => addColumn(tree, tableOf(tree), 1, { name: "n", cells: ["1", "a|b"] })),
    ).toBe("table t\n| i | n    |\n|---| ---- |\n| a | 1    |\n| b | a\\|b |\n");
    expect(
      edited(text, (tree) => addColumn(tree, tableOf(tree), 1, { name: " long ", bracket: " mL " })),
    ).toBe("table t\n| i | long (mL) |\n|---| --------- |\n| a |           |\n| b |           |\n");
  });
});

describe("names for new statements", () => {
  const tree = parseBook("set a = (\ntable t x\ndefine f(\n| i |\ncolumn c = (\nset b = 1");
  it("are taken by what cannot be read, each in its own space", () => {
    for (const name of ["a", "t", "b"]) {
      expect(newSet(tree, name, "1"), name).toMatchObject({ refused: { code: "name-taken" } });
      expect(newDefine(tree, name, ["x"], "x"), name).toHaveProperty("line");
    }
    expect(newDefine(tree, "f", ["x"], "x")).toMatchObject({ refused: { code: "name-taken" } });
    for (const name of ["f", "c"]) expect(newSet(tree, name, "1"), name).toHaveProperty("line");
  });
  it("are written in normal form, without the blanks around them", () => {
    expect(newSet(tree, "  cafe\u0301 ", " 1\r\n+ 2 ")).toEqual({ line: "set caf\u00e9 = 1 + 2" });
    expect(newDefine(tree, " g ", [" x ", "to"], "x\n+ 1")).toEqual({ line: "define g(x, `to`) = x + 1" });
    expect(newTable(tree, "u v", " ", ["i", "x (mL)"], [["a|b", "c\\|d", "left out"], []])).toEqual({
      lines: "table `u v`\n| i    | x (mL) |\n| a\\|b | c\\|d   |\n|      |        |",
    });
    expect(newTable(tree, "w", 'say "so"\n', ["i"], [])).toEqual({ lines: 'table w "say \\"so\\""\n| i |' });
  });
});

describe("titles, comments and ticks", () => {
  const title = (text: string, typed: string): string =>
    edited(text, (tree) => setTitle(tree, tree.statements.at(-1)!, typed));
  it.each([
    ['part "A" # x', "B\nC", 'part "B C" # x'],
    ['part "A"', "", 'part ""'],
    ['book "A"', " ", 'book ""'],
    ['chart "A" : bars a by b', "", 'chart "" : bars a by b'],
    ["table t", "", "table t"],
    ['table t  "A"', "", "table t"],
    ["table t", "A", 'table t "A"'],
    ['table `t "x"` "A"', "B", 'table `t "x"` "B"'],
    ["check a", "", "check a"],
    ['check a is "x" : "A"', "", 'check a is "x"'],
    ['check a is "x"  :  "A"', "B", 'check a is "x"  :  "B"'],
    ["seen a @00000000", "", "seen a @00000000"],
    ['seen a @00000000  "A"', "", "seen a @00000000"],
    ['seen a @00000000 "A"', "B", 'seen a @00000000 "B"'],
  ])("%s with the title %j", (text, typed, expected) => expect(title(text, typed)).toBe(expected));

  const comment = (text: string, typed: string): string =>
    edited(text, (tree) => setComment(tree, tree.statements.at(-1)!, typed));
  it.each([
    ["set a = 1 #", "x", "set a = 1 # x"],
    ["set a = 1#x", "y", "set a = 1# y"],
    ["set a = 1  # x", "", "set a = 1"],
    ["set a = 1  ", "", "set a = 1"],
    ["set a = 1  ", "x", "set a = 1  # x"],
    ["set a = 1 # x\r\n", " y\nz ", "set a = 1 # y z\r\n"],
    ['set a = "#" # x', "y", 'set a = "#" # y'],
    ["set a = 1", "a | b", "set a = 1  # a | b"],
  ])("%j with the comment %j", (text, typed, expected) => expect(comment(text, typed)).toBe(expected));

  const tick = (text: string, path = "a", remark = ""): string =>
    edited(text, (tree) => setTick(tree, path, "@00000001", remark));
  it("stand at the end, a blank line behind everything else", () => {
    expect(tick("")).toBe("seen a @00000001\n");
    expect(tick("set a = 1")).toBe("set a = 1\n\nseen a @00000001");
    expect(tick("set a = 1\n\n")).toBe("set a = 1\n\nseen a @00000001\n");
    expect(tick("set a = 1\r\n \r\n")).toBe("set a = 1\r\n \r\nseen a @00000001\r\n");
    expect(tick("seen b @00000000\n", "a", ' so "it" is ')).toBe(
      'seen b @00000000\nseen a @00000001 "so \\"it\\" is"\n',
    );
  });
  it("are found however their path is written", () => {
    expect(tick("seen `t` . x @00000000 # c\n", "t.x")).toBe("seen t.x @00000001 # c\n");
    expect(tick("seen t.x @00000000\n", "t.y")).toBe("seen t.x @00000000\nseen t.y @00000001\n");
    const text = "seen a @00000000\nset b = 1\nseen `a` @00000000\nseen b @00000000\n";
    expect(tick(text)).toBe("seen a @00000001\nset b = 1\nseen b @00000000\n");
    expect(edited(text, (tree) => removeTick(tree, "a"))).toBe("set b = 1\nseen b @00000000\n");
  });
});

describe("the formula of a statement that cannot be read", () => {
  it.each([
    ["a = 3 +", "5", "a = 5"],
    ["set a=", "5", "set a= 5"],
    ["set a =  3 +  # c", "5", "set a =  5  # c"],
    ["define f(x) = (", "x", "define f(x) = x"],
    ["check a = b", "c", "check a = c"],
    ['chart "x" : pie a', "bars a by b", 'chart "x" : bars a by b'],
    ['chart "x" :', "bars a by b", 'chart "x" : bars a by b'],
    ['chart "x" :bars', "bars a by b", 'chart "x" : bars a by b'],
  ])("%s is given %s", (text, typed, expected) => {
    expect(edited(text, (tree) => setFormula(tree, at(tree, 1), typed))).toBe(expected);
  });
});
