import type { Book } from "../../engine";
import { type Meaning, meaning } from "../../engine/editing";
import { placedItems } from "./items";
import type { Draft } from "./notebook";
import { fieldAt } from "./writing";

/** What the name under the caret means, so that its place can be lit. */
export interface Lit {
  /** Key of the table; a column of it, a row of it, or one cell. */
  readonly table?: string;
  readonly column?: number;
  readonly row?: number;
  /** Key of another item. */
  readonly item?: string;
}

/** The meaning of the word under the caret of a draft. Offsets count in the draft's text. */
export function meaningAt(book: Book, draft: Draft): Meaning | undefined {
  const at = fieldAt(book, draft);
  if (at === undefined) return undefined;
  const found = meaning(book, at.field, at.caret);
  return found && { ...found, from: found.from + at.shift, to: found.to + at.shift };
}

/** The place on the page that the name under the caret means, or undefined when it means none. */
export function litBy(book: Book, draft: Draft): Lit | undefined {
  const met = meaningAt(book, draft)?.means;
  // A part of a result has no place of its own: its whole lights up.
  const means = met?.type === "part" ? met.of : met;
  if (means === undefined) return undefined;
  switch (means.type) {
    case "value":
      return litItem(book, "value", means.name);
    case "table":
    case "column":
    case "cell":
    case "row":
    case "foot":
      return litTable(book, means);
    case "function":
      return means.own ? litItem(book, "define", means.name) : undefined;
    default:
      return undefined;
  }
}

function litItem(book: Book, type: "value" | "define", name: string): Lit | undefined {
  const found = placedItems(book).find(
    (p) => p.item.type === type && "name" in p.item && p.item.name === name,
  );
  return found && { item: found.key };
}

function litTable(
  book: Book,
  means: { readonly table: string; readonly column?: string; readonly row?: number; readonly type: string },
): Lit | undefined {
  const found = placedItems(book).find((p) => p.item.type === "table" && p.item.name === means.table);
  if (found?.item.type !== "table") return undefined;
  const { columns, rowCount } = found.item;
  const column = columns.findIndex((c) => c.name === means.column);
  const row = means.type === "foot" ? rowCount : means.row;
  return {
    table: found.key,
    ...(column < 0 ? {} : { column }),
    ...(row === undefined || row < 0 ? {} : { row }),
  };
}
