import { expect } from "vitest";
import {
  applyPatches,
  type BookTree,
  type Edited,
  parseBook,
  type Statement,
  type TableTree,
} from "../../grammar";

/** Helpers for tests of edits: make one, and look at what it did to the text and to the tree. */

export function tableOf(tree: BookTree, name = "t"): TableTree {
  return tree.tables.find((table) => table.name === name)!;
}

export function statementAt(tree: BookTree, line: number): Statement {
  return tree.statements.find((statement) => statement.line === line)!;
}

/** The text after an edit, which must not be refused. */
export function edited(text: string, edit: (tree: BookTree) => Edited): string {
  const made = edit(parseBook(text));
  expect(made.refused).toBeUndefined();
  return applyPatches(text, made.patches!);
}

/** Why an edit is refused. */
export function refusal(text: string, edit: (tree: BookTree) => Edited): string | undefined {
  return edit(parseBook(text)).refused?.code;
}

/** The lines of a text that another does not have in the same order: what an edit has touched. */
export function touched(before: string, now: string): readonly string[] {
  const old = before.split("\n");
  const lines = now.split("\n");
  let start = 0;
  while (start < Math.min(old.length, lines.length) && old[start] === lines[start]) start++;
  let end = 0;
  while (end < Math.min(old.length, lines.length) - start && old.at(-1 - end) === lines.at(-1 - end)) end++;
  return lines.slice(start, lines.length - end);
}
