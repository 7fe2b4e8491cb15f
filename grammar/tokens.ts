import { type CustomPatternMatcherFunc, createToken, type IToken, Lexer, type TokenType } from "chevrotain";
import {
  matchClause,
  matchDate,
  matchFault,
  matchLabel,
  matchLeadingPoint,
  matchMark,
  matchName,
  matchNumber,
  matchOddOperator,
  matchPart,
  matchText,
  matchUnit,
} from "./matchers";
import { CLAUSES, endOfWordRest } from "./words";

/**
 * The token vocabulary. Units, parts, labels and clause words are told apart by what stands before them, so the
 * parser never needs a list of units. chevrotain rebuilds regular expressions with the flag `y` alone, under
 * which `\p{L}` silently stops working; everything that can hold a letter is therefore matched by a function
 * (matchers.ts), and the first characters that it may begin with are listed for speed.
 *
 * `LABEL` is what a message calls the token.
 */

/** One code of each block of 255 into which chevrotain sorts the characters above U+00FF. */
const BEYOND_LATIN: readonly number[] = [
  256,
  ...Array.from({ length: 256 }, (_, block) => (block + 2) * 255),
];
const LATIN: readonly number[] = Array.from({ length: 256 }, (_, code) => code);
const ANYTHING = [...LATIN, ...BEYOND_LATIN];
const LETTERS = [
  ..."ABCDEFGHIJKLMNOPQRSTUVWXYZ_abcdefghijklmnopqrstuvwxyz",
  ...LATIN.filter((code) => code >= 0x80),
  ...BEYOND_LATIN,
];
const DIGITS = [..."0123456789"];

interface Form {
  readonly label: string;
  readonly match: CustomPatternMatcherFunc;
  readonly starts: readonly (string | number)[];
}

function custom(name: string, form: Form): TokenType {
  return createToken({
    name,
    label: form.label,
    pattern: form.match,
    start_chars_hint: [...form.starts],
    line_breaks: false,
  });
}

/** A sign, or one of several; `starts` then lists the characters that they begin with. */
function symbol(name: string, pattern: string | RegExp, label: string, starts?: string): TokenType {
  return createToken({ name, pattern, label, ...(starts && { start_chars_hint: [...starts] }) });
}

function matchWord(word: string): CustomPatternMatcherFunc {
  const found = [word] as unknown as RegExpExecArray;
  return (text, offset) => {
    const end = offset + word.length;
    return text.startsWith(word, offset) && endOfWordRest(text, end) === end ? found : null;
  };
}

/** A word that formulas keep for themselves. */
function reserved(name: string, word: string): TokenType {
  return custom(name, { label: `\`${word}\``, match: matchWord(word), starts: [word[0]!] });
}

/** A word that is special only behind a whole formula. */
function clause(name: string, word: string): TokenType {
  if (!CLAUSES.has(word)) throw new Error(`${word} is not listed as a clause word`);
  return custom(name, { label: `\`${word}\``, match: matchClause(word, endsOperand), starts: [word[0]!] });
}

/** The first word of a statement. The rest of the statement is lexed as a formula. */
function head(name: string, word: string): TokenType {
  return createToken({
    name,
    label: `\`${word}\``,
    pattern: matchWord(word),
    start_chars_hint: [word[0]!],
    line_breaks: false,
    push_mode: "formula",
  });
}

/** How a chart is drawn: a word directly behind the title's colon. */
function style(name: string, word: string): TokenType {
  const match = matchWord(word);
  const starts = [word[0]!];
  return custom(name, {
    label: `\`${word}\``,
    starts,
    match: (text, offset, tokens, groups) =>
      tokens.length === 3 && tokens[0]!.tokenType === ChartHead && tokens[2]!.tokenType === Colon
        ? match(text, offset, tokens, groups)
        : null,
  });
}

/** What has stood before, in the terms in which the matchers ask. */
function previous(tokens: readonly IToken[]): IToken | undefined {
  return tokens[tokens.length - 1];
}
function isBehind(type: () => TokenType): (tokens: readonly IToken[]) => boolean {
  return (tokens) => previous(tokens)?.tokenType === type();
}
/** Whether a whole operand has just ended, so that an operator or a clause must come. */
function endsOperand(tokens: readonly IToken[]): boolean {
  const last = previous(tokens);
  return last !== undefined && OPERAND_ENDS.has(last.tokenType);
}

