import { flashPoint } from "../../src/matter/flammability";
import { fractionOf, liquidOfVolume, volumeOf } from "../../src/matter/liquid";
import { liquidAt, marry, waterToLetDown } from "../../src/matter/mixing";
import {
  densityInAir,
  massFraction,
  massFractionFromAlcoholometer,
  massFractionFromProof,
  proofFraction,
  spiritDensity,
  volumeFraction,
} from "../../src/matter/spirit";

/**
 * What the model answers to a published point about spirit, by the name of its quantity. Strengths stated at another
 * temperature than 20 °C, and gallons and pounds, are turned here, not in the product.
 */

type Inputs = Readonly<Record<string, number>>;
const kelvin = (celsius: number): number => celsius + 273.15;
/** Mass fraction from % by volume stated at a reference temperature of 20 or 15.56 °C (or 15 °C, for the oldest tables). */
function fractionAt(percent: number, reference: number): number {
  if (Math.abs(reference - 15.56) < 0.01) return massFractionFromProof(percent / 100);
  if (reference === 20) return massFraction(percent / 100);
  // 15 °C: one step of correction is enough for a check point, two are exact to 1e-9.
  let p = massFraction(percent / 100);
  for (let step = 0; step < 8; step++) {
    const q = (p * spiritDensity(p, kelvin(reference))) / spiritDensity(1, kelvin(reference));
    p += (percent / 100 - q) * 0.85;
  }
  return p;
}

function waterToDilute(i: Inputs): number {
  const celsius = i.temperature_C!;
  const from = fractionAt(i.start_percent_vol!, celsius);
  const to = fractionAt(i.target_percent_vol!, celsius);
  const water = waterToLetDown(liquidAt(i.start_volume!, from, kelvin(celsius)), to);
  return water / spiritDensity(0, kelvin(celsius));
}

/** A US gallon is 231 cubic inches, an avoirdupois pound 0.45359237 kg. */
const GALLON = 3.785411784e-3;
const POUND = 0.45359237;

export const spiritModel: ReadonlyMap<string, (inputs: Inputs) => number> = new Map([
  ["density", (i: Inputs) => spiritDensity(i.ethanol_mass_percent! / 100, kelvin(i.temperature_C!))],
  [
    "apparent_density_in_air",
    (i: Inputs) =>
      densityInAir(spiritDensity(massFraction(i.percent_vol_20C! / 100), kelvin(i.temperature_C!))),
  ],
  [
    "relative_density_20_20",
    (i: Inputs) => spiritDensity(massFraction(i.percent_vol_20C! / 100)) / spiritDensity(0),
  ],
  [
    "mass_percent_from_volume_percent",
    (i: Inputs) => 100 * fractionAt(i.percent_vol!, i.reference_temperature_C!),
  ],
  ["volume_percent_from_mass_percent", (i: Inputs) => 100 * proofFraction(i.mass_percent! / 100)],
  ["water_volume_to_dilute", waterToDilute],
  [
    "water_volume_in_100_volumes",
    (i: Inputs) => {
      const celsius = i.reference_temperature_C!;
      const p = fractionAt(i.percent_vol!, celsius);
      const whole = liquidAt(100, p, kelvin(celsius));
      return whole.water / spiritDensity(0, kelvin(celsius));
    },
  ],
  [
    "specific_volume_in_air",
    (i: Inputs) => {
      const p = fractionAt(i.percent_vol!, i.temperature_C!);
      return POUND / densityInAir(spiritDensity(p, kelvin(i.temperature_C!))) / GALLON;
    },
  ],
  [
    "water_mass_to_dilute",
    (i: Inputs) => {
      const from = fractionAt(i.start_percent_vol!, i.reference_temperature_C!);
      const spirit = { ethanol: i.start_mass! * from, water: i.start_mass! * (1 - from) };
      return waterToLetDown(spirit, fractionAt(i.target_percent_vol!, i.reference_temperature_C!));
    },
  ],
  [
    "true_strength_from_glass_alcoholometer",
    (i: Inputs) => {
      const marked = i.instrument_reference_C!;
      const p = massFractionFromAlcoholometer(
        i.reading_percent_vol! / 100,
        kelvin(i.temperature_C!),
        kelvin(marked),
      );
      return 100 * (marked === 20 ? volumeFraction(p) : proofFraction(p));
    },
  ],
  [
    "mixture_volume",
    (i: Inputs) => {
      const ethanol = liquidOfVolume(i.ethanol_mL!, 1);
      const water = liquidOfVolume(i.water_mL!, 0);
      const { whole } = marry([ethanol, water]);
      expectStrength(fractionOf(whole));
      return volumeOf(whole);
    },
  ],
  ["flash_point", (i: Inputs) => flashPoint(i.percent_vol! / 100) - 273.15],
]);

function expectStrength(p: number): void {
  if (!(p > 0 && p < 1)) throw new Error("a mixture of both has a strength between");
}

/** Quantities that are rules of law or of thumb, not answers of a function. */
export const rulesOnly = ["label_tolerance", "minimum_strength", "obscuration"] as const;
