import { describe, expect, it } from "vitest";
import { comesOver, lnHenry, volatility } from "../../src/matter/aroma";
import { aromaCompounds } from "../../src/matter/aroma-data";
import type { AromaCompound } from "../../src/matter/aroma-sources";
import { liquidOfVolume } from "../../src/matter/liquid";
import { massFraction } from "../../src/matter/spirit";
import { bubbleTemperature, moleFraction } from "../../src/matter/vapour";
import points from "./points/aroma.json";

// Sources and honesty marks stand beside the numbers in points/aroma.json. Rows "used when choosing the value" show
// that a choice lies near what was published; they are no independent test.
interface Row {
  readonly quantity: string;
  readonly inputs: Readonly<Record<string, string | number | boolean | readonly number[]>>;
  readonly value: number | readonly number[];
  readonly tolerance?: number;
  readonly tolerance_factor?: number;
}
const rows = points as unknown as readonly Row[];
const rowsOf = (quantity: string) => {
  const found = rows.filter((r) => r.quantity === quantity);
  expect(found.length).toBeGreaterThan(0);
  return found;
};
const compound = (row: Row): AromaCompound => {
  const found = aromaCompounds.find((c) => c.name === row.inputs.compound);
  if (found === undefined) throw new Error(`no ${row.inputs.compound}`);
  return found;
};
const within = (found: number, value: number, factor: number): void => {
  expect(found / value).toBeLessThanOrEqual(factor);
  expect(value / found).toBeLessThanOrEqual(factor);
};
const pot = (percent: number) => moleFraction(massFraction(percent / 100));

describe("volatility of aroma compounds", () => {
  it("has Henry constants in water near the published ones", () => {
    for (const row of rowsOf("henry_constant_water")) {
      const kelvin = 273.15 + (row.inputs.temperature_C as number);
      within(Math.exp(lnHenry(compound(row), 0, kelvin)), row.value as number, row.tolerance_factor!);
    }
  });
  it("has vapour pressures near ones that were not used", () => {
    for (const row of rowsOf("vapour_pressure")) {
      within(compound(row).vapourPressure.value, row.value as number, row.tolerance_factor!);
    }
  });
  it("rises with temperature as monoterpenoids do", () => {
    for (const row of rowsOf("henry_rise_per_10K")) {
      const at = (celsius: number) => lnHenry(compound(row), 0, 273.15 + celsius);
      const rise = Math.exp(at(row.inputs.to_C as number) - at(row.inputs.from_C as number));
      const [low, high] = row.value as readonly [number, number];
      expect(rise).toBeGreaterThanOrEqual(low - row.tolerance!);
      expect(rise).toBeLessThanOrEqual(high + row.tolerance!);
    }
  });
  it("implies solubilities in water in the published ranges", () => {
    const groups = new Map<string, readonly string[]>([
      [
        "monoterpene hydrocarbons",
        ["alpha-pinene", "beta-pinene", "limonene", "myrcene", "gamma-terpinene", "sabinene"],
      ],
      [
        "oxygenated monoterpenes",
        ["linalool", "geraniol", "citral", "alpha-terpineol", "eucalyptol", "menthol", "menthone", "carvone"],
      ],
    ]);
    for (const row of rowsOf("solubility_range")) {
      const [low, high] = row.value as readonly [number, number];
      for (const name of groups.get(row.inputs.group as string)!) {
        const c = aromaCompounds.find((a) => a.name === name)!;
        // p/H is a mole fraction; 55.3 mol of water in a litre, in mmol.
        const millimoles = (c.vapourPressure.value / 1000 / c.henry.value) * 55.34e3;
        expect(millimoles, name).toBeGreaterThan(low / row.tolerance_factor!);
        expect(millimoles, name).toBeLessThan(high * row.tolerance_factor!);
      }
    }
  });
  it("bends between water and ethanol as a measured solubility does", () => {
    for (const row of rowsOf("solubility_over_that_in_water")) {
      const [inWater, inEthanol] = row.inputs.end_values as readonly [number, number];
      // A solute whose Henry constants at the two ends are in the ratio of its measured solubilities.
      const solute: AromaCompound = {
        name: "solute",
        cas: "",
        vapourPressure: { value: 1000, source: "estimated" },
        vaporisation: { value: 0, source: "estimated" },
        henry: { value: inEthanol / inWater, sources: [] },
        henrySlope: { value: 0, source: "estimated" },
        mixing: { inEthanol: 1, bend: row.inputs.bend as number },
      };
      const x = moleFraction((row.inputs.ethanol_mass_percent as number) / 100);
      within(
        Math.exp(lnHenry(solute, 0, 298.15) - lnHenry(solute, x, 298.15)),
        row.value as number,
        row.tolerance_factor!,
      );
    }
  });
  it("is near a published activity model for ethyl acetate", () => {
    for (const row of rowsOf("K_value")) {
      const x = pot(row.inputs.percent_vol as number);
      const pascal = 1000 * (row.inputs.pressure_kPa as number);
      within(
        volatility(compound(row), x, bubbleTemperature(x, pascal), pascal),
        row.value as number,
        row.tolerance_factor!,
      );
    }
  });
  it("falls by orders of magnitude as the spirit gets stronger", () => {
    for (const row of rowsOf("K_ratio_minimum")) {
      const pascal = 1000 * (row.inputs.pressure_kPa as number);
      const at = (percent: number) => {
        const x = pot(percent);
        return volatility(compound(row), x, bubbleTemperature(x, pascal), pascal);
      };
      const ratio = at(row.inputs.percent_vol as number) / at(row.inputs.over_percent_vol as number);
      expect(ratio).toBeGreaterThan(row.value as number);
    }
  });
});

describe("shares that come over", () => {
  it.each(rows.filter((r) => r.quantity === "comes_over_taken"))(
    "$inputs.compound, $inputs.volume_L L of $inputs.percent_vol % vol at $inputs.pressure_kPa kPa, $inputs.take_L L over: $value",
    (row) => {
      const charge = liquidOfVolume(
        (row.inputs.volume_L as number) / 1000,
        massFraction((row.inputs.percent_vol as number) / 100),
      );
      const found = comesOver(compound(row), charge, 1000 * (row.inputs.pressure_kPa as number), {
        type: "volume",
        volume: (row.inputs.take_L as number) / 1000,
      });
      expect(Math.abs(found.taken - (row.value as number))).toBeLessThanOrEqual(row.tolerance!);
    },
  );
});
