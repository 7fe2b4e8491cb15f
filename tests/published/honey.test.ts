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
import { infuseHoney, infuseHoneyLimit } from "../../src/matter/infusion";
import { solidsFromIndex, syrupDensity } from "../../src/matter/sugar";

const at = (t: number): number => 273.15 + t;
const g = (kg: number): number => 1000 * kg;

describe("honey's water", () => {
  // The trap of the copies that lost the bar over the first digit of 1.73190: they give 910 %.
  it("uses the constant -0.26810", () => {
    expect(honeyMoisture(1.4915)).toBeCloseTo(0.18, 4);
  });

  it("on the sugar scale follows index and scale within 0.014 % from 14 to 25 % (computed here)", () => {
    for (let w = 14; w <= 25; w += 0.5) {
      const reading = solidsFromIndex(indexFromHoneyMoisture(w / 100));
      expect(Math.abs(100 * honeyMoistureFromSolids(reading) - w)).toBeLessThan(0.0141);
    }
  });

  it("is not 100 less the reading: 80.3 °Bx is 18 %, and the gap falls from 1.85 to 1.51", () => {
    expect(100 * honeyMoistureFromSolids(0.803)).toBeCloseTo(18, 1);
    const gap = (w: number): number => 100 * (1 - honeySolidsReading(w) - w);
    // Read off index and sugar scale themselves it is 1.79 at 15 % and 1.52 at 25 %.
    expect(gap(0.13)).toBeCloseTo(1.846, 3);
    expect(gap(0.15)).toBeCloseTo(1.79, 2);
    expect(gap(0.25)).toBeCloseTo(1.506, 3);
  });
});

describe("honey's density", () => {
  // White's table of the specific gravity (20/20), from memory.
  const white: readonly (readonly [number, number])[] = [
    [13, 1.4457],
    [14, 1.4404],
    [15, 1.435],
    [16, 1.4295],
    [17, 1.4237],
    [18, 1.4171],
    [19, 1.4101],
    [20, 1.4027],
    [21, 1.395],
  ];
  it("is within 0.14 % of White's table from 15 to 21 %, and 0.35 % at 13 %", () => {
    for (const [w, gravity] of white) {
      const off = Math.abs(honeyDensity(w / 100) / syrupDensity(0) / gravity - 1);
      expect(off).toBeLessThan(w >= 15 ? 0.0014 : 0.0035);
    }
  });
});

describe("honey's water activity", () => {
  // Ends of the ranges seen in abstracts (doi 10.1590/1678-457X.31716; Food Control 19 (2008) 1086): water %, a_w.
  const seen: readonly (readonly [string, number, number])[] = [
    ["Turkish flower, driest", 15.0, 0.47],
    ["Turkish flower, moistest", 20.4, 0.563],
    ["Turkish pine, driest", 15.1, 0.492],
    ["Turkish pine, moistest", 20.4, 0.589],
    ["Slovenian flower, driest", 14.0, 0.479],
    ["Slovenian flower, moistest", 18.6, 0.557],
    ["Slovenian honeydew, driest", 13.4, 0.483],
    ["Slovenian honeydew, moistest", 18.0, 0.591],
  ];
  it("lies on the high side of every study, by -0.01 to 0.07 (the two ends need not be one honey)", () => {
    for (const [name, w, activity] of seen) {
      const above = honeyActivity(w / 100) - activity;
      expect(above, name).toBeGreaterThan(-0.01);
      expect(above, name).toBeLessThan(0.07);
    }
  });
});

describe("honey that stalls", () => {
  // Computed outside this project: with the pot at 33 °C and 32 mbar boiling stops at 0.635, which is 20.8 % water.
  it("has a water activity of 0.635 at 20.8 % and of 0.586 at 18 %", () => {
    expect(honeyActivity(0.208)).toBeCloseTo(0.635, 3);
    expect(honeyActivity(0.18)).toBeCloseTo(0.586, 3);
  });
});

