import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  hmfTime,
  honeyActivity,
  honeyDensity,
  honeyMoisture,
  honeyMoistureFromSolids,
  honeySolidsReading,
  indexFromHoneyMoisture,
  yeastRisk,
} from "../../src/matter/honey";
import { type HoneyMix, infuseHoney, infuseHoneyLimit } from "../../src/matter/infusion";
import { volumeFraction } from "../../src/matter/spirit";
import { syrupDensity } from "../../src/matter/sugar";
import { ethanolAtMost, ethanolInSweet, strengthOfSweet, sweetDensity } from "../../src/matter/sweet";
import { Trouble } from "../../src/quantity/trouble";

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe("honey", () => {
  it("has an index and a sugar reading that give its water back", () => {
    fc.assert(
      fc.property(between(0.13, 0.25), (w) => {
        expect(honeyMoisture(indexFromHoneyMoisture(w))).toBeCloseTo(w, 12);
        expect(honeyMoistureFromSolids(honeySolidsReading(w))).toBeCloseTo(w, 12);
      }),
    );
  });
  it("gets lighter and its water more active with water; its index falls", () => {
    for (let w = 0.131; w <= 0.25; w += 0.001) {
      expect(honeyDensity(w)).toBeLessThan(honeyDensity(w - 0.001));
      expect(indexFromHoneyMoisture(w)).toBeLessThan(indexFromHoneyMoisture(w - 0.001));
    }
    for (let w = 0.131; w <= 0.21; w += 0.001)
      expect(honeyActivity(w)).toBeGreaterThan(honeyActivity(w - 0.001));
  });
  it("has no step where the sugar table ends at 15 % water", () => {
    const slope = (w: number): number => (honeyDensity(w + 1e-5) - honeyDensity(w - 1e-5)) / 2e-5;
    expect(slope(0.1499) / slope(0.1501)).toBeCloseTo(1, 2);
  });
  it("ages faster when warmer", () => {
    for (let t = 305; t <= 353; t++) expect(hmfTime(t)).toBeLessThan(hmfTime(t - 1));
  });
  it("states its range when outside it", () => {
    expect(() => honeyMoisture(1.52)).toThrow(/13 to 25 %/u);
    expect(() => honeyMoisture(1.46)).toThrow(/13 to 25 %/u);
    expect(() => honeyMoisture(0.5)).toThrow(Trouble);
    expect(() => honeyMoisture(1.49, 330)).toThrow(/10 to 40 °C/u);
    expect(() => honeyMoistureFromSolids(0.7)).toThrow(/73\.5 to 85\.2 °Bx/u);
    expect(() => honeyDensity(0.3)).toThrow(/13 % to 25 %/u);
    expect(() => honeyActivity(0.22)).toThrow(/13 % to 21 %/u);
    expect(() => hmfTime(293.15)).toThrow(/30 to 80 °C/u);
    expect(() => yeastRisk(1.2)).toThrow(Trouble);
    expect(() => yeastRisk(-0.1)).toThrow(Trouble);
  });
});

const mixes: fc.Arbitrary<HoneyMix> = fc.record({
  honey: between(0.1, 10),
  moisture: between(0.15, 0.23),
  ethanol: between(0, 0.6),
  solids: between(0, 0.3),
  to: between(0.14, 0.22),
  alcoholLeft: fc.constant(0),
});

/** A run, or nothing where it is refused for a designed reason. */
function attempt<T>(f: () => T): T | undefined {
  try {
    return f();
  } catch (error) {
    if (error instanceof Trouble) return undefined;
    throw error;
  }
}

