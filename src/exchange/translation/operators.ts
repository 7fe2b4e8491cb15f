import { kinds, parseUnit, type Unit } from "../../quantity";
import { call, type Expression, minus, number, operation, plus, text, times, truth } from "../expression";
import { add, compare, divide, inUnit, multiply, raise } from "./quantities";
import {
  keyOf,
  type ListTerm,
  missingIf,
  NotLive,
  type QuantityTerm,
  quantityTerm,
  type Term,
  type TruthTerm,
  truthTerm,
  union,
} from "./term";

/** What the operators of the language make of terms, as the engine does it with values. */

/** Entry by entry when any of the terms is a list. */
export function each(terms: readonly Term[], f: (terms: readonly Term[]) => Term): Term {
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
      each(
        terms.map((t) => (t.type === "list" ? t.entry(i) : t)),
        f,
      ),
    gaps: terms.some(mayBeMissing),
    ...(origin === undefined ? {} : { origin }),
    ...(chosen === undefined ? {} : { chosen }),
  };
}

export function arithmetic(operator: "+" | "-" | "*" | "/" | "^", a: Term, b: Term): Term {
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

export function eachOf(term: Term, f: (term: Term) => Term): Term {
  if (term.type !== "list") return f(term);
  return { ...withoutBlock(term), entry: (i) => f(term.entry(i)), gaps: false };
}

export function compared(operator: "<" | "<=" | ">" | ">=" | "is" | "is not", a: Term, b: Term): TruthTerm {
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
export function logic(operator: "and" | "or", a: TruthTerm, b: TruthTerm): TruthTerm {
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

export function chosen(c: TruthTerm, yes: Term, no: Term): Term {
  const pick = (a: Expression, b: Expression): Expression => call("IF", c.expression, a, b);
  const missingOf = (t: Term): readonly Expression[] =>
    t.type === "blank" ? [truth(true)] : "missing" in t ? t.missing : [];
  const missing = union(c.missing, missingIf(c.expression, missingOf(yes), missingOf(no)));
  if (yes.type === "blank" && no.type !== "blank" && "expression" in no) return { ...no, missing } as Term;
  if (no.type === "blank" && yes.type !== "blank" && "expression" in yes) return { ...yes, missing } as Term;
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

export const withoutBlock = ({ block: _, ...list }: ListTerm): ListTerm => list;
const folded = (e: Expression): Expression =>
  e.type === "text" ? text(e.text.trim().replace(/ +/g, " ").toLowerCase()) : call("LOWER", call("TRIM", e));
export const mayBeMissing = (t: Term): boolean =>
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

export function stepIn(step: QuantityTerm, unit: Unit): Expression {
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
