import { expect, it } from "vitest";
import { alike, decimalsOf, measured, short } from "../../src/app/view/short";

it.each([
  [10.3125, 5, "10.313"],
  [1234567.8, 5, "1234568"],
  [-0.000123456, 3, "−0.000123"],
  [Number.NaN, 5, ""],
])("%f to %i digits is %s", (x, digits, written) => expect(short(x, digits)).toBe(written));

it.each([
  [464, 2.4031, "464.0 ± 2.4"],
  [142, 0.80004, "142.00 ± 0.80"],
  [1981.2, 19.6, "1981 ± 20"],
  [52340.6, 1234, "52341 ± 1200"],
  [-3.2718, 0.0996, "−3.27 ± 0.10"],
  [12, 9.96, "12 ± 10"],
])("%f with %f is told as %s", (x, spread, written) => {
  const told = measured(x, spread);
  expect(`${told.number} ± ${told.spread}`).toBe(written);
});

it("shows numbers beside each other with the decimals of the one that needs most", () => {
  expect(decimalsOf([0.412, 0.4315, 398 / 950])).toBe(5);
  expect(decimalsOf([33.6, 15.75, 13.2])).toBe(2);
  expect(decimalsOf([1200, Number.NaN])).toBe(0);
  expect(decimalsOf([])).toBe(0);
});

it("writes them alike, and keeps what is too small for decimals", () => {
  expect([33.6, -15.75].map(alike([33.6, -15.75]))).toEqual(["33.60", "−15.75"]);
  expect([1.23e-7, 4].map(alike([1.23e-7, 4]))).toEqual(["1.23e−7", "4"]);
  expect(alike([1, Number.NaN])(Number.NaN)).toBe("");
});
