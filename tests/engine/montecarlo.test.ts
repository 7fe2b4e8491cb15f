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
  // Ends within five standard errors of a quantile: √(p(1 − p)/n) over the density there.
  it("tells between which ends 95 % of the trials lie", () => {
    const run = openBook("set a = 80 ± 2 g\nset c = a * 1\n").why("c", { trials: 5000 })!.monteCarlo!;
    expect(run.trials).toBe(5000);
    expect(run.linear).toBe(2);
    expect(run.outside).toBe(0);
    expect(Math.abs(run.low - (80 - 2 * 1.96))).toBeLessThan(0.38);
    expect(Math.abs(run.high - (80 + 2 * 1.96))).toBeLessThan(0.38);
    expect(run.says).toMatch(
      /^5000 trials agree with the linear estimate; 95 % of them lie between 7[56]\.\d+ g and 8[34]\.\d+ g\.$/,
    );
  });
  it("draws each input by itself", () => {
    const run = openBook("set a = 5 ± 1\nset b = 5 ± 1\nset c = a - b\n").why("c", { trials: 2000 })!
      .monteCarlo!;
    // Five standard errors of a standard deviation, σ/√(2n), and of a mean, σ/√n.
    expect(Math.abs(run.deviation - Math.SQRT2)).toBeLessThan((5 * Math.SQRT2) / Math.sqrt(4000));
    expect(Math.abs(run.mean)).toBeLessThan((5 * Math.SQRT2) / Math.sqrt(2000));
  });
  it("counts the trials that fall outside the range of a function", () => {
    // The square root of what is negative is no number: of 0.5 ± 1 that is 30.9 % of the trials.
    const run = openBook("set a = 0.5 ± 1\nset c = a^0.5\n").why("c", { trials: 2000 })!.monteCarlo!;
    expect(Math.abs(run.outside / 2000 - 0.3085)).toBeLessThan(0.052);
    expect(run.poor).toBe(true);
    expect(run.says).toMatch(
      /^The linear estimate is poor here: 0\.\d+ with a standard deviation of 0\.\d+ in \d+ trials, 95 % of them between 0\.\d+ and 1\.\d+\. \d+ trials fell outside a function's range\.$/,
    );
  });
  it("is poor where more than one trial in a hundred falls outside, though the rest agree", () => {
    // Strengths below 0 are none: 2.3 % of the trials of 0.2 ± 0.1, and 0.1 % of those of 0.3 ± 0.1.
    const run = (strength: string) =>
      openBook(`set a = ${strength}\nset c = by_mass(a)\n`).why("c", { trials: 2000 })!.monteCarlo!;
    const often = run("0.2 ± 0.1 %vol");
    expect([often.poor, often.outside > 20]).toEqual([true, true]);
    expect(Math.abs(often.deviation / often.linear - 1)).toBeLessThan(0.1);
    const seldom = run("0.3 ± 0.1 %vol");
    expect([seldom.poor, seldom.outside <= 20]).toEqual([false, true]);
  });
  it("is not asked for a value without an uncertainty, nor without trials", () => {
    const book = openBook("set a = 5 ± 1\nset b = 3\nset c = a\n");
    expect(book.why("b", { trials: 100 })).not.toHaveProperty("monteCarlo");
    expect(book.why("c")).not.toHaveProperty("monteCarlo");
    expect(book.why("c", { trials: 0 })).not.toHaveProperty("monteCarlo");
    // One trial has no deviation.
    expect(book.why("c", { trials: 1 })).not.toHaveProperty("monteCarlo");
    expect(book.why("c", { trials: 2.9 })!.monteCarlo!.trials).toBe(2);
  });
});
