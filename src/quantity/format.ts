import Big from "big.js";
import { currencies } from "./currency";
import { currencyOf } from "./dimension";
import { type Num, toBig } from "./number";
import type { Quantity } from "./quantity";
import { sigma } from "./spread";

/** How a value is written. */
export interface FormatOptions {
  /** Significant digits of approximate values, 1 to 12 (`--digits`); default five. */
  readonly digits?: number;
  /** A fixed count of decimals, for a column. */
  readonly decimals?: number;
}

const APPROXIMATE_DIGITS = 5;
const MOST_DIGITS = 12;
/** Outside 10^-12 to 10^34 numbers are written with an exponent, so that no line runs to hundreds of digits. */
const LOWEST = -12;
const HIGHEST = 34;

const Decimal = Big();
const HALF_UP = Decimal.roundHalfUp;

/** From here on a whole part of a double is shown digit by digit, and 15 digits would cut into it. */
const LONG_WHOLE = 1e12;

/** The decimal that is rounded for printing: 15 digits of a double, so that 2.675 counts as the tie that it looks like. */
function decimalOf(n: Num): Big {
  if (n.dp >= 0) return toBig(n);
  return new Decimal(Math.abs(n.v) < LONG_WHOLE ? n.v.toPrecision(15) : n.v);
}

/** Decimals that `digits` significant digits of a number need; not below 0, for whole parts are never shortened. */
function decimalsFor(b: Big, digits: number): number {
  if (b.c[0] === 0) return 0;
  const rounded = b.prec(digits, HALF_UP);
  return Math.max(0, rounded.c.length - 1 - rounded.e);
}

function fixed(b: Big, decimals: number): string {
  const text = b.toFixed(Math.max(0, decimals), HALF_UP);
  return /[1-9]/.test(text) ? text : text.replace("-", "");
}

function isExtreme(b: Big): boolean {
  return b.e < LOWEST || b.e >= HIGHEST;
}

function withExponent(b: Big, digits: number): string {
  if (b.c[0] === 0) return "0";
  const rounded = b.prec(digits, HALF_UP);
  const [mantissa, exponent] = rounded.toExponential().split("e");
  return `${mantissa}e${exponent!.replace("+", "")}`;
}

function digitsOf(n: Num, o: FormatOptions | undefined): number {
  const asked =
    o?.digits === undefined ? undefined : Math.min(MOST_DIGITS, Math.max(1, Math.round(o.digits)));
  return n.dp >= 0 ? MOST_DIGITS : (asked ?? APPROXIMATE_DIGITS);
}

/** Minor digits when the value is money, else undefined. */
function minorDigits(q: Quantity): number | undefined {
  const code = currencyOf(q.unit.kind.dimension);
  return code === undefined || q.unit.text !== code ? undefined : currencies.get(code);
}

/** Two digits of an uncertainty: the decimals that they need, negative for tens and hundreds. */
function placeOf(uncertainty: number): number {
  const rounded = new Decimal(uncertainty.toPrecision(15)).prec(2, HALF_UP);
  return 1 - rounded.e;
}

/** Rounds at a place before the point: 1234 to tens is 1230. */
function atPlace(b: Big, place: number): string {
  return place >= 0 ? fixed(b, place) : fixed(b.round(place, HALF_UP), 0);
}

/**
 * The pieces of a written value. Exact numbers show every decimal up to 12 digits, approximate ones five
 * digits; money at least its minor digits, and exactly those when approximate; with an uncertainty, two
 * digits of it and the value to the same place.
 */
export function formatParts(
  q: Quantity,
  o?: FormatOptions,
): { readonly number: string; readonly spread?: string; readonly unit: string } {
  const unit = q.unit.text;
  const b = decimalOf(q.n);
  const uncertainty = sigma(q.spread);
  if (uncertainty > 0) return { ...withSpread(q, b, uncertainty, o), unit };
  const digits = digitsOf(q.n, o);
  if (isExtreme(b)) return { number: withExponent(b, digits), unit };
  const decimals = o?.decimals === undefined ? decimalsShown(q, b, digits, o) : inColumn(q.n, b, o.decimals);
  return { number: fixed(b, decimals), unit };
}

/** A column's decimals; an approximate value never shows more than 12 digits, even there. */
function inColumn(n: Num, b: Big, decimals: number): number {
  return n.dp >= 0 || b.c[0] === 0 ? decimals : Math.min(decimals, Math.max(0, MOST_DIGITS - 1 - b.e));
}

/** Decimals of a value without uncertainty. */
function decimalsShown(q: Quantity, b: Big, digits: number, o: FormatOptions | undefined): number {
  const minor = minorDigits(q);
  const needed = decimalsFor(b, digits);
  if (minor === undefined) return needed;
  if (q.n.dp < 0 && o?.digits === undefined) return minor;
  return Math.max(minor, needed);
}

function withSpread(
  q: Quantity,
  b: Big,
  uncertainty: number,
  o: FormatOptions | undefined,
): { readonly number: string; readonly spread: string } {
  const u = new Decimal(uncertainty.toPrecision(15));
  if (isExtreme(b) || isExtreme(u)) {
    return { number: withExponent(b, digitsOf(q.n, o)), spread: withExponent(u, 2) };
  }
  const place = o?.decimals ?? spreadPlace(b, uncertainty, o);
  return { number: atPlace(b, place), spread: atPlace(u, place) };
}

function spreadPlace(b: Big, uncertainty: number, o: FormatOptions | undefined): number {
  const place = placeOf(uncertainty);
  if (o?.digits === undefined || b.c[0] === 0) return place;
  // More digits were asked for: the value gets them, and the uncertainty goes along.
  const asked = Math.min(MOST_DIGITS, Math.max(1, Math.round(o.digits)));
  return Math.max(place, asked - 1 - b.prec(asked, HALF_UP).e);
}

/** Number, blank, unit: `100.0 ± 1.4 g`, `29.70 GBP`, `24.955 °C`, `0.6`. */
export function format(q: Quantity, o?: FormatOptions): string {
  const { number, spread, unit } = formatParts(q, o);
  return number + (spread === undefined ? "" : ` ± ${spread}`) + (unit === "" ? "" : ` ${unit}`);
}

/** The decimals with which a value is written when it stands alone: what a column looks for the most of. */
export function decimalsNeeded(q: Quantity, o?: FormatOptions): number {
  const quick = q.spread === undefined ? decimalsOfSmall(q.n) : -1;
  if (quick >= 0) return Math.max(quick, minorDigits(q) ?? 0);
  const b = decimalOf(q.n);
  const uncertainty = sigma(q.spread);
  if (uncertainty > 0) return Math.max(0, spreadPlace(b, uncertainty, o));
  return isExtreme(b) ? 0 : decimalsShown(q, b, digitsOf(q.n, o), o);
}

/** Decimals of an exact number of at most 12 digits without making a decimal of it; -1 for any other. */
function decimalsOfSmall(n: Num): number {
  if (n.dp < 0 || n.big !== undefined) return -1;
  let mantissa = Math.abs(Math.round(n.v * 10 ** n.dp));
  if (mantissa === 0) return 0;
  let decimals = n.dp;
  while (decimals > 0 && mantissa % 10 === 0) {
    mantissa /= 10;
    decimals--;
  }
  return mantissa < 1e12 && decimals <= MOST_DIGITS ? decimals : -1;
}
