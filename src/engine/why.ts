import { type Formula, parseFormula, type Span, type Statement, writeName, writePart } from "../../grammar";
import { asDifference, format, quantity, sigma, type Unit } from "../quantity";
import { vocabulary } from "../vocabulary";
import type { Value } from "../vocabulary/value";
import type { Calculation } from "./calculation";
import { compile, type Scope } from "./compile";
import type { Code } from "./environment";
import { gapWords } from "./fault";
import type { Sink, Sources } from "./items";
import { originOf, sourceOf } from "./items";
import { inText } from "./literals";
import { cellsKey, footKey, setKey, type TableName } from "./names";
import { rowLabel } from "./plan";
import type { Explanation, Shown } from "./report";
import { show } from "./show";
import { childrenOf } from "./syntax";

/** Entries of a list that the working writes out. */
const LIST_SHOWN = 6;
/** Steps of working that are shown. */
const STEPS_SHOWN = 24;

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
    if (row < 0) {
      row = rows.names.findIndex(
        (_, i) => rowLabel(rows, i) === writePart(wanted) || rowLabel(rows, i) === `\`${wanted}\``,
      );
    }
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

/** How a value came about: its formula, the working, what it used and what carries its uncertainty. */
export function explain(located: Located, sources: Sources, sinks: readonly Sink[]): Explanation {
  const { calculation, text } = sources;
  const { statement, formula, scope, row, value, path } = located;
  const origin = originOf(formula);
  const shown = show(value, path, located.label, formula ? origin : "typed");
  const node = calculation.plan.nodes.get(located.key)!;
  const owner = { pathOf: (r: number) => node.pathOf(r) };
  const run = (code: Code, at = row): Value => calculation.evaluate(code, owner, at);
  const written = sourceOf(text, statement, located.span);
  const functions = formula ? [...compile(formula, scope).functions] : [];

  const uses: Shown[] = [];
  const working: { text: string; result: string }[] = [];
  let filled = written;
  // A whole computed column has its formula, but a value only row by row.
  const workable = formula !== undefined && (row >= 0 || scope.place !== "row");
  if (formula) {
    const paths = pathsIn(formula);
    const values = new Map<Formula, Value>();
    for (const p of paths) {
      const resolved = resolvedPath(p, scope, calculation, row);
      const v = workable ? run(compile(p, scope).code) : wholeValue(p, scope, calculation);
      values.set(p, v);
      if (!uses.some((u) => u.path === resolved))
        uses.push(show(v, resolved, lastPart(resolved), originAt(resolved, calculation)));
    }
    if (workable) {
      const fill = (within: Formula): string =>
        filledIn(within, paths, values, (span) => sourceOf(text, statement, span));
      filled = fill(formula);
      for (const part of stepsIn(formula).slice(0, STEPS_SHOWN)) {
        const result = part === formula ? value : run(compile(part, scope).code);
        working.push({ text: fill(part), result: tell(result) });
      }
    }
  }

  const dependants = (calculation.plan.dependants.get(located.key) ?? []).filter(
    (key) => key !== located.key,
  );
  const usedBy = dependants.map((key) => calculation.plan.nodes.get(key)!.pathOf(-1));
  for (const sink of sinks) if (sink.compiled.references.has(located.key)) usedBy.push(sink.path);

  return {
    path,
    shown,
    formula: written,
    filled,
    working,
    uses,
    usedBy: [...new Set(usedBy)],
    functions: functions.map((name) => {
      const d = vocabulary.get(name)!;
      return {
        name,
        says: d.says,
        equation: d.equation,
        source: d.source,
        range: d.range,
        ...(d.trust !== undefined && { trust: d.trust }),
        ...(d.cautions && { cautions: d.cautions }),
      };
    }),
    contributions: contributionsTo(value),
    notes: value.notes ?? [],
    from: statement.at + located.span.from,
    to: statement.at + located.span.to,
  };
}

function contributionsTo(value: Value): Explanation["contributions"] {
  if (value.type !== "quantity" || !value.spread) return [];
  const total = sigma(value.spread) ** 2;
  if (total === 0) return [];
  const { unit } = value;
  return [...value.spread]
    .map(([input, amount]) => ({
      // The route behind @ keeps two calls apart; the reader needs the equation only.
      input: input.replace(/ @.*$/u, ""),
      share: amount ** 2 / total,
      amount: `${format(quantity({ v: Number(Math.abs(amount).toPrecision(2)), dp: -1 }, differenceUnit(unit)))}`,
      size: Math.abs(amount),
    }))
    .sort((a, b) => b.size - a.size || (a.input < b.input ? -1 : 1))
    .map(({ input, share, amount }) => ({ input, share, amount }));
}

function differenceUnit(unit: Unit): Unit {
  return unit.offset ? asDifference(unit) : unit;
}

