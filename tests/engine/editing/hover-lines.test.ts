import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { hover } from "../../../src/engine/editing";
import { CORDIAL, cordial, field, marked } from "./writing";

/** The stretch, the title and the lines that are told where the caret stands: `stretch | title | line | line`. */
function told(where: string, written: string, book = cordial): string {
  const { text, caret } = marked(written);
  const found = hover(book, field(where, text), caret);
  return found ? [text.slice(found.from, found.to), found.title, ...found.lines].join(" | ") : "nothing";
}
/** The same over a place in the text of the cordial's book, given by its words with a caret in them. */
function toldInBook(words: string): string {
  const { text, caret } = marked(words);
  const at = CORDIAL.indexOf(text);
  expect(at, words).toBeGreaterThanOrEqual(0);
  const found = hover(cordial, { in: "book" }, at + caret);
  return found ? [CORDIAL.slice(found.from, found.to), found.title, ...found.lines].join(" | ") : "nothing";
}
const lineOf = (words: string) => CORDIAL.slice(0, CORDIAL.indexOf(words)).split("\n").length;

describe("all that is told about a name", () => {
  it.each([
    [
      "set x",
      "pu¦ll",
      `pull | pull | A pressure. | Typed in line ${lineOf("set pull")}. | Absolute, read at the flask.`,
    ],
    [
      "set x",
      "bes¦t",
      `best | best | A pressure. | Found in line ${lineOf("set best")}: find x from 20 mbar to 200 mbar so that boils_at(x) is 30 °C`,
    ],
    [
      "set x",
      "go¦t",
      `got | got | A volume. | Typed in line ${lineOf("set got")}. | got is not filled in yet.`,
    ],
    [
      "set x",
      "thinned.ad¦d",
      `thinned.add | thinned.add | A volume. | Water to add, at 20 °C. | A part of thinned: let_down(blend.volume, blend.strength, to: goal) (line ${lineOf("set thinned")}).`,
    ],
    ["set x", "glyc¦ol", `glycol | glycol | A text. | Typed in line ${lineOf("set glycol")}.`],
    ["set x", "beg¦un", `begun | begun | A date. | Typed in line ${lineOf("set begun")}.`],
    [
      "set x",
      "sto¦ck",
      "stock | stock | A table. | On the shelf. 3 rows; columns: item, volume (mL), strength (%vol), price (GBP/L), sort, on, alcohol (mL), cost (GBP), running (GBP).",
    ],
    ["set x", "ru¦ns", "runs | runs | A table. | 2 rows; columns: run, mass (g), at (°C), note."],
    [
      "set x",
      "stock.vol¦ume",
      "stock.volume | stock.volume | A list, each a volume. | Typed in column volume of table stock.",
    ],
    ["set x", "stock.fo¦ot.cost", "stock.foot | stock.foot | Values under a table."],
    [
      "set x",
      "stock.foot.co¦st",
      `stock.foot.cost | stock.foot.cost | An amount in GBP. | Under column cost of table stock: sum(cost) (line ${lineOf("foot cost")}).`,
    ],
    ["set x", "stock.`bay ¦leaf`", "stock.`bay leaf` | stock.`bay leaf` | A row. | A row of table stock."],
    [
      "set x",
      "stock.`bay leaf`.pr¦ice",
      "stock.`bay leaf`.price | stock.`bay leaf`.price | A price per volume. | Typed in column price of table stock.",
    ],
    [
      "column stock.cost",
      "be¦fore.cost",
      "before | before | A row. | The row before this one: `before.column`.",
    ],
    [
      "column stock.cost",
      "fo¦ot.cost",
      "foot | foot | Values under a table. | The values under this table: `foot.column`.",
    ],
    [
      "column stock.cost",
      "bo¦ok.pull",
      "book | book | A table. | The names of the book, past the columns: `book.name`.",
    ],
    [
      "column stock.cost 1",
      "before.vol¦ume",
      "before.volume | stock.quince.volume | A volume. | Typed in column volume of table stock.",
    ],
    ["define kept", "sh¦are", "share | share | A name of this formula alone."],
    [
      "set x",
      "find glycol from 1 K to 2 K so that glyc¦ol is 1 K",
      "glycol | glycol | A temperature difference. | A name of this formula alone; it hides the value of that name.",
    ],
    [
      "set x",
      "let_down(1 L, 96 %vol, t¦o: goal)",
      "to | to: | A strength by mass, a strength by volume or a strength in US proof. | Strength wanted.",
    ],
  ])("%s: %s", (where, written, wanted) => expect(told(where, written)).toBe(wanted));

  const troubled = openBook(
    [
      "set a = 1 g + 1 L",
      "set b = a * 2",
      "set c = blank in mL # to be weighed!",
      "set d = 60 ± 2 g",
      "set e = mean([1 g, blank])",
      "set f = c * 2",
      "set g = wrong",
      "table t",
      "| k | x (g) |",
      "| r | 1 |",
      "| s | 2 mL |",
      "column y = x * 2",
      "table none",
      "| k | x (g) |",
      "set rows = none",
    ].join("\n"),
  );
  it.each([
    // A fault tells what is wrong and what to do, a fault elsewhere whence it comes, a gap what is to be filled in.
    [
      "a¦",
      "a | a | Computed in line 1: 1 g + 1 L | 1 g (a mass) and 1 L (a volume) do not add. | `mass_of` and `volume_of` turn one into the other.",
    ],
    ["b¦", "b | b | Computed in line 2: a * 2 | Needs a, where: 1 g (a mass) and 1 L (a volume) do not add."],
    ["c¦", "c | c | A volume. | Typed in line 3. | To be weighed! | c is not filled in yet."],
    ["d¦", "d | d | A mass. | Typed in line 4."],
    ["e¦", "e | e | A mass. | Computed in line 5: mean([1 g, blank]) | 1 of 2 is blank"],
    ["f¦", "f | f | A volume. | Computed in line 6: c * 2 | Needs c."],
    ["non¦e", "none | none | A table. | 0 rows; columns: k, x (g)."],
    [
      "t.s.x¦",
      "t.s.x | t.s.x | A mass. | Typed in column x of table t. | 2 mL is a volume, under a heading in g, a mass. | A column holds one kind; another kind stands in a column of its own.",
    ],
  ])("%s in a book with troubles", (written, wanted) =>
    expect(told("set q", written, troubled)).toBe(wanted),
  );
});

