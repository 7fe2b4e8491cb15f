import { liquidOfMass, pureVolumeOf } from "../matter/liquid";
import { liquidAt } from "../matter/mixing";
import { ETHANOL_DENSITY, massFraction, proofFraction, spiritDensity } from "../matter/spirit";
import { kinds } from "../quantity";
import type { Declaration, NumberArguments, ResultPart } from "./declaration";
import {
  amount,
  isMass,
  optional,
  poured,
  strength,
  strengthByVolume,
  temperature,
  volume,
} from "./parameters";

/** Strength in its scales, and volume, mass and alcohol of a clean spirit into one another. */

const GROUP = "spirit";
const TABLE = "OIML R 22 (1973/75), the formula of Council Directive 76/766/EEC";
const ANY_STRENGTH = "0 to 100 %, clean spirit (no sugar or extract)";
const COLD_TO_WARM = "0 to 100 %, -20 to 40 °C, clean spirit (no sugar or extract)";

const num = (args: NumberArguments, name: string): number => args[name] as number;
const spirit = "Strength of the spirit, in %vol (at 20 °C), %mas or proof.";
const at20 = optional(temperature("temperature", "Temperature of the spirit when it was measured."), "20 °C");

const volumeResult = (says: string): ResultPart => ({
  name: "",
  says,
  holds: { kind: kinds.volume, unit: "mL" },
});
const massResult = (says: string): ResultPart => ({ name: "", says, holds: { kind: kinds.mass, unit: "g" } });

/**
 * Standard uncertainty of the density formula, kg/m³: against outside tables it lies 0.05 off in the mean and 0.12 at
 * worst; against water 0.007.
 */
export const densityError = (p: number): number => Math.min(0.06, 0.005 + 1.2 * p);
/** Relative standard uncertainty of a mass or volume worked out with one density. */
const relativeError = (p: number): number => densityError(p) / spiritDensity(p);
/** Conversions between the scales meet the pharmacopoeia's table within 0.006 %; half of that. */
const SCALE_ERROR = 3e-5;
const scaleError = (p: number): number => SCALE_ERROR * Math.min(1, p / 0.02, (1 - p) / 0.02);

