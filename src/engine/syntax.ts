import type { ArithmeticNode, Formula, LogicNode } from "../../grammar";
import type { Scope } from "./compile";
import type { TableName } from "./names";

/** A `blank in mL` is a gap on purpose. */
export function plainBlank(formula: Formula): boolean {
  return formula.type === "blank" || (formula.type === "shown" && formula.of.type === "blank");
}

/** Whether a bare name is an argument of the definition, or the variable of the `find` or `curve`, around it. */
export const isLocal = (name: string, scope: Scope): boolean =>
  scope.frames.some((frame) => frame.includes(name));

/** The table that a list comes from, as far as the formula tells: its first column. */
export function originTable(node: Formula, scope: Scope): TableName | undefined {
  if (node.type === "part") {
    let base: Formula = node;
    let first = node;
    while (base.type === "part") {
      first = base;
      base = base.of;
    }
    if (base.type === "name" && !isLocal(base.name, scope) && !scope.names.sets.has(base.name)) {
      const table = scope.names.tables.get(base.name);
      if (table?.byName.has(first.part)) return table;
    }
    return originTable(base, scope);
  }
  if (node.type === "name") {
    if (scope.table && scope.place === "foot" && scope.table.byName.has(node.name)) return scope.table;
    return undefined;
  }
  for (const child of childrenOf(node)) {
    const table = originTable(child, scope);
    if (table) return table;
  }
  return undefined;
}

/** Operators that run on from the left at one level: `a + b - c`, `a * b / c`, `a or b or c`. */
const level = (node: ArithmeticNode | LogicNode): string =>
  node.operator === "+" || node.operator === "-"
    ? "sum"
    : node.operator === "*" || node.operator === "/"
      ? "product"
      : node.operator;

/**
 * A run of operators of one level, from the left. Such a run may have thousands of terms, so whoever walks a
 * formula takes it as one thing with many parts instead of as a nest.
 */
export function spineOf<N extends ArithmeticNode | LogicNode>(
  node: N,
): { readonly first: Formula; readonly steps: readonly N[] } {
  const steps: N[] = [node];
  let first = node.left;
  while (first.type === node.type && level(first as N) === level(node)) {
    steps.push(first as N);
    first = (first as N).left;
  }
  return { first, steps: steps.reverse() };
}

/** How deep a formula is nested; a run of sums or products is one level. Walks without recursion. */
export function depthOf(formula: Formula): number {
  let deepest = 0;
  const stack: { node: Formula; depth: number }[] = [{ node: formula, depth: 1 }];
  for (let top = stack.pop(); top; top = stack.pop()) {
    if (top.depth > deepest) deepest = top.depth;
    for (const node of childrenOf(top.node)) stack.push({ node, depth: top.depth + 1 });
  }
  return deepest;
}

/** The formulas directly inside a formula; of a run of sums or products, all its terms. */
export function childrenOf(node: Formula): readonly Formula[] {
  switch (node.type) {
    case "text":
      return node.pieces.filter((p): p is Formula => typeof p !== "string");
    case "list":
      return node.entries;
    case "call":
      return node.arguments.map((a) => a.value);
    case "part":
    case "negate":
    case "not":
    case "shown":
      return [node.of];
    case "spread":
      return [node.of, node.by];
    case "arithmetic":
    case "logic": {
      const { first, steps } = spineOf<ArithmeticNode | LogicNode>(node);
      return [first, ...steps.map((s) => s.right)];
    }
    case "compare":
      return [node.left, node.right];
    case "within":
      return [node.of, node.low, node.high];
    case "range":
      return node.step ? [node.from, node.to, node.step] : [node.from, node.to];
    case "choice":
      return [node.condition, node.yes, node.no];
    case "find":
      return [node.from, node.to, node.goal];
    case "where":
      return [node.of, node.condition];
    default:
      return [];
  }
}
