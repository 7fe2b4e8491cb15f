import type { Book } from "../../engine";
import type { Note } from "../../quantity";
import { placedItems } from "./items";

/** The remarks that an item is the first on the page to carry. A remark travels with a value; it is read once. */
export type FirstNotes = (key: string) => readonly Note[];

const known = new WeakMap<Book, FirstNotes>();

export function firstNotes(book: Book): FirstNotes {
  const before = known.get(book);
  if (before) return before;
  const seen = new Set<string>();
  const byKey = new Map<string, readonly Note[]>();
  for (const { key, item } of placedItems(book)) {
    const notes =
      item.type === "value"
        ? [item.shown, ...item.parts].flatMap((s) => s.notes)
        : item.type === "check"
          ? item.notes
          : [];
    const fresh = notes.filter((n) => !seen.has(n.text) && seen.add(n.text) !== undefined);
    if (fresh.length > 0) byKey.set(key, fresh);
  }
  const first: FirstNotes = (key) => byKey.get(key) ?? [];
  known.set(book, first);
  return first;
}
