import { readCellFormula } from "./formulas";
import { LONGEST_STATEMENT, statementTooLong } from "./limits";
import { certainly, fault, note, perhaps, quoted, spanOf } from "./messages";
import { signedUnit } from "./odd-characters";
import { commaInCell, dateFault, daysInFigures, daysInWords } from "./odd-numbers";
import { endOfUnit, isDay } from "./scanning";
import { unseenFault } from "./texts";
import type { Cell, Heading, NumberNode, Span, SyntaxMessage } from "./tree";
import { BLANKS, FIXED_NAMES, findUnseen, normal, skipBlanks, trimBlanks } from "./words";

/** Rows of a table, cut at their bars and read cell by cell. Places count from the row's first bar. */

/** A stretch between two bars. */
export interface Slot extends Span {
  /** The content, without the blanks around it. */
  readonly content: Span;
}

export interface CutRow {
  readonly slots: readonly Slot[];
  /** Whether the last slot is closed by a bar. */
  readonly closed: boolean;
}

export function cutRow(text: string): CutRow {
  const slots: Slot[] = [];
  let from = 1;
  for (;;) {
    let bar = text.indexOf("|", from);
    while (bar > 0 && text[bar - 1] === "\\") bar = text.indexOf("|", bar + 1);
    const to = bar < 0 ? text.length : bar;
    if (bar < 0 && skipBlanks(text, from) === text.length && slots.length > 0) return { slots, closed: true };
    const first = skipBlanks(text, from, to);
    slots.push({ from, to, content: spanOf(first, trimBlanks(text, first, to)) });
    if (bar < 0) return { slots, closed: false };
    from = bar + 1;
  }
}

const RULER = new RegExp(`^\\|(?:[${BLANKS}]*:?-+:?[${BLANKS}]*\\|)+$`);

/** Whether a row is the line of dashes that may stand under a heading. */
export function isRuler(text: string): boolean {
  return text.length <= LONGEST_STATEMENT && RULER.test(text);
}

function rowOpen(text: string): SyntaxMessage {
  const end = spanOf(text.length, text.length);
  return fault("row-open", end, "The row does not end with a `|`.", {
    help: "Every row begins and ends with a bar; a comment behind it holds no bar.",
    fixes: [certainly(end, " |", "Close the row with |")],
  });
}

// ---- headings

/** What a row's reading depends on. */
export interface RowShape {
  readonly columns: readonly Heading[];
  /** Columns whose cells are text whatever they look like. */
  readonly asText: readonly boolean[];
  /** The same for two headings exactly when their rows read alike, faults aside. */
  readonly key: string;
}

export function shapeOf(columns: readonly Heading[]): RowShape {
  const asText = columns.map(
    (column, i) =>
      column.holds === "text" || (i === 0 && column.unit === undefined && column.holds === undefined),
  );
  return { columns, asText, key: asText.map((text) => (text ? "t" : "v")).join("") };
}

const HOLDS: ReadonlySet<string> = new Set(["number", "text", "date"]);
export function readHeading(text: string): {
  columns: readonly Heading[];
  messages: readonly SyntaxMessage[];
} {
  const messages: SyntaxMessage[] = [];
  const { slots, closed } = cutRow(text);
  if (!closed) messages.push(rowOpen(text));
  const seen = new Set<string>();
  const columns = slots.map(({ content }) => {
    const heading = readHeadingCell(text, content, messages);
    if (heading.name === "")
      messages.push(
        fault("heading-empty", heading.span, "A column has no name.", {
          help: "Every heading names its column.",
        }),
      );
    else if (seen.has(heading.name))
      messages.push(
        fault("heading-twice", heading.nameSpan, `Two columns are named ${quoted(heading.name)}.`, {
          help: "Every column has a name of its own.",
        }),
      );
    else if (FIXED_NAMES.has(heading.name))
      messages.push(fixedName(heading.name, heading.nameSpan, "column"));
    seen.add(heading.name);
    return heading;
  });
  return { columns, messages };
}

