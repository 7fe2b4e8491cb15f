import type { IToken, TokenType } from "chevrotain";
import { cut, type Piece } from "./cutting";
import { type LexingMode, lex, scannedText } from "./lexer";
import { LONGEST_STATEMENT } from "./limits";
import { cutRow, isRuler, type RowShape, readHeading, readRow, shapeOf } from "./rows";
import * as t from "./tokens";
import type { Span } from "./tree";
import { endOfWord, STATEMENTS } from "./words";

/** What a stretch of text is, for an editor that colours it. Stretches do not overlap; blanks belong to none. */
export interface Ink extends Span {
  readonly ink: "name" | "number" | "unit" | "operator" | "word" | "text" | "comment" | "mark" | "fault";
}

type Kind = Ink["ink"];

const WORDS = new Set<TokenType>([...t.HEAD_TYPES, ...t.RESERVED_TYPES, ...t.CLAUSE_TYPES, ...t.STYLE_TYPES]);
const KINDS = new Map<TokenType, Kind>([
  [t.Name, "name"],
  [t.Part, "name"],
  [t.Label, "name"],
  [t.NumberWord, "number"],
  [t.DateWord, "number"],
  [t.Unit, "unit"],
  [t.Text, "text"],
  [t.Mark, "mark"],
]);

function kindOf(type: TokenType): Kind {
  if (t.FAULTS.has(type)) return "fault";
  return WORDS.has(type) ? "word" : (KINDS.get(type) ?? "operator");
}

/** The inks of a formula by itself, from the same tokens that the parser reads. */
export function highlightFormula(formula: string): readonly Ink[] {
  const inks: Ink[] = [];
  inkTokens(formula, 0, "formula", inks);
  return inks;
}

/** The inks of one cell as it stands between its bars; `first` tells that it names the row. */
export function highlightCell(cell: string, first = false): readonly Ink[] {
  const inks: Ink[] = [];
  const from = cell.length - cell.trimStart().length;
  inkCell(cell.trim(), from, first, inks);
  return inks;
}

/** The inks of a book, or of the statements that touch the stretch from `from` to `to`. */
export function highlight(text: string, from = 0, to = text.length): readonly Ink[] {
  const inks: Ink[] = [];
  const start = text.startsWith("\uFEFF") ? 1 : 0;
  const rows = new RowInks();
  let reached = start;
  cut(
    text,
    { at: start, line: 1 },
    (piece) => {
      const seen = piece.next >= from && piece.at <= to;
      if (seen) inkComments(text, reached, piece.at, 0, inks);
      rows.take(text, piece, seen ? inks : undefined);
      if (seen) inkComments(text, piece.at + piece.length, piece.next, 0, inks);
      reached = piece.next;
    },
    (lineStart) => lineStart > to,
  );
  const lineEnd = text.indexOf("\n", to);
  inkComments(text, reached, lineEnd < 0 ? text.length : lineEnd, 0, inks);
  return inks.filter((ink) => ink.to >= from && ink.from <= to);
}

/** Follows tables, since what a cell is depends on its heading. */
class RowInks {
  private shape: RowShape | undefined;
  private expectsHeading = false;

  take(text: string, piece: Piece, inks: Ink[] | undefined): void {
    const source = text.slice(piece.at, piece.at + piece.length);
    if (!piece.isRow) {
      if (source.slice(0, endOfWord(source, 0)) === "table") {
        this.expectsHeading = true;
        this.shape = undefined;
      }
      if (inks === undefined) return;
      if (piece.length > LONGEST_STATEMENT) add(inks, piece.at, piece.at + piece.length, "fault");
      else inkStatement(source, piece.at, inks);
      return;
    }
    const isHeading = this.expectsHeading;
    if (isHeading) {
      this.shape = shapeOf(readHeading(source).columns);
      this.expectsHeading = false;
    }
    if (inks === undefined) return;
    if (piece.length > LONGEST_STATEMENT) add(inks, piece.at, piece.at + piece.length, "fault");
    else if (isHeading) inkHeading(source, piece.at, inks);
    else inkRow(source, piece.at, this.shape, inks);
  }
}

