import { endOfUnit, highlight } from "../../../grammar";
import {
  convert,
  describeUnit,
  exact,
  format,
  formatParts,
  parseUnit,
  type Quantity,
  quantity,
  siUnit,
  Trouble,
  type Unit,
} from "../../quantity";
import { vocabulary } from "../../vocabulary";
import { hoverText, takesInWords } from "../../vocabulary/glossary";
import { workingsOf } from "../book";
import type { Names } from "../names";
import type { Book, Shown } from "../report";
import type { Field } from "./field";
import type { Found } from "./found";
import { meantAt } from "./meaning";
import { itemsOf, shownOf } from "./shown";
import { sortInWords } from "./sort";
import type { Token } from "./tokens";
import { wordsCalled } from "./words";

/** What is told about a word when the pointer rests on it. */
export interface Hover {
  /** The stretch that it is about, in the field's text. */
  readonly from: number;
  readonly to: number;
  /** A path, a call, a unit, a number. */
  readonly title: string;
  /** Sentences, one a line: what it is, where it comes from, what is wrong with it. */
  readonly lines: readonly string[];
  /** What it comes to now. */
  readonly shown?: Shown;
}

/** What is to be told about the name, function, label, unit or number at an offset; undefined where there is nothing. */
export function hover(book: Book, field: Field, at: number): Hover | undefined {
  const here = meantAt(book, field, at);
  if (here === undefined) return numberHover(book, field, at) ?? wordHover(book, field, at);
  const { from, to, means, found, pointed } = here;
  const span = { from, to };
  switch (means.type) {
    case "unit":
      return { ...span, ...unitTold(means.unit, pointed?.spot.tokens.at(-1)) };
    case "function":
      return { ...span, ...functionTold(book, means.name, means.own) };
    case "label":
      return { ...span, ...labelTold(book, means.function, means.parameter) };
    default:
      return (
        found && {
          ...span,
          ...foundTold(book, found, pointed === undefined),
        }
      );
  }
}

type Told = Pick<Hover, "title" | "lines" | "shown">;

function functionTold(book: Book, name: string, own: boolean): Told {
  const declaration = own ? undefined : vocabulary.get(name);
  if (declaration === undefined) return ownFunction(book, workingsOf(book).plan.names, name);
  const [title, ...lines] = hoverText(declaration).split("\n");
  return { title: title!, lines };
}

function labelTold(book: Book, call: string, parameter: string): Told {
  const title = `${parameter}:`;
  const p = vocabulary.get(call)?.parameters.find((one) => one.name === parameter);
  if (!p || workingsOf(book).plan.names.defines.has(call))
    return { title, lines: [`A parameter of ${call}.`] };
  const otherwise = p.otherwise === undefined ? [] : [`When left out: ${p.otherwise}.`];
  return { title, lines: [capital(takesInWords(p)), p.says, ...otherwise] };
}

function ownFunction(book: Book, names: Names, name: string): Told {
  const define = names.defines.get(name)!;
  const item = book.items.find((i) => i.type === "define" && i.name === name);
  const formula = item?.type === "define" ? item.formula : "";
  return {
    title: `${name}(${define.parameters.join(", ")})`,
    lines: [`A function of this book, line ${define.statement.line}.`, ...(formula ? [`= ${formula}`] : [])],
  };
}

/** `typed`: the pointer rests on the place where it is named or typed. */
function foundTold(book: Book, found: Found, typed: boolean): Told {
  const shown = shownOf(found, book);
  const is = sortInWords(found.sort);
  const lines = [...(is === "" ? [] : [capital(is)]), ...whence(book, found)];
  if (shown?.message !== undefined) lines.push(told(shown.message, workingsOf(book).plan.names));
  if (shown?.help !== undefined) lines.push(shown.help);
  for (const note of shown?.notes ?? []) lines.push(note.text);
  const value = shown?.value;
  if (typed && found.meant.type === "cell" && value?.type === "quantity") lines.push(...inSI(value));
  return { title: found.path || found.name, lines, ...(shown && { shown }) };
}

/** Where something comes from, in words. */
function whence(book: Book, found: Found): readonly string[] {
  const { meant } = found;
  const items = itemsOf(book);
  const { sets } = workingsOf(book).plan.names;
  switch (meant.type) {
    case "value": {
      const item = items.values.get(meant.name);
      return item === undefined
        ? []
        : [...madeBy(item.shown.origin, item.formula, item.statement.line), ...remark(item.remark)];
    }
    case "part": {
      const item = meant.of.type === "value" ? items.values.get(meant.of.name) : undefined;
      if (item === undefined) return [];
      const said = partSaid(item.formula, found.path.slice(item.shown.path.length + 1));
      return [
        ...(said === undefined ? [] : [said]),
        `A part of ${item.shown.path}: ${item.formula} (line ${item.statement.line}).`,
      ];
    }
    case "column":
    case "cell": {
      const table = items.tables.get(meant.table);
      const column = table?.columns.find((c) => c.name === meant.column);
      if (table === undefined || column === undefined) return [];
      const where = `column ${column.name} of table ${table.name}`;
      return column.formula === undefined
        ? [`Typed in ${where}.`]
        : [`Computed in each row, ${where}: ${column.formula} (line ${column.statement!.line}).`];
    }
    case "foot": {
      const foot = items.tables.get(meant.table)?.feet.get(meant.column);
      return foot === undefined
        ? []
        : [
            `Under column ${meant.column} of table ${meant.table}: ${foot.formula} (line ${foot.statement.line}).`,
          ];
    }
    case "table": {
      const table = items.tables.get(meant.table);
      if (table === undefined) return [];
      const columns = table.columns.map((c) => (c.unit === "" ? c.name : `${c.name} (${c.unit})`));
      return [
        `${table.title === "" ? "" : `${table.title}. `}${table.rowCount} ${table.rowCount === 1 ? "row" : "rows"}; columns: ${columns.join(", ")}.`,
      ];
    }
    case "row":
      return [`A row of table ${meant.table}.`];
    case "local":
      return [
        sets.has(meant.name)
          ? "A name of this formula alone; it hides the value of that name."
          : "A name of this formula alone.",
      ];
    case "lead":
      return [LEADS[meant.name]];
  }
}

