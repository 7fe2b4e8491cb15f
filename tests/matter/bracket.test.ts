import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rootBetween } from "../../src/matter/bracket";
import type { Trouble } from "../../src/quantity/trouble";

const code = (f: () => unknown): string => {
  try {
    f();
  } catch (trouble) {
    return (trouble as Trouble).code;
  }
  return "no trouble";
};

describe("a root in a bracket", () => {
  it("finds the root of any rising cubic to the last digits", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -10, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        fc.double({ min: 0.01, max: 5, noNaN: true }),
        (root, cubic, slope) => {
          const f = (x: number): number => (x - root) * (slope + cubic * (x - root) ** 2);
          const found = rootBetween(f, -11, 11, { what: "a root" });
          expect(Math.abs(found - root)).toBeLessThan(1e-13 * (1 + Math.abs(root)) * 20);
        },
      ),
    );
  });
  it("gives the same bits each time", () => {
    const f = (x: number): number => Math.cos(x) - x;
    expect(rootBetween(f, 0, 1, { what: "x" })).toBe(rootBetween(f, 0, 1, { what: "x" }));
  });
  it("takes an end that is the root", () => {
    expect(rootBetween((x) => x, 0, 1, { what: "x" })).toBe(0);
    expect(rootBetween((x) => x - 1, 0, 1, { what: "x" })).toBe(1);
  });
  it("refuses a bracket without a sign change, and a function that is no number", () => {
    expect(code(() => rootBetween((x) => x * x + 1, -1, 1, { what: "x" }))).toBe("no-sign-change");
    expect(code(() => rootBetween(() => Number.NaN, -1, 1, { what: "x" }))).toBe("no-sign-change");
  });
  it("says that it did not converge instead of giving its last trial", () => {
    const hollow = (x: number): number => (Math.abs(x) === 1 ? x : Number.NaN);
    expect(code(() => rootBetween(hollow, -1, 1, { what: "x" }))).toBe("did-not-converge");
  });
});
