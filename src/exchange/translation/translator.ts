import type { Formula } from "../../../grammar";
import {
  exact,
  exactInteger,
  kinds,
  parseUnit,
  plainUnit,
  quantity,
  shownIn,
  type Unit,
} from "../../quantity";
import { isPhysics, type Value, vocabulary } from "../../vocabulary";
import {
  call,
  type Expression,
  minus,
  number,
  operation,
  type Place,
  plus,
  range,
  text,
  times,
  truth,
} from "../expression";
import { natives } from "../natives/written-out";
import { FailedCell } from "../recalculation";
import { EPOCH_DAYS } from "../sheet";
import { callNative, type Desk, defaultTerm } from "./calls";
import type { Coefficients } from "./coefficients";
import { type Layout, placeOfCell, type SetSpot, type TableSpot, termOfCell } from "./layout";
import { add, compare, divide, inUnit, multiply, negate, raise } from "./quantities";
import { shownText } from "./shown-text";
import {
  anyOf,
  isEmpty,
  keyOf,
  type ListTerm,
  missingIf,
  NotLive,
  type QuantityTerm,
  quantityTerm,
  type Term,
  type TruthTerm,
  textTerm,
  truthTerm,
  union,
} from "./term";
import { valueFunctions } from "./value-functions";
import type { Working } from "./working";

/** What a bare name may mean where a formula stands. */
export interface Scope {
  /** Parameters of a definition, variables. They come first. */
  readonly local?: ReadonlyMap<string, Term>;
  readonly table?: TableSpot;
  /** Row of the table, for a column or a cell; undefined in a foot, where a name is the whole column. */
  readonly row?: number;
  readonly depth?: number;
}

export interface Definition {
  readonly parameters: readonly string[];
  readonly formula: Formula;
}

/** Definitions nested deeper than this are left as values. */
const DEEPEST_DEFINE = 12;

/**
 * Turns formulas of the language into spreadsheet expressions. Everything that arithmetic can say is said by
 * references to cells; physics goes through src/exchange/natives. Throws `NotLive` with the reason where a
 * spreadsheet cannot follow.
 */
export class Translator {
  constructor(
    private readonly layout: Layout,
    private readonly definitions: ReadonlyMap<string, Definition>,
    readonly working: Working,
    private readonly coefficients: Coefficients,
  ) {}

  /** A formula in its place; `path` names the value that it makes. */
  translate(formula: Formula, scope: Scope, path: string): Term {
    return this.term(formula, scope, {
      working: this.working,
      coefficients: this.coefficients,
      path,
      names: (table) => this.rowNames(table),
    });
  }

  private rowNames(name: string): Expression | undefined {
    const table = this.layout.tables.get(name);
    if (table === undefined || table.item.rowCount === 0) return undefined;
    const column = [...table.columns.values()][0];
    if (column === undefined || table.item.columns[column.index]!.holds !== "text") return undefined;
    return range(placeOfCell(table, 0, column), placeOfCell(table, table.item.rowCount - 1, column));
  }

