import { flashPoint } from "../../src/matter/flammability";
import { liquidOfVolume, volumeOf } from "../../src/matter/liquid";
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
import { type Comparison, compared, type Point, type Worth, worthOf } from "./comparison";
import { hiddenStrength } from "./mixture-model";
import points from "./points/spirit.json";
import tables from "./points/spirit-tables.json";

/**
 * What the model answers to a published point about spirit. Sources and marks stand beside each number in
 * points/spirit.json. Strengths stated at another temperature than 20 °C, and gallons and pounds, are turned here, not
 * in the product.
 */

type Inputs = Point["inputs"];
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

type Answer = readonly [of: string, what: string, compute: (i: Inputs) => number, worth?: Worth];
const answers: ReadonlyMap<string, Answer> = new Map<string, Answer>([
  [
    "density",
    [
      "spirit_density",
      "density",
      (i) => spiritDensity(i.ethanol_mass_percent! / 100, kelvin(i.temperature_C!)),
    ],
  ],
  [
    "apparent_density_in_air",
    [
      "spirit_density",
      "density weighed in air",
      (i) => densityInAir(spiritDensity(massFraction(i.percent_vol_20C! / 100), kelvin(i.temperature_C!))),
    ],
  ],
  [
    "relative_density_20_20",
    [
      "spirit_density",
      "relative density",
      (i) => spiritDensity(massFraction(i.percent_vol_20C! / 100)) / spiritDensity(0),
    ],
  ],
  [
    "mass_percent_from_volume_percent",
    [
      "by_mass",
      "by mass from by volume",
      (i) => 100 * fractionAt(i.percent_vol!, i.reference_temperature_C!),
    ],
  ],
  [
    "volume_percent_from_mass_percent",
    ["by_proof", "by volume at 60 °F from by mass", (i) => 100 * proofFraction(i.mass_percent! / 100)],
  ],
  ["water_volume_to_dilute", ["let_down", "water to add", waterToDilute]],
  ["water_volume_in_100_volumes", ["let_down", "water in 100 volumes", waterInside]],
  ["specific_volume_in_air", ["volume_of", "gallons to a pound", gallonsToPound]],
  ["water_mass_to_dilute", ["let_down", "water to add, by mass", waterByMass]],
  [
    "true_strength_from_glass_alcoholometer",
    ["strength_at_20", "strength behind a warm or cold reading", trueStrength],
  ],
  ["mixture_volume", ["marry", "volume of ethanol and water together", mixtureVolume]],
  ["flash_point", ["flash_point", "flash point", (i) => flashPoint(i.percent_vol! / 100) - 273.15, "fitted"]],
  ["obscuration", ["sweeten", "strength that solids hide", (i) => hiddenStrength(45, 5) * i.solids_g_per_L!]],
]);

function waterInside(i: Inputs): number {
  const celsius = i.reference_temperature_C!;
  const whole = liquidAt(100, fractionAt(i.percent_vol!, celsius), kelvin(celsius));
  return whole.water / spiritDensity(0, kelvin(celsius));
}

function gallonsToPound(i: Inputs): number {
  const p = fractionAt(i.percent_vol!, i.temperature_C!);
  return POUND / densityInAir(spiritDensity(p, kelvin(i.temperature_C!))) / GALLON;
}

function waterByMass(i: Inputs): number {
  const from = fractionAt(i.start_percent_vol!, i.reference_temperature_C!);
  const spirit = { ethanol: i.start_mass! * from, water: i.start_mass! * (1 - from) };
  return waterToLetDown(spirit, fractionAt(i.target_percent_vol!, i.reference_temperature_C!));
}

function trueStrength(i: Inputs): number {
  const marked = i.instrument_reference_C!;
  const p = massFractionFromAlcoholometer(
    i.reading_percent_vol! / 100,
    kelvin(i.temperature_C!),
    kelvin(marked),
  );
  return 100 * (marked === 20 ? volumeFraction(p) : proofFraction(p));
}

function mixtureVolume(i: Inputs): number {
  return volumeOf(marry([liquidOfVolume(i.ethanol_mL!, 1), liquidOfVolume(i.water_mL!, 0)]).whole);
}

const listed: readonly Comparison[] = (points as unknown as readonly Point[]).flatMap((point, entry) => {
  const answer = answers.get(point.quantity);
  if (answer === undefined) return [];
  const [of, what, compute, worth = worthOf(point)] = answer;
  return [compared("spirit.json", entry, point, { of, what, worth, computed: compute(point.inputs) })];
});

/** The pharmacopoeia's table: strength by volume at 60 °F and by mass, and specific gravities in air at 25 °C and 60 °F. */
function tabled(): Comparison[] {
  const inAir = (p: number, celsius: number) => densityInAir(spiritDensity(p, kelvin(celsius)));
  const gravity = (p: number, celsius: number) => inAir(p, celsius) / inAir(0, celsius);
  const row = (name: string, entry: number, unit: string) => ({
    unit,
    worth: "independent" as const,
    mark: "seen" as const,
    source: tables.source,
    label: name,
    point: `spirit-tables.json ${entry}`,
  });
  const gravities = (p: number, at25: number, at60F: number, name: string, entry: number): Comparison[] =>
    (
      [
        [at25, 25],
        [at60F, 140 / 9],
      ] as const
    ).map(([published, celsius]) => ({
      ...row(`${name}, specific gravity at ${celsius.toFixed(1)} °C`, entry, "1"),
      of: "spirit_density",
      what: "specific gravity in air, a pharmacopoeia's table",
      published,
      computed: gravity(p, celsius),
      tolerance: tables.tolerance_specific_gravity,
    }));
  const byVolume = tables.by_volume.flatMap(([volume, weight, at25, at60F], i) => {
    const p = massFractionFromProof(volume! / 100);
    const name = `${volume} % by volume`;
    return [
      {
        ...row(name, i, "%mas"),
        of: "by_mass",
        what: "by mass from by volume at 60 °F, a pharmacopoeia's table",
        published: weight!,
        computed: 100 * p,
        tolerance: tables.tolerance_percent,
      },
      ...gravities(p, at25!, at60F!, name, i),
    ];
  });
  const byWeight = tables.by_weight.flatMap(([weight, volume, at25, at60F], i) => {
    const p = weight! / 100;
    const name = `${weight} % by weight`;
    const entry = tables.by_volume.length + i;
    return [
      {
        ...row(name, entry, "%vol"),
        of: "by_proof",
        what: "by volume at 60 °F from by mass, a pharmacopoeia's table",
        published: volume!,
        computed: 100 * proofFraction(p),
        tolerance: tables.tolerance_percent,
      },
      ...gravities(p, at25!, at60F!, name, entry),
    ];
  });
  return [...byVolume, ...byWeight];
}

export const spiritComparisons: readonly Comparison[] = [...listed, ...tabled()];
