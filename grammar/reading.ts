import { type CutStart, cut, type Piece } from "./cutting";
import { bookTrouble, MOST_TOLD, readingStopped } from "./limits";
import { fault, spanOf } from "./messages";
import { isRuler, readHeading, readRow, unreadRow } from "./rows";
import { parseStatement } from "./statements";
import { type GatheredTable, headingMissing, type RowRole, TableContext } from "./tables";
import { unseenFault } from "./texts";
import type { BookTree, Heading, Statement, StatementNode, SyntaxMessage, TableTree } from "./tree";
import { findUnseen } from "./words";

/**
 * A book's text to its tree. Statements and rows are read one by one and kept: given the tree of an earlier text,
 * only what has changed is read again, and everything else keeps the very same nodes. What was read lately is kept
 * too, so that undoing a change gives back the nodes from before.
 */

/** What a piece says, as long as it is read in the same role. */
interface Reading {
  readonly node: StatementNode;
  readonly messages: readonly SyntaxMessage[];
  /** Role in which it was read: `s`, `h`, `r`, or the key of a row's shape. */
  readonly role: string;
  /** The heading that the messages of a row speak of. */
  readonly columns?: readonly Heading[];
  /** Whether a row is a line of dashes. */
  readonly dashes: boolean;
  /** A row that stands too late, with its values left out. */
  late?: StatementNode;
}

/** A piece with what is known of it. A piece that has not moved keeps its entry from one book to the next. */
class Entry implements Piece {
  /** The statement made of it, when nothing around it had to be told. */
  statement: Statement | undefined = undefined;

  constructor(
    readonly at: number,
    readonly length: number,
    readonly line: number,
    readonly isRow: boolean,
    readonly comment: string | undefined,
    readonly next: number,
    readonly nextLine: number,
    public reading: Reading | undefined,
  ) {}

  static of(piece: Piece): Entry {
    const { at, length, line, isRow, comment, next, nextLine } = piece;
    const remark = comment === undefined ? undefined : ownCopy(comment);
    return new Entry(at, length, line, isRow, remark, next, nextLine, undefined);
  }

  moved(by: number, lines: number): Entry {
    if (by === 0 && lines === 0) return this;
    const { length, isRow, comment, reading } = this;
    const { at, line, next, nextLine } = this;
    return new Entry(at + by, length, line + lines, isRow, comment, next + by, nextLine + lines, reading);
  }
}

class BookReading implements BookTree {
  readonly statements: Statement[] = [];
  readonly tables: GatheredTable[] = [];
  readonly messages: SyntaxMessage[] = [];
  readonly entries: Entry[] = [];
  /** Whether all of the text was read. A text that was given up cannot tell what has changed behind it. */
  isWhole = true;
  private owners: (GatheredTable | undefined)[] = [];
  private byStatement: Map<Statement, TableTree> | undefined;

  constructor(
    readonly text: string,
    /** Readings that no piece uses any more, the latest last. */
    readonly recent: Map<string, Reading>,
  ) {}

  add(entry: Entry, statement: Statement, table: GatheredTable | undefined): void {
    this.entries.push(entry);
    this.statements.push(statement);
    this.owners.push(table);
  }

  /** Made when first asked for: a book of many rows is read far more often than it is asked. */
  get tableOf(): ReadonlyMap<Statement, TableTree> {
    if (this.byStatement === undefined) {
      this.byStatement = new Map();
      for (let i = 0; i < this.statements.length; i++) {
        const table = this.owners[i];
        if (table !== undefined) this.byStatement.set(this.statements[i]!, table);
      }
    }
    return this.byStatement;
  }
}

const BYTE_ORDER_MARK = 0xfeff;
const MOST_RECENT = 2_000;

/**
 * Reads a whole book. Never throws: a text that is no book, is too long or holds what cannot be read comes back with
 * messages, and the rest of it is read all the same. Takes the tree of an earlier text of the same book, if there is
 * one, and keeps its nodes wherever the text has not changed.
 */
