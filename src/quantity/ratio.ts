/**
 * Exact rational numbers: the scale factors of units. A ratio is in lowest terms and its denominator is
 * positive. The further fields are worked out once, so that arithmetic on many cells never touches bigint.
 * Make ratios with `ratio`, never by hand.
 */
export interface Ratio {
  readonly num: bigint;
  readonly den: bigint;
  /** `num` and `den` as doubles. */
  readonly n: number;
  readonly d: number;
  /** Nearest double. */
  readonly v: number;
  /** Count of decimals when the ratio is a terminating decimal, else -1. */
  readonly dp: number;
  /** `v * 10^dp` as a whole number when it is at most 2^49, else NaN. */
  readonly m: number;
  /** The power when the ratio is a power of ten, else NaN. */
  readonly ten: number;
}

/** Beyond this the integer `m` no longer leaves room for exact work in doubles. */
const ROOM = 2n ** 49n;

/** The greatest common divisor; b is positive. */
function gcd(a: bigint, b: bigint): bigint {
  let x = a < 0n ? -a : a;
  let y = b;
  while (y !== 0n) {
    const rest = x % y;
    x = y;
    y = rest;
  }
  return x;
}

/** Decimals of 1/den, or -1 when 1/den never ends. */
function terminating(den: bigint): number {
  let rest = den;
  let twos = 0;
  let fives = 0;
  while (rest % 2n === 0n) {
    rest /= 2n;
    twos++;
  }
  while (rest % 5n === 0n) {
    rest /= 5n;
    fives++;
  }
  return rest === 1n ? Math.max(twos, fives) : -1;
}

function tenPower(mantissa: bigint, dp: number): number {
  if (mantissa <= 0n) return Number.NaN;
  let zeros = 0;
  let rest = mantissa;
  while (rest % 10n === 0n) {
    rest /= 10n;
    zeros++;
  }
  return rest === 1n ? zeros - dp : Number.NaN;
}

/** The ratio num/den in lowest terms. `den` must not be 0: a unit without size is a mistake of the program. */
export function ratio(num: bigint | number, den: bigint | number = 1n): Ratio {
  let p = BigInt(num);
  let q = BigInt(den);
  if (q === 0n) throw new RangeError("a ratio needs a denominator that is not 0");
  if (q < 0n) {
    p = -p;
    q = -q;
  }
  const g = gcd(p, q);
  if (g > 1n) {
    p /= g;
    q /= g;
  }
  const dp = terminating(q);
  const mantissa = dp < 0 ? 0n : (p * 10n ** BigInt(dp)) / q;
  const fits = dp >= 0 && mantissa <= ROOM && mantissa >= -ROOM;
  return {
    num: p,
    den: q,
    n: Number(p),
    d: Number(q),
    v: dp < 0 ? Number(p) / Number(q) : Number(`${mantissa}e-${dp}`),
    dp,
    m: fits ? Number(mantissa) : Number.NaN,
    ten: tenPower(mantissa, dp),
  };
}

/** A ratio from a plain decimal: `ratioOf("28.349523125")`. */
export function ratioOf(decimal: string): Ratio {
  const point = decimal.indexOf(".");
  if (point < 0) return ratio(BigInt(decimal));
  const decimals = decimal.length - point - 1;
  return ratio(BigInt(decimal.replace(".", "")), 10n ** BigInt(decimals));
}

export const one: Ratio = ratio(1n);

export function ratioTimes(a: Ratio, b: Ratio): Ratio {
  if (isOne(a)) return b;
  if (isOne(b)) return a;
  return ratio(a.num * b.num, a.den * b.den);
}

/** a / b. */
export function ratioOver(a: Ratio, b: Ratio): Ratio {
  return isOne(b) ? a : ratio(a.num * b.den, a.den * b.num);
}

/** a to a whole power, which may be negative. */
export function ratioPower(a: Ratio, power: number): Ratio {
  const times = BigInt(Math.abs(power));
  return power < 0 ? ratio(a.den ** times, a.num ** times) : ratio(a.num ** times, a.den ** times);
}

export function ratioMinus(a: Ratio, b: Ratio): Ratio {
  return ratio(a.num * b.den - b.num * a.den, a.den * b.den);
}

export function isOne(r: Ratio): boolean {
  return r.v === 1 && r.num === r.den;
}

export function sameRatio(a: Ratio, b: Ratio): boolean {
  return a.num === b.num && a.den === b.den;
}

/** v times the ratio, in doubles: 250 mL is 250 * 1 / 1e6 m³, one rounding, and not 250 * 1e-6, two. */
export function applyRatio(v: number, r: Ratio): number {
  return (v * r.n) / r.d;
}
