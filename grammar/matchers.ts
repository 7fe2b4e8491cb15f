import type { CustomPatternMatcherFunc, IToken } from "chevrotain";
import { characterTrouble, operatorTrouble } from "./odd-characters";
import { FRACTIONS, numberTrouble } from "./odd-numbers";
import { endOfBackticked, endOfPart, endOfUnit, hasDateShape, isDay, type Oddity } from "./scanning";
import { scanText } from "./texts";
import { endOfWord, endOfWordRest, isBlankCode, isDigitCode, normal, skipBlanks } from "./words";

/**
 * The functions with which chevrotain's lexer finds the tokens that may hold letters or depend on what stands
 * before them. Each answers whether its token begins at `offset`. A number that looks odd is left to `matchFault`,
 * so that the ordinary ones stay quick.
 */

type Behind = (tokens: readonly IToken[]) => boolean;

/** What a matcher hands to the lexer: the text that it takes, and what it found out about it. */
function found(image: string, payload?: unknown): RegExpExecArray {
  const match = [image] as unknown as RegExpExecArray & { payload?: unknown };
  if (payload !== undefined) match.payload = payload;
  return match;
}

const BACKTICK = 0x60;
const DOT = 0x2e;
const HYPHEN = 0x2d;
const UNDERSCORE = 0x5f;
const COMMA = 0x2c;
const SLASH = 0x2f;

/** The name inside an image, in normal form; undefined when the image is the name as it stands. */
function nameIn(image: string): string | undefined {
  const bare = image.charCodeAt(0) === BACKTICK ? image.slice(1, -1) : image;
  const name = normal(bare);
  return name === image ? undefined : name;
}

function foundName(text: string, offset: number, end: number): RegExpExecArray {
  const image = text.slice(offset, end);
  return found(image, nameIn(image));
}

export const matchName: CustomPatternMatcherFunc = (text, offset) => {
  if (text.charCodeAt(offset) === BACKTICK) {
    const end = endOfBackticked(text, offset);
    return end < 0 ? null : foundName(text, offset, end);
  }
  const end = endOfWord(text, offset);
  return end === offset ? null : foundName(text, offset, end);
};

export const matchDate: CustomPatternMatcherFunc = (text, offset) => {
  if (!hasDateShape(text, offset)) return null;
  const image = text.slice(offset, offset + 10);
  return isDay(image) ? found(image) : null;
};

const DIGITS = /\d+(?:\.\d+)?/y;
const EXPONENT = /[eE][+-]?\d+/y;
const LENGTH_NEVER_TOO_LONG = 30;

export const matchNumber: CustomPatternMatcherFunc = (text, offset) => {
  DIGITS.lastIndex = offset;
  if (!DIGITS.test(text)) return null;
  let end = DIGITS.lastIndex;
  let odd = end - offset > LENGTH_NEVER_TOO_LONG;
  if ((text.charCodeAt(end) | 0x20) === 0x65) {
    EXPONENT.lastIndex = end;
    if (EXPONENT.test(text)) {
      end = EXPONENT.lastIndex;
      odd = true;
    }
  }
  if ((odd || mayContinueNumber(text, end)) && numberTrouble(text, offset) !== undefined) return null;
  return found(text.slice(offset, end));
};

/** Whether what stands behind a number could make it an odd one; `numberTrouble` then looks closer. */
function mayContinueNumber(text: string, end: number): boolean {
  const next = text.charCodeAt(end);
  if (isBlankCode(next)) {
    const behind = skipBlanks(text, end);
    const code = text.charCodeAt(behind);
    return isDigitCode(code) || (code > 0x7f && FRACTIONS.has(text[behind]!));
  }
  return (
    next === DOT || next === COMMA || next === SLASH || next === HYPHEN || next === UNDERSCORE || next > 0x7f
  );
}

export function matchPart(behindDot: Behind): CustomPatternMatcherFunc {
  return (text, offset, tokens) => {
    if (!behindDot(tokens)) return null;
    const end = endOfPart(text, offset);
    return end === offset ? null : foundName(text, offset, end);
  };
}

export function matchLabel(behindOpening: Behind): CustomPatternMatcherFunc {
  return (text, offset, tokens) => {
    if (!behindOpening(tokens)) return null;
    const end = endOfPart(text, offset);
    if (end === offset || text.charCodeAt(skipBlanks(text, end)) !== 0x3a) return null;
    return foundName(text, offset, end);
  };
}

export function matchClause(word: string, behindOperand: Behind): CustomPatternMatcherFunc {
  const image = found(word);
  return (text, offset, tokens) => {
    const end = offset + word.length;
    if (!text.startsWith(word, offset) || endOfWordRest(text, end) !== end) return null;
    return behindOperand(tokens) ? image : null;
  };
}

function onlyBlanks(text: string, from: number, to: number): boolean {
  for (let at = from; at < to; at++) if (!isBlankCode(text.charCodeAt(at))) return false;
  return true;
}

export function matchUnit(behindNumber: Behind, behindIn: Behind): CustomPatternMatcherFunc {
  return (text, offset, tokens) => {
    if (behindNumber(tokens)) {
      const number = tokens[tokens.length - 1]!;
      if (!onlyBlanks(text, number.startOffset + number.image.length, offset)) return null;
    } else if (!behindIn(tokens)) return null;
    const end = endOfUnit(text, offset);
    if (end === offset) return null;
    const image = text.slice(offset, end);
    return found(image);
  };
}

export const matchText: CustomPatternMatcherFunc = (text, offset) => {
  const scanned = scanText(text, offset);
  return scanned.trouble === undefined ? found(text.slice(offset, scanned.end), scanned) : null;
};

const MARK = /@[0-9a-fA-F]{8}(?![\p{L}\p{M}\p{Nd}_])/uy;

export function matchMark(inSeen: Behind): CustomPatternMatcherFunc {
  return (text, offset, tokens) => {
    MARK.lastIndex = offset;
    return inSeen(tokens) && MARK.test(text) ? found(text.slice(offset, offset + 9)) : null;
  };
}

function foundOddity(text: string, offset: number, oddity: Oddity): RegExpExecArray {
  return found(text.slice(offset, offset + oddity.length), oddity.message);
}

/** Characters that are operators by themselves, and odd only together with the one behind them. */
const SINGLES = "=<>*-:";
const SECONDS = "=<>*";

export const matchOddOperator: CustomPatternMatcherFunc = (text, offset) => {
  if (SINGLES.includes(text[offset]!) && !SECONDS.includes(text[offset + 1] ?? " ")) return null;
  const oddity = operatorTrouble(text, offset);
  return oddity === undefined ? null : foundOddity(text, offset, oddity);
};

export function matchLeadingPoint(behindValue: Behind): CustomPatternMatcherFunc {
  return (text, offset, tokens) => {
    if (!isDigitCode(text.charCodeAt(offset + 1)) || behindValue(tokens)) return null;
    return foundOddity(text, offset, numberTrouble(text, offset)!);
  };
}

/** Takes whatever nothing else has taken: an odd number, an unclosed text, a character that may not stand. */
export const matchFault: CustomPatternMatcherFunc = (text, offset) => {
  const code = text.charCodeAt(offset);
  const oddity =
    (isDigitCode(code) ? numberTrouble(text, offset) : undefined) ?? characterTrouble(text, offset);
  return foundOddity(text, offset, oddity);
};
