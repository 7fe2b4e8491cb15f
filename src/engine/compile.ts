import type { ArithmeticNode, CompareNode, Formula, LogicNode, NumberNode, Span } from "../../grammar";
import { asDifference, compatible, kinds, parseUnit, type Quantity, quantity, Trouble } from "../quantity";
import { gap, text, truth, type Value } from "../vocabulary/value";
import { callCode } from "./call-code";
import { Compilation, type Compiled, type Scope } from "./compilation";
import { dateOf } from "./dates";
import type { Code, Environment } from "./environment";
import { describe, faultFrom, stopper, withNotes } from "./fault";
import { findCode } from "./find-code";
import { inText, likeFirst, literal, POWER_OF_TEN } from "./literals";
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
import { Paths } from "./paths";
import { at, placeIn } from "./places";
import { depthOf, spineOf } from "./syntax";
import { whereCode } from "./where-code";

/** Deepest nesting of a formula, runs of sums and products not counted. */
const DEEPEST = 300;
/** Most characters of a text that a formula puts together. */
const LONGEST_TEXT = 20_000;

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

class Compiler extends Compilation {
  private readonly paths = new Paths(this);

  protected fresh(): Compilation {
    return new Compiler(this.names, this.expansion);
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
        return callCode(node, scope, this);
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
        return findCode(node, scope, this);
      case "where":
        return whereCode(node.of, node.condition, node.span, scope, this);
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
        rewrite === undefined || error.code === "unit-near"
          ? help
          : help?.replace(`\`${rewrite}\``, `\`${node.digits} ${rewrite}\``);
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

/** Name of a measured input: the path of the value where its ± stands. */
function inputName(env: Environment, index: number): string {
  const path = env.owner.pathOf(env.row) || "this formula";
  return `${path}${index === 0 ? "" : ` (${index + 1})`}${env.route}`;
}
