import {
  adviceFor,
  format,
  type Kind,
  kinds,
  type Quantity,
  Trouble,
  type TroubleParts,
  toSI,
} from "../quantity";
import type { Parameter, PhysicsDeclaration, ValueDeclaration } from "../vocabulary/declaration";
import { blanksLeftOut } from "../vocabulary/entries";
import { amountHelp } from "../vocabulary/parameters";
import { type ListValue, list, type Value } from "../vocabulary/value";
import { describe, recordTrouble } from "./fault";
import { mapEntries } from "./operations";

/** Trouble with what one parameter was given. */
export class ArgumentTrouble extends Trouble {
  readonly parameter: string;
  constructor(parameter: string, parts: TroubleParts) {
    super(parts);
    this.parameter = parameter;
  }
}

/** Plain ratios fit wherever a water content, an activity or a share is wanted, and the other way round for a share. */
function takesKind(wanted: Kind, given: Kind): boolean {
  if (wanted === given) return true;
  const ratio = (k: Kind) => k === kinds.moisture || k === kinds.activity;
  return (given === kinds.plain && ratio(wanted)) || (wanted === kinds.plain && ratio(given));
}

/** The number, in SI, that a quantity stands for under a parameter. Throws `Trouble` when its kind does not fit. */
export function numberFor(parameter: Parameter, q: Quantity, callee: string): number {
  const entries = parameter.takes as Exclude<Parameter["takes"], string>;
  const entry =
    entries.find((e) => e.kind === q.unit.kind) ?? entries.find((e) => takesKind(e.kind, q.unit.kind));
  if (!entry) throw kindTrouble(parameter, q, callee);
  const si = toSI(q);
  return entry.toNumber ? entry.toNumber(si) : si;
}

function kindTrouble(parameter: Parameter, q: Quantity, callee: string): Trouble {
  const wanted = (parameter.takes as Exclude<Parameter["takes"], string>).map((e) => e.kind);
  const names = wanted.map((k) => k.name).join(" or ");
  const help = kindHelp(parameter, q, wanted);
  return new ArgumentTrouble(parameter.name, {
    code: "argument-kind",
    says: `\`${callee}\` wants ${names} for \`${parameter.name}\`, and is given ${q.unit.kind.name}, ${format(q)}.`,
    ...(help !== undefined && { help }),
  });
}

/** What to do instead: first what this parameter knows of its matter, then what holds of any two kinds. */
function kindHelp(parameter: Parameter, q: Quantity, wanted: readonly Kind[]): string | undefined {
  const given = q.unit.kind;
  if (wanted.includes(kinds.strengthVolume) && given === kinds.plain) {
    return "Write the strength with its unit: `%vol` by volume, `%mas` by mass.";
  }
  if (wanted.includes(kinds.mass) && given === kinds.volume) {
    return amountHelp(parameter.matter ?? "spirit", "mass", format(q));
  }
  if (wanted.includes(kinds.volume) && given === kinds.mass) {
    return amountHelp(parameter.matter ?? "spirit", "volume", format(q));
  }
  for (const kind of wanted) {
    const advice = adviceFor(q, kind);
    if (advice !== undefined) return advice;
  }
  return undefined;
}

export function textFor(parameter: Parameter, value: Value, callee: string): string {
  if (value.type !== "text") {
    throw new ArgumentTrouble(parameter.name, {
      code: "argument-kind",
      says: `\`${callee}\` wants a text for \`${parameter.name}\`, and is given ${describe(value)}.`,
      ...(parameter.choices && { help: `Choose ${choices(parameter)}.` }),
    });
  }
  if (parameter.choices && !parameter.choices.includes(value.text)) {
    throw new ArgumentTrouble(parameter.name, {
      code: "argument-choice",
      says: `\`${callee}\` knows no \`${parameter.name}\` called “${value.text}”.`,
      help: `Choose ${choices(parameter)}.`,
    });
  }
  return value.text;
}

export function texts(parameter: Parameter, value: Value, callee: string): readonly string[] {
  const entries = value.type === "list" ? value.entries : [value];
  return entries.map((e) => textFor(parameter, e, callee));
}

const choices = (p: Parameter): string => (p.choices ?? []).map((c) => `"${c}"`).join(" or ");

