import { applyPatches, type Statement } from "../../../grammar";

/** Reading and writing stretches of a book's text. Everything here works on text alone. */

/** A replacement: the stretch from `from` to `to` becomes `text`. */
export interface Patch {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** The text with all patches made at once. They must not overlap; their order does not matter. */
export const patched = (text: string, patches: readonly Patch[]): string =>
  applyPatches(
    text,
    patches.map((p) => ({ from: p.from, to: p.to, insert: p.text })),
  );

/** A statement as it stands in the text. */
export const sourceOf = (text: string, statement: Statement): string =>
  text.slice(statement.at, statement.at + statement.length);

/** The line end that a book uses; LF when it has none yet. */
export const lineEndOf = (text: string): string => /\r\n|\n/.exec(text)?.[0] ?? "\n";

/** One line of what was typed: line ends and control characters become blanks. */
export const oneLine = (typed: string): string => typed.replace(/[\p{Cc}\u2028\u2029]+/gu, " ").trim();

/** Plain words as text in quotes. */
export const quote = (words: string): string =>
  `"${oneLine(words).replaceAll("\\", "\\\\").replaceAll('"', '\\"').replaceAll("{", "\\{").replaceAll("}", "\\}")}"`;

/** Text in quotes as plain words. */
export const unquote = (source: string): string =>
  source.replace(/^"|"$/g, "").replace(/\\(["\\{}|])/g, "$1");

/**
 * The sentence of a step as it is written: formulas in braces stay as they are, quotes outside them are escaped.
 */
export function quoteSentence(sentence: string): string {
  let out = "";
  let depth = 0;
  for (const c of oneLine(sentence)) {
    if (c === "{") depth++;
    if (c === "}") depth = Math.max(0, depth - 1);
    out += c === '"' && depth === 0 ? '\\"' : c;
  }
  return `"${out}"`;
}

/** The other way: quotes outside braces without their escape. */
export function unquoteSentence(source: string): string {
  const inner = source.slice(1, source.endsWith('"') && source.length > 1 ? -1 : undefined);
  let out = "";
  let depth = 0;
  for (let i = 0; i < inner.length; i++) {
    const c = inner[i]!;
    if (c === "\\" && i + 1 < inner.length) {
      const next = inner[++i]!;
      out += next === '"' && depth === 0 ? '"' : c + next;
      continue;
    }
    if (c === "{") depth++;
    if (c === "}") depth = Math.max(0, depth - 1);
    out += c;
  }
  return out;
}

/** Where the text in quotes that starts at or behind `from` ends (behind its closing quote), braces and nesting minded. */
export function endOfText(source: string, from: number): number {
  let at = source.indexOf('"', from);
  if (at === -1) return -1;
  at++;
  let braces = 0;
  while (at < source.length) {
    const c = source[at]!;
    if (c === "\\") at++;
    else if (c === "{") braces++;
    else if (c === "}") braces = Math.max(0, braces - 1);
    else if (c === '"') {
      if (braces === 0) return at + 1;
      const end = endOfText(source, at);
      if (end === -1) return -1;
      at = end - 1;
    }
    at++;
  }
  return -1;
}

/** A cell's words without the escapes of the row, and the other way. */
export const fromCell = (raw: string): string => raw.replaceAll("\\|", "|");
export const toCell = (typed: string): string => oneLine(typed).replaceAll("\\|", "|").replaceAll("|", "\\|");

/** The end of the line that holds `at`, the line end not included. */
export function endOfLine(text: string, at: number): number {
  const end = text.indexOf("\n", at);
  if (end === -1) return text.length;
  return text[end - 1] === "\r" ? end - 1 : end;
}
