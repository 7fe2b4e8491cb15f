import {
  type ArithmeticNode,
  type CallNode,
  type CompareNode,
  type Formula,
  type LogicNode,
  type NumberNode,
  nearAmong,
  type Span,
  writeName,
} from "../../grammar";
import {
  asDifference,
  compatible,
  kinds,
  parseUnit,
  type Quantity,
  quantity,
  Trouble,
  type TroubleParts,
} from "../quantity";
import { vocabulary } from "../vocabulary";
import { isAway } from "../vocabulary/arrival";
import { isPhysics } from "../vocabulary/declaration";
import {
  type Fault,
  type FaultPlace,
  gap,
  type ListValue,
  text,
  truth,
  type Value,
  waiting,
} from "../vocabulary/value";
import { ArgumentTrouble } from "./arguments";
import { bind, callableOf, Misplaced } from "./binding";
import { ColumnList, columnTotal } from "./blocks";
import { callPhysics, callValue } from "./call";
import { chosen } from "./choosing";
import { dateOf } from "./dates";
import type { Code, Environment } from "./environment";
import { describe, faultFrom, stopper, withNotes } from "./fault";
import { findRoot } from "./find";
import { defaultOf, inText, likeFirst, literal, POWER_OF_TEN } from "./literals";
import { localCode } from "./locals";
import {
  cellsKey,
  type DefineName,
  functionNames,
  layoutOf,
  type Names,
  plainQuantity,
  rowsKey,
  setKey,
  type TableName,
} from "./names";
import {
  arithmetic,
  compared,
  inverted,
  isBlank,
  isWithin,
  logic,
  negated,
  range,
  shownIn,
  spreadOut,
  truthTrouble,
} from "./operations";
import { type Host, Paths } from "./paths";
import { at, placeIn } from "./places";
import type { Search } from "./search";
import { depthOf, type Given, givenBy, looksAtUnknown, originTable, spineOf } from "./syntax";

/** How a formula looks at something: one value, this row's cell, the row before, or a whole column. */
export type Look = "value" | "row" | "before" | "whole";
export type References = Map<string, Set<Look>>;

/** Where a formula stands, which decides what its bare names mean. */
export interface Scope {
  readonly names: Names;
  readonly table?: TableName;
  /** In a table: a bare column name is this row's cell (`row`) or the whole column (`foot`). */
  readonly place: "book" | "row" | "foot";
  /** Names of the arguments around it, outermost first. */
  readonly frames: readonly (readonly string[])[];
  /** What the arguments of the definition around it hand on, by parameter. */
  readonly given?: ReadonlyMap<string, Given>;
  /** Frames that stand outside the condition of a `where`, whose columns come before them. */
  readonly outside?: number;
}

export interface Compiled {
  readonly code: Code;
  readonly references: References;
  /** Functions of the vocabulary that it calls, also through definitions. */
  readonly functions: ReadonlySet<string>;
  /** Bodies of the definitions that are written out in it. */
  readonly definitions: ReadonlySet<Formula>;
  /** How many parts it has once its definitions are written out: what it takes to work it out once. */
  readonly parts: number;
  /** Values that a `find` in it turns; the same formula may search for a new variable in another book. */
  readonly turned: ReadonlySet<string>;
  /** Values whose formulas told from which table a list comes, with the formula that told it. */
  readonly followed: ReadonlyMap<string, Formula>;
  /** Tables that it hands on as a whole, each with its columns and feet in their order. */
  readonly layouts: ReadonlySet<string>;
  /** How many of its parts are those of definitions: they count against the limit of a book. */
  readonly written: number;
  /** Whether a definition was left out of it because the rest of the book has too many parts. */
  readonly limited: boolean;
  /** Trouble that can be told before anything is worked out, with its place. */
  readonly troubles: readonly { readonly span: Span; readonly trouble: TroubleParts }[];
}

/** Deepest nesting of a formula, runs of sums and products not counted. */
const DEEPEST = 300;
/** Searches that may stand one inside the other. */
const MOST_SEARCHES = 2;
/** Most parts that a formula may have once its definitions are written out. */
const EXPANSION_LIMIT = 10_000;
/** The same for all formulas of a book together. */
export const BOOK_EXPANSION_LIMIT = 300_000;
/** Most characters of a text that a formula puts together. */
const LONGEST_TEXT = 20_000;
/** Work of one trial of a search beside that of its goal: a calculation is laid over the book. */
const TRIAL_WORK = 50;