describe("all that is told where something is named or typed", () => {
  it.each([
    [
      "set pu¦ll ",
      `pull | pull | A pressure. | Typed in line ${lineOf("set pull")}. | Absolute, read at the flask.`,
    ],
    [
      "define ke¦pt",
      `kept | kept(x, share) | A function of this book, line ${lineOf("define kept")}. | = x * (1 - share)`,
    ],
    [
      "foot co¦st =",
      `cost | stock.foot.cost | An amount in GBP. | Under column cost of table stock: sum(cost) (line ${lineOf("foot cost")}).`,
    ],
    [
      "column co¦st =",
      `cost | stock.cost | A list, each an amount in GBP. | Computed in each row, column cost of table stock: volume * price (line ${lineOf("column cost")}).`,
    ],
    ["| it¦em ", "item | stock.item | A list, each a text. | Typed in column item of table stock."],
    ["| qui¦nce    |", "quince | stock.quince | A row. | A row of table stock."],
    // A typed amount is told in the units of the physics as well, unless they are its own.
    [
      "| 12¦00 ",
      "1200 | stock.quince.volume | A volume. | Typed in column volume of table stock. | 1200 mL is 0.0012 m3.",
    ],
    [
      "31.5¦ ± 0.5 °C | calm",
      "31.5 ± 0.5 °C | runs.1.at | A temperature. | Typed in column at of table runs. | 31.50 ± 0.50 °C is 304.65 ± 0.50 K.",
    ],
    ["| ca¦lm ", "calm | runs.1.note | A text. | Typed in column note of table runs."],
    ["2026-03¦-01", "2026-03-01 | stock.quince.on | A date. | Typed in column on of table stock."],
    // In the unit behind an ask nothing is typed; behind a number there is.
    ["ask got in m¦L", "mL | mL | Millilitre, a volume."],
    ["expect 900 m¦L", "mL | mL | Millilitre, a volume. | 900 mL is 0.0009 m3."],
  ])("%s", (words, wanted) => expect(toldInBook(words)).toBe(wanted));
});

