import type { Book, Tick } from "../../engine";
import { partsOf } from "./paths";

/** One spelling for one place: ``a.`b`` and `a.b` are the same. */
const placeIn = (path: string): string => partsOf(path).join("\u0000").normalize("NFC");

const known = new WeakMap<Book, ReadonlyMap<string, Tick>>();

function ticksBy(book: Book): ReadonlyMap<string, Tick> {
  const before = known.get(book);
  if (before !== undefined) return before;
  const made = new Map(book.ticks.map((tick) => [placeIn(tick.path), tick]));
  known.set(book, made);
  return made;
}

/** The tick on what stands at a path, if there is one. */
export const tickAt = (book: Book, path: string): Tick | undefined => ticksBy(book).get(placeIn(path));
