/**
 * Standard uncertainty to first order (JCGM 100:2008, 5.1 and 5.2): every measured input is a variable with
 * an identity, and a result carries, for each input, derivative times standard uncertainty, with its sign.
 * Inputs are independent; results that share inputs are correlated through them, so x - x has none left.
 */
export type Spread = ReadonlyMap<string, number>;

/** Terms that cancel to less than this part of the largest are rounding, not uncertainty. */
const RESIDUE = 2 ** -44;

/** The combined standard uncertainty: the root of the sum of squares; 0 without contributions. */
export function sigma(s: Spread | undefined): number {
  if (s === undefined) return 0;
  if (s.size === 1) for (const only of s.values()) return Math.abs(only);
  let largest = 0;
  for (const part of s.values()) largest = Math.max(largest, Math.abs(part));
  if (largest === 0) return 0;
  // Scaled, so that squares neither overflow nor vanish.
  let sum = 0;
  for (const part of s.values()) sum += (part / largest) ** 2;
  return largest * Math.sqrt(sum);
}

/** A linear combination of contributions; terms that cancel are dropped, and nothing left is undefined. */
export function combine(
  terms: readonly { readonly by: number; readonly spread?: Spread }[],
): Spread | undefined {
  let sum: Map<string, number> | undefined;
  let largest: Map<string, number> | undefined;
  for (const { by, spread } of terms) {
    if (spread === undefined || by === 0) continue;
    if (sum === undefined) {
      sum = new Map();
      for (const [input, part] of spread) sum.set(input, part * by);
      continue;
    }
    for (const [input, part] of spread) {
      const term = part * by;
      const before = sum.get(input);
      if (before === undefined) {
        sum.set(input, term);
        continue;
      }
      largest ??= new Map();
      const most = Math.max(largest.get(input) ?? Math.abs(before), Math.abs(term));
      largest.set(input, most);
      const total = before + term;
      sum.set(input, Math.abs(total) <= most * RESIDUE ? 0 : total);
    }
  }
  if (sum === undefined) return undefined;
  for (const [input, part] of sum) if (part === 0) sum.delete(input);
  return sum.size === 0 ? undefined : sum;
}

/** Every contribution times a number. */
export function scaleSpread(s: Spread | undefined, by: number): Spread | undefined {
  if (s === undefined || by === 1) return s;
  return combine([{ by, spread: s }]);
}

/** The covariance of two results, through the inputs that they share. */
export function covariance(a: Spread | undefined, b: Spread | undefined): number {
  if (a === undefined || b === undefined) return 0;
  let sum = 0;
  for (const [input, part] of a) sum += part * (b.get(input) ?? 0);
  return sum;
}
