/**
 * How times are taken: the variants of one measure take turns in one process in rotating order, after a
 * warm-up, so that drift of the machine falls on all of them; a ratio is the median over the rounds of the
 * ratio to the first variant in the same round.
 */

/** Work whose result depends on all of it, so that nothing of it can be left out. */
export type Work = () => number;

export interface Timed {
  /** Median time of one pass, microseconds. */
  readonly micros: number;
  /** Median ratio to the first variant. */
  readonly ratio: number;
}

export interface Protocol {
  readonly warmUp: number;
  readonly sample: number;
  readonly rounds: number;
}

const USUAL: Protocol = { warmUp: 120, sample: 25, rounds: 9 };

/** Keeps the results alive. */
let kept = 0;

function passes(work: Work, milliseconds: number): number {
  const started = performance.now();
  let count = 0;
  do {
    kept += work();
    count++;
  } while (performance.now() - started < milliseconds);
  return ((performance.now() - started) * 1000) / count;
}

export function compared(variants: readonly Work[], protocol: Partial<Protocol> = {}): readonly Timed[] {
  const { warmUp, sample, rounds } = { ...USUAL, ...protocol };
  for (const work of variants) passes(work, warmUp);
  const times = variants.map((): number[] => []);
  for (let round = 0; round < rounds; round++) {
    for (let turn = 0; turn < variants.length; turn++) {
      const i = (turn + round) % variants.length;
      times[i]!.push(passes(variants[i]!, sample));
    }
  }
  if (Number.isNaN(kept)) throw new Error("a measure came to no number");
  return times.map((own) => ({
    micros: median(own),
    ratio: median(own.map((time, round) => time / times[0]![round]!)),
  }));
}

export function median(list: readonly number[]): number {
  const sorted = [...list].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
