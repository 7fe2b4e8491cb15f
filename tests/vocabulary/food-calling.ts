import { callPhysics, callValue } from "../../src/engine/call";
import { format, toSI } from "../../src/quantity";
import { declarations as blending } from "../../src/vocabulary/blending";
import { type Declaration, isPhysics } from "../../src/vocabulary/declaration";
import { declarations as honey } from "../../src/vocabulary/honey";
import { declarations as keeping } from "../../src/vocabulary/keeping";
import { declarations as salt } from "../../src/vocabulary/salt";
import { declarations as sugar } from "../../src/vocabulary/sugar";
import { list, text, type Value } from "../../src/vocabulary/value";
import { q } from "./calling";

/** Calls the declarations of blending, sugar, salt, keeping and honey through the engine, without its grammar. */

export const declared: readonly Declaration[] = [...blending, ...sugar, ...salt, ...keeping, ...honey];
const byName = new Map(declared.map((d) => [d.name, d]));

export type Written = string | Value | readonly string[];

const readValue = (written: Written): Value => {
  if (typeof written !== "string") return "type" in written ? written : list(written.map(q));
  return written.startsWith('"') ? text(written.slice(1, -1)) : q(written);
};

/** A result as the engine gives it. */
export function call(name: string, given: Readonly<Record<string, Written>>): Value {
  const declaration = byName.get(name);
  if (declaration === undefined) throw new Error(`no ${name}`);
  for (const label of Object.keys(given)) {
    if (!declaration.parameters.some((p) => p.name === label)) throw new Error(`${name} has no ${label}`);
  }
  const args = declaration.parameters.map((p) => {
    const written = given[p.name] ?? p.otherwise;
    if (written === undefined && p.optional !== true) throw new Error(`${name} lacks ${p.name}`);
    return written === undefined ? undefined : readValue(written);
  });
  return isPhysics(declaration) ? callPhysics(declaration, args, "here") : callValue(declaration, args);
}

/** A dotted part of a result; the result itself for "". */
export function part(value: Value, path: string): Value {
  let found = value;
  for (const name of path === "" ? [] : path.split(".")) {
    const inner: Value | undefined =
      found.type === "record"
        ? found.parts.get(name)
        : found.type === "list"
          ? found.entries[Number(name) - 1]
          : undefined;
    if (inner === undefined) throw new Error(`no part ${path}`);
    found = inner;
  }
  return found;
}

export function show(value: Value): string {
  if (value.type === "quantity") return format(value);
  if (value.type === "text") return value.text;
  if (value.type === "list") return value.entries.map(show).join(", ");
  if (value.type === "gap" || value.type === "fault") return `${value.type}: ${value.says}`;
  throw new Error(`cannot show ${value.type}`);
}

/** The number of a part in SI units. */
export function si(value: Value, path = ""): number {
  const found = part(value, path);
  if (found.type !== "quantity") throw new Error(`${path} is ${found.type}`);
  return toSI(found);
}

/** Numbers of a list in SI units. */
export const numbers = (value: Value, path: string): readonly number[] => {
  const found = part(value, path);
  if (found.type !== "list") throw new Error(`${path} is ${found.type}`);
  return found.entries.map((e) => si(e));
};

export const remarks = (value: Value): readonly string[] => value.notes?.map((n) => n.text) ?? [];

/** A formula of an example: a name, arguments by place or label, and a part. */
export function formula(written: string): string {
  const match = /^(\w+)\((.*)\)(?:\.([\w.]+))?$/u.exec(written);
  if (match === null) throw new Error(`cannot read ${written}`);
  const [, name, inside, path] = match;
  const places = byName
    .get(name!)!
    .parameters.filter((p) => !byName.get(name!)!.labelsOnly?.includes(p.name));
  const given: Record<string, Written> = {};
  const pieces = inside!.match(/(?:\[[^\]]*\]|"[^"]*"|[^,[\]"])+/gu) ?? [];
  pieces.forEach((piece, i) => {
    const labelled = /^\s*([a-z_]+):\s*(.*?)\s*$/u.exec(piece);
    const value = (labelled ? labelled[2]! : piece).trim();
    given[labelled ? labelled[1]! : places[i]!.name] = value.startsWith("[")
      ? value
          .slice(1, -1)
          .split(",")
          .map((entry) => entry.trim())
      : value;
  });
  return show(part(call(name!, given), path ?? ""));
}
