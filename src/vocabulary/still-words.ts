import { kinds } from "../quantity";
import type { ResultPart } from "./declaration";
import { pressure, strength, temperature } from "./parameters";

/** Words and parameters that the declarations about the still share. */

export const GROUP = "setting the still";
export const MODEL =
  "this project's regression to published vapour-liquid data (skewed Redlich-Kister, 30 to 95 °C); water IAPWS SR1-86; ethanol Wagner form (Poling, Prausnitz, O'Connell); sugar Starzak & Peacock";
export const POT_RANGE =
  "boiling from 0 °C to 110 kPa (absolute); vapour data 25 to 100 °C, below 15 °C an estimate; sucrose to 85 °Bx, with alcohol to 1.5 mol in a kilogram of water; water activity 0.3 to 1";
export const BOILING_TRUST =
  "standard uncertainty 0.3 K with alcohol (published sets differ by 0.3 to 0.5 K; sets left out of the fit are met within 0.25 K), 0.005 K for water, 6 % of the rise for sugar";

export const absolute = pressure(
  "pressure",
  "Absolute pressure in the still: a perfect vacuum is 0. A dial that reads below the room goes through absolute_pressure.",
);
export const bath = temperature("bath", "Temperature of the bath.");
export const coolant = temperature("coolant", "Temperature of the coolant where it enters the condenser.");
export const over = strength("over", "Strength of the distillate (what comes over, not what is in the pot).");

export const pressureResult = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.pressure, unit: "mbar" },
});
export const temperatureResult = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.temperature, unit: "°C" },
});
export const differenceResult = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.difference, unit: "K" },
});
