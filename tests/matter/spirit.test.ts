import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  densityByFlask,
  densityInAir,
  massFraction,
  massFractionFromAlcoholometer,
  massFractionFromDensity,
  massFractionFromProof,
  proofFraction,
  spiritDensity,
  volumeFraction,
} from "../../src/matter/spirit";
import { Trouble } from "../../src/quantity";

const share = fc.double({ min: 0, max: 1, noNaN: true });
const celsius = fc.double({ min: -20, max: 40, noNaN: true });
const kelvin = (t: number) => t + 273.15;
const refused = (run: () => unknown): string => {
  try {
    run();
  } catch (error) {
    if (error instanceof Trouble) return error.code;
    throw error;
  }
  return "no trouble";
};

describe("density of spirit", () => {
  // Computed when the formula was written down; other public copies of it carry misprints.
  it.each([
    [0.4, 20, 935.145],
    [0.5, 20, 913.771],
    [0.5, 40, 897.44],
    [0.2, -10, 977.638],
    [1, 0, 806.215],
    [1, 40, 771.932],
  ])("of mass fraction %d at %d °C is %d", (p, t, density) => {
    expect(spiritDensity(p, kelvin(t))).toBeCloseTo(density, 3);
  });
  it("falls strictly with the strength at every temperature", () => {
    for (const t of [-20, -10, 0, 5, 10, 20, 30, 40]) {
      for (let i = 1; i <= 1000; i++) {
        expect(spiritDensity(i / 1000, kelvin(t))).toBeLessThan(spiritDensity((i - 1) / 1000, kelvin(t)));
      }
    }
  });
  it("comes back from the density over the whole range", () => {
    fc.assert(
      fc.property(share, celsius, (p, t) => {
        const back = massFractionFromDensity(spiritDensity(p, kelvin(t)), kelvin(t));
        // The curve is flattest near 5 % (0.15 kg/m³ for 0.001), where 1e-12 of density is 1e-10 of strength.
        expect(Math.abs(back - p)).toBeLessThan(2e-10);
      }),
    );
  });
  it("expands as the spirit's own table says: factors to 20 °C", () => {
    const factor = (q: number, t: number) =>
      spiritDensity(massFraction(q), kelvin(t)) / spiritDensity(massFraction(q));
    expect(factor(0.4, 10)).toBeCloseTo(1.00683, 5);
    expect(factor(0.4, 30)).toBeCloseTo(0.99277, 5);
    expect(factor(0.6, 10)).toBeCloseTo(1.00869, 5);
    expect(factor(0.96, 30)).toBeCloseTo(0.98923, 5);
  });
});

describe("strengths", () => {
  it("go from volume to mass and back over the whole range", () => {
    fc.assert(
      fc.property(share, (q) => {
        expect(Math.abs(volumeFraction(massFraction(q)) - q)).toBeLessThan(5e-13);
      }),
    );
  });
  it("go from proof to mass and back over the whole range", () => {
    fc.assert(
      fc.property(share, (q) => {
        expect(Math.abs(proofFraction(massFractionFromProof(q)) - q)).toBeLessThan(5e-13);
      }),
    );
  });
  it("keep pure water and pure ethanol exactly", () => {
    for (const end of [0, 1]) {
      expect(massFraction(end)).toBe(end);
      expect(volumeFraction(end)).toBe(end);
      expect(massFractionFromProof(end)).toBe(end);
    }
  });
  it("rise with one another", () => {
    fc.assert(
      fc.property(share, share, (a, b) => {
        fc.pre(Math.abs(a - b) > 1e-9);
        expect(Math.sign(massFraction(a) - massFraction(b))).toBe(Math.sign(a - b));
      }),
    );
  });
  // The reference's table at 20 °C, computed when the formula was written down.
  it.each([
    [5, 3.982],
    [15, 12.093],
    [20, 16.214],
    [37.5, 31.091],
    [40, 33.3],
    [60, 52.088],
    [80, 73.48],
    [96, 93.838],
  ])("%d %%vol is %d %%mas", (vol, mas) => {
    expect(100 * massFraction(vol / 100)).toBeCloseTo(mas, 3);
  });
});

describe("the alcoholometer", () => {
  it("needs no correction at 20 °C", () => {
    fc.assert(
      fc.property(share, (q) => {
        expect(Math.abs(massFractionFromAlcoholometer(q, 293.15) - massFraction(q))).toBeLessThan(2e-10);
      }),
    );
  });
  it.each([
    [40, 25, 37.99],
    [40, 15, 42.0],
    [60, 25, 58.24],
    [60, 30, 56.45],
    [95, 25, 93.88],
  ])("read %d at %d °C means %d %%vol", (reading, t, strength) => {
    expect(100 * volumeFraction(massFractionFromAlcoholometer(reading / 100, kelvin(t)))).toBeCloseTo(
      strength,
      1,
    );
  });
  it("reads high in warm spirit, so the truth is lower", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 0.95, noNaN: true }),
        fc.double({ min: 20.5, max: 35, noNaN: true }),
        (q, t) => {
          expect(volumeFraction(massFractionFromAlcoholometer(q, kelvin(t)))).toBeLessThan(q);
        },
      ),
    );
  });
});

describe("a weighed flask", () => {
  it("undoes the buoyancy of the air: water against water is water", () => {
    expect(densityByFlask(99.72, 99.72)).toBeCloseTo(spiritDensity(0), 9);
  });
  it("gives back the density that was weighed in air", () => {
    fc.assert(
      fc.property(share, celsius, (p, t) => {
        const inAir = (d: number) => d - 1.2;
        const found = densityByFlask(
          inAir(spiritDensity(p, kelvin(t))),
          inAir(spiritDensity(0, kelvin(t))),
          kelvin(t),
        );
        expect(found).toBeCloseTo(spiritDensity(p, kelvin(t)), 9);
      }),
    );
  });
  it("shows about 1.05 to 1.1 kg/m³ less in air", () => {
    expect(spiritDensity(0.4) - densityInAir(spiritDensity(0.4))).toBeCloseTo(1.06, 2);
  });
});

describe("outside its range spirit is refused, with the range", () => {
  it.each([
    [() => spiritDensity(1.01), "out-of-range"],
    [() => spiritDensity(-0.01), "out-of-range"],
    [() => spiritDensity(Number.NaN), "out-of-range"],
    [() => spiritDensity(0.4, 273.15 + 40.1), "out-of-range"],
    [() => spiritDensity(0.4, 273.15 - 20.1), "out-of-range"],
    [() => massFraction(1.2), "out-of-range"],
    [() => massFractionFromDensity(1001), "out-of-range"],
    [() => massFractionFromDensity(780), "out-of-range"],
    [() => massFractionFromAlcoholometer(0, 273.15 + 10), "no trouble"],
  ])("%s", (run, code) => {
    expect(refused(run)).toBe(code);
  });
});
