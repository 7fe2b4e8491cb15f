import { EOF, type IParserErrorMessageProvider, type IToken, type TokenType } from "chevrotain";
import { explain } from "./explaining";
import type { SyntaxMessage } from "./tree";

/**
 * What the parser met and what it expected, in the words of a cook. chevrotain asks four methods for a text; each
 * builds a whole message here, with its place and its fixes, and `take` hands it over.
 */

export class Expectations implements IParserErrorMessageProvider {
  private text = "";
  private base = 0;
  private tokens: readonly IToken[] = [];
  private message: SyntaxMessage | undefined;

  /** Tells which tokens the parser is about to read; their places count from `base` before the text. */
  begin(text: string, base: number, tokens: readonly IToken[]): void {
    this.text = text;
    this.base = base;
    this.tokens = tokens;
    this.message = undefined;
  }

  /** The message that the last reading left, if any. */
  take(): SyntaxMessage | undefined {
    return this.message;
  }

  buildMismatchTokenMessage(stop: { expected: TokenType; actual: IToken; ruleName: string }): string {
    return this.tell(stop.actual, stop.expected, stop.ruleName);
  }
  buildNotAllInputParsedMessage(stop: { firstRedundant: IToken; ruleName: string }): string {
    return this.tell(stop.firstRedundant, EOF, stop.ruleName);
  }
  buildNoViableAltMessage(stop: { actual: IToken[]; ruleName: string }): string {
    return this.tell(stop.actual[0]!, undefined, stop.ruleName);
  }
  buildEarlyExitMessage(stop: { actual: IToken[]; ruleName: string }): string {
    return this.tell(stop.actual[0]!, undefined, stop.ruleName);
  }

  private tell(met: IToken, wanted: TokenType | undefined, rule: string): string {
    const found = met.tokenType === EOF ? -1 : this.tokens.indexOf(met);
    const tokens = this.tokens.filter((token) => token.tokenType !== EOF);
    const index = found < 0 ? tokens.length : found;
    this.message = explain({ text: this.text, base: this.base, tokens, index, wanted, rule });
    return this.message.says;
  }
}
