import { parseBook, type Statement, type TableTree } from "../../../grammar";
import type { Workings } from "../book";
import { cellsKey, footKey, setKey, type TableName } from "../names";
import type { Field } from "./field";
import { outermost, type Place, placeIn } from "./place";

/** The stretch of a field that is read by itself: a statement, a cell, a formula. */
export interface Source {
  readonly text: string;
  /** Offset in `text` = offset in the field + `shift`. */
  readonly shift: number;
  readonly reads: "statement" | "formula" | "cell" | "heading" | "sentence" | "start" | "nothing";
  /** Bars inside names are written `\|`. */
  readonly escapes: boolean;
  readonly place: Place;
  /** The typed column whose cell it is. */
  readonly column?: { readonly table: TableName; readonly name: string; readonly row: number };
  /** The table to which the statement belongs, or that stands nearest above a new one. */
  readonly table?: TableName;
  /** Whether the statement before it belongs to that table, so that one more is likely to. */
  readonly directlyBelow?: boolean;
  /** Whether it is the condition of a check. */
  readonly asks?: boolean;
  /** Name of the `set` whose trial range it is. */
  readonly trial?: string;
}

/** Finds what is being written in a field at the caret. */
export function sourceAt(workings: Workings, field: Field, caret: number): Source {
  const { plan } = workings;
  const { names } = plan;
  const outside = outermost(workings);
  const core = { shift: 0, escapes: false, place: outside };
  switch (field.in) {
    case "book":
      return inBook(plan.tree.text, field.text, plan, outside, caret);
    case "value":
      return { ...core, text: field.text, reads: "formula", place: { ...outside, self: setKey(field.name) } };
    case "trial": {
      const before = "set x = 0 try ";
      return {
        ...core,
        text: before + field.text,
        shift: before.length,
        reads: "statement",
        trial: field.name,
      };
    }
    case "define": {
      const parameters = names.defines.get(field.name)?.parameters ?? [];
      const scope = { ...outside.scope, frames: [parameters] };
      return { ...core, text: field.text, reads: "formula", place: { ...outside, scope } };
    }
    case "column":
    case "cell":
    case "foot":
    case "heading":
      return inTable(field, core, names.tables.get(field.table));
    case "check":
      return { ...core, text: field.text, reads: "formula", asks: true };
    case "formula":
      return { ...core, text: field.text, reads: "formula" };
    case "chart": {
      const before = 'chart "" : ';
      return { ...core, text: before + field.text, shift: before.length, reads: "statement" };
    }
    case "clauses": {
      const before = 'step "" ';
      return { ...core, text: before + field.text, shift: before.length, reads: "statement" };
    }
    case "sentence":
      return { ...core, text: field.text, reads: "sentence" };
    case "statement": {
      const table = field.table === undefined ? undefined : names.tables.get(field.table);
      const from = field.text.length - field.text.trimStart().length;
      return {
        ...core,
        text: field.text.slice(from),
        shift: -from,
        reads: caret < from ? "nothing" : readsAs(field.text.slice(from, caret)),
        ...(table && { table }),
      };
    }
  }
}

type TableField = Extract<Field, { table: string; in: "column" | "cell" | "foot" | "heading" }>;

function inTable(
  field: TableField,
  core: Pick<Source, "shift" | "escapes" | "place">,
  table: TableName | undefined,
): Source {
  const { text } = field;
  const plain: Source = { ...core, text, reads: field.in === "heading" ? "heading" : "formula" };
  // A table that is not there any more: its names mean nothing, but the book's still do.
  if (table === undefined || field.in === "heading") return plain;
  const place = placeIn(table, field.in === "foot" ? "foot" : "row", core.place);
  if (field.in === "foot")
    return { ...plain, table, place: { ...place, self: footKey(table.name, field.column) } };
  const row = field.row ?? -1;
  const self = cellsKey(table.name, field.column);
  if (field.in === "column") return { ...plain, table, place: { ...place, row, self } };
  return cellSource(text, 0, table, field.column, row, { ...place, row, self }, false);
}

