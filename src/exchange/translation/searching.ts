import { call, type Expression, minus, number, operation, over, plus, times } from "../expression";
import { add, inUnit } from "./quantities";
import { NotLive, type QuantityTerm, quantityTerm, union } from "./term";
import type { Working } from "./working";

/** Steps of the search; each costs as many cells as the goal. */
const STEPS = 20;
/**
 * So many of the first steps halve the bracket. False position creeps where the goal is flat at one end, as that of a
 * liquor out of which the salt falls.
 */
const HALVINGS = 5;
/** So many helper cells may one search take. */
const MOST_CELLS = 4_000;
/** The goal must be met to this part of what it was off by at the ends; else the cell refuses. */
const REST = 1e-8;
/** A goal met to this part is met as well as it can be. */
const THERE = 1e-11;

/**
 * `find x from A to B so that f is g` in a fixed number of steps, by halving and then by the false position with the
 * Illinois rule (M. Dowell and P. Jarratt, BIT 11, 1971): the bracket always holds the root. `sides` gives both sides of the
 * goal at a trial value.
 */
export function searched(
  name: string,
  from: QuantityTerm,
  to: QuantityTerm,
  sides: (x: QuantityTerm) => readonly [QuantityTerm, QuantityTerm],
  working: Working,
  path: string,
): QuantityTerm {
  const mark = working.mark;
  const unit = from.unit;
  let missing = union(from.missing, to.missing);
  let error = REST;
  const step = (what: string, e: Expression): Expression =>
    working.step(path, `search for ${name}: ${what}`, e, missing);
  const missAt = (x: Expression): Expression => {
    if (working.mark - mark > MOST_CELLS) throw new NotLive("its search would need too many helper cells");
    const [left, right] = sides(quantityTerm(x, unit, missing));
    const miss = add(left, right, "-");
    missing = union(missing, miss.missing);
    // A slip of the goal moves the root by more than itself where the goal is flat.
    error = Math.max(error, 10 * miss.error);
    return miss.expression;
  };
  let a = step("one end", from.expression);
  let b = step("other end", inUnit(to, unit).expression);
  let fa = step("goal at one end, off by", missAt(a));
  let fb = step("goal at the other end, off by", missAt(b));
  const start = step("goal, off by at most", call("MAX", call("ABS", fa), call("ABS", fb)));
  // What is left of a goal that is met is rounding, and has no side: every program rounds in its own way.
  const isThere = (f: Expression): Expression => operation("<=", call("ABS", f), times(number(THERE), start));
  const side = (f: Expression): Expression => call("IF", isThere(f), number(0), sign(f));
  // No change of sign between the ends: the book finds nothing there, and neither does the sheet.
  b = step(
    "other end, if the goal is met between them",
    call("IF", operation("<=", times(sign(fa), sign(fb)), number(0)), b, call("NA")),
  );
  for (let i = 1; i <= STEPS; i++) {
    const slope = minus(fb, fa);
    const x = step(
      `try ${i}`,
      i <= HALVINGS
        ? over(plus(a, b), number(2))
        : call("IF", operation("=", slope, number(0)), b, minus(b, over(times(fb, minus(b, a)), slope))),
    );
    const fx = step(`goal at try ${i}, off by`, missAt(x));
    const crossed = operation("<", times(side(fx), side(fb)), number(0));
    if (i === STEPS) {
      const met = operation("<=", call("ABS", fx), times(number(REST), start));
      return quantityTerm(step("found", call("IF", met, x, call("NA"))), unit, missing, error);
    }
    a = step(`other side of try ${i}`, call("IF", crossed, b, a));
    fa = step(
      `goal there, off by`,
      call("IF", crossed, fb, i < HALVINGS ? fa : call("IF", isThere(fx), fa, over(fa, number(2)))),
    );
    b = x;
    fb = fx;
  }
  throw new NotLive("its search has no steps");
}

const sign = (e: Expression): Expression => call("SIGN", e);
