import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { complete, hover } from "../../../src/engine/editing";
import { completed, cordial, field, fitting, inCordial, marked, misfits, proposal, taken } from "./writing";

/** A table whose columns are called like words of the language: behind a dot they are names. */
const words = openBook(`set pull = 60 mbar
table t
| i | else (g) | if (g) | then (g) | to (g) | find (g) | that (g) | where (g) | within (g) | is (g) | step (g) |
| r | 1        | 1      | 1        | 1      | 1        | 1        | 1         | 1          | 1      | 1        |
`);

describe("a part that is called like a word of the language", () => {
  it.each([
    ["3 mbar + if t.r.else > 1 g then ¦", "a pressure"],
    ["3 mbar + if t.r.if > 1 g then ¦", "a pressure"],
    ["if t.r.then > 1 g then pull else ¦", "a pressure"],
    ["t.r.to > 1 g and pull > ¦", "a pressure"],
    ["pull within t.r.within to ¦", "a pressure"],
    ["1 g to t.r.to step ¦", "a mass"],
    ["1 g + t.r.to + ¦", "a mass"],
    ["t.else where t.r.where > ¦", "a mass"],
    ["find q from 1 mbar to 2 mbar so that t.r.find < ¦", "a mass"],
  ])("does not change what is wanted: %s: %s", (written, wanted) =>
    expect(completed("set x", written, words).expected).toBe(wanted),
  );
  it.each([
    ["t.r.to ¦", "in is is not within to"],
    ["t.r.if ¦", "in is is not within to"],
    ["t.r.then > 1 g ¦", "in and or"],
    ["t.to ¦", "in is is not within where"],
    ["t.where ¦", "in is is not within where"],
    ["t.r.find ¦", "in is is not within to"],
    ["t.r.within ¦", "in is is not within to"],
    ["find q from t.r.to ¦", "to"],
    ["find q from 1 g to t.r.that ¦", "so that"],
    ["1 g to t.r.step ¦", "in where step"],
  ])("does not change which words can follow: %s: %s", (written, wanted) => {
    const offered = completed("set x", written, words).proposals.filter((p) => p.thing === "word");
    expect(offered.map((p) => p.label).join(" ")).toBe(wanted);
  });
});

describe("what is wanted, where the formula is odd", () => {
  it.each([
    ["pull <= ¦", "a pressure"],
    ["pull ≤ ¦", "a pressure"],
    ["pull > 3 mbar or glycol is not ¦", "a text"],
    ["if true then 3 g else if false then 3 mbar else ¦", "a pressure"],
    ["(if (if true then true else false) then pull else room) + if true then ¦", "a pressure"],
    ["1 g + if true then 2 g else 3 g + if true then ¦", "a mass"],
    ["room - 3 K to ¦", "a temperature"],
    ["pull - 3 mbar < ¦", "a pressure"],
    ["find p from 3 g + 1 g to ¦", "a mass"],
    ["find begun from ¦", "a date"],
    ["stock.volume where 3 g > 2 g and room > ¦", "a temperature"],
    ["sum([¦", "a quantity"],
    ["sum([[¦", "a quantity"],
    ["marry([1 L], [¦", "a strength by mass, a strength by volume or a strength in US proof"],
    ["pick(¦", "a list, each any value"],
    ["room - 20 ± ¦", "a temperature difference or a temperature"],
    ["if true then 1 g else if true then ¦", "a mass"],
    ["boils_at(60 mbar, pull + ¦", "a pressure"],
    ["marry(1 L, ¦", "a list, each a strength by mass, a strength by volume or a strength in US proof"],
    ["marry([1 L], stock.volume, ¦", undefined],
    // Behind what takes nothing.
    ["3 + pull from ¦", undefined],
    ["x pull from ¦", undefined],
    ["3 g step ¦", undefined],
    ["pull then ¦", undefined],
    ["pull else ¦", undefined],
    ["glycol ¦", undefined],
    ["pull in mbar + ¦", undefined],
  ])("%s: %s", (written, wanted) => expect(completed("set x", written).expected).toBe(wanted));
});

