import { rootBetween } from "../../src/matter/bracket";
import { ethanolBoilingTemperature, ethanolLatentHeat, ethanolPressure } from "../../src/matter/ethanol";
import { bubblePressure, bubbleTemperature, vapourFraction } from "../../src/matter/vapour";
import { waterPressure } from "../../src/matter/water";

/** What the model answers to a published point about boiling, by the name of its quantity. */

type Inputs = Readonly<Record<string, number>>;
const pascal = (i: Inputs): number => 1000 * i.pressure_kPa!;
const kelvin = (i: Inputs): number => i.temperature_K ?? i.temperature_C! + 273.15;
const boiling = (i: Inputs): number => bubbleTemperature(i.ethanol_mole_fraction!, pascal(i));

/** Where vapour and liquid are alike, above 80 mol %. */
function azeotrope(p: number): number {
  return rootBetween((x) => vapourFraction(x, bubbleTemperature(x, p)) - x, 0.8, 0.999, {
    what: "the azeotrope",
  });
}

export const boilingModel: ReadonlyMap<string, (inputs: Inputs) => number> = new Map([
  ["water_saturation_pressure", (i: Inputs) => waterPressure(kelvin(i)) / 1000],
  ["ethanol_saturation_pressure", (i: Inputs) => ethanolPressure(kelvin(i)) / 1000],
  ["ethanol_normal_boiling_point", (i: Inputs) => ethanolBoilingTemperature(pascal(i)) - 273.15],
  ["ethanol_latent_heat", (i: Inputs) => ethanolLatentHeat(kelvin(i)) / 1000],
  ["boiling_pressure", (i: Inputs) => bubblePressure(i.ethanol_mole_fraction!, kelvin(i)) / 1000],
  ["boiling_temperature", (i: Inputs) => boiling(i) - 273.15],
  [
    "vapour_mole_fraction_ethanol",
    (i: Inputs) =>
      vapourFraction(i.ethanol_mole_fraction!, i.pressure_kPa === undefined ? kelvin(i) : boiling(i)),
  ],
  ["azeotrope_mole_fraction_ethanol", (i: Inputs) => azeotrope(pascal(i))],
  ["azeotrope_temperature", (i: Inputs) => bubbleTemperature(azeotrope(pascal(i)), pascal(i)) - 273.15],
]);
