/**
 * A text that is being written, and where in the book it stands. Offsets in questions and answers count in this
 * text; for the book itself that is `book.text` (or `text`, while the book is still one keystroke behind).
 */
export type Field =
  | { readonly in: "book"; readonly text?: string }
  /** The formula of a `set`, behind its `=`. */
  | { readonly in: "value"; readonly name: string; readonly text: string }
  /** What stands behind `try`. */
  | { readonly in: "trial"; readonly name: string; readonly text: string }
  /** The formula of a `define`. */
  | { readonly in: "define"; readonly name: string; readonly text: string }
  /** The formula of a computed column; `row` is the row in which it is looked at, if any. */
  | {
      readonly in: "column";
      readonly table: string;
      readonly column: string;
      readonly row?: number;
      readonly text: string;
    }
  | { readonly in: "foot"; readonly table: string; readonly column: string; readonly text: string }
  /** A typed cell as a writer sees it: `12`, `12 mL`, `2026-02-03`, `juniper`, `= volume / 2`; bars without a backslash. */
  | {
      readonly in: "cell";
      readonly table: string;
      /** Name of a typed column. */
      readonly column: string;
      /** 0-based. */
      readonly row: number;
      readonly text: string;
    }
  /** A heading: `volume (mL)`. */
  | { readonly in: "heading"; readonly table: string; readonly text: string }
  /** The condition of a check, without its sentence. */
  | { readonly in: "check"; readonly text: string }
  /** What stands behind the colon of a chart: `bars a.b by a.c`. */
  | { readonly in: "chart"; readonly text: string }
  /** The sentence of a step, without its quotes. */
  | { readonly in: "sentence"; readonly text: string }
  /** What stands behind the sentence of a step: `wait 40 min ask measured in %vol`. */
  | { readonly in: "clauses"; readonly text: string }
  /** A statement as it is written; `table` is the one to which a `column` or `foot` belongs. */
  | { readonly in: "statement"; readonly table?: string; readonly text: string }
  /** A formula outside every table, that belongs to nothing. */
  | { readonly in: "formula"; readonly text: string };
