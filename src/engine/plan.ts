import { type BookTree, type Cell, type Formula, type Statement, writeName, writePart } from "../../grammar";
import { BOOK_EXPANSION_LIMIT } from "./call-code";
import type { Compiled, Look, References, Scope } from "./compilation";
import { compile } from "./compile";
import type { Owner, Rows } from "./environment";
import {
  type ColumnName,
  cellsKey,
  footKey,
  gatherNames,
  type Names,
  rowsKey,
  setKey,
  type TableName,
} from "./names";

/**
 * What is to be worked out and in which order. A node is a named value, a column (all its rows), a foot, or
 * the rows of a table; edges run between nodes, not between cells, so a table of 20,000 rows has as many
 * edges as one of three. Nodes that need each other form a component, which the calculation works out cell
 * by cell, since a row may well build on the row before.
 */
export interface Plan {
  readonly tree: BookTree;
  readonly names: Names;
  readonly nodes: ReadonlyMap<string, PlanNode>;
  /** In an order in which every component stands behind what it needs. */
  readonly components: readonly (readonly PlanNode[])[];
  /** Keys of the nodes that look at a node. */
  readonly dependants: ReadonlyMap<string, readonly string[]>;
  /** Nodes to be worked out again when `key` changes, as far as `wanted` needs them; in order. */
  between(key: string, wanted: ReadonlySet<string>): readonly (readonly PlanNode[])[];
  /** A node and everything that it needs, in order. */
  above(key: string): readonly (readonly PlanNode[])[];
}

interface NodeCore extends Owner {
  readonly key: string;
  readonly references: References;
}
/** A `set`, or a foot. */
export interface FormulaNode extends NodeCore {
  readonly type: "formula";
  readonly statement: Statement;
  /** Missing when the statement cannot be read. */
  readonly formula?: Formula;
  readonly compiled?: Compiled;
}
export interface ComputedNode extends NodeCore {
  readonly type: "computed";
  readonly statement: Statement;
  readonly table: TableName;
  readonly column: ColumnName;
  readonly formula: Formula;
  readonly compiled: Compiled;
}
export interface TypedNode extends NodeCore {
  readonly type: "typed";
  readonly table: TableName;
  readonly column: ColumnName;
  /** Formulas in single cells, by row. */
  readonly formulas: ReadonlyMap<number, Compiled>;
}
export interface RowsNode extends NodeCore {
  readonly type: "rows";
  readonly table: TableName;
  readonly rows: Rows;
}
export type PlanNode = FormulaNode | ComputedNode | TypedNode | RowsNode;

const NONE: References = new Map();

/**
 * Compiled formulas are kept as long as their tree is, and as long as every name means the same. The names of the
 * arguments around a formula belong to its own statement, and so to its tree.
 */
const compiledBefore = new WeakMap<
  Formula,
  { shape: string; place: Scope["place"]; table: string | undefined; compiled: Compiled }
>();

/**
 * Compiles a formula of the book, or takes it over from the book before. `expansion` counts what definitions
 * come to when they are written out: what is taken over counts as if it were compiled here.
 */
export function compileIn(formula: Formula, scope: Scope, expansion = scope.names.expansion): Compiled {
  const { place, table } = scope;
  const before = compiledBefore.get(formula);
  if (
    before &&
    before.shape === scope.names.shape &&
    before.place === place &&
    before.table === table?.name &&
    !before.compiled.limited &&
    expansion.parts + before.compiled.written <= BOOK_EXPANSION_LIMIT &&
    [...before.compiled.followed].every(([set, told]) => scope.names.sets.get(set)?.formula === told)
  ) {
    expansion.parts += before.compiled.written;
    return before.compiled;
  }
  const compiled = compile(formula, scope, expansion);
  compiledBefore.set(formula, { shape: scope.names.shape, place, table: table?.name, compiled });
  return compiled;
}

export function makePlan(tree: BookTree, previous?: Plan): Plan {
  const gathered = gatherNames(tree);
  const names = gathered;
  const nodes = new Map<string, PlanNode>();

  for (const set of names.sets.values()) {
    const key = setKey(set.name);
    const path = writeName(set.name);
    const compiled =
      set.formula && compileIn(set.formula, { names, own: set.name, place: "book", frames: [] });
    nodes.set(key, {
      type: "formula",
      key,
      statement: set.statement,
      ...(set.formula && { formula: set.formula }),
      ...(compiled && { compiled }),
      references: compiled?.references ?? NONE,
      pathOf: () => path,
    });
  }
  for (const table of names.tables.values()) planTable(table, names, nodes, previous);

  const same = previous && sameEdges(previous, nodes);
  const components = same ? previous.components.map((c) => c.map((n) => nodes.get(n.key)!)) : order(nodes);
  const dependants = same ? previous.dependants : reverse(nodes);
  const between = new WeakMap<ReadonlySet<string>, Map<string, readonly (readonly PlanNode[])[]>>();
  return {
    tree,
    names,
    nodes,
    components,
    dependants,
    between(key, wanted) {
      let byKey = between.get(wanted);
      if (!byKey) {
        byKey = new Map();
        between.set(wanted, byKey);
      }
      let list = byKey.get(key);
      if (!list) {
        const down = reach([key], (k) => dependants.get(k) ?? []);
        const up = reach(wanted, (k) => nodes.get(k)?.references.keys() ?? []);
        down.delete(key);
        list = components.filter((c) => c.some((n) => down.has(n.key) && up.has(n.key)));
        byKey.set(key, list);
      }
      return list;
    },
    above(key) {
      const up = reach([key], (k) => nodes.get(k)?.references.keys() ?? []);
      return components.filter((c) => c.some((n) => up.has(n.key)));
    },
  };
}

