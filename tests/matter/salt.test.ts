import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  osmoticCoefficient,
  SATURATED_RATIO,
  saltActivity,
  saltFromActivity,
  saturatedActivity,
} from "../../src/matter/salt";
import { thickenSalty } from "../../src/matter/savoury";
import { Trouble } from "../../src/quantity/trouble";

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe("salt in water", () => {
  it("has an activity that gives the salt back, over the whole range", () => {
    fc.assert(
      fc.property(between(0, SATURATED_RATIO), (r) => {
        expect(Math.abs(saltFromActivity(saltActivity(r)) - r)).toBeLessThan(1e-12);
      }),
      { numRuns: 500 },
    );
  });
  it("makes water less active with every gram, from 1 without any", () => {
    expect(saltActivity(0)).toBe(1);
    expect(osmoticCoefficient(0)).toBe(1);
    expect(saltFromActivity(1)).toBe(0);
    for (let r = 0.001; r <= 0.359; r += 0.001) expect(saltActivity(r)).toBeLessThan(saltActivity(r - 0.001));
  });
  it("states how much salt water holds", () => {
    expect(() => saltActivity(0.4)).toThrow(/35\.9 g of salt in 100 g/u);
    expect(() => saltActivity(-0.1)).toThrow(Trouble);
    expect(() => saltFromActivity(0.7)).toThrow(/0\.752 and 1/u);
    expect(() => saltFromActivity(1.01)).toThrow(Trouble);
  });
});

const liquors = fc.record({
  mass: between(0.1, 10),
  salt: between(0.005, 0.15),
  solids: between(0, 0.3),
  keep: between(0.05, 1),
});
/** Mass that leaves a share of the water. */
const massLeft = (l: { mass: number; salt: number; solids: number; keep: number }): number =>
  l.mass * (l.salt + l.solids + l.keep * (1 - l.salt - l.solids));

describe("a salty liquor", () => {
  it("keeps its salt and mass to 1e-9", () => {
    fc.assert(
      fc.property(liquors, (l) => {
        const state = thickenSalty(l.mass, l.salt, l.solids, { mass: massLeft(l) });
        expect(Math.abs(state.left + state.taken - l.mass)).toBeLessThan(1e-9 * l.mass);
        expect(Math.abs(state.salt * state.left - l.mass * l.salt)).toBeLessThan(1e-9 * l.mass);
        const dissolved = l.mass * l.salt - state.crystals;
        const water = state.left - l.mass * (l.salt + l.solids);
        expect(Math.abs(state.saltInWater * (dissolved + water) - dissolved)).toBeLessThan(1e-9 * l.mass);
        expect(state.crystals).toBeGreaterThanOrEqual(0);
      }),
    );
  });
  it("comes to the same by mass, by salt and by water activity", () => {
    fc.assert(
      fc.property(liquors, (l) => {
        const byMass = thickenSalty(l.mass, l.salt, l.solids, { mass: massLeft(l) });
        // Backwards in rounding the goal may lie a hair on the near side of the start.
        if (l.keep > 0.9999) return;
        const bySalt = thickenSalty(l.mass, l.salt, l.solids, { salt: byMass.salt });
        expect(bySalt.left / byMass.left).toBeCloseTo(1, 9);
        if (byMass.crystals > 0) return;
        const byActivity = thickenSalty(l.mass, l.salt, l.solids, { activity: byMass.activity });
        expect(byActivity.left / byMass.left).toBeCloseTo(1, 8);
      }),
    );
  });
  it("has its low end below its high end, and both fall as water goes", () => {
    let before = 1;
    for (let mass = 2; mass >= 0.55; mass -= 0.05) {
      const state = thickenSalty(2, 0.045, 0.09, { mass });
      expect(state.activityLow!).toBeLessThan(state.activity);
      expect(state.activity).toBeLessThan(before);
      before = state.activity;
    }
    expect(thickenSalty(2, 0.045, 0, { mass: 1 }).activityLow).toBe(
      thickenSalty(2, 0.045, 0, { mass: 1 }).activity,
    );
  });
  it("stays at the activity of saturated brine once salt falls out", () => {
    const state = thickenSalty(2, 0.1, 0.05, { mass: 0.5 });
    expect(state.crystals).toBeGreaterThan(0);
    expect(state.activity).toBeCloseTo(saturatedActivity(), 12);
  });
  it("wants one goal, on the far side, with some water left", () => {
    expect(() => thickenSalty(2, 0.045, 0.09, {})).toThrow(/none is given/u);
    expect(() => thickenSalty(2, 0.045, 0.09, { mass: 1, salt: 0.1 })).toThrow(/2 are given/u);
    expect(() => thickenSalty(2, 0.045, 0.09, { mass: 3 })).toThrow(
      /1000 g of water would have to be added/u,
    );
    expect(() => thickenSalty(2, 0.045, 0.09, { mass: 0.27 })).toThrow(/alone weigh 270 g/u);
    expect(() => thickenSalty(2, 0.045, 0.09, { salt: 0.9 })).toThrow(/no water/u);
    expect(() => thickenSalty(2, 0.045, 0.09, { salt: 1.2 })).toThrow(Trouble);
    expect(() => thickenSalty(2, 0.045, 0.09, { activity: 0.7 })).toThrow(/no lower than 0\.752/u);
    expect(() => thickenSalty(2, 0.045, 0.09, { activity: 1 })).toThrow(/Only pure water/u);
    expect(() => thickenSalty(2, 0, 0.09, { salt: 0.1 })).toThrow(/no salt/u);
    expect(() => thickenSalty(2, 0.5, 0.6, { mass: 1 })).toThrow(/and be liquid/u);
    expect(() => thickenSalty(0, 0.1, 0.1, { mass: 1 })).toThrow(Trouble);
  });
});