export function parseBook(text: string, previous?: BookTree): BookTree {
  const trouble = bookTrouble(text);
  if (trouble?.stops) {
    const empty = new BookReading(text, new Map());
    empty.messages.push(trouble.message);
    empty.isWhole = false;
    return empty;
  }
  const before = previous instanceof BookReading && previous.isWhole ? previous : undefined;
  if (before?.text === text) return before;
  const reader = new Reader(text, before);
  if (trouble !== undefined) reader.book.messages.push(trouble.message);
  reader.run();
  return reader.book;
}

class Reader {
  readonly book: BookReading;
  private readonly context = new TableContext();
  private readonly span: UnchangedSpan | undefined;
  private known: Map<string, Reading> | undefined;
  /** How many of the old entries were taken over from the start. */
  private keptCount = 0;
  /** Messages so far. */
  private told = 0;

  constructor(
    private readonly text: string,
    private readonly before: BookReading | undefined,
  ) {
    this.span = before === undefined ? undefined : unchangedSpan(before.text, text);
    this.book = new BookReading(text, before === undefined ? new Map() : new Map(before.recent));
  }

  run(): void {
    const start: CutStart = { at: startOf(this.text), line: 1 };
    const kept = this.keepStart(start);
    const stopped = this.cutMiddle(kept);
    this.tellHeadings();
    this.tellUnseen();
    if (stopped === undefined) return;
    this.book.isWhole = false;
    this.book.messages.push(readingStopped(stopped, this.text.length));
  }

  /** Takes over what stands before the change, except the last statement: its end depends on what follows. */
  private keepStart(start: CutStart): { at: CutStart; index: number } {
    const { before, span } = this;
    if (before === undefined || span === undefined) return { at: start, index: 0 };
    let count = 0;
    for (const piece of before.entries) {
      if (piece.next > span.prefix || (piece.next === span.prefix && this.text[piece.next - 1] !== "\n"))
        break;
      count++;
    }
    const index = Math.max(0, count - 1);
    this.keptCount = index;
    for (let i = 0; i < index; i++) this.take(before.entries[i]!);
    const last = index === 0 ? undefined : before.entries[index - 1]!;
    return { at: last === undefined ? start : { at: last.next, line: last.nextLine }, index };
  }

  /**
   * Cuts from the first change on, until the cut meets a line that stands between statements in the old text too and
   * behind which nothing has changed; the rest is taken over. Hands back the line at which reading was given up.
   */
  private cutMiddle(kept: { at: CutStart; index: number }): number | undefined {
    const { before, span, text } = this;
    const old = before?.entries ?? [];
    let next = kept.index;
    const meets = (lineStart: number): boolean => {
      if (this.told > MOST_TOLD) return true;
      if (before === undefined || span === undefined) return false;
      const was = lineStart - span.shift;
      if (was < before.text.length - span.suffix || was < startOf(before.text)) return false;
      if (was > 0 && before.text[was - 1] !== "\n") return false;
      while (next < old.length && old[next]!.next <= was) next++;
      return next >= old.length || old[next]!.at >= was;
    };
    const end = cut(text, kept.at, (piece) => this.take(Entry.of(piece)), meets);
    if (this.told > MOST_TOLD) return end.at >= text.length ? undefined : end.at;
    const first = old[next];
    this.remember(kept.index, end.at < text.length ? next : old.length);
    if (end.at >= text.length || first === undefined || span === undefined) return undefined;
    const lines = this.linesBetween(end, first);
    for (let i = next; i < old.length; i++) this.take(old[i]!.moved(span.shift, lines));
    return undefined;
  }

  /** By how many lines the pieces behind the change have moved. */
  private linesBetween(end: CutStart, first: Entry): number {
    let line = end.line;
    const to = first.at + this.span!.shift;
    for (let at = this.text.indexOf("\n", end.at); at >= 0 && at < to; at = this.text.indexOf("\n", at + 1))
      line++;
    return line - first.line;
  }

