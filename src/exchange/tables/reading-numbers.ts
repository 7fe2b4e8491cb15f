/**
 * Numbers and days as people of several countries write them. Nothing here decides a doubt: where a writing
 * has two meanings both are given, and the caller asks.
 */
export type DecimalMark = "." | ",";

/** `12.5 ml`, `61.2 ± 0.3 % vol`, `€ 3,50`: the number, what follows it, and a spread. */
export interface NumberWriting {
  readonly digits: string;
  readonly spread?: string;
  /** Words before (a currency sign) or behind. */
  readonly words: string;
}

const BLANKS = /[\u0020\u00a0\u2007\u2009\u202f]/g;
const NUMBER = "[-+−–]?\\s?(?:\\d(?:[\\d.,'’\\u0020\\u00a0\\u2007\\u2009\\u202f]*\\d)?|[.,]\\d+)";
const WHOLE = new RegExp(
  `^(\\p{Sc}|[A-Z]{2,3}\\$?)?\\s*(${NUMBER})\\s*(?:(?:±|\\+/?-|\\+/−)\\s*(${NUMBER}))?\\s*([^\\d±]{0,24}.{0,12})$`,
  "u",
);

/** Splits a cell into number and words; undefined when it does not begin with a number. */
export function splitNumber(cell: string): NumberWriting | undefined {
  const text = cell.trim();
  if (text.length > 60) return undefined;
  const found = WHOLE.exec(text);
  if (found === null) return undefined;
  const behind = found[4]!.trim();
  // "12-14", "3 x 5", "2nd": something else than a quantity.
  if (/^[-–/x×:'’"]|^\d|^(st|nd|rd|th)\b/i.test(behind)) return undefined;
  return {
    digits: found[2]!,
    ...(found[3] === undefined ? {} : { spread: found[3] }),
    words: [found[1] ?? "", behind].filter((w) => w !== "").join(" "),
  };
}

/** The marks that a writing may have been made with: both for `1,234`, one for `1.234,5`, none for `1,2,3`. */
export function possibleMarks(digits: string): ReadonlySet<DecimalMark> {
  const marks = new Set<DecimalMark>();
  for (const mark of [".", ","] as const) if (toDecimal(digits, mark) !== undefined) marks.add(mark);
  return marks;
}

/** The plain decimal writing of digits under a decimal mark, or undefined when they cannot be read so. */
export function toDecimal(digits: string, mark: DecimalMark): string | undefined {
  const negative = /^[-−–]/.test(digits);
  let text = digits.replace(/^[-+−–]\s?/, "");
  const other = mark === "." ? "," : ".";
  // Thousands: the other mark, an apostrophe or a blank, one kind throughout, in groups of three.
  const [whole, part, ...more] = text.split(mark);
  if (more.length > 0 || whole === undefined) return undefined;
  if (part !== undefined && !/^\d+$/.test(part)) return undefined;
  text = whole.replace(BLANKS, " ").replace(/’/g, "'");
  if (/[^\d]/.test(text)) {
    const groups = [other, "'", " "].find((g) => text.includes(g));
    if (groups === undefined) return undefined;
    const pieces = text.split(groups);
    if (!/^\d{1,3}$/.test(pieces[0]!) || !pieces.slice(1).every((p) => /^\d{3}$/.test(p))) return undefined;
    // `0,125` is no thousands: nobody begins a group with a nought.
    if (/^0/.test(pieces[0]!)) return undefined;
    text = pieces.join("");
  }
  if (text === "" && part === undefined) return undefined;
  if (text.length + (part?.length ?? 0) > 34) return undefined;
  const stripped = (text === "" ? "0" : text).replace(/^0+(?=\d)/, "");
  return (negative ? "-" : "") + stripped + (part === undefined ? "" : `.${part}`);
}

export type DayOrder = "day first" | "month first";
const MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

/** The ISO day of a writing under an order, or undefined when it is none. Two-digit years are of this century. */
export function toDay(cell: string, order: DayOrder): string | undefined {
  const text = cell.trim();
  const iso = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]\d{1,2}:\d{2}(?::\d{2})?.*)?$/.exec(text);
  if (iso !== null) return day(Number(iso[1]), Number(iso[2]), Number(iso[3]));
  const numeric = /^(\d{1,2})[-/. ]+(\d{1,2})[-/. ]+(\d{4}|\d{2})$/.exec(text);
  if (numeric !== null) {
    const [a, b] = [Number(numeric[1]), Number(numeric[2])];
    const year = fullYear(numeric[3]!);
    return order === "day first" ? day(year, b, a) : day(year, a, b);
  }
  const named =
    /^(\d{1,2})(?:st|nd|rd|th)?[-/. ]+([a-z]{3,9})[-/., ]+(\d{4}|\d{2})$/i.exec(text) ??
    reorder(/^([a-z]{3,9})[-/. ]+(\d{1,2})(?:st|nd|rd|th)?[-/., ]+(\d{4}|\d{2})$/i.exec(text));
  if (named !== null) {
    const month = MONTHS.indexOf(named[2]!.slice(0, 3).toLowerCase());
    return month < 0 ? undefined : day(fullYear(named[3]!), month + 1, Number(named[1]));
  }
  return undefined;
}
const reorder = (found: RegExpExecArray | null): (string | undefined)[] | null =>
  found === null ? null : [found[0], found[2], found[1], found[3]];
const fullYear = (text: string): number => (text.length === 2 ? 2000 + Number(text) : Number(text));

function day(year: number, month: number, date: number): string | undefined {
  if (month < 1 || month > 12 || date < 1 || year < 1000) return undefined;
  const last = new Date(Date.UTC(year, month, 0)).getUTCDate();
  if (date > last) return undefined;
  return `${String(year).padStart(4, "0")}-${String(month).padStart(2, "0")}-${String(date).padStart(2, "0")}`;
}

/** Whether the two orders give two different days. */
export const dayIsAmbiguous = (cell: string): boolean => {
  const a = toDay(cell, "day first");
  const b = toDay(cell, "month first");
  return a !== undefined && b !== undefined && a !== b;
};
