import { Trouble } from "./trouble";

/**
 * What a quantity is made of: whole exponents over kg, m, s, K and the code of each currency. Interned:
 * the same dimension is the same object.
 */
export interface Dimension {
  /** `kg/m3`, `GBP/m3`, `1/s`; empty without dimension. */
  readonly key: string;
  readonly powers: ReadonlyMap<string, number>;
}

/**
 * What may be added, subtracted and compared with one another. Kinds keep apart what has the same
 * dimension: a strength by volume and by mass, a temperature and a temperature difference. Interned.
 */
export interface Kind {
  /** A word for a kind without dimension of its own, else the key of the dimension. */
  readonly id: string;
  /** With its article, for sentences: "a volume". */
  readonly name: string;
  readonly dimension: Dimension;
}

const BASES = ["kg", "m", "s", "K"];
const dimensions = new Map<string, Dimension>();

/** Currencies by code, then kg, m, s, K. */
function rank(base: string): string {
  const place = BASES.indexOf(base);
  return place < 0 ? `0${base}` : `1${place}`;
}

function write(base: string, power: number): string {
  return power === 1 ? base : `${base}${power}`;
}

export function dimension(powers: Iterable<readonly [string, number]>): Dimension {
  const kept = [...powers].filter(([, power]) => power !== 0);
  kept.sort(([a], [b]) => (rank(a) < rank(b) ? -1 : 1));
  const above = kept.filter(([, power]) => power > 0).map(([base, power]) => write(base, power));
  const below = kept.filter(([, power]) => power < 0).map(([base, power]) => `/${write(base, -power)}`);
  const key = kept.length === 0 ? "" : (above.length === 0 ? "1" : above.join("*")) + below.join("");
  let found = dimensions.get(key);
  if (found === undefined) {
    found = { key, powers: new Map(kept) };
    dimensions.set(key, found);
  }
  return found;
}

export const none: Dimension = dimension([]);

/** a * b^power. */
export function dimensionTimes(a: Dimension, b: Dimension, power = 1): Dimension {
  const powers = new Map(a.powers);
  for (const [base, exponent] of b.powers) powers.set(base, (powers.get(base) ?? 0) + exponent * power);
  return dimension(powers);
}

/** a^power. The exponents must stay whole; undefined when they would not. */
export function dimensionPower(a: Dimension, power: number): Dimension | undefined {
  const powers: [string, number][] = [];
  for (const [base, exponent] of a.powers) {
    const raised = exponent * power;
    if (Math.abs(raised - Math.round(raised)) > 1e-9) return undefined;
    powers.push([base, Math.round(raised)]);
  }
  return dimension(powers);
}

const byDimension = new Map<Dimension, Kind>();

function named(name: string, powers: Record<string, number>): Kind {
  const d = dimension(Object.entries(powers));
  const kind: Kind = { id: d.key, name, dimension: d };
  byDimension.set(d, kind);
  return kind;
}
const bare = (id: string, name: string): Kind => ({ id, name, dimension: none });

const plain = bare("plain", "a plain number");
byDimension.set(none, plain);
const difference = named("a temperature difference", { K: 1 });

/** The kinds that the rooms speak of by name. Every other dimension has its kind too: `kindOfDimension`. */
export const kinds = {
  plain,
  /** Water content, by mass. */
  moisture: bare("moisture", "a water content"),
  activity: bare("activity", "a water activity"),
  strengthVolume: bare("strength_volume", "a strength by volume"),
  strengthMass: bare("strength_mass", "a strength by mass"),
  proof: bare("proof", "a strength in US proof"),
  solids: bare("solids", "solids"),
  index: bare("index", "a refractive index"),
  /** A point on the scale. */
  temperature: { id: "temperature", name: "a temperature", dimension: difference.dimension } as Kind,
  difference,
  mass: named("a mass", { kg: 1 }),
  volume: named("a volume", { m: 3 }),
  time: named("a time", { s: 1 }),
  length: named("a length", { m: 1 }),
  area: named("an area", { m: 2 }),
  pressure: named("a pressure", { kg: 1, m: -1, s: -2 }),
  power: named("a power", { kg: 1, m: 2, s: -3 }),
  energy: named("an energy", { kg: 1, m: 2, s: -2 }),
  density: named("a density", { kg: 1, m: -3 }),
  /** Volume per time. */
  rate: named("a volume per time", { m: 3, s: -1 }),
  massRate: named("a mass per time", { kg: 1, s: -1 }),
  /** Power per degree of difference. */
  heatTransfer: named("a power per temperature difference", { kg: 1, m: 2, s: -3, K: -1 }),
  specificEnergy: named("an energy per mass", { m: 2, s: -2 }),
  heatCapacity: named("an energy per mass and temperature difference", { m: 2, s: -2, K: -1 }),
  speed: named("a speed", { m: 1, s: -1 }),
  perTime: named("a number per time", { s: -1 }),
} as const;

