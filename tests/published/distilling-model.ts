import { boilingTemperature, cleanPot, firstVapour, sweetPot } from "../../src/matter/boiling";
import { rootBetween } from "../../src/matter/bracket";
import { follow } from "../../src/matter/integration";
import { fractionOf, liquidOfMass, liquidOfVolume, volumeOf } from "../../src/matter/liquid";
import { massFraction, volumeFraction } from "../../src/matter/spirit";
import { type End, isobaricStill, runStill } from "../../src/matter/still";
import { dewPoint, massFractionOfMoles, moleFraction } from "../../src/matter/vapour";
import { waterBoilingTemperature } from "../../src/matter/water";

/** What the model answers to a published point about a run, by the name of its quantity. */

type Inputs = Readonly<Record<string, number>>;
const pascal = (i: Inputs): number => 1000 * i.pressure_kPa!;
const byVolume = (percent: number): number => massFraction(percent / 100);
const litre = (percent: number) => liquidOfVolume(1e-3, byVolume(percent));

function distillateVolumeStrength(i: Inputs): number {
  const charge = litre(i.charge_percent_vol!);
  const mass = charge.ethanol + charge.water;
  const still = isobaricStill(pascal(i));
  let end: End;
  if (i.share_of_charge_mass_distilled !== undefined)
    end = { type: "mass", mass: i.share_of_charge_mass_distilled * mass };
  else if (i.recovered_share !== undefined)
    end = { type: "ethanol", left: (1 - i.recovered_share) * charge.ethanol };
  else {
    // Until the runnings, not the pot, have this strength.
    const wanted = moleFraction(byVolume(i.until_runnings_percent_vol!));
    const x = rootBetween((at) => still.goesOver(at) - wanted, 1e-6, 0.5, { what: "the pot at the cut" });
    end = { type: "strength", left: massFractionOfMoles(x) };
  }
  return 100 * volumeFraction(fractionOf(runStill(still, charge, end).taken));
}

/** ∫ dx / (y − x) by the same steps as a run. */
function integral(from: number, to: number, p: number): number {
  const still = isobaricStill(p);
  return follow(
    (x) => [1 / (still.goesOver(x) - x)],
    { t: to, state: [0] },
    () => -1,
    from,
    "the integral",
  ).state[0]!;
}

export const distillingModel: ReadonlyMap<string, (inputs: Inputs) => number> = new Map([
  [
    "first_vapour_strength",
    (i: Inputs) => 100 * volumeFraction(firstVapour(cleanPot(byVolume(i.percent_vol!)), pascal(i))),
  ],
  [
    "boiling_temperature",
    (i: Inputs) => boilingTemperature(cleanPot(byVolume(i.percent_vol!)), pascal(i)) - 273.15,
  ],
  [
    "distillate_mass_percent",
    (i: Inputs) => {
      const charge = liquidOfMass(1, i.charge_mass_percent! / 100);
      const run = runStill(isobaricStill(pascal(i)), charge, {
        type: "mass",
        mass: i.share_of_charge_mass_distilled!,
      });
      return 100 * fractionOf(run.taken);
    },
  ],
  [
    "residue_moles",
    (i: Inputs) => {
      const charge = liquidOfMass(1, massFractionOfMoles(i.charge_mole_fraction!));
      const left = massFractionOfMoles(i.residue_mole_fraction!);
      return (
        i.charge_moles! * Math.exp(-runStill(isobaricStill(pascal(i)), charge, { type: "strength", left }).t)
      );
    },
  ],
  ["rayleigh_integral", (i: Inputs) => integral(i.from_mole_fraction!, i.to_mole_fraction!, pascal(i))],
  [
    "recovered_share",
    (i: Inputs) => {
      const charge = litre(i.charge_percent_vol!);
      const volume = i.share_of_charge_volume_distilled! * volumeOf(charge);
      const run = runStill(isobaricStill(pascal(i)), charge, { type: "volume", volume });
      return run.taken.ethanol / charge.ethanol;
    },
  ],
  ["distillate_percent_vol", distillateVolumeStrength],
  [
    "vapour_strength_at_dew_temperature",
    (i: Inputs) => {
      const y = rootBetween((at) => dewPoint(at, pascal(i)).kelvin - 273.15 - i.temperature_C!, 0.3, 0.85, {
        what: "the vapour of this dew point",
      });
      return 100 * volumeFraction(massFractionOfMoles(y));
    },
  ],
  [
    "recovered_share_by_balance",
    (i: Inputs) =>
      (i.distillate_mL! * i.distillate_percent_vol!) / (1000 * i.charge_L! * i.charge_percent_vol!),
  ],
  ["water_saturation_temperature", (i: Inputs) => waterBoilingTemperature(pascal(i)) - 273.15],
  ["sucrose_boiling_temperature", (i: Inputs) => sucroseBoiling(i) - 273.15],
  ["sucrose_boiling_point_rise", (i: Inputs) => sucroseBoiling(i) - waterBoilingTemperature(pascal(i))],
]);

function sucroseBoiling(i: Inputs): number {
  const solids = i.mass_percent! / 100;
  return boilingTemperature(sweetPot(0, 1 - solids, solids), pascal(i));
}

/** Mass balances of juice and honey, answered by the functions of those subjects. */
export const elsewhere = ["water_taken_per_kg"] as const;