  private term(node: Formula, scope: Scope, desk: Desk): Term {
    switch (node.type) {
      case "number":
        return quantityTerm(
          number(exact(node.digits).v),
          node.unit === undefined ? plainUnit : parseUnit(node.unit.text),
        );
      case "date": {
        const days = Date.UTC(
          Number(node.iso.slice(0, 4)),
          Number(node.iso.slice(5, 7)) - 1,
          Number(node.iso.slice(8)),
        );
        return { type: "date", expression: number(days / 86_400_000 + EPOCH_DAYS), missing: [] };
      }
      case "text":
        return this.textPieces(node.pieces, scope, desk);
      case "truth":
        return truthTerm(truth(node.value));
      case "blank":
        return { type: "blank" };
      case "list": {
        const entries = node.entries.map((e) => this.term(e, scope, desk));
        return {
          type: "list",
          length: entries.length,
          entry: (i) => entries[i]!,
          gaps: entries.some(mayBeMissing),
        };
      }
      case "name":
        return this.name(node.name, scope, desk);
      case "part":
        return this.part(node, scope, desk);
      case "call":
        return this.call(node, scope, desk);
      case "negate":
        return this.each([this.term(node.of, scope, desk)], ([a]) => negate(asQuantity(a!)));
      case "not":
        return this.each([this.term(node.of, scope, desk)], ([a]) => {
          const t = asTruth(a!);
          return truthTerm(call("NOT", t.expression), t.missing);
        });
      case "spread":
        return this.spread(node, scope, desk);
      case "arithmetic":
        return this.each([this.term(node.left, scope, desk), this.term(node.right, scope, desk)], ([a, b]) =>
          this.arithmetic(node.operator, a!, b!),
        );
      case "compare":
        return this.comparison(node, scope, desk);
      case "within":
        return this.each(
          [
            this.term(node.of, scope, desk),
            this.term(node.low, scope, desk),
            this.term(node.high, scope, desk),
          ],
          ([of, low, high]) => {
            const above = this.compared(">=", of!, low!);
            const below = this.compared("<=", of!, high!);
            return truthTerm(
              call("AND", above.expression, below.expression),
              union(above.missing, below.missing),
            );
          },
        );
      case "logic":
        return this.each([this.term(node.left, scope, desk), this.term(node.right, scope, desk)], ([a, b]) =>
          this.logic(node.operator, asTruth(a!), asTruth(b!)),
        );
      case "shown": {
        const unit = parseUnit(node.unit.text);
        return this.each([this.term(node.of, scope, desk)], ([a]) => {
          if (a!.type === "blank") return a!;
          const q = asQuantity(a!);
          return inUnit(q, shownIn(q.unit, unit));
        });
      }
      case "choice":
        return this.choice(node, scope, desk);
      case "range":
        return this.range(node, scope, desk);
      case "where":
        return this.where(node, scope, desk);
      case "find":
        throw new NotLive("a search for a value is no arithmetic");
      case "unread":
        throw new NotLive("the formula cannot be read");
    }
  }

  // ---- names and paths

  private name(name: string, scope: Scope, desk: Desk): Term {
    const local = scope.local?.get(name);
    if (local !== undefined) return local;
    if (scope.table?.columns.has(name)) {
      return scope.row === undefined
        ? this.column(scope.table, name)
        : this.cellTerm(scope.table, name, scope.row);
    }
    return this.bookName(name, desk);
  }

  private bookName(name: string, desk: Desk): Term {
    const set = this.layout.sets.get(name);
    if (set !== undefined) return this.setTerm(set, desk);
    if (this.layout.tables.has(name)) return { type: "table", name };
    throw new NotLive(`nothing is called ${name}`);
  }

  private setTerm(set: SetSpot, desk: Desk): Term {
    const { value } = set.item.shown;
    const formula = set.item.statement.node.type === "set" ? set.item.statement.node.formula : undefined;
    // A selection is written out again where it is used: its own cells hold only what was chosen when it went out.
    if (value.type === "list" && formula?.type === "where") return this.term(formula, {}, desk);
    let next = 0;
    const walk = (v: Value): Term => {
      if (v.type === "record")
        return { type: "record", parts: new Map([...v.parts].map(([k, part]) => [k, walk(part)])) };
      if (v.type === "list") {
        const entries = v.entries.map(walk);
        return {
          type: "list",
          length: entries.length,
          entry: (i) => entries[i]!,
          gaps: v.entries.some((e) => e.type === "gap"),
          ...(v.origin === undefined ? {} : { origin: v.origin }),
        };
      }
      const spot = set.cells[next++]!;
      if (v.type === "gap") return this.emptySet(spot.at, formula, desk, spot.shown.path);
      return termOfCell(v, spot.at, false) ?? unknown(v, spot.shown.path);
    };
    return walk(value);
  }

  /** A value that is not there yet: its formula tells of what kind it will be. */
  private emptySet(at: Place, formula: Formula | undefined, desk: Desk, path: string): Term {
    const reference: Expression = { type: "cell", at };
    if (formula?.type === "shown" && formula.of.type === "blank") {
      return quantityTerm(reference, parseUnit(formula.unit.text), [isEmpty(reference)]);
    }
    const term = formula === undefined || formula.type === "blank" ? undefined : this.term(formula, {}, desk);
    if (term === undefined || !("missing" in term)) {
      throw new NotLive(`what ${path} would hold is not known yet`);
    }
    return { ...term, expression: reference, missing: [isEmpty(reference)] } as Term;
  }

