import { writeName } from "../../../grammar";
import type { Book, Item, TableItem } from "../../engine";
import { startWithComment } from "./comments";
import { itemAt, placedItems } from "./items";
import { cellPlace, type Field, itemPlace, NAMES_ROW } from "./place";
import { type Edit, endOfTable, type Refusal, wordFor } from "./slot";
import { endOfLine, lineEndOf, patched } from "./source";

/** Items of the book added, moved and taken away: whole lines, with the comment lines that stand above them. */

export type Sort = "value" | "table" | "check" | "chart" | "step" | "words" | "part" | "function";

/** The lines of an item: from the comments above it to the end of its last line, line end included. */
export function blockOf(book: Book, item: Item): { readonly from: number; readonly to: number } {
  const end =
    item.type === "table"
      ? endOfTable(book, item)
      : endOfLine(book.text, item.statement.at + item.statement.length);
  const lineEnd = book.text.startsWith("\r\n", end) ? 2 : book.text[end] === "\n" ? 1 : 0;
  return { from: startWithComment(book.text, item.statement.at), to: end + lineEnd };
}

/** Takes an item out of the book, its table rows and comments with it. */
export function removeItem(book: Book, key: string): Edit | Refusal {
  const placed = itemAt(book, key);
  if (placed === undefined) return { refused: "It is not in the book any more." };
  const { from, to } = blockOf(book, placed.item);
  const list = placedItems(book);
  const at = list.indexOf(placed);
  const neighbour = list[at - 1] ?? list[at + 1];
  return {
    says: `removing ${wordFor(placed.item)}`,
    text: patched(book.text, [{ from, to: blankBehind(book.text, from, to), text: "" }]),
    ...(neighbour === undefined ? {} : { lands: standOn(neighbour.key, neighbour.item) }),
  };
}

/** One blank line behind a block goes with it when another stands above, so that no double gap is left. */
function blankBehind(text: string, from: number, to: number): number {
  const above = /(^|\n)[ \t]*\r?\n$/.test(text.slice(0, from)) || from === 0;
  const below = /^[ \t]*\r?\n/.exec(text.slice(to));
  return above && below ? to + below[0].length : to;
}

/** Moves an item before its neighbour above, or behind its neighbour below. */
export function moveItem(book: Book, key: string, way: "up" | "down"): Edit | Refusal {
  const list = placedItems(book);
  const at = list.findIndex((p) => p.key === key);
  const placed = list[at];
  const other = list[way === "up" ? at - 1 : at + 1];
  if (placed === undefined || other === undefined)
    return { refused: way === "up" ? "It stands at the top already." : "It stands at the end already." };
  const a = blockOf(book, way === "up" ? other.item : placed.item);
  const b = blockOf(book, way === "up" ? placed.item : other.item);
  const eol = lineEndOf(book.text);
  const whole = (block: { from: number; to: number }) => {
    const text = book.text.slice(block.from, block.to);
    return text.endsWith("\n") ? text : text + eol;
  };
  const between = book.text.slice(a.to, b.from);
  const endsOpen = b.to === book.text.length && !book.text.endsWith("\n");
  let text = whole(b) + between + whole(a);
  if (endsOpen) text = text.slice(0, -eol.length);
  return {
    says: `moving ${wordFor(placed.item)} ${way}`,
    text: patched(book.text, [{ from: a.from, to: b.to, text }]),
    lands: standOn(placed.key, placed.item),
  };
}

