import type { Span, Statement } from "../../../grammar";
import { type Workings, workingsOf } from "../book";
import type { TableName } from "../names";
import type { Book } from "../report";
import type { Field } from "./field";
import { bookName, cellOf, columnOf, type Found, footOf, localNamed, rowOf } from "./found";
import { outermost, type Place } from "./place";
import { knownReferences } from "./references";
import { lastBefore } from "./source";

/** A place in the text of a book where something is named or typed, not used. */
export interface NamingPlace {
  /** In the text of the book. */
  readonly from: number;
  readonly to: number;
  readonly found?: Found;
  readonly means: Found["meant"] | { readonly type: "function"; readonly name: string; readonly own: true };
}

/**
 * What is named or typed at an offset: the name of a statement, a parameter, what a `find` or a curve moves, a heading,
 * the name of a row, a typed cell.
 */
export function namingPlaceAt(book: Book, field: Field, offset: number): NamingPlace | undefined {
  if (field.in !== "book" || (field.text !== undefined && field.text !== book.text)) return undefined;
  const workings = workingsOf(book);
  const { tree } = workings.plan;
  const statement = tree.statements[lastBefore(tree.statements, offset + 1)];
  if (statement === undefined || offset > statement.at + statement.length) return undefined;
  const table = workings.plan.names.tables.get(tree.tableOf.get(statement)?.name ?? "");
  const here = placeIn(workings, statement, table, offset - statement.at);
  if (here === undefined) return undefined;
  return { ...here, from: statement.at + here.from, to: statement.at + here.to };
}

const within = ({ from, to }: Span, at: number): boolean => from <= at && at <= to;

function placeIn(
  workings: Workings,
  statement: Statement,
  table: TableName | undefined,
  at: number,
): NamingPlace | undefined {
  const { node } = statement;
  const { names } = workings.plan;
  const place: Place = outermost(workings);
  const named = (span: Span, found: Found | undefined): NamingPlace | undefined =>
    found && within(span, at) ? { ...span, found, means: found.meant } : undefined;
  /** What a `find` or a curve moves: a value of the book, or a name of its own. */
  const variable = (): NamingPlace | undefined => {
    const moved = knownReferences(workings.plan.tree).references.find(
      (r) => r.as === "variable" && r.statement === statement && within(r.span, at),
    );
    if (moved === undefined) return undefined;
    const { kind } = moved.meaning;
    return named(moved.span, kind === "set" ? bookName(moved.name, place) : localNamed(moved.name, place));
  };
  switch (node.type) {
    case "set":
      return names.sets.get(node.name)?.statement === statement && within(node.nameSpan, at)
        ? named(node.nameSpan, bookName(node.name, place))
        : variable();
    case "define": {
      if (within(node.nameSpan, at))
        return { ...node.nameSpan, means: { type: "function", name: node.name, own: true } };
      const parameter = node.parameters.find(({ span }) => within(span, at));
      return parameter ? named(parameter.span, localNamed(parameter.name, place)) : variable();
    }
    case "table":
      return table && named(node.nameSpan, bookName(node.name, place));
    case "column":
      return table?.byName.get(node.name)?.statement === statement && within(node.nameSpan, at)
        ? named(node.nameSpan, columnOf(table, node.name, place))
        : variable();
    case "foot":
      return table?.feet.get(node.name)?.statement === statement && within(node.nameSpan, at)
        ? named(node.nameSpan, footOf(table, node.name, place))
        : variable();
    case "heading": {
      const index = node.columns.findIndex((c) => within(c.nameSpan, at));
      const column = table?.columns.find((c) => c.typed === index);
      return table && column && named(node.columns[index]!.nameSpan, columnOf(table, column.name, place));
    }
    case "row":
      return variable() ?? (table && cellIn(node.cells, table, statement, at, place));
    default:
      return variable();
  }
}

function cellIn(
  cells: Extract<Statement["node"], { type: "row" }>["cells"],
  table: TableName,
  statement: Statement,
  at: number,
  place: Place,
): NamingPlace | undefined {
  const index = cells.findIndex((c) => c.content.type !== "blank" && within(c.span, at));
  const cell = cells[index];
  const column = table.columns.find((c) => c.typed === index);
  if (cell === undefined || column === undefined) return undefined;
  const row = table.tree.rows.indexOf(statement as (typeof table.tree.rows)[number]);
  const found = index === 0 ? rowOf(table, row, place) : cellOf(table, column.name, row, place);
  return { ...cell.span, found, means: found.meant };
}
