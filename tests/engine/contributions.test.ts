import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

describe("what carries an uncertainty", () => {
  const book = openBook(
    [
      "define f(x) = x ± 1 g",
      "define g(x) = f(x) + (2 ± 0.1 g)",
      "define `a/b:3`(x) = f(x) * 2",
      "set r = f(3 g)",
      "set two = g(1 g) + f(2 g) + (1 ± 0.2 g) + (3 ± 0.2 g)",
      "set same = f(1 g) + f(1 g) * 2",
      "set odd = `a/b:3`(5 g)",
      "set long = f(1000 g + 2000 g + 3000 g + 4000 g + 5000 g)",
      "set strong = 61.2 ± 0.3 %vol",
      "set b = boils_at(60 mbar, strength: strong) - boils_at(80 mbar, strength: strong)",
      "table t",
      "| n | a (g) |",
      "| one | 3 ± 1 |",
      "| two | = f(4 g) |",
      "column k = f(a) + (a ± 0.5 g)",
      "foot k = sum(k)",
    ].join("\n"),
  );
  const told = (path: string) =>
    book
      .why(path)!
      .contributions.map((c) => `${c.input}${c.path === undefined ? "" : ` at ${c.path}`}: ${c.amount}`);
  it.each([
    // A ± inside a definition is told by the calls that lead to it.
    ["r", ["f(3 g) in r at r: 1 g"]],
    [
      "two",
      [
        "f(2 g) in two at two: 1 g",
        "f(x) in g(1 g) in two at two: 1 g",
        "two at two: 0.2 g",
        "two (2) at two: 0.2 g",
        "g(1 g) in two at two: 0.1 g",
      ],
    ],
    ["same", ["f(1 g) in same at same: 2 g", "f(1 g) in same (2) at same: 1 g"]],
    ["odd", ["f(x) in `a/b:3`(5 g) in odd at odd: 2 g"]],
    ["long", ["f(…) in long at long: 1 g"]],
    ["t.one.k", ["t.one.a at t.one.a: 2 g", "f(a) in t.one.k at t.one.k: 1 g", "t.one.k at t.one.k: 0.5 g"]],
    ["t.two.a", ["f(4 g) in t.two.a at t.two.a: 1 g"]],
  ])("%s: %j", (path, wanted) => expect(told(path)).toEqual(wanted));

  it("has shares that add to 1, the largest first, and every input by a name of its own", () => {
    for (const path of ["two", "same", "b", "t.foot.k"]) {
      const { contributions } = book.why(path)!;
      expect(contributions.reduce((sum, c) => sum + c.share, 0)).toBeCloseTo(1, 12);
      expect(contributions.map((c) => c.share)).toEqual(
        contributions.map((c) => c.share).sort((x, y) => y - x),
      );
      expect(new Set(contributions.map((c) => c.input)).size).toBe(contributions.length);
    }
    // The equation of each call errs by itself, and stands nowhere in the book.
    expect(
      book
        .why("b")!
        .contributions.filter((c) => c.path === undefined)
        .map((c) => c.input),
    ).toEqual(["the equation of boils_at", "the equation of boils_at (2)"]);
  });
});
