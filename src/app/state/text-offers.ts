import type { Book } from "../../engine";
import { complete } from "../../engine/editing";
import { type Offered, shownOffers } from "./offers";

/** What can be written at a caret in the text of the book; the book may be one keystroke behind the text. */
export function offeredInText(book: Book, text: string, caret: number, most: number): Offered {
  return shownOffers(complete(book, { in: "book", text }, caret, { most }), text, 0);
}
