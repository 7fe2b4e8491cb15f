import type { IParserErrorMessageProvider, IToken, TokenType } from "chevrotain";
import { EOF } from "chevrotain";
import { endOf, nameOf } from "./lexer";
import { certainly, fault, perhaps, quoted, spanOf } from "./messages";
import * as t from "./tokens";
import type { Span, SyntaxMessage } from "./tree";

/**
 * What the parser met and what it expected, in the words of a cook. chevrotain asks four methods for a text; each
 * builds a whole message here, with its place and its fixes, and `take` hands it over.
 */

/** Where the parser stopped. */
interface Stop {
  readonly text: string;
  /** Place of the text's first character, in the counting of the tokens. */
  readonly base: number;
  readonly tokens: readonly IToken[];
  /** Index of the token that did not fit; the count of tokens at the end. */
  readonly index: number;
  /** The one token that would have fitted, when there was only one. */
  readonly wanted: TokenType | undefined;
  /** Name of the rule that stopped. */
  readonly rule: string;
}

export class Expectations implements IParserErrorMessageProvider {
  private text = "";
  private base = 0;
  private tokens: readonly IToken[] = [];
  private message: SyntaxMessage | undefined;

  /** Tells which tokens the parser is about to read; their places count from `base` before the text. */
  begin(text: string, base: number, tokens: readonly IToken[]): void {
    this.text = text;
    this.base = base;
    this.tokens = tokens;
    this.message = undefined;
  }

  /** The message that the last reading left, if any. */
  take(): SyntaxMessage | undefined {
    return this.message;
  }

  buildMismatchTokenMessage(stop: { expected: TokenType; actual: IToken; ruleName: string }): string {
    return this.tell(stop.actual, stop.expected, stop.ruleName);
  }
  buildNotAllInputParsedMessage(stop: { firstRedundant: IToken; ruleName: string }): string {
    return this.tell(stop.firstRedundant, EOF, stop.ruleName);
  }
  buildNoViableAltMessage(stop: { actual: IToken[]; ruleName: string }): string {
    return this.tell(stop.actual[0]!, undefined, stop.ruleName);
  }
  buildEarlyExitMessage(stop: { actual: IToken[]; ruleName: string }): string {
    return this.tell(stop.actual[0]!, undefined, stop.ruleName);
  }

  private tell(met: IToken, wanted: TokenType | undefined, rule: string): string {
    const found = met.tokenType === EOF ? -1 : this.tokens.indexOf(met);
    const tokens = this.tokens.filter((token) => token.tokenType !== EOF);
    const index = found < 0 ? tokens.length : found;
    this.message = explain({ text: this.text, base: this.base, tokens, index, wanted, rule });
    return this.message.says;
  }
}

function spanAt(token: IToken): Span {
  return spanOf(token.startOffset, endOf(token));
}

/** The first explanation that fits. */
function explain(stop: Stop): SyntaxMessage {
  return (
    statementShape(stop) ??
    bracketLeftOpen(stop) ??
    strayClosing(stop) ??
    misplacedLabel(stop) ??
    searchWanted(stop) ??
    reservedAsName(stop) ??
    secondComparison(stop) ??
    behindShown(stop) ??
    secondTime(stop) ??
    equalsInFormula(stop) ??
    sideBySide(stop) ??
    misplacedClause(stop) ??
    unitWanted(stop) ??
    partWanted(stop) ??
    wordWanted(stop) ??
    valueWanted(stop)
  );
}

const met = (stop: Stop): IToken | undefined => stop.tokens[stop.index];
const before = (stop: Stop): IToken | undefined => stop.tokens[stop.index - 1];

/** The place of the message: the token that did not fit, or the point behind the last one. */
function place(stop: Stop): Span {
  const token = met(stop);
  if (token !== undefined) return spanAt(token);
  const last = before(stop);
  const end = last === undefined ? 0 : endOf(last);
  return spanOf(end, end);
}

/** What stands there, for the end of a sentence: "`*` stands here", "nothing follows". */
function stands(stop: Stop): string {
  const token = met(stop);
  return token === undefined ? "nothing follows" : `${quoted(token.image)} stands here`;
}

const SHAPES: Readonly<Record<string, string>> = {
  languageLine: "`language 1`",
  titleLine: '`book "Title"`',
  setLine: "`set name = formula`",
  defineLine: "`define name(a, b) = formula`",
  tableLine: '`table name "Title"`',
  columnLine: "`column name = formula`",
  chartLine: '`chart "Title" : bars what by name`',
  drawing: '`chart "Title" : bars what by name`',
  curve: '`chart "Title" : curve what for x from 1 to 2`',
  stepLine: '`step "What to do."`',
  seenLine: "`seen name @2ffcfed6`",
};

