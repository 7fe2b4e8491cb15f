import {
  applyPatches,
  isPlainName,
  rename,
  type Statement,
  setComment,
  setFormula,
  setStepClauses,
  setStepText,
  setTitle,
  setTrial,
} from "../../../grammar";
import type { Book, Item } from "../../engine";
import type { Field as EditedField } from "../../engine/editing";
import { unitBehind } from "./bare-numbers";
import { itemAt, placedItems } from "./items";
import { cellPlace, type ItemPlace, itemPlace, NAMES_ROW } from "./place";
import { readSentence, writeSentence } from "./sentence";
import { type Edit, formulaSlot, made, NAMED, oneLine, type Slot, wordFor } from "./slot";
import { standIns } from "./stand-ins";

/** What can be written of an item outside tables: values, sentences, titles, whole statements. */

/** The slot of a field of an item. */
export function itemSlot(book: Book, place: ItemPlace): Slot | undefined {
  const item = itemAt(book, place.key)?.item;
  if (item === undefined) return undefined;
  switch (place.field) {
    case "statement":
      return statementSlot(book, item);
    case "name":
      return nameSlot(book, item);
    case "title": {
      const slot = titleSlot(book, item);
      // Once a fresh chart has its words, what it draws is next.
      const isFresh = item.type === "chart" && item.title === standIns.chart;
      return isFresh && slot !== undefined ? { ...slot, leads: itemPlace(place.key, "formula") } : slot;
    }
    case "text":
      return item.type === "step" ? sentenceSlot(book, item) : titleSlot(book, item);
    case "formula":
      return formulaOf(book, place.key, item);
    case "remark":
      return remarkSlot(book, item);
    case "range":
      return item.type === "value" ? rangeSlot(book, item) : undefined;
    case "clauses":
      return item.type === "step" ? clausesSlot(book, item) : undefined;
  }
}

type Of<T extends Item["type"]> = Extract<Item, { type: T }>;

function statementSlot(book: Book, item: Item): Slot {
  const { at, length } = item.statement;
  const span = { from: at, to: at + length };
  return {
    of: wordFor(item),
    what: "as written",
    text: book.text.slice(span.from, span.to),
    language: "statement",
    field: (words) => ({ in: "statement", text: words }),
    span,
    write: (typed) => ({
      says: wordFor(item),
      text: applyPatches(book.text, [{ ...span, insert: oneLine(typed) }]),
    }),
  };
}

