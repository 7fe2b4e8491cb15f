import { activityFromSolids, ethanolActivity } from "../../src/matter/activity";
import { crossParts } from "../../src/matter/blending";
import { type FrozenName, icePoint } from "../../src/matter/freezing";
import { honeyDensity, honeyMoisture, honeyMoistureFromSolids } from "../../src/matter/honey";
import { massFraction } from "../../src/matter/spirit";
import {
  acidCorrected,
  indexFromSolids,
  readingCorrection,
  sucroseActivity,
  syrupDensity,
} from "../../src/matter/sugar";
import { thicken } from "../../src/matter/thickening";
import mixtures from "./points/mixtures.json";
import solutions from "./points/solutions.json";
import sugarHoney from "./points/sugar-honey.json";

/**
 * What the food side computes beside what was published. Sources and honesty marks stand beside the numbers in
 * points/*.json. The tolerances there were set by whoever gathered the points, knowing the residuals of the fits.
 */
export interface Comparison {
  /** Function of the language that gives this number. */
  readonly of: string;
  readonly label: string;
  readonly published: number;
  readonly computed: number;
  readonly tolerance: number;
  readonly unit: string;
  readonly source: string;
  /** Why it lies outside the stated tolerance, and how far outside it may lie. */
  readonly disagreement?: { readonly within: number; readonly because: string };
  /** The row was used to fit the equation: it checks the code, not nature. */
  readonly fitted?: boolean;
}

interface Point {
  readonly id: string;
  readonly quantity: string;
  readonly inputs: Readonly<Record<string, string | number>>;
  readonly value: number | readonly number[];
  readonly unit: string;
  readonly tolerance: number | string | readonly number[];
  readonly source: string;
  readonly seen: string;
}

export const sugarHoneyPoints = sugarHoney as unknown as readonly Point[];
export const mixturePoints = mixtures as unknown as readonly Point[];

const ZERO = 273.15;
const num = (p: Point, name: string): number => p.inputs[name] as number;
const share = (p: Point, name: string): number => num(p, name) / 100;

/** How each quantity of the files is computed, in the unit of the file. */
const answers: Readonly<Record<string, { readonly of: string; readonly compute: (p: Point) => number }>> = {
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
/** Computed, not published: a check of the code. */
const regression = (p: Point): boolean => p.seen.startsWith("computed here");

/** Known disagreements, by the id of the point. */
const DISAGREEMENTS: Readonly<Record<string, NonNullable<Comparison["disagreement"]>>> = {
  S046: {
    within: 0.046,
    because:
      "The tolerance was set for a polynomial fitted to this table up to 42 %. One equation, fitted to none of it, now serves ice, activity and boiling of sucrose; against this table its root mean square is 0.020 K, and here it is worst.",
  },
};

function comparisonOf(p: Point): Comparison | undefined {
  const answer = answers[p.quantity];
  if (answer === undefined) return undefined;
  const inputs = Object.entries(p.inputs).map(([name, value]) => `${name} ${value}`);
  const fitted =
    regression(p) || (p.quantity === "freezing_point_depression" && FITTED.has(p.inputs.solute as string));
  return {
    of: answer.of,
    label: `${p.id} ${p.quantity}: ${inputs.join(", ")}`,
    published: p.value as number,
    computed: answer.compute(p),
    tolerance: p.tolerance as number,
    unit: p.unit,
    source: `${p.source} (${p.seen})`,
    ...(fitted ? { fitted } : {}),
    ...(DISAGREEMENTS[p.id] === undefined ? {} : { disagreement: DISAGREEMENTS[p.id]! }),
  };
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
  for (const row of rows) {
    const w = row.mass_pct / 100;
    const curve = CURVES[row.solute];
    if (row.depression_K !== null && curve !== undefined && row.mass_pct <= curve[0]) {
      found.push({
        of: "ice_point",
        label: `${row.mass_pct} % ${row.solute} freezes`,
        published: -row.depression_K,
        computed: frozenAlone(row.solute, w) - ZERO,
        tolerance: curve[1],
        unit: "degC",
        source: TABLE,
        ...(FITTED.has(row.solute) ? { fitted: true } : {}),
      });
    }
    if (row.solute !== "sucrose") continue;
    if (row.density_g_mL !== null) {
      found.push({
        of: "syrup_density",
        label: `density of ${row.mass_pct} % sucrose`,
        published: 1000 * row.density_g_mL,
        computed: syrupDensity(w),
        // Rounding of the table, 0.05, and the gap between the old density scale and the present one.
        tolerance: row.mass_pct <= 42 ? 0.15 : row.mass_pct <= 70 ? 0.4 : 1,
        unit: "kg/m3",
        source: TABLE,
      });
    }
    if (row.nD !== null) {
      found.push({
        of: "index_from_solids",
        label: `index of ${row.mass_pct} % sucrose`,
        published: row.nD,
        computed: indexFromSolids(w),
        tolerance: row.mass_pct <= 70 ? 0.0001 : 0.0003,
        unit: "nD",
        source: TABLE,
      });
    }
  }
  return found;
}

const fromPoints = (points: readonly Point[]): Comparison[] =>
  points.map(comparisonOf).filter((c): c is Comparison => c !== undefined);

export const comparisons: readonly Comparison[] = [
  ...fromPoints(sugarHoneyPoints),
  ...fromPoints(mixturePoints),
  ...tableComparisons(),
];

/** Quantities of the two files that are answered here. */
export const answered: ReadonlySet<string> = new Set(Object.keys(answers));
