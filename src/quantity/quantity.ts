import { cannotShow, isRatioSign, isShare, kindName, kindsDiffer, type Side } from "./advice";
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
} from "./number";
import { applyRatio, isOne, ratioOver } from "./ratio";
import { combine, type Spread, scaleSpread } from "./spread";
import { Trouble } from "./trouble";
import { asDifference, plainUnit, type Unit } from "./unit";
import { isRefusal, planPower, planProduct, planQuotient, refused } from "./unit-algebra";
import { type AdditionPlan, additionTrouble, conversion, planAddition, shownIn, shows } from "./unit-sum";

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
  const { scale, offset } = q.unit;
  return offset === undefined ? applyRatio(q.n.v, scale) : affineNum(q.n, scale, offset).v;
}

/** An approximate value from SI units, in the unit given. */
export function fromSI(v: number, unit: Unit): Quantity {
  const { scale, offset } = unit;
  const above = offset === undefined ? v : v - offset.v;
  return quantity(approximate((above * scale.d) / scale.n), unit);
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
    try {
      n = combineNums(a.n, b.n);
    } catch (trouble) {
      throw withOperands(trouble, a, b, sign);
    }
    if (a.spread !== undefined || b.spread !== undefined) {
      spread = combine([
        { by: 1, spread: a.spread },
        { by: sign === "+" ? 1 : -1, spread: b.spread },
      ]);
    }
    return { type: "quantity", n, unit, spread, notes };
  }
  const plan = planAddition(a.unit, b.unit, sign);
  if (typeof plan === "string") {
    throw additionTrouble(sideOf(a), sideOf(b), sign === "+" ? "add" : "subtract", plan);
  }
  unit = plan.unit;
  try {
    n = addPlanned(a.n, b.n, plan, sign);
  } catch (trouble) {
    throw withOperands(trouble, a, b, sign);
  }
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
  if (plan.even) return affineNum(combineNums(a, b), plan.left, plan.shift);
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

/** Overflow, division by zero and the like of the bare numbers, as trouble that names the operands. */
function withOperands(trouble: unknown, a: Quantity, b: Quantity, operator: string): unknown {
  if (!(trouble instanceof Trouble)) return trouble;
  const [left, right] = [sideOf(a).text, sideOf(b).text];
  const byZero = trouble.code === "division-by-zero";
  const says =
    byZero && operator === "/"
      ? `${left} is divided by ${right}.`
      : `${left} ${operator} ${right}: ${trouble.says[0]!.toLowerCase()}${trouble.says.slice(1)}`;
  const help = byZero ? "Nothing can be divided by 0; check that value." : trouble.help;
  return new Trouble({ code: trouble.code, says, ...(help === undefined ? {} : { help }) });
}

/**
 * a * b. Units of one dimension cancel, `%` beside another unit drops out, a volume times % vol is the volume
 * of pure ethanol. Trouble for crossed pairs and temperatures.
 */
export function multiply(a: Quantity, b: Quantity): Quantity {
  const plan = planProduct(a.unit, b.unit);
  if (isRefusal(plan)) throw refused(sideOf(a), sideOf(b), "multiply", plan);
  let n: Num;
  try {
    n = multiplyScaled(a.n, b.n, plan.factor);
  } catch (trouble) {
    throw withOperands(trouble, a, b, "*");
  }
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
  let n: Num;
  try {
    n = divideScaled(a.n, b.n, plan.factor, byLiteralPowerOfTen);
  } catch (trouble) {
    throw withOperands(trouble, a, b, "/");
  }
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

/** -a. Trouble for a temperature, which is a point on a scale (a typed -10 °C is a reading and no such case). */
export function negate(a: Quantity): Quantity {
  if (a.unit.kind === kinds.temperature) {
    throw new Trouble({
      code: "temperature-product",
      says: `${sideOf(a).text} is a temperature, a point on a scale, and has no negative.`,
      help: "Take it from another temperature: the difference is in K.",
    });
  }
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
  const plan = planPower(a.unit, exponent.v, sideOf(a));
  const base = plan.fromSI ? scaleNum(a.n, a.unit.scale) : a.n;
  let n: Num;
  try {
    n = scaleNum(powerNum(base, exponent), plan.factor);
  } catch (trouble) {
    throw withOperands(trouble, a, b, "^");
  }
  let spread: Spread | undefined;
  if (a.spread !== undefined || b.spread !== undefined) {
    const scaleOfBase = plan.fromSI ? a.unit.scale.v : 1;
    const slope =
      exponent.v === 0 ? 0 : exponent.v * raise(base.v, exponent.v - 1) * scaleOfBase * plan.factor.v;
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
  if (!shows(q.unit, unit)) throw cannotShow(sideOf(q), unit);
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
  const isPoint = kind === kinds.temperature;
  // To the right of ± a degree is the width of a degree.
  const unit = isPoint || kind === kinds.difference ? asDifference(by.unit) : by.unit;
  const wanted = isPoint ? kinds.difference : kind;
  if (unit.kind === wanted || (takesPlain(kind) && unit.kind === kinds.plain)) {
    return applyRatio(by.n.v, ratioOver(unit.scale, q.unit.scale));
  }
  if (isRatioSign(unit) && !isPoint && !isShare(kind))
    return Math.abs(q.n.v) * applyRatio(by.n.v, unit.scale);
  throw wrongSpread(q, by);
}

function wrongSpread(q: Quantity, by: Quantity): Trouble {
  const value = sideOf(q);
  const amount = sideOf(by);
  const unit = q.unit.kind === kinds.temperature ? "K" : q.unit.text;
  if (by.unit === plainUnit || isRatioSign(by.unit)) {
    const why =
      by.unit === plainUnit
        ? "has no unit"
        : `is ${kindName(by.unit)}, which could mean two things of ${kindName(q.unit)}`;
    return new Trouble({
      code: "spread-unit",
      says: `${value.text} ± ${amount.text}: the uncertainty ${why}.`,
      help: `Say it in ${unit}: \`${value.text} ± ${amount.text.split(" ")[0]} ${unit}\`.`,
    });
  }
  return kindsDiffer(value, amount, "do not belong together as value and uncertainty");
}
