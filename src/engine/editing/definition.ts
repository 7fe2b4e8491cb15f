import type { BookTree, Span, Statement, TableTree } from "../../../grammar";
import { workingsOf } from "../book";
import type { Names, TableName } from "../names";
import type { Plan } from "../plan";
import type { Book } from "../report";
import { type MeantHere, meantAt, type Pointed } from "./meaning";
import { knownReferences } from "./references";

/** Where something is named: the stretch of its name in the text of the book. */
export interface Definition {
  readonly from: number;
  readonly to: number;
  /** 1-based. */
  readonly line: number;
}

/**
 * Where the name at an offset of the book is defined. Undefined where no name stands, and for functions and labels of
 * the vocabulary, which no book defines.
 */
export function definitionAt(book: Book, offset: number): Definition | undefined {
  const here = meantAt(book, { in: "book" }, offset);
  if (here === undefined) return undefined;
  const { plan } = workingsOf(book);
  if (here.means.type === "local" && here.pointed === undefined) {
    const statement = plan.tree.statements.findLast((s) => s.at <= here.from)!;
    return { from: here.from, to: here.to, line: statement.line };
  }
  return definitionOf(here.means, here.pointed, plan);
}

type Means = MeantHere["means"];

function definitionOf(means: Means, pointed: Pointed | undefined, plan: Plan): Definition | undefined {
  const { names, tree } = plan;
  switch (means.type) {
    case "value":
      return definedSet(names, means.name);
    case "table":
    case "row":
    case "column":
    case "cell":
    case "foot": {
      const table = names.tables.get(means.table);
      return table && inTable(table, means);
    }
    case "part":
      // A part is made where the whole is that it belongs to.
      return definitionOf(means.of, pointed, plan);
    case "function":
      return definedFunction(names, means.name);
    case "label": {
      const define = names.defines.get(means.function)?.statement;
      return define && parameterOf(define, means.parameter);
    }
    case "local": {
      if (pointed === undefined) return undefined;
      const at = pointed.word.from - pointed.source.shift;
      const statement = tree.statements.findLast((s) => s.at <= at);
      return statement && localIn(tree, statement, means.name, at);
    }
    default:
      return undefined;
  }
}

const placed = (statement: Statement, span: Span): Definition => ({
  from: statement.at + span.from,
  to: statement.at + span.to,
  line: statement.line,
});

function definedSet(names: Names, name: string): Definition | undefined {
  const statement = names.sets.get(name)?.statement;
  return statement && named(statement);
}

function definedFunction(names: Names, name: string): Definition | undefined {
  const statement = names.defines.get(name)?.statement;
  return statement && named(statement);
}

/** The name in a statement; of one that cannot be read, the whole of it. */
function named(statement: Statement): Definition {
  const { node, length } = statement;
  return placed(statement, "nameSpan" in node ? node.nameSpan : { from: 0, to: length });
}

type InTable = Extract<Means, { table: string }>;

function inTable({ tree, byName, feet }: TableName, means: InTable): Definition | undefined {
  if (means.type === "table") return placed(tree.statement, tree.statement.node.nameSpan);
  if (means.type === "row") return cellAt(tree, means.row, 0);
  if (means.type === "foot") {
    const foot = feet.get(means.column)?.statement;
    return foot ? named(foot) : placed(tree.statement, tree.statement.node.nameSpan);
  }
  const column = byName.get(means.column);
  if (column?.statement) return named(column.statement);
  if (column?.typed === undefined) return undefined;
  const cell = means.type === "cell" ? cellAt(tree, means.row, column.typed) : undefined;
  return cell ?? (tree.heading && placed(tree.heading, tree.heading.node.columns[column.typed]!.nameSpan));
}

function cellAt(tree: TableTree, row: number, column: number): Definition | undefined {
  const statement = tree.rows[row];
  const cell = statement?.node.cells[column];
  return statement && cell && placed(statement, cell.span);
}

export function parameterOf(statement: Statement, name: string): Definition | undefined {
  const { node } = statement;
  const parameter = node.type === "define" ? node.parameters.find((p) => p.name === name) : undefined;
  return parameter && placed(statement, parameter.span);
}

/** A parameter, or the variable of the nearest `find` before it, or that of a curve, which stands behind its formula. */
function localIn(tree: BookTree, statement: Statement, name: string, at: number): Definition | undefined {
  const parameter = parameterOf(statement, name);
  if (parameter) return parameter;
  const variables = knownReferences(tree)
    .references.filter((r) => r.statement === statement && r.as === "variable" && r.name === name)
    .map((r) => placed(statement, r.span))
    .sort((a, b) => a.from - b.from);
  return variables.findLast((v) => v.from < at) ?? variables[0];
}