export const scales: readonly Declaration[] = [
  {
    name: "by_mass",
    group: GROUP,
    says: "A strength by mass of alcohol.",
    parameters: [strength("strength", spirit)],
    result: [{ name: "", says: "Strength by mass.", holds: { kind: kinds.strengthMass, unit: "%mas" } }],
    equation:
      "p where p * density(p, 20 °C) / density(1, 20 °C) = strength by volume; the root is found in a bracket",
    source: TABLE,
    range: ANY_STRENGTH,
    trust: "standard uncertainty 0.003 %mas (USP alcoholometric table: within 0.006)",
    examples: [{ formula: "by_mass(40 %vol)", gives: "33.3 %mas" }],
    compute: (args) => num(args, "strength"),
    modelUncertainty: (args) => scaleError(num(args, "strength")),
  },
  {
    name: "by_volume",
    group: GROUP,
    says: "A strength by volume of alcohol at 20 °C.",
    parameters: [strengthByVolume("strength", spirit)],
    result: [
      { name: "", says: "Strength by volume at 20 °C.", holds: { kind: kinds.strengthVolume, unit: "%vol" } },
    ],
    equation: "p * density(p, 20 °C) / density(1, 20 °C)",
    source: TABLE,
    range: ANY_STRENGTH,
    trust: "standard uncertainty 0.003 %vol (USP alcoholometric table: within 0.006)",
    examples: [
      { formula: "by_volume(50 %mas)", gives: "57.889 %vol" },
      { formula: "by_volume(100 proof)", gives: "50.061 %vol" },
    ],
    compute: (args) => num(args, "strength"),
    modelUncertainty: (args) => scaleError(num(args, "strength")),
  },
  {
    name: "by_proof",
    group: GROUP,
    says: "A strength in US proof, which is twice the strength by volume at 60 °F.",
    parameters: [strength("strength", spirit)],
    result: [{ name: "", says: "US proof.", holds: { kind: kinds.proof, unit: "proof" } }],
    equation: "2 * p * density(p, 15.56 °C) / density(1, 15.56 °C)",
    source: `${TABLE}; definition of US proof, 27 CFR 30`,
    range: ANY_STRENGTH,
    trust: "standard uncertainty 0.02 proof (US Gauging Manual examples: within 0.05)",
    examples: [{ formula: "by_proof(40 %vol)", gives: "79.863 proof" }],
    compute: (args) => proofFraction(num(args, "strength")),
    modelUncertainty: (args) =>
      1e-4 * Math.min(1, num(args, "strength") / 0.02, (1 - num(args, "strength")) / 0.02),
  },
  {
    name: "spirit_density",
    group: GROUP,
    says: "The true density of a clean spirit; an instrument that weighs in air shows about 1.1 kg/m^3 less.",
    parameters: [strength("strength", spirit), at20],
    labelsOnly: ["temperature"],
    result: [{ name: "", says: "Density.", holds: { kind: kinds.density, unit: "kg/m^3" } }],
    equation:
      "A1 + sum A_k p^(k-1) + sum B_k (t-20)^k + sum sum C_ik p^k (t-20)^i, 54 constants; p strength by mass, t in °C",
    source: TABLE,
    range: COLD_TO_WARM,
    trust: "standard uncertainty 0.06 kg/m^3 (outside tables: mean 0.05, worst 0.12), 0.005 for water",
    examples: [{ formula: "spirit_density(40 %vol)", gives: "948.05 kg/m3" }],
    compute: (args) => spiritDensity(num(args, "strength"), num(args, "temperature")),
    modelUncertainty: (args) => densityError(num(args, "strength")),
  },
  {
    name: "volume_at_20",
    group: GROUP,
    says: "The volume that a spirit measured warm or cold will have at 20 °C.",
    parameters: [
      volume("volume", "Volume as measured."),
      strength("strength", spirit),
      temperature("temperature", "Temperature at which the volume was measured."),
    ],
    result: [volumeResult("Volume at 20 °C.")],
    equation: "volume * density(p, t) / density(p, 20 °C); the vessel's own expansion is left out",
    source: TABLE,
    range: COLD_TO_WARM,
    trust: "relative standard uncertainty 0.01 %; a glass vessel adds 0.003 % for each kelvin from its mark",
    examples: [{ formula: "volume_at_20(1 L, 40 %vol, 30 °C)", gives: "0.99277 L" }],
    compute: (args) => {
      const p = num(args, "strength");
      return (num(args, "volume") * spiritDensity(p, num(args, "temperature"))) / spiritDensity(p);
    },
    modelUncertainty: (_args, result) => 1e-4 * result[""]!,
  },
  {
    name: "mass_of",
    group: GROUP,
    says: "The mass of a volume of spirit.",
    parameters: [volume("volume", "Volume of the spirit."), strength("strength", spirit), at20],
    labelsOnly: ["temperature"],
    result: [massResult("Mass.")],
    equation: "volume * density(p, t)",
    source: TABLE,
    range: COLD_TO_WARM,
    trust: "relative standard uncertainty 0.007 % (the density's 0.06 kg/m^3)",
    examples: [{ formula: "mass_of(1 L, 40 %vol)", gives: "948.05 g" }],
    compute: (args) => num(args, "volume") * spiritDensity(num(args, "strength"), num(args, "temperature")),
    modelUncertainty: (args, result) => relativeError(num(args, "strength")) * result[""]!,
  },
  {
    name: "volume_of",
    group: GROUP,
    says: "The volume of a mass of spirit.",
    parameters: [
      poured("spirit")("mass", "Mass of the spirit, weighed."),
      strength("strength", spirit),
      at20,
    ],
    labelsOnly: ["temperature"],
    result: [volumeResult("Volume at that temperature.")],
    equation: "mass / density(p, t)",
    source: TABLE,
    range: COLD_TO_WARM,
    trust: "relative standard uncertainty 0.007 % (the density's 0.06 kg/m^3)",
    examples: [{ formula: "volume_of(948.05 g, 40 %vol)", gives: "1000 mL" }],
    compute: (args) => num(args, "mass") / spiritDensity(num(args, "strength"), num(args, "temperature")),
    modelUncertainty: (args, result) => relativeError(num(args, "strength")) * result[""]!,
  },
  {
    name: "pure_volume",
    group: GROUP,
    says: "The volume of pure alcohol at 20 °C in an amount of spirit: what duty is reckoned on.",
    parameters: [
      amount("volume", "Volume (at 20 °C) or mass of the spirit."),
      strengthByVolume("strength", spirit),
    ],
    result: [volumeResult("Pure alcohol at 20 °C.")],
    equation: "volume * strength by volume; mass * strength by mass / 789.24 kg/m^3",
    source: `definition of strength by volume; ${TABLE}`,
    range: ANY_STRENGTH,
    trust: "by volume exact; by mass relative standard uncertainty 0.005 %",
    examples: [{ formula: "pure_volume(700 mL, 40 %vol)", gives: "280 mL" }],
    compute: (args, call) => {
      const q = num(args, "strength");
      const p = massFraction(q);
      return isMass(call.kindOf("volume"))
        ? pureVolumeOf(liquidOfMass(num(args, "volume"), p))
        : num(args, "volume") * q;
    },
    // A volume times a strength by volume is exact; what differs from that was a mass.
    modelUncertainty: (args, result) =>
      Math.abs(result[""]! - num(args, "volume") * num(args, "strength")) <= 1e-9 * result[""]!
        ? 0
        : 5e-5 * result[""]!,
  },
  {
    name: "pure_mass",
    group: GROUP,
    says: "The mass of alcohol in an amount of spirit.",
    parameters: [
      amount("volume", "Volume (at 20 °C) or mass of the spirit."),
      strengthByVolume("strength", spirit),
    ],
    result: [massResult("Alcohol.")],
    equation: "volume * strength by volume * 789.24 kg/m^3; mass * strength by mass",
    source: TABLE,
    range: ANY_STRENGTH,
    trust: "relative standard uncertainty 0.005 %",
    examples: [{ formula: "pure_mass(700 mL, 40 %vol)", gives: "220.99 g" }],
    compute: (args, call) => {
      const q = num(args, "strength");
      const p = massFraction(q);
      return isMass(call.kindOf("volume"))
        ? num(args, "volume") * p
        : num(args, "volume") * q * ETHANOL_DENSITY;
    },
    modelUncertainty: (_args, result) => 5e-5 * result[""]!,
  },
];

/** Standard uncertainty in strength by volume that an error of density (kg/m³) causes at a mass fraction and temperature. */
export function strengthErrorFromDensity(p: number, kelvin: number, error: number): number {
  const h = 1e-4;
  const low = Math.max(0, p - h);
  const high = Math.min(1, p + h);
  const densityChange = spiritDensity(high, kelvin) - spiritDensity(low, kelvin);
  const ethanol = (at: number): number => liquidAt(1, at, 293.15).ethanol / ETHANOL_DENSITY;
  return Math.abs(((ethanol(high) - ethanol(low)) / densityChange) * error);
}
