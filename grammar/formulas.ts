import type { IToken } from "chevrotain";
import { Expectations } from "./expectations";
import { endOf, type LexingMode, lex, scannedText, unescapeBars } from "./lexer";
import { LONGEST_STATEMENT, nestingTrouble, statementTooLong } from "./limits";
import { fault, shift, spanOf } from "./messages";
import type { ReadText } from "./nodes";
import { LineParser } from "./parser";
import { CloseBracket, CloseSquare, Else, If, OpenBracket, OpenSquare, Text } from "./tokens";
import type { Cell, Formula, Span, StatementNode, SyntaxMessage } from "./tree";

/**
 * From text to a tree, one formula, cell or statement at a time: tokens, limits, the formulas inside texts, then the
 * parser. Faults come back as messages and what cannot be read as `unread`; nothing here throws.
 */

const expectations = new Expectations();
const parser = new LineParser(expectations, false);

type Rule = "line" | "formula" | "cell";

interface Reading<T> {
  /** Missing when the text cannot be read. */
  readonly node: T | undefined;
  readonly tokens: readonly IToken[];
  readonly messages: readonly SyntaxMessage[];
}

interface Setting {
  readonly mode: LexingMode;
  /** Place of the text's first character in what it is a part of. */
  readonly base: number;
  /** Brackets and braces around the text. */
  readonly outside: number;
  /** Whether bars are written `\|`. */
  readonly inCell: boolean;
}

const OPENS = new Set([OpenBracket, OpenSquare, If]);
const CLOSES = new Set([CloseBracket, CloseSquare, Else]);

function read<T>(text: string, rule: Rule, setting: Setting): Reading<T> {
  const { base, outside } = setting;
  const { tokens, faults } = lex(text, setting.mode);
  if (base !== 0) for (const token of tokens) token.startOffset += base;
  if (setting.inCell) unescapeBars(tokens);
  const messages = faults.map((message) => shift(message, base));
  const deep = nestingTrouble(tokens, outside);
  if (deep !== undefined) return { node: undefined, tokens, messages: [...messages, deep] };
  let depth = outside;
  for (const token of tokens) {
    const type = token.tokenType;
    if (type === Text) readText(token, text, { ...setting, outside: depth }, messages);
    else if (OPENS.has(type)) depth++;
    else if (CLOSES.has(type) && depth > outside) depth--;
  }
  if (faults.length > 0) return { node: undefined, tokens, messages };
  const count = tokens.length;
  expectations.begin(text, base, tokens);
  parser.begin(tokens);
  const node = parser[rule]() as T;
  const message = expectations.take();
  tokens.length = count; // the parser puts end marks behind them
  if (message === undefined)
    return { node, tokens, messages: withoutBracesInTitles(parser.plainTexts, messages) };
  return { node: undefined, tokens, messages: [...messages, message] };
}

/** Titles and remarks are plain text: a brace in one is the fault, whatever stands in it. */
function withoutBracesInTitles(
  titles: readonly IToken[],
  messages: readonly SyntaxMessage[],
): readonly SyntaxMessage[] {
  let told = messages;
  for (const title of titles) {
    const { braces } = title.payload as ReadText;
    const [brace] = braces;
    if (brace === undefined) continue;
    const span = spanOf(brace.from, brace.from + 1);
    told = told.filter(
      (message) => message.span.from < title.startOffset || message.span.from >= endOf(title),
    );
    told = [
      ...told,
      fault("title-brace", span, "This text is plain, and its `{` would open a formula.", {
        help: "Formulas in braces stand in the text of a step, or in a text inside a formula.",
        fixes: [
          {
            says: "Write the braces as \\{ and \\}",
            certain: true,
            edits: braces.flatMap(({ from, to }) => [
              { span: spanOf(from, from + 1), text: "\\{" },
              { span: spanOf(to, to + 1), text: "\\}" },
            ]),
          },
        ],
      }),
    ];
  }
  return told;
}

/** Reads the formulas in the braces of a text, each by itself, and leaves the pieces with the token. */
function readText(token: IToken, text: string, setting: Setting, messages: SyntaxMessage[]): void {
  const scanned = scannedText(token);
  const pieces = scanned.pieces.map((piece): string | Formula => {
    if (piece.type === "plain") return piece.text;
    const base = setting.base + piece.from;
    const span = spanOf(base, setting.base + piece.to);
    const inner = text.slice(piece.from, piece.to);
    if (inner.trim() === "") {
      const braces = spanOf(span.from - 1, span.to + 1);
      messages.push(
        fault("brace-empty", braces, "There is no formula in these braces.", {
          help: "Braces that are meant as such are written `\\{` and `\\}`.",
        }),
      );
      return { type: "unread", span };
    }
    const read_ = read<Formula>(inner, "formula", {
      mode: "inner",
      base,
      outside: setting.outside + 1,
      inCell: setting.inCell,
    });
    messages.push(...read_.messages);
    return read_.node ?? { type: "unread", span };
  });
  const braces = scanned.pieces.flatMap((piece) =>
    piece.type === "formula" ? [spanOf(setting.base + piece.from - 1, setting.base + piece.to)] : [],
  );
  const payload: ReadText = {
    pieces: pieces.length === 0 ? [""] : pieces,
    braces,
  };
  token.payload = payload;
}

/** A formula by itself. What cannot be read is an `unread` formula over the whole text, with its messages. */
export function parseFormula(text: string): { formula: Formula; messages: readonly SyntaxMessage[] } {
  const whole: Span = spanOf(0, text.length);
  if (text.length > LONGEST_STATEMENT)
    return { formula: { type: "unread", span: whole }, messages: [statementTooLong(text.length)] };
  const { node, messages } = read<Formula>(text, "formula", {
    mode: "formula",
    base: 0,
    outside: 0,
    inCell: false,
  });
  return { formula: node ?? { type: "unread", span: whole }, messages };
}

/** A cell that holds a quantity, a date or `= formula`. */
export function readCellFormula(
  raw: string,
  base: number,
): { content: Cell["content"]; messages: readonly SyntaxMessage[] } {
  const { node, messages } = read<Cell["content"]>(raw, "cell", {
    mode: "inner",
    base,
    outside: 0,
    inCell: true,
  });
  if (node !== undefined) return { content: node, messages };
  if (raw.startsWith("=")) {
    const span = spanOf(base, base + raw.length);
    return { content: { type: "formula", formula: { type: "unread", span } }, messages };
  }
  return { content: { type: "unread" }, messages };
}

/** A statement, without the comment behind it, from its first word on. */
export function readStatement(text: string): {
  node: StatementNode | undefined;
  tokens: readonly IToken[];
  messages: readonly SyntaxMessage[];
} {
  return read<StatementNode>(text, "line", { mode: "statement", base: 0, outside: 0, inCell: false });
}
