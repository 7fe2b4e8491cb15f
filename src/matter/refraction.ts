import { Trouble } from "../quantity/trouble";
import { rootBetween } from "./bracket";

/** Refractive index (589 nm, 20 °C) of ethanol and water, up to the strength where it stops telling anything. */

/** Mass fraction of ethanol up to which an index tells the strength; near 80 % it turns and falls again. */
export const MOST_BY_INDEX = 0.4;

/** Over powers of the mass fraction; fitted to the CRC table within 6e−5. */
const indexOf = (e: number): number => 1.333 + e * (0.053961 + e * (0.15393 + e * (-0.42655 + e * 0.24817)));
/** Standard error of that fit. */
export const INDEX_ERROR = 3e-5;

/** Index of a clean spirit, mass fraction 0 to 0.40. @throws Trouble `out-of-range` */
export function spiritIndex(e: number): number {
  if (e >= 0 && e <= MOST_BY_INDEX) return indexOf(e);
  throw new Trouble({
    code: "out-of-range",
    says: `The index of a spirit tells its strength up to 40 %mas, and this is ${Number((100 * e).toPrecision(4))} %mas.`,
    help: "Thin it with water by weight.",
  });
}

/**
 * Mass fraction of ethanol of a clean spirit from its index at 20 °C: the inverse of {@link spiritIndex}.
 *
 * @throws Trouble `out-of-range` for more than 40 %mas
 */
export function massFractionFromIndex(index: number): number {
  if (index <= indexOf(0) && index >= indexOf(0) - 1e-4) return 0;
  if (index > indexOf(0) && index <= indexOf(MOST_BY_INDEX)) {
    return rootBetween((e) => indexOf(e) - index, 0, MOST_BY_INDEX, { what: "the strength of this index" });
  }
  throw new Trouble({
    code: "out-of-range",
    says: `A refractometer tells the strength of clean spirit up to 40 %mas, which reads like 16.6 °Bx; this reads ${index < indexOf(0) ? "less than water" : "more"}.`,
    help:
      index < indexOf(0)
        ? "Set the refractometer to zero on clean water."
        : "Weigh spirit and water together, one part and one, stir, read that, and give both weights: spirit: 1, water: 1.",
  });
}

/** Change of the index with the mass fraction of ethanol. */
export const indexSlope = (e: number): number =>
  0.053961 + e * (2 * 0.15393 + e * (-3 * 0.42655 + e * 4 * 0.24817));
