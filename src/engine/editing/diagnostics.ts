import type { Patch } from "../../../grammar";
import type { Book } from "../report";

/** A mark in the text of a book, with what can be done about it. */
export interface Diagnostic {
  readonly code: string;
  readonly severity: "fault" | "note";
  /** In the text of the book. An empty stretch marks the point between two characters. */
  readonly from: number;
  readonly to: number;
  /** 1-based. */
  readonly line: number;
  readonly column: number;
  readonly says: string;
  readonly help?: string;
  /** Path of the value that it is about. */
  readonly path?: string;
  readonly fixes: readonly DiagnosticFix[];
}

export interface DiagnosticFix {
  /** What a button says. */
  readonly says: string;
  /** A certain one may be applied by one click; of several others the writer chooses. */
  readonly certain: boolean;
  readonly patches: readonly Patch[];
}

/** What is to be told about a book, for an editor of its text, in the order of the text; one cause is told once. */
export function diagnostics(book: Book): readonly Diagnostic[] {
  return book.messages.map(({ fixes, ...message }) => ({
    ...message,
    fixes: (fixes ?? []).map(({ says, certain, edits }) => ({
      says,
      certain,
      patches: edits.map(({ span, text }) => ({ from: span.from, to: span.to, insert: text })),
    })),
  }));
}