/** Turns a formula into code for the place where it stands. Never throws. */
export function compile(formula: Formula, scope: Scope, expansion = { parts: 0 }): Compiled {
  const compiler = new Compiler(scope.names, expansion);
  const partsBefore = expansion.parts;
  const code =
    depthOf(formula) > DEEPEST
      ? compiler.trouble(formula.span, {
          code: "formula-deep",
          says: `This formula is nested more than ${DEEPEST} deep.`,
          help: "Give parts of it names of their own with `set`.",
        })
      : compiler.formula(formula, scope);
  return {
    code,
    references: compiler.references,
    functions: compiler.functions,
    definitions: compiler.definitions,
    parts: compiler.size,
    turned: compiler.turned,
    followed: compiler.followed,
    layouts: compiler.layouts,
    written: expansion.parts - partsBefore,
    limited: compiler.limited,
    troubles: compiler.troubles,
  };
}

class Compiler implements Host {
  private readonly paths = new Paths(this);
  readonly references: References = new Map();
  readonly functions = new Set<string>();
  readonly definitions = new Set<Formula>();
  readonly turned = new Set<string>();
  readonly followed = new Map<string, Formula>();
  readonly layouts = new Set<string>();
  limited = false;
  readonly troubles: { span: Span; trouble: TroubleParts }[] = [];
  private readonly names: Names;
  private spreads = 0;
  size = 0;
  /** Searches around what is being compiled. */
  private searches = 0;
  private readonly defining: string[] = [];

  /** Parts that definitions came to in the whole book so far. */
  private readonly expansion: { parts: number };

  constructor(names: Names, expansion: { parts: number }) {
    this.names = names;
    this.expansion = expansion;
  }

  refer(key: string, look: Look): void {
    const looks = this.references.get(key);
    if (looks) looks.add(look);
    else this.references.set(key, new Set([look]));
  }

  handOn(table: TableName): void {
    this.layouts.add(layoutOf(table));
  }

  /** Code that comes to a fault: for what is wrong however the values are. */
  trouble(span: Span, trouble: TroubleParts): Code {
    if (this.defining.length === 0) this.troubles.push({ span, trouble });
    return (env) => faultFrom(trouble, placeIn(env, span));
  }

  formula(node: Formula, scope: Scope): Code {
    this.size++;
    if (this.defining.length > 0) this.expansion.parts++;
    switch (node.type) {
      case "number":
        return this.number(node);
      case "date": {
        const value = dateOf(node.iso);
        return () => value;
      }
      case "truth": {
        const value = truth(node.value);
        return () => value;
      }
      case "blank":
        return (env) => {
          // A check or step is no value that waits; what waits is the `blank` written in it.
          const path = env.owner.isSink ? "" : env.owner.pathOf(env.row);
          if (path === "") return gap("`blank` stands for what is not filled in yet");
          return gap(`${path} is not filled in yet`, path);
        };
      case "text":
        return this.text(node.pieces, node.span, scope);
      case "list":
        return this.list(node.entries, node.span, scope);
      case "name":
        return this.paths.name(node.name, node.span, scope);
      case "part":
        return this.paths.path(node, scope);
      case "call":
        return this.call(node, scope);
      case "negate": {
        const of = this.formula(node.of, scope);
        return (env) => at(env, node.span, () => negated(of(env)));
      }
      case "not": {
        const of = this.formula(node.of, scope);
        return (env) => at(env, node.span, () => inverted(of(env)));
      }
      case "spread":
        return this.spread(node.of, node.by, node.span, scope);
      case "arithmetic":
        return this.chain(node, scope);
      case "compare":
        return this.compare(node, scope);
      case "within": {
        const of = this.formula(node.of, scope);
        const low = this.formula(node.low, scope);
        const high = this.formula(node.high, scope);
        return (env) => at(env, node.span, () => isWithin(of(env), low(env), high(env)));
      }
      case "logic":
        return this.decisions(node, scope);
      case "shown": {
        const of = this.formula(node.of, scope);
        try {
          const unit = parseUnit(node.unit.text);
          return (env) =>
            at(env, node.span, () => {
              const value = of(env);
              return value.type === "gap" ? value : shownIn(value, unit);
            });
        } catch (error) {
          if (error instanceof Trouble) return this.trouble(node.unit.span, error);
          throw error;
        }
      }
      case "range": {
        const from = this.formula(node.from, scope);
        const to = this.formula(node.to, scope);
        const step = node.step && this.difference(node.step, scope);
        return (env) => at(env, node.span, () => range(from(env), to(env), step?.(env)));
      }
      case "choice": {
        const condition = this.formula(node.condition, scope);
        const yes = this.formula(node.yes, scope);
        const no = this.formula(node.no, scope);
        const judgesYes = isConstant(node.yes);
        const judgesNo = isConstant(node.no);
        return (env) => {
          const chosen = condition(env);
          if (chosen.type === "truth") {
            const value = withNotes(chosen.value ? yes(env) : no(env), chosen.notes);
            return (chosen.value ? judgesNo : judgesYes)
              ? at(env, node.span, () => likeBranch(value, (chosen.value ? no : yes)(env)))
              : value;
          }
          if (chosen.type === "gap" || chosen.type === "fault") return chosen;
          return faultFrom(truthTrouble("if", chosen), placeIn(env, node.condition.span));
        };
      }
      case "find":
        return this.find(node, scope);
      case "where":
        return this.where(node.of, node.condition, node.span, scope);
      case "unread":
        return (env) =>
          faultFrom({ code: "unread", says: "This formula cannot be read." }, placeIn(env, node.span));
    }
  }

