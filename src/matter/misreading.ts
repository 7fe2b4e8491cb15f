import { Trouble } from "../quantity/trouble";

/**
 * How far alcohol and salt mislead a refractometer or a hydrometer that is marked for sugar. Used only to refuse
 * with a figure: one reading cannot tell sugar from alcohol or salt.
 */

/** Mass fraction of ethanol in water, and what it reads on a sugar scale (mass fraction): CRC indices, read by solidsFromIndex. */
const ETHANOL_READS: readonly (readonly [number, number])[] = [
  [0, 0],
  [0.01, 0.0043],
  [0.05, 0.0209],
  [0.1, 0.0448],
  [0.15, 0.0697],
  [0.2, 0.094],
  [0.25, 0.117],
  [0.3, 0.1363],
  [0.35, 0.1529],
  [0.4, 0.1663],
];

/** Mass fraction of salt in a brine, and what it reads: the same way. */
const SALT_READS: readonly (readonly [number, number])[] = [
  [0, 0],
  [0.01, 0.0119],
  [0.05, 0.0603],
  [0.1, 0.1173],
  [0.16, 0.184],
  [0.26, 0.2908],
];

/** Straight lines between nodes; the last one goes on. */
function between(nodes: readonly (readonly [number, number])[], x: number): number {
  let i = 1;
  while (i < nodes.length - 1 && x > nodes[i]![0]) i++;
  const [x0, y0] = nodes[i - 1]!;
  const [x1, y1] = nodes[i]!;
  return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
}

const brix = (fraction: number): string => `${Number((100 * fraction).toFixed(1))} °Bx`;

/** What ethanol (mass fraction) alone reads on a sugar refractometer, to 40 % by mass; more than that reads less again. */
export const ethanolReads = (ethanol: number): number => between(ETHANOL_READS, Math.min(0.4, ethanol));

/** What salt (mass fraction of the whole) alone reads on a sugar refractometer. */
export const saltReads = (salt: number): number => between(SALT_READS, salt);

/**
 * Refuses a sugar reading of a liquid that holds alcohol or salt.
 *
 * @throws Trouble `misleading-reading` unless both are 0
 */
export function refuseMisreading(ethanol: number, salt: number, by: "index" | "density"): void {
  if (ethanol > 0) {
    throw new Trouble({
      code: "misleading-reading",
      says:
        by === "index"
          ? `With alcohol in it a refractometer does not show the solids: this alcohol alone reads ${brix(ethanolReads(ethanol))}.`
          : "With alcohol in it the density does not show the solids: alcohol makes it lighter and hides sugar.",
      help: "Drive the alcohol off, make the sample up to its old mass with water, and read that.",
    });
  }
  if (salt > 0) {
    throw new Trouble({
      code: "misleading-reading",
      says:
        by === "index"
          ? `With salt in it a refractometer does not show the solids: this salt alone reads ${brix(saltReads(salt))}.`
          : "With salt in it the density does not show the solids: salt weighs about as sugar does, and more.",
      help: "Go by weights: reckon the solids from what went in, and use reduce_salty.",
    });
  }
}
