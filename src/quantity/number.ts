import Big from "big.js";
import { applyRatio, type Ratio } from "./ratio";
import { Trouble } from "./trouble";

/** `dp` of a number that is approximate. */
export const APPROXIMATE = -1;

/**
 * A number: an exact decimal, or an approximate double that came out of a division, a power or physics.
 *
 * While an exact number is at most 2^49 steps of its last decimal (and has at most 22 decimals, for 10^22 is
 * the last power of ten that a double holds), its double and its count of decimals determine it, and all work
 * is done on whole numbers in doubles; the bound leaves room for the rounding of `v * 10^dp`. Beyond it the
 * decimal itself is carried in `big`.
 */
export interface Num {
  /** Nearest double to the value. */
  readonly v: number;
  /** Count of decimals of an exact decimal (0 or more), or `APPROXIMATE`. */
  readonly dp: number;
  /** Present exactly when the number is exact and `v` with `dp` alone do not determine it. */
  readonly big?: Big;
}

/** Most digits of an exact number; a result that needs more becomes approximate. */
export const MOST_DIGITS = 34;
/** Exact numbers stay between 10^-300 and 10^300, well inside the range of doubles. */
const WIDEST_EXPONENT = 300;

const ROOM = 2 ** 49;
/** Powers of ten that are exact in a double. */
const TEN: readonly number[] = Array.from({ length: 23 }, (_, k) => Number(`1e${k}`));

// A constructor of our own: settings that another library makes on the shared one do not reach us.
const Decimal = Big();

function make(mantissa: number, dp: number): Num {
  // + 0 turns -0 into 0, which would print and divide differently.
  return { v: (mantissa + 0) / TEN[dp]!, dp, big: undefined };
}

const NUMBER = /^([-+]?)(\d+)(?:\.(\d*))?(?:[eE]([-+]?\d+))?$/;

/**
 * The exact decimal that a person typed: digits, an optional point, an optional exponent.
 * Trouble when it is no number, has more than 34 digits, or lies outside 10^±300.
 */
export function exact(text: string): Num {
  const match = NUMBER.exec(text);
  if (match === null) {
    throw new Trouble({
      code: "number-unreadable",
      says: `\`${text}\` cannot be read as a number.`,
      help: "Write digits with a decimal point, such as `12.5`.",
    });
  }
  const decimals = match[3] ?? "";
  const digits = match[2]! + decimals;
  const significant = digits.replace(/^0+/, "");
  if (significant.length > MOST_DIGITS) {
    throw new Trouble({
      code: "number-too-long",
      says: `A number has at most ${MOST_DIGITS} digits; this one has ${significant.length}.`,
      help: "Leave out the last digits.",
    });
  }
  const exponent = match[4] === undefined ? 0 : Number(match[4]);
  const dp = Math.max(0, decimals.length - exponent);
  if (significant === "") return make(0, Math.min(dp, TEN.length - 1));
  if (Math.abs(significant.length - 1 - decimals.length + exponent) > WIDEST_EXPONENT) {
    throw new Trouble({
      code: "overflow",
      says: `${text} is outside the numbers that can be worked with, 1e-300 to 1e300.`,
      help: "Choose a unit in which the number is closer to 1.",
    });
  }
  const up = Math.max(0, exponent - decimals.length);
  if (significant.length + up <= 15 && dp < TEN.length) {
    const mantissa = Number(significant + "0".repeat(up));
    if (mantissa <= ROOM) return make(match[1] === "-" ? -mantissa : mantissa, dp);
  }
  return fromBig(new Decimal(`${match[1]}${digits}e${exponent - decimals.length}`));
}

/** An approximate number. Trouble when it is not finite. */
export function approximate(v: number): Num {
  if (!Number.isFinite(v)) {
    throw Number.isNaN(v)
      ? new Trouble({
          code: "not-a-number",
          says: "This has no value among the numbers.",
          help: "Look for a root or logarithm of a negative number, or 0 divided by 0.",
        })
      : new Trouble({
          code: "overflow",
          says: "The result is too large to be worked with.",
          help: "Look for a division by something close to 0, or a large power.",
        });
  }
  return { v: v + 0, dp: APPROXIMATE, big: undefined };
}

