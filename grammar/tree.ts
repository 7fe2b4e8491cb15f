/**
 * The syntax tree of a book: what the parser makes of the text, and nothing about what it means.
 *
 * Every statement (and every table row) is read by itself, so its tree can be kept while the text around
 * it changes. Spans inside a statement are therefore counted from the statement's own first character:
 * add the statement's `at` to get the place in the book. A statement whose text has not changed keeps the
 * very same `node` object from one reading to the next; the engine relies on that identity.
 */

/** A stretch of text, in UTF-16 code units: `from` is inside, `to` is behind it. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** A unit as it was written, spelling kept (`GBP/L`, `m³`, `% vol`); it is matched by name in src/quantity. */
export interface UnitNode {
  readonly text: string;
  readonly span: Span;
}

/** A formula, as a tree. `span` covers the whole of it, brackets included. */
export type Formula =
  | NumberNode
  | DateNode
  | TextNode
  | TruthNode
  | BlankNode
  | ListNode
  | NameNode
  | CallNode
  | PartNode
  | SignNode
  | NotNode
  | SpreadNode
  | ArithmeticNode
  | CompareNode
  | WithinNode
  | LogicNode
  | ShownNode
  | RangeNode
  | ChoiceNode
  | FindNode
  | WhereNode
  | UnreadNode;

/** A number as typed. `digits` is the plain decimal writing, sign folded in (`-10`, `0.5`, `1e-3` is not in the language). */
export interface NumberNode {
  readonly type: "number";
  readonly digits: string;
  readonly unit?: UnitNode;
  readonly span: Span;
}
/** An ISO 8601 day that exists. */
export interface DateNode {
  readonly type: "date";
  readonly iso: string;
  readonly span: Span;
}
/** Text; formulas in braces are pieces of it. Escapes are resolved in the plain pieces, which are in NFC. */
export interface TextNode {
  readonly type: "text";
  readonly pieces: readonly (string | Formula)[];
  readonly span: Span;
}
export interface TruthNode {
  readonly type: "truth";
  readonly value: boolean;
  readonly span: Span;
}
export interface BlankNode {
  readonly type: "blank";
  readonly span: Span;
}
export interface ListNode {
  readonly type: "list";
  readonly entries: readonly Formula[];
  readonly span: Span;
}
/** A bare name, NFC, backticks removed. */
export interface NameNode {
  readonly type: "name";
  readonly name: string;
  readonly span: Span;
}
export interface Argument {
  readonly label?: string;
  readonly labelSpan?: Span;
  readonly value: Formula;
}
export interface CallNode {
  readonly type: "call";
  readonly name: string;
  readonly nameSpan: Span;
  readonly arguments: readonly Argument[];
  readonly span: Span;
}
/** `of.part`: a column, a row, a part of a result, an entry of a list. */
export interface PartNode {
  readonly type: "part";
  readonly of: Formula;
  readonly part: string;
  readonly partSpan: Span;
  readonly span: Span;
}
/** A minus before something that is not a lone number (a plus is dropped). */
export interface SignNode {
  readonly type: "negate";
  readonly of: Formula;
  readonly span: Span;
}
export interface NotNode {
  readonly type: "not";
  readonly of: Formula;
  readonly span: Span;
}
/** `of ± by`. When `of` is a bare number and `by` carries the unit, that unit serves both (the engine decides). */
export interface SpreadNode {
  readonly type: "spread";
  readonly of: Formula;
  readonly by: Formula;
  readonly span: Span;
}
export interface ArithmeticNode {
  readonly type: "arithmetic";
  readonly operator: "+" | "-" | "*" | "/" | "^";
  readonly left: Formula;
  readonly right: Formula;
  readonly operatorSpan: Span;
  readonly span: Span;
}
export interface CompareNode {
  readonly type: "compare";
  readonly operator: "<" | "<=" | ">" | ">=" | "is" | "is not";
  readonly left: Formula;
  readonly right: Formula;
  readonly operatorSpan: Span;
  readonly span: Span;
}
export interface WithinNode {
  readonly type: "within";
  readonly of: Formula;
  readonly low: Formula;
  readonly high: Formula;
  readonly span: Span;
}
export interface LogicNode {
  readonly type: "logic";
  readonly operator: "and" | "or";
  readonly left: Formula;
  readonly right: Formula;
  readonly operatorSpan: Span;
  readonly span: Span;
}
/** `of in UNIT`. */
export interface ShownNode {
  readonly type: "shown";
  readonly of: Formula;
  readonly unit: UnitNode;
  readonly span: Span;
}
/** `from to to step step`. */
export interface RangeNode {
  readonly type: "range";
  readonly from: Formula;
  readonly to: Formula;
  readonly step?: Formula;
  readonly span: Span;
}
export interface ChoiceNode {
  readonly type: "choice";
  readonly condition: Formula;
  readonly yes: Formula;
  readonly no: Formula;
  readonly span: Span;
}
export interface FindNode {
  readonly type: "find";
  readonly name: string;
  readonly nameSpan: Span;
  readonly from: Formula;
  readonly to: Formula;
  readonly goal: Formula;
  readonly span: Span;
}
export interface WhereNode {
  readonly type: "where";
  readonly of: Formula;
  readonly condition: Formula;
  readonly span: Span;
}
/** What could not be read. Its message is in the statement; the engine turns it into a fault in its place. */
export interface UnreadNode {
  readonly type: "unread";
  readonly span: Span;
}

/** How sure a fix is: a `certain` one may be applied by one click; a `choice` asks the writer to pick. */
export interface Fix {
  /** What the button says: "Write 61.8 %vol". */
  readonly says: string;
  readonly certain: boolean;
  /** Replacements, counted like the message's span, in order, not overlapping. */
  readonly edits: readonly { readonly span: Span; readonly text: string }[];
}

