import { type IToken, Lexer } from "chevrotain";
import type { ScannedText } from "./texts";
import { FAULTS, Label, LEXER_DEFINITION, Name, Part, Text } from "./tokens";
import type { SyntaxMessage } from "./tree";

/**
 * Text to tokens. Whatever cannot be read becomes a token as well, with a worded fault as its payload, so the lexer
 * itself never gives up and never speaks for itself.
 */

/** How a stretch of text is lexed: a whole statement, a formula by itself, or one inside braces or a cell. */
export type LexingMode = "statement" | "formula" | "inner";

export interface Lexed {
  /** In order, blanks and comments left out; `startOffset` counts from the start of the text. */
  readonly tokens: IToken[];
  readonly faults: readonly SyntaxMessage[];
}

/** A lexer of the language. `validate` makes chevrotain check the vocabulary, which the tests do once. */
export function createLexer(validate: boolean): Lexer {
  return new Lexer(LEXER_DEFINITION, {
    positionTracking: "onlyOffset",
    ensureOptimizations: true,
    skipValidations: !validate,
  });
}

const lexer = createLexer(false);

export function lex(text: string, mode: LexingMode): Lexed {
  const { tokens, errors } = lexer.tokenize(text, mode);
  if (errors.length > 0) throw new Error(`no token begins at ${errors[0]!.offset}`);
  const faults: SyntaxMessage[] = [];
  for (const token of tokens) {
    const type = token.tokenType;
    if (type === Text) faults.push(...scannedText(token).faults);
    else if (FAULTS.has(type)) faults.push(token.payload as SyntaxMessage);
  }
  return { tokens, faults };
}

/** What the scan of a text token found. */
export function scannedText(token: IToken): ScannedText {
  return token.payload as ScannedText;
}

/** The name that a name, part or label token stands for: backticks removed, NFC. */
export function nameOf(token: IToken): string {
  return (token.payload as string | undefined) ?? token.image;
}

/** In a cell a bar would cut the row, so names in backticks write it as `\|`; this takes that back. */
export function unescapeBars(tokens: readonly IToken[]): void {
  for (const token of tokens) {
    const type = token.tokenType;
    if ((type === Name || type === Part || type === Label) && token.image.includes("\\|"))
      token.payload = nameOf(token).replaceAll("\\|", "|");
  }
}

export function endOf(token: IToken): number {
  return token.startOffset + token.image.length;
}
