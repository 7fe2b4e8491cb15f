import { mixtureActivity } from "../../src/matter/activity";
import { boilingTemperature, sweetPot } from "../../src/matter/boiling";
import { icePoint } from "../../src/matter/freezing";
import { liquidOfVolume, massOf } from "../../src/matter/liquid";
import { sweeten } from "../../src/matter/mixing";
import {
  massFraction,
  massFractionFromDensity,
  spiritDensity,
  volumeFraction,
} from "../../src/matter/spirit";
import { strengthByTwoReadings } from "../../src/matter/two-readings";
import { partialPressures } from "../../src/matter/vapour";
import { type Comparison, compared, type Point } from "./comparison";
import points from "./points/mixtures.json";

/**
 * Sugar, salt and alcohol in one liquid: what was published or worked out, beside the answers. What has one solute is
 * compared in food-comparisons.ts. Sources and marks stand beside each number in points/mixtures.json.
 */

type Inputs = Point["inputs"];

/** How much lower (%vol for 1 g/L) sugar makes a strength read by density: for a litre of finished spirit that holds so much. */
export function hiddenStrength(percentVol: number, gramsPerLitre: number): number {
  const spirit = liquidOfVolume(1e-3, massFraction(percentVol / 100));
  let sugar = gramsPerLitre / 1000;
  for (let i = 0; i < 5; i++) sugar *= gramsPerLitre / sweeten(spirit, sugar).sugarPerVolume;
  const made = sweeten(spirit, sugar);
  const shown = volumeFraction(massFractionFromDensity((massOf(spirit) + sugar) / made.volume));
  return (100 * (made.strength - shown)) / gramsPerLitre;
}

/** Henry constant of ethanol in water, mol in a litre for an atmosphere. */
function henry(celsius: number): number {
  const kelvin = celsius + 273.15;
  const x = 1e-6;
  const [ethanol] = partialPressures(x, kelvin);
  return (x * spiritDensity(0, kelvin)) / 18.015268 / (ethanol / 101_325);
}

/** Beer by a brewing rule's own inputs: what was not fermented of the wort, original extract less about twice the alcohol, counts as maltose. */
function beer(i: Inputs): number {
  const alcohol = i.ethanol_mass_pct!;
  const extract = i.original_extract_plato! - 2.0665 * alcohol;
  return icePoint(100 - alcohol - extract, { ethanol: alcohol, maltose: extract }) - 273.15;
}

/** Wine of 13.5 %vol with 8 g/L glycerol, 4 g/L sugar and 6 g/L acid; its strength and composition were assumed. */
function wine(): number {
  const alcohol = 0.135 * 789.24;
  return mixtureActivity(985 - alcohol - 18, { ethanol: alcohol, glycerol: 8, fructose: 4 });
}

type Answer = readonly [of: string, what: string, compute: (i: Inputs) => number];
const answers: ReadonlyMap<string, Answer> = new Map<string, Answer>([
  [
    "strength_from_density_and_index",
    [
      "strength_from_density",
      "strength by density and index",
      (i) => 100 * strengthByTwoReadings(i.density_kg_m3!, i.nD20!),
    ],
  ],
  [
    "boils_at_sugar_and_strength",
    [
      "boils_at",
      "sugar and alcohol",
      (i) =>
        boilingTemperature(
          sweetPot(i.ethanol_g!, i.water_g!, i.sucrose_g!, i.kappa),
          1000 * i.pressure_kPa!,
        ) - 273.15,
    ],
  ],
  [
    "solids_hide_strength",
    ["sweeten", "strength that solids hide", (i) => hiddenStrength(i.strength_pct_vol!, i.solids_g_per_L!)],
  ],
  [
    "ethanol_henry_constant_water",
    ["first_vapour", "Henry constant of ethanol in water", (i) => henry(i.t_C!)],
  ],
  ["ice_point_beer", ["ice_point", "beer, by a brewing rule that counts salts and acids too", beer]],
  ["water_activity_wine_mean", ["activity", "wine of assumed composition against the mean of 678", wine]],
]);

/** Three numbers in one entry: volume, strength and sugar. */
function sweetened(point: Point, entry: number): Comparison[] {
  const { volume_mL, strength_pct_vol, sugar_g } = point.inputs;
  const made = sweeten(
    liquidOfVolume(volume_mL! / 1e6, massFraction(strength_pct_vol! / 100)),
    sugar_g! / 1000,
  );
  const found = [1e6 * made.volume, 100 * made.strength, made.sugarPerVolume];
  const [values, tolerances] = [point.value, point.tolerance] as unknown as readonly (readonly number[])[];
  return found.map((computed, i) =>
    compared("mixtures.json", entry, point, {
      of: "sweeten",
      what: ["volume", "strength", "sugar in a litre"][i]!,
      unit: ["mL", "%vol", "g/L"][i]!,
      published: values![i]!,
      tolerance: tolerances![i]!,
      computed,
    }),
  );
}

/** Common bottlings, whose strengths the source does not state, against the span of 42 measured spirits. */
const bottlings = (point: Point, entry: number): Comparison[] =>
  [20, 40, 60].map((percent) => {
    const p = massFraction(percent / 100);
    return compared("mixtures.json", entry, point, {
      of: "activity",
      what: "spirits of 20, 40 and 60 %vol against the span of 42 bottlings",
      label: `spirit of ${percent} %vol`,
      published: point.value as unknown as readonly [number, number],
      // What `activity` declares for alcohol, twice.
      tolerance: 0.03,
      computed: mixtureActivity(1 - p, { ethanol: p }),
    });
  });

export const mixtureComparisons: readonly Comparison[] = (points as unknown as readonly Point[]).flatMap(
  (point, entry) => {
    if (point.quantity === "sweeten") return sweetened(point, entry);
    if (point.quantity === "water_activity_spirits_range") return bottlings(point, entry);
    const answer = answers.get(point.quantity);
    if (answer === undefined) return [];
    const [of, what, compute] = answer;
    return [compared("mixtures.json", entry, point, { of, what, computed: compute(point.inputs) })];
  },
);
