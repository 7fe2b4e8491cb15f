import { describe, isShare, type Side } from "./advice";
import { type Dimension, dimensionPower, type Kind, kinds, none, takesPlain } from "./dimension";
import { Pairs } from "./pairs";
import { one, type Ratio, ratioOver, ratioPower, ratioTimes } from "./ratio";
import { Trouble } from "./trouble";
import { kelvin, named, plainUnit, type Unit, unitOfFactors, withKind } from "./unit";
import { type Factor, MOST_POWER } from "./unit-text";

/** What comes of units: number of the result = product (or quotient, or power) of the numbers * factor. */
export interface UnitResult {
  readonly unit: Unit;
  readonly factor: Ratio;
}
/** Why there is no result. The values are put into the sentence by who has them. */
export interface Refusal {
  readonly code: string;
  readonly help: string;
}

export function isRefusal(p: UnitResult | Refusal): p is Refusal {
  return "code" in p;
}

/** The unit of a product, or why there is none. */
export function planProduct(a: Unit, b: Unit): UnitResult | Refusal {
  return products.get(a, b);
}
/** The unit of a quotient, or why there is none. */
export function planQuotient(a: Unit, b: Unit): UnitResult | Refusal {
  return quotients.get(a, b);
}

/** Trouble that names both sides. */
export function refused(a: Side, b: Side, verb: "multiply" | "divide", why: Refusal): Trouble {
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
  help: "A temperature is a point on a scale and has no multiples. Take another one from it first: `(t - 0 °C)` is a difference in K.",
};

const products = new Pairs((a: Unit, b: Unit): UnitResult | Refusal => {
  if (a.kind === kinds.temperature || b.kind === kinds.temperature) return TEMPERATURE;
  if (b === plainUnit) return { unit: a, factor: one };
  if (a === plainUnit) return { unit: b, factor: one };
  const left = a.kind.dimension === none;
  const right = b.kind.dimension === none;
  if (!left && !right) return combine(a, b, 1);
  if (left !== right) return left ? shareOf(b, a, 1, true) : shareOf(a, b, 1);
  if (b.kind === kinds.plain) return { unit: a, factor: b.scale };
  if (a.kind === kinds.plain) return { unit: b, factor: a.scale };
  if (takesPlain(a.kind) && takesPlain(b.kind)) return { unit: withKind(a, kinds.plain), factor: b.scale };
  return {
    code: "kinds-crossed",
    help: "Neither is a share of the other; multiply one of them by a volume, a mass or a plain number.",
  };
});

const quotients = new Pairs((a: Unit, b: Unit): UnitResult | Refusal => {
  if (a.kind === kinds.temperature || b.kind === kinds.temperature) return TEMPERATURE;
  if (b === plainUnit) return { unit: a, factor: one };
  const left = a.kind.dimension === none;
  const right = b.kind.dimension === none;
  if (left && right) {
    if (a.kind === b.kind) return likeByLike(a, b);
    if (b.kind === kinds.plain) return { unit: a, factor: ratioOver(one, b.scale) };
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
      help: `Divide by a plain number instead: what is measured in ${a.text === "" ? "shares" : a.text} has no rate.`,
    };
  }
  return combine(a, b, -1);
});

function likeByLike(a: Unit, b: Unit): UnitResult {
  return { unit: plainUnit, factor: ratioOver(a.scale, b.scale) };
}

// ---- shares of an amount

/** The exponent of one base, or 0 when another stands beside it that is not allowed. */
function exponentOf(d: Dimension, base: string, allowed: ReadonlySet<string>): number {
  for (const other of d.powers.keys()) {
    if (other !== base && MATTER.has(other) && !allowed.has(other)) return 0;
  }
  return d.powers.get(base) ?? 0;
}
/** Beside time and money, these make another thing of a volume or mass. */
const MATTER: ReadonlySet<string> = new Set(["kg", "m", "K"]);
const NOTHING: ReadonlySet<string> = new Set();
const LENGTH: ReadonlySet<string> = new Set(["m"]);

