import { Trouble } from "../quantity/trouble";
import { needPressure } from "./boiling";
import { ETHANOL_MOLAR_MASS, ethanolLatentHeat } from "./ethanol";
import { bubblePressure, condensedFraction, dewPoint, moleFraction, vapourFraction } from "./vapour";
import { WATER_MOLAR_MASS, waterLatentHeat } from "./water";

/** The cold side: what condenses, how much cold it takes, and what a leak carries past. `p` is the distillate's mass fraction of ethanol. */

/** Coldest surface that the vapour model is stretched to, K: validated nowhere below 25 °C, plausible to here. */
export const COLDEST_SURFACE = 263.15;
/** Colder coolants than this are not answered at all. */
const COLDEST_COOLANT = 223.15;
/** Warmest, K. */
export const WARMEST_SURFACE = 333.15;

/**
 * The surface that an answer is worked out for. Below −10 °C the answer for −10 °C stands: a colder surface condenses
 * at least as much and loses at most as much.
 *
 * @throws Trouble `out-of-range` below −50 or above 60 °C
 */
export function answeredSurface(kelvin: number): number {
  if (kelvin >= COLDEST_COOLANT && kelvin <= WARMEST_SURFACE) return Math.max(kelvin, COLDEST_SURFACE);
  throw new Trouble({
    code: "out-of-range",
    says: `Condensing is worked out for surfaces from -50 to 60 °C, and this is ${Number((kelvin - 273.15).toFixed(2))} °C.`,
    help: "Check the temperature of the coolant.",
  });
}

/**
 * Share of the vapour (by amount) that can condense on a surface at `kelvin` under `pascal`: an ideal bound.
 *
 * @throws Trouble `out-of-range`
 */
export function condensedShare(pascal: number, p: number, kelvin: number): number {
  needPressure(pascal);
  return condensedFraction(moleFraction(p), answeredSurface(kelvin), pascal);
}

/** Heat that evaporates or condenses a kilogram of vapour of mass fraction `p` at `kelvin`, J/kg; the heat of mixing (under 2 %) is left out. */
export const latentHeat = (p: number, kelvin: number): number =>
  p * ethanolLatentHeat(kelvin) + (1 - p) * waterLatentHeat(kelvin);

/** Standard error of that heat, relative: ethanol's 1.5 % and the heat of mixing. */
export const latentHeatError = (p: number): number =>
  Math.hypot(2e-4, 0.015 * p, 0.02 * 4 * p * (1 - p) * 0.5);

/** Power that condenses a distillate (kg/s, mass fraction `p`) whose vapour arrives at its dew point under `pascal`, W. */
export function chillLoad(massRate: number, p: number, pascal: number): number {
  needPressure(pascal);
  return massRate * latentHeat(p, dewPoint(moleFraction(p), pascal).kelvin);
}

const GAS_CONSTANT = 8.314462618;
const ATMOSPHERE = 101_325;
const ROOM = 293.15;

/** Amount of air in a flow stated as volume (m³/s) at 1 atm and 20 °C, mol/s. */
export const airMoles = (flow: number): number => (flow * ATMOSPHERE) / (GAS_CONSTANT * ROOM);

/** Air that leaks into a closed still, m³/s at 1 atm and 20 °C, from the rise of pressure (Pa) in a time (s) and the room inside (m³). */
export const leak = (rise: number, time: number, inside: number): number =>
  (inside * rise) / (time * ATMOSPHERE);

/**
 * Vapour that leaves with the air through the pump, kg/s: the air goes out saturated over the condensate.
 *
 * @param flow air, m³/s at 1 atm and 20 °C
 * @throws Trouble `too-warm` when the condensate would boil at that surface
 */
export function lostPast(flow: number, pascal: number, p: number, kelvin: number): number {
  needPressure(pascal);
  const surface = answeredSurface(kelvin);
  const x = moleFraction(p);
  const vapour = bubblePressure(x, surface);
  if (vapour >= pascal) {
    throw new Trouble({
      code: "too-warm",
      says:
        `At ${Number((surface - 273.15).toFixed(1))} °C this distillate would boil at ${Number((vapour / 100).toPrecision(3))} mbar ` +
        `itself, and the still is at ${Number((pascal / 100).toPrecision(3))} mbar: the condenser holds nothing back.`,
      help: "Use a colder coolant or a higher pressure.",
    });
  }
  const y = vapourFraction(x, surface);
  const molar = (y * ETHANOL_MOLAR_MASS + (1 - y) * WATER_MOLAR_MASS) / 1000;
  return (airMoles(flow) * molar * vapour) / (pascal - vapour);
}
