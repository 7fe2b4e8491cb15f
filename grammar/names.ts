import { endOfWord, normal, RESERVED } from "./words";

/** Whether a name can be written bare: one word, not a reserved one. */
export function isPlainName(name: string): boolean {
  return name !== "" && endOfWord(name, 0) === name.length && !RESERVED.has(name);
}

/** Whether a name can be written at all: not empty, no backtick and no line end in it. */
export function canBeName(name: string): boolean {
  return name.trim() !== "" && !/[`\r\n]/.test(name);
}

/**
 * A name as it is written in a formula: bare when that can be read back, else in backticks. In a cell a bar inside
 * backticks would cut the row, so `inCell` writes it as `\|`.
 */
export function writeName(name: string, inCell = false): string {
  const plain = normal(name);
  if (isPlainName(plain)) return plain;
  return "`" + (inCell ? plain.replaceAll("|", "\\|") : plain) + "`";
}

const DIGITS_FIRST = /^\d[\p{L}\p{M}\p{Nd}_]*$/u;
const DATE_SHAPE = /^\d{4}-\d{2}-\d{2}$/;

/** A name as it is written behind a dot, where any word, digits with letters and a date need no backticks. */
export function writePart(name: string, inCell = false): string {
  const plain = normal(name);
  if (endOfWord(plain, 0) === plain.length && plain !== "") return plain;
  if (DIGITS_FIRST.test(plain) || DATE_SHAPE.test(plain)) return plain;
  return "`" + (inCell ? plain.replaceAll("|", "\\|") : plain) + "`";
}

/**
 * Count of single-character changes (insert, delete, replace, swap of neighbours) between two words, or a number
 * above `most` as soon as that is certain. Characters are code points.
 */
export function editDistance(a: string, b: string, most = Number.POSITIVE_INFINITY): number {
  const left = [...a];
  const right = [...b];
  if (Math.abs(left.length - right.length) > most) return most + 1;
  let before: number[] = [];
  let row = right.map((_, j) => j);
  row.push(right.length);
  for (let i = 1; i <= left.length; i++) {
    const next = [i];
    let smallest = i;
    for (let j = 1; j <= right.length; j++) {
      const same = left[i - 1] === right[j - 1];
      let cost = Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && left[i - 1] === right[j - 2] && left[i - 2] === right[j - 1])
        cost = Math.min(cost, before[j - 2]! + 1);
      next.push(cost);
      if (cost < smallest) smallest = cost;
    }
    if (smallest > most) return most + 1;
    before = row;
    row = next;
  }
  return row[right.length]!;
}

const LONGEST_COMPARED = 64;

/**
 * The candidate that was most likely meant, or nothing when none is near. Letters of either case count as equal;
 * a candidate is near when it differs by at most three changes (and by less than half of what was typed), or
 * when one holds the other; words of fewer than three letters get only a candidate that differs in case. Ties go
 * to the alphabetically first, so that the answer never depends on the order of the candidates.
 */
export function nearName(name: string, candidates: Iterable<string>): string | undefined {
  const typed = normal(name).toLowerCase();
  if (typed.length > LONGEST_COMPARED) return undefined;
  let best: string | undefined;
  let bestScore = Number.POSITIVE_INFINITY;
  for (const candidate of candidates) {
    if (candidate === name) continue;
    const score = distanceScore(typed, normal(candidate).toLowerCase());
    if (score === undefined || score > bestScore) continue;
    if (score < bestScore || best === undefined || candidate < best) {
      best = candidate;
      bestScore = score;
    }
  }
  return best;
}

/** Smaller is nearer; undefined is not near. Part of a longer word counts as worse than three changes. */
function distanceScore(typed: string, candidate: string): number | undefined {
  if (typed === candidate) return 0;
  const letters = [...typed].length;
  if (letters < 3) return undefined;
  const allowed = Math.min(3, Math.ceil(letters / 2) - 1);
  const distance = editDistance(typed, candidate, allowed);
  if (distance <= allowed) return distance;
  if (candidate.length <= LONGEST_COMPARED && candidate.length >= 3)
    if (candidate.includes(typed) || typed.includes(candidate))
      return 4 + Math.abs(candidate.length - typed.length);
  return undefined;
}
