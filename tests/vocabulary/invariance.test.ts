import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { toSI } from "../../src/quantity";
import { vocabulary } from "../../src/vocabulary";
import { isPhysics } from "../../src/vocabulary/declaration";
import type { Value } from "../../src/vocabulary/value";

/** Nature knows no units: every worked example of physics is asked again in other ones. */

const book = openBook("");

/** A number before a unit, and the same amount in another: the factor, or a temperature's own way. */
const OTHER: readonly (readonly [unit: string, into: (x: number) => number, other: string])[] = [
  ["mL/min", (x) => (x * 60) / 1000, "L/h"],
  ["mL/h", (x) => x / 1000, "L/h"],
  ["L/min", (x) => x * 60, "L/h"],
  ["L/h", (x) => x * 1000, "mL/h"],
  ["kg/m^3", (x) => x / 1000, "g/mL"],
  ["kg/m3", (x) => x / 1000, "g/mL"],
  ["W/K", (x) => x / 1000, "kW/K"],
  ["mbar", (x) => x / 10, "kPa"],
  ["mL", (x) => x / 1000, "L"],
  ["L", (x) => x * 1000, "mL"],
  ["kg", (x) => x * 1000, "g"],
  ["g", (x) => x / 1000, "kg"],
  ["°C", (x) => x * 1.8 + 32, "°F"],
  ["min", (x) => x * 60, "s"],
  ["m", (x) => x * 100, "cm"],
  ["W", (x) => x / 1000, "kW"],
  ["%", (x) => x / 100, ""],
];

const NUMBER = /(-?\d+(?:\.\d+)?) ([A-Za-z°%/^0-9]+)/gu;

function otherwise(formula: string): string {
  return formula.replaceAll(NUMBER, (whole, digits: string, unit: string) => {
    const found = OTHER.find(([name]) => name === unit);
    if (found === undefined) return whole;
    const number = Number(found[1](Number(digits)).toPrecision(15));
    return `${number} ${found[2]}`.trimEnd();
  });
}

/** SI numbers of a value; a text or truth as it stands. */
function essence(value: Value): readonly (number | string)[] {
  switch (value.type) {
    case "quantity":
      return [toSI(value)];
    case "list":
      return value.entries.flatMap(essence);
    case "record":
      return [...value.parts.values()].flatMap(essence);
    case "text":
      return [value.text];
    case "truth":
      return [String(value.value)];
    default:
      throw new Error(`${value.type}: ${"says" in value ? value.says : ""}`);
  }
}

const examples = [...vocabulary.values()]
  .filter(isPhysics)
  .flatMap((d) => d.examples.map((e) => e.formula))
  .filter((formula) => otherwise(formula) !== formula);

describe("an answer does not depend on the units it is asked in", () => {
  it("there is hardly a function without an amount in its example", () => {
    expect(new Set(examples.map((f) => f.slice(0, f.indexOf("(")))).size).toBeGreaterThan(50);
  });
  it.each(examples)("%s", (formula) => {
    const [here, there] = [formula, otherwise(formula)].map((f) => essence(book.ask(f).raw));
    expect(there!.length).toBe(here!.length);
    here!.forEach((value, i) => {
      const other = there![i]!;
      if (typeof value === "string") expect(other).toBe(value);
      else
        expect(Math.abs((other as number) - value)).toBeLessThanOrEqual(
          1e-8 * Math.max(1e-6, Math.abs(value)),
        );
    });
  });
});

describe("ten times as much of everything gives ten times as much, and the same strengths and temperatures", () => {
  const AMOUNTS = /(-?\d+(?:\.\d+)?) (mL|L|g|kg)(?=[,)\]])/gu;
  it.each([
    "distil(1 L, 40 %vol, 50 mbar, take: 300 mL)",
    "distil_at(1 L, 40 %vol, 22 °C, take: 300 g)",
    "alcohol_out(800 mL, 5.2 %vol, 40 mbar, to: 0.5 %vol)",
    "soak(800 mL, 60 %vol, 120 g, 80 %, wet_marc: 114 g)",
    "missing(750 g, 368 g, 370 g, strengths: [40 %vol, 70 %vol, 6 %vol])",
    "marry([40 L, 60 L], [70 %vol, 30 %vol])",
    "let_down(1 L, 96 %vol, to: 40 %vol)",
    "fortify(1 L, 12 %vol, 96 %vol, to: 18 %vol)",
    "make_up(3 L, [300 mL, 180 mL], [78 %vol, 72.5 %vol], to: 42 %vol)",
    "sweeten(1 L, 40 %vol, 300 g)",
    "cross_fill(2400 mL, 96 %vol, 0 %vol, to: 40 %vol)",
    "cross_add(500 g, 12 °Bx, 65 °Bx, to: 20 °Bx)",
    "reduce(5400 g, 15 °Bx, to: 40 °Bx)",
    "reduce_salty(2000 g, 4.5 %, 9 °Bx, to_mass: 600 g)",
    "infuse_honey(1000 g, 18 %, 500 g, strength: 35 %mas, solids: 2 °Bx, to: 18 %)",
    "infuse_honey_limit(600 g, 18.5 %, strength: 30 %mas, budget: 420 g)",
    "ice_point(640 g, sucrose: 180 g, glucose: 60 g)",
    "ice_share(-12 °C, 640 g, sucrose: 180 g, salt: 5 g)",
    "activity(100 g, sucrose: 50 g, salt: 5 g)",
    'comes_over("linalool", 1 L, 40 %vol, 50 mbar, 400 mL)',
    "run_time(800 mL, 40 %vol, 50 mbar, 30 °C, 31.6 W/K, take: 300 mL)",
  ])("%s", (formula) => {
    const tenfold = formula.replaceAll(
      AMOUNTS,
      (_, digits: string, unit: string) => `${10 * Number(digits)} ${unit}`,
    );
    const [once, ten] = [formula, tenfold].map((f) => essence(book.ask(f).raw));
    once!.forEach((value, i) => {
      if (typeof value === "string") return;
      const ratio = (ten![i] as number) / value;
      // Volumes, masses and times grow tenfold, all else stays.
      if (value !== 0) expect(Math.min(Math.abs(ratio - 1), Math.abs(ratio / 10 - 1))).toBeLessThan(1e-8);
    });
  });
});