  private column(table: TableSpot, name: string): ListTerm {
    const column = table.columns.get(name)!;
    const { rowCount } = table.item;
    const first = placeOfCell(table, 0, column);
    const last = placeOfCell(table, Math.max(0, rowCount - 1), column);
    return {
      type: "list",
      length: rowCount,
      entry: (row) => this.cellTerm(table, name, row),
      origin: { table: table.item.name, rows: table.names.map((_, i) => i), names: table.names },
      gaps: column.gaps,
      ...(rowCount > 0 ? { block: range(first, last) as ListTerm["block"] } : {}),
    };
  }

  private cellTerm(table: TableSpot, name: string, row: number): Term {
    const column = table.columns.get(name)!;
    const { value } = table.item.cell(row, column.index);
    const unit = table.item.columns[column.index]!.unitOf;
    const like = unit === undefined ? undefined : quantity(exactInteger(0), unit);
    const term = termOfCell(
      value,
      placeOfCell(table, row, column),
      column.gaps,
      like ?? this.likeColumn(table, column.index),
    );
    return term ?? unknown(value, `${table.item.name}.${name}`);
  }

  /** A filled cell of the column, to know what an empty one would be. */
  private likeColumn(table: TableSpot, index: number): Value | undefined {
    for (let row = 0; row < Math.min(table.item.rowCount, 200); row++) {
      const { value } = table.item.cell(row, index);
      if (value.type !== "gap" && value.type !== "fault") return value;
    }
    return undefined;
  }

  private foot(table: TableSpot, name: string): Term {
    const foot = table.item.feet.get(name);
    const column = table.columns.get(name);
    if (foot === undefined || column === undefined || table.footRow === undefined)
      throw new NotLive(`there is no foot ${name}`);
    const at = { sheet: table.sheet, row: table.footRow, column: column.column };
    const { value } = foot.shown;
    const unit = table.item.columns[column.index]!.unitOf;
    const like = unit === undefined ? undefined : quantity(exactInteger(0), unit);
    return termOfCell(value, at, value.type === "gap", like) ?? unknown(value, foot.shown.path);
  }

  private part(node: Formula & { type: "part" }, scope: Scope, desk: Desk): Term {
    const { of, part } = node;
    if (of.type === "name" && scope.table !== undefined && !scope.local?.has(of.name)) {
      if (of.name === "book") return this.bookName(part, desk);
      if (of.name === "foot") return this.foot(scope.table, part);
      if (of.name === "before") {
        if (scope.row === undefined || !scope.table.columns.has(part))
          throw new NotLive(`there is no row before for ${part}`);
        return scope.row === 0 ? { type: "blank" } : this.cellTerm(scope.table, part, scope.row - 1);
      }
    }
    if (of.type === "part" && of.part === "foot" && of.of.type === "name") {
      const table = this.layout.tables.get(of.of.name);
      if (table !== undefined) return this.foot(table, part);
    }
    return this.partOf(this.term(of, scope, desk), part);
  }

  private partOf(term: Term, part: string): Term {
    if (term.type === "table") {
      const table = this.layout.tables.get(term.name)!;
      if (table.columns.has(part)) return this.column(table, part);
      const row = table.names.indexOf(part);
      if (row < 0 || table.names.indexOf(part, row + 1) >= 0) throw new NotLive(`there is no row ${part}`);
      const cells = [...table.columns.keys()].map(
        (name) => [name, () => this.cellTerm(table, name, row)] as const,
      );
      return { type: "record", parts: new LazyParts(cells) };
    }
    if (term.type === "record") {
      const found = term.parts.get(part);
      if (found !== undefined) return found;
    }
    if (term.type === "list") {
      const named = term.origin?.names.indexOf(part) ?? -1;
      if (named >= 0) return term.entry(named);
      if (/^\d+$/.test(part) && Number(part) >= 1 && Number(part) <= term.length)
        return term.entry(Number(part) - 1);
      return { ...withoutBlock(term), entry: (i) => this.partOf(term.entry(i), part) };
    }
    if (term.type === "blank") return term;
    throw new NotLive(`there is no part ${part}`);
  }

  // ---- operators

  /** Entry by entry when any of the terms is a list. */
  private each(terms: readonly Term[], f: (terms: readonly Term[]) => Term): Term {
    const lists = terms.filter((t): t is ListTerm => t.type === "list");
    if (lists.length === 0) {
      if (terms.some((t) => t.type === "blank")) return { type: "blank" };
      return f(terms);
    }
    const origin = lists.find((l) => l.origin !== undefined)?.origin;
    const chosen = lists.find((l) => l.chosen !== undefined)?.chosen;
    return {
      type: "list",
      length: lists[0]!.length,
      entry: (i) =>
        this.each(
          terms.map((t) => (t.type === "list" ? t.entry(i) : t)),
          f,
        ),
      gaps: terms.some(mayBeMissing),
      ...(origin === undefined ? {} : { origin }),
      ...(chosen === undefined ? {} : { chosen }),
    };
  }

