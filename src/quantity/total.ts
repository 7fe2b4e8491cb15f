import { kindsDiffer } from "./advice";
import { mergeNotes, type Note } from "./note";
import {
  affineNum,
  divideNum,
  exact,
  exactInteger,
  fractionOf,
  isExact,
  multiplyNum,
  type Num,
  sumNum,
} from "./number";
import { plain, type Quantity, quantity, sideOf } from "./quantity";
import { combine, type Spread } from "./spread";
import { Trouble } from "./trouble";
import { type Unit, withKind } from "./unit";
import { additionTrouble, conversion, jointKind, planAddition } from "./unit-sum";

/**
 * The total of a list, in the unit of its first entry. Exact entries add exactly, whatever their order. An
 * empty list comes to the plain number 0. Trouble when the kinds differ, and for temperatures.
 */
export function sumQuantities(list: readonly Quantity[]): Quantity {
  const [first] = list;
  if (first === undefined) return plain("0");
  let { unit } = first;
  let before: Unit | undefined;
  for (const entry of list) {
    if (entry.unit === before) continue;
    before = entry.unit;
    const plan = planAddition(unit, entry.unit, "+");
    if (typeof plan === "string") throw additionTrouble(sideOf(first), sideOf(entry), "add", plan);
    // A temperature plus differences is a sum, but no total of things that are alike.
    if (plan.unit.offset !== undefined) throw kindsDiffer(sideOf(first), sideOf(entry), "list");
    unit = plan.unit;
  }
  return list.length === 1 ? first : totalIn(list, unit);
}

/** The mean of a list, in the unit of its first entry; approximate. Temperatures have one. Trouble for an empty list. */
export function meanQuantities(list: readonly Quantity[]): Quantity {
  const [first] = list;
  if (first === undefined) {
    throw new Trouble({
      code: "list-empty",
      says: "There is nothing to take the mean of.",
      help: "Give at least one value.",
    });
  }
  let { unit } = first;
  for (const entry of list) {
    if (entry.unit === unit) continue;
    const kind = jointKind(unit.kind, entry.unit.kind);
    if (kind === undefined) throw kindsDiffer(sideOf(first), sideOf(entry), "list");
    unit = withKind(unit, kind);
  }
  if (list.length === 1) return first;
  // The mean of points on a scale is the mean of their numbers, for the weights add to 1.
  const total = totalIn(list, unit);
  const spread = combine([{ by: 1 / list.length, spread: total.spread }]);
  return quantity(divideNum(total.n, exactInteger(list.length)), unit, spread, total.notes);
}

/** The sum of the numbers after conversion to one unit. */
function totalIn(list: readonly Quantity[], unit: Unit): Quantity {
  const numbers: Num[] = [];
  let notes: readonly Note[] | undefined;
  let spreads: { readonly by: number; readonly spread?: Spread }[] | undefined;
  for (const entry of list) {
    if (entry.unit === unit) numbers.push(entry.n);
    else {
      const { factor, shift } = conversion(entry.unit, unit);
      numbers.push(affineNum(entry.n, factor, shift));
    }
    if (entry.notes !== undefined) notes = mergeNotes(notes, entry.notes);
    if (entry.spread !== undefined) {
      spreads ??= [];
      spreads.push({ by: conversion(entry.unit, unit).factor.v, spread: entry.spread });
    }
  }
  return quantity(sumNum(numbers), unit, spreads === undefined ? undefined : combine(spreads), notes);
}

/**
 * Shares of a whole, in multiples of `step`, that add to exactly `whole` (by the largest remainder: every
 * share is cut down to the step, and what is left goes, step by step, to those that lost most; ties to the
 * larger value, then to the earlier). Values that are exact are shared out exactly. Trouble when a value is
 * negative, when all are 0, and when `step` does not divide `whole`.
 */
export function largestRemainder(values: readonly Num[], step: Num, whole: Num = exact("1")): readonly Num[] {
  const steps = stepsIn(whole, step);
  const shares = values.map((value) => {
    if (value.v < 0) {
      throw new Trouble({
        code: "share-negative",
        says: `A share cannot be worked out of a negative value (${value.v}).`,
        help: "Check the list.",
      });
    }
    // 15 digits of a double, so that what only rounding keeps apart counts as a tie.
    return fractionOf(isExact(value) ? value : exact(value.v.toPrecision(15)));
  });
  // Every denominator is a power of ten.
  let common = 1n;
  for (const { den } of shares) if (den > common) common = den;
  const weights = shares.map(({ num, den }) => num * (common / den));
  const total = weights.reduce((sum, weight) => sum + weight, 0n);
  if (total === 0n) {
    throw new Trouble({
      code: "share-of-nothing",
      says: "All values are 0, so there are no shares of them.",
      help: "Check the list.",
    });
  }
  const counts = weights.map((weight) => (weight * steps) / total);
  const order = weights
    .map((weight, i) => ({ i, weight, rest: (weight * steps) % total }))
    .sort((a, b) => compareBig(b.rest, a.rest) || compareBig(b.weight, a.weight) || a.i - b.i);
  let left = steps - counts.reduce((sum, count) => sum + count, 0n);
  for (const { i } of order) {
    if (left === 0n) break;
    counts[i]! += 1n;
    left -= 1n;
  }
  return counts.map((count) => multiplyNum(step, exact(count.toString())));
}

function compareBig(a: bigint, b: bigint): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function stepsIn(whole: Num, step: Num): bigint {
  const w = fractionOf(whole);
  const s = fractionOf(step);
  const above = w.num * s.den;
  const below = w.den * s.num;
  if (below <= 0n || above % below !== 0n || above < 0n) {
    throw new Trouble({
      code: "share-step",
      says: `Steps of ${step.v} do not add up to ${whole.v}.`,
      help: "Choose a step that divides the whole, such as `0.1 %`.",
    });
  }
  return above / below;
}
