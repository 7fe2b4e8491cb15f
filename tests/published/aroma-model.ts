import { comesOver, lnHenry, volatility } from "../../src/matter/aroma";
import { aromaCompounds } from "../../src/matter/aroma-data";
import type { AromaCompound } from "../../src/matter/aroma-sources";
import { liquidOfVolume } from "../../src/matter/liquid";
import { massFraction } from "../../src/matter/spirit";
import { bubbleTemperature, moleFraction } from "../../src/matter/vapour";
import { type Comparison, compared, type Point } from "./comparison";
import points from "./points/aroma.json";

/**
 * Volatility and shares of aroma compounds beside what was published. Sources and marks stand beside the numbers in
 * points/aroma.json. Entries "used when choosing the value" show that a choice lies near what was published.
 */

interface AromaPoint extends Omit<Point, "inputs" | "value"> {
  readonly inputs: Readonly<Record<string, string | number | boolean | readonly number[]>>;
  readonly value: number | readonly [number, number];
  readonly tolerance_factor?: number;
  readonly note?: string;
}

const num = (p: AromaPoint, name: string): number => p.inputs[name] as number;
function named(name: string): AromaCompound {
  const found = aromaCompounds.find((c) => c.name === name);
  if (found === undefined) throw new Error(`no ${name}`);
  return found;
}
const compound = (p: AromaPoint): AromaCompound => named(p.inputs.compound as string);
const pot = (percent: number): number => moleFraction(massFraction(percent / 100));
const kelvin = (celsius: number): number => 273.15 + celsius;

/** Volatility over a boiling pot of this strength. */
function over(p: AromaPoint, percent: number): number {
  const x = pot(percent);
  const pascal = 1000 * num(p, "pressure_kPa");
  return volatility(compound(p), x, bubbleTemperature(x, pascal), pascal);
}

/** A solute whose Henry constants at the two ends are in the ratio of its measured solubilities. */
function solubilityOverThatInWater(p: AromaPoint): number {
  const [inWater, inEthanol] = p.inputs.end_values as readonly [number, number];
  const solute: AromaCompound = {
    name: "solute",
    cas: "",
    vapourPressure: { value: 1000, source: "estimated" },
    vaporisation: { value: 0, source: "estimated" },
    henry: { value: inEthanol / inWater, sources: [] },
    henrySlope: { value: 0, source: "estimated" },
    mixing: { inEthanol: 1, bend: num(p, "bend") },
  };
  const x = moleFraction(num(p, "ethanol_mass_percent") / 100);
  return Math.exp(lnHenry(solute, 0, 298.15) - lnHenry(solute, x, 298.15));
}

const GROUPS: ReadonlyMap<string, readonly string[]> = new Map([
  [
    "monoterpene hydrocarbons",
    ["alpha-pinene", "beta-pinene", "limonene", "myrcene", "gamma-terpinene", "sabinene"],
  ],
  [
    "oxygenated monoterpenes",
    ["linalool", "geraniol", "citral", "alpha-terpineol", "eucalyptol", "menthol", "menthone", "carvone"],
  ],
]);
/** Vapour pressure over Henry constant is a mole fraction; 55.34 mol of water in a litre, in mmol. */
const millimoles = (c: AromaCompound): number => (c.vapourPressure.value / 1000 / c.henry.value) * 55.34e3;

function taken(p: AromaPoint): number {
  const charge = liquidOfVolume(num(p, "volume_L") / 1000, massFraction(num(p, "percent_vol") / 100));
  const end = { type: "volume", volume: num(p, "take_L") / 1000 } as const;
  return comesOver(compound(p), charge, 1000 * num(p, "pressure_kPa"), end).taken;
}

type Answer = readonly [what: string, compute: (p: AromaPoint) => number];
const answers: ReadonlyMap<string, Answer> = new Map<string, Answer>([
  [
    "henry_constant_water",
    ["Henry constant in water", (p) => Math.exp(lnHenry(compound(p), 0, kelvin(num(p, "temperature_C"))))],
  ],
  ["vapour_pressure", ["vapour pressure", (p) => compound(p).vapourPressure.value]],
  [
    "henry_rise_per_10K",
    [
      "rise of the Henry constant for 10 K",
      (p) =>
        Math.exp(
          lnHenry(compound(p), 0, kelvin(num(p, "to_C"))) - lnHenry(compound(p), 0, kelvin(num(p, "from_C"))),
        ),
    ],
  ],
  ["solubility_over_that_in_water", ["solubility in spirit over that in water", solubilityOverThatInWater]],
  ["K_value", ["volatility over a pot, another model", (p) => over(p, num(p, "percent_vol"))]],
  ["comes_over_taken", ["share that comes over", taken]],
]);

/** How a volatility falls from weak to strong: a factor of at least so much. */
const fall = (p: AromaPoint, entry: number): Comparison =>
  compared("aroma.json", entry, p as unknown as Point, {
    of: "comes_over",
    what: "fall of the volatility from weak to strong, at least",
    published: [p.value as number, Number.POSITIVE_INFINITY],
    tolerance: 0,
    computed: over(p, num(p, "percent_vol")) / over(p, num(p, "over_percent_vol")),
  });

/** One published range, several compounds. */
const solubilities = (p: AromaPoint, entry: number): Comparison[] =>
  GROUPS.get(p.inputs.group as string)!.map((name) =>
    compared("aroma.json", entry, p as unknown as Point, {
      of: "comes_over",
      what: `solubility in water implied, ${p.inputs.group as string}`,
      label: `solubility of ${name}`,
      by: "factor",
      tolerance: p.tolerance_factor!,
      computed: millimoles(named(name)),
    }),
  );

export const aromaComparisons: readonly Comparison[] = (points as unknown as readonly AromaPoint[]).flatMap(
  (p, entry) => {
    if (p.quantity === "solubility_range") return solubilities(p, entry);
    if (p.quantity === "K_ratio_minimum") return [fall(p, entry)];
    const answer = answers.get(p.quantity);
    if (answer === undefined) return [];
    const [what, compute] = answer;
    return [
      compared("aroma.json", entry, p as unknown as Point, {
        of: "comes_over",
        what,
        computed: compute(p),
        ...(p.tolerance_factor === undefined ? {} : { by: "factor", tolerance: p.tolerance_factor }),
        ...(/^used when choosing/u.test(p.note ?? "") ? { worth: "fitted" } : {}),
      }),
    ];
  },
);
