import { type Formula, parseFormula, type Span, type Statement, writeName, writePart } from "../../grammar";
import type { Value } from "../vocabulary/value";
import type { Calculation } from "./calculation";
import type { Scope } from "./compilation";
import { compile } from "./compile";
import { cellsKey, footKey, setKey, type TableName } from "./names";
import { rowLabel } from "./plan";

/** A value found by its path: what it is, and the formula that made it. */
export interface Located {
  readonly path: string;
  readonly label: string;
  readonly value: Value;
  readonly key: string;
  readonly statement: Statement;
  /** Missing for a typed cell. */
  readonly formula?: Formula;
  readonly scope: Scope;
  readonly row: number;
  /** Span in the statement of what made the value. */
  readonly span: Span;
}

/** Finds a value by its dotted path (`blend.strength`, `distillates.juniper.cost`), as far as there is one. */
export function locate(path: string, calculation: Calculation): Located | undefined {
  const { formula, messages } = parseFormula(path);
  if (messages.some((m) => m.severity === "fault")) return undefined;
  const parts: string[] = [];
  let base = formula;
  while (base.type === "part") {
    parts.unshift(base.part);
    base = base.of;
  }
  if (base.type !== "name") return undefined;
  const { names } = calculation.plan;
  const value = calculation.evaluate(compile(formula, { names, place: "book", frames: [] }).code, {
    pathOf: () => "",
  });
  if (value.type === "fault" && value.place?.path === "") return undefined;
  const set = names.sets.get(base.name);
  const label = parts[parts.length - 1] ?? base.name;
  if (set) {
    return {
      path: [writeName(base.name), ...parts.map((p) => writePart(p))].join("."),
      label,
      value,
      key: setKey(base.name),
      statement: set.statement,
      ...(set.formula && { formula: set.formula }),
      scope: { names, place: "book", frames: [] },
      row: -1,
      span: set.formula?.span ?? { from: 0, to: set.statement.length },
    };
  }
  const table = names.tables.get(base.name);
  if (!table) return undefined;
  return locateInTable(table, parts, value, calculation);
}

function locateInTable(
  table: TableName,
  parts: readonly string[],
  value: Value,
  calculation: Calculation,
): Located | undefined {
  const { names } = calculation.plan;
  const [first, second] = parts;
  const tablePath = writeName(table.name);
  if (first === undefined) return undefined;
  if (first === "foot" && second !== undefined && !table.byName.has("foot")) {
    const foot = table.feet.get(second);
    if (!foot) return undefined;
    return {
      path: `${tablePath}.foot.${writePart(second)}`,
      label: second,
      value,
      key: footKey(table.name, second),
      statement: foot.statement,
      formula: foot.formula,
      scope: { names, table, place: "foot", frames: [] },
      row: -1,
      span: foot.formula.span,
    };
  }
  const rowScope: Scope = { names, table, place: "row", frames: [] };
  const whole = table.byName.get(first);
  const columnName = whole ? first : second;
  const column = columnName === undefined ? undefined : table.byName.get(columnName);
  if (!column || columnName === undefined) return undefined;
  let row = -1;
  if (!whole || second !== undefined) {
    const rows = calculation.rows(table.name);
    const wanted = whole ? second! : first;
    row = rows.names.indexOf(wanted);
    // A row whose name cannot stand in backticks is reached by its number.
    if (row < 0) row = rows.names.findIndex((_, i) => rowLabel(rows, i) === writePart(wanted));
    // The entries of a column are numbered as those of any list, where no row is called so.
    if (row < 0 && whole && /^[1-9]\d*$/.test(wanted) && Number(wanted) <= rows.names.length)
      row = Number(wanted) - 1;
    if (row < 0) return undefined;
  }
  const key = cellsKey(table.name, column.name);
  const node = calculation.plan.nodes.get(key)!;
  const statement = column.statement ?? (row >= 0 ? table.tree.rows[row]! : table.tree.heading!);
  const cell =
    column.typed !== undefined && row >= 0 ? table.tree.rows[row]!.node.cells[column.typed] : undefined;
  const formula = column.formula ?? (cell?.content.type === "formula" ? cell.content.formula : undefined);
  return {
    path: node.pathOf(row),
    label: column.name,
    value: row >= 0 ? calculation.cell(key, row) : value,
    key,
    statement,
    ...(formula && { formula }),
    scope: rowScope,
    row,
    span: formula?.span ?? cell?.span ?? { from: 0, to: statement.length },
  };
}
