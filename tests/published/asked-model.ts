import { openBook } from "../../src/engine";
import { convert, parseUnit, plainUnit } from "../../src/quantity";
import type { Value } from "../../src/vocabulary/value";
import { type Comparison, markOf, type Point, sourceOf, type Worth, worthOf } from "./comparison";
import asked from "./points/asked.json";
import bench from "./points/bench.json";
import second from "./points/second.json";

/**
 * Numbers that are asked as formulas of the language, units and all. Each entry of points/bench.json,
 * points/asked.json and points/second.json carries its source and mark; those of the last were worked out a second time,
 * apart from this project's code, at ordinary values and at the ends.
 */

interface BenchPoint extends Pick<Point, "value" | "unit" | "tolerance" | "source" | "seen"> {
  readonly function: string;
  readonly arguments: Readonly<Record<string, string | readonly string[]>>;
  readonly part: string;
}
interface AskedPoint extends Pick<Point, "value" | "unit" | "tolerance" | "source" | "seen"> {
  readonly formula: string;
  readonly what: string;
  readonly of?: string;
  /** Which entry of a list (1-based). */
  readonly entry?: number;
  readonly worth?: Worth;
  readonly by?: "factor";
  readonly disagreement?: Comparison["disagreement"];
}

const book = openBook("");

/** The number that a formula comes to, in a unit. */
function answerOf(formula: string, unit: string, entry?: number): number {
  const { raw: whole, message } = book.ask(formula);
  const raw: Value = whole.type === "list" && entry !== undefined ? whole.entries[entry - 1]! : whole;
  if (raw.type !== "quantity") throw new Error(`${formula} gives ${raw.type}: ${message ?? ""}`);
  return convert(raw, unit === "" ? plainUnit : parseUnit(unit)).n.v;
}

const quoted = new Set(["ethylene", "propylene", "bath", "chiller"]);
const written = (value: string): string => (quoted.has(value) ? `"${value}"` : value);

function formulaOf(p: BenchPoint): string {
  const given = Object.entries(p.arguments).map(
    ([label, value]) => `${label}: ${typeof value === "string" ? written(value) : `[${value.join(", ")}]`}`,
  );
  return `${p.function}(${given.join(", ")})${p.part === "" ? "" : `.${p.part}`}`;
}

const fromBench = (p: BenchPoint, entry: number): Comparison => {
  const formula = formulaOf(p);
  return {
    of: p.function,
    what: p.part === "" ? "answer" : p.part.replace(/[._]/gu, " "),
    label: formula,
    unit: p.unit,
    published: p.value,
    computed: answerOf(formula, p.unit),
    tolerance: p.tolerance,
    worth: worthOf(p),
    mark: markOf(p),
    source: sourceOf(p),
    point: `bench.json ${entry}`,
  };
};

const fromAsked =
  (file: string) =>
  (p: AskedPoint, entry: number): Comparison => ({
    of: p.of ?? p.formula.slice(0, p.formula.indexOf("(")),
    what: p.what,
    label: p.formula,
    unit: p.unit,
    published: p.value,
    computed: answerOf(p.formula, p.unit, p.entry),
    tolerance: p.tolerance,
    worth: p.worth ?? worthOf(p),
    mark: markOf(p),
    source: sourceOf(p),
    point: `${file} ${entry}`,
    ...(p.by === undefined ? {} : { by: p.by }),
    ...(p.disagreement === undefined ? {} : { disagreement: p.disagreement }),
  });

export const askedComparisons: readonly Comparison[] = [
  ...(bench as unknown as readonly BenchPoint[]).map(fromBench),
  ...(asked as unknown as readonly AskedPoint[]).map(fromAsked("asked.json")),
  ...(second as unknown as readonly AskedPoint[]).map(fromAsked("second.json")),
];
