import { canBeName, type Statement, writeName } from "../../../grammar";
import type { Book, Item, TableItem } from "../../engine";
import { renamed, renamePatches } from "./renaming";
import { itemAt, tableAt } from "./items";
import { type CellPlace, type Field, FORMULAS_ROW, type ItemPlace, NAMES_ROW, type Place } from "./place";
import {
  endOfText,
  fromCell,
  lineEndOf,
  oneLine,
  patched,
  type Patch,
  quote,
  quoteSentence,
  sourceOf,
  toCell,
  unquote,
  unquoteSentence,
} from "./source";

/** A change of the text, named for the undo stack. */
export interface Edit {
  readonly says: string;
  readonly text: string;
  /** Where the writer stands afterwards, when that is somewhere else. */
  readonly then?: Place;
  /** Opens the field at `then`. */
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

/** The slot of a place, or undefined when nothing can be written there. */
export function slotAt(book: Book, place: Place): Slot | undefined {
  return place.in === "cell" ? cellSlot(book, place) : itemSlot(book, place);
}

// ---- tables -------------------------------------------------------------------------------------

function cellSlot(book: Book, place: CellPlace): Slot | undefined {
  const table = tableAt(book, place.key);
  const column = table?.columns[place.column];
  if (table === undefined || column === undefined) return undefined;
  if (place.row === NAMES_ROW) return headingSlot(book, place, table);
  if (place.row === FORMULAS_ROW || (place.row < table.rowCount && !column.typed)) {
    if (column.statement === undefined) return undefined;
    return formulaSlot(book, column.statement, column.name, "each row", `formula of ${column.name}`);
  }
  if (place.row >= table.rowCount) return footSlot(book, table, column.name);
  return typedSlot(book, table, place.row, place.column);
}

function typedSlot(book: Book, table: TableItem, row: number, column: number): Slot | undefined {
  const statement = table.tree.rows[row];
  if (statement === undefined) return undefined;
  const cell = statement.node.cells[column];
  const columnName = table.columns[column]!.name;
  const rowName = table.rowName(row) || `row ${row + 1}`;
  const says = column === 0 ? `name of ${rowName}` : `${columnName} of ${rowName}`;
  return {
    of: column === 0 ? `row ${row + 1}` : rowName,
    what: columnName,
    text: cell === undefined ? "" : fromCell(cell.raw.trim()),
    language: "cell",
    ...(cell === undefined
      ? {}
      : { span: { from: statement.at + cell.span.from, to: statement.at + cell.span.to } }),
    write: (typed) => {
      const patches = cellPatches(book, table, row, [[column, typed]]);
      const calls = column === 0 ? rowCalls(book, table, row, typed) : [];
      return { says, text: patched(book.text, [...patches, ...calls]) };
    },
  };
}

/** A row that gets another name keeps it in the formulas that call it, as long as it is the only one so called. */
function rowCalls(book: Book, table: TableItem, row: number, typed: string): Patch[] {
  const old = table.rowName(row);
  const name = oneLine(typed).replace(/^"(.*)"$/, "$1");
  if (old === "" || name === "" || name === old || !canBeName(name)) return [];
  for (let r = 0; r < table.rowCount; r++) if (r !== row && (table.rowName(r) === old || table.rowName(r) === name)) return [];
  return renamePatches(book, { row: old, of: table.name }, name);
}

/**
 * The patches that write cells of one row. A cell keeps its width where the new words fit, so that bars stay
 * under each other; other rows are never touched. Missing cells are added.
 */
export function cellPatches(
  book: Book,
  table: TableItem,
  row: number,
  cells: readonly (readonly [column: number, typed: string])[],
): Patch[] {
  const statement = table.tree.rows[row]!;
  const present = statement.node.cells.length;
  const patches: Patch[] = [];
  const missing: string[] = [];
  for (const [column, typed] of cells) {
    const words = toCell(typed);
    const cell = statement.node.cells[column];
    if (cell === undefined) {
      while (missing.length < column - present) missing.push("");
      missing[column - present] = words;
      continue;
    }
    if (words === cell.raw.trim()) continue;
    patches.push({
      from: statement.at + cell.slot.from,
      to: statement.at + cell.slot.to,
      text: padded(words, book.text.slice(statement.at + cell.slot.from, statement.at + cell.slot.to)),
    });
  }
  if (missing.length > 0) {
    const at = statement.at + statement.length;
    const closed = book.text[at - 1] === "|";
    patches.push({ from: at, to: at, text: `${closed ? "" : " |"}${missing.map((m) => ` ${m} |`).join("")}` });
  }
  return patches;
}

/** New words in an old slot: numbers that stood at the right stay there, everything else at the left. */
function padded(words: string, slot: string): string {
  const before = /^\s*/.exec(slot)![0];
  const after = slot.trim() === "" ? "" : /\s*$/.exec(slot)![0];
  const room = slot.length - words.length;
  if (room < 2) return ` ${words} `;
  if (slot.trim() !== "" && before.length > 1 && after.length <= 1) return " ".repeat(room - 1) + words + " ";
  return ` ${words}${" ".repeat(room - 1)}`;
}

function headingSlot(book: Book, place: CellPlace, table: TableItem): Slot {
  const column = table.columns[place.column]!;
  const heading = table.tree.heading?.node.columns[place.column];
  const of = table.title || table.name;
  if (!column.typed || heading === undefined || table.tree.heading === undefined) {
    return {
      of,
      what: "column",
      text: column.name,
      language: "name",
      write: (typed) => renamed(book, { column: column.name, of: table.name }, typed),
    };
  }
  const at = table.tree.heading.at;
  const span = { from: at + heading.span.from, to: at + heading.span.to };
  const text = fromCell(book.text.slice(span.from, span.to));
  return {
    of,
    what: "heading",
    text,
    language: "name",
    span,
    write: (typed) => {
      const words = oneLine(typed);
      const bracket = /^(.*?)\s*(\([^()]*\))?$/su.exec(words)!;
      const name = bracket[1]!;
      const unit = bracket[2] ?? "";
      if (name === "") return { refused: "A column needs a name." };
      const oldUnit = /\([^()]*\)\s*$/.exec(text)?.[0].trim() ?? "";
      const afresh = name === heading.name || name === `\`${heading.name}\``
        ? { says: `heading ${column.name}`, text: book.text }
        : renamed(book, { column: column.name, of: table.name }, name);
      if ("refused" in afresh || unit === oldUnit) return afresh;
      return { says: `heading ${name}`, text: withHeadingUnit(afresh.text, span.from, unit) };
    },
  };
}

/** The heading cell that starts at `from`, with another bracket. */
function withHeadingUnit(text: string, from: number, unit: string): string {
  const end = /(\\\||[^|\n])*/.exec(text.slice(from))![0];
  const plain = end.replace(/\s*\([^()]*\)\s*$/, "").trimEnd();
  const words = unit === "" ? plain : `${plain} ${unit}`;
  return text.slice(0, from) + words.padEnd(end.length - 1) + " " + text.slice(from + end.length);
}

function footSlot(book: Book, table: TableItem, column: string): Slot {
  const foot = table.feet.get(column);
  if (foot !== undefined) return formulaSlot(book, foot.statement, "foot", column, `foot of ${column}`);
  return {
    of: "foot",
    what: column,
    text: "",
    language: "formula",
    write: (typed) => {
      const formula = asFormula(typed);
      if (formula === "") return { says: `foot of ${column}`, text: book.text };
      const at = endOfTable(book, table);
      const line = `foot ${writeName(column)} = ${formula}`;
      return {
        says: `foot of ${column}`,
        text: patched(book.text, [{ from: at, to: at, text: `${lineEndOf(book.text)}${line}` }]),
      };
    },
  };
}

/** Behind the last statement that belongs to a table, its comment included. */
export function endOfTable(book: Book, table: TableItem): number {
  const { tree } = table;
  const all: Statement[] = [tree.statement, ...tree.rows, ...tree.columns, ...tree.feet];
  if (tree.heading) all.push(tree.heading);
  const last = all.reduce((a, b) => (b.at > a.at ? b : a));
  return endOfLine(book.text, last.at + last.length);
}

// ---- items --------------------------------------------------------------------------------------

function itemSlot(book: Book, place: ItemPlace): Slot | undefined {
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
  define: { formula: (book, item) => formulaSlot(book, item.statement, item.name, "formula", `formula of ${item.name}`) },
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

/** What a person typed as a formula: one line, an equals sign in front dropped. */
export const asFormula = (typed: string): string => oneLine(typed).replace(/^=\s*/, "");

function formulaSlot(book: Book, statement: Statement, of: string, what: string, says: string): Slot {
  const { node, at } = statement;
  const source = sourceOf(book.text, statement);
  const inside = "formula" in node ? node.formula.span : { from: source.length, to: source.length };
  // A formula that cannot be read may have an empty span; then everything behind the first equals sign is shown.
  const equals = source.indexOf("=") + 1;
  const whole = inside.to > inside.from || node.type === "check" ? inside : { from: equals + (/^\s*/.exec(source.slice(equals))![0].length), to: source.length };
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

function valueSlot(book: Book, item: Of<"value">): Slot {
  const span = { from: item.statement.at + item.formulaSpan.from, to: item.statement.at + item.formulaSpan.to };
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

function wordsSlot(book: Book, item: Of<"book" | "about" | "part">, of: string, what: string): Slot | undefined {
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
        return { says, text: words === "" ? book.text : patched(book.text, [{ from: to, to, text: ` ${quote(words)}` }]) };
      }
      const from = words === "" ? span.from - (/\s*$/.exec(book.text.slice(at, span.from))![0].length) : span.from;
      return { says, text: patched(book.text, [{ from, to: span.to, text: words === "" ? "" : quote(words) }]) };
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
  const words = book.text.slice(end, to).replace(/^\s*#\s?/, "").trim();
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
    text: book.text.slice(from, to).trim().replace(/^try\s+/, ""),
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

/** The end of the line that holds `at`, the line end not included. */
export function endOfLine(text: string, at: number): number {
  const end = text.indexOf("\n", at);
  if (end === -1) return text.length;
  return text[end - 1] === "\r" ? end - 1 : end;
}