/** The kinds out of which names such as "a mass per area" are put together, in the order in which they are tried. */
const words: readonly Kind[] = [
  kinds.mass,
  kinds.volume,
  kinds.energy,
  kinds.power,
  kinds.pressure,
  kinds.area,
  kinds.length,
  kinds.difference,
  kinds.time,
];
const word = (kind: Kind): string => kind.name.replace(/^an? /, "");

function isCurrency(base: string): boolean {
  return !BASES.includes(base);
}

/** "per volume", or undefined when the denominator has no name. */
function perOne(denominator: Dimension): string | undefined {
  for (const kind of words) if (kind.dimension === denominator) return `per ${word(kind)}`;
  const [base, power] = [...denominator.powers][0] ?? ["", 0];
  return denominator.powers.size === 1 && power === 1 ? `per ${base}` : undefined;
}

/** "per mass and time", or undefined. */
function perTwo(denominator: Dimension): string | undefined {
  for (const first of words) {
    const rest = dimensionTimes(denominator, first.dimension, -1);
    for (const second of words) {
      if (second.dimension === rest) return `per ${word(first)} and ${word(second)}`;
    }
  }
  return undefined;
}

function nameOf(d: Dimension): string {
  const codes = currenciesIn(d);
  if (codes.length === 1 && d.powers.get(codes[0]!) === 1) {
    const below = dimensionPower(dimensionTimes(d, dimension([[codes[0]!, 1]]), -1), -1)!;
    if (below === none) return `an amount in ${codes[0]}`;
    const denominator = perOne(below) ?? perTwo(below);
    if (denominator !== undefined) return `a price ${denominator}`;
  }
  for (const per of [perOne, perTwo]) {
    for (const above of [undefined, ...words]) {
      const below = dimensionPower(above === undefined ? d : dimensionTimes(d, above.dimension, -1), -1)!;
      const denominator = per(below);
      if (denominator !== undefined) return `${above === undefined ? "a number" : above.name} ${denominator}`;
    }
  }
  return `a quantity in ${d.key}`;
}

/** The kind of everything that has this dimension. Without dimension it is the plain number. */
export function kindOfDimension(d: Dimension): Kind {
  let kind = byDimension.get(d);
  if (kind === undefined) {
    kind = { id: d.key, name: nameOf(d), dimension: d };
    byDimension.set(d, kind);
  }
  return kind;
}

/** The code when the dimension is money and nothing else, else undefined. */
export function currencyOf(d: Dimension): string | undefined {
  if (d.powers.size !== 1) return undefined;
  const [base, power] = [...d.powers][0]!;
  return power === 1 && isCurrency(base) ? base : undefined;
}

/** Every currency in a dimension. */
export function currenciesIn(d: Dimension): readonly string[] {
  return [...d.powers.keys()].filter(isCurrency);
}

/** Kinds that stand beside a plain ratio in `+`, `-` and comparisons, and take one as an argument. */
export function takesPlain(kind: Kind): boolean {
  return kind === kinds.plain || kind === kinds.moisture || kind === kinds.activity;
}

/** Guards against a kind that does not belong to the dimension: a mistake in the program, not of a cook. */
export function mustShareDimension(kind: Kind, d: Dimension, unit: string): void {
  if (kind.dimension === d) return;
  throw new Trouble({
    code: "kinds-differ",
    says: `The unit ${unit === "" ? "of a plain number" : unit} does not measure ${kind.name}.`,
  });
}
