import { type Kind, type Note, Trouble, type Unit } from "../quantity";
import type {
  Call,
  NumberArguments,
  NumberResult,
  PhysicsDeclaration,
  ResultPart,
  ValueDeclaration,
} from "../vocabulary/declaration";
import { list, type Missing, type Value } from "../vocabulary/value";
import { checkValue, numberFor, textFor, texts, togetherLists, valueTrouble } from "./arguments";
import type { Draw } from "./environment";
import { describe, stopper, withNotes } from "./fault";
import { mapEntries } from "./operations";
import { drawnModel, type Measured, measure, spreadsOf } from "./propagation";
import { assemble, unitFor } from "./results";

/** Work of a call of ordinary effort. */
const CALL_WORK = 150;

/** Collects what a computation says about its result; `withNotes` keeps each remark once. */
class Remarks implements Call {
  readonly notes: Note[] = [];
  readonly missing = new Map<string, Missing>();
  private readonly given: ReadonlyMap<string, Kind>;

  constructor(given: ReadonlyMap<string, Kind>) {
    this.given = given;
  }

  kindOf(parameter: string): Kind | undefined {
    return this.given.get(parameter);
  }
  note(says: string): void {
    this.notes.push({ text: says });
  }
  caution(says: string): void {
    this.notes.push({ text: says, caution: true });
  }
  without(parts: readonly string[], why: Missing): void {
    for (const part of parts) this.missing.set(part, why);
  }
}

/**
 * Calls a physics function. `args` are in the order of the parameters, defaults filled in, undefined where
 * an optional one was left out. `identity` names this call, for its model uncertainty; `once` makes each entry of a
 * list over which the function maps. Throws `Trouble`.
 */
export function callPhysics(
  declaration: PhysicsDeclaration,
  args: readonly (Value | undefined)[],
  identity: string,
  draw?: Draw,
  spend?: (work: number) => void,
  once: (make: () => Value) => Value = (make) => make(),
): Value {
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
        return once(() => callPhysics(declaration, one, `${identity}.${entry}`, draw, spend));
      },
    );
  }
  const stop = stopper(given);
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
      numbers[parameter.name] = parameter.list
        ? (texts(parameter, value, declaration.name) as unknown as string)
        : textFor(parameter, value, declaration.name);
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
        if (k === 0) kindsGiven.set(parameter.name, entry.unit.kind);
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
  remarks.notes.push(...carried);
  // Once for the result, twice for each input with an uncertainty.
  spend?.(CALL_WORK * (declaration.effort ?? 1) * (1 + 2 * measured.length));
  const computed = declaration.compute(numbers as NumberArguments, remarks);
  const result = draw
    ? drawnModel(declaration, numbers as NumberArguments, computed, identity, draw)
    : computed;
  const silent = new Remarks(kindsGiven);
  const again = (changed: NumberArguments): NumberResult | undefined => {
    try {
      return declaration.compute(changed, silent);
    } catch (error) {
      if (error instanceof Trouble) return undefined;
      throw error;
    }
  };
  const spreads = spreadsOf(
    declaration,
    numbers as NumberArguments,
    result,
    measured,
    again,
    remarks,
    identity,
  );
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
  const whole =
    value.type === "record" && remarks.missing.size > 0 ? { ...value, without: remarks.missing } : value;
  return withNotes(rowsOf(declaration, whole, args), remarks.notes);
}

/** Rows that stand for the entries of an argument keep their names, so that a row is reached as the entry is. */
function rowsOf(declaration: PhysicsDeclaration, value: Value, args: readonly (Value | undefined)[]): Value {
  if (value.type !== "list") return value;
  const per = args[declaration.parameters.findIndex((p) => p.name === declaration.rowPer)];
  if (per?.type !== "list" || !per.origin || per.entries.length !== value.entries.length) return value;
  return list(value.entries, per.origin);
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
    named[parameter.name] =
      parameter.list && value.type !== "list" && value.type !== "record" ? list([value]) : value;
  }
  const notes: Note[] = [];
  const result = declaration.evaluate(named, {
    note(says) {
      const note = { text: says };
      notes.push(note);
      return note;
    },
  });
  return withNotes(result, notes);
}