  /** A run of sums or products, worked from the left in a loop: one of thousands of terms must not nest. */
  private chain(node: ArithmeticNode, scope: Scope): Code {
    const { first, steps } = spineOf(node);
    const start = this.formula(first, scope);
    const rest = steps.map(({ operator, right, span }) => ({
      operator,
      span,
      right: this.formula(right, scope),
      byPowerOfTen: operator === "/" && right.type === "number" && POWER_OF_TEN.test(right.digits),
    }));
    return (env) => {
      let value = start(env);
      for (const { operator, right, byPowerOfTen, span } of rest) {
        const left = value;
        const other = right(env);
        value =
          left.type === "quantity" && other.type === "quantity" && !left.spread && !other.spread
            ? betweenNumbers(env, span, operator, left, other, byPowerOfTen)
            : at(env, span, () => arithmetic(operator, left, other, byPowerOfTen));
      }
      return value;
    };
  }

  private decisions(node: LogicNode, scope: Scope): Code {
    const { first, steps } = spineOf(node);
    const start = this.formula(first, scope);
    const rest = steps.map(({ operator, right, span }) => ({
      operator,
      span,
      right: this.formula(right, scope),
    }));
    return (env) => {
      let value = start(env);
      for (const { operator, right, span } of rest) {
        const left = value;
        value = at(env, span, () => logic(operator, left, () => right(env)));
      }
      return value;
    };
  }

  private number(node: NumberNode): Code {
    try {
      const value = literal(node);
      return () => value;
    } catch (error) {
      if (!(error instanceof Trouble)) throw error;
      if (!node.unit || !error.code.startsWith("unit")) return this.trouble(node.span, error);
      // The advice is about the unit alone; it reads better with the number before it.
      const { rewrite, help } = error;
      const told =
        rewrite === undefined ? help : help?.replace(`\`${rewrite}\``, `\`${node.digits} ${rewrite}\``);
      return this.trouble(node.unit.span, {
        code: error.code,
        says: error.says,
        ...(told !== undefined && { help: told }),
        ...(rewrite !== undefined && { rewrite }),
      });
    }
  }

  /** After `step` a `°C` is a difference. */
  private difference(node: Formula, scope: Scope): Code {
    const code = this.formula(node, scope);
    return (env) => {
      const value = code(env);
      return value.type === "quantity" && value.unit.kind === kinds.temperature
        ? quantity(value.n, asDifference(value.unit), value.spread, value.notes)
        : value;
    };
  }

