import { describe, expect, it } from "vitest";
import { iceLine, icePoint } from "../../src/matter/freezing";
import { mixturePoints } from "./food-comparisons";

const c = (kelvin: number): number => kelvin - 273.15;

describe("the ice line", () => {
  // Robinson & Stokes, −log10 a_w = 4.207e−3 ΔT + 2.1e−6 ΔT² (from memory).
  it("agrees with Robinson and Stokes within 0.4 %", () => {
    for (let dt = 1; dt <= 30; dt++) {
      const other = Math.LN10 * (4.207e-3 * dt + 2.1e-6 * dt * dt);
      expect(Math.abs(iceLine(dt) / other - 1)).toBeLessThan(0.004);
    }
  });
});

// Computed outside this project: a gram of ethanol counts like 6 to 7.5 g of sucrose. Single points are in points.test.ts.
describe("a frozen base", () => {
  it("counts a gram of ethanol like 6 to 7.5 grams of sucrose", () => {
    const start = -c(icePoint(62, { sucrose: 16, glucose: 4 }));
    const ethanol = -c(icePoint(62, { sucrose: 16, glucose: 4, ethanol: 0.1 })) - start;
    const sucrose = -c(icePoint(62, { sucrose: 16.1, glucose: 4 })) - start;
    expect(ethanol / sucrose).toBeGreaterThan(5);
    expect(ethanol / sucrose).toBeLessThan(7.6);
  });
});

describe("spirit, brine, beer and thinned honey", () => {
  it("ends with salt where salt and ice come down together", () => {
    const eutectic = mixturePoints.find((p) => p.quantity === "ice_point_salt_eutectic")!;
    expect(c(icePoint(0.77, { salt: 0.23 }))).toBeGreaterThan(eutectic.value as number);
    expect(() => icePoint(0.762, { salt: 0.238 })).toThrow(/23 %/u);
  });

  // what-when-how.com, Table 5.7 of a sweeteners handbook, seen: 15 % honey freezes at -1.42 to -1.53 °C.
  it("freezes 15 % honey in water near the printed span, a little warmer for the solutes left out", () => {
    const dry = 0.15 * 0.82;
    const found = c(icePoint(1 - dry, { glucose: 0.42 * dry, fructose: 0.48 * dry, maltose: 0.1 * dry }));
    expect(found).toBeGreaterThan(-1.53);
    expect(found).toBeLessThan(-1.3);
  });
});