/** Where the writer stands on an item. */
export function standOn(key: string, item: Item) {
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

/** Adds an item below another, or at the end of the book, and opens what has to be written first. */
export function addItem(book: Book, sort: Sort, below?: string): Edit {
  const eol = lineEndOf(book.text);
  const placed = below === undefined ? undefined : itemAt(book, below);
  const made = freshItem(book, sort, placed?.item.type === "table" ? placed.item : undefined);
  const lines = made.lines.join(eol) + eol;
  let at = book.text.length;
  let before = "";
  let behind = "";
  if (placed !== undefined) {
    at = blockOf(book, placed.item).to;
    // A run of values, checks or steps stays one run; anything else gets a blank line of its own.
    const alike = placed.item.type === sort;
    before = book.text[at - 1] === "\n" ? "" : eol;
    if (!alike) before += eol;
    if (!alike && !/^[ \t]*(\r?\n|$)/.test(book.text.slice(at))) behind = eol;
  } else {
    const tail = /(\r?\n)?[ \t]*(\r?\n)?$/.exec(book.text)![0];
    const breaks = tail.split("\n").length - 1;
    const last = placedItems(book).at(-1);
    const wanted = book.text.trim() === "" ? 0 : last?.item.type === sort ? 1 : 2;
    before = eol.repeat(Math.max(0, wanted - breaks));
  }
  return {
    says: `adding ${made.word}`,
    text: patched(book.text, [{ from: at, to: at, text: before + lines + behind }]),
    lands: made.lands,
    open: true,
  };
}

interface Fresh {
  readonly word: string;
  readonly lines: readonly string[];
  readonly lands: NonNullable<Edit["lands"]>;
}

function freshItem(book: Book, sort: Sort, near: TableItem | undefined): Fresh {
  const nth = (type: Item["type"]) => placedItems(book).filter((p) => p.item.type === type).length + 1;
  switch (sort) {
    case "value": {
      const name = freshName(book, "value");
      return { word: "a value", lines: [`set ${name} = blank`], lands: itemPlace(`value:${name}`, "name") };
    }
    case "function": {
      const name = freshName(book, "twice");
      return {
        word: "a function",
        lines: [`define ${name}(x) = 2 * x`],
        lands: itemPlace(`define:${name}`, "statement"),
      };
    }
    case "table": {
      const name = freshName(book, "table_1");
      return {
        word: "a table",
        lines: [`table ${name} "New table"`, "| item | amount (g) |", "|      |            |"],
        lands: itemPlace(`table:${name}`, "title"),
      };
    }
    case "check":
      return {
        word: "a check",
        lines: ['check true : "say what must hold"'],
        lands: itemPlace(`check~${orderOf(book, "check")}`, "formula"),
      };
    case "chart":
      return {
        word: "a chart",
        lines: [`chart "New chart" : ${chartOf(book, near)}`],
        lands: itemPlace(`chart~${orderOf(book, "chart")}`, "formula"),
      };
    case "step":
      return {
        word: "a step",
        lines: ['step "Say what to do."'],
        lands: itemPlace(`step~${orderOf(book, "step")}`, "text"),
      };
    case "words":
      return {
        word: "words",
        lines: ['about "Say something."'],
        lands: itemPlace(`about~${nth("about")}`, "text"),
      };
    case "part":
      return { word: "a part", lines: ['part "New part"'], lands: itemPlace(`part~${nth("part")}`, "text") };
  }
  function orderOf(b: Book, type: Item["type"]): number {
    return placedItems(b).filter((p) => p.item.type === type).length + 1;
  }
}

/** A first picture: the amounts of the nearest table, or a curve when there is none. */
function chartOf(book: Book, near: TableItem | undefined): string {
  const table = near ?? placedItems(book).findLast((p) => p.item.type === "table")?.item;
  if (table?.type === "table") {
    const what = table.columns.findLast((c, i) => i > 0 && c.holds === "quantity");
    const by = table.columns[0];
    if (what !== undefined && by !== undefined)
      return `bars ${writeName(table.name)}.${writeName(what.name)} by ${writeName(table.name)}.${writeName(by.name)}`;
  }
  return "curve x^2 for x from 0 to 10";
}

/** A name that no value, table or function of the book has. */
export function freshName(book: Book, stem: string): string {
  const taken = new Set(placedItems(book).flatMap((p) => ("name" in p.item ? [p.item.name] : [])));
  if (!taken.has(stem)) return stem;
  const bare = stem.replace(/_\d+$/, "");
  for (let i = 2; ; i++) if (!taken.has(`${bare}_${i}`)) return `${bare}_${i}`;
}
