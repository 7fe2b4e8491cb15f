import { describe, expect, it } from "vitest";
import { runStill, type Still } from "../../src/matter/still";
import { massFractionOfMoles } from "../../src/matter/vapour";
import { distillingModel, elsewhere } from "./distilling-model";
import closed from "./points/boiling.json";
import points from "./points/distilling.json";

// What real stills did. Sources and honesty marks stand beside each number in points/distilling.json. None of these
// runs was used to fit the model, but the tolerances were set after seeing it: agreement shows plausible physics, not a
// blind prediction. No measured vacuum run with strengths was found: the vacuum rows check temperatures only.
interface Row {
  readonly quantity: string;
  readonly inputs: Readonly<Record<string, number>>;
  readonly value: number;
  readonly tolerance: number;
}
const rows = points as unknown as readonly Row[];

describe("published runs", () => {
  const answerable = rows.filter((r) => !(elsewhere as readonly string[]).includes(r.quantity));
  it("leaves no quantity without an answer", () => {
    expect(answerable.length).toBe(34);
    for (const row of answerable) expect(distillingModel.has(row.quantity), row.quantity).toBe(true);
  });
  it.each(answerable)("$quantity $inputs is $value ± $tolerance", (row) => {
    expect(Math.abs(distillingModel.get(row.quantity)!(row.inputs) - row.value)).toBeLessThanOrEqual(
      row.tolerance,
    );
  });
});

describe("the closed form at constant volatility", () => {
  const alike = (alpha: number): Still => ({
    goesOver: (x) => (alpha * x) / (1 + (alpha - 1) * x),
    temperature: () => 300,
    pressure: () => 1e4,
  });
  it.each((closed as unknown as readonly Row[]).filter((r) => r.quantity.startsWith("rayleigh_")))(
    "$quantity $inputs is $value",
    (row) => {
      const { alpha, x0, ethanol_recovered_fraction } = row.inputs;
      const p = massFractionOfMoles(x0!);
      const charge = { ethanol: p, water: 1 - p };
      const run = runStill(alike(alpha!), charge, {
        type: "ethanol",
        left: (1 - ethanol_recovered_fraction!) * p,
      });
      const moles = (l: { ethanol: number; water: number }) =>
        [l.ethanol / 46.06844, l.water / 18.015268] as const;
      const [e, w] = moles(run.taken);
      const answers: Readonly<Record<string, number>> = {
        rayleigh_constant_alpha_remaining_moles_fraction: Math.exp(-run.t),
        rayleigh_constant_alpha_residue_x: run.endX,
        rayleigh_constant_alpha_distillate_x: e / (e + w),
      };
      expect(Math.abs(answers[row.quantity]! - row.value)).toBeLessThanOrEqual(row.tolerance);
    },
  );
});
