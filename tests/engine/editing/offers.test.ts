import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { matchOf } from "../../../src/engine/editing/proposal";
import { vocabulary } from "../../../src/vocabulary";
import { completed, fitting, inCordial, proposal, taken } from "./writing";

describe("an operand begins behind what binds more loosely", () => {
  it.each([
    // What stands in front; what is wanted behind `pull +`, `pull in` and `pull ±` there.
    ["", "a pressure", "a pressure", "a pressure"],
    ["room < ", "a pressure", "a pressure", "a pressure"],
    ["room <= ", "a pressure", "a pressure", "a pressure"],
    ["room > ", "a pressure", "a pressure", "a pressure"],
    ["room >= ", "a pressure", "a pressure", "a pressure"],
    ["room ≤ ", "a pressure", "a pressure", "a pressure"],
    ["room ≥ ", "a pressure", "a pressure", "a pressure"],
    ["room ≠ ", "a pressure", "a pressure", "a pressure"],
    ["room is ", "a pressure", "a pressure", "a pressure"],
    ["room is not ", "a pressure", "a pressure", "a pressure"],
    ["room within ", "a pressure", "a pressure", "a pressure"],
    ["room within 1 °C to ", "a pressure", "a pressure", "a pressure"],
    ["true and ", "a pressure", "a pressure", "a pressure"],
    ["true or ", "a pressure", "a pressure", "a pressure"],
    ["not ", "a pressure", "a pressure", "a pressure"],
    ["if ", "a pressure", "a pressure", "a pressure"],
    ["if true then ", "a pressure", "a pressure", "a pressure"],
    ["if true then room else ", "a pressure", "a pressure", "a pressure"],
    ["find x from ", "a pressure", "a pressure", "a pressure"],
    ["find x from room to ", "a pressure", "a pressure", "a pressure"],
    ["find x from 1 K to 2 K so that ", "a pressure", "a pressure", "a pressure"],
    ["1 K to ", "a pressure", "a pressure", "a pressure"],
    ["1 K to 2 K step ", "a pressure", "a pressure", "a pressure"],
    ["[room] where ", "a pressure", "a pressure", "a pressure"],
    ["- ", "a pressure", "a pressure", "a pressure"],
    ["2 L * ", "an energy", "an energy", "a pressure"],
    ["2 L / ", "a volume per pressure", "a volume per pressure", "a pressure"],
    ["2 ^ ", "a plain number", "a plain number", "a plain number"],
    ["room in K < ", "a pressure", "a pressure", "a pressure"],
  ])("%spull: %s, %s, %s", (front, sum, shown, spread) => {
    const wanted = (written: string) => completed("set x", front + written).expected;
    expect([wanted("pull + ¦"), wanted("pull in ¦"), wanted("pull ± ¦")]).toEqual([sum, shown, spread]);
  });
});

describe("what the first place of a function wants", () => {
  it.each([
    ["sum", "a list, each a quantity"],
    ["mean", "a list, each a quantity"],
    ["median", "a list, each a quantity"],
    ["standard_deviation", "a list, each a quantity"],
    ["relative_deviation", "a list, each a quantity"],
    ["mean_interval", "a list, each a quantity"],
    ["compare_means", "a list, each a quantity"],
    ["recovered", "a quantity"],
    ["whole", "a quantity"],
    ["whole_up", "a quantity"],
    ["round_to", "a quantity"],
    ["abs", "a quantity"],
    ["share_out", "a list, each a quantity"],
    ["count", "a list, each any value"],
    ["smallest", "a list, each any value"],
    ["largest", "a list, each any value"],
    ["pick", "a list, each any value"],
  ])("%s: %s", (name, wanted) => expect(completed("set x", `${name}(¦`).expected).toBe(wanted));
});

describe("the first fourteen that fit, in order", () => {
  it.each([
    [
      "clauses",
      "ask ¦",
      "pull, room, coolant, goal, syrup, honey_water, got, margin, stock.volume, stock.strength, stock.price, stock.sort, stock.on, runs.mass",
    ],
    ["clauses", "ask r¦", "room, runs.mass, runs.at, runs.note"],
    ["set best", "find ¦", "pull, room, coolant, goal, syrup, honey_water, margin"],
    ["set best", "find g¦", "goal"],
    [
      "foot stock.price",
      "¦",
      "sum(price), mean(price), smallest(price), largest(price), count(price), item, volume, strength, price, sort, on, alcohol, cost, running",
    ],
    [
      "foot runs.at",
      "¦",
      "mean(at), smallest(at), largest(at), count(at), run, mass, at, note, pull, room, coolant, goal, syrup, honey_water",
    ],
    [
      "foot stock.sort",
      "¦",
      "count(sort), item, volume, strength, price, sort, on, alcohol, cost, running, pull, room, coolant, goal",
    ],
    [
      "foot stock.on",
      "¦",
      "count(on), item, volume, strength, price, sort, on, alcohol, cost, running, pull, room, coolant, goal",
    ],
    [
      "foot stock.price",
      "m¦",
      "mean(price), margin, runs.mass, blend.mass, missing, mass_of, marry, make_up, moisture_from_activity, mean, median, mean_interval, thinned.add_mass, by_mass",
    ],
    ["foot stock.price", "sum¦", "sum(price), sum"],
  ])("%s: %s", (where, written, wanted) =>
    expect(fitting(where, written).slice(0, 14).join(", ")).toBe(wanted),
  );
});