  /** Keeps the readings of the old pieces from `from` to `to`, which the new text does not use where they stood. */
  private remember(from: number, to: number): void {
    const { before } = this;
    if (before === undefined) return;
    const { recent } = this.book;
    for (let i = Math.max(from, to - MOST_RECENT); i < to; i++) {
      const entry = before.entries[i]!;
      const { reading } = entry;
      if (reading !== undefined) recent.set(keyOf(reading.role, pieceText(before.text, entry)), reading);
    }
    for (const key of recent.keys()) {
      if (recent.size <= MOST_RECENT) break;
      recent.delete(key);
    }
  }

  /** Readings of the old text between the unchanged ends, and what was read lately. */
  private readBefore(key: string): Reading | undefined {
    if (this.before === undefined) return undefined;
    if (this.known === undefined) {
      this.known = new Map(this.before.recent);
      const { entries, text } = this.before;
      const unchangedFrom = text.length - this.span!.suffix;
      for (let i = this.keptCount; i < entries.length && entries[i]!.at <= unchangedFrom; i++) {
        const entry = entries[i]!;
        const { reading } = entry;
        if (reading !== undefined) this.known.set(keyOf(reading.role, pieceText(text, entry)), reading);
      }
    }
    return this.known.get(key);
  }

  private take(entry: Entry): void {
    if (entry.isRow) this.takeRow(entry);
    else this.takeStatement(entry);
  }

  /** The text of a piece, cut loose from the book when the book is one of many versions. */
  private textOf(entry: Entry): string {
    const slice = pieceText(this.text, entry);
    return this.before === undefined ? slice : ownCopy(slice);
  }

  private takeStatement(entry: Entry): void {
    const reading = entry.reading ?? this.readStatement(this.textOf(entry));
    entry.reading = reading;
    const { node } = reading;
    const place = this.context.columnTrouble(node, entry.length) ?? this.languageTrouble(node, entry);
    this.put(entry, node, reading.messages, place);
  }

  private readStatement(text: string): Reading {
    const known = this.readBefore(keyOf(STATEMENT_ROLE, text));
    return known ?? { ...parseStatement(text), role: STATEMENT_ROLE, dashes: false };
  }

  private takeRow(entry: Entry): void {
    let { reading } = entry;
    const dashes = reading?.dashes ?? isRuler(pieceText(this.text, entry));
    const role = this.context.roleOf(dashes);
    const key = roleKey(role);
    let own = entry;
    if (reading === undefined || reading.role !== key || !speaksOf(reading, role)) {
      // An entry that was read in another role belongs to an earlier tree as well, and stays as it is there.
      if (reading !== undefined) own = Entry.of(entry);
      reading = this.readRow(role, key, this.textOf(entry), dashes);
      own.reading = reading;
    }
    const place = this.context.rowTrouble(role, entry.length);
    const late = role.type === "row" && role.late;
    // A row without a table has no columns that its cells could be counted against.
    const told = place?.code === "row-homeless" ? [] : reading.messages;
    this.put(own, late ? lateNode(reading) : reading.node, told, place);
  }

  private readRow(role: RowRole, key: string, text: string, dashes: boolean): Reading {
    const known = this.readBefore(keyOf(key, text));
    if (known !== undefined && speaksOf(known, role)) return known;
    if (role.type === "ruler") return { node: { type: "ruler" }, messages: [], role: key, dashes };
    if (role.type === "heading") {
      const { columns, messages } = readHeading(text);
      return { node: { type: "heading", columns }, messages, role: key, dashes };
    }
    const { cells, messages } = readRow(text, role.shape);
    return { node: { type: "row", cells }, messages, role: key, dashes, columns: role.shape.columns };
  }

  private put(
    entry: Entry,
    node: StatementNode,
    messages: readonly SyntaxMessage[],
    place: SyntaxMessage | undefined,
  ): void {
    let { statement } = entry;
    if (place !== undefined) statement = makeStatement(entry, node, [...messages, place]);
    else if (statement?.node !== node) {
      statement = makeStatement(entry, node, messages);
      entry.statement = statement;
    }
    this.told += statement.messages.length;
    const table = this.context.take(statement);
    if (node.type === "table" && table !== undefined) this.book.tables.push(table);
    this.book.add(entry, statement, table);
  }

