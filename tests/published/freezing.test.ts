import { describe, expect, it } from "vitest";
import { type FrozenMix, iceLine, icePoint, iceShare } from "../../src/matter/freezing";
import { massFraction } from "../../src/matter/spirit";
import { mixturePoints } from "./food-comparisons";

const c = (kelvin: number): number => kelvin - 273.15;
const k = (t: number): number => 273.15 + t;
const base: FrozenMix = { sucrose: 0.18, glucose: 0.06 };

describe("the ice line", () => {
  // Robinson & Stokes, −log10 a_w = 4.207e−3 ΔT + 2.1e−6 ΔT² (from memory).
  it("agrees with Robinson and Stokes within 0.4 %", () => {
    for (let dt = 1; dt <= 30; dt++) {
      const other = Math.LN10 * (4.207e-3 * dt + 2.1e-6 * dt * dt);
      expect(Math.abs(iceLine(dt) / other - 1)).toBeLessThan(0.004);
    }
  });
});

// Computed outside this project: 640 g water, 180 g sucrose, 60 g glucose, with and without 30 g ethanol.
describe("a frozen base", () => {
  it("begins to freeze at -2.67 °C, with alcohol at -4.53 °C", () => {
    expect(c(icePoint(0.64, base))).toBeCloseTo(-2.67, 2);
    expect(c(icePoint(0.64, { ...base, ethanol: 0.03 }))).toBeCloseTo(-4.53, 2);
  });
  it("is 44, 63, 74, 77, 82 % ice at -5, -8, -12, -14, -18 °C", () => {
    const table: readonly (readonly [number, number, number])[] = [
      [-5, 44, 9],
      [-8, 63, 42],
      [-12, 74, 60],
      [-14, 77, 65],
      [-18, 82, 72],
    ];
    for (const [t, plain, strong] of table) {
      expect(Math.round(100 * iceShare(k(t), 0.64, base))).toBe(plain);
      expect(Math.round(100 * iceShare(k(t), 0.64, { ...base, ethanol: 0.03 }))).toBe(strong);
    }
  });
  // By the polynomials of single solutes, which the present equations replace: 2.18, 2.51, 2.83, 3.47 K.
  it("agrees with the older polynomials within 0.035 K on 62 g water, 16 g sucrose, 4 g glucose", () => {
    for (const [ethanol, depression] of [
      [0, 2.18],
      [0.5, 2.51],
      [1, 2.83],
      [2, 3.47],
    ] as const) {
      expect(Math.abs(-c(icePoint(62, { sucrose: 16, glucose: 4, ethanol })) - depression)).toBeLessThan(
        0.035,
      );
    }
  });
  it("counts a gram of ethanol like 6 to 7.5 grams of sucrose", () => {
    const start = -c(icePoint(62, { sucrose: 16, glucose: 4 }));
    const ethanol = -c(icePoint(62, { sucrose: 16, glucose: 4, ethanol: 0.1 })) - start;
    const sucrose = -c(icePoint(62, { sucrose: 16.1, glucose: 4 })) - start;
    expect(ethanol / sucrose).toBeGreaterThan(5);
    expect(ethanol / sucrose).toBeLessThan(7.6);
  });
});

describe("spirit, brine, beer and thinned honey", () => {
  // engineeringtoolbox.com, seen: rough values by %vol.
  it("freezes spirit of 10 to 40 %vol near -4, -9, -15, -23 °C", () => {
    for (const [percent, t] of [
      [10, -4],
      [20, -9],
      [30, -15],
      [40, -23],
    ] as const) {
      const w = massFraction(percent / 100);
      expect(Math.abs(c(icePoint(1 - w, { ethanol: w })) - t)).toBeLessThan(1.0);
    }
  });
  it("ends with salt where salt and ice come down together", () => {
    const eutectic = mixturePoints.find((p) => p.quantity === "ice_point_salt_eutectic")!;
    expect(c(icePoint(0.77, { salt: 0.23 }))).toBeGreaterThan(eutectic.value as number);
    expect(() => icePoint(0.762, { salt: 0.238 })).toThrow(/23 %/u);
  });
  it("is inside the brewing rule for beer, whose constant stands for salts and acids", () => {
    const beer = mixturePoints.find((p) => p.quantity === "ice_point_beer")!;
    const alcohol = beer.inputs.ethanol_mass_pct as number;
    // What was not fermented of the wort: original extract less about twice the alcohol, all counted as maltose.
    const extract = (beer.inputs.original_extract_plato as number) - 2.0665 * alcohol;
    const found = c(icePoint(100 - alcohol - extract, { ethanol: alcohol, maltose: extract }));
    expect(Math.abs(found - (beer.value as number))).toBeLessThan(beer.tolerance as number);
  });
  // what-when-how.com, Table 5.7 of a sweeteners handbook, seen: 15 % honey freezes at -1.42 to -1.53 °C.
  it("freezes 15 % honey in water near the printed span, a little warmer for the solutes left out", () => {
    const dry = 0.15 * 0.82;
    const found = c(icePoint(1 - dry, { glucose: 0.42 * dry, fructose: 0.48 * dry, maltose: 0.1 * dry }));
    expect(found).toBeGreaterThan(-1.53);
    expect(found).toBeLessThan(-1.3);
  });
});
