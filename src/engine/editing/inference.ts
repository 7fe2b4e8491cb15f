import { type ArithmeticNode, type CallNode, type Formula, parseFormula } from "../../../grammar";
import {
  asDifference,
  isRefusal,
  kinds,
  parseUnit,
  plainUnit,
  planAddition,
  planPower,
  planProduct,
  planQuotient,
  shownIn,
  Trouble,
  type Unit,
} from "../../quantity";
import { vocabulary } from "../../vocabulary";
import { type Declaration, isPhysics, type ResultPart } from "../../vocabulary/declaration";
import { bind, callableOf } from "../binding";
import type { Nature } from "../cells";
import { declaredUnit } from "../results";
import { type Found, nameIn, partIn } from "./found";
import { namesAt, outside, type Place, withLocals } from "./place";
import { type Sort, unknown } from "./sort";

/**
 * What a formula comes to, told from its shape and the sorts of the names in it, without working it out: a
 * keystroke must not wait for a distillation. `unknown` where that cannot be told.
 */
export function sortOfFormula(formula: Formula, place: Place): Sort {
  if (place.followed > MOST_FOLLOWED) return unknown;
  const of = (node: Formula): Sort => sortOfFormula(node, place);
  switch (formula.type) {
    case "number":
      return quantityIn(unitNamed(formula.unit?.text));
    case "date":
    case "text":
    case "truth":
      return { is: formula.type };
    case "negate":
      return of(formula.of);
    case "not":
    case "compare":
    case "within":
    case "logic":
      return { is: "truth" };
    case "list":
      return { is: "list", of: formula.entries.length === 0 ? unknown : single(of(formula.entries[0]!)) };
    case "name":
    case "part":
      return (
        foundIn(formula, place)?.sort ??
        (formula.type === "part" ? partOfSort(of(formula.of), formula.part) : unknown)
      );
    case "call":
      return sortOfCall(formula, place);
    case "spread":
      return formula.of.type === "number" && formula.of.unit === undefined && formula.by.type === "number"
        ? quantityIn(unitNamed(formula.by.unit?.text))
        : of(formula.of);
    case "arithmetic":
      return sortOfChain(formula, of);
    case "shown": {
      const to = unitNamed(formula.unit.text);
      const from = of(formula.of);
      if (from.is === "unknown") return quantityIn(to);
      return combined(from, from, (a) => (to === undefined ? undefined : shownIn(a, to)));
    }
    case "range":
      return { is: "list", of: of(formula.from) };
    case "choice": {
      const yes = of(formula.yes);
      return yes.is === "unknown" ? of(formula.no) : yes;
    }
    case "find":
      return of(formula.from);
    case "where":
      return of(formula.of);
    default:
      return unknown;
  }
}

/** How far names without a value are followed into the formulas behind them; a circle ends here too. */
const MOST_FOLLOWED = 6;

/** The sort of a formula that is given as text; unknown when it cannot be read. */
export function sortOfText(text: string, place: Place): Sort {
  const { formula, messages } = parseFormula(text);
  return messages.some((m) => m.severity === "fault") ? unknown : sortOfFormula(formula, place);
}

/** What a name or a dotted path means, or undefined when it is no path or there is no such thing. */
export function foundIn(formula: Formula, place: Place): Found | undefined {
  if (formula.type === "name") return nameIn(formula.name, place);
  if (formula.type !== "part") return undefined;
  const of = foundIn(formula.of, place);
  return of && partIn(of, formula.part, place);
}

export function sortOfNature(nature: Nature): Sort {
  switch (nature.type) {
    case "quantity":
      return { is: "quantity", unit: nature.unit };
    case "text":
    case "date":
      return { is: nature.type };
    default:
      return unknown;
  }
}

function unitNamed(text: string | undefined): Unit | undefined {
  if (text === undefined) return plainUnit;
  try {
    return parseUnit(text);
  } catch (trouble) {
    // An unknown unit has its message already; here it only means that nothing can be told.
    if (trouble instanceof Trouble) return undefined;
    throw trouble;
  }
}

const quantityIn = (unit: Unit | undefined): Sort =>
  unit === undefined ? unknown : { is: "quantity", unit };
const single = (sort: Sort): Sort => (sort.is === "list" ? sort.of : sort);

function partOfSort(of: Sort, part: string): Sort {
  if (of.is === "record") return of.parts.get(part) ?? unknown;
  if (of.is !== "list") return unknown;
  if (of.of.is === "record") {
    const entry = of.of.parts.get(part);
    if (entry) return { is: "list", of: entry };
  }
  return /^[0-9]+$/u.test(part) ? of.of : unknown;
}

/** Two sides of an operation, entry by entry where one is a list. */
function combined(a: Sort, b: Sort, unitOf: (a: Unit, b: Unit) => Unit | undefined): Sort {
  const left = single(a);
  const right = single(b);
  if (left.is === "date" && right.is === "date") return quantityIn(parseUnit("d"));
  if (left.is === "date") return left;
  if (left.is !== "quantity" || right.is !== "quantity") return unknown;
  const sort = quantityIn(unitOf(left.unit, right.unit));
  return a.is === "list" || b.is === "list" ? { is: "list", of: sort } : sort;
}

/** A sum may be a chain of thousands, so its left spine is walked, not called. */
function sortOfChain(formula: ArithmeticNode, of: (node: Formula) => Sort): Sort {
  const spine: ArithmeticNode[] = [];
  let first: Formula = formula;
  while (first.type === "arithmetic") {
    spine.push(first);
    first = first.left;
  }
  let sort = of(first);
  for (const { operator, right } of spine.reverse())
    sort = combined(sort, of(right), (a, b) => arithmeticUnit(operator, a, b, right));
  return sort;
}

