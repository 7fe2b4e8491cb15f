import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  compatible,
  conversion,
  convertible,
  dimensionPower,
  dimensionTimes,
  format,
  isRefusal,
  kinds,
  multiply,
  parseUnit,
  plainUnit,
  planAddition,
  planPower,
  planProduct,
  planQuotient,
  productUnit,
  quotientUnit,
  type Ratio,
  ratioTimes,
  type Unit,
} from "../../src/quantity";
import { q, told, troubleOf } from "./writing";

const unit = parseUnit;
const same = (a: Ratio, b: Ratio): boolean => a.num === b.num && a.den === b.den;

const NAMES = [
  "g",
  "kg",
  "lb",
  "mL",
  "L",
  "us_gal",
  "m",
  "cm",
  "mbar",
  "kPa",
  "torr",
  "min",
  "h",
  "s",
  "kW",
  "kJ",
].concat(["kWh", "K", "°C", "°F", "GBP", "EUR", "%", "ppm"]);
/** Compound units as a person might write them, some odd. */
const compound: fc.Arbitrary<Unit> = fc
  .array(fc.tuple(fc.constantFrom(...NAMES), fc.constantFrom(1, 1, 1, 2, -1)), { minLength: 1, maxLength: 3 })
  .map((parts) => parts.map(([name, power]) => (power === 1 ? name : `${name}^${power}`)))
  .chain((words) => fc.constantFrom("/", "*").map((mark) => words.join(mark)))
  .filter((text) => !["°C", "°F"].includes(text))
  .map((text) => {
    try {
      return unit(text);
    } catch {
      return plainUnit;
    }
  });

describe("the unit of a product or quotient", () => {
  it.each([
    ["GBP/L", "mL", "GBP", 1 / 1000],
    ["mL", "GBP/L", "GBP", 1 / 1000],
    ["g/L", "mL", "g", 1 / 1000],
    ["kW", "h", "kW*h", 1],
    ["kJ/kg/K", "kg", "kJ/K", 1],
    ["W/K", "°C^2", "W*K", 1],
    ["mL/min", "h", "mL", 60],
    ["m", "cm", "m2", 1 / 100],
    ["cm2", "m", "cm3", 100],
    ["g/kg", "kg", "g", 1],
    ["kg", "g/kg", "kg", 1 / 1000],
    ["g/kg", "L", "L", 1 / 1000],
    ["%", "kg", "kg", 1 / 100],
    ["", "L", "L", 1],
    ["mbar", "L", "mbar*L", 1],
  ])("%s * %s is %s, times %d", (a, b, text, factor) => {
    const result = productUnit(a === "" ? plainUnit : unit(a), unit(b));
    expect(result.unit.text).toBe(text);
    expect(result.factor.v).toBeCloseTo(factor, 14);
  });
  it.each([
    ["L", "mL", "", 1000],
    ["L", "cm2", "cm", 1000],
    ["GBP", "L", "GBP/L", 1],
    ["GBP/L", "EUR/L", "GBP/EUR", 1],
    ["kWh", "kW", "kWh/kW", 1],
    ["kJ", "W", "kJ/W", 1],
    ["m3", "m", "m2", 1],
    ["L", "m3/h", "h", 1 / 1000],
    ["g", "L", "g/L", 1],
    ["%", "d", "d^-1", 1 / 100],
    ["W", "W/°C", "K", 1],
    ["J", "W*s", "", 1],
    ["g", "%", "g", 100],
    ["torr", "atm", "", 1 / 760],
  ])("%s / %s is %s, times %d", (a, b, text, factor) => {
    const result = quotientUnit(unit(a), unit(b));
    expect(result.unit.text).toBe(text);
    expect(result.factor.v / factor).toBeCloseTo(1, 14);
  });

  it("never changes the size: the scales and the factor agree exactly", () => {
    let checked = 0;
    fc.assert(
      fc.property(compound, compound, fc.constantFrom(1, -1), (a, b, sign) => {
        const plan = sign === 1 ? planProduct(a, b) : planQuotient(a, b);
        if (isRefusal(plan)) {
          expect(plan.code).toBe("unit-power");
          return;
        }
        const left = ratioTimes(
          a.scale,
          sign === 1 ? b.scale : { ...b.scale, num: b.scale.den, den: b.scale.num },
        );
        const right = ratioTimes(plan.factor, plan.unit.scale);
        expect(left.num * right.den).toBe(left.den * right.num);
        expect(plan.unit.kind.dimension).toBe(dimensionTimes(a.kind.dimension, b.kind.dimension, sign));
        checked++;
      }),
      { numRuns: 3000 },
    );
    expect(checked).toBeGreaterThan(2500);
  });

  it("is printed so that it can be read again", () => {
    fc.assert(
      fc.property(compound, compound, (a, b) => {
        const plan = planProduct(a, b);
        if (!isRefusal(plan) && plan.unit !== plainUnit) expect(unit(plan.unit.text)).toBe(plan.unit);
      }),
      { numRuns: 1000 },
    );
  });

  it("holds each dimension once", () => {
    fc.assert(
      fc.property(compound, compound, (a, b) => {
        const plan = planProduct(a, b);
        if (isRefusal(plan) || plan.unit === a || plan.unit === b) return;
        const result = plan.unit;
        const seen = result.factors.map((f) => {
          const d = unit(f.name).kind.dimension;
          return [...d.powers.keys()].join(" ") + (d.powers.size > 1 ? d.key : "");
        });
        expect(new Set(seen).size).toBe(seen.length);
      }),
      { numRuns: 1000 },
    );
  });

  it("of the same pair is the same object, worked out once", () => {
    expect(planProduct(unit("GBP/L"), unit("mL"))).toBe(planProduct(unit("GBP/L"), unit("mL")));
    expect(planQuotient(unit("L"), unit("mL"))).toBe(planQuotient(unit("L"), unit("mL")));
    expect(planAddition(unit("L"), unit("mL"), "+")).toBe(planAddition(unit("L"), unit("mL"), "+"));
  });

  it("refuses in words when only units are known", () => {
    expect(told(() => productUnit(unit("kg"), unit("%vol")))).toContain(
      "a mass (kg) and a strength by volume (%vol) do not multiply.",
    );
    expect(told(() => quotientUnit(unit("°C"), unit("kg")))).toContain("cannot be divided");
  });
});

