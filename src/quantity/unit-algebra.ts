import { cannotShow, describe, isShare, kindsDiffer, type Side } from "./advice";
import { type Dimension, dimensionPower, type Kind, kinds, none, takesPlain } from "./dimension";
import { isOne, one, type Ratio, ratio, ratioMinus, ratioOver, ratioPower, ratioTimes } from "./ratio";
import { Trouble } from "./trouble";
import {
  asDifference,
  type Factor,
  kelvinPoint,
  named,
  parseUnit,
  plainUnit,
  type Unit,
  unitOfFactors,
  withKind,
} from "./unit";

/** What comes of two units: number of the result = product (or quotient) of the numbers * factor. */
export interface UnitResult {
  readonly unit: Unit;
  readonly factor: Ratio;
}
/** Why there is no result. The values are put into the sentence by who has them. */
export interface Refusal {
  readonly code: string;
  readonly help: string;
}
type Planned = UnitResult | Refusal;

export function isRefusal(p: Planned): p is Refusal {
  return "code" in p;
}

// ---- pairs of units, remembered: a column of 100,000 rows asks once

type Pairs<T> = Map<Unit, Map<Unit, T>>;
function remember<T>(pairs: Pairs<T>, a: Unit, b: Unit, work: (a: Unit, b: Unit) => T): T {
  let row = pairs.get(a);
  if (row === undefined) {
    row = new Map();
    pairs.set(a, row);
  }
  let found = row.get(b);
  if (found === undefined) {
    found = work(a, b);
    row.set(b, found);
  }
  return found;
}

const products: Pairs<Planned> = new Map();
const quotients: Pairs<Planned> = new Map();

/** The unit of a product, or why there is none. Remembered for each pair. */
export function planProduct(a: Unit, b: Unit): Planned {
  return remember(products, a, b, workProduct);
}
/** The unit of a quotient, or why there is none. Remembered for each pair. */
export function planQuotient(a: Unit, b: Unit): Planned {
  return remember(quotients, a, b, workQuotient);
}

/** Trouble that names both sides. `verb`: "multiply" or "divide". */
export function refused(a: Side, b: Side, verb: string, why: Refusal): Trouble {
  const says =
    verb === "multiply"
      ? `${describe(a)} and ${describe(b)} do not multiply.`
      : `${describe(a)} cannot be divided by ${describe(b)}.`;
  return new Trouble({ code: why.code, says, help: why.help });
}

const side = (unit: Unit): Side => ({ text: "", unit });

/**
 * The unit of a * b. Units of one dimension cancel into the factor, the first spelling stays; `%` beside
 * another unit drops out. Trouble for crossed pairs (mass * %vol) and temperatures.
 */
export function productUnit(a: Unit, b: Unit): UnitResult {
  const planned = planProduct(a, b);
  if (isRefusal(planned)) throw refused(side(a), side(b), "multiply", planned);
  return planned;
}

/** The unit of a / b; like by like is a plain number. Trouble as for products. */
export function quotientUnit(a: Unit, b: Unit): UnitResult {
  const planned = planQuotient(a, b);
  if (isRefusal(planned)) throw refused(side(a), side(b), "divide", planned);
  return planned;
}

const TEMPERATURE: Refusal = {
  code: "temperature-product",
  help: "A temperature is a point on a scale and has no multiples. Subtract another one first: `(t - 0 °C)` is a difference in K.",
};

const result = (unit: Unit, factor: Ratio): UnitResult => ({ unit, factor });

function workProduct(a: Unit, b: Unit): Planned {
  if (a.kind === kinds.temperature || b.kind === kinds.temperature) return TEMPERATURE;
  if (b === plainUnit) return result(a, one);
  if (a === plainUnit) return result(b, one);
  const left = a.kind.dimension === none;
  const right = b.kind.dimension === none;
  if (!left && !right) return combine(a, b, 1);
  if (left && right) {
    if (b.kind === kinds.plain) return result(a, b.scale);
    if (a.kind === kinds.plain) return result(b, a.scale);
    if (takesPlain(a.kind) && takesPlain(b.kind)) return result(withKind(a, kinds.plain), b.scale);
    return {
      code: "kinds-crossed",
      help: "Neither is a share of the other; multiply one of them by a volume, a mass or a plain number.",
    };
  }
  return left ? shareOf(b, a, 1) : shareOf(a, b, 1);
}

