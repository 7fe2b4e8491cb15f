import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  fractionOf,
  type Liquid,
  liquidOfMass,
  liquidOfVolume,
  massOf,
  pureVolumeOf,
  together,
  volumeOf,
} from "../../src/matter/liquid";
import {
  insteadOf,
  makeUp,
  marry,
  massToFortify,
  sweeten,
  sweetLiquid,
  waterToLetDown,
  waterVolume,
} from "../../src/matter/mixing";
import { massFraction, spiritDensity, volumeFraction } from "../../src/matter/spirit";
import { Trouble } from "../../src/quantity";

const fraction = fc.double({ min: 0, max: 1, noNaN: true });
const part = fc
  .tuple(fc.double({ min: 1e-6, max: 10, noNaN: true }), fraction)
  .map(([v, q]) => liquidOfVolume(v, massFraction(q)));
const near = (found: number, wanted: number, relative: number) =>
  expect(Math.abs(found - wanted)).toBeLessThanOrEqual(relative * Math.max(1e-9, Math.abs(wanted)));
const code = (run: () => unknown): string => {
  try {
    run();
  } catch (error) {
    if (error instanceof Trouble) return error.code;
    throw error;
  }
  return "no trouble";
};

describe("marrying", () => {
  it("keeps mass and alcohol", () => {
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 8 }), (parts) => {
        const { whole } = marry(parts);
        near(
          massOf(whole),
          parts.reduce((sum, p) => sum + massOf(p), 0),
          1e-12,
        );
        near(
          pureVolumeOf(whole),
          parts.reduce((sum, p) => sum + pureVolumeOf(p), 0),
          1e-12,
        );
      }),
    );
  });
  it("does not mind the order, nor which two were brought together first", () => {
    fc.assert(
      fc.property(part, part, part, (a, b, c) => {
        const [one, other] = [marry([a, b, c]), marry([c, a, b])];
        near(volumeOf(one.whole), volumeOf(other.whole), 1e-12);
        expect(Math.abs(one.contraction - other.contraction)).toBeLessThan(1e-12 * volumeOf(one.whole));
        const nested = marry([marry([a, b]).whole, c]);
        near(volumeOf(nested.whole), volumeOf(one.whole), 1e-12);
        near(fractionOf(nested.whole), fractionOf(one.whole), 1e-12);
      }),
    );
  });
  it("changes nothing of a part alone", () => {
    fc.assert(
      fc.property(part, (a) => {
        const { whole, contraction } = marry([a]);
        expect(whole).toEqual(a);
        expect(contraction).toBe(0);
      }),
    );
  });
  it("is stronger than the weakest and weaker than the strongest", () => {
    fc.assert(
      fc.property(part, part, (a, b) => {
        const p = fractionOf(marry([a, b]).whole);
        expect(p).toBeGreaterThanOrEqual(Math.min(fractionOf(a), fractionOf(b)) - 1e-12);
        expect(p).toBeLessThanOrEqual(Math.max(fractionOf(a), fractionOf(b)) + 1e-12);
      }),
    );
  });
  it("contracts most, by 3.55 %, near even volumes of ethanol and water", () => {
    let most = { share: 0, at: 0 };
    for (let v = 1; v < 100; v++) {
      const { contraction } = marry([liquidOfVolume(v, 1), liquidOfVolume(100 - v, 0)]);
      if (contraction / 100 > most.share) most = { share: contraction / 100, at: v };
    }
    expect(most.share).toBeCloseTo(0.0355, 4);
    expect(Math.abs(most.at - 52.5)).toBeLessThan(1.1);
  });
});

describe("letting down and raising", () => {
  it("comes to the strength that was asked", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        fc.double({ min: 0.001, max: 1, noNaN: true }),
        (from, share) => {
          const spirit = liquidOfMass(2, from);
          const to = from * share;
          const water = waterToLetDown(spirit, to);
          near(fractionOf(together([spirit, { ethanol: 0, water }])), to, 1e-12);
        },
      ),
    );
  });
  it("is undone by fortifying, and undoes it", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 0.5, noNaN: true }),
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        (weak, along) => {
          const by = 0.93;
          const to = weak + along * (by - weak);
          const liquid = liquidOfMass(1, weak);
          const added = liquidOfMass(massToFortify(liquid, by, to), by);
          const whole = together([liquid, added]);
          near(fractionOf(whole), to, 1e-12);
          const water = waterToLetDown(whole, weak);
          near(fractionOf(together([whole, { ethanol: 0, water }])), weak, 1e-12);
        },
      ),
    );
  });
  it("needs no water for its own strength and scales with the amount", () => {
    const p = massFraction(0.6);
    expect(waterToLetDown(liquidOfMass(1, p), fractionOf(liquidOfMass(1, p)))).toBe(0);
    near(waterToLetDown(liquidOfMass(7, p), 0.2), 7 * waterToLetDown(liquidOfMass(1, p), 0.2), 1e-12);
  });
  it("takes a spirit's own strength for itself, whichever scale it went through", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 1, noNaN: true }), (q) => {
        const p = massFraction(q);
        const spirit = liquidOfMass(1, p);
        expect(waterToLetDown(spirit, massFraction(volumeFraction(p)))).toBeLessThan(1e-9);
        fc.pre(p < 0.99);
        expect(massToFortify(spirit, 1, massFraction(volumeFraction(p)))).toBeLessThan(1e-9);
      }),
    );
  });
  it("has the derivative that the equation says", () => {
    // water = m (p/to - 1): d/dto = -m p / to²
    const spirit = liquidOfMass(1, 0.5);
    const h = 1e-6;
    const slope = (waterToLetDown(spirit, 0.3 + h) - waterToLetDown(spirit, 0.3 - h)) / (2 * h);
    near(slope, -0.5 / 0.09, 1e-8);
  });
  it.each([
    [() => waterToLetDown(liquidOfMass(1, 0.3), 0.4), "target-outside"],
    [() => waterToLetDown(liquidOfMass(1, 0.3), 0), "target-outside"],
    [() => waterToLetDown(liquidOfMass(0, 0.3), 0.2), "nothing-there"],
    [() => massToFortify(liquidOfMass(1, 0.3), 0.9, 0.2), "target-outside"],
    [() => massToFortify(liquidOfMass(1, 0.3), 0.9, 0.95), "target-outside"],
    [() => massToFortify(liquidOfMass(1, 0.3), 0.9, 0.9), "target-outside"],
    [() => marry([liquidOfMass(-1, 0.3)]), "negative-amount"],
    [() => marry([]), "nothing-there"],
    [() => sweeten(liquidOfVolume(1e-3, massFraction(0.61)), 0.1), "out-of-range"],
    [() => sweeten(liquidOfVolume(1e-3, massFraction(0.4)), 0.51), "out-of-range"],
  ])("refuses what cannot be: %s", (run, expected) => {
    expect(code(run)).toBe(expected);
  });
});