function add(inks: Ink[], from: number, to: number, ink: Kind): void {
  if (from < to) inks.push({ from, to, ink });
}

/** Comments between two places that hold nothing else. */
function inkComments(text: string, from: number, to: number, base: number, inks: Ink[]): void {
  for (const match of text.slice(from, to).matchAll(/#[^\n\r]*/g)) {
    const at = base + from + match.index;
    add(inks, at, at + match[0].length, "comment");
  }
}

function inkStatement(source: string, base: number, inks: Ink[]): void {
  const wordEnd = endOfWord(source, 0);
  if (STATEMENTS.has(source.slice(0, wordEnd))) inkTokens(source, base, "statement", inks);
  else {
    const end = Math.max(1, wordEnd);
    add(inks, base, base + end, "fault");
    inkTokens(source.slice(end), base + end, "formula", inks);
  }
}

function inkTokens(source: string, base: number, mode: LexingMode, inks: Ink[]): void {
  let at = 0;
  for (const token of lex(source, mode).tokens) {
    inkComments(source, at, token.startOffset, base, inks);
    inkToken(source, base, token, inks);
    at = token.startOffset + token.image.length;
  }
  inkComments(source, at, source.length, base, inks);
}

function inkToken(source: string, base: number, token: IToken, inks: Ink[]): void {
  const from = token.startOffset;
  const to = from + token.image.length;
  if (token.tokenType !== t.Text) {
    add(inks, base + from, base + to, kindOf(token.tokenType));
    return;
  }
  let at = from;
  for (const piece of scannedText(token).pieces) {
    if (piece.type === "plain") continue;
    add(inks, base + at, base + piece.from - 1, "text");
    add(inks, base + piece.from - 1, base + piece.from, "operator");
    inkTokens(source.slice(piece.from, piece.to), base + piece.from, "inner", inks);
    add(inks, base + piece.to, base + piece.to + 1, "operator");
    at = piece.to + 1;
  }
  add(inks, base + at, base + to, "text");
}

function inkHeading(source: string, base: number, inks: Ink[]): void {
  const { columns } = readHeading(source);
  const { slots } = cutRow(source);
  slots.forEach((slot, i) => {
    add(inks, base + slot.from - 1, base + slot.from, "operator");
    const column = columns[i]!;
    add(inks, base + column.nameSpan.from, base + column.nameSpan.to, "name");
    if (column.unit !== undefined)
      add(inks, base + column.unit.span.from, base + column.unit.span.to, "unit");
    else if (column.holds !== undefined) {
      const word = source.lastIndexOf(column.holds, column.span.to);
      add(inks, base + word, base + word + column.holds.length, "word");
    }
  });
  inkLastBar(source, base, inks);
}

function inkRow(source: string, base: number, shape: RowShape | undefined, inks: Ink[]): void {
  if (isRuler(source)) {
    add(inks, base, base + source.length, "operator");
    return;
  }
  const { slots } = cutRow(source);
  const cells = shape === undefined ? undefined : readRow(source, shape).cells;
  slots.forEach((slot, i) => {
    add(inks, base + slot.from - 1, base + slot.from, "operator");
    const raw = source.slice(slot.content.from, slot.content.to);
    if (raw === "") return;
    const isText = cells?.[i]?.content.type === "text";
    if (isText) add(inks, base + slot.content.from, base + slot.content.to, i === 0 ? "name" : "text");
    else inkCell(raw, base + slot.content.from, i === 0 && cells === undefined, inks);
  });
  inkLastBar(source, base, inks);
}

function inkLastBar(source: string, base: number, inks: Ink[]): void {
  if (source.length > 1 && source.endsWith("|") && !source.endsWith("\\|"))
    add(inks, base + source.length - 1, base + source.length, "operator");
}

const FORMULA_OR_NUMBER = /^(?:=|[-+−]?\s*[\d.])/;

function inkCell(raw: string, at: number, first: boolean, inks: Ink[]): void {
  if (first) add(inks, at, at + raw.length, "name");
  else if (FORMULA_OR_NUMBER.test(raw)) inkTokens(raw, at, "inner", inks);
  else add(inks, at, at + raw.length, "text");
}
