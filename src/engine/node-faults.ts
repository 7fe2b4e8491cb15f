import { type Span, writePart } from "../../grammar";
import type { Fault, Value } from "../vocabulary/value";
import { describe, faultFrom } from "./fault";
import type { PlanNode } from "./plan";

/** Faults that a calculation finds by itself, and where in a statement a value is worked out. */

/** The way round a circle and back to where it begins; of a long one both ends. */
export function wayRound(names: readonly string[]): string {
  const told = names.length > 8 ? [...names.slice(0, 4), "…", ...names.slice(-3)] : names;
  return [...told, names[0]].join(" → ");
}

export function circle(members: readonly { node: PlanNode; row: number }[]): Fault {
  const paths = members.map((m) => m.node.pathOf(m.row));
  const first = members[0]!;
  const says =
    paths.length === 1 ? `${paths[0]} needs itself.` : `This goes round in a circle: ${wayRound(paths)}.`;
  return {
    type: "fault",
    code: "circle",
    says,
    help:
      paths.length === 1
        ? `It must come from something else.${first.node.type === "computed" ? ` The row before is \`before.${writePart(first.node.column.name)}\`.` : ""}`
        : "One of them must be given by something outside the circle.",
    place: { path: paths[0]!, ...spanOfUnit(first.node, first.row) },
  };
}

/** Where the formula of a node, or of one of its cells, stands in its statement. */
export function spanOfUnit(node: PlanNode, row: number): Span {
  if (node.type === "typed") {
    const statement = node.table.tree.rows[row]!;
    return statement.node.cells[node.column.typed!]?.span ?? { from: 0, to: statement.length };
  }
  if (node.type === "rows") return { from: 0, to: node.table.tree.statement.length };
  return node.formula?.span ?? { from: 0, to: node.statement.length };
}

/** A cell holds one value: a list or a result with parts in it is a fault. */
export function oneValue(value: Value, path: () => string, span: Span): Value {
  if (value.type !== "list" && value.type !== "record") return value;
  const help =
    value.type === "list"
      ? "Use `sum`, `mean` or another total, or look at this row with the bare column name."
      : `Say which part: ${[...value.parts.keys()].map((p) => `\`.${p}\``).join(", ")}.`;
  return faultFrom(
    { code: "cell-single", says: `A cell holds one value; this comes to ${describe(value)}.`, help },
    { path: path(), from: span.from, to: span.to },
  );
}