describe("all that is told about a unit or a number", () => {
  it.each([
    ["3 mb¦ar", "mbar | mbar | Millibar, a pressure. | 3 mbar is 300 Pa."],
    ["3¦ mbar", "3 mbar | 3 mbar | A pressure. | 3 mbar is 300 Pa."],
    ["1¦2.5 mL", "12.5 mL | 12.5 mL | A volume. | 12.5 mL is 0.0000125 m3."],
    ["1 L + 0.75¦ L", "0.75 L | 0.75 L | A volume. | 0.75 L is 0.00075 m3."],
    ["4¦ Pa", "4 Pa | 4 Pa | A pressure."],
    ["4¦ K", "4 K | 4 K | A temperature difference."],
    ["pull in P¦a", "Pa | Pa | Pascal, a pressure."],
    ["3¦", "nothing"],
    ["3¦ + 4 mL", "nothing"],
    ["pull2¦ mL", "nothing"],
  ])("%s", (written, wanted) => expect(told("set x", written)).toBe(wanted));
});

describe("the words of the language", () => {
  // where, written, the word that is found, how its line begins
  it.each([
    ["set x", "pull i¦n Pa", "in", "Shows a value in another unit of the same kind."],
    ["set x", "i¦f true then 1 else 2", "if", "Chooses between two outcomes"],
    ["set x", "¦if true then 1 else 2", "if", "Chooses between two outcomes"],
    ["set x", "if¦ true then 1 else 2", "if", "Chooses between two outcomes"],
    ["trial pull", "1 mbar t¦o 2 mbar", "to", "Stands between two ends"],
    ["clauses", "wa¦it 3 min", "wait", "Puts a timer on a step."],
    ["chart", "ba¦rs stock.alcohol by stock.item", "bars", "Draws a bar for each entry."],
    ["cell stock.volume 0", "= i¦f true then 1 mL else 2 mL", "if", "Chooses between two outcomes"],
    ["sentence", "Pull {pull i¦n Pa} now", "in", "Shows a value in another unit"],
    ["check", "pull i¦s pull", "is", "Asks whether two values are equal"],
    ["foot stock.cost", "sum(cost) i¦n GBP", "in", "Shows a value in another unit"],
    ["statement", "ta¦ble x", "table", "Begins a grid"],
    ["statement", "  ta¦ble x", "table", "Begins a grid"],
    ["statement", "set x = 3 tr¦y 3", "try", "Offers a slider between two values"],
    // `step` begins a statement, and parts a range.
    ["statement", 's¦tep "Stir."', "step", "Is one line of the bench card"],
    ["statement", "set x = 1 to 3 s¦tep 1", "step", "Says how far apart"],
  ])("%s: %s", (where, written, word, says) => {
    const found = told(where, written).split(" | ");
    expect(found.slice(0, 2)).toEqual([word, word]);
    expect(found[2]!.startsWith(says), found[2]).toBe(true);
    expect(found[3]).toMatch(/^For example: /);
    expect(found.at(-1)).toMatch(/^It gives: /);
  });
  it.each([
    ["heading stock", "i¦n (mL)"],
    ["cell stock.sort 0", "i¦f"],
    ["sentence", "Pull i¦n"],
    ["set x", '"i¦f"'],
    ["set x", "`i¦f`"],
    ["set x", "pull # i¦f"],
    ["set x", "pull ¦ in Pa"],
  ])("%s: %s is no word", (where, written) => expect(told(where, written)).toBe("nothing"));
});
