import { Trouble } from "../quantity/trouble";
import { ETHANOL_DENSITY } from "./spirit";

/**
 * Alcohol in a sweet liquid from its density and refractive index, both at 20 °C. The specific refraction
 * (n² − 1)/((n² + 2) ρ) adds by mass, and that of sugar is that of water: so the sugar drops out. Salt, acid and
 * glycerol do not (1 % of them by mass reads as −0.67, −0.20 and +0.24 % of ethanol).
 */

const WATER_REFRACTION = 0.20606;
const ETHANOL_EXCESS = 0.07054;
const ETHANOL_BEND = 0.0045;

/** Most ethanol by mass that the rule serves. */
const MOST = 0.4;
/** What instruments of a kitchen or a laboratory may be off before a reading of no alcohol counts as wrong. */
const SLACK = 0.01;

/**
 * Strength by volume of a liquid of ethanol, water and sugars.
 *
 * @param density kg/m³ at 20 °C
 * @param index at 589 nm and 20 °C
 * @throws Trouble `out-of-range` when no mixture to 40 % ethanol by mass reads like that
 */
export function strengthByTwoReadings(density: number, index: number): number {
  const squared = index * index;
  const r = (1000 * (squared - 1)) / ((squared + 2) * density);
  // e (0.07054 + 0.0045 e) = r − 0.20606
  const over = r - WATER_REFRACTION;
  const e =
    (2 * over) / (ETHANOL_EXCESS + Math.sqrt(Math.max(0, ETHANOL_EXCESS ** 2 + 4 * ETHANOL_BEND * over)));
  if (!(e >= -SLACK && e <= MOST)) {
    throw new Trouble({
      code: "out-of-range",
      says: `Density and index together tell 0 to 40 % ethanol by mass, and these two would mean ${Number((100 * e).toPrecision(3))} %.`,
      help: "Check both readings at 20 °C, and that there is no salt in it.",
    });
  }
  return (Math.max(0, e) * density) / ETHANOL_DENSITY;
}
