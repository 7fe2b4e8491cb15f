import {
  activePot,
  boilingError,
  boilingPressure,
  COLDEST_DATA,
  cleanPot,
  NEAR_AZEOTROPE,
  type Pot,
  sweetPot,
  vapourErrorAt,
} from "../matter/boiling";
import { sweetLiquid } from "../matter/mixing";
import { volumeFraction } from "../matter/spirit";
import { massFractionOfMoles, moleFraction } from "../matter/vapour";
import { kinds, Trouble } from "../quantity";
import { VAPOUR } from "./cautions";
import type { Call, NumberArguments, Parameter } from "./declaration";
import { activity, optional, solids, strength } from "./parameters";

/** What several functions ask about the liquid of a pot, and what they say about it. */

export const potStrength = optional(
  strength("strength", "Strength of the liquid in the pot (the whole of it, when it also holds solids)."),
  "0 %vol",
);
export const potSolids = optional(
  solids(
    "solids",
    "Sucrose in the liquid, by mass. For honey, salt and mixtures give the water activity instead.",
  ),
  "0 °Bx",
);
export const potActivity = optional(
  activity(
    "activity",
    "Water activity that sugar, honey or salt gives the pot's water, measured or from a function; 1 when there is none.",
  ),
  "1",
);
export const potParameters: readonly Parameter[] = [potStrength, potSolids, potActivity];

const num = (args: NumberArguments, name: string): number => args[name] as number;

/**
 * The pot that `strength`, `solids` and `activity` describe. `kappa` varies how sugar pushes ethanol out, for the
 * model's error.
 *
 * @throws Trouble `solids-and-activity` when both are given
 */
export function potOf(args: NumberArguments, byVolume: boolean, kappa = 0): Pot {
  const p = num(args, "strength");
  const sugar = (args.solids as number | undefined) ?? 0;
  const water = (args.activity as number | undefined) ?? 1;
  if (sugar !== 0 && water !== 1) {
    throw new Trouble({
      code: "solids-and-activity",
      says: "Solids and water activity both say how the dissolved matter holds the water; only one of them can be used.",
      help: "Give `activity` for honey, salt and mixtures, and `solids` for sugar alone.",
    });
  }
  if (water !== 1) return activePot(p, water);
  if (sugar === 0) return cleanPot(p);
  if (sugar < 0 || sugar >= 1) {
    throw new Trouble({
      code: "out-of-range",
      says: `Solids lie between 0 and 100 °Bx, and these are ${Number((100 * sugar).toPrecision(5))} °Bx.`,
      help: "Check the number.",
    });
  }
  const masses = sweetLiquid(byVolume ? { byVolume: volumeFraction(p) } : { byMass: p }, sugar);
  return sweetPot(masses.ethanol, masses.water, masses.sugar, kappa);
}

/** Whether the strength of the pot was given by volume. */
export const byVolumeIn = (call: Call): boolean => call.kindOf("strength")?.id !== kinds.strengthMass.id;

/** Remarks on a boiling at a temperature and pressure: what the data do not reach, what nobody has measured. */
export function remarkOnBoiling(pot: Pot, kelvin: number, pascal: number, call: Call): void {
  const spirit = pot.x > 0;
  if (spirit) call.caution(VAPOUR);
  if (spirit && pot.x < 1 && kelvin < COLDEST_DATA) {
    call.note("Below 15 °C the vapour model is carried past its data (25 to 100 °C): an estimate.");
  }
  if (spirit && (pot.sugar ?? 0) > 0) {
    call.note(
      "Sugar and alcohol together: an estimate, nobody's measurements were found. It may boil up to 1.7 K cooler for each mole (342 g) of sugar in a kilogram of water.",
    );
  }
  if (pot.activity !== undefined) {
    call.note(
      spirit
        ? "A water activity together with alcohol: an estimate, nobody's measurements were found."
        : "The water activity, usually measured at 25 °C, is used at the boiling temperature: a small error.",
    );
  }
  if (pot.x > NEAR_AZEOTROPE && pot.x < 1) {
    call.note(
      pascal < 20_000
        ? "Near the azeotrope, which moves towards pure alcohol as the pressure falls and goes somewhere around 10 kPa: where exactly is not known."
        : "Near the azeotrope: a plate more makes it hardly stronger.",
    );
  }
}

/** What is not known about sugar beside alcohol, K for a mole of it in a kilogram of water: half of the guessed band. */
const SUGAR_SPIRIT_ERROR = 0.8;
/** Most that is answered, mol/kg. */
const MOST_SUGAR = 1.5;

/**
 * Standard error of a boiling temperature, K. It does without the exact pot, since the model's error is asked for
 * without knowing whether %vol or %mas was meant: with sugar and alcohol together it is an estimate anyway.
 */
export function boilingUncertainty(args: NumberArguments, pascal: number): number {
  const p = num(args, "strength");
  const sugar = (args.solids as number | undefined) ?? 0;
  if (p === 0) return boilingError(potOf(args, true), pascal);
  const own = boilingError(cleanPot(p), Math.max(pascal, boilingPressure(cleanPot(p), 273.15)));
  const molality = Math.min(MOST_SUGAR, sugar / (0.342296 * (1 - sugar) * Math.max(0.1, 1 - p)));
  return Math.hypot(own, SUGAR_SPIRIT_ERROR * molality);
}

/** Pascals for each kelvin along a boiling curve: by Clausius and Clapeyron with the mean slope of these liquids, within a few per cent. */
export const boilingSlope = (pascal: number, kelvin: number): number => (pascal * 5200) / (kelvin * kelvin);

/** Standard error of a vapour of mass fraction `p`, as strength by volume. */
export function vapourUncertainty(p: number): number {
  const y = moleFraction(p);
  const error = vapourErrorAt(y);
  if (error === 0) return 0;
  const high = Math.min(1, y + error);
  const low = Math.max(0, y - error);
  return (volumeFraction(massFractionOfMoles(high)) - volumeFraction(massFractionOfMoles(low))) / 2;
}
