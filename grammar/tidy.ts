import type { IToken } from "chevrotain";
import { endOf, type LexingMode, lex, scannedText } from "./lexer";
import { bookTrouble, LONGEST_STATEMENT } from "./limits";
import { parseBook } from "./reading";
import { cutRow } from "./rows";
import * as t from "./tokens";
import type { Cell, Heading, Statement, TableTree } from "./tree";
import { sourceOf } from "./walk";
import { normal, skipBlanks, trimBlanks } from "./words";

/**
 * Tidies the writing of a book and nothing else: one blank where blanks belong, the usual signs for operators, bars
 * of a table under each other. Comments, blank lines, line ends, the order and every value stay; what has a fault
 * stays as it was typed. Tidying twice is tidying once.
 */
export function tidy(text: string): string {
  // A stray carriage return could meet a line feed and become part of a line end.
  if (bookTrouble(text)?.stops || /\r(?!\n)/.test(text)) return text;
  const book = parseBook(text);
  const columns = new Map<TableTree, readonly number[]>();
  let out = "";
  let at = 0;
  for (const statement of book.statements) {
    out += tidyBetween(text.slice(at, statement.at), at > 0);
    out += tidyStatement(text, statement, book.tableOf.get(statement), columns);
    at = statement.at + statement.length;
  }
  out += tidyBetween(text.slice(at), at > 0);
  // Padding may make a book too large to be read again; then it is better left alone.
  return bookTrouble(out)?.stops ? text : out;
}

const INDENT = "    ";
/** A line without the blanks around it. */
function bare(line: string): string {
  const from = skipBlanks(line, 0);
  return line.slice(from, trimBlanks(line, from, line.length));
}

/** What stands between two statements: comments, blank lines and the statement behind lose the blanks around them. */
function tidyBetween(text: string, behindStatement: boolean): string {
  const lines = text.split(/(\r?\n)/);
  return lines
    .map((line, i) => {
      if (i === 0 && behindStatement) return commentBehind(line);
      return bare(line);
    })
    .join("");
}

/** A comment at the end of a line stands two blanks behind what it remarks on. */
function commentBehind(rest: string): string {
  const comment = bare(rest);
  return comment === "" ? "" : `  ${comment}`;
}

function isSound(statement: Statement): boolean {
  return statement.messages.every((message) => message.severity !== "fault");
}

function tidyStatement(
  text: string,
  statement: Statement,
  table: TableTree | undefined,
  columns: Map<TableTree, readonly number[]>,
): string {
  const source = sourceOf(text, statement);
  const { node } = statement;
  if (!isSound(statement)) return source;
  if (node.type !== "heading" && node.type !== "ruler" && node.type !== "row")
    return spaced(source, "statement");
  if (table?.heading === undefined || !isSound(table.heading)) return source;
  let widths = columns.get(table);
  if (widths === undefined) {
    widths = widthsOf(text, table);
    columns.set(table, widths);
  }
  return writeRow(
    node.type === "ruler" ? widths.map((width) => "-".repeat(Math.max(1, width))) : cellsOf(text, statement),
    widths,
  );
}

// ---- rows

/** Bars stand under each other up to this width; a longer cell pushes its own bar out. */
const WIDEST = 60;

function widthsOf(text: string, table: TableTree): readonly number[] {
  const widths = table.heading!.node.columns.map(() => 0);
  for (const row of [table.heading!, ...table.rows]) {
    if (!isSound(row)) continue;
    cellsOf(text, row).forEach((cell, i) => {
      widths[i] = Math.min(WIDEST, Math.max(widths[i] ?? 0, widthOf(cell)));
    });
  }
  const whole = widths.reduce((sum, width) => sum + width + 3, 1);
  return whole > LONGEST_STATEMENT ? widths.map(() => 0) : widths;
}

/** Characters that take up room: marks sit on the letter before them. */
function widthOf(cell: string): number {
  return [...cell].filter((character) => !/\p{M}/u.test(character)).length;
}

function cellsOf(text: string, row: Statement): readonly string[] {
  const source = sourceOf(text, row);
  const { node } = row;
  if (node.type === "heading") return node.columns.map((column) => tidyHeading(source, column));
  if (node.type === "row") return node.cells.map((cell, i) => tidyCell(cell, i));
  return cutRow(source).slots.map(({ content }) => source.slice(content.from, content.to));
}

