import { kindsDiffer } from "./advice";
import { kinds } from "./dimension";
import { format } from "./format";
import type { Note } from "./note";
import { affineNum, approximate, compareNum, fractionOf, scaleNum } from "./number";
import { type Quantity, quantity, sideOf } from "./quantity";
import { combine, sigma } from "./spread";
import { asDifference } from "./unit";
import { conversion, jointKind } from "./unit-sum";

/** Approximate values are equal when they differ by at most this part of the larger, … */
const RELATIVE = 1e-9;
/** … or by this much of the right side's unit (temperatures: of a kelvin). */
const ABSOLUTE = 1e-12;

export interface Comparison {
  readonly order: -1 | 0 | 1;
  /** When the values differ by less than twice the uncertainty of the difference. */
  readonly note?: Note;
}

/**
 * Whether a is below, equal to or above b. Two exact values compare exactly after conversion; otherwise
 * values count as equal that differ by no more than rounding. Trouble when the kinds differ.
 */
export function compare(a: Quantity, b: Quantity): Comparison {
  if (a.unit !== b.unit && jointKind(a.unit.kind, b.unit.kind) === undefined) {
    throw kindsDiffer(sideOf(a), sideOf(b), "compare");
  }
  const order = a.n.dp >= 0 && b.n.dp >= 0 ? exactOrder(a, b) : nearOrder(a, b);
  if (a.spread === undefined && b.spread === undefined) return { order };
  const note = doubt(a, b);
  return note === undefined ? { order } : { order, note };
}

function exactOrder(a: Quantity, b: Quantity): -1 | 0 | 1 {
  if (a.unit === b.unit) return compareNum(a.n, b.n);
  const { factor, shift } = conversion(a.unit, b.unit);
  if (factor.dp >= 0 && (shift === undefined || shift.dp >= 0)) {
    const converted = affineNum(a.n, factor, shift);
    if (converted.dp >= 0) return compareNum(converted, b.n);
  }
  // A factor that never ends, such as 5/9: compare as fractions of whole numbers.
  const left = inSI(a);
  const right = inSI(b);
  const l = left.num * right.den;
  const r = right.num * left.den;
  return l < r ? -1 : l > r ? 1 : 0;
}

function inSI(q: Quantity): { readonly num: bigint; readonly den: bigint } {
  const value = fractionOf(q.n);
  const { scale, offset } = q.unit;
  const num = value.num * scale.num;
  const den = value.den * scale.den;
  if (offset === undefined) return { num, den };
  return { num: num * offset.den + offset.num * den, den: den * offset.den };
}

function nearOrder(a: Quantity, b: Quantity): -1 | 0 | 1 {
  let x: number;
  let y: number;
  if (b.unit.kind === kinds.temperature) {
    x = affineNum(a.n, a.unit.scale, a.unit.offset).v;
    y = affineNum(b.n, b.unit.scale, b.unit.offset).v;
  } else {
    x = a.unit === b.unit ? a.n.v : scaleNum(a.n, conversion(a.unit, b.unit).factor).v;
    y = b.n.v;
  }
  const gap = Math.abs(x - y);
  if (gap <= ABSOLUTE || gap <= RELATIVE * Math.max(Math.abs(x), Math.abs(y))) return 0;
  return x < y ? -1 : 1;
}

/** The note on two values that lie within twice the standard uncertainty of their difference. */
function doubt(a: Quantity, b: Quantity): Note | undefined {
  const { factor, shift } = conversion(a.unit, b.unit);
  const uncertainty = sigma(
    combine([
      { by: factor.v, spread: a.spread },
      { by: -1, spread: b.spread },
    ]),
  );
  if (uncertainty === 0) return undefined;
  const gap = Math.abs(affineNum(a.n, factor, shift).v - b.n.v);
  if (gap >= 2 * uncertainty) return undefined;
  const written = (v: number): string =>
    format(quantity(approximate(v), asDifference(b.unit)), { digits: 2 });
  return {
    text: `Too close to tell: ${format(a)} and ${format(b)} differ by ${written(gap)}, less than twice the uncertainty of that difference (± ${written(uncertainty)}).`,
  };
}