function planTable(
  table: TableName,
  names: Names,
  nodes: Map<string, PlanNode>,
  previous: Plan | undefined,
): void {
  const path = writeName(table.name);
  const rowsOfTable = gatherRows(table, previous);
  const rowPath = (column: string) => {
    const name = writePart(column);
    return (row: number): string =>
      row < 0 ? `${path}.${name}` : `${path}.${rowLabel(rowsOfTable, row)}.${name}`;
  };
  nodes.set(rowsKey(table.name), {
    type: "rows",
    key: rowsKey(table.name),
    table,
    rows: rowsOfTable,
    references: NONE,
    pathOf: () => path,
  });
  const scope: Scope = { names, table, place: "row", frames: [] };
  const rowsWithFormulas: { index: number; cells: readonly Cell[] }[] = [];
  table.tree.rows.forEach(({ node }, index) => {
    if (holdsFormula(node)) rowsWithFormulas.push({ index, cells: node.cells });
  });
  for (const column of table.columns) {
    const key = cellsKey(table.name, column.name);
    const pathOf = rowPath(column.name);
    if (column.typed === undefined) {
      const compiled = compileIn(column.formula!, scope);
      nodes.set(key, {
        type: "computed",
        key,
        statement: column.statement!,
        table,
        column,
        formula: column.formula!,
        compiled,
        references: withRows(compiled.references, table),
        pathOf,
      });
      continue;
    }
    const formulas = new Map<number, Compiled>();
    let references = NONE;
    for (const { index, cells } of rowsWithFormulas) {
      const cell = cells[column.typed];
      if (cell?.content.type !== "formula") continue;
      const compiled = compileIn(cell.content.formula, scope);
      formulas.set(index, compiled);
      if (compiled.references.size > 0) {
        if (references === NONE) references = new Map();
        for (const [k, looks] of compiled.references) {
          const all = references.get(k) ?? new Set<Look>();
          for (const look of looks) all.add(look);
          references.set(k, all);
        }
      }
    }
    nodes.set(key, {
      type: "typed",
      key,
      table,
      column,
      formulas,
      references: withRows(references, table),
      pathOf,
    });
  }
  for (const foot of table.feet.values()) {
    const key = footKey(table.name, foot.name);
    const compiled = compileIn(foot.formula, { names, table, place: "foot", frames: [] });
    const footPath = `${path}.foot.${writePart(foot.name)}`;
    nodes.set(key, {
      type: "formula",
      key,
      statement: foot.statement,
      formula: foot.formula,
      compiled,
      references: compiled.references,
      pathOf: () => footPath,
    });
  }
}

/** Whether a cell of a row holds a formula; remembered with the row. */
const formulaRows = new WeakMap<object, boolean>();
function holdsFormula(node: { readonly cells: readonly Cell[] }): boolean {
  let holds = formulaRows.get(node);
  if (holds === undefined) {
    holds = node.cells.some((c) => c.content.type === "formula");
    formulaRows.set(node, holds);
  }
  return holds;
}

/** The name of a row is part of what its cells are called, so every cell looks at its row. */
function withRows(references: References, table: TableName): References {
  const all: References = new Map(references);
  const key = rowsKey(table.name);
  all.set(key, new Set([...(references.get(key) ?? []), "row"]));
  return all;
}

class TableRows implements Rows {
  readonly table: string;
  readonly names: readonly string[];
  readonly numbers: readonly number[];
  private index: Map<string, number | number[]> | undefined;

  constructor(table: string, names: readonly string[], numbers: readonly number[]) {
    this.table = table;
    this.names = names;
    this.numbers = numbers;
  }
  get count(): number {
    return this.names.length;
  }
  find(name: string): number | readonly number[] {
    if (!this.index) {
      const index = new Map<string, number | number[]>();
      this.names.forEach((n, row) => {
        if (n === "") return;
        const there = index.get(n);
        if (there === undefined) index.set(n, row);
        else if (typeof there === "number") index.set(n, [there, row]);
        else there.push(row);
      });
      this.index = index;
    }
    return this.index.get(name) ?? -1;
  }
}

