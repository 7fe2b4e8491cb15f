import {
  asDifference,
  exact,
  format,
  fromSI,
  type Kind,
  kinds,
  parseUnit,
  plainUnit,
  type Quantity,
  quantity,
  toSI,
  type Unit,
  withKind,
} from "../../src/quantity";
import { declarations as alcoholOut } from "../../src/vocabulary/alcohol-out";
import type { NumberArguments, PhysicsDeclaration } from "../../src/vocabulary/declaration";
import { declarations as run } from "../../src/vocabulary/run";
import { declarations as spirit } from "../../src/vocabulary/spirit";
import { declarations as still } from "../../src/vocabulary/still";

/** Calls the declarations about spirit and still as the language does, without the language. */

export const declared = [...spirit, ...still, ...run, ...alcoholOut] as readonly PhysicsDeclaration[];
const byName = new Map(declared.map((d) => [d.name, d]));

/** `2.4 L`, `18 %`, `-10 °C`. */
export function q(written: string): Quantity {
  const match = /^(-?[\d.]+(?:e-?\d+)?)\s*(.*)$/u.exec(written);
  if (match === null) throw new Error(`cannot read ${written}`);
  return quantity(exact(match[1]!), match[2] === "" ? plainUnit : parseUnit(match[2]!));
}

type Written = string | readonly string[];
export interface Answered {
  /** Parts in SI units ("" for a single result), of the first row when there are several. */
  readonly si: Readonly<Record<string, number | string | boolean | undefined>>;
  readonly rows: readonly Readonly<Record<string, number | string | boolean | undefined>>[];
  readonly notes: readonly string[];
  readonly cautions: readonly string[];
  /** A part as the language prints it. */
  shown(part?: string): string;
  /** The model's standard uncertainty, by part. */
  readonly model: Readonly<Record<string, number>>;
  readonly numbers: NumberArguments;
}

const ratio = (k: Kind): boolean => k === kinds.moisture || k === kinds.activity;

export function ask(name: string, given: Readonly<Record<string, Written>>): Answered {
  const declaration = byName.get(name);
  if (declaration === undefined) throw new Error(`no ${name}`);
  const numbers: Record<string, number | readonly number[] | string | undefined> = {};
  const kindsGiven = new Map<string, Kind>();
  const units: (Unit | undefined)[] = [];
  for (const p of declaration.parameters) {
    const written = given[p.name] ?? p.otherwise;
    units.push(undefined);
    if (written === undefined) {
      if (p.optional !== true) throw new Error(`${name} lacks ${p.name}`);
      continue;
    }
    if (p.takes === "text") {
      numbers[p.name] = (written as string).replace(/^"|"$/gu, "");
      continue;
    }
    const one = (text: string): number => {
      const value = q(text);
      const takes = p.takes as Exclude<typeof p.takes, string>;
      const entry =
        takes.find((t) => t.kind === value.unit.kind) ??
        takes.find((t) => value.unit.kind === kinds.plain && (ratio(t.kind) || t.kind === kinds.plain));
      if (entry === undefined) throw new Error(`${name} takes no ${value.unit.kind.name} for ${p.name}`);
      kindsGiven.set(p.name, value.unit.kind);
      units[units.length - 1] ??= value.unit;
      return entry.toNumber ? entry.toNumber(toSI(value)) : toSI(value);
    };
    numbers[p.name] = typeof written === "string" ? one(written) : written.map(one);
  }
  for (const label of Object.keys(given)) {
    if (!declaration.parameters.some((p) => p.name === label)) throw new Error(`${name} has no ${label}`);
  }
  const notes: string[] = [];
  const cautions: string[] = [];
  const result = declaration.compute(numbers, {
    kindOf: (p) => kindsGiven.get(p),
    note: (text) => void notes.push(text),
    caution: (text) => void cautions.push(text),
    without: () => {},
  });
  const rows = typeof result === "number" ? [{ "": result }] : Array.isArray(result) ? result : [result];
  const si = rows[0] as Answered["si"];
  const plainParts = Object.fromEntries(
    Object.entries(si).filter((entry): entry is [string, number] => typeof entry[1] === "number"),
  );
  const model = declaration.modelUncertainty?.(numbers, plainParts) ?? {};
  const unitOf = (part: string): Unit => {
    const holds = declaration.result.find((r) => r.name === part)!.holds;
    if (typeof holds === "string") return plainUnit;
    const lent = declaration.parameters.findIndex(
      (p, i) => (holds.unitOf === undefined || holds.unitOf === p.name) && units[i]?.kind === holds.kind,
    );
    if (lent >= 0) return units[lent]!;
    const unit = parseUnit(holds.unit);
    if (unit.kind === holds.kind) return unit;
    return holds.kind === kinds.difference ? asDifference(unit) : withKind(unit, holds.kind);
  };
  const print = (value: number | string | boolean | undefined, part: string): string =>
    typeof value === "number" ? format(fromSI(value, unitOf(part))) : String(value);
  return {
    si,
    rows: rows as Answered["rows"],
    notes,
    cautions,
    numbers,
    model: typeof model === "number" ? { "": model } : model,
    shown: (part = "") => rows.map((row) => print((row as Answered["si"])[part], part)).join(", "),
  };
}

/** A formula of an example: a name, arguments by place or label, and a part. Just enough to run the declarations' own examples. */
export function formula(text: string): string {
  const match = /^(\w+)\((.*)\)(?:\.([\w.]+))?$/u.exec(text);
  if (match === null) throw new Error(`cannot read ${text}`);
  const [, name, inside, part] = match;
  const declaration = byName.get(name!);
  if (declaration === undefined) throw new Error(`no ${name}`);
  const given: Record<string, Written> = {};
  const pieces = inside!.match(/(?:\[[^\]]*\]|"[^"]*"|[^,[\]"])+/gu) ?? [];
  const required = declaration.parameters.filter((p) => !declaration.labelsOnly?.includes(p.name));
  pieces.forEach((piece, i) => {
    const labelled = /^\s*([a-z_]+):\s*(.*?)\s*$/u.exec(piece);
    const value = (labelled ? labelled[2]! : piece).trim();
    const label = labelled ? labelled[1]! : required[i]!.name;
    given[label] = value.startsWith("[")
      ? value
          .slice(1, -1)
          .split(",")
          .map((entry) => entry.trim())
      : value;
  });
  return ask(name!, given).shown(part ?? "");
}
