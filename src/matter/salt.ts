import { Trouble } from "../quantity/trouble";
import { rootBetween } from "./bracket";

/**
 * Table salt (sodium chloride) in water at 25 °C. `ratio` is always kilograms of salt for a kilogram of **water**;
 * tables of food that say "percent salt" mean this more often than they say so.
 */

/** Molar mass of sodium chloride, kg/mol. */
const SALT_MOLAR = 0.058443;
/** Molar mass of water as the salt equation uses it, kg/mol. */
const WATER_PER_MOLE = 0.018015;

/** Highest molality of the equation, mol/kg water; salt falls out there, at about 36 g in 100 g of water. */
const MOST_MOLALITY = 6.15;

/** Kilograms of salt that a kilogram of water can hold at 25 °C. */
export const SATURATED_RATIO = MOST_MOLALITY * SALT_MOLAR;

/** Water activity over saturated brine, by the equation. */
export const saturatedActivity = (): number => activityCore(SATURATED_RATIO);

/** Osmotic coefficient at a molality (mol/kg water), 25 °C: Pitzer's equation. */
export function osmoticCoefficient(molality: number): number {
  const root = Math.sqrt(molality);
  const debye = -(0.3915 * root) / (1 + 1.2 * root);
  return 1 + debye + molality * (0.0765 + 0.2664 * Math.exp(-2 * root)) + molality * molality * 0.00127;
}

function activityCore(ratio: number): number {
  const molality = ratio / SALT_MOLAR;
  return Math.exp(-2 * molality * osmoticCoefficient(molality) * WATER_PER_MOLE);
}

/**
 * Water activity of a brine at 25 °C.
 *
 * @param ratio kilograms of salt for a kilogram of water, 0 to 0.3594
 * @throws Trouble `out-of-range` above saturation
 * Source: Pitzer & Mayorga 1973 (constants seen in several public copies). About ±0.003.
 */
export function saltActivity(ratio: number): number {
  if (ratio >= 0 && ratio <= SATURATED_RATIO * (1 + 1e-12)) return activityCore(ratio);
  throw new Trouble({
    code: "out-of-range",
    says:
      ratio < 0
        ? "There cannot be less than no salt."
        : `Water holds at most ${grams(SATURATED_RATIO)} of salt in 100 g at 25 °C, and this is ${grams(ratio)}.`,
    help: "Above that, salt lies undissolved and the water activity stays near 0.75.",
  });
}

const grams = (ratio: number): string => `${Number((100 * ratio).toFixed(1))} g`;

/** Half a step of the third decimal, to which the saturated activity is told. */
const ACTIVITY_SLACK = 0.0005;

/**
 * Salt for a kilogram of water that gives this water activity at 25 °C: the inverse of {@link saltActivity}.
 *
 * @throws Trouble `out-of-range` below the water activity of saturated brine
 */
export function saltFromActivity(activity: number): number {
  const least = saturatedActivity();
  if (activity === 1) return 0;
  if (activity < least && activity >= least - ACTIVITY_SLACK) return SATURATED_RATIO;
  if (!(activity >= least && activity < 1)) {
    throw new Trouble({
      code: "out-of-range",
      says: `Salt alone brings water to activities between ${least.toFixed(3)} and 1, and this is ${activity}.`,
      help: "Saturated brine is lowest; sugar or drying must do the rest.",
    });
  }
  return rootBetween((ratio) => activityCore(ratio) - activity, 0, SATURATED_RATIO, {
    what: "the salt for this water activity",
  });
}
