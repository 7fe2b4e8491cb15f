import { describe, expect, it } from "vitest";
import {
  compare,
  convert,
  currencies,
  exact,
  format,
  isExact,
  parseUnit,
  quantity,
} from "../../src/quantity";

/** Each definition as an equation between exact values. Sources and honesty marks stand beside them. */
const definitions: readonly [string, string, string][] = [
  // International yard and pound agreement, 1959; NIST SP 811 (2008), appendix B.8. From memory.
  ["1 lb", "453.59237 g", "international pound, 1959 (from memory)"],
  ["16 oz", "1 lb", "avoirdupois ounce (from memory)"],
  // 231 cubic inches of exactly 2.54 cm; NIST SP 811, appendix B.8. From memory, and 231 * 2.54^3 computed here.
  ["1 us_gal", "3785.411784 mL", "US gallon, 231 cubic inches (from memory, computed here)"],
  ["128 us_floz", "1 us_gal", "US fluid ounce (from memory)"],
  // Units of Measurement Regulations / Weights and Measures Act 1985 (UK): 4.546 09 dm3. From memory.
  ["1 uk_gal", "4.54609 L", "imperial gallon, 1985 (from memory)"],
  ["160 uk_floz", "1 uk_gal", "imperial fluid ounce (from memory)"],
  // Resolution 4 of the 10th CGPM (1954). From memory.
  ["1 atm", "101325 Pa", "standard atmosphere, 10th CGPM (from memory)"],
  ["760 torr", "1 atm", "torr (from memory)"],
  // 13 595.1 kg/m3 * 9.806 65 m/s2 * 1 mm: 133.322 387 415 Pa. Product computed here, constants from memory.
  ["1 mmHg", "133.322387415 Pa", "conventional millimetre of mercury (computed here)"],
  ["1 bar", "100000 Pa", "SI brochure, 8th edition, table 8 (from memory)"],
  ["1 mbar", "1 hPa", "SI prefixes (from memory)"],
  ["1 L", "1000 cm^3", "SI brochure, table 8 (from memory)"],
  ["1 kWh", "3600000 J", "watt times hour (computed here)"],
  ["1 d", "86400 s", "SI brochure, table 8 (from memory)"],
];

const q = (text: string): ReturnType<typeof quantity> => {
  const [number, unit] = text.split(" ");
  return quantity(exact(number!), parseUnit(unit!));
};

describe("definitions of units", () => {
  it.each(definitions)("%s is %s: %s", (a, b) => {
    expect(compare(q(a), q(b))).toEqual({ order: 0 });
    expect(isExact(q(a).n)).toBe(true);
  });
  it("the gallon's cubic inches and the mercury's weight, worked out in whole numbers", () => {
    expect(231n * 254n ** 3n).toBe(3_785_411_784n);
    expect(135_951n * 980_665n).toBe(133_322_387_415n);
  });
  // Fixed points of the two scales: 0 °C is 32 °F and 273.15 K, 100 °C is 212 °F, -40 is the same. From memory.
  it.each([
    ["0 °C", "32 °F"],
    ["100 °C", "212 °F"],
    ["-40 °C", "-40 °F"],
    ["37 °C", "98.6 °F"],
  ])("%s is %s", (celsius, fahrenheit) => {
    expect(compare(q(celsius), q(fahrenheit))).toEqual({ order: 0 });
    expect(format(convert(q(celsius), parseUnit("°F")))).toBe(fahrenheit);
    expect(format(convert(q(fahrenheit), parseUnit("°C")))).toBe(celsius);
  });
  it("0 °C is 273.15 K", () => {
    expect(format(convert(q("0 °C"), parseUnit("K")))).toBe("273.15 K");
  });
});

/**
 * ISO 4217. The whole table was compared with a public machine-readable copy of list one of September 2024
 * (seen): 176 of its 179 codes stand here with the same minor digits. Amendments since are from memory: XCG for ANG,
 * ZWG for ZWL, XAD new, CUC withdrawn. Below stand the codes whose digits are not two.
 */
describe("ISO 4217 minor digits", () => {
  const odd: readonly [number, string][] = [
    [0, "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF"],
    [3, "BHD IQD JOD KWD LYD OMR TND"],
    [4, "CLF UYW"],
  ];
  it.each(odd)("%d: %s", (digits, codes) => {
    for (const code of codes.split(" ")) expect(currencies.get(code)).toBe(digits);
  });
  it("two for all other money", () => {
    const listed = new Set(odd.flatMap(([, codes]) => codes.split(" ")));
    // Metals, units of account and testing codes have no minor unit in the list.
    const unminted = /^X(AG|AU|B[ABCD]|DR|P[DT]|SU|TS|UA|XX)$/;
    for (const [code, digits] of currencies) {
      expect(code).toMatch(/^[A-Z]{3}$/);
      if (unminted.test(code)) expect(digits).toBe(0);
      else if (!listed.has(code)) expect(digits).toBe(2);
    }
  });
  it("for 179 codes", () => {
    expect(currencies.size).toBe(179);
  });
});
