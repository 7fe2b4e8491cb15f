import { certainly, fault, perhaps, quoted, spanOf } from "./messages";
import { dayExists, endOfUnit, hasDateShape, isDay, type Oddity } from "./scanning";
import type { Fix, SyntaxMessage } from "./tree";
import { BLANKS, isDigitCode, skipBlanks } from "./words";

/**
 * Numbers and dates that are faults on purpose, because they can be read in two ways. Each says what was met, and
 * offers what was probably meant.
 */

/** The longest number, in digits, written out. */
export const MOST_DIGITS = 34;

export const FRACTIONS = new Map(
  Object.entries({
    "½": "0.5",
    "¼": "0.25",
    "¾": "0.75",
    "⅕": "0.2",
    "⅖": "0.4",
    "⅗": "0.6",
    "⅘": "0.8",
    "⅛": "0.125",
    "⅜": "0.375",
    "⅝": "0.625",
    "⅞": "0.875",
    "⅐": "",
    "⅑": "",
    "⅒": "0.1",
    "⅓": "",
    "⅔": "",
    "⅙": "",
    "⅚": "",
  }),
);
export const FRACTION_DIVISIONS = new Map(
  Object.entries({ "⅓": "1 / 3", "⅔": "2 / 3", "⅙": "1 / 6", "⅚": "5 / 6", "⅐": "1 / 7", "⅑": "1 / 9" }),
);

export function sticky(source: string): RegExp {
  return new RegExp(source.replaceAll("~", `[${BLANKS}]`), "uy");
}
export function matchAt(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at;
  return pattern.exec(text);
}

const DOTTED_DATE = sticky(
  "(?:\\d{1,2}\\.\\d{1,2}\\.(?:\\d{4}|\\d{2})|\\d{4}\\.\\d{1,2}\\.\\d{1,2})(?![\\d.])",
);
/** By the letter a division or a subtraction; only years that a book may speak of make a date of it. */
const UNDOTTED_DATE = sticky(
  "(?<![/*^]~*)(?:\\d{1,2}([/-])\\d{1,2}\\1(?:19|20)\\d{2}|(?:19|20)\\d{2}([/-])\\d{1,2}\\2\\d{1,2})(?![\\d./*^])",
);
const SPACED = sticky("\\d{1,3}(?:~\\d{3})+(?:\\.\\d+)?(?![\\d_.])");
const UNDERSCORED = sticky("\\d+(?:_+\\d+)+(?:\\.\\d+)?(?![\\p{L}_])");
const WITH_COMMAS = sticky("\\d+(?:\\.\\d+)?(?:,\\d+)+(?:\\.\\d+)?");
const GROUPED_BY_COMMAS = /^\d{1,3}(?:,\d{3})+(?:\.\d+)?$/;
const GROUPED_BY_POINTS = /^\d{1,3}(?:\.\d{3})+,\d+$/;
const WITH_FRACTION = sticky("(\\d+)~?([½¼¾⅓⅔⅕⅖⅗⅘⅙⅚⅐⅑⅒⅛⅜⅝⅞])");
const SEVERAL_POINTS = sticky("\\d+(?:\\.\\d+){2,}\\.?");
const TRAILING_POINT = sticky("(\\d+(?:\\.\\d+)?)\\.(?!\\d)");
const RATIO = sticky("(\\d+(?:\\.\\d+)?)/(\\d+(?:\\.\\d+)?)~*");
const WHOLE_NUMBER = sticky("(\\d+)(?:\\.(\\d+))?(?:[eE]([+-]?\\d+))?");
const LEADING_POINT = sticky("\\.(\\d+)(?:[eE][+-]?\\d+)?");

/** What is odd about the number (or point) at `at`, if anything. */
export function numberTrouble(text: string, at: number): Oddity | undefined {
  if (!isDigitCode(text.charCodeAt(at))) return leadingPoint(text, at);
  return (
    impossibleDay(text, at) ??
    dottedDate(text, at) ??
    undottedDate(text, at) ??
    grouped(text, at) ??
    withCommas(text, at) ??
    withFraction(text, at) ??
    withPoints(text, at) ??
    halfLitre(text, at) ??
    tooLong(text, at)
  );
}

export function oddity(
  image: string,
  at: number,
  code: string,
  says: string,
  help: string,
  fixes: readonly Fix[] = [],
): Oddity {
  return { length: image.length, message: fault(code, spanOf(at, at + image.length), says, { help, fixes }) };
}