/** Faults in the fixed part of a statement: what it looks like is the best help. */
function statementShape(stop: Stop): SyntaxMessage | undefined {
  const shape = SHAPES[stop.rule];
  if (shape === undefined || stop.wanted === EOF) return undefined;
  const head = stop.tokens[0]!;
  const token = met(stop);
  const span = place(stop);
  const name = stop.tokens[1];
  if (stop.wanted === t.Name && token !== undefined && isKept(token))
    return fault("name-reserved", span, `${quoted(token.image)} is a word of the language.`, {
      help: "As a name it takes backticks.",
      fixes: [certainly(span, `\`${token.image}\``)],
    });
  if (
    stop.wanted === t.Equals &&
    stop.index >= 2 &&
    token?.tokenType === t.Name &&
    name?.tokenType === t.Name
  ) {
    const equals = stop.tokens.findIndex((one) => one.tokenType === t.Equals);
    const words = equals < 0 ? [] : stop.tokens.slice(1, equals);
    if (words.length > 0 && words.every((one) => /^[\p{L}\p{Nd}_]+$/u.test(one.image))) {
      const whole = spanOf(name.startOffset, endOf(words[words.length - 1]!));
      const spaced = words.map((one) => one.image).join(" ");
      return fault("name-spaced", whole, `${quoted(spaced)} is several words.`, {
        help: "A name of several words stands in backticks.",
        fixes: [certainly(whole, `\`${spaced}\``), perhaps(whole, words.map((one) => one.image).join("_"))],
      });
    }
  }
  if (stop.rule === "titleLine" || stop.rule === "stepLine" || stop.rule === "chartLine")
    if (stop.wanted === t.Text)
      return fault(
        "statement-shape",
        span,
        `Behind \`${head.image}\` a text in quotes is expected, but ${stands(stop)}.`,
        {
          help: `The whole looks like ${shape}.`,
        },
      );
  const wanted = stop.wanted?.LABEL ?? "`bars`, `line`, `dots` or `curve`";
  const last = before(stop)!;
  return fault(
    "statement-shape",
    span,
    `Behind ${quoted(last.image)} ${wanted} is expected, but ${stands(stop)}.`,
    {
      help: `The whole looks like ${shape}.`,
    },
  );
}

/** Index of the bracket that is still open before `index`, or -1. */
function openBracketBefore(tokens: readonly IToken[], index: number): number {
  const open: number[] = [];
  for (let i = 0; i < index; i++) {
    const type = tokens[i]!.tokenType;
    if (type === t.OpenBracket || type === t.OpenSquare) open.push(i);
    else if (type === t.CloseBracket || type === t.CloseSquare) open.pop();
  }
  return open.at(-1) ?? -1;
}

const endsBracket = (type: TokenType): boolean => type === t.CloseBracket || type === t.CloseSquare;

function bracketLeftOpen(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  const at = openBracketBefore(stop.tokens, stop.index);
  const last = before(stop);
  if (at < 0 || last === undefined || !t.OPERAND_ENDS.has(last.tokenType)) return undefined;
  const open = stop.tokens[at]!;
  const close = open.tokenType === t.OpenBracket ? ")" : "]";
  if (token === undefined)
    return fault("bracket-open", spanAt(open), `The \`${open.image}\` is not closed.`, {
      help: `Each \`${open.image}\` needs its \`${close}\`.`,
      fixes: [perhaps(spanOf(endOf(last), endOf(last)), close, `Close it with ${close}`)],
    });
  if (endsBracket(token.tokenType))
    return fault(
      "bracket-other",
      spanAt(token),
      `\`${token.image}\` stands where \`${close}\` closes the \`${open.image}\`.`,
      {
        help: "Brackets close in the order in which they were opened.",
        fixes: [
          perhaps(spanAt(token), close),
          perhaps(spanOf(token.startOffset, token.startOffset), close, `Put ${close} before it`),
        ],
      },
    );
  return undefined;
}

function strayClosing(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  if (token === undefined || !endsBracket(token.tokenType)) return undefined;
  const last = before(stop);
  if (openBracketBefore(stop.tokens, stop.index) < 0)
    return fault("bracket-stray", spanAt(token), `This \`${token.image}\` closes nothing.`, {
      help: "Take it out, or put in the bracket that opens.",
      fixes: [perhaps(spanAt(token), "", "Take it out")],
    });
  if (last?.tokenType === t.OpenBracket)
    return fault(
      "bracket-empty",
      spanOf(last.startOffset, endOf(token)),
      "There is nothing between these brackets.",
      {
        help: "A value is expected there.",
      },
    );
  return fault(
    "value-missing",
    spanAt(token),
    `Between ${quoted(last?.image ?? "")} and \`${token.image}\` a value is missing.`,
    {
      help: VALUE_HELP,
    },
  );
}

