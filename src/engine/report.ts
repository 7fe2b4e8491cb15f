import type { BookTree, Fix, Span, Statement, TableTree } from "../../grammar";
import type { Note, Unit } from "../quantity";
import type { Value } from "../vocabulary/value";

/**
 * What the engine tells about a book: the shapes that the command, the page and the exports are built on.
 * `openBook(text)` (book.ts) gives a `Book`; a Book is immutable, `edit` gives the next one and recalculates
 * only what the change reaches.
 */
export interface Book {
  readonly text: string;
  readonly tree: BookTree;
  /** Title from the `book` statement, or "". */
  readonly title: string;
  /** In the order of the text. Rows, columns and feet are inside their table's item. */
  readonly items: readonly Item[];
  /** Syntax and naming messages, faults and their places, in the order of the text; one cause, one message. */
  readonly messages: readonly Message[];
  readonly tally: {
    readonly faults: number;
    readonly gaps: number;
    readonly unmet: number;
    readonly unknown: number;
  };
  /** Every value of the book, flattened, in the order of the text (the `values` of `calc --json`). */
  answers(): readonly Answer[];
  /** The value at a dotted path (`blend.strength`, ``distillates.`lemon peel`.cost``, `distillates.cost`, `distillates.foot.cost`), or undefined when there is none. */
  value(path: string): Value | undefined;
  /** A formula worked out in this book, outside every table. Never throws. */
  ask(formula: string): Asked;
  /** How the value at a path came about. Undefined when there is none. */
  why(path: string, options?: { readonly trials?: number }): Explanation | undefined;
  /** A curve chart's points, or any formula over a range: evaluated at `count` evenly spaced places. */
  curve(
    formula: string,
    variable: string,
    from: Value,
    to: Value,
    count: number,
  ): readonly { readonly x: Value; readonly y: Value }[];
  /** The book over a grid of inputs (see sweep.ts). Throws `Trouble` for an axis or a formula that cannot be used. */
  sweep(varies: readonly string[], shows: readonly string[]): Sweep;
  /** The book with another text. Values that the change does not reach are kept. */
  edit(text: string): Book;
  /** Cautions of the functions that the book uses and those that its values carry, each once. */
  readonly cautions: readonly string[];
  /** Review ticks (`seen`), and whether what they stand on is still as it was. */
  readonly ticks: readonly Tick[];
  /** The mark (`@` and eight hexadecimal digits) of the formula at a path, for a new tick; undefined where there is none. */
  markOf(path: string): string | undefined;
}

export type Item =
  | TitleItem
  | ValueItem
  | DefineItem
  | TableItem
  | CheckItem
  | ChartItem
  | StepItem
  | UnreadItem;

interface ItemCore {
  readonly statement: Statement;
  /** Comment behind the statement, as the remark beside a value. */
  readonly remark?: string;
}
export interface TitleItem extends ItemCore {
  readonly type: "book" | "about" | "part";
  readonly text: string;
}
/** How a value came to be. `typed`: a plain quantity, text or date as written. */
export type Origin = "typed" | "computed" | "found";
export type State = "ok" | "gap" | "fault";

/** A value ready to be shown. */
export interface Shown {
  /** Dotted path, backticks included, as it would be written in a formula. */
  readonly path: string;
  /** Last part of the path, plain. */
  readonly label: string;
  readonly value: Value;
  readonly state: State;
  readonly origin: Origin;
  /** Whole text: `100.0 ± 1.4 g`, a text's text, an ISO date, `true`; for a gap or fault "". */
  readonly text: string;
  /** The same in pieces, for setting in columns. */
  readonly number: string;
  readonly spread?: string;
  readonly unit: string;
  /** For a gap what is missing ("needs got"), for a fault the sentence. */
  readonly message?: string;
  readonly help?: string;
  /** Path of the first cause when it stands elsewhere. */
  readonly cause?: string;
  /** For a gap that is being worked out: what stood there before the change. */
  readonly was?: Shown;
  readonly notes: readonly Note[];
}
export interface ValueItem extends ItemCore {
  readonly type: "value";
  readonly name: string;
  /** As written. */
  readonly formula: string;
  readonly formulaSpan: Span;
  readonly shown: Shown;
  /** For records and lists: the parts, flattened, each with its own path. */
  readonly parts: readonly Shown[];
  readonly trial?: TrialRange;
}
/** `set … try`: a range for a slider, in the unit of the value, or a list of choices. */
export type TrialRange =
  | {
      readonly type: "range";
      readonly from: number;
      readonly to: number;
      readonly step?: number;
      readonly unit: string;
      /** Its lower and its upper end as the language prints them, with the unit. */
      readonly ends: readonly string[];
      /** The value is no quantity of the range's kind, so nothing can be tried; the range is told in its own unit. */
      readonly idle?: boolean;
    }
  | { readonly type: "choices"; readonly choices: readonly string[] };
