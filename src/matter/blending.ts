import { Trouble } from "../quantity/trouble";
import { spiritDensity, volumeFraction } from "./spirit";
import { syrupDensity } from "./sugar";

/**
 * Two stocks brought to one target: the Pearson square. What adds is mass, so strengths are mass fractions of
 * ethanol and solids mass fractions of sugar; volumes (20 °C) go through the density of each liquid and of the mix.
 */

/** What is blended: how it is told, and how a volume of the liquid becomes a mass. */
export interface Property {
  /** A mass fraction (or plain number) in the words of the person: `96 %vol`. */
  readonly show: (fraction: number) => string;
  /** Density at 20 °C, kg/m³. Where it is unknown volumes are taken to add. */
  readonly density?: (fraction: number) => number;
}

const trimmed = (x: number): number => Number(x.toPrecision(6));

/** Ethanol as a mass fraction, told by mass or by volume. */
export const strengthByMass: Property = {
  show: (p) => `${trimmed(100 * p)} %mas`,
  density: (p) => spiritDensity(p),
};
export const strengthByVolume: Property = {
  show: (p) => `${trimmed(100 * volumeFraction(p))} %vol`,
  density: (p) => spiritDensity(p),
};
/** Sugar as a mass fraction. */
export const sugarSolids: Property = {
  show: (w) => `${trimmed(100 * w)} °Bx`,
  density: (w) => syrupDensity(w),
};
/** Any other property that adds by amount: fat, acid, water content. */
export const plainShare: Property = { show: (x) => `${trimmed(100 * x)} %` };

/** Shares of the whole, by mass (by whatever a plain property is counted on). */
export interface Parts {
  readonly rich: number;
  readonly lean: number;
}

const densityOf = (fraction: number, of: Property): number => of.density?.(fraction) ?? 1;

function needProperty(fraction: number, of: Property): void {
  if (Number.isFinite(fraction) && (of.density === undefined || (fraction >= 0 && fraction <= 1))) return;
  throw new Trouble({
    code: "out-of-range",
    says: `No liquid has ${of.show(fraction)}.`,
    help: "Check the number and its unit.",
  });
}

/**
 * Pearson square: the shares of a rich and a lean stock that meet a target between them.
 *
 * @throws Trouble `target-outside` when no mix of the two reaches it, `any-parts` when both stocks are the target already
 */
export function crossParts(rich: number, lean: number, to: number, of: Property = plainShare): Parts {
  for (const p of [rich, lean, to]) needProperty(p, of);
  const low = Math.min(rich, lean);
  const high = Math.max(rich, lean);
  if (to < low || to > high) {
    throw new Trouble({
      code: "target-outside",
      says: `A mix of ${of.show(rich)} and ${of.show(lean)} lies between the two, and ${of.show(to)} does not.`,
      help:
        to > high
          ? "A stock that is richer than the target is needed."
          : "A stock that is leaner than the target is needed; water is leanest of all.",
    });
  }
  if (rich === lean) {
    throw new Trouble({
      code: "any-parts",
      says: `Both stocks are at ${of.show(to)} already, so any parts of them will do.`,
      help: "Choose the parts by something else, such as price or aroma.",
    });
  }
  return { rich: (to - lean) / (rich - lean), lean: (rich - to) / (rich - lean) };
}

/** An amount with the sense that its number has: kg or m³ at 20 °C. */
export type AmountKind = "mass" | "volume";

/**
 * The Pearson square for a total amount: how much of each stock. With volumes of spirit or syrup the mix is
 * made by mass and told in volumes, which add up to more than the total by the contraction.
 */
export function crossFill(
  total: number,
  as: AmountKind,
  rich: number,
  lean: number,
  to: number,
  of: Property = plainShare,
): Parts {
  needAmount(total, "total");
  const parts = crossParts(rich, lean, to, of);
  if (as === "mass") return { rich: parts.rich * total, lean: parts.lean * total };
  const mass = total * densityOf(to, of);
  return {
    rich: (parts.rich * mass) / densityOf(rich, of),
    lean: (parts.lean * mass) / densityOf(lean, of),
  };
}

export interface Added {
  readonly add: number;
  readonly total: number;
}

/**
 * How much of a stock (`other`) brings an amount `have` of a liquid at `at` to the target.
 *
 * @throws Trouble `target-outside` when the stock leads away from the target or does not reach it
 */
export function crossAdd(
  have: number,
  as: AmountKind,
  at: number,
  other: number,
  to: number,
  of: Property = plainShare,
): Added {
  needAmount(have, "amount that you have");
  for (const p of [at, other, to]) needProperty(p, of);
  if (to === at) return { add: 0, total: have };
  const ratio = (to - at) / (other - to);
  if (!(ratio > 0 && Number.isFinite(ratio))) {
    const side = other > at ? "richer" : "leaner";
    throw new Trouble({
      code: "target-outside",
      says:
        `${of.show(to)} does not lie between what you have (${of.show(at)}) ` +
        `and what is added (${of.show(other)}), so no amount reaches it.`,
      help:
        to === other
          ? "The target is that of the stock itself: only an endless amount would do."
          : to > Math.max(at, other) || to < Math.min(at, other)
            ? `Add a stock that is ${to > at ? "richer" : "leaner"} than the target.`
            : `The stock is ${side} than what you have; the target must lie between them.`,
    });
  }
  if (as === "mass") return { add: have * ratio, total: have * (1 + ratio) };
  const mass = have * densityOf(at, of);
  return {
    add: (mass * ratio) / densityOf(other, of),
    total: (mass * (1 + ratio)) / densityOf(to, of),
  };
}

function needAmount(amount: number, what: string): void {
  if (amount >= 0 && Number.isFinite(amount)) return;
  throw new Trouble({ code: "out-of-range", says: `The ${what} cannot be negative.` });
}