const KEPT: ReadonlySet<TokenType> = new Set(t.RESERVED_TYPES);
const isKept = (token: IToken): boolean => KEPT.has(token.tokenType);

function reservedAsName(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  if (token === undefined || !isKept(token)) return undefined;
  const next = stop.tokens[stop.index + 1]?.tokenType;
  if (token.tokenType === t.In && next === t.Unit) return undefined;
  const asName =
    stop.wanted === t.Name || (wantsValue(stop) && (next === undefined || !t.OPERAND_STARTS.has(next)));
  if (!asName) return undefined;
  return fault(
    "name-reserved",
    spanAt(token),
    `${quoted(token.image)} is a word of the language, and a value is expected here.`,
    {
      help: "As a name it takes backticks.",
      fixes: [perhaps(spanAt(token), `\`${token.image}\``)],
    },
  );
}

const ORDER_TYPES: ReadonlySet<TokenType> = new Set([t.Order, t.Is, t.Unequal, t.Within]);
const LOOSER: ReadonlySet<TokenType> = new Set([
  ...[
    t.And,
    t.Or,
    t.Not,
    t.If,
    t.Then,
    t.Else,
    t.Where,
    t.To,
    t.Step,
    t.So,
    t.That,
    t.Comma,
    t.Colon,
    t.Equals,
  ],
  ...t.CLAUSE_TYPES,
  ...t.STYLE_TYPES,
  ...t.HEAD_TYPES,
]);

/** `1 < x < 3`. */
function secondComparison(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  if (token === undefined || !ORDER_TYPES.has(token.tokenType)) return undefined;
  const first = sideOf(stop.tokens, stop.index - 1, -1);
  const operator = stop.tokens[first - 1];
  if (operator === undefined || !ORDER_TYPES.has(operator.tokenType)) return undefined;
  const left = sideOf(stop.tokens, first - 2, -1);
  const right = sideOf(stop.tokens, stop.index + 1, 1);
  if (left > first - 2 || right < stop.index + 1) return undefined;
  const words = (from: number, to: number): string =>
    stop.text.slice(stop.tokens[from]!.startOffset - stop.base, endOf(stop.tokens[to]!) - stop.base);
  const span = spanOf(stop.tokens[left]!.startOffset, endOf(stop.tokens[right]!));
  const [a, x, b] = [words(left, first - 2), words(first, stop.index - 1), words(stop.index + 1, right)];
  const rising = /^[<≤]/.test(operator.image) && /^[<≤]/.test(token.image);
  const falling = /^[>≥]/.test(operator.image) && /^[>≥]/.test(token.image);
  const range = rising ? `${x} within ${a} to ${b}` : falling ? `${x} within ${b} to ${a}` : undefined;
  const both = `${a} ${operator.image} ${x} and ${x} ${token.image} ${b}`;
  return fault("comparison-chained", spanAt(token), "A comparison has two sides, and this is a third.", {
    help: range === undefined ? `Write \`${both}\`.` : `Write \`${range}\`.`,
    fixes: range === undefined ? [perhaps(span, both)] : [perhaps(span, range), perhaps(span, both)],
  });
}

/** Index of the last token, going from `at` in steps of `by`, that belongs to one side of a comparison. */
function sideOf(tokens: readonly IToken[], at: number, by: 1 | -1): number {
  let depth = 0;
  let end = at - by;
  for (let i = at; i >= 0 && i < tokens.length; i += by) {
    const type = tokens[i]!.tokenType;
    const opens = by > 0 ? type === t.OpenBracket || type === t.OpenSquare : endsBracket(type);
    const closes = by > 0 ? endsBracket(type) : type === t.OpenBracket || type === t.OpenSquare;
    if (opens) depth++;
    else if (closes && --depth < 0) break;
    else if (depth === 0 && (LOOSER.has(type) || ORDER_TYPES.has(type))) break;
    end = i;
  }
  return end;
}

function equalsInFormula(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  if (token?.tokenType !== t.Equals) return undefined;
  return fault("equals-inside", spanAt(token), "`=` gives a name its formula, and this is inside one.", {
    help: "Two values are compared with `is`; an argument's label ends with `:`.",
    fixes: [perhaps(spanAt(token), "is")],
  });
}

