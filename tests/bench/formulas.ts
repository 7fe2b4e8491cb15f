/** Formulas for the measures, all different, made from a fixed seed. */

/** Mulberry32: a small generator, so that every run measures the same formulas. */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const NAMES = ["mass", "price", "volume", "strength", "bath", "stock.price", "jars", "dose", "water.left"];
const UNITS = ["g", "mL", "L", "%", "mbar", "kg", "h"];
const CALLS = ["sum", "round_to", "mean", "largest"];

/** Formulas as a person writes them, about 40 characters each: names, paths, numbers with units, calls, brackets. */
export function writtenFormulas(count: number): readonly string[] {
  const random = seeded(20261125);
  const one = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const number = (): string => {
    const digits = (random() * 1000).toFixed(Math.floor(random() * 3));
    return random() < 0.6 ? `${digits} ${one(UNITS)}` : digits;
  };
  const atom = (deep: number): string => {
    const r = random();
    if (r < 0.45) return one(NAMES);
    if (r < 0.8) return number();
    if (deep > 1) return one(NAMES);
    if (r < 0.9) return `(${chain(2, deep + 1)})`;
    return `${one(CALLS)}(${chain(1 + Math.floor(random() * 2), deep + 1)})`;
  };
  const chain = (length: number, deep: number): string => {
    let text = atom(deep);
    for (let i = 1; i < length; i++) text += ` ${one(["+", "-", "*", "/"])} ${atom(deep)}`;
    return text;
  };
  const found = new Set<string>();
  while (found.size < count) {
    const formula = chain(2 + Math.floor(random() * 3), 0);
    if (formula.length >= 25 && formula.length <= 55) found.add(formula);
  }
  return [...found];
}

/** Arithmetic over the columns a, b, c, d and the value `rate`, and the same as the body of a loop. */
export interface RowFormula {
  readonly written: string;
  readonly loop: string;
}

/**
 * Different row formulas of about four operations, plain numbers with two decimals in the columns, so that
 * every result is an exact decimal unless it divides.
 */
export function rowFormulas(count: number, divide: boolean): readonly RowFormula[] {
  const random = seeded(4711);
  const one = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const found = new Map<string, RowFormula>();
  while (found.size < count) {
    const columns = ["a", "b", "c", "d"];
    const first = one(columns);
    let written = `${first} * rate`;
    let loop = `${first}[i] * rate`;
    const length = 2 + Math.floor(random() * 3);
    for (let i = 0; i < length; i++) {
      const r = random();
      if (r < 0.35) {
        const name = one(columns);
        const operator = one(["+", "-"]);
        written += ` ${operator} ${name}`;
        loop += ` ${operator} ${name}[i]`;
      } else if (r < 0.55) {
        const number = (1 + random() * 8).toFixed(1);
        const operator = one(["+", "-"]);
        written += ` ${operator} ${number}`;
        loop += ` ${operator} ${number}`;
      } else if (r < 0.8) {
        const [x, number] = [one(columns), (1 + random() * 8).toFixed(1)];
        written += ` + ${x} * ${number}`;
        loop += ` + ${x}[i] * ${number}`;
      } else if (divide) {
        const [x, y] = [one(columns), one(columns)];
        written += ` + ${x} / ${y}`;
        loop += ` + ${x}[i] / ${y}[i]`;
      } else {
        const x = one(columns);
        written += ` - ${x} / 10`;
        loop += ` - ${x}[i] / 10`;
      }
    }
    found.set(written, { written, loop });
  }
  return [...found.values()];
}
