import type { Statement } from "../../../grammar";
import type { Book, Item, TableItem } from "../../engine";
import type { Place } from "./place";
import { endOfLine, oneLine, patched, sourceOf } from "./source";

/** A change of the text, named for the undo stack. */
export interface Edit {
  readonly says: string;
  readonly text: string;
  /** Where the writer stands afterwards, when that is somewhere else. */
  readonly lands?: Place;
  /** Opens the field at `lands`. */
  readonly open?: boolean;
}
/** Why something cannot be written here. What was typed stays in the field. */
export interface Refusal {
  readonly refused: string;
}

/** How the words in a slot are read: they decide highlighting, completion, and whether commas are asked about. */
export type Language = "formula" | "cell" | "words" | "name" | "statement";

/** One place where something can be written: what stands there now, and how to write something else. */
export interface Slot {
  /** The thing, and the part of it: "lemon peel", "price". */
  readonly of: string;
  readonly what: string;
  /** As the writer sees and edits it. */
  readonly text: string;
  readonly language: Language;
  /** Where the shown text stands in the book, when it stands there unchanged. */
  readonly span?: { readonly from: number; readonly to: number };
  write(typed: string): Edit | Refusal;
}

/** What a person typed as a formula: one line, an equals sign in front dropped. */
export const asFormula = (typed: string): string => oneLine(typed).replace(/^=\s*/, "");

/** The slot of a formula that a statement holds. */
export function formulaSlot(book: Book, statement: Statement, of: string, what: string, says: string): Slot {
  const { node, at } = statement;
  const source = sourceOf(book.text, statement);
  const inside = "formula" in node ? node.formula.span : { from: source.length, to: source.length };
  // A formula that cannot be read may have an empty span; then everything behind the first equals sign is shown.
  const equals = source.indexOf("=") + 1;
  const whole =
    inside.to > inside.from || node.type === "check"
      ? inside
      : { from: equals + /^\s*/.exec(source.slice(equals))![0].length, to: source.length };
  const span = { from: at + whole.from, to: at + whole.to };
  return {
    of,
    what,
    text: book.text.slice(span.from, span.to),
    language: "formula",
    span,
    write: (typed) => {
      const words = asFormula(typed) || "blank";
      const gap = book.text[span.from - 1] === "=" ? " " : "";
      return { says, text: patched(book.text, [{ ...span, text: gap + words }]) };
    },
  };
}

/** What an item is called in a sentence. */
export function wordFor(item: Item): string {
  switch (item.type) {
    case "value":
    case "define":
      return item.name;
    case "table":
      return `table ${item.name}`;
    case "check":
      return item.text === "" ? "a check" : `check “${item.text}”`;
    case "chart":
      return `chart “${item.title}”`;
    case "step":
      return `step ${item.number}`;
    case "book":
      return "the title";
    case "about":
      return "the words";
    case "part":
      return `part “${item.text}”`;
    case "unread":
      return "a line that cannot be read";
  }
}

/** Behind the last statement that belongs to a table, its comment included. */
export function endOfTable(book: Book, table: TableItem): number {
  const { tree } = table;
  const all: Statement[] = [tree.statement, ...tree.rows, ...tree.columns, ...tree.feet];
  if (tree.heading) all.push(tree.heading);
  const last = all.reduce((a, b) => (b.at > a.at ? b : a));
  return endOfLine(book.text, last.at + last.length);
}
