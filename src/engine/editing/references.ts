import {
  type BookTree,
  type Reference as GrammarReference,
  type Meaning,
  parseFormula,
  type Statement,
  type TableTree,
} from "../../../grammar";
import { BookNames, rowName } from "../../../grammar/book-names";
import { referencesIn } from "../../../grammar/references";
import type { Book } from "../report";

/** One place in the text of a book where a name is used. */
export interface Reference {
  readonly from: number;
  readonly to: number;
  /** 1-based. */
  readonly line: number;
}

interface Known {
  readonly names: BookNames;
  readonly references: readonly GrammarReference[];
}
const known = new WeakMap<BookTree, Known>();

/** Every use of a name in a book; remembered with its tree. */
export function knownReferences(tree: BookTree): Known {
  let found = known.get(tree);
  if (found === undefined) {
    const names = new BookNames(tree);
    found = { names, references: referencesIn(tree, names) };
    known.set(tree, found);
  }
  return found;
}

/**
 * Every use of a path in the book, in the order of the text, its definition left out: of a value `blend`, of its
 * part `blend.strength`, of a table, `table.column`, `table.row`, `table.row.column`, `table.foot.column`, or of a
 * function of the book. Empty when there is no such thing.
 */
export function referencesTo(book: Book, path: string): readonly Reference[] {
  const { names, references } = knownReferences(book.tree);
  const wanted = wantedBy(path, names);
  if (wanted === undefined) return [];
  const found = references
    .filter((reference) => wanted.is(reference.meaning, reference))
    .map((reference) => withRest(reference, wanted.rest, book.text))
    .filter((reference) => reference !== undefined);
  return found.sort((a, b) => a.from - b.from);
}

interface Wanted {
  is(meaning: Meaning, reference: GrammarReference): boolean;
  /** Parts that must follow. */
  readonly rest: readonly string[];
}

function wantedBy(path: string, names: BookNames): Wanted | undefined {
  const { formula, messages } = parseFormula(path);
  if (messages.some((m) => m.severity === "fault")) return undefined;
  const parts: string[] = [];
  let base = formula;
  while (base.type === "part") {
    parts.unshift(base.part);
    base = base.of;
  }
  if (base.type === "call" && parts.length === 0) return functionWanted(base.name, names);
  if (base.type !== "name") return undefined;
  const table = names.tables.get(base.name);
  if (table !== undefined) return inTable(table, parts, names);
  const statement = names.sets.get(base.name);
  if (statement === undefined) return parts.length === 0 ? functionWanted(base.name, names) : undefined;
  return { is: (meaning) => meaning.kind === "set" && meaning.statement === statement, rest: parts };
}

function functionWanted(name: string, names: BookNames): Wanted | undefined {
  const statement = names.defines.get(name);
  return (
    statement && { is: (meaning) => meaning.kind === "define" && meaning.statement === statement, rest: [] }
  );
}

function inTable(table: TableTree, parts: readonly string[], names: BookNames): Wanted | undefined {
  const [first, ...rest] = parts;
  if (first === undefined)
    return { is: (meaning) => meaning.kind === "table" && meaning.table === table, rest: [] };
  const column =
    (name: string): Wanted["is"] =>
    (meaning) =>
      meaning.kind === "column" && meaning.table === table && meaning.name === name;
  if (names.columnsOf(table).has(first)) return { is: column(first), rest };
  if (first === "foot" && rest[0] !== undefined) {
    const is = column(rest[0]);
    const behindFoot = (meaning: Meaning, { statement, span }: GrammarReference): boolean =>
      is(meaning, {} as GrammarReference) &&
      /(?:^|[^\p{L}\p{M}\p{Nd}_`])foot\s*\.\s*$/u.test(sourceBefore(names.tree, statement, span.from));
    return { is: behindFoot, rest: rest.slice(1) };
  }
  if (!table.rows.some((row) => rowName(row) === first)) return undefined;
  return {
    is: (meaning) => meaning.kind === "row" && meaning.table === table && meaning.name === first,
    rest,
  };
}

const sourceBefore = (tree: BookTree, statement: Statement, at: number): string =>
  tree.text.slice(statement.at, statement.at + at);

const PART = /\s*\.\s*(?:`([^`\n]*)`|([\p{L}\p{M}\p{Nd}_-]+))/uy;

/** A use whose following parts are those that are wanted, widened to hold them. */
function withRest(reference: GrammarReference, rest: readonly string[], text: string): Reference | undefined {
  const { statement, span } = reference;
  const from = statement.at + span.from;
  let to = statement.at + span.to;
  for (const part of rest) {
    PART.lastIndex = to;
    const found = PART.exec(text);
    if (found === null || (found[1] ?? found[2]!).normalize("NFC") !== part) return undefined;
    to = PART.lastIndex;
  }
  return { from, to, line: statement.line };
}
