import { Trouble } from "../quantity/trouble";
import { activityFromSolids, NORRISH_MOST } from "./activity";
import { SATURATED_RATIO, saltActivity, saltFromActivity, saturatedActivity } from "./salt";

/** A salty liquor (stock, ferment, sauce) thickened by driving off water: salt and other solids stay. */

export interface SavouryGoal {
  /** One of the three: mass that stays (kg), salt in the whole (mass fraction), or the water activity by salt alone. */
  readonly mass?: number | undefined;
  readonly salt?: number | undefined;
  readonly activity?: number | undefined;
}

export interface Savoury {
  readonly left: number;
  readonly taken: number;
  /** Salt in the whole that stays, crystals included. */
  readonly salt: number;
  /** Dissolved salt in dissolved salt and water: the basis of most tables of salt and growth. */
  readonly saltInWater: number;
  /** Water activity if the other solids count for nothing (high, cautious) … */
  readonly activity: number;
  /** … and if they all were glucose; absent where that is beyond the equation. */
  readonly activityLow?: number;
  /** Salt that has fallen out, kg. */
  readonly crystals: number;
}

const grams = (kg: number): string => `${Number((1000 * kg).toPrecision(5))} g`;
const percent = (fraction: number): string => `${Number((100 * fraction).toPrecision(4))} %`;

/**
 * What a salty liquor becomes when water is driven off until one goal is met.
 *
 * @param mass kg of liquor
 * @param salt mass fraction of salt in the whole
 * @param solids mass fraction of the other dissolved solids
 * @throws Trouble `one-goal`, `out-of-range`, `already-thicker`, `too-far`
 * Source: mass balance; water activity by salt.ts at 25 °C, times that of glucose for the lower end.
 */
export function thickenSalty(mass: number, salt: number, solids: number, goal: SavouryGoal): Savoury {
  if (!(mass > 0))
    throw new Trouble({
      code: "out-of-range",
      says: "There must be some liquor, and its mass is not more than 0.",
    });
  if (!(salt >= 0 && solids >= 0 && salt + solids < 1)) {
    throw new Trouble({
      code: "out-of-range",
      says: `A liquor cannot hold ${percent(salt)} salt and ${percent(solids)} other solids by mass and be liquid.`,
      help: "Together they must stay under 100 %.",
    });
  }
  const dry = { salt: mass * salt, solids: mass * solids };
  const water = waterAtGoal(dry, goal);
  const before = mass - dry.salt - dry.solids;
  if (water > before * (1 + 1e-12)) {
    throw new Trouble({
      code: "already-thicker",
      says: `It is thicker than that already: ${grams(water - before)} of water would have to be added.`,
      help: "Ask for a goal on the far side of where it stands.",
    });
  }
  if (!(water > 1e-12 * mass)) {
    throw new Trouble({
      code: "too-far",
      says: `That leaves no water: salt and other solids alone weigh ${grams(dry.salt + dry.solids)}.`,
      help: "Stop earlier.",
    });
  }
  return stateAt(mass, dry, water);
}

function waterAtGoal(dry: { readonly salt: number; readonly solids: number }, goal: SavouryGoal): number {
  const given = [goal.mass, goal.salt, goal.activity].filter((g) => g !== undefined).length;
  if (given !== 1) {
    throw new Trouble({
      code: "one-goal",
      says: `One goal tells where to stop, and ${given === 0 ? "none is" : `${given} are`} given.`,
      help: "Say one of `to_mass: 600 g`, `to_salt: 15 %`, `to_activity: 0.85`.",
    });
  }
  if (goal.mass !== undefined) return goal.mass - dry.salt - dry.solids;
  if (!(dry.salt > 0)) {
    throw new Trouble({
      code: "out-of-range",
      says: "There is no salt in it to reckon by.",
      help: "Give `to_mass`, or use reduce for a liquor without salt.",
    });
  }
  if (goal.salt !== undefined) {
    if (!(goal.salt > 0 && goal.salt <= 1)) {
      throw new Trouble({ code: "out-of-range", says: `Salt cannot be ${percent(goal.salt)} of a liquor.` });
    }
    return dry.salt / goal.salt - dry.salt - dry.solids;
  }
  const activity = goal.activity!;
  if (activity >= 1) {
    throw new Trouble({
      code: "out-of-range",
      says: "Only pure water has a water activity of 1.",
      help: "Ask for a lower one.",
    });
  }
  if (activity < saturatedActivity()) {
    throw new Trouble({
      code: "out-of-range",
      says: `Salt alone goes no lower than ${saturatedActivity().toFixed(3)}, where it falls out, and the goal is ${activity}.`,
      help: "The other solids may bring it lower, but nobody can say how far without a measurement.",
    });
  }
  return dry.salt / saltFromActivity(activity);
}

function stateAt(
  mass: number,
  dry: { readonly salt: number; readonly solids: number },
  water: number,
): Savoury {
  const left = dry.salt + dry.solids + water;
  const dissolved = Math.min(dry.salt, SATURATED_RATIO * water);
  const activity = saltActivity(dissolved / water);
  const sweet = dry.solids / (dry.solids + water);
  const low = sweet <= NORRISH_MOST ? activity * activityFromSolids(sweet, "glucose") : undefined;
  return {
    left,
    taken: mass - left,
    salt: dry.salt / left,
    saltInWater: dissolved / (dissolved + water),
    activity,
    ...(low === undefined ? {} : { activityLow: low }),
    crystals: dry.salt - dissolved,
  };
}
