import {
  exact,
  format,
  type Note,
  parseUnit,
  plainUnit,
  type Quantity,
  quantity,
  spreadBy,
} from "../../src/quantity";
import { declarations as day } from "../../src/vocabulary/day";
import type { ValueDeclaration } from "../../src/vocabulary/declaration";
import { declarations as plain } from "../../src/vocabulary/plain";
import { declarations as totals } from "../../src/vocabulary/totals";
import { declarations as trials } from "../../src/vocabulary/trials";
import { type DateValue, gap, type ListOrigin, type ListValue, type Value } from "../../src/vocabulary/value";

/** Helpers that call value functions as the language does, without the language. */

let inputs = 0;

/** `2.4 L`, `18 %`, `5 ± 0.1 g` (a new measured input each time). */
export function q(written: string): Quantity {
  const match = /^(-?[\d.]+(?:e-?\d+)?)(?:\s*±\s*([\d.]+))?\s*(.*)$/u.exec(written);
  if (match === null) throw new Error(`cannot read ${written}`);
  const unit = match[3] === "" ? plainUnit : parseUnit(match[3]!);
  const value = quantity(exact(match[1]!), unit);
  if (match[2] === undefined) return value;
  const by = unit.text === "°C" ? parseUnit("K") : unit;
  return spreadBy(value, quantity(exact(match[2]), by), `input ${++inputs}`);
}

export const date = (iso: string): DateValue => ({ type: "date", iso, day: Date.parse(iso) / 86_400_000 });
export const t = (text: string): Value => ({ type: "text", text });
export const blank: Value = gap("not filled in", "runs.got");

/** A list; entries are quantities as written, or values. */
export function l(...entries: readonly (string | Value)[]): ListValue {
  return { type: "list", entries: entries.map((e) => (typeof e === "string" ? q(e) : e)) };
}

/** A column of a table whose rows have these names. */
export function column(
  table: string,
  names: readonly string[],
  ...entries: readonly (string | Value)[]
): ListValue {
  return { ...l(...entries), origin: originOf(table, names) };
}
const origins = new Map<string, ListOrigin>();
function originOf(table: string, names: readonly string[]): ListOrigin {
  const key = `${table}|${names.join("|")}`;
  let origin = origins.get(key);
  if (origin === undefined) {
    origin = { table, rows: names.map((_, i) => i), names };
    origins.set(key, origin);
  }
  return origin;
}

const all = new Map([...plain, ...totals, ...trials, ...day].map((d) => [d.name, d]));

export function call(name: string, args: Readonly<Record<string, Value>>): Value {
  const declaration = all.get(name) as ValueDeclaration | undefined;
  if (declaration === undefined) throw new Error(`no ${name}`);
  const filled: Record<string, Value> = {};
  for (const p of declaration.parameters) {
    const given = args[p.name] ?? (p.otherwise === undefined ? undefined : q(p.otherwise));
    if (given === undefined) {
      if (p.optional !== true) throw new Error(`${name} lacks ${p.name}`);
      continue;
    }
    filled[p.name] = p.list === true && given.type !== "list" ? { type: "list", entries: [given] } : given;
  }
  for (const given of Object.keys(args)) if (!(given in filled)) throw new Error(`${name} has no ${given}`);
  return declaration.evaluate(filled, { note: (text): Note => ({ text }) });
}

/** A value as text: `61.2 %vol`, `gap: …`, `fault: …`, lists joined by commas, records as `part=…`. */
export function show(value: Value): string {
  switch (value.type) {
    case "quantity":
      return format(value);
    case "text":
      return value.text;
    case "truth":
      return String(value.value);
    case "date":
      return value.iso;
    case "list":
      return value.entries.map(show).join(", ");
    case "record":
      return [...value.parts].map(([name, part]) => `${name}=${show(part)}`).join("; ");
    case "gap":
      return `gap: ${value.says}`;
    case "fault":
      return `fault: ${value.says}`;
  }
}

export const notes = (value: Value): readonly string[] => value.notes?.map((n) => n.text) ?? [];
export const part = (value: Value, name: string): Value => {
  if (value.type !== "record") throw new Error(`no parts in ${show(value)}`);
  return value.parts.get(name)!;
};
