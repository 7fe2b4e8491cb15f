import { Trouble } from "../quantity/trouble";
import { rootBetween } from "./bracket";
import { saltActivity } from "./salt";
import { MOST_SOLIDS, sucroseActivity } from "./sugar";
import { lnActivityCoefficients, moleFraction } from "./vapour";
import { WATER_MOLAR_MASS } from "./water";

/**
 * Water activity at 25 °C of what a kitchen dissolves. Each solute is taken alone in *all* the water and the
 * activities are multiplied (Ross 1975): right when dilute, high (so cautious) when thick.
 */

/** A solute that follows Norrish's equation, a_w = x_w · exp(−K · x_s²). */
interface NorrishSolute {
  /** Molar mass, g/mol. */
  readonly molar: number;
  /** Norrish's constant at 25 °C. */
  readonly k: number;
}

/**
 * Norrish constants. Sugars: from memory (Norrish 1966 and later), judged by freezing points; polyols: seen in
 * PMC2836749, Table 3.
 */
const NORRISH = {
  glucose: { molar: 180.16, k: 2.25 },
  fructose: { molar: 180.16, k: 2.25 },
  maltose: { molar: 342.3, k: 4.54 },
  lactose: { molar: 342.3, k: 10.2 },
  glycerol: { molar: 92.09, k: 1.16 },
  sorbitol: { molar: 182.17, k: 1.65 },
  xylitol: { molar: 152.15, k: 1.66 },
  erythritol: { molar: 122.12, k: 1.34 },
  mannitol: { molar: 182.17, k: 0.906 },
} as const satisfies Readonly<Record<string, NorrishSolute>>;

export type NorrishName = keyof typeof NORRISH;
/** A single solute that solids can be counted as. */
export type Solute = "sucrose" | "invert sugar" | NorrishName;

export const SOLUTES: readonly Solute[] = [
  "sucrose",
  "glucose",
  "fructose",
  "invert sugar",
  "maltose",
  "lactose",
  "glycerol",
  "sorbitol",
  "xylitol",
  "erythritol",
  "mannitol",
];

/** Reference temperature of every figure here, K. */
export const ACTIVITY_KELVIN = 298.15;
/** Mass fraction to which Norrish's equation is answered, and above which it is told to be an estimate. */
export const NORRISH_MOST = 0.8;
export const NORRISH_TRUSTED = 0.6;

/** A hexose stands in for invert sugar: glucose and fructose have one molar mass and one constant. */
const norrishOf = (solute: Exclude<Solute, "sucrose">): NorrishSolute =>
  NORRISH[solute === "invert sugar" ? "glucose" : solute];

/**
 * Water activity by Norrish's equation of `ratio` kg solute for a kilogram of water, at a temperature: the constant
 * goes as 1/T, as for an excess energy that does not change with temperature.
 *
 * @internal
 */
export function norrishActivity(name: NorrishName, ratio: number, kelvin: number = ACTIVITY_KELVIN): number {
  const { molar, k } = NORRISH[name];
  const moles = ratio / molar;
  const x = moles / (moles + 1 / WATER_MOLAR_MASS);
  return (1 - x) * Math.exp(((-k * ACTIVITY_KELVIN) / kelvin) * x * x);
}

const percent = (fraction: number): string => `${Number((100 * fraction).toFixed(2))} %`;

/** Highest mass fraction of one solute in water that is answered. */
export const mostSolids = (solute: Solute): number => (solute === "sucrose" ? MOST_SOLIDS : NORRISH_MOST);

/**
 * Water activity at 25 °C of one solute in water.
 *
 * @param solids mass fraction, 0 to 0.85 (sucrose) or 0.8
 * @throws Trouble `out-of-range`
 * Source: Starzak & Peacock for sucrose (0.002), Norrish for the others (0.005).
 */
export function activityFromSolids(solids: number, solute: Solute = "sucrose"): number {
  const most = mostSolids(solute);
  if (!(solids >= 0 && solids <= most)) {
    throw new Trouble({
      code: "out-of-range",
      says: `The water activity of ${solute} in water is known for 0 to ${percent(most)} by mass, and this is ${percent(solids)}.`,
      help: "Thicker than that it is a glass or a slurry of crystals: measure it.",
    });
  }
  if (solute === "sucrose") return sucroseActivity(solids);
  const { molar, k } = norrishOf(solute);
  const moles = solids / molar;
  const x = moles / (moles + (1 - solids) / WATER_MOLAR_MASS);
  return (1 - x) * Math.exp(-k * x * x);
}

/**
 * Mass fraction of one solute that gives this water activity at 25 °C: the inverse of {@link activityFromSolids}.
 *
 * @throws Trouble `out-of-range`
 */
export function solidsFromActivity(activity: number, solute: Solute = "sucrose"): number {
  const most = mostSolids(solute);
  const least = activityFromSolids(most, solute);
  if (!(activity >= least && activity <= 1)) {
    throw new Trouble({
      code: "out-of-range",
      says: `${sentence(solute)} in water gives water activities from ${least.toFixed(3)} to 1, and this is ${activity}.`,
      help: "A lower one needs salt, drying or another solute.",
    });
  }
  if (activity === 1) return 0;
  return rootBetween((w) => activityFromSolids(w, solute) - activity, 0, most, {
    what: "the solids of this water activity",
  });
}

const sentence = (word: string): string => word.charAt(0).toUpperCase() + word.slice(1);

/** Water activity at 25 °C of ethanol in water (kg ethanol for a kilogram of water): x_w · γ_w of the vapour model. */
export function ethanolActivity(ratio: number): number {
  const x = moleFraction(ratio / (1 + ratio));
  return (1 - x) * Math.exp(lnActivityCoefficients(x, ACTIVITY_KELVIN)[1]);
}

/** Masses dissolved in a liquid, kg. */
export type Dissolved = Readonly<Partial<Record<"sucrose" | "salt" | "ethanol" | NorrishName, number>>>;

/**
 * Water activity at 25 °C of a mixture: the product of the activities of each solute in all the water.
 *
 * @param water kg, above 0
 * @throws Trouble `out-of-range` for no water or a solute beyond its own range
 * Source: Ross 1975. About 0.005; 0.015 with ethanol; amino acids and extract are not known.
 */
export function mixtureActivity(water: number, dissolved: Dissolved): number {
  if (!(water > 0)) {
    throw new Trouble({
      code: "out-of-range",
      says: "A water activity needs some water, and there is none.",
      help: "Give the mass of the water, not that of the whole.",
    });
  }
  let activity = 1;
  for (const [name, mass] of Object.entries(dissolved) as [keyof Dissolved, number | undefined][]) {
    if (mass === undefined || mass === 0) continue;
    if (!(mass > 0)) {
      throw new Trouble({ code: "out-of-range", says: `There cannot be less than no ${name}.` });
    }
    const ratio = mass / water;
    const fraction = mass / (mass + water);
    if (name === "salt") activity *= saltActivity(ratio);
    else if (name === "ethanol") activity *= ethanolActivity(ratio);
    else activity *= activityFromSolids(fraction, name);
  }
  return activity;
}