describe("the sort of a value of which not all is known", () => {
  const book = openBook(`set l = [blank, 2 g]
set m = [1 g + 1 mL, 2 g]
table t
| i | a (g) | b | c |
| r |       |   | x |
set q = t.a
set u = marry([1 L], [40 %vol])
set all = t
table v
| i | u |
| r | 1 |
column z = 1
define f(u) = u
`);
  it.each([
    ["l + ¦", "a mass"],
    ["m + ¦", "a mass"],
    ["q + ¦", "a mass"],
    ["t.b + ¦", undefined],
    ["t.c is ¦", "a text"],
  ])("%s: %s", (written, wanted) => expect(completed("set x", written, book).expected).toBe(wanted));
  it("keeps a column out of the paths while nothing in it says what it holds", () => {
    const offered = fitting("set x", "1 g + ¦", book);
    expect(offered).toContain("t.a");
    expect(offered).not.toContain("t.b");
    // A value that stands for a table is offered by itself; its columns have paths of their own.
    expect(offered).not.toContain("all.a");
  });
  it("offers no path through a name that a column, a parameter or a variable hides", () => {
    expect(fitting("set x", "flash_point(¦", book)).toContain("u.strength");
    expect(fitting("column v.z", "flash_point(¦", book)).not.toContain("u.strength");
    expect(fitting("define f", "flash_point(¦", book)).not.toContain("u.strength");
  });
  it("offers no paths where anything may stand and nothing was typed", () => {
    for (const written of ["¦", "pick(stock.volume, ¦"])
      expect(fitting("set x", written).filter((label) => label.includes("."))).toEqual([]);
  });
});

