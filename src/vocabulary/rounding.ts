import { approximate, exact, exactInteger, fractionOf, isExact, multiplyNum, type Num } from "../quantity";

/** How close to half a step an approximate value counts as half, as elsewhere for whole numbers. */
const NEARLY = 1e-9;
/** Most digits of an exact number. */
const MOST_DIGITS = 34;

/**
 * Multiple of `step` (above zero) that is nearest to n, halves away from zero. Exact when `step` is: the result is a
 * chosen mark on a scale, not a measurement.
 */
export function nearestMultiple(n: Num, step: Num): Num {
  return multiplyNum(isExact(n) && isExact(step) ? timesExactly(n, step) : timesNearly(n.v / step.v), step);
}

/** How often `step` goes into n, to the nearest whole number, by whole numbers alone. */
function timesExactly(n: Num, step: Num): Num {
  const value = fractionOf(n);
  const unit = fractionOf(step);
  const over = value.num * unit.den;
  const under = unit.num * value.den;
  const size = over < 0n ? -over : over;
  const times = (2n * size + under) / (2n * under);
  const digits = times.toString();
  const sign = over < 0n ? "-" : "";
  return digits.length > MOST_DIGITS ? approximate(Number(sign + digits)) : exact(sign + digits);
}

function timesNearly(times: number): Num {
  const size = Math.abs(times);
  const down = Math.floor(size);
  const count = (size - down >= 0.5 - NEARLY ? down + 1 : down) * Math.sign(times);
  // Beyond 2^53 every double is a whole number, and the step changes nothing that can be told.
  return Number.isSafeInteger(count) ? exactInteger(count + 0) : approximate(count);
}
