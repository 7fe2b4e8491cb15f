import { describe, expect, it } from "vitest";
import { liquidOfVolume, massOf } from "../../src/matter/liquid";
import { marry, sweeten } from "../../src/matter/mixing";
import {
  densityInAir,
  massFraction,
  massFractionFromDensity,
  massFractionFromProof,
  proofFraction,
  spiritDensity,
  volumeFraction,
} from "../../src/matter/spirit";
import { strengthByTwoReadings } from "../../src/matter/two-readings";
import {
  bubblePressure,
  lnActivityCoefficients,
  moleFraction,
  partialPressures,
} from "../../src/matter/vapour";
import { waterPressure } from "../../src/matter/water";
import points from "./points/spirit.json";
import tables from "./points/spirit-tables.json";
import sweet from "./points/sweet-spirit.json";
import { rulesOnly, spiritModel } from "./spirit-model";

// Sources and honesty marks (seen or not) stand beside each number in points/spirit.json and points/sweet-spirit.json.
// "Computed here" in them means computed when the points were gathered, with the equations that the product uses too.
interface Row {
  readonly quantity: string;
  readonly inputs: Readonly<Record<string, number>>;
  readonly value: number;
  readonly tolerance: number;
}
const rows = points as unknown as readonly Row[];

describe("published points about spirit", () => {
  const answerable = rows.filter((r) => !(rulesOnly as readonly string[]).includes(r.quantity));
  it("leaves no quantity without an answer", () => {
    for (const row of answerable) expect(spiritModel.has(row.quantity), row.quantity).toBe(true);
    expect(answerable.length).toBe(rows.length - 6);
  });
  it.each(answerable)("$quantity $inputs is $value ± $tolerance", (row) => {
    const found = spiritModel.get(row.quantity)!(row.inputs);
    expect(Math.abs(found - row.value)).toBeLessThanOrEqual(row.tolerance);
  });
});

describe("the pharmacopoeia's table of strengths and specific gravities (seen)", () => {
  const inAir = (p: number, celsius: number) => densityInAir(spiritDensity(p, celsius + 273.15));
  const gravity = (p: number, celsius: number) => inAir(p, celsius) / inAir(0, celsius);
  const { tolerance_percent, tolerance_specific_gravity } = tables;
  const agrees = (p: number, at25: number, at60F: number, name: string) => {
    expect(Math.abs(gravity(p, 25) - at25), name).toBeLessThanOrEqual(tolerance_specific_gravity);
    expect(Math.abs(gravity(p, 140 / 9) - at60F), name).toBeLessThanOrEqual(tolerance_specific_gravity);
  };
  it("by volume", () => {
    expect(tables.by_volume.length).toBe(33);
    for (const [volume, weight, at25, at60F] of tables.by_volume) {
      const p = massFractionFromProof(volume! / 100);
      expect(Math.abs(100 * p - weight!), `${volume} %`).toBeLessThanOrEqual(tolerance_percent);
      agrees(p, at25!, at60F!, `${volume} % by volume`);
    }
  });
  it("by weight", () => {
    expect(tables.by_weight.length).toBe(33);
    for (const [weight, volume, at25, at60F] of tables.by_weight) {
      const p = weight! / 100;
      expect(Math.abs(100 * proofFraction(p) - volume!), `${weight} %`).toBeLessThanOrEqual(
        tolerance_percent,
      );
      agrees(p, at25!, at60F!, `${weight} % by weight`);
    }
  });
});

describe("sugar in spirit", () => {
  const of = (quantity: string) => {
    const found = (sweet as unknown as readonly Row[]).filter((r) => r.quantity === quantity);
    expect(found.length).toBeGreaterThan(0);
    return found;
  };
  it("takes up 0.62 mL a gram (computed when the points were gathered)", () => {
    for (const row of of("sweeten")) {
      const { volume_mL, strength_pct_vol, sugar_g } = row.inputs;
      const made = sweeten(
        liquidOfVolume(volume_mL! / 1e6, massFraction(strength_pct_vol! / 100)),
        sugar_g! / 1000,
      );
      const [volume, strength, sugar] = row.value as unknown as readonly number[];
      const [a, b, c] = row.tolerance as unknown as readonly number[];
      expect(Math.abs(1e6 * made.volume - volume!)).toBeLessThanOrEqual(a!);
      expect(Math.abs(100 * made.strength - strength!)).toBeLessThanOrEqual(b!);
      expect(Math.abs(made.sugarPerVolume - sugar!)).toBeLessThanOrEqual(c!);
    }
  });
  it("hides strength as the law's rule says (27 CFR 30.32, seen)", () => {
    for (const row of of("solids_hide_strength")) {
      const spirit = liquidOfVolume(1e-3, massFraction(row.inputs.strength_pct_vol! / 100));
      // Sugar so that the finished litre holds that many grams.
      let sugar = row.inputs.solids_g_per_L! / 1000;
      for (let i = 0; i < 5; i++) sugar *= row.inputs.solids_g_per_L! / sweeten(spirit, sugar).sugarPerVolume;
      const made = sweeten(spirit, sugar);
      const shown = volumeFraction(massFractionFromDensity((massOf(spirit) + sugar) / made.volume));
      const hidden = (100 * (made.strength - shown)) / row.inputs.solids_g_per_L!;
      expect(Math.abs(hidden - row.value)).toBeLessThanOrEqual(row.tolerance);
    }
  });
  it("drops out of density and index together (computed when the points were gathered)", () => {
    for (const row of of("strength_from_density_and_index")) {
      const found = 100 * strengthByTwoReadings(row.inputs.density_kg_m3!, row.inputs.nD20!);
      expect(Math.abs(found - row.value)).toBeLessThanOrEqual(row.tolerance);
    }
  });
});

describe("the vapour model against what it was not fitted to", () => {
  const of = (quantity: string) => (sweet as unknown as readonly Row[]).find((r) => r.quantity === quantity)!;
  it("gives the measured water activity of a spirit of 95 %vol (seen)", () => {
    const row = of("water_activity_spirit");
    const kelvin = row.inputs.t_C! + 273.15;
    const x = moleFraction(massFraction(row.inputs.strength_pct_vol! / 100));
    const [, water] = partialPressures(x, kelvin);
    expect(Math.abs(water / waterPressure(kelvin) - row.value)).toBeLessThanOrEqual(row.tolerance);
  });
  it("gives the measured Henry constant of ethanol in water (seen)", () => {
    const row = of("ethanol_henry_constant_water");
    const kelvin = row.inputs.t_C! + 273.15;
    const x = 1e-6;
    const [ethanol] = partialPressures(x, kelvin);
    // mol in a litre of water for an atmosphere.
    const found = (x * spiritDensity(0, kelvin)) / 18.015268 / (ethanol / 101_325);
    expect(Math.abs(found - row.value)).toBeLessThanOrEqual(row.tolerance);
    expect(lnActivityCoefficients(x, kelvin)[0]).toBeCloseTo(Math.log(3.577), 3);
    expect(bubblePressure(0, kelvin)).toBeCloseTo(waterPressure(kelvin), 6);
  });
});

describe("contraction, as computed from the density formula when the points were gathered", () => {
  const volume = (millilitres: number, percent: number) =>
    liquidOfVolume(millilitres / 1e6, massFraction(percent / 100));
  it("makes 96.46 mL of 50 mL of ethanol and 50 mL of water", () => {
    const { whole, contraction } = marry([volume(50, 100), volume(50, 0)]);
    expect(1e6 * contraction).toBeCloseTo(3.54, 2);
    expect(massOf(whole)).toBeCloseTo(0.08937, 5);
  });
});
