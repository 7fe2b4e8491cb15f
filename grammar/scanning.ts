import type { SyntaxMessage } from "./tree";
import { BLANKS, CLAUSES, endOfWord, endOfWordRest, isDigitCode, RESERVED, startsWord } from "./words";

/** Where dates, parts and units end: what the lexer, the rows and the faults all need to know of plain text. */

const BACKTICK = 0x60;
const HYPHEN = 0x2d;

/** A stretch of text that cannot be read, with what there is to say about it. */
export interface Oddity {
  readonly length: number;
  readonly message: SyntaxMessage;
}

/** The shape of a date, whether or not the day exists. */
export function hasDateShape(text: string, offset: number): boolean {
  if (text.charCodeAt(offset + 4) !== HYPHEN || text.charCodeAt(offset + 7) !== HYPHEN) return false;
  for (let i = 0; i < 10; i++)
    if (i !== 4 && i !== 7 && !isDigitCode(text.charCodeAt(offset + i))) return false;
  return !isDigitCode(text.charCodeAt(offset + 10));
}

const MONTH_LENGTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Whether a day of the Gregorian calendar, years 1 to 9999, exists. */
export function dayExists(year: number, month: number, day: number): boolean {
  if (year < 1 || month < 1 || month > 12 || day < 1) return false;
  const leap = month === 2 && year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return day <= MONTH_LENGTHS[month - 1]! + (leap ? 1 : 0);
}

/** Whether text of the shape of a date names a day that exists. */
export function isDay(iso: string): boolean {
  return dayExists(Number(iso.slice(0, 4)), Number(iso.slice(5, 7)), Number(iso.slice(8, 10)));
}

/** Offset of the second backtick of the name that begins at `at`, or -1 when its line has none. */
export function closingBacktick(source: string, at: number, end = source.length): number {
  for (let i = at + 1; i < end; i++) {
    const code = source.charCodeAt(i);
    if (code === BACKTICK) return i;
    if (code === 0x0a || code === 0x0d) return -1;
  }
  return -1;
}

/** The offset behind a name in backticks that is closed on its line and not empty, or -1. */
export function endOfBackticked(text: string, offset: number): number {
  const close = closingBacktick(text, offset);
  return close <= offset + 1 ? -1 : close + 1;
}

/** Offset behind what may stand behind a dot, or `offset` when nothing there may. */
export function endOfPart(text: string, offset: number): number {
  const code = text.charCodeAt(offset);
  if (code === BACKTICK) return Math.max(offset, endOfBackticked(text, offset));
  if (isDigitCode(code)) {
    if (hasDateShape(text, offset)) return offset + 10;
    return endOfWordRest(text, offset);
  }
  return endOfWord(text, offset);
}

const PERCENT = 0x25;
const PER_MILLE = 0x2030;
const PERCENT_WITH_WORD = new RegExp(`%[${BLANKS}]*(?:vol|mas)(?![\\p{L}\\p{M}\\p{Nd}_])`, "uy");
const SUPERSCRIPTS = /[⁺⁻]?[⁰¹²³⁴-⁹]+/y;
const RAISED = /\^-?\d+/y;

/** The degree sign and the two characters that keyboards give in its place. */
function isDegree(code: number): boolean {
  return code === 0xb0 || code === 0xba || code === 0x2da;
}

/** Offset behind one word of a unit with its exponent, or `at` when none begins there. */
function endOfUnitWord(text: string, at: number): number {
  const code = text.charCodeAt(at);
  let end = at;
  if (code === PERCENT) {
    PERCENT_WITH_WORD.lastIndex = at;
    end = PERCENT_WITH_WORD.test(text) ? PERCENT_WITH_WORD.lastIndex : endOfWord(text, at + 1);
  } else if (code === PER_MILLE) end = at + 1;
  else if (isDegree(code)) end = endOfWord(text, at + 1);
  else if (startsWord(text, at)) {
    end = endOfWordRest(text, at);
    if (end - at <= 6) {
      const word = text.slice(at, end);
      if (RESERVED.has(word) || CLAUSES.has(word)) return at;
    }
  }
  if (end === at) return at;
  const next = text.charCodeAt(end);
  const power = next === 0x5e ? RAISED : next >= 0xb2 ? SUPERSCRIPTS : undefined;
  if (power === undefined) return end;
  power.lastIndex = end;
  return power.test(text) ? power.lastIndex : end;
}

function joinsUnits(code: number): boolean {
  return code === 0x2f || code === 0x2a || code === 0xb7;
}

/** Offset behind a whole unit (`kJ/kg/K`, `% vol`), or `at` when none begins there. */
export function endOfUnit(text: string, at: number): number {
  let end = endOfUnitWord(text, at);
  if (end === at) return at;
  while (joinsUnits(text.charCodeAt(end))) {
    const next = endOfUnitWord(text, end + 1);
    if (next === end + 1) break;
    end = next;
  }
  return end;
}
