import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  activityFromSolids,
  type Dissolved,
  ethanolActivity,
  mixtureActivity,
  mostSolids,
  SOLUTES,
  solidsFromActivity,
} from "../../src/matter/activity";
import { canGrow, warmTime } from "../../src/matter/keeping";
import { saltActivity } from "../../src/matter/salt";
import { Trouble } from "../../src/quantity/trouble";

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe("water activity of one solute", () => {
  for (const solute of SOLUTES) {
    it(`of ${solute} gives the solids back, falls with them and starts at 1`, () => {
      const most = mostSolids(solute);
      fc.assert(
        fc.property(between(0, most), (w) => {
          expect(Math.abs(solidsFromActivity(activityFromSolids(w, solute), solute) - w)).toBeLessThan(1e-9);
        }),
      );
      expect(activityFromSolids(0, solute)).toBe(1);
      expect(solidsFromActivity(1, solute)).toBe(0);
      for (let w = 0.01; w <= most; w += 0.01) {
        expect(activityFromSolids(w, solute)).toBeLessThan(activityFromSolids(w - 0.01, solute));
      }
    });
  }
  it("falls faster the lighter the molecule", () => {
    for (const w of [0.1, 0.3]) {
      expect(activityFromSolids(w, "glycerol")).toBeLessThan(activityFromSolids(w, "glucose"));
      expect(activityFromSolids(w, "glucose")).toBeLessThan(activityFromSolids(w, "sucrose"));
    }
  });
  it("states its range", () => {
    expect(() => activityFromSolids(0.9)).toThrow(/0 to 85 %/u);
    expect(() => activityFromSolids(0.85, "glucose")).toThrow(/0 to 80 %/u);
    expect(() => solidsFromActivity(0.2, "fructose")).toThrow(/from 0\.\d{3} to 1/u);
    expect(() => solidsFromActivity(1.2)).toThrow(Trouble);
  });
});

describe("water activity of a mixture", () => {
  it("is that of the single solute when there is one, and 1 for water", () => {
    expect(mixtureActivity(1, {})).toBe(1);
    expect(mixtureActivity(0.7, { glucose: 0.3 })).toBe(activityFromSolids(0.3, "glucose"));
    expect(mixtureActivity(1, { salt: 0.1 })).toBe(saltActivity(0.1));
    expect(mixtureActivity(1, { ethanol: 0.2 })).toBe(ethanolActivity(0.2));
  });
  const dissolved: fc.Arbitrary<Dissolved> = fc.record({
    sucrose: between(0, 0.5),
    glucose: between(0, 0.5),
    salt: between(0, 0.3),
    ethanol: between(0, 0.5),
  });
  it("is the product, does not change with the size of the batch, and falls with more of anything", () => {
    fc.assert(
      fc.property(dissolved, between(0.5, 20), (d, times) => {
        const one = mixtureActivity(1, d);
        const product = Object.entries(d).reduce((a, [name, m]) => a * mixtureActivity(1, { [name]: m }), 1);
        expect(one).toBeCloseTo(product, 12);
        const larger = Object.fromEntries(Object.entries(d).map(([name, m]) => [name, times * m]));
        expect(mixtureActivity(times, larger)).toBeCloseTo(one, 12);
        expect(mixtureActivity(1, { ...d, glucose: (d.glucose ?? 0) + 0.01 })).toBeLessThan(one);
      }),
    );
  });
  it("refuses no water, less than nothing, and a solute outside its own range", () => {
    expect(() => mixtureActivity(0, { salt: 1 })).toThrow(/needs some water/u);
    expect(() => mixtureActivity(1, { salt: -1 })).toThrow(/less than no salt/u);
    expect(() => mixtureActivity(1, { salt: 0.4 })).toThrow(/at most 35\.9 g/u);
    expect(() => mixtureActivity(0.1, { sucrose: 0.9 })).toThrow(/85 %/u);
  });
});

describe("keeping", () => {
  it("refuses what is no activity, pH or time", () => {
    expect(() => canGrow({ activity: 1.1 })).toThrow(Trouble);
    expect(() => canGrow({ activity: 0.9, ph: 15 })).toThrow(/pH from 0 to 14/u);
    expect(() => warmTime([1], [])).toThrow(/each time needs its temperature/u);
    expect(() => warmTime([-1], [300])).toThrow(/cannot be negative/u);
  });
  it("has a sentence for every activity, pH, strength and temperature", () => {
    fc.assert(
      fc.property(
        between(0, 1),
        between(0, 14),
        between(0, 0.5),
        between(250, 350),
        (activity, ph, ethanol, kelvin) => {
          const says = canGrow({ activity, ph, ethanol, kelvin });
          expect(says).toMatch(/^(Not to be|At a water activity).*\.$/u);
          expect(says).not.toMatch(/undefined|NaN|\bsafe\b/u);
        },
      ),
    );
  });
});
