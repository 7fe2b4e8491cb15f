import { describe, expect, it } from "vitest";
import { unitBehind, unitReadings } from "../../src/app/state/bare-numbers";
import { cellSlot } from "../../src/app/state/cell-slots";
import { itemSlot } from "../../src/app/state/item-slots";
import { cellPlace, itemPlace } from "../../src/app/state/place";
import type { Slot } from "../../src/app/state/slot";
import { openBook } from "../../src/engine";

const slot = (text: string, unit = unitBehind(text), language: Slot["language"] = "formula"): Slot => ({
  of: "gin",
  what: "value",
  text,
  unit,
  language,
  write: () => ({ refused: "" }),
});

describe("the unit behind a number", () => {
  it("is found behind a number, its spread, and written close", () => {
    expect(unitBehind("42 %vol")).toBe("%vol");
    expect(unitBehind("61.2 ± 0.3 %vol")).toBe("%vol");
    expect(unitBehind("-3.5 °C")).toBe("°C");
    expect(unitBehind("14 GBP/L")).toBe("GBP/L");
    expect(unitBehind("500mL")).toBe("mL");
    expect(unitBehind("blank in %vol")).toBe("%vol");
  });
  it("is none in a formula, in words or behind nothing", () => {
    for (const written of ["2 * bottle", "42", "blank", "blank in", "", "2 L + 3 L", "2026-02-03"])
      expect(unitBehind(written), written).toBeUndefined();
  });
});

describe("a number typed without its unit", () => {
  it("is asked about where a unit stood, the unit first", () => {
    expect(unitReadings(slot("42 %vol"), " 40 ")?.map((r) => r.text)).toEqual(["40 %vol", "40"]);
    expect(unitReadings(slot("", "GBP/L"), "40 ± 1")?.map((r) => r.text)).toEqual(["40 ± 1 GBP/L", "40 ± 1"]);
  });
  it("is asked about in a gap that says its unit, in a value and in a cell", () => {
    const book = openBook(
      "set measured = blank in %vol\ntable t\n| item | strength |\n| a | 40 %vol |\n| b | = blank in %vol |\n",
    );
    const value = itemSlot(book, itemPlace("value:measured", "formula"));
    expect(unitReadings(value, "41.2")?.map((r) => r.text)).toEqual(["41.2 %vol", "41.2"]);
    expect(unitReadings(value, "41.2 ± 0.3")?.[0]?.text).toBe("41.2 ± 0.3 %vol");
    expect(unitReadings(cellSlot(book, cellPlace("table:t", 1, 1)), "41.2")?.[0]?.text).toBe("41.2 %vol");
  });
  it("is asked about in a gap that a step asks for in a unit", () => {
    const book = openBook(
      'set got = blank\nset seen = blank\nset label = blank\nstep "Read." ask got in %vol\nstep "Look." ask seen\n',
    );
    const at = (name: string) =>
      unitReadings(itemSlot(book, itemPlace(`value:${name}`, "formula")), "41.2")?.[0];
    expect(at("got")).toEqual({ text: "41.2 %vol", says: "in the unit of its step" });
    expect([at("seen"), at("label")]).toEqual([undefined, undefined]);
  });
  it("is asked about over a slip, in the unit of its column", () => {
    const says = (typed: string, held: Slot) => unitReadings(held, typed)?.[0];
    expect(says("55", slot("abc", "%vol", "cell"))).toEqual({
      text: "55 %vol",
      says: "in the unit of its column",
    });
    expect(says("55", slot("40 %vol"))?.says).toBe("its unit as before");
    const text = (cell: string) => `table t\n| item | strength |\n| a | 40 %vol |\n| b | ${cell} |\n`;
    for (const cell of ["abc", "5 %vo", ""]) {
      const held = cellSlot(openBook(text(cell)), cellPlace("table:t", 1, 1));
      expect(unitReadings(held, "55")?.[0]?.text, cell).toBe("55 %vol");
    }
  });
  it("is asked about where the unit is there by half", () => {
    expect(unitReadings(slot("60 %vol"), "62%")?.map((r) => r.text)).toEqual(["62 %vol", "62%"]);
    expect(unitReadings(slot("18 °C"), "20C")?.map((r) => r.text)).toEqual(["20 °C", "20C"]);
    expect(unitReadings(slot("18 mL"), "20%")).toBeUndefined();
  });
  it("is none where no unit was, or where one was typed", () => {
    expect(unitReadings(slot("42"), "40")).toBeUndefined();
    expect(unitReadings(slot("42 %vol"), "40 %mas")).toBeUndefined();
    expect(unitReadings(slot("42 %vol"), "40 + 2")).toBeUndefined();
    expect(unitReadings(undefined, "40")).toBeUndefined();
  });
});
