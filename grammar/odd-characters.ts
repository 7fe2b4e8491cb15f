import { certainly, perhaps, quoted, spanOf } from "./messages";
import { FRACTIONS, fractionAlone, matchAt, oddity, sticky } from "./odd-numbers";
import { endOfUnit, type Oddity } from "./scanning";
import { scanText, unseenFault } from "./texts";
import type { Span, SyntaxMessage } from "./tree";
import { codePointName, findUnseen, isDigitCode, normal } from "./words";

/**
 * Operators and characters that are faults on purpose: typed out of habit from elsewhere, put in by a tablet, or not
 * to be seen. Each says what was met, and offers what was probably meant.
 */

const OPERATORS: readonly { readonly met: string; readonly meant: string; readonly says: string }[] = [
  { met: "===", meant: "is", says: "Two values are compared with `is`" },
  { met: "==", meant: "is", says: "Two values are compared with `is`" },
  { met: "!==", meant: "is not", says: "Two values are told apart with `is not`" },
  { met: "!=", meant: "is not", says: "Two values are told apart with `is not`" },
  { met: "<>", meant: "is not", says: "Two values are told apart with `is not`" },
  { met: "=>", meant: ">=", says: "At least is written `>=`" },
  { met: "=<", meant: "<=", says: "At most is written `<=`" },
  { met: "->", meant: "", says: "An arrow is not part of a formula" },
  { met: "**", meant: "^", says: "A power is written `^`" },
  { met: "&&", meant: "and", says: "Two conditions are joined with `and`" },
  { met: "&", meant: "and", says: "Two conditions are joined with `and`" },
  { met: "||", meant: "or", says: "Two conditions are joined with `or`" },
  { met: "!", meant: "not", says: "A condition is turned round with `not`" },
  { met: ":=", meant: "=", says: "A name is given its value with `=`" },
  { met: ";", meant: ",", says: "Arguments are set apart with `,`" },
];

export function operatorTrouble(text: string, at: number): Oddity | undefined {
  const odd = OPERATORS.find(({ met }) => text.startsWith(met, at));
  if (odd === undefined) return undefined;
  const { met, meant, says } = odd;
  const span = spanOf(at, at + met.length);
  if (meant === "")
    return oddity(met, at, "operator-other", `${quoted(met)} means nothing in a formula.`, "Take it out.", [
      perhaps(span, "", "Take it out"),
    ]);
  const spaced = /\w/.test(meant) ? padded(text, span, meant) : meant;
  return oddity(met, at, "operator-other", `${says}, not ${quoted(met)}.`, `Write \`${meant}\`.`, [
    certainly(span, spaced),
  ]);
}

/** A word in the place of an operator, with blanks where there are none. */
function padded(text: string, span: Span, word: string): string {
  const before = span.from > 0 && !/\s/.test(text[span.from - 1]!) ? " " : "";
  const after = span.to < text.length && !/\s/.test(text[span.to]!) ? " " : "";
  return before + word + after;
}

const CURRENCIES = new Map<string, readonly string[]>([
  ["€", ["EUR"]],
  ["£", ["GBP"]],
  ["$", ["USD", "CAD", "AUD", "NZD"]],
  ["¥", ["JPY", "CNY"]],
  ["₹", ["INR"]],
  ["₽", ["RUB"]],
  ["₩", ["KRW"]],
  ["₺", ["TRY"]],
  ["₴", ["UAH"]],
  ["₪", ["ILS"]],
  ["₫", ["VND"]],
  ["₦", ["NGN"]],
  ["₱", ["PHP"]],
  ["₡", ["CRC"]],
  ["₸", ["KZT"]],
  ["₾", ["GEL"]],
  ["฿", ["THB"]],
  ["₲", ["PYG"]],
  ["₵", ["GHS"]],
  ["₼", ["AZN"]],
  ["¢", []],
]);

/** Signs of full width are told by their plain form, which Unicode itself gives. */
const LOOKALIKES = new Map([
  ["–", "-"],
  ["—", "-"],
  ["‒", "-"],
  ["‐", "-"],
  ["‑", "-"],
  ["∗", "*"],
  ["⋅", "*"],
  ["•", "*"],
  ["✕", "*"],
  ["∕", "/"],
  ["⁄", "/"],
  ["≈", "is"],
  ["≡", "is"],
  ["℃", "°C"],
  ["℉", "°F"],
  ["²", "^2"],
  ["³", "^3"],
  ["√", "sqrt"],
]);

