import { Trouble } from "../quantity/trouble";

/** Pure water: vapour pressure, boiling temperature, heat of evaporation. Temperatures in kelvin, pressures in pascal. */

/** g/mol. */
export const WATER_MOLAR_MASS = 18.015268;

const CRITICAL_KELVIN = 647.096;
const LN_CRITICAL_PASCAL = Math.log(22_064_000);
const ZERO_CELSIUS = 273.15;

/** Natural logarithm of the vapour pressure in pascal, without a range check: the core that solvers call. @internal */
export function lnWaterPressure(kelvin: number): number {
  const tau = 1 - kelvin / CRITICAL_KELVIN;
  const root = Math.sqrt(tau);
  const tau3 = tau * tau * tau;
  return (
    LN_CRITICAL_PASCAL +
    (CRITICAL_KELVIN / kelvin) *
      (-7.85951783 * tau +
        1.84408259 * tau * root +
        -11.7866497 * tau3 +
        22.6807411 * tau3 * root +
        -15.9618719 * tau3 * tau +
        1.80122502 * tau3 * tau3 * tau * root)
  );
}

/**
 * Vapour pressure of water, Pa.
 *
 * @param kelvin −10 to 150 °C; below 0.01 °C it is that of supercooled water, extrapolated (condenser side only)
 * @throws Trouble `out-of-range`
 * Source: IAPWS supplementary equation SR1-86 (Wagner & Pruss). Within 0.013 % of IAPWS-IF97 from 0 to 150 °C.
 */
export function waterPressure(kelvin: number): number {
  needBetween(kelvin, -10, 150, "The vapour pressure of water");
  return Math.exp(lnWaterPressure(kelvin));
}

/**
 * Temperature at which water boils under this pressure (Pa), K: the inverse of {@link waterPressure}.
 *
 * @throws Trouble `out-of-range` outside 0.287 to 476 kPa, which is −10 to 150 °C
 */
export function waterBoilingTemperature(pascal: number): number {
  return invertSaturation(lnWaterPressure, pascal, -10, 150, "Water", 5200);
}

/**
 * Heat that evaporates one kilogram of water, J/kg.
 *
 * @param kelvin 0 to 120 °C
 * @throws Trouble `out-of-range`
 * Source: fit to IAPWS-IF97, 5–100 °C, worst 0.46 kJ/kg; 0.8 kJ/kg low at 0 and 2.8 high at 120 °C.
 */
export function waterLatentHeat(kelvin: number): number {
  needBetween(kelvin, 0, 120, "The heat of evaporation of water");
  const t = kelvin - ZERO_CELSIUS;
  return 1000 * (2500.106 - 2.291413 * t - 0.001403373 * t * t);
}

/** Throws when a temperature is outside a range given in °C. @internal */
export function needBetween(kelvin: number, low: number, high: number, what: string): void {
  if (kelvin >= low + ZERO_CELSIUS && kelvin <= high + ZERO_CELSIUS) return;
  throw new Trouble({
    code: "out-of-range",
    says: `${what} is known from ${low} to ${high} °C, and this is ${Number((kelvin - ZERO_CELSIUS).toFixed(2))} °C.`,
    help: "Check the temperature or the pressure that leads to it.",
  });
}

/**
 * Temperature at which ln p(T) is that of `pascal`: secant steps on ln p against 1/T, which is nearly a straight
 * line of slope −`slope` (K), so that it settles in four or five steps from anywhere in the range.
 *
 * @internal
 */
export function invertSaturation(
  lnPressure: (kelvin: number) => number,
  pascal: number,
  low: number,
  high: number,
  name: string,
  slope: number,
): number {
  const cold = ZERO_CELSIUS + low;
  const hot = ZERO_CELSIUS + high;
  const wanted = Math.log(pascal);
  // A hair of room at the ends, so that a pressure worked out at the limit comes back to it.
  if (!(wanted >= lnPressure(cold) - 1e-12 && wanted <= lnPressure(hot) + 1e-12)) {
    const kilo = (k: number): string => `${Number((Math.exp(lnPressure(k)) / 1000).toPrecision(3))} kPa`;
    throw new Trouble({
      code: "out-of-range",
      says: `${name} is known to boil between ${kilo(cold)} (${low} °C) and ${kilo(hot)} (${high} °C), and this is ${Number((pascal / 1000).toPrecision(5))} kPa.`,
      help: "Pressures are absolute here: a perfect vacuum is 0. For a dial that reads below the room, use absolute_pressure.",
    });
  }
  let inverse = 1 / cold - (wanted - lnPressure(cold)) / slope;
  let gradient = -slope;
  let miss = lnPressure(1 / inverse) - wanted;
  for (let step = 0; step < 60; step++) {
    const next = inverse - miss / gradient;
    if (Math.abs(next - inverse) <= 4e-16) return 1 / next;
    const nextMiss = lnPressure(1 / next) - wanted;
    if (nextMiss !== miss) gradient = (nextMiss - miss) / (next - inverse);
    inverse = next;
    miss = nextMiss;
    if (miss === 0) return 1 / inverse;
  }
  throw new Trouble({
    code: "did-not-converge",
    says: `The search for the boiling temperature of ${name.toLowerCase()} did not settle, so there is no answer to give.`,
    help: "Try a slightly different pressure, and report the formula if it happens again.",
  });
}
