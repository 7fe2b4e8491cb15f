import { Trouble } from "../quantity/trouble";
import { boilingPressure, boilingTemperature, cleanPot, firstVapour, type Pot } from "./boiling";
import { condensedShare } from "./condenser";
import { icePoint } from "./freezing";

/** One setting of the still from what the bench has: a bath, a coolant, a liquid. */
export interface Setting {
  readonly pascal: number;
  readonly boilsAt: number;
  /** From bath to pot, K. */
  readonly warmSide: number;
  /** From vapour to coolant, K. */
  readonly coldSide: number;
  /** Mass fraction of the first distillate. */
  readonly first: number;
  /** Whether all of the vapour can condense, on glass a little warmer than the coolant. */
  readonly holds: boolean;
  /** Temperature at which the first distillate would begin to freeze, when that is known. */
  readonly iceAt: number | undefined;
  /** Temperature below which the receiver must stay: there the distillate boils again. */
  readonly receiverBelow: number;
}

/** How much warmer than the coolant the glass is taken to be, K (common practice, no source). */
export const SKIN = 5;

/**
 * @param bath temperature of the bath, K
 * @param warmSide difference kept between bath and pot, K
 * @throws Trouble `out-of-range` when the pot would boil where it cannot
 */
export function settle(pot: Pot, bath: number, coolant: number, warmSide: number): Setting {
  if (!(warmSide > 0)) {
    throw new Trouble({
      code: "out-of-range",
      says: "The warm side must be more than 0 K: without a difference no heat passes from bath to pot.",
      help: "15 K is usual; 5 K is gentle and slow.",
    });
  }
  const boilsAt = bath - warmSide;
  if (coolant >= boilsAt) {
    throw new Trouble({
      code: "too-warm",
      says: `The pot would boil at ${celsius(boilsAt)}, and the coolant at ${celsius(coolant)} is no colder: nothing would condense.`,
      help: "Use a colder coolant or a warmer bath.",
    });
  }
  const pascal = boilingPressure(pot, boilsAt);
  const first = firstVapour(pot, pascal);
  return {
    pascal,
    boilsAt,
    warmSide,
    coldSide: boilsAt - coolant,
    first,
    holds: condensedShare(pascal, first, coolant + SKIN) >= 1,
    iceAt: spiritIce(first),
    receiverBelow: receiverLimit(first, pascal),
  };
}

const celsius = (kelvin: number): string => `${Number((kelvin - 273.15).toFixed(2))} °C`;

/** Most ethanol (mass fraction) for which a freezing point is known. */
const MOST_FREEZING = 0.719;

/** Temperature at which a distillate begins to freeze, K; undefined when it is so strong that no coolant here freezes it. */
export function spiritIce(p: number): number | undefined {
  if (p > MOST_FREEZING) return undefined;
  return p === 0 ? 273.15 : icePoint(1 - p, { ethanol: p });
}

/** The distillate's own boiling temperature, or 0 °C when it would only boil below that. */
function receiverLimit(p: number, pascal: number): number {
  const pot = cleanPot(p);
  return pascal <= boilingPressure(pot, 273.15) ? 273.15 : boilingTemperature(pot, pascal);
}