/** Names and paths in a formula, whole and outermost, without those that are bound inside it. */
function pathsIn(formula: Formula): Formula[] {
  const found: Formula[] = [];
  const walk = (node: Formula, bound: ReadonlySet<string>): void => {
    if (node.type === "name") {
      if (!bound.has(node.name)) found.push(node);
      return;
    }
    if (node.type === "part") {
      let base: Formula = node;
      while (base.type === "part") base = base.of;
      if (base.type === "name") {
        if (!bound.has(base.name)) found.push(node);
        return;
      }
      walk(base, bound);
      return;
    }
    if (node.type === "find") {
      walk(node.from, bound);
      walk(node.to, bound);
      walk(node.goal, new Set([...bound, node.name]));
      return;
    }
    if (node.type === "where") {
      // The names of the condition belong to each row, not to this place.
      walk(node.of, bound);
      return;
    }
    for (const child of childrenOf(node)) walk(child, bound);
  };
  walk(formula, new Set());
  return found;
}

/** The operations in a formula, innermost first; what stands inside `find`, `where` or a list is not taken apart. */
function stepsIn(formula: Formula): Formula[] {
  const found: Formula[] = [];
  const walk = (node: Formula): void => {
    if (node.type !== "find" && node.type !== "where") for (const child of childrenOf(node)) walk(child);
    const leaf = [
      "number",
      "date",
      "text",
      "truth",
      "blank",
      "name",
      "part",
      "list",
      "spread",
      "unread",
    ].includes(node.type);
    if (
      !leaf ||
      (node.type === "part" && childrenOf(node)[0]?.type !== "name" && childrenOf(node)[0]?.type !== "part")
    )
      found.push(node);
  };
  walk(formula);
  if (found[found.length - 1] !== formula) found.push(formula);
  return found;
}

function filledIn(
  within: Formula,
  paths: readonly Formula[],
  values: ReadonlyMap<Formula, Value>,
  source: (span: Span) => string,
): string {
  const inside = paths.filter((p) => p.span.from >= within.span.from && p.span.to <= within.span.to);
  let out = "";
  let at = within.span.from;
  for (const path of [...inside].sort((a, b) => a.span.from - b.span.from)) {
    if (path.span.from < at) continue;
    out += source({ from: at, to: path.span.from });
    const value = values.get(path)!;
    out += value.type === "record" ? source(path.span) : tell(value);
    at = path.span.to;
  }
  return out + source({ from: at, to: within.span.to });
}

/** A value in a line of working. */
function tell(value: Value): string {
  switch (value.type) {
    case "gap":
      return `(${gapWords(value)})`;
    case "fault":
      return "(fault)";
    case "record":
      return [...value.parts].map(([name, part]) => `${name}: ${tell(part)}`).join(", ");
    case "list": {
      const entries = value.entries.slice(0, LIST_SHOWN).map(tell);
      return `[${entries.join(", ")}${value.entries.length > LIST_SHOWN ? `, … ${value.entries.length} in all` : ""}]`;
    }
    case "text":
      return `"${value.text}"`;
    default:
      return inText(value);
  }
}

/** Full path of a name as it stands in a formula: `volume` in a row is `distillates.juniper.volume`. */
function resolvedPath(node: Formula, scope: Scope, calculation: Calculation, row: number): string {
  const parts: string[] = [];
  let base = node;
  while (base.type === "part") {
    parts.unshift(base.part);
    base = base.of;
  }
  if (base.type !== "name") return "";
  const rest = parts.map((p) => `.${writePart(p)}`).join("");
  const { table } = scope;
  if (table) {
    const at = (r: number, column: string): string =>
      calculation.plan.nodes.get(cellsKey(table.name, column))?.pathOf(r) ?? column;
    if (base.name === "before" && parts[0] !== undefined)
      return row > 0 ? at(row - 1, parts[0]) : `before.${parts[0]}`;
    if (base.name === "foot") return `${writeName(table.name)}.foot${rest}`;
    if (base.name === "book")
      return [writeName(parts[0]!), ...parts.slice(1).map((p) => writePart(p))].join(".");
    if (table.byName.has(base.name)) return at(scope.place === "row" ? row : -1, base.name) + rest;
  }
  return writeName(base.name) + rest;
}

const lastPart = (path: string): string => path.replace(/`/gu, "").split(".").pop() ?? path;

/** In a whole column, a bare column name is that column. */
function wholeValue(node: Formula, scope: Scope, calculation: Calculation): Value {
  const wide: Scope = scope.place === "row" ? { ...scope, place: "foot" } : scope;
  return calculation.evaluate(compile(node, wide).code, { pathOf: () => "" });
}

function originAt(path: string, calculation: Calculation): Shown["origin"] {
  const located = locate(path, calculation);
  return located?.formula ? originOf(located.formula) : "typed";
}