/** An exact whole number. A number that is not a whole number in the exact range of doubles is a mistake of the program. */
export function exactInteger(n: number): Num {
  if (!Number.isSafeInteger(n)) throw new RangeError(`${n} is no whole number that a double holds exactly`);
  return Math.abs(n) <= ROOM ? make(n, 0) : { v: n, dp: 0, big: new Decimal(n) };
}

export function isExact(n: Num): boolean {
  return n.dp >= 0;
}

/** The number as a decimal. For an approximate one: the shortest decimal that reads back as the same double. */
export function toBig(n: Num): Big {
  if (n.big !== undefined) return n.big;
  if (n.dp <= 0) return new Decimal(n.v);
  return new Decimal(`${Math.round(n.v * TEN[n.dp]!)}e-${n.dp}`);
}

/** An exact number from a decimal; approximate when it needs more than 34 digits. Trouble when it is too large. */
export function fromBig(b: Big): Num {
  if (b.c[0] === 0) return make(0, 0);
  const v = Number(b.toString());
  if (b.c.length > MOST_DIGITS || Math.abs(b.e) > WIDEST_EXPONENT) return approximate(v);
  const dp = Math.max(0, b.c.length - 1 - b.e);
  if (dp < TEN.length) {
    const mantissa = v * TEN[dp]!;
    if (Math.abs(mantissa) <= ROOM) return make(Math.round(mantissa), dp);
  }
  return { v, dp, big: b };
}

const mantissaOf = (n: Num): number => Math.round(n.v * TEN[n.dp]!);

export function negateNum(a: Num): Num {
  if (a.big !== undefined) return { v: -a.v, dp: a.dp, big: a.big.neg() };
  return { v: 0 - a.v, dp: a.dp, big: undefined };
}

export function addNum(a: Num, b: Num): Num {
  if (a.dp < 0 || b.dp < 0) return approximate(a.v + b.v);
  if (a.big === undefined && b.big === undefined) {
    const dp = Math.max(a.dp, b.dp);
    const ten = TEN[dp]!;
    const x = a.v * ten;
    const y = b.v * ten;
    if (x < ROOM && x > -ROOM && y < ROOM && y > -ROOM) {
      const sum = Math.round(x) + Math.round(y);
      if (sum <= ROOM && sum >= -ROOM) return make(sum, dp);
    }
  }
  return fromBig(toBig(a).plus(toBig(b)));
}

/**
 * The sum of many numbers. Exact numbers add exactly whatever their order, and only the total is held to 34
 * digits; among approximate ones the rounding of each step is carried along (Neumaier).
 */
export function sumNum(list: Iterable<Num>): Num {
  // Exact part: `mantissa` in steps of 10^-dp, spilled into `big` before it outgrows a double.
  let mantissa = 0;
  let dp = 0;
  let big: Big | undefined;
  const spill = (next: Big): void => {
    const held = new Decimal(`${mantissa}e-${dp}`);
    big = (big === undefined ? held : big.plus(held)).plus(next);
    mantissa = 0;
  };
  let approximately = false;
  let sum = 0;
  let rest = 0;
  for (const n of list) {
    if (n.dp < 0) {
      approximately = true;
      const next = sum + n.v;
      rest += Math.abs(sum) >= Math.abs(n.v) ? sum - next + n.v : n.v - next + sum;
      sum = next;
      continue;
    }
    if (n.big !== undefined) {
      spill(n.big);
      continue;
    }
    if (n.dp > dp) {
      const scaled = mantissa * TEN[n.dp - dp]!;
      if (scaled > ROOM || scaled < -ROOM) spill(new Decimal(0));
      else mantissa = scaled;
      dp = n.dp;
    }
    const x = n.v * TEN[dp]!;
    const next = x > ROOM || x < -ROOM ? Number.POSITIVE_INFINITY : mantissa + Math.round(x);
    if (next > ROOM || next < -ROOM) spill(toBig(n));
    else mantissa = next;
  }
  const exactly =
    big === undefined ? make(mantissa, dp) : fromBig(big.plus(new Decimal(`${mantissa}e-${dp}`)));
  return approximately ? approximate(exactly.v + (sum + rest)) : exactly;
}

