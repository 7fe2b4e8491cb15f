/**
 * Names as a person means them: two writings are the same name when they differ only in case, in blanks or in how
 * an accented letter is put together.
 */
export function foldName(name: string): string {
  return name.normalize("NFC").trim().replace(/\s+/gu, " ").toLowerCase().normalize("NFC");
}

/**
 * The candidate that was probably meant: least number of letters changed, left out, added or swapped, at most one
 * for every three letters; of equals the first. Undefined when nothing is near.
 */
export function nearName(name: string, candidates: Iterable<string>): string | undefined {
  const wanted = foldName(name);
  let best: string | undefined;
  let least = Math.floor(Math.max(wanted.length, 3) / 3) + 1;
  for (const candidate of candidates) {
    const folded = foldName(candidate);
    if (folded === "" || Math.abs(folded.length - wanted.length) >= least) continue;
    const changes = changesBetween(wanted, folded, least);
    if (changes < least) {
      least = changes;
      best = candidate;
    }
  }
  return best;
}

/** Optimal string alignment distance, given up at `most`. */
function changesBetween(a: string, b: string, most: number): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    let least = i;
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let changes = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        changes = Math.min(changes, before[j - 2]! + 1);
      }
      row.push(changes);
      least = Math.min(least, changes);
    }
    if (least >= most) return most;
    before = last;
    last = row;
  }
  return last[b.length]!;
}