function gatherRows(table: TableName, previous: Plan | undefined): Rows {
  const before = previous?.nodes.get(rowsKey(table.name));
  const rows = table.tree.rows;
  if (before?.type !== "rows" || before.rows.count !== rows.length) {
    const names = rows.map((r) => nameOfRow(r.node.cells));
    return new TableRows(
      table.name,
      names,
      names.map((_, i) => i),
    );
  }
  // Rows whose text is as it was have the names that they had.
  const then = before.table.tree.rows;
  let names: string[] | undefined;
  for (let row = 0; row < rows.length; row++) {
    if (rows[row]!.node === then[row]!.node) continue;
    const name = nameOfRow(rows[row]!.node.cells);
    if (name === before.rows.names[row]) continue;
    names ??= before.rows.names.slice();
    names[row] = name;
  }
  return names ? new TableRows(table.name, names, before.rows.numbers) : before.rows;
}

const nameOfRow = (cells: readonly Cell[]): string => (cells[0] ? cellName(cells[0]) : "");

function cellName(cell: Cell): string {
  return cell.content.type === "text" ? cell.content.text : cell.raw.trim().normalize("NFC");
}

/**
 * A row as it is written in a path; a nameless one by its number, and so is one whose name cannot stand in
 * backticks; a repeated one with its count.
 */
export function rowLabel(rows: Rows, row: number): string {
  const name = rows.names[row] ?? "";
  if (name === "" || name.includes("`")) return writePart(`row ${row + 1}`);
  const found = rows.find(name);
  if (typeof found === "number") return writePart(name);
  const place = ordinal(found, row);
  return place <= 0 ? writePart(name) : `\`${name} (${place + 1})\``;
}

/** Place of a row among rows in rising order: a table may have 100,000 rows of one name. */
function ordinal(rows: readonly number[], row: number): number {
  let low = 0;
  let high = rows.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle]! < row) low = middle + 1;
    else high = middle;
  }
  return rows[low] === row ? low : -1;
}

/** Whether the edges are those of the plan before, one by one, so that its order is the one they would give. */
function sameEdges(previous: Plan, nodes: ReadonlyMap<string, PlanNode>): boolean {
  if (previous.nodes.size !== nodes.size) return false;
  const before = previous.nodes.keys();
  for (const [key, node] of nodes) {
    if (before.next().value !== key) return false;
    const old = previous.nodes.get(key)!.references;
    if (old === node.references) continue;
    if (old.size !== node.references.size) return false;
    const references = old.keys();
    for (const reference of node.references.keys()) if (references.next().value !== reference) return false;
  }
  return true;
}

function reverse(nodes: ReadonlyMap<string, PlanNode>): Map<string, string[]> {
  const dependants = new Map<string, string[]>();
  for (const node of nodes.values()) {
    for (const key of node.references.keys()) {
      const list = dependants.get(key);
      if (list) list.push(node.key);
      else dependants.set(key, [node.key]);
    }
  }
  return dependants;
}

function reach(start: Iterable<string>, next: (key: string) => Iterable<string>): Set<string> {
  const found = new Set<string>(start);
  const queue = [...found];
  for (let key = queue.pop(); key !== undefined; key = queue.pop()) {
    for (const other of next(key)) {
      if (!found.has(other)) {
        found.add(other);
        queue.push(other);
      }
    }
  }
  return found;
}

/**
 * Components in order of need (Tarjan's strongly connected components, with a stack of our own: a book of
 * 100,000 values that hang on each other must not overflow the one of the machine).
 */
function order(nodes: ReadonlyMap<string, PlanNode>): PlanNode[][] {
  const components: PlanNode[][] = [];
  const index = new Map<string, number>();
  const low = new Map<string, number>();
  const onStack = new Set<string>();
  const stack: string[] = [];
  const rank = new Map<string, number>([...nodes.keys()].map((k, i) => [k, i]));
  let counter = 0;
  for (const root of nodes.keys()) {
    if (index.has(root)) continue;
    const work: { key: string; next: Iterator<string> }[] = [];
    const enter = (key: string): void => {
      index.set(key, counter);
      low.set(key, counter);
      counter++;
      stack.push(key);
      onStack.add(key);
      work.push({ key, next: nodes.get(key)!.references.keys() });
    };
    enter(root);
    while (work.length > 0) {
      const top = work[work.length - 1]!;
      const step = top.next.next();
      if (!step.done) {
        const other = step.value;
        if (!nodes.has(other)) continue;
        if (!index.has(other)) enter(other);
        else if (onStack.has(other)) low.set(top.key, Math.min(low.get(top.key)!, index.get(other)!));
        continue;
      }
      work.pop();
      const above = work[work.length - 1];
      if (above) low.set(above.key, Math.min(low.get(above.key)!, low.get(top.key)!));
      if (low.get(top.key) === index.get(top.key)) {
        const component: PlanNode[] = [];
        let key: string;
        do {
          key = stack.pop()!;
          onStack.delete(key);
          component.push(nodes.get(key)!);
        } while (key !== top.key);
        component.sort((a, b) => rank.get(a.key)! - rank.get(b.key)!);
        components.push(component);
      }
    }
  }
  return components;
}
