import type { Value } from "../vocabulary/value";
import { Waiting } from "./environment";
import { circle } from "./node-faults";
import type { Pieces } from "./pieces";
import type { PlanNode } from "./plan";

/** How the values of formulas (row -1) and the cells of columns are worked out one at a time. */
export interface UnitWork {
  isReady(node: PlanNode, row: number): boolean;
  /** Throws `Waiting` for what has to be there first. */
  work(node: Exclude<PlanNode, { type: "rows" }>, row: number): Value;
  put(node: PlanNode, row: number, value: Value): void;
  isPieceDone(): boolean;
}

/**
 * Works out a value or a cell among nodes that need each other. What it needs first is turned to first, with a stack
 * of our own; what is met again while it is still on the stack closes a circle.
 */
export function* workUnit(
  node: PlanNode,
  row: number,
  byKey: ReadonlyMap<string, PlanNode>,
  unit: UnitWork,
): Pieces<void> {
  const stack = [{ node, row }];
  const depth = new Map([[nameOf(node.key, row), 0]]);
  const done = (): void => {
    const { node, row } = stack.pop()!;
    depth.delete(nameOf(node.key, row));
  };
  while (stack.length > 0) {
    if (unit.isPieceDone()) yield;
    const top = stack[stack.length - 1]!;
    if (unit.isReady(top.node, top.row)) {
      done();
      continue;
    }
    try {
      unit.put(top.node, top.row, unit.work(top.node as Parameters<UnitWork["work"]>[0], top.row));
      done();
    } catch (signal) {
      if (!(signal instanceof Waiting)) throw signal;
      const needed = byKey.get(signal.key);
      // A trial may meet something that the base has not worked out: that is for the base to do.
      if (!needed) throw signal;
      const neededRow = needed.type === "formula" ? -1 : signal.row;
      const at = depth.get(nameOf(needed.key, neededRow));
      if (at === undefined) {
        depth.set(nameOf(needed.key, neededRow), stack.length);
        stack.push({ node: needed, row: neededRow });
        continue;
      }
      const members = stack.slice(at);
      const fault = circle(members);
      for (const member of members) unit.put(member.node, member.row, fault);
      while (stack.length > at) done();
    }
  }
}

const nameOf = (key: string, row: number): string => `${key}\u0000${row}`;
