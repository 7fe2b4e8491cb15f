import { describe, expect, it } from "vitest";
import {
  add,
  approximate,
  covariance,
  divide,
  exact,
  format,
  multiply,
  parseUnit,
  plainUnit,
  type Quantity,
  quantity,
  type Spread,
  scaleSpread,
  sigma,
  spreadBy,
  subtract,
} from "../../src/quantity";

/**
 * The worked examples of JCGM 100:2008 (Evaluation of measurement data: Guide to the expression of uncertainty
 * in measurement), annex H. The numbers of the examples are quoted from memory of the published tables; the
 * sums of squares printed here were checked against one another. Where the guide prints rounded figures, the
 * comparison is at the printed digits.
 */
const measured = (name: string, value: string, unit: string, by: string, byUnit = unit): Quantity => {
  const of = (text: string, u: string): Quantity =>
    quantity(exact(text), u === "" ? plainUnit : parseUnit(u));
  return spreadBy(of(value, unit), of(by, byUnit), name);
};

describe("JCGM 100:2008, H.1: end-gauge calibration (from memory)", () => {
  // l = ls + d - ls (da * theta + as * dtheta), table H.1.
  const ls = measured("standard", "50.000623", "mm", "0.000025");
  const d = measured("comparison", "0.000215", "mm", "0.0000097");
  const as = measured("expansion", "11.5e-6", "K^-1", "1.2e-6");
  const theta = measured("mean temperature", "-0.1", "K", "0.41");
  const da = measured("difference of expansion", "0", "K^-1", "0.58e-6");
  const dtheta = measured("difference of temperature", "0", "K", "0.029");
  const l = subtract(add(ls, d), multiply(ls, add(multiply(da, theta), multiply(as, dtheta))));

  it("gives the length 50.000 838 mm", () => {
    expect(l.n.v).toBeCloseTo(50.000838, 9);
    expect(l.unit.text).toBe("mm");
  });
  it("gives each printed contribution, in nanometres", () => {
    const nm = (name: string): number => Math.abs(l.spread?.get(name) ?? 0) * 1e6;
    expect(nm("standard")).toBeCloseTo(25, 4);
    expect(nm("comparison")).toBeCloseTo(9.7, 6);
    expect(nm("difference of expansion")).toBeCloseTo(2.9, 4);
    expect(nm("difference of temperature").toFixed(1)).toBe("16.7");
  });
  it("has no first-order contribution where the estimate of the other factor is 0", () => {
    expect(l.spread?.has("expansion")).toBe(false);
    expect(l.spread?.has("mean temperature")).toBe(false);
  });
  it("gives the printed combined standard uncertainty of 32 nm", () => {
    expect((sigma(l.spread) * 1e6).toFixed(0)).toBe("32");
    expect(format(l)).toBe("50.000838 ± 0.000032 mm");
  });
});

describe("JCGM 100:2008, H.2: resistance and reactance measured together (from memory)", () => {
  // Table H.2: five sets of voltage (V), current (mA) and phase angle (rad), each set read together.
  const voltage = [5.007, 4.994, 5.005, 4.99, 4.999];
  const current = [19.663, 19.639, 19.64, 19.685, 19.678];
  const phase = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];

  /**
   * A mean whose inputs are the five sets: the contribution of set k is (x_k - mean) / sqrt(n (n - 1)), so that
   * variances and covariances come to those of the guide's equation (17).
   */
  function meanOf(readings: readonly number[]): Quantity {
    const n = readings.length;
    const mean = readings.reduce((sum, x) => sum + x, 0) / n;
    const parts: Spread = new Map(
      readings.map((x, k) => [`set ${k + 1}`, (x - mean) / Math.sqrt(n * (n - 1))]),
    );
    return quantity(approximate(mean), plainUnit, parts);
  }
  const correlation = (a: Quantity, b: Quantity): number =>
    covariance(a.spread, b.spread) / (sigma(a.spread) * sigma(b.spread));
  const milli = quantity(exact("1000"), plainUnit);

  const v = meanOf(voltage);
  const i = divide(meanOf(current), milli, true);
  const phi = meanOf(phase);
  const cosine = quantity(
    approximate(Math.cos(phi.n.v)),
    plainUnit,
    scaleSpread(phi.spread, -Math.sin(phi.n.v)),
  );
  const sine = quantity(
    approximate(Math.sin(phi.n.v)),
    plainUnit,
    scaleSpread(phi.spread, Math.cos(phi.n.v)),
  );
  const z = divide(v, i);
  const r = multiply(z, cosine);
  const x = multiply(z, sine);

  it("agrees in the means, their uncertainties and correlations", () => {
    expect(v.n.v).toBeCloseTo(4.999, 10);
    expect(i.n.v * 1000).toBeCloseTo(19.661, 10);
    expect(phi.n.v).toBeCloseTo(1.04446, 10);
    expect(sigma(v.spread).toFixed(4)).toBe("0.0032");
    expect((sigma(i.spread) * 1000).toFixed(4)).toBe("0.0095");
    expect(sigma(phi.spread).toFixed(5)).toBe("0.00075");
    expect(correlation(v, i).toFixed(2)).toBe("-0.36");
    expect(correlation(v, phi).toFixed(2)).toBe("0.86");
    expect(correlation(i, phi).toFixed(2)).toBe("-0.65");
  });
  it.each([
    ["resistance", () => r, "127.732", "0.071"],
    ["impedance", () => z, "254.260", "0.236"],
  ])("agrees in the %s", (_, of, value, uncertainty) => {
    expect(of().n.v.toFixed(3)).toBe(value);
    expect(sigma(of().spread).toFixed(3)).toBe(uncertainty);
  });
  it("agrees in the reactance, whose uncertainty the guide prints as that of its second approach", () => {
    expect(x.n.v.toFixed(3)).toBe("219.847");
    // The guide prints 0.295 for both of its approaches. An independent program, given these readings, has 0.295582
    // for the first (propagation with correlations) and 0.295489 for the second (the spread of the five results):
    // the printed figure is the second's. Ours is the first.
    expect(sigma(x.spread)).toBeCloseTo(0.2955816773586382, 12);
    expect(Math.abs(sigma(x.spread) - 0.295)).toBeLessThan(0.001);
    const five = voltage.map((volt, k) => (volt / (current[k]! / 1000)) * Math.sin(phase[k]!));
    expect(sigma(meanOf(five).spread).toFixed(3)).toBe("0.295");
    expect(meanOf(five).n.v.toFixed(3)).toBe("219.847");
  });
  it("agrees in the correlations of the results", () => {
    expect(correlation(r, x).toFixed(3)).toBe("-0.588");
    expect(correlation(r, z).toFixed(3)).toBe("-0.485");
    expect(correlation(x, z).toFixed(3)).toBe("0.993");
  });
});
