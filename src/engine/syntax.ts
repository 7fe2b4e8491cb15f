import type { ArithmeticNode, CallNode, Formula, LogicNode } from "../../grammar";
import type { Scope } from "./compilation";
import { localCode } from "./locals";
import type { DefineName, TableName } from "./names";

/** A `blank in mL` is a gap on purpose. */
export function plainBlank(formula: Formula): boolean {
  return formula.type === "blank" || (formula.type === "shown" && formula.of.type === "blank");
}

/** Whether a bare name is an argument of the definition, or the variable of the `find` or `curve`, around it. */
export const isLocal = (name: string, scope: Scope): boolean => localCode(name, scope) !== undefined;

/** What an argument hands to a definition: a table as a whole, or a list that comes from one. */
export interface Given {
  readonly whole?: TableName;
  readonly origin?: TableName;
}

/** What the arguments of the definition around a formula hand to its parameters; undefined where that is not known. */
const givenTo = (name: string, scope: Scope): Given | undefined =>
  scope.frames.findLastIndex((frame) => frame.includes(name)) === 0 ? scope.given?.get(name) : undefined;

/** Whether a formula looks at an argument of which nothing is known here. */
export function looksAtUnknown(node: Formula, scope: Scope): boolean {
  if (node.type === "name") return isLocal(node.name, scope) && givenTo(node.name, scope) === undefined;
  return childrenOf(node).some((child) => looksAtUnknown(child, scope));
}

/** Values and definitions that one formula is followed through to find where its list comes from. */
const MOST_FOLLOWED = 200;

/**
 * The table that a list comes from, as far as the formula tells: its first column. The formulas of the values
 * that it names are followed; `followed` is told each of them.
 */
export function originTable(
  node: Formula,
  scope: Scope,
  followed: Map<string, Formula> = new Map(),
): TableName | undefined {
  return new Origins(followed).of(node, scope);
}

/** What a formula hands on when it is an argument. */
export function givenBy(node: Formula, scope: Scope, followed: Map<string, Formula>): Given {
  const origins = new Origins(followed);
  const whole = origins.whole(node, scope);
  if (whole) return { whole };
  const origin = origins.of(node, scope);
  return origin ? { origin } : {};
}

class Origins {
  private left = MOST_FOLLOWED;
  private readonly within = new Set<string>();

  constructor(private readonly followed: Map<string, Formula>) {}

  of(node: Formula, scope: Scope): TableName | undefined {
    if (node.type === "part") {
      let base: Formula = node;
      let first = node;
      while (base.type === "part") {
        first = base;
        base = base.of;
      }
      const whole = this.whole(base, scope);
      return whole?.byName.has(first.part) ? whole : this.of(base, scope);
    }
    if (node.type === "name") {
      const { name } = node;
      if (isLocal(name, scope)) return givenTo(name, scope)?.origin;
      if (scope.table?.byName.has(name)) return scope.place === "foot" ? scope.table : undefined;
      return this.behind(name, scope, (formula, book) => this.of(formula, book));
    }
    if (node.type === "call") {
      const define = scope.names.defines.get(node.name);
      if (define?.formula) return this.ofCall(node, define, define.formula, scope);
    }
    for (const child of childrenOf(node)) {
      const table = this.of(child, scope);
      if (table) return table;
    }
    return undefined;
  }

  /** The table that a formula names as a whole. */
  whole(node: Formula, scope: Scope): TableName | undefined {
    if (node.type !== "name") return undefined;
    const { name } = node;
    if (isLocal(name, scope)) return givenTo(name, scope)?.whole;
    if (scope.table?.byName.has(name)) return undefined;
    if (!scope.names.sets.has(name)) return scope.names.tables.get(name);
    return this.behind(name, scope, (formula, book) => this.whole(formula, book));
  }

  private behind(
    name: string,
    { names }: Scope,
    find: (formula: Formula, book: Scope) => TableName | undefined,
  ): TableName | undefined {
    const formula = names.sets.get(name)?.formula;
    if (!formula || this.within.has(name) || this.left-- <= 0) return undefined;
    this.followed.set(name, formula);
    this.within.add(name);
    const table = find(formula, { names, place: "book", frames: [] });
    this.within.delete(name);
    return table;
  }

  private ofCall(call: CallNode, define: DefineName, body: Formula, scope: Scope): TableName | undefined {
    const key = `${define.name}(`;
    if (this.within.has(key) || this.left-- <= 0) return undefined;
    const given = new Map<string, Given>();
    define.parameters.forEach((parameter, i) => {
      const labelled = call.arguments.find((a) => a.label === parameter);
      const argument = labelled ?? call.arguments[i];
      if (!argument) return;
      const whole = this.whole(argument.value, scope);
      const origin = whole ? undefined : this.of(argument.value, scope);
      given.set(parameter, { ...(whole && { whole }), ...(origin && { origin }) });
    });
    this.within.add(key);
    const { names } = scope;
    const table = this.of(body, { names, place: "book", frames: [define.parameters], given });
    this.within.delete(key);
    return table;
  }
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