/** Volumes, volumes per time, prices per volume. */
function isVolumeLike(kind: Kind): boolean {
  return Math.abs(exponentOf(kind.dimension, "m", NOTHING)) === 3;
}
/** Masses, masses per time or volume, prices per mass. */
function isMassLike(kind: Kind): boolean {
  const mass = exponentOf(kind.dimension, "kg", LENGTH);
  const length = kind.dimension.powers.get("m") ?? 0;
  return Math.abs(mass) === 1 && (length === 0 || (length === -3 && mass === 1));
}

/**
 * `whole * share` (power 1) or `whole / share` (power -1), where only `whole` has a dimension. `shareFirst`
 * says that the share was written first, which decides the spelling of what is left.
 */
function shareOf(whole: Unit, share: Unit, power: 1 | -1, shareFirst = false): UnitResult | Refusal {
  const { kind } = share;
  if (kind === kinds.plain) {
    // g/kg is spelled out of units that may cancel: 5 g/kg * 2 kg is 10 g.
    if (share.factors.length > 1) return shareFirst ? combine(share, whole, 1) : combine(whole, share, power);
    return { unit: whole, factor: ratioPower(share.scale, power) };
  }
  const fits =
    kind === kinds.strengthVolume
      ? isVolumeLike(whole.kind)
      : (kind === kinds.strengthMass || kind === kinds.solids || kind === kinds.moisture) &&
        isMassLike(whole.kind);
  if (fits) return { unit: whole, factor: ratioPower(share.scale, power) };
  return { code: "kinds-crossed", help: crossedHelp(whole.kind, kind) };
}

function crossedHelp(whole: Kind, share: Kind): string {
  const volume = isVolumeLike(whole);
  switch (share) {
    case kinds.strengthVolume:
      return isMassLike(whole)
        ? "`pure_mass` gives the ethanol in a mass of spirit, with density; or turn the strength with `by_mass` first."
        : "A strength by volume is a share of a volume.";
    case kinds.strengthMass:
      return volume
        ? "`pure_volume` gives the ethanol in a volume of spirit, with density; or turn the strength with `by_volume` first."
        : "A strength by mass is a share of a mass.";
    case kinds.proof:
      return "Turn proof into % vol first: `by_volume(…)`.";
    case kinds.solids:
      return volume
        ? "°Bx is a share of a mass; multiply the volume by `syrup_density(…)` first."
        : "°Bx is a share of a mass.";
    case kinds.moisture:
      return volume
        ? "A water content is a share of a mass; multiply the volume by a density first, such as `honey_density(…)`."
        : "A water content is a share of a mass.";
    case kinds.activity:
      return "A water activity is no share of an amount; `moisture_from_activity(…)` gives the water content.";
    default:
      return "A refractive index is no share of an amount; `solids_from_index(…)` reads °Bx from it.";
  }
}

// ---- compounds

/** The primitive direction of a factor's dimension (`m` for litres) and how often the factor holds it (3). */
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
    found = { key: times === 0 ? "" : dimensionPower(d, 1 / times)!.key, times };
    directions.set(name, found);
  }
  return found;
}
function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}

const TOO_HIGH: Refusal = {
  code: "unit-power",
  help: `The exponents of the result would pass ${MOST_POWER}; work out a part of it as a plain number first.`,
};

/** a * b^power for units of which at least one has a dimension. */
function combine(a: Unit, b: Unit, power: 1 | -1): UnitResult | Refusal {
  const total = ratioTimes(a.scale, ratioPower(b.scale, power));
  const unit = merge([...a.factors, ...b.factors.map((f) => ({ name: f.name, power: f.power * power }))]);
  return isPlainPower(unit) ? { unit, factor: ratioOver(total, unit.scale) } : TOO_HIGH;
}

/** Whether the exponents are such that the unit's text can be read again. */
function isPlainPower(unit: Unit): boolean {
  return unit.factors.every((f) => Math.abs(f.power) <= MOST_POWER);
}

/**
 * What is left of factors: one dimension, one spelling, the first that can carry it (L / cm² is a length,
 * which litres cannot say and centimetres can). Ratio signs drop out beside anything else.
 */
