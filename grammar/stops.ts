import type { IToken, TokenType } from "chevrotain";
import { endOf } from "./lexer";
import { quoted, spanOf } from "./messages";
import { spanAt } from "./nodes";
import * as t from "./tokens";
import type { Span } from "./tree";

/** Where the parser stopped, and how to look around there. */

/** Where the parser stopped. */
export interface Stop {
  readonly text: string;
  /** Place of the text's first character, in the counting of the tokens. */
  readonly base: number;
  readonly tokens: readonly IToken[];
  /** Index of the token that did not fit; the count of tokens at the end. */
  readonly index: number;
  /** The one token that would have fitted, when there was only one. */
  readonly wanted: TokenType | undefined;
  /** Name of the rule that stopped. */
  readonly rule: string;
}

export const met = (stop: Stop): IToken | undefined => stop.tokens[stop.index];
export const before = (stop: Stop): IToken | undefined => stop.tokens[stop.index - 1];

/** The place of the message: the token that did not fit, or the point behind the last one. */
export function place(stop: Stop): Span {
  const token = met(stop);
  if (token !== undefined) return spanAt(token);
  const end = endOf(before(stop)!);
  return spanOf(end, end);
}

/** What stands there, for the end of a sentence: "`*` stands here", "nothing follows". */
export function stands(stop: Stop): string {
  const token = met(stop);
  return token === undefined ? "nothing follows" : `${quoted(token.image)} stands here`;
}

export const endsBracket = (type: TokenType): boolean => type === t.CloseBracket || type === t.CloseSquare;

/** Index of the bracket that is still open before `index`, or -1. */
export function openBracketBefore(tokens: readonly IToken[], index: number): number {
  const open: number[] = [];
  for (let i = 0; i < index; i++) {
    const type = tokens[i]!.tokenType;
    if (type === t.OpenBracket || type === t.OpenSquare) open.push(i);
    else if (type === t.CloseBracket || type === t.CloseSquare) open.pop();
  }
  return open.at(-1) ?? -1;
}

export const KEPT: ReadonlySet<TokenType> = new Set(t.RESERVED_TYPES);
export const isKept = (token: IToken): boolean => KEPT.has(token.tokenType);

export const ORDER_TYPES: ReadonlySet<TokenType> = new Set([t.Order, t.Is, t.Unequal, t.Within]);
export const LOOSER: ReadonlySet<TokenType> = new Set([
  ...[
    t.And,
    t.Or,
    t.Not,
    t.If,
    t.Then,
    t.Else,
    t.Where,
    t.To,
    t.Step,
    t.So,
    t.That,
    t.Comma,
    t.Colon,
    t.Equals,
  ],
  ...t.CLAUSE_TYPES,
  ...t.STYLE_TYPES,
  ...t.HEAD_TYPES,
]);

/** Index of the last token, going from `at` in steps of `by`, that belongs to one side of a comparison. */
export function sideOf(tokens: readonly IToken[], at: number, by: 1 | -1): number {
  let depth = 0;
  let end = at - by;
  for (let i = at; i >= 0 && i < tokens.length; i += by) {
    const type = tokens[i]!.tokenType;
    const opens = by > 0 ? type === t.OpenBracket || type === t.OpenSquare : endsBracket(type);
    const closes = by > 0 ? endsBracket(type) : type === t.OpenBracket || type === t.OpenSquare;
    if (opens) depth++;
    else if (closes && --depth < 0) break;
    else if (depth === 0 && (LOOSER.has(type) || ORDER_TYPES.has(type))) break;
    end = i;
  }
  return end;
}

export const VALUE_HELP = "A value is a number, a name, a text, or a formula in brackets.";
/** Whether a value could stand where the parser stopped: an empty bracket may close as well. */
export function wantsValue(stop: Stop): boolean {
  const { wanted } = stop;
  return wanted === undefined || (endsBracket(wanted) && !t.OPERAND_ENDS.has(before(stop)!.tokenType));
}