const LEADS = {
  before: "The row before this one: `before.column`.",
  foot: "The values under this table: `foot.column`.",
  book: "The names of the book, past the columns: `book.name`.",
} as const;

function madeBy(origin: Shown["origin"], formula: string, line: number): readonly string[] {
  if (origin === "typed") return [`Typed in line ${line}.`];
  return [`${origin === "found" ? "Found" : "Computed"} in line ${line}: ${formula}`];
}

const remark = (text: string | undefined): readonly string[] => (text === undefined ? [] : [sentence(text)]);

/** What the vocabulary says about a part, when the value is the result of one call. */
function partSaid(formula: string, part: string): string | undefined {
  const call = /^([\p{L}_][\p{L}\p{Nd}_]*)\(/u.exec(formula)?.[1];
  const plain = part.replaceAll("`", "");
  return call === undefined ? undefined : vocabulary.get(call)?.result.find((r) => r.name === plain)?.says;
}

// ---- units and numbers

function unitTold(text: string, number: Token | undefined): Told {
  const lines = [sentence(describeUnit(text).replace(/^[^:]*: /u, ""))];
  if (number?.type === "number") lines.push(...numberInSI(number.text, parseUnit(text)));
  return { title: text, lines };
}

/** A word of the language, with its example. */
function wordHover(book: Book, field: Field, at: number): Hover | undefined {
  const { text, shift } = statementOf(book, field);
  const here = at + shift;
  const ink = highlight(text, here, here).find((i) => i.ink === "word" && i.from <= here && here <= i.to);
  if (ink === undefined) return undefined;
  const first = /(?:^|[\n\r])[^\S\n\r]*$/u.test(text.slice(0, ink.from));
  const entry = wordsCalled(text.slice(ink.from, ink.to)).find(
    ({ stands }) => stands === undefined || (stands === "first") === first,
  );
  if (entry === undefined) return undefined;
  const [head, ...more] = entry.example.split("\n");
  return {
    from: ink.from - shift,
    to: ink.to - shift,
    title: entry.word,
    lines: [entry.says, `For example: ${head}`, ...more, `It gives: ${entry.gives}`],
  };
}

/** The text of a field as it stands in a statement, whose words its tokens hang on. */
function statementOf(book: Book, field: Field): { readonly text: string; readonly shift: number } {
  const behind = (head: string, text: string) => ({ text: head + text, shift: head.length });
  switch (field.in) {
    case "book":
      return { text: field.text ?? book.text, shift: 0 };
    case "statement":
      return { text: field.text, shift: 0 };
    case "chart":
      return behind('chart "" : ', field.text);
    case "clauses":
      return behind('step "" ', field.text);
    case "cell":
      return field.text.startsWith("=") ? behind("set x ", field.text) : { text: "", shift: 0 };
    case "heading":
      return { text: "", shift: 0 };
    case "sentence":
      return behind('step "', `${field.text}"`);
    default:
      return behind("set x = ", field.text);
  }
}

/** A number with its unit, when the pointer rests on the digits. */
function numberHover(book: Book, field: Field, at: number): Hover | undefined {
  const text = field.in === "book" ? (field.text ?? book.text) : field.text;
  let from = at;
  while (/[\d.]/.test(text[from - 1] ?? "")) from--;
  const digits = /^\d+(?:\.\d+)?/.exec(text.slice(from))?.[0];
  if (digits === undefined || from + digits.length < at) return undefined;
  const behind = from + digits.length;
  const unitFrom = behind + /^[ \t\u00A0\u2009\u202F]*/.exec(text.slice(behind))![0].length;
  const to = endOfUnit(text, unitFrom);
  const written = text.slice(unitFrom, to);
  // Whether a number stands here at all, and no text or name, is for the tokens to say.
  if (meantAt(book, field, to)?.means.type !== "unit") return undefined;
  const unit = parseUnit(written);
  return {
    from,
    to,
    title: `${digits} ${unit.text}`,
    lines: [capital(unit.kind.name), ...numberInSI(digits, unit)],
  };
}

function numberInSI(digits: string, unit: Unit): readonly string[] {
  try {
    return inSI(quantity(exact(digits), unit));
  } catch (trouble) {
    // A number with too many digits has its own message.
    if (trouble instanceof Trouble) return [];
    throw trouble;
  }
}

/** The same amount in the units in which the physics works. */
function inSI(q: Quantity): readonly string[] {
  const si = convert(q, siUnit(q.unit.kind));
  return formatParts(si).unit === q.unit.text ? [] : [`${format(q)} is ${format(si)}.`];
}

/** A message as a sentence; a name with which it begins keeps its letters. */
function told(message: string, { sets, tables }: Names): string {
  const first = /^[\p{L}_][\p{L}\p{M}\p{Nd}_]*/u.exec(message)?.[0] ?? "";
  if (!sets.has(first) && !tables.has(first)) return sentence(message);
  return /[.!?]$/.test(message) ? message : `${message}.`;
}

const capital = (words: string): string => `${words.replace(/^./u, (c) => c.toUpperCase())}.`;
const sentence = (words: string): string =>
  /[.!?]$/.test(words) ? words.replace(/^./u, (c) => c.toUpperCase()) : capital(words);