export interface DefineItem extends ItemCore {
  readonly type: "define";
  readonly name: string;
  readonly parameters: readonly string[];
  readonly formula: string;
  readonly formulaSpan: Span;
}
export interface TableItem extends ItemCore {
  readonly type: "table";
  readonly name: string;
  readonly title: string;
  readonly tree: TableTree;
  readonly columns: readonly TableColumn[];
  readonly rowCount: number;
  /** Name of a row as it is written; "" for a nameless one. */
  rowName(row: number): string;
  /** The cell of a row (0-based) and a column (0-based, typed columns first). Made when asked: a table may have 20,000 rows. */
  cell(row: number, column: number): Shown;
  /** Foot values by column name. */
  readonly feet: ReadonlyMap<string, FootCell>;
}
export interface FootCell {
  readonly statement: Statement;
  readonly formula: string;
  readonly shown: Shown;
}
export interface TableColumn {
  readonly name: string;
  readonly typed: boolean;
  /** For a computed column: its formula as written and its statement. */
  readonly formula?: string;
  readonly statement?: Statement;
  /** Unit of the column when all its values share one, as text; "" for plain numbers, texts and mixed columns. */
  readonly unit: string;
  readonly unitOf?: Unit;
  readonly holds: "quantity" | "text" | "date" | "truth" | "mixed" | "empty";
  /** Decimals with which every cell is printed. */
  readonly decimals?: number;
  /** Fault of the column as a whole (a circle, an unknown name), if any. */
  readonly fault?: string;
}
export interface CheckItem extends ItemCore {
  readonly type: "check";
  readonly formula: string;
  readonly text: string;
  readonly state: "met" | "unmet" | "unknown";
  /** By how much it misses, or why it is not yet known; one sentence. */
  readonly says?: string;
  readonly notes: readonly Note[];
}
export interface ChartSeries {
  readonly label: string;
  readonly unit: string;
  readonly points: readonly {
    readonly x: number;
    readonly y: number;
    readonly spread?: number;
    readonly name: string;
  }[];
}
export interface ChartItem extends ItemCore {
  readonly type: "chart";
  readonly title: string;
  readonly style: "bars" | "line" | "dots" | "curve";
  /** The words after the title, as written. */
  readonly formula: string;
  readonly series: readonly ChartSeries[];
  readonly xLabel: string;
  readonly xUnit: string;
  /** Whether x is names (bars), dates or quantities. */
  readonly xHolds: "names" | "dates" | "quantities";
  /** Curve charts: the operating point, x and the y of each series. */
  readonly mark?: { readonly x: number; readonly ys: readonly number[]; readonly text: string };
  readonly message?: string;
}
export interface StepItem extends ItemCore {
  readonly type: "step";
  /** 1-based. */
  readonly number: number;
  /** Pieces of the sentence: plain text, and live values. */
  readonly pieces: readonly (string | Shown)[];
  readonly text: string;
  readonly wait?: Shown;
  readonly asks: readonly {
    readonly path: string;
    readonly unit: string;
    readonly expect?: Shown;
    /** What is there already (a set's value), if anything. */
    readonly shown?: Shown;
  }[];
}
export interface UnreadItem extends ItemCore {
  readonly type: "unread";
  readonly text: string;
  readonly message: string;
}

