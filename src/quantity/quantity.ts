import { isRatioSign, isShare, kindName, kindsDiffer, type Side } from "./advice";
import { kinds, takesPlain } from "./dimension";
import { format } from "./format";
import { mergeNotes, type Note } from "./note";
import {
  addNum,
  affineNum,
  approximate,
  divideScaled,
  exact,
  exactInteger,
  multiplyScaled,
  type Num,
  negateNum,
  powerNum,
  raise,
  scaleNum,
  subtractNum,
  toBig,
} from "./number";
import { applyRatio, isOne, type Ratio, ratioOver } from "./ratio";
import { combine, type Spread, scaleSpread } from "./spread";
import { Trouble } from "./trouble";
import { asDifference, plainUnit, type Unit } from "./unit";
import {
  type AdditionPlan,
  additionTrouble,
  conversion,
  convertibleSide,
  isAddition,
  isRefusal,
  planAddition,
  planProduct,
  planQuotient,
  powerUnit,
  refused,
  shownIn,
} from "./unit-algebra";

/** A number with its unit, perhaps an uncertainty, perhaps remarks. Immutable. */
export interface Quantity {
  readonly type: "quantity";
  readonly n: Num;
  readonly unit: Unit;
  /** Contributions of the measured inputs, in `unit` (for temperatures in its degrees). */
  readonly spread?: Spread;
  readonly notes?: readonly Note[];
}

export function quantity(n: Num, unit: Unit, spread?: Spread, notes?: readonly Note[]): Quantity {
  return { type: "quantity", n, unit, spread, notes };
}

/** A plain number: exact from a decimal text or a safe whole number, else approximate. */
export function plain(v: number | string): Quantity {
  if (typeof v === "string") return quantity(exact(v), plainUnit);
  return quantity(Number.isSafeInteger(v) ? exactInteger(v) : approximate(v), plainUnit);
}

/** The value in SI units of its kind (kelvin above absolute zero for a temperature, a fraction for a strength). */
export function toSI(q: Quantity): number {
  const v = applyRatio(q.n.v, q.unit.scale);
  return q.unit.offset === undefined ? v : affineNum(q.n, q.unit.scale, q.unit.offset).v;
}

/** An approximate value from SI units, in the unit given. */
export function fromSI(v: number, unit: Unit): Quantity {
  const { scale, offset } = unit;
  const above = offset === undefined ? v : v - offset.v;
  return quantity(approximate(applyInverse(above, scale)), unit);
}
function applyInverse(v: number, r: Ratio): number {
  if (r.n === 1) return v * r.d;
  if (r.d === 1) return v / r.n;
  return (v * r.d) / r.n;
}

/** How a message shows a value. */
export function sideOf(q: Quantity): Side {
  return { text: format(q.spread === undefined ? q : { ...q, spread: undefined }), unit: q.unit };
}

const notesFor = (a: Quantity, b: Quantity): readonly Note[] | undefined =>
  a.notes === undefined && b.notes === undefined ? undefined : mergeNotes(a.notes, b.notes);

/**
 * a + b in the unit of a (of the temperature, when a difference is added to one). Trouble when the kinds
 * differ, naming both sides and what would work.
 */
export function add(a: Quantity, b: Quantity): Quantity {
  return addition(a, b, "+");
}

/** a - b in the unit of a; a temperature minus a temperature is a difference in K. Trouble as for `add`. */
export function subtract(a: Quantity, b: Quantity): Quantity {
  return addition(a, b, "-");
}