  private arithmetic(operator: "+" | "-" | "*" | "/" | "^", a: Term, b: Term): Term {
    if (a.type === "date" || b.type === "date") return dateArithmetic(operator, a, b);
    const left = asQuantity(a);
    const right = asQuantity(b);
    switch (operator) {
      case "+":
      case "-":
        return add(left, right, operator);
      case "*":
        return multiply(left, right);
      case "/":
        return divide(left, right);
      case "^":
        return raise(left, right);
    }
  }

  /** The value of `x ± u`; the uncertainty itself stands beside it as it was when the book went out. */
  private spread(node: Formula & { type: "spread" }, scope: Scope, desk: Desk): Term {
    if (
      node.of.type === "number" &&
      node.of.unit === undefined &&
      node.by.type === "number" &&
      node.by.unit !== undefined
    ) {
      return quantityTerm(number(exact(node.of.digits).v), parseUnit(node.by.unit.text));
    }
    return this.term(node.of, scope, desk);
  }

  private comparison(node: Formula & { type: "compare" }, scope: Scope, desk: Desk): Term {
    const { operator } = node;
    if ((operator === "is" || operator === "is not") && node.right.type === "blank") {
      return this.each2(this.term(node.left, scope, desk), (a) => {
        if (a.type === "blank") return truthTerm(truth(operator === "is"));
        if (a.type === "list" || a.type === "record" || a.type === "table")
          throw new NotLive("only single values are blank");
        const empty = anyOf(a.missing);
        return truthTerm(operator === "is" ? empty : call("NOT", empty));
      });
    }
    return this.each([this.term(node.left, scope, desk), this.term(node.right, scope, desk)], ([a, b]) =>
      this.compared(operator, a!, b!),
    );
  }

  private each2(term: Term, f: (term: Term) => Term): Term {
    if (term.type !== "list") return f(term);
    return { ...withoutBlock(term), entry: (i) => f(term.entry(i)), gaps: false };
  }

  private compared(operator: "<" | "<=" | ">" | ">=" | "is" | "is not", a: Term, b: Term): TruthTerm {
    if (a.type === "quantity" && b.type === "quantity") return compare(a, b, operator);
    if (a.type === "text" && b.type === "text" && (operator === "is" || operator === "is not")) {
      const same = operation("=", folded(a.expression), folded(b.expression));
      return truthTerm(operator === "is" ? same : call("NOT", same), union(a.missing, b.missing));
    }
    if (a.type === "date" && b.type === "date") {
      const sign = operator === "is" ? "=" : operator === "is not" ? "<>" : operator;
      return truthTerm(operation(sign, a.expression, b.expression), union(a.missing, b.missing));
    }
    if (a.type === "truth" && b.type === "truth" && (operator === "is" || operator === "is not")) {
      return truthTerm(
        operation(operator === "is" ? "=" : "<>", a.expression, b.expression),
        union(a.missing, b.missing),
      );
    }
    throw new NotLive("the two sides are of different sorts");
  }

  /** The right side is not looked at when the left decides, so what it lacks does not matter then. */
  private logic(operator: "and" | "or", a: TruthTerm, b: TruthTerm): TruthTerm {
    const rest = b.missing.filter((m) => keyOf(m) !== keyOf(a.expression));
    if (rest.length === 0 && b.missing.length === 0) {
      return truthTerm(call(operator === "and" ? "AND" : "OR", a.expression, b.expression), a.missing);
    }
    return operator === "and"
      ? truthTerm(
          call("IF", a.expression, b.expression, truth(false)),
          union(a.missing, missingIf(a.expression, b.missing, [])),
        )
      : truthTerm(
          call("IF", a.expression, truth(true), b.expression),
          union(a.missing, missingIf(a.expression, [], b.missing)),
        );
  }

  private choice(node: Formula & { type: "choice" }, scope: Scope, desk: Desk): Term {
    const condition = this.term(node.condition, scope, desk);
    if (condition.type === "blank") return condition;
    const yes = this.term(node.yes, scope, desk);
    const no = this.term(node.no, scope, desk);
    return this.each2(condition, (c) => this.chosen(asTruth(c), yes, no));
  }