describe("making up", () => {
  it("comes to the total in mass and alcohol", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.001, max: 0.2, noNaN: true }), { minLength: 1, maxLength: 5 }),
        fc.double({ min: 0.2, max: 0.8, noNaN: true }),
        (amounts, q) => {
          const parts = amounts.map((v) => liquidOfVolume(v, massFraction(q)));
          const target = liquidOfVolume(6, massFraction(0.42));
          const made = makeUp(target, parts, massFraction(0.96));
          const whole = together([...parts, made.spirit, { ethanol: 0, water: made.water }]);
          near(whole.ethanol, target.ethanol, 1e-12);
          near(massOf(whole), massOf(target), 1e-12);
          const apart =
            parts.reduce((sum, p) => sum + volumeOf(p), 0) + volumeOf(made.spirit) + waterVolume(made.water);
          near(apart - made.contraction, 6, 1e-9);
        },
      ),
    );
  });
  it("shows by its sign what there is too much of", () => {
    const strong: Liquid = liquidOfVolume(2, massFraction(0.8));
    expect(
      makeUp(liquidOfVolume(3, massFraction(0.4)), [strong], massFraction(0.96)).spirit.ethanol,
    ).toBeLessThan(0);
    const weak: Liquid = liquidOfVolume(2.9, massFraction(0.1));
    expect(makeUp(liquidOfVolume(3, massFraction(0.4)), [weak], massFraction(0.96)).water).toBeLessThan(0);
  });
  it("offers a total and a strength that can be made up, and no smaller and no nearer one", () => {
    const by = massFraction(0.96);
    const missing = (target: Liquid, dosed: Liquid): number => {
      const made = makeUp(target, [dosed], by);
      return Math.min(made.spirit.ethanol, made.water) / massOf(target);
    };
    fc.assert(
      fc.property(
        fc.oneof(
          fc.double({ min: 0.5, max: 4, noNaN: true }),
          fc.double({ min: 1.9, max: 2.05, noNaN: true }),
        ),
        fc.double({ min: 0.05, max: 0.9, noNaN: true }),
        fc.boolean(),
        (volume, q, byMass) => {
          const dosed = liquidOfVolume(volume, massFraction(q));
          const to = massFraction(0.42);
          const asked = liquidOfVolume(2, to);
          if (missing(asked, dosed) >= 0) return;
          const amount = byMass ? { mass: massOf(asked) } : { volume: 2 };
          const { least, nearest } = insteadOf(amount, to, [dosed], by);
          expect(missing(least!, dosed)).toBeGreaterThan(-1e-9);
          expect(missing(liquidOfMass(0.99 * massOf(least!), to), dosed)).toBeLessThan(0);
          const at = (p: number): Liquid => (byMass ? liquidOfMass(massOf(asked), p) : liquidOfVolume(2, p));
          if (nearest === undefined) {
            // The parts alone are more: no strength at all comes out.
            for (let p = 0.01; p < 1; p += 0.01) expect(missing(at(p), dosed)).toBeLessThan(0);
          } else {
            expect(missing(at(nearest), dosed)).toBeGreaterThan(-1e-9);
            expect(missing(at(nearest + 0.01 * (to - nearest)), dosed)).toBeLessThan(0);
          }
        },
      ),
    );
  });
});

describe("sweet spirit", () => {
  it("is the spirit itself without sugar", () => {
    const spirit = liquidOfVolume(1e-3, massFraction(0.35));
    const made = sweeten(spirit, 0);
    expect(made.volume).toBe(volumeOf(spirit));
    expect(made.strength).toBeCloseTo(0.35, 12);
    expect(made.sugarPerVolume).toBe(0);
  });
  it("comes apart again into the masses that made it", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 0.6, noNaN: true }),
        fc.double({ min: 0.001, max: 0.4, noNaN: true }),
        (q, sugar) => {
          const spirit = liquidOfVolume(1e-3, massFraction(q));
          const made = sweeten(spirit, sugar);
          const whole = massOf(spirit) + sugar;
          const masses = sweetLiquid({ byVolume: made.strength }, sugar / whole);
          near(masses.ethanol * whole, spirit.ethanol, 1e-9);
          near(masses.water * whole, spirit.water, 1e-9);
        },
      ),
    );
  });
  it("weighs what its volume and strength say without sugar", () => {
    const masses = sweetLiquid({ byVolume: 0.4 }, 0);
    expect(masses.ethanol).toBeCloseTo(massFraction(0.4), 12);
    expect(spiritDensity(masses.ethanol)).toBeCloseTo(948.045, 3);
  });
});
