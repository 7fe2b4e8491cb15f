import { activityFromSolids, ethanolActivity } from "../../src/matter/activity";
import { crossParts } from "../../src/matter/blending";
import { type FrozenName, icePoint } from "../../src/matter/freezing";
import { honeyDensity, honeyMoisture, honeyMoistureFromSolids } from "../../src/matter/honey";
import { spiritIndex } from "../../src/matter/refraction";
import { massFraction, spiritDensity } from "../../src/matter/spirit";
import {
  acidCorrected,
  indexFromSolids,
  readingCorrection,
  solidsFromDensity,
  solidsFromIndex,
  sucroseActivity,
  syrupDensity,
} from "../../src/matter/sugar";
import { thicken } from "../../src/matter/thickening";
import { type Comparison, compared, type Point, type Worth, worthOf } from "./comparison";
import mixtures from "./points/mixtures.json";
import solutions from "./points/solutions.json";
import sugarHoney from "./points/sugar-honey.json";

/**
 * What the food side computes beside what was published. Sources and honesty marks stand beside the numbers in
 * points/*.json. The tolerances there were set by whoever gathered the points, knowing the residuals of the fits.
 */
interface FoodPoint extends Omit<Point, "inputs" | "id"> {
  readonly id: string;
  readonly inputs: Readonly<Record<string, string | number>>;
  readonly note?: string;
}

const sugarHoneyPoints = sugarHoney as unknown as readonly FoodPoint[];
export const mixturePoints = mixtures as unknown as readonly FoodPoint[];

const ZERO = 273.15;
const num = (p: FoodPoint, name: string): number => p.inputs[name] as number;
const share = (p: FoodPoint, name: string): number => num(p, name) / 100;

/** How each quantity of the files is computed, in the unit of the file. */
const answers: Readonly<
  Record<string, { readonly of: string; readonly what?: string; readonly compute: (p: FoodPoint) => number }>
> = {
  sucrose_density: {
    of: "syrup_density",
    compute: (p) => syrupDensity(share(p, "sucrose_mass_pct"), ZERO + num(p, "t_C")),
  },
  sucrose_nD: { of: "index_from_solids", compute: (p) => indexFromSolids(share(p, "sucrose_mass_pct")) },
  refractometer_temp_correction: {
    of: "solids_at_20",
    compute: (p) => 100 * readingCorrection(share(p, "reading_brix"), ZERO + num(p, "t_C")),
  },
  refractometer_acid_correction: {
    of: "acid_corrected",
    compute: (p) => 100 * (acidCorrected(0.1, share(p, "citric_acid_pct")) - 0.1),
  },
  honey_water_from_nD: {
    of: "honey_moisture",
    compute: (p) => 100 * honeyMoisture(num(p, "nD"), ZERO + num(p, "t_C")),
  },
  honey_water_from_brix: {
    of: "honey_moisture_from_solids",
    compute: (p) => 100 * honeyMoistureFromSolids(share(p, "sucrose_brix")),
  },
  honey_relative_density_20_20: {
    of: "honey_density",
    compute: (p) => honeyDensity(share(p, "water_pct")) / syrupDensity(0),
  },
  ethanol_solution_nD: {
    of: "strength_by_drops",
    what: "index of ethanol in water",
    compute: (p) => spiritIndex(share(p, "ethanol_mass_pct")),
  },
  freezing_point_depression: {
    of: "ice_point",
    compute: (p) => ZERO - frozenAlone(p.inputs.solute as string, share(p, "mass_pct")),
  },
  water_activity: { of: "activity_from_solids", compute: (p) => activityFromSolids(share(p, "mass_pct")) },
  pearson_square: {
    of: "cross_parts",
    compute: (p) => 100 * crossParts(share(p, "a"), share(p, "b"), share(p, "target")).rich,
  },
  juice_concentration: {
    of: "reduce",
    compute: (p) => {
      const run = thicken(
        (p.inputs.feed_kg_per_h as number | undefined) ?? 1,
        share(p, "brix_in"),
        share(p, "brix_out"),
      );
      return p.inputs.result === "concentration ratio" ? run.factor : run.taken;
    },
  },
  ice_point_ethanol: {
    of: "ice_point",
    compute: (p) => frozenAlone("ethanol", share(p, "ethanol_mass_pct")) - ZERO,
  },
  ice_point_salt: { of: "ice_point", compute: (p) => frozenAlone("salt", share(p, "NaCl_mass_pct")) - ZERO },
  ice_point_glycerol: {
    of: "ice_point",
    compute: (p) => frozenAlone("glycerol", share(p, "glycerol_mass_pct")) - ZERO,
  },
  ice_point_sucrose_model: {
    of: "ice_point",
    compute: (p) => frozenAlone("sucrose", share(p, "sucrose_mass_pct")) - ZERO,
  },
  ice_point_dairy_mix: {
    of: "ice_point",
    compute: (p) =>
      icePoint(num(p, "water_pct"), {
        sucrose: num(p, "sucrose_pct"),
        milkSolids: num(p, "milk_solids_nonfat_pct"),
      }) - ZERO,
  },
  sucrose_water_activity: {
    of: "activity_from_solids",
    compute: (p) => sucroseActivity(share(p, "sucrose_mass_pct"), ZERO + num(p, "t_C")),
  },
  water_activity_spirit: {
    of: "activity",
    compute: (p) => {
      const w = massFraction(share(p, "strength_pct_vol"));
      return ethanolActivity(w / (1 - w));
    },
  },
};