/** Two operands and nothing between them. */
function sideBySide(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  const last = before(stop);
  if (token === undefined || last === undefined) return undefined;
  if (!t.OPERAND_ENDS.has(last.tokenType) || !t.OPERAND_STARTS.has(token.tokenType)) return undefined;
  const gap = spanOf(endOf(last), token.startOffset);
  const number = last.tokenType === t.Unit ? stop.tokens[stop.index - 2] : undefined;
  const both = spanOf((number ?? last).startOffset, endOf(token));
  const isText = last.tokenType === t.Text || token.tokenType === t.Text;
  const multiply = isText ? [] : [perhaps(gap, " * ", "Multiply with *")];
  if (token.tokenType === t.Name && endsBracket(last.tokenType))
    return fault(
      "unit-behind-bracket",
      spanAt(token),
      `A unit cannot stand behind a bracket, and ${quoted(token.image)} is no operator.`,
      {
        help: `To show the value in a unit write \`in ${token.image}\`; to give a plain number a unit, \`* 1 ${token.image}\`; to multiply, \`* ${token.image}\`.`,
        fixes: [perhaps(gap, " in "), perhaps(gap, " * 1 "), ...multiply],
      },
    );
  if (token.tokenType === t.OpenBracket)
    return fault(
      "operator-missing",
      both,
      `Between ${quoted(last.image)} and \`(\` an operator is missing.`,
      {
        help: "To multiply, write `*`; nothing multiplies by standing side by side.",
        fixes: multiply,
      },
    );
  if (last.tokenType === t.Name && token.tokenType === t.Name) {
    const spaced = `\`${nameOf(last)} ${nameOf(token)}\``;
    return fault(
      "operator-missing",
      both,
      `Between ${quoted(last.image)} and ${quoted(token.image)} an operator is missing.`,
      {
        help: `If the two words are one name, it stands in backticks: ${spaced}.`,
        fixes: [perhaps(both, spaced), ...multiply],
      },
    );
  }
  const listed = openBracketBefore(stop.tokens, stop.index) >= 0;
  return fault(
    "operator-missing",
    both,
    `Between ${quoted(last.image)} and ${quoted(token.image)} an operator is missing.`,
    {
      help: listed
        ? "Put an operator or a comma between them."
        : "Put an operator such as `+` or `*` between them.",
      fixes: listed ? [perhaps(gap, ", ", "Put a comma between"), ...multiply] : multiply,
    },
  );
}

function misplacedLabel(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  const next = stop.tokens[stop.index + 1]?.tokenType;
  if (token === undefined) return undefined;
  const isLabel = token.tokenType === t.Label || (isKept(token) && next === t.Colon);
  if (!isLabel && token.tokenType !== t.Colon) return undefined;
  return fault(
    "label-misplaced",
    spanAt(token),
    "A label such as `to:` stands only before an argument of a function.",
    {
      help: isLabel
        ? "Take the label out."
        : "Take the colon out, or put the label directly behind `(` or `,` of the call.",
    },
  );
}

/** Inside the fixed words of `find`. */
function searchWanted(stop: Stop): SyntaxMessage | undefined {
  const { rule, wanted } = stop;
  if (
    rule !== "find" ||
    wanted === undefined ||
    (wanted !== t.Name && wanted !== t.From && wanted !== t.That)
  )
    return undefined;
  const last = before(stop)!;
  const token = met(stop);
  if (wanted === t.Name && token !== undefined && isKept(token)) return undefined;
  return fault(
    "word-expected",
    place(stop),
    `Behind ${quoted(last.image)} ${wanted.LABEL} is expected, but ${stands(stop)}.`,
    {
      help: WORD_HELP.find!,
    },
  );
}

const ARITHMETIC: ReadonlySet<TokenType> = new Set([t.Plus, t.Minus, t.Times, t.Over, t.Power, t.Spread]);

/** `a in mL + 3`, `a in mL in L`. */
function behindShown(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  const unit = before(stop);
  const at = stop.index - 2;
  if (token === undefined || unit?.tokenType !== t.Unit || stop.tokens[at]?.tokenType !== t.In)
    return undefined;
  if (token.tokenType === t.In)
    return fault("unit-twice", spanAt(token), "A value is shown in one unit, and this is a second.", {
      help: "Take one of the two out.",
    });
  if (!ARITHMETIC.has(token.tokenType)) return undefined;
  const first = stop.tokens[sideOf(stop.tokens, at - 1, -1)];
  const whole =
    first === undefined
      ? []
      : [spanOf(first.startOffset, first.startOffset), spanOf(endOf(unit), endOf(unit))];
  const edits = whole.map((span, i) => ({ span, text: i === 0 ? "(" : ")" }));
  return fault(
    "unit-shown",
    spanAt(token),
    `Behind \`in ${unit.image}\` the value is whole, so ${quoted(token.image)} cannot follow.`,
    {
      help: "Show the result in the unit at the end, or put the value with its unit in brackets.",
      fixes: [{ says: "Put brackets around it", certain: false, edits }],
    },
  );
}