function workQuotient(a: Unit, b: Unit): Planned {
  if (a.kind === kinds.temperature || b.kind === kinds.temperature) return TEMPERATURE;
  if (b === plainUnit) return result(a, one);
  const left = a.kind.dimension === none;
  const right = b.kind.dimension === none;
  if (left && right) {
    if (
      a.kind === b.kind ||
      (takesPlain(a.kind) && takesPlain(b.kind) && a.kind !== kinds.plain && b.kind !== kinds.plain)
    )
      return likeByLike(a, b);
    if (b.kind === kinds.plain) return result(a, ratioOver(one, b.scale));
    if (takesPlain(a.kind) && takesPlain(b.kind)) return likeByLike(a, b);
    return {
      code: "kinds-crossed",
      help: "Divide like by like, a volume by a strength by volume, or a mass by a share of mass.",
    };
  }
  if (!left && right) return shareOf(a, b, -1);
  if (left && a.kind !== kinds.plain) {
    return {
      code: "kinds-crossed",
      help: `Divide by a plain number instead; ${a.text === "" ? "this" : a.text} has no rate per unit.`,
    };
  }
  return combine(a, b, -1);
}

function likeByLike(a: Unit, b: Unit): UnitResult {
  return result(plainUnit, ratioOver(a.scale, b.scale));
}

/** Exponent of `base`, when every other base of the dimension is among those allowed. */
function only(d: Dimension, base: string, allowed: (other: string) => boolean): number {
  for (const other of d.powers.keys()) if (other !== base && !allowed(other)) return 0;
  return d.powers.get(base) ?? 0;
}
const isBaseOfMatter = (base: string): boolean => base === "kg" || base === "m" || base === "K";
/** Volumes, and volumes or prices per time or per volume. */
const isVolumeLike = (kind: Kind): boolean =>
  Math.abs(only(kind.dimension, "m", (o) => !isBaseOfMatter(o))) === 3;
/** Masses, masses per time or per volume, prices per mass. */
function isMassLike(kind: Kind): boolean {
  const d = kind.dimension;
  const volume = d.powers.get("m") ?? 0;
  return (
    Math.abs(only(d, "kg", (o) => o === "m" || !isBaseOfMatter(o))) === 1 &&
    (volume === 0 || (volume === -3 && d.powers.get("kg") === 1))
  );
}

/** `whole * share` (power 1) or `whole / share` (power -1), where only `whole` has a dimension. */
function shareOf(whole: Unit, share: Unit, power: 1 | -1): Planned {
  const factor = ratioPower(share.scale, power);
  const kind = share.kind;
  if (kind === kinds.plain) return result(whole, factor);
  if (kind === kinds.strengthVolume && isVolumeLike(whole.kind)) return result(whole, factor);
  if (
    (kind === kinds.strengthMass || kind === kinds.solids || kind === kinds.moisture) &&
    isMassLike(whole.kind)
  ) {
    return result(whole, factor);
  }
  return { code: "kinds-crossed", help: crossedHelp(whole.kind, kind) };
}

