import { type NumberNode, parseFormula } from "../../grammar";
import { convert, exact, format, parseUnit, plainUnit, quantity, Trouble } from "../quantity";
import type { Declaration } from "../vocabulary/declaration";
import { list, text, type Value } from "../vocabulary/value";
import type { Code } from "./environment";
import { describe, gapWords, recordTrouble } from "./fault";
import { LIST_LIMIT } from "./operations";

/** Digits of a literal by which an exact number may be divided and stay exact. */
export const POWER_OF_TEN = /^-?(?:10*|0\.0*1)$/u;

/** The quantity that a number stands for. Throws `Trouble` for an unknown unit or too many digits. */
export function literal(node: NumberNode): Value & { type: "quantity" } {
  return quantity(exact(node.digits), node.unit ? parseUnit(node.unit.text) : plainUnit);
}

const defaults = new WeakMap<Declaration, (Code | undefined)[]>();
/** The default of an optional parameter, as code; undefined when it has none. */
export function defaultOf(declaration: Declaration, index: number): Code | undefined {
  let codes = defaults.get(declaration);
  if (!codes) {
    codes = declaration.parameters.map((p) => {
      if (p.otherwise === undefined) return undefined;
      const { formula } = parseFormula(p.otherwise);
      const value =
        formula.type === "number"
          ? literal(formula)
          : formula.type === "text"
            ? text(formula.pieces.join(""))
            : undefined;
      if (!value) throw new Error(`${declaration.name}: the default of ${p.name} must be a number or a text`);
      return () => value;
    });
    defaults.set(declaration, codes);
  }
  return codes[index];
}

/** How a value stands inside a text. Throws `Trouble` for a record. */
export function inText(value: Value): string {
  switch (value.type) {
    case "quantity":
      return format(value);
    case "text":
      return value.text;
    case "truth":
      return value.value ? "true" : "false";
    case "date":
      return value.iso;
    case "list":
      return value.entries.map(inText).join(", ");
    case "record":
      throw recordTrouble(value);
    case "gap":
      return gapWords(value);
    case "fault":
      return "fault";
  }
}

/** A list in the unit of its first entry. Throws `Trouble` when kinds differ or it is too long. */
export function likeFirst(values: readonly Value[]): Value {
  if (values.length > LIST_LIMIT) {
    throw new Trouble({
      code: "list-limit",
      says: `A list may have at most 100,000 entries; this one has ${values.length}.`,
    });
  }
  const first = values.find((v) => v.type !== "gap" && v.type !== "fault");
  if (!first) return list(values);
  const alike = values.map((v) => {
    if (v.type === "gap" || v.type === "fault") return v;
    if (v.type !== first.type) {
      throw new Trouble({
        code: "list-kinds",
        says: `A list holds one kind of thing; here are ${describe(first)} and ${describe(v)}.`,
      });
    }
    if (v.type === "quantity" && first.type === "quantity" && v.unit !== first.unit) {
      if (v.unit.kind !== first.unit.kind) {
        throw new Trouble({
          code: "list-kinds",
          says: `A list holds one kind of thing; here are ${first.unit.kind.name}, ${format(first)}, and ${v.unit.kind.name}, ${format(v)}.`,
        });
      }
      return convert(v, first.unit);
    }
    return v;
  });
  return { ...list(alike), ...(first.type === "quantity" && { unit: first.unit }) };
}
