import { describe, expect, it } from "vitest";
import { applyPatches } from "../../../grammar";
import { openBook } from "../../../src/engine";
import { foretell, hover, outline, renameAt } from "../../../src/engine/editing";
import { completed, cordial, field, fitting, marked, misfits, proposal } from "./writing";

describe("what is wanted", () => {
  it.each([
    ["chart", "bars ¦", "a list"],
    ["chart", "line ¦", "a list"],
    ["chart", "dots ¦", "a list"],
    ["chart", "curve ¦", undefined],
    ["chart", "bars stock.volume by ¦", "a list"],
    ["set x", "sum(¦", "a list, each a quantity"],
    ["set x", "whole(¦", "a quantity"],
    ["set x", "count(¦", "a list, each any value"],
    ["set x", "round_to(1 g, ¦", "a quantity"],
    ["set x", "marry([¦", "a volume or a mass"],
    ["set x", "[1 g, ¦", "a mass"],
    ["set x", "[¦", undefined],
    // Of a list that a function maps over, as of one that it makes a single value of.
    ["set x", "whole(stock.volume) + ¦", "a volume"],
    ["set x", "mean(stock.volume) + ¦", "a volume"],
    ["set x", "boils_at([20 mbar, 30 mbar]) > ¦", "a temperature"],
    // The clauses of statements.
    ["clauses", "expect ¦", undefined],
    ["clauses", "ask nobody expect ¦", undefined],
    ["trial glycol", "¦", "a text"],
    ["trial got", "¦", undefined],
    ["trial gone", "¦", undefined],
    ["statement", "set q = 3 g try ¦", "a mass"],
    ["statement", "set q = pull try ¦", "a pressure"],
    ["statement", 'chart "c" : curve x for x from 1 g to 2 g mark ¦', "a mass"],
    ["statement", 'step "{¦', undefined],
    // Beside ±, a sign, a comparison.
    ["set x", "20 ± 0.5 ¦", undefined],
    ["set x", "room + 20 ± 1 ¦", "a temperature difference"],
    ["set x", "pull > 20 ± 1 ¦", "a pressure"],
    ["set x", "1 + 2 ± ¦", "a plain number"],
    ["set x", "20 °C to 30 °C step ¦", "a temperature difference"],
    ["set x", "begun + 3 d > ¦", "a date"],
    ["set x", "(begun - begun) + ¦", "a time"],
    ["set x", "1 K + ¦", "a temperature difference or a temperature"],
    ["set x", "1 K - ¦", "a temperature difference"],
    ["set x", "pull ≥ ¦", "a pressure"],
    ["set x", "pull ≠ ¦", "a pressure"],
    ["set x", "pull is not ¦", "a pressure"],
    ["set x", "pull not ¦", undefined],
    ["set x", "(stock.volume) > ¦", "a volume"],
    // Words that stand behind nothing.
    ["set x", "step ¦", undefined],
    ["set x", "else ¦", undefined],
    ["set x", "then ¦", undefined],
    ["set x", "from ¦", undefined],
    ["set x", "if true then pull else if true then ¦", "a pressure"],
    ["set x", "3 + (if true then pull else ¦", "a pressure"],
    ["set x", "find glycol from ¦", "a text"],
    ["set x", "find nobody from ¦", undefined],
  ])("%s: %s: %s", (where, written, says) => expect(completed(where, written).expected).toBe(says));
});

describe("whether a list may stand there", () => {
  const single = "a list, where one value stands";
  it.each([
    ["set x", "if true then stock.vol¦", undefined],
    ["foot stock.cost", "stock.vol¦", undefined],
    ["check", "sum(stock.vol¦", undefined],
    ["check", "kept(stock.vol¦", undefined],
    ["set x", "if sum(stock.vol¦", undefined],
    ["cell stock.strength 0", "= sum(stock.v¦", undefined],
    ["sentence", "{stock.vol¦", undefined],
    ["column stock.cost", "stock.vol¦", single],
    ["set x", "if stock.vol¦", single],
    ["set x", "stock.volume where stock.vol¦", single],
    ["check", "stock.vol¦", single],
    ["set x", "sum(if stock.vol¦", single],
    ["set x", "if (true) and (stock.vol¦", single],
    ["cell stock.strength 0", "= stock.v¦", single],
  ])("%s: %s: %s", (where, written, why) => expect(misfits(where, written).get("volume")).toBe(why));
});

