import { Trouble } from "../quantity/trouble";
import { rootBetween } from "./bracket";
import { fractionOf, type Liquid, liquidOfMass, massOf, pureVolumeOf, together, volumeOf } from "./liquid";
import { ETHANOL_DENSITY, massFraction, spiritDensity, volumeFraction, WATER_DENSITY } from "./spirit";

/**
 * Bringing clean spirits to a strength. Everything is mixed by mass, since volumes of spirit and water do not add:
 * `contraction` is what the parts measure apart less what they measure together, m³ at 20 °C.
 */

const asVolume = (p: number): string => `${Number((100 * volumeFraction(p)).toPrecision(4))} %vol`;

function needSomething(liquid: Liquid, what: string): void {
  const mass = liquid.ethanol + liquid.water;
  if (mass > 0 && Number.isFinite(mass)) return;
  throw new Trouble({
    code: "nothing-there",
    says: `${what} is no amount to work with: it must be greater than nothing.`,
    help: "Check the amount.",
  });
}

/** Volume of parts measured apart less the volume of all together. */
const contractionOf = (parts: readonly Liquid[], whole: Liquid): number => {
  let apart = 0;
  for (const part of parts) apart += volumeOf(part);
  return apart - volumeOf(whole);
};

/**
 * Several spirits in one vessel.
 *
 * @throws Trouble `nothing-there` when all are empty, `negative-amount`
 */
export function marry(parts: readonly Liquid[]): { readonly whole: Liquid; readonly contraction: number } {
  for (const part of parts) needNoDebt(part);
  const whole = together(parts);
  needSomething(whole, "The blend");
  return { whole, contraction: contractionOf(parts, whole) };
}

function needNoDebt(part: Liquid): void {
  if (part.ethanol >= 0 && part.water >= 0) return;
  throw new Trouble({
    code: "negative-amount",
    says: "An amount of spirit cannot be less than nothing.",
    help: "Check the sign of the amounts.",
  });
}

/** Strengths that differ by no more than this share are the same: they went from one scale to another and back. */
const SAME = 1e-11;

/**
 * Water that brings a spirit down to the mass fraction `to`, kg.
 *
 * @throws Trouble `target-outside` unless 0 < to ≤ the spirit's own
 */
export function waterToLetDown(spirit: Liquid, to: number): number {
  needSomething(spirit, "The spirit");
  const from = fractionOf(spirit);
  if (to > 0 && to <= from * (1 + SAME))
    return to >= from * (1 - SAME) ? 0 : spirit.ethanol / to - spirit.ethanol - spirit.water;
  throw new Trouble({
    code: "target-outside",
    says:
      to > from
        ? `Water makes a spirit weaker: ${asVolume(from)} cannot become ${asVolume(to)}.`
        : "No amount of water brings a spirit to 0 %vol.",
    help:
      to > from ? "To raise a strength, add a stronger spirit: fortify." : "Give a strength above 0 %vol.",
  });
}

/**
 * Mass of a stronger spirit (mass fraction `by`) that raises a liquid to the mass fraction `to`, kg.
 *
 * @throws Trouble `target-outside` unless the liquid's own ≤ to < by
 */
export function massToFortify(weak: Liquid, by: number, to: number): number {
  needSomething(weak, "The weak liquid");
  const from = fractionOf(weak);
  if (to >= from * (1 - SAME) && to < by) {
    return Math.max(0, ((to - from) * (weak.ethanol + weak.water)) / (by - to));
  }
  throw new Trouble({
    code: "target-outside",
    says: `Between ${asVolume(from)} and ${asVolume(by)} lies every strength that these two can make, and ${asVolume(to)} is not there.`,
    help: to < from ? "To bring a strength down, add water: let_down." : "Take a stronger spirit.",
  });
}

/** How an exact amount of an exact strength is made up from dosed parts, a neutral spirit and water; kg, less than 0 where it cannot be. */
export interface MakeUp {
  readonly target: Liquid;
  readonly spirit: Liquid;
  readonly water: number;
  readonly contraction: number;
}

/**
 * Parts that are dosed already, brought to `target` with a spirit of mass fraction `by` and water. Amounts below zero
 * tell that the parts hold too much alcohol or too much water: the caller says which.
 *
 * @throws Trouble `target-outside` when the spirit holds no alcohol
 */
export function makeUp(target: Liquid, parts: readonly Liquid[], by: number): MakeUp {
  needSomething(target, "The total");
  for (const part of parts) needNoDebt(part);
  if (!(by > 0)) {
    throw new Trouble({
      code: "target-outside",
      says: "The spirit that makes it up must hold alcohol.",
      help: "Give its strength: with: 96 %vol.",
    });
  }
  const dosed = together(parts);
  const spirit = liquidOfMass((target.ethanol - dosed.ethanol) / by, by);
  const water = target.water - dosed.water - spirit.water;
  const contraction = contractionOf([...parts, spirit, { ethanol: 0, water }], target);
  return { target, spirit, water, contraction };
}

/** What could be made up instead of a total that cannot: the least at the strength asked, or another strength. */
export interface Instead {
  /** Least total at the strength asked. Undefined when no amount of that spirit and water gives it. */
  readonly least?: Liquid;
  /** The strength, by mass, that comes nearest in the total that was asked; undefined when the parts alone are more. */
  readonly nearest?: number;
}

