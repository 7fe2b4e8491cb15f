import type { ProposedColumn } from "./proposal";

/** Names and cells of a table statement, from text that anybody may have written. */

/** Words that the language keeps for itself in formulas, and names that a column may not have. */
const KEPT = new Set(
  "and or not is in within to step if then else where find from so that true false blank before foot book".split(
    " ",
  ),
);

/** Names that always mean the same in a formula, so that no row may take them. */
const FIXED = new Set(["before", "foot", "book"]);

/** A name that needs no backticks: `Bottle size` becomes `bottle_size`, `2nd cut` becomes `n2nd_cut`. */
export function plainName(words: string): string {
  const folded = words
    .normalize("NFC")
    .replace(/[^\p{L}\p{M}\p{Nd}_]+/gu, "_")
    .replace(/^_+|_+$/g, "");
  const lower = /^\p{Lu}{2,}$/u.test(folded) && folded.length <= 4 ? folded : folded.toLowerCase();
  const short = [...lower].slice(0, 40).join("").replace(/_+$/, "");
  if (short === "") return "";
  const begun = /^[\p{L}_]/u.test(short) ? short : `n${short}`;
  return KEPT.has(begun) ? `${begun}_` : begun;
}

/** Plain names for headings, all different, in their order. */
export function uniqueNames(headings: readonly string[]): string[] {
  const taken = new Set<string>();
  return headings.map((heading, i) => {
    const base = plainName(heading) || `column_${i + 1}`;
    let name = base;
    for (let n = 2; taken.has(name); n++) name = `${base}_${n}`;
    taken.add(name);
    return name;
  });
}

export function tableName(words: string, taken: ReadonlySet<string>): string {
  const base = plainName(words.replace(/\.(csv|tsv|txt|xlsx|ods|html?)$/i, "")) || "table_1";
  let name = base;
  for (let n = 2; taken.has(name); n++) name = `${base}_${n}`;
  return name;
}

export function headingText(name: string, holds: ProposedColumn["holds"], unit: string): string {
  if (holds === "date") return `${name} (date)`;
  if (holds === "text") return `${name} (text)`;
  return unit === "" ? name : `${name} (${unit})`;
}

// Characters that the language refuses: controls, bidirectional controls, blanks without width, halves of pairs.
const UNWANTED = /[\p{Cc}\p{Cs}\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]+/gu;

/** Text on one line, without what the language refuses. */
export const cleaned = (text: string): string =>
  text
    .normalize("NFC")
    .replace(/[\t\r\n\v\f\u0085\u2028\u2029]+/g, " ")
    .replace(UNWANTED, "")
    .replace(/\ufffd/g, "?")
    .replace(/ {2,}/g, " ")
    .trim();

/**
 * Text as a cell. In the column of names, and under `(text)`, it stands plainly unless it looks like a formula
 * or a quoted text, or holds a backslash; then it is quoted, with everything in it that could mean more escaped.
 */
export function textCell(text: string, names: boolean): string {
  const line = cleaned(text);
  if (line === "") return "";
  if (names && FIXED.has(line)) return `${line} (row)`;
  const plain = !/^[=""“”„]/.test(line) && !line.includes("\\") && !(names && /^-+$/.test(line));
  if (plain) return line.replace(/\|/g, "\\|");
  return `"${line.replace(/[\\"{}|]/g, (c) => `\\${c}`)}"`;
}