  private text(pieces: readonly (string | Formula)[], span: Span, scope: Scope): Code {
    if (pieces.every((p) => typeof p === "string")) {
      const value = text(pieces.join("").normalize("NFC"));
      return () => value;
    }
    const codes = pieces.map((p) => (typeof p === "string" ? p : this.formula(p, scope)));
    return (env) =>
      at(env, span, () => {
        const values = codes.map((c) => (typeof c === "string" ? text(c) : c(env)));
        const stop = stopper(values);
        if (stop) return stop;
        const whole = values.map(inText).join("");
        if (whole.length > LONGEST_TEXT) {
          throw new Trouble({
            code: "text-long",
            says: `This text comes to ${whole.length} characters; 20,000 is the most.`,
            help: "Show a part of it, or put the values into a table.",
          });
        }
        env.values.spend(whole.length / 10);
        return text(whole);
      });
  }

  private list(entries: readonly Formula[], span: Span, scope: Scope): Code {
    const codes = entries.map((e) => this.formula(e, scope));
    return (env) => {
      const values: Value[] = [];
      for (const code of codes) {
        const value = code(env);
        if (value.type === "list") values.push(...value.entries);
        else values.push(value);
      }
      return at(env, span, () => likeFirst(values));
    };
  }

  private spread(of: Formula, by: Formula, span: Span, scope: Scope): Code {
    const index = this.spreads++;
    // One unit at the end serves both: `61.2 ± 0.3 %vol`.
    const shared = of.type === "number" && !of.unit && by.type === "number" && by.unit ? by.unit : undefined;
    const left = this.formula(shared ? { ...(of as NumberNode), unit: shared } : of, scope);
    const right = this.difference(by, scope);
    return (env) =>
      at(env, span, () => spreadOut(left(env), right(env), inputName(env, index), env.values.draw));
  }

  private compare(node: CompareNode, scope: Scope): Code {
    const { operator, span } = node;
    if (
      (operator === "is" || operator === "is not") &&
      (node.right.type === "blank" || node.left.type === "blank")
    ) {
      const of = this.formula(node.right.type === "blank" ? node.left : node.right, scope);
      return (env) => isBlank(of(env), operator === "is");
    }
    const left = this.formula(node.left, scope);
    const right = this.formula(node.right, scope);
    return (env) => at(env, span, () => compared(operator, left(env), right(env)));
  }

  // ---- calls

  private call(node: CallNode, scope: Scope): Code {
    const define = scope.names.defines.get(node.name);
    if (define) return this.defined(node, define, scope);
    const declaration = vocabulary.get(node.name);
    if (!declaration && isAway(node.name)) {
      return this.trouble(node.nameSpan, {
        code: "function-away",
        says: `\`${node.name}\` has not been fetched yet.`,
        help: "It comes as soon as the network lets it, and the book is then worked out again.",
      });
    }
    if (!declaration) {
      const near = nearAmong(node.name, functionNames(scope.names, vocabulary.keys()));
      const isValue =
        scope.names.sets.has(node.name) ||
        scope.table?.byName.has(node.name) ||
        localCode(node.name, scope) !== undefined;
      return this.trouble(node.nameSpan, {
        code: isValue ? "not-a-function" : "function-unknown",
        says: isValue
          ? `\`${node.name}\` is a value, not a function.`
          : `There is no function called \`${node.name}\`.`,
        ...(isValue
          ? { help: `To multiply, write \`${node.name} * (…)\`.` }
          : near !== undefined
            ? { help: `\`${near}\` is near.`, rewrite: near }
            : { help: `A function of your own begins with \`define ${writeName(node.name)}(x) = …\`.` }),
      });
    }
    this.functions.add(declaration.name);
    let bound: (Formula | undefined)[];
    try {
      bound = bind(callableOf(declaration), node);
    } catch (error) {
      if (error instanceof Trouble) return this.trouble(spanOfBinding(error, node), error);
      throw error;
    }
    const codes = bound.map((formula, i) =>
      formula ? this.formula(formula, scope) : defaultOf(declaration, i),
    );
    const { span } = node;
    // What is wrong with one argument stands at it.
    const spanOf = (trouble: Trouble): Span => {
      if (!(trouble instanceof ArgumentTrouble)) return span;
      return bound[declaration.parameters.findIndex((p) => p.name === trouble.parameter)]?.span ?? span;
    };
    if (isPhysics(declaration)) {
      return (env) => {
        const args = codes.map((c) => c?.(env));
        return at(
          env,
          span,
          () => {
            env.values.count();
            spendOnLists(env, args);
            return callPhysics(
              declaration,
              args,
              `${env.owner.pathOf(env.row)}${env.route}:${span.from}`,
              env.values.draw,
              (work) => env.values.spend(work),
            );
          },
          spanOf,
        );
      };
    }
    if (declaration.name === "sum") {
      return (env) => {
        const args = codes.map((c) => c?.(env));
        return at(
          env,
          span,
          () => {
            env.values.count();
            const [values] = args;
            return (
              (values instanceof ColumnList && columnTotal(values.store)) || callValue(declaration, args)
            );
          },
          spanOf,
        );
      };
    }
    return (env) => {
      const args = codes.map((c) => c?.(env));
      return at(
        env,
        span,
        () => {
          env.values.count();
          if (!declaration.looksUp) spendOnLists(env, args);
          return callValue(declaration, args);
        },
        spanOf,
      );
    };
  }