  private chosen(c: TruthTerm, yes: Term, no: Term): Term {
    const pick = (a: Expression, b: Expression): Expression => call("IF", c.expression, a, b);
    const missingOf = (t: Term): readonly Expression[] =>
      t.type === "blank" ? [truth(true)] : "missing" in t ? t.missing : [];
    const missing = union(c.missing, missingIf(c.expression, missingOf(yes), missingOf(no)));
    if (yes.type === "blank" && no.type !== "blank" && "expression" in no) return { ...no, missing } as Term;
    if (no.type === "blank" && yes.type !== "blank" && "expression" in yes)
      return { ...yes, missing } as Term;
    if (yes.type === "quantity" && no.type === "quantity") {
      const other = inUnit(no, yes.unit);
      return quantityTerm(
        pick(yes.expression, other.expression),
        yes.unit,
        missing,
        Math.max(yes.error, no.error),
      );
    }
    if (yes.type === no.type && (yes.type === "text" || yes.type === "truth" || yes.type === "date")) {
      return { ...yes, expression: pick(yes.expression, (no as typeof yes).expression), missing };
    }
    throw new NotLive("a choice between lists or results with parts");
  }

  /** `A to B step C`: as many entries as there are now, each from the first by the step. */
  private range(node: Formula & { type: "range" }, scope: Scope, desk: Desk): Term {
    const from = asQuantity(this.term(node.from, scope, desk));
    const to = inUnit(asQuantity(this.term(node.to, scope, desk)), from.unit);
    const stepTerm = node.step === undefined ? undefined : asQuantity(this.term(node.step, scope, desk));
    const step = stepTerm === undefined ? number(1) : stepIn(stepTerm, from.unit);
    const read = (e: Expression): number => {
      const value = this.working.evaluate(e);
      if (value instanceof FailedCell || typeof value !== "number")
        throw new NotLive("the ends of a range are not known");
      return value;
    };
    const length = Math.floor((read(to.expression) - read(from.expression)) / read(step) + 1e-9) + 1;
    if (!(length >= 1 && length <= 10_000)) throw new NotLive("a range without entries");
    const entry = (i: number): Term =>
      quantityTerm(plus(from.expression, times(number(i), step)), from.unit, from.missing, from.error);
    return { type: "list", length, entry, gaps: from.missing.length > 0 };
  }

  private where(node: Formula & { type: "where" }, scope: Scope, desk: Desk): Term {
    const list = this.term(node.of, scope, desk);
    if (list.type !== "list") throw new NotLive("`where` stands behind something that is no list");
    const { origin } = list;
    let condition: (i: number) => Term;
    if (origin === undefined) {
      const truths = this.term(node.condition, scope, desk);
      if (truths.type !== "list") throw new NotLive("`where` needs a condition for each entry");
      condition = truths.entry;
    } else {
      const table = this.layout.tables.get(origin.table);
      if (table === undefined) throw new NotLive("the rows of `where` belong to no table");
      const inner: Scope = { ...(scope.local === undefined ? {} : { local: scope.local }), table };
      condition = (i) => this.term(node.condition, { ...inner, row: origin.rows[i]! }, desk);
    }
    const before = list.chosen;
    const chosen = (i: number): TruthTerm => {
      const c = condition(i);
      // A condition that is not known leaves the row out.
      const here = c.type === "blank" ? truthTerm(truth(false)) : asTruth(c);
      const known =
        here.missing.length === 0
          ? here.expression
          : call("IF", anyOf(here.missing), truth(false), here.expression);
      if (before === undefined) return truthTerm(known);
      return truthTerm(call("AND", before(i).expression, known));
    };
    return { ...withoutBlock(list), chosen, gaps: true };
  }

  // ---- calls

