import { describe, expect, it } from "vitest";
import { applyPatches } from "../../../grammar";
import { openBook } from "../../../src/engine";
import { nameAt, renameAt } from "../../../src/engine/editing";
import { CORDIAL, cordial, marked } from "./writing";

/** The text once the name under the caret has another one, or why not. */
const renamed = (written: string, name: string) => {
  const { text, caret } = marked(written);
  const edited = renameAt(openBook(text), caret, name);
  return edited.patches ? applyPatches(text, edited.patches) : `refused: ${edited.refused.says}`;
};
const named = (written: string) => {
  const { text, caret } = marked(written);
  const found = nameAt(openBook(text), caret);
  return found && `${found.what} ${found.name}: ${text.slice(found.from, found.to)}`;
};

describe("the name at a place", () => {
  it.each([
    ["set ¦a = 3 g\n", "value a: a"],
    ["set a = 3 g\nset b = a¦\n", "value a: a"],
    ["set `a b¦` = 3 g\n", "value a b: `a b`"],
    ["table t¦\n| k |\n| r |\n", "table t: t"],
    ["table t\n| k | x¦ (g) |\n| r | 1 |\n", "column x: x"],
    ["table t\n| k | x |\n| r¦ | 1 |\n", "row r: r"],
    ["table t\n| k | x |\n| r | 1 |\nfoot x¦ = sum(x)\n", "column x: x"],
    ["table t\n| k | x |\n| r | 1 |\ncolumn y¦ = x\n", "column y: y"],
    ["define f¦(x) = x\n", "function f: f"],
    ["define f(x¦) = x\n", "parameter x: x"],
    ["define f(x) = x¦ + 1\n", "parameter x: x"],
    ["set a = find x¦ from 1 to 2 so that x^2 is 2\n", "variable x: x"],
    ["set a = find x from 1 to 2 so that x¦^2 is 2\n", "variable x: x"],
    // Where it is used, behind dots, in braces, and in the cells of a table.
    ["table t\n| k | x |\n| r | 1 |\nset s = t¦.x\n", "table t: t"],
    ["table t\n| k | x |\n| r | 1 |\nset s = t.x¦\n", "column x: x"],
    ["table t\n| k | x |\n| q | 2 |\n| r s | 1 |\nset s = t.`r s¦`.x\n", "row r s: `r s`"],
    [
      "table t\n| k | x |\n| 12 | 2 |\n| 2026-03-01 | 1 |\nset s = t.2026-03-01¦.x\n",
      "row 2026-03-01: 2026-03-01",
    ],
    ["table t\n| k | x |\n| 12¦ | 2 |\n", "row 12: 12"],
    ["define f(x) = x\nset a = f¦(3)\n", "function f: f"],
    ['set a = 1\nstep "take {a¦}"\n', "value a: a"],
    ["set a = 1\ntable t\n| k | x |\n| r | = a¦ |\n", "value a: a"],
    ["table t\n| k | x |\n| r | 1 |\nfoot k = sum(x¦)\n", "column x: x"],
    // At both ends of the name.
    ["set ¦ab = 3 g\n", "value ab: ab"],
    ["set ab¦ = 3 g\n", "value ab: ab"],
    ["set ab = 3 g\nset c = ¦ab\n", "value ab: ab"],
    // Of two with one name each is found where it is made, and the first where it is used.
    ["set a = 1\nset a¦ = 2\n", "value a: a"],
    ["define f(x) = x\ndefine f¦(x) = x * 2\n", "function f: f"],
  ])("%j: %s", (written, wanted) => {
    expect(named(written)).toBe(wanted);
  });
  it("is reached by a path, but for a parameter or variable", () => {
    for (const [written, path] of [
      ["set `a b¦` = 3 g\n", "`a b`"],
      ["table t\n| k | x¦ (g) |\n| r | 1 |\n", "t.x"],
      ["table t\n| k | x |\n| r¦ | 1 |\n", "t.r"],
      ["table `a|b`\n| k | c\\|d¦ |\n| r | 1 |\n", "`a|b`.`c|d`"],
      ["table t\n| k | x |\n| r | 1 |\nset s = t.r¦.x\n", "t.r"],
      ["define f¦(x) = x\n", "f"],
      ["define f(x¦) = x\n", undefined],
      ["set a = find x¦ from 1 to 2 so that x^2 is 2\n", undefined],
    ] as const) {
      const { text, caret } = marked(written);
      const found = nameAt(openBook(text), caret)!;
      expect(found.path, written).toBe(path);
      expect("path" in found, written).toBe(path !== undefined);
    }
  });
  it("is none in words, numbers, texts, comments and the vocabulary", () => {
    for (const written of [
      "s¦et a = 3 g\n",
      "set a = 3¦ g\n",
      'about "a¦"\n',
      "set a = 1 # a¦\n",
      "set a = boils_at¦(3 mbar)\n",
      "¦\n",
      "table t\n| k | x |\n| r | 1¦ |\n",
      "table t\n| k | x |\n| ¦ | 1 |\n",
      "table t\n| k | x |\n|¦ | 1 |\n",
      "table t\n| k | x |\n|  ¦| 1 |\n",
      "table t\n| k | x |\n|¦| 1 |\n",
      "| r¦ | 1 |\n",
      "column x¦ = 3\n",
      "foot x¦ = 3\n",
      "set a = nobody¦\n",
      "set a = b.c¦\nset b = 3\n",
      "set a = 3 ¦g\n",
      "\n¦\nset a = 3 g\n",
      "define f(x) ¦= x\n",
      "chart ¦\n",
    ])
      expect(named(written), written).toBeUndefined();
  });
});

