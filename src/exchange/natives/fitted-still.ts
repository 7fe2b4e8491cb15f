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
import { FIT_HALF, FIT_MIDDLE, FIT_SKEW, INVERSE_TEMPERATURE, LN_VOLATILITY } from "./fits";
import type { NativeCall } from "./native";
import { both } from "./ranges";
import { type BoiledPot, pressures } from "./vapour";

/** A pot at one pressure, by fits that need no search: its volatility, and where it boils. */
const VOLATILITY_SETS = LN_VOLATILITY.map((values, i) => ({
  name: `ln of the volatility of ethanol, z^${i}, powers of (ln p - 9.5)/2.2`,
  source: "our fit to our vapour model, y - x within 0.003 %",
  values: [...values],
}));
const TEMPERATURE_SETS = INVERSE_TEMPERATURE.map((values, i) => ({
  name: `1000/boiling temperature (K), z^${i}, powers of (ln p - 9.5)/2.2`,
  source: "our fit to our vapour model, within 0.007 K",
  values: [...values],
}));

/** A pot at one pressure: the terms of both fits there. */
export interface StillTerms {
  readonly lnPressure: Expression;
  readonly volatility: readonly Expression[];
  readonly inverse: () => readonly Expression[];
}

export function stillTerms(c: NativeCall, pascal: Expression): StillTerms {
  const inside = both(
    operation(">=", pascal, number(100)),
    operation("<=", pascal, number(110_000 * (1 + 1e-12))),
  );
  const lnPressure = c.step("ln of the pressure (Pa)", call("LN", c.within(pascal, inside)));
  const l = c.step("(ln p - 9.5)/2.2", over(minus(lnPressure, number(FIT_MIDDLE)), number(FIT_HALF)));
  return {
    lnPressure,
    volatility: VOLATILITY_SETS.map((set, i) =>
      c.step(`volatility at this pressure, z^${i}`, polynomial(c.constants(set), l)),
    ),
    inverse: () =>
      TEMPERATURE_SETS.map((set, i) =>
        c.step(`1000/T at this pressure, z^${i}`, polynomial(c.constants(set), l)),
      ),
  };
}

export const place = (x: Expression): Expression =>
  minus(over(times(number(2), x), plus(x, times(number(FIT_SKEW), minus(number(1), x)))), number(1));

/** Boiling temperature from the fit, put right once by the model itself: within a millikelvin. */
export function fittedBoiling(
  c: NativeCall,
  still: StillTerms,
  x: Expression,
  about: string,
): { kelvin: Expression; vapour: Expression } {
  const z = c.step(`${about}: z`, place(x));
  const inverse = c.step(`${about}: 1/T, fitted`, over(polynomial(still.inverse(), z), number(1000)));
  const fitted = c.step(`${about}: temperature, fitted (K)`, over(number(1), inverse));
  const pot: BoiledPot = { x };
  const first = pressures(c, pot, fitted, `${about}, fitted`);
  const better = c.step(
    `${about}: 1/T, better`,
    plus(inverse, over(minus(call("LN", first.total), still.lnPressure), number(5200))),
  );
  const kelvin = c.step(`${about}: temperature (K)`, over(number(1), better));
  const second = pressures(c, pot, kelvin, about);
  const best = c.step(
    `${about}: temperature, settled (K)`,
    over(number(1), plus(better, over(minus(call("LN", second.total), still.lnPressure), number(5200)))),
  );
  return { kelvin: best, vapour: over(second.ethanol, second.total) };
}
