import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { CORDIAL, completed, inCordial, proposal, taken } from "./writing";

/** Every word that is offered, in order; functions, names and units left out. */
const words = (where: string, written: string) =>
  completed(where, written)
    .proposals.filter((p) => p.thing === "word")
    .map((p) => p.label)
    .join(", ");

describe("the words that are offered behind an operand", () => {
  it.each([
    // What stands there decides: a quantity can be shown, compared and counted on from.
    ["set x", "pull ¦", "in, is, is not, within, to"],
    ["set x", "begun ¦", "is, is not, within"],
    ["set x", "glycol ¦", "is, is not"],
    ["set x", "true ¦", "and, or"],
    ["set x", "blend ¦", ""],
    ["set x", "blend.volume ¦", "in, is, is not, within, to"],
    ["set x", "stock.volume ¦", "in, is, is not, within, where"],
    ["set x", "stock.volume * (2) ¦", "in, is, is not, within, where"],
    ["set x", "2 * stock.volume ¦", "in, is, is not, within, where"],
    ["set x", "stock.item ¦", "is, is not, where"],
    ["set x", "[1 K] ¦", "in, is, is not, within, where"],
    ["set x", "nobody ¦", "in, is, is not, within, and, or, where"],
    ["set x", "(1 K ¦", "in, is, is not, within, to"],
    ["column stock.cost", "volume ¦", "in, is, is not, within, to"],
    ["foot stock.cost", "volume ¦", "in, is, is not, within, where"],
    // A comparison is not compared again.
    ["set x", "pull > 3 mbar ¦", "in, and, or"],
    ["set x", "pull is pull ¦", "in, and, or"],
    ["set x", "pull is not pull ¦", "in, and, or"],
    ["set x", "(pull > 3 mbar) ¦", "and, or"],
    ["set x", "not true ¦", "and, or"],
    ["set x", "pull > 3 mbar and room ¦", "in, is, is not, within"],
    ["set x", "pull > 3 mbar or room < 2 °C ¦", "in, and, or"],
    ["set x", "pull within 1 mbar ¦", "in, to"],
    ["set x", "pull within 1 mbar to 2 mbar ¦", "in, and, or"],
    ["set x", "pull > 3 mbar and room within 1 °C ¦", "in, to"],
    // A range is counted, not compared.
    ["set x", "1 K to 3 K ¦", "in, where, step"],
    ["set x", "1 K to 3 K step 1 K ¦", "in, where"],
    ["set x", "sum(1 K to 3 K ¦", "in, where, step"],
    // if … then … else …
    ["set x", "if pull > 1 mbar ¦", "then, in, and, or"],
    ["set x", "if pull within 1 mbar to 2 mbar ¦", "then, in, and, or"],
    ["set x", "if true then pull ¦", "else, in, is, is not, within, to"],
    ["set x", "if true then pull else pull ¦", "in, is, is not, within, to"],
    ["set x", "if true then if false then pull else pull ¦", "else, in, is, is not, within, to"],
    ["set x", "if true then if false ¦", "then, else, and, or"],
    // find … from … to … so that … is …
    ["set x", "find y ¦", "from"],
    ["set x", "find y from 1 K ¦", "to"],
    ["set x", "find y from 1 K to 2 K ¦", "so that"],
    ["set x", "find y from 1 K to 2 K so that y ¦", "in, is"],
    ["set x", "find y from 1 K to 2 K so that y is 1 K ¦", "in"],
    ["set x", "1 K + (find y from 1 K ¦", "to"],
    // What is begun and is no operand narrows the words down.
    ["set x", "pull i¦", "in, is, is not"],
    ["set x", "pull IS¦", "is, is not"],
    ["set x", "pull s¦", ""],
  ])("%s: %s", (where, written, offered) => expect(words(where, written)).toBe(offered));
});

