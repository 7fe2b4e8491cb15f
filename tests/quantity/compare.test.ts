import { describe, expect, it } from "vitest";
import {
  add,
  approximate,
  compare,
  convert,
  divide,
  multiply,
  parseUnit,
  plain,
  type Quantity,
  quantity,
  subtract,
} from "../../src/quantity";
import { measured, q, told } from "./writing";

const order = (a: Quantity, b: Quantity): number => compare(a, b).order;
const near = (v: number, unit: string): Quantity => quantity(approximate(v), parseUnit(unit));

describe("two exact values", () => {
  it("compare exactly", () => {
    expect(order(add(q("0.1"), q("0.2")), q("0.3"))).toBe(0);
    expect(order(q("0.3000000000000000000000000000000001"), q("0.3"))).toBe(1);
    expect(order(q("9007199254740993"), q("9007199254740992"))).toBe(1);
    expect(order(q("-1"), q("1"))).toBe(-1);
  });
  it("compare exactly after conversion, whatever the factor", () => {
    expect(order(q("2.4 L"), q("2400 mL"))).toBe(0);
    expect(order(q("2400.0000000001 mL"), q("2.4 L"))).toBe(1);
    expect(order(q("453.59237 g"), q("1 lb"))).toBe(0);
    expect(order(q("1 lb"), q("453.59237 g"))).toBe(0);
    expect(order(q("16 oz"), q("1 lb"))).toBe(0);
    expect(order(q("760 torr"), q("1 atm"))).toBe(0);
    expect(order(q("1 torr"), q("1 mmHg"))).toBe(-1);
    expect(order(q("128 us_floz"), q("1 us_gal"))).toBe(0);
    expect(order(q("18 %"), q("0.18"))).toBe(0);
    expect(order(q("3.6 MJ"), q("1 kWh"))).toBe(0);
  });
  it("of temperature compare on one scale", () => {
    expect(order(q("77 °F"), q("25 °C"))).toBe(0);
    expect(order(q("25 °C"), q("77 °F"))).toBe(0);
    expect(order(q("77.0000000000000001 °F"), q("25 °C"))).toBe(1);
    expect(order(q("-40 °C"), q("-40 °F"))).toBe(0);
    expect(order(convert(q("25 °C"), parseUnit("K")), q("25 °C"))).toBe(0);
    expect(order(q("0 °C"), q("0 °F"))).toBe(1);
  });
});

describe("an approximate value", () => {
  it("equals what differs from it by at most 1e-9 of the larger", () => {
    expect(order(near(1000, "g"), near(1000.0000005, "g"))).toBe(0);
    expect(order(near(1000, "g"), near(1000.000002, "g"))).toBe(-1);
    expect(order(divide(q("0.3 L"), q("0.1 L")), q("3"))).toBe(0);
    expect(order(q("3"), divide(q("0.3 L"), q("0.1 L")))).toBe(0);
    expect(order(multiply(divide(q("1 kg"), q("3")), q("3")), q("1 kg"))).toBe(0);
  });
  it("equals what differs by at most 1e-12 of the right side's unit", () => {
    expect(order(near(5e-13, "g"), q("0 g"))).toBe(0);
    expect(order(near(5e-12, "g"), q("0 g"))).toBe(1);
    // The same masses, the right side in kg and mg.
    expect(order(near(5e-10, "g"), q("0 kg"))).toBe(0);
    expect(order(near(5e-13, "g"), q("0 mg"))).toBe(1);
  });
  it("of temperature is judged in K, so that 0 °C is nothing special", () => {
    expect(order(near(1e-7, "°C"), q("0 °C"))).toBe(0);
    expect(order(near(1e-6, "°C"), q("0 °C"))).toBe(1);
    expect(order(near(25.0000001, "°C"), q("77 °F"))).toBe(0);
  });
});

describe("kinds", () => {
  it("that differ cannot be compared, with both sides named", () => {
    expect(told(() => compare(q("1 L"), q("200 g")))).toContain(
      "1 L (a volume) and 200 g (a mass) cannot be compared.",
    );
    expect(told(() => compare(q("40 %vol"), q("40 %")))).toContain("a percentage");
    expect(told(() => compare(q("1 GBP"), q("1 EUR")))).toContain("exchange rate");
  });
});

describe("two measured values", () => {
  it("that differ by less than twice the uncertainty of the difference are noted", () => {
    const close = compare(q("100 ± 1 g"), q("102 ± 1 g"));
    expect(close.order).toBe(-1);
    expect(close.note?.text).toBe(
      "Too close to tell: 100.0 ± 1.0 g and 102.0 ± 1.0 g differ by 2 g, less than twice the uncertainty of that difference (± 1.4 g).",
    );
    expect(compare(q("100 ± 1 g"), q("103 ± 1 g")).note).toBeUndefined();
    expect(compare(q("100 ± 1 g"), q("101 g")).note).toBeDefined();
    expect(compare(q("100 ± 1 g"), q("102 g")).note).toBeUndefined();
    expect(compare(q("100 g"), q("100 g")).note).toBeUndefined();
    expect(compare(q("100 ± 1 g"), q("0.1 kg")).note).toBeDefined();
  });
  it("are judged by the uncertainty of their difference, in which shared inputs cancel", () => {
    const x = measured("x", "100 g", "5 g");
    expect(compare(x, x)).toEqual({ order: 0 });
    expect(compare(x, add(x, q("1 g")))).toEqual({ order: -1 });
    expect(compare(add(x, x), multiply(x, plain("2")))).toEqual({ order: 0 });
    expect(compare(x, add(q("1 ± 5 g"), q("100 g"))).note).toBeDefined();
  });
  it("of temperature are told in K", () => {
    expect(compare(q("25 ± 0.5 °C"), q("25.4 °C")).note?.text).toContain("differ by 0.4 K");
    expect(compare(subtract(q("25 ± 0.5 °C"), q("20 °C")), q("5.4 K")).note?.text).toContain("0.4 K");
  });
});