function addition(a: Quantity, b: Quantity, sign: "+" | "-"): Quantity {
  const combineNums = sign === "+" ? addNum : subtractNum;
  let { unit } = a;
  let n: Num;
  let spread: Spread | undefined;
  let notes = notesFor(a, b);
  if (unit === b.unit && unit.offset === undefined) {
    n = guard(() => combineNums(a.n, b.n), a, b, sign);
    if (a.spread !== undefined || b.spread !== undefined) {
      spread = combine([
        { by: 1, spread: a.spread },
        { by: sign === "+" ? 1 : -1, spread: b.spread },
      ]);
    }
    return { type: "quantity", n, unit, spread, notes };
  }
  const plan = planAddition(a.unit, b.unit, sign);
  if (!isAddition(plan)) {
    throw additionTrouble(sideOf(a), sideOf(b), sign === "+" ? "add" : "subtract", plan);
  }
  unit = plan.unit;
  n = guard(() => addPlanned(a.n, b.n, plan, sign), a, b, sign);
  if (a.spread !== undefined || b.spread !== undefined) {
    spread = combine([
      { by: plan.left.v, spread: a.spread },
      { by: sign === "+" ? plan.right.v : -plan.right.v, spread: b.spread },
    ]);
  }
  if (plan.hundredths) notes = mergeNotes(notes, hundredthsNote(a, b, n, unit, sign));
  return { type: "quantity", n, unit, spread, notes };
}

function addPlanned(a: Num, b: Num, plan: AdditionPlan, sign: "+" | "-"): Num {
  const combineNums = sign === "+" ? addNum : subtractNum;
  if (plan.left === plan.right || (plan.left.num === plan.right.num && plan.left.den === plan.right.den)) {
    return affineNum(combineNums(a, b), plan.left, plan.shift);
  }
  return combineNums(affineNum(a, plan.left, plan.shift), scaleNum(b, plan.right));
}

/** `100 + 10 %` is 100.1: said once, unless the bare number is 1. */
function hundredthsNote(
  a: Quantity,
  b: Quantity,
  n: Num,
  unit: Unit,
  sign: string,
): readonly Note[] | undefined {
  const bareFirst = a.unit.text === "";
  const bare = bareFirst ? a : b;
  const share = bareFirst ? b : a;
  if (bare.n.v === 1) return undefined;
  const [left, right] = [sideOf(a).text, sideOf(b).text];
  const asNumber = format(quantity(scaleNum(share.n, share.unit.scale), plainUnit));
  const change = bareFirst
    ? ` For ${right} ${sign === "+" ? "more" : "less"} write \`${left} * (1 ${sign} ${right})\`.`
    : "";
  return [
    {
      text: `${sideOf(share).text} counts as ${asNumber}: ${left} ${sign} ${right} is ${format(quantity(n, unit))}.${change}`,
    },
  ];
}

/** Turns overflow and division by zero of the bare numbers into trouble that names the operands. */
function guard(work: () => Num, a: Quantity, b: Quantity, operator: string): Num {
  try {
    return work();
  } catch (trouble) {
    if (!(trouble instanceof Trouble)) throw trouble;
    const says =
      trouble.code === "division-by-zero"
        ? `${sideOf(a).text} is divided by ${sideOf(b).text}, which is 0.`
        : `${sideOf(a).text} ${operator} ${sideOf(b).text}: ${trouble.says[0]!.toLowerCase()}${trouble.says.slice(1)}`;
    throw new Trouble({
      code: trouble.code,
      says,
      ...(trouble.help === undefined ? {} : { help: trouble.help }),
    });
  }
}

/**
 * a * b. Units of one dimension cancel, `%` beside another unit drops out, a volume times % vol is the volume
 * of pure ethanol. Trouble for crossed pairs and temperatures.
 */
export function multiply(a: Quantity, b: Quantity): Quantity {
  const plan = planProduct(a.unit, b.unit);
  if (isRefusal(plan)) throw refused(sideOf(a), sideOf(b), "multiply", plan);
  const n = guard(() => multiplyScaled(a.n, b.n, plan.factor), a, b, "*");
  let spread: Spread | undefined;
  if (a.spread !== undefined || b.spread !== undefined) {
    spread = combine([
      { by: applyRatio(b.n.v, plan.factor), spread: a.spread },
      { by: applyRatio(a.n.v, plan.factor), spread: b.spread },
    ]);
  }
  return { type: "quantity", n, unit: plan.unit, spread, notes: notesFor(a, b) };
}

