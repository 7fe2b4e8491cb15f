import { describe, expect, it } from "vitest";
import { signatureAt } from "../../../src/engine/editing";
import { completed, cordial, field, fitting, marked, misfits, proposal, taken } from "./writing";

const signature = (where: string, written: string) => {
  const { text, caret } = marked(written);
  return signatureAt(cordial, field(where, text), caret);
};
/** Name of the parameter whose turn it is. */
const turn = (written: string) => {
  const found = signature("set x", written);
  return found?.active === undefined ? undefined : found.parameters[found.active]?.name;
};

describe("functions", () => {
  it("are written with their brackets and the labels that are needed, the caret in the first place", () => {
    expect(taken("set x", "boils¦", "boils_at")).toBe("boils_at(¦)");
    expect(taken("set x", "let_d¦", "let_down")).toBe("let_down(¦, to: )");
    expect(taken("set x", "cross_p¦", "cross_parts")).toBe("cross_parts(¦, to: )");
    expect(proposal("set x", "let_d¦", "let_down").stops).toEqual([
      "let_down(".length,
      "let_down(, to: ".length,
    ]);
  });
  it("get no second bracket where one stands already", () => {
    expect(taken("set x", "let_d¦(blend.volume)", "let_down")).toBe("let_down¦(blend.volume)");
  });
  it("tell how they are called, what they answer and what they give", () => {
    const found = proposal("set x", "pure_v¦", "pure_volume");
    expect(found.signature).toBe("pure_volume(volume, strength)");
    expect(found.is).toBe("a volume");
    expect(found.says).toMatch(/\w/);
    expect(found.thing).toBe("function");
  });
  it("of the book are offered too, before those of the vocabulary", () => {
    expect(fitting("set x", "ke¦")[0]).toBe("kept");
    expect(taken("set x", "kep¦", "kept")).toBe("kept(¦)");
    expect(proposal("set x", "kep¦", "kept").signature).toBe("kept(x, share)");
    expect(proposal("set x", "warm¦", "warmer")).toMatchObject({ is: "", thing: "function" });
  });
  it("without a beginning only those that give what is wanted", () => {
    const labels = fitting("set x", "flash_point(¦");
    expect(labels).toContain("by_mass");
    expect(labels).not.toContain("boils_at");
    expect(fitting("set x", "¦")).not.toContain("by_mass");
  });
  it("whose result has a part that fits say which", () => {
    expect(misfits("set x", "flash_point(marr¦").get("marry")).toBe("a result with parts; `.strength` fits");
    expect(misfits("set x", "pure_volume(disti¦").get("distil")).toBe(
      "a result with parts; `.taken.volume` fits",
    );
  });
});

describe("an empty foot", () => {
  it("is offered the totals of its column that have a meaning", () => {
    expect(fitting("foot stock.price", "¦").slice(0, 5)).toEqual([
      "sum(price)",
      "mean(price)",
      "smallest(price)",
      "largest(price)",
      "count(price)",
    ]);
    expect(fitting("foot runs.at", "¦").slice(0, 2)).toEqual(["mean(at)", "smallest(at)"]);
    expect(fitting("foot stock.sort", "¦")[0]).toBe("count(sort)");
    expect(taken("foot stock.price", "me¦", "mean(price)")).toBe("mean(price)¦");
    expect(fitting("foot stock.price", "1 GBP + ¦")).not.toContain("sum(price)");
    expect(fitting("column stock.cost", "¦")).not.toContain("sum(cost)");
  });
});

