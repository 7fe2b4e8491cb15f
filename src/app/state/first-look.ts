import { writeName } from "../../../grammar";
import type { Book, Shown, ValueItem } from "../../engine";
import { followersOf } from "./followers";
import { placedItems } from "./items";

/** What a newcomer is shown in a book: a number to change, and one that follows from it and can be asked why. */
export interface FirstLook {
  readonly change: { readonly key: string; readonly name: string };
  /** `part` counts the parts of a result; undefined for a value without parts. */
  readonly follows: { readonly key: string; readonly path: string; readonly part?: number };
}

const isNumber = (shown: Shown): boolean => shown.state === "ok" && shown.value.type === "quantity";

/**
 * The first typed number from which another value of the book follows; one with a range to try before others.
 * Undefined when nothing in the book follows from a number of its own.
 */
export function firstLook(book: Book): FirstLook | undefined {
  const values = placedItems(book).flatMap(({ key, item }) => (item.type === "value" ? [{ key, item }] : []));
  const typed = values.filter(({ item }) => item.shown.origin === "typed" && isNumber(item.shown));
  const tried = typed.filter(({ item }) => item.trial !== undefined);
  for (const { key, item } of [...tried, ...typed]) {
    const followers = followersOf(book, item.name);
    for (const other of values) {
      const numbers: readonly Shown[] = other.item.parts.length === 0 ? [other.item.shown] : other.item.parts;
      // What stands in the formula itself, such as the weight to come down to, does not move.
      const part = numbers.findIndex((n) => isNumber(n) && !other.item.formula.includes(n.text));
      if (part < 0 || !followers.has(writeName(other.item.name))) continue;
      return {
        change: { key, name: item.name },
        follows: {
          key: other.key,
          path: numbers[part]!.path,
          ...(other.item.parts.length === 0 ? {} : { part }),
        },
      };
    }
  }
  return undefined;
}

/** What a value of the book shows now: the whole, or one of its parts. */
export function shownAt(book: Book, key: string, part?: number): Shown | undefined {
  const item = placedItems(book).find((p) => p.key === key)?.item as ValueItem | undefined;
  return part === undefined ? item?.shown : item?.parts[part];
}
