import { approximate, compare, format, type Quantity, quantity, subtract, Trouble } from "../quantity";
import type { Value } from "../vocabulary/value";
import { inUnitOf } from "./ends";
import { describe, stopper, troubleParts, withNotes } from "./fault";
import { type Ending, type Making, PutOff } from "./search";

const TRIALS = 33;
const LIMIT = 200;

interface Trial {
  readonly x: Quantity;
  readonly left: Quantity;
  readonly right: Quantity;
  /** left − right, in the unit of the left side. */
  readonly miss: number;
  /** Equal in the sense of `is`. */
  readonly met: boolean;
}

/**
 * `find x from A to B so that f is g`: 33 evenly spaced trials, then a bracketed root. `sides` works both
 * sides of the goal out at a trial value. Trials outside a function's range are passed over, with a note.
 * Throws `Trouble` when there is no sign change, or more than one.
 */
export function findRoot(
  name: string,
  from: Value,
  to: Value,
  sides: (x: Quantity) => { left: Value; right: Value },
  search?: Making,
): Value {
  const known = search?.known;
  if (known?.is === "trouble") throw new Trouble(known.parts);
  if (known?.is === "value") return known.value;
  try {
    return searched(name, from, to, sides, known, search);
  } catch (error) {
    if (error instanceof Trouble) search?.came({ is: "trouble", parts: troubleParts(error) });
    throw error;
  }
}

function searched(
  name: string,
  from: Value,
  to: Value,
  sides: (x: Quantity) => { left: Value; right: Value },
  known: (Ending & { is: "root" }) | undefined,
  search: Making | undefined,
): Value {
  const stop = stopper([from, to]);
  if (stop) return stop;
  if (from.type !== "quantity" || to.type !== "quantity") {
    throw new Trouble({
      code: "find-ends",
      says: `\`find\` searches between two numbers; it meets ${describe(from.type === "quantity" ? to : from)}.`,
    });
  }
  if (compare(from, to).order === 0) {
    throw new Trouble({ code: "find-ends", says: "`find` has no room to search: both ends are the same." });
  }
  const a = from.n.v;
  const width = inUnitOf(to, from) - a;
  let used = 0;
  let outside: Value | undefined;
  let waitingFor: Value | undefined;
  const without = (value: Value): Value => {
    search?.came({ is: "value", value });
    return value;
  };
  const attempt = (v: number): Trial | undefined => {
    if (known === undefined && search?.goesOn() === false) throw new PutOff();
    used++;
    const x = quantity(approximate(v), from.unit);
    const { left, right } = sides(x);
    const halt = stopper([left, right]);
    if (halt) {
      if (halt.type === "gap") waitingFor ??= halt;
      else outside ??= halt;
      return undefined;
    }
    if (left.type !== "quantity" || right.type !== "quantity") {
      throw new Trouble({
        code: "find-goal",
        says: `The goal of \`find\` compares two numbers; it meets ${describe(left.type === "quantity" ? right : left)}.`,
      });
    }
    return { x, left, right, miss: subtract(left, right).n.v, met: compare(left, right).order === 0 };
  };

  const answer = (root: Trial, passed: number): Value => {
    const value = withSpread(root, attempt, width);
    if (known === undefined) search?.came({ is: "root", at: root.x.n.v, passed });
    const notes =
      passed > 0
        ? [{ text: `${passed} of ${TRIALS} trials lay outside the range of a function and were passed over` }]
        : [];
    // What the functions of the goal say about themselves there holds for the answer too.
    const said = [...notes, ...(root.left.notes ?? []), ...(root.right.notes ?? [])];
    return withNotes(value, said);
  };
  if (known !== undefined) {
    const root = attempt(known.at);
    if (root !== undefined) return answer(root, known.passed);
  }

  const trials: (Trial | undefined)[] = [];
  for (let i = 0; i < TRIALS; i++) {
    trials.push(attempt(i === TRIALS - 1 ? a + width : a + (width * i) / (TRIALS - 1)));
    if (waitingFor) return without(waitingFor);
  }
  const valid = trials.filter((t): t is Trial => t !== undefined);
  if (valid.length === 0) return without(outside!);

  const brackets: [Trial, Trial][] = [];
  const roots: Trial[] = [];
  for (let i = 0; i < TRIALS; i++) {
    const one = trials[i];
    if (!one) continue;
    if (one.met) {
      roots.push(one);
      continue;
    }
    const next = trials[i + 1];
    if (next && !next.met && Math.sign(one.miss) !== Math.sign(next.miss)) brackets.push([one, next]);
  }
  const found = roots.length + brackets.length;
  if (found === 0) throw noSignChange(name, valid[0]!, valid[valid.length - 1]!);
  if (found > 1) {
    const places = [
      ...roots.map((r) => format(r.x)),
      ...brackets.map(([p, q]) => `between ${format(p.x)} and ${format(q.x)}`),
    ];
    throw new Trouble({
      code: "find-several",
      says: `There is more than one answer for \`${name}\`: ${places.slice(0, 4).join("; ")}${places.length > 4 ? "; …" : ""}.`,
      help: "Narrow the bracket to the one that is meant.",
    });
  }
  const passed = TRIALS - valid.length;
  const root =
    roots[0] ??
    narrow(
      name,
      brackets[0]!,
      attempt,
      () => used,
      () => outside,
    );
  return "type" in root ? without(root) : answer(root, passed);
}