describe("honey's keeping", () => {
  // A Practical Manual of Beekeeping, Table 2, seen; commonly credited to Lochhead 1933.
  it("follows the steps of the table", () => {
    expect(yeastRisk(0.17)).toMatch(/whatever the yeast count/u);
    expect(yeastRisk(0.171)).toMatch(/1000 yeasts/u);
    expect(yeastRisk(0.18)).toMatch(/1000 yeasts/u);
    expect(yeastRisk(0.181)).toMatch(/under 10 yeasts/u);
    // The table has no row between 18 and 18.1 %: what lies there is told by the stricter, whose words must include it.
    expect(yeastRisk(0.18001)).toMatch(/under 10 yeasts in a gram \(above 18 to 19 % water\)/u);
    expect(yeastRisk(0.1904)).toMatch(/under 1 yeast in a gram \(above 19 to 20 % water\)/u);
    expect(yeastRisk(0.195)).toMatch(/under 1 yeast/u);
    expect(yeastRisk(0.201)).toMatch(/Always at risk/u);
  });

  // Same book, Table 3, after White, Kushnir and Subers 1964, seen: days to 30 mg/kg HMF, three samples.
  it("lies within the measured spans of the time to 30 mg/kg HMF, or a factor of 1.5 from their middle", () => {
    for (const [t, least, most] of [
      [30, 100, 300],
      [40, 20, 50],
      [50, 4, 10],
      [60, 1, 2.5],
      [70, 3 / 24, 5 / 24],
    ] as const) {
      const days = hmfTime(at(t)) / 86_400;
      const middle = Math.sqrt(least * most);
      expect(days / middle, `${t} °C`).toBeGreaterThan(1 / 1.5);
      expect(days / middle, `${t} °C`).toBeLessThan(1.5);
    }
    // At 80 °C the table says only "less than 2 h".
    expect(hmfTime(at(80))).toBeLessThan(7200);
  });
});

// Exact fractions, computed outside this project.
describe("honey and an infusion", () => {
  const mix = { honey: 0.6, moisture: 0.185, ethanol: 0.3, solids: 0.01, to: 0.18, alcoholLeft: 0 };
  it("3: the flask limits before the water does", () => {
    const flask = { volume: 2e-3, fill: 0.5, honeyDensity: 1410, infusionDensity: 955 };
    const limit = infuseHoneyLimit(mix, { budget: 0.42, flask });
    expect(g(limit.infusion)).toBeCloseTo(25785 / 47, 9);
    expect(limit.limitedBy).toBe("flask");
    expect(g(limit.takenWater)).toBeCloseTo(381, 9);
    expect(g(limit.takenAlcohol)).toBeCloseTo(15471 / 94, 9);
    expect(g(limit.leftMass)).toBeCloseTo(56685 / 94, 9);
    const byWater = infuseHoneyLimit(mix, { budget: 0.42 });
    expect(g(byWater.infusion)).toBeCloseTo(28450 / 47, 9);
    expect(g(byWater.takenWater)).toBeCloseTo(420, 9);
    expect(byWater.limitedBy).toBe("water");
  });

  it("4: a honey that alone needs more than the budget, with what the budget reaches", () => {
    const wet = { ...mix, honey: 1, moisture: 0.21, to: 0.175 };
    expect(() => infuseHoneyLimit(wet, { budget: 0.03 })).toThrow(/42\.424 g of water/u);
    try {
      infuseHoneyLimit(wet, { budget: 0.03 });
    } catch (trouble) {
      expect((trouble as { help: string }).help).toContain("18.557 %");
    }
  });

  it("5: a mix that is too dry names the water that would have to be added", () => {
    const dry = { honey: 1, moisture: 0.16, ethanol: 0.9, solids: 0, to: 0.18, alcoholLeft: 0 };
    expect(() => infuseHoney(dry, 0.05)).toThrow(/19\.39 g of water would have to be added/u);
  });
});
