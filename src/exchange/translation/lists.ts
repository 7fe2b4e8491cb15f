import type { Unit } from "../../quantity";
import { call, type Expression, number, operation, plus, range, text } from "../expression";
import type { Desk } from "./calls";
import { inUnit } from "./quantities";
import { anyOf, keyOf, type ListTerm, NotLive, type Term } from "./term";

/** Cells below each other that hold the entries of a list: numbers, and empty text where there is none. */
export interface Column {
  readonly cells: Expression & { readonly type: "range" };
  readonly length: number;
  /** Unit of the numbers; undefined for dates. */
  readonly unit?: Unit;
  readonly holds: "quantity" | "date";
  /** Some entry may be empty. */
  readonly gaps: boolean;
  readonly error: number;
}

/** The entries of a list as a column of cells: the cells of the book where they stand so, else helper cells. */
export function columnOf(list: ListTerm, what: string, desk: Desk): Column {
  if (list.length === 0) throw new NotLive("a list without entries");
  const first = firstFilled(list);
  if (first.type !== "quantity" && first.type !== "date")
    throw new NotLive("a total of something else than numbers");
  const unit = first.type === "quantity" ? first.unit : undefined;
  const holds = first.type;
  if (list.block !== undefined && list.chosen === undefined) {
    return {
      cells: list.block,
      length: list.length,
      holds,
      gaps: list.gaps,
      error: errorOf(first),
      ...(unit === undefined ? {} : { unit }),
    };
  }
  let error = 0;
  const names: string[] = [];
  const entries: Expression[] = [];
  for (let i = 0; i < list.length; i++) {
    const entry = list.entry(i);
    names.push(`${what}: ${list.origin?.names[i] || i + 1}`);
    const chosen = list.chosen?.(i).expression;
    if (entry.type === "blank") {
      entries.push(text(""));
      continue;
    }
    if (entry.type !== holds) throw new NotLive("a list of different sorts");
    const expression = entry.type === "quantity" ? inUnit(entry, unit!).expression : entry.expression;
    error = Math.max(error, errorOf(entry));
    const there =
      entry.missing.length === 0 ? expression : call("IF", anyOf(entry.missing), text(""), expression);
    entries.push(chosen === undefined ? there : call("IF", chosen, there, text("")));
  }
  const cells = desk.working.block(desk.path, names, entries);
  return {
    cells,
    length: list.length,
    holds,
    gaps: list.gaps || list.chosen !== undefined,
    error,
    ...(unit === undefined ? {} : { unit }),
  };
}

const errorOf = (t: Term): number => (t.type === "quantity" ? t.error : 0);

function firstFilled(list: ListTerm): Term {
  for (let i = 0; i < list.length; i++) {
    const entry = list.entry(i);
    if (entry.type !== "blank") return entry;
  }
  throw new NotLive("a list that is blank throughout");
}

/** Cell i (from 0) of a column. */
export const cellOf = (column: Column, i: number): Expression => {
  const { from } = column.cells;
  return { type: "cell", at: { sheet: from.sheet, row: from.row + i, column: from.column } };
};

/**
 * The sum over the chosen rows of a table in one expression, where every row says the same of its own cells:
 * `SUMPRODUCT((condition)*1; values)`. Undefined where rows differ or something is used that does not work on
 * whole columns.
 */
export function sumOverRows(
  list: ListTerm,
): { expression: Expression; unit: Unit; error: number } | undefined {
  const { origin, chosen } = list;
  if (origin === undefined || chosen === undefined || list.length < 2) return undefined;
  const [first, second] = [list.entry(0), list.entry(1)];
  if (first.type !== "quantity" || second.type !== "quantity" || first.missing.length > 0) return undefined;
  // Only whole, unbroken tables: rows chosen before may stand anywhere.
  if (origin.rows.some((row, i) => row !== i)) return undefined;
  const places = (i: number) =>
    rowOfCells([list.entry(i) as typeof first, chosen(i)].map((t) => t.expression));
  const rows = [places(0), places(1)];
  if (
    rows[0] === undefined ||
    rows[1] === undefined ||
    rows[1].row !== rows[0].row + 1 ||
    rows[0].sheet !== rows[1].sheet
  )
    return undefined;
  const { sheet, row } = rows[0];
  const widen = (e: Expression, from: number): Expression | undefined =>
    asColumns(e, sheet, from, row, list.length);
  const condition = widen(chosen(0).expression, row);
  const value = widen(first.expression, row);
  const other = [widen(chosen(1).expression, row + 1), widen((second as typeof first).expression, row + 1)];
  if (condition === undefined || value === undefined || other[0] === undefined || other[1] === undefined)
    return undefined;
  if (keyOf(condition) !== keyOf(other[0]) || keyOf(value) !== keyOf(other[1])) return undefined;
  if (!isColumn(condition) || !isColumn(value)) return undefined;
  const expression = call("SUMPRODUCT", operation("*", condition, number(1)), value);
  return { expression, unit: first.unit, error: first.error };
}

const isColumn = (e: Expression): boolean =>
  e.type === "range" ||
  (e.type === "operation" && (isColumn(e.left) || isColumn(e.right))) ||
  (e.type === "negate" && isColumn(e.of)) ||
  (e.type === "call" && e.arguments.some(isColumn));

/** Sheet and row of the first cell that is met. */
function rowOfCells(es: readonly Expression[]): { sheet: string; row: number } | undefined {
  for (const e of es) {
    const found = firstCell(e);
    if (found !== undefined) return found;
  }
  return undefined;
}
function firstCell(e: Expression): { sheet: string; row: number } | undefined {
  if (e.type === "cell") return { sheet: e.at.sheet, row: e.at.row };
  const inner =
    e.type === "operation"
      ? [e.left, e.right]
      : e.type === "call"
        ? e.arguments
        : e.type === "negate"
          ? [e.of]
          : [];
  return rowOfCells(inner);
}

/** The expression with each cell of one row widened to its column; undefined where a part cannot take columns. */
function asColumns(
  e: Expression,
  sheet: string,
  row: number,
  top: number,
  length: number,
): Expression | undefined {
  const inner = (x: Expression): Expression | undefined => asColumns(x, sheet, row, top, length);
  switch (e.type) {
    case "cell":
      if (e.at.sheet !== sheet || e.at.row !== row) return e;
      return range({ ...e.at, row: top }, { ...e.at, row: top + length - 1 });
    case "operation": {
      const left = inner(e.left);
      const right = inner(e.right);
      return left === undefined || right === undefined ? undefined : operation(e.operator, left, right);
    }
    case "negate": {
      const of = inner(e.of);
      return of === undefined ? undefined : { type: "negate", of };
    }
    case "call": {
      const args = e.arguments.map(inner);
      if (args.some((a) => a === undefined)) return undefined;
      const all = args as Expression[];
      if (!all.some(isColumn)) return { ...e, arguments: all };
      if (e.name === "ABS" || e.name === "LOWER" || e.name === "TRIM") return { ...e, arguments: all };
      if (e.name === "NOT") return operation("=", all[0]!, number(0));
      if (e.name === "AND") return all.reduce((a, b) => operation("*", a, b));
      if (e.name === "OR")
        return operation(
          ">",
          all.reduce((a, b) => plus(a, b)),
          number(0),
        );
      return undefined;
    }
    default:
      return e;
  }
}
