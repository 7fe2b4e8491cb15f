import Big from "big.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  add,
  approximate,
  convert,
  decimalsNeeded,
  divide,
  exact,
  format,
  formatParts,
  kinds,
  multiply,
  parseUnit,
  plainUnit,
  type Quantity,
  quantity,
  spreadBy,
  withKind,
} from "../../src/quantity";
import { q } from "./writing";

const near = (v: number, unit = ""): Quantity =>
  quantity(approximate(v), unit === "" ? plainUnit : parseUnit(unit));

describe("an exact number", () => {
  it.each([
    ["12.50 g", "12.5 g"],
    ["0.000 g", "0 g"],
    ["-0.0 g", "0 g"],
    ["100 g", "100 g"],
    ["1e3 g", "1000 g"],
    ["0.0000001 g", "0.0000001 g"],
    ["18 %", "18 %"],
    ["61.2 %vol", "61.2 %vol"],
    ["1.4890 nD", "1.489 nD"],
    ["-10 °C", "-10 °C"],
    ["3", "3"],
    ["123456.789012", "123456.789012"],
    ["123456789.0123", "123456789.012"],
    ["0.123456789012345", "0.123456789012"],
    ["0.00001234567890125", "0.0000123456789013"],
    ["1234567890123.4", "1234567890123"],
    ["1234567890123.5", "1234567890124"],
    ["99999999999999999999", "99999999999999999999"],
    ["1e40", "1e40"],
    ["1.5e-20", "1.5e-20"],
    ["11.20 GBP/L", "11.2 GBP/L"],
  ])("%s is printed as %s", (text, printed) => {
    expect(format(q(text))).toBe(printed);
  });
  it("with at most 12 digits is printed as it was typed, zeros aside, and reads back the same", () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: -(10n ** 12n) + 1n, max: 10n ** 12n - 1n }),
        fc.integer({ min: 0, max: 12 }),
        (m, dp) => {
          const oracle = new Big(m.toString()).times(`1e-${dp}`);
          const printed = format(quantity(exact(oracle.toFixed(dp)), plainUnit));
          expect(printed).toBe(oracle.toFixed());
          expect(exact(printed).v).toBe(Number(oracle.toString()));
        },
      ),
      { numRuns: 1000 },
    );
  });
  it("of more digits is rounded to 12, half up, and never wrong by more than half of the last", () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: 10n ** 12n, max: 10n ** 30n }),
        fc.integer({ min: 1, max: 30 }),
        (m, dp) => {
          const oracle = new Big(m.toString()).times(`1e-${dp}`);
          const printed = new Big(format(quantity(exact(oracle.toFixed(dp)), plainUnit)));
          const step = new Big(`1e${Math.min(0, oracle.e - 11)}`);
          expect(printed.minus(oracle).abs().times(2).lte(step)).toBe(true);
        },
      ),
      { numRuns: 1000 },
    );
  });
  it("is printed the same in a sum, a product and a conversion", () => {
    const decimal = fc.tuple(fc.bigInt({ min: 0n, max: 10n ** 6n }), fc.integer({ min: 0, max: 4 }));
    fc.assert(
      fc.property(decimal, decimal, ([m, dp], [k, dq]) => {
        const [a, b] = [new Big(`${m}e-${dp}`), new Big(`${k}e-${dq}`)];
        const [x, y] = [q(`${a.toFixed()} g`), q(`${b.toFixed()} g`)];
        expect(format(add(x, y))).toBe(`${a.plus(b).toFixed()} g`);
        const product = a.times(b);
        if (product.c.length <= 12)
          expect(format(multiply(x, q(b.toFixed())))).toBe(`${product.toFixed()} g`);
        expect(format(convert(x, parseUnit("kg")))).toBe(`${a.div(1000).toFixed()} kg`);
      }),
    );
  });
});

