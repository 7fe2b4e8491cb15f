import { describe, expect, it } from "vitest";
import { boilingTemperature, cleanPot, firstVapour, sweetPot } from "../../src/matter/boiling";
import { fractionOf, liquidOfVolume, volumeOf } from "../../src/matter/liquid";
import { massFraction, volumeFraction } from "../../src/matter/spirit";
import { isobaricStill, runStill } from "../../src/matter/still";
import { boilingModel } from "./boiling-model";
import points from "./points/boiling.json";
import sweet from "./points/sweet-spirit.json";

// Sources and honesty marks stand beside each number in points/boiling.json. Most published rows belong to sets that the
// vapour model was fitted to, and their tolerances were set knowing its residuals: they show that the code is right and
// the physics plausible. Rows of a "model" are computed when the points were gathered: they test the code alone.
interface Row {
  readonly quantity: string;
  readonly inputs: Readonly<Record<string, number>>;
  readonly value: number;
  readonly tolerance: number;
  readonly source: string;
}
const rows = points as unknown as readonly Row[];
const ofModel = (r: Row) => r.quantity.startsWith("model_");
const ofClosedForm = (r: Row) => r.quantity.startsWith("rayleigh_");
const close = (found: number, row: Row) =>
  expect(Math.abs(found - row.value)).toBeLessThanOrEqual(row.tolerance);

describe("published points about boiling", () => {
  const answerable = rows.filter((r) => !ofModel(r) && !ofClosedForm(r));
  it("leaves no quantity without an answer", () => {
    expect(answerable.length).toBe(60);
    for (const row of answerable) expect(boilingModel.has(row.quantity), row.quantity).toBe(true);
  });
  it.each(answerable)("$quantity $inputs is $value ± $tolerance", (row) => {
    close(boilingModel.get(row.quantity)!(row.inputs), row);
  });
});

describe("runs computed when the points were gathered (relative tolerance 1e-12)", () => {
  it.each(rows.filter(ofModel))("$quantity $inputs is $value", (row) => {
    const i = row.inputs;
    const p = massFraction(i.charge_abv_20C! / 100);
    const pascal = 1000 * i.pressure_kPa!;
    const strength = (q: number) => 100 * volumeFraction(q);
    if (row.quantity === "model_boiling_temperature")
      return close(boilingTemperature(cleanPot(p), pascal) - 273.15, row);
    if (row.quantity === "model_first_distillate_abv")
      return close(strength(firstVapour(cleanPot(p), pascal)), row);
    const charge = liquidOfVolume(i.charge_volume_L_20C! / 1000, p);
    const still = isobaricStill(pascal);
    const run = runStill(still, charge, {
      type: "ethanol",
      left: (1 - i.ethanol_recovered_fraction!) * charge.ethanol,
    });
    const answers: Readonly<Record<string, number>> = {
      model_batch_residue_abv: strength(fractionOf(run.left)),
      model_batch_distillate_abv: strength(fractionOf(run.taken)),
      model_batch_distillate_volume_20C: 1000 * volumeOf(run.taken),
      model_batch_residue_volume_20C: 1000 * volumeOf(run.left),
      model_batch_pot_temperature: still.temperature(run.endX) - 273.15,
    };
    expect(answers[row.quantity], row.quantity).toBeDefined();
    close(answers[row.quantity]!, row);
  });
});

describe("sugar and alcohol together (computed when the points were gathered; no measurements exist)", () => {
  it.each((sweet as unknown as readonly Row[]).filter((r) => r.quantity === "boils_at_sugar_and_strength"))(
    "boils at $value °C: $inputs",
    (row) => {
      const { ethanol_g, water_g, sucrose_g, kappa, pressure_kPa } = row.inputs;
      const pot = sweetPot(ethanol_g!, water_g!, sucrose_g!, kappa);
      close(boilingTemperature(pot, 1000 * pressure_kPa!) - 273.15, row);
    },
  );
});