/**
 * What is possible with parts that cannot be made up to a target: with nothing but water where they hold too much
 * alcohol, with nothing but the spirit where they hold too much water.
 *
 * @param amount the total that was asked: its mass, kg, or its volume, m³ at 20 °C
 */
export function insteadOf(
  amount: { readonly mass: number } | { readonly volume: number },
  to: number,
  parts: readonly Liquid[],
  by: number,
): Instead {
  const dosed = together(parts);
  const have = massOf(dosed);
  const withSpirit = (dosed.ethanol - by * have) / (to - by);
  const least = dosed.ethanol >= to * have ? dosed.ethanol / to : to < by ? withSpirit : undefined;
  // In the total asked only one of both is left to add: water for the weakest, the spirit for the strongest.
  const total = (p: number): number => ("mass" in amount ? amount.mass : amount.volume * spiritDensity(p));
  const weakest =
    "mass" in amount
      ? Math.min(1, dosed.ethanol / amount.mass)
      : massFraction(Math.min(1, pureVolumeOf(dosed) / amount.volume));
  const tooStrong = (p: number): number => p * total(p) - dosed.ethanol - (total(p) - have) * by;
  let nearest: number | undefined;
  if (weakest > to) nearest = weakest;
  else if (tooStrong(0) < 0) {
    nearest = rootBetween(tooStrong, 0, to, { what: "the strongest that these parts make up to" });
  }
  return {
    ...(least !== undefined && { least: liquidOfMass(least, to) }),
    ...(nearest !== undefined && have <= total(nearest) && { nearest }),
  };
}

/** Volume that a gram of sucrose takes up, m³/kg: 0.615 to 0.629 mL/g in water; in spirit nobody's table was seen. */
const SUGAR_VOLUME = 0.62e-3;
/**
 * How far that may be off in a spirit of strength q, m³/kg, standard: the common ways to reckon it lie 0.01 mL/g apart
 * to 40 %vol and 0.024 at 60.
 */
export const sugarVolumeError = (q: number): number => (0.01 + 0.07 * Math.max(0, q - 0.4)) * 1e-3;

/** Sugar (kg) dissolved in a spirit: volume, strength by volume, sugar per volume. Volumes m³ at 20 °C. */
export interface Sweetened {
  readonly volume: number;
  readonly strength: number;
  readonly sugarPerVolume: number;
}

/**
 * An estimate: the volume of sugar in spirit was never seen measured, so it takes up what it does in water.
 *
 * @throws Trouble `out-of-range` above 60 %vol or above 500 g of sugar for a litre of spirit
 */
export function sweeten(spirit: Liquid, sugar: number, sugarVolume = SUGAR_VOLUME): Sweetened {
  needSomething(spirit, "The spirit");
  const before = volumeOf(spirit);
  const q = pureVolumeOf(spirit) / before;
  if (q > 0.6 + 1e-12) {
    throw new Trouble({
      code: "out-of-range",
      says: `The volume of sugar in spirit is estimated up to 60 %vol, and this is ${Number((100 * q).toPrecision(4))} %vol.`,
      help: "Let the spirit down first, then sweeten it.",
    });
  }
  if (!(sugar >= 0 && sugar <= 500 * before * (1 + 1e-12))) {
    throw new Trouble({
      code: "out-of-range",
      says: `Sweetening is estimated from 0 to 500 g of sugar for a litre of spirit, and this is ${Number((sugar / before).toPrecision(4))} g.`,
      help: "Check the amount of sugar.",
    });
  }
  const volume = before + sugarVolume * sugar;
  return { volume, strength: pureVolumeOf(spirit) / volume, sugarPerVolume: sugar / volume };
}

/** Volume of water, m³ at 20 °C, from its mass. */
export const waterVolume = (mass: number): number => mass / WATER_DENSITY;

/** A liquid of this volume at `kelvin`, whose strength is stated at 20 °C. */
export const liquidAt = (volume: number, p: number, kelvin: number): Liquid =>
  liquidOfMass(volume * spiritDensity(p, kelvin), p);

/**
 * Masses of a sweet spirit, for one kilogram of it: ethanol, water, sugar.
 *
 * @param strength of the whole liquid: by volume at 20 °C (sugar takes up 0.62 mL/g, an estimate), or by mass
 * @param solids mass fraction of sugar in the whole
 * @throws Trouble `out-of-range` when there is no room left for water
 */
export function sweetLiquid(
  strength: { readonly byVolume: number } | { readonly byMass: number },
  solids: number,
): { readonly ethanol: number; readonly water: number; readonly sugar: number } {
  const rest = 1 - solids;
  let ethanol: number;
  if ("byMass" in strength) ethanol = strength.byMass;
  else {
    const q = strength.byVolume;
    const miss = (p: number): number =>
      (p * rest) / ETHANOL_DENSITY - q * (rest / spiritDensity(p) + SUGAR_VOLUME * solids);
    if (q === 0) ethanol = 0;
    else if (miss(1) <= 0) ethanol = rest;
    else ethanol = rest * rootBetween(miss, 0, 1, { what: "the alcohol of the sweet liquid" });
  }
  const water = rest - ethanol;
  if (water > 0) return { ethanol, water, sugar: solids };
  throw new Trouble({
    code: "out-of-range",
    says: `Alcohol and solids leave no room for water: ${Number((100 * solids).toPrecision(4))} °Bx with that strength cannot be.`,
    help: "Give both for the whole liquid; together they stay below 100 % by mass.",
  });
}