function leadingPoint(text: string, at: number): Oddity | undefined {
  const match = matchAt(LEADING_POINT, text, at);
  if (match === null) return undefined;
  const span = spanOf(at, at + match[0].length);
  return oddity(
    match[0],
    at,
    "number-point",
    `${quoted(match[0])} begins with a point.`,
    "A number begins with a digit.",
    [certainly(span, `0${match[0]}`)],
  );
}

function impossibleDay(text: string, at: number): Oddity | undefined {
  if (!hasDateShape(text, at)) return undefined;
  const image = text.slice(at, at + 10);
  if (isDay(image)) return undefined;
  return oddity(
    image,
    at,
    "date-impossible",
    `There is no day ${quoted(image)}.`,
    "A date is year-month-day.",
  );
}

const YEAR_LAST = /^(\d{1,2})[./-](\d{1,2})[./-](\d{4}|\d{2})$/;
const YEAR_FIRST = /^(\d{4})[./-](\d{1,2})[./-](\d{1,2})$/;

/**
 * The days that a date in figures can mean, day and month in either order unless the year comes first, as ISO 8601
 * text: none when there is no such day; undefined for any other text, the language's own form of a date included.
 */
export function daysInFigures(text: string): readonly string[] | undefined {
  if (hasDateShape(text, 0)) return undefined;
  const [, year, month, day] = YEAR_FIRST.exec(text)?.map(Number) ?? [];
  if (year !== undefined) return dayIn(year, month!, day!);
  const [, first, second, last] = YEAR_LAST.exec(text)?.map(Number) ?? [];
  if (last === undefined) return undefined;
  const inOrder = dayIn(last, second!, first!);
  return first === second ? inOrder : [...inOrder, ...dayIn(last, first!, second!)];
}

/** A day as ISO 8601 text, if there is such a one; a year of two digits is one of this century. */
function dayIn(year: number, month: number, day: number): readonly string[] {
  const full = year < 100 ? 2000 + year : year;
  const two = (n: number): string => String(n).padStart(2, "0");
  return dayExists(full, month, day) ? [`${String(full).padStart(4, "0")}-${two(month)}-${two(day)}`] : [];
}

function dottedDate(text: string, at: number): Oddity | undefined {
  const match = matchAt(DOTTED_DATE, text, at);
  return match === null ? undefined : dateFault(match[0], at, daysInFigures(match[0]) ?? []);
}

/** `3/2/2026`: a day, or a division? */
function undottedDate(text: string, at: number): Oddity | undefined {
  const match = matchAt(UNDOTTED_DATE, text, at);
  if (match === null) return undefined;
  const [image] = match;
  const unit = skipBlanks(text, at + image.length);
  const days = daysInFigures(image);
  if (days === undefined || endOfUnit(text, unit) > unit) return undefined;
  return dateFault(image, at, days, image.replace(/[/-]/g, " $& "));
}

const MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
const MONTH =
  "(jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\\.?";
const DAY = "(\\d{1,2})(?:st|nd|rd|th|\\.)?";
const YEAR = "(\\d{4}|\\d{2})";
const GAP = `[-,/${BLANKS}]{1,3}`;
const DAY_IN_WORDS = new RegExp(`^${DAY}(?:${GAP})?${MONTH}(?:${GAP})?${YEAR}$`, "iu");
const MONTH_FIRST = new RegExp(`^${MONTH}(?:${GAP})?${DAY}${GAP}${YEAR}$`, "iu");

/** The days that a date with the name of its month means, as ISO 8601 text: none when there is no such day; undefined for any other text. */
export function daysInWords(text: string): readonly string[] | undefined {
  const inOrder = DAY_IN_WORDS.exec(text);
  const turned = MONTH_FIRST.exec(text);
  const [, day, month, year] = inOrder ?? (turned ? [turned[0], turned[2], turned[1], turned[3]] : []);
  if (day === undefined || month === undefined) return undefined;
  return dayIn(Number(year), MONTHS.indexOf(month.slice(0, 3).toLowerCase()) + 1, Number(day));
}