/** A syntax message. `span` is counted from the statement's `at`. */
export interface SyntaxMessage {
  /** Short stable word for tests and help: `unit-unknown`, `bracket-open`. */
  readonly code: string;
  readonly severity: "fault" | "note";
  readonly span: Span;
  /** What was met and what was expected, one sentence for a cook. */
  readonly says: string;
  /** What to do, when there is something to say. */
  readonly help?: string;
  readonly fixes?: readonly Fix[];
}

export interface Heading {
  /** NFC, backticks removed. */
  readonly name: string;
  readonly nameSpan: Span;
  /** The bracket: a unit, or one of the three words. */
  readonly unit?: UnitNode;
  readonly holds?: "number" | "text" | "date";
  readonly span: Span;
}
/** One cell of a typed row; `span` is its content without the blanks around it (empty when blank). */
export interface Cell {
  readonly content:
    | { readonly type: "blank" }
    | { readonly type: "quantity"; readonly of: NumberNode; readonly by?: NumberNode }
    | { readonly type: "date"; readonly iso: string }
    | { readonly type: "text"; readonly text: string }
    | { readonly type: "formula"; readonly formula: Formula }
    | { readonly type: "unread" };
  readonly raw: string;
  readonly span: Span;
  /** From behind the bar before to the bar after: where a patch may write. */
  readonly slot: Span;
}

/** What a statement says. Tables hold only their heading; rows, columns and feet follow as statements and are gathered in `TableTree`. */
export type StatementNode =
  | { readonly type: "language"; readonly version: number }
  | { readonly type: "book" | "about" | "part"; readonly text: string; readonly textSpan: Span }
  | {
      readonly type: "set";
      readonly name: string;
      readonly nameSpan: Span;
      readonly formula: Formula;
      readonly trial?: { readonly from: Formula; readonly to?: Formula; readonly step?: Formula };
    }
  | {
      readonly type: "define";
      readonly name: string;
      readonly nameSpan: Span;
      readonly parameters: readonly { readonly name: string; readonly span: Span }[];
      readonly formula: Formula;
    }
  | {
      readonly type: "table";
      readonly name: string;
      readonly nameSpan: Span;
      readonly title?: string;
      readonly titleSpan?: Span;
    }
  | { readonly type: "heading"; readonly columns: readonly Heading[] }
  | { readonly type: "ruler" }
  | { readonly type: "row"; readonly cells: readonly Cell[] }
  | {
      readonly type: "column" | "foot";
      readonly name: string;
      readonly nameSpan: Span;
      readonly formula: Formula;
    }
  | { readonly type: "check"; readonly formula: Formula; readonly text?: string }
  | {
      readonly type: "chart";
      readonly title: string;
      readonly style: "bars" | "line" | "dots";
      readonly what: readonly Formula[];
      readonly by: Formula;
    }
  | {
      readonly type: "chart";
      readonly title: string;
      readonly style: "curve";
      readonly what: readonly Formula[];
      readonly variable: string;
      readonly variableSpan: Span;
      readonly from: Formula;
      readonly to: Formula;
      readonly mark?: Formula;
    }
  | {
      readonly type: "step";
      readonly text: TextNode;
      readonly wait?: Formula;
      readonly asks: readonly {
        readonly path: Formula;
        readonly unit?: UnitNode;
        readonly expect?: Formula;
        readonly span: Span;
      }[];
    }
  | { readonly type: "seen"; readonly path: Formula; readonly mark: string; readonly text?: string }
  /** A statement that cannot be read; what it would have defined, when that much can be told. */
  | {
      readonly type: "unread";
      readonly keyword?: string;
      readonly name?: string;
      readonly defines?: "set" | "define" | "table" | "column" | "foot";
    };

/** A statement in its place. */
export interface Statement {
  /** Offset of its first character in the book. */
  readonly at: number;
  /** Length in characters, without the comment and the line end behind it. */
  readonly length: number;
  /** 1-based line of its first character. */
  readonly line: number;
  readonly node: StatementNode;
  /** Messages about this statement alone; spans are counted from `at`. */
  readonly messages: readonly SyntaxMessage[];
  /** The comment at the end of its last line, without `#` and blanks around it. */
  readonly comment?: string;
}

/** A table with what belongs to it. */
export interface TableTree {
  readonly statement: Statement & { readonly node: { readonly type: "table" } };
  readonly name: string;
  readonly title?: string;
  /** Missing when the table has no readable heading. */
  readonly heading?: Statement & { readonly node: { readonly type: "heading" } };
  readonly rows: readonly (Statement & { readonly node: { readonly type: "row" } })[];
  readonly columns: readonly (Statement & { readonly node: { readonly type: "column" } })[];
  readonly feet: readonly (Statement & { readonly node: { readonly type: "foot" } })[];
  /** Columns and feet that cannot be read, but whose name can. */
  readonly broken: readonly (Statement & { readonly node: { readonly type: "unread" } })[];
}

/** A whole book. Comments and blank lines are not nodes: they are the text between statements. */
export interface BookTree {
  readonly text: string;
  /** Every statement in the order of the text, rows, columns and feet included. */
  readonly statements: readonly Statement[];
  readonly tables: readonly TableTree[];
  /** The table that a row, column, foot or heading belongs to. */
  readonly tableOf: ReadonlyMap<Statement, TableTree>;
  /** Messages about the file as a whole (too long, not text, a character that may not stand); spans are offsets in the book. */
  readonly messages: readonly SyntaxMessage[];
}
