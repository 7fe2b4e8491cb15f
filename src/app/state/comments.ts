import type { Statement } from "../../../grammar";
import type { Book } from "../../engine";

/** The comment lines that stand directly above a statement, as words; "" when there are none. */
export function commentAbove(book: Book, statement: Statement): string {
  const lines: string[] = [];
  let end = book.text.lastIndexOf("\n", statement.at - 1);
  while (end >= 0) {
    const start = end === 0 ? 0 : book.text.lastIndexOf("\n", end - 1) + 1;
    const line = book.text.slice(start, end).trim();
    if (!line.startsWith("#")) break;
    lines.unshift(line.replace(/^#+\s?/, ""));
    end = start - 1;
  }
  return lines.join(" ").trim();
}