describe("the words that are offered behind a number, which may need no unit", () => {
  it.each([
    ["set x", "if 2 > 3 ¦", "then, in, and, or"],
    ["set x", "if pull > 3 ¦", "then, in, and, or"],
    ["set x", "if pull > 3 t¦", "then"],
    ["set x", "if true then 3 ¦", "else, in, is, is not, within, to"],
    ["set x", "3 ¦", "in, is, is not, within, to"],
    ["set x", "[1, 3 ¦", "in, is, is not, within, to"],
    ["set x", "[1, 2] * 3 ¦", "in, is, is not, within, where"],
    ["set x", "pull within 1 ¦", "in, to"],
    ["set x", "find y from 3 ¦", "to"],
    ["set x", "find y from 3 to 4 ¦", "so that"],
    ["set x", "1 to 3 ¦", "in, where, step"],
    ["set x", "stock.item is 3 ¦", "in, and, or"],
    ["set x", "whole(3 ¦", "in, is, is not, within, to"],
    ["set x", "sum(stock.volume where volume > 3 ¦", "in, and, or"],
    ["cell stock.volume 0", "= 3 ¦", "in, is, is not, within, to"],
    ["trial pull", "1 ¦", "to"],
    ["clauses", "wait 3 ¦", "ask"],
    ["clauses", "wait 3 a¦", "ask"],
    ["chart", "curve p for p from 1 to 2 ¦", "mark"],
    ["statement", "set q = 3 ¦", "try, in, is, is not, within, to"],
    // What touches the number is still the number or its unit; a typed cell and `in` hold a unit and no more.
    ["set x", "if 2 > 3¦", ""],
    ["set x", "if 2 > 3t¦", ""],
    ["set x", "pull in ¦", ""],
    ["set x", "pull in t¦", ""],
    ["cell stock.volume 0", "3 ¦", ""],
    ["cell stock.volume 0", "3 a¦", ""],
  ])("%s: %s: %s", (where, written, offered) => expect(words(where, written)).toBe(offered));
  it("stand behind the measures that are wanted, and before the units that do not fit", () => {
    const all = (written: string) => completed("set x", written).proposals.map((p) => p.label);
    expect(all("if pull > 3 ¦").join(", ")).toBe(
      "mbar, Pa, hPa, kPa, bar, mmHg, torr, atm, then, in, and, or",
    );
    expect(all("if 2 > 3 ¦").join(", ")).toBe("%, ‰, ppm, g/kg, mL/L, then, in, and, or");
    expect(all("if pull > 3 t¦").slice(0, 3)).toEqual(["torr", "then", "THB"]);
    // Where anything may stand: measures, words, money.
    const free = all("3 ¦");
    expect(free[0]).toBe("g");
    expect(free.indexOf("in")).toBeLessThan(free.indexOf("GBP"));
    expect(free.slice(free.indexOf("in"), free.indexOf("in") + 5)).toEqual([
      "in",
      "is",
      "is not",
      "within",
      "to",
    ]);
  });
  it("take the place of what has been begun", () => {
    expect(taken("set x", "if pull > 3 th¦", "then")).toBe("if pull > 3 then ¦");
    expect(taken("set x", "if 2 > 3 ¦", "and")).toBe("if 2 > 3 and ¦");
  });
});

describe("a list", () => {
  it("is sifted once in each bracket", () => {
    expect(words("set x", "stock.volume where volume > 3 mL ¦")).toBe("in, and, or");
    expect(words("set x", "(stock.volume where volume > 3 mL) ¦")).toBe("in, is, is not, within, where");
  });
});

describe("the words that are offered in the clauses of a statement", () => {
  it.each([
    ["book", "set q = 3 g ¦", "try, in, is, is not, within, to"],
    ["book", "set q = (3 g ¦", "in, is, is not, within, to"],
    ["book", "set q = 3 g try 1 g ¦", "to"],
    ["book", "set q = 3 g try 1 g to 2 g ¦", "step"],
    ["book", "set q = 3 g try 1 g to 2 g step 1 g ¦", ""],
    ["book", "check pull ¦", "in, is, is not, within, to"],
    ["book", 'step "Stir." ¦', "wait, ask"],
    ["book", 'step "Stir." wait (3 min ¦', "in, is, is not, within, to"],
    ["book", 'chart "C" : bars stock.volume ¦', "by, in, is, is not, within, where"],
    ["trial pull", "1 mbar ¦", "to"],
    ["trial pull", "1 mbar to 2 mbar ¦", "step"],
    ["trial pull", "1 mbar to 2 mbar step 1 mbar ¦", ""],
    ["clauses", "¦", "wait, ask"],
    ["clauses", "wait 3 min ¦", "ask"],
    ["clauses", "ask got ¦", "wait, ask, expect, in"],
    ["clauses", "ask got in mL ¦", "wait, ask, expect"],
    ["clauses", "ask got expect 3 mL ¦", "wait, ask"],
    ["clauses", "wait 3 min ask got ¦", "ask, expect, in"],
    ["chart", "¦", "bars, line, dots, curve"],
    ["chart", "d¦", "dots"],
    ["chart", "bars stock.alcohol ¦", "by, in, is, is not, within, where"],
    ["chart", "bars stock.alcohol by stock.item ¦", "is, is not, where"],
    ["chart", "curve boils_at(p) ¦", "for, in, is, is not, within, to"],
    ["chart", "curve boils_at(p) for p ¦", "mark, from"],
    ["chart", "curve boils_at(p) for p from 2 mbar ¦", "mark, to"],
    ["chart", "curve boils_at(p) for p from 2 mbar to 3 mbar ¦", "mark"],
    ["chart", "curve boils_at(p) for p from 2 mbar to 3 mbar mark pull ¦", "in, is, is not, within, to"],
  ])("%s: %s", (where, written, offered) =>
    expect(words(where, where === "book" ? inCordial(written) : written)).toBe(offered),
  );
});