function nameSlot(book: Book, item: Item): Slot | undefined {
  if (item.type !== "value" && item.type !== "define" && item.type !== "table") return undefined;
  const { name, statement } = item;
  // A value may be written in one go: its name, an equals sign, and what it is.
  const inOneGo =
    item.type !== "value"
      ? {}
      : {
          field: (text: string): EditedField => ({ in: "value", name, text }),
          begins: (typed: string) => NAMED.exec(typed)?.[0].length,
          help: "A name, or all in one go: `name = 500 mL`.",
        };
  return {
    of: name,
    what: "name",
    text: name,
    language: "name",
    ...inOneGo,
    write(typed) {
      const line = oneLine(typed);
      const head = item.type === "value" ? NAMED.exec(line) : null;
      const formula = head === null ? "" : line.slice(head[0].length);
      const to = (formula === "" ? line : head![1]!).replace(/^`([^`]*)`$/, "$1");
      const what =
        item.type === "table"
          ? { kind: "table" as const, table: item.tree }
          : { kind: item.type === "value" ? ("set" as const) : ("define" as const), statement };
      // A value goes on to what it is; the key of an item holds its name.
      const lands = itemPlace(
        `${item.type}:${to.normalize("NFC")}`,
        item.type === "value" ? "formula" : "name",
      );
      const renamed = made(book, `renaming ${name} to ${to}`, rename(book.tree, what, to), { lands });
      if (formula === "" || "refused" in renamed) return renamed;
      const next = book.edit(renamed.text);
      const there = placedItems(next).find((p) => p.key === lands.key)?.item;
      const written = there === undefined ? undefined : formulaOf(next, lands.key, there)?.write(formula);
      if (written === undefined || "refused" in written) return written ?? renamed;
      return { says: `writing ${to}`, text: written.text, lands };
    },
  };
}

const titleWords: Readonly<Partial<Record<Item["type"], readonly [of: string, what: string]>>> = {
  book: ["book", "title"],
  about: ["book", "words"],
  part: ["part", "title"],
  table: ["table", "title"],
  chart: ["chart", "title"],
  check: ["check", "sentence"],
};

/** The text in quotes of a book, about, part, table, chart or check. */
function titleSlot(book: Book, item: Item): Slot | undefined {
  const words = titleWords[item.type];
  if (words === undefined) return undefined;
  const text = "title" in item ? item.title : "text" in item ? item.text : "";
  return {
    of: item.type === "table" ? item.name : words[0],
    what: words[1],
    text,
    language: "words",
    ...(item.type === "check"
      ? { help: "In a cook's words, what it means when it holds: “there is honey left”." }
      : {}),
    write(typed) {
      const title = oneLine(typed);
      const edit = made(book, `${words[1]} of ${wordFor(item)}`, setTitle(book.tree, item.statement, title));
      return item.type === "table" && !("refused" in edit) ? named(book, item, title, edit) : edit;
    },
  };
}

function formulaOf(book: Book, key: string, item: Item): Slot | undefined {
  switch (item.type) {
    case "value": {
      const slot = formulaSlot(book, item.statement, {
        of: item.name,
        what: item.shown.origin === "typed" ? "value" : "formula",
        says: item.name,
        field: (text) => ({ in: "value", name: item.name, text }),
        help: "A number with its unit, or a formula: `500 mL`, `2 * bottle`.",
        // A value that was emptied is blank on purpose, and keeps its unit.
        emptied: item.shown.unit === "" ? "blank" : `blank in ${item.shown.unit}`,
      });
      if (slot === undefined || item.shown.state === "fault") return slot;
      return { ...slot, unit: slot.text === "blank" ? askedUnit(book, item.name) : unitBehind(slot.text) };
    }
    case "define":
      return formulaSlot(book, item.statement, {
        of: item.name,
        what: "formula",
        says: `formula of ${item.name}`,
        field: (text) => ({ in: "define", name: item.name, text }),
      });
    // Once the formula of something fresh is kept its words are next: they still are what it was made with.
    case "check": {
      const slot = formulaSlot(book, item.statement, {
        of: "check",
        what: "formula",
        says: `formula of ${wordFor(item)}`,
        field: (text) => ({ in: "check", text }),
      });
      return item.text === standIns.check && slot !== undefined
        ? {
            ...slot,
            leads: itemPlace(key, "text"),
            help: "What must be true: `strength > 40 %vol`, `got within 480 mL to 520 mL`.",
          }
        : slot;
    }
    case "chart": {
      const slot = chartSlot(book, item.statement, item.title);
      return item.title === standIns.chart && slot !== undefined
        ? {
            ...slot,
            leads: itemPlace(key, "title"),
            help: "`bars` or `line` or `dots`, then what `by` what; or `curve f(x) for x from 0 to 10`.",
          }
        : slot;
    }
    default:
      return undefined;
  }
}

/** The unit in which a step asks for a value, if one does. */
const askedUnit = (book: Book, name: string): string | undefined =>
  book.items
    .flatMap((item) => (item.type === "step" ? item.asks : []))
    .find((ask) => ask.path === name && ask.unit !== "")?.unit;

function chartSlot(book: Book, statement: Statement, title: string): Slot | undefined {
  const of = title === "" ? "chart" : title;
  const slot = formulaSlot(book, statement, {
    of,
    what: "chart",
    says: `chart “${title}”`,
    field: (text) => ({ in: "chart", text }),
  });
  if (slot === undefined) return undefined;
  return {
    ...slot,
    language: "statement",
    write: (typed) => made(book, `chart “${title}”`, setFormula(book.tree, statement, oneLine(typed))),
  };
}

function sentenceSlot(book: Book, item: Of<"step">): Slot | undefined {
  const { node, at } = item.statement;
  if (node.type !== "step") return undefined;
  const { from, to } = node.text.span;
  return {
    of: `step ${item.number}`,
    what: "sentence",
    text: readSentence(book.text.slice(at + from + 1, at + to - 1)),
    language: "words",
    field: (text) => ({ in: "sentence", text }),
    help: "What to do, in a sentence; an amount of the book stands in braces: `{water.add in mL}`.",
    write: (typed) =>
      made(
        book,
        `step ${item.number}`,
        setStepText(book.tree, item.statement, writeSentence(oneLine(typed))),
      ),
  };
}

function clausesSlot(book: Book, item: Of<"step">): Slot | undefined {
  const { node, at, length } = item.statement;
  if (node.type !== "step") return undefined;
  return {
    of: `step ${item.number}`,
    what: "wait and readings",
    text: book.text.slice(at + node.text.span.to, at + length).trim(),
    language: "statement",
    field: (text) => ({ in: "clauses", text }),
    write: (typed) =>
      made(
        book,
        `readings of step ${item.number}`,
        setStepClauses(book.tree, item.statement, oneLine(typed)),
      ),
  };
}

function remarkSlot(book: Book, item: Item): Slot {
  const of = wordFor(item);
  return {
    of,
    what: "remark",
    text: item.remark ?? "",
    language: "words",
    write: (typed) => made(book, `remark on ${of}`, setComment(book.tree, item.statement, oneLine(typed))),
  };
}

function rangeSlot(book: Book, item: Of<"value">): Slot | undefined {
  const { node, at, length } = item.statement;
  if (node.type !== "set") return undefined;
  const from = at + node.formula.span.to;
  return {
    of: item.name,
    what: "range to try",
    text: book.text
      .slice(from, at + length)
      .trim()
      .replace(/^try\s+/, ""),
    language: "formula",
    help: "From one value to another: 38 %vol to 46 %vol.",
    field: (text) => ({ in: "trial", name: item.name, text }),
    write: (typed) =>
      made(
        book,
        `range of ${item.name}`,
        // `38 to 46 %vol` is meant as `38 %vol to 46 %vol`.
        setTrial(
          book.tree,
          item.statement,
          oneLine(typed)
            .replace(/^try\s+/, "")
            .replace(/^([\d.]+)(\s+to\s+[\d.]+(\s*[^\s\d][^\s]*))/u, "$1$3$2"),
        ),
      ),
  };
}

/** A table that was never given a name of its own takes one from its title. */
function named(book: Book, table: Of<"table">, title: string, edit: Edit): Edit {
  if (!/^table(_\d+)?$/.test(table.name)) return edit;
  const word = title
    .toLowerCase()
    .replace(/[^\p{L}\p{M}\p{Nd}]+/gu, "_")
    .replace(/^_+|_+$/g, "");
  if (!isPlainName(word)) return edit;
  const next = book.edit(edit.text);
  const there = placedItems(next).find((p) => p.item.type === "table" && p.item.name === table.name)?.item;
  if (there?.type !== "table") return edit;
  // Its columns are next: the first number with its unit.
  const renamed = made(next, edit.says, rename(next.tree, { kind: "table", table: there.tree }, word), {
    lands: cellPlace(`table:${word}`, NAMES_ROW, Math.min(1, there.columns.length - 1)),
  });
  return "refused" in renamed ? edit : renamed;
}