function tidyHeading(source: string, { nameSpan, unit, holds }: Heading): string {
  const name = source.slice(nameSpan.from, nameSpan.to);
  if (unit !== undefined) return `${name} (${source.slice(unit.span.from, unit.span.to)})`;
  return holds === undefined ? name : `${name} (${holds})`;
}

/** The first cell names the row as it is written, whatever it holds. */
function tidyCell({ content, raw }: Cell, column: number): string {
  const isWriting = column === 0 || (content.type !== "quantity" && content.type !== "formula");
  return isWriting ? raw : spaced(raw, "inner");
}

function writeRow(cells: readonly string[], widths: readonly number[]): string {
  const padded = cells.map((cell, i) => cell + " ".repeat(Math.max(0, (widths[i] ?? 0) - widthOf(cell))));
  return `| ${padded.join(" | ")} |`;
}

// ---- statements and formulas

/** The tokens of a text, set apart as they should be. Line breaks stay where they are. */
function spaced(text: string, mode: LexingMode): string {
  const { tokens, faults } = lex(text, mode);
  if (faults.length > 0 || tokens.length === 0) return text;
  let out = written(tokens[0]!, text);
  for (let i = 1; i < tokens.length; i++) {
    const gap = text.slice(endOf(tokens[i - 1]!), tokens[i]!.startOffset);
    out += (gap.includes("\n") ? brokenGap(gap) : blankBefore(tokens, i)) + written(tokens[i]!, text);
  }
  return out;
}

/** A gap over lines, perhaps with comments: the next line is indented. */
function brokenGap(gap: string): string {
  const lines = gap.split(/(\r?\n)/);
  return lines
    .map((line, i) => {
      if (i % 2 === 1) return line;
      if (i === 0) return commentBehind(line);
      return INDENT + (i === lines.length - 1 ? "" : bare(line));
    })
    .join("");
}

const CLOSERS = new Set([t.CloseBracket, t.CloseSquare, t.Comma]);
const SIGNS = new Set([t.Plus, t.Minus]);

function isSign(tokens: readonly IToken[], i: number): boolean {
  if (!SIGNS.has(tokens[i]!.tokenType)) return false;
  const before = tokens[i - 1];
  return before === undefined || !t.OPERAND_ENDS.has(before.tokenType);
}

/** What stands between token `i` and the one before it. */
function blankBefore(tokens: readonly IToken[], i: number): string {
  const left = tokens[i - 1]!.tokenType;
  const right = tokens[i]!.tokenType;
  if (left === t.OpenBracket || left === t.OpenSquare || CLOSERS.has(right)) return "";
  if (right === t.OpenBracket && left === t.Name) return "";
  if (left === t.Dot || right === t.Dot) return "";
  // Without blanks, `2 m ^ 3` would be the volume `2 m^3`.
  if (right === t.Power) return left === t.Unit ? " " : "";
  if (left === t.Power) return tokens[i - 2]?.tokenType === t.Unit ? " " : "";
  if (isSign(tokens, i - 1)) return SIGNS.has(right) ? " " : "";
  if (right === t.Colon) return left === t.Label ? "" : " ";
  return " ";
}

const USUAL = new Map([
  ["+-", "±"],
  ["−", "-"],
  ["×", "*"],
  ["·", "*"],
  ["÷", "/"],
  ["≤", "<="],
  ["≥", ">="],
  ["≠", "is not"],
]);

/** A token in its usual writing. */
function written(token: IToken, text: string): string {
  const type = token.tokenType;
  if (type === t.Name || type === t.Part || type === t.Label) return normal(token.image);
  if (type === t.Unit) return token.image;
  if (type !== t.Text) return USUAL.get(token.image) ?? token.image;
  let out = "";
  let from = token.startOffset;
  for (const piece of scannedText(token).pieces) {
    if (piece.type === "plain") continue;
    out += text.slice(from, piece.from) + spaced(text.slice(piece.from, piece.to), "inner");
    from = piece.to;
  }
  return out + text.slice(from, endOf(token));
}