export function valueTrouble(parameter: Parameter, value: Value, callee: string): Trouble {
  if (value.type === "record") return recordTrouble(value);
  const wanted = (parameter.takes as Exclude<Parameter["takes"], string>)
    .map((e) => e.kind.name)
    .join(" or ");
  return new ArgumentTrouble(parameter.name, {
    code: "argument-kind",
    says: `\`${callee}\` wants ${wanted} for \`${parameter.name}\`, and is given ${describe(value)}.`,
  });
}

/**
 * Lists that belong together: a row blank in all of them is left out, which a note tells, one filled only in part makes the
 * result a gap that names the cell. The lists must have one length and the same rows.
 */
export function togetherLists(
  declaration: PhysicsDeclaration,
  args: readonly (Value | undefined)[],
): Map<string, ListValue> | Value {
  const chosen: { name: string; value: ListValue }[] = [];
  declaration.parameters.forEach((p, i) => {
    const value = args[i];
    if (value && declaration.together!.includes(p.name)) {
      chosen.push({ name: p.name, value: value.type === "list" ? value : list([value]) });
    }
  });
  const kept = chosen.map(() => [] as Value[]);
  if (chosen.length === 0) return new Map();
  // The check of lengths and rows is the same as for arithmetic.
  mapEntries(
    chosen.map((c) => c.value),
    ([first]) => first!,
    true,
  );
  const origin = chosen.find((c) => c.value.origin)?.value.origin;
  const length = chosen[0]!.value.entries.length;
  for (let i = 0; i < length; i++) {
    const row = chosen.map((c) => c.value.entries[i]!);
    const fault = row.find((v) => v.type === "fault");
    if (fault) return fault;
    const blank = row.filter((v) => v.type === "gap");
    if (blank.length === row.length) continue;
    if (blank.length > 0) {
      const have = chosen[row.findIndex((v) => v.type !== "gap")]!.name;
      const lack = chosen[row.findIndex((v) => v.type === "gap")]!.name;
      const who = origin?.names[i] || `row ${i + 1}`;
      const first = blank[0] as Value & { type: "gap" };
      return {
        type: "gap",
        says: `${who} has a ${singular(have)} but no ${singular(lack)} yet`,
        ...(first.place !== undefined && { place: first.place }),
      };
    }
    row.forEach((v, k) => {
      kept[k]!.push(v);
    });
  }
  const left = kept[0]!.length;
  const notes = left > 0 && left < length ? [{ text: blanksLeftOut(length - left, length) }] : undefined;
  return new Map(
    chosen.map((c, k) => [c.name, k === 0 && notes ? { ...list(kept[k]!), notes } : list(kept[k]!)]),
  );
}

const singular = (name: string): string => name.replace(/_/gu, " ").replace(/ies$/u, "y").replace(/s$/u, "");

export function checkValue(parameter: Parameter, value: Value, declaration: ValueDeclaration): void {
  if (value.type === "record" && parameter.takes !== "any") throw recordTrouble(value);
  if (value.type === "list" && !parameter.list && parameter.takes !== "any") {
    throw new ArgumentTrouble(parameter.name, {
      code: "argument-kind",
      says: `\`${declaration.name}\` wants one value for \`${parameter.name}\`, and is given a list of ${value.entries.length}.`,
    });
  }
  const entries = value.type === "list" ? value.entries : [value];
  if (parameter.takes === "any") return;
  for (const entry of entries) {
    if (entry.type === "gap" || entry.type === "fault") continue;
    if (parameter.takes === "text") {
      if (entry.type !== "text") textFor(parameter, entry, declaration.name);
      else if (parameter.choices) textFor(parameter, entry, declaration.name);
    } else if (parameter.takes === "date") {
      if (entry.type !== "date") {
        throw new ArgumentTrouble(parameter.name, {
          code: "argument-kind",
          says: `\`${declaration.name}\` wants a date for \`${parameter.name}\`, and is given ${describe(entry)}.`,
        });
      }
    } else {
      if (entry.type !== "quantity") throw valueTrouble(parameter, entry, declaration.name);
      if (!parameter.takes.some((t) => takesKind(t.kind, entry.unit.kind)))
        throw kindTrouble(parameter, entry, declaration.name);
    }
  }
}
