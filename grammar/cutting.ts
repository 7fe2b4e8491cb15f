import { closingBacktick } from "./scanning";
import { BLANKS, CLAUSES, endOfWord, RESERVED, skipBlanks, startOfWordBefore, trimBlanks } from "./words";

/**
 * A book cut into its statements and rows, before any of them is read. Only brackets, texts, backticks and the
 * first and last word of a line matter here, so the cut takes one pass over the characters and never fails.
 */

/** A statement or row in its place. */
export interface Piece {
  /** Offset of the first character that is not a blank. */
  readonly at: number;
  /** Without the comment and the line end behind it. */
  readonly length: number;
  /** 1-based. */
  readonly line: number;
  readonly isRow: boolean;
  /** Without `#` and the blanks around it. */
  readonly comment?: string;
  /** Offset of the next line. */
  readonly next: number;
  /** Number of the next line, 1-based. */
  readonly nextLine: number;
}

/** Where cutting begins: at the start of a line that no statement has reached. */
export interface CutStart {
  readonly at: number;
  readonly line: number;
}

const OPERATORS_AT_END = new Set("+-−–—*×·/÷^±<>=≤≥≠,:.([");
const OPERATORS_AT_START = new Set("+-−–—*×·/÷^±<>=≤≥≠,:.)]");
const VALUES = new Set(["true", "false", "blank"]);
const joins = (word: string): boolean => RESERVED.has(word) && !VALUES.has(word);

const NAME_SHAPE = "(?:[\\p{L}_][\\p{L}\\p{M}\\p{Nd}_]*|`[^`\\n\\r]+`)";
const gap = `[${BLANKS}]+`;
const maybe = `[${BLANKS}]*`;
/** A line that is plainly a new statement, even while a bracket is open. */
const PLAINLY_NEW = new RegExp(
  [
    `[sS]et${gap}${NAME_SHAPE}${maybe}=`,
    `(?:[cC]olumn|[fF]oot)${gap}${NAME_SHAPE}${maybe}=`,
    `[dD]efine${gap}${NAME_SHAPE}${maybe}\\(`,
    `table${gap}${NAME_SHAPE}`,
    "(?:check|seen)(?![\\p{L}\\p{M}\\p{Nd}_])",
    `[lL]anguage${gap}\\d`,
    `(?:[bB]ook|[aA]bout|[pP]art|[cC]hart|[sS]tep)${maybe}["“”„]`,
  ].join("|"),
  "uy",
);

/** Cuts a text from `start` on, handing over one piece after the other. `stop` may end the cut before a line. */
export function cut(
  text: string,
  start: CutStart,
  take: (piece: Piece) => void,
  stop: (lineStart: number) => boolean = () => false,
): CutStart {
  let at = start.at;
  let line = start.line;
  while (at < text.length) {
    if (stop(at)) return { at, line };
    const end = endOfLine(text, at);
    const first = skipBlanks(text, at, end);
    const next = nextLine(text, end);
    const code = text.charCodeAt(first);
    if (first === end || code === HASH) {
      at = next;
      line++;
      continue;
    }
    const piece =
      code === BAR ? rowPiece(text, first, end, line, next) : statementPiece(text, first, end, line);
    take(piece);
    at = piece.next;
    line = piece.nextLine;
  }
  return { at, line };
}

const HASH = 0x23;
const BAR = 0x7c;

function endOfLine(text: string, at: number): number {
  const feed = text.indexOf("\n", at);
  if (feed < 0) return text.length;
  return feed > at && text.charCodeAt(feed - 1) === 0x0d ? feed - 1 : feed;
}

/** Offset of the line behind the one that ends at `end`. */
function nextLine(text: string, end: number): number {
  if (end >= text.length) return text.length;
  return text.charCodeAt(end) === 0x0d ? end + 2 : end + 1;
}

function rowPiece(text: string, at: number, end: number, line: number, next: number): Piece {
  const lastBar = text.lastIndexOf("|", end - 1);
  const behind = skipBlanks(text, lastBar + 1, end);
  const closed = lastBar > at && text[lastBar - 1] !== "\\";
  if (closed && behind < end && text.charCodeAt(behind) === HASH)
    return {
      at,
      length: lastBar + 1 - at,
      line,
      isRow: true,
      comment: commentText(text, behind, end),
      next,
      nextLine: line + 1,
    };
  return { at, length: trimBlanks(text, at, end) - at, line, isRow: true, next, nextLine: line + 1 };
}

