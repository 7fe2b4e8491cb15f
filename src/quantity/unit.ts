import {
  type Dimension,
  dimensionTimes,
  type Kind,
  kindOfDimension,
  kinds,
  mustShareDimension,
  none,
} from "./dimension";
import { isOne, one, type Ratio, ratio, ratioPower, ratioTimes } from "./ratio";
import { Trouble } from "./trouble";
import { type NamedUnit, namedUnits, spellings } from "./unit-table";
import { type Factor, readUnit } from "./unit-text";

/** A unit. Interned: units of the same spelling and kind are the same object, so identity compares them. */
export interface Unit {
  /** Spelling for printing: `mL`, `GBP/L`, `°C`, `%vol`; empty for a plain number. */
  readonly text: string;
  readonly kind: Kind;
  /** SI value = number * scale (+ offset). Strengths, °Bx and % count hundredths, proof two-hundredths. */
  readonly scale: Ratio;
  /** Temperatures only: K = number * scale + offset. */
  readonly offset?: Ratio;
  /** In written order, those above the line first. */
  readonly factors: readonly Factor[];
}

const interned = new Map<string, Unit>();

/** Interns a unit under its text and kind. */
function intern(text: string, kind: Kind, scale: Ratio, factors: readonly Factor[], offset?: Ratio): Unit {
  const key = `${kind.id}\n${text}`;
  let unit = interned.get(key);
  if (unit === undefined) {
    unit = offset === undefined ? { text, kind, scale, factors } : { text, kind, scale, offset, factors };
    interned.set(key, unit);
  }
  return unit;
}

/** Every unit with a name of its own. */
export function named(name: string): NamedUnit {
  const found = namedUnits.get(name);
  if (found === undefined) throw new RangeError(`no unit is called ${name}`);
  return found;
}

/** A plain number: no unit. */
export const plainUnit: Unit = intern("", kinds.plain, one, []);

/** The spelling of factors that are already in order. */
function spell(factors: readonly Factor[]): string {
  if (factors.length === 1 && factors[0]!.power < 0) return `${factors[0]!.name}^${factors[0]!.power}`;
  let text = "";
  for (const { name, power } of factors) {
    const size = Math.abs(power);
    const exponent = size === 1 ? "" : String(size);
    if (text === "") text = power > 0 ? name + exponent : `${name}^${power}`;
    else text += (power > 0 ? "*" : "/") + name + exponent;
  }
  return text;
}

/** The unit made of factors (each name once, no power 0). A single name gives the unit itself. */
export function unitOfFactors(factors: readonly Factor[]): Unit {
  if (factors.length === 0) return plainUnit;
  const ordered = [...factors.filter((f) => f.power > 0), ...factors.filter((f) => f.power < 0)];
  const [first] = ordered;
  if (ordered.length === 1 && first!.power === 1) return unitOfName(first!.name);
  let d: Dimension = none;
  let scale = one;
  for (const { name, power } of ordered) {
    const part = named(name);
    d = dimensionTimes(d, part.dimension, power);
    scale = ratioTimes(scale, ratioPower(part.scale, power));
  }
  return intern(spell(ordered), kindOfDimension(d), scale, ordered);
}

function unitOfName(name: string): Unit {
  const part = named(name);
  const kind = part.joins && part.offset === undefined ? kindOfDimension(part.dimension) : part.kind;
  return intern(name, kind, part.scale, [{ name, power: 1 }], part.offset);
}

/** A typed K: the unit of temperature differences. */
export const kelvin: Unit = unitOfName("K");

/** Shown by `in K`: kelvin as a point on the scale. A typed K is a difference. */
export const kelvinPoint: Unit = intern("K", kinds.temperature, one, [{ name: "K", power: 1 }], ratio(0));

const parsed = new Map<string, Unit | Trouble>();
/** A book that names ever new units must not fill the memory of the page. */
const MOST_PARSED = 20_000;

function lookUp(text: string): Unit | Trouble {
  let found = parsed.get(text);
  if (found === undefined) {
    const factors = readUnit(text);
    found = factors instanceof Trouble ? factors : unitOfFactors(factors);
    if (parsed.size >= MOST_PARSED) parsed.clear();
    parsed.set(text, found);
  }
  return found;
}

/**
 * The unit that a text names: words joined by `/`, `*` or `·`, each with an optional whole exponent.
 * Trouble with the code `unit-unknown` (the nearest unit is named), `unit-ambiguous` (`gal`), `unit-case`
 * (`Kg`), `unit-symbol` (`€`) or `unit-compound` (`%vol` inside a compound).
 */
export function parseUnit(text: string): Unit {
  const found = lookUp(text);
  if (found instanceof Trouble) throw found;
  return found;
}

/** One word with perhaps an exponent: `mL`, `m3`. */
const SINGLE = /^([\p{L}_%‰°]+(?:_\p{L}+)*?)[0-9²³]*$/u;

/** Whether a text names a unit. */
export function unitExists(text: string): boolean {
  const word = SINGLE.exec(text)?.[1];
  // Asked for every name of a book: most are no unit, and the search for a near one would be in vain.
  if (word !== undefined && !namedUnits.has(word) && !spellings.has(word)) return false;
  return !(lookUp(text) instanceof Trouble);
}

/** The difference that goes with a temperature unit: K for °C, 5/9 K for °F. Any other unit is its own. */
export function asDifference(unit: Unit): Unit {
  if (unit.offset === undefined) return unit;
  return isOne(unit.scale) ? kelvin : intern(unit.text, kinds.difference, unit.scale, unit.factors);
}

/** The same unit for another kind without dimension: `%` as a water content. Trouble when the dimensions differ. */
export function withKind(unit: Unit, kind: Kind): Unit {
  if (unit.kind === kind) return unit;
  mustShareDimension(kind, unit.kind.dimension, unit.text);
  return intern(unit.text, kind, unit.scale, unit.factors);
}

const coherent = new Map<Kind, Unit>();
const PREFERRED: ReadonlyMap<Kind, string> = new Map<Kind, string>([
  [kinds.pressure, "Pa"],
  [kinds.power, "W"],
  [kinds.energy, "J"],
  [kinds.heatTransfer, "W/K"],
  [kinds.specificEnergy, "J/kg"],
  [kinds.heatCapacity, "J/kg/K"],
]);

/**
 * The unit with scale 1, in which the physics works: kg, m3, Pa, W; kelvin as a point for temperatures; a
 * bare fraction for strengths, solids and water contents. Not for showing.
 */
export function siUnit(kind: Kind): Unit {
  let unit = coherent.get(kind);
  if (unit === undefined) {
    const preferred = PREFERRED.get(kind);
    if (kind === kinds.temperature) unit = kelvinPoint;
    else if (preferred !== undefined) unit = parseUnit(preferred);
    else if (kind.dimension === none) unit = withKind(plainUnit, kind);
    else unit = unitOfFactors([...kind.dimension.powers].map(([name, power]) => ({ name, power })));
    coherent.set(kind, unit);
  }
  return unit;
}