describe("the labels of a call", () => {
  it.each([
    ["compose(¦", "strength: solids: price: content: to_strength: to_solids: to_content: to_price: wish:"],
    ["distil(¦", "take: leave: bath: still_gap: lost: reflux: carry_over: flask:"],
    ["infuse_honey(¦", "strength: solids: alcohol_left: to:"],
    ["drift(¦", "by:"],
    ["boils_at(¦", "strength: solids: activity:"],
    ["let_down(¦", "to:"],
    ["compose(s¦", "strength: solids:"],
    ["distil(t¦", "take:"],
  ])("%s: %s", (written, wanted) => {
    const labels = completed("set x", written).proposals.filter((p) => p.thing === "label");
    expect(labels.map((p) => p.label).join(" ")).toBe(wanted);
  });
});

describe("the labels of every function", () => {
  it("are offered with those that must be given first", () => {
    let moved = 0;
    for (const { name, parameters } of vocabulary.values()) {
      const offered = completed("set x", `${name}(¦`)
        .proposals.filter((p) => p.thing === "label")
        .map((p) => p.label.slice(0, -1));
      const declared = parameters.filter((p) => offered.includes(p.name));
      const needed = declared.filter((p) => p.optional !== true);
      const wanted = [...needed, ...declared.filter((p) => p.optional === true)].map((p) => p.name);
      expect(offered, name).toEqual(wanted);
      if (wanted.join() !== declared.map((p) => p.name).join()) moved++;
    }
    expect(moved).toBeGreaterThan(0);
  });
});

describe("a place that wants a list", () => {
  it("has whole columns before the labels", () => {
    expect(fitting("set x", "drift(¦").slice(0, 8).join(", ")).toBe(
      "stock.item, stock.volume, stock.strength, stock.price, stock.sort, stock.on, stock.alcohol, stock.cost",
    );
  });
});

describe("in a book of its own", () => {
  const book = openBook(
    "set a = 4 USD/L\nset b = 3 USD\nset bad = nobody\nset got = blank in mL\nset l = [got, got]\nset none = [blank, blank]\n",
  );
  it.each([
    ["a + 1 ¦", "USD/L, in, is, is not, within, and, or, where"],
    ["b + 1 ¦", "USD, in, is, is not, within, and, or, where"],
    ["sum(ba¦", "bad"],
    ["sum(¦", "l, bad, none"],
    ["none¦", "none"],
  ])("%s: %s", (written, wanted) => expect(fitting("set x", written, book).join(", ")).toBe(wanted));
  it("a list of what is to be measured is told by its formula, and one of blanks is a list", () => {
    expect(proposal("set x", "l¦", "l", book).is).toBe("a list, each a volume");
    expect(proposal("set x", "none¦", "none", book).is).toBe("a list");
  });
});

describe("of very many", () => {
  const rows = Array.from({ length: 300 }, (_, i) => `| x ab${i} | w${i} |\n`).join("");
  const book = openBook(`table t\n| k | b |\n${rows}| ab | last |\n| Ab | last |\n`);
  it("the rows that go best with what was typed are offered, 200 at most", () => {
    for (const written of ["t.ab¦", "t.b.ab¦"]) {
      const labels = fitting("set x", written, book);
      expect(labels).toHaveLength(200);
      expect(labels.slice(0, 3)).toEqual(["ab", "Ab", "x ab0"]);
    }
  });
  it("the first fifty texts are offered", () => {
    const texts = (written: string) =>
      completed("set x", written, book)
        .proposals.filter((p) => p.thing === "text")
        .map((p) => p.label);
    const [compared, picked] = [texts("t.b where b is ¦"), texts("pick(t.b, ¦")];
    expect([compared.length, compared[0], compared.at(-1)]).toEqual([50, '"w0"', '"w49"']);
    expect([picked.length, picked[0], picked.at(-1)]).toEqual([50, '"x ab0"', '"x ab49"']);
  });
});

describe("the name that a statement is about to define", () => {
  const waiting = "set a = `net weight` + sugar + sugar + boils\nset c = a\n";
  it("is one that formulas wait for, each once", () => {
    expect(fitting("book", `${waiting}set ¦`, openBook(""))).toEqual(["net weight", "sugar", "boils"]);
    expect(taken("book", `${waiting}set ne¦`, "net weight", openBook(""))).toBe(
      `${waiting}set \`net weight\` = ¦`,
    );
  });
  it("is not guessed for a column, nor for a column that has its foot", () => {
    expect(fitting("book", inCordial("column ¦", "foot cost ="))).toEqual([]);
    expect(fitting("book", inCordial("foot c¦", "column cost ="))).toEqual([]);
  });
  it("a text of a cell has its bars escaped in the text of the book", () => {
    const rows = "table t\n| a | b |\n| k | x \\| y |\n";
    expect(taken("book", `${rows}| m | x¦ |`, "x | y", openBook(""))).toBe(`${rows}| m | x \\| y¦ |`);
  });
});

describe("how well a name goes with what was typed", () => {
  it.each([
    ["volume", "", 0],
    ["volume", "vol", 0],
    ["Volume", "vol", 1],
    ["volume", "VOL", 1],
    ["net volume", "vol", 2],
    ["net.volume", "vol", 2],
    ["net_volume", "vol", 2],
    ["net/volume", "vol", 2],
    ["net`volume", "vol", 2],
    ["net-volume", "vol", 3],
    ["evolume", "vol", 3],
    ["evolume", "v", undefined],
    ["volume", "e", undefined],
    ["volume", "me", 3],
    ["volume", "x", undefined],
    ["a𝒳", "𝒳", undefined],
    ["vol", "volume", undefined],
  ])("%s, %j: %s", (name, typed, match) => expect(matchOf(name, typed)).toBe(match));
});
