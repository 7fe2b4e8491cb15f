import { Trouble } from "../quantity/trouble";

/**
 * Freezing points of glycol and water: °C by mass per cent of glycol. Evaluated with CoolProp 8.0, whose data are
 * attributed to Melinder 2010; the minimum shares for −5 to −25 °C come from the same curve. The other curve in use
 * (ASHRAE) is a kelvin colder at most, so these err on the safe side.
 */
const CURVES = {
  ethylene: [
    [0, 0],
    [10, -3.36],
    [14, -5],
    [20, -7.95],
    [23.5, -10],
    [25, -10.97],
    [30, -14.58],
    [35, -18.84],
    [40, -23.81],
    [45, -29.52],
    [50, -35.99],
  ],
  propylene: [
    [0, 0],
    [10, -2.87],
    [15.3, -5],
    [20, -7.17],
    [25, -9.79],
    [30, -12.79],
    [35, -16.32],
    [40, -20.57],
    [45, -25.77],
    [50, -32.19],
  ],
} as const;

export type Glycol = keyof typeof CURVES;
export const GLYCOLS = Object.keys(CURVES) as readonly Glycol[];

/** Standard error, K: half the widest gap between the two curves in use. */
export const COOLANT_ERROR = 0.5;

/**
 * Temperature at which a coolant of glycol and water begins to freeze, K; straight lines between the nodes, within
 * 0.15 K of the curve.
 *
 * @param share mass fraction of glycol, 0 to 0.5
 * @throws Trouble `out-of-range`
 */
export function coolantFreezing(glycol: Glycol, share: number): number {
  if (!(share >= 0 && share <= 0.5)) {
    throw new Trouble({
      code: "out-of-range",
      says: `The freezing of a glycol coolant is listed for 0 to 50 % glycol by mass, and this is ${Number((100 * share).toPrecision(4))} %.`,
      help: "More glycol makes it thick and costs cold; few chillers want more than 50 %.",
    });
  }
  const nodes: readonly (readonly [number, number])[] = CURVES[glycol];
  const percent = 100 * share;
  let i = 1;
  while (i < nodes.length - 1 && percent > nodes[i]![0]) i++;
  const [x0, t0] = nodes[i - 1]!;
  const [x1, t1] = nodes[i]!;
  return 273.15 + t0 + ((t1 - t0) * (percent - x0)) / (x1 - x0);
}
