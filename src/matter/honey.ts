import { Trouble } from "../quantity/trouble";
import { syrupDensity } from "./sugar";

/**
 * Honey: its water from a refractometer, its density, water activity, keeping and ageing.
 * Moisture and solids are mass fractions (0.18 for 18 %), temperatures kelvin.
 */

const ICE_POINT_KELVIN = 273.15;
const ROOM_KELVIN = 293.15;

const percent = (fraction: number): string => `${Number((100 * fraction).toFixed(2))} %`;

/** Moisture range of the printed refractometer table, and of White's table of density with a step to spare. */
const INDEX_MOISTURE = [0.13, 0.25] as const;
const DENSITY_MOISTURE = [0.13, 0.25] as const;
/** Moisture up to which a table of honey density was there to judge the rule by. */
export const DENSITY_JUDGED = 0.21;
const ACTIVITY_MOISTURE = [0.13, 0.21] as const;

/** Half a printed step of the table: an index rounded to four decimals still belongs to its first and last row. */
const TABLE_SLACK = 0.0003;
/** Half a tenth of a °Bx, likewise, for the ends 73.5 and 85.2. */
const READING_SLACK = 0.0005;

function needMoisture(moisture: number, range: readonly [number, number], what: string, slack = 0): void {
  if (moisture >= range[0] - slack && moisture <= range[1] + slack) return;
  throw new Trouble({
    code: "out-of-range",
    says: `${what} is known for ${percent(range[0])} to ${percent(range[1])} water, and this is ${percent(moisture)}.`,
    help:
      moisture > range[1]
        ? "That is a thinned honey or a syrup; treat it as sugar in water, or measure it."
        : "No honey is so dry: check the reading and its scale.",
  });
}

/**
 * Moisture of honey from its refractive index (589 nm), read at `kelvin`.
 *
 * @throws Trouble `out-of-range` outside 13 to 25 % water or 10 to 40 °C
 * Source: Chataway's data in Wedmore's formula, as in AOAC 969.38; its constant is printed with a bar, 1̄.73190,
 * which means −1 + 0.73190 = −0.26810 (copies that lost the bar give 910 %). All 61 printed rows are met within 0.022 %.
 */
export function honeyMoisture(index: number, kelvin: number = ROOM_KELVIN): number {
  const t = kelvin - ICE_POINT_KELVIN;
  if (!(t >= 10 && t <= 40)) {
    throw new Trouble({
      code: "out-of-range",
      says: `Honey's index is corrected to 20 °C from 10 to 40 °C, and this was read at ${Number(t.toFixed(2))} °C.`,
      help: "Let honey and instrument come to room temperature.",
    });
  }
  const at20 = index + 0.00023 * (t - 20);
  if (!(at20 > 1)) {
    throw new Trouble({
      code: "out-of-range",
      says: `Honey of 13 to 25 % water has an index between 1.4740 and 1.5044 at 20 °C, and this is ${index}.`,
      help: "Check the reading.",
    });
  }
  const moisture = (-0.2681 - Math.log10(at20 - 1)) / 0.2243;
  if (!(moisture >= INDEX_MOISTURE[0] - TABLE_SLACK && moisture <= INDEX_MOISTURE[1] + TABLE_SLACK)) {
    throw new Trouble({
      code: "out-of-range",
      says:
        "Honey of 13 to 25 % water has an index between 1.4740 and 1.5044 at 20 °C, " +
        `and this is ${Number(at20.toFixed(5))}; the formula must not be carried further.`,
      help: "For a thinned honey or a syrup use solids_from_index.",
    });
  }
  return moisture;
}

/** Moisture of honey from an index at 20 °C without a range check, for the inverse in tests. @internal */
export const indexFromHoneyMoisture = (moisture: number): number => 1 + 10 ** (-0.2681 - 0.2243 * moisture);

/**
 * Moisture of honey from a refractometer with a sucrose (°Bx) scale, already at 20 °C.
 * Not 1 − solids: honey that reads 80.3 °Bx holds 18 % water.
 *
 * @throws Trouble `out-of-range` outside 13 to 25 % water (73.5 to 85.2 °Bx)
 * Source: line through index and sugar scale; within 0.014 % water of them.
 */
export function honeyMoistureFromSolids(solids: number): number {
  const moisture = 1.00638 - 1.02917 * solids;
  if (moisture >= INDEX_MOISTURE[0] - READING_SLACK && moisture <= INDEX_MOISTURE[1] + READING_SLACK)
    return moisture;
  throw new Trouble({
    code: "out-of-range",
    says: `Honey of 13 to 25 % water reads 73.5 to 85.2 °Bx, and this is ${Number((100 * solids).toFixed(2))} °Bx.`,
    help: "A thinned honey is a sugar solution: water_in gives its water.",
  });
}

