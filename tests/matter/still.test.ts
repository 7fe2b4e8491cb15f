import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fractionOf, type Liquid, liquidOfVolume, massOf, volumeOf } from "../../src/matter/liquid";
import { massFraction, volumeFraction } from "../../src/matter/spirit";
import {
  type End,
  isobaricStill,
  isothermalStill,
  runCuts,
  runStill,
  stallFraction,
} from "../../src/matter/still";
import {
  bubbleTemperature,
  massFractionOfMoles,
  moleFraction,
  vapourFraction,
} from "../../src/matter/vapour";
import { Trouble } from "../../src/quantity";

const litre = (percent: number, litres = 1): Liquid =>
  liquidOfVolume(litres / 1000, massFraction(percent / 100));
const strengths = fc.double({ min: 0.5, max: 94, noNaN: true });
const pressures = fc.double({ min: 4000, max: 105_000, noNaN: true });
const code = (run: () => unknown): string => {
  try {
    run();
  } catch (error) {
    if (error instanceof Trouble) return error.code;
    throw error;
  }
  return "no trouble";
};
const near = (found: number, wanted: number, relative: number) =>
  expect(Math.abs(found - wanted)).toBeLessThanOrEqual(relative * Math.max(1e-12, Math.abs(wanted)));

describe("a run keeps the books", () => {
  it("adds up in mass and alcohol to 1e-9", () => {
    fc.assert(
      fc.property(
        strengths,
        pressures,
        fc.double({ min: 0.01, max: 0.9, noNaN: true }),
        fc.double({ min: 0, max: 0.3, noNaN: true }),
        (q, pascal, share, lost) => {
          const charge = litre(q);
          const end: End = { type: "mass", mass: share * (1 - lost) * massOf(charge) };
          const run = runStill(isobaricStill(pascal), charge, end, lost);
          near(run.taken.ethanol + run.left.ethanol + run.lost.ethanol, charge.ethanol, 1e-9);
          near(massOf(run.taken) + massOf(run.left) + massOf(run.lost), massOf(charge), 1e-9);
          near(massOf(run.taken), end.mass, 1e-9);
        },
      ),
      { numRuns: 40 },
    );
  });
  it("reaches the volume, strength, alcohol or temperature that was asked", () => {
    const charge = litre(40);
    const still = isobaricStill(5000);
    near(volumeOf(runStill(still, charge, { type: "volume", volume: 3e-4 }).taken), 3e-4, 1e-10);
    near(fractionOf(runStill(still, charge, { type: "strength", left: 0.05 }).left), 0.05, 1e-10);
    near(runStill(still, charge, { type: "ethanol", left: 0.1 }).left.ethanol, 0.1, 1e-10);
    const warm = runStill(still, charge, { type: "temperature", kelvin: 300 });
    expect(still.temperature(warm.endX)).toBeCloseTo(300, 8);
  });
  it("says the same by take and by leave", () => {
    fc.assert(
      fc.property(
        strengths,
        pressures,
        fc.double({ min: 0.02, max: 0.85, noNaN: true }),
        (q, pascal, share) => {
          const charge = litre(q);
          const taken = runStill(isobaricStill(pascal), charge, { type: "volume", volume: share / 1000 });
          fc.pre(fractionOf(taken.left) > 1e-4);
          const left = runStill(isobaricStill(pascal), charge, {
            type: "strength",
            left: fractionOf(taken.left),
          });
          near(volumeOf(left.taken), share / 1000, 1e-6);
        },
      ),
      { numRuns: 30 },
    );
  });
  it("scales: ten times the charge and the take is ten times the rest", () => {
    const small = runStill(isobaricStill(6000), litre(30), { type: "volume", volume: 2e-4 });
    const large = runStill(isobaricStill(6000), litre(30, 10), { type: "volume", volume: 2e-3 });
    near(large.left.ethanol, 10 * small.left.ethanol, 1e-9);
    near(large.endX, small.endX, 1e-9);
  });
  it("is the same in one go and in jars", () => {
    const charge = litre(45);
    const runs = runCuts(isobaricStill(6000), charge, [{ mass: 0.1 }, { mass: 0.05 }, { mass: 0.15 }]);
    const whole = runStill(isobaricStill(6000), charge, { type: "mass", mass: 0.3 });
    near(runs.at(-1)!.left.ethanol, whole.left.ethanol, 1e-8);
  });
});

