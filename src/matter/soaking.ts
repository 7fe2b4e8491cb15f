import { Trouble } from "../quantity/trouble";
import { fractionOf, type Liquid, massOf } from "./liquid";

/**
 * Botanicals soaked in spirit: the ethanol spreads evenly over all water, the plant's included. Dissolved solids and
 * oils are left out.
 */

/** The liquid after soaking, in and around the botanical. @throws Trouble `out-of-range` for a moisture outside 0 to 1 */
export function soak(spirit: Liquid, botanical: number, moisture: number): Liquid {
  if (!(botanical >= 0)) {
    throw new Trouble({
      code: "negative-amount",
      says: "The botanical's mass cannot be less than nothing.",
      help: "Check the sign.",
    });
  }
  if (!(moisture >= 0 && moisture <= 1)) {
    throw new Trouble({
      code: "out-of-range",
      says: `The moisture of a botanical lies between 0 and 100 %, and this is ${Number((100 * moisture).toPrecision(4))} %.`,
      help: "Dry berries hold about 12 %, fresh peel about 80 %.",
    });
  }
  return { ethanol: spirit.ethanol, water: spirit.water + moisture * botanical };
}

/**
 * Liquid that stays in the drained botanical.
 *
 * @param wet mass of the drained marc, kg
 * @throws Trouble `out-of-range` when the marc weighs less than its dry matter, or holds more than there is
 */
export function heldByMarc(liquid: Liquid, botanical: number, moisture: number, wet: number): Liquid {
  const dry = (1 - moisture) * botanical;
  const held = wet - dry;
  if (held >= 0 && held <= massOf(liquid)) {
    const p = fractionOf(liquid);
    return { ethanol: held * p, water: held * (1 - p) };
  }
  const grams = (kg: number): string => `${Number((1000 * kg).toPrecision(4))} g`;
  throw new Trouble({
    code: "out-of-range",
    says:
      held < 0
        ? `The wet marc weighs ${grams(wet)}, less than the ${grams(dry)} of dry matter that went in.`
        : `The wet marc would hold ${grams(held)} of liquid, more than the ${grams(massOf(liquid))} there is.`,
    help: "Weigh the drained botanical without its bag or sieve, and check its moisture.",
  });
}
