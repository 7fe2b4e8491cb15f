import { expect, it } from "vitest";
import { bothTails } from "../../src/matter/statistics";

/** Decimal digits to which two numbers agree. */
const digits = (found: number, exact: number): number =>
  found === exact ? 16 : -Math.log10(Math.abs(found - exact) / Math.abs(exact));

// Closed forms of the t distribution: 1 degree of freedom is Cauchy's, 2 an algebraic function. Tables and certified
// values are in points.test.ts.
it.each([0.001, 0.3, 1, 4, 60, 5000])("the t distribution matches its closed forms at t = %d", (t) => {
  expect(digits(bothTails(t, 1), (2 / Math.PI) * Math.atan2(1, t))).toBeGreaterThan(12);
  // 1 - t/√(t² + 2) written without cancellation
  const root = Math.sqrt(t * t + 2);
  expect(digits(bothTails(t, 2), 2 / (root * (root + t)))).toBeGreaterThan(12);
});
