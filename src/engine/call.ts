import {
  fromSI,
  format,
  type Kind,
  kinds,
  type Note,
  parseUnit,
  type Quantity,
  quantity,
  sigma,
  type Spread,
  toSI,
  Trouble,
  type Unit,
  withKind,
  asDifference,
} from "../quantity";
import type { Call, NumberArguments, NumberResult, Parameter, PhysicsDeclaration, ResultPart, ValueDeclaration } from "../vocabulary/declaration";
import { type ListValue, list, record, text, truth, type Value } from "../vocabulary/value";
import { describe, recordTrouble, stopper, withNotes } from "./fault";
import { mapEntries } from "./operations";

/** Relative size of the second-order term from which the linear estimate is called poor. */
const CURVED = 0.2;

/** Plain ratios fit wherever a water content, an activity or a share is wanted, and the other way round for a share. */
function takesKind(wanted: Kind, given: Kind): boolean {
  if (wanted === given) return true;
  const ratio = (k: Kind) => k === kinds.moisture || k === kinds.activity;
  return (given === kinds.plain && ratio(wanted)) || (wanted === kinds.plain && ratio(given));
}

/** The number, in SI, that a quantity stands for under a parameter. Throws `Trouble` when its kind does not fit. */
function numberFor(parameter: Parameter, q: Quantity, callee: string): number {
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
  let help: string | undefined;
  const given = q.unit.kind;
  if (wanted.includes(kinds.temperature) && given === kinds.difference) {
    const celsius = fromSI(toSI(q), parseUnit("°C"));
    help = `A typed K is a difference. As a temperature this is \`${format(celsius)}\`.`;
  } else if (wanted.includes(kinds.strengthVolume) && given === kinds.plain) {
    help = "Write the strength with its unit: `%vol` by volume, `%mas` by mass.";
  } else if (wanted.includes(kinds.solids) && given === kinds.plain) {
    help = "Write dissolved solids in `°Bx`.";
  } else if (wanted.includes(kinds.mass) && given === kinds.volume) {
    help = "`mass_of(volume, strength)` turns a volume of spirit into its mass.";
  } else if (wanted.includes(kinds.volume) && given === kinds.mass) {
    help = "`volume_of(mass, strength)` turns a mass of spirit into its volume.";
  }
  return new Trouble({
    code: "argument-kind",
    says: `\`${callee}\` wants ${names} for \`${parameter.name}\`, and is given ${given.name}, ${format(q)}.`,
    ...(help !== undefined && { help }),
  });
}

/** Collects what a computation says about its result. */
class Remarks implements Call {
  readonly notes: Note[] = [];
  private readonly given: ReadonlyMap<string, Kind>;

  constructor(given: ReadonlyMap<string, Kind>) {
    this.given = given;
  }

  kindOf(parameter: string): Kind | undefined {
    return this.given.get(parameter);
  }
  note(says: string): void {
    if (!this.notes.some((n) => n.text === says)) this.notes.push({ text: says });
  }
  caution(says: string): void {
    if (!this.notes.some((n) => n.text === says)) this.notes.push({ text: says, caution: true });
  }
}

