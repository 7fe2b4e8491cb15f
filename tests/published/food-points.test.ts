import { describe, expect, it } from "vitest";
import { answered, comparisons, mixturePoints, sugarHoneyPoints } from "./food-comparisons";

const functions = [...new Set(comparisons.map((c) => c.of))];

describe("published points of sugar, honey, water activity, freezing and blending", () => {
  for (const of of functions) {
    describe(of, () => {
      for (const c of comparisons.filter((one) => one.of === of)) {
        it(`${c.label} is ${c.published} ${c.unit}${c.fitted === true ? " (the code only: this row was fitted or computed)" : ""}`, () => {
          const off = Math.abs(c.computed - c.published);
          if (c.disagreement === undefined) {
            expect(off, c.source).toBeLessThanOrEqual(c.tolerance + 1e-12);
          } else {
            expect(off, `no longer a disagreement: ${c.disagreement.because}`).toBeGreaterThan(c.tolerance);
            expect(off, c.disagreement.because).toBeLessThanOrEqual(c.disagreement.within);
          }
        });
      }
    });
  }

  it("leave out only what no function here answers", () => {
    const left = new Set(
      [...sugarHoneyPoints, ...mixturePoints].map((p) => p.quantity).filter((q) => !answered.has(q)),
    );
    expect([...left].sort()).toEqual([
      // Ethanol's own index and the strength behind sugar: tested with the strengths.
      "boils_at_sugar_and_strength",
      "ethanol_henry_constant_water",
      "ethanol_salting_out_constant",
      "ethanol_solution_nD",
      // A rule of brewing in which salts and acids are a constant: freezing.test.ts.
      "ice_point_beer",
      // Where salt and ice come down together: freezing.test.ts.
      "ice_point_salt_eutectic",
      "solids_hide_strength",
      "strength_from_density_and_index",
      // Nodes for a remark, no function: keeping.test.ts.
      "sucrose_saturation",
      "sweeten",
      // Propylene glycol is no food here.
      "water_activity_raoult",
      // Ranges and means of many wines and spirits: keeping.test.ts.
      "water_activity_spirits_range",
      "water_activity_wine_mean",
    ]);
  });
});