  private defined(node: CallNode, define: DefineName, scope: Scope): Code {
    const { name } = define;
    if (!define.formula) {
      return (env) =>
        faultFrom(
          { code: "unread", says: `The definition of \`${name}\` cannot be read.` },
          placeIn(env, node.nameSpan),
        );
    }
    if (this.defining.includes(name)) {
      const route = [...this.defining.slice(this.defining.indexOf(name)), name].join(" → ");
      return this.trouble(node.nameSpan, {
        code: "define-circle",
        says: `A definition cannot use itself: ${route}.`,
        help: "Work with lists and totals, or with rows that build on the row before.",
      });
    }
    if (this.size > EXPANSION_LIMIT) {
      return this.trouble(node.span, {
        code: "define-limit",
        says: `This formula has more than 10,000 parts once its definitions are written out.`,
        help: "Give parts of it names of their own with `set`.",
      });
    }
    if (this.expansion.parts > BOOK_EXPANSION_LIMIT) {
      this.limited = true;
      return this.trouble(node.span, {
        code: "define-limit",
        says: "This book has more than 300,000 parts once its definitions are written out.",
        help: "Write the shared part of the definitions as a `set` or a column.",
      });
    }
    let bound: (Formula | undefined)[];
    try {
      bound = bind(
        { name, parameters: define.parameters.map((p) => ({ name: p, optional: false, labelOnly: false })) },
        node,
      );
    } catch (error) {
      if (error instanceof Trouble) return this.trouble(spanOfBinding(error, node), error);
      throw error;
    }
    const codes = bound.map((formula) => this.formula(formula!, scope));
    this.definitions.add(define.formula);
    this.defining.push(name);
    const spreadsOutside = this.spreads;
    this.spreads = 0;
    const body = this.formula(define.formula, {
      names: scope.names,
      place: "book",
      frames: [define.parameters],
      given: new Map(define.parameters.map((p, i) => [p, givenBy(bound[i]!, scope, this.followed)])),
    });
    this.spreads = spreadsOutside;
    this.defining.pop();
    const { span } = node;
    return (env) => {
      const values = codes.map((c) => c(env));
      return at(env, span, () => {
        env.values.count();
        const result = body({
          values: env.values,
          owner: env.owner,
          row: env.row,
          locals: { values, outer: undefined },
          route: `${env.route}/${name}:${span.from}`,
        });
        // A place inside the definition says nothing to the reader of the caller: the call is the place.
        // What was wrong in an argument already keeps the place that it has there.
        const place = result.type === "fault" ? result.place : undefined;
        return place?.path === env.owner.pathOf(env.row) && !values.some((v) => stemsFrom(v, place))
          ? { ...(result as Fault), place: { ...placeIn(env, span), inside: place.inside ?? name } }
          : result;
      });
    };
  }

  // ---- find and where