/** The fault for a date that is not written as year-month-day; `reckoned` is its writing as a piece of arithmetic. */
export function dateFault(image: string, at: number, days: readonly string[], reckoned?: string): Oddity {
  const span = spanOf(at, at + image.length);
  const help =
    days.length === 0
      ? "A date is year-month-day, such as 2026-02-03."
      : days.length === 1
        ? `A date is year-month-day: ${days[0]}.`
        : `A date is year-month-day: is it ${days.join(" or ")}?`;
  return oddity(
    image,
    at,
    "date-form",
    `${quoted(image)} is no way to write a date here.`,
    reckoned === undefined ? help : `${help} To reckon with the numbers, write \`${reckoned}\`.`,
    [...days, ...(reckoned === undefined ? [] : [reckoned])].map((meant) => perhaps(span, meant)),
  );
}

function grouped(text: string, at: number): Oddity | undefined {
  const match = matchAt(SPACED, text, at) ?? matchAt(UNDERSCORED, text, at);
  if (match === null) return undefined;
  const image = match[0];
  const joined = image.replace(new RegExp(`[${BLANKS}_]`, "g"), "");
  return oddity(
    image,
    at,
    "number-grouped",
    `The digits of ${quoted(image)} are set apart.`,
    "Digits are written without a gap.",
    [certainly(spanOf(at, at + image.length), joined)],
  );
}

function withCommas(text: string, at: number): Oddity | undefined {
  const match = matchAt(WITH_COMMAS, text, at);
  if (match === null) return undefined;
  const image = match[0];
  const meant = [...meantByComma(image), image.replaceAll(",", ", ")];
  const { message } = commaFault(
    image,
    at,
    meant,
    "The decimal sign is a point, and a blank stands behind a comma.",
  );
  // A unit behind it belongs to it, and has nothing to say of its own; blanks alone do not.
  const unit = skipBlanks(text, at + image.length);
  const end = endOfUnit(text, unit);
  return { length: end > unit ? end - at : image.length, message };
}

/** The numbers that one with commas can stand for. */
function meantByComma(image: string): string[] {
  const meant: string[] = [];
  if (/^\d+,\d+$/.test(image)) meant.push(image.replace(",", "."));
  if (GROUPED_BY_COMMAS.test(image)) meant.push(image.replaceAll(",", ""));
  if (GROUPED_BY_POINTS.test(image)) meant.push(image.replaceAll(".", "").replace(",", "."));
  return meant;
}

/** The same for a number that stands in a cell, where no list can be meant. */
export function commaInCell(image: string, at: number): SyntaxMessage {
  const meant = meantByComma(image);
  if (meant.length !== 1)
    return commaFault(image, at, meant, "The decimal sign is a point, and digits are written without a gap.")
      .message;
  const [number] = meant as [string];
  return fault("number-comma", spanOf(at, at + image.length), `${quoted(image)} is written with a comma.`, {
    help: `The decimal sign is a point: \`${number}\`.`,
    fixes: [certainly(spanOf(at, at + image.length), number)],
  });
}

function commaFault(image: string, at: number, meant: readonly string[], help: string): Oddity {
  const span = spanOf(at, at + image.length);
  const question =
    meant.length === 0
      ? `${quoted(image)} is no number.`
      : `${quoted(image)}: is this ${meant.map((one) => `\`${one}\``).join(", or ")}?`;
  return oddity(
    image,
    at,
    "number-comma",
    question,
    help,
    meant.map((one) => perhaps(span, one)),
  );
}

function withFraction(text: string, at: number): Oddity | undefined {
  const match = matchAt(WITH_FRACTION, text, at);
  if (match === null) return undefined;
  const [image, whole, sign] = match;
  const decimal = FRACTIONS.get(sign!);
  const span = spanOf(at, at + image.length);
  const written = decimal ? `${whole}${decimal.slice(1)}` : `(${whole} + ${FRACTION_DIVISIONS.get(sign!)})`;
  return oddity(
    image,
    at,
    "number-fraction",
    `${quoted(image)} holds a fraction sign.`,
    `Write \`${written}\`.`,
    [certainly(span, written)],
  );
}

export function fractionAlone(sign: string, at: number): Oddity {
  const written = FRACTIONS.get(sign) || `(${FRACTION_DIVISIONS.get(sign)})`;
  return oddity(sign, at, "number-fraction", `${quoted(sign)} is no number here.`, `Write \`${written}\`.`, [
    certainly(spanOf(at, at + sign.length), written),
  ]);
}

