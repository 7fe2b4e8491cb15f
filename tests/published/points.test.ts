import { describe, expect, it } from "vitest";
import { vocabulary } from "../../src/vocabulary";
import { comparisons } from "./accuracy";
import { allowed, deviation } from "./comparison";

// Every published number beside what the function of the language answers; docs/accuracy.md is made of the same list.
// Sources and honesty marks stand beside the numbers in points/*.json. Many tolerances were set by whoever gathered the
// points, with the residuals in view: agreement shows correct code and plausible physics, not a blind prediction.
describe.each([...vocabulary.keys()].filter((name) => comparisons.some((c) => c.of === name)))(
  "%s",
  (name) => {
    it.each(comparisons.filter((c) => c.of === name))(
      "$point, $label is $published $unit ($mark, $worth)",
      (c) => {
        const off = Math.abs(deviation(c));
        expect(off).not.toBeNaN();
        if (c.disagreement === undefined) {
          expect(off, c.source).toBeLessThanOrEqual(allowed(c) + 1e-12);
        } else {
          expect(off, `no longer a disagreement: ${c.disagreement.because}`).toBeGreaterThan(allowed(c));
          expect(off, c.disagreement.because).toBeLessThanOrEqual(c.disagreement.within);
        }
      },
    );
  },
);

it("answers for functions of the language only", () => {
  expect([...new Set(comparisons.map((c) => c.of))].filter((name) => !vocabulary.has(name))).toEqual([]);
});
