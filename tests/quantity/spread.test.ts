import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  add,
  combine,
  convert,
  covariance,
  divide,
  format,
  kinds,
  meanQuantities,
  multiply,
  negate,
  parseUnit,
  plain,
  power,
  type Quantity,
  quantity,
  sigma,
  spreadBy,
  subtract,
  sumQuantities,
  withKind,
} from "../../src/quantity";
import { measured, q, told, troubleOf } from "./writing";

const u = (value: Quantity): number => sigma(value.spread);

describe("a standard uncertainty", () => {
  it("adds in quadrature for separate inputs", () => {
    expect(format(add(q("50 ± 1 g"), q("50 ± 1 g")))).toBe("100.0 ± 1.4 g");
    expect(u(add(q("50 ± 3 g"), q("50 ± 4 g")))).toBeCloseTo(5, 14);
  });
  it("cancels for one input used twice", () => {
    const x = measured("x", "50 g", "1 g");
    expect(subtract(x, x).spread).toBeUndefined();
    expect(format(subtract(x, x))).toBe("0 g");
    expect(divide(x, x).spread).toBeUndefined();
    expect(format(divide(x, x))).toBe("1");
    expect(u(add(x, x))).toBe(2);
    expect(u(subtract(add(x, x), x))).toBe(1);
    expect(subtract(multiply(x, q("3")), add(add(x, x), x)).spread).toBeUndefined();
    const y = measured("y", "7 mL", "0.3 mL");
    expect(subtract(multiply(x, y), multiply(y, x)).spread).toBeUndefined();
    expect(divide(divide(multiply(x, y), y), x).spread).toBeUndefined();
  });
  it("cancels across units, rounding aside", () => {
    const x = measured("x", "1.7 L", "0.013 L");
    const there = convert(convert(x, parseUnit("us_gal")), parseUnit("mL"));
    expect(subtract(there, x).spread).toBeUndefined();
    expect(u(subtract(multiply(q("0.1"), x), subtract(multiply(q("0.3"), x), multiply(q("0.2"), x))))).toBe(
      0,
    );
  });
  it("on a value that has one adds another", () => {
    const twice = spreadBy(measured("a", "10 g", "3 g"), q("4 g"), "b");
    expect(u(twice)).toBe(5);
    expect([...twice.spread!.keys()]).toEqual(["a", "b"]);
  });
  it("of 0 is none", () => {
    expect(spreadBy(q("10 g"), q("0 g"), "a").spread).toBeUndefined();
    expect(format(spreadBy(q("0 mL"), q("2 %"), "a"))).toBe("0 mL");
  });
  it("leaves the value as it was, exactness too", () => {
    const value = spreadBy(q("61.20 %vol"), q("0.3 %vol"), "a");
    expect(value.n).toEqual(q("61.20 %vol").n);
  });
  it("of inputs that are all exact is 0", () => {
    const inputs = [
      ["x", 0],
      ["y", 0],
    ] as const;
    expect(sigma(new Map(inputs))).toBe(0);
  });
  it("cannot be negative", () => {
    expect(troubleOf(() => spreadBy(q("10 g"), q("-1 g"), "a")).code).toBe("spread-negative");
    expect(told(() => spreadBy(q("3 g"), q("-1 g"), "a"))).toContain("without the minus");
    expect(troubleOf(() => spreadBy(q("10 g"), q("-1 %"), "a")).code).toBe("spread-negative");
  });
});