describe("powers of units", () => {
  it("multiply the exponents and keep the size", () => {
    fc.assert(
      fc.property(compound, fc.integer({ min: -3, max: 3 }), (a, n) => {
        // A litre is three lengths: beyond nine of them the exponents may pass what a unit can be written with.
        const lengths = a.factors.reduce(
          (sum, f) => sum + Math.abs(f.power) * (/L|gal/.test(f.name) ? 3 : 1),
          0,
        );
        fc.pre(lengths * Math.abs(n) <= 9);
        const { unit: result, factor, fromSI } = planPower(a, n);
        let size: Ratio = ratioTimes(factor, result.scale);
        // What is raised in SI units has left its scale behind.
        for (let i = 0; i < (fromSI ? 0 : Math.abs(n)); i++) {
          size = ratioTimes(size, n > 0 ? { ...a.scale, num: a.scale.den, den: a.scale.num } : a.scale);
        }
        expect(size.num).toBe(size.den);
        expect(result.kind.dimension).toBe(dimensionPower(a.kind.dimension, n));
      }),
      { numRuns: 1000 },
    );
  });
  it("of a ratio stay a ratio for whole powers, and are plain numbers for the others", () => {
    expect(planPower(unit("%"), 2).unit).toBe(unit("%"));
    for (const n of [0, -1, 0.5]) expect(planPower(unit("%"), n).unit).toBe(plainUnit);
  });
  it("stay within what a unit can be written with", () => {
    expect(planPower(unit("m"), 9).unit.text).toBe("m9");
    expect(troubleOf(() => planPower(unit("m"), 10)).code).toBe("unit-power");
    expect(troubleOf(() => planPower(unit("m"), 1e9)).code).toBe("unit-power");
    expect(troubleOf(() => productUnit(unit("m9"), unit("cm"))).code).toBe("unit-power");
    expect(productUnit(unit("m9"), unit("cm^-2")).unit.text).toBe("m7");
  });
  it("may be a root that leaves whole exponents", () => {
    expect(planPower(unit("cm2"), 0.5).unit).toBe(unit("cm"));
    expect(planPower(unit("cm^2*mm^2"), 0.5).unit).toBe(unit("cm2"));
    expect(planPower(unit("cm^2*mm^2"), 0.5).factor.v).toBe(0.1);
    expect(troubleOf(() => planPower(unit("L"), 0.5)).code).toBe("unit-power");
  });
});