describe("another name", () => {
  it("is written at the definition and at every use, and nowhere else", () => {
    expect(renamed('set a¦ = 3 g # a\nset ab = a * 2\nabout "a"\n', "salt")).toBe(
      'set salt = 3 g # a\nset ab = salt * 2\nabout "a"\n',
    );
    expect(renamed("set a = 3 g\nset b = a¦ * 2\n", "sea salt")).toBe(
      "set `sea salt` = 3 g\nset b = `sea salt` * 2\n",
    );
  });
  it("of a column keeps its bracket, and its foot goes along", () => {
    const table = "table t\n| k | x (g) |\n| r | 1 |\ncolumn y = x¦ * 2\nfoot x = sum(x)\nset s = t.x\n";
    expect(renamed(table, "mass")).toBe(
      "table t\n| k | mass (g) |\n| r | 1 |\ncolumn y = mass * 2\nfoot mass = sum(mass)\nset s = t.mass\n",
    );
  });
  it("of a row goes into the formulas that call it", () => {
    expect(renamed("table t\n| k | x |\n| r¦ | 1 |\nset s = t.r.x\n", "bay leaf")).toContain(
      "set s = t.`bay leaf`.x",
    );
  });
  it("of a function goes to its calls", () => {
    expect(renamed("define f¦(x) = x\nset a = f(3)\n", "twice")).toBe(
      "define twice(x) = x\nset a = twice(3)\n",
    );
  });
  it("of a parameter stays in its definition, and goes to the labels that give it", () => {
    const text = "define f(x¦, n) = x * n\nset x = 1\nset a = f(x, n: 2) + f(n: 3, x: f(x: 1, n: x))\n";
    expect(renamed(text, "much")).toBe(
      "define f(much, n) = much * n\nset x = 1\nset a = f(x, n: 2) + f(n: 3, much: f(much: 1, n: x))\n",
    );
  });
  it("of a variable stays in its formula", () => {
    expect(renamed("set x = 1\nset a = find t¦ from x to 2 so that t^2 is 2\n", "root")).toBe(
      "set x = 1\nset a = find root from x to 2 so that root^2 is 2\n",
    );
    expect(renamed('chart "c" : curve p¦ * 2 for p from 1 to 2\n', "pull")).toBe(
      'chart "c" : curve pull * 2 for pull from 1 to 2\n',
    );
  });
  it("of a parameter leaves the labels of other functions, of lists and texts in the brackets, and of broken calls", () => {
    const text = (x: string) =>
      `define f(${x}, n) = ${x} * n\ndefine g(x, n) = x + n\nset \`odd (name\` = 1\n` +
      `set a = f([1, 2], ${x}: 3) + g(x: 1, n: 2) + f(g(1, x: 2), ${x}: 3)\n` +
      `set b = f(n: \`odd (name\`, \`${x}\`: 2) + f(n: count("x: \\" (, x: "), ${x}: 2)\n` +
      `step "take {f(1, ${x}: 2)} of x: it" wait f(1, ${x}: 2)\n`;
    // A label in backticks that needs none loses them.
    const after = text("much").replace("`much`", "much");
    expect(renamed(text("x").replace("f(x, n)", "f(x¦, n)"), "much")).toBe(after);
  });
  it("of a parameter of the second of two functions with one name leaves the calls of the first", () => {
    expect(renamed("define f(x) = x\ndefine f(x¦) = x * 2\nset a = f(x: 3)\n", "y")).toBe(
      "define f(x) = x\ndefine f(y) = y * 2\nset a = f(x: 3)\n",
    );
  });
  it("of the second of two with one name is written there alone", () => {
    expect(renamed("set a = 1\nset a¦ = 2\nset b = a\n", "c")).toBe("set a = 1\nset c = 2\nset b = a\n");
    expect(renamed("define f(x) = x\ndefine f¦(x) = x * 2\nset a = f(3)\n", "g")).toBe(
      "define f(x) = x\ndefine g(x) = x * 2\nset a = f(3)\n",
    );
  });
  it("of a row in a use goes to that row, of a table to every path", () => {
    const table = (t: string, r: string) =>
      `table ${t}\n| k | x |\n| q | 2 |\n| ${r} | 1 |\nset s = ${t}.${r}.x + sum(${t}.x)\n`;
    expect(renamed(table("t", "r").replace(".r.", ".r¦."), "z")).toBe(table("t", "z"));
    expect(renamed(table("t", "r").replace("sum(t", "sum(t¦"), "shelf")).toBe(table("shelf", "r"));
  });
  it("of a variable goes into the braces and cells where it moves, with its bars escaped there", () => {
    const cell = (x: string) => `table t\n| k | v |\n| r | = find ${x} from 1 to 2 so that ${x}^2 is 2 |\n`;
    expect(renamed(cell("x").replace("find x", "find x¦"), "a|b")).toBe(cell("`a\\|b`"));
    expect(renamed("set a = 1\nset b = find x from a to 2 so that x¦ * a is 2\nset c = x\n", "y")).toBe(
      "set a = 1\nset b = find y from a to 2 so that y * a is 2\nset c = x\n",
    );
  });
  it("of a variable leaves what has its name outside of the search", () => {
    expect(renamed("set x = 1 + 1\nset a = find x¦ from x to 9 so that x is 3\n", "y")).toBe(
      "set x = 1 + 1\nset a = find y from x to 9 so that y is 3\n",
    );
  });
  it("that is the same changes nothing", () => {
    expect(renamed("set a¦ = 1\n", "a")).toBe("set a = 1\n");
    expect(renamed("define f(x¦) = x\n", "x")).toBe("define f(x) = x\n");
  });
  it("that is hidden by a column is written past it", () => {
    expect(renamed("set a¦ = 1\ntable t\n| k | x |\n| r | 1 |\ncolumn y = x + a\n", "x")).toContain(
      "column y = x + book.x",
    );
  });
  it.each([
    ["set a¦ = 1\nset b = 2\n", "b", /taken/],
    ["set a¦ = 1\n", "", /needs a name/],
    ["set a¦ = 1\n", "a`b", /backtick/],
    ["set a¦ = 1\n", "book", /cannot name/],
    ["define f(x¦, n) = x * n\n", "n", /used in this line already/],
    ["set m = 3\ndefine f(x¦) = x * m\n", "m", /used in this line already/],
    ["define f(x¦) = x\n", " ", /needs a name/],
    ["set a = boils_at¦(3 mbar)\n", "warm", /no name of this book/],
    ["set a = 1 ¦+ 2\n", "warm", /no name of this book/],
    [
      "set a = (find x¦ from 1 to 2 so that x^2 is 2) + (find x from 1 to 3 so that x^2 is 3)\n",
      "y",
      /more than one thing/,
    ],
    ["define f(x¦, n) = n\n", "n", /used in this line already/],
    ["define f(x¦, n) = x\n", "n", /used in this line already/],
    ["define f(x¦, x) = x\n", "y", /more than one thing/],
  ])("%j to %j is refused in words", (written, name, says) => {
    expect(renamed(written, name)).toMatch(/^refused: /);
    expect(renamed(written, name)).toMatch(says);
  });
  it("leaves every value of a book as it was", () => {
    const places = ["set pull", "set blend", "table stock", "define kept"].map(
      (w) => CORDIAL.indexOf(w) + w.length,
    );
    const columns = ["| volume", "column cost"].map((w) => CORDIAL.indexOf(w) + w.length);
    const texts = (text: string) =>
      openBook(text)
        .answers()
        .map((a) => `${a.text} ${a.state}`);
    for (const at of [...places, ...columns, CORDIAL.indexOf("| bay leaf") + 4]) {
      const edited = renameAt(cordial, at, "renamed thing");
      const text = applyPatches(CORDIAL, edited.patches!);
      expect(text).not.toBe(CORDIAL);
      expect(texts(text)).toEqual(texts(CORDIAL));
    }
  });
});