describe("the unit of an uncertainty", () => {
  it("is converted to that of the value", () => {
    expect(format(spreadBy(q("250 mL"), q("0.01 L"), "a"))).toBe("250 ± 10 mL");
    expect(u(spreadBy(q("1 lb"), q("1 oz"), "a"))).toBeCloseTo(1 / 16, 14);
  });
  it("% is relative for amounts, of the size of the value", () => {
    expect(format(spreadBy(q("250 mL"), q("2 %"), "a"))).toBe("250.0 ± 5.0 mL");
    expect(format(spreadBy(q("-250 mL"), q("20 ‰"), "a"))).toBe("-250.0 ± 5.0 mL");
    expect(format(spreadBy(q("40 K"), q("5 %"), "a"))).toBe("40.0 ± 2.0 K");
    expect(format(spreadBy(q("29.70 GBP"), q("10 %"), "a"))).toBe("29.7 ± 3.0 GBP");
  });
  it("% is absolute for percentages, plain numbers and water contents", () => {
    expect(format(spreadBy(q("18 %"), q("1 %"), "a"))).toBe("18.0 ± 1.0 %");
    expect(u(spreadBy(q("0.18"), q("1 %"), "a"))).toBeCloseTo(0.01, 15);
    expect(u(spreadBy(q("5"), q("2 %"), "a"))).toBeCloseTo(0.02, 15);
    const honey = quantity(q("18 %").n, withKind(parseUnit("%"), kinds.moisture));
    expect(format(spreadBy(honey, q("1 %"), "a"))).toBe("18.0 ± 1.0 %");
    expect(spreadBy(honey, q("1 %"), "a").unit.kind).toBe(kinds.moisture);
  });
  it("% beside % needs no note", () => {
    expect(spreadBy(q("18 %"), q("1 %"), "a").notes).toBeUndefined();
  });
  it("a bare number beside % counts as itself, with a note", () => {
    const odd = spreadBy(q("18 %"), q("1"), "a");
    expect(u(odd)).toBe(100);
    expect(odd.notes?.[0]?.text).toContain("± 1 counts as ± 100 %");
    expect(spreadBy(q("0.18"), q("0.01"), "a").notes).toBeUndefined();
  });
  it("of a temperature is a difference, written in K or in degrees", () => {
    expect(format(spreadBy(q("20 °C"), q("0.5 °C"), "a"))).toBe("20.00 ± 0.50 °C");
    expect(format(spreadBy(q("20 °C"), q("0.5 K"), "a"))).toBe("20.00 ± 0.50 °C");
    expect(format(spreadBy(q("68 °F"), q("0.5 K"), "a"))).toBe("68.00 ± 0.90 °F");
    expect(format(spreadBy(q("20 °C"), q("0.9 °F"), "a"))).toBe("20.00 ± 0.50 °C");
    expect(format(spreadBy(q("5 K"), q("0.5 °C"), "a"))).toBe("5.00 ± 0.50 K");
    expect(format(convert(spreadBy(q("20 °C"), q("0.5 K"), "a"), parseUnit("°F")))).toBe("68.00 ± 0.90 °F");
    expect(format(convert(spreadBy(q("20 °C"), q("0.5 K"), "a"), parseUnit("K")))).toBe("293.15 ± 0.50 K");
  });
  it.each([
    ["61.2 %vol", "2 %", "`61.2 %vol ± 2 %vol`"],
    ["35 %mas", "2 %", "`35 %mas ± 2 %mas`"],
    ["12 °Bx", "2 %", "`12 °Bx ± 2 °Bx`"],
    ["80 proof", "2 %", "`80 proof ± 2 proof`"],
    ["20 °C", "2 %", "`20 °C ± 2 K`"],
    ["61.2 %vol", "0.3", "`61.2 %vol ± 0.3 %vol`"],
    ["250 mL", "5", "`250 mL ± 5 mL`"],
    ["20 °C", "0.5", "`20 °C ± 0.5 K`"],
  ])("%s ± %s is a fault that says %s", (value, by, better) => {
    expect(troubleOf(() => spreadBy(q(value), q(by), "a")).code).toBe("spread-unit");
    expect(told(() => spreadBy(q(value), q(by), "a"))).toContain(better);
  });
  it("of another kind is a fault that names both", () => {
    expect(told(() => spreadBy(q("250 mL"), q("5 g"), "a"))).toContain("250 mL (a volume) and 5 g (a mass)");
    expect(troubleOf(() => spreadBy(q("40 %vol"), q("1 %mas"), "a")).code).toBe("kinds-differ");
  });
});

