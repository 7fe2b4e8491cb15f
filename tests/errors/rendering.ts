import { messageLines } from "../../src/cli/message";
import { harmless, type Sink } from "../../src/cli/terminal";
import { type Book, openBook } from "../../src/engine";

const paper: Sink = { write: () => Promise.resolve(), colour: false, width: 100 };

/**
 * A book of the corpus as the command tells it: every message, then what the values and checks that did not
 * come to anything say for themselves, so that a fault can be followed to whatever needs it.
 */
export function rendered(text: string, name: string): string {
  const book = openBook(text);
  const parts = book.messages.map((message) => messageLines(message, { name, text }, paper).join("\n"));
  const states = stateLines(book);
  if (states.length > 0) parts.push(states.join("\n"));
  return harmless(`${parts.join("\n\n")}\n`);
}

function stateLines(book: Book): string[] {
  const lines: string[] = [];
  for (const item of book.items) {
    if (item.type === "chart" && item.message !== undefined) lines.push(`${item.title}: ${item.message}`);
    if (item.type === "check") {
      lines.push(`check ${item.text}: ${item.state}${item.says === undefined ? "" : `: ${item.says}`}`);
      for (const note of item.notes) lines.push(`check ${item.text}: note: ${note.text}`);
    }
  }
  for (const answer of book.answers()) {
    if (answer.state !== "ok") lines.push(`${answer.name}: ${answer.state}: ${answer.message}`);
    for (const note of answer.notes) lines.push(`${answer.name}: note: ${note}`);
  }
  return lines;
}