describe("inside a call", () => {
  it("what fits the parameter comes first, the rest with the reason", () => {
    const { expected, proposals } = completed("column stock.cost", "pure_volume(¦)");
    expect(expected).toBe("a volume or a mass");
    expect(proposals[0]!.label).toBe("volume");
    expect(misfits("column stock.cost", "pure_volume(¦)").get("price")).toBe("not a volume or a mass");
    expect(misfits("column stock.cost", "pure_volume(¦)").get("item")).toBe("not a volume or a mass");
  });
  it("the second place wants the second parameter", () => {
    expect(completed("column stock.cost", "pure_volume(volume, ¦").expected).toMatch(/^a strength/);
    expect(fitting("column stock.cost", "pure_volume(volume, ¦")[0]).toBe("strength");
    expect(misfits("column stock.cost", "pure_volume(volume, ¦").get("volume")).toMatch(/^not a strength/);
  });
  it("parts that fit are offered as whole paths, parts of parts too", () => {
    expect(fitting("set x", "flash_point(¦").slice(0, 3)).toEqual(
      ["goal", "blend.strength", "by_mass"].slice(0, 2).concat(fitting("set x", "flash_point(¦")[2]!),
    );
    expect(taken("set x", "flash_point(str¦)", "blend.strength")).toBe("flash_point(blend.strength¦)");
    expect(fitting("set x", "pure_volume(¦")).toContain("stock.foot.volume");
  });
  it("where a list is wanted whole columns come first, and single values say so", () => {
    const labels = fitting("set x", "marry(¦");
    expect(labels.slice(0, 2)).toEqual(["stock.volume", "stock.alcohol"]);
    expect(misfits("set x", "marry(¦").get("got")).toBe("one value, not a list");
  });
  it("columns of the table of the first list stand before those of another", () => {
    const labels = fitting("set x", "drift(runs.mass, by: ¦");
    const columns = labels.filter((l) => l.includes("."));
    expect(columns.slice(0, 2)).toEqual(["runs.run", "runs.mass"]);
  });
  it("the labels that are left follow the values, and stand alone once all places are taken", () => {
    expect(fitting("set x", "boils_at(¦")).toEqual(
      expect.arrayContaining(["pull", "strength:", "solids:", "activity:"]),
    );
    const only = completed("set x", "boils_at(pull, ¦").proposals.map((p) => p.label);
    expect(only).toEqual(["strength:", "solids:", "activity:"]);
    expect(completed("set x", "boils_at(pull, strength: 4 %vol, ¦").proposals.map((p) => p.label)).toEqual([
      "solids:",
      "activity:",
    ]);
    expect(completed("set x", "let_down(1 L, 96 %vol, ¦").proposals.map((p) => p.label)).toEqual(["to:"]);
    expect(taken("set x", "let_down(1 L, 96 %vol, t¦)", "to:")).toBe("let_down(1 L, 96 %vol, to: ¦)");
  });
  it("behind a label what is left can be given by label only, also what would have its place", () => {
    const labels = completed("set x", "boils_at(strength: 3 %vol, ¦").proposals.map((p) => p.label);
    expect(labels).toEqual(["pressure:", "solids:", "activity:"]);
  });
  it("behind a label its parameter is wanted, wherever it stands", () => {
    expect(completed("set x", "let_down(to: ¦").expected).toMatch(/^a strength/);
    expect(completed("set x", "boils_at(pull, activity: ¦").expected).toMatch(/water activity/);
    expect(fitting("set x", "boils_at(pull, activity: ¦").slice(0, 2)).toEqual(
      ["honey_water", "margin"].slice(0, 2),
    );
  });
  it("a label tells what it takes, what it means and what it is when left out", () => {
    const label = proposal("set x", "boils_at(pull, str¦", "strength:");
    expect(label.thing).toBe("label");
    expect(label.is).toMatch(/^a strength/);
    expect(label.says).toMatch(/When left out: 0 %vol\./);
  });
  it("the choices of a text parameter are offered in quotes, with and without one typed", () => {
    expect(fitting("set x", "stays_liquid_to(¦").slice(0, 2)).toEqual(['"ethylene"', '"propylene"']);
    expect(taken("set x", "stays_liquid_to(pro¦", '"propylene"')).toBe('stays_liquid_to("propylene"¦');
    expect(taken("set x", 'stays_liquid_to("pro¦', '"propylene"')).toBe('stays_liquid_to("propylene"¦');
    expect(taken("set x", 'stays_liquid_to("pro¦", 30 %)', '"propylene"')).toBe(
      'stays_liquid_to("propylene"¦, 30 %)',
    );
    expect(fitting("set x", "stays_liquid_to(gly¦")).toContain("glycol");
    expect(misfits("set x", "stays_liquid_to(pu¦").get("pull")).toBe('not "ethylene" or "propylene"');
  });
  it("the names of rows are offered behind pick", () => {
    expect(fitting("set x", "pick(stock.price, ¦")).toEqual(
      expect.arrayContaining(['"quince"', '"bay leaf"']),
    );
    expect(taken("set x", 'pick(runs.mass, "2¦', '"2a"')).toBe('pick(runs.mass, "2a"¦');
  });
  it("a list wants the like of its first entry", () => {
    expect(completed("set x", "[pull, ¦").expected).toBe("a pressure");
    expect(completed("set x", "marry([1 L, ¦").expected).toBe("a volume");
    expect(completed("set x", "marry([¦").expected).toBe("a volume or a mass");
  });
  it("brackets pass on what is wanted around them", () => {
    expect(completed("set x", "flash_point((¦").expected).toMatch(/^a strength/);
    expect(completed("set x", "flash_point(by_mass(¦").expected).toMatch(/^a strength/);
    expect(completed("set x", "3 K + (¦").expected).toMatch(/temperature/);
  });
});

