import { type Merged, mergeTexts, mergeWithoutBase } from "../../exchange/merge";
import type { Base } from "../state/bases";

/**
 * Which earlier text two versions of a book go back to. The wrong one would take a change of one version for the will
 * of the other, so it must be near to both; where none is, the two are brought together without one.
 */

/** Below this likeness a text is not taken for the beginning of another. */
const LIKE = 0.5;

const linesOf = (text: string): ReadonlyMap<string, number> => {
  const counts = new Map<string, number>();
  for (const line of text.split(/\r\n|\r|\n/)) {
    const words = line.trim();
    if (words !== "") counts.set(words, (counts.get(words) ?? 0) + 1);
  }
  return counts;
};

/** Share of the lines of two texts that both have, from 0 to 1. */
export function likeness(a: string, b: string): number {
  const [one, two] = [linesOf(a), linesOf(b)];
  let common = 0;
  let all = 0;
  for (const word of new Set([...one.keys(), ...two.keys()])) {
    const [x, y] = [one.get(word) ?? 0, two.get(word) ?? 0];
    common += Math.min(x, y);
    all += Math.max(x, y);
  }
  return all === 0 ? 1 : common / all;
}

/**
 * The earlier text that a version from elsewhere most likely began as: the one most like it, and of equals the oldest.
 * Undefined when none is like enough.
 */
export function likelyBase(bases: readonly Base[], theirs: string): Base | undefined {
  let best: { base: Base; like: number } | undefined;
  for (const base of bases) {
    const like = likeness(base.text, theirs);
    if (like >= LIKE && (best === undefined || like > best.like)) best = { base, like };
  }
  return best?.base;
}

/** Two versions brought together, with the text that both began as where it is known. */
export const mergeFrom = (base: string | undefined, mine: string, theirs: string): Merged =>
  base === undefined ? mergeWithoutBase(mine, theirs) : mergeTexts(base, mine, theirs);
