import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { CORDIAL, completed, cordial, fitting, inCordial, misfits, proposal, taken } from "./writing";

describe("names that begin an operand", () => {
  it("in a column, its own table comes first and in its order, then the book's names in theirs", () => {
    const labels = fitting("column stock.cost", "¦");
    expect(labels.slice(0, 6)).toEqual(["item", "volume", "strength", "price", "sort", "on"]);
    expect(labels.indexOf("pull")).toBeGreaterThan(labels.indexOf("on"));
    expect(labels.indexOf("room")).toBeGreaterThan(labels.indexOf("pull"));
  });
  it("outside of tables no column is offered bare", () => {
    expect(fitting("set x", "¦")).not.toContain("volume");
    expect(fitting("set x", "¦").slice(0, 2)).toEqual(["pull", "room"]);
  });
  it("what is being defined is not offered to itself", () => {
    expect(fitting("set goal", "¦")).not.toContain("goal");
    expect(fitting("column stock.cost", "c¦")).not.toContain("cost");
    expect(completed("book", inCordial("set again = ag¦")).proposals.map((p) => p.label)).not.toContain(
      "again",
    );
  });
  it("what builds on it already says so, since it would close a circle", () => {
    const told = misfits("set goal", "¦");
    expect(told.get("thinned")).toBe("builds on goal itself");
    expect(told.get("boiling")).toBe("builds on goal itself");
    expect(told.has("pull")).toBe(false);
    expect(misfits("set blend", "thinned.¦").get("volume")).toBeUndefined();
    expect(misfits("set blend", "thinned.¦").get("total")).toBe("builds on blend itself");
  });
  it("a beginning finds the beginning first, then the beginning of a word, then what is inside", () => {
    const labels = fitting("set x", "bo¦");
    expect(labels.slice(0, 2)).toEqual(["boiling", "boils_at"]);
    expect(labels).toContain("per_bottle");
    expect(labels.indexOf("per_bottle")).toBeGreaterThan(labels.indexOf("boils_at"));
    expect(fitting("set x", "GOAL¦")).toContain("goal");
    expect(fitting("set x", "wat¦")).toContain("honey_water");
    expect(fitting("set x", "qqq¦")).toEqual([]);
  });
  it("carries the present value, its unit and what it is in words", () => {
    const pull = proposal("set x", "pu¦", "pull");
    expect(pull.shown).toMatchObject({ text: "60 mbar", unit: "mbar" });
    expect(pull.is).toBe("a pressure");
    expect(pull.thing).toBe("name");
    expect(proposal("set x", "glyc¦", "glycol")).toMatchObject({
      is: "a text",
      shown: { text: "propylene" },
    });
    expect(proposal("set x", "got¦", "got")).toMatchObject({ is: "a volume", shown: { state: "gap" } });
    expect(proposal("set x", "beg¦", "begun")).toMatchObject({ is: "a date", shown: { text: "2026-03-02" } });
    expect(proposal("set x", "ble¦", "blend")).toMatchObject({ is: "a result with parts" });
    expect(proposal("set x", "sto¦", "stock")).toMatchObject({ is: "a table", thing: "table" });
  });
  it("in a row that is looked at, columns carry that row's cell", () => {
    expect(proposal("column stock.cost 1", "pri¦", "price").shown?.text).toBe("21.5 GBP/L");
    expect(proposal("column stock.cost 2", "stre¦", "strength").shown).toMatchObject({ state: "gap" });
    expect(proposal("column stock.cost", "pri¦", "price").shown?.text).toBe("3 entries");
  });
  it("in a foot a bare column is the whole column", () => {
    expect(proposal("foot stock.price", "mean(pri¦", "price")).toMatchObject({
      is: "a list, each a price per volume",
      fits: true,
    });
  });
  it("a definition sees its parameters and the book", () => {
    expect(fitting("define kept", "¦").slice(0, 3)).toEqual(["x", "share", "pull"]);
    expect(fitting("define kept", "sha¦")[0]).toBe("share");
    expect(fitting("define kept", "¦")).not.toContain("volume");
    expect(proposal("define kept", "x¦", "x").thing).toBe("parameter");
  });
  it("the variable of a find is known in its goal alone", () => {
    expect(fitting("set best", "find y from 1 K to 9 K so that y¦")).toContain("y");
    expect(proposal("set best", "find y from 1 K to 9 K so that y¦", "y").is).toBe(
      "a temperature difference",
    );
    expect(fitting("set best", "find y from 1 K to y¦")).not.toContain("y");
  });
  it("the variable of a curve is known before the word for", () => {
    expect(fitting("chart", "curve boils_at(¦) for depth from 20 mbar to 90 mbar")).toContain("depth");
  });
  it("the variable of a curve is what its range is", () => {
    const written = "curve boils_at(dep¦) for depth from 20 mbar to 90 mbar";
    expect(proposal("chart", written, "depth").is).toBe("a pressure");
  });
  it("a find over a value of the book turns that value and opens no name", () => {
    const written = "find pull from 20 mbar to 90 mbar so that boils_at(pul¦";
    expect(proposal("set best", written, "pull")).toMatchObject({ thing: "name", is: "a pressure" });
    expect(proposal("set best", "find glycol from 1 K to 2 K so that glyc¦", "glycol")).toMatchObject({
      thing: "parameter",
      is: "a temperature difference",
    });
  });
  it("behind a sign for a comment nothing is offered", () => {
    expect(completed("set x", "pull # pu¦").proposals).toEqual([]);
    expect(fitting("set x", 'glycol is "#" or glycol is gly¦')).toContain("glycol");
  });
  it("where opens the columns of the list's table", () => {
    const labels = fitting("set x", "sum(stock.volume where ¦");
    expect(labels.slice(0, 3)).toEqual(["item", "volume", "strength"]);
    expect(fitting("set x", "runs.mass where ¦").slice(0, 2)).toEqual(["run", "mass"]);
  });
  it("names that need it are put in backticks, in a cell with their bars escaped", () => {
    const book = openBook("set `net weight` = 3 g\nset `a|b` = 1 g\ntable t\n| x | y (g) |\n| k | 1 |\n");
    expect(taken("set x", "ne¦", "net weight", book)).toBe("`net weight`¦");
    expect(taken("set x", "1 g + `ne¦", "net weight", book)).toBe("1 g + `net weight`¦");
    expect(taken("set x", "`ne¦t weight`", "net weight", book)).toBe("`net weight`¦");
    expect(taken("set x", "`a¦", "a|b", book)).toBe("`a|b`¦");
    const row = `${book.text}| m | = a¦ |\n`;
    expect(taken("book", row, "a|b", book)).toBe(`${book.text}| m | = \`a\\|b\`¦ |\n`);
  });
  it("reserved words as names take backticks in front and none behind a dot", () => {
    const book = openBook("set `to` = 3 g\ntable t\n| x | to (g) |\n| k | 1 |\n");
    expect(taken("set x", "t¦", "to", book)).toMatch(/^(?:`to`|to )¦$/);
    expect(taken("set x", "`t¦", "to", book)).toBe("`to`¦");
    expect(taken("set x", "t.¦", "to", book)).toBe("t.to¦");
  });
  it("names such as constructor and __proto__ are names like any other", () => {
    const book = openBook("set constructor = 3 g\nset __proto__ = 4 g\n");
    expect(fitting("set x", "constr¦", book)).toContain("constructor");
    expect(proposal("set x", "__p¦", "__proto__", book).shown?.text).toBe("4 g");
    expect(fitting("set x", "toS¦", book)).not.toContain("toString");
  });
});

