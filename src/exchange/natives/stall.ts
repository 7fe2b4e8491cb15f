import {
  call,
  type Expression,
  minus,
  number,
  operation,
  over,
  plus,
  polynomial,
  times,
} from "../expression";
import { place, type StillTerms } from "./fitted-still";
import type { NativeCall } from "./native";
import { both } from "./ranges";
import type { RunState } from "./rayleigh";
import { volumeFraction } from "./spirit-maths";
import { massOfMoles, pressures } from "./vapour";

/** Where a bath gives no more: the mole fraction at which the pot has warmed to a temperature, and whether it ever does. */
export interface Stall {
  readonly x: Expression;
  readonly never: Expression;
}

/** Steps on the fit, which cost a cell each, before the model itself is asked. */
const STALL_STEPS = 6;

export function stallAt(c: NativeCall, still: StillTerms, start: Expression, kelvin: Expression): Stall {
  const warm = c.step("pot when the bath gives no more (K)", kelvin);
  const water = pressures(c, { x: number(0) }, warm, "water at that temperature").total;
  const never = operation(">=", call("LN", water), still.lnPressure);
  const terms = still.inverse();
  const slope = terms.slice(1).map((t, k) => times(number(k + 1), t));
  const wanted = c.step("1000/T wanted", over(number(1000), warm));
  let z = c.step("stall: z, first guess", place(over(start, number(4))));
  const lowest = number(-1);
  const highest = c.step("stall: z of the charge", place(start));
  for (let i = 1; i <= STALL_STEPS; i++) {
    const next = minus(z, over(minus(polynomial(terms, z), wanted), polynomial(slope, z)));
    z = c.step(`stall: z, step ${i}`, call("MAX", lowest, call("MIN", highest, next)));
  }
  const w = over(plus(z, number(1)), number(2));
  let x = c.step(
    "stall: x, fitted",
    call("MAX", number(1e-7), over(times(number(0.3), w), minus(number(1), times(number(0.7), w)))),
  );
  const miss = (at: Expression, about: string): Expression =>
    c.step(
      `${about}: ln p too high by`,
      minus(call("LN", pressures(c, { x: at }, warm, about).total), still.lnPressure),
    );
  const first = miss(x, "stall, fitted");
  const beside = c.step("stall: x beside it", times(number(1.01), x));
  const chord = c.step("stall: slope", over(minus(miss(beside, "stall, beside"), first), minus(beside, x)));
  x = c.step("stall: x, better", minus(x, over(first, chord)));
  x = c.step("stall: x", minus(x, over(miss(x, "stall, better"), chord)));
  return { x, never };
}

export function stalling(c: NativeCall, stall: Stall, start: Expression, end: RunState | undefined) {
  const past =
    end === undefined
      ? call("NOT", stall.never)
      : both(call("NOT", stall.never), operation("<", end.x, times(stall.x, number(1 - 1e-9))));
  const boils = operation("<", stall.x, start);
  const left = volumeFraction(c, c.step("left when it stalls, by mass", massOfMoles(stall.x)));
  return { stalls: c.within(past, boils), stalls_at: c.within(left, both(call("NOT", stall.never), boils)) };
}
