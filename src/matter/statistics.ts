import { Trouble } from "../quantity/trouble";

/**
 * Statistics of a handful of bench runs: spread, Student's t, Welch's comparison, a straight line.
 * All functions take plain numbers and give plain numbers; none says that anything is "significant".
 *
 * Sources: Student's t through the regularised incomplete beta function, continued fraction of
 * Abramowitz and Stegun 26.5.8 and 26.7.1, evaluated by the modified Lentz method (Thompson and Barnett 1986);
 * log gamma by the Lanczos series with g = 7 and nine terms. Checked in tests/published against printed
 * t tables and the certified values of the NIST Statistical Reference Datasets.
 */

/** Sum with the running error of each addition carried along (Neumaier 1974), so that order hardly matters. */
export function total(xs: readonly number[]): number {
  let sum = 0;
  let error = 0;
  for (const x of xs) {
    const next = sum + x;
    error += Math.abs(sum) >= Math.abs(x) ? sum - next + x : x - next + sum;
    sum = next;
  }
  return sum + error;
}

/** Arithmetic mean of one or more numbers. */
export function mean(xs: readonly number[]): number {
  return total(xs) / xs.length;
}

/**
 * Sample standard deviation, divisor n - 1, of two or more numbers. Two passes: deviations are taken from
 * the mean before they are squared, so that runs which differ in the last digit only keep it. The mean of the
 * deviations, zero but for rounding, is taken off again.
 */
export function standardDeviation(xs: readonly number[]): number {
  const n = xs.length;
  const m = mean(xs);
  const deviations = xs.map((x) => x - m);
  const slip = total(deviations);
  const squares = total(deviations.map((d) => d * d)) - (slip * slip) / n;
  return Math.sqrt(Math.max(0, squares) / (n - 1));
}

/**
 * How well n runs fix their own standard deviation: relative standard uncertainty of s, for runs that scatter
 * normally. sqrt(1 - c²)/c with c = sqrt(2/(n - 1)) Γ(n/2)/Γ((n - 1)/2); 0.76 for 2 runs, 0.24 for 10.
 */
export function doubtOfDeviation(n: number): number {
  const c = Math.sqrt(2 / (n - 1)) * Math.exp(logGamma(n / 2) - logGamma((n - 1) / 2));
  return Math.sqrt(1 - c * c) / c;
}

const lanczos = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
] as const;

/** Natural logarithm of the gamma function for x > 0; relative error of the gamma function about 1e-15. */
export function logGamma(x: number): number {
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  const z = x - 1;
  const t = z + 7.5;
  let series: number = lanczos[0];
  for (let i = 1; i < lanczos.length; i++) series += lanczos[i]! / (z + i);
  return 0.5 * Math.log(2 * Math.PI) + (z + 0.5) * Math.log(t) - t + Math.log(series);
}

/**
 * Regularised incomplete beta function I_x(a, b) for a, b > 0 and x within 0 to 1, given with 1 - x so that
 * neither end loses digits.
 */
export function incompleteBeta(x: number, rest: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (rest <= 0) return 1;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log(rest));
  // The fraction converges quickly on this side of the distribution's middle only.
  return x < (a + 1) / (a + b + 2)
    ? (front * betaFraction(x, a, b)) / a
    : 1 - (front * betaFraction(rest, b, a)) / b;
}

/** The continued fraction of the incomplete beta function (A&S 26.5.8), modified Lentz method. */
function betaFraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  const away = (v: number) => (Math.abs(v) < tiny ? tiny : v);
  let c = 1;
  let d = 1 / away(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  // Steps needed grow with the root of the larger parameter; a list has at most 100,000 entries.
  for (let m = 1; m <= 10_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / away(1 + even * d);
    c = away(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / away(1 + odd * d);
    c = away(1 + odd / c);
    const step = d * c;
    fraction *= step;
    if (Math.abs(step - 1) < 1e-15) return fraction;
  }
  throw new Trouble({
    code: "no-convergence",
    says: `The t distribution did not settle for these entries (parameters ${a} and ${b}).`,
    help: "Compare smaller groups of runs.",
  });
}

/** Probability that |T| is at least |t|, for Student's t with this many degrees of freedom (need not be whole). */
export function bothTails(t: number, freedom: number): number {
  const squares = t * t;
  return incompleteBeta(freedom / (freedom + squares), squares / (freedom + squares), freedom / 2, 0.5);
}

/**
 * The t that |T| exceeds with probability `outside`: 12.706 for 0.05 and 1 degree of freedom, 2.571 for 5.
 * `freedom` > 0, `outside` between 0 and 1.
 */
export function quantileOfT(outside: number, freedom: number): number {
  let low = 0;
  let high = 1;
  while (bothTails(high, freedom) > outside) {
    low = high;
    high *= 2;
  }
  // Halving to the last bit: some fifty steps, the same on every machine.
  for (;;) {
    const middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) return middle;
    if (bothTails(middle, freedom) > outside) low = middle;
    else high = middle;
  }
}