describe("conversion", () => {
  const groups: readonly (readonly string[])[] = [
    ["g", "kg", "mg", "oz", "lb"],
    ["mL", "cL", "L", "hL", "m3", "cm3", "us_gal", "us_floz", "uk_gal", "uk_floz"],
    ["Pa", "hPa", "kPa", "mbar", "bar", "mmHg", "torr", "atm"],
    ["s", "min", "h", "d"],
    ["W", "kW", "mW", "kJ/h"],
    ["J", "kJ", "MJ", "kWh", "kW*h", "mbar*m3"],
    ["%", "‰", "ppm", "g/kg", "mL/L"],
    ["°C", "°F"],
    ["GBP/L", "GBP/us_gal", "GBP/mL"],
  ];
  const pair = fc
    .constantFrom(...groups)
    .chain((g) => fc.tuple(fc.constantFrom(...g), fc.constantFrom(...g)));
  it("there and back is the same, in exact ratios", () => {
    fc.assert(
      fc.property(pair, ([a, b]) => {
        const there = conversion(unit(a), unit(b));
        const back = conversion(unit(b), unit(a));
        const round = ratioTimes(there.factor, back.factor);
        expect(round.num).toBe(round.den);
        // x -> f x + s -> g (f x + s) + t: g s + t = 0.
        const s = there.shift;
        const t = back.shift;
        expect(s === undefined).toBe(t === undefined);
        if (s !== undefined && t !== undefined) {
          const g = back.factor;
          expect(g.num * s.num * t.den + t.num * g.den * s.den).toBe(0n);
        }
      }),
    );
  });
  it("keeps the kind and says why not otherwise", () => {
    expect(convertible(unit("L"), unit("us_gal"))).toBeUndefined();
    expect(convertible(unit("°C"), unit("K"))).toBeUndefined();
    for (const [from, to, way] of [
      ["%vol", "%mas", "by_mass"],
      ["%mas", "%vol", "by_volume"],
      ["proof", "%vol", "by_volume"],
      ["%vol", "proof", "by_proof"],
      ["%vol", "%", "plain share"],
      ["%vol", "kg/m3", "spirit_density"],
      ["°Bx", "%", "water_in"],
      ["°Bx", "kg/L", "syrup_density"],
      ["°Bx", "nD", "index_from_solids"],
      ["nD", "°Bx", "solids_from_index"],
      ["nD", "%", "honey_moisture"],
      ["g/mL", "°Bx", "solids_from_density"],
      ["g/mL", "%vol", "strength_from_density"],
      ["L", "kg", "mass_of"],
      ["kg", "L", "volume_of"],
      ["K", "°C", "stays in K"],
      ["GBP", "EUR", "EUR/GBP"],
    ] as const) {
      const trouble = convertible(unit(from), unit(to));
      expect(trouble?.code).toBe("kinds-differ");
      expect(trouble?.help).toContain(way);
      expect(trouble?.says).toContain(to);
    }
    for (const [from, to, way] of [
      ["kg", "nD", "index_from_solids"],
      ["kg", "°Bx", "solids_from_density"],
      ["kg", "°C", "stays in K"],
    ] as const)
      expect(convertible(unit(from), unit(to))?.help).not.toContain(way);
    expect(convertible(unit("W"), unit("g"))?.says).toContain("a power (W) cannot be shown in g");
    expect(convertible(plainUnit, unit("g"))?.help).toContain("* 1 g");
  });
});

describe("what may stand side by side", () => {
  it("adds only when the kinds agree", () => {
    expect(() => compatible(unit("L"), unit("mL"), "add")).not.toThrow();
    expect(() => compatible(unit("°C"), unit("°F"), "list")).not.toThrow();
    expect(() => compatible(unit("°C"), unit("°F"), "compare")).not.toThrow();
    expect(() => compatible(unit("°C"), unit("°F"), "subtract")).not.toThrow();
    expect(() => compatible(unit("°C"), unit("K"), "add")).not.toThrow();
    expect(() => compatible(unit("°C"), unit("K"), "subtract")).not.toThrow();
    expect(told(() => compatible(unit("g"), unit("%"), "add"))).toContain("`x * (1 + 10 %)`");
    expect(told(() => compatible(unit("g"), unit("%"), "subtract"))).toContain("`x * (1 - 10 %)`");
    expect(troubleOf(() => compatible(unit("°C"), unit("°C"), "add")).code).toBe("temperatures-add");
    expect(troubleOf(() => compatible(unit("°C"), unit("K"), "list")).code).toBe("kinds-differ");
    expect(told(() => compatible(unit("L"), unit("g"), "add"))).toContain(
      "A volume (L) and a mass (g) do not add.",
    );
    expect(told(() => compatible(unit("L"), unit("g"), "list"))).toContain("do not belong in one list");
    expect(told(() => compatible(unit("L"), unit("g"), "choose"))).toContain("one `if`");
    expect(told(() => compatible(unit("L"), unit("%"), "compare"))).toContain("cannot be compared");
  });
  it("knows energy by whatever it is spelled with", () => {
    expect(unit("kW*h").kind).toBe(kinds.energy);
    expect(unit("mbar*L").kind).toBe(kinds.energy);
    expect(format(multiply(q("2 kW"), q("3 h")))).toBe("6 kW*h");
    expect(
      same(conversion(unit("kW*h"), unit("kWh")).factor, conversion(unit("kWh"), unit("kW*h")).factor),
    ).toBe(true);
  });
});
