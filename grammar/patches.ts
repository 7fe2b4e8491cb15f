import { canBeName } from "./names";
import type { BookTree, Statement } from "./tree";
import { FIXED_NAMES, normal, skipBlanks } from "./words";

/** A replacement in the text of a book: what stands from `from` to `to` gives way to `insert`. */
export interface Patch {
  readonly from: number;
  readonly to: number;
  readonly insert: string;
}

/** Why an edit cannot be made; what was typed stays with the writer. */
export interface Refusal {
  /** Short stable word: `name-taken`. */
  readonly code: string;
  /** What stands in the way, one sentence for a cook. */
  readonly says: string;
  readonly help?: string;
}

/**
 * What an edit comes to: patches of the book's text that leave everything else byte for byte as it was, or a
 * refusal. Patches count in the text of the tree that was given, and do not overlap.
 */
export type Edited =
  | { readonly patches: readonly Patch[]; readonly refused?: undefined }
  | { readonly patches?: undefined; readonly refused: Refusal };

export function patched(...patches: readonly Patch[]): Edited {
  return { patches: patches.filter(({ from, to, insert }) => from !== to || insert !== "") };
}

export function refused(code: string, says: string, help?: string): Edited {
  return { refused: help === undefined ? { code, says } : { code, says, help } };
}

/**
 * The text with all patches made. They are counted in the text as it is, may come in any order and may not overlap;
 * two that insert at one place are made in the order given.
 */
export function applyPatches(text: string, patches: readonly Patch[]): string {
  const ordered = patches.map((patch, order) => ({ patch, order }));
  ordered.sort((a, b) => a.patch.from - b.patch.from || a.patch.to - b.patch.to || a.order - b.order);
  let out = "";
  let at = 0;
  for (const { patch } of ordered) {
    if (patch.from < at || patch.to < patch.from || patch.to > text.length)
      throw new RangeError(`patch ${patch.from}..${patch.to} overlaps another or leaves the text`);
    out += text.slice(at, patch.from) + patch.insert;
    at = patch.to;
  }
  return out + text.slice(at);
}

/** A replacement without the ends that stay the same. */
export function smallest(text: string, from: number, to: number, insert: string): Patch {
  let start = 0;
  const most = Math.min(to - from, insert.length);
  while (start < most && text[from + start] === insert[start]) start++;
  let end = 0;
  while (end < most - start && text[to - 1 - end] === insert[insert.length - 1 - end]) end++;
  return { from: from + start, to: to - end, insert: insert.slice(start, insert.length - end) };
}

/** The line end that a book uses: the first that stands in it, else a line feed. */
function lineEndOf(text: string): "\n" | "\r\n" {
  const feed = text.indexOf("\n");
  return feed > 0 && text[feed - 1] === "\r" ? "\r\n" : "\n";
}

/** Whole lines, from the start of the first to behind the line end of the last. */
export interface Lines {
  readonly from: number;
  readonly to: number;
}

function startOfLine(text: string, at: number): number {
  return text.lastIndexOf("\n", at - 1) + 1;
}

/** Offset of the line behind the one that `at` stands in. */
function nextLineStart(text: string, at: number): number {
  const feed = text.indexOf("\n", at);
  return feed < 0 ? text.length : feed + 1;
}

/** The lines of a statement, its comment and line end included. */
export function linesOf(text: string, statement: Statement): Lines {
  const start = startOfLine(text, statement.at);
  const from = start === 0 && text.startsWith("\uFEFF") ? 1 : start;
  return { from, to: nextLineStart(text, statement.at + statement.length) };
}

/** The same lines with the comment lines directly above them, which speak of what stands below. */
export function withCommentsAbove(text: string, lines: Lines): Lines {
  let { from } = lines;
  while (from > 0) {
    const above = startOfLine(text, from - 1);
    const first = skipBlanks(text, above);
    if (text[first] !== "#") break;
    from = above;
  }
  return { from, to: lines.to };
}

/**
 * Takes lines out. Where they were the last of a file without a line end behind them, the line end before them goes.
 * Of two blank lines that would then meet one goes too.
 */
export function removal(text: string, { from, to }: Lines): Patch {
  if (isOpenEnded(text, to)) return { from: endOfLineBefore(text, from), to, insert: "" };
  const blankAbove = from <= 1 || isBlankLine(text, startOfLine(text, from - 1));
  const blankBelow = to < text.length && isBlankLine(text, to);
  return { from, to: blankAbove && blankBelow ? nextLineStart(text, to) : to, insert: "" };
}

/** Takes out several stretches of lines, which may touch but not overlap. */
export function removals(text: string, stretches: readonly Lines[]): readonly Patch[] {
  const merged: Lines[] = [];
  for (const lines of [...stretches].sort((a, b) => a.from - b.from)) {
    const last = merged.at(-1);
    if (last !== undefined && last.to >= lines.from)
      merged[merged.length - 1] = { from: last.from, to: lines.to };
    else merged.push(lines);
  }
  return merged.map((lines) => removal(text, lines));
}

function isBlankLine(text: string, lineStart: number): boolean {
  const first = skipBlanks(text, lineStart);
  return first < text.length && (text[first] === "\n" || text.startsWith("\r\n", first));
}

/** Whether lines that reach to `to` are the last of a file without a line end. */
export function isOpenEnded(text: string, to: number): boolean {
  return text[to - 1] !== "\n";
}

/** Offset of the line end before a line, or of the line itself when it is the first. */
export function endOfLineBefore(text: string, lineStart: number): number {
  if (lineStart === 0 || text[lineStart - 1] !== "\n") return lineStart;
  return text[lineStart - 2] === "\r" ? lineStart - 2 : lineStart - 1;
}

/** Puts whole lines in before the line that begins at `at`; `at` may be the end of the file. */
export function insertion(text: string, at: number, lines: readonly string[]): Patch {
  const eol = lineEndOf(text);
  const joined = lines.join(eol);
  const openEnded = at === text.length && at > 0 && text[at - 1] !== "\n" && text !== "\uFEFF";
  return { from: at, to: at, insert: openEnded ? eol + joined : joined + eol };
}

/** A name for something new, in normal form, or why it cannot be one. */
export function newName(
  typed: string,
  what: string,
): { readonly name: string } | { readonly refused: Refusal } {
  const name = normal(typed.trim());
  if (!canBeName(name))
    return {
      refused: { code: "name-empty", says: `A ${what} needs a name, without a backtick and on one line.` },
    };
  if (what !== "definition" && FIXED_NAMES.has(name))
    return {
      refused: {
        code: "name-fixed",
        says: `\`${name}\` cannot name a ${what}.`,
        help: "In a formula `before`, `foot` and `book` always mean the same.",
      },
    };
  return { name };
}

/** What in the book has a name, in the space that sets and tables share, or in that of the definitions. */
export function holderOf(tree: BookTree, name: string, space: "value" | "define"): Statement | undefined {
  return tree.statements.find(({ node }) => {
    if (node.type === "set" || node.type === "table") return space === "value" && node.name === name;
    if (node.type === "define") return space === "define" && node.name === name;
    if (node.type !== "unread" || node.name !== name) return false;
    return space === "define"
      ? node.defines === "define"
      : node.defines === "set" || node.defines === "table";
  });
}

export function nameTaken(name: string, holder: Statement): Edited {
  return refused(
    "name-taken",
    `\`${name}\` is taken: line ${holder.line} has that name.`,
    "Choose another name.",
  );
}

/** Typed text on one line. */
export function oneLine(typed: string): string {
  return typed.replace(/[\r\n]+/g, " ").trim();
}
