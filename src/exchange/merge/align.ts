import type { Unit } from "./units";

/** How one version came out of the base. */
export interface Edit {
  /** For each unit of the base its index in the version, or undefined when it is gone. */
  readonly kept: readonly (number | undefined)[];
  /** For each place before a unit of the base (the last is behind all) the indices put there. */
  readonly inserted: readonly (readonly number[])[];
}

/**
 * Aligns two lists of units: what has one key is the same thing, in order. Between what is the same, a unit that
 * went and one of its kind that came count as one that was changed.
 */
export function alignUnits(old: readonly Unit[], now: readonly Unit[]): Edit {
  const kept: (number | undefined)[] = new Array(old.length).fill(undefined);
  match(old, 0, old.length, now, 0, now.length, kept);
  pairChanged(old, now, kept);
  const inserted: number[][] = Array.from({ length: old.length + 1 }, () => []);
  const taken = new Set(kept.filter((j) => j !== undefined));
  let gap = 0;
  const baseOf = new Map<number, number>();
  kept.forEach((j, i) => {
    if (j !== undefined) baseOf.set(j, i);
  });
  now.forEach((_, j) => {
    if (taken.has(j)) gap = baseOf.get(j)! + 1;
    else inserted[gap]!.push(j);
  });
  return { kept, inserted };
}

function match(
  old: readonly Unit[],
  from: number,
  to: number,
  now: readonly Unit[],
  start: number,
  stop: number,
  kept: (number | undefined)[],
): void {
  let [a, b, c, d] = [from, to, start, stop];
  while (a < b && c < d && old[a]!.key === now[c]!.key) kept[a++] = c++;
  while (a < b && c < d && old[b - 1]!.key === now[d - 1]!.key) kept[--b] = --d;
  if (a >= b || c >= d) return;
  const anchors = uniqueInBoth(old, a, b, now, c, d);
  if (anchors.length === 0) {
    longest(old, a, b, now, c, d, kept);
    return;
  }
  let [i, j] = [a, c];
  for (const [x, y] of [...anchors, [b, d] as const]) {
    match(old, i, x, now, j, y, kept);
    if (x < b) kept[x] = y;
    [i, j] = [x + 1, y + 1];
  }
}

/** Keys that stand once on each side, as the longest list of pairs that keeps the order. */
function uniqueInBoth(
  old: readonly Unit[],
  a: number,
  b: number,
  now: readonly Unit[],
  c: number,
  d: number,
) {
  const once = (units: readonly Unit[], from: number, to: number): Map<string, number> => {
    const found = new Map<string, number>();
    const seen = new Set<string>();
    for (let i = from; i < to; i++) {
      const { key } = units[i]!;
      if (seen.has(key)) found.delete(key);
      else found.set(key, i);
      seen.add(key);
    }
    return found;
  };
  const theirs = once(now, c, d);
  const pairs = [...once(old, a, b)].flatMap(([key, i]) => {
    const j = theirs.get(key);
    return j === undefined ? [] : [[i, j] as const];
  });
  return increasing(pairs);
}

/** Longest increasing run of second entries, the pairs being in the order of the first. */
function increasing(pairs: readonly (readonly [number, number])[]): (readonly [number, number])[] {
  const tails: number[] = [];
  const before: number[] = [];
  pairs.forEach(([, j], k) => {
    let [low, high] = [0, tails.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (pairs[tails[middle]!]![1] < j) low = middle + 1;
      else high = middle;
    }
    before[k] = low === 0 ? -1 : tails[low - 1]!;
    tails[low] = k;
  });
  const out: (readonly [number, number])[] = [];
  for (let k = tails.length === 0 ? -1 : tails[tails.length - 1]!; k >= 0; k = before[k]!)
    out.push(pairs[k]!);
  return out.reverse();
}

/** Cells of the table below which the longest common run is worked out in full. */
const MOST_CELLS = 4_000_000;

function longest(
  old: readonly Unit[],
  a: number,
  b: number,
  now: readonly Unit[],
  c: number,
  d: number,
  kept: (number | undefined)[],
): void {
  const [n, m] = [b - a, d - c];
  if (n * m > MOST_CELLS) return;
  const width = m + 1;
  const table = new Uint32Array((n + 1) * width);
  for (let i = n - 1; i >= 0; i--) {
    for (let j = m - 1; j >= 0; j--) {
      table[i * width + j] =
        old[a + i]!.key === now[c + j]!.key
          ? table[(i + 1) * width + j + 1]! + 1
          : Math.max(table[(i + 1) * width + j]!, table[i * width + j + 1]!);
    }
  }
  let [i, j] = [0, 0];
  while (i < n && j < m) {
    if (old[a + i]!.key === now[c + j]!.key) kept[a + i++] = c + j++;
    else if (table[(i + 1) * width + j]! >= table[i * width + j + 1]!) i++;
    else j++;
  }
}

/** Pairs, between what is the same, units that went with units of their kind that came. */
function pairChanged(old: readonly Unit[], now: readonly Unit[], kept: (number | undefined)[]): void {
  const keysNow = new Set(now.map((u) => u.key));
  const keysOld = new Set(old.map((u) => u.key));
  let i = 0;
  let j = 0;
  while (i <= old.length) {
    // The stretch up to the next unit that is the same.
    let x = i;
    while (x < old.length && kept[x] === undefined) x++;
    const y = x < old.length ? kept[x]! : now.length;
    let next = j;
    for (let k = i; k < x; k++) {
      // What stands elsewhere under its own name was moved, not changed.
      if (old[k]!.named && keysNow.has(old[k]!.key)) continue;
      let candidate = next;
      while (
        candidate < y &&
        (now[candidate]!.kind !== old[k]!.kind || (now[candidate]!.named && keysOld.has(now[candidate]!.key)))
      )
        candidate++;
      if (candidate >= y || blank(old[k]!) !== blank(now[candidate]!)) continue;
      kept[k] = candidate;
      next = candidate + 1;
    }
    i = x + 1;
    j = y + 1;
  }
}

const blank = (u: Unit): boolean => u.kind === "line" && u.body.trim() === "";
