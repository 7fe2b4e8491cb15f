import { kinds } from "./dimension";
import { mergeNotes, type Note } from "./note";
import {
  addNum,
  affineNum,
  approximate,
  divideNum,
  exact,
  exactInteger,
  fractionOf,
  isExact,
  multiplyNum,
  type Num,
} from "./number";
import { add, plain, type Quantity, quantity, subtract } from "./quantity";
import { combine, type Spread } from "./spread";
import { Trouble } from "./trouble";
import type { Unit } from "./unit";
import { compatible, conversion } from "./unit-algebra";

/**
 * The total of a list, in the unit of its first entry. Exact entries add exactly, whatever their order; with
 * an approximate one among them the rounding is carried along (Neumaier), so that order hardly matters. An
 * empty list comes to 0. Trouble when the kinds differ, and for temperatures.
 */
export function sumQuantities(list: readonly Quantity[]): Quantity {
  const [first] = list;
  if (first === undefined) return plain("0");
  if (list.length === 1) {
    if (first.unit.kind === kinds.temperature) compatible(first.unit, first.unit, "add");
    return first;
  }
  // Raises the trouble between the first entry and the first that does not fit, with both values.
  const unit = unitOfTotal(list, add);
  return totalIn(list, unit);
}

/** The mean of a list, in the unit of its first entry; approximate. Temperatures have one. Trouble for an empty list. */
export function meanQuantities(list: readonly Quantity[]): Quantity {
  const [first] = list;
  if (first === undefined) {
    throw new Trouble({ code: "list-empty", says: "There is nothing to take the mean of." });
  }
  if (list.length === 1) return first;
  const unit =
    first.unit.kind === kinds.temperature ? unitOfTotal(list, subtract, first.unit) : unitOfTotal(list, add);
  const total = totalIn(list, unit);
  const by = 1 / list.length;
  const spread = combine([{ by, spread: total.spread }]);
  return quantity(divideNum(total.n, exactInteger(list.length)), unit, spread, total.notes);
}

/** The common unit, by trying each entry against the first. */
function unitOfTotal(
  list: readonly Quantity[],
  operation: (a: Quantity, b: Quantity) => Quantity,
  known?: Unit,
): Unit {
  let unit = known ?? list[0]!.unit;
  let before: Unit | undefined;
  for (const entry of list) {
    if (entry.unit === before) continue;
    before = entry.unit;
    if (entry.unit === unit && known === undefined && unit.offset === undefined) continue;
    const sum = operation(list[0]!, entry);
    if (known === undefined) unit = sum.unit;
    else if (entry.unit.kind !== kinds.temperature) compatible(known, entry.unit, "list");
  }
  return unit;
}

function totalIn(list: readonly Quantity[], unit: Unit): Quantity {
  let exactSum: Num | undefined;
  let sum = 0;
  let rest = 0;
  let approximately = false;
  let notes: readonly Note[] | undefined;
  let spreads: { readonly by: number; readonly spread?: Spread }[] | undefined;
  for (const entry of list) {
    const { factor, shift } = conversion(entry.unit, unit);
    const n = affineNum(entry.n, factor, shift);
    if (isExact(n)) exactSum = exactSum === undefined ? n : addNum(exactSum, n);
    else {
      approximately = true;
      const next = sum + n.v;
      rest += Math.abs(sum) >= Math.abs(n.v) ? sum - next + n.v : n.v - next + sum;
      sum = next;
    }
    if (entry.notes !== undefined) notes = mergeNotes(notes, entry.notes);
    if (entry.spread !== undefined) {
      spreads ??= [];
      spreads.push({ by: factor.v, spread: entry.spread });
    }
  }
  const total = approximately ? approximate((exactSum?.v ?? 0) + (sum + rest)) : exactSum!;
  return quantity(total, unit, spreads === undefined ? undefined : combine(spreads), notes);
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
    return fractionOf(value);
  });
  const common = shares.reduce((most, { den }) => (den > most ? den : most), 1n);
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
