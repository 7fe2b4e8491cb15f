import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { refuseMisreading } from "../../src/matter/misreading";
import {
  acidCorrected,
  indexFromSolids,
  solidsAt20,
  solidsFromDensity,
  solidsFromIndex,
  sucroseActivity,
  syrupDensity,
  WATER_INDEX,
} from "../../src/matter/sugar";
import { thicken } from "../../src/matter/thickening";
import { Trouble } from "../../src/quantity/trouble";

const solids = fc.double({ min: 0, max: 0.85, noNaN: true });
const kelvin = fc.double({ min: 273.15, max: 373.15, noNaN: true });

describe("sugar in water", () => {
  it("has a density that gives the solids back, over the whole range", () => {
    fc.assert(
      fc.property(solids, kelvin, (w, t) => {
        expect(Math.abs(solidsFromDensity(syrupDensity(w, t), t) - w)).toBeLessThan(1e-11);
      }),
      { numRuns: 500 },
    );
  });
  it("has an index that gives the solids back, over the whole range", () => {
    fc.assert(
      fc.property(solids, (w) => {
        expect(Math.abs(solidsFromIndex(indexFromSolids(w)) - w)).toBeLessThan(1e-12);
      }),
      { numRuns: 500 },
    );
  });
  it("gets denser and bends light more with sugar at every temperature", () => {
    for (let t = 273.15; t <= 373.2; t += 5) {
      let before = 0;
      for (let w = 0; w <= 0.85; w += 0.005) {
        const density = syrupDensity(w, Math.min(373.15, t));
        expect(density).toBeGreaterThan(before);
        before = density;
      }
    }
    for (let w = 0.005; w <= 0.85; w += 0.005) {
      expect(indexFromSolids(w)).toBeGreaterThan(indexFromSolids(w - 0.005));
    }
  });
  it("gives water a lower activity with every gram, and pure water 1", () => {
    for (const t of [253.15, 298.15, 373.15]) {
      expect(sucroseActivity(0, t)).toBe(1);
      for (let w = 0.005; w <= 0.85; w += 0.005) {
        expect(sucroseActivity(w, t)).toBeLessThan(sucroseActivity(w - 0.005, t));
      }
    }
  });
  it("follows Raoult's law when dilute", () => {
    const w = 1e-5;
    const moles = w / 342.296 / ((1 - w) / 18.01528);
    expect((1 - sucroseActivity(w)) / moles).toBeCloseTo(1, 3);
  });
  it("takes an index a hair below water for water, and refuses one further below", () => {
    expect(solidsFromIndex(WATER_INDEX - 0.5e-5)).toBe(0);
    expect(solidsFromIndex(WATER_INDEX)).toBe(0);
    expect(() => solidsFromIndex(1.3328)).toThrow(Trouble);
  });
  it("corrects nothing at 20 °C and more the farther from it", () => {
    fc.assert(fc.property(fc.double({ min: 0, max: 0.8, noNaN: true }), (b) => solidsAt20(b, 293.15) === b));
    for (let t = 293.65; t <= 303.15; t += 0.5) {
      expect(solidsAt20(0.2, t)).toBeGreaterThan(solidsAt20(0.2, t - 0.5));
    }
  });
  it("adds nothing for no acid", () => {
    expect(acidCorrected(0.1, 0)).toBe(0.1);
  });
  it("refuses what is outside its range, and states the range", () => {
    expect(() => syrupDensity(0.86)).toThrow(/0 to 85 °Bx/u);
    expect(() => syrupDensity(-0.01)).toThrow(Trouble);
    expect(() => syrupDensity(Number.NaN)).toThrow(Trouble);
    expect(() => syrupDensity(0.2, 400)).toThrow(/0 to 100 °C/u);
    expect(() => solidsFromDensity(990)).toThrow(/998\.20 and 1445\.94 kg\/m3/u);
    expect(() => solidsFromIndex(1.52)).toThrow(/85 °Bx/u);
    expect(() => solidsAt20(0.2, 278.15)).toThrow(/10 to 30 °C/u);
    expect(() => solidsAt20(0, 283.15)).toThrow(/less than no sugar/u);
    expect(() => acidCorrected(0.1, 0.21)).toThrow(/0 to 20 %/u);
    expect(() => sucroseActivity(0.9)).toThrow(Trouble);
  });
});

describe("a reading with alcohol or salt", () => {
  it("is refused with what the alcohol or salt alone would read", () => {
    expect(() => refuseMisreading(0.1, 0, "index")).toThrow(/alone reads 4\.5 °Bx/u);
    expect(() => refuseMisreading(0, 0.1, "index")).toThrow(/alone reads 11\.7 °Bx/u);
    expect(() => refuseMisreading(0.1, 0, "density")).toThrow(/lighter and hides sugar/u);
    expect(() => refuseMisreading(0, 0.05, "density")).toThrow(Trouble);
    expect(() => refuseMisreading(0, 0, "index")).not.toThrow();
  });
});

describe("thickening", () => {
  const mass = fc.double({ min: 0.001, max: 1000, noNaN: true });
  const share = fc.double({ min: 0.001, max: 0.99, noNaN: true });
  it("keeps the solids and the mass", () => {
    fc.assert(
      fc.property(mass, share, share, (m, a, b) => {
        const [from, to] = a < b ? [a, b] : [b, a];
        const run = thicken(m, from, to);
        expect(Math.abs(run.left * to - m * from)).toBeLessThan(1e-9 * m);
        expect(Math.abs(run.left + run.taken - m)).toBeLessThan(1e-9 * m);
        expect(run.factor).toBeCloseTo(m / run.left, 9);
      }),
    );
  });
  it("does the same in two stages as in one, and for ten times the mass", () => {
    fc.assert(
      fc.property(mass, fc.array(share, { minLength: 3, maxLength: 3 }), (m, three) => {
        const [a, b, c] = three.slice().sort((x, y) => x - y) as [number, number, number];
        expect(thicken(thicken(m, a, b).left, b, c).left / thicken(m, a, c).left).toBeCloseTo(1, 12);
        expect(thicken(10 * m, a, c).taken).toBeCloseTo(10 * thicken(m, a, c).taken, 9);
      }),
    );
  });
  it("refuses to thin, and says how much water would do it", () => {
    try {
      thicken(1, 0.4, 0.2);
      expect.unreachable();
    } catch (trouble) {
      expect((trouble as Trouble).help).toContain("add 1000 g of water");
    }
    expect(() => thicken(1, 0, 0.2)).toThrow(/no solids/u);
    expect(() => thicken(-1, 0.1, 0.2)).toThrow(Trouble);
    expect(() => thicken(1, 0.1, 1.2)).toThrow(Trouble);
  });
});
