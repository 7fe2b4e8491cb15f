import { expect, it } from "vitest";
import { liquidOfVolume, massOf } from "../../src/matter/liquid";
import { marry } from "../../src/matter/mixing";
import { massFraction } from "../../src/matter/spirit";
import { bubblePressure, lnActivityCoefficients } from "../../src/matter/vapour";
import { waterPressure } from "../../src/matter/water";

// What is no single point of points/*.json; those are in points.test.ts.

// Computed when the points were gathered.
it("has the limiting activity coefficient of ethanol in water at 22 °C, and water's own pressure at its end", () => {
  const kelvin = 295.15;
  expect(lnActivityCoefficients(1e-6, kelvin)[0]).toBeCloseTo(Math.log(3.577), 3);
  expect(bubblePressure(0, kelvin)).toBeCloseTo(waterPressure(kelvin), 6);
});

// Computed from the density formula when the points were gathered.
it("contracts by 3.54 mL when 50 mL of ethanol and 50 mL of water meet", () => {
  const volume = (millilitres: number, percent: number) =>
    liquidOfVolume(millilitres / 1e6, massFraction(percent / 100));
  const { whole, contraction } = marry([volume(50, 100), volume(50, 0)]);
  expect(1e6 * contraction).toBeCloseTo(3.54, 2);
  expect(massOf(whole)).toBeCloseTo(0.08937, 5);
});
