import { Trouble } from "../quantity/trouble";

/** Juice or syrup thickened by driving off water: the solids stay, so their mass fixes what is left. */

export interface Thickened {
  readonly left: number;
  readonly taken: number;
  /** How many times more concentrated it is. */
  readonly factor: number;
}

const brix = (fraction: number): string => `${Number((100 * fraction).toFixed(3))} °Bx`;

/**
 * What is left of `mass` (kg) when it is brought from one mass fraction of solids to another.
 *
 * @throws Trouble `nothing-to-thicken` without solids, `already-thicker` when water would have to be added, `out-of-range`
 * Source: mass balance of the solids (Berk, Food Process Engineering and Technology, Example 21.1 is one).
 */
export function thicken(mass: number, solids: number, to: number): Thickened {
  if (!(mass >= 0)) throw new Trouble({ code: "out-of-range", says: "The mass cannot be negative." });
  if (!(solids >= 0 && solids <= 1 && to >= 0 && to <= 1)) {
    throw new Trouble({
      code: "out-of-range",
      says: `Solids lie between 0 and 100 °Bx, and these are ${brix(solids)} and ${brix(to)}.`,
    });
  }
  if (solids === 0) {
    throw new Trouble({
      code: "nothing-to-thicken",
      says: "There are no solids in it, so driving off water leaves nothing to thicken.",
      help: "Read the solids of the juice before the run.",
    });
  }
  const left = (mass * solids) / to;
  if (to < solids) {
    throw new Trouble({
      code: "already-thicker",
      says: `It is at ${brix(solids)} already, thicker than ${brix(to)}.`,
      help:
        to > 0
          ? `To thin it, add ${Number((1000 * (left - mass)).toPrecision(5))} g of water.`
          : "Ask for more solids than it has.",
    });
  }
  return { left, taken: mass - left, factor: to / solids };
}
