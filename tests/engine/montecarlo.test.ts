import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

describe("a Monte Carlo run beside the linear estimate", () => {
  it("agrees for a sum and gives the same numbers every time", () => {
    const book = openBook("set a = 50 ± 1 g\nset b = 30 ± 2 g\nset c = a + b\n");
    const run = book.why("c", { trials: 20_000 })!.monteCarlo!;
    expect(run.poor).toBe(false);
    expect(run.deviation).toBeCloseTo(Math.sqrt(5), 1);
    expect(run.mean).toBeCloseTo(80, 1);
    expect(book.why("c", { trials: 20_000 })!.monteCarlo).toEqual(run);
  });
  it("says when the linear estimate is poor", () => {
    const run = openBook("set x = 0.1 ± 1\nset y = x * x\n").why("y", { trials: 5000 })!.monteCarlo!;
    expect(run.poor).toBe(true);
    expect(run.says).toContain("poor");
  });
  it("keeps one reading together through different values", () => {
    const run = openBook("set x = 5 ± 1 g\nset a = x * 2\nset b = a - x\n").why("b", { trials: 5000 })!
      .monteCarlo!;
    expect(run.deviation).toBeCloseTo(1, 1);
  });
  it("draws cells of a table and the physics", () => {
    const text =
      "table d\n| n | v (mL) | s |\n| a | 2400 | 61.2 ± 0.3 %vol |\n| b | 800 | 58 %vol |\nset blend = marry(d.v, d.s)\nset water = let_down(blend.volume, blend.strength, to: 42 %vol)\n";
    const why = openBook(text).why("water.add", { trials: 2000 })!;
    expect(why.monteCarlo!.poor).toBe(false);
    expect(why.monteCarlo!.deviation / why.monteCarlo!.linear).toBeGreaterThan(0.9);
    expect(why.monteCarlo!.deviation / why.monteCarlo!.linear).toBeLessThan(1.1);
  });
});
