import { describe, expect, it } from "vitest";
import { parseUnit } from "../../src/quantity";
import { ask } from "../vocabulary/physics-calling";
import points from "./points/bench.json";

// Numbers of the bench, by function. Most were computed outside this project with the same equations: they test the
// code, not nature. Each row of points/bench.json carries its source and mark.
interface Row {
  readonly function: string;
  readonly arguments: Readonly<Record<string, string | readonly string[]>>;
  readonly part: string;
  readonly value: number;
  readonly unit: string;
  readonly tolerance: number;
  readonly source: string;
}

function shownIn(si: number, unit: string): number {
  const { scale, offset } = parseUnit(unit);
  const shift = offset === undefined ? 0 : Number(offset.num) / Number(offset.den);
  return ((si - shift) * Number(scale.den)) / Number(scale.num);
}

describe("numbers of the bench", () => {
  it.each(points as unknown as readonly Row[])("$function $arguments $part is $value $unit", (row) => {
    const found = ask(row.function, row.arguments).si[row.part];
    expect(Math.abs(shownIn(found as number, row.unit) - row.value)).toBeLessThanOrEqual(row.tolerance);
  });
});

// Computed outside this project. There each jar was the difference of two mixed volumes; here a jar holds what it is
// marked for by itself, which is a little less, so the late jars are up to 0.1 %vol stronger.
it("fills jars as computed outside this project", () => {
  const cuts = ask("cuts", {
    volume: "0.8 L",
    strength: "45 %vol",
    pressure: "60 mbar",
    jars: ["50 mL", "50 mL", "100 mL", "100 mL", "100 mL", "50 mL"],
  });
  const strengths = cuts.rows.map((row) => 100 * (row.strength as number));
  [82.6, 81.7, 80.0, 75.9, 67.2, 53.2].forEach((value, i) => {
    expect(Math.abs(strengths[i]! - value)).toBeLessThanOrEqual(i < 5 ? 0.06 : 0.11);
  });
  expect(cuts.rows.at(-1)!.pot_temperature).toBeCloseTo(273.15 + 32.7, 0);
});
it("stands at 73.8 %vol with all jars together", () => {
  const run = ask("distil", { volume: "0.8 L", strength: "45 %vol", pressure: "60 mbar", take: "450 mL" });
  expect(Math.abs(100 * (run.si["taken.strength"] as number) - 73.8)).toBeLessThanOrEqual(0.05);
  expect(Math.abs((run.si.end_temperature as number) - 273.15 - 32.7)).toBeLessThanOrEqual(0.05);
});
