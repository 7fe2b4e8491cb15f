import type { Calculation } from "../../src/engine/calculation";
import type { ComputedNode } from "../../src/engine/plan";
import type { Value } from "../../src/vocabulary/value";

/**
 * A computed column worked out row by row, without the fast path: what the fast path must equal bit for bit.
 * The column must look at nothing of its own.
 */
export function carefulColumn(key: string, calculation: Calculation): readonly Value[] {
  const node = calculation.plan.nodes.get(key) as ComputedNode;
  const { count } = calculation.rows(node.table.name);
  return Array.from({ length: count }, (_, row) => calculation.evaluate(node.compiled.code, node, row));
}