export function fixedName(name: string, span: Span, what: string): SyntaxMessage {
  return fault("name-fixed", span, `${quoted(name)} cannot name a ${what}.`, {
    help: "In a formula `before`, `foot` and `book` always mean the same: the row before, the foot, the whole book.",
  });
}

function readHeadingCell(text: string, span: Span, messages: SyntaxMessage[]): Heading {
  const raw = text.slice(span.from, span.to);
  const unseen = findUnseen(raw);
  if (unseen !== undefined) messages.push(unseenFault(span.from + unseen.at, unseen.name));
  const named = (from: number, to: number): { name: string; nameSpan: Span; span: Span } => ({
    name: normal(text.slice(from, to).replaceAll("\\|", "|")),
    nameSpan: spanOf(from, to),
    span,
  });
  if (raw.startsWith("`")) {
    const close = raw.indexOf("`", 1);
    if (close === raw.length - 1 && close > 0)
      return { ...named(span.from + 1, span.to - 1), nameSpan: span };
    messages.push(
      fault("heading-backticks", span, `${quoted(raw)} is not one name in backticks.`, {
        help: "A heading in backticks is the name alone; a heading with a unit is written plainly, such as `volume (mL)`.",
      }),
    );
    return named(span.from, span.to);
  }
  const open = raw.lastIndexOf("(");
  if (!raw.endsWith(")") || open < 0 || raw.indexOf(")", open) < raw.length - 1)
    return named(span.from, span.to);
  const plain = named(span.from, trimBlanks(text, span.from, span.from + open));
  const insideFrom = span.from + open + 1;
  const first = skipBlanks(text, insideFrom, span.to - 1);
  const last = trimBlanks(text, first, span.to - 1);
  const inside = text.slice(first, last);
  if (HOLDS.has(inside)) return { ...plain, holds: inside as "number" | "text" | "date" };
  if (inside !== "" && endOfUnit(text, first) === last) {
    return { ...plain, unit: { text: normal(inside), span: spanOf(first, last) } };
  }
  const money = signedUnit(inside, first);
  if (money !== undefined) {
    messages.push(money);
    // Where one currency alone can be meant, the cells below are read in it.
    const [meant, ...others] = money.fixes ?? [];
    return meant === undefined || others.length > 0
      ? plain
      : { ...plain, unit: { text: meant.edits[0]!.text, span: money.span } };
  }
  messages.push(
    fault(
      "heading-bracket",
      spanOf(insideFrom - 1, span.to),
      `${quoted(`(${inside})`)} is neither a unit nor one of \`number\`, \`text\`, \`date\`.`,
      {
        help: "A name that ends in a bracket stands in backticks.",
        fixes: [perhaps(span, `\`${raw}\``)],
      },
    ),
  );
  return named(span.from, span.to);
}

// ---- rows

export interface ReadRow {
  readonly cells: readonly Cell[];
  readonly messages: readonly SyntaxMessage[];
}

const UNREAD: Cell["content"] = { type: "unread" };

export function readRow(text: string, shape: RowShape): ReadRow {
  if (text.length > LONGEST_STATEMENT) return tooLongRow(text.length, shape);
  const messages: SyntaxMessage[] = [];
  const { slots, closed } = cutRow(text);
  const wanted = shape.columns.length;
  const tooMany = slots.length > wanted;
  // With cells too many, a missing last bar is most likely a comment that holds one.
  if (!closed && !tooMany) messages.push(rowOpen(text));
  const cells = slots.map((slot, i) => readCell(text, slot, shape.asText[i] === true, i === 0, messages));
  if (tooMany) {
    const extra = spanOf(slots[wanted]!.from, slots.at(-1)!.to);
    messages.push(
      fault(
        "row-cells",
        extra,
        `The row has ${slots.length} cells, and the table ${wanted} ${wanted === 1 ? "column" : "columns"}.`,
        {
          help: closed
            ? "A bar inside a cell is written `\\|`."
            : "A comment behind a row holds no bar; a bar inside a cell is written `\\|`.",
        },
      ),
    );
    // Which cell is one too many cannot be told, so none of their values may be used.
    return {
      cells: cells.slice(0, wanted).map((cell, i) => (i === 0 ? cell : { ...cell, content: UNREAD })),
      messages,
    };
  }
  if (slots.length < wanted) {
    const end = spanOf(text.length, text.length);
    const missing = shape.columns.slice(slots.length).map((column) => quoted(column.name));
    messages.push(
      fault("row-cells", end, `The row ends before ${missing.join(", ")}.`, {
        help: "Every row has a cell for each heading; leave it empty when its value is not known.",
        fixes: [
          perhaps(end, `${closed ? "" : " |"}${"  |".repeat(wanted - slots.length)}`, "Add the empty cells"),
        ],
      }),
    );
    for (let i = slots.length; i < wanted; i++)
      cells.push({ content: UNREAD, raw: "", span: end, slot: end });
  }
  return { cells, messages };
}