describe("the labels that are left", () => {
  const left = (written: string) =>
    completed("set x", written)
      .proposals.filter((p) => p.thing === "label")
      .map((p) => p.label)
      .join(" ");
  it.each([
    // What stands behind the caret is given already, by place or by label.
    ["let_down(¦", "to:"],
    ["let_down(¦, 96 %vol)", "to:"],
    ["let_down(¦, 96 %vol, to: 40 %vol)", ""],
    ["boils_at(¦, strength: 3 %vol)", "solids: activity:"],
    ["boils_at(pull, ¦, strength: 3 %vol)", "solids: activity:"],
    ["let_down(to: 3 %vol, ¦, 96 %vol)", "volume: strength:"],
    // What stands in brackets of its own, or behind the call, is not.
    ["boils_at(pull, ¦, (solids: 3), [1, 2], activity: 3)", "strength: solids:"],
    ["boils_at(pull, ¦) + f(strength: 3)", "strength: solids: activity:"],
  ])("%s: %s", (written, labels) => expect(left(written)).toBe(labels));
});

describe("a field of what is not there any more", () => {
  it.each([
    ["cell stock.gone 0", "= vol¦", "volume"],
    ["cell gone.x 0", "= pu¦", "pull"],
    ["column stock.gone", "vol¦", "volume"],
    ["column gone.x", "pu¦", "pull"],
    ["foot stock.gone", "vol¦", "volume"],
    ["foot gone.x", "pu¦", "pull"],
    ["define gone", "pu¦", "pull"],
    ["trial gone", "pu¦", "pull"],
    ["set gone", "pu¦", "pull"],
    ["cell stock.sort 99", "h¦", "herb"],
    ["column stock.cost 99", "vol¦", "volume"],
  ])("%s: %s still knows the names of the book", (where, written, label) => {
    expect(fitting(where, written)[0]).toBe(label);
  });
  it("has no cell in a row that is gone", () => {
    expect(proposal("column stock.cost 99", "vol¦", "volume").shown).toBeUndefined();
  });
});

describe("parts of parts", () => {
  const book = openBook(`set x = if true then marry([1 L], [40 %vol]) else marry([2 L], [40 %vol])
set list = [1 g, 2 g]
set blends = [marry([1 L], [40 %vol]), marry([1 L], [40 %vol])]
set run = distil(1 L, 12 %vol, 60 mbar, take: 200 mL)
table t
| i | a (g) |
| r | 1     |
set all = t
set row = t.r
set column = t.a
`);
  const told = (written: string) => {
    const { text, caret } = marked(written);
    const found = hover(book, field("set q", text), caret);
    return found && [found.title, found.lines[0], found.shown?.text].join(" | ");
  };
  it.each([
    ["x.vol¦ume", "x.volume | A volume. | 1 L"],
    ["list.2¦", "list.2 | A mass. | 2 g"],
    ["list.3¦", undefined],
    ["list.0¦", undefined],
    ["list.x¦", undefined],
    ["blends.vol¦ume", "blends.volume | A list, each a volume. | "],
    ["blends.1.vol¦ume", "blends.1.volume | A volume. | 1 L"],
    ["run.tak¦en.volume", "run.taken | A result with parts. | a result with parts"],
    ["run.taken.vol¦ume", "run.taken.volume | A volume. | 0.2 L"],
    // A value may stand for a table, a row or a column.
    ["all.a¦", "t.a | A list, each a mass. | 1 entry"],
    ["all.r¦", "t.r | A row. | "],
    ["row.a¦", "row.a | A mass. | 1 g"],
    ["column.r¦", "column.r | A mass. | 1 g"],
    ["t.a.r¦", "t.r.a | A mass. | 1 g"],
  ])("%s: %s", (written, wanted) => expect(told(written)).toBe(wanted));
  it.each([
    ["list.¦", ""],
    ["blends.¦", "volume strength mass pure_volume contraction"],
    ["x.¦", "volume strength mass pure_volume contraction"],
    ["run.taken.¦", "volume mass strength alcohol"],
    ["all.¦", "i a r"],
    ["row.¦", "i a"],
    ["t.a.¦", "r"],
    ["t.¦", "i a r"],
    ["t.r.¦", "i a"],
  ])("%s is followed by %s", (written, labels) =>
    expect(fitting("set q", written, book).join(" ")).toBe(labels),
  );
  it("that fit are offered as whole paths, however deep", () => {
    expect(fitting("set q", "flash_point(¦", book)).toEqual(
      expect.arrayContaining(["x.strength", "run.taken.strength", "run.left.strength"]),
    );
  });
  it("are told by the vocabulary only where the value is one call", () => {
    const lines = (written: string) => {
      const { text, caret } = marked(written);
      return hover(book, field("set q", text), caret)!.lines;
    };
    expect(lines("run.taken.vol¦ume")[1]).toBe("Distillate, at 20 °C.");
    expect(lines("x.vol¦ume")[1]).toMatch(/^A part of x: if true then marry/);
  });
});