export function subtractNum(a: Num, b: Num): Num {
  if (a.dp < 0 || b.dp < 0) return approximate(a.v - b.v);
  return addNum(a, negateNum(b));
}

export function multiplyNum(a: Num, b: Num): Num {
  if (a.dp < 0 || b.dp < 0) return approximate(a.v * b.v);
  if (a.big === undefined && b.big === undefined) {
    const dp = a.dp + b.dp;
    if (dp < TEN.length) {
      // The product of two whole doubles is exact up to 2^53, so a rounded product at most 2^49 is exact.
      const product = mantissaOf(a) * mantissaOf(b);
      if (product <= ROOM && product >= -ROOM) return make(product, dp);
    }
  }
  return fromBig(toBig(a).times(toBig(b)));
}

/** The number times 10^power. Exact numbers stay exact. */
export function shiftNum(a: Num, power: number): Num {
  if (a.dp < 0) return approximate(power < 0 ? a.v / 10 ** -power : a.v * 10 ** power);
  if (a.big === undefined) {
    const dp = a.dp - power;
    if (dp >= 0 && dp < TEN.length) return make(mantissaOf(a), dp);
    if (dp < 0 && -dp < TEN.length) {
      const mantissa = mantissaOf(a) * TEN[-dp]!;
      if (mantissa <= ROOM && mantissa >= -ROOM) return make(mantissa, 0);
    }
  }
  return fromBig(toBig(a).times(new Decimal(`1e${power}`)));
}

/** k when the number is exactly 10^k, else NaN. */
export function powerOfTen(n: Num): number {
  if (n.dp < 0 || n.v <= 0) return Number.NaN;
  const big = toBig(n);
  return big.c.length === 1 && big.c[0] === 1 ? big.e : Number.NaN;
}

const divisionByZero = (): Trouble =>
  new Trouble({
    code: "division-by-zero",
    says: "This divides by 0.",
    help: "Check the value behind the `/`.",
  });

/**
 * a / b, approximate. Exact only when `literal` says that b is a literal and it is a power of ten.
 * Trouble when b is 0.
 */
export function divideNum(a: Num, b: Num, literal = false): Num {
  if (b.v === 0) throw divisionByZero();
  if (literal && a.dp >= 0) {
    const power = powerOfTen(b);
    if (!Number.isNaN(power)) return shiftNum(a, -power);
  }
  return approximate(a.v / b.v);
}

/** a * b * factor. Exact when all three are. */
export function multiplyScaled(a: Num, b: Num, factor: Ratio): Num {
  if (a.dp >= 0 && b.dp >= 0) return scaleNum(multiplyNum(a, b), factor);
  return approximate(applyRatio(a.v * b.v, factor));
}

/**
 * a / b * factor, rounded as little as doubles allow: 2.4 L / 200 mL is 2400 / 200, not 0.012 * 1000.
 * The same rule as `divideNum` for exactness.
 */
export function divideScaled(a: Num, b: Num, factor: Ratio, literal = false): Num {
  if (b.v === 0) throw divisionByZero();
  if (literal && a.dp >= 0) {
    const power = powerOfTen(b);
    if (!Number.isNaN(power)) return scaleNum(shiftNum(a, -power), factor);
  }
  return approximate((a.v * factor.n) / (b.v * factor.d));
}

/**
 * A double to a power. Whole powers by repeated squaring, because `Math.pow` may differ in the last digit
 * from one JavaScript engine to the next.
 */
export function raise(base: number, exponent: number): number {
  if (!Number.isInteger(exponent) || Math.abs(exponent) > 1024) return base ** exponent;
  let rest = Math.abs(exponent);
  let square = base;
  let product = 1;
  while (rest > 0) {
    if (rest % 2 === 1) product *= square;
    rest = Math.floor(rest / 2);
    if (rest > 0) square *= square;
  }
  return exponent < 0 ? 1 / product : product;
}

