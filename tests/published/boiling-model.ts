import { boilingTemperature, cleanPot, firstVapour } from "../../src/matter/boiling";
import { rootBetween } from "../../src/matter/bracket";
import { ethanolBoilingTemperature, ethanolLatentHeat, ethanolPressure } from "../../src/matter/ethanol";
import { fractionOf, liquidOfVolume, volumeOf } from "../../src/matter/liquid";
import { massFraction, volumeFraction } from "../../src/matter/spirit";
import { isobaricStill, type Run, runStill, type Still } from "../../src/matter/still";
import {
  bubblePressure,
  bubbleTemperature,
  massFractionOfMoles,
  vapourFraction,
} from "../../src/matter/vapour";
import { waterPressure } from "../../src/matter/water";
import { type Comparison, compared, type Point, type Worth, worthOf } from "./comparison";
import points from "./points/boiling.json";

/** What the model answers to a published point about boiling. Sources and marks stand beside each number in points/boiling.json. */

type Inputs = Point["inputs"];
const pascal = (i: Inputs): number => 1000 * i.pressure_kPa!;
const kelvin = (i: Inputs): number => i.temperature_K ?? i.temperature_C! + 273.15;
const boiling = (i: Inputs): number => bubbleTemperature(i.ethanol_mole_fraction!, pascal(i));

/** Where vapour and liquid are alike, above 80 mol %. */
function azeotrope(p: number): number {
  return rootBetween((x) => vapourFraction(x, bubbleTemperature(x, p)) - x, 0.8, 0.999, {
    what: "the azeotrope",
  });
}

const charge = (i: Inputs) =>
  liquidOfVolume(i.charge_volume_L_20C! / 1000, massFraction(i.charge_abv_20C! / 100));
const potOf = (i: Inputs) => cleanPot(massFraction(i.charge_abv_20C! / 100));

/** A run at one pressure until a share of the alcohol is over. */
function run(i: Inputs): Run {
  const liquid = charge(i);
  const left = (1 - i.ethanol_recovered_fraction!) * liquid.ethanol;
  return runStill(isobaricStill(pascal(i)), liquid, { type: "ethanol", left });
}

/** The same at a constant relative volatility, whose run has a closed form. */
function alikeRun({ alpha, x0, ethanol_recovered_fraction }: Inputs): Run {
  const still: Still = {
    goesOver: (x) => (alpha! * x) / (1 + (alpha! - 1) * x),
    temperature: () => 300,
    pressure: () => 1e4,
  };
  const p = massFractionOfMoles(x0!);
  return runStill(
    still,
    { ethanol: p, water: 1 - p },
    { type: "ethanol", left: (1 - ethanol_recovered_fraction!) * p },
  );
}

const molesOfEthanol = ({ taken }: Run): number => {
  const [e, w] = [taken.ethanol / 46.06844, taken.water / 18.015268];
  return e / (e + w);
};
const percentVol = (p: number): number => 100 * volumeFraction(p);

type Answer = readonly [of: string, what: string, compute: (i: Inputs) => number, worth?: Worth];
const answers: ReadonlyMap<string, Answer> = new Map<string, Answer>([
  ["water_saturation_pressure", ["pressure_for", "water alone", (i) => waterPressure(kelvin(i)) / 1000]],
  [
    "ethanol_saturation_pressure",
    ["pressure_for", "ethanol alone", (i) => ethanolPressure(kelvin(i)) / 1000],
  ],
  [
    "boiling_pressure",
    ["pressure_for", "ethanol and water", (i) => bubblePressure(i.ethanol_mole_fraction!, kelvin(i)) / 1000],
  ],
  [
    "ethanol_normal_boiling_point",
    ["boils_at", "ethanol alone", (i) => ethanolBoilingTemperature(pascal(i)) - 273.15],
  ],
  ["boiling_temperature", ["boils_at", "ethanol and water", (i) => boiling(i) - 273.15]],
  [
    "azeotrope_temperature",
    [
      "boils_at",
      "azeotrope",
      (i) => bubbleTemperature(azeotrope(pascal(i)), pascal(i)) - 273.15,
      "independent",
    ],
  ],
  [
    "model_boiling_temperature",
    ["boils_at", "spirit by strength", (i) => boilingTemperature(potOf(i), pascal(i)) - 273.15],
  ],
  [
    "ethanol_latent_heat",
    ["chill_load", "heat of evaporation of ethanol", (i) => ethanolLatentHeat(kelvin(i)) / 1000, "fitted"],
  ],
  [
    "vapour_mole_fraction_ethanol",
    [
      "first_vapour",
      "mole fraction in the vapour",
      (i) => vapourFraction(i.ethanol_mole_fraction!, i.pressure_kPa === undefined ? kelvin(i) : boiling(i)),
    ],
  ],
  [
    "azeotrope_mole_fraction_ethanol",
    ["first_vapour", "mole fraction of the azeotrope", (i) => azeotrope(pascal(i))],
  ],
  [
    "model_first_distillate_abv",
    ["first_vapour", "strength of the first drops", (i) => percentVol(firstVapour(potOf(i), pascal(i)))],
  ],
  ["model_batch_residue_abv", ["distil", "strength left", (i) => percentVol(fractionOf(run(i).left))]],
  [
    "model_batch_distillate_abv",
    ["distil", "strength of the distillate", (i) => percentVol(fractionOf(run(i).taken))],
  ],
  [
    "model_batch_distillate_volume_20C",
    ["distil", "volume of the distillate", (i) => 1000 * volumeOf(run(i).taken)],
  ],
  ["model_batch_residue_volume_20C", ["distil", "volume left", (i) => 1000 * volumeOf(run(i).left)]],
  [
    "model_batch_pot_temperature",
    ["distil", "pot at the end", (i) => isobaricStill(pascal(i)).temperature(run(i).endX) - 273.15],
  ],
  [
    "rayleigh_constant_alpha_remaining_moles_fraction",
    ["distil", "closed form: moles left", (i) => Math.exp(-alikeRun(i).t)],
  ],
  [
    "rayleigh_constant_alpha_residue_x",
    ["distil", "closed form: mole fraction left", (i) => alikeRun(i).endX],
  ],
  [
    "rayleigh_constant_alpha_distillate_x",
    ["distil", "closed form: mole fraction over", (i) => molesOfEthanol(alikeRun(i))],
  ],
]);

export const boilingComparisons: readonly Comparison[] = (points as unknown as readonly Point[]).flatMap(
  (point, entry) => {
    const answer = answers.get(point.quantity);
    if (answer === undefined) return [];
    const [of, what, compute, worth = worthOf(point)] = answer;
    return [compared("boiling.json", entry, point, { of, what, worth, computed: compute(point.inputs) })];
  },
);