describe("what is offered at the edge of something", () => {
  it.each([
    // Field, text, what is typed, what is replaced, what comes first.
    ["set x", "3 °¦", "°", "°", "°Bx °C °F"],
    ["set x", "room in °¦", "°", "°", "°C °F K"],
    ["set x", "(3 mL)¦", "", "", "in is is not"],
    ["set x", "/¦", "", "", "pull room coolant"],
    ["set x", "3 GBP/¦", "GBP/", "GBP/", "GBP/L GBP/kg GBP/kWh"],
    ["set x", "9.40 EUR/¦", "EUR/", "EUR/", "EUR/L EUR/kg EUR/g"],
    ["set x", "3 mL*¦", "mL*", "mL*", "mL*g mL*kg mL*mg"],
    ["set x", "3 g/¦", "g/", "g/", "g/L g/mL g/kg"],
    ["set x", "3 /¦", "", "", "pull room coolant"],
    ["set x", "3¦ mL", "", "", "g kg mg"],
    ["set x", "3¦mL", "", "mL", "g kg mg"],
    ["set x", "3 m¦L", "m", "mL", "mg mL m"],
    ["set x", "3 vol¦", "vol", "vol", "%vol"],
    ["set x", "3 EUR/L + 3 ¦", "", "", "EUR/L in is"],
    ["set x", "room - 3 ¦", "", "", "K °C °F"],
    ["set x", "1 K + 3 ¦", "", "", "K °C °F"],
    ["heading stock", "volume ¦(mL)", "", "", ""],
    ["heading stock", "volume (¦", "", "", "g kg mg"],
    ["heading stock", "x (TE¦", "TE", "TE", "text"],
    ["heading stock", "x (te¦", "te", "te", "text"],
    ["statement", "¦", "", "", "set table check"],
    ["statement", " ¦", "", "", "set table check"],
    // Where a `#` begins no comment.
    ["cell stock.strength 0", "= volume # pu¦", "pu", "pu", "pull pure_volume pure_mass"],
    ["set x", '"{pull # pu¦', "pu", "pu", "pull blend.pure_volume pure_volume"],
    ["sentence", "{pull # pu¦", "pu", "pu", "pull blend.pure_volume pure_volume"],
    // Labels, where they are the only thing left, and where one is given.
    ["set x", "let_down(1 L, 40 %vol, ¦", "", "", "to:"],
    ["set x", "let_down(1 L, 40 %vol, to: ¦", "", "", "goal blend.strength first_vapour"],
    ["set x", "boils_at(60 mbar, 3 %vol, 2, 1, ¦", "", "", "strength: solids: activity:"],
    ["set x", "sto¦ck (3)", "sto", "stock", "stock"],
    // Texts, and the names of rows.
    ["set x", "pick(stock.volume, ¦", "", "", '"quince" "bay leaf" pull'],
    ["set x", "kept(stock.volume, ¦", "", "", "pull room coolant"],
    ["set x", 'glycol is "¦', "", '"', ""],
    ["cell stock.item 0", "¦", "", "", ""],
    ["cell stock.sort 0", "f¦", "f", "f", "fruit"],
    ["cell stock.gone 0", "¦", "", "", ""],
    // Charts.
    ["chart", "¦", "", "", "bars line dots"],
    ["chart", "bars stock.volume by ¦", "", "", "stock.item stock.volume stock.strength"],
    ["chart", "curve boils_at(¦", "", "", "pull best pressure_for"],
    ["chart", "bars ¦", "", "", "stock.item stock.volume stock.strength"],
    ["chart", "curve p mark ¦", "", "", "pull room coolant"],
    ["chart", "curve p for p mark ¦", "", "", "pull room coolant"],
    ["chart", "curve p for p from 1 g + 2 g to 3 g mark ¦", "", "", "blend.mass thinned.add_mass mass_of"],
    ["chart", "curve x ¦", "", "", "for in is"],
    ["chart", "curve x for ¦", "", "", ""],
    ["chart", "curve x for x from 1 to 2 L ¦", "", "", "mark"],
    // The clauses of a step and of a slider, each once.
    ["clauses", "¦", "", "", "wait ask"],
    ["clauses", "wait 3 min ¦", "", "", "ask"],
    ["clauses", "ask got ¦", "", "", "wait ask expect"],
    ["clauses", "ask got in ¦", "", "", "mL cL L"],
    ["clauses", "ask got expect ¦", "", "", "got stock.foot.volume blend.volume"],
    ["trial pull", "20 mbar ¦", "", "", "to"],
    ["trial pull", "20 mbar to 30 mbar ¦", "", "", "step"],
    // In the middle of a name, and in front of one.
    ["set x", "blend.str¦ength", "str", "strength", "strength"],
    ["set x", "stock.`bay ¦leaf`.volume", "bay ", "`bay leaf`", "bay leaf"],
    ["set x", "¦pull", "", "pull", "pull room coolant"],
    ["set x", "pull ¦+ 1", "", "", "in is is not"],
    ["set x", "(blend).vol¦", "vol", "vol", "volume pure_volume"],
    ["set x", "kept(1, 2).¦", "", "", ""],
    ["set x", "wher¦", "wher", "wher", ""],
    ["set x", "stock.volume wh¦", "wh", "wh", "where"],
    ["set x", "boils_at(60 mbar, pull + ¦", "", "", "pull best pressure_for"],
    ["set x", "marry(stock.volume, ¦", "", "", "stock.strength"],
    // The innermost search comes first.
    ["set x", "find aa from 1 to 2 so that 1 is find bb from 1 to 2 so that ¦", "", "", "bb aa pull"],
    // Parts of what has no name.
    ["set x", "[marry([1 L], [40 %vol])].¦", "", "", "volume strength mass"],
    ["set x", "[1 g].¦", "", "", ""],
    ["set x", "marry([¦", "", "", "got stock.foot.volume blend.volume"],
  ])("%s: %s: typed %j, in place of %j: %s", (where, written, typed, replaced, first) => {
    const { text } = marked(written);
    const found = completed(where, written);
    expect(found.typed).toBe(typed);
    expect(text.slice(found.from, found.to)).toBe(replaced);
    const labels = found.proposals.filter((p) => p.fits).map((p) => p.label);
    expect(labels.slice(0, 3).join(" ")).toBe(first);
  });
  it("of a unit tells no units of other currencies behind a price that is wanted", () => {
    const prices = fitting("set x", "3 EUR/L + 3 ¦").filter((label) => /^[A-Z]{3}\//.test(label));
    expect(prices).toEqual(["EUR/L"]);
  });
  it("of a price are first its own unit, then the like in its currency", () => {
    const prices = fitting("set x", "3 EUR/mL + 3 ¦").filter((label) => label.includes("/"));
    expect(prices).toEqual(["EUR/mL", "EUR/L"]);
  });
  it("behind where is the row before too", () => {
    expect(fitting("set x", "stock.volume where bef¦")).toContain("before");
    expect(fitting("set x", "bef¦")).not.toContain("before");
  });
  it("in a cell under a heading that another column has already is nothing", () => {
    expect(completed("book", "table t\n| i | a (g) | a (g) |\n| r | 1 | ¦ |\n").proposals).toEqual([]);
  });
  it("in the book, of a row, a name that is being made, and a text that is left open", () => {
    expect(completed("book", "table t\n| a |\n| r | ¦x |\n").proposals).toEqual([]);
    expect(fitting("book", inCordial("| k | = before.¦ |", "| quince | 80"))).toEqual(["volume", "alcohol"]);
    expect(taken("book", "set total = `sea salt`\nset `se¦", "sea salt")).toBe(
      "set total = `sea salt`\nset `sea salt` = ¦",
    );
    expect(taken("book", "set total = `sea salt`\nset ¦", "sea salt")).toBe(
      "set total = `sea salt`\nset `sea salt` = ¦",
    );
    expect(proposal("book", "set total = sugar\nset ¦", "sugar")).toMatchObject({ thing: "name", is: "" });
    expect(proposal("book", inCordial("foot ¦", "foot cost ="), "item")).toMatchObject({ thing: "column" });
    expect(fitting("book", inCordial("check ¦", "foot cost ="))).not.toContain("item");
    expect(completed("book", "table t\n| a |\n| r |  ¦\n").proposals).toEqual([]);
    expect(completed("book", "table t\n| a |  ¦\n| r |\n").proposals).toEqual([]);
    // A name is waited for where nothing has it, not wherever something is wrong.
    expect(completed("book", "set a = 3 Kg\nset ¦").proposals).toEqual([]);
    const open = 'set a = glycol is "pro¦\nset b = "x"\n';
    const { to } = completed("book", open);
    expect(to).toBe(marked(open).caret);
  });
  it.each([
    ["¦", "column cost =", "column foot set"],
    ["c¦", "column cost =", "column check chart"],
    ["¦", "set margin", "set table check"],
    ["¦", "define kept", "set table check"],
    ["¦", undefined, "set table check"],
  ])("a line %j behind %j begins with %s", (line, behind, first) => {
    expect(fitting("book", inCordial(line, behind)).slice(0, 3).join(" ")).toBe(first);
  });
  it("the own column or foot closes a circle behind a dot too, a cell of another row does not", () => {
    expect(misfits("column stock.cost", "stock.¦").get("cost")).toBe("builds on cost itself");
    expect(misfits("column stock.cost", "stock.`bay leaf`.¦").has("cost")).toBe(false);
    expect(misfits("foot stock.cost", "foot.¦").get("cost")).toBe("builds on cost itself");
  });
});

describe("what a name comes to, where it is offered", () => {
  const book = openBook(
    "set lost = nobody\nset q = 3 g\ntable t\n| i | a (g) | c |\n| r | 1 | x |\ncolumn y = a * 2\ncolumn z = a * lost\nset names = t.c\n",
  );
  it("is for a whole column how many entries it has, and its fault where it has one", () => {
    const whole = proposal("set x", "t.y¦", "y", book).shown!;
    expect(whole).toMatchObject({
      path: "t.y",
      label: "y",
      origin: "computed",
      state: "ok",
      text: "1 entry",
      number: "1 entry",
      unit: "",
      notes: [],
    });
    expect(whole).not.toHaveProperty("message");
    expect(proposal("set x", "t.a¦", "a", book).shown).not.toHaveProperty("message");
    const broken = proposal("set x", "t.z¦", "z", book).shown!;
    expect(broken).toMatchObject({ state: "fault", text: "1 entry" });
    expect(broken.message).toMatch(/nobody/);
  });
  it("tells whether it was typed or worked out", () => {
    expect(proposal("set x", "q¦", "q", book).shown).toMatchObject({ origin: "typed", text: "3 g" });
    expect(proposal("column t.y 0", "a¦", "a", book).shown).toMatchObject({ origin: "typed", text: "1 g" });
    expect(proposal("set x", "blend.¦", "volume").shown).toMatchObject({ origin: "computed" });
  });
  it("is a list of texts where the column holds texts", () => {
    expect(proposal("set x", "names¦", "names", book).is).toBe("a list, each a text");
  });
  it("is for a variable what its own range is, and does not fit where that is not wanted", () => {
    const inner = "find a from 1 g to 2 g so that 1 is find b from 1 mL to 2 mL so that b¦";
    expect(proposal("set x", inner, "b").is).toBe("a volume");
    expect(misfits("set x", "find y from 1 K to 9 K so that pull > ¦").get("y")).toBe("not a pressure");
    expect(fitting("define kept", "pull + ¦").slice(0, 2)).toEqual(["x", "share"]);
  });
  it("tells first what it is, where one value of another kind stands for a list", () => {
    expect(misfits("set x", "marry(¦").get("pull")).toBe("not a volume or a mass");
    expect(misfits("set x", "marry(¦").get("got")).toBe("one value, not a list");
  });
});

describe("a unit that is wanted", () => {
  it.each([
    // What a call gives is shown in the unit of what it was given, where that is of its kind.
    ["let_down(1 L, 96 %vol, to: 40 %vol).add + 3 ¦", "L"],
    ["let_down(500 mL, 96 %vol, to: 40 %vol).add + 3 ¦", "mL"],
    ["let_down(1 kg, 96 %vol, to: 40 %vol).total + 3 ¦", "mL"],
    ["pure_volume(1 cL, 96 %vol) + 3 ¦", "cL"],
    ["mass_of(1 cL, 96 %vol) + 3 ¦", "g"],
    ["sum([1 lb, 2 lb]) + 3 ¦", "lb"],
    ["marry([1 cL], [40 %vol]).volume + 3 ¦", "cL"],
    ["marry([1 lb], [40 %vol]).mass + 3 ¦", "lb"],
    ["boils_at(60 mbar) + 3 ¦", "K"],
    ["1 lb + 3 ¦", "lb"],
    ["pull in Pa ¦", "in"],
  ])("%s: %s is offered first", (written, unit) => expect(fitting("set x", written)[0]).toBe(unit));
  it.each([
    ["t.y + ¦", "a mass"],
    ["t.w + ¦", "a volume"],
    ["t.z + ¦", undefined],
  ])("is told from the formula of a column while its cells are not known: %s: %s", (written, wanted) => {
    const book = openBook(
      "table t\n| i | a (g) |\n| r | |\ncolumn y = a * 2\ncolumn z = a + nobody\ncolumn w = if a is blank then nobody else 3 mL\n",
    );
    expect(completed("set x", written, book).expected).toBe(wanted);
  });
});

describe("the totals that are offered in an empty foot", () => {
  const totals = (where: string, written: string) =>
    completed(where, written)
      .proposals.filter((p) => p.label.endsWith(")"))
      .map(({ label, thing, is, says, insert, caret }) => {
        expect([thing, insert, caret]).toEqual(["function", label, label.length]);
        return `${label}: ${is}. ${says}`;
      });
  it("are those that make sense of what stands above", () => {
    expect(totals("foot stock.volume", "¦")).toEqual([
      "sum(volume): a volume. The total.",
      "mean(volume): a volume. The average.",
      "smallest(volume): a volume. The smallest entry.",
      "largest(volume): a volume. The largest entry.",
      "count(volume): a plain number. How many are filled in.",
    ]);
    // Temperatures have no total, and texts can be counted only.
    expect(totals("foot runs.at", "¦").map((told) => told.split("(")[0])).toEqual([
      "mean",
      "smallest",
      "largest",
      "count",
    ]);
    expect(totals("foot stock.sort", "¦")).toEqual(["count(sort): a plain number. How many are filled in."]);
  });
  it("go by their beginning, in capitals too, and only where the foot is empty", () => {
    expect(fitting("foot stock.volume", "SU¦")[0]).toBe("sum(volume)");
    expect(totals("foot stock.volume", "olum¦")).toEqual([]);
    expect(totals("foot runs.at", "3 + ¦")).toEqual([]);
    expect(totals("foot runs.at", "mean(¦")).toEqual([]);
    expect(totals("column stock.volume", "¦")).toEqual([]);
    expect(totals("foot stock.gone", "¦")).toEqual([]);
  });
});

describe("what comes with the proposals", () => {
  it("is the call around the caret, and nothing of one outside of calls", () => {
    expect(completed("set x", "3 + kept(¦").signature).toMatchObject({ name: "kept", active: 0 });
    expect(completed("set x", "3 + ¦")).not.toHaveProperty("signature");
    expect(completed("set x", "kept(1, 2) + ¦")).not.toHaveProperty("signature");
  });
  it("is what is wanted, and nothing where anything may stand", () => {
    expect(completed("set x", "¦")).not.toHaveProperty("expected");
    expect(completed("set x", "pull + ¦")).toHaveProperty("expected", "a pressure");
  });
  it("are no functions where every one would fit, before one is begun", () => {
    for (const written of ["¦", "pick(stock.volume, ¦", "3 * ¦", "begun - ¦"])
      expect(
        completed("set x", written).proposals.filter((p) => p.thing === "function"),
        written,
      ).toEqual([]);
  });
  it("are the days where days or a date may be taken from a date", () => {
    expect(fitting("set x", "begun - ¦")).toContain("begun");
  });
  it("are no chart styles behind the colon of a check", () => {
    expect(fitting("book", inCordial("check pull > 3 mbar : ¦"))).not.toContain("bars");
  });
});

describe("the rows of a large table", () => {
  const rows = (name: (i: number) => string) =>
    Array.from({ length: 250 }, (_, i) => `| ${name(i)} | 1 |\n`).join("");
  const book = openBook(`table t\n| i | v |\n${rows((i) => `x aa${i}`)}${rows((i) => `aa${i}`)}`);
  const offered = (written: string) => {
    const { text, caret } = marked(written);
    return complete(book, field("set q", text), caret, { most: 1000 })
      .proposals.filter((p) => p.thing === "row" || p.thing === "cell")
      .map((p) => p.label);
  };
  it("are offered up to 200, those that begin with what was typed before the others", () => {
    for (const path of ["t", "t.v"]) {
      const labels = offered(`${path}.aa¦`);
      expect(labels).toHaveLength(200);
      expect(labels[0]).toBe("aa0");
      expect(labels[199]).toBe("aa199");
      const all = offered(`${path}.¦`);
      expect(all).toHaveLength(200);
      expect(all[0]).toBe("x aa0");
      expect(offered(`${path}.aa249¦`)).toEqual(["aa249", "x aa249"]);
      // Those that only hold it come behind: 111 begin with `aa1`, and 89 of the others are left.
      const some = offered(`${path}.aa1¦`);
      expect(some).toHaveLength(200);
      expect(some.filter((label) => label.startsWith("aa"))).toHaveLength(111);
    }
  });
  it("and of everything no more than 200 are offered, where nothing else is asked for", () => {
    expect(completed("set q", "t.¦", book).proposals).toHaveLength(200);
    expect(complete(book, field("set q", "t."), 2, { most: 3 }).proposals).toHaveLength(3);
  });
});

describe("the words that are told about when the pointer rests on them", () => {
  const told = (where: string, written: string) => {
    const { text, caret } = marked(written);
    const book = where === "book" ? openBook(text) : cordial;
    const found = hover(book, where === "book" ? { in: "book" } : field(where, text), caret);
    return found && `${text.slice(found.from, found.to)}: ${found.title}: ${found.lines[0]}`;
  };
  it.each([
    ["cell stock.cost 0", "= i¦f true then 1 else 2", /^if: if: Chooses/],
    ["trial pull", "20 mbar t¦o 30 mbar", /^to: to: Stands between/],
    ["check", "pull > 3 mbar a¦nd true", /^and: and: Is true/],
    ["clauses", "wa¦it 3 min", /^wait: wait: Puts a timer/],
    ["chart", "ba¦rs stock.volume by stock.item", /^bars: bars: Draws/],
    ["sentence", "pull {pull i¦n bar}", /^in: in: Shows/],
    ["book", "set¦ a = 3 g\n", /^set: set: Gives/],
    ["book", 'set a = 1\n  step¦ "x"\n', /^step: step: Is one line/],
    ["book", "set a = 1 to 9 step¦ 2\n", /^step: step: Says how far/],
    ["set x", "1¦.5 mL", /^1.5 mL: 1.5 mL: A volume/],
    ["cell stock.volume 0", "12¦ mL", /^12 mL: 12 mL: A volume/],
    ["cell stock.volume 0", "12 m¦L", /^mL: mL: Millilitre/],
    ["define kept", "sha¦re", /^share: share: A name of this formula alone/],
    ["set x", "let_down(1 L, 40 %vol, t¦o: 30 %vol).add", /^to: to:: A strength/],
    ["set x", "kept(1, sha¦re: 2)", /^share: share:: A parameter of kept/],
  ])("%s: %s: %s", (where, written, wanted) => expect(told(where, written)).toMatch(wanted));
  it.each([
    ["heading stock", "volume i¦n"],
    ["sentence", "pull i¦n"],
    ["set x", "if  ¦  true then 1 else 2"],
    ["set x", `1${"0".repeat(400)}¦ mL`],
    ["set x", "2¦.5.3 mL"],
    ["set x", "bo¦ok"],
    ["define kept", "1¦2"],
    ["cell stock.sort 0", "i¦f"],
  ])("%s: %s: nothing is told", (where, written) => expect(told(where, written)).toBeUndefined());
  it("a remark becomes a sentence, also where a stop stands inside it", () => {
    const lines = (text: string) => hover(openBook(text), { in: "book" }, text.lastIndexOf("a"))!.lines;
    expect(lines("set a = 3 g # see p. 3\nset b = a\n")).toContain("See p. 3.");
    expect(lines("set a = 3 g # see it!\nset b = a\n")).toContain("See it!");
  });
});

describe("the texts of a column", () => {
  const rows = Array.from({ length: 60 }, (_, i) => `| r${i} | t${i} |\n`).join("");
  const book = openBook(
    `table t\n| i | sort | mixed | day (date) |\n| r | a\\|b | 12 | 2026-03-01 |\n| s | c | c | |\n| u | | 13 | |\ntable long\n| i | sort |\n${rows}`,
  );
  const texts = (where: string, written: string) =>
    completed(where, written, book)
      .proposals.filter((p) => p.thing === "text")
      .map((p) => p.label);
  it("are offered behind a comparison, each once, the blank ones left out", () => {
    expect(texts("set q", "t.sort is ¦")).toEqual(['"a|b"', '"c"']);
    expect(texts("set q", "t.sort is not ¦")).toEqual(['"a|b"', '"c"']);
    expect(texts("set q", "t.i where sort is ¦")).toEqual(['"a|b"', '"c"']);
    expect(texts("set q", "t.r.sort is ¦")).toEqual(['"a|b"', '"c"']);
    expect(texts("set q", 't.sort is "c¦')).toEqual(['"c"']);
  });
  it("are none where nothing, or no column, is compared", () => {
    expect(texts("set q", "nobody is ¦")).toEqual([]);
    expect(texts("set q", '"x" is ¦')).toEqual([]);
    expect(texts("set q", "t.day is ¦")).toEqual([]);
    expect(texts("set q", "pick(3, ¦")).toEqual([]);
    expect(texts("set q", "pick(t.sort, ¦")).toEqual(['"r"', '"s"', '"u"']);
    expect(texts("set q", "count(t.sort, ¦")).toEqual([]);
  });
  it("have their bars escaped in a row of the book, and in a field of their own not", () => {
    const row = book.text.replace("| u | |", '| u | = if t.sort is "a¦ then "x" else "y" |');
    expect(taken("book", row, '"a|b"')).toContain('t.sort is "a\\|b"¦');
    expect(taken("cell t.sort 2", '= if t.sort is "a¦', '"a|b"', book)).toContain('t.sort is "a|b"¦');
  });
  it("are offered in the cells of a column that holds them, fifty at most, and not where it holds something else", () => {
    expect(texts("cell long.sort 0", "¦")).toHaveLength(50);
    expect(texts("set q", "long.sort is ¦")).toHaveLength(50);
    expect(texts("set q", "pick(long.sort, ¦")).toHaveLength(50);
    expect(texts("cell t.sort 1", "¦")).toEqual(["a|b", "c"]);
    expect(texts("cell t.i 1", "¦")).toEqual([]);
    expect(texts("cell t.day 1", "¦")).toEqual([]);
  });
});
