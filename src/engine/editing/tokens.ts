import { type LexingMode, lex, nameOf } from "../../../grammar/lexer";
import * as t from "../../../grammar/tokens";

/** The tokens of a text, as far as the editor services tell them apart. */
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
  /** A bracket with all that it holds, up to the one that closes it (made by `frames.ts`). */
  | "bracket"
  /** What cannot be read. */
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

/** Tokens of a text from `from` up to `to`; the text behind is not looked at. */
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

const VALUES = new Set(["true", "false", "blank"]);

/** Whether a whole operand ends with this token, so that an operator or a word must follow. */
export function endsOperand(token: Token | undefined): boolean {
  if (token === undefined) return false;
  switch (token.type) {
    case "name":
    case "part":
    case "number":
    case "date":
    case "unit":
    case "text":
    case "bracket":
      return true;
    case "word":
      return VALUES.has(token.text);
    default:
      return false;
  }
}

/** Whether a token is made of letters, so that a caret behind it may still be writing it. */
export function isWordLike(token: Token): boolean {
  switch (token.type) {
    case "name":
    case "part":
    case "label":
    case "unit":
    case "word":
    case "clause":
    case "style":
    case "head":
      return true;
    default:
      return false;
  }
}
