import {
  asDifference,
  convert,
  format,
  jointKind,
  kinds,
  type Num,
  negate,
  parseUnit,
  plainUnit,
  type Quantity,
  quantity,
  scaleSpread,
  sigma,
  Trouble,
  toSI,
  type Unit,
  wholeNum,
} from "../quantity";
import type { Declaration, Parameter, ResultPart, ValueCall, ValueDeclaration } from "./declaration";
import { approximately, isTemperature, quantityOf, withNotes } from "./entries";
import { nearestMultiple } from "./rounding";
import { selections } from "./selection";

const GROUP = "plain";
const ARITHMETIC = "arithmetic; no source needed";

const x = (says: string): Parameter => ({ name: "x", says, takes: "any" });
const same = (says: string): readonly ResultPart[] => [{ name: "", says, holds: "any" }];
const number = (says: string): readonly ResultPart[] => [
  { name: "", says, holds: { kind: kinds.plain, unit: "" } },
];

/** A whole count keeps no ±; it says so when the ± reaches another whole number. */
function counted(q: Quantity, n: Num, call: ValueCall): Quantity {
  const u = sigma(q.spread);
  const result = quantity(n, q.unit, undefined, q.notes);
  if (u === 0) return result;
  const edge =
    n.v > q.n.v ? Math.min(n.v - q.n.v, q.n.v - (n.v - 1)) : Math.min(q.n.v - n.v, n.v + 1 - q.n.v);
  if (edge >= 2 * u) return result;
  return withNotes(result, [
    call.note(`${format(q)} before rounding: within twice its uncertainty of another whole number`),
  ]);
}

/** The number behind a plain ratio, a water content or a water activity. */
function ratioOf(name: string, q: Quantity): number {
  const { kind } = q.unit;
  if (kind.id !== kinds.plain.id && kind.id !== kinds.moisture.id && kind.id !== kinds.activity.id) {
    throw new Trouble({
      code: "needs-plain",
      says: `\`${name}\` wants a plain number, and was given ${kind.name}, ${format(q)}.`,
      help: "Divide by one of the same kind first, as in `x / (1 L)`.",
    });
  }
  return toSI(q);
}

/** A function of a plain number, its uncertainty by the derivative. */
function ofRatio(
  core: Pick<ValueDeclaration, "name" | "says" | "equation" | "range" | "examples">,
  f: (v: number) => number,
  derivative: (v: number) => number,
): ValueDeclaration {
  return {
    ...core,
    group: GROUP,
    parameters: [x("A plain number or ratio.")],
    result: number("A plain number."),
    source: ARITHMETIC,
    maps: true,
    evaluate: (args) => {
      const q = quantityOf(core.name, args.x!);
      const v = ratioOf(core.name, q);
      const perUnit = Number(q.unit.scale.num) / Number(q.unit.scale.den);
      return approximately(f(v), plainUnit, scaleSpread(q.spread, derivative(v) * perUnit), q.notes);
    },
  };
}

/** Unit of a square root: every factor's power halved, so that the root of 4 m^2 is 2 m. */
function rootUnit(q: Quantity): Unit {
  const { kind, factors } = q.unit;
  if (kind.id === kinds.plain.id) return plainUnit;
  if (factors.length > 0 && !isTemperature(q.unit) && factors.every((f) => f.power % 2 === 0)) {
    return parseUnit(factors.map((f) => (f.power === 2 ? f.name : `${f.name}^${f.power / 2}`)).join("*"));
  }
  throw new Trouble({
    code: "no-root",
    says: `The square root of ${kind.name}, ${format(q)}, has no unit.`,
    help: "A square root wants a plain number, or a unit whose every power is even, such as m^2.",
  });
}

function squareRoot(q: Quantity): Quantity {
  const unit = rootUnit(q);
  // A root of a percentage is a root of the ratio: of 25 % it is 0.5.
  const v = unit === plainUnit ? toSI(q) : q.n.v;
  if (v < 0) {
    throw new Trouble({
      code: "negative-root",
      says: `A negative number, ${format(q)}, has no square root.`,
      help: "Look at the sign of what stands in the brackets.",
    });
  }
  const root = Math.sqrt(v);
  const perUnit = unit === plainUnit ? Number(q.unit.scale.num) / Number(q.unit.scale.den) : 1;
  if (root === 0 && sigma(q.spread) > 0) {
    throw new Trouble({
      code: "no-slope",
      says: `The uncertainty of a square root cannot be told at zero: ${format(q)}.`,
      help: "Leave the ± out here.",
    });
  }
  return approximately(root, unit, scaleSpread(q.spread, perUnit / (2 * root)), q.notes);
}

function positive(name: string, v: number): number {
  if (v > 0) return v;
  throw new Trouble({
    code: "not-positive",
    says: `\`${name}\` wants a number above zero, and was given ${v}.`,
    help: "Look at the sign of what stands in the brackets.",
  });
}

/** The step of `round_to` in the unit of the value; for a temperature a difference. */
function stepFor(q: Quantity, step: Quantity): Quantity {
  const unit = asDifference(q.unit);
  if (isTemperature(step.unit) || jointKind(unit.kind, step.unit.kind) === undefined) {
    throw new Trouble({
      code: "kinds-differ",
      says: `\`round_to\` was given ${q.unit.kind.name}, ${format(q)}, and as step ${step.unit.kind.name}, ${format(step)}.`,
      help: isTemperature(q.unit)
        ? "The step of a temperature is a difference: `0.5 K`."
        : "The step must be of the same kind as what is rounded.",
    });
  }
  return convert(step, unit);
}