describe("parts, columns and rows behind a dot", () => {
  it("a result offers its parts with their values", () => {
    expect(fitting("set x", "blend.¦")).toEqual(["volume", "strength", "mass", "pure_volume", "contraction"]);
    expect(proposal("set x", "blend.str¦", "strength")).toMatchObject({
      is: "a strength by volume",
      thing: "part",
    });
    expect(taken("set x", "blend.vol¦ * 2", "volume")).toBe("blend.volume¦ * 2");
  });
  it("a table offers its columns, its feet, then its rows, each row that a path can reach", () => {
    const labels = completed("set x", "stock.¦").proposals.map((p) => p.label);
    expect(labels.slice(0, 6)).toEqual(["item", "volume", "strength", "price", "sort", "on"]);
    expect(labels).toContain("foot");
    expect(labels.indexOf("bay leaf")).toBeGreaterThan(labels.indexOf("foot"));
    // Two rows are called quince, so no path reaches either.
    expect(labels).not.toContain("quince");
    expect(taken("set x", "stock.ba¦", "bay leaf")).toBe("stock.`bay leaf`¦");
  });
  it("a row offers its cells, a foot its values, a column its rows", () => {
    expect(proposal("set x", "stock.`bay leaf`.pr¦", "price").shown?.text).toBe("21.5 GBP/L");
    expect(fitting("set x", "stock.foot.¦")).toEqual(["volume", "cost"]);
    expect(proposal("set x", "stock.foot.c¦", "cost").shown?.text).toBe(
      String(cordial.answers().find((a) => a.name === "stock.foot.cost")?.text),
    );
    expect(fitting("set x", "runs.mass.¦")).toEqual(["1", "2a"]);
    expect(taken("set x", "runs.2¦", "2a")).toBe("runs.2a¦");
  });
  it("before, foot and book lead on", () => {
    expect(fitting("column stock.running", "before.¦").slice(0, 2)).toEqual(["item", "volume"]);
    expect(proposal("column stock.running 1", "before.co¦", "cost").shown?.text).toBe("11.280 GBP");
    expect(fitting("column stock.running", "foot.¦")).toEqual(["volume", "cost"]);
    expect(fitting("column stock.cost", "book.¦").slice(0, 2)).toEqual(["pull", "room"]);
  });
  it("a call or a bracket offers what it would give", () => {
    expect(fitting("set x", "marry(stock.volume, stock.strength).¦")).toEqual([
      "volume",
      "strength",
      "mass",
      "pure_volume",
      "contraction",
    ]);
    expect(fitting("set x", "(blend).¦")).toContain("strength");
    expect(fitting("set x", "distil(1 L, 12 %vol, 60 mbar, take: 200 mL).taken.¦")).toContain("strength");
  });
  it("a value that is not known yet still offers the parts it will have", () => {
    const book = openBook("set a = blank in mL\nset b = marry([a], [40 %vol])\n");
    expect(fitting("set x", "b.¦", book)).toContain("strength");
    expect(proposal("set x", "b.str¦", "strength", book).shown).toBeUndefined();
  });
  it("nothing is offered behind a plain value, a number or an unknown name", () => {
    expect(completed("set x", "pull.¦").proposals).toEqual([]);
    expect(completed("set x", "nobody.¦").proposals).toEqual([]);
    expect(completed("set x", "stock.nobody.¦").proposals).toEqual([]);
  });
});

