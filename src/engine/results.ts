import {
  asDifference,
  fromSI,
  type Kind,
  kinds,
  parseUnit,
  plainUnit,
  quantity,
  Trouble,
  type Unit,
  withKind,
} from "../quantity";
import type { NumberResult, PhysicsDeclaration, ResultPart } from "../vocabulary/declaration";
import { list, record, text, truth, type Value } from "../vocabulary/value";
import type { Parts } from "./propagation";

/** Unit in which a part is shown: that of the first argument of its kind, else the declared one. */
export function unitFor(
  part: ResultPart,
  declaration: PhysicsDeclaration,
  args: readonly (Value | undefined)[],
): Unit {
  if (typeof part.holds === "string")
    throw new Error(`${declaration.name}: the part ${part.name} has no unit`);
  const { kind, unit, unitOf, kindOf } = part.holds;
  if (kindOf !== undefined) {
    const lent = unitOfValue(args[declaration.parameters.findIndex((p) => p.name === kindOf)]);
    if (lent) return lent;
  }
  for (let i = 0; i < args.length; i++) {
    if (unitOf !== undefined && declaration.parameters[i]!.name !== unitOf) continue;
    const lent = unitOfValue(args[i]);
    if (lent && lent.kind === kind) return lent;
  }
  return declaredUnit(kind, unit);
}

const declared = new Map<Kind, Map<string, Unit>>();
export function declaredUnit(kind: Kind, spelling: string): Unit {
  let units = declared.get(kind);
  if (!units) {
    units = new Map();
    declared.set(kind, units);
  }
  let unit = units.get(spelling);
  if (!unit) {
    unit = spelling === "" ? plainUnit : parseUnit(spelling);
    if (unit.kind !== kind) {
      unit =
        kind === kinds.difference && unit.kind === kinds.temperature
          ? asDifference(unit)
          : withKind(unit, kind);
    }
    units.set(spelling, unit);
  }
  return unit;
}

function unitOfValue(value: Value | undefined): Unit | undefined {
  if (!value) return undefined;
  if (value.type === "quantity") return value.unit;
  if (value.type === "list") {
    const first = value.entries.find((e) => e.type === "quantity");
    return first?.type === "quantity" ? first.unit : value.unit;
  }
  return undefined;
}

export function assemble(
  declaration: PhysicsDeclaration,
  result: NumberResult,
  unitOf: (part: ResultPart) => Unit,
  spreads: readonly Map<string, Map<string, number>>[],
): Value {
  const one = (parts: Parts, row: number): Value => {
    const made: [string, Value][] = [];
    for (const part of declaration.result) {
      const value = parts[part.name];
      if (value === undefined) continue;
      made.push([part.name, partValue(part, value, unitOf, spreads[row]?.get(part.name))]);
    }
    return nested(made);
  };
  if (typeof result === "number") {
    const part = declaration.result[0]!;
    return partValue(part, result, unitOf, spreads[0]!.get(""));
  }
  if (Array.isArray(result)) return list((result as readonly Parts[]).map((parts, row) => one(parts, row)));
  if (declaration.result.length === 1 && declaration.result[0]!.name === "") {
    const value = (result as Parts)[""];
    return value === undefined
      ? text("")
      : partValue(declaration.result[0]!, value, unitOf, spreads[0]?.get(""));
  }
  return one(result as Parts, 0);
}

function partValue(
  part: ResultPart,
  value: number | string | boolean,
  unitOf: (part: ResultPart) => Unit,
  spread: ReadonlyMap<string, number> | undefined,
): Value {
  if (typeof value === "string") return text(value);
  if (typeof value === "boolean") return truth(value);
  const unit = unitOf(part);
  if (!Number.isFinite(value)) {
    throw new Trouble({
      code: "not-a-number",
      says: `The ${part.name || "result"} came out as no number at all.`,
      help: "Check the inputs for extreme values.",
    });
  }
  const shown = fromSI(value, unit);
  if (!spread || spread.size === 0) return shown;
  const perUnit = Number(unit.scale.num) / Number(unit.scale.den);
  const scaled = new Map<string, number>();
  for (const [input, amount] of spread) scaled.set(input, amount / perUnit);
  return quantity(shown.n, shown.unit, scaled);
}

/** Dotted part names become records inside records. */
function nested(parts: readonly (readonly [string, Value])[]): Value {
  const tree = new Map<string, Value | Map<string, Value>>();
  for (const [name, value] of parts) {
    const dot = name.indexOf(".");
    if (dot < 0) {
      tree.set(name, value);
      continue;
    }
    const head = name.slice(0, dot);
    let inner = tree.get(head);
    if (!(inner instanceof Map)) {
      inner = new Map<string, Value>();
      tree.set(head, inner);
    }
    inner.set(name.slice(dot + 1), value);
  }
  return record(
    [...tree].map(([name, value]) => [name, value instanceof Map ? record(value) : value] as const),
  );
}