describe("the words that begin an operand", () => {
  it.each([
    ["set x", "¦", ""],
    ["set x", "b¦", "blank"],
    ["set x", "f¦", "find, false"],
    ["set x", "t¦", "true"],
    ["set x", "n¦", "not"],
    ["set x", "F¦", "find, false"],
    ["set x", "alse¦", ""],
    ["set x", "pull + i¦", "if"],
    // `before` belongs to a row, `foot` to a table that has one, `book` to a table.
    ["column stock.cost", "b¦", "blank, before, book"],
    ["column stock.cost", "f¦", "find, false, foot"],
    ["column runs.at", "f¦", "find, false"],
    ["foot stock.cost", "b¦", "blank, book"],
    ["foot stock.cost", "f¦", "find, false, foot"],
  ])("%s: %s", (where, written, offered) => expect(words(where, written)).toBe(offered));
});

describe("a word that is taken", () => {
  it.each([
    // where, written, word, what then stands there, what it is said to do
    ["set x", "pull ¦", "in", "pull in ¦", "shows it in another unit"],
    ["set x", "pull ¦", "is", "pull is ¦", "asks whether two are equal"],
    ["set x", "pull ¦", "is not", "pull is not ¦", "asks whether two differ"],
    ["set x", "pull ¦", "within", "pull within ¦ to ", "asks whether it lies between two, both included"],
    ["set x", "pull within 1 mbar ¦", "to", "pull within 1 mbar to ¦", "the other end, included too"],
    ["set x", "true ¦", "and", "true and ¦", "true when both are"],
    ["set x", "true ¦", "or", "true or ¦", "true when one is"],
    ["set x", "[1 K] ¦", "where", "[1 K] where ¦", "keeps the entries of a list for which something is true"],
    ["set x", "1 K ¦", "to", "1 K to ¦", "counts up to here, both ends included"],
    ["set x", "1 K to 3 K ¦", "step", "1 K to 3 K step ¦", "how far apart the entries are"],
    ["set x", "if true ¦", "then", "if true then ¦", "the outcome when it is true"],
    ["set x", "if true then pull ¦", "else", "if true then pull else ¦", "the outcome when it is not"],
    ["set x", "find y ¦", "from", "find y from ¦", "where the search begins"],
    ["set x", "find y from 1 K ¦", "to", "find y from 1 K to ¦", "where the search ends"],
    [
      "set x",
      "find y from 1 K to 2 K ¦",
      "so that",
      "find y from 1 K to 2 K so that ¦",
      "what must hold where it is found",
    ],
    ["set x", "i¦", "if", "if ¦ then  else ", "one of two outcomes"],
    ["set x", "f¦", "find", "find ¦ from  to  so that ", "the value for which something holds"],
    ["set x", "n¦", "not", "not ¦", "true when it is false"],
    ["set x", "b¦", "blank", "blank¦", "a gap on purpose, to be filled in later"],
    ["set x", "t¦", "true", "true¦", "holds"],
    ["set x", "f¦", "false", "false¦", "does not hold"],
    ["column stock.cost", "b¦", "before", "before.¦", "the row before this one"],
    ["column stock.cost", "f¦", "foot", "foot.¦", "a value under this table"],
    ["column stock.cost", "b¦", "book", "book.¦", "a name of the book, past the columns"],
    ["statement", "set q = 1 K ¦", "try", "set q = 1 K try ¦ to ", "offers a slider between two values"],
    ["trial pull", "1 mbar ¦", "to", "1 mbar to ¦", "the other end of the slider"],
    ["clauses", "¦", "wait", "wait ¦", "a timer on the bench card"],
    ["clauses", "¦", "ask", "ask ¦", "a reading to be written down"],
    ["clauses", "ask got ¦", "in", "ask got in ¦", "the unit that is asked for"],
    ["clauses", "ask got ¦", "expect", "ask got expect ¦", "the reading that is planned, with its ±"],
    ["chart", "¦", "bars", "bars ¦ by ", "a bar for each row"],
    ["chart", "¦", "line", "line ¦ by ", "points that belong together, joined"],
    ["chart", "¦", "dots", "dots ¦ by ", "a dot for each row"],
    ["chart", "¦", "curve", "curve ¦ for x from  to ", "a formula over a range"],
    ["chart", "bars [1 K] ¦", "by", "bars [1 K] by ¦", "what the picture is laid out along"],
    ["chart", "curve p ¦", "for", "curve p for ¦ from  to ", "the variable of the curve, and its ends"],
    ["chart", "curve p for p ¦", "from", "curve p for p from ¦", "where the curve begins"],
    ["chart", "curve p for p from 1 K ¦", "to", "curve p for p from 1 K to ¦", "where the curve ends"],
    [
      "chart",
      "curve p for p from 1 K to 2 K ¦",
      "mark",
      "curve p for p from 1 K to 2 K mark ¦",
      "marks the point at which the book works",
    ],
  ])("%s: %s, %s", (where, written, word, stands, says) => {
    expect(taken(where, written, word)).toBe(stands);
    expect(proposal(where, written, word)).toMatchObject({ thing: "word", says, is: "", fits: true });
  });
});