describe("an approximate number", () => {
  it.each([
    [24.95512, "°C", "24.955 °C"],
    [1.470512, "L", "1.4705 L"],
    [12825 / 41, "g", "312.8 g"],
    [0.6, "L", "0.6 L"],
    [123456.7, "g", "123457 g"],
    [99999.6, "g", "100000 g"],
    [9.99996, "g", "10 g"],
    [0.000123456789, "g", "0.00012346 g"],
    [1e-20, "g", "1e-20 g"],
    [1.23456789e40, "g", "1.2346e40 g"],
    [1e22, "g", "10000000000000000000000 g"],
    [-24.95512, "°C", "-24.955 °C"],
    [0, "g", "0 g"],
    [1.000004, "", "1"],
    [1234567890123456, "g", "1234567890123456 g"],
    [-1234567890123.6, "g", "-1234567890124 g"],
  ])("%d %s is printed as %s", (v, unit, printed) => {
    expect(format(near(v, unit))).toBe(printed);
  });
  it("rounds the tie that it looks like", () => {
    expect(format(near(1.00005))).toBe("1.0001");
    expect(format(near(2.675), { decimals: 2 })).toBe("2.68");
    expect(format(near(1.005), { decimals: 2 })).toBe("1.01");
  });
  it("shows as many digits as are asked for, 12 at most", () => {
    const third = divide(q("1"), q("3"));
    expect(format(third, { digits: 1 })).toBe("0.3");
    expect(format(third, { digits: 8 })).toBe("0.33333333");
    expect(format(third, { digits: 12 })).toBe("0.333333333333");
    expect(format(third, { digits: 99 })).toBe("0.333333333333");
    expect(format(third, { digits: 0 })).toBe("0.3");
    expect(format(near(1234.5678), { digits: 2 })).toBe("1235");
    expect(format(q("12.3456789"), { digits: 3 })).toBe("12.3456789");
  });
  it("is never more than half of its last digit away, and its whole part never shortened", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-9, max: 1e18, noNaN: true }),
        fc.integer({ min: 1, max: 12 }),
        (v, digits) => {
          const printed = format(near(v), { digits });
          const last = printed.includes(".") ? printed.length - printed.indexOf(".") - 1 : 0;
          expect(printed.replace(/[.-]/g, "").replace(/^0+/, "").length).toBeLessThanOrEqual(
            Math.max(digits, String(Math.round(v)).length),
          );
          const wanted = Math.max(0, digits - 1 - Math.floor(Math.log10(v)));
          // Below 10^12 the 15th digit is rounded first, so that ties of decimals are ties.
          const fifteenth = v < 1e12 ? 0.5 * 10 ** (Math.floor(Math.log10(v)) - 14) : 0;
          expect(last).toBeLessThanOrEqual(wanted);
          expect(Math.abs(Number(printed) - v)).toBeLessThanOrEqual(0.5 * 10 ** -wanted + fifteenth);
        },
      ),
      { numRuns: 2000 },
    );
  });
});

describe("money", () => {
  it("shows at least its minor digits, and exactly those when approximate", () => {
    expect(format(q("29.7 GBP"))).toBe("29.70 GBP");
    expect(format(q("34.405 GBP"))).toBe("34.405 GBP");
    expect(format(q("100 GBP"))).toBe("100.00 GBP");
    expect(format(q("100 JPY"))).toBe("100 JPY");
    expect(format(q("1.5 KWD"))).toBe("1.500 KWD");
    expect(format(divide(q("100 GBP"), q("3")))).toBe("33.33 GBP");
    expect(format(divide(q("100 JPY"), q("3")))).toBe("33 JPY");
    expect(format(near(123456.789, "GBP"))).toBe("123456.79 GBP");
    expect(format(near(2.675, "GBP"))).toBe("2.68 GBP");
    expect(format(near(-0.001, "GBP"))).toBe("0.00 GBP");
    expect(format(divide(q("100 GBP"), q("3")), { digits: 8 })).toBe("33.333333 GBP");
    expect(format(divide(q("99 GBP"), q("3")), { digits: 8 })).toBe("33.00 GBP");
    expect(format(q("1.4 GBP/L"))).toBe("1.4 GBP/L");
  });
});

