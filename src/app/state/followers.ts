import "../../engine/questions-here";
import { writeName } from "../../../grammar";
import type { Book } from "../../engine";
import { partsOf } from "./paths";

/**
 * Everything of a book that hangs on one of its values, however far along: the names of values, and columns and feet of
 * tables, as they are written in a formula.
 */
export function followersOf(book: Book, name: string): ReadonlySet<string> {
  const seen = new Set<string>();
  const wait = [writeName(name)];
  while (wait.length > 0) {
    for (const user of book.why(wait.pop()!)?.usedBy ?? []) {
      // Tables are followed column by column, results as a whole.
      const parts = partsOf(user);
      const next = parts.length > 1 ? user : writeName(parts[0] ?? user);
      if (seen.has(next)) continue;
      seen.add(next);
      wait.push(next);
    }
  }
  return seen;
}