const MARK_LIKE = /^@[\p{L}\p{M}\p{Nd}_]*/u;
const CURLY_TEXT = /[“”„«‟]([^“”„«»‟"\n\r]*)(?:[“”»‟"]|(?=[\n\r]|$))/y;

/** The fault for the character at `at`, which no token begins with. */
export function characterTrouble(text: string, at: number): Oddity {
  const character = String.fromCodePoint(text.codePointAt(at)!);
  const span = spanOf(at, at + character.length);
  const unseen = findUnseen(text, at, at + 1);
  if (unseen !== undefined) return { length: 1, message: unseenFault(at, unseen.name) };
  if (character === '"') {
    const scanned = scanText(text, at);
    return scanned.trouble ?? { length: scanned.end - at, message: scanned.faults[0]! };
  }
  if (character === "`") return backtick(text, at);
  if ("“”„«‟".includes(character)) return curlyText(text, at);
  if ("‘’‚'".includes(character)) return singleQuotes(text, at);
  const codes = CURRENCIES.get(character);
  if (codes !== undefined) return currency(text, at, character, codes);
  if (FRACTIONS.has(character)) return fractionAlone(character, at);
  const plain = LOOKALIKES.get(character);
  if (plain !== undefined) return lookalike(text, span, character, plain);
  const unitEnd = endOfUnit(text, at);
  if (unitEnd > at) return unitAlone(text.slice(at, unitEnd), at);
  if (character === "{" || character === "}")
    return oddity(
      character,
      at,
      "brace-outside",
      `${quoted(character)} stands outside a text.`,
      "Braces hold a formula inside a text; a formula itself uses `(` and `)`.",
    );
  // A bar that is typed into a cell gets its backslash in writing; whoever typed it is told of the bar alone.
  if (text.startsWith("\\|", at))
    return oddity(
      "\\|",
      at,
      "bar-outside",
      "A `|` means nothing in a formula.",
      "A bar belongs to a text or to a name in backticks. Of two conditions, one or the other is `or`.",
    );
  if (character === "|")
    return oddity(
      character,
      at,
      "bar-outside",
      "A `|` stands outside a row.",
      "A row of a table begins with `|`.",
    );
  if (character === "@") return oddMark(text, at);
  if (character === "#")
    return oddity(
      character,
      at,
      "comment-inside",
      "A comment cannot stand here.",
      "A comment stands at the end of a line, outside texts and cells.",
    );
  const wide = normal(character.normalize("NFKC"));
  if (/^[\x21-\x7e]+$/.test(wide) && wide !== character) return lookalike(text, span, character, wide);
  return oddity(
    character,
    at,
    "character-unknown",
    `${describe(character)} means nothing in a formula.`,
    "If it belongs to a name, the name stands in backticks; if it belongs to a text, the text stands in quotes.",
  );
}

function oddMark(text: string, at: number): Oddity {
  const image = MARK_LIKE.exec(text.slice(at))![0];
  const help = "A mark is `@` and eight hexadecimal digits.";
  return /^@[0-9a-fA-F]{8}$/.test(image)
    ? oddity(image, at, "mark-outside", "A mark stands only in `seen`.", help)
    : oddity(image, at, "mark-form", "This is no mark.", help);
}

function lookalike(text: string, span: Span, met: string, meant: string): Oddity {
  const fix = meant === "sqrt" ? perhaps : certainly;
  const written = /^[a-z]/.test(meant) ? padded(text, span, meant) : meant;
  return oddity(
    met,
    span.from,
    "character-lookalike",
    `${quoted(met)} is written \`${meant}\` in a formula.`,
    meant === "sqrt" ? "The square root of x is `sqrt(x)`." : `Write \`${meant}\`.`,
    [fix(span, written)],
  );
}

function unitAlone(unit: string, at: number): Oddity {
  const place = spanOf(at, at);
  return oddity(
    unit,
    at,
    "unit-alone",
    `The unit ${quoted(unit)} does not stand behind a number.`,
    `To show a value in it write \`in ${unit}\`; to give a plain number the unit, \`* 1 ${unit}\`.`,
    [perhaps(place, "in ", `Write in ${unit}`), perhaps(place, "* 1 ", `Write * 1 ${unit}`)],
  );
}