describe("the signature", () => {
  it("names the call, its parameters and the one whose turn it is", () => {
    const found = signature("set x", "let_down(blend.volume, ¦")!;
    expect(found.call).toBe("let_down(volume, strength; to)");
    expect(found.parameters.map((p) => [p.name, p.byLabel, p.optional, p.given])).toEqual([
      ["volume", false, false, true],
      ["strength", false, false, false],
      ["to", true, false, false],
    ]);
    expect(found.active).toBe(1);
  });
  it("follows labels, places and nesting", () => {
    expect(turn("boils_at(¦")).toBe("pressure");
    expect(turn("boils_at(pull, solids: ¦")).toBe("solids");
    expect(turn("boils_at(pull, ¦")).toBeUndefined();
    expect(turn("marry([1 L, 2 L], ¦")).toBe("strengths");
    expect(turn("marry([1 L, ¦")).toBe("volumes");
    expect(turn("let_down(by_mass(4 %vol), ¦")).toBe("strength");
    expect(turn("let_down(by_mass(¦")).toBe("strength");
    expect(turn("boils_at(nobody: ¦")).toBeUndefined();
  });
  it("counts the arguments behind the caret as given, so that their labels are not offered again", () => {
    const { text, caret } = marked("boils_at(¦, strength: 3 %vol)");
    expect(completed("set x", "boils_at(pull, ¦, strength: 3 %vol)").proposals.map((p) => p.label)).toEqual([
      "solids:",
      "activity:",
    ]);
    expect(
      signatureAt(cordial, field("set x", text), caret)!.parameters.find((p) => p.name === "strength")!.given,
    ).toBe(true);
  });
  it("tells what is left out", () => {
    const strength = signature("set x", "boils_at(¦")!.parameters.find((p) => p.name === "strength")!;
    expect(strength).toMatchObject({ optional: true, byLabel: true, otherwise: "0 %vol" });
  });
  it("knows the functions of the book", () => {
    expect(signature("set x", "kept(4 g, ¦")).toMatchObject({
      name: "kept",
      call: "kept(x, share)",
      active: 1,
    });
    expect(signature("set x", "kept(share: ¦")).toMatchObject({ active: 1 });
    expect(signature("set x", "kept(1, 2, ¦")!.active).toBeUndefined();
  });
  it("is missing outside of calls, in comments, and for what is no function", () => {
    for (const written of ["¦", "(pull¦", "[pull, ¦", "nobody(¦", "boils_at(pull)¦"])
      expect(signature("set x", written), written).toBeUndefined();
  });
});
