import type { Formula } from "../../../grammar";
import { exact, parseUnit, plainUnit, shownIn } from "../../quantity";
import { isPhysics, vocabulary } from "../../vocabulary";
import { call, type Expression, number, operation, plus, range, text, times, truth } from "../expression";
import { natives } from "../natives/written-out";
import { FailedCell } from "../recalculation";
import { EPOCH_DAYS } from "../sheet";
import { callNative, type Desk, defaultTerm } from "./calls";
import type { Coefficients } from "./coefficients";
import { type Layout, placeOfCell, type TableSpot } from "./layout";
import { Names } from "./names";
import {
  arithmetic,
  asQuantity,
  asTruth,
  chosen as chosenTerm,
  compared,
  each,
  eachOf,
  logic,
  mayBeMissing,
  stepIn,
  withoutBlock,
} from "./operators";
import { inUnit, negate } from "./quantities";
import { searched } from "./searching";
import { shownText } from "./shown-text";
import {
  anyOf,
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
  private readonly names: Names;

  constructor(
    private readonly layout: Layout,
    private readonly definitions: ReadonlyMap<string, Definition>,
    readonly working: Working,
    private readonly coefficients: Coefficients,
  ) {
    this.names = new Names(layout, (formula, desk) => this.term(formula, {}, desk));
  }

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
        return each([this.term(node.of, scope, desk)], ([a]) => negate(asQuantity(a!)));
      case "not":
        return each([this.term(node.of, scope, desk)], ([a]) => {
          const t = asTruth(a!);
          return truthTerm(call("NOT", t.expression), t.missing);
        });
      case "spread":
        return this.spread(node, scope, desk);
      case "arithmetic":
        return each([this.term(node.left, scope, desk), this.term(node.right, scope, desk)], ([a, b]) =>
          arithmetic(node.operator, a!, b!),
        );
      case "compare":
        return this.comparison(node, scope, desk);
      case "within":
        return each(
          [
            this.term(node.of, scope, desk),
            this.term(node.low, scope, desk),
            this.term(node.high, scope, desk),
          ],
          ([of, low, high]) => {
            const above = compared(">=", of!, low!);
            const below = compared("<=", of!, high!);
            return truthTerm(
              call("AND", above.expression, below.expression),
              union(above.missing, below.missing),
            );
          },
        );
      case "logic":
        return each([this.term(node.left, scope, desk), this.term(node.right, scope, desk)], ([a, b]) =>
          logic(node.operator, asTruth(a!), asTruth(b!)),
        );
      case "shown": {
        const unit = parseUnit(node.unit.text);
        return each([this.term(node.of, scope, desk)], ([a]) => {
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
        return this.find(node, scope, desk);
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
        ? this.names.column(scope.table, name)
        : this.names.cellTerm(scope.table, name, scope.row);
    }
    return this.names.bookName(name, desk);
  }

  private part(node: Formula & { type: "part" }, scope: Scope, desk: Desk): Term {
    const { of, part } = node;
    if (of.type === "name" && scope.table !== undefined && !scope.local?.has(of.name)) {
      if (of.name === "book") return this.names.bookName(part, desk);
      if (of.name === "foot") return this.names.foot(scope.table, part);
      if (of.name === "before") {
        if (scope.row === undefined || !scope.table.columns.has(part))
          throw new NotLive(`there is no row before for ${part}`);
        return scope.row === 0 ? { type: "blank" } : this.names.cellTerm(scope.table, part, scope.row - 1);
      }
    }
    if (of.type === "part" && of.part === "foot" && of.of.type === "name") {
      const table = this.layout.tables.get(of.of.name);
      if (table !== undefined) return this.names.foot(table, part);
    }
    return this.names.partOf(this.term(of, scope, desk), part);
  }

  // ---- operators

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
      return eachOf(this.term(node.left, scope, desk), (a) => {
        if (a.type === "blank") return truthTerm(truth(operator === "is"));
        if (a.type === "list" || a.type === "record" || a.type === "table")
          throw new NotLive("only single values are blank");
        const empty = anyOf(a.missing);
        return truthTerm(operator === "is" ? empty : call("NOT", empty));
      });
    }
    return each([this.term(node.left, scope, desk), this.term(node.right, scope, desk)], ([a, b]) =>
      compared(operator, a!, b!),
    );
  }

  private choice(node: Formula & { type: "choice" }, scope: Scope, desk: Desk): Term {
    const condition = this.term(node.condition, scope, desk);
    if (condition.type === "blank") return condition;
    const yes = this.term(node.yes, scope, desk);
    const no = this.term(node.no, scope, desk);
    return eachOf(condition, (c) => chosenTerm(asTruth(c), yes, no));
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

  private find(node: Formula & { type: "find" }, scope: Scope, desk: Desk): Term {
    const { goal } = node;
    if (goal.type !== "compare" || goal.operator !== "is")
      throw new NotLive("the goal of its search is no comparison of two numbers");
    const end = (formula: Formula): QuantityTerm => asQuantity(this.term(formula, scope, desk));
    const at = (formula: Formula, x: Term): QuantityTerm =>
      asQuantity(this.term(formula, { ...scope, local: new Map(scope.local).set(node.name, x) }, desk));
    return searched(
      node.name,
      end(node.from),
      end(node.to),
      (x) => [at(goal.left, x), at(goal.right, x)],
      this.working,
      desk.path,
    );
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
      return made(args, desk, each);
    }
    const native = natives.get(node.name);
    if (native === undefined) throw new NotLive(`${node.name} is not written out in spreadsheet arithmetic`);
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