describe("an uncertainty", () => {
  it.each([
    ["100 ± 1.41 g", "100.0 ± 1.4 g"],
    ["61.2 ± 0.3 %vol", "61.20 ± 0.30 %vol"],
    ["3 ± 1", "3.0 ± 1.0"],
    ["1234 ± 567 g", "1230 ± 570 g"],
    ["1235 ± 567 g", "1240 ± 570 g"],
    ["12.3456 ± 0.0996 g", "12.35 ± 0.10 g"],
    ["12.3456 ± 0.0994 g", "12.346 ± 0.099 g"],
    ["0.5 ± 12 g", "1 ± 12 g"],
    ["-0.2 ± 12 g", "0 ± 12 g"],
    ["29.70 ± 0.5 GBP", "29.70 ± 0.50 GBP"],
    ["0 ± 0.001 g", "0.0000 ± 0.0010 g"],
    ["1e40 ± 1e39 g", "1e40 ± 1e39 g"],
  ])("%s is printed as %s: two digits, the value to the same place", (text, printed) => {
    expect(format(q(text))).toBe(printed);
  });
  it("is set apart for columns", () => {
    expect(formatParts(q("61.2 ± 0.3 %vol"))).toEqual({ number: "61.20", spread: "0.30", unit: "%vol" });
    expect(formatParts(q("61.2 ± 0.3 %vol"), { decimals: 1 })).toEqual({
      number: "61.2",
      spread: "0.3",
      unit: "%vol",
    });
    expect(formatParts(q("18 %"))).toEqual({ number: "18", unit: "%" });
    expect(formatParts(q("18"))).toEqual({ number: "18", unit: "" });
  });
  it("goes along when more digits are asked for", () => {
    expect(format(spreadBy(q("100 g"), near(Math.SQRT2, "g"), "a"), { digits: 8 })).toBe(
      "100.00000 ± 1.41421 g",
    );
    expect(format(spreadBy(q("100 g"), near(Math.SQRT2, "g"), "a"), { digits: 2 })).toBe("100.0 ± 1.4 g");
  });
});

describe("a column", () => {
  it("has one count of decimals, the most that a row needs", () => {
    const rows = ["26.88 GBP", "7.525 GBP", "3 GBP"].map(q);
    expect(rows.map((row) => decimalsNeeded(row))).toEqual([2, 3, 2]);
    expect(rows.map((row) => format(row, { decimals: 3 }))).toEqual(["26.880 GBP", "7.525 GBP", "3.000 GBP"]);
    expect(decimalsNeeded(q("2400.00 mL"))).toBe(0);
    expect(decimalsNeeded(q("0.00"))).toBe(0);
    expect(decimalsNeeded(q("61.2 ± 0.3 %vol"))).toBe(2);
    expect(decimalsNeeded(q("1234 ± 567 g"))).toBe(0);
    expect(decimalsNeeded(near(24.95512, "°C"))).toBe(3);
    expect(decimalsNeeded(near(1 / 3, "GBP"))).toBe(2);
    expect(decimalsNeeded(near(1 / 3), { digits: 8 })).toBe(8);
    expect(decimalsNeeded(q("1e40"))).toBe(0);
  });
  it("counts the decimals that printing shows", () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: -(10n ** 20n), max: 10n ** 20n }),
        fc.integer({ min: 0, max: 18 }),
        (m, dp) => {
          const value = quantity(exact(new Big(`${m}e-${dp}`).toFixed(dp)), plainUnit);
          const printed = format(value);
          if (printed.includes("e")) return;
          const point = printed.indexOf(".");
          expect(decimalsNeeded(value)).toBe(point < 0 ? 0 : printed.length - point - 1);
        },
      ),
      { numRuns: 1000 },
    );
  });
  it("does not dress an approximate value in more than 12 digits", () => {
    expect(format(near(123456.789), { decimals: 10 })).toBe("123456.789000");
    expect(format(q("123456.789"), { decimals: 10 })).toBe("123456.7890000000");
    expect(format(near(0), { decimals: 3 })).toBe("0.000");
  });
});

describe("a water content", () => {
  it("is printed in its unit, and plain without one", () => {
    expect(format(quantity(exact("18"), withKind(parseUnit("%"), kinds.moisture)))).toBe("18 %");
    expect(format(quantity(exact("0.6"), withKind(plainUnit, kinds.activity)))).toBe("0.6");
  });
});