describe("propagation", () => {
  type Make = (x: Quantity, y: Quantity, z: Quantity) => Quantity;
  const formulas: readonly [string, Make][] = [
    ["x + y - z", (x, y, z) => subtract(add(x, y), z)],
    ["x * y / z", (x, y, z) => divide(multiply(x, y), z)],
    ["x ^ 3 / y", (x, y) => divide(power(x, plain("3")), y)],
    ["x ^ y", (x, y) => power(x, y)],
    ["(x - y) * (x + y)", (x, y) => multiply(subtract(x, y), add(x, y))],
    ["z / (x + y) ^ 2", (x, y, z) => divide(z, power(add(x, y), plain("2")))],
    ["-x * y + z", (x, y, z) => add(multiply(negate(x), y), z)],
    ["x / y + y / x", (x, y) => add(divide(x, y), divide(y, x))],
    ["mean", (x, y, z) => meanQuantities([x, multiply(x, y), z])],
    ["sum", (x, y, z) => sumQuantities([x, multiply(x, y), z, x])],
  ];
  const value = fc.double({ min: 0.5, max: 5, noNaN: true });
  it.each(formulas)("%s agrees with differences of the function itself", (_, make) => {
    fc.assert(
      fc.property(value, value, value, (a, b, c) => {
        const at = (x: number, y: number, z: number): number => make(plain(x), plain(y), plain(z)).n.v;
        const h = 1e-6;
        const slopes = [
          (at(a + h, b, c) - at(a - h, b, c)) / (2 * h),
          (at(a, b + h, c) - at(a, b - h, c)) / (2 * h),
          (at(a, b, c + h) - at(a, b, c - h)) / (2 * h),
        ];
        const us = [0.01, 0.02, 0.03];
        const result = make(
          spreadBy(plain(a), plain(0.01), "x"),
          spreadBy(plain(b), plain(0.02), "y"),
          spreadBy(plain(c), plain(0.03), "z"),
        );
        ["x", "y", "z"].forEach((name, i) => {
          const expected = slopes[i]! * us[i]!;
          const size = Math.max(...slopes.map((s) => Math.abs(s))) * 0.03;
          expect(Math.abs((result.spread?.get(name) ?? 0) - expected)).toBeLessThanOrEqual(
            1e-6 * size + 1e-12,
          );
        });
      }),
      { numRuns: 200 },
    );
  });
  it("goes through units with their factors", () => {
    expect(format(multiply(q("250 ± 5 mL"), q("12 GBP/L")))).toBe("3.000 ± 0.060 GBP");
    expect(format(multiply(q("2 L"), q("61.2 ± 0.3 %vol")))).toBe("1.2240 ± 0.0060 L");
    expect(format(divide(q("2 ± 0.1 L"), q("500 mL")))).toBe("4.00 ± 0.20");
    expect(format(subtract(q("86 ± 0.9 °F"), q("20 °C")))).toBe("10.00 ± 0.50 K");
    expect(format(add(q("5 ± 0.5 K"), q("68 °F")))).toBe("77.00 ± 0.90 °F");
    expect(format(power(q("50 ± 1 %"), q("2")))).toBe("25.0 ± 1.0 %");
    expect(format(power(q("25 ± 1 %"), q("0.5")))).toBe("0.500 ± 0.010");
  });
  it("of an exponent needs a base above 0", () => {
    expect(troubleOf(() => power(q("0"), q("2 ± 0.1")))).toMatchObject({ code: "no-slope" });
    expect(troubleOf(() => power(q("-2"), q("2 ± 0.1")))).toMatchObject({ code: "no-slope" });
  });
  it("has none where the slope has none", () => {
    expect(troubleOf(() => power(q("0 ± 0.1"), q("0.5"))).code).toBe("no-slope");
    expect(format(power(q("0 ± 0.1"), q("2")))).toBe("0");
    expect(format(power(q("3 ± 0.1"), q("0")))).toBe("1");
  });
  it("of a mean of separate readings falls with the root of their number", () => {
    const readings = ["10", "11", "12", "13"].map((r) => q(`${r} ± 0.4 g`));
    expect(u(meanQuantities(readings))).toBeCloseTo(0.2, 14);
    expect(u(sumQuantities(readings))).toBeCloseTo(0.8, 14);
    const one = measured("one", "10 g", "0.4 g");
    expect(u(meanQuantities([one, one, one, one]))).toBeCloseTo(0.4, 14);
  });
});

describe("contributions", () => {
  it("combine linearly, exact zeros dropped", () => {
    const a = new Map([
      ["x", 3],
      ["y", 1],
    ]);
    const b = new Map([["y", 1]]);
    expect(
      combine([
        { by: 1, spread: a },
        { by: -1, spread: b },
      ]),
    ).toEqual(new Map([["x", 3]]));
    expect(combine([{ by: 0, spread: a }])).toBeUndefined();
    expect(combine([])).toBeUndefined();
    expect(combine([{ by: 2 }])).toBeUndefined();
    expect(a.size).toBe(2);
  });
  it("keep a small input beside a large one", () => {
    const s = combine([
      { by: 1, spread: new Map([["x", 1e10]]) },
      { by: 1, spread: new Map([["y", 1e-10]]) },
    ]);
    expect(s?.get("y")).toBe(1e-10);
    expect(
      sigma(
        new Map([
          ["x", 3e200],
          ["y", 4e200],
        ]),
      ),
    ).toBeCloseTo(5e200, -190);
    expect(
      sigma(
        new Map([
          ["x", 3e-200],
          ["y", 4e-200],
        ]),
      ) / 5e-200,
    ).toBeCloseTo(1, 14);
    expect(sigma(undefined)).toBe(0);
    expect(sigma(new Map([["x", -2]]))).toBe(2);
  });
  it("tell the covariance of two results", () => {
    const x = measured("x", "5", "0.3");
    const y = measured("y", "5", "0.4");
    expect(covariance(add(x, y).spread, subtract(x, y).spread)).toBeCloseTo(0.09 - 0.16, 14);
    expect(covariance(x.spread, y.spread)).toBe(0);
    expect(covariance(x.spread, undefined)).toBe(0);
  });
  it("may have any name", () => {
    const odd = spreadBy(spreadBy(q("5 g"), q("3 g"), "__proto__"), q("4 g"), "constructor");
    expect(u(odd)).toBe(5);
  });
});