function crossedHelp(whole: Kind, share: Kind): string {
  if (share === kinds.strengthVolume) {
    if (isMassLike(whole)) {
      return "`pure_mass` gives the ethanol in a mass of spirit, with density; or turn the strength with `by_mass` first.";
    }
    return "A strength by volume is a share of a volume.";
  }
  if (share === kinds.strengthMass) {
    if (isVolumeLike(whole)) {
      return "`pure_volume` gives the ethanol in a volume of spirit, with density; or turn the strength with `by_volume` first.";
    }
    return "A strength by mass is a share of a mass.";
  }
  if (share === kinds.proof) return "Turn proof into % vol first: `by_volume(…)`.";
  if (share === kinds.solids) {
    return isVolumeLike(whole)
      ? "°Bx is a share of a mass; multiply the volume by `syrup_density(…)` first."
      : "°Bx is a share of a mass.";
  }
  if (share === kinds.moisture) {
    return isVolumeLike(whole)
      ? "A water content is a share of a mass; multiply the volume by a density first, such as `honey_density(…)`."
      : "A water content is a share of a mass.";
  }
  if (share === kinds.activity)
    return "A water activity is no share of an amount; `moisture_from_activity(…)` gives the water content.";
  return "A refractive index is no share of an amount; `solids_from_index(…)` reads °Bx from it.";
}

// ---- compounds

/** The primitive direction of a factor's dimension (`m` for litres) and how often it holds it (3). */
interface Direction {
  readonly key: string;
  readonly times: number;
}
const directions = new Map<string, Direction>();
function directionOf(name: string): Direction {
  let found = directions.get(name);
  if (found === undefined) {
    const d = named(name).dimension;
    let times = 0;
    for (const power of d.powers.values()) times = gcd(times, Math.abs(power));
    // The sign of the first base decides which way the direction points.
    if ((d.powers.values().next().value ?? 1) < 0) times = -times;
    found = { key: times === 0 ? "" : dimensionPower(d, 1 / times)!.key, times };
    directions.set(name, found);
  }
  return found;
}
function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}

/** a * b^power for units of which at least one has a dimension. */
function combine(a: Unit, b: Unit, power: 1 | -1): UnitResult {
  const total = ratioTimes(a.scale, ratioPower(b.scale, power));
  const unit = merge([...a.factors, ...b.factors.map((f) => ({ name: f.name, power: f.power * power }))]);
  return result(unit, ratioOver(total, unit.scale));
}

/**
 * What is left of factors: one dimension, one spelling, the first that can carry it (L / cm² is a length,
 * which litres cannot say and centimetres can). Ratios drop out beside anything else.
 */
function merge(factors: readonly Factor[]): Unit {
  const groups = new Map<string, { total: number; names: string[] }>();
  for (const { name, power } of factors) {
    const { key, times } = directionOf(name);
    if (key === "") continue;
    const group = groups.get(key) ?? { total: 0, names: [] };
    group.total += power * times;
    if (!group.names.includes(name)) group.names.push(name);
    groups.set(key, group);
  }
  const left: Factor[] = [];
  for (const { total, names } of groups.values()) {
    if (total === 0) continue;
    const name = names.find((n) => total % directionOf(n).times === 0) ?? names[0]!;
    left.push({ name, power: total / directionOf(name).times });
  }
  if (left.length === 0) return ratioLeft(factors);
  if (left.length === 1 && left[0]!.power === 1 && named(left[0]!.name).offset !== undefined) {
    // A lone degree that came out of W/°C is a difference, never a point on the scale.
    return kelvin;
  }
  const unit = unitOfFactors(left);
  return unit.kind === kinds.plain ? plainUnit : unit;
}
const kelvin = parseUnit("K");

/** Where every measure has cancelled: a ratio sign that was written stays (0.1 %/d * 10 d is 1 %). */
function ratioLeft(factors: readonly Factor[]): Unit {
  const sign = factors.find((f) => directionOf(f.name).key === "" && f.power === 1);
  return sign === undefined ? plainUnit : unitOfFactors([{ name: sign.name, power: 1 }]);
}