/** What is known of a group of runs. */
export interface Sample {
  readonly count: number;
  readonly mean: number;
  readonly deviation: number;
}

export function sampleOf(xs: readonly number[]): Sample {
  return { count: xs.length, mean: mean(xs), deviation: standardDeviation(xs) };
}

/** Half the width of the 95 % interval for the mean of two or more runs: t s / sqrt(n). */
export function halfInterval(sample: Sample): number {
  return (quantileOfT(0.05, sample.count - 1) * sample.deviation) / Math.sqrt(sample.count);
}

/** A comparison of the means of two groups. */
export interface Comparison {
  /** Mean of the first group minus mean of the second. */
  readonly difference: number;
  /** 95 % interval of the difference. */
  readonly low: number;
  readonly high: number;
  /** Share of such pairs of groups that would differ at least this much if nothing but chance were at work. */
  readonly chance: number;
  readonly freedom: number;
  readonly t: number;
}

/**
 * Welch's comparison (Biometrika 34 (1947) 28): the groups may scatter differently. Degrees of freedom after
 * Welch and Satterthwaite. Each group needs two runs and at least one must scatter.
 */
export function compareMeans(a: Sample, b: Sample): Comparison {
  const ofA = (a.deviation * a.deviation) / a.count;
  const ofB = (b.deviation * b.deviation) / b.count;
  const variance = ofA + ofB;
  if (variance === 0) {
    throw new Trouble({
      code: "no-scatter",
      says: "Neither group scatters at all: every entry of each is the same, so chance cannot be judged.",
      help: "Give the readings as they were read, unrounded, or compare the two values directly.",
    });
  }
  // Shares of the variance, so that very small or large units neither vanish nor overflow when squared.
  const shareA = ofA / variance;
  const shareB = ofB / variance;
  const freedom = 1 / ((shareA * shareA) / (a.count - 1) + (shareB * shareB) / (b.count - 1));
  const error = Math.sqrt(variance);
  const difference = a.mean - b.mean;
  const half = quantileOfT(0.05, freedom) * error;
  const t = difference / error;
  return {
    difference,
    low: difference - half,
    high: difference + half,
    chance: bothTails(t, freedom),
    freedom,
    t,
  };
}

/** A straight line through points by least squares. */
export interface Line {
  readonly slope: number;
  readonly intercept: number;
  /** Standard error of the slope from the scatter about the line; undefined for two points, which leave none. */
  readonly slopeError?: number;
}

/** Least squares of y on x for two or more points whose x differ. */
export function fitLine(xs: readonly number[], ys: readonly number[]): Line {
  const n = xs.length;
  const middleX = mean(xs);
  const middleY = mean(ys);
  const dx = xs.map((x) => x - middleX);
  const dy = ys.map((y) => y - middleY);
  const squares = total(dx.map((d) => d * d));
  if (squares === 0) {
    throw new Trouble({
      code: "no-span",
      says: "All entries of `by` are the same, so nothing can be said about a change along it.",
      help: "Leave `by` out to count the entries 1, 2, 3, or give a column that changes.",
    });
  }
  const slope = total(dx.map((d, i) => d * dy[i]!)) / squares;
  const intercept = middleY - slope * middleX;
  if (n < 3) return { slope, intercept };
  const left = total(dx.map((d, i) => (dy[i]! - slope * d) ** 2));
  return { slope, intercept, slopeError: Math.sqrt(left / (n - 2) / squares) };
}