function describe(character: string): string {
  const code = codePointName(character.codePointAt(0)!);
  return /[\p{L}\p{M}\p{N}\p{P}\p{S}]/u.test(character)
    ? `${quoted(character)} (${code})`
    : `The character ${code}`;
}

function backtick(text: string, at: number): Oddity {
  if (text[at + 1] === "`")
    return oddity(
      "``",
      at,
      "name-empty",
      "There is nothing between the backticks.",
      "A name has at least one letter.",
    );
  const line = /[^\n\r]*/y;
  line.lastIndex = at;
  const rest = line.exec(text)![0];
  return oddity(
    rest,
    at,
    "name-open",
    `The name ${quoted(rest)} has no second backtick.`,
    "A name in backticks ends on its line.",
    [],
  );
}

function curlyText(text: string, at: number): Oddity {
  const match = matchAt(CURLY_TEXT, text, at);
  const image = match?.[0] ?? text[at]!;
  const span = spanOf(at, at + image.length);
  return oddity(
    image,
    at,
    "quote-curly",
    `${quoted(image)} stands in curly quotes.`,
    'A text stands between straight quotes: "like this".',
    [certainly(span, `"${match?.[1] ?? ""}"`, "Write straight quotes")],
  );
}

const SINGLE_QUOTED = /['‘’‚]([^'‘’"\n\r]*)['‘’]/y;

function singleQuotes(text: string, at: number): Oddity {
  const match = matchAt(SINGLE_QUOTED, text, at);
  const image = match?.[0] ?? text[at]!;
  const fixes = match === null ? [] : [certainly(spanOf(at, at + image.length), `"${match[1]}"`)];
  return oddity(
    image,
    at,
    "quote-single",
    `${quoted(image)} is no text.`,
    'A text stands between straight double quotes: "like this".',
    fixes,
  );
}

/** A currency sign and what belongs to its unit: `£/L`. */
function moneyUnit(text: string, at: number): string {
  const sign = String.fromCodePoint(text.codePointAt(at)!);
  const rest = text.slice(at + sign.length, at + LONGEST_UNIT);
  return sign + rest.slice(0, endOfUnit(`X${rest}`, 0) - 1);
}
const LONGEST_UNIT = 60;

/** The fault of a unit of money that is written with the sign of a currency; undefined for any other text. */
export function signedUnit(unit: string, at: number): SyntaxMessage | undefined {
  const sign = unit === "" ? "" : String.fromCodePoint(unit.codePointAt(0)!);
  const codes = CURRENCIES.get(sign) ?? [];
  if (codes.length === 0 || moneyUnit(`${unit} `, 0) !== unit) return undefined;
  const written = codes.map((code) => code + unit.slice(sign.length));
  return signFault(unit, at, sign, written).message;
}

/** The fault of a currency sign, with what can stand instead of `image`. */
function signFault(image: string, at: number, sign: string, written: readonly string[]): Oddity {
  const span = spanOf(at, at + image.length);
  const fix = written.length === 1 ? certainly : perhaps;
  return oddity(
    image,
    at,
    "currency-sign",
    `Money carries the code of its currency, not ${quoted(sign)}.`,
    `Write ${written.map((one) => `\`${one.trim()}\``).join(" or ")}.`,
    written.map((one) => fix(span, one)),
  );
}

const AMOUNT = sticky("~*(\\d+(?:\\.\\d+)?)(?![\\d,.])");

function currency(text: string, at: number, sign: string, codes: readonly string[]): Oddity {
  if (codes.length === 0)
    return oddity(
      sign,
      at,
      "currency-sign",
      `${quoted(sign)} is no unit.`,
      "Write the amount with the code of its currency, such as `0.20 USD`.",
    );
  const amount = matchAt(AMOUNT, text, at + sign.length);
  const image = amount === null ? moneyUnit(text, at) : text.slice(at, at + sign.length + amount[0].length);
  const blank = at > 0 && isDigitCode(text.charCodeAt(at - 1)) ? " " : "";
  const written = codes.map((code) =>
    amount === null ? blank + code + image.slice(sign.length) : `${amount[1]} ${code}`,
  );
  return signFault(image, at, sign, written);
}