function merge(factors: readonly Factor[]): Unit {
  const groups = new Map<string, { total: number; readonly names: string[] }>();
  for (const { name, power } of factors) {
    const { key, times } = directionOf(name);
    if (key === "") continue;
    const group = groups.get(key) ?? { total: 0, names: [] };
    group.total += power * times;
    group.names.push(name);
    groups.set(key, group);
  }
  const left: Factor[] = [];
  for (const { total, names } of groups.values()) {
    if (total === 0) continue;
    // One of them always can: volumes alone leave whole volumes, and a length carries any power.
    const name = names.find((n) => total % directionOf(n).times === 0)!;
    left.push({ name, power: total / directionOf(name).times });
  }
  const [first] = left;
  if (first === undefined) return ratioLeft(factors);
  // A lone degree that came out of W/°C is a difference, never a point on the scale.
  if (left.length === 1 && first.power === 1 && named(first.name).offset !== undefined) return kelvin;
  const unit = unitOfFactors(left);
  return unit.kind === kinds.plain ? plainUnit : unit;
}

/** Where every measure has cancelled: a ratio sign that was written stays (0.1 %/d * 10 d is 1 %). */
function ratioLeft(factors: readonly Factor[]): Unit {
  const sign = factors.find((f) => directionOf(f.name).key === "" && f.power === 1);
  return sign === undefined ? plainUnit : unitOfFactors([{ name: sign.name, power: 1 }]);
}

// ---- powers

/** The unit of a power. With `fromSI` the base is taken in SI units first (a ratio as the plain number that it is). */
export interface PowerPlan extends UnitResult {
  readonly fromSI: boolean;
}

/**
 * The unit of a^n. A ratio sign to a whole power stays (20 % ^ 2 is 4 %); a fraction is allowed where it
 * leaves whole units, as in a root of an area. Trouble for temperatures, strengths and all else.
 */
export function planPower(a: Unit, n: number, shown: Side = side(a)): PowerPlan {
  if (n === 1) return { unit: a, factor: one, fromSI: false };
  if (a.kind === kinds.temperature) {
    throw new Trouble({
      code: TEMPERATURE.code,
      says: `${describe(shown)} has no powers.`,
      help: TEMPERATURE.help,
    });
  }
  if (isShare(a.kind)) {
    throw new Trouble({
      code: "kinds-crossed",
      says: `${describe(shown)} has no powers.`,
      help: `Divide by \`1 ${a.text}\` first if the plain number is wanted.`,
    });
  }
  if (n === 0) return { unit: plainUnit, factor: one, fromSI: true };
  if (a.kind.dimension === none) {
    if (!Number.isInteger(n) || n < 0 || a.factors.length !== 1)
      return { unit: plainUnit, factor: one, fromSI: true };
    return { unit: withKind(a, kinds.plain), factor: ratioPower(a.scale, n - 1), fromSI: false };
  }
  const factors = a.factors.map((f) => ({ name: f.name, power: f.power * n }));
  if (Math.abs(n) <= MOST_POWER && factors.every((f) => Number.isInteger(f.power))) {
    const unit = merge(factors);
    let scale = one;
    for (const { name, power } of factors) scale = ratioTimes(scale, ratioPower(named(name).scale, power));
    if (isPlainPower(unit)) return { unit, factor: ratioOver(scale, unit.scale), fromSI: false };
  }
  const d = dimensionPower(a.kind.dimension, n);
  if (d !== undefined && !Number.isInteger(n)) {
    const unit = unitOfFactors([...d.powers].map(([name, power]) => ({ name, power })));
    if (isPlainPower(unit)) return { unit, factor: one, fromSI: true };
  }
  throw new Trouble({
    code: "unit-power",
    says: `${describe(shown)} to the power ${n} has no unit.`,
    help: `Use a small whole power, or divide by \`1 ${a.text}\` first to have a plain number.`,
  });
}

/**
 * The unit of a square root: the root of a number in `a` is sqrt(number * factor) in `unit` (of a percentage, of
 * the ratio that it is). Trouble when half of the unit's powers is no unit.
 */
export function rootUnit(a: Unit): UnitResult {
  const { unit, factor, fromSI } = planPower(a, 0.5);
  return { unit, factor: fromSI ? a.scale : ratioPower(factor, 2) };
}
