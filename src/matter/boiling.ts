import { Trouble } from "../quantity/trouble";
import { rootBetween } from "./bracket";
import { MOST_SOLIDS, SUCROSE_MOLAR, sucroseActivity } from "./sugar";
import {
  bubblePressure,
  type Hindrance,
  massFractionOfMoles,
  moleFraction,
  NO_HINDRANCE,
  vapourFraction,
} from "./vapour";
import { needBetween } from "./water";

/**
 * A pot that boils under low pressure: at which temperature, at which pressure, and with what first vapour.
 * Temperatures in kelvin, pressures in pascal, strengths as mass fractions.
 */

/** The liquid of a pot, as its vapour feels it. */
export interface Pot {
  /** Mole fraction of ethanol in ethanol and water, whatever else is dissolved. */
  readonly x: number;
  /** What the dissolved matter does at a temperature. */
  readonly hindrance: (kelvin: number) => Hindrance;
  /** Moles of sucrose in a kilogram of water; 0 without sugar, undefined when a water activity was given instead. */
  readonly sugar?: number;
  /** Water activity of the dissolved matter as it was given. */
  readonly activity?: number;
}

/** Ethanol and water alone. */
export const cleanPot = (p: number): Pot => ({ x: moleFraction(p), hindrance: () => NO_HINDRANCE, sugar: 0 });

/**
 * A pot whose dissolved matter (honey, salt, a mixture) is known by the water activity that it gives its water,
 * taken as the same at every temperature.
 *
 * @throws Trouble `out-of-range` outside 0.3 to 1
 */
export function activePot(p: number, activity: number): Pot {
  if (!(activity >= 0.3 && activity <= 1)) {
    throw new Trouble({
      code: "out-of-range",
      says: `A water activity for boiling lies between 0.3 and 1, and this is ${Number(activity.toPrecision(5))}.`,
      help: "Pure water is 1, honey of 18 % water about 0.59, a saturated brine 0.75.",
    });
  }
  const hindrance: Hindrance = { water: activity, ethanol: 1 };
  return { x: moleFraction(p), hindrance: () => hindrance, activity };
}

/** Most sucrose for a pot that holds alcohol too, mol per kg of water: about 300 g in a litre. */
const MOST_SUGAR_WITH_SPIRIT = 1.5;

/**
 * A pot with sucrose, from masses in any unit.
 *
 * @param kappa how strongly sugar pushes ethanol out, kg/mol: nobody has measured it. 0 agrees with the water activity
 *   of mixtures; guesses run to 0.2
 * @throws Trouble `out-of-range` above 85 °Bx of sugar and water, or above 1.5 mol of sugar in a kilogram of water when
 *   there is alcohol
 */
export function sweetPot(ethanol: number, water: number, sugar: number, kappa = 0): Pot {
  const p = ethanol / (ethanol + water);
  if (sugar === 0) return cleanPot(p);
  const solids = sugar / (sugar + water);
  const molality = (1000 * sugar) / SUCROSE_MOLAR / water;
  if (!(solids <= MOST_SOLIDS)) {
    throw new Trouble({
      code: "out-of-range",
      says: `Boiling with sugar is known up to 85 parts of sugar in 100 of sugar and water, and here it is ${Number((100 * solids).toPrecision(4))}.`,
      help: "Give the water activity of the liquid instead: activity: 0.6",
    });
  }
  if (ethanol > 0 && molality > MOST_SUGAR_WITH_SPIRIT) {
    throw new Trouble({
      code: "out-of-range",
      says:
        `With alcohol in it, boiling is estimated for at most ${MOST_SUGAR_WITH_SPIRIT} mol of sugar in a kilogram of water ` +
        `(about 300 g in a litre), and here it is ${Number(molality.toPrecision(3))} mol/kg.`,
      help: "Nobody has measured such a pot. Give its water activity instead (activity: 0.8), and take the answer as a rough one.",
    });
  }
  const ethanolFactor = Math.exp(kappa * molality);
  return {
    x: moleFraction(p),
    hindrance: (kelvin) => ({ water: sucroseActivity(solids, kelvin), ethanol: ethanolFactor }),
    sugar: molality,
  };
}

/** Coldest and hottest pot that is answered, °C: below, water would freeze; above, no bench still goes. */
const COLDEST_POT = 0;
const HOTTEST_POT = 130;
/** Highest pressure, Pa: the air outside, and what the vapour data reach. */
const HIGHEST_PRESSURE = 110_000;
/** Lowest pressure that is looked at, Pa. Whether the pot is warm enough then decides. */
const LOWEST_PRESSURE = 100;

/** Throws unless a pressure is one that a bench still works at. @internal */
export function needPressure(pascal: number): void {
  // 1.1 bar is a hair more than 110 kPa once it is a double.
  if (pascal >= LOWEST_PRESSURE * (1 - 1e-12) && pascal <= HIGHEST_PRESSURE * (1 + 1e-12)) return;
  throw new Trouble({
    code: "out-of-range",
    says: `The still is worked out from 1 to 1100 mbar of absolute pressure, and this is ${Number((pascal / 100).toPrecision(5))} mbar.`,
    help:
      pascal <= 0
        ? "Pressures are absolute here: a perfect vacuum is 0. For a dial that reads below the room, use absolute_pressure."
        : "Check the number and its unit.",
  });
}