/** Unit in which a part is shown: that of the first argument of its kind, else the declared one. */
function unitFor(part: ResultPart, declaration: PhysicsDeclaration, args: readonly (Value | undefined)[]): Unit {
  if (typeof part.holds === "string") throw new Error(`${declaration.name}: the part ${part.name} has no unit`);
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
function declaredUnit(kind: Kind, spelling: string): Unit {
  let units = declared.get(kind);
  if (!units) {
    units = new Map();
    declared.set(kind, units);
  }
  let unit = units.get(spelling);
  if (!unit) {
    unit = parseUnit(spelling);
    if (unit.kind !== kind) {
      unit = kind === kinds.difference && unit.kind === kinds.temperature ? asDifference(unit) : withKind(unit, kind);
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

interface Measured {
  /** Where the number stands among the arguments. */
  readonly parameter: number;
  readonly entry: number | undefined;
  /** Standard uncertainty in the numbers that `compute` is given. */
  readonly step: number;
  /** Contributions by input, as multiples of `step`. */
  readonly shares: Spread;
}

/**
 * Calls a physics function. `args` are in the order of the parameters, defaults filled in, undefined where
 * an optional one was left out. `identity` names this call, for its model uncertainty. Throws `Trouble`.
 */
export function callPhysics(declaration: PhysicsDeclaration, args: readonly (Value | undefined)[], identity: string): Value {
  const { parameters } = declaration;
  const given = args.filter((a): a is Value => a !== undefined);
  // One value where one is wanted, a list given: the function maps over its entries.
  const mapped = parameters.some((p, i) => !p.list && args[i]?.type === "list");
  if (mapped) {
    const places: number[] = [];
    parameters.forEach((p, i) => {
      if (!p.list && args[i] !== undefined) places.push(i);
    });
    let entry = 0;
    return mapEntries(
      places.map((i) => args[i]!),
      (at) => {
        const one = args.slice();
        places.forEach((i, k) => {
          one[i] = at[k];
        });
        entry++;
        return callPhysics(declaration, one, `${identity}.${entry}`);
      },
    );
  }
  const stop = stopper(given.filter((a) => a.type !== "list"));
  if (stop) return stop;

  const lists = declaration.together ? togetherLists(declaration, args) : undefined;
  if (lists && "type" in lists) return lists;

  const numbers: Record<string, number | number[] | string | undefined> = Object.create(null);
  const kindsGiven = new Map<string, Kind>();
  const measured: Measured[] = [];
  const carried: Note[] = [];
  for (let i = 0; i < parameters.length; i++) {
    const parameter = parameters[i]!;
    const value = lists?.get(parameter.name) ?? args[i];
    if (value === undefined) continue;
    if (value.notes) carried.push(...value.notes);
    if (parameter.takes === "text") {
      numbers[parameter.name] = parameter.list ? texts(parameter, value, declaration.name) as unknown as string : textFor(parameter, value, declaration.name);
      continue;
    }
    if (parameter.takes === "date" || parameter.takes === "any") {
      throw new Error(`${declaration.name}: a physics function takes quantities and texts only`);
    }
    if (parameter.list) {
      const entries = value.type === "list" ? value.entries : [value];
      const row: number[] = [];
      for (let k = 0; k < entries.length; k++) {
        const entry = entries[k]!;
        if (entry.type === "fault" || entry.type === "gap") return entry;
        if (entry.type !== "quantity") throw valueTrouble(parameter, entry, declaration.name);
        row.push(numberFor(parameter, entry, declaration.name));
        if (entry.notes) carried.push(...entry.notes);
        kindsGiven.set(parameter.name, entry.unit.kind);
        if (entry.spread) measured.push(measure(i, k, parameter, entry, declaration.name));
      }
      for (const entry of entries) {
        if (entry.type === "quantity" && entry.unit.kind !== kindsGiven.get(parameter.name)) {
          throw new Trouble({
            code: "list-kinds",
            says: `The entries of \`${parameter.name}\` are of different kinds: ${describe(entries[0]!)} and ${describe(entry)}.`,
          });
        }
      }
      numbers[parameter.name] = row;
      continue;
    }
    if (value.type !== "quantity") throw valueTrouble(parameter, value, declaration.name);
    numbers[parameter.name] = numberFor(parameter, value, declaration.name);
    kindsGiven.set(parameter.name, value.unit.kind);
    if (value.spread) measured.push(measure(i, undefined, parameter, value, declaration.name));
  }

  const remarks = new Remarks(kindsGiven);
  for (const note of carried) if (!remarks.notes.some((n) => n.text === note.text)) remarks.notes.push(note);
  const result = declaration.compute(numbers as NumberArguments, remarks);
  const silent = new Remarks(kindsGiven);
  const again = (changed: NumberArguments): NumberResult | undefined => {
    try {
      return declaration.compute(changed, silent);
    } catch (error) {
      if (error instanceof Trouble) return undefined;
      throw error;
    }
  };
  const spreads = spreadsOf(declaration, numbers as NumberArguments, result, measured, again, remarks, identity);
  const units = new Map<string, Unit>();
  const unitOfPart = (part: ResultPart): Unit => {
    let unit = units.get(part.name);
    if (!unit) {
      unit = unitFor(part, declaration, args);
      units.set(part.name, unit);
    }
    return unit;
  };
  const value = assemble(declaration, result, unitOfPart, spreads);
  return withNotes(value, remarks.notes);
}

function measure(parameter: number, entry: number | undefined, p: Parameter, q: Quantity, callee: string): Measured {
  const step = sigma(q.spread);
  const up = numberFor(p, { ...q, n: { v: q.n.v + step, dp: -1 } }, callee);
  const down = numberFor(p, { ...q, n: { v: q.n.v - step, dp: -1 } }, callee);
  const shares = new Map<string, number>();
  for (const [input, amount] of q.spread!) shares.set(input, amount / step);
  return { parameter, entry, step: (up - down) / 2, shares };
}

function textFor(parameter: Parameter, value: Value, callee: string): string {
  if (value.type !== "text") {
    throw new Trouble({
      code: "argument-kind",
      says: `\`${callee}\` wants a text for \`${parameter.name}\`, and is given ${describe(value)}.`,
      ...(parameter.choices && { help: `Choose ${choices(parameter)}.` }),
    });
  }
  if (parameter.choices && !parameter.choices.includes(value.text)) {
    throw new Trouble({
      code: "argument-choice",
      says: `\`${callee}\` knows no \`${parameter.name}\` called “${value.text}”.`,
      help: `Choose ${choices(parameter)}.`,
    });
  }
  return value.text;
}

function texts(parameter: Parameter, value: Value, callee: string): readonly string[] {
  const entries = value.type === "list" ? value.entries : [value];
  return entries.map((e) => textFor(parameter, e, callee));
}

const choices = (p: Parameter): string => (p.choices ?? []).map((c) => `"${c}"`).join(" or ");

function valueTrouble(parameter: Parameter, value: Value, callee: string): Trouble {
  if (value.type === "record") return recordTrouble(value);
  const wanted = (parameter.takes as Exclude<Parameter["takes"], string>).map((e) => e.kind.name).join(" or ");
  return new Trouble({
    code: "argument-kind",
    says: `\`${callee}\` wants ${wanted} for \`${parameter.name}\`, and is given ${describe(value)}.`,
  });
}

/**
 * Lists that belong together: a row blank in all of them is left out, one filled only in part makes the
 * result a gap that names the cell. The lists must have one length and the same rows.
 */
function togetherLists(declaration: PhysicsDeclaration, args: readonly (Value | undefined)[]): Map<string, ListValue> | Value {
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
  return new Map(chosen.map((c, k) => [c.name, list(kept[k]!, undefined)]));
}

const singular = (name: string): string => name.replace(/_/gu, " ").replace(/ies$/u, "y").replace(/s$/u, "");

type Parts = Readonly<Record<string, number | string | boolean | undefined>>;

const numericParts = (result: NumberResult): readonly Parts[] =>
  typeof result === "number" ? [{ "": result }] : Array.isArray(result) ? (result as readonly Parts[]) : [result as Parts];

/** Contributions of every measured input and of the model to every part; index by row, then part name. */
function spreadsOf(
  declaration: PhysicsDeclaration,
  numbers: NumberArguments,
  result: NumberResult,
  measured: readonly Measured[],
  again: (changed: NumberArguments) => NumberResult | undefined,
  remarks: Remarks,
  identity: string,
): readonly Map<string, Map<string, number>>[] {
  const rows = numericParts(result);
  const spreads = rows.map(() => new Map<string, Map<string, number>>());
  const contribute = (row: number, part: string, input: string, amount: number): void => {
    if (amount === 0 || !Number.isFinite(amount)) return;
    const parts = spreads[row]!;
    let inputs = parts.get(part);
    if (!inputs) {
      inputs = new Map();
      parts.set(part, inputs);
    }
    inputs.set(input, (inputs.get(input) ?? 0) + amount);
  };
  for (const m of measured) {
    if (m.step === 0) continue;
    const shifted = (by: number): readonly Parts[] | undefined => {
      const name = declaration.parameters[m.parameter]!.name;
      const changed: Record<string, number | readonly number[] | string | undefined> = Object.assign(Object.create(null), numbers);
      if (m.entry === undefined) changed[name] = (numbers[name] as number) + by;
      else changed[name] = (numbers[name] as readonly number[]).map((v, k) => (k === m.entry ? v + by : v));
      const moved = again(changed);
      return moved === undefined ? undefined : numericParts(moved);
    };
    const up = shifted(m.step);
    const down = shifted(-m.step);
    if (!up && !down) {
      remarks.note("The uncertainty reaches outside the valid range on both sides; it is not carried on.");
      continue;
    }
    rows.forEach((parts, row) => {
      for (const [part, centre] of Object.entries(parts)) {
        if (typeof centre !== "number") continue;
        const high = up?.[row]?.[part];
        const low = down?.[row]?.[part];
        let amount: number;
        if (typeof high === "number" && typeof low === "number") {
          amount = (high - low) / 2;
          const bend = (high + low) / 2 - centre;
          if (Math.abs(bend) > CURVED * Math.abs(amount) && Math.abs(bend) > 1e-9 * Math.abs(centre)) {
            remarks.note("The result bends strongly within the uncertainty: the ± shown is a poor linear estimate.");
          }
        } else if (typeof high === "number") amount = high - centre;
        else if (typeof low === "number") amount = centre - low;
        else continue;
        for (const [input, share] of m.shares) contribute(row, part, input, amount * share);
      }
    });
  }
  // Books without ± pay nothing: the model's own uncertainty is carried once something measured has one.
  if (declaration.modelUncertainty && measured.length > 0) {
    rows.forEach((parts, row) => {
      const plainParts: Record<string, number> = Object.create(null);
      for (const [part, value] of Object.entries(parts)) if (typeof value === "number") plainParts[part] = value;
      const model = declaration.modelUncertainty!(numbers, plainParts);
      const byPart = typeof model === "number" ? { "": model } : model;
      for (const [part, amount] of Object.entries(byPart)) {
        if (part in plainParts) contribute(row, part, `the equation of ${declaration.name} @${identity}`, amount);
      }
    });
  }
  return spreads;
}

function assemble(
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
    return partValue(part, result, unitOf, spreads[0]?.get(""));
  }
  if (Array.isArray(result)) return list((result as readonly Parts[]).map((parts, row) => one(parts, row)));
  if (declaration.result.length === 1 && declaration.result[0]!.name === "") {
    const value = (result as Parts)[""];
    return value === undefined ? text("") : partValue(declaration.result[0]!, value, unitOf, spreads[0]?.get(""));
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
    throw new Trouble({ code: "not-a-number", says: `The ${part.name || "result"} came out as no number at all.`, help: "Check the inputs for extreme values." });
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
  return record([...tree].map(([name, value]) => [name, value instanceof Map ? record(value) : value] as const));
}

/** Calls a value function. `args` as for `callPhysics`. */
export function callValue(declaration: ValueDeclaration, args: readonly (Value | undefined)[]): Value {
  const { parameters } = declaration;
  if (declaration.maps && parameters.some((p, i) => !p.list && args[i]?.type === "list")) {
    const places = parameters.flatMap((p, i) => (!p.list && args[i] !== undefined ? [i] : []));
    return mapEntries(
      places.map((i) => args[i]!),
      (at) => {
        const one = args.slice();
        places.forEach((i, k) => {
          one[i] = at[k];
        });
        return callValue(declaration, one);
      },
    );
  }
  for (const value of args) if (value?.type === "fault") return value;
  for (const value of args) if (value?.type === "gap") return value;
  const named: Record<string, Value> = Object.create(null);
  for (let i = 0; i < parameters.length; i++) {
    const value = args[i];
    const parameter = parameters[i]!;
    if (value === undefined) continue;
    checkValue(parameter, value, declaration);
    if (parameter.list && value.type === "list" && !declaration.takesGaps) {
      const stop = stopper(value.entries);
      if (stop) return stop;
    }
    named[parameter.name] = parameter.list && value.type !== "list" && value.type !== "record" ? list([value]) : value;
  }
  const notes: Note[] = [];
  const result = declaration.evaluate(named, {
    note(says) {
      const note = { text: says };
      if (!notes.some((n) => n.text === says)) notes.push(note);
      return note;
    },
  });
  return withNotes(result, notes);
}

function checkValue(parameter: Parameter, value: Value, declaration: ValueDeclaration): void {
  if (value.type === "record" && parameter.takes !== "any") throw recordTrouble(value);
  if (value.type === "list" && !parameter.list && parameter.takes !== "any") {
    throw new Trouble({
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
        throw new Trouble({
          code: "argument-kind",
          says: `\`${declaration.name}\` wants a date for \`${parameter.name}\`, and is given ${describe(entry)}.`,
        });
      }
    } else {
      if (entry.type !== "quantity") throw valueTrouble(parameter, entry, declaration.name);
      if (!parameter.takes.some((t) => takesKind(t.kind, entry.unit.kind))) throw kindTrouble(parameter, entry, declaration.name);
    }
  }
}
