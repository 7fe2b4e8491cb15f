import {
  asDifference,
  conversion,
  type Kind,
  kinds,
  planAddition,
  productUnit,
  quotientUnit,
  type Ratio,
  type Unit,
} from "../../quantity";
import {
  call,
  type Expression,
  minus,
  negated,
  number,
  operation,
  over,
  plus,
  scaled,
  times,
} from "../expression";
import { NotLive, type QuantityTerm, quantityTerm, type TruthTerm, truthTerm, union } from "./term";

/** Arithmetic with units, as src/quantity does it, on expressions instead of numbers. */

const timesRatio = (e: Expression, r: Ratio): Expression =>
  r.n === 1 && r.d === 1 ? e : scaled(e, r.n, r.d);
const asNumber = (r: Ratio): number => r.n / r.d;

/** Refusals of the units never reach here from a book that computes; a formula in a fault's place may. */
function planned<T>(make: () => T): T {
  try {
    return make();
  } catch {
    throw new NotLive("its units do not go together");
  }
}

const both = (a: QuantityTerm, b: QuantityTerm) => ({
  missing: union(a.missing, b.missing),
  error: Math.max(a.error, b.error),
});

export function add(a: QuantityTerm, b: QuantityTerm, sign: "+" | "-"): QuantityTerm {
  const plan = planned(() => planAddition(a.unit, b.unit, sign));
  if (typeof plan === "string") throw new NotLive("its units do not go together");
  const left = timesRatio(a.expression, plan.left);
  const right = timesRatio(b.expression, plan.right);
  const sum = sign === "+" ? plus(left, right) : minus(left, right);
  const shifted = plan.shift === undefined ? sum : plus(sum, number(asNumber(plan.shift)));
  const { missing, error } = both(a, b);
  return quantityTerm(shifted, plan.unit, missing, error);
}

export function multiply(a: QuantityTerm, b: QuantityTerm): QuantityTerm {
  const { unit, factor } = planned(() => productUnit(a.unit, b.unit));
  const { missing, error } = both(a, b);
  return quantityTerm(timesRatio(times(a.expression, b.expression), factor), unit, missing, error);
}

export function divide(a: QuantityTerm, b: QuantityTerm): QuantityTerm {
  const { unit, factor } = planned(() => quotientUnit(a.unit, b.unit));
  const { missing, error } = both(a, b);
  return quantityTerm(timesRatio(over(a.expression, b.expression), factor), unit, missing, error);
}

/** A power with a fixed exponent, of a plain number or with the unit that the book gave the result. */
export function raise(a: QuantityTerm, exponent: QuantityTerm): QuantityTerm {
  const { missing, error } = both(a, exponent);
  if (a.unit.kind !== kinds.plain || a.unit.text !== "") {
    if (exponent.expression.type !== "number" || exponent.expression.value !== 2) {
      throw new NotLive("a power of a quantity with a unit is written out for squares only");
    }
    return multiply(a, a);
  }
  const plain = timesRatio(exponent.expression, exponent.unit.scale);
  return quantityTerm(operation("^", a.expression, plain), a.unit, missing, error);
}

export const negate = (a: QuantityTerm): QuantityTerm => ({ ...a, expression: negated(a.expression) });

/** The number in another unit of its kind. */
export function inUnit(a: QuantityTerm, unit: Unit): QuantityTerm {
  return { ...a, unit, expression: converted(a.expression, a.unit, unit) };
}

function converted(e: Expression, from: Unit, to: Unit): Expression {
  if (from === to) return e;
  const { factor, shift } = planned(() => conversion(from, to));
  const inner = timesRatio(e, factor);
  return shift === undefined ? inner : plus(inner, number(asNumber(shift)));
}

/** The number in SI units of its kind: kelvin above absolute zero, fractions for strengths. */
export function inSI(a: QuantityTerm): Expression {
  const inner = timesRatio(a.expression, a.unit.scale);
  if (a.unit.offset === undefined) return inner;
  const offset = asNumber(a.unit.offset);
  return inner.type === "number" ? number(inner.value + offset) : plus(inner, number(offset));
}

/** A number in SI units as one in a unit. */
export function fromSI(e: Expression, unit: Unit): Expression {
  const above = unit.offset === undefined ? e : minus(e, number(asNumber(unit.offset)));
  return scaled(above, unit.scale.d, unit.scale.n);
}

// ---- comparing

/** Equal counts what differs by less than rounding, in both the book and here. */
const CLOSE = 1e-9;

export function compare(
  a: QuantityTerm,
  b: QuantityTerm,
  operator: "<" | "<=" | ">" | ">=" | "is" | "is not",
): TruthTerm {
  const left = a.expression;
  const right = converted(b.expression, b.unit, a.unit);
  const { missing } = both(a, b);
  const gap = minus(left, right);
  const size =
    right.type === "number"
      ? number(CLOSE * Math.max(Math.abs(right.value), 1e-3))
      : times(number(CLOSE), call("MAX", call("ABS", left), call("ABS", right)));
  const near = (e: Expression): Expression => operation("<=", call("ABS", e), size);
  switch (operator) {
    case "is":
      return truthTerm(near(gap), missing);
    case "is not":
      return truthTerm(call("NOT", near(gap)), missing);
    case "<=":
      return truthTerm(operation("<=", gap, size), missing);
    case ">=":
      return truthTerm(operation(">=", gap, negated(size)), missing);
    case "<":
      return truthTerm(operation("<", gap, negated(size)), missing);
    case ">":
      return truthTerm(operation(">", gap, size), missing);
  }
}

/** Unit of a difference: kelvin for temperatures, else the same. */
export const differenceUnit = (unit: Unit): Unit => asDifference(unit);
export const isTemperature = (kind: Kind): boolean => kind === kinds.temperature;
