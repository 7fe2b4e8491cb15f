import "../../../grammar/alterations-here";
import {
  type BookTree,
  canBeName,
  type Edited,
  type Meaning,
  normalName,
  type Patch,
  type Renamed,
  rename,
  type Span,
  type Statement,
  type TableTree,
  writeName,
} from "../../../grammar";
import { rowName } from "../../../grammar/book-names";
import { formulasIn, formulasOf } from "../../../grammar/walk";
import type { Book } from "../report";
import { parameterOf } from "./definition";
import { knownReferences } from "./references";

/** Something with a name that can be given another one. */
export interface NameHere {
  /** The name at the offset that was asked about, in the text of the book. */
  readonly from: number;
  readonly to: number;
  readonly name: string;
  /** What it names, in a word: "value", "table", "column", "row", "function", "parameter", "variable". */
  readonly what: string;
  /** The path that `referencesTo` takes; a parameter or variable, known in its own line only, has none. */
  readonly path?: string;
}

type Target = Renamed | { readonly kind: "local"; readonly statement: Statement };

interface Here {
  readonly at: number;
  readonly span: Span;
  readonly name: string;
  readonly target: Target;
}

const words: Readonly<Record<Target["kind"], string>> = {
  set: "value",
  define: "function",
  table: "table",
  column: "column",
  row: "row",
  local: "parameter",
};

/** The name at an offset of the book, where it is defined or used; undefined where there is none to change. */
export function nameAt(book: Book, offset: number): NameHere | undefined {
  const here = hereAt(book.tree, offset);
  if (here === undefined) return undefined;
  const { at, span, name, target } = here;
  const variable = target.kind === "local" && parameterOf(target.statement, name) === undefined;
  const path = pathOf(name, target);
  return {
    from: at + span.from,
    to: at + span.to,
    name,
    what: variable ? "variable" : words[target.kind],
    ...(path !== undefined && { path }),
  };
}

function pathOf(name: string, target: Target): string | undefined {
  if (target.kind === "local") return undefined;
  const own = writeName(name);
  return target.kind === "column" || target.kind === "row" ? `${writeName(target.table.name)}.${own}` : own;
}

/**
 * Gives the name at an offset another one, wherever it is used. Refused, with what stands in the way, when there is no
 * name, when the new one cannot be one or is taken, or when a use could not be told from something else afterwards.
 */
export function renameAt(book: Book, offset: number, newName: string): Edited {
  const here = hereAt(book.tree, offset);
  if (here === undefined) {
    return {
      refused: {
        code: "rename-nothing",
        says: "There is no name of this book here.",
        help: "Names of values, tables, columns, rows and functions of the book can be changed; those of the vocabulary cannot.",
      },
    };
  }
  const { name, target } = here;
  return target.kind === "local"
    ? renameLocal(book.tree, target.statement, name, newName)
    : rename(book.tree, target, newName);
}

function hereAt(tree: BookTree, offset: number): Here | undefined {
  return defined(tree, offset) ?? used(tree, offset);
}

const within = (span: Span, at: number): boolean => span.from <= at && at <= span.to;