describe("honey and an infusion", () => {
  it("balances mass, solids, water and alcohol to 1e-9", () => {
    let ran = 0;
    fc.assert(
      fc.property(mixes, between(0.05, 5), between(0, 0.02), (mix, infusion, left) => {
        const whole = { ...mix, alcoholLeft: left };
        const run = attempt(() => infuseHoney(whole, infusion));
        if (run === undefined) return;
        ran++;
        const mass = mix.honey + infusion;
        const close = (a: number, b: number) => expect(Math.abs(a - b)).toBeLessThan(1e-9 * mass);
        close(run.leftMass + run.takenMass, mass);
        close(run.takenWater + run.takenAlcohol, run.takenMass);
        close(run.leftMass * (1 - mix.to - left), mix.honey * (1 - mix.moisture) + infusion * mix.solids);
        close(run.mixedMoisture * mass, run.takenWater + mix.to * run.leftMass);
      }),
      { numRuns: 400 },
    );
    expect(ran).toBeGreaterThan(100);
  });
  it("with no infusion only dries the honey", () => {
    const run = infuseHoney(
      { honey: 1, moisture: 0.21, ethanol: 0.3, solids: 0, to: 0.18, alcoholLeft: 0 },
      0,
    );
    expect(run.takenAlcohol).toBe(0);
    expect(run.leftMass).toBeCloseTo(0.79 / 0.82, 12);
  });
  it("takes twice of everything for twice of everything", () => {
    fc.assert(
      fc.property(mixes, between(0.05, 5), (mix, infusion) => {
        const one = attempt(() => infuseHoney(mix, infusion));
        if (one === undefined) return;
        const two = infuseHoney({ ...mix, honey: 2 * mix.honey }, 2 * infusion);
        expect(two.takenWater).toBeCloseTo(2 * one.takenWater, 10);
        expect(two.mixedMoisture).toBeCloseTo(one.mixedMoisture, 12);
      }),
    );
  });
  it("at its limit uses up the budget exactly, or fills the flask exactly", () => {
    let byWater = 0;
    let byFlask = 0;
    fc.assert(
      fc.property(mixes, between(0.1, 3), between(0.3, 10), (mix, budget, litres) => {
        const flask = { volume: litres * 1e-3, fill: 0.5, honeyDensity: 1410, infusionDensity: 960 };
        const limit = attempt(() => infuseHoneyLimit(mix, { budget, flask }));
        if (limit === undefined) return;
        if (limit.limitedBy === "water") {
          byWater++;
          expect(limit.takenWater).toBeCloseTo(budget, 9);
        } else {
          byFlask++;
          expect(mix.honey / 1410 + limit.infusion / 960).toBeCloseTo(0.5 * flask.volume, 12);
          expect(limit.takenWater).toBeLessThanOrEqual(budget * (1 + 1e-9));
        }
      }),
      { numRuns: 400 },
    );
    expect(Math.min(byWater, byFlask)).toBeGreaterThan(10);
  });
  it("names what is missing, full, or without limit", () => {
    const mix = { honey: 1, moisture: 0.18, ethanol: 0.3, solids: 0, to: 0.18, alcoholLeft: 0 };
    const flask = { volume: 1e-3, fill: 0.5, honeyDensity: 1410, infusionDensity: 960 };
    expect(() => infuseHoneyLimit(mix, {})).toThrow(/neither a budget of water nor a flask/u);
    expect(() => infuseHoneyLimit(mix, { flask })).toThrow(/The honey alone takes 709\.2 mL/u);
    expect(() => infuseHoneyLimit({ ...mix, ethanol: 0.2, solids: 0.75 }, { budget: 1 })).toThrow(
      /sets no limit/u,
    );
    expect(() => infuseHoney({ ...mix, alcoholLeft: 0.05 }, 0.1)).toThrow(/infusion brings only/u);
    expect(() => infuseHoney({ ...mix, to: 1 }, 0.1)).toThrow(Trouble);
    expect(() => infuseHoney({ ...mix, ethanol: 0.7, solids: 0.5 }, 0.1)).toThrow(
      /at most 100 %|cannot hold/u,
    );
    expect(() => infuseHoney({ ...mix, honey: 0 }, 0.1)).toThrow(Trouble);
    expect(() => infuseHoney(mix, -0.1)).toThrow(Trouble);
    expect(() => infuseHoney({ ...mix, moisture: 1 }, 0.1)).toThrow(Trouble);
  });
});

describe("a sweet spirit", () => {
  it("has a strength by volume that gives its alcohol by mass back", () => {
    fc.assert(
      fc.property(between(0.01, 0.6), between(0, 0.5), (e, s) => {
        if (e + s > 0.99) return;
        expect(ethanolInSweet(strengthOfSweet(e, s), s)).toBeCloseTo(e, 11);
      }),
    );
  });
  it("is a clean spirit without sugar and a syrup without alcohol", () => {
    expect(strengthOfSweet(0.3, 0)).toBe(volumeFraction(0.3));
    expect(sweetDensity(0, 0.4)).toBe(syrupDensity(0.4));
    expect(ethanolInSweet(0, 0.4)).toBe(0);
  });
  it("is within 0.6 % of the syrup when only a trace of alcohol is in it", () => {
    for (let s = 0.05; s <= 0.6; s += 0.05) {
      expect(Math.abs(sweetDensity(1e-9, s) / syrupDensity(s) - 1)).toBeLessThan(0.006);
    }
  });
  it("has no room for more alcohol than there is liquid", () => {
    expect(() => ethanolInSweet(0.9, 0.5)).toThrow(/no room/u);
    expect(ethanolAtMost(0.9, 0.5)).toBe(0.5);
    expect(ethanolAtMost(0.3, 0.5)).toBe(ethanolInSweet(0.3, 0.5));
    expect(ethanolAtMost(0.4, 0)).toBeCloseTo(0.332996, 6);
  });
});