function arithmeticUnit(
  operator: "+" | "-" | "*" | "/" | "^",
  a: Unit,
  b: Unit,
  right: Formula,
): Unit | undefined {
  switch (operator) {
    case "+":
    case "-": {
      const plan = planAddition(a, b, operator);
      return typeof plan === "string" ? undefined : plan.unit;
    }
    case "*":
    case "/": {
      const plan = operator === "*" ? planProduct(a, b) : planQuotient(a, b);
      return isRefusal(plan) ? undefined : plan.unit;
    }
    case "^": {
      if (a.kind === kinds.plain) return plainUnit;
      const power = right.type === "number" ? Number(right.digits) : Number.NaN;
      if (!Number.isInteger(power)) return undefined;
      try {
        return planPower(a, power).unit;
      } catch (trouble) {
        if (trouble instanceof Trouble) return undefined;
        throw trouble;
      }
    }
  }
}

// ---- calls

function sortOfCall(call: CallNode, place: Place): Sort {
  const define = namesAt(place).defines.get(call.name);
  if (define) {
    if (define.formula === undefined) return unknown;
    const bound = argumentsOf(define.parameters, call);
    const given = define.parameters.map(
      (name, i) => [name, bound[i] ? sortOfFormula(bound[i], place) : unknown] as const,
    );
    return sortOfFormula(define.formula, withLocals(outside(place), new Map(given)));
  }
  const declaration = vocabulary.get(call.name);
  if (!declaration) return unknown;
  const bound = boundArguments(declaration, call);
  return sortOfResult(
    declaration,
    declaration.parameters.map((_, i) => (bound[i] ? sortOfFormula(bound[i], place) : undefined)),
  );
}

function boundArguments(declaration: Declaration, call: CallNode): readonly (Formula | undefined)[] {
  try {
    return bind(callableOf(declaration), call);
  } catch (trouble) {
    // The call is still being written: what is there already is taken by label and place.
    if (!(trouble instanceof Trouble)) throw trouble;
    return argumentsOf(
      declaration.parameters.map((p) => p.name),
      call,
    );
  }
}

/** Arguments as far as they have been written, in the order of the parameters. */
function argumentsOf(parameters: readonly string[], call: CallNode): readonly (Formula | undefined)[] {
  let place = 0;
  const bound: (Formula | undefined)[] = [];
  for (const { label, value } of call.arguments) {
    const index = label === undefined ? place++ : parameters.indexOf(label);
    if (index >= 0) bound[index] = value;
  }
  return bound;
}

/** What a function of the vocabulary gives, from the sorts of its arguments. */
export function sortOfResult(declaration: Declaration, args: readonly (Sort | undefined)[]): Sort {
  const { parameters, result, rowPer } = declaration;
  const maps = isPhysics(declaration) || declaration.maps === true;
  const mapped = maps && parameters.some((p, i) => p.list !== true && args[i]?.is === "list");
  const only = result.length === 1 && result[0]!.name === "" ? result[0]! : undefined;
  const one = only
    ? sortOfPart(only, declaration, args)
    : recordOf(result.map((p) => [p.name, sortOfPart(p, declaration, args)]));
  return rowPer !== undefined || mapped ? { is: "list", of: one } : one;
}

/** Of temperatures they give a difference, which their declarations cannot say. */
const SPREADS: ReadonlySet<string> = new Set(["standard_deviation", "compare_means"]);

function sortOfPart(part: ResultPart, declaration: Declaration, args: readonly (Sort | undefined)[]): Sort {
  const { holds } = part;
  if (holds === "text" || holds === "truth") return { is: holds };
  if (holds === "any") {
    const given = args[0] ? single(args[0]) : unknown;
    return SPREADS.has(declaration.name) ? asStep(given) : given;
  }
  const lent = (index: number): Unit | undefined => {
    const sort = args[index] && single(args[index]);
    return sort?.is === "quantity" ? sort.unit : undefined;
  };
  if (holds.kindOf !== undefined) {
    const unit = lent(declaration.parameters.findIndex((p) => p.name === holds.kindOf));
    if (unit) return quantityIn(unit);
  }
  for (let i = 0; i < declaration.parameters.length; i++) {
    if (holds.unitOf !== undefined && declaration.parameters[i]!.name !== holds.unitOf) continue;
    const unit = lent(i);
    if (unit && unit.kind === holds.kind) return quantityIn(unit);
  }
  return quantityIn(declaredUnit(holds.kind, holds.unit));
}

/** Dotted part names are records inside records. */
function recordOf(parts: readonly (readonly [string, Sort])[]): Sort {
  const made = new Map<string, Sort>();
  const inner = new Map<string, (readonly [string, Sort])[]>();
  for (const [name, sort] of parts) {
    const dot = name.indexOf(".");
    if (dot < 0) {
      made.set(name, sort);
      continue;
    }
    const head = name.slice(0, dot);
    const list = inner.get(head);
    if (list) list.push([name.slice(dot + 1), sort]);
    else {
      inner.set(head, [[name.slice(dot + 1), sort]]);
      made.set(head, unknown);
    }
  }
  for (const [head, list] of inner) made.set(head, recordOf(list));
  return { is: "record", parts: made };
}

/** `step`, `±`: a reading in °C moves by a difference in K. */
export const asStep = (sort: Sort): Sort =>
  sort.is === "quantity" ? { is: "quantity", unit: asDifference(sort.unit) } : sort;