describe("a run goes one way", () => {
  it("gets weaker and warmer the more is taken", () => {
    const charge = litre(40);
    let before = { taken: 2, left: 2, warm: 0 };
    for (let share = 0.02; share < 0.9; share += 0.02) {
      const still = isobaricStill(5000);
      const run = runStill(still, charge, { type: "volume", volume: share / 1000 });
      const now = {
        taken: fractionOf(run.taken),
        left: fractionOf(run.left),
        warm: still.temperature(run.endX),
      };
      expect(now.taken).toBeLessThan(before.taken);
      expect(now.left).toBeLessThan(before.left);
      expect(now.warm).toBeGreaterThan(before.warm);
      before = now;
    }
  });
  it("gives stronger distillate from a stronger charge", () => {
    let before = 0;
    for (const q of [1, 5, 10, 20, 40, 60, 80, 90]) {
      const taken = fractionOf(
        runStill(isobaricStill(5000), litre(q), { type: "volume", volume: 2e-4 }).taken,
      );
      expect(taken).toBeGreaterThan(before);
      before = taken;
    }
  });
  it("holds its limits: water stays water, pure alcohol pure, a first drop is the vapour", () => {
    const water = runStill(isobaricStill(4000), litre(0), { type: "volume", volume: 5e-4 });
    expect(water.taken.ethanol).toBe(0);
    near(massOf(water.taken), massOf(litre(0)) / 2, 1e-9);
    const pure = runStill(isobaricStill(10_000), litre(100), { type: "volume", volume: 5e-4 });
    expect(fractionOf(pure.taken)).toBeCloseTo(1, 12);
    const charge = litre(40);
    const drop = runStill(isobaricStill(5000), charge, { type: "mass", mass: 1e-7 });
    const x = moleFraction(fractionOf(charge));
    const first = massFractionOfMoles(vapourFraction(x, bubbleTemperature(x, 5000)));
    expect(fractionOf(drop.taken)).toBeCloseTo(first, 5);
  });
});

describe("convergence", () => {
  // An independent route: ln(W0/W) = integral of dx/(y - x), by Gauss–Legendre on many panels.
  it("agrees with a quadrature to 1e-8", () => {
    const nodes = [0, 0.5384693101056831, 0.906179845938664];
    const weights = [0.5688888888888889, 0.4786286704993665, 0.2369268850561891];
    for (const [q, pascal, left] of [
      [40, 5000, 5],
      [10, 5000, 0.5],
      [60, 101_325, 20],
    ] as const) {
      const charge = litre(q);
      const run = runStill(isobaricStill(pascal), charge, {
        type: "strength",
        left: massFraction(left / 100),
      });
      let sum = 0;
      // Panels even in ln x, where the integrand is smooth.
      const panels = 200;
      const low = Math.log(run.endX);
      const high = Math.log(run.startX);
      for (let i = 0; i < panels; i++) {
        const half = (high - low) / panels / 2;
        const middle = low + (2 * i + 1) * half;
        nodes.forEach((node, k) => {
          for (const sign of node === 0 ? [1] : [1, -1]) {
            const x = Math.exp(middle + sign * node * half);
            const y = vapourFraction(x, bubbleTemperature(x, pascal));
            sum += (weights[k]! * half * x) / (y - x);
          }
        });
      }
      near(run.t, sum, 1e-8);
    }
  });
  it("gives the same bits every time", () => {
    const once = runStill(isobaricStill(5000), litre(40), { type: "volume", volume: 4e-4 });
    const again = runStill(isobaricStill(5000), litre(40), { type: "volume", volume: 4e-4 });
    expect(again).toEqual(once);
  });
});