/** a to the power b, approximate. Trouble when there is no such number. */
export function powerNum(a: Num, b: Num): Num {
  if (a.v === 0 && b.v < 0) throw divisionByZero();
  if (a.v < 0 && !Number.isInteger(b.v)) {
    throw new Trouble({
      code: "not-a-number",
      says: "A negative number has no power that is not a whole number.",
      help: "Check the number before the `^`.",
    });
  }
  return approximate(raise(a.v, b.v));
}

/** Exact pairs are compared exactly, all others as doubles. */
export function compareNum(a: Num, b: Num): -1 | 0 | 1 {
  // Without `big` on either side the doubles of two different decimals differ (see ROOM).
  if (a.dp >= 0 && b.dp >= 0 && (a.big !== undefined || b.big !== undefined)) return toBig(a).cmp(toBig(b));
  return a.v < b.v ? -1 : a.v > b.v ? 1 : 0;
}

/** n times a unit's factor: exact when n is and the factor is a terminating decimal. */
export function scaleNum(n: Num, factor: Ratio): Num {
  if (factor.v === 1 && factor.num === factor.den) return n;
  if (n.dp < 0 || factor.dp < 0) return approximate(applyRatio(n.v, factor));
  if (!Number.isNaN(factor.ten)) return shiftNum(n, factor.ten);
  if (n.big === undefined) {
    const dp = n.dp + factor.dp;
    const product = mantissaOf(n) * factor.m;
    if (dp < TEN.length && product <= ROOM && product >= -ROOM) return make(product, dp);
  }
  return fromBig(toBig(n).times(ratioBig(factor)));
}

/** n * factor + shift, as for temperatures. */
export function affineNum(n: Num, factor: Ratio, shift: Ratio | undefined): Num {
  if (shift === undefined) return scaleNum(n, factor);
  if (n.dp >= 0 && factor.dp >= 0 && shift.dp >= 0) {
    return addNum(scaleNum(n, factor), fromBig(ratioBig(shift)));
  }
  // One common denominator and one division: 77 °F comes to 25 °C, not 25.000000000000004.
  return approximate((n.v * factor.n * shift.d + shift.n * factor.d) / (factor.d * shift.d));
}

/** A terminating ratio as a decimal. */
function ratioBig(r: Ratio): Big {
  const mantissa = (r.num * 10n ** BigInt(r.dp)) / r.den;
  return new Decimal(`${mantissa}e-${r.dp}`);
}

/** The exact value of a number as a fraction of whole numbers; of an approximate one, that of its double's shortest decimal. */
export function fractionOf(n: Num): { readonly num: bigint; readonly den: bigint } {
  const big = toBig(n);
  const digits = BigInt(big.c.join("")) * BigInt(big.s);
  const decimals = big.c.length - 1 - big.e;
  return decimals >= 0
    ? { num: digits, den: 10n ** BigInt(decimals) }
    : { num: digits * 10n ** BigInt(-decimals), den: 1n };
}

/** How close to a whole number an approximate value counts as that number. */
const NEARLY = 1e-9;

/**
 * The whole number below, above or nearest (halves away from 0). An approximate value within 1e-9 of a whole
 * number counts as that number, for in doubles 0.3 / 0.1 is 2.9999999999999996. The result is exact when it
 * is below 2^53.
 */
export function wholeNum(n: Num, way: "down" | "up" | "nearest"): Num {
  if (n.dp < 0) {
    const nearest = Math.round(Math.abs(n.v)) * Math.sign(n.v);
    const close = Math.abs(n.v - nearest) <= NEARLY;
    const whole = close || way === "nearest" ? nearest : way === "down" ? Math.floor(n.v) : Math.ceil(n.v);
    return Number.isSafeInteger(whole) ? exactInteger(whole + 0) : approximate(whole);
  }
  const big = toBig(n);
  if (way === "nearest") return fromBig(big.round(0, Decimal.roundHalfUp));
  const cut = big.round(0, Decimal.roundDown);
  if (cut.eq(big)) return fromBig(cut);
  if (way === "down") return fromBig(n.v < 0 ? cut.minus(1) : cut);
  return fromBig(n.v < 0 ? cut : cut.plus(1));
}