  private find(node: Formula & { type: "find" }, scope: Scope): Code {
    const { goal, name } = node;
    const from = this.formula(node.from, scope);
    const to = this.formula(node.to, scope);
    if (goal.type !== "compare" || goal.operator !== "is") {
      return this.trouble(goal.span, {
        code: "find-goal",
        says: "`find` looks for the place where one thing `is` another.",
        help: "Write `so that … is …`.",
      });
    }
    if (this.searches >= MOST_SEARCHES) {
      return this.trouble(node.span, {
        code: "find-nested",
        says: "This is a `find` inside a `find` inside a `find`; one inside another is the most.",
        help: "Give the inner search a name of its own with `set`.",
      });
    }
    const set = scope.names.sets.get(name);
    const turning =
      set?.formula !== undefined &&
      plainQuantity(set.formula) &&
      localCode(name, scope) === undefined &&
      !(scope.table?.byName.has(name) ?? false);
    if (turning) this.turned.add(name);
    const inner = new Compiler(this.names, this.expansion);
    inner.defining.push(...this.defining);
    inner.searches = this.searches + 1;
    // Each ± is an input of its own, inside a search as outside of it.
    inner.spreads = this.spreads;
    const goalScope: Scope = turning ? scope : { ...scope, frames: [...scope.frames, [name]] };
    const left = inner.formula(goal.left, goalScope);
    const right = inner.formula(goal.right, goalScope);
    const key = setKey(name);
    for (const [reference, looks] of inner.references) {
      if (turning && reference === key) continue;
      for (const look of looks) this.refer(reference, look);
    }
    for (const f of inner.functions) this.functions.add(f);
    for (const d of inner.definitions) this.definitions.add(d);
    for (const other of inner.turned) this.turned.add(other);
    for (const [set, formula] of inner.followed) this.followed.set(set, formula);
    for (const layout of inner.layouts) this.layouts.add(layout);
    if (inner.limited) this.limited = true;
    this.troubles.push(...inner.troubles);
    this.size += inner.size;
    this.spreads = inner.spreads;
    const wanted = new Set(inner.references.keys());
    return (env) =>
      at(env, node.span, () => {
        const path = env.owner.pathOf(env.row);
        const sides = (x: Quantity) => {
          env.values.spend(TRIAL_WORK + inner.size);
          if (turning) {
            const within: Environment = { ...env, values: env.values.trial(key, x, wanted) };
            return { left: left(within), right: right(within) };
          }
          const within: Environment = { ...env, locals: { values: [x], outer: env.locals } };
          return { left: left(within), right: right(within) };
        };
        const low = from(env);
        const high = to(env);
        const made = (search?: Search): Value => findRoot(name, low, high, sides, search);
        const { searches } = env.values;
        if (!searches) return made();
        return searches.make(`${path}${env.route} ${node.span.from}`, made, () =>
          waiting(`\`${name}\` is still being searched for`, env.owner.isSink ? undefined : path),
        );
      });
  }

  private where(of: Formula, condition: Formula, span: Span, scope: Scope): Code {
    const source = this.formula(of, scope);
    const table = originTable(of, scope, this.followed);
    const rowScope: Scope | undefined = table && {
      names: scope.names,
      table,
      place: "row",
      frames: scope.frames,
      ...(scope.given && { given: scope.given }),
      outside: scope.frames.length,
    };
    const sizeBefore = this.size;
    const troublesBefore = this.troubles.length;
    const test = this.formula(condition, rowScope ?? scope);
    // Which columns there are is known only where the definition around it is called.
    if (!table && looksAtUnknown(of, scope)) this.troubles.length = troublesBefore;
    // And an environment for each row.
    const testParts = this.size - sizeBefore + 2;
    let looksAtRows = false;
    if (table) {
      // The condition is worked out for every row, so it looks at whole columns.
      this.refer(rowsKey(table.name), "whole");
      for (const column of table.columns) {
        const looks = this.references.get(cellsKey(table.name, column.name));
        if (!looks || !(looks.has("row") || looks.has("before"))) continue;
        looks.add("whole");
        looksAtRows = true;
      }
    }
    return (env) =>
      at(env, span, () => {
        const values = source(env);
        if (values.type === "gap" || values.type === "fault") return values;
        if (values.type !== "list") {
          throw new Trouble({
            code: "where-list",
            says: `\`where\` chooses from a list; it meets ${describe(values)}.`,
          });
        }
        let tests: readonly Value[];
        if (table && values.origin?.table === table.name) {
          const { rows } = values.origin;
          env.values.spend(rows.length * testParts);
          const first = rows.length > 0 ? test({ ...env, row: rows[0]! }) : undefined;
          const beside = first?.type === "list" ? besideRows(first, table.name, rows) : undefined;
          tests = beside ?? rows.map((row, i) => (i === 0 ? first! : test({ ...env, row })));
        } else {
          // The condition looks at rows of a table, and these entries turned out to be none of them.
          if (looksAtRows && scope.table !== table) throw noRows();
          const answer = test(env);
          if (answer.type !== "list") {
            if (answer.type === "fault" || answer.type === "gap") return answer;
            throw noRows();
          }
          if (answer.entries.length !== values.entries.length) {
            throw new Trouble({
              code: "list-lengths",
              says: `These lists do not match: ${values.entries.length} entries and ${answer.entries.length}.`,
            });
          }
          tests = answer.entries;
        }
        return chosen(values, tests);
      });
  }
}

