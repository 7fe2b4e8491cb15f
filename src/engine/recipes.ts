import type { Nature } from "./cells";
import type { Compiled } from "./compilation";
import type { Rows } from "./environment";
import type { TableName } from "./names";
import { type ComputedNode, type FormulaNode, type PlanNode, rowLabel, type TypedNode } from "./plan";

/**
 * What a node is worked out from, held against what it was in the book before the edit: whatever is the same
 * need not be worked out again.
 */

/** What became of a node against the calculation before: nothing, some rows, or all of it. */
export type Change = "none" | "all" | ReadonlySet<number>;

export function sameRecipe(a: FormulaNode | ComputedNode, b: FormulaNode | ComputedNode): boolean {
  if (!a.compiled || !b.compiled) return false;
  return a.compiled === b.compiled || (a.formula === b.formula && samePart(a.compiled, b.compiled));
}

/** Whether two compilations of one formula look at the same and call the same, in the order of the same tables. */
export function samePart(a: Compiled, b: Compiled): boolean {
  if (a === b) return true;
  if (a.troubles.length > 0 || b.troubles.length > 0) return false;
  if (a.limited || b.limited) return false;
  return (
    sameSet(a.definitions, b.definitions) &&
    sameSet(a.functions, b.functions) &&
    sameSet(a.turned, b.turned) &&
    sameSet(a.layouts, b.layouts) &&
    sameSet(new Set(a.references.keys()), new Set(b.references.keys()))
  );
}

function sameSet<T>(a: ReadonlySet<T>, b: ReadonlySet<T>): boolean {
  if (a.size !== b.size) return false;
  for (const one of a) if (!b.has(one)) return false;
  return true;
}

type TableRows = TableName["tree"]["rows"];
/** The rows of a table that are not what they were, found once for all of its columns. */
const changes = new WeakMap<TableRows, { readonly then: TableRows; readonly changed: readonly number[] }>();
export function changedRows(now: TableRows, then: TableRows): readonly number[] {
  const known = changes.get(now);
  if (known?.then === then) return known.changed;
  const changed: number[] = [];
  for (let row = 0; row < now.length; row++) {
    const one = now[row]!;
    const other = then[row]!;
    // A row that has only moved is another statement with the same node.
    if (one !== other && one.node !== other.node) changed.push(row);
  }
  changes.set(now, { then, changed });
  return changed;
}

export function sameCells(a: TypedNode, b: TypedNode): boolean {
  const now: TableName["tree"] = a.table.tree;
  const then = b.table.tree;
  if (
    now.heading?.node !== then.heading?.node ||
    now.rows.length !== then.rows.length ||
    a.column.typed !== b.column.typed
  )
    return false;
  if (changedRows(now.rows, then.rows).length > 0) return false;
  for (const [row, compiled] of a.formulas) if (b.formulas.get(row) !== compiled) return false;
  return true;
}

export function sameNature(a: Nature, b: Nature | undefined): boolean {
  if (!b || a.type !== b.type) return false;
  if (a.type === "quantity" && b.type === "quantity")
    return a.unit === b.unit && a.fromHeading === b.fromHeading;
  return a.type !== "broken";
}

/** Rows that are called otherwise than before; a name that comes twice changes what both are called. */
export function rowsChange(old: Rows, now: Rows): Change {
  if (old === now) return "none";
  if (old.count !== now.count) return "all";
  const changed = new Set<number>();
  for (let row = 0; row < now.count; row++) if (rowLabel(old, row) !== rowLabel(now, row)) changed.add(row);
  return changed.size === 0 ? "none" : changed;
}

/** Whether a node is made in the way in which it was made before. */
export function isAsBefore(node: PlanNode, before: PlanNode | undefined): boolean {
  if (!before || before.type !== node.type) return false;
  if (node.type === "rows") return node.rows === (before as typeof node).rows;
  if (node.type === "typed") return sameCells(node, before as typeof node);
  return sameRecipe(node, before as typeof node);
}

/**
 * The rows of a column that have to be worked out again where the others may stay; undefined when all of them must be,
 * or so many that this is simpler. `changeOf` tells what became of what the column looks at.
 */
export function rowsToWork(
  node: ComputedNode | TypedNode,
  before: ComputedNode | TypedNode,
  count: number,
  changeOf: (key: string) => Change,
): Set<number> | undefined {
  const dirty = new Set<number>();
  if (node.type === "computed") {
    if (!sameRecipe(node, before as ComputedNode)) return undefined;
  } else {
    const was = before as TypedNode;
    if (was.column.typed !== node.column.typed) return undefined;
    for (const row of changedRows(node.table.tree.rows, was.table.tree.rows)) dirty.add(row);
    for (const [row, compiled] of node.formulas) if (was.formulas.get(row) !== compiled) dirty.add(row);
  }
  for (const [key, looks] of node.references) {
    const change = changeOf(key);
    if (change === "none") continue;
    const local = [...looks].every((l) => l === "row" || l === "before");
    if (change === "all" || !local) return undefined;
    for (const row of change) {
      if (looks.has("row")) dirty.add(row);
      if (looks.has("before") && row + 1 < count) dirty.add(row + 1);
    }
  }
  return dirty.size * 2 > count ? undefined : dirty;
}
