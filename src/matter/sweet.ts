import { Trouble } from "../quantity/trouble";
import { rootBetween } from "./bracket";
import { ETHANOL_DENSITY, spiritDensity, volumeFraction } from "./spirit";
import { MOST_SOLIDS, syrupDensity } from "./sugar";

/**
 * Liquids with alcohol and sugar together, at 20 °C. No measured table of sugar in spirit was found, so a gram of sugar
 * is taken to add 0.62 mL to its spirit (in water it adds 0.615 to 0.629): an estimate, about 0.5 %.
 * Compositions are mass fractions of the whole.
 */
const SUGAR_VOLUME = 0.62e-3;

/** Volume of a kilogram, m³: its ethanol and water as a spirit, and its sugar. */
function specificVolume(ethanol: number, solids: number): number {
  const spirit = 1 - solids;
  return (spirit > 0 ? spirit / spiritDensity(Math.min(1, ethanol / spirit)) : 0) + SUGAR_VOLUME * solids;
}

/** Density, kg/m³. Spirit and syrup alone have their own tables; only the two together are an estimate. */
export function sweetDensity(ethanol: number, solids: number): number {
  if (solids === 0) return spiritDensity(ethanol);
  if (ethanol === 0 && solids <= MOST_SOLIDS) return syrupDensity(solids);
  return 1 / specificVolume(ethanol, solids);
}

/** Strength by volume (true, not what a hydrometer shows) of a liquid with these mass fractions. */
export const strengthOfSweet = (ethanol: number, solids: number): number =>
  solids === 0 ? volumeFraction(ethanol) : (ethanol * sweetDensity(ethanol, solids)) / ETHANOL_DENSITY;

/**
 * Mass fraction of ethanol in a liquid of this true strength by volume and mass fraction of solids.
 *
 * @throws Trouble `out-of-range` when such a liquid has no room for its alcohol
 */
export function ethanolInSweet(byVolume: number, solids: number): number {
  const most = 1 - solids;
  if (byVolume === 0) return 0;
  const miss = (e: number): number => e - (byVolume * ETHANOL_DENSITY) / sweetDensity(e, solids);
  if (!(miss(most) >= 0)) {
    throw new Trouble({
      code: "out-of-range",
      says: `A liquid of ${percent(solids)} solids has no room for ${percent(byVolume)} alcohol by volume.`,
      help: "Check the strength and the solids.",
    });
  }
  // From a hair above none: without alcohol the density is that of the syrup table, not of the estimate.
  return rootBetween(miss, Number.MIN_VALUE, most, { what: "the alcohol in a sweet liquid" });
}

/** The same, but for a strength that such a liquid has no room for the most that it has: for the ends of a range. */
export const ethanolAtMost = (byVolume: number, solids: number): number =>
  byVolume > strengthOfSweet(1 - solids, solids) ? 1 - solids : ethanolInSweet(byVolume, solids);

const percent = (fraction: number): string => `${Number((100 * fraction).toFixed(3))} %`;
