import { openBook } from "../engine";
import { cardDocument, cardHtml, cardText } from "../exchange";
import { tellMessages } from "./calc";
import { withDigits } from "./digits";
import { readText } from "./source";
import type { Terminal } from "./terminal";

export interface CardOptions {
  readonly html?: boolean;
  readonly digits?: number;
}

/** `card BOOK`: the bench card, as text or as a page that prints on one sheet. */
export async function card(name: string, options: CardOptions, terminal: Terminal): Promise<number> {
  const source = await readText(name, terminal);
  const book = openBook(source.text);
  const document = cardDocument(withDigits(book, options.digits));
  await terminal.out.write(options.html ? cardHtml(document) : cardText(document));
  return tellMessages(book, source, terminal);
}
