import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ethanolBoilingTemperature, ethanolPressure } from "../../src/matter/ethanol";
import {
  bubblePressure,
  bubbleTemperature,
  condensedFraction,
  dewPoint,
  dewPressure,
  lnActivityCoefficients,
  massFractionOfMoles,
  moleFraction,
  vapourFraction,
} from "../../src/matter/vapour";
import { waterBoilingTemperature, waterPressure } from "../../src/matter/water";

const inside = fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true });
const warm = fc.double({ min: 0, max: 100, noNaN: true }).map((t) => t + 273.15);

describe("activity coefficients", () => {
  // Computed when the model was fitted.
  it.each([
    [0.1, 25, 1.1065519933, 0.0127223695, 5.2704166626, 0.4517760181],
    [0.1633416, 50, 0.9539809191, 0.056608969, 23.4432956151, 0.5334817968],
    [0.5, 78.15, 0.2143827891, 0.3966244748, 95.1269115661, 0.656352218],
    [0.9, 30, 0.0045523215, 0.8236976899, 10.4264137433, 0.9071746748],
  ])("at x %d and %d °C", (x, t, ethanol, water, kilopascal, y) => {
    const [e, w] = lnActivityCoefficients(x, t + 273.15);
    expect(e).toBeCloseTo(ethanol, 9);
    expect(w).toBeCloseTo(water, 9);
    expect(bubblePressure(x, t + 273.15) / 1000).toBeCloseTo(kilopascal, 8);
    expect(vapourFraction(x, t + 273.15)).toBeCloseTo(y, 9);
  });
  it("meet the Gibbs–Duhem equation", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 0.999, noNaN: true }), warm, (x, kelvin) => {
        const h = 1e-6;
        const [e1, w1] = lnActivityCoefficients(x + h, kelvin);
        const [e0, w0] = lnActivityCoefficients(x - h, kelvin);
        expect(Math.abs((x * (e1 - e0) + (1 - x) * (w1 - w0)) / (2 * h))).toBeLessThan(1e-7);
      }),
    );
  });
  it("are 1 for what is pure, and the known limits for what is endlessly thin", () => {
    expect(lnActivityCoefficients(1, 300)[0]).toBe(0);
    expect(lnActivityCoefficients(0, 300)[1]).toBe(0);
    for (const [t, ethanol, water] of [
      [20, 3.47, 2.42],
      [25, 3.73, 2.45],
      [50, 4.91, 2.55],
      [100, 6.03, 2.62],
    ] as const) {
      expect(Math.exp(lnActivityCoefficients(0, t + 273.15)[0])).toBeCloseTo(ethanol, 2);
      expect(Math.exp(lnActivityCoefficients(1, t + 273.15)[1])).toBeCloseTo(water, 2);
    }
  });
});

describe("boiling", () => {
  it("is that of water and ethanol at the ends", () => {
    for (const pascal of [3000, 10_000, 101_325]) {
      expect(bubbleTemperature(0, pascal)).toBeCloseTo(waterBoilingTemperature(pascal), 8);
      expect(bubbleTemperature(1, pascal)).toBeCloseTo(ethanolBoilingTemperature(pascal), 8);
    }
    expect(vapourFraction(0, 300)).toBe(0);
    expect(vapourFraction(1, 300)).toBe(1);
  });
  it("inverts: temperature of the pressure of a temperature", () => {
    fc.assert(
      fc.property(inside, warm, (x, kelvin) => {
        expect(Math.abs(bubbleTemperature(x, bubblePressure(x, kelvin)) - kelvin)).toBeLessThan(1e-9);
      }),
    );
  });
  it("does not depend on where the search starts", () => {
    fc.assert(
      fc.property(
        inside,
        fc.double({ min: 1000, max: 110_000, noNaN: true }),
        fc.double({ min: 270, max: 370, noNaN: true }),
        (x, pascal, near) => {
          expect(
            Math.abs(bubbleTemperature(x, pascal, undefined, near) - bubbleTemperature(x, pascal)),
          ).toBeLessThan(1e-9);
        },
      ),
    );
  });
  it("needs more pressure when it is warmer", () => {
    fc.assert(
      fc.property(inside, warm, (x, kelvin) => {
        expect(bubblePressure(x, kelvin + 0.01)).toBeGreaterThan(bubblePressure(x, kelvin));
      }),
    );
  });
  it("gives ever richer vapour over ever richer liquid", () => {
    for (const pascal of [3000, 10_000, 50_000, 101_325]) {
      let last = -1;
      for (let i = 0; i <= 400; i++) {
        const x = i / 400;
        const y = vapourFraction(x, bubbleTemperature(x, pascal));
        expect(y).toBeGreaterThan(last);
        last = y;
      }
    }
  });
  it("goes back from vapour to liquid at the dew point and at the dew pressure", () => {
    fc.assert(
      fc.property(inside, fc.double({ min: 2000, max: 110_000, noNaN: true }), (y, pascal) => {
        const dew = dewPoint(y, pascal);
        expect(vapourFraction(dew.x, dew.kelvin)).toBeCloseTo(y, 9);
        const at = dewPressure(y, dew.kelvin);
        expect(at.pascal / pascal).toBeCloseTo(1, 7);
      }),
    );
  });
});

describe("pure liquids", () => {
  it("come back from their vapour pressure", () => {
    fc.assert(
      fc.property(fc.double({ min: -10, max: 130, noNaN: true }), (t) => {
        const kelvin = t + 273.15;
        expect(Math.abs(waterBoilingTemperature(waterPressure(kelvin)) - kelvin)).toBeLessThan(1e-9);
        expect(Math.abs(ethanolBoilingTemperature(ethanolPressure(kelvin)) - kelvin)).toBeLessThan(1e-9);
      }),
    );
  });
});

describe("fractions", () => {
  it("go from mass to moles and back", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (p) => {
        expect(Math.abs(massFractionOfMoles(moleFraction(p)) - p)).toBeLessThan(1e-14);
      }),
    );
  });
});

describe("a condenser", () => {
  // Computed when the model was written down: 80 %vol vapour at 3 kPa.
  it("leaves 0.677996 of a vapour at 12 °C and nothing at 10 °C", () => {
    const z = 0.520041;
    expect(condensedFraction(z, 285.15, 3000)).toBeCloseTo(1 - 0.678, 2);
    expect(condensedFraction(z, 283.15, 3000)).toBe(1);
  });
  it("condenses no less when it is colder or the pressure higher", () => {
    fc.assert(
      fc.property(
        inside,
        fc.double({ min: 265, max: 320, noNaN: true }),
        fc.double({ min: 500, max: 30_000, noNaN: true }),
        (z, kelvin, pascal) => {
          const share = condensedFraction(z, kelvin, pascal);
          expect(share).toBeGreaterThanOrEqual(0);
          expect(share).toBeLessThanOrEqual(1);
          expect(condensedFraction(z, kelvin - 0.5, pascal)).toBeGreaterThanOrEqual(share - 1e-9);
          expect(condensedFraction(z, kelvin, pascal * 1.02)).toBeGreaterThanOrEqual(share - 1e-9);
        },
      ),
    );
  });
  it("is a cliff for a pure vapour", () => {
    expect(condensedFraction(0, 290, waterPressure(290) * 1.0001)).toBe(1);
    expect(condensedFraction(0, 290, waterPressure(290) * 0.9999)).toBe(0);
  });
});
