import { Trouble } from "../quantity/trouble";

/** How a root was asked for: words for the message, and when to be content. */
export interface BracketOptions {
  /** What is looked for, in a message: "the solids of this density". */
  readonly what: string;
  /** Width of the bracket at which to stop; zero means the resolution of a double (and 1e-20 of the bracket beside 0). */
  readonly width?: number;
}

const MOST_STEPS = 200;

/**
 * The root of `f` between `low` and `high`, where `f` must change sign.
 *
 * Chandrupatla's method (Adv. Eng. Softw. 28 (1997) 145): inverse quadratic interpolation where it is safe,
 * bisection elsewhere, so the bracket always holds the root. The same arguments give the same bits.
 *
 * @throws Trouble `no-sign-change` when the ends do not enclose a root, `did-not-converge` after 200 steps or where `f` is no number:
 * never the last trial dressed up as an answer.
 */
export function rootBetween(
  f: (x: number) => number,
  low: number,
  high: number,
  options: BracketOptions,
): number {
  let a = low;
  let b = high;
  let fa = f(a);
  let fb = f(b);
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(Math.sign(fa) * Math.sign(fb) < 0)) {
    throw new Trouble({
      code: "no-sign-change",
      says: `No answer for ${options.what} lies between the ends of its range.`,
      help: "Check the numbers that go in; one of them is probably mistyped or in another unit.",
    });
  }
  // Beside zero the resolution of a double has no end; a root that small is zero to whoever asked.
  const nought = 1e-20 * Math.abs(high - low);
  let c = a;
  let fc = fa;
  let t = 0.5;
  for (let step = 0; step < MOST_STEPS; step++) {
    const x = a + t * (b - a);
    const fx = f(x);
    if (Number.isNaN(fx)) break;
    if (Math.sign(fx) === Math.sign(fa)) {
      c = a;
      fc = fa;
    } else {
      c = b;
      fc = fb;
      b = a;
      fb = fa;
    }
    a = x;
    fa = fx;
    const best = Math.abs(fa) < Math.abs(fb) ? a : b;
    const finest = 2 * Number.EPSILON * Math.abs(best) + nought + 0.5 * (options.width ?? 0);
    const share = finest / Math.abs(b - a);
    if (share > 0.5 || fa === 0) return fa === 0 ? a : best;
    const xi = (a - b) / (c - b);
    const phi = (fa - fb) / (fc - fb);
    const quadratic = phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi;
    t = quadratic
      ? (fa / (fb - fa)) * (fc / (fb - fc)) + ((c - a) / (b - a)) * (fa / (fc - fa)) * (fb / (fc - fb))
      : 0.5;
    t = Math.min(1 - share, Math.max(share, t));
  }
  throw new Trouble({
    code: "did-not-converge",
    says: `The search for ${options.what} did not settle, so there is no answer to give.`,
    help: "Try slightly different numbers, and report the formula if it happens again.",
  });
}
