import type { Book, Item, TableItem } from "../../engine";
import { itemAt } from "./items";
import type { Field, ItemPlace } from "./place";
import { renamed } from "./renaming";
import { asFormula, formulaSlot, type Slot, wordFor } from "./slot";
import {
  endOfLine,
  endOfText,
  oneLine,
  patched,
  quote,
  quoteSentence,
  sourceOf,
  unquote,
  unquoteSentence,
} from "./source";

/** What can be written of an item outside tables: values, sentences, titles, whole statements. */

/** The slot of a field of an item. */
export function itemSlot(book: Book, place: ItemPlace): Slot | undefined {
  const placed = itemAt(book, place.key);
  if (placed === undefined) return undefined;
  const { item } = placed;
  if (place.field === "statement") return statementSlot(book, item);
  const make = fields[item.type] as
    | Partial<Record<Field, (book: Book, item: Item) => Slot | undefined>>
    | undefined;
  return make?.[place.field]?.(book, item);
}

type Of<T extends Item["type"]> = Extract<Item, { type: T }>;
type Makers = {
  readonly [T in Item["type"]]?: Partial<Record<Field, (book: Book, item: Of<T>) => Slot | undefined>>;
};

const fields: Makers = {
  book: { text: (book, item) => wordsSlot(book, item, "book", "title") },
  about: { text: (book, item) => wordsSlot(book, item, "about", "words") },
  part: { text: (book, item) => wordsSlot(book, item, "part", "title") },
  value: {
    formula: (book, item) => valueSlot(book, item),
    name: (book, item) => ({
      of: item.name,
      what: "name",
      text: item.name,
      language: "name",
      write: (typed) => renamed(book, { value: item.name }, typed),
    }),
    remark: (book, item) => remarkSlot(book, item, item.name),
    range: (book, item) => rangeSlot(book, item),
  },
  define: {
    formula: (book, item) =>
      formulaSlot(book, item.statement, item.name, "formula", `formula of ${item.name}`),
  },
  table: {
    title: (book, item) => titleSlot(book, item),
    name: (book, item) => ({
      of: item.title || item.name,
      what: "name",
      text: item.name,
      language: "name",
      write: (typed) => renamed(book, { value: item.name }, typed),
    }),
  },
  check: {
    formula: (book, item) => formulaSlot(book, item.statement, "check", "formula", "formula of a check"),
    text: (book, item) => checkWordsSlot(book, item),
  },
  chart: {
    title: (book, item) => chartTitleSlot(book, item),
    formula: (book, item) => chartFormulaSlot(book, item),
  },
  step: {
    text: (book, item) => stepSentenceSlot(book, item),
    clauses: (book, item) => stepClausesSlot(book, item),
  },
};

function statementSlot(book: Book, item: Item): Slot {
  const { at, length } = item.statement;
  const span = { from: at, to: at + length };
  return {
    of: wordFor(item),
    what: "as written",
    text: book.text.slice(span.from, span.to),
    language: "statement",
    span,
    write: (typed) => {
      const words = typed.replace(/\r\n?/g, "\n").replace(/\n+/g, " ").trim();
      return { says: wordFor(item), text: patched(book.text, [{ ...span, text: words }]) };
    },
  };
}

function valueSlot(book: Book, item: Of<"value">): Slot {
  const span = {
    from: item.statement.at + item.formulaSpan.from,
    to: item.statement.at + item.formulaSpan.to,
  };
  return {
    of: item.name,
    what: item.shown.origin === "typed" ? "value" : "formula",
    text: book.text.slice(span.from, span.to),
    language: "formula",
    span,
    write: (typed) => ({
      says: item.name,
      text: patched(book.text, [{ ...span, text: asFormula(typed) || emptied(item) }]),
    }),
  };
}

/** A value that was emptied is blank on purpose, and keeps its unit. */
const emptied = (item: Of<"value">): string =>
  item.shown.unit === "" ? "blank" : `blank in ${item.shown.unit}`;

function wordsSlot(
  book: Book,
  item: Of<"book" | "about" | "part">,
  of: string,
  what: string,
): Slot | undefined {
  const { node, at } = item.statement;
  if (!("textSpan" in node) || node.textSpan === undefined) return undefined;
  const span = { from: at + node.textSpan.from, to: at + node.textSpan.to };
  return {
    of,
    what,
    text: unquote(book.text.slice(span.from, span.to)),
    language: "words",
    write: (typed) => ({ says: wordFor(item), text: patched(book.text, [{ ...span, text: quote(typed) }]) }),
  };
}

