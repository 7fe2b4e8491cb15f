import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { hover } from "../../../src/engine/editing";
import { vocabulary } from "../../../src/vocabulary";
import { hoverText } from "../../../src/vocabulary/glossary";
import { CORDIAL, cordial, field, marked } from "./writing";

const over = (where: string, written: string, book = cordial) => {
  const { text, caret } = marked(written);
  return hover(book, field(where, text), caret);
};
/** The line of the book on which something stands, 1-based. */
const lineOf = (words: string) => CORDIAL.slice(0, CORDIAL.indexOf(words)).split("\n").length;

describe("over a name", () => {
  it("its path, value and kind, and where it was typed, with the remark beside it", () => {
    const found = over("set x", "pu¦ll + 1 mbar")!;
    expect(found).toMatchObject({ from: 0, to: 4, title: "pull", shown: { text: "60 mbar" } });
    expect(found.lines).toEqual([
      "A pressure.",
      `Typed in line ${lineOf("set pull")}.`,
      "Absolute, read at the flask.",
    ]);
  });
  it("the formula of what is computed or found", () => {
    expect(over("set x", "boi¦ling")!.lines).toContain(
      `Computed in line ${lineOf("set boiling")}: boils_at(pull, strength: goal)`,
    );
    expect(over("set x", "be¦st")!.lines[1]).toMatch(/^Found in line \d+: find x from/);
  });
  it("what a part of a result means, and whose part it is", () => {
    const found = over("set x", "thinned.ad¦d")!;
    expect(found.title).toBe("thinned.add");
    expect(found.lines[1]).toBe(vocabulary.get("let_down")!.result.find((p) => p.name === "add")!.says);
    expect(found.lines[2]).toMatch(/^A part of thinned: let_down\(/);
  });
  it("whose column it is and how it is worked out", () => {
    expect(over("column stock.cost 1", "vol¦ume")!.lines).toEqual([
      "A volume.",
      "Typed in column volume of table stock.",
    ]);
    expect(over("set x", "stock.co¦st")!.lines[1]).toBe(
      `Computed in each row, column cost of table stock: volume * price (line ${lineOf("column cost")}).`,
    );
    expect(over("set x", "stock.foot.co¦st")!.lines[1]).toBe(
      `Under column cost of table stock: sum(cost) (line ${lineOf("foot cost")}).`,
    );
  });
  it("what a table holds", () => {
    expect(over("set x", "sto¦ck.cost")!.lines[1]).toMatch(
      /^On the shelf\. 3 rows; columns: item, volume \(mL\), strength \(%vol\)/,
    );
  });
  it("what is missing or wrong", () => {
    expect(over("set x", "go¦t")!.lines.at(-1)).toMatch(/filled in/);
    const book = openBook("set a = 1 g + 1 mL\n");
    const found = over("set x", "a¦", book)!;
    expect(found.shown!.state).toBe("fault");
    expect(found.lines).toContain(found.shown!.message);
    expect(found.lines).toContain(found.shown!.help);
  });
  it("what words that lead on mean", () => {
    expect(over("column stock.cost", "bef¦ore.cost")!.lines[1]).toMatch(/row before/);
    expect(over("define kept", "sha¦re")!.lines).toContain("A name of this formula alone.");
  });
});

describe("over a function, a label, a unit, a number", () => {
  it("a function of the vocabulary tells what its glossary tells", () => {
    const found = over("set x", "boils¦_at(pull)")!;
    expect([found.title, ...found.lines].join("\n")).toBe(hoverText(vocabulary.get("boils_at")!));
  });
  it("a function of the book tells its formula", () => {
    expect(over("set x", "ke¦pt(1, 2)")).toMatchObject({
      title: "kept(x, share)",
      lines: [`A function of this book, line ${lineOf("define kept")}.`, "= x * (1 - share)"],
    });
  });
  it("a label tells what it takes and means", () => {
    expect(over("set x", "boils_at(pull, soli¦ds: syrup)")).toMatchObject({
      title: "solids:",
      from: 15,
      to: 21,
    });
    expect(over("set x", "boils_at(pull, soli¦ds: syrup)")!.lines).toContain("When left out: 0 °Bx.");
  });
  it("a label of a function of the book says whose parameter it is", () => {
    expect(over("set x", "kept(1, sha¦re: 0.1)")).toMatchObject({
      title: "share:",
      lines: ["A parameter of kept."],
    });
  });
  it.each([
    ["3 mb¦ar", "3 mbar is 300 Pa."],
    ["20 °¦C", "20 °C is 293.15 K."],
    ["2.4 ¦L", "2.4 L is 0.0024 m3."],
    ["42 %v¦ol", "42 %vol is 0.42."],
    ["90 m¦in", "90 min is 5400 s."],
    ["¦90 min", "90 min is 5400 s."],
    ["9¦0 min", "90 min is 5400 s."],
    ["pull + 0.5¦ bar", "0.5 bar is 50000 Pa."],
  ])("%s is told in the units of the physics: %s", (written, says) => {
    expect(over("set x", written)!.lines).toContain(says);
  });
  it("a number is told with its unit, from its first digit to the end of the unit", () => {
    expect(over("set x", "pull + 9¦0  min")).toMatchObject({ from: 7, to: 14, title: "90 min" });
  });
  it("a word that stands first and inside is told for where it stands, also at the very beginning", () => {
    const book = openBook('step "Stir." wait 3 min');
    const first = hover(book, { in: "book" }, 1)!;
    const inside = over("set x", "1 to 9 st¦ep 2")!;
    expect([first.title, inside.title]).toEqual(["step", "step"]);
    expect(first.lines).not.toEqual(inside.lines);
    expect(first.lines.join()).toContain("Stir in");
  });
  it("a unit tells its name", () => {
    expect(over("set x", "3 mb¦ar")!.lines[0]).toBe("Millibar, a pressure.");
    expect(over("set x", "pull in P¦a")).toMatchObject({ title: "Pa", lines: ["Pascal, a pressure."] });
  });
  it("numbers in texts, names and without a unit tell nothing", () => {
    for (const written of ['"9¦0 min"', "9¦0", "runs.9¦0", "`9¦0 min`", "90 nobo¦dys"])
      expect(over("set x", written), written).toBeUndefined();
  });
  it("counts in the text of the book", () => {
    const at = CORDIAL.indexOf("30 min");
    expect(hover(cordial, { in: "book" }, at + 1)).toMatchObject({ from: at, to: at + 6 });
  });
});

describe("over the place where something is named or typed", () => {
  const at = (words: string, into = 1) => hover(cordial, { in: "book" }, CORDIAL.indexOf(words) + into);
  it("a value, a table, a column, a foot, a function tell what they are", () => {
    expect(at("pull    =")).toMatchObject({ title: "pull", shown: { text: "60 mbar" } });
    expect(at('stock "On')).toMatchObject({ title: "stock" });
    expect(at("volume (mL)")).toMatchObject({ title: "stock.volume", shown: { text: "3 entries" } });
    expect(at("cost = volume")).toMatchObject({ title: "stock.cost" });
    expect(at("cost = sum")).toMatchObject({ title: "stock.foot.cost", shown: { unit: "GBP" } });
    expect(at("kept(x")).toMatchObject({ title: "kept(x, share)" });
  });
  it("a row's name and a typed cell, with its amount in the units of the physics", () => {
    expect(at("bay leaf")).toMatchObject({ title: "stock.`bay leaf`" });
    const cell = at("1200 ")!;
    expect(cell).toMatchObject({ title: "stock.quince.volume", shown: { text: "1200 mL" } });
    expect(cell.lines).toContain("1200 mL is 0.0012 m3.");
  });
  it("nothing over a bar, a blank cell, a ruler or a broken line", () => {
    const text = "table t\n| k | x (g) |\n|---|---|\n| r |   |\nset a = (\n";
    const book = openBook(text);
    for (const words of ["| k", "--|---", "  |\nset", "(\n"])
      expect(hover(book, { in: "book" }, text.indexOf(words)), words).toBeUndefined();
  });
});