/** A name where it is defined. */
function defined(tree: BookTree, offset: number): Here | undefined {
  const statement = tree.statements.findLast((s) => s.at <= offset);
  if (statement === undefined) return undefined;
  const { at, node } = statement;
  const table = tree.tableOf.get(statement);
  const inside = offset - at;
  const here = (span: Span, name: string, target: Target | undefined): Here | undefined =>
    target && within(span, inside) ? { at, span, name, target } : undefined;
  switch (node.type) {
    case "set":
      return here(node.nameSpan, node.name, { kind: "set", statement });
    case "define": {
      const parameter = node.parameters.find((p) => within(p.span, inside));
      return parameter
        ? { at, span: parameter.span, name: parameter.name, target: { kind: "local", statement } }
        : here(node.nameSpan, node.name, { kind: "define", statement });
    }
    case "table":
      return here(node.nameSpan, node.name, table && { kind: "table", table });
    case "column":
    case "foot":
      return here(node.nameSpan, node.name, table && { kind: "column", table, name: node.name });
    case "heading": {
      const column = node.columns.find((c) => within(c.nameSpan, inside));
      return (
        column && here(column.nameSpan, column.name, table && { kind: "column", table, name: column.name })
      );
    }
    case "row": {
      // A row that stands in no table has no cells.
      const [cell] = node.cells;
      if (table === undefined || cell === undefined || cell.content.type === "blank") return undefined;
      const row = table.rows.indexOf(statement as TableTree["rows"][number]);
      return here(cell.span, rowName(table.rows[row]!), { kind: "row", table, row });
    }
    default:
      return undefined;
  }
}

/** A name where it is used. */
function used(tree: BookTree, offset: number): Here | undefined {
  const { references } = knownReferences(tree);
  const reference = references.find(({ statement, span }) => within(span, offset - statement.at));
  if (reference === undefined) return undefined;
  const { statement, span, name } = reference;
  const target = targetOf(reference.meaning, statement);
  return target && { at: statement.at, span, name, target };
}

function targetOf(meaning: Meaning, statement: Statement): Target | undefined {
  switch (meaning.kind) {
    case "row":
      return {
        kind: "row",
        table: meaning.table,
        row: meaning.table.rows.findIndex((row) => rowName(row) === meaning.name),
      };
    case "local":
      return { kind: "local", statement };
    case "open":
      return undefined;
    default:
      return meaning;
  }
}

// ---- parameters and variables

/** A parameter, or the variable of a `find` or a curve: it is known in its own statement only. */
function renameLocal(tree: BookTree, statement: Statement, old: string, typed: string): Edited {
  const refuse = (code: string, says: string, help?: string): Edited => ({
    refused: help === undefined ? { code, says } : { code, says, help },
  });
  const name = normalName(typed.trim());
  if (!canBeName(name))
    return refuse("name-empty", "A parameter needs a name, without a backtick and on one line.");
  if (name === old) return { patches: [] };
  const { node } = statement;
  const uses = knownReferences(tree).references.filter((r) => r.statement === statement);
  const parameters = node.type === "define" ? node.parameters : [];
  const variables = uses.filter((r) => r.as === "variable" && r.meaning.kind === "local");
  const declared = [...parameters, ...variables].filter((one) => one.name === old);
  if (declared.length !== 1)
    return refuse(
      "name-unclear",
      `\`${old}\` stands for more than one thing in this line.`,
      "Change it by hand.",
    );
  const taken =
    parameters.some((p) => p.name === name) ||
    uses.some((r) => r.name === name && r.as !== "part" && r.as !== "call");
  if (taken) return refuse("name-taken", `\`${name}\` is used in this line already.`, "Choose another name.");
  const patches: Patch[] = [];
  const put = ({ at, node }: Statement, { from, to }: Span): void => {
    patches.push({ from: at + from, to: at + to, insert: writeName(name, node.type === "row") });
  };
  for (const { span } of declared) put(statement, span);
  for (const r of uses)
    if (r.name === old && r.meaning.kind === "local" && r.as === "bare") put(statement, r.span);
  if (node.type === "define" && knownReferences(tree).names.defines.get(node.name) === statement)
    for (const each of tree.statements) for (const span of labelsIn(each, node.name, old)) put(each, span);
  return { patches };
}

/** Where the calls of a function in a statement give one of its parameters by the label. */
function labelsIn({ node }: Statement, call: string, label: string): readonly Span[] {
  return formulasOf(node)
    .flatMap((formula) => [...formulasIn(formula)])
    .flatMap((one) => (one.type === "call" && one.name === call ? one.arguments : []))
    .flatMap((argument) => (argument.label === label ? [argument.labelSpan!] : []));
}
