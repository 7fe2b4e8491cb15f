import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type FrozenMix,
  freezingRemarks,
  iceLine,
  icePoint,
  icePointUncertainty,
  iceShare,
} from "../../src/matter/freezing";
import { Trouble } from "../../src/quantity/trouble";

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const k = (t: number): number => 273.15 + t;
const mixes: fc.Arbitrary<FrozenMix> = fc.record({
  sucrose: between(0, 0.4),
  glucose: between(0, 0.2),
  fructose: between(0, 0.1),
  salt: between(0, 0.02),
  milkSolids: between(0, 0.2),
  ethanol: between(0, 0.06),
});

describe("where ice forms", () => {
  it("is 0 °C for water, and colder with more of anything", () => {
    expect(icePoint(1, {})).toBe(273.15);
    expect(icePoint(1, { sucrose: 0 })).toBe(273.15);
    fc.assert(
      fc.property(
        mixes,
        fc.constantFrom("sucrose", "glucose", "fructose", "salt", "milkSolids", "ethanol"),
        (mix, name) => {
          const more = { ...mix, [name]: (mix[name as keyof FrozenMix] ?? 0) + 0.01 };
          expect(icePoint(1, more)).toBeLessThan(icePoint(1, mix));
        },
      ),
    );
  });
  it("does not change with the size of the batch", () => {
    fc.assert(
      fc.property(mixes, between(0.1, 50), (mix, times) => {
        const larger = Object.fromEntries(Object.entries(mix).map(([name, m]) => [name, times * m]));
        expect(icePoint(times, larger)).toBeCloseTo(icePoint(1, mix), 9);
      }),
    );
  });
  it("follows the law of dilute solutions: 1.86 K for a mole of sugar in a kilogram of water", () => {
    const moles = 1e-3;
    for (const [name, molar] of [
      ["sucrose", 0.3423],
      ["glucose", 0.18016],
      ["fructose", 0.18016],
      ["glycerol", 0.09209],
      ["sorbitol", 0.18217],
      ["ethanol", 0.04607],
    ] as const) {
      // The fitted polynomials reach the law within 2 % at no concentration at all.
      expect((273.15 - icePoint(1, { [name]: moles * molar })) / moles / 1.86).toBeCloseTo(1, 1);
    }
  });
  it("joins the spirit table to the polynomial without a step, and goes down to -51.3 °C", () => {
    const at = (p: number): number => icePoint(1 - p, { ethanol: p });
    expect(Math.abs(at(0.29999) - at(0.30001))).toBeLessThan(0.01);
    for (let p = 0.01; p <= 0.718; p += 0.01) expect(at(p)).toBeLessThan(at(p - 0.01 + 1e-12));
    expect(at(0.719)).toBeCloseTo(k(-51.3), 6);
    expect(() => at(0.73)).toThrow(/71\.9 %/u);
  });
  it("refuses no water, less than nothing, and what no table reaches", () => {
    expect(() => icePoint(0, { salt: 1 })).toThrow(/needs some water/u);
    expect(() => icePoint(1, { milkSolids: -1 })).toThrow(/less than no milk solids/u);
    expect(() => icePoint(0.3, { sucrose: 0.7 })).toThrow(/below -20 °C/u);
    expect(() => icePoint(0.5, { maltose: 0.5 })).toThrow(/44 % maltose/u);
    expect(() => icePoint(0.5, { glycerol: 0.5 })).toThrow(/40 % glycerol/u);
    expect(() => icePoint(0.6, { ethanol: 0.4, sucrose: 0.01 })).toThrow(/30 % ethanol/u);
    expect(() => icePoint(0.1, { glucose: 0.9 })).toThrow(Trouble);
  });
});

describe("how much is ice", () => {
  it("leaves exactly the water in which the mix would begin to freeze there", () => {
    let frozen = 0;
    fc.assert(
      fc.property(mixes, between(-19, -0.5), (mix, t) => {
        let share: number;
        try {
          share = iceShare(k(t), 1, mix);
        } catch (error) {
          if (error instanceof Trouble) return;
          throw error;
        }
        if (share === 0 || share > 1 - 1e-6) return;
        frozen++;
        expect(Math.abs(icePoint(1 - share, mix) - k(t))).toBeLessThan(1e-6);
      }),
      { numRuns: 600 },
    );
    expect(frozen).toBeGreaterThan(60);
  });
  it("is nothing above the ice point, all of pure water below 0 °C, and grows as it gets colder", () => {
    const mix: FrozenMix = { sucrose: 0.18, glucose: 0.06 };
    expect(iceShare(icePoint(0.64, mix) + 1e-6, 0.64, mix)).toBe(0);
    expect(iceShare(k(5), 0.64, mix)).toBe(0);
    expect(iceShare(k(-1), 1, {})).toBe(1);
    expect(iceShare(k(0), 1, {})).toBe(0);
    for (let t = -3; t >= -20; t -= 0.5) {
      expect(iceShare(k(t), 0.64, mix)).toBeGreaterThan(iceShare(k(t + 0.5), 0.64, mix));
    }
  });
  it("is a little when it has just begun", () => {
    const mix: FrozenMix = { sucrose: 0.3 };
    expect(iceShare(icePoint(0.7, mix) - 1e-4, 0.7, mix)).toBeGreaterThan(0);
    expect(iceShare(icePoint(0.7, mix) - 1e-4, 0.7, mix)).toBeLessThan(1e-3);
  });
  it("refuses colder than -20 °C, and what stays liquid outside a table", () => {
    expect(() => iceShare(k(-21), 1, { sucrose: 0.1 })).toThrow(/-20 °C/u);
    expect(() => iceShare(k(-19.9), 1, { salt: 0.05 })).not.toThrow();
    expect(() => iceShare(k(-15), 1, { maltose: 0.1 })).toThrow(/more than 44 % maltose/u);
    expect(() => iceShare(k(-1), 0.5, { maltose: 0.5 })).toThrow(/44 % maltose/u);
  });
});

describe("how sure it is", () => {
  it("says what was not measured", () => {
    expect(freezingRemarks(0.3, { sucrose: 0.7 }).join()).toMatch(/glass/u);
    expect(freezingRemarks(0.6, { glucose: 0.4 }).join()).toMatch(/30 % glucose/u);
    expect(freezingRemarks(0.9, { sorbitol: 0.1 }).join()).toMatch(/No freezing points of sorbitol/u);
    expect(freezingRemarks(0.9, { sucrose: 0.1, ethanol: 0.05 }).join()).toMatch(/together with alcohol/u);
    expect(freezingRemarks(0.8, { ethanol: 0.2 }).join()).toMatch(/differ by 0\.5 K/u);
    expect(freezingRemarks(0.9, { sucrose: 0.1 })).toEqual([]);
  });
  it("grows with concentration and with alcohol", () => {
    expect(icePointUncertainty(1, {})).toBe(0);
    expect(icePointUncertainty(0.7, { sucrose: 0.3 })).toBe(0.03);
    expect(icePointUncertainty(0.4, { sucrose: 0.6 })).toBe(0.4);
    expect(icePointUncertainty(0.34, { sucrose: 0.66 })).toBe(1.5);
    expect(icePointUncertainty(0.64, { sucrose: 0.18, glucose: 0.06 })).toBeCloseTo(0.11, 2);
    expect(icePointUncertainty(0.6, { sucrose: 0.1, ethanol: 0.05 })).toBeGreaterThan(1);
  });
  it("has an ice line that rises", () => {
    for (let d = 0; d < 30; d++) expect(iceLine(d + 1)).toBeGreaterThan(iceLine(d));
  });
});