const NAMES: Readonly<Record<string, FrozenName>> = { NaCl: "salt" };

function frozenAlone(solute: string, fraction: number): number {
  return icePoint(1 - fraction, { [NAMES[solute] ?? (solute as FrozenName)]: fraction });
}

/** Solutes whose freezing polynomial was fitted to the CRC table itself. */
const FITTED = new Set(["maltose", "glycerol", "ethanol", "salt", "NaCl"]);
const worthOfFood = (p: FoodPoint): Worth =>
  (p.quantity === "freezing_point_depression" && FITTED.has(p.inputs.solute as string)) ||
  /node of the table/u.test(p.note ?? "") ||
  p.quantity === "ethanol_solution_nD"
    ? "fitted"
    : worthOf(p);

/** Known disagreements, by the id of the point. */
const DISAGREEMENTS: Readonly<Record<string, NonNullable<Comparison["disagreement"]>>> = {
  S046: {
    within: 0.046,
    because:
      "The tolerance was set for a polynomial fitted to this table up to 42 %. One equation, fitted to none of it, now serves ice, activity and boiling of sucrose; against this table its root mean square is 0.020 K, and here it is worst.",
  },
};

function comparisonOf(file: string, p: FoodPoint, entry: number): Comparison | undefined {
  const answer = answers[p.quantity];
  if (answer === undefined) return undefined;
  return compared(file, entry, p as unknown as Point, {
    of: answer.of,
    ...(answer.what === undefined ? {} : { what: answer.what }),
    computed: answer.compute(p),
    worth: worthOfFood(p),
    ...(DISAGREEMENTS[p.id] === undefined ? {} : { disagreement: DISAGREEMENTS[p.id]! }),
  });
}

interface Row {
  readonly solute: string;
  readonly mass_pct: number;
  readonly density_g_mL: number | null;
  readonly nD: number | null;
  readonly depression_K: number | null;
}
const rows = solutions.rows as readonly Row[];
const TABLE = `${solutions.source} (${solutions.seen})`;

/** Rows of the table that stray from another table, by mass % of ethanol. */
const STRAY: ReadonlySet<number> = new Set([52, 78, 80, 82]);
const STRAYED = {
  within: 0.28,
  because:
    "The handbook's column is uneven: between 80, 82, 84 and 86 % it falls by 4.9, 5.2 and 5.1 kg/m3. The table of the US Bureau of Standards, which it should follow, is met within 0.12 kg/m3 at 126 points.",
} as const;

