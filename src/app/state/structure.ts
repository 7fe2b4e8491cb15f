import { addStatement, moveStatement, newDefine, newSet, newTable, removeStatement } from "../../../grammar";
import type { Book, Item, TableItem } from "../../engine";
import { firstPicture } from "./first-picture";
import { itemAt, type Placed, placedItems } from "./items";
import { cellPlace, type Field, itemPlace, NAMES_ROW, type Place } from "./place";
import { type Edit, made, type Refusal, wordFor } from "./slot";
import { standIns } from "./stand-ins";

/** Items of the book added, moved and taken away: whole lines, with the comment lines that stand above them. */

export type Sort = "value" | "table" | "check" | "chart" | "step" | "words" | "part" | "function";

/** Takes an item out of the book, its table rows and comments with it. */
export function removeItem(book: Book, key: string): Edit | Refusal {
  const placed = itemAt(book, key);
  if (placed === undefined) return { refused: "It is not in the book any more." };
  const list = placedItems(book);
  const at = list.indexOf(placed);
  const neighbour = list[at - 1] ?? list[at + 1];
  return made(
    book,
    `removing ${wordFor(placed.item)}`,
    removeStatement(book.tree, placed.item.statement),
    neighbour === undefined ? {} : { lands: standOn(neighbour.key, neighbour.item) },
  );
}

/** Moves an item before its neighbour above, or behind its neighbour below. */
export function moveItem(book: Book, key: string, way: "up" | "down"): Edit | Refusal {
  const list = placedItems(book);
  const at = list.findIndex((p) => p.key === key);
  const placed = list[at];
  const other = list[way === "up" ? at - 1 : at + 1];
  if (placed === undefined || other === undefined)
    return { refused: way === "up" ? "It stands at the top already." : "It stands at the end already." };
  const place = way === "up" ? { before: other.item.statement } : { behind: other.item.statement };
  const edit = made(
    book,
    `moving ${wordFor(placed.item)} ${way}`,
    moveStatement(book.tree, placed.item.statement, place),
  );
  if ("refused" in edit) return edit;
  return { ...edit, lands: standOn(keyAfter(placed.key, other.key), placed.item) };
}

/** Items without a name are counted: where two of one sort change places, so do their keys. */
const keyAfter = (key: string, other: string): string =>
  key.includes("~") && other.includes("~") && key.split("~")[0] === other.split("~")[0] ? other : key;

/** Where the writer stands on an item. */
export function standOn(key: string, item: Item): Place {
  if (item.type === "table") return cellPlace(key, item.rowCount > 0 ? 0 : NAMES_ROW, 0);
  return itemPlace(key, mainField(item));
}

/** The field that an item is mostly about. */
export function mainField(item: Item): Field {
  switch (item.type) {
    case "value":
    case "define":
      return "formula";
    case "table":
    case "chart":
      return "title";
    case "unread":
      return "statement";
    default:
      return "text";
  }
}

/**
 * Adds an item below another, or at the end of the book, and opens what has to be written first. A value or function
 * is added before the steps, charts and checks that end the book, beside its like.
 */
export function addItem(book: Book, sort: Sort, below?: string): Edit | Refusal {
  const placed = below === undefined ? beforeTheEnd(book, sort) : itemAt(book, below);
  const fresh = freshItem(book, sort, placed?.item.type === "table" ? placed.item : undefined);
  if ("refused" in fresh) return fresh;
  if (typeof fresh.lines !== "string") return made(book, "", fresh.lines);
  const neighbour = placed ?? placedItems(book).at(-1);
  // A run of values, checks or steps stays one run; anything else gets a blank line of its own.
  const apart = neighbour !== undefined && typeOf(sort) !== neighbour.item.type;
  const blankAbove = /(^|\n)[ \t]*\r?\n$/.test(book.text);
  const lead = apart && !(placed === undefined && blankAbove) ? "\n" : "";
  const place = placed === undefined ? ("end" as const) : { behind: placed.item.statement };
  const edit = made(book, `adding ${fresh.word}`, addStatement(book.tree, place, lead + fresh.lines));
  if ("refused" in edit) return edit;
  return { ...edit, lands: landing(book.edit(edit.text), book, fresh), open: true };
}

/** Where a value goes that is added to a whole book: behind the last item that no card, chart or check comes after. */
function beforeTheEnd(book: Book, sort: Sort): Placed | undefined {
  const list = placedItems(book);
  // A part at the very end was begun to be filled.
  return (sort === "value" || sort === "function") && list.at(-1)?.item.type !== "part"
    ? list.findLast(({ item }) => !/step|chart|check|part/.test(item.type))
    : undefined;
}

const typeOf = (sort: Sort): Item["type"] =>
  sort === "words" ? "about" : sort === "function" ? "define" : sort;

/** The place in the new book where the fresh item stands. */
function landing(after: Book, before: Book, fresh: Fresh): Place {
  if (fresh.key !== undefined) return itemPlace(fresh.key, fresh.field);
  const length = after.text.length - before.text.length;
  let at = 0;
  while (at < before.text.length && before.text[at] === after.text[at]) at++;
  const found = placedItems(after).find(
    (p) =>
      p.item.type === fresh.type && p.item.statement.at >= at - length && p.item.statement.at <= at + length,
  );
  const last = placedItems(after).findLast((p) => p.item.type === fresh.type);
  return itemPlace((found ?? last)!.key, fresh.field);
}

interface Fresh {
  readonly word: string;
  readonly lines: string | Exclude<ReturnType<typeof newSet>, { line: string }>;
  readonly type: Item["type"];
  readonly key?: string;
  readonly field: Field;
}

function freshItem(book: Book, sort: Sort, near: TableItem | undefined): Fresh | Refusal {
  const type = typeOf(sort);
  switch (sort) {
    case "value": {
      const name = freshName(book, "value");
      const made = newSet(book.tree, name, "blank");
      return {
        word: "a value",
        type,
        lines: "line" in made ? made.line : made,
        key: `value:${name}`,
        field: "name",
      };
    }
    case "function": {
      const name = freshName(book, "twice");
      const made = newDefine(book.tree, name, ["x"], "2 * x");
      const lines = "line" in made ? made.line : made;
      return { word: "a function", type, lines, key: `define:${name}`, field: "statement" };
    }
    case "table": {
      const name = freshName(book, "table_1");
      const made = newTable(book.tree, name, standIns.table, ["item", "amount (g)"], [["", ""]]);
      const lines = "lines" in made ? made.lines : made;
      return { word: "a table", type, lines, key: `table:${name}`, field: "title" };
    }
    case "check":
      return { word: "a check", type, lines: `check blank : "${standIns.check}"`, field: "formula" };
    case "chart": {
      const picture = firstPicture(book, near);
      return typeof picture === "string"
        ? { word: "a chart", type, lines: `chart "${standIns.chart}" : ${picture}`, field: "title" }
        : picture;
    }
    case "step":
      return { word: "a step", type, lines: `step "${standIns.step}"`, field: "text" };
    case "words":
      return { word: "words", type, lines: `about "${standIns.words}"`, field: "text" };
    case "part":
      return { word: "a part", type, lines: `part "${standIns.part}"`, field: "text" };
  }
}

/** A name that no value, table or function of the book has. */
export function freshName(book: Book, stem: string): string {
  const taken = new Set(placedItems(book).flatMap((p) => ("name" in p.item ? [p.item.name] : [])));
  if (!taken.has(stem)) return stem;
  const bare = stem.replace(/_\d+$/, "");
  for (let i = 2; ; i++) if (!taken.has(`${bare}_${i}`)) return `${bare}_${i}`;
}
