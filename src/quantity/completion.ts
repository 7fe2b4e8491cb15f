import { currencies } from "./currency";
import { type Kind, kinds } from "./dimension";
import { Trouble } from "./trouble";
import { parseUnit } from "./unit";
import { namedUnits } from "./unit-table";

/** Compounds that a kitchen or a distillery writes. */
const COMPOUNDS = [
  "m3",
  "m2",
  "g/L",
  "g/mL",
  "kg/L",
  "kg/m3",
  "g/kg",
  "mg/L",
  "mL/L",
  "mL/min",
  "mL/h",
  "L/h",
  "g/min",
  "g/h",
  "kg/h",
  "W/K",
  "kJ/kg",
  "kJ/kg/K",
  "J/g/K",
  "K/min",
  "mbar/min",
  "GBP/L",
  "GBP/kg",
  "GBP/kWh",
  "EUR/L",
  "EUR/kg",
];

/** Units for completion: measures, compounds, then currencies. */
export const unitNames: readonly string[] = [
  ...[...namedUnits.keys()].filter((name) => !currencies.has(name)),
  ...COMPOUNDS,
  ...currencies.keys(),
];

const byKind = new Map<string, readonly string[]>();

/** The units for completion that measure one kind. */
export function unitsOfKind(kind: Kind): readonly string[] {
  let found = byKind.get(kind.id);
  if (found === undefined) {
    const ratio = kind === kinds.moisture || kind === kinds.activity ? kinds.plain : kind;
    found = unitNames.filter((name) => parseUnit(name).kind === ratio);
    byKind.set(kind.id, found);
  }
  return found;
}

/** A line for hover text: "mL: millilitre, a volume". Trouble when there is no such unit. */
export function describeUnit(name: string): string {
  const unit = parseUnit(name);
  const part = namedUnits.get(unit.text);
  const kind = unit.kind.name;
  if (part === undefined) return `${unit.text}: ${kind}`;
  if (currencies.has(unit.text)) return `${unit.text}: ${kind}`;
  // The words of `K` name its kind already.
  return part.words.endsWith(kind) ? `${unit.text}: ${part.words}` : `${unit.text}: ${part.words}, ${kind}`;
}

/** Why a text is no unit, or undefined when it is one. */
export function unitTrouble(text: string): Trouble | undefined {
  try {
    parseUnit(text);
    return undefined;
  } catch (trouble) {
    if (trouble instanceof Trouble) return trouble;
    throw trouble;
  }
}