function cellSource(
  text: string,
  shift: number,
  table: TableName,
  column: string,
  row: number,
  place: Place,
  escapes: boolean,
): Source {
  const blanks = text.length - text.trimStart().length;
  const isFormula = text.startsWith("=", blanks);
  const skip = isFormula ? blanks + 1 : 0;
  return {
    text: text.slice(skip),
    shift: shift - skip,
    reads: isFormula ? "formula" : "cell",
    escapes,
    place,
    column: { table, name: column, row },
    table,
  };
}

/** A first word that is still being written begins a statement; anything longer is one. */
const readsAs = (written: string): "start" | "statement" =>
  /^[\p{L}_]*$/u.test(written) ? "start" : "statement";

function inBook(
  bookText: string,
  draft: string | undefined,
  plan: Workings["plan"],
  outside: Place,
  caret: number,
): Source {
  const { names } = plan;
  const tree = draft === undefined || draft === bookText ? plan.tree : parseBook(draft, plan.tree);
  const { text, statements } = tree;
  const index = lastBefore(statements, caret);
  const statement = statements[index];
  const nothing: Source = { text, shift: 0, reads: "nothing", escapes: false, place: outside };
  const treeTable = statement && tree.tableOf.get(statement);
  const nearest = treeTable ?? tree.tables.findLast((t) => t.statement.at < caret);
  const table = nearest && names.tables.get(nearest.name);
  const lineStart = text.lastIndexOf("\n", caret - 1) + 1;
  const line = text.slice(lineStart, caret);
  if (statement === undefined || !reaches(text, statement, caret)) {
    // A line of its own. Blanks only, for otherwise a statement would have begun.
    if (line.trim() !== "") return nothing;
    return { ...nothing, text: "", shift: -caret, reads: "start", ...below(table, treeTable) };
  }
  const { at, node } = statement;
  if (node.type === "heading" || node.type === "row") {
    if (table === undefined || treeTable === undefined) return nothing;
    const cells = node.type === "row" ? node.cells : node.columns.map((c) => ({ slot: c.span }));
    const column = cells.findIndex((c) => caret - at <= c.slot.to);
    const cell = cells[column];
    // A heading's cell begins at its name, behind the blank.
    if (cell === undefined || caret - at < cell.slot.from) return nothing;
    const from = at + cell.slot.from;
    if (node.type === "heading")
      return {
        ...nothing,
        text: text.slice(from, at + cell.slot.to),
        shift: -from,
        reads: "heading",
        escapes: true,
      };
    const name = table.columns.find((c) => c.typed === column)?.name;
    if (name === undefined) return nothing;
    const row = treeTable.rows.indexOf(statement as TableTree["rows"][number]);
    const place = { ...placeIn(table, "row", outside), row, self: cellsKey(table.name, name) };
    return cellSource(text.slice(from, at + cell.slot.to), -from, table, name, row, place, true);
  }
  const end = Math.max(caret, at + statement.length);
  const source = text.slice(at, end);
  return {
    ...nothing,
    text: source,
    shift: -at,
    reads: readsAs(text.slice(at, caret)),
    ...below(table, statements[index - 1] && tree.tableOf.get(statements[index - 1]!)),
  };
}

function below(
  table: TableName | undefined,
  before: TableTree | undefined,
): Pick<Source, "table" | "directlyBelow"> {
  return table ? { table, directlyBelow: before?.name === table.name } : {};
}

/** The last statement that begins before the caret. */
export function lastBefore(statements: readonly Statement[], caret: number): number {
  let low = 0;
  let high = statements.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (statements[middle]!.at < caret) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

const GOES_ON =
  /(?:[-+−*×·/÷^±<>=≤≥≠,:([]|(?:^|[^\p{L}\p{M}\p{Nd}_])(?:and|or|not|is|in|within|to|step|if|then|else|where|find|from|so|that))[ \t]*$/u;

/** Whether a caret still writes at a statement: in it, behind it on its line, or on the next line when it goes on there. */
function reaches(text: string, statement: Statement, caret: number): boolean {
  const end = statement.at + statement.length;
  if (caret <= end) return true;
  const between = text.slice(end, caret);
  if (between.includes("#") || /\n[^\n]*\n/.test(between)) return false;
  if (!between.includes("\n")) return statement.node.type !== "row" && statement.node.type !== "heading";
  if (between.trim() !== "") return false;
  return GOES_ON.test(text.slice(statement.at, end));
}