describe("the beginnings of a statement", () => {
  const empty = openBook("");
  it.each([
    ["set", "set ¦ = ", "a named value"],
    ["table", "table ¦\n|  |  |\n", "a grid; its first row names the columns"],
    ["check", 'check ¦ : ""', "a condition that the book must meet"],
    ["chart", 'chart "¦" : bars  by ', "a picture"],
    ["step", 'step "¦"', "one line of the bench card"],
    ["part", 'part "¦"', "a titled part of the book"],
    ["define", "define ¦() = ", "a function of your own"],
    ["about", 'about "¦"', "words about the book"],
    ["book", 'book "¦"', "the title"],
    ["language", "language 1¦", "the version of the language; the first line of a book"],
  ])("%s", (word, stands, says) => {
    const begun = word.slice(0, 2);
    expect(taken("book", `${begun}¦`, word, empty)).toBe(stands);
    expect(proposal("book", `${begun}¦`, word, empty)).toMatchObject({ thing: "statement", says, is: "" });
  });
  it.each([
    ["column", "column ¦ = ", "a column that is computed, row by row"],
    ["foot", "foot ¦ = ", "a value under a column"],
  ])("%s, under a table", (word, stands, says) => {
    const written = inCordial(`${word.slice(0, 2)}¦`, "foot cost =");
    expect(taken("book", written, word)).toBe(inCordial(stands, "foot cost ="));
    expect(proposal("book", written, word)).toMatchObject({ thing: "statement", says, is: "" });
  });
  const begun = (written: string, book = empty) =>
    completed("book", written, book)
      .proposals.map((p) => p.label)
      .join(", ");
  it("come in an order that puts what is likely first", () => {
    expect(begun("¦")).toBe("set, table, check, chart, step, part, define, about, book");
    expect(begun("l¦")).toBe("language");
    expect(begun(`${CORDIAL}\n¦`)).toBe("set, table, check, chart, step, part, define, about, column, foot");
    expect(begun(inCordial("¦", "foot cost ="))).toBe(
      "column, foot, set, table, check, chart, step, part, define, about",
    );
  });
  it("are found by their own letters from the beginning on, large or small", () => {
    expect(begun("CH¦")).toBe("check, chart");
    expect(begun("eck¦")).toBe("");
  });
  it("stop where something is to be filled in", () => {
    expect(proposal("book", "ta¦", "table", empty).stops).toEqual([6, 9, 12]);
    expect(proposal("book", "de¦", "define", empty).stops).toEqual([7, 8, 12]);
    expect(proposal("book", "ch¦", "chart", empty).stops).toEqual([7, 16, 20]);
    expect(proposal("book", "la¦", "language", empty).stops).toEqual([10]);
  });
});
