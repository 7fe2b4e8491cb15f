import type { IToken, TokenType } from "chevrotain";
import { fault, spanOf } from "./messages";
import { LOOSER, ORDER_TYPES } from "./stops";
import * as t from "./tokens";
import type { SyntaxMessage } from "./tree";

/**
 * Limits of a book, each told with its own message. The layers of the grammar overflow a default stack at about
 * 118 nested brackets, so nesting is counted before the parser starts.
 */

export const MOST_NESTED = 40;
export const LONGEST_CHAIN = 200;
export const LONGEST_STATEMENT = 20_000;
export const LARGEST_FILE = 8_000_000;
/** Messages before reading a file is given up. */
export const MOST_TOLD = 50_000;

interface Level {
  /** An `if` counts from itself to its `else`. */
  ifs: number;
  /** Links of the power that is being written. */
  powers: number;
  /** `else if`s so far. */
  cases: number;
  /** Signs and `not`s that follow each other. */
  signs: number;
  /** Links on the way to this level. */
  readonly outer: number;
}

/** Links of chains on the way to here, which add up. */
function linksTo({ outer, powers, cases, signs }: Level): number {
  return outer + powers + cases + signs;
}

/**
 * The first place at which a statement nests too deep or chains too far. `outside` is the count of brackets and
 * braces around the tokens. Links add up over the levels, because a reader of the tree goes through all of them.
 */
export function nestingTrouble(tokens: readonly IToken[], outside: number): SyntaxMessage | undefined {
  if (tokens.length + outside <= MOST_NESTED) return undefined;
  let level: Level = { ifs: 0, powers: 0, cases: 0, signs: 0, outer: 0 };
  const around: Level[] = [];
  let nested = outside;
  for (let i = 0; i < tokens.length; i++) {
    const token = tokens[i]!;
    level.signs = SIGNS.has(token.tokenType) ? level.signs + 1 : 0;
    switch (token.tokenType) {
      case t.OpenBracket:
      case t.OpenSquare:
        around.push(level);
        level = { ifs: 0, powers: 0, cases: 0, signs: 0, outer: linksTo(level) };
        nested++;
        break;
      case t.CloseBracket:
      case t.CloseSquare:
        if (around.length > 0) {
          nested -= 1 + level.ifs;
          level = around.pop()!;
        }
        break;
      case t.If:
        if (tokens[i - 1]?.tokenType === t.Else) level.cases++;
        level.ifs++;
        nested++;
        break;
      case t.Else:
        if (level.ifs > 0) {
          level.ifs--;
          nested--;
        }
        level.powers = 0;
        break;
      case t.Power:
        level.powers++;
        break;
      case t.Comma:
        nested -= level.ifs;
        level.ifs = 0;
        level.cases = 0;
        level.powers = 0;
        break;
      default:
        if (ENDS_POWER.has(token.tokenType) && tokens[i - 1]?.tokenType !== t.Power) level.powers = 0;
        break;
    }
    if (nested > MOST_NESTED) return tooDeep(token);
    if (linksTo(level) > LONGEST_CHAIN) return tooLong(token);
  }
  return undefined;
}

const SIGNS = new Set([t.Minus, t.Plus, t.Not]);
const ENDS_POWER: ReadonlySet<TokenType> = new Set([
  ...LOOSER,
  ...ORDER_TYPES,
  ...[t.Plus, t.Minus, t.Times, t.Over, t.Spread],
]);

function tooDeep(token: IToken): SyntaxMessage {
  const span = spanOf(token.startOffset, token.startOffset + token.image.length);
  return fault(
    "nested-deep",
    span,
    `Brackets, braces and conditions nest more than ${MOST_NESTED} deep here.`,
    {
      help: "Give an inner part a name of its own with `set`, and use the name.",
    },
  );
}

function tooLong(token: IToken): SyntaxMessage {
  const span = spanOf(token.startOffset, token.startOffset + token.image.length);
  return fault(
    "chain-long",
    span,
    `This is a chain of more than ${LONGEST_CHAIN} powers, signs or conditions.`,
    {
      help: "Give a part of it a name of its own with `set`, or put the cases into a table.",
    },
  );
}

export function statementTooLong(length: number): SyntaxMessage {
  return fault(
    "statement-long",
    spanOf(0, length),
    `This statement has ${length} characters; ${LONGEST_STATEMENT} is the most.`,
    {
      help: "A long list of values belongs in a table, one row each.",
    },
  );
}

/** What is wrong with a file as a whole; `stops` when it makes no sense to read it. */
export interface BookTrouble {
  readonly stops: boolean;
  readonly message: SyntaxMessage;
}

const SAFE_LENGTH = LARGEST_FILE / 3;

export function bookTrouble(text: string): BookTrouble | undefined {
  if (text.length > SAFE_LENGTH) {
    const bytes = utf8Length(text);
    if (bytes > LARGEST_FILE) {
      const size = (bytes / 1_000_000).toFixed(1);
      const message = fault(
        "file-large",
        spanOf(0, 0),
        `This file has ${size} MB; ${LARGEST_FILE / 1_000_000} MB is the most for a book.`,
        {
          help: "Split the book, or keep long records in a file of their own.",
        },
      );
      return { stops: true, message };
    }
  }
  const nothing = text.indexOf("\0");
  if (nothing >= 0)
    return {
      stops: true,
      message: fault("file-binary", spanOf(nothing, nothing + 1), "This file is not text.", {
        help: "A book is a plain text file in UTF-8. Perhaps another file was meant.",
      }),
    };
  const lost = text.indexOf("\uFFFD");
  if (lost < 0) return undefined;
  let count = 0;
  for (let at = lost; at >= 0; at = text.indexOf("\uFFFD", at + 1)) count++;
  const span = spanOf(lost, lost + 1);
  if (count > 20 && count > text.length / 50)
    return {
      stops: true,
      message: fault("file-binary", span, "This file is not text in UTF-8.", {
        help: "A book is a plain text file in UTF-8. Perhaps another file was meant, or it was saved in another encoding.",
      }),
    };
  return {
    stops: false,
    message: fault(
      "file-encoding",
      span,
      `${count === 1 ? "One character" : `${count} characters`} of this file could not be read.`,
      {
        help: "The file was saved in another encoding: save it again as UTF-8, and look at the places marked with \uFFFD.",
      },
    ),
  };
}

/** Bytes of a text in UTF-8. */
function utf8Length(text: string): number {
  let bytes = text.length;
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code < 0x80) continue;
    bytes += code < 0x800 ? 1 : 2;
    // A pair of surrogates is four bytes in all.
    if (code >= 0xd800 && code <= 0xdbff) {
      const low = text.charCodeAt(at + 1);
      if (low >= 0xdc00 && low <= 0xdfff) at++;
    }
  }
  return bytes;
}

export function readingStopped(at: number, end: number): SyntaxMessage {
  return fault(
    "file-faulty",
    spanOf(at, end),
    `This file has more than ${MOST_TOLD} faults, so reading stopped here.`,
    {
      help: "Perhaps this file is no book.",
    },
  );
}
