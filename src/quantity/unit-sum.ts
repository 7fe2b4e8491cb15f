import { cannotShow, describe, kindsDiffer, type Side } from "./advice";
import { type Kind, kinds, none, takesPlain } from "./dimension";
import { Pairs } from "./pairs";
import { isOne, one, type Ratio, ratioMinus, ratioOver, sameRatio } from "./ratio";
import { Trouble } from "./trouble";
import { asDifference, kelvin, kelvinPoint, type Unit, withKind } from "./unit";

/** The kind of two values that stand side by side in `+`, `-`, `<` or a list, or undefined when they may not. */
export function jointKind(a: Kind, b: Kind): Kind | undefined {
  if (a === b) return a;
  if (a === kinds.plain && takesPlain(b)) return b;
  if (b === kinds.plain && takesPlain(a)) return a;
  return undefined;
}

// ---- showing in another unit

/** Whether `in` may take one unit to the other: the trouble if not. */
export function convertible(from: Unit, to: Unit): Trouble | undefined {
  return shows(from, to) ? undefined : cannotShow({ text: "", unit: from }, to);
}

/** Whether `in` may take one unit to the other. */
export function shows(from: Unit, to: Unit): boolean {
  if (from.kind === to.kind) return true;
  if (from.kind === kinds.temperature) return to === kelvin;
  return to.kind === kinds.plain && takesPlain(from.kind);
}

/** The unit that `in` really gives: `in K` keeps a temperature a temperature, `in %` a water content one. */
export function shownIn(from: Unit, to: Unit): Unit {
  if (from.kind === to.kind) return to;
  if (from.kind === kinds.temperature && to === kelvin) return kelvinPoint;
  return takesPlain(from.kind) && to.kind === kinds.plain ? withKind(to, from.kind) : to;
}

/** number in the new unit = number in the old one * factor (+ shift). */
export interface Conversion {
  readonly factor: Ratio;
  /** Temperatures only. */
  readonly shift?: Ratio;
}

const SAME: Conversion = { factor: one };
const conversions = new Pairs((from: Unit, to: Unit): Conversion => {
  if (from === to) return SAME;
  const target = from.offset !== undefined && to === kelvin ? kelvinPoint : to;
  const factor = ratioOver(from.scale, target.scale);
  if (from.offset === undefined || target.offset === undefined) return { factor };
  return { factor, shift: ratioOver(ratioMinus(from.offset, target.offset), target.scale) };
});

/** How numbers in one unit become numbers in another; the kinds must agree (`convertible`). */
export function conversion(from: Unit, to: Unit): Conversion {
  return conversions.get(from, to);
}

// ---- adding

/** number of the result = (left * a + shift) ± right * b, in `unit`. */
export interface AdditionPlan {
  readonly unit: Unit;
  readonly left: Ratio;
  readonly right: Ratio;
  readonly shift?: Ratio;
  /** Whether left and right are the same size, so that the bare numbers may be added first. */
  readonly even: boolean;
  /** A bare number beside a ratio sign: `100 + 10 %`. */
  readonly hundredths: boolean;
}
/** Why two units do not add. */
export type NoSum = "kinds differ" | "two temperatures";

/** How two units add or subtract, or why they do not. */
export function planAddition(a: Unit, b: Unit, sign: "+" | "-"): AdditionPlan | NoSum {
  return sign === "+" ? sums.get(a, b) : differences.get(a, b);
}

const sums = new Pairs((a: Unit, b: Unit): AdditionPlan | NoSum => {
  const left = a.kind === kinds.temperature;
  const right = b.kind === kinds.temperature;
  if (left && right) return "two temperatures";
  if (left && b.kind === kinds.difference) return pointAndDifference(a, b);
  if (right && a.kind === kinds.difference) {
    return plan(b, ratioOver(a.scale, asDifference(b).scale), one);
  }
  return alike(a, b);
});

const differences = new Pairs((a: Unit, b: Unit): AdditionPlan | NoSum => {
  if (a.kind !== kinds.temperature) return alike(a, b);
  if (b.kind === kinds.difference) return pointAndDifference(a, b);
  if (b.kind !== kinds.temperature) return "kinds differ";
  const shift = ratioMinus(a.offset!, b.offset!);
  return plan(kelvin, a.scale, b.scale, shift.num === 0n ? undefined : shift);
});

function plan(unit: Unit, left: Ratio, right: Ratio, shift?: Ratio, hundredths = false): AdditionPlan {
  return { unit, left, right, shift, even: sameRatio(left, right), hundredths };
}

function pointAndDifference(a: Unit, b: Unit): AdditionPlan {
  return plan(a, one, ratioOver(b.scale, asDifference(a).scale));
}

function alike(a: Unit, b: Unit): AdditionPlan | NoSum {
  const kind = jointKind(a.kind, b.kind);
  if (kind === undefined) return "kinds differ";
  const right = ratioOver(b.scale, a.scale);
  const bare = kind.dimension === none && (a.text === "") !== (b.text === "");
  return plan(withKind(a, kind), one, right, undefined, bare && !isOne(right));
}

/**
 * Trouble when values in the two units may not stand side by side. `verb`: `add`, `subtract`, `compare`,
 * `list` or `choose` (see `kindsDiffer`). Two temperatures compare, and stand in one list, but do not add.
 */
export function compatible(a: Unit, b: Unit, verb: string): void {
  const left: Side = { text: "", unit: a };
  const right: Side = { text: "", unit: b };
  if (verb === "add" || verb === "subtract") {
    const found = planAddition(a, b, verb === "add" ? "+" : "-");
    if (typeof found === "string") throw additionTrouble(left, right, verb, found);
  } else if (jointKind(a.kind, b.kind) === undefined) {
    throw kindsDiffer(left, right, verb);
  }
}

export function additionTrouble(a: Side, b: Side, verb: "add" | "subtract", why: NoSum): Trouble {
  if (why === "kinds differ") return kindsDiffer(a, b, verb);
  const celsius = b.unit.text === "°C" && b.text !== "";
  const point = a.text === "" ? "t" : a.text;
  return new Trouble({
    code: "temperatures-add",
    says: `${describe(a)} and ${describe(b)} do not add: two temperatures are two points on a scale.`,
    help: `Add a difference, in K: \`${point} + ${celsius ? `${b.text.split(" ")[0]} K` : "5 K"}\`.`,
  });
}