// ---- helpers

/** Whether a branch that is not taken can be judged without working anything out. */
function isConstant(node: Formula): boolean {
  if (node.type === "text") return node.pieces.every((p) => typeof p === "string");
  return node.type === "number" || node.type === "date" || node.type === "truth";
}

/** Values of which a formula comes to one, so that they can be told apart by what they are. */
const SINGLE: ReadonlySet<Value["type"]> = new Set(["quantity", "text", "date", "truth"]);

/** The branch that was taken, when the other, a constant, is of its kind. Throws `Trouble` when it is not. */
function likeBranch(value: Value, other: Value): Value {
  if (SINGLE.has(value.type) && SINGLE.has(other.type) && value.type !== other.type) {
    throw new Trouble({
      code: "branch-kinds",
      says: `One \`if\` comes to one kind of thing; here are ${describe(value)} and ${describe(other)}.`,
      help: "Use `blank` where there is nothing to say.",
    });
  }
  if (value.type !== "quantity" || other.type !== "quantity" || value.unit === other.unit) return value;
  compatible(value.unit, other.unit, "choose");
  return value;
}

/** The entries of a whole column of true and false, such as `t.volume > 1 L` makes, that stand beside some rows of its table. */
function besideRows(answer: ListValue, table: string, rows: readonly number[]): Value[] | undefined {
  if (answer.origin?.table !== table) return undefined;
  const byRow = new Map(answer.origin.rows.map((row, i) => [row, answer.entries[i]!]));
  return rows.every((row) => byRow.has(row)) ? rows.map((row) => byRow.get(row)!) : undefined;
}

const noRows = (): Trouble =>
  new Trouble({
    code: "where-list",
    says: "This list comes from no table: `where` wants a list of true and false beside it.",
  });

/** Arithmetic of two plain numbers, the commonest step by far: as `at` does it, without what only lists and ± need. */
function betweenNumbers(
  env: Environment,
  span: Span,
  operator: ArithmeticNode["operator"],
  left: Quantity,
  right: Quantity,
  byPowerOfTen: boolean,
): Value {
  try {
    return arithmetic(operator, left, right, byPowerOfTen);
  } catch (error) {
    if (error instanceof Trouble) return faultFrom(error, placeIn(env, span));
    throw error;
  }
}

/** A function walks through the lists that it is given. */
function spendOnLists(env: Environment, args: readonly (Value | undefined)[]): void {
  for (const value of args) {
    if (value?.type !== "list") continue;
    env.values.spend(value instanceof ColumnList ? value.store.length : value.entries.length);
  }
}

/** What is wrong with one argument stands at it; what is missing, at the call. */
function spanOfBinding(trouble: Trouble, call: CallNode): Span {
  return trouble instanceof Misplaced ? trouble.span : call.span;
}

/** Whether a fault with this place is among what was given. */
function stemsFrom(given: Value, place: FaultPlace): boolean {
  if (given.type === "fault") return given.place === place;
  if (given.type === "list") return given.entries.some((e) => stemsFrom(e, place));
  if (given.type === "record") return [...given.parts.values()].some((p) => stemsFrom(p, place));
  return false;
}

/** Name of a measured input: the path of the value where its ± stands. */
function inputName(env: Environment, index: number): string {
  const path = env.owner.pathOf(env.row) || "this formula";
  return `${path}${index === 0 ? "" : ` (${index + 1})`}${env.route}`;
}
