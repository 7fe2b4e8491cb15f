import { rootBetween } from "./bracket";
import { ETHANOL_MOLAR_MASS, lnEthanolPressure } from "./ethanol";
import { lnWaterPressure, WATER_MOLAR_MASS } from "./water";

/**
 * Ethanol and water, liquid against vapour. `x` is the mole fraction of ethanol in the liquid, `y` in the vapour;
 * temperatures in kelvin, pressures in pascal. Nothing here checks a range: boiling.ts and condenser.ts do, each for
 * its own purpose, since a condenser may be asked about colder liquids than a pot.
 *
 * The activity coefficients are a skewed Redlich–Kister form regressed to published sets between 30 and 95 °C; the
 * vapour is an ideal gas, whose faults are partly absorbed by the fit (so no virial correction belongs on top).
 */

/** Mole fraction of ethanol from its mass fraction. */
export const moleFraction = (p: number): number => {
  const ethanol = p / ETHANOL_MOLAR_MASS;
  return ethanol / (ethanol + (1 - p) / WATER_MOLAR_MASS);
};

/** Mass fraction of ethanol from its mole fraction. */
export const massFractionOfMoles = (x: number): number => {
  const ethanol = x * ETHANOL_MOLAR_MASS;
  return ethanol / (ethanol + (1 - x) * WATER_MOLAR_MASS);
};

const SKEW = 0.4;

/** Natural logarithms of the activity coefficients of ethanol and water. */
export function lnActivityCoefficients(x: number, kelvin: number): readonly [ethanol: number, water: number] {
  const q = 330 / kelvin - 1;
  const r = Math.log(kelvin / 330) + q;
  const a0 = 1.40103 - 0.36836 * q - 8.94061 * r;
  const a1 = 0.34826 - 1.22451 * q - 6.212 * r;
  const a2 = -0.10762 - 0.93439 * q;
  const a3 = 0.00054 + 0.24224 * q;
  const d = x + SKEW * (1 - x);
  const u = 1 - (2 * x) / d;
  const f = a0 + u * (a1 + u * (a2 + u * a3));
  const slope = ((a1 + u * (2 * a2 + u * 3 * a3)) * (-2 * SKEW)) / (d * d);
  const g = x * (1 - x) * f;
  const dg = (1 - 2 * x) * f + x * (1 - x) * slope;
  return [g + (1 - x) * dg, g - x * dg];
}

/** What a pot holds besides ethanol and water, as far as its vapour feels it. */
export interface Hindrance {
  /** Water activity that the dissolved matter alone would give the water of the pot, 0 to 1. */
  readonly water: number;
  /** Factor on the pressure of ethanol: 1 unless something pushes ethanol out of the liquid. */
  readonly ethanol: number;
}
export const NO_HINDRANCE: Hindrance = { water: 1, ethanol: 1 };

/** Partial pressures of ethanol and water over a liquid, Pa. */
export function partialPressures(
  x: number,
  kelvin: number,
  hindrance: Hindrance = NO_HINDRANCE,
): readonly [ethanol: number, water: number] {
  const [e, w] = lnActivityCoefficients(x, kelvin);
  return [
    x === 0 ? 0 : x * hindrance.ethanol * Math.exp(e + lnEthanolPressure(kelvin)),
    x === 1 ? 0 : (1 - x) * hindrance.water * Math.exp(w + lnWaterPressure(kelvin)),
  ];
}

/** Pressure at which a liquid begins to boil at `kelvin`, Pa. */
export function bubblePressure(x: number, kelvin: number, hindrance: Hindrance = NO_HINDRANCE): number {
  const [e, w] = partialPressures(x, kelvin, hindrance);
  return e + w;
}

/** Mole fraction of ethanol in the vapour over a liquid at `kelvin`. */
export function vapourFraction(x: number, kelvin: number, hindrance: Hindrance = NO_HINDRANCE): number {
  const [e, w] = partialPressures(x, kelvin, hindrance);
  return e / (e + w);
}

/** Mean slope of ln p against 1/T for these liquids, K: the first step of the search. */
const SLOPE = 5200;
/** Widest range in which a boiling temperature is looked for. */
const COLDEST = 233.15;
const HOTTEST = 433.15;

/**
 * Temperature at which a liquid boils under `pascal`, K. `near` speeds the search up when a neighbour is known.
 *
 * @throws Trouble `did-not-converge`
 */
export function bubbleTemperature(
  x: number,
  pascal: number,
  hindrance: Hindrance = NO_HINDRANCE,
  near: number = 310,
): number {
  const wanted = Math.log(pascal);
  const miss = (inverse: number): number => Math.log(bubblePressure(x, 1 / inverse, hindrance)) - wanted;
  let inverse = 1 / near;
  let gap = miss(inverse);
  let gradient = -SLOPE;
  for (let step = 0; step < 30; step++) {
    const next = inverse - gap / gradient;
    if (!(next > 1 / HOTTEST && next < 1 / COLDEST)) break;
    // 1e-15 in 1/T is 1e-10 K.
    if (Math.abs(next - inverse) < 1e-15) return 1 / next;
    const nextGap = miss(next);
    if (nextGap === 0) return 1 / next;
    if (nextGap !== gap) gradient = (nextGap - gap) / (next - inverse);
    inverse = next;
    gap = nextGap;
  }
  return 1 / rootBetween(miss, 1 / HOTTEST, 1 / COLDEST, { what: "the boiling temperature" });
}

/** Liquid that is in equilibrium with a vapour at one pressure, and the temperature of both (the dew point). */
export function dewPoint(y: number, pascal: number): { readonly x: number; readonly kelvin: number } {
  let kelvin = 310;
  const richer = (x: number): number => {
    kelvin = bubbleTemperature(x, pascal, NO_HINDRANCE, kelvin);
    return vapourFraction(x, kelvin) - y;
  };
  const x = y <= 0 || y >= 1 ? y : rootBetween(richer, 0, 1, { what: "the dew point" });
  return { x, kelvin: bubbleTemperature(x, pascal, NO_HINDRANCE, kelvin) };
}

/** Liquid that is in equilibrium with a vapour at one temperature, and its pressure: below it nothing condenses there. */
export function dewPressure(y: number, kelvin: number): { readonly x: number; readonly pascal: number } {
  const x =
    y <= 0 || y >= 1
      ? y
      : rootBetween((trial) => vapourFraction(trial, kelvin) - y, 0, 1, { what: "the dew pressure" });
  return { x, pascal: bubblePressure(x, kelvin) };
}

/**
 * Share (by amount) of a vapour of composition `z` that condenses on a surface at `kelvin` under `pascal`, when
 * vapour and condensate come to equilibrium: an isothermal flash. 1 above the bubble pressure, 0 below the dew pressure.
 */
export function condensedFraction(z: number, kelvin: number, pascal: number): number {
  if (pascal >= bubblePressure(z, kelvin)) return 1;
  const dew = dewPressure(z, kelvin);
  if (pascal <= dew.pascal) return 0;
  // Between dew and bubble the liquid lies between its two end compositions, on one side of any azeotrope.
  const x = rootBetween((trial) => bubblePressure(trial, kelvin) - pascal, dew.x, z, {
    what: "the condensate's strength",
  });
  const y = vapourFraction(x, kelvin);
  return (y - z) / (y - x);
}
