import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { definitionAt, referencesTo } from "../../../src/engine/editing";
import { marked } from "./writing";

/** What stands at each place that uses a path, with its line. */
const uses = (text: string, path: string) => {
  const book = openBook(text);
  return referencesTo(book, path).map(({ from, to, line }) => `${line} ${text.slice(from, to)}`);
};
/** The name at which the name under the caret is defined, with its line. */
const defined = (written: string) => {
  const { text, caret } = marked(written);
  const found = definitionAt(openBook(text), caret);
  return found && `${found.line} ${text.slice(found.from, found.to)}`;
};

const BOOK = `set a = 3 g
set \`b c\` = a * 2
table t
| k | x (g) | y |
| r | 1 | = x + a |
| s | 2 | = a |
column z = x + book.a + before.x + foot.x
foot x = sum(x) + a
define f(x, n) = x * n + a
set d = f(a, n: 3) + f(t.r.x, 2) + t.foot.x
set e = sum(t.x where x > a) + t.s.z + sum(t.z)
check d > a : "d"
step "Weigh {a in g} and {\`b c\`}." ask a expect a
`;

describe("the uses of a path", () => {
  it("of a value, wherever it is meant, in the order of the text", () => {
    expect(uses(BOOK, "a")).toEqual([
      "2 a",
      "5 a",
      "6 a",
      "7 a",
      "8 a",
      "9 a",
      "10 a",
      "11 a",
      "12 a",
      "13 a",
      "13 a",
      "13 a",
    ]);
    expect(uses(BOOK, "`b c`")).toEqual(["13 `b c`"]);
    expect(uses(BOOK, "d")).toEqual(["12 d"]);
  });
  it("of a column, by its bare name in its table and by paths outside", () => {
    expect(uses(BOOK, "t.x")).toEqual(["5 x", "7 x", "7 x", "7 x", "8 x", "10 x", "10 x", "11 x", "11 x"]);
    expect(uses(BOOK, "t.z")).toEqual(["11 z", "11 z"]);
  });
  it("of a foot, a row, a cell, a table, a function", () => {
    expect(uses(BOOK, "t.foot.x")).toEqual(["7 x", "10 x"]);
    expect(uses(BOOK, "t.r")).toEqual(["10 r"]);
    expect(uses(BOOK, "t.s.z")).toEqual(["11 s.z"]);
    expect(uses(BOOK, "t.s.x")).toEqual([]);
    expect(uses(BOOK, "t")).toEqual(["10 t", "10 t", "11 t", "11 t", "11 t"]);
    expect(uses(BOOK, "f")).toEqual(["10 f", "10 f"]);
  });
  it("of a part of a result", () => {
    const text = "set m = marry([1 L], [40 %vol])\nset v = m.volume + m . volume\nset s = m.strength\n";
    expect(uses(text, "m.volume")).toEqual(["2 m.volume", "2 m . volume"]);
    expect(uses(text, "m")).toHaveLength(3);
  });
  it("of nothing are none", () => {
    for (const path of ["nobody", "t.nobody", "a + 1", "", "f(", "boils_at"])
      expect(uses(BOOK, path), path).toEqual([]);
  });
});

describe("where a name is defined", () => {
  it.each([
    ["set a = 3 g\nset b = ¦a * 2\n", "1 a"],
    ["set b = a¦ * 2\nset a = 3 g\n", "2 a"],
    ["set `a b` = 3 g\nset b = `a b¦` * 2\n", "1 `a b`"],
    ["set m = marry([1 L], [40 %vol])\nset v = m.vol¦ume\n", "1 m"],
    ["table t\n| k | x (g) |\n| r | 1 |\nset s = t¦.x\n", "1 t"],
    ["table t\n| k | x (g) |\n| r | 1 |\nset s = t.x¦\n", "2 x"],
    ["table t\n| k | x (g) |\n| r | 1 |\nset s = t.r¦.x\n", "3 r"],
    ["table t\n| k | x (g) |\n| r | 1 |\nset s = t.r.x¦\n", "3 1"],
    ["table t\n| k | x (g) |\n| r | 1 |\ncolumn y = ¦x\n", "2 x"],
    ["table t\n| k | x (g) |\n| r | 1 |\ncolumn y = x\nset s = t.r.y¦\n", "4 y"],
    ["table t\n| k | x (g) |\n| r | 1 |\nfoot x = sum(x)\nset s = t.foot.x¦\n", "4 x"],
    ["define f(x) = x\nset a = f¦(3)\n", "1 f"],
    ["define f(x) = ¦x\n", "1 x"],
    ["define f(x, n) = x * n\nset a = f(3, n¦: 2)\n", "1 n"],
    ["set a = find x from 1 to 2 so that x¦^2 is 2\n", "1 x"],
    ['chart "c" : curve p¦ * 2 for p from 1 to 2\n', "1 p"],
    ["set x = 1\ntable t\n| k | x |\n| r | 1 |\ncolumn y = book.x¦\n", "1 x"],
  ])("%j: %s", (written, wanted) => {
    expect(defined(written)).toBe(wanted);
  });
  it("the variable of a find is marked where it stands behind the word", () => {
    const { text, caret } = marked("set a = find x from 1 to 2 so that x¦^2 is 2\n");
    expect(definitionAt(openBook(text), caret)).toEqual({ from: 13, to: 14, line: 1 });
  });
  it("is nowhere for the vocabulary, units, words and what is not there", () => {
    for (const written of [
      "set a = boils_at¦(3 mbar)\n",
      "set a = 3 g¦\n",
      "set a = nobody¦\n",
      "set a = boils_at(3 mbar, strength¦: 3 %vol)\n",
      "set a = true¦\n",
      "# a¦\nset a = 1\n",
    ])
      expect(defined(written), written).toBeUndefined();
  });
  it("a name that cannot be read is defined by its statement", () => {
    expect(defined("set a = (3 +\nset b = a¦\n")).toMatch(/^1 set a/);
  });
});
