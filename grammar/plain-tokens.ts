import { type LexingMode, lex, nameOf } from "./lexer";
import * as t from "./tokens";

/**
 * Tokens for those who look at a text that is still being written, and so at no tree: plain objects that know nothing
 * of the parser's machinery. For colours use highlight.ts, for the context of a caret caret.ts.
 */

/** What a token is, as far as an editor tells them apart. */
export type TokenType =
  | "name"
  | "part"
  | "label"
  | "number"
  | "date"
  | "unit"
  | "text"
  /** A word that formulas keep for themselves. */
  | "word"
  /** `try`, `wait`, `by` … behind a whole formula. */
  | "clause"
  /** `bars`, `line`, `dots`, `curve`. */
  | "style"
  /** The first word of a statement. */
  | "head"
  | "operator"
  /** What cannot be read, and the marks of review ticks. */
  | "odd";

export interface Token {
  readonly type: TokenType;
  readonly from: number;
  readonly to: number;
  /** As written; operators in their plain spelling (`×` is `*`). */
  readonly text: string;
  /** Names, parts and labels: backticks removed, NFC. */
  readonly name?: string;
}

const typeOf = new Map<unknown, TokenType>([
  [t.Name, "name"],
  [t.Part, "part"],
  [t.Label, "label"],
  [t.NumberWord, "number"],
  [t.DateWord, "date"],
  [t.Unit, "unit"],
  [t.Text, "text"],
  [t.Mark, "odd"],
  ...t.RESERVED_TYPES.map((type) => [type, "word"] as const),
  ...t.CLAUSE_TYPES.map((type) => [type, "clause"] as const),
  ...t.STYLE_TYPES.map((type) => [type, "style"] as const),
  ...t.HEAD_TYPES.map((type) => [type, "head"] as const),
  ...[...t.FAULTS].map((type) => [type, "odd"] as const),
]);

const spelling = new Map<unknown, string>([
  [t.Spread, "±"],
  [t.Minus, "-"],
  [t.Times, "*"],
  [t.Over, "/"],
  [t.Unequal, "≠"],
]);

/**
 * Tokens of a text from `from` up to `to`; the text behind is not looked at. `mode` says how it is read: a `statement`
 * from its first word on (which must be one that begins a statement), a `formula` with comments, or an `inner` one, of
 * a cell or between braces, where `#` begins none. Never throws otherwise; what cannot be read is `odd`.
 */
export function tokensOf(text: string, from: number, to: number, mode: LexingMode): readonly Token[] {
  return lex(text.slice(from, to), mode).tokens.map((token): Token => {
    const type = typeOf.get(token.tokenType) ?? "operator";
    const at = from + token.startOffset;
    const core = { type, from: at, to: at + token.image.length };
    if (type === "name" || type === "part" || type === "label")
      return { ...core, text: token.image, name: nameOf(token) };
    return { ...core, text: spelling.get(token.tokenType) ?? token.image };
  });
}
