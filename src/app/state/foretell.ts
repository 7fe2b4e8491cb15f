import type { Book, Shown } from "../../engine";
import { itemAt, tableAt } from "./items";
import type { Draft } from "./notebook";
import { FORMULAS_ROW } from "./place";
import { slotAt } from "./slots";

/** What a draft would become if it were kept. */
export type Foretold =
  | { readonly type: "nothing" }
  | { readonly type: "value"; readonly shown: Shown }
  | { readonly type: "trouble"; readonly says: string };

/**
 * Works out the book with the draft in it and reads what would stand in its place. Nothing is kept: a book is
 * immutable, and one edit away costs only what depends on it.
 */
export function foretold(book: Book, draft: Draft): Foretold {
  const slot = slotAt(book, draft.place);
  if (slot === undefined || (slot.language !== "formula" && slot.language !== "cell"))
    return { type: "nothing" };
  if (draft.text.trim() === "" || draft.text === slot.text) return { type: "nothing" };
  const edit = slot.write(draft.text);
  if ("refused" in edit) return { type: "trouble", says: edit.refused };
  const next = book.edit(edit.text);
  const shown = shownAt(next, draft);
  if (shown === undefined) return { type: "nothing" };
  if (shown.state === "fault") return { type: "trouble", says: shown.message ?? "This cannot be read yet." };
  return { type: "value", shown };
}

function shownAt(book: Book, { place }: Draft): Shown | undefined {
  if (place.in === "cell") {
    const table = tableAt(book, place.key);
    if (table === undefined || place.column >= table.columns.length) return undefined;
    if (place.row === FORMULAS_ROW) return table.rowCount > 0 ? table.cell(0, place.column) : undefined;
    if (place.row >= table.rowCount) return table.feet.get(table.columns[place.column]!.name)?.shown;
    return place.row < 0 ? undefined : table.cell(place.row, place.column);
  }
  const item = itemAt(book, place.key)?.item;
  return item?.type === "value" && place.field === "formula" ? item.shown : undefined;
}
