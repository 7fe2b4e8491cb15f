import {
  type FrozenMix,
  type FrozenName,
  freezingRemarks,
  icePoint,
  icePointUncertainty,
  iceShare,
} from "../matter/freezing";
import { kinds } from "../quantity";
import type { Call, Declaration, NumberArguments } from "./declaration";
import { mass, optional, poured, temperature } from "./parameters";

/** Where a mix begins to freeze and how much of it is ice at serving temperature. */

const GROUP = "keeping and freezing";
const ZERO_CELSIUS = 273.15;

const num = (args: NumberArguments, name: string): number => args[name] as number;

/** The masses in the language, beside their names in the model. */
const MASSES: readonly (readonly [label: string, name: FrozenName, says: string])[] = [
  ["sucrose", "sucrose", "Mass of sucrose (table sugar)."],
  ["glucose", "glucose", "Mass of glucose (dextrose, dry)."],
  ["fructose", "fructose", "Mass of fructose."],
  ["maltose", "maltose", "Mass of maltose."],
  ["lactose", "lactose", "Mass of lactose, beside that in the milk solids."],
  ["glycerol", "glycerol", "Mass of glycerol."],
  ["sorbitol", "sorbitol", "Mass of sorbitol."],
  ["salt", "salt", "Mass of salt."],
  ["milk_solids", "milkSolids", "Mass of milk solids without the fat."],
  ["ethanol", "ethanol", "Mass of alcohol (ethanol)."],
];

const mixOf = (args: NumberArguments): FrozenMix =>
  Object.fromEntries(
    MASSES.map(([label, name]) => [name, args[label] as number | undefined]).filter(
      ([, m]) => m !== undefined,
    ),
  );

const masses = MASSES.map(([label, , says]) =>
  optional(label === "ethanol" ? poured("alcohol")(label, says) : mass(label, says)),
);
const labelsOnly = MASSES.map(([label]) => label);
const water = poured("water")("water", "Mass of the water alone, that of fruit, milk and syrup included.");

function remark(liquid: number, mix: FrozenMix, call: Call): void {
  for (const text of freezingRemarks(liquid, mix)) call.note(text);
}

const EQUATION =
  "-ln(activity of ice) = 9.6836e-3 d + 4.118e-6 d^2, d kelvin below 0 °C, equals the sum of -ln(activity) that each solute gives in all the liquid water";
const SOURCE =
  "ice line: fit to IAPWS data; sucrose: Starzak and Peacock; glucose, fructose, sorbitol: Norrish at 1/T; others: fits to the CRC table of solutions; mixtures: Ross (1975); milk: Goff's scheme";
const RANGE =
  "to -20 °C (salt alone -21.1, spirit alone -51.3); maltose 44 %, glycerol 40 %, alcohol 30 %, salt 23 %, other sugars 75 %, each in itself and water";

/** Change of the share of ice for a kelvin, at this temperature. */
function shareSlope(kelvin: number, w: number, mix: FrozenMix): number {
  const h = 0.01;
  const warm = Math.min(ZERO_CELSIUS, kelvin + h);
  return (iceShare(warm - h, w, mix) - iceShare(warm, w, mix)) / h;
}

export const declarations: readonly Declaration[] = [
  {
    name: "ice_point",
    group: GROUP,
    says: "The temperature at which ice first forms in a mix.",
    parameters: [water, ...masses],
    labelsOnly,
    result: [
      {
        name: "",
        says: "Temperature at which ice first forms.",
        holds: { kind: kinds.temperature, unit: "°C" },
      },
    ],
    equation: EQUATION,
    source: SOURCE,
    range: RANGE,
    trust:
      "standard uncertainty 0.03 K for sugar to 42 %, 0.4 K to 62 %, 1.5 K above; 0.1 K for a dairy mix; 0.4 K with some alcohol, 1 K with over 5 %; a real mix also supercools before ice starts",
    examples: [
      { formula: "ice_point(640 g, sucrose: 180 g, glucose: 60 g)", gives: "-2.6698 °C" },
      { formula: "ice_point(617 g, sucrose: 150 g, milk_solids: 110 g)", gives: "-2.4991 °C" },
    ],
    compute: (args, call) => {
      const mix = mixOf(args);
      const kelvin = icePoint(num(args, "water"), mix);
      remark(num(args, "water"), mix, call);
      return kelvin;
    },
    modelUncertainty: (args) => icePointUncertainty(num(args, "water"), mixOf(args)),
  },
  {
    name: "ice_share",
    group: GROUP,
    says: "How much of the water in a mix is ice at a temperature, such as that of serving.",
    parameters: [temperature("temperature", "Temperature of the frozen mix."), water, ...masses],
    labelsOnly,
    result: [{ name: "", says: "Ice, as a share of the water.", holds: { kind: kinds.plain, unit: "%" } }],
    equation: `${EQUATION}; ice = water - the water in which the mix would begin to freeze there`,
    source: SOURCE,
    range: RANGE,
    trust:
      "that of ice_point at what stays liquid: about 1 % of the water at -12 °C without alcohol, 3 % with it",
    examples: [{ formula: "ice_share(-12 °C, 640 g, sucrose: 180 g, glucose: 60 g)", gives: "74.117 %" }],
    compute: (args, call) => {
      const mix = mixOf(args);
      const w = num(args, "water");
      const share = iceShare(num(args, "temperature"), w, mix);
      if (share > 0 && share < 1) {
        remark(w * (1 - share), mix, call);
        call.note("At equilibrium: a mix that froze fast, or is still warming, holds less or more.");
      }
      return share;
    },
    modelUncertainty: (args, result) => {
      const share = result[""]!;
      if (!(share > 0 && share < 1)) return 0;
      const mix = mixOf(args);
      const w = num(args, "water");
      return (
        Math.abs(shareSlope(num(args, "temperature"), w, mix)) * icePointUncertainty(w * (1 - share), mix)
      );
    },
  },
];