/** A review tick. `changed`: the formula is another one than was ticked; `lost`: there is nothing at the path. */
export interface Tick {
  readonly statement: Statement;
  readonly path: string;
  readonly mark: string;
  readonly text?: string;
  readonly state: "holds" | "changed" | "lost";
}

/** A message with its place in the book. */
export interface Message {
  readonly code: string;
  readonly severity: "fault" | "note";
  readonly from: number;
  readonly to: number;
  /** 1-based. */
  readonly line: number;
  readonly column: number;
  /** Dotted path of what it is about, when it has one. */
  readonly path?: string;
  readonly says: string;
  readonly help?: string;
  /** Spans are offsets in the book. */
  readonly fixes?: readonly Fix[];
}

/** One line of `calc --json`. */
export interface Answer {
  readonly name: string;
  readonly value: number | string | boolean | null;
  readonly unit: string;
  readonly text: string;
  readonly state: State;
  readonly message: string | null;
  readonly uncertainty: number | null;
  readonly notes: readonly string[];
}
/** One line of `ask --json`. */
export interface Asked extends Omit<Answer, "name"> {
  readonly formula: string;
  /** Parts of records and entries of lists, flattened; names without the asked formula in front. */
  readonly parts?: readonly Answer[];
  readonly help?: string;
  readonly fixes?: readonly Fix[];
  /** Span of the trouble in the formula. */
  readonly span?: Span;
  /** Declared cautions of the functions that were used, each once. */
  readonly cautions?: readonly string[];
  readonly raw: Value;
}

/** A seeded Monte Carlo run of one value (JCGM 101); numbers are in the value's unit. */
export interface MonteCarlo {
  readonly trials: number;
  readonly mean: number;
  readonly deviation: number;
  /** Ends of the middle 95 %. */
  readonly low: number;
  readonly high: number;
  /** Standard uncertainty by the linear estimate. */
  readonly linear: number;
  /** Trials that fell outside a function's range. */
  readonly outside: number;
  readonly poor: boolean;
  readonly says: string;
}

/** A book over a grid of inputs: points numbered from 0, the last axis fastest. */
export interface Sweep {
  readonly names: readonly string[];
  readonly shows: readonly string[];
  readonly count: number;
  /** What the varied values are at a point. */
  inputs(index: number): readonly Shown[];
  /** What the formulas come to at a point. */
  outcomes(index: number): readonly Shown[];
}

/** What one measured input, or the equation of a function, contributes to an uncertainty. */
export interface Contribution {
  /** The input in words: the path of its value, or of a ± inside a definition the call that leads to it. */
  readonly input: string;
  /** Path of the value where the ± stands; missing for an equation. */
  readonly path?: string;
  /** Share of the variance, 0 to 1. */
  readonly share: number;
  readonly amount: string;
}

/** A worked example of one value: what *why* shows. */
export interface Explanation {
  readonly path: string;
  readonly shown: Shown;
  /** Formula as written, and with the values filled in. */
  readonly formula: string;
  readonly filled: string;
  /** The working, step by step: each line what was worked out and what it came to. */
  readonly working: readonly { readonly text: string; readonly result: string }[];
  /** What it used: each with its path (a link) and value. */
  readonly uses: readonly Shown[];
  /** Paths that use it. */
  readonly usedBy: readonly string[];
  /** Functions of the vocabulary in the formula. */
  readonly functions: readonly {
    readonly name: string;
    readonly says: string;
    readonly equation: string;
    readonly source: string;
    readonly range: string;
    readonly trust?: string;
    readonly cautions?: readonly string[];
  }[];
  /** Contributions to the uncertainty, largest first; shares of the variance add to 1. */
  readonly contributions: readonly Contribution[];
  /** A Monte Carlo run beside the linear estimate, when trials were asked for and there is an uncertainty. */
  readonly monteCarlo?: MonteCarlo;
  readonly notes: readonly Note[];
  /** Span of the formula in the book. */
  readonly from: number;
  readonly to: number;
}