/**
 * Brent's zero finder (R. P. Brent, Algorithms for Minimization without Derivatives, 1973, chapter 4):
 * keeps a bracket at every step, so it cannot run away. A bracket that closes on a jump is told as one, and
 * one that has not closed when the trials are used up, on an answer that is none yet, by how far it came.
 */
function narrow(
  name: string,
  [low, high]: readonly [Trial, Trial],
  attempt: (v: number) => Trial | undefined,
  used: () => number,
  outside: () => Value | undefined,
): Trial | Value {
  const start = Math.max(Math.abs(low.miss), Math.abs(high.miss));
  let a = low;
  let b = high;
  let c = low;
  let step = b.x.n.v - a.x.n.v;
  let before = step;
  for (;;) {
    if (Math.sign(b.miss) === Math.sign(c.miss)) {
      c = a;
      step = b.x.n.v - a.x.n.v;
      before = step;
    }
    if (Math.abs(c.miss) < Math.abs(b.miss)) {
      a = b;
      b = c;
      c = a;
    }
    const xb = b.x.n.v;
    const half = (c.x.n.v - xb) / 2;
    const tolerance = 1e-14 * Math.abs(xb) + Number.MIN_VALUE;
    if (Math.abs(half) <= tolerance || b.miss === 0) break;
    if (used() >= LIMIT) {
      if (b.met) return b;
      throw new Trouble({
        code: "find-trials",
        says: `${LIMIT} trials did not find \`${name}\`: near ${format(b.x)} the two sides still differ by ${gapOf(b)}.`,
        help: "Narrow the bracket, or look at the curve of both sides.",
      });
    }
    if (Math.abs(before) >= tolerance && Math.abs(a.miss) > Math.abs(b.miss)) {
      const s = b.miss / a.miss;
      let p: number;
      let q: number;
      if (a === c) {
        p = 2 * half * s;
        q = 1 - s;
      } else {
        const r1 = a.miss / c.miss;
        const r2 = b.miss / c.miss;
        p = s * (2 * half * r1 * (r1 - r2) - (xb - a.x.n.v) * (r2 - 1));
        q = (r1 - 1) * (r2 - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      else p = -p;
      if (2 * p < Math.min(3 * half * q - Math.abs(tolerance * q), Math.abs(before * q))) {
        before = step;
        step = p / q;
      } else {
        step = half;
        before = half;
      }
    } else {
      step = half;
      before = half;
    }
    const next = attempt(xb + (Math.abs(step) > tolerance ? step : Math.sign(half) * tolerance));
    if (!next) return outside()!;
    a = b;
    b = next;
  }
  if (Math.abs(b.miss) > 1e-6 * start) {
    throw new Trouble({
      code: "find-jump",
      says: `The two sides change places near ${format(b.x)} without meeting: one of them jumps there.`,
      help: "Narrow the bracket, or look at the curve of both sides.",
    });
  }
  return b;
}

/** Uncertainty of the root: what the goal's inputs contribute, divided by the slope of the miss at the root. */
function withSpread(root: Trial, attempt: (v: number) => Trial | undefined, width: number): Quantity {
  const difference = subtract(root.left, root.right);
  if (!difference.spread || difference.spread.size === 0) return root.x;
  const h = Math.abs(width) * 1e-4;
  const up = attempt(root.x.n.v + h);
  const down = attempt(root.x.n.v - h);
  if (!up || !down) return root.x;
  const slope = (subtract(up.left, up.right).n.v - subtract(down.left, down.right).n.v) / (2 * h);
  if (slope === 0 || !Number.isFinite(slope)) return root.x;
  const spread = new Map<string, number>();
  for (const [input, amount] of difference.spread) spread.set(input, -amount / slope);
  return quantity(root.x.n, root.x.unit, spread);
}

/** By how much the two sides of the goal differ at a trial, without a sign. */
function gapOf({ left, right }: Trial): string {
  const difference = subtract(left, right);
  return format({ ...difference, n: { v: Math.abs(difference.n.v), dp: difference.n.dp } });
}

function noSignChange(name: string, first: Trial, last: Trial): Trouble {
  const tell = (t: Trial): string => `at ${format(t.x)} it is ${gapOf(t)} ${t.miss > 0 ? "above" : "below"}`;
  return new Trouble({
    code: "find-none",
    says: `No \`${name}\` between these ends meets the goal: ${tell(first)}, ${tell(last)}.`,
    help: "Widen the bracket, or change the goal.",
  });
}
