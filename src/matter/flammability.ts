import { Trouble } from "../quantity/trouble";

/**
 * Flash point of ethanol and water by strength: [volume fraction, °C]. From 10 to 96 %vol a list seen in two places
 * (believed NFPA 325, method not stated, ±2 °C); for pure ethanol the lowest closed-cup value in use, since a safety
 * note should err that way.
 */
export const FLASH_POINTS: readonly (readonly [number, number])[] = [
  [0.1, 49],
  [0.2, 36],
  [0.3, 29],
  [0.4, 26],
  [0.5, 24],
  [0.6, 22],
  [0.7, 21],
  [0.8, 20],
  [0.9, 17],
  [0.96, 17],
  [1, 12],
];

/** Weakest spirit of the list, as a volume fraction. */
export const LEAST_LISTED = FLASH_POINTS[0]![0];

/**
 * Temperature above which the vapour over a spirit can be lit, K, for guidance only.
 *
 * @param q strength by volume, 0.1 to 1
 * @throws Trouble `out-of-range`
 */
export function flashPoint(q: number): number {
  if (!(q >= 0.1 && q <= 1)) {
    throw new Trouble({
      code: "out-of-range",
      says: `Flash points are listed from 10 to 100 %vol, and this is ${Number((100 * q).toPrecision(4))} %vol.`,
      help: "That a weaker liquid is not listed does not mean that its vapour cannot be lit when it is warm.",
    });
  }
  let i = 1;
  while (q > FLASH_POINTS[i]![0]) i++;
  const [q0, t0] = FLASH_POINTS[i - 1]!;
  const [q1, t1] = FLASH_POINTS[i]!;
  return 273.15 + t0 + ((t1 - t0) * (q - q0)) / (q1 - q0);
}
