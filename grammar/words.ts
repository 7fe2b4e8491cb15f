/**
 * The words and characters of the language: what may stand in a name, what counts as a blank, which words are
 * taken. Everything here is a plain fact about text; nothing knows of tokens or trees.
 */

/** Words that a formula keeps for itself. As a name each takes backticks; as a part or a label it needs none. */
export const RESERVED: ReadonlySet<string> = new Set(
  "and or not is in within to step if then else where find from so that true false blank".split(" "),
);

/** Words that are special only behind a whole formula, and free as names elsewhere. */
export const CLAUSES: ReadonlySet<string> = new Set("try ask wait expect by for mark".split(" "));

/** The words that can begin a statement. */
export const STATEMENTS: ReadonlySet<string> = new Set(
  "language book about part set define table column foot check chart step seen".split(" "),
);

/** Names that always mean the same in a formula, so that no set, table, column or row may take them. */
export const FIXED_NAMES: ReadonlySet<string> = new Set(["before", "foot", "book"]);

/** Space, tab, and the blanks that typesetting puts between a number and its unit. */
export const BLANKS = " \\t\\u00A0\\u2007\\u2009\\u202F";

const SPACE = 0x20;
const TAB = 0x09;

/** Whether a UTF-16 code is a blank (line ends are not). */
export function isBlankCode(code: number): boolean {
  return (
    code === SPACE || code === TAB || code === 0xa0 || code === 0x2007 || code === 0x2009 || code === 0x202f
  );
}

/** Offset of the first character at or behind `from` that is not a blank. */
export function skipBlanks(text: string, from: number, to = text.length): number {
  let at = from;
  while (at < to && isBlankCode(text.charCodeAt(at))) at++;
  return at;
}

/** Offset behind the last character before `to` that is not a blank. */
export function trimBlanks(text: string, from: number, to: number): number {
  let at = to;
  while (at > from && isBlankCode(text.charCodeAt(at - 1))) at--;
  return at;
}

const LETTER = /[\p{L}_]/uy;
/** In stretches, so that a word of millions of letters needs no room to go back in. */
const WORD_REST = /[\p{L}\p{M}\p{Nd}_]{1,256}/uy;
const WORD_CHARACTER = /[\p{L}\p{M}\p{Nd}_]/uy;

export function isDigitCode(code: number): boolean {
  return code >= 0x30 && code <= 0x39;
}

function isAsciiLetterCode(code: number): boolean {
  return (code >= 0x61 && code <= 0x7a) || (code >= 0x41 && code <= 0x5a) || code === 0x5f;
}

/** Whether a word (letter or `_` first) begins at `at`. */
export function startsWord(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  if (code < 0x80) return isAsciiLetterCode(code);
  LETTER.lastIndex = at;
  return LETTER.test(text);
}

/** Offset behind the letters, marks, digits and `_` that stand at `at` (which may be none). */
export function endOfWordRest(text: string, at: number): number {
  let end = at;
  for (;;) {
    const code = text.charCodeAt(end);
    if (isAsciiLetterCode(code) || isDigitCode(code)) end++;
    else if (code >= 0x80) {
      WORD_REST.lastIndex = end;
      if (!WORD_REST.test(text)) return end;
      end = WORD_REST.lastIndex;
    } else return end;
  }
}

/** Offset behind the word at `at`, or `at` when there is none. */
export function endOfWord(text: string, at: number): number {
  return startsWord(text, at) ? endOfWordRest(text, at) : at;
}

/** Offset of the first character of the word that ends at `to`, or `to` when none ends there. */
export function startOfWordBefore(text: string, from: number, to: number): number {
  let at = to;
  while (at > from) {
    const code = text.charCodeAt(at - 1);
    if (isAsciiLetterCode(code) || isDigitCode(code)) at--;
    else if (code >= 0x80) {
      const back = code >= 0xdc00 && code <= 0xdfff && at - 2 >= from ? 2 : 1;
      WORD_CHARACTER.lastIndex = at - back;
      if (!WORD_CHARACTER.test(text) || WORD_CHARACTER.lastIndex !== at) break;
      at -= back;
    } else break;
  }
  return at;
}

const UNSEEN = new RegExp(
  "[\\u0000-\\u0008\\u000B-\\u001F\\u007F-\\u009F\\u061C\\u200B\\u200E\\u200F" +
    "\\u2028-\\u202E\\u2060\\u2066-\\u2069\\uFEFF]",
  "g",
);

/** Names of the characters that show nothing and may stand nowhere in a book, for messages. */
function unseenName(code: number): string {
  if (code === 0) return "a null character";
  if (code === 0x0c) return "a form feed";
  if (code === 0x0d) return "a carriage return without a line feed";
  if (code === 0x1b) return "an escape character";
  if (code === 0x200b || code === 0x2060) return "a blank of no width";
  if (code === 0xfeff) return "a byte order mark inside the text";
  if (code === 0x2028 || code === 0x2029) return "a line separator";
  if (code === 0x061c || code === 0x200e || code === 0x200f || (code >= 0x202a && code <= 0x2069))
    return "a control for writing direction";
  return "a control character";
}

/** A character that may stand nowhere, with its name: `a blank of no width (U+200B)`. */
export interface UnseenCharacter {
  readonly at: number;
  readonly name: string;
}

/**
 * The first character from `from` on that shows nothing and may stand nowhere: controls, writing direction, blanks
 * of no width. A carriage return before a line feed is a line end and allowed.
 */
export function findUnseen(text: string, from = 0, to = text.length): UnseenCharacter | undefined {
  UNSEEN.lastIndex = from;
  for (let found = UNSEEN.exec(text); found !== null && found.index < to; found = UNSEEN.exec(text)) {
    const at = found.index;
    const code = text.charCodeAt(at);
    if (code === 0x0d && (text.charCodeAt(at + 1) === 0x0a || at + 1 === text.length)) continue;
    return { at, name: `${unseenName(code)} (${codePointName(code)})` };
  }
  return undefined;
}

/** `U+00AD`. */
export function codePointName(code: number): string {
  return `U+${code.toString(16).toUpperCase().padStart(4, "0")}`;
}

const ASCII_ONLY = /^[\x20-\x7e]*$/;

/** Normal form C, which all comparing is done in; text that is plain ASCII is handed back as it is. */
export function normal(text: string): string {
  return ASCII_ONLY.test(text) ? text : text.normalize("NFC");
}