/**
 * a / b, approximate; exact when `byLiteralPowerOfTen` says that b is a literal and its number is a power of
 * ten. Trouble for division by zero, crossed pairs and temperatures.
 */
export function divide(a: Quantity, b: Quantity, byLiteralPowerOfTen = false): Quantity {
  const plan = planQuotient(a.unit, b.unit);
  if (isRefusal(plan)) throw refused(sideOf(a), sideOf(b), "divide", plan);
  const n = guard(() => divideScaled(a.n, b.n, plan.factor, byLiteralPowerOfTen), a, b, "/");
  let spread: Spread | undefined;
  if (a.spread !== undefined || b.spread !== undefined) {
    // (da - q db) * factor / b, so that x / x cancels exactly.
    const by = applyRatio(1, plan.factor) / b.n.v;
    spread = combine([
      { by, spread: a.spread },
      { by: -(a.n.v / b.n.v) * by, spread: b.spread },
    ]);
  }
  return { type: "quantity", n, unit: plan.unit, spread, notes: notesFor(a, b) };
}

/** -a. A temperature keeps its unit: -(10 °C) is -10 °C. */
export function negate(a: Quantity): Quantity {
  return { ...a, n: negateNum(a.n), spread: scaleSpread(a.spread, -1) };
}

/** a ^ b, approximate. b is a plain number; a value with a unit takes whole powers, or a root that leaves whole units. */
export function power(a: Quantity, b: Quantity): Quantity {
  if (b.unit.kind !== kinds.plain) {
    throw new Trouble({
      code: "power-unit",
      says: `An exponent is a plain number; ${sideOf(b).text} is ${kindName(b.unit)}.`,
      help: `Divide it by \`1 ${b.unit.text}\` if its number is meant.`,
    });
  }
  const exponent = scaleNum(b.n, b.unit.scale);
  const plan = powerUnit(a.unit, exponent.v);
  // A ratio sign to a power that is not whole is worked out as the plain number.
  const plainly = plan.unit === plainUnit && a.unit.kind.dimension === kinds.plain.dimension;
  const base = plainly ? scaleNum(a.n, a.unit.scale) : a.n;
  const factor = plainly ? plainUnit.scale : plan.factor;
  const n = guard(() => scaleNum(powerNum(base, exponent), factor), a, b, "^");
  let spread: Spread | undefined;
  if (a.spread !== undefined || b.spread !== undefined) {
    const scaleOfBase = plainly ? a.unit.scale.v : 1;
    const slope = exponent.v === 0 ? 0 : exponent.v * raise(base.v, exponent.v - 1) * scaleOfBase * factor.v;
    const byExponent = base.v > 0 ? n.v * Math.log(base.v) * b.unit.scale.v : 0;
    if (!Number.isFinite(slope) || (b.spread !== undefined && base.v <= 0)) {
      throw new Trouble({
        code: "no-slope",
        says: `The uncertainty of ${sideOf(a).text} ^ ${sideOf(b).text} cannot be worked out: it has no slope there.`,
        help: "Use a value further from 0.",
      });
    }
    spread = combine([
      { by: slope, spread: a.spread },
      { by: byExponent, spread: b.spread },
    ]);
  }
  return { type: "quantity", n, unit: plan.unit, spread, notes: notesFor(a, b) };
}

/**
 * `q in unit`: the same value on another scale. The kind stays (`in K` shows a temperature in kelvin, `in %`
 * a water content). Trouble that names the function which would change the kind.
 */
export function convert(q: Quantity, unit: Unit): Quantity {
  if (q.unit === unit) return q;
  const trouble = convertibleSide(sideOfLazily(q), unit);
  if (trouble !== undefined) throw trouble;
  const target = shownIn(q.unit, unit);
  const { factor, shift } = conversion(q.unit, target);
  return {
    type: "quantity",
    n: affineNum(q.n, factor, shift),
    unit: target,
    spread: scaleSpread(q.spread, factor.v),
    notes: q.notes,
  };
}

