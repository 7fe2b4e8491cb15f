import type { IToken } from "chevrotain";
import { cut, type Piece } from "./cutting";
import { endOf, lex, nameOf } from "./lexer";
import { LONGEST_STATEMENT } from "./limits";
import { cutRow } from "./rows";
import { closingBacktick } from "./scanning";
import * as t from "./tokens";
import type { Span } from "./tree";
import { endOfWord, endOfWordRest, STATEMENTS, skipBlanks } from "./words";

/** What may be written at the caret. */
export type Expected = "statement" | "value" | "label" | "operator" | "unit" | "part" | "text" | "comment";

/** What stands under and before the caret, for completion and for the card of the function around it. */
export interface CaretContext {
  /** What may stand here; empty when nothing can be offered. */
  readonly expects: readonly Expected[];
  /** The word that a completion replaces, counted in the text that was given. */
  readonly word: Span;
  /** What of it stands before the caret, without a backtick. */
  readonly prefix: string;
  /** Whether the word began with a backtick. */
  readonly inBackticks: boolean;
  /** Before a part: the names that lead to it, `["stills", "juniper"]`; empty when they are no plain path. */
  readonly path: readonly string[];
  /** The innermost call around the caret. */
  readonly call?: CallContext;
}

export interface CallContext {
  readonly name: string;
  /** Place of the argument at the caret, from 0. */
  readonly index: number;
  /** Label of the argument at the caret, if it has one. */
  readonly label?: string;
  /** Labels of the other arguments. */
  readonly labels: readonly string[];
  /** Arguments without a label before the caret. */
  readonly places: number;
}

/** How the text is read: a formula, a whole statement, or a cell as it stands between its bars. */
export type Writing = "formula" | "statement" | "cell";

/** The context of a caret in a formula, a statement or a cell. Pure; any text and any caret will do. */
export function contextAt(text: string, caret: number, writing: Writing = "formula"): CaretContext {
  const at = Math.max(0, Math.min(caret, text.length));
  if (text.length > LONGEST_STATEMENT) return bare(at, []);
  if (writing === "cell" && !/^\s*(?:=|[-+−]?\s*\d)/.test(text)) return bare(at, ["text"]);
  if (writing === "statement") {
    const first = skipBlanks(text, 0);
    const end = endOfWord(text, first);
    if (at < first) return bare(at, ["statement"]);
    if (at <= end)
      return { ...bare(at, ["statement"]), word: { from: first, to: end }, prefix: text.slice(first, at) };
    if (!STATEMENTS.has(text.slice(first, end))) return bare(at, []);
  }
  return inFormula(text, at, writing);
}

/** The context of a caret in the text of a book, in whatever statement or cell it stands. */
export function contextInBook(text: string, caret: number): CaretContext {
  let inside: Piece | undefined;
  const start = text.startsWith("\uFEFF") ? 1 : 0;
  cut(
    text,
    { at: start, line: 1 },
    (piece) => {
      if (piece.at <= caret) inside = piece;
    },
    (lineStart) => lineStart > caret,
  );
  if (inside === undefined || caret > lineEnd(text, inside)) {
    const line = text.slice(text.lastIndexOf("\n", caret - 1) + 1, caret);
    return bare(caret, [line.trimStart().startsWith("#") ? "comment" : "statement"]);
  }
  const { at, length } = inside;
  const source = text.slice(at, Math.max(at + length, caret));
  if (length > LONGEST_STATEMENT) return bare(caret, []);
  if (!inside.isRow) return moved(contextAt(source, caret - at, "statement"), at);
  const { slots } = cutRow(text.slice(at, at + length));
  const slot = slots.find(({ from, to }) => at + from <= caret && caret <= at + to);
  if (slot === undefined) return bare(caret, []);
  return moved(contextAt(source.slice(slot.from, slot.to), caret - at - slot.from, "cell"), at + slot.from);
}

/** The end of the line on which a piece ends: a caret behind its last word still belongs to it. */
function lineEnd(text: string, piece: Piece): number {
  const rest = /[^\r\n]*/y;
  rest.lastIndex = piece.at + piece.length;
  return piece.at + piece.length + rest.exec(text)![0].length;
}

function bare(at: number, expects: readonly Expected[]): CaretContext {
  return { expects, word: { from: at, to: at }, prefix: "", inBackticks: false, path: [] };
}

function moved(context: CaretContext, by: number): CaretContext {
  return { ...context, word: { from: context.word.from + by, to: context.word.to + by } };
}

/** The innermost formula around the caret: where it begins, and whether the caret is in a text, name or comment of it. */
interface Region {
  readonly from: number;
  readonly state: "formula" | "text" | "comment";
  /** Where an open backtick stands, or -1. */
  readonly backtick: number;
}

function regionAt(text: string, caret: number, comments: boolean): Region {
  /** Where the formulas and texts that are open began; even places hold formulas, odd ones texts. */
  const open: number[] = [0];
  for (let at = 0; at < caret; at++) {
    const code = text.charCodeAt(at);
    const inText = open.length % 2 === 0;
    if (code === 0x0a) open.length = 1;
    else if (inText) {
      if (code === 0x5c) at++;
      else if (code === 0x22) open.pop();
      else if (code === 0x7b) open.push(at + 1);
    } else if (code === 0x22) open.push(at);
    else if (code === 0x7d && open.length > 1) open.pop();
    else if (code === 0x60) {
      const close = closingBacktick(text, at, caret);
      if (close < 0) return { from: open.at(-1)!, state: "formula", backtick: at };
      at = close;
    } else if (code === 0x23 && comments && open.length === 1) {
      const end = text.indexOf("\n", at);
      if (end < 0 || end >= caret) return { from: at, state: "comment", backtick: -1 };
      at = end - 1;
    }
  }
  return { from: open.at(-1)!, state: open.length % 2 === 0 ? "text" : "formula", backtick: -1 };
}

