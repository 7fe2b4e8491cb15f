import { describe, expect, it } from "vitest";
import { completed, fitting, misfits } from "./writing";

const wanted = (where: string, written: string) => completed(where, written).expected;

describe("what is wanted where the caret stands", () => {
  it.each([
    ["pull + ¦", "a pressure"],
    ["pull - 3 mbar + ¦", "a pressure"],
    ["3 * pull + ¦", "a pressure"],
    ["pull < ¦", "a pressure"],
    ["pull >= ¦", "a pressure"],
    ["pull is ¦", "a pressure"],
    ["pull is not ¦", "a pressure"],
    ["pull within ¦", "a pressure"],
    ["pull within 3 mbar to ¦", "a pressure"],
    ["3 mbar to ¦", "a pressure"],
    ["1 K to 9 K step ¦", "a temperature difference"],
    ["room + ¦", "a temperature difference"],
    ["room - ¦", "a temperature difference or a temperature"],
    ["room > ¦", "a temperature"],
    ["begun - ¦", "a date or a count of days"],
    ["begun + ¦", "a time"],
    ["begun < ¦", "a date"],
    ["glycol is ¦", "a text"],
    ["honey_water + ¦", "a percentage"],
    ["2^¦", "a plain number"],
    ["-(pull + ¦", "a pressure"],
    ["pull + -¦", "a pressure"],
    ["not (pull > ¦", "a pressure"],
    ["pull > 3 mbar and room < ¦", "a temperature"],
    ["if pull > ¦", "a pressure"],
    ["if pull > 3 mbar then pull else ¦", "a pressure"],
    ["3 mbar + if pull > 3 mbar then ¦", "a pressure"],
    ["flash_point(if pull > 3 mbar then ¦", /^a strength/],
    ["flash_point(if pull > 3 mbar then goal else ¦", "a strength by volume"],
    ["find pull from ¦", "a pressure"],
    ["find pull from 3 mbar to ¦", "a pressure"],
    ["find x from 20 mbar to ¦", "a pressure"],
    ["find x from 20 mbar to 90 mbar so that boils_at(x) is ¦", "a temperature"],
    ["find x from 20 mbar to 90 mbar so that boils_at(¦", "a pressure"],
    ["stock.volume where volume > ¦", "a volume"],
    ["stock.volume + ¦", "a volume"],
    ["blend.volume + ¦", "a volume"],
    ["got + ¦", "a volume"],
    ["let_down(1 L, 96 %vol, to: 40 %vol).add + ¦", "a volume"],
    ["boils_at(60 mbar) - ¦", "a temperature difference or a temperature"],
    ["stock.price * 3 + ¦", "a price per volume"],
    ["stock.cost / 8 + ¦", "an amount in GBP"],
    ["(pull in Pa) + ¦", "a pressure"],
    ["kept(pull, share: 3 %) + ¦", "a pressure"],
    ["warmer(room) > ¦", "a temperature"],
    ["mean(stock.volume) + ¦", "a volume"],
    ["pull ± ¦", "a pressure"],
    ["room ± ¦", "a temperature difference"],
  ])("%s: %s", (written, says) => {
    const found = wanted("set x", written);
    if (says instanceof RegExp) expect(found).toMatch(says);
    else expect(found).toBe(says);
  });

  it.each([
    "¦",
    "pull * ¦",
    "pull / ¦",
    "pull and ¦",
    "not ¦",
    "if ¦",
    "nobody + ¦",
    "blend + ¦",
    "find x from ¦",
    "stock.volume where ¦",
    "pull + kept(¦",
  ])("%s: anything may stand there", (written) => expect(wanted("set x", written)).toBeUndefined());

  it("a cell wants what its heading says, one value", () => {
    expect(wanted("cell stock.volume 0", "= ¦")).toBe("a volume");
    expect(wanted("cell stock.price 0", "= ¦")).toBe("a price per volume");
    expect(wanted("cell stock.on 0", "= ¦")).toBe("a date");
    expect(misfits("cell stock.price 0", "= ¦").get("volume")).toBe("not a price per volume");
    expect(fitting("cell stock.price 0", "= ¦")).not.toContain("volume");
  });
  it("the clauses of a statement want what they are about", () => {
    expect(wanted("trial pull", "¦")).toBe("a pressure");
    expect(wanted("trial pull", "20 mbar to ¦")).toBe("a pressure");
    expect(wanted("book", "set a = 3 g try ¦\n")).toBe("a mass");
    expect(wanted("clauses", "wait ¦")).toBe("a time");
    expect(wanted("clauses", "ask got in mL expect ¦")).toBe("a volume");
    expect(wanted("clauses", "ask runs.mass expect ¦")).toBe("a mass");
    expect(wanted("chart", "curve boils_at(p) for p from 20 mbar to ¦")).toBe("a pressure");
    expect(wanted("chart", "curve boils_at(p) for p from 20 mbar to 90 mbar mark ¦")).toBe("a pressure");
    expect(wanted("chart", "bars ¦")).toBe("a list");
  });
  it("a plain ratio fits beside a water content and the other way round, and nothing else does", () => {
    expect(fitting("set x", "honey_moisture(1.49 nD) + ¦")).toEqual(
      expect.arrayContaining(["honey_water", "margin"]),
    );
    expect(misfits("set x", "honey_moisture(1.49 nD) + ¦").get("goal")).toBe("not a water content");
  });
  it("a kind is kept apart from another of the same dimension", () => {
    expect(misfits("set x", "goal + ¦").get("honey_water")).toBe("not a strength by volume");
    expect(misfits("set x", "room < ¦").get("coolant")).toBeUndefined();
  });
  it("a list where one value is wanted fits, but stands behind single values", () => {
    const labels = fitting("set x", "pure_volume(¦");
    expect(labels.indexOf("got")).toBeLessThan(labels.indexOf("stock.volume"));
  });
});

describe("texts that are compared", () => {
  it("are those of the column before is", () => {
    expect(fitting("set x", "stock.price where sort is ¦").slice(0, 2)).toEqual(['"fruit"', '"herb"']);
    expect(fitting("column stock.cost", "if sort is not ¦").slice(0, 2)).toEqual(['"fruit"', '"herb"']);
    expect(fitting("column stock.cost", 'if sort is "h¦')).toEqual(['"herb"']);
    expect(fitting("set x", "glycol is ¦")).not.toContain('"fruit"');
  });
  it("are escaped as the language wants it", () => {
    const labels = fitting("book", 'table t\n| a | b |\n| k | say "x" {y} |\nset q = sum(t.a where b is ¦)');
    expect(labels[0]).toBe('"say \\"x\\" \\{y\\}"');
  });
  it("of the column are offered in its cells", () => {
    expect(fitting("cell stock.sort 0", "¦")).toEqual(["fruit", "herb"]);
    expect(fitting("cell stock.sort 0", "h¦")).toEqual(["herb"]);
    expect(completed("cell stock.item 0", "qu¦").proposals).toEqual([]);
    expect(completed("cell stock.volume 0", "¦").proposals).toEqual([]);
  });
});
