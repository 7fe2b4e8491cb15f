import type { Token as PlainToken, TokenType } from "../../../grammar";

/** A token; a bracket with all that it holds, up to the one that closes it, counts as one (`frames.ts`). */
export type Token = Omit<PlainToken, "type"> & { readonly type: TokenType | "bracket" };

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
