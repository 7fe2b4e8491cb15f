import { format, type Quantity, quantity, sigma } from "../quantity";
import type { Value } from "../vocabulary/value";
import type { Calculation } from "./calculation";
import type { MonteCarlo } from "./report";

/** Where the generator starts, so that every run of the same book draws the same numbers. */
const SEED = 0x1f2e3d4c;
/** From this relative difference of the two standard uncertainties the linear estimate is called poor. */
const POOR = 0.1;
/** Within this many of its own standard errors a difference says nothing. */
const NOISE = 3;

/** Uniform numbers in (0, 1): a 32-bit counter put through a mixing function. Seeded, so no randomness enters a book. */
function uniform(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return (((t ^ (t >>> 14)) >>> 0) + 0.5) / 4294967296;
  };
}

/** Standard normal numbers (G. E. P. Box and M. E. Muller, 1958). */
function normal(seed: number): () => number {
  const next = uniform(seed);
  let spare: number | undefined;
  return () => {
    if (spare !== undefined) {
      const kept = spare;
      spare = undefined;
      return kept;
    }
    const radius = Math.sqrt(-2 * Math.log(next()));
    const angle = 2 * Math.PI * next();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
}

/** The whole of `monteCarloRun` at once. */
export function monteCarlo(...question: Parameters<typeof monteCarloRun>): MonteCarlo | undefined {
  const run = monteCarloRun(...question);
  for (;;) {
    const { done, value } = run.next();
    if (done) return value;
  }
}

/**
 * Propagates distributions instead of derivatives (JCGM 101): every input is drawn anew, normally about its
 * value, and the value at `key` is worked out again, `trials` times. Says when the linear estimate is poor.
 * Yields after each trial how many are done, so that it can be told, paused and given up.
 */
export function* monteCarloRun(
  base: Quantity,
  key: string,
  pick: (calculation: Calculation) => Value,
  calculation: Calculation,
  trials: number,
): Generator<number, MonteCarlo | undefined, void> {
  if (!base.spread || base.spread.size === 0) return undefined;
  const inputs = [...base.spread.keys()];
  const next = normal(SEED);
  const results: number[] = [];
  let outside = 0;
  for (let t = 0; t < trials; t++) {
    const drawn = new Map(inputs.map((input) => [input, next()]));
    calculation.allowance.recount();
    const value = pick(calculation.drawn(key, (input) => drawn.get(input) ?? 0));
    if (value.type === "quantity" && value.unit === base.unit) results.push(value.n.v);
    else outside++;
    yield t + 1;
  }
  if (results.length < 2) return undefined;
  results.sort((a, b) => a - b);
  const mean = results.reduce((s, v) => s + v, 0) / results.length;
  const deviation = Math.sqrt(results.reduce((s, v) => s + (v - mean) ** 2, 0) / (results.length - 1));
  const at = (share: number): number =>
    results[Math.min(results.length - 1, Math.max(0, Math.round(share * (results.length - 1))))]!;
  const linear = sigma(base.spread);
  const noise = NOISE / Math.sqrt(2 * results.length);
  const differs = Math.abs(deviation / linear - 1) > POOR + noise;
  const shifted = Math.abs(mean - base.n.v) > POOR * linear + (NOISE * deviation) / Math.sqrt(results.length);
  const tell = (v: number): string => format(quantity({ v, dp: -1 }, base.unit));
  const poor = differs || shifted || outside > trials / 100;
  return {
    trials,
    mean,
    deviation,
    low: at(0.025),
    high: at(0.975),
    linear,
    outside,
    poor,
    says: poor
      ? `The linear estimate is poor here: ${tell(mean)} with a standard deviation of ${tell(deviation).replace(/ .*$/u, "")} in ${results.length} trials, 95 % of them between ${tell(at(0.025))} and ${tell(at(0.975))}.${outside > 0 ? ` ${outside} trials fell outside a function's range.` : ""}`
      : `${results.length} trials agree with the linear estimate; 95 % of them lie between ${tell(at(0.025))} and ${tell(at(0.975))}.`,
  };
}