/** A second `where` or `to` where one belongs. */
function secondTime(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  if (token === undefined || stop.wanted === undefined) return undefined;
  if (token.tokenType === t.Where)
    return fault("where-twice", spanAt(token), "`where` stands once in a formula.", {
      help: "Join two conditions with `and`, or put the first list in brackets.",
    });
  if (token.tokenType === t.Step && stop.wanted === EOF)
    return fault("step-alone", spanAt(token), "`step` stands only behind `to`.", {
      help: "A range is `1 to 10 step 2`.",
    });
  if (token.tokenType === t.To && stop.wanted === EOF)
    return fault("to-twice", spanAt(token), "A range has one start and one end.", {
      help: "A range is `1 to 10 step 2`; a label such as `to:` has its colon.",
    });
  return undefined;
}

const CLAUSE_SET: ReadonlySet<TokenType> = new Set(t.CLAUSE_TYPES);
const CLAUSE_HOMES: Readonly<Record<string, string>> = {
  try: "behind the formula of a `set`",
  ask: "in a `step`",
  wait: "in a `step`",
  expect: "behind `ask` in a `step`",
  by: "in a `chart`",
  for: "in a `curve` chart",
  mark: "in a `curve` chart",
};

function misplacedClause(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  if (token === undefined || !CLAUSE_SET.has(token.tokenType) || stop.wanted !== EOF) return undefined;
  return fault(
    "clause-misplaced",
    spanAt(token),
    `${quoted(token.image)} stands only ${CLAUSE_HOMES[token.image]}.`,
    {
      help: "An operator is missing here if it is meant as a name.",
    },
  );
}

function unitWanted(stop: Stop): SyntaxMessage | undefined {
  if (stop.wanted !== t.Unit) return undefined;
  return fault("unit-expected", place(stop), `Behind \`in\` a unit is expected, but ${stands(stop)}.`, {
    help: "Name the unit in which the value is shown, such as `in mL`.",
  });
}

function partWanted(stop: Stop): SyntaxMessage | undefined {
  if (stop.wanted !== t.Part) return undefined;
  return fault("part-expected", place(stop), `Behind the dot a name is expected, but ${stands(stop)}.`, {
    help: "A dot leads to a column, a row or a part: `stills.juniper.volume`.",
  });
}

const WORD_HELP: Readonly<Record<string, string>> = {
  choice: "A choice is `if condition then one else other`, and the `else` is required.",
  find: "A search is `find x from 1 to 2 so that x^2 is 2`.",
  compared: "A span is `x within 1 to 3`.",
  curve: "A curve is `curve f(x) for x from 1 to 2`.",
  drawing: "A chart names what is drawn, then `by` what: `bars stills.cost by stills.item`.",
};

function wordWanted(stop: Stop): SyntaxMessage | undefined {
  if (stop.wanted !== undefined && endsBracket(stop.wanted) && !t.OPERAND_ENDS.has(before(stop)!.tokenType))
    return undefined;
  if (stop.wanted === undefined || stop.wanted === EOF || stop.wanted === t.Name) return undefined;
  const last = before(stop);
  const behind = last === undefined ? "Here" : `Behind ${quoted(last.image)}`;
  const help = WORD_HELP[stop.rule];
  return fault(
    "word-expected",
    place(stop),
    `${behind} ${stop.wanted.LABEL ?? stop.wanted.name} is expected, but ${stands(stop)}.`,
    help === undefined ? {} : { help },
  );
}

const VALUE_HELP = "A value is a number, a name, a text, or a formula in brackets.";
const wantsValue = (stop: Stop): boolean => stop.wanted === undefined;

function valueWanted(stop: Stop): SyntaxMessage {
  const token = met(stop);
  const last = before(stop);
  if (stop.wanted === EOF && token !== undefined)
    return fault("formula-ended", spanAt(token), `The formula is whole before ${quoted(token.image)}.`, {
      help: "Take out what stands behind it, or join it with an operator.",
    });
  if (last === undefined && token === undefined)
    return fault("formula-empty", spanOf(0, 0), "There is no formula here.", { help: VALUE_HELP });
  const behind = last === undefined ? "At the start" : `Behind ${quoted(last.image)}`;
  return fault("value-missing", place(stop), `${behind} a value is expected, but ${stands(stop)}.`, {
    help: VALUE_HELP,
  });
}