function tooLongRow(length: number, shape: RowShape): ReadRow {
  const end = spanOf(length, length);
  const cells = shape.columns.map((): Cell => ({ content: UNREAD, raw: "", span: end, slot: end }));
  return { cells, messages: [statementTooLong(length)] };
}

/** The same row, where it may not stand: none of its values may be used. */
export function unreadRow(cells: readonly Cell[]): readonly Cell[] {
  return cells.map((cell, i) => (i === 0 ? cell : { ...cell, content: UNREAD }));
}

function readCell(
  text: string,
  { from, to, content }: Slot,
  asText: boolean,
  first: boolean,
  messages: SyntaxMessage[],
): Cell {
  const raw = text.slice(content.from, content.to);
  return {
    content: cellContent(raw, content, asText, first, messages),
    raw,
    span: content,
    slot: spanOf(from, to),
  };
}

const LIKE_NUMBER = new RegExp(`^[-+−–±]?[${BLANKS}]*(?:\\d|\\.\\d|[½¼¾⅓⅔⅛]|[€£$¥][${BLANKS}]*\\d)`);
const CURLY_QUOTED = /^[“„]([^“”„"]*)[”“]$/;

function cellContent(
  raw: string,
  span: Span,
  asText: boolean,
  first: boolean,
  messages: SyntaxMessage[],
): Cell["content"] {
  if (raw === "") return { type: "blank" };
  const unseen = findUnseen(raw);
  if (unseen !== undefined) {
    messages.push(unseenFault(span.from + unseen.at, unseen.name));
    return UNREAD;
  }
  if (raw.startsWith('"')) return quotedText(raw, span, messages);
  if (asText) {
    if (first && raw.startsWith("="))
      messages.push(
        note("cell-named", span, "The first column names the row, so this is taken as its name.", {
          help: "A computed value stands in another column.",
        }),
      );
    const plain = normal(raw.replaceAll("\\|", "|"));
    if (first && FIXED_NAMES.has(plain)) messages.push(fixedName(plain, span, "row"));
    return { type: "text", text: plain };
  }
  if (raw.startsWith("=")) {
    const read = readCellFormula(raw, span.from);
    messages.push(...read.messages);
    return read.content;
  }
  if (LIKE_NUMBER.test(raw)) return numberLike(raw, span, messages);
  const curly = CURLY_QUOTED.exec(raw);
  if (curly !== null) {
    messages.push(
      fault("quote-curly", span, `${quoted(raw)} stands in curly quotes.`, {
        help: "A text in a cell needs no quotes, or straight ones.",
        fixes: [certainly(span, `"${curly[1]}"`, "Write straight quotes")],
      }),
    );
    return UNREAD;
  }
  return { type: "text", text: normal(raw.replaceAll("\\|", "|")) };
}

/** Text in quotes, which holds no formula in a cell: braces in it are plain. */
function quotedText(raw: string, span: Span, messages: SyntaxMessage[]): Cell["content"] {
  let text = "";
  for (let at = 1; at < raw.length; at++) {
    const character = raw[at]!;
    if (character === '"') {
      if (at === raw.length - 1) return { type: "text", text: normal(text) };
      messages.push(
        fault(
          "cell-text",
          spanOf(span.from + at + 1, span.to),
          "Something stands behind the text of this cell.",
          {
            help: 'A `"` inside a text is written `\\"`.',
          },
        ),
      );
      return UNREAD;
    }
    if (character === "\\" && '"\\{}|'.includes(raw[at + 1] ?? " ")) at++;
    text += raw[at]!;
  }
  const end = spanOf(span.to, span.to);
  messages.push(
    fault("text-open", span, `The text ${quoted(raw)} is not closed.`, {
      help: 'A text that begins with `"` ends with `"` in its cell.',
      fixes: [perhaps(end, '"', 'Close it with "')],
    }),
  );
  return UNREAD;
}

const PLAIN = /^(-|\+|−)?(\d{1,15}(?:\.\d{1,15})?)/;
const ISO_DATE = /^\d{4}-\d{2}-\d{2}$/;

function numberLike(raw: string, span: Span, messages: SyntaxMessage[]): Cell["content"] {
  if (ISO_DATE.test(raw) && isDay(raw)) return { type: "date", iso: raw };
  const plain = plainQuantity(raw, span.from);
  if (plain !== undefined) return { type: "quantity", of: plain };
  const days = daysInFigures(raw) ?? daysInWords(raw);
  if (days !== undefined) {
    messages.push(dateFault(raw, span.from, days).message);
    return UNREAD;
  }
  const read = readCellFormula(raw, span.from);
  if (read.content.type === "unread" && read.messages.every(({ code }) => GOES_ON.has(code)))
    messages.push(cellRemark(raw, span));
  else
    messages.push(
      ...read.messages.map((message) =>
        message.code === "number-comma"
          ? commaInCell(
              raw.slice(message.span.from - span.from, message.span.to - span.from),
              message.span.from,
            )
          : message,
      ),
    );
  return read.content;
}

/** What is said where a quantity is over and something else follows. */
const GOES_ON: ReadonlySet<string> = new Set([
  "formula-ended",
  "operator-missing",
  "clause-misplaced",
  "label-misplaced",
  "comparison-chained",
  "equals-inside",
  "value-missing",
  "word-expected",
  "operator-other",
  "character-unknown",
  "quote-single",
  "bar-outside",
  "brace-outside",
  "comment-inside",
  "mark-form",
  "name-open",
]);

function cellRemark(raw: string, span: Span): SyntaxMessage {
  // A bar is escaped in quotes as it is outside of them.
  const quotes = perhaps(span, `"${raw.replace(/\\(?!\|)/g, "\\\\").replaceAll('"', '\\"')}"`);
  const computed = readCellFormula(`= ${raw}`, 0).messages.length === 0;
  return fault("cell-remark", span, `${quoted(raw)} begins like a number and goes on as something else.`, {
    help: computed
      ? "A cell that is to be computed begins with `=`. When it is a remark put it in quotes, or head the column `(text)`."
      : "A cell that begins with a digit holds a quantity or a date. When it is a remark put it in quotes, or head the column `(text)`.",
    fixes: computed ? [perhaps(span, `= ${raw}`), quotes] : [quotes],
  });
}

/** The ordinary reading, a number with or without a unit, read without tokens since a table may hold thousands. */
function plainQuantity(raw: string, at: number): NumberNode | undefined {
  const match = PLAIN.exec(raw);
  if (match === null) return undefined;
  const sign = match[1];
  const digits = sign === "-" || sign === "−" ? `-${match[2]}` : match[2]!;
  const numberEnd = match[0].length;
  if (numberEnd === raw.length) return { type: "number", digits, span: spanOf(at, at + raw.length) };
  const unitAt = skipBlanks(raw, numberEnd);
  if (endOfUnit(raw, unitAt) !== raw.length || unitAt === raw.length) return undefined;
  if (/^(?:[eE][+-]?\d|_)/.test(raw.slice(numberEnd))) return undefined;
  const unit = { text: normal(raw.slice(unitAt)), span: spanOf(at + unitAt, at + raw.length) };
  return { type: "number", digits, unit, span: spanOf(at, at + raw.length) };
}
