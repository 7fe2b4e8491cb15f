import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { completed, fitting, inCordial, misfits, proposal, taken } from "./writing";

describe("units behind a number", () => {
  it("those of what is wanted, the one in use there first", () => {
    expect(fitting("set x", "pull + 3 ¦")[0]).toBe("mbar");
    expect(fitting("set x", "pull + 3 ¦")).toEqual(expect.arrayContaining(["Pa", "kPa", "bar"]));
    expect(fitting("set x", "blend.volume > 3 ¦")[0]).toBe("mL");
    expect(completed("set x", "pull + 3 ¦").expected).toBe("a pressure");
  });
  it("a blank goes in between where there is none", () => {
    expect(taken("set x", "pull + 3¦", "mbar")).toBe("pull + 3 mbar¦");
    expect(taken("set x", "pull + 3 ¦", "mbar")).toBe("pull + 3 mbar¦");
    expect(taken("set x", "pull + 3 mb¦", "mbar")).toBe("pull + 3 mbar¦");
    expect(taken("set x", "pull + 3m¦", "mbar")).toBe("pull + 3 mbar¦");
  });
  it("a unit that is begun is replaced as a whole", () => {
    expect(taken("set x", "2 m¦L/h", "mg")).toBe("2 mg¦");
    expect(taken("set x", "2 m¦L / 3", "mg")).toBe("2 mg¦ / 3");
    expect(taken("set x", "2 m¦L/4", "mg")).toBe("2 mg¦/4");
  });
  it("what is typed finds other units, which say what does not fit", () => {
    expect(misfits("set x", "pull + 3 k¦").get("kg")).toBe("not a pressure");
    expect(fitting("set x", "pull + 3 k¦")).toEqual(["kPa"]);
  });
  it("where anything may stand every unit is offered, measures before money", () => {
    const labels = fitting("set x", "3 ¦");
    expect(labels).toEqual(expect.arrayContaining(["g", "mL", "°C", "%vol", "GBP"]));
    expect(labels.indexOf("GBP")).toBeGreaterThan(labels.indexOf("%vol"));
  });
  it("signs may be left out or stand alone", () => {
    expect(taken("set x", "goal + 3 vol¦", "%vol")).toBe("goal + 3 %vol¦");
    expect(taken("set x", "goal + 3 %¦", "%vol")).toBe("goal + 3 %vol¦");
    expect(taken("set x", "3 °¦", "°Bx")).toBe("3 °Bx¦");
    expect(taken("set x", "3 Bx¦", "°Bx")).toBe("3 °Bx¦");
  });
  it("compounds go on behind a stroke", () => {
    expect(fitting("set x", "9 GBP/¦")).toEqual(expect.arrayContaining(["GBP/L", "GBP/kg", "GBP/h"]));
    expect(taken("set x", "9 GBP/¦", "GBP/kg")).toBe("9 GBP/kg¦");
    expect(fitting("set x", "9 USD/¦")).toContain("USD/L");
  });
  it("prices are offered in the currency that is used", () => {
    const book = openBook("set a = 4 USD/L\n");
    expect(fitting("set x", "a + 1 ¦", book)[0]).toBe("USD/L");
    expect(fitting("set x", "a + 1 ¦", book)).not.toContain("GBP/L");
    const other = openBook("set a = 4 USD/kg\n");
    expect(fitting("set x", "a in ¦", other)).toEqual(expect.arrayContaining(["USD/kg"]));
  });
  it("behind ± they measure a difference", () => {
    expect(fitting("set x", "room ± 0.5 ¦").slice(0, 1)).toEqual(["K"]);
    expect(fitting("set x", "goal ± 0.3 ¦")[0]).toBe("%vol");
    expect(fitting("set x", "pull + 20 ± 1 ¦")[0]).toBe("mbar");
  });
  it("a temperature moves by a difference", () => {
    expect(completed("set x", "room + 5 ¦").expected).toBe("a temperature difference");
    expect(fitting("set x", "room + 5 ¦")[0]).toBe("K");
    expect(fitting("set x", "room < 5 ¦")[0]).toBe("°C");
    expect(fitting("set x", "20 °C to 30 °C step 5 ¦")[0]).toBe("K");
  });
  it("tell what they are", () => {
    expect(proposal("set x", "3 mba¦", "mbar")).toMatchObject({ thing: "unit", is: "a pressure" });
    expect(proposal("set x", "3 mba¦", "mbar").says).toContain("millibar");
  });
});

describe("units behind in", () => {
  it("only those that can show what stands before", () => {
    expect(fitting("set x", "blend.volume in ¦")[0]).toBe("mL");
    expect(fitting("set x", "blend.volume in ¦")).not.toContain("g");
    expect(fitting("set x", "(blend.volume + 1 L) in ¦")).toContain("cL");
    expect(fitting("set x", "blend.volume + 1 L in ¦")).toContain("cL");
    expect(fitting("set x", "boiling in ¦")).toEqual(expect.arrayContaining(["°C", "°F", "K"]));
    expect(fitting("set x", "honey_water in ¦")).toContain("%");
  });
  it("what has not been filled in yet is shown by its unit", () => {
    expect(fitting("set x", "got in ¦")).toContain("L");
  });
  it("works in the braces of a sentence", () => {
    expect(fitting("sentence", "Stir in {blend.volume in ¦}")).toContain("L");
    expect(fitting("book", inCordial('step "Wait for {pull in ¦'))).toContain("mbar");
  });
});

describe("units in tables", () => {
  it("a typed cell is offered those of its heading", () => {
    expect(fitting("cell stock.volume 0", "12¦")[0]).toBe("mL");
    expect(taken("cell stock.volume 0", "12¦", "L")).toBe("12 L¦");
    expect(taken("cell runs.at 0", "31 ¦", "°C")).toBe("31 °C¦");
    expect(fitting("cell runs.at 0", "31 °C ± 1 ¦")[0]).toBe("K");
    expect(fitting("cell stock.price 0", "9 ¦")[0]).toBe("GBP/L");
  });
  it("in the text of the book too", () => {
    expect(fitting("book", inCordial("| sloe | 20 ¦ |  |  |  |  |", "| quince | 80"))[0]).toBe("mL");
    expect(fitting("book", inCordial("| sloe | 20 |  | 3 ¦|  |  |", "| quince | 80"))[0]).toBe("GBP/L");
  });
  it("a heading's bracket is offered units, and what else a column can hold", () => {
    const labels = fitting("heading stock", "net weight (¦");
    expect(labels).toEqual(expect.arrayContaining(["g", "mL", "number", "text", "date"]));
    expect(taken("heading stock", "net weight (k¦)", "kg")).toBe("net weight (kg¦)");
    expect(completed("heading stock", "net we¦").proposals).toEqual([]);
    expect(fitting("book", "table t\n| item | much (m¦ |\n")).toContain("mL");
  });
});