describe("another name in the cells of a table", () => {
  const renamed = (written: string, name: string) => {
    const { text, caret } = marked(written);
    const edited = renameAt(openBook(text), caret, name);
    return edited.patches ? applyPatches(text, edited.patches) : edited.refused.says;
  };
  const table = (cell: string) => `table t\n| i | v |\n| r | = ${cell} |\n`;
  it("has its bars escaped there, and nowhere else", () => {
    expect(renamed(`set a¦ = 3\n${table("a")}`, "a|b")).toBe(`set \`a|b\` = 3\n${table("`a\\|b`")}`);
    expect(renamed(`define f¦(x) = x\n${table("f(3)")}`, "a|b")).toBe(
      `define \`a|b\`(x) = x\n${table("`a\\|b`(3)")}`,
    );
    expect(renamed(`define f(x¦) = x\n${table("f(x: 3)")}set q = f(x: 1)\n`, "a|b")).toBe(
      `define f(\`a|b\`) = \`a|b\`\n${table("f(`a\\|b`: 3)")}set q = f(\`a|b\`: 1)\n`,
    );
    expect(renamed("table t\n| i | v¦ |\n| r | 1 |\ncolumn w = v\n", "a|b")).toBe(
      "table t\n| i | a\\|b |\n| r | 1 |\ncolumn w = `a|b`\n",
    );
  });
  it("of a parameter may be that of a function or a part, but not that of another name in the line", () => {
    expect(renamed("define f(x¦) = twice(x)\ndefine twice(y) = y\n", "twice")).toBe(
      "define f(twice) = twice(twice)\ndefine twice(y) = y\n",
    );
    expect(renamed("define f(x¦) = x.y + 1\n", "y")).toBe("define f(y) = y.y + 1\n");
    expect(renamed("define f(x¦) = find y from 1 to 2 so that x is y\n", "y")).toBe(
      "`y` is used in this line already.",
    );
  });
});

describe("what a field would come to", () => {
  const told = (where: string, text: string) => {
    const found = foretell(cordial, field(where, text), text)!;
    const { trouble, shown } = found;
    return [shown.path, shown.text || shown.message, trouble && text.slice(trouble.from, trouble.to)];
  };
  it.each([
    // The quotes of a sentence are its own, and what is wrong in its braces has its place in the sentence.
    ["sentence", 'say "a" {1 + 2,5} "b"', ["", "`2,5`: is this `2.5`, or `2, 5`?", "2,5"]],
    ["sentence", 'say "a" {3 Kg}', ["", "Kg is no unit; capitals count.", "Kg"]],
    ["sentence", '{"a"} "b" {glycol}', ["", 'a "b" propylene', undefined]],
    ["sentence", '} "x" {pull}', ["", "This `}` closes nothing.", "}"]],
    ["foot stock.cost", "sum(cost", ["stock.foot.cost", "The `(` is not closed.", "("]],
    ["foot stock.item", "count(item)", ["", "3", undefined]],
    ["foot stock.gone", "1 g", ["", "1 g", undefined]],
    [
      "column stock.cost 1",
      "volume * nobody",
      ["stock.`bay leaf`.cost", "Nothing here is called `nobody`.", "nobody"],
    ],
    [
      "column stock.cost",
      "stock.volume",
      ["stock.quince.cost", "A cell holds one value; this comes to a list of 3.", "stock.volume"],
    ],
    ["column stock.cost 1", "before.volume", ["stock.`bay leaf`.cost", "1200 mL", undefined]],
    ["cell stock.volume 0", "= 12 Ml", ["stock.quince.volume", "Ml is no unit; capitals count.", "Ml"]],
    ["cell stock.volume 0", "12 Ml", ["stock.quince.volume", "Ml is no unit; capitals count.", "12 Ml"]],
    [
      "check",
      "pull > 3",
      ["", "60 mbar (a pressure) and 3 (a plain number) cannot be compared.", "pull > 3"],
    ],
  ])("%s: %s", (where, text, wanted) => expect(told(where, text)).toEqual(wanted));
});

describe("the state of an entry of the contents", () => {
  it.each([
    ["table t\n| k | x (Q) | y (g) |\n| r | 1 | 2 |\n", "t: fault 1 0"],
    ["table t\n| k | y (g) |\n| r | |\n", "t: gap 0 1"],
    ["set a = [1, 2] / [0, 1]\n", "a: fault 1 0"],
    ["set a = marry([1 L, blank], [40 %vol, 40 %vol])\n", "a: gap 0 1"],
    ["set a = 3\n", "a: ok 0 0"],
  ])("%j: %s", (text, wanted) => {
    const [entry] = outline(openBook(text));
    const told = `${entry!.label}: ${entry!.state} ${entry!.counts.faults} ${entry!.counts.gaps}`;
    expect(told).toBe(wanted);
  });
});
