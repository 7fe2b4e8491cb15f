import type { IToken } from "chevrotain";
import { lex, scannedText } from "./lexer";
import { Text } from "./tokens";
import { normal } from "./words";

/**
 * The mark of a review tick: FNV-1a, 32 bits, in hexadecimal, over the UTF-8 of the tokens in normal form C with one
 * blank between them and comments left out. Spacing keeps a tick; any other change drops it.
 *
 * `formula` is the text behind the `=` of a set, column, foot or cell; for a define it is the text from its first
 * parameter on, `a, b) = a + b`.
 */
export function formulaMark(formula: string): string {
  return `@${fnv1a(new TextEncoder().encode(markedText(formula)))}`;
}

/** The text that a mark is made of. */
function markedText(formula: string): string {
  return lex(formula, "formula")
    .tokens.map((token) => normal(tokenText(token, formula)))
    .join(" ");
}

/** A token as it is written, save that spacing inside the braces of a text does not count either. */
function tokenText(token: IToken, formula: string): string {
  if (token.tokenType !== Text) return token.image;
  let out = "";
  let from = token.startOffset;
  for (const piece of scannedText(token).pieces) {
    if (piece.type === "plain") continue;
    out += formula.slice(from, piece.from) + markedText(formula.slice(piece.from, piece.to));
    from = piece.to;
  }
  return out + formula.slice(from, token.startOffset + token.image.length);
}

const FNV_OFFSET = 0x811c9dc5;
const FNV_PRIME = 0x01000193;

function fnv1a(bytes: Uint8Array): string {
  let hash = FNV_OFFSET;
  for (const byte of bytes) hash = Math.imul(hash ^ byte, FNV_PRIME);
  return (hash >>> 0).toString(16).padStart(8, "0");
}
