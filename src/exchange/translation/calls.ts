import type { Formula } from "../../../grammar";
import { parseFormula } from "../../../grammar";
import {
  asDifference,
  exact,
  type Kind,
  kinds,
  parseUnit,
  plainUnit,
  type Unit,
  withKind,
} from "../../quantity";
import type { Parameter, PhysicsDeclaration, ResultPart } from "../../vocabulary";
import { call, type Expression, number, operation, text } from "../expression";
import type { ListEntry, Native, NativeCall, Parts } from "../natives/native";
import { massFraction, massFractionFromProof, volumeFraction } from "../natives/spirit-maths";
import type { Coefficients } from "./coefficients";
import { fromSI, inSI } from "./quantities";
import {
  anyOf,
  keyOf,
  type ListTerm,
  NotLive,
  type QuantityTerm,
  quantityTerm,
  type RecordTerm,
  type Term,
  textTerm,
  union,
} from "./term";
import type { Working } from "./working";

/** Calls of physics functions: arguments to SI numbers, the written form, and the result back in its unit. */
export interface Desk {
  readonly working: Working;
  readonly coefficients: Coefficients;
  /** Path of the value that is being translated, for the labels of helper cells. */
  readonly path: string;
  /** The cells that hold the names of a table's rows. */
  readonly names: (table: string) => Expression | undefined;
}

/** The default of an optional parameter, as a term; undefined when it has none. */
export function defaultTerm(parameter: Parameter): Term | undefined {
  if (parameter.otherwise === undefined) return undefined;
  const { formula } = parseFormula(parameter.otherwise) as { formula: Formula };
  if (formula.type === "number") {
    const unit = formula.unit === undefined ? plainUnit : parseUnit(formula.unit.text);
    return quantityTerm(number(exact(formula.digits).v), unit);
  }
  if (formula.type === "text") return textTerm(text(formula.pieces.join("")));
  throw new NotLive(`the default of ${parameter.name} is no plain value`);
}

/** Calls a native on arguments in the order of the parameters; lists where one value is wanted are mapped. */
export function callNative(
  declaration: PhysicsDeclaration,
  native: Native,
  args: readonly (Term | undefined)[],
  desk: Desk,
): Term {
  const { parameters } = declaration;
  const mapped = parameters.flatMap((p, i) => (!p.list && args[i]?.type === "list" ? [i] : []));
  if (mapped.length > 0) {
    const first = args[mapped[0]!] as ListTerm;
    const entry = (index: number): Term =>
      callNative(
        declaration,
        native,
        args.map((a, i) => (mapped.includes(i) ? (a as ListTerm).entry(index) : a)),
        desk,
      );
    return {
      type: "list",
      length: first.length,
      entry,
      gaps: true,
      ...(first.origin === undefined ? {} : { origin: first.origin }),
    };
  }
  return new Caller(declaration, native, args, desk).result();
}

class Caller implements NativeCall {
  private readonly missing: readonly Expression[];
  private readonly error: number;
  private readonly together_: readonly string[];
  private readonly used = new Set<string>();

  constructor(
    private readonly declaration: PhysicsDeclaration,
    private readonly native: Native,
    private readonly args: readonly (Term | undefined)[],
    private readonly desk: Desk,
  ) {
    this.together_ = declaration.together ?? [];
    const missing: (readonly Expression[])[] = [];
    let error = native.error;
    declaration.parameters.forEach((p, i) => {
      const arg = args[i];
      if (arg === undefined || this.together_.includes(p.name)) return;
      if (arg.type === "blank") throw new NotLive("an argument is blank");
      if ("missing" in arg) missing.push(arg.missing);
      if (arg.type === "quantity") error = Math.max(error, arg.error);
    });
    this.missing = union(...missing, this.halfFilled());
    this.error = error;
  }

  result(): Term {
    const made = this.native.write(this);
    this.demandAllUsed();
    if ("rows" in made) {
      const rows = made.rows.map((parts) => this.record(parts));
      const list = this.declaration.rowPer === undefined ? undefined : this.find(this.declaration.rowPer).arg;
      const origin = list?.type === "list" ? list.origin : undefined;
      const gaps = this.missing.length > 0;
      return {
        type: "list",
        length: rows.length,
        entry: (i) => rows[i]!,
        gaps,
        ...(origin === undefined ? {} : { origin }),
      };
    }
    const single = this.declaration.result.length === 1 && this.declaration.result[0]!.name === "";
    if (single) return this.part(this.declaration.result[0]!, made as Expression);
    return this.record((made as Parts).parts);
  }

  /** What the written form leaves out of the account must at least be no cell that may change. */
  private demandAllUsed(): void {
    this.declaration.parameters.forEach(({ name }, i) => {
      const arg = this.args[i];
      if (arg === undefined || this.used.has(name) || arg.type === "text") return;
      if (arg.type === "quantity" && arg.expression.type === "number") return;
      throw new NotLive(`${this.declaration.name} is not written out for a given ${name}`);
    });
  }