const numbers: readonly Declaration[] = [
  {
    name: "whole",
    group: GROUP,
    says: "The next whole number down, in the unit in which the value is given: how many full bottles.",
    parameters: [x("Any quantity.")],
    result: same("Whole number in the same unit."),
    equation: "largest whole number that is not above x",
    source: ARITHMETIC,
    range: "any quantity; an approximate value within 1e-9 of a whole number counts as that number",
    examples: [
      { formula: "whole(0.3 L / 0.1 L)", gives: "3" },
      { formula: "whole(2.75 L / 500 mL)", gives: "5" },
    ],
    maps: true,
    evaluate: (args, call) => {
      const q = quantityOf("whole", args.x!);
      return counted(q, wholeNum(q.n, "down"), call);
    },
  },
  {
    name: "whole_up",
    group: GROUP,
    says: "The next whole number up, in the unit in which the value is given: how many boxes are needed.",
    parameters: [x("Any quantity.")],
    result: same("Whole number in the same unit."),
    equation: "smallest whole number that is not below x",
    source: ARITHMETIC,
    range: "any quantity; an approximate value within 1e-9 of a whole number counts as that number",
    examples: [{ formula: "whole_up(41 / 6)", gives: "7" }],
    maps: true,
    evaluate: (args, call) => {
      const q = quantityOf("whole_up", args.x!);
      return counted(q, wholeNum(q.n, "up"), call);
    },
  },
  {
    name: "round_to",
    group: GROUP,
    says: "The nearest multiple of a step: to the 5 g that the scale can show, to the coin.",
    parameters: [
      x("Any quantity."),
      {
        name: "step",
        says: "Distance between the marks, of the same kind; for a temperature a difference such as 0.5 K.",
        takes: "any",
      },
    ],
    result: same("Multiple of the step, in the unit of x. It keeps the uncertainty of x."),
    equation: "step * (x / step to the nearest whole number, halves away from zero)",
    source: ARITHMETIC,
    range: "step above zero",
    examples: [
      { formula: "round_to(1236 g, 5 g)", gives: "1235 g" },
      { formula: "round_to(12.345 GBP, 0.05 GBP)", gives: "12.35 GBP" },
    ],
    maps: true,
    evaluate: (args) => {
      const q = quantityOf("round_to", args.x!);
      const step = stepFor(q, quantityOf("round_to", args.step!));
      if (!(step.n.v > 0)) {
        throw new Trouble({
          code: "step-not-positive",
          says: `\`round_to\` wants a step above zero, and was given ${format(step)}.`,
          help: "Give the distance between two marks, such as 5 g.",
        });
      }
      return withNotes(quantity(nearestMultiple(q.n, step.n), q.unit, q.spread, q.notes), step.notes);
    },
  },
  {
    name: "abs",
    group: GROUP,
    says: "The size of a quantity without its sign.",
    parameters: [x("Any quantity but a temperature.")],
    result: same("The same quantity, not negative."),
    equation: "x, or -x when x is negative",
    source: ARITHMETIC,
    range: "any quantity but a temperature, whose zero depends on the scale",
    examples: [{ formula: "abs(3 g - 5 g)", gives: "2 g" }],
    maps: true,
    evaluate: (args) => {
      const q = quantityOf("abs", args.x!);
      if (isTemperature(q.unit)) {
        throw new Trouble({
          code: "temperature-size",
          says: `A temperature, ${format(q)}, has no size of its own: its zero depends on the scale.`,
          help: "Take the size of a difference of two temperatures.",
        });
      }
      return q.n.v < 0 ? negate(q) : q;
    },
  },
  {
    name: "sqrt",
    group: GROUP,
    says: "The square root.",
    parameters: [x("A plain number or ratio, or a quantity whose unit has even powers only, such as m^2.")],
    result: same("Square root; plain for plain numbers and ratios."),
    equation: "the number that times itself is x",
    source: ARITHMETIC,
    range: "zero or above",
    examples: [
      { formula: "sqrt(2)", gives: "1.4142" },
      { formula: "sqrt(25 %)", gives: "0.5" },
    ],
    maps: true,
    evaluate: (args) => squareRoot(quantityOf("sqrt", args.x!)),
  },
  ofRatio(
    {
      name: "exp",
      says: "The exponential function, base e.",
      equation: "e^x",
      range: "plain numbers up to about 709",
      examples: [{ formula: "exp(1)", gives: "2.7183" }],
    },
    Math.exp,
    Math.exp,
  ),
  ofRatio(
    {
      name: "ln",
      says: "The natural logarithm.",
      equation: "the number n for which e^n is x",
      range: "plain numbers above zero",
      examples: [{ formula: "ln(2)", gives: "0.69315" }],
    },
    (v) => Math.log(positive("ln", v)),
    (v) => 1 / v,
  ),
  ofRatio(
    {
      name: "log10",
      says: "The logarithm to the base ten: how many powers of ten.",
      equation: "the number n for which 10^n is x",
      range: "plain numbers above zero",
      examples: [{ formula: "log10(0.001)", gives: "-3" }],
    },
    (v) => Math.log10(positive("log10", v)),
    (v) => 1 / (v * Math.LN10),
  ),
];

/** Plain arithmetic and look-up. */
export const declarations: readonly Declaration[] = [...numbers, ...selections];
