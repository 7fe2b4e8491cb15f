import { EOF, type TokenType } from "chevrotain";
import { endOf } from "./lexer";
import { certainly, fault, perhaps, quoted, spanOf } from "./messages";
import { spanAt } from "./nodes";
import { before, endsBracket, isKept, met, place, type Stop, stands, VALUE_HELP } from "./stops";
import * as t from "./tokens";
import type { SyntaxMessage } from "./tree";

/** Faults in which something is missing: what was expected, and what a whole one looks like. */

const SHAPES: Readonly<Record<string, string>> = {
  languageLine: "`language 1`",
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
export function statementShape(stop: Stop): SyntaxMessage | undefined {
  const shape = stop.rule === "titleLine" ? `\`${stop.tokens[0]!.image} "Title"\`` : SHAPES[stop.rule];
  if (stop.wanted === EOF || shape === undefined) return undefined;
  const help = `The whole looks like ${shape}.`;
  const token = met(stop);
  const span = place(stop);
  const wantsName = stop.wanted === t.Name || (stop.wanted === undefined && stop.rule === "defineLine");
  if (wantsName && token !== undefined && isKept(token))
    return fault("name-reserved", span, `${quoted(token.image)} is a word of the language.`, {
      help: "As a name it takes backticks.",
      fixes: [certainly(span, `\`${token.image}\``)],
    });
  const several = stop.wanted === t.Equals ? severalWords(stop) : undefined;
  if (several !== undefined) return several;
  const behind = quoted(before(stop)!.image);
  const wanted =
    stop.wanted === t.Text
      ? "a text in quotes"
      : (stop.wanted?.LABEL ?? (wantsName ? "a parameter's name" : "`bars`, `line`, `dots` or `curve`"));
  const joint = spanOf(endOf(before(stop)!), endOf(before(stop)!));
  const fixes =
    stop.rule === "chartLine" && stop.wanted === t.Colon ? [certainly(joint, " :", "Write a colon")] : [];
  return fault("statement-shape", span, `Behind ${behind} ${wanted} is expected, but ${stands(stop)}.`, {
    help,
    fixes,
  });
}

const IN_NAMES: ReadonlySet<TokenType> = new Set([t.Name, t.Minus, t.NumberWord, t.Unit, t.Dot, t.Part]);

/** `set lemon peel = 3`, `set lemon-peel = 3`. */
function severalWords(stop: Stop): SyntaxMessage | undefined {
  const equals = stop.tokens.findIndex((one) => one.tokenType === t.Equals);
  const words = stop.tokens.slice(1, equals);
  const [first] = words;
  if (equals < 3 || first === undefined || stop.index < 2) return undefined;
  if (!words.every((one) => IN_NAMES.has(one.tokenType) && !one.image.startsWith("`"))) return undefined;
  const span = spanOf(first.startOffset, endOf(words.at(-1)!));
  const spelt = stop.text.slice(span.from - stop.base, span.to - stop.base);
  const joined = words
    .map((one) => (/^[.-]$/.test(one.image) ? "" : one.image))
    .join("_")
    .replace(/_+/g, "_");
  return fault("name-spaced", span, `${quoted(spelt)} is no single word.`, {
    help: "A name with blanks or signs in it stands in backticks.",
    fixes: [certainly(span, `\`${spelt}\``), perhaps(span, joined)],
  });
}

/** Inside the fixed words of `find`. */
export function searchWanted(stop: Stop): SyntaxMessage | undefined {
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

export function unitWanted(stop: Stop): SyntaxMessage | undefined {
  if (stop.wanted !== t.Unit) return undefined;
  return fault("unit-expected", place(stop), `Behind \`in\` a unit is expected, but ${stands(stop)}.`, {
    help: "Name the unit in which the value is shown, such as `in mL`.",
  });
}

export function partWanted(stop: Stop): SyntaxMessage | undefined {
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

export function wordWanted(stop: Stop): SyntaxMessage | undefined {
  const { wanted } = stop;
  if (wanted === undefined || wanted === EOF || wanted === t.Name) return undefined;
  const last = before(stop)!;
  if (endsBracket(wanted) && !t.OPERAND_ENDS.has(last.tokenType)) return undefined;
  const help = WORD_HELP[stop.rule];
  return fault(
    "word-expected",
    place(stop),
    `Behind ${quoted(last.image)} ${wanted.LABEL} is expected, but ${stands(stop)}.`,
    help === undefined ? {} : { help },
  );
}

export function valueWanted(stop: Stop): SyntaxMessage {
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
