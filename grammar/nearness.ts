import { nearName } from "./names";

/**
 * The nearest of many names. Every name of a long list is compared by its length and by which letters it holds
 * before it is compared in full, so that a long table can be asked for
 * many names that it has not.
 */

interface Prepared {
  readonly masks: Int32Array;
  readonly lengths: Int32Array;
}

/** A list is prepared once; it must not change afterwards. */
const prepared = new WeakMap<readonly string[], Prepared>();

/** Most names of a list that are looked at, and most that are compared in full. */
const MOST_LOOKED_AT = 5_000;
const MOST_COMPARED = 40;
/** `nearName` allows three changes; each alters at most two letters. */
const CHANGES = 3;

/** The nearest of the candidates but for `except`; undefined when none is near. */
export function nearAmong(name: string, candidates: readonly string[], except?: string): string | undefined {
  if (candidates.length <= MOST_COMPARED)
    return nearName(
      name,
      candidates.filter((other) => other !== except),
    );
  const { masks, lengths } = preparedOf(candidates);
  const mask = maskOf(name);
  const { length } = name;
  const close: string[] = [];
  for (let i = 0; i < masks.length && close.length < MOST_COMPARED; i++) {
    const other = masks[i]!;
    const few = Math.abs(lengths[i]! - length) <= 2 * CHANGES && bitsOf(mask ^ other) <= 2 * CHANGES;
    const isClose = few || (mask & ~other) === 0 || (other & ~mask) === 0;
    if (isClose && candidates[i] !== except) close.push(candidates[i]!);
  }
  return nearName(name, close);
}

function preparedOf(candidates: readonly string[]): Prepared {
  let found = prepared.get(candidates);
  if (found === undefined) {
    const count = Math.min(candidates.length, MOST_LOOKED_AT);
    const masks = new Int32Array(count);
    const lengths = new Int32Array(count);
    for (let i = 0; i < count; i++) {
      masks[i] = maskOf(candidates[i]!);
      lengths[i] = candidates[i]!.length;
    }
    found = { masks, lengths };
    prepared.set(candidates, found);
  }
  return found;
}

/** One bit for each letter that a word holds, of either case; letters may share a bit. */
function maskOf(word: string): number {
  const low = word.normalize("NFC").toLowerCase();
  let mask = 0;
  for (let i = 0; i < low.length; i++) mask |= 1 << (low.charCodeAt(i) & 31);
  return mask;
}

function bitsOf(n: number): number {
  let rest = n - ((n >>> 1) & 0x55555555);
  rest = (rest & 0x33333333) + ((rest >>> 2) & 0x33333333);
  return Math.imul((rest + (rest >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}
