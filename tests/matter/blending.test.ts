import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  crossAdd,
  crossFill,
  crossParts,
  plainShare,
  strengthByMass,
  strengthByVolume,
  sugarSolids,
} from "../../src/matter/blending";
import { spiritDensity } from "../../src/matter/spirit";
import { syrupDensity } from "../../src/matter/sugar";
import { Trouble } from "../../src/quantity/trouble";

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
/** Two different properties and one between them. */
const triples = fc
  .tuple(between(0, 0.85), between(0, 0.85), between(0, 1))
  .filter(([a, b]) => Math.abs(a - b) > 1e-3)
  .map(([a, b, share]) => ({ rich: a, lean: b, to: b + share * (a - b) }))
  // Rounding can carry a target a hair outside when the share is 0 or 1.
  .filter(({ rich, lean, to }) => to >= Math.min(rich, lean) && to <= Math.max(rich, lean));

describe("the Pearson square", () => {
  it("gives shares from 0 to 1 that add to 1 and meet the target", () => {
    fc.assert(
      fc.property(triples, ({ rich, lean, to }) => {
        const parts = crossParts(rich, lean, to);
        expect(parts.rich + parts.lean).toBeCloseTo(1, 12);
        expect(parts.rich).toBeGreaterThanOrEqual(0);
        expect(parts.lean).toBeGreaterThanOrEqual(0);
        expect(Math.abs(parts.rich * rich + parts.lean * lean - to)).toBeLessThan(1e-12);
      }),
    );
  });
  it("does not care which of the two is called rich", () => {
    fc.assert(
      fc.property(triples, ({ rich, lean, to }) => {
        const parts = crossParts(rich, lean, to);
        const swapped = crossParts(lean, rich, to);
        expect(swapped.rich).toBeCloseTo(parts.lean, 12);
      }),
    );
  });
  it("balances mass and property to 1e-9 for volumes of spirit and of syrup", () => {
    for (const [property, density] of [
      [strengthByVolume, spiritDensity],
      [sugarSolids, syrupDensity],
    ] as const) {
      fc.assert(
        fc.property(triples, between(1e-4, 10), ({ rich, lean, to }, total) => {
          const parts = crossFill(total, "volume", rich, lean, to, property);
          const massRich = parts.rich * density(rich);
          const massLean = parts.lean * density(lean);
          const mass = total * density(to);
          expect(Math.abs(massRich + massLean - mass)).toBeLessThan(1e-9 * mass);
          expect(Math.abs(massRich * rich + massLean * lean - mass * to)).toBeLessThan(1e-9 * mass);
        }),
      );
    }
  });
  it("adds what it fills: bringing the lean part up with the rich one gives the whole", () => {
    fc.assert(
      fc.property(triples, between(1e-3, 10), ({ rich, lean, to }, total) => {
        const parts = crossFill(total, "volume", rich, lean, to, strengthByVolume);
        if (parts.lean < 1e-6 * total || parts.rich < 1e-6 * total) return;
        const added = crossAdd(parts.lean, "volume", lean, rich, to, strengthByVolume);
        expect(added.add / parts.rich).toBeCloseTo(1, 8);
        expect(added.total / total).toBeCloseTo(1, 8);
      }),
    );
  });
  it("is by mass the same whatever the property is called, and scales", () => {
    fc.assert(
      fc.property(triples, between(1e-3, 10), ({ rich, lean, to }, total) => {
        const byMass = crossFill(total, "mass", rich, lean, to, strengthByMass);
        expect(crossFill(total, "mass", rich, lean, to, plainShare)).toEqual(byMass);
        const tenfold = crossFill(10 * total, "mass", rich, lean, to, sugarSolids);
        expect(tenfold.rich).toBeCloseTo(10 * byMass.rich, 9);
      }),
    );
  });
  it("blends the same in any order: two steps or one", () => {
    // Three stocks by mass to one target, adding b then c or c then b to a, in fixed masses.
    fc.assert(
      fc.property(fc.array(between(0.05, 0.6), { minLength: 3, maxLength: 3 }), (s) => {
        const [a, b, c] = s as [number, number, number];
        const mix = (x: readonly (readonly [number, number])[]): number =>
          x.reduce((sum, [m, p]) => sum + m * p, 0) / x.reduce((sum, [m]) => sum + m, 0);
        const ab = mix([
          [1, a],
          [2, b],
        ]);
        const cb = mix([
          [3, c],
          [2, b],
        ]);
        expect(
          mix([
            [3, ab],
            [3, c],
          ]),
        ).toBeCloseTo(
          mix([
            [1, a],
            [5, cb],
          ]),
          12,
        );
        if (Math.abs(ab - c) < 1e-3) return;
        const parts = crossParts(
          ab,
          c,
          mix([
            [3, ab],
            [3, c],
          ]),
        );
        expect(parts.rich).toBeCloseTo(0.5, 9);
      }),
    );
  });
  it("adds nothing when the target is met", () => {
    expect(crossAdd(2, "volume", 0.3, 0.9, 0.3)).toEqual({ add: 0, total: 2 });
  });
  it("refuses a target outside the stocks, telling them as they were given", () => {
    expect(() => crossParts(0.3, 0.1, 0.4)).toThrow(/30 % and 10 % lies between the two, and 40 % does not/u);
    expect(() => crossParts(0.3, 0.3, 0.3)).toThrow(/any parts/u);
    expect(() => crossParts(0.3, 0.3, 0.4)).toThrow(Trouble);
    expect(() => crossAdd(1, "mass", 0.3, 0.4, 0.5)).toThrow(/no amount reaches it/u);
    expect(() => crossAdd(1, "mass", 0.3, 0.4, 0.4)).toThrow(Trouble);
    expect(() => crossAdd(-1, "mass", 0.3, 0.5, 0.4)).toThrow(/cannot be negative/u);
    expect(() => crossParts(1.2, 0.1, 0.4, sugarSolids)).toThrow(/No liquid has 120 °Bx/u);
    expect(() => crossParts(Number.NaN, 0.1, 0.4)).toThrow(Trouble);
  });
});
