import { applyPatches, type Edited, formulaSpan, type Statement, setFormula } from "../../../grammar";
import type { Book, Item } from "../../engine";
import type { Field } from "../../engine/editing";
import type { Place } from "./place";

/** A change of the text, named for the undo stack. */
export interface Edit {
  readonly says: string;
  readonly text: string;
  /** Where the writer stands afterwards, when that is somewhere else. */
  readonly lands?: Place;
  /** Opens the field at `lands`. */
  readonly open?: boolean;
}
/** Why something cannot be written here. What was typed stays with the writer. */
export interface Refusal {
  readonly refused: string;
}

/** An edit of the grammar with its name for the undo stack, or the grammar's reason against it. */
export function made(
  book: Book,
  says: string,
  edited: Edited,
  more: Pick<Edit, "lands" | "open"> = {},
): Edit | Refusal {
  if (edited.refused !== undefined)
    return { refused: [edited.refused.says, edited.refused.help ?? ""].join(" ").trim() };
  return { says, text: applyPatches(book.text, edited.patches), ...more };
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
  /** What stands here as the engine reads it, for offers, meanings and what it would become. */
  readonly field?: (text: string) => Field;
  /** How many characters of what is typed stand before that; undefined while it has not begun. By default none. */
  readonly begins?: (typed: string) => number | undefined;
  /** What is written next, once this is kept, changed or not. */
  readonly leads?: Place;
  /** The unit of what stands or belongs here; a bare number is asked about. Undefined where the heading says it. */
  readonly unit?: string | undefined;
  /** Words stand here: a comma in them is theirs. */
  readonly words?: boolean;
  /** What belongs here, for one who meets it for the first time. */
  readonly help?: string;
  /** Where the shown text stands in the book, when it stands there unchanged. */
  readonly span?: { readonly from: number; readonly to: number };
  write(typed: string): Edit | Refusal;
}

/** An equals sign in front of a formula is not kept. */
export const equalsBefore = (typed: string): number => /^\s*(?:=\s*)?/.exec(typed)![0].length;

/** The name and the equals sign before what a value or a computed column is. */
export const NAMED = /^([^=]*[^=\s])\s*=(?!=)\s*/;

/** What a person typed as a formula: one line, an equals sign in front dropped. */
export const asFormula = (typed: string): string => oneLine(typed).replace(/^=\s*/, "");

/** One line of what was typed: line ends and control characters become blanks. */
export const oneLine = (typed: string): string => typed.replace(/[\p{Cc}\u2028\u2029]+/gu, " ").trim();

/** The slot of the formula that a statement holds; emptied, it says `blank`, which is a gap on purpose. */
export function formulaSlot(
  book: Book,
  statement: Statement,
  words: {
    readonly of: string;
    readonly what: string;
    readonly says: string;
    readonly emptied?: string;
    readonly help?: string;
    readonly field: (text: string) => Field;
  },
): Slot | undefined {
  const inside = formulaSpan(book.tree, statement);
  if (inside === undefined) return undefined;
  const span = { from: statement.at + inside.from, to: statement.at + inside.to };
  const { of, what, says, emptied = "blank", field, help } = words;
  return {
    of,
    what,
    text: book.text.slice(span.from, span.to),
    language: "formula",
    field,
    begins: equalsBefore,
    ...(help === undefined ? {} : { help }),
    span,
    write: (typed) => made(book, says, setFormula(book.tree, statement, asFormula(typed) || emptied)),
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