/** Four digits, the last rounded up: what is offered must be possible as it is printed. */
function roundedUp(x: number): number {
  const step = 10 ** (Math.floor(Math.log10(x)) - 3);
  return Number((Math.ceil(x / step) * step).toPrecision(4));
}

const inCelsius = (kelvin: number): string => `${Number((kelvin - 273.15).toFixed(2))} °C`;

/**
 * Temperature at which a pot forms its first bubble.
 *
 * @param pascal absolute pressure, up to 110 kPa
 * @throws Trouble `out-of-range` when it would boil below 0 °C
 * Source: regression of this project to published vapour–liquid data, 25 to 100 °C (±0.3 K); water alone IAPWS SR1-86.
 */
export function boilingTemperature(pot: Pot, pascal: number): number {
  needPressure(pascal);
  const wanted = Math.log(pascal);
  const lowest = Math.log(pressureAt(pot, 273.15 + COLDEST_POT));
  if (wanted < lowest - 1e-12) {
    throw new Trouble({
      code: "out-of-range",
      says:
        `This liquid would boil below 0 °C at ${Number((pascal / 100).toPrecision(4))} mbar, where the model is not ` +
        `vouched for and a watery pot freezes. At 0 °C it boils at ${roundedUp(Math.exp(lowest) / 100)} mbar.`,
      help: "Use a higher pressure.",
    });
  }
  if (wanted <= lowest) return 273.15 + COLDEST_POT;
  if (wanted > Math.log(pressureAt(pot, 273.15 + HOTTEST_POT))) {
    throw new Trouble({
      code: "out-of-range",
      says: `This liquid would boil above ${HOTTEST_POT} °C at ${Number((pascal / 100).toPrecision(4))} mbar, where nothing here is vouched for.`,
      help: "Use a lower pressure.",
    });
  }
  const inverse = rootBetween(
    (u) => Math.log(pressureAt(pot, 1 / u)) - wanted,
    1 / (273.15 + HOTTEST_POT),
    1 / (273.15 + COLDEST_POT),
    { what: "the boiling temperature" },
  );
  return 1 / inverse;
}

const pressureAt = (pot: Pot, kelvin: number): number => bubblePressure(pot.x, kelvin, pot.hindrance(kelvin));

/**
 * Pressure at which a pot boils at a temperature: the inverse of {@link boilingTemperature}.
 *
 * @param kelvin 0 to 130 °C, as long as the pressure stays below 110 kPa
 * @throws Trouble `out-of-range`
 */
export function boilingPressure(pot: Pot, kelvin: number): number {
  needBetween(kelvin, COLDEST_POT, HOTTEST_POT, "Boiling");
  const pascal = pressureAt(pot, kelvin);
  if (pascal <= HIGHEST_PRESSURE) return pascal;
  throw new Trouble({
    code: "out-of-range",
    says: `This liquid would need ${Number((pascal / 1000).toPrecision(4))} kPa to boil at ${inCelsius(kelvin)}; the answers go up to 110 kPa, the pressure of the air.`,
    help: "Choose a lower temperature.",
  });
}

/** Mass fraction of ethanol in the first vapour of a pot under `pascal`. */
export function firstVapour(pot: Pot, pascal: number): number {
  const kelvin = boilingTemperature(pot, pascal);
  return massFractionOfMoles(vapourFraction(pot.x, kelvin, pot.hindrance(kelvin)));
}

/** Coldest boiling that measured vapour data support, K; colder answers for alcohol carry a note. */
export const COLDEST_DATA = 273.15 + 15;
/** Above this mole fraction (about 95 %vol) the azeotrope is near, whose place below 20 kPa nobody knows. */
export const NEAR_AZEOTROPE = 0.82;

/** Standard error of a boiling temperature with alcohol, K: how far published sets disagree with each other. */
const MIXTURE_ERROR = 0.3;
/** The same for water alone, K, and for dissolved matter without alcohol as a share of its boiling point rise. */
const WATER_ERROR = 0.005;
const RISE_ERROR = 0.06;
/** Mole fraction from which the whole of MIXTURE_ERROR is felt: 2 %vol. Below it fades to that of water. */
const FULL_ERROR_FROM = 0.0063;

/** Standard error of the model in the boiling temperature of a pot, K. */
export function boilingError(pot: Pot, pascal: number): number {
  const spirit = MIXTURE_ERROR * Math.min(1, pot.x / FULL_ERROR_FROM);
  const kelvin = boilingTemperature(pot, pascal);
  const plain = boilingTemperature({ x: pot.x, hindrance: () => NO_HINDRANCE }, pascal);
  return Math.hypot(spirit, WATER_ERROR, RISE_ERROR * (kelvin - plain));
}

/** Standard error of a vapour's mole fraction: published sets differ from one another and from the model by this much. */
export const VAPOUR_ERROR = 0.01;

/** That error at a composition: faded out towards pure water and pure ethanol, where there is nothing to be wrong about. */
export const vapourErrorAt = (y: number): number => VAPOUR_ERROR * Math.min(1, y / 0.05, (1 - y) / 0.05);