/** Highest mass % and tolerance (K) of each freezing curve: three times the standard uncertainty that `ice_point` states. */
const CURVES: Readonly<Record<string, readonly [most: number, tolerance: number]>> = {
  sucrose: [42, 0.09],
  glucose: [30, 0.15],
  fructose: [28, 0.3],
  maltose: [44, 0.09],
  lactose: [8, 0.09],
  glycerol: [40, 0.45],
  ethanol: [30, 0.3],
  salt: [23, 0.15],
};

function tableComparisons(): Comparison[] {
  const found: Comparison[] = [];
  rows.forEach((row, entry) => {
    const w = row.mass_pct / 100;
    const add = (
      of: string,
      what: string,
      unit: string,
      published: number,
      computed: number,
      tolerance: number,
      worth: Worth = "independent",
      disagreement?: Comparison["disagreement"],
    ) =>
      void found.push({
        of,
        what,
        label: `${row.mass_pct} % ${row.solute}, ${what}`,
        unit,
        published,
        computed,
        tolerance,
        worth,
        mark: "seen",
        source: TABLE,
        point: `solutions.json ${entry}`,
        ...(disagreement === undefined ? {} : { disagreement }),
      });
    const curve = CURVES[row.solute];
    if (row.depression_K !== null && curve !== undefined && row.mass_pct <= curve[0]) {
      const worth = FITTED.has(row.solute) ? "fitted" : "independent";
      add(
        "ice_point",
        `freezing of ${row.solute}`,
        "°C",
        -row.depression_K,
        frozenAlone(row.solute, w) - ZERO,
        curve[1],
        worth,
      );
    }
    if (row.solute === "ethanol") {
      // Rounding of the table and twice the stated uncertainty; the table goes on to pure ethanol.
      if (row.density_g_mL !== null)
        add(
          "spirit_density",
          "density, a handbook's table",
          "kg/m3",
          1000 * row.density_g_mL,
          spiritDensity(w),
          0.05 + 0.12,
          "independent",
          STRAY.has(row.mass_pct) ? STRAYED : undefined,
        );
      if (row.nD !== null && w <= 0.4)
        add("strength_by_drops", "index of ethanol in water", "nD", row.nD, spiritIndex(w), 0.0001, "fitted");
    }
    if (row.solute !== "sucrose") return;
    if (row.density_g_mL !== null) {
      // Rounding of the table, 0.05, and the gap between the old density scale and the present one.
      const tolerance = row.mass_pct <= 42 ? 0.15 : row.mass_pct <= 70 ? 0.4 : 1;
      add(
        "syrup_density",
        "density, a handbook's table",
        "kg/m3",
        1000 * row.density_g_mL,
        syrupDensity(w),
        tolerance,
      );
      // The same row read the other way, with the same tolerance turned into solids (4 kg/m3 and more for 1 °Bx).
      if (w > 0)
        add(
          "solids_from_density",
          "solids, a handbook's table",
          "°Bx",
          row.mass_pct,
          100 * solidsFromDensity(1000 * row.density_g_mL),
          tolerance / 4,
        );
    }
    if (row.nD !== null) {
      const tolerance = row.mass_pct <= 70 ? 0.0001 : 0.0003;
      add("index_from_solids", "index, a handbook's table", "nD", row.nD, indexFromSolids(w), tolerance);
      // 1 °Bx is 0.00143 of the index or more.
      add(
        "solids_from_index",
        "solids, a handbook's table",
        "°Bx",
        row.mass_pct,
        100 * solidsFromIndex(row.nD),
        tolerance / 0.00143,
      );
    }
  });
  return found;
}

const fromPoints = (file: string, points: readonly FoodPoint[]): Comparison[] =>
  points.map((p, entry) => comparisonOf(file, p, entry)).filter((c): c is Comparison => c !== undefined);

export const foodComparisons: readonly Comparison[] = [
  ...fromPoints("sugar-honey.json", sugarHoneyPoints),
  ...fromPoints("mixtures.json", mixturePoints),
  ...tableComparisons(),
];