  private languageTrouble(node: StatementNode, piece: Piece): SyntaxMessage | undefined {
    if (node.type !== "language" || this.book.statements.length === 0) return undefined;
    return fault(
      "language-place",
      spanOf(0, piece.length),
      "`language` stands in the first line of a book.",
      {
        help: "Move it up, or take it out.",
      },
    );
  }

  /** A table without a heading is told at its statement, once it is known that none follows. */
  private tellHeadings(): void {
    const { tables, statements } = this.book;
    let at = 0;
    for (const table of tables) {
      const missing = headingMissing(table);
      if (missing === undefined) continue;
      while (statements[at] !== table.statement) at++;
      table.statement = { ...table.statement, messages: [...table.statement.messages, missing] };
      statements[at] = table.statement;
    }
  }

  /** Characters that cannot be seen, between the statements: in comments and blank lines. */
  private tellUnseen(): void {
    let from = startOf(this.text);
    let index = 0;
    const { entries, messages } = this.book;
    for (let found = findUnseen(this.text, from); found !== undefined; found = findUnseen(this.text, from)) {
      const { at, name } = found;
      from = at + 1;
      while (index < entries.length && entries[index]!.at + entries[index]!.length <= at) index++;
      const piece = entries[index];
      if (piece !== undefined && piece.at <= at) continue;
      messages.push(unseenFault(at, name));
      if (messages.length >= MOST_UNSEEN) break;
    }
  }
}

const MOST_UNSEEN = 100;

const STATEMENT_ROLE = "s";

function roleKey(role: RowRole): string {
  return role.type === "row" ? `r${role.shape.key}` : role.type;
}

/** A line end cannot stand in a role, so no two pairs share a key. */
function keyOf(role: string, text: string): string {
  return `${role}\n${text}`;
}

/** Whether what was told about a row still holds: messages name the columns of one heading. */
function speaksOf(reading: Reading, role: RowRole): boolean {
  return role.type !== "row" || reading.messages.length === 0 || reading.columns === role.shape.columns;
}

function lateNode(reading: Reading): StatementNode {
  const { node } = reading;
  if (node.type !== "row") return node;
  reading.late ??= { type: "row", cells: unreadRow(node.cells) };
  return reading.late;
}

function makeStatement(piece: Piece, node: StatementNode, messages: readonly SyntaxMessage[]): Statement {
  const { at, length, line, comment } = piece;
  return comment === undefined
    ? { at, length, line, node, messages }
    : { at, length, line, node, messages, comment };
}

function pieceText(text: string, piece: Piece): string {
  return text.slice(piece.at, piece.at + piece.length);
}

/** Where the first line begins: behind a byte order mark, if there is one. */
function startOf(text: string): number {
  return text.charCodeAt(0) === BYTE_ORDER_MARK ? 1 : 0;
}

/** A copy that does not keep the whole book in memory, as a slice of it would. */
function ownCopy(slice: string): string {
  return ` ${slice}`.slice(1);
}

/** What two texts have in common at their ends, which never overlap, and by how much the end has moved. */
interface UnchangedSpan {
  readonly prefix: number;
  readonly suffix: number;
  readonly shift: number;
}

const STRIDE = 4096;

function unchangedSpan(before: string, after: string): UnchangedSpan {
  const most = Math.min(before.length, after.length);
  let prefix = 0;
  while (
    prefix + STRIDE <= most &&
    before.slice(prefix, prefix + STRIDE) === after.slice(prefix, prefix + STRIDE)
  )
    prefix += STRIDE;
  while (prefix < most && before.charCodeAt(prefix) === after.charCodeAt(prefix)) prefix++;
  const left = most - prefix;
  let suffix = 0;
  const same = (from: number, to: number): boolean =>
    before.slice(before.length - to, before.length - from) ===
    after.slice(after.length - to, after.length - from);
  while (suffix + STRIDE <= left && same(suffix, suffix + STRIDE)) suffix += STRIDE;
  while (suffix < left && same(suffix, suffix + 1)) suffix++;
  return { prefix, suffix, shift: after.length - before.length };
}
