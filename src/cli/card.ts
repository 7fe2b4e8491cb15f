import { openBook } from "../engine";
import { cardDocument, cardHtml, cardText } from "../exchange";
import { tellMessages } from "./calc";
import { readText } from "./source";
import type { Terminal } from "./terminal";

export interface CardOptions {
  readonly html?: boolean;
}

/** `card BOOK`: the bench card, as text or as a page that prints on one sheet. */
export async function card(name: string, options: CardOptions, terminal: Terminal): Promise<number> {
  const source = await readText(name, terminal);
  const book = openBook(source.text);
  const document = cardDocument(book);
  await terminal.out.write(options.html ? cardHtml(document) : cardText(document));
  return tellMessages(book, source, terminal);
}
