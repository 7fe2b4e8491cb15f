import { EOF, type IToken, type TokenType } from "chevrotain";
import { endOf, nameOf } from "./lexer";
import { certainly, fault, perhaps, quoted, spanOf } from "./messages";
import { spanAt } from "./nodes";
import { dateFault, daysInWords } from "./odd-numbers";
import {
  before,
  endsBracket,
  isKept,
  met,
  ORDER_TYPES,
  openBracketBefore,
  type Stop,
  sideOf,
  VALUE_HELP,
  wantsValue,
} from "./stops";
import * as t from "./tokens";
import type { SyntaxMessage } from "./tree";

/** Faults in which something stands where it does not belong. Each answers only when it fits. */

export function bracketLeftOpen(stop: Stop): SyntaxMessage | undefined {
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
  if (endsBracket(token.tokenType) && token.image !== close)
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

export function strayClosing(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  if (token === undefined || !endsBracket(token.tokenType)) return undefined;
  if (openBracketBefore(stop.tokens, stop.index) < 0)
    return fault("bracket-stray", spanAt(token), `This \`${token.image}\` closes nothing.`, {
      help: "Take it out, or put in the bracket that opens.",
      fixes: [perhaps(spanAt(token), "", "Take it out")],
    });
  const last = before(stop)!;
  if (last.tokenType === t.OpenBracket)
    return fault(
      "bracket-empty",
      spanOf(last.startOffset, endOf(token)),
      "There is nothing between these brackets.",
      {
        help: "A value is expected there.",
      },
    );
  // A word or a unit that must come first has a message of its own.
  if (stop.wanted !== undefined && !endsBracket(stop.wanted)) return undefined;
  return fault(
    "value-missing",
    spanAt(token),
    `Between ${quoted(last.image)} and \`${token.image}\` a value is missing.`,
    {
      help: VALUE_HELP,
    },
  );
}

export function reservedAsName(stop: Stop): SyntaxMessage | undefined {
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

/** `1 < x < 3`. */
export function secondComparison(stop: Stop): SyntaxMessage | undefined {
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

export function equalsInFormula(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  if (token?.tokenType !== t.Equals) return undefined;
  return fault("equals-inside", spanAt(token), "`=` gives a name its formula, and this is inside one.", {
    help: "Two values are compared with `is`; an argument's label ends with `:`.",
    fixes: [perhaps(spanAt(token), "is")],
  });
}

const TITLED: ReadonlySet<TokenType> = new Set([
  t.BookHead,
  t.AboutHead,
  t.PartHead,
  t.TableHead,
  t.SeenHead,
]);

/** What stands behind the last piece of a statement. */
function behindStatement(stop: Stop, last: IToken, token: IToken): SyntaxMessage | undefined {
  const head = stop.tokens[0]!.tokenType;
  if (head === t.CheckHead && token.tokenType === t.Text) {
    const gap = spanOf(endOf(last), token.startOffset);
    return fault("colon-missing", spanAt(token), `A \`:\` is missing before ${quoted(token.image)}.`, {
      help: 'A check is `check formula : "what it means"`.',
      fixes: [certainly(gap, " : ", "Write a colon")],
    });
  }
  if (last.tokenType === t.Mark)
    return fault(
      "statement-ended",
      spanAt(token),
      `Behind the mark a text in quotes may stand, and ${quoted(token.image)} is none.`,
    );
  if (last.tokenType !== t.Text || stop.wanted !== EOF) return undefined;
  if (TITLED.has(head))
    return fault(
      "statement-ended",
      spanAt(token),
      `Behind ${quoted(last.image)} the statement is whole, and ${quoted(token.image)} has no place.`,
      {
        help: "A comment begins with `#`.",
      },
    );
  if (head === t.StepHead && stop.index === 2)
    return fault(
      "statement-ended",
      spanAt(token),
      `Behind the text of a step stand only \`wait\` and \`ask\`, not ${quoted(token.image)}.`,
      {
        help: "A comment begins with `#`.",
      },
    );
  return undefined;
}

const OPERATOR_WORDS: ReadonlyMap<string, string> = new Map([
  ["plus", "+"],
  ["minus", "-"],
  ["times", "*"],
]);

/** `a minus 3`, `minus 3` and `5 times 3`: a word for an operator, which is a sign here. */
function operatorWord(last: IToken, token: IToken): SyntaxMessage | undefined {
  const word = [last, token].find(
    (one) => (one.tokenType === t.Name || one.tokenType === t.Unit) && OPERATOR_WORDS.has(one.image),
  );
  if (word === undefined) return undefined;
  const sign = OPERATOR_WORDS.get(word.image)!;
  return fault("operator-word", spanAt(word), `The word \`${word.image}\` is no operator here.`, {
    help: `It is written \`${sign}\`.`,
    fixes: [perhaps(spanAt(word), sign, `Write ${sign}`)],
  });
}

/** Two operands and nothing between them. */
export function sideBySide(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  const last = before(stop);
  if (token === undefined || last === undefined) return undefined;
  if (!t.OPERAND_ENDS.has(last.tokenType) || !t.OPERAND_STARTS.has(token.tokenType)) return undefined;
  const ended = behindStatement(stop, last, token);
  if (ended !== undefined) return ended;
  const gap = spanOf(endOf(last), token.startOffset);
  const number = last.tokenType === t.Unit ? stop.tokens[stop.index - 2] : undefined;
  const both = spanOf((number ?? last).startOffset, endOf(token));
  const written = stop.text.slice(both.from - stop.base, both.to - stop.base);
  const days = daysInWords(written);
  if (days !== undefined) return dateFault(written, both.from, days).message;
  const word = operatorWord(last, token);
  if (word !== undefined) return word;
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

export function misplacedLabel(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  const next = stop.tokens[stop.index + 1]?.tokenType;
  if (token === undefined) return undefined;
  const isLabel = token.tokenType === t.Label || (isKept(token) && next === t.Colon);
  if (!isLabel && (token.tokenType !== t.Colon || wantsValue(stop))) return undefined;
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

const ARITHMETIC: ReadonlySet<TokenType> = new Set([t.Plus, t.Minus, t.Times, t.Over, t.Power, t.Spread]);

/** `a in mL + 3`, `a in mL in L`. */
export function behindShown(stop: Stop): SyntaxMessage | undefined {
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
export function secondTime(stop: Stop): SyntaxMessage | undefined {
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

export function misplacedClause(stop: Stop): SyntaxMessage | undefined {
  const token = met(stop);
  if (token === undefined || !CLAUSE_SET.has(token.tokenType) || stop.wanted !== EOF) return undefined;
  const says = `${quoted(token.image)} stands only ${CLAUSE_HOMES[token.image]}.`;
  const head = stop.tokens[0]!.tokenType;
  const meantAsName = head !== t.StepHead && head !== t.ChartHead;
  return fault(
    "clause-misplaced",
    spanAt(token),
    says,
    meantAsName ? { help: "If it is meant as a name, an operator is missing before it." } : {},
  );
}