function commentText(text: string, hash: number, end: number): string {
  return text.slice(skipBlanks(text, hash + 1, end), trimBlanks(text, hash + 1, end));
}

/** What one line of a statement leaves behind. */
interface LineEnd {
  /** Behind the last character that is neither blank nor comment. */
  code: number;
  /** Offset of the `#`, or -1. */
  hash: number;
  /** Round and square brackets that are open. */
  depth: number;
  /** Whether the line ended inside a text that is not closed. */
  inText: boolean;
}

function scanLine(text: string, from: number, end: number, depthBefore: number): LineEnd {
  let depth = depthBefore;
  /** Texts and braces that are open: odd inside a text, even inside a brace. */
  let open = 0;
  for (let at = from; at < end; at++) {
    const code = text.charCodeAt(at);
    if ((open & 1) === 1) {
      if (code === 0x5c) at++;
      else if (code === 0x22) open--;
      else if (code === 0x7b) open++;
    } else if (code === 0x22) open++;
    else if (code === 0x60) {
      const close = closingBacktick(text, at, end);
      if (close < 0 && open === 0)
        return { code: trimBlanks(text, from, end), hash: -1, depth, inText: true };
      at = Math.max(at, close);
    } else if (open > 0) {
      if (code === 0x7d) open--;
    } else if (code === HASH) return { code: trimBlanks(text, from, at), hash: at, depth, inText: false };
    else if (code === 0x28 || code === 0x5b) depth++;
    else if ((code === 0x29 || code === 0x5d) && depth > 0) depth--;
  }
  return { code: trimBlanks(text, from, end), hash: -1, depth, inText: open > 0 };
}

function statementPiece(text: string, at: number, firstEnd: number, firstLine: number): Piece {
  let lineFrom = at;
  let lineEnd = firstEnd;
  let line = firstLine;
  let scanned = scanLine(text, at, firstEnd, 0);
  for (;;) {
    const joining = scanned.depth > 0 || endsOpen(text, lineFrom, scanned);
    const following = continuation(text, lineEnd, line, joining);
    if (following === undefined) break;
    lineFrom = following.from;
    lineEnd = following.end;
    line = following.line;
    scanned = scanLine(text, lineFrom, lineEnd, scanned.depth);
  }
  const length = scanned.code - at;
  const next = nextLine(text, lineEnd);
  const place = { at, length, line: firstLine, isRow: false, next, nextLine: line + 1 };
  return scanned.hash < 0 ? place : { ...place, comment: commentText(text, scanned.hash, lineEnd) };
}

/** Whether a line ends with an operator or a word behind which something must come. */
function endsOpen(text: string, from: number, { code, inText }: LineEnd): boolean {
  if (inText || code <= from) return false;
  const last = text[code - 1]!;
  if (OPERATORS_AT_END.has(last)) return true;
  const wordFrom = startOfWordBefore(text, from, code);
  if (wordFrom === code || !joins(text.slice(wordFrom, code))) return false;
  const behindDot = text[trimBlanks(text, from, wordFrom) - 1] === ".";
  return !behindDot;
}

/** The line with which the statement goes on, or nothing when it ends here. Comment lines in between are passed. */
function continuation(
  text: string,
  endBefore: number,
  lineBefore: number,
  joining: boolean,
): { from: number; end: number; line: number } | undefined {
  let lineStart = nextLine(text, endBefore);
  let line = lineBefore + 1;
  while (lineStart < text.length) {
    const end = endOfLine(text, lineStart);
    const from = skipBlanks(text, lineStart, end);
    if (from === end) return undefined;
    const code = text.charCodeAt(from);
    if (code === BAR) return undefined;
    if (code !== HASH) {
      PLAINLY_NEW.lastIndex = from;
      if (PLAINLY_NEW.test(text)) return undefined;
      return joining || beginsOpen(text, from, end) ? { from, end, line } : undefined;
    }
    lineStart = nextLine(text, end);
    line++;
  }
  return undefined;
}

/** Whether a line begins with what cannot begin a statement. */
function beginsOpen(text: string, from: number, end: number): boolean {
  if (OPERATORS_AT_START.has(text[from]!)) return true;
  const word = text.slice(from, Math.min(end, endOfWord(text, from)));
  return joins(word) || CLAUSES.has(word);
}