export const LanguageHead = head("LanguageHead", "language");
export const BookHead = head("BookHead", "book");
export const AboutHead = head("AboutHead", "about");
export const PartHead = head("PartHead", "part");
export const SetHead = head("SetHead", "set");
export const DefineHead = head("DefineHead", "define");
export const TableHead = head("TableHead", "table");
export const ColumnHead = head("ColumnHead", "column");
export const FootHead = head("FootHead", "foot");
export const CheckHead = head("CheckHead", "check");
export const ChartHead = head("ChartHead", "chart");
export const StepHead = head("StepHead", "step");
export const SeenHead = head("SeenHead", "seen");

export const Blanks = createToken({
  name: "Blanks",
  pattern: /[ \t\u00A0\u2007\u2009\u202F\r\n]+/,
  start_chars_hint: [..." \t\u00A0\u2007\u2009\u202F\r\n"],
  line_breaks: true,
  group: Lexer.SKIPPED,
});
export const Comment = createToken({
  name: "Comment",
  pattern: /#[^\n]*/,
  start_chars_hint: ["#"],
  group: Lexer.SKIPPED,
});

export const Part = custom("Part", {
  label: "a part's name",
  starts: [...LETTERS, ...DIGITS, "`"],
  match: matchPart(isBehind(() => Dot)),
});
export const Label = custom("Label", {
  label: "a label",
  starts: [...LETTERS, ...DIGITS, "`"],
  match: matchLabel((tokens) => {
    const type = previous(tokens)?.tokenType;
    return type === OpenBracket || type === Comma;
  }),
});
export const Unit = custom("Unit", {
  label: "a unit",
  starts: [...LETTERS, "%"],
  match: matchUnit(
    isBehind(() => NumberWord),
    isBehind(() => In),
  ),
});
export const DateWord = custom("Date", { label: "a date", starts: DIGITS, match: matchDate });
export const NumberWord = custom("Number", { label: "a number", starts: DIGITS, match: matchNumber });
export const Text = custom("Text", { label: "a text", starts: ['"'], match: matchText });
export const Mark = custom("Mark", {
  label: "a mark such as `@2ffcfed6`",
  starts: ["@"],
  match: matchMark((tokens) => tokens[0]?.tokenType === SeenHead),
});

export const And = reserved("And", "and");
export const Or = reserved("Or", "or");
export const Not = reserved("Not", "not");
export const Is = reserved("Is", "is");
export const In = reserved("In", "in");
export const Within = reserved("Within", "within");
export const To = reserved("To", "to");
export const Step = reserved("Step", "step");
export const If = reserved("If", "if");
export const Then = reserved("Then", "then");
export const Else = reserved("Else", "else");
export const Where = reserved("Where", "where");
export const Find = reserved("Find", "find");
export const From = reserved("From", "from");
export const So = reserved("So", "so");
export const That = reserved("That", "that");
export const True = reserved("True", "true");
export const False = reserved("False", "false");
export const Blank = reserved("Blank", "blank");

export const Try = clause("Try", "try");
export const Ask = clause("Ask", "ask");
export const Wait = clause("Wait", "wait");
export const Expect = clause("Expect", "expect");
export const By = clause("By", "by");
export const For = clause("For", "for");
export const MarkAt = clause("MarkAt", "mark");

export const Bars = style("Bars", "bars");
export const Line = style("Line", "line");
export const Dots = style("Dots", "dots");
export const Curve = style("Curve", "curve");

export const Name = custom("Name", { label: "a name", starts: [...LETTERS, "`"], match: matchName });