  private call(node: Formula & { type: "call" }, scope: Scope, desk: Desk): Term {
    const define = this.definitions.get(node.name);
    if (define !== undefined) {
      const depth = (scope.depth ?? 0) + 1;
      if (depth > DEEPEST_DEFINE) throw new NotLive("definitions are nested too deep");
      const local = new Map<string, Term>();
      define.parameters.forEach((parameter, i) => {
        const argument =
          node.arguments.find((a) => a.label === parameter) ??
          node.arguments.filter((a) => a.label === undefined)[i];
        if (argument !== undefined)
          local.set(parameter, this.shared(this.term(argument.value, scope, desk), parameter, desk));
      });
      return this.term(define.formula, { local, depth }, desk);
    }
    const declaration = vocabulary.get(node.name);
    if (declaration === undefined) throw new NotLive(`there is no function ${node.name}`);
    const places = node.arguments.filter((a) => a.label === undefined);
    const args = declaration.parameters.map((parameter, i): Term | undefined => {
      const given = node.arguments.find((a) => a.label === parameter.name) ?? places[i];
      if (given !== undefined) return this.term(given.value, scope, desk);
      return defaultTerm(parameter);
    });
    if (!isPhysics(declaration)) {
      const made = valueFunctions.get(node.name);
      if (made === undefined) throw new NotLive(`${node.name} is no arithmetic that a spreadsheet has`);
      return made(args, desk, (terms, f) => this.each(terms, f));
    }
    const native = natives.get(node.name);
    if (native === undefined)
      throw new NotLive(`${node.name} searches or adds up many small steps, which cells cannot`);
    if (args.some((a, i) => a?.type === "blank" && !declaration.parameters[i]!.list))
      return { type: "blank" };
    return callNative(declaration, native, args, desk);
  }

  /** An argument that a definition may use more than once: anything longer than a reference gets a cell. */
  private shared(term: Term, name: string, desk: Desk): Term {
    if (term.type !== "quantity") return term;
    return { ...term, expression: this.working.step(desk.path, name, term.expression, term.missing) };
  }

  private textPieces(pieces: readonly (string | Formula)[], scope: Scope, desk: Desk): Term {
    let written: Expression | undefined;
    let missing: readonly Expression[] = [];
    for (const piece of pieces) {
      let next: Expression;
      if (typeof piece === "string") next = text(piece);
      else {
        const term = this.term(piece, scope, desk);
        const shown = shownText(term, this.working);
        next = shown.expression;
        missing = union(missing, shown.missing);
      }
      written = written === undefined ? next : operation("&", written, next);
    }
    return textTerm(written ?? text(""), missing);
  }
}

/** Parts made when they are asked for. */
class LazyParts extends Map<string, Term> {
  private readonly makers: ReadonlyMap<string, () => Term>;
  constructor(makers: readonly (readonly [string, () => Term])[]) {
    super();
    this.makers = new Map(makers);
  }
  override get(name: string): Term | undefined {
    return this.makers.get(name)?.();
  }
}

const withoutBlock = ({ block: _, ...list }: ListTerm): ListTerm => list;
const folded = (e: Expression): Expression =>
  e.type === "text" ? text(e.text.trim().replace(/ +/g, " ").toLowerCase()) : call("LOWER", call("TRIM", e));
const mayBeMissing = (t: Term): boolean =>
  t.type === "blank" || (t.type === "list" ? t.gaps : "missing" in t && t.missing.length > 0);

export function asQuantity(term: Term): QuantityTerm {
  if (term.type === "quantity") return term;
  throw new NotLive(
    term.type === "record"
      ? "a result with parts stands where a number should"
      : "something else than a number is calculated with",
  );
}
export function asTruth(term: Term): TruthTerm {
  if (term.type === "truth") return term;
  throw new NotLive("a condition is neither true nor false");
}

function unknown(value: Value, path: string): never {
  throw new NotLive(
    value.type === "fault" ? `${path} is a fault` : `what ${path} would hold is not known yet`,
  );
}

function stepIn(step: QuantityTerm, unit: Unit): Expression {
  if (unit.kind !== kinds.temperature) return inUnit(step, unit).expression;
  return times(step.expression, number(step.unit.scale.v / unit.scale.v));
}

function dateArithmetic(operator: string, a: Term, b: Term): Term {
  if (operator === "-" && a.type === "date" && b.type === "date") {
    return quantityTerm(minus(a.expression, b.expression), parseUnit("d"), union(a.missing, b.missing));
  }
  const [date, time] = a.type === "date" ? [a, b] : [b, a];
  if (date.type !== "date" || time.type !== "quantity" || (operator === "-" && a.type !== "date")) {
    throw new NotLive("only days are added to a date");
  }
  const days = inUnit(time, parseUnit("d")).expression;
  const expression = operator === "+" ? plus(date.expression, days) : minus(date.expression, days);
  return { type: "date", expression, missing: union(date.missing, time.missing) };
}