function inFormula(text: string, caret: number, writing: Writing): CaretContext {
  const region = regionAt(text, caret, writing !== "cell");
  if (region.state !== "formula") return bare(caret, [region.state]);
  const { from, backtick } = region;
  const mode = from > 0 ? "inner" : writing === "cell" ? "inner" : writing;
  const end = backtick < 0 ? caret : backtick;
  const tokens = lex(text.slice(from, end), mode).tokens;
  const last = tokens.at(-1);
  const touching =
    backtick < 0 && last !== undefined && from + endOf(last) === caret && isWord(last) ? last : undefined;
  const before = touching === undefined ? tokens : tokens.slice(0, -1);
  const call = callAround(before, lex(text.slice(from), mode).tokens);
  const word = wordAt(text, caret, from, touching, backtick);
  const path = before.at(-1)?.tokenType === t.Dot ? pathBefore(before) : [];
  const prefix = text.slice(word.from, caret).replace(/^`/, "");
  const context = {
    expects: expected(before, touching, call !== undefined),
    word,
    prefix,
    inBackticks: backtick >= 0,
    path,
  };
  return call === undefined ? context : { ...context, call };
}

const WORDS = new Set([
  ...t.RESERVED_TYPES,
  ...t.CLAUSE_TYPES,
  ...t.STYLE_TYPES,
  t.Name,
  t.Part,
  t.Label,
  t.Unit,
]);

function isWord(token: IToken): boolean {
  return WORDS.has(token.tokenType) && !token.image.endsWith("`");
}

/** The word that a completion replaces; of a unit such as `GBP/L` only the part at the caret. */
function wordAt(
  text: string,
  caret: number,
  base: number,
  touching: IToken | undefined,
  backtick: number,
): Span {
  if (backtick >= 0) {
    const close = closingBacktick(text, backtick);
    return { from: backtick, to: close < 0 ? caret : Math.max(caret, close + 1) };
  }
  if (touching === undefined) return { from: caret, to: caret };
  const joint =
    touching.tokenType === t.Unit
      ? Math.max(...["/", "*", "·"].map((one) => touching.image.lastIndexOf(one)))
      : -1;
  return { from: base + touching.startOffset + joint + 1, to: endOfWordRest(text, caret) };
}

function expected(
  before: readonly IToken[],
  touching: IToken | undefined,
  inCall: boolean,
): readonly Expected[] {
  const last = before.at(-1);
  const type = last?.tokenType;
  if (type === t.Dot) return ["part"];
  if (type === t.In) return ["unit"];
  if (touching === undefined && joinsUnit(before)) return ["unit", "value"];
  if (type === t.NumberWord)
    return touching === undefined || touching.tokenType === t.Unit ? ["unit", "operator"] : ["operator"];
  if (last !== undefined && t.OPERAND_ENDS.has(last.tokenType)) return ["operator"];
  if (inCall && (type === t.OpenBracket || type === t.Comma)) return ["value", "label"];
  return ["value"];
}

/** `2 GBP/`: a stroke or star that touches a unit may go on to another. */
function joinsUnit(tokens: readonly IToken[]): boolean {
  const [unit, joint] = tokens.slice(-2);
  if (joint === undefined || (joint.tokenType !== t.Over && joint.tokenType !== t.Times)) return false;
  return unit!.tokenType === t.Unit && endOf(unit!) === joint.startOffset;
}

/** The names of the path that ends with a dot: `stills.juniper.` */
function pathBefore(tokens: readonly IToken[]): readonly string[] {
  const names: string[] = [];
  for (let i = tokens.length - 1; i > 0; i -= 2) {
    if (tokens[i]!.tokenType !== t.Dot) break;
    const token = tokens[i - 1]!;
    if (token.tokenType === t.Name) return [nameOf(token), ...names];
    if (token.tokenType !== t.Part) return [];
    names.unshift(nameOf(token));
  }
  return [];
}

/** The innermost call that is open behind the tokens before the caret. */
function callAround(before: readonly IToken[], all: readonly IToken[]): CallContext | undefined {
  const open = openCall(before);
  if (open < 0) return undefined;
  const until = before.length;
  const name = nameOf(before[open - 1]!);
  const labels: string[] = [];
  let index = 0;
  let places = 0;
  let depth = 0;
  let own: string | undefined;
  for (let i = open + 1; i < all.length; i++) {
    const token = all[i]!;
    const type = token.tokenType;
    if (type === t.OpenBracket || type === t.OpenSquare) depth++;
    else if (type === t.CloseBracket || type === t.CloseSquare) {
      if (depth-- === 0) break;
    } else if (depth === 0 && type === t.Label) {
      if (i < until) own = nameOf(token);
      labels.push(nameOf(token));
    } else if (depth === 0 && type === t.Comma && i < until) {
      index++;
      if (own === undefined) places++;
      own = undefined;
    }
  }
  const others = labels.filter((one) => one !== own);
  return { name, index, ...(own === undefined ? {} : { label: own }), labels: others, places };
}

/** Index of the bracket of the innermost open call, or -1. Lists and plain brackets in between are passed. */
function openCall(tokens: readonly IToken[]): number {
  let depth = 0;
  for (let i = tokens.length - 1; i > 0; i--) {
    const type = tokens[i]!.tokenType;
    if (type === t.CloseBracket || type === t.CloseSquare) depth++;
    else if (type === t.OpenBracket || type === t.OpenSquare) {
      if (depth > 0) depth--;
      else if (type === t.OpenBracket && tokens[i - 1]!.tokenType === t.Name) return i;
    }
  }
  return -1;
}