export const Spread = symbol("Spread", /±|\+-/, "`±`", "±+");
export const Plus = symbol("Plus", "+", "`+`");
export const Minus = symbol("Minus", /[-−]/, "`-`", "-−");
export const Times = symbol("Times", /[*×·]/, "`*`", "*×·");
export const Over = symbol("Over", /[/÷]/, "`/`", "/÷");
export const Power = symbol("Power", "^", "`^`");
export const Order = symbol("Order", /<=|>=|[<>≤≥]/, "`<`, `<=`, `>` or `>=`", "<>≤≥");
export const Unequal = symbol("Unequal", "≠", "`is not`");
export const Equals = symbol("Equals", "=", "`=`");
export const OpenBracket = symbol("OpenBracket", "(", "`(`");
export const CloseBracket = symbol("CloseBracket", ")", "`)`");
export const OpenSquare = symbol("OpenSquare", "[", "`[`");
export const CloseSquare = symbol("CloseSquare", "]", "`]`");
export const Comma = symbol("Comma", ",", "`,`");
export const Colon = symbol("Colon", ":", "`:`");
export const Dot = symbol("Dot", ".", "`.`");

const OddOperator = custom("OddOperator", {
  label: "a fault",
  starts: [..."=!<>*&|-:;"],
  match: matchOddOperator,
});
const LeadingPoint = custom("LeadingPoint", {
  label: "a fault",
  starts: ["."],
  match: matchLeadingPoint((tokens) => {
    const type = previous(tokens)?.tokenType;
    return endsOperand(tokens) && type !== NumberWord && type !== Unit;
  }),
});
const Fault = custom("Fault", { label: "a fault", starts: ANYTHING, match: matchFault });

/** Tokens whose payload is a worded fault. */
export const FAULTS: ReadonlySet<TokenType> = new Set([OddOperator, LeadingPoint, Fault]);

/** Tokens behind which an operand is whole. */
export const OPERAND_ENDS: ReadonlySet<TokenType> = new Set([
  Name,
  Part,
  Unit,
  NumberWord,
  DateWord,
  Text,
  CloseBracket,
  CloseSquare,
  True,
  False,
  Blank,
  Mark,
]);

/** Tokens with which an operand begins. */
export const OPERAND_STARTS: ReadonlySet<TokenType> = new Set([
  Name,
  NumberWord,
  DateWord,
  Text,
  OpenBracket,
  OpenSquare,
  True,
  False,
  Blank,
]);

/** The reserved words' tokens. */
export const RESERVED_TYPES: readonly TokenType[] = [
  And,
  Or,
  Not,
  Is,
  In,
  Within,
  To,
  Step,
  If,
  Then,
  Else,
  Where,
  Find,
  From,
  So,
  That,
  True,
  False,
  Blank,
];
export const CLAUSE_TYPES: readonly TokenType[] = [Try, Ask, Wait, Expect, By, For, MarkAt];
export const STYLE_TYPES: readonly TokenType[] = [Bars, Line, Dots, Curve];
export const HEAD_TYPES: readonly TokenType[] = [
  LanguageHead,
  BookHead,
  AboutHead,
  PartHead,
  SetHead,
  DefineHead,
  TableHead,
  ColumnHead,
  FootHead,
  CheckHead,
  ChartHead,
  StepHead,
  SeenHead,
];

/** In the order in which they are tried, as the specification lists them. */
const FORMULA: readonly TokenType[] = [
  Part,
  Label,
  Unit,
  DateWord,
  NumberWord,
  Text,
  Mark,
  ...RESERVED_TYPES,
  ...CLAUSE_TYPES,
  ...STYLE_TYPES,
  Name,
  OddOperator,
  LeadingPoint,
  Spread,
  Plus,
  Minus,
  Times,
  Over,
  Power,
  Order,
  Unequal,
  Equals,
  OpenBracket,
  CloseBracket,
  OpenSquare,
  CloseSquare,
  Comma,
  Colon,
  Dot,
  Fault,
];

/**
 * The three ways of lexing: a statement from its first word on, a formula by itself (with comments), and a formula
 * inside braces or a cell, where `#` is no comment.
 */
export const LEXER_DEFINITION = {
  defaultMode: "formula",
  modes: {
    statement: [Blanks, ...HEAD_TYPES, Fault],
    formula: [Blanks, Comment, ...FORMULA],
    inner: [Blanks, ...FORMULA],
  },
};

/** Every token that the parser can meet. */
export const VOCABULARY: readonly TokenType[] = [...HEAD_TYPES, ...FORMULA];