/** The writing is worked out only when a message needs it. */
function sideOfLazily(q: Quantity): Side {
  return {
    get text() {
      return sideOf(q).text;
    },
    unit: q.unit,
  };
}

/**
 * q ± by: one more measured input, under an identity of its own. `by` is a standard uncertainty of the same
 * kind (a difference for temperatures), or a percentage: relative for amounts, absolute for plain numbers
 * and water contents. Trouble for a percentage on strengths, solids and temperatures, for a bare number
 * beside a unit, and for a negative uncertainty.
 */
export function spreadBy(q: Quantity, by: Quantity, identity: string): Quantity {
  if (by.n.v < 0) {
    throw new Trouble({
      code: "spread-negative",
      says: `An uncertainty cannot be negative; ${sideOf(by).text} is.`,
      help: "Write it without the minus.",
    });
  }
  const absolute = absoluteSpread(q, by);
  let notes = notesFor(q, by);
  if (by.unit === plainUnit && isRatioSign(q.unit) && !isOne(q.unit.scale)) {
    const counted = format(quantity(scaleNum(by.n, ratioOver(plainUnit.scale, q.unit.scale)), q.unit));
    notes = mergeNotes(notes, [
      {
        text: `± ${format(by)} counts as ± ${counted}; write the uncertainty with its unit, as in \`± 1 ${q.unit.text}\`.`,
      },
    ]);
  }
  const input: Spread = new Map([[identity, absolute]]);
  const spread = combine([
    { by: 1, spread: q.spread },
    { by: 1, spread: input },
  ]);
  return { type: "quantity", n: q.n, unit: q.unit, spread, notes };
}

/** The uncertainty in the unit of q. */
function absoluteSpread(q: Quantity, by: Quantity): number {
  const kind = q.unit.kind;
  if (takesPlain(kind) && (by.unit.kind === kind || by.unit.kind === kinds.plain)) {
    return applyRatio(by.n.v, ratioOver(by.unit.scale, q.unit.scale));
  }
  if (kind === kinds.temperature) {
    const wide = asDifference(by.unit);
    if (wide.kind === kinds.difference) return applyRatio(by.n.v, ratioOver(wide.scale, q.unit.scale));
    throw wrongSpread(q, by, `${sideOf(q).text} ± 0.5 K`, "The uncertainty of a temperature is a difference");
  }
  if (by.unit.kind === kind) return applyRatio(by.n.v, ratioOver(by.unit.scale, q.unit.scale));
  const number = sideOf(by).text.split(" ")[0]!;
  if (isShare(kind)) {
    const said = isRatioSign(by.unit) || by.unit === plainUnit;
    throw wrongSpread(
      q,
      by,
      said ? `${sideOf(q).text} ± ${number} ${q.unit.text}` : `${sideOf(q).text} ± 1 ${q.unit.text}`,
      "A percentage of it could mean two things",
    );
  }
  if (isRatioSign(by.unit)) return Math.abs(q.n.v) * applyRatio(by.n.v, by.unit.scale);
  if (by.unit === plainUnit) {
    throw wrongSpread(
      q,
      by,
      `${sideOf(q).text} ± ${number} ${q.unit.text}`,
      "The uncertainty needs its unit",
    );
  }
  throw kindsDiffer(sideOf(q), sideOf(by), "do not belong together as value and uncertainty");
}

function wrongSpread(q: Quantity, by: Quantity, better: string, why: string): Trouble {
  return new Trouble({
    code: "spread-unit",
    says: `${sideOf(by).text} (${kindName(by.unit)}) cannot be the uncertainty of ${sideOf(q).text} (${kindName(q.unit)}). ${why}.`,
    help: `Say \`${better}\`.`,
  });
}

/** Whether the number is an exact decimal. */
export function isExactly(q: Quantity, decimal: string): boolean {
  return q.n.dp >= 0 && toBig(q.n).eq(decimal);
}