/** The unit of a^n. Trouble for temperatures and strengths, and when the exponents would not stay whole. */
export function powerUnit(a: Unit, n: number): UnitResult {
  if (n === 1) return result(a, one);
  if (a === plainUnit) return result(plainUnit, one);
  if (a.kind === kinds.temperature)
    throw new Trouble({
      code: TEMPERATURE.code,
      says: "A temperature has no powers.",
      help: TEMPERATURE.help,
    });
  if (isShare(a.kind)) {
    throw new Trouble({
      code: "kinds-crossed",
      says: `${describe(side(a))} has no powers.`,
      help: `Divide by \`1 ${a.text}\` first if the plain number is wanted.`,
    });
  }
  if (n === 0) return result(plainUnit, one);
  if (a.kind.dimension === none) {
    if (!Number.isInteger(n)) return result(plainUnit, one);
    return n > 0
      ? result(withKind(a, kinds.plain), ratioPower(a.scale, n - 1))
      : result(plainUnit, ratioPower(a.scale, n));
  }
  const factors = a.factors.map((f) => ({ name: f.name, power: f.power * n }));
  if (factors.every((f) => Number.isInteger(f.power) && Math.abs(f.power) <= MOST_POWER)) {
    const unit = merge(factors);
    return result(unit, ratioOver(ratioPower(a.scale, n), unit.scale));
  }
  throw new Trouble({
    code: "unit-power",
    says: `${describe(side(a))} to the power ${n} has no unit.`,
    help: "Use a small whole power, or divide by `1 " + a.text + "` first to have a plain number.",
  });
}
const MOST_POWER = 30;

// ---- showing in another unit

/** Whether `in` may take one unit to the other: the trouble if not. */
export function convertible(from: Unit, to: Unit): Trouble | undefined {
  return convertibleSide(side(from), to);
}

/** The same with the value in the sentence. */
export function convertibleSide(from: Side, to: Unit): Trouble | undefined {
  const { kind } = from.unit;
  if (kind === to.kind) return undefined;
  if (kind === kinds.temperature && to === kelvin) return undefined;
  if (to.kind === kinds.plain && takesPlain(kind)) return undefined;
  return cannotShow(from, to);
}

/** The unit that `in` really gives: `in K` keeps a temperature a temperature, `in %` a water content one. */
export function shownIn(from: Unit, to: Unit): Unit {
  if (from.kind === to.kind) return to;
  if (from.kind === kinds.temperature && to === kelvin) return kelvinPoint;
  return takesPlain(from.kind) && to.kind === kinds.plain ? withKind(to, from.kind) : to;
}

export interface Conversion {
  readonly factor: Ratio;
  /** Temperatures only. */
  readonly shift?: Ratio;
}
const conversions: Pairs<Conversion> = new Map();

/** number in `to` = number in `from` * factor (+ shift). The kinds must agree (`convertible`). Remembered. */
export function conversion(from: Unit, to: Unit): Conversion {
  return remember(conversions, from, to, workConversion);
}

const SAME: Conversion = { factor: one };

function workConversion(from: Unit, to: Unit): Conversion {
  if (from === to) return SAME;
  const target = from.offset !== undefined && to === kelvin ? kelvinPoint : to;
  const factor = ratioOver(from.scale, target.scale);
  if (from.offset === undefined || target.offset === undefined) return { factor };
  const shift = ratioOver(ratioMinus(from.offset, target.offset), target.scale);
  return shift.num === 0n ? { factor } : { factor, shift };
}

// ---- adding

/** number of the sum = a * left ± (b * right), + shift (the same for both signs). */
export interface AdditionPlan {
  readonly unit: Unit;
  readonly left: Ratio;
  readonly right: Ratio;
  readonly shift?: Ratio;
  /** A bare number beside a ratio sign: `100 + 10 %`. */
  readonly hundredths: boolean;
}
const sums: Pairs<AdditionPlan | Refusal> = new Map();
const differences: Pairs<AdditionPlan | Refusal> = new Map();

const MIXED: Refusal = { code: "kinds-differ", help: "" };
const TWO_TEMPERATURES: Refusal = { code: "temperatures-add", help: "" };

/** How two units add or subtract, or why they do not. Remembered for each pair. */
export function planAddition(a: Unit, b: Unit, sign: "+" | "-"): AdditionPlan | Refusal {
  return sign === "+" ? remember(sums, a, b, workSum) : remember(differences, a, b, workDifference);
}