  /** Dotted part names become records inside records. */
  private record(parts: Readonly<Record<string, Expression | undefined>>): RecordTerm {
    const tree = new Map<string, Term | Map<string, Term>>();
    for (const part of this.declaration.result) {
      const expression = parts[part.name];
      const term: Term = expression === undefined ? { type: "blank" } : this.part(part, expression);
      const dot = part.name.indexOf(".");
      if (dot < 0) tree.set(part.name, term);
      else {
        const head = part.name.slice(0, dot);
        const inner = tree.get(head);
        const map = inner instanceof Map ? inner : new Map<string, Term>();
        map.set(part.name.slice(dot + 1), term);
        tree.set(head, map);
      }
    }
    const record = (map: ReadonlyMap<string, Term | Map<string, Term>>): RecordTerm => ({
      type: "record",
      parts: new Map([...map].map(([k, v]) => [k, v instanceof Map ? record(v) : v])),
    });
    return record(tree);
  }

  private part(part: ResultPart, e: Expression): Term {
    if (part.holds === "text") return textTerm(e, this.missing);
    if (part.holds === "truth") return { type: "truth", expression: e, missing: this.missing };
    if (part.holds === "any") throw new NotLive("its result has no fixed kind");
    const unit = this.unitFor(part);
    return quantityTerm(fromSI(e, unit), unit, this.missing, this.error);
  }

  /** Unit in which a part is told: that of the first argument of its kind, else the declared one. */
  private unitFor(part: ResultPart): Unit {
    const { kind, unit, unitOf, kindOf } = part.holds as Exclude<ResultPart["holds"], string>;
    const { parameters } = this.declaration;
    if (kindOf !== undefined) {
      const lent = unitOfTerm(this.args[parameters.findIndex((p) => p.name === kindOf)]);
      if (lent !== undefined) return lent;
    }
    for (let i = 0; i < this.args.length; i++) {
      if (unitOf !== undefined && parameters[i]!.name !== unitOf) continue;
      const lent = unitOfTerm(this.args[i]);
      if (lent !== undefined && lent.kind === kind) return lent;
    }
    const declared = unit === "" ? plainUnit : parseUnit(unit);
    if (declared.kind === kind) return declared;
    return kind === kinds.difference && declared.kind === kinds.temperature
      ? asDifference(declared)
      : withKind(declared, kind);
  }

  /** A parameter that a declaration does not have counts as left out: several functions share one written form. */
  private find(name: string): { parameter: Parameter | undefined; arg: Term | undefined } {
    const i = this.declaration.parameters.findIndex((p) => p.name === name);
    this.used.add(name);
    return { parameter: this.declaration.parameters[i], arg: i < 0 ? undefined : this.args[i] };
  }

  number(name: string): Expression {
    const found = this.optional(name);
    if (found === undefined) throw new NotLive(`${name} is not given`);
    return found;
  }

  optional(name: string): Expression | undefined {
    const { parameter, arg } = this.find(name);
    if (arg === undefined || parameter === undefined) return undefined;
    if (arg.type !== "quantity") throw new NotLive(`${name} is no single number`);
    return this.wanted(parameter, arg, name);
  }

  constant(name: string): number | undefined {
    const found = this.optional(name);
    return found?.type === "number" ? found.value : undefined;
  }

  kindOf(name: string): Kind | undefined {
    const { arg } = this.find(name);
    return unitOfTerm(arg)?.kind;
  }

  text(name: string): string | undefined {
    const { arg } = this.find(name);
    return arg?.type === "text" && arg.expression.type === "text" ? arg.expression.text : undefined;
  }

  together(...names: string[]): readonly ListEntry[] {
    const lists = names.map((name) => {
      const { parameter, arg } = this.find(name);
      if (arg === undefined || parameter === undefined) throw new NotLive(`${name} is not given`);
      return { name, parameter, list: listOf(arg) };
    });
    const entries: ListEntry[] = [];
    const origin = lists.find((l) => l.list.origin !== undefined)?.list.origin;
    for (let i = 0; i < lists[0]!.list.length; i++) {
      const row = lists.map(({ list }) => list.entry(i));
      const called = origin?.names[i] || String(i + 1);
      if (row.every((t) => t.type === "blank")) continue;
      const left = lists.flatMap(({ list }) =>
        list.chosen === undefined ? [] : [call("NOT", list.chosen(i).expression)],
      );
      const values = row.map((t, k) => {
        if (t.type !== "quantity") throw new NotLive("a list that belongs together holds more than numbers");
        return this.wanted(lists[k]!.parameter, t, `${called}: ${lists[k]!.name}`, left);
      });
      const blanks = row.flatMap((t) => (t as QuantityTerm).missing);
      const absent = union(left, blanks.slice(0, 1));
      const guard =
        absent.length === 0 ? this : new Guarded(this, this.desk, union(this.missing, left, blanks));
      entries.push({
        name: called,
        values,
        call: guard,
        ...(absent.length === 0 ? {} : { absent: anyOf(absent) }),
      });
    }
    return entries;
  }