function withPoints(text: string, at: number): Oddity | undefined {
  const several = matchAt(SEVERAL_POINTS, text, at);
  if (several !== null)
    return oddity(
      several[0],
      at,
      "number-points",
      `${quoted(several[0])} has more than one point.`,
      "A number has one decimal point.",
    );
  const trailing = matchAt(TRAILING_POINT, text, at);
  if (trailing === null) return undefined;
  return oddity(
    trailing[0],
    at,
    "number-point",
    `${quoted(trailing[0])} ends with a point.`,
    "A digit stands behind the decimal point.",
    [certainly(spanOf(at, at + trailing[0].length), trailing[1]!)],
  );
}

/** `1/2 L`: half a litre, or one divided by two litres? */
function halfLitre(text: string, at: number): Oddity | undefined {
  const match = matchAt(RATIO, text, at);
  if (match === null) return undefined;
  const unitAt = at + match[0].length;
  const unitEnd = endOfUnit(text, unitAt);
  if (unitEnd === unitAt) return undefined;
  const image = text.slice(at, unitEnd);
  const unit = text.slice(unitAt, unitEnd);
  const span = spanOf(at, unitEnd);
  const [, above, below] = match;
  const share = shortDecimal(above!, below!);
  const first = share === undefined ? `${above} / ${below} * 1 ${unit}` : `${share} ${unit}`;
  const second = `${above} / ${below} ${unit}`;
  return oddity(
    image,
    at,
    "number-ratio",
    `${quoted(image)}: is this \`${first}\`, or ${above} divided by ${below} ${unit}?`,
    `Write \`${first}\`, or \`${second}\` with blanks around the stroke to divide.`,
    [perhaps(span, first), perhaps(span, second)],
  );
}

const MOST_DECIMALS = 6;

/** a / b as a decimal, when it is a short one. */
function shortDecimal(a: string, b: string): string | undefined {
  const decimals = (text: string): number => text.split(".")[1]?.length ?? 0;
  if (a.length > 9 || b.length > 9) return undefined;
  const shift = decimals(a) - decimals(b);
  const above = BigInt(a.replace(".", "")) * 10n ** BigInt(MOST_DECIMALS + Math.max(0, -shift));
  const below = BigInt(b.replace(".", "")) * 10n ** BigInt(Math.max(0, shift));
  if (below === 0n || above % below !== 0n) return undefined;
  const digits = (above / below).toString().padStart(MOST_DECIMALS + 1, "0");
  return `${digits.slice(0, -MOST_DECIMALS)}.${digits.slice(-MOST_DECIMALS)}`.replace(/\.?0+$/, "");
}

function tooLong(text: string, at: number): Oddity | undefined {
  const match = matchAt(WHOLE_NUMBER, text, at)!;
  if (countDigits(match[1]!, match[2] ?? "", match[3]) <= MOST_DIGITS) return undefined;
  return oddity(
    match[0],
    at,
    "number-long",
    `${quoted(match[0])} has more than ${MOST_DIGITS} digits when it is written out.`,
    "Use a larger or a smaller unit.",
  );
}

/** Digits of a number when it is written out, without zeros in front. */
function countDigits(whole: string, decimals: string, exponent: string | undefined): number {
  if (exponent === undefined) return whole.replace(/^0+(?=\d)/, "").length + decimals.length;
  const shift = exponent.replace(/^\+/, "");
  if (shift.replace(/^-?0*/, "").length > 3) return Number.POSITIVE_INFINITY;
  return writeOut(whole, decimals, Number(shift)).replace(".", "").length;
}

function writeOut(whole: string, decimals: string, shift: number): string {
  const digits = whole + decimals;
  const point = whole.length + shift;
  if (point <= 0) return `0.${"0".repeat(-point)}${digits}`;
  if (point >= digits.length) return trimZeros(digits + "0".repeat(point - digits.length));
  return `${trimZeros(digits.slice(0, point))}.${digits.slice(point)}`;
}

function trimZeros(digits: string): string {
  return digits.replace(/^0+(?=\d)/, "");
}

/** A number as plain decimal digits: `1e-3` is `0.001`. Numbers without an exponent stay as they were typed. */
export function plainDigits(image: string): string {
  const match = /^(\d+)(?:\.(\d+))?[eE]([+-]?\d+)$/.exec(image);
  return match === null ? image : writeOut(match[1]!, match[2] ?? "", Number(match[3]));
}