function titleSlot(book: Book, item: TableItem): Slot {
  const { node, at } = item.tree.statement;
  const span = node.titleSpan && { from: at + node.titleSpan.from, to: at + node.titleSpan.to };
  return {
    of: item.name,
    what: "title",
    text: item.title,
    language: "words",
    write: (typed) => {
      const words = oneLine(typed);
      const says = `title of ${item.name}`;
      if (span === undefined) {
        const to = at + item.tree.statement.length;
        return {
          says,
          text: words === "" ? book.text : patched(book.text, [{ from: to, to, text: ` ${quote(words)}` }]),
        };
      }
      const from =
        words === "" ? span.from - /\s*$/.exec(book.text.slice(at, span.from))![0].length : span.from;
      return {
        says,
        text: patched(book.text, [{ from, to: span.to, text: words === "" ? "" : quote(words) }]),
      };
    },
  };
}

function checkWordsSlot(book: Book, item: Of<"check">): Slot {
  const { node, at, length } = item.statement;
  const source = sourceOf(book.text, item.statement);
  const behind = node.type === "check" ? node.formula.span.to : length;
  return {
    of: "check",
    what: "sentence",
    text: item.text,
    language: "words",
    write: (typed) => {
      const words = oneLine(typed);
      const tail = words === "" ? "" : ` : ${quote(words)}`;
      const kept = item.text === "" ? length : source.slice(0, behind).trimEnd().length;
      return {
        says: "sentence of a check",
        text: patched(book.text, [{ from: at + kept, to: at + length, text: tail }]),
      };
    },
  };
}

function chartTitleSlot(book: Book, item: Of<"chart">): Slot | undefined {
  const { at } = item.statement;
  const source = sourceOf(book.text, item.statement);
  const from = source.indexOf('"');
  const to = endOfText(source, from);
  if (from === -1 || to === -1) return undefined;
  return {
    of: "chart",
    what: "title",
    text: item.title,
    language: "words",
    write: (typed) => ({
      says: "title of a chart",
      text: patched(book.text, [{ from: at + from, to: at + to, text: quote(typed) }]),
    }),
  };
}

function chartFormulaSlot(book: Book, item: Of<"chart">): Slot | undefined {
  const { at, length } = item.statement;
  const source = sourceOf(book.text, item.statement);
  const colon = source.indexOf(":", endOfText(source, 0));
  if (colon === -1) return undefined;
  const from = at + colon + 1 + /^\s*/.exec(source.slice(colon + 1))![0].length;
  const span = { from, to: at + length };
  return {
    of: item.title === "" ? "chart" : item.title,
    what: "chart",
    text: book.text.slice(span.from, span.to),
    language: "statement",
    span,
    write: (typed) => ({
      says: `chart “${item.title}”`,
      text: patched(book.text, [{ ...span, text: oneLine(typed) }]),
    }),
  };
}

function stepSentenceSlot(book: Book, item: Of<"step">): Slot | undefined {
  const { node, at } = item.statement;
  if (node.type !== "step") return undefined;
  const span = { from: at + node.text.span.from, to: at + node.text.span.to };
  return {
    of: `step ${item.number}`,
    what: "sentence",
    text: unquoteSentence(book.text.slice(span.from, span.to)),
    language: "words",
    write: (typed) => ({
      says: `step ${item.number}`,
      text: patched(book.text, [{ ...span, text: quoteSentence(typed) }]),
    }),
  };
}

function stepClausesSlot(book: Book, item: Of<"step">): Slot | undefined {
  const { node, at, length } = item.statement;
  if (node.type !== "step") return undefined;
  const from = at + node.text.span.to;
  return {
    of: `step ${item.number}`,
    what: "wait and readings",
    text: book.text.slice(from, at + length).trim(),
    language: "statement",
    write: (typed) => {
      const words = oneLine(typed);
      return {
        says: `readings of step ${item.number}`,
        text: patched(book.text, [{ from, to: at + length, text: words === "" ? "" : ` ${words}` }]),
      };
    },
  };
}

function remarkSlot(book: Book, item: Item, of: string): Slot {
  const end = item.statement.at + item.statement.length;
  const to = endOfLine(book.text, end);
  const words = book.text
    .slice(end, to)
    .replace(/^\s*#\s?/, "")
    .trim();
  return {
    of,
    what: "remark",
    text: words,
    language: "words",
    write: (typed) => {
      const remark = oneLine(typed);
      const before = /^\s*#\s?/.exec(book.text.slice(end, to))?.[0] ?? "  # ";
      return {
        says: `remark on ${of}`,
        text: patched(book.text, [{ from: end, to, text: remark === "" ? "" : before + remark }]),
      };
    },
  };
}

function rangeSlot(book: Book, item: Of<"value">): Slot {
  const from = item.statement.at + item.formulaSpan.to;
  const to = item.statement.at + item.statement.length;
  return {
    of: item.name,
    what: "range to try",
    text: book.text
      .slice(from, to)
      .trim()
      .replace(/^try\s+/, ""),
    language: "formula",
    write: (typed) => {
      const words = oneLine(typed).replace(/^try\s+/, "");
      return {
        says: `range of ${item.name}`,
        text: patched(book.text, [{ from, to, text: words === "" ? "" : ` try ${words}` }]),
      };
    },
  };
}