function workSum(a: Unit, b: Unit): AdditionPlan | Refusal {
  const left = a.kind === kinds.temperature;
  const right = b.kind === kinds.temperature;
  if (left && right) return TWO_TEMPERATURES;
  if (left && b.kind === kinds.difference) return pointAndDifference(a, b);
  if (right && a.kind === kinds.difference) {
    const scale = asDifference(b).scale;
    return { unit: b, left: ratioOver(a.scale, scale), right: one, hundredths: false };
  }
  return alike(a, b);
}

function workDifference(a: Unit, b: Unit): AdditionPlan | Refusal {
  if (a.kind !== kinds.temperature) return alike(a, b);
  if (b.kind === kinds.difference) return pointAndDifference(a, b);
  if (b.kind !== kinds.temperature) return MIXED;
  const shift = ratioMinus(a.offset!, b.offset!);
  const plan = { unit: kelvin, left: a.scale, right: b.scale, hundredths: false };
  return shift.num === 0n ? plan : { ...plan, shift };
}

function pointAndDifference(a: Unit, b: Unit): AdditionPlan {
  return { unit: a, left: one, right: ratioOver(b.scale, asDifference(a).scale), hundredths: false };
}

function alike(a: Unit, b: Unit): AdditionPlan | Refusal {
  const kind = jointKind(a.kind, b.kind);
  if (kind === undefined) return MIXED;
  const bare = (a.text === "" && b.text !== "") || (b.text === "" && a.text !== "");
  return {
    unit: kind === a.kind ? a : withKind(a, kind),
    left: one,
    right: a.scale === b.scale ? one : ratioOver(b.scale, a.scale),
    hundredths: kind.dimension === none && bare && !isOne(ratioOver(a.scale, b.scale)),
  };
}

/** The kind of two values that stand side by side in `+`, `-`, `<` or a list, or undefined when they may not. */
export function jointKind(a: Kind, b: Kind): Kind | undefined {
  if (a === b) return a;
  if (a === kinds.plain && takesPlain(b)) return b;
  if (b === kinds.plain && takesPlain(a)) return a;
  return undefined;
}

/**
 * Trouble when values in the two units may not stand side by side. `verb`: `add`, `subtract`, `compare`,
 * `list`, `choose` (see `kindsDiffer`). Temperatures are alike here; that two of them do not add is a matter
 * of `add`, which `compatible` knows too.
 */
export function compatible(a: Unit, b: Unit, verb: string): void {
  if (verb === "add" || verb === "subtract") {
    const plan = planAddition(a, b, verb === "add" ? "+" : "-");
    if (isAddition(plan)) return;
    throw additionTrouble(side(a), side(b), verb, plan);
  }
  if (jointKind(a.kind, b.kind) === undefined) throw kindsDiffer(side(a), side(b), verb);
}

export function isAddition(p: AdditionPlan | Refusal): p is AdditionPlan {
  return "unit" in p;
}

export function additionTrouble(a: Side, b: Side, verb: "add" | "subtract", why: Refusal): Trouble {
  if (why !== TWO_TEMPERATURES) return kindsDiffer(a, b, verb);
  const number = b.text.split(" ")[0];
  const width = b.unit.text === "°F" || b.unit === kelvinPoint || !number ? "5 K" : `${number} K`;
  return new Trouble({
    code: why.code,
    says: `${describe(a)} and ${describe(b)} do not add: two temperatures are two points on a scale.`,
    help: `Add a difference, in K: \`${a.text === "" ? "t" : a.text} + ${width}\`.`,
  });
}

/** A cube root of a volume is a length: the unit of a^n when n is a fraction, or undefined. */
export function rootUnit(a: Unit, n: number): UnitResult | undefined {
  const d = dimensionPower(a.kind.dimension, n);
  if (d === undefined || d === none) return undefined;
  const unit = unitOfFactors([...d.powers].map(([name, power]) => ({ name, power })));
  return { unit, factor: ratio(1) };
}
