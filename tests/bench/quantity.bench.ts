/**
 * What a single addition or multiplication costs: exact decimals, decimals beyond the room of doubles, and
 * approximate doubles; bare numbers, and whole quantities with units. Run with `npx tsx tests/bench/quantity.bench.ts`.
 *
 * Variants take turns in one process, in rotating order, after a warm-up, so that drift of the machine falls on
 * all of them; "x" is the median over the rounds of the ratio to the plain loop of the same round.
 */
import {
  add,
  addNum,
  approximate,
  convert,
  divide,
  exact,
  format,
  multiply,
  multiplyNum,
  type Num,
  parseUnit,
  type Quantity,
  quantity,
  sumNum,
} from "../../src/quantity";

const COUNT = 20_000;
const ROUNDS = 11;

const texts = Array.from({ length: COUNT }, (_, i) => `${(i * 7919) % 1000}.${100 + ((i * 31) % 900)}`);
const doubles = texts.map(Number);
const small: readonly Num[] = texts.map(exact);
const large: readonly Num[] = texts.map((text) => exact(`${text}123456789012`));
const rough: readonly Num[] = doubles.map(approximate);
const grams = parseUnit("g");
const price = quantity(exact("11.20"), parseUnit("GBP/kg"));
const roughPrice = quantity(approximate(11.2), parseUnit("GBP/kg"));
const half = exact("0.5");
const masses: readonly Quantity[] = small.map((n) => quantity(n, grams));
const roughMasses: readonly Quantity[] = rough.map((n) => quantity(n, grams));
const measured: readonly Quantity[] = masses.map((q, i) =>
  quantity(q.n, grams, new Map([[`input ${i % 50}`, 0.1]])),
);
const kilogram = parseUnit("kg");

/** Each pass works through the whole list and gives a number that depends on all of it. */
const variants: readonly (readonly [string, () => number])[] = [
  ["plain loop, a + b", () => doubles.reduce((sum, v) => sum + (v + 0.5), 0)],
  ["approximate, a + b", () => rough.reduce((sum, n) => sum + addNum(n, half).v, 0)],
  ["exact, a + b", () => small.reduce((sum, n) => sum + addNum(n, half).v, 0)],
  ["exact beyond 2^49, a + b", () => large.reduce((sum, n) => sum + addNum(n, half).v, 0)],
  ["approximate, a * b", () => rough.reduce((sum, n) => sum + multiplyNum(n, half).v, 0)],
  ["exact, a * b", () => small.reduce((sum, n) => sum + multiplyNum(n, half).v, 0)],
  ["exact beyond 2^49, a * b", () => large.reduce((sum, n) => sum + multiplyNum(n, half).v, 0)],
  ["exact total (sumNum)", () => sumNum(small).v],
  ["approximate total (sumNum)", () => sumNum(rough).v],
  ["quantities, approximate g + g", () => roughMasses.reduce((sum, q) => sum + add(q, q).n.v, 0)],
  ["quantities, exact g + g", () => masses.reduce((sum, q) => sum + add(q, q).n.v, 0)],
  [
    "quantities, approximate g * GBP/kg",
    () => roughMasses.reduce((s, q) => s + multiply(q, roughPrice).n.v, 0),
  ],
  ["quantities, exact g * GBP/kg", () => masses.reduce((sum, q) => sum + multiply(q, price).n.v, 0)],
  ["quantities, g / g", () => masses.reduce((sum, q) => sum + divide(q, masses[7]!).n.v, 0)],
  ["quantities, exact g in kg", () => masses.reduce((sum, q) => sum + convert(q, kilogram).n.v, 0)],
  ["quantities with ±, g * GBP/kg", () => measured.reduce((sum, q) => sum + multiply(q, price).n.v, 0)],
  ["printing, exact", () => masses.reduce((sum, q) => sum + format(q).length, 0)],
  ["printing, approximate", () => roughMasses.reduce((sum, q) => sum + format(q).length, 0)],
];

let kept = 0;
function time(work: () => number): number {
  const started = performance.now();
  let passes = 0;
  do {
    kept += work();
    passes++;
  } while (performance.now() - started < 25);
  return ((performance.now() - started) * 1000) / (passes * COUNT);
}
const median = (list: readonly number[]): number =>
  [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)]!;

for (const [, work] of variants) for (let i = 0; i < 4; i++) time(work);
const times = variants.map((): number[] => []);
for (let round = 0; round < ROUNDS; round++) {
  variants.forEach((_, i) => {
    const at = (i + round) % variants.length;
    times[at]!.push(time(variants[at]![1]));
  });
}
console.log(`${"operation".padEnd(38)}${"µs".padStart(9)}${"x plain".padStart(10)}`);
variants.forEach(([name], i) => {
  const ratios = times[i]!.map((t, round) => t / times[0]![round]!);
  console.log(
    `${name.padEnd(38)}${median(times[i]!).toFixed(4).padStart(9)}${median(ratios).toFixed(1).padStart(10)}`,
  );
});
if (!Number.isFinite(kept)) console.log("a total ran out of range");