describe("assumptions about a real still", () => {
  const strengthOver = (q: number, pascal: number, departures: Parameters<typeof isobaricStill>[1]) =>
    100 *
    volumeFraction(
      massFractionOfMoles(isobaricStill(pascal, departures).goesOver(moleFraction(massFraction(q / 100)))),
    );
  // Computed when the points were gathered: one-step partial condensation, and pot liquid carried over by mass.
  it.each([
    [10, 101_325, [56.3, 57.8, 59.5, 63.0, 66.7]],
    [40, 101_325, [79.6, 80.7, 81.7, 83.3, 84.5]],
    [10, 5000, [51.8, 53.3, 54.9, 58.3, 62.0]],
    [20, 5000, [68.7, 70.2, 71.8, 74.9, 77.9]],
    [40, 5000, [81.4, 82.6, 83.7, 85.5, 86.7]],
  ] as const)("reflux strengthens what goes over from %d %%vol at %d Pa", (q, pascal, over) => {
    [0, 0.05, 0.1, 0.2, 0.3].forEach((reflux, i) => {
      expect(Math.abs(strengthOver(q, pascal, { reflux }) - over[i]!)).toBeLessThan(0.06);
    });
  });
  it("carried-over pot liquid weakens it", () => {
    for (const [q, over] of [
      [40, [80.7, 79.6, 77.8]],
      [10, [51.0, 49.9, 48.0]],
    ] as const) {
      [0.02, 0.05, 0.1].forEach((carryOver, i) => {
        expect(Math.abs(strengthOver(q, 5000, { carryOver }) - over[i]!)).toBeLessThan(0.06);
      });
    }
  });
  it("keeps the books with reflux and carry-over too", () => {
    const charge = litre(30);
    const run = runStill(isobaricStill(5000, { reflux: 0.2, carryOver: 0.05 }), charge, {
      type: "mass",
      mass: 0.3,
    });
    near(run.taken.ethanol + run.left.ethanol, charge.ethanol, 1e-10);
  });
});

describe("a pot held at one temperature", () => {
  it("needs ever less pressure", () => {
    const still = isothermalStill(295.15);
    let last = Number.POSITIVE_INFINITY;
    for (const left of [0.3, 0.2, 0.1, 0.05, 0.01]) {
      const run = runStill(still, litre(40), { type: "strength", left });
      expect(still.pressure(run.endX)).toBeLessThan(last);
      last = still.pressure(run.endX);
    }
  });
});

describe("the bath that gives no more", () => {
  const x0 = moleFraction(massFraction(0.4));
  it("stops the pot where it has warmed to it", () => {
    const still = isobaricStill(5000);
    const x = stallFraction(still, x0, 301.15)!;
    expect(still.temperature(x)).toBeCloseTo(301.15, 9);
  });
  it("never stops it when it can boil water, and at once when it cannot begin", () => {
    expect(stallFraction(isobaricStill(5000), x0, 310)).toBeUndefined();
    expect(stallFraction(isobaricStill(5000), x0, 290)).toBe(x0);
  });
});

describe("a run that cannot be is refused", () => {
  const still = isobaricStill(5000);
  it.each([
    [() => runStill(still, litre(40), { type: "volume", volume: 1e-3 }), "more-than-charge"],
    [() => runStill(still, litre(40), { type: "mass", mass: 2 }), "more-than-charge"],
    [() => runStill(still, litre(40), { type: "strength", left: 0.5 }), "not-reached"],
    [() => runStill(still, litre(40), { type: "strength", left: 0 }), "not-reached"],
    [() => runStill(still, litre(0), { type: "strength", left: 0.01 }), "not-reached"],
    [() => runStill(still, litre(40), { type: "temperature", kelvin: 320 }), "not-reached"],
  ])("%s", (run, expected) => {
    expect(code(run)).toBe(expected);
  });
});