/** The sucrose reading (mass fraction) that honey of this moisture gives. */
export const honeySolidsReading = (moisture: number): number => (1.00638 - moisture) / 1.02917;

/**
 * Density of honey, kg/m³: 0.992 times that of a sucrose solution with as much water.
 *
 * @throws Trouble `out-of-range` outside 13 to 25 % water
 * Source: our rule, judged by White's table of specific gravity (from memory): within 0.13 % for 15 to 21 % water, 0.35 % at 13 %.
 */
export function honeyDensity(moisture: number, kelvin: number = ROOM_KELVIN): number {
  needMoisture(moisture, DENSITY_MOISTURE, "The density of honey");
  return 0.992 * syrupDensity(Math.min(0.85, 1 - moisture), kelvin) + drier(moisture, kelvin);
}

/** Sucrose density is vouched for to 85 %; honey of 13 to 15 % water goes on along its last slope. */
function drier(moisture: number, kelvin: number): number {
  const beyond = 1 - moisture - 0.85;
  if (beyond <= 0) return 0;
  const step = 0.001;
  return (0.992 * beyond * (syrupDensity(0.85, kelvin) - syrupDensity(0.85 - step, kelvin))) / step;
}

/**
 * Water activity of liquid honey: a cautious (high) line. Studies differ by 0.07 at one moisture.
 *
 * @throws Trouble `out-of-range` outside 13 to 21 % water
 * Source: J. Food Eng. 72 (2006) 287 (equation from memory); five studies lie 0.04 from it (root mean square) at 18 %, nearly all below.
 */
export function honeyActivity(moisture: number): number {
  needMoisture(moisture, ACTIVITY_MOISTURE, "The water activity of honey");
  return 0.267 + 1.77 * moisture;
}

/** Steps of the table of fermentation risk: up to this moisture, safe below this many yeasts in a gram. */
export interface YeastRisk {
  readonly to: number;
  readonly says: string;
}

/**
 * Risk that honey ferments, from its moisture, as steps that end at `to`.
 *
 * Source: A Practical Manual of Beekeeping, Table 2, commonly credited to Lochhead 1933. It prints its classes in tenths
 * (17.1-18, 18.1-19, 19.1-20 %) and is silent between them: 18.03 % has no row of its own and takes the stricter one.
 */
export const YEAST_RISK: readonly YeastRisk[] = [
  { to: 0.171, says: "Safe from fermentation whatever the yeast count (under 17.1 % water)." },
  { to: 0.18, says: "Safe from fermentation if it holds under 1000 yeasts in a gram (17.1 to 18 % water)." },
  {
    to: 0.19,
    says: "Safe from fermentation only if it holds under 10 yeasts in a gram (above 18 to 19 % water).",
  },
  {
    to: 0.2,
    says: "Safe from fermentation only if it holds under 1 yeast in a gram (above 19 to 20 % water).",
  },
  { to: 1, says: "Always at risk of fermenting (above 20 % water)." },
];

/**
 * The sentence of {@link YEAST_RISK} for a moisture.
 *
 * @throws Trouble `out-of-range` for a moisture that is no share
 */
export function yeastRisk(moisture: number): string {
  const step =
    moisture >= 0
      ? YEAST_RISK.find((s, i) => (i === 0 ? moisture < s.to : moisture <= s.to + 1e-12))
      : undefined;
  if (step !== undefined) return step.says;
  throw new Trouble({
    code: "out-of-range",
    says: `A water content lies between 0 and 100 %, and this is ${percent(moisture)}.`,
  });
}

const DAY_SECONDS = 86_400;

/**
 * Time in seconds until honey at this temperature has formed 30 mg/kg of HMF.
 *
 * @throws Trouble `out-of-range` outside 30 to 80 °C
 * Source: Arrhenius line through White, Kushnir & Subers 1964 (three samples), off by a factor of up to 1.5.
 */
export function hmfTime(kelvin: number): number {
  const t = kelvin - ICE_POINT_KELVIN;
  if (!(t >= 30 - 1e-9 && t <= 80 + 1e-9)) {
    throw new Trouble({
      code: "out-of-range",
      says: `The time to 30 mg/kg HMF was measured from 30 to 80 °C, and this is ${Number(t.toFixed(2))} °C.`,
      help:
        t < 30
          ? "Below 30 °C it takes a season or longer."
          : "Above 80 °C it takes minutes: do not heat honey so far.",
    });
  }
  return Math.exp(17593 / kelvin - 52.73) * DAY_SECONDS;
}