  /** Rows that are filled only in part make the whole result a gap. */
  private halfFilled(): readonly Expression[] {
    if (this.together_.length < 2) return [];
    const lists = this.declaration.parameters.flatMap((p, i) => {
      const arg = this.args[i];
      return this.together_.includes(p.name) && arg !== undefined ? [listOf(arg)] : [];
    });
    const conditions: Expression[] = [];
    for (let i = 0; i < (lists[0]?.length ?? 0); i++) {
      const blank = lists.map((l) => {
        const t = l.entry(i);
        return t.type === "quantity" ? t.missing : [];
      });
      const ors = blank.map((b) => (b.length === 0 ? undefined : b.length === 1 ? b[0]! : call("OR", ...b)));
      for (let k = 1; k < ors.length; k++) {
        const [a, b] = [ors[0], ors[k]];
        if (a === undefined && b === undefined) continue;
        const half =
          a === undefined || b === undefined
            ? (a ?? b)!
            : keyOf(a) === keyOf(b)
              ? undefined
              : operation("<>", a, b);
        if (half === undefined) continue;
        const chosen = lists.find((l) => l.chosen !== undefined)?.chosen;
        conditions.push(chosen === undefined ? half : call("AND", chosen(i).expression, half));
      }
    }
    return conditions;
  }

  step(what: string, e: Expression): Expression {
    return this.desk.working.step(this.desk.path, what, e, this.missing);
  }
  constants(set: Parameters<NativeCall["constants"]>[0]): readonly Expression[] {
    return this.desk.coefficients.refer(set);
  }
  refuse(reason: string): never {
    throw new NotLive(`${this.declaration.name} is not written out ${reason}`);
  }
  within(e: Expression, condition: Expression): Expression {
    return call("IF", condition, e, call("NA"));
  }

  /** An argument as the declaration's computation wants it: strengths as mass or volume fractions. */
  private wanted(
    parameter: Parameter,
    term: QuantityTerm,
    name: string,
    left: readonly Expression[] = [],
  ): Expression {
    const si = inSI(term);
    const takes = parameter.takes as Exclude<Parameter["takes"], string>;
    const kind = term.unit.kind;
    const entry = takes.find((t) => t.kind === kind);
    if (entry?.toNumber === undefined) return si;
    const direct = takes.find(
      (t) => t.toNumber === undefined && (t.kind === kinds.strengthMass || t.kind === kinds.strengthVolume),
    )?.kind;
    // Helper cells of an entry that may be blank must not fail on the blank.
    const guard: NativeCall =
      term.missing.length + left.length === 0
        ? this
        : new Guarded(this, this.desk, union(this.missing, left, term.missing));
    const fraction = this.strengthInRange(guard, si, name);
    if (direct === kinds.strengthMass && kind === kinds.strengthVolume) {
      return si.type === "number" && (si.value === 0 || si.value === 1)
        ? si
        : massFraction(guard, fraction, name);
    }
    if (direct === kinds.strengthMass && kind === kinds.proof) return massFractionFromProof(guard, fraction);
    if (direct === kinds.strengthVolume && kind === kinds.strengthMass)
      return volumeFraction(guard, fraction);
    if (direct === kinds.strengthVolume && kind === kinds.proof)
      return volumeFraction(guard, massFractionFromProof(guard, fraction));
    throw new NotLive(`the kind of ${name} is not written out`);
  }

  private strengthInRange(guard: NativeCall, si: Expression, name: string): Expression {
    if (si.type === "number") return si;
    const possible = call("AND", operation(">=", si, number(-1e-9)), operation("<=", si, number(1 + 1e-9)));
    return guard.step(`${name}, a fraction`, guard.within(si, possible));
  }
}

/** The same desk for one entry of a list, whose helper cells stay empty while the entry is. */
class Guarded implements NativeCall {
  constructor(
    private readonly caller: NativeCall,
    private readonly desk: Desk,
    private readonly missing: readonly Expression[],
  ) {}
  step(what: string, e: Expression): Expression {
    return this.desk.working.step(this.desk.path, what, e, this.missing);
  }
  number = (name: string): Expression => this.caller.number(name);
  optional = (name: string): Expression | undefined => this.caller.optional(name);
  constant = (name: string): number | undefined => this.caller.constant(name);
  kindOf = (name: string): Kind | undefined => this.caller.kindOf(name);
  text = (name: string): string | undefined => this.caller.text(name);
  together = (...names: string[]): readonly ListEntry[] => this.caller.together(...names);
  constants: NativeCall["constants"] = (set) => this.caller.constants(set);
  refuse: NativeCall["refuse"] = (reason) => this.caller.refuse(reason);
  within = (e: Expression, condition: Expression): Expression => this.caller.within(e, condition);
}

export function unitOfTerm(term: Term | undefined): Unit | undefined {
  if (term === undefined) return undefined;
  if (term.type === "quantity") return term.unit;
  if (term.type === "list") {
    for (let i = 0; i < term.length; i++) {
      const entry = term.entry(i);
      if (entry.type === "quantity") return entry.unit;
    }
  }
  return undefined;
}

/** A term as a list; a single value is a list of one. */
export function listOf(term: Term): ListTerm {
  if (term.type === "list") return term;
  return {
    type: "list",
    length: 1,
    entry: () => term,
    gaps: term.type === "blank" || ("missing" in term && term.missing.length > 0),
  };
}
