import { describe, expect, it } from "vitest";
import {
  bothTails,
  compareMeans,
  doubtOfDeviation,
  fitLine,
  mean,
  quantileOfT,
  sampleOf,
  standardDeviation,
} from "../../src/matter/statistics";
import points from "./points/statistics.json";

/** Decimal digits to which two numbers agree (the "log relative error" of the reference data sets). */
const digits = (found: number, certified: number): number =>
  found === certified ? 16 : -Math.log10(Math.abs(found - certified) / Math.abs(certified));

// Sources and honesty marks stand beside the numbers in points/statistics.json.
describe("Student's t", () => {
  it.each(points.t_table.points)("both tails $outside, $freedom degrees of freedom: $t", (p) => {
    expect(Math.abs(quantileOfT(p.outside, p.freedom) - p.t)).toBeLessThanOrEqual(p.tolerance);
  });
  it.each(points.t_table_fine.points)("both tails $outside, $freedom degrees of freedom: $t", (p) => {
    expect(Math.abs(quantileOfT(p.outside, p.freedom) - p.t)).toBeLessThanOrEqual(p.tolerance);
  });
});

describe("Welch's comparison", () => {
  const { sleep, mileage } = points;
  it("agrees with the printed comparison of Student's two drugs", () => {
    const a = sampleOf(sleep.first.map(Number));
    const b = sampleOf(sleep.second.map(Number));
    expect(a.mean).toBeCloseTo(sleep.means[0]!, 12);
    expect(b.mean).toBeCloseTo(sleep.means[1]!, 12);
    expect(a.deviation).toBeCloseTo(sleep.deviations[0]!, 5);
    expect(b.deviation).toBeCloseTo(sleep.deviations[1]!, 5);
    const c = compareMeans(a, b);
    expect(c.t).toBeCloseTo(sleep.t, 4);
    expect(c.freedom).toBeCloseTo(sleep.freedom, 3);
    expect(c.chance).toBeCloseTo(sleep.chance, 5);
    expect(c.low).toBeCloseTo(sleep.low, 6);
    expect(c.high).toBeCloseTo(sleep.high, 6);
  });
  it("agrees with the handbook's comparison of two fleets of cars", () => {
    const c = compareMeans(mileage.first, mileage.second);
    expect(c.t).toBeCloseTo(mileage.t, 5);
    expect(c.freedom).toBeCloseTo(mileage.freedom, 3);
    // Printed to four digits, from means and deviations of seven.
    expect(c.chance / mileage.chance).toBeGreaterThan(0.999);
    expect(c.chance / mileage.chance).toBeLessThan(1.001);
  });
});

describe("mean and standard deviation", () => {
  it("has 13 digits of the certified values for the speed of light", () => {
    const xs = points.speed_of_light.values.map(Number);
    expect(xs).toHaveLength(100);
    expect(digits(mean(xs), points.speed_of_light.mean)).toBeGreaterThan(14);
    expect(digits(standardDeviation(xs), points.speed_of_light.deviation)).toBeGreaterThan(12.5);
  });
  // The decimals of NumAcc3 and 4 do not fit a double: the digits that are left are what any method could keep.
  it.each(points.cancellation.points)("keeps $digits digits of $name", (p) => {
    const xs = [Number(p.start)];
    for (let i = 0; i < p.repeats; i++) xs.push(...p.pattern.map(Number));
    expect(digits(mean(xs), p.mean)).toBeGreaterThan(14);
    expect(digits(standardDeviation(xs), p.deviation)).toBeGreaterThan(p.digits);
  });
  it.each(points.doubt_of_deviation.points)("$n readings fix their deviation to $percent %", (p) => {
    expect(Math.round(100 * doubtOfDeviation(p.n))).toBe(p.percent);
  });
});

describe("straight line", () => {
  it("has 12 digits of the certified line of the ozone monitors", () => {
    const line = fitLine(points.calibration.x, points.calibration.y);
    expect(digits(line.slope, points.calibration.slope)).toBeGreaterThan(12);
    expect(digits(line.intercept, points.calibration.intercept)).toBeGreaterThan(10);
    expect(digits(line.slopeError!, points.calibration.slope_error)).toBeGreaterThan(11);
  });
});

describe("distribution by itself", () => {
  // Closed forms of the t distribution: 1 degree of freedom is Cauchy's, 2 an algebraic function.
  it.each([0.001, 0.3, 1, 4, 60, 5000])("matches the closed forms at t = %d", (t) => {
    expect(digits(bothTails(t, 1), (2 / Math.PI) * Math.atan2(1, t))).toBeGreaterThan(12);
    // 1 - t/√(t² + 2) written without cancellation
    const root = Math.sqrt(t * t + 2);
    expect(digits(bothTails(t, 2), 2 / (root * (root + t)))).toBeGreaterThan(12);
  });
});