describe("in the text of the book", () => {
  it("knows the table around a column statement", () => {
    const written = inCordial("column share = vol¦", "column cost =");
    expect(fitting("book", written)[0]).toBe("volume");
  });
  it("counts offsets in the text of the book", () => {
    const written = inCordial("set x = blend.str¦");
    const { from, to, typed } = completed("book", written);
    expect(typed).toBe("str");
    expect(CORDIAL.length + "set x = blend.".length).toBe(from);
    expect(to).toBe(from + 3);
  });
  it("works in a statement that cannot be read yet, on a line that goes on, and in braces", () => {
    expect(fitting("book", inCordial("set x = (blend.volume + got¦"))).toContain("got");
    expect(fitting("book", inCordial("set x = pull +\n  pu¦"))).toContain("pull");
    expect(fitting("book", inCordial('step "Pull to {pu¦"'))).toContain("pull");
    expect(fitting("book", inCordial('step "Pull to {pu¦} now"'))).toContain("pull");
  });
  it("offers nothing in comments, titles, texts and names that are being made", () => {
    for (const line of [
      "set x = pull # pu¦",
      "# pu¦",
      'book "pu¦"',
      'step "pu¦ll"',
      "table pu¦",
      "set pu¦",
      "define pu¦",
      'check pull > 3 mbar : "pu¦"',
      "about pu¦",
    ])
      expect(completed("book", inCordial(line)).proposals, line).toEqual([]);
  });
  it("a set is offered the names that formulas wait for", () => {
    const written = "set total = sugar + pectin\nset ¦";
    expect(fitting("book", written, openBook(""))).toEqual(["sugar", "pectin"]);
    expect(taken("book", "set total = sugar\nset su¦", "sugar", openBook(""))).toBe(
      "set total = sugar\nset sugar = ¦",
    );
  });
  it("a foot is offered the columns that have none", () => {
    const labels = fitting("book", inCordial("foot ¦", "foot cost ="));
    expect(labels).toEqual(["item", "strength", "price", "sort", "on", "alcohol", "running"]);
  });
});
