import { refuseMisreading } from "../matter/misreading";
import {
  acidCorrected,
  indexFromSolids,
  READING_FITTED,
  solidsAt20,
  solidsFromDensity,
  solidsFromIndex,
  syrupDensity,
} from "../matter/sugar";
import { thicken } from "../matter/thickening";
import { kinds, Trouble } from "../quantity";
import type { Call, Declaration, NumberArguments, ResultPart } from "./declaration";
import { COLD_BOILING, CONCENTRATES, PERISHABLE, SUGAR_ONLY } from "./food-cautions";
import { density, index, optional, poured, share, solids, strength, temperature } from "./parameters";

/** Sugar and juice: what the refractometer and the hydrometer say, and what is left when water is driven off. */

const GROUP = "sugar and juice";
const ROOM = 293.15;

const at20 = optional(temperature("temperature", "Temperature of the sample when it was read."), "20 °C");
const withAlcohol = optional(
  strength("strength", "Alcohol in the sample. There must be none: alcohol misleads the reading."),
);
const withSalt = optional(
  share("salt", "Salt in the sample, by mass. There must be none: salt misleads the reading."),
);

const solidsResult = (says: string): ResultPart => ({
  name: "",
  says,
  holds: { kind: kinds.solids, unit: "°Bx" },
});

const num = (args: NumberArguments, name: string): number => args[name] as number;

/** Refuses when alcohol or salt is stated; what is not stated is taken not to be there. */
function needSugarOnly(args: NumberArguments, by: "index" | "density"): void {
  refuseMisreading((args.strength as number | undefined) ?? 0, (args.salt as number | undefined) ?? 0, by);
}

/** Standard uncertainty of the syrup density, kg/m³: half the gap to the older tables, 0.04 below 37 °Bx. */
const DENSITY_NODES = [
  [0.37, 0.04],
  [0.5, 0.08],
  [0.6, 0.11],
  [0.7, 0.14],
  [0.8, 0.25],
  [0.85, 0.42],
] as const;

function densityUncertainty(w: number): number {
  let previous: readonly [number, number] = [0, 0.04];
  for (const node of DENSITY_NODES) {
    if (w <= node[0]) {
      const along = (w - previous[0]) / (node[0] - previous[0]);
      return previous[1] + along * (node[1] - previous[1]);
    }
    previous = node;
  }
  return previous[1];
}

/** Kilograms per cubic metre that one unit of mass fraction is worth. */
function densitySlope(w: number, kelvin: number): number {
  const h = 1e-4;
  const low = Math.max(0, w - h);
  const high = Math.min(0.85, w + h);
  return (syrupDensity(high, kelvin) - syrupDensity(low, kelvin)) / (high - low);
}

/** Fit of the index to the 20 °C scale, as a mass fraction. */
const INDEX_UNCERTAINTY = 3e-5;
/** The two families of correction tables differ by up to 0.05 °Bx; half of that, less what the fit follows. */
const CORRECTION_UNCERTAINTY = 2e-4;

const readingUncertainty = (kelvin: number): number =>
  Math.abs(kelvin - ROOM) < 1e-9 ? 0 : CORRECTION_UNCERTAINTY;

function noteReading(reading: number, kelvin: number, call: Call): void {
  if (Math.abs(kelvin - ROOM) < 1e-9) return;
  call.note("An instrument that corrects for temperature by itself must not be corrected again.");
  if (reading < READING_FITTED[0] || reading > READING_FITTED[1]) {
    call.note(
      "The correction to 20 °C was fitted from 5 to 75 °Bx; here it is carried further, as an estimate.",
    );
  }
}

/** Acid after thickening: it stays with the solids. */
function acidLeft(acid: number | undefined, factor: number): number | undefined {
  if (acid === undefined) return undefined;
  if (acid >= 0 && acid * factor <= 1) return acid * factor;
  throw new Trouble({
    code: "out-of-range",
    says: `Acid of ${Number((100 * acid).toFixed(3))} % would become ${Number((100 * acid * factor).toFixed(1))} %, which no juice holds.`,
    help: "Give the acid as grams in 100 g of juice.",
  });
}

function needShare(w: number): void {
  if (w >= 0 && w <= 1) return;
  throw new Trouble({
    code: "out-of-range",
    says: `Solids lie between 0 and 100 °Bx, and these are ${Number((100 * w).toFixed(3))} °Bx.`,
  });
}

export const declarations: readonly Declaration[] = [
  {
    name: "water_in",
    group: GROUP,
    says: "The water content of a sugar solution or juice of these solids.",
    parameters: [
      solids("solids", "Dissolved solids, from a refractometer at 20 °C or from the weights that went in."),
      withAlcohol,
      withSalt,
    ],
    labelsOnly: ["strength", "salt"],
    result: [
      { name: "", says: "Water, as a share of the mass.", holds: { kind: kinds.moisture, unit: "%" } },
    ],
    equation: "water = 1 - solids",
    source: "definition of °Bx: grams of sucrose in 100 g of a solution of sucrose in water",
    range: "0 to 100 °Bx, no alcohol, no salt; for honey use honey_moisture_from_solids",
    trust: "exact for sucrose in water; for a juice as good as the reading is for its solids",
    cautions: [SUGAR_ONLY],
    examples: [{ formula: "water_in(18 °Bx)", gives: "82 %" }],
    compute: (args, call) => {
      needSugarOnly(args, "index");
      const w = num(args, "solids");
      needShare(w);
      if (w > 0.75)
        call.note(
          "Honey is not read this way: at 80.3 °Bx it holds 18 % water. Use honey_moisture_from_solids.",
        );
      return 1 - w;
    },
  },
  {
    name: "syrup_density",
    group: GROUP,
    says: "The density of a sugar solution.",
    parameters: [
      solids("solids", "Sucrose, by mass."),
      optional(temperature("temperature", "Temperature of the syrup."), "20 °C"),
    ],
    labelsOnly: ["temperature"],
    result: [{ name: "", says: "Density.", holds: { kind: kinds.density, unit: "kg/m3" } }],
    equation: "density = water(t) + sum over i of ((t - 20)/100)^i * sum over k of c_ik * w^k",
    source: "Bubník, Kadlec, Urban and Bruhns, Sugar Technologists Manual (1995), p. 164 (ICUMSA/PTB form)",
    range: "0 to 85 °Bx, 0 to 100 °C",
    trust:
      "standard uncertainty 0.04 kg/m3 to 37 °Bx (university table), rising to 0.4 at 85 °Bx (half the gap to the older Circular 440 scale)",
    examples: [{ formula: "syrup_density(50 °Bx)", gives: "1229.7 kg/m3" }],
    compute: (args) => syrupDensity(num(args, "solids"), num(args, "temperature")),
    modelUncertainty: (args) => densityUncertainty(num(args, "solids")),
  },
  {
    name: "solids_from_density",
    group: GROUP,
    says: "The solids of a syrup or juice from its density.",
    parameters: [
      density("density", "True density of the degassed sample, from a hydrometer or a weighed flask."),
      at20,
      withAlcohol,
      withSalt,
    ],
    labelsOnly: ["temperature", "strength", "salt"],
    result: [solidsResult("The sucrose solution of the same density.")],
    equation: "the solids whose syrup_density is this density",
    source: "inverse of Bubník, Kadlec, Urban and Bruhns (1995), found in a bracket",
    range: "the densities of 0 to 85 °Bx at that temperature, 0 to 100 °C; no alcohol, no salt",
    trust:
      "standard uncertainty 0.01 °Bx to 37 °Bx, 0.06 at 85; 1 kg/m3 is worth 0.25 °Bx near 5 and 0.15 near 80 °Bx",
    cautions: [SUGAR_ONLY],
    examples: [{ formula: "solids_from_density(1080.98 kg/m3)", gives: "20.001 °Bx" }],
    compute: (args) => {
      needSugarOnly(args, "density");
      return solidsFromDensity(num(args, "density"), num(args, "temperature"));
    },
    modelUncertainty: (args, result) => {
      const w = result[""]!;
      return densityUncertainty(w) / densitySlope(w, num(args, "temperature"));
    },
  },
  {
    name: "solids_from_index",
    group: GROUP,
    says: "The solids of a syrup or juice from its refractive index.",
    parameters: [
      index("index", "Refractive index at 589 nm, read on a refractometer."),
      at20,
      withAlcohol,
      withSalt,
    ],
    labelsOnly: ["temperature", "strength", "salt"],
    result: [solidsResult("The sucrose solution of the same index.")],
    equation: "the solids whose index_from_solids is this index, then solids_at_20",
    source: "ICUMSA 1974 scale (five-decimal values from memory, checked against three seen sources)",
    range: "1.33299 to 1.50398 nD (0 to 85 °Bx); 10 to 30 °C; no alcohol, no salt",
    trust:
      "standard uncertainty 0.003 °Bx at 20 °C (worst of the fit), 0.02 °Bx when corrected for temperature",
    cautions: [SUGAR_ONLY],
    examples: [
      { formula: "solids_from_index(1.39986 nD)", gives: "40 °Bx" },
      { formula: "solids_from_index(1.3638 nD, temperature: 25 °C)", gives: "20.321 °Bx" },
    ],
    compute: (args, call) => {
      needSugarOnly(args, "index");
      const reading = solidsFromIndex(num(args, "index"));
      const kelvin = num(args, "temperature");
      noteReading(reading, kelvin, call);
      return solidsAt20(reading, kelvin);
    },
    modelUncertainty: (args) => Math.hypot(INDEX_UNCERTAINTY, readingUncertainty(num(args, "temperature"))),
  },
  {
    name: "index_from_solids",
    group: GROUP,
    says: "The refractive index of a sugar solution at 20 °C.",
    parameters: [solids("solids", "Sucrose, by mass.")],
    result: [
      { name: "", says: "Refractive index at 589 nm, 20 °C.", holds: { kind: kinds.index, unit: "nD" } },
    ],
    equation: "n = 1.3329871 + 0.1427352 w + 0.0549050 w^2 + 0.0115138 w^3 + 0.0140131 w^4 - 0.0098870 w^5",
    source:
      "our fit to the ICUMSA 1974 scale (five-decimal values from memory, checked against three seen sources)",
    range: "0 to 85 °Bx, 20 °C",
    trust: "standard uncertainty 0.000005 (worst of the fit, 0.003 °Bx)",
    examples: [{ formula: "index_from_solids(40 °Bx)", gives: "1.3999 nD" }],
    compute: (args) => indexFromSolids(num(args, "solids")),
    modelUncertainty: () => 5e-6,
  },
  {
    name: "solids_at_20",
    group: GROUP,
    says: "A refractometer reading in °Bx brought from the temperature of the sample to 20 °C.",
    parameters: [
      solids(
        "reading",
        "What the scale showed. Only for an instrument without its own temperature correction.",
      ),
      temperature("temperature", "Temperature of prism and sample."),
      withAlcohol,
      withSalt,
    ],
    labelsOnly: ["strength", "salt"],
    result: [solidsResult("The reading at 20 °C.")],
    equation:
      "add d (0.0572902 + 0.0644834 b - 0.0565131 b^2) + d^2 (0.000316691 - 0.00030122 b - 0.000377747 b^2) °Bx; d = t - 20, b = reading/100",
    source: "our fit to OIV-MA-AS2-02, Table I (10 to 17 °C) and the older international table (21 to 30 °C)",
    range: "10 to 30 °C; 5 to 75 °Bx, beyond that an estimate to 0 and 85",
    trust:
      "standard uncertainty 0.02 °Bx: the fit's is 0.009, and the two families of tables differ by up to 0.05 at 15 °C",
    cautions: [SUGAR_ONLY],
    examples: [{ formula: "solids_at_20(20 °Bx, 15 °C)", gives: "19.666 °Bx" }],
    compute: (args, call) => {
      needSugarOnly(args, "index");
      const kelvin = num(args, "temperature");
      noteReading(num(args, "reading"), kelvin, call);
      return solidsAt20(num(args, "reading"), kelvin);
    },
    modelUncertainty: (args) => readingUncertainty(num(args, "temperature")),
  },
  {
    name: "acid_corrected",
    group: GROUP,
    says: "A refractometer reading of a sour juice, with the shortfall added that its acid causes.",
    parameters: [
      solids("reading", "Reading at 20 °C."),
      share("acid", "Citric acid, grams in 100 g of juice, from a titration."),
      withAlcohol,
      withSalt,
    ],
    labelsOnly: ["strength", "salt"],
    result: [solidsResult("Solids, acid included.")],
    equation: "add 0.1963 A - 0.000563 A^2 °Bx, A in % citric acid",
    source: "fit to Kimball, Citrus Processing (1991), Appendix A",
    range: "0 to 20 % citric acid; no alcohol, no salt",
    trust: "standard uncertainty 0.005 °Bx (worst of the fit 0.008); made for citrus, other acids differ",
    examples: [{ formula: "acid_corrected(10 °Bx, 5 %)", gives: "10.967 °Bx" }],
    compute: (args) => {
      needSugarOnly(args, "index");
      return acidCorrected(num(args, "reading"), num(args, "acid"));
    },
    modelUncertainty: () => 5e-5,
  },
  {
    name: "reduce",
    group: GROUP,
    says: "What stays and what comes over when a juice or syrup is thickened.",
    parameters: [
      poured("juice")("mass", "Mass before the run, weighed."),
      solids("solids", "Solids before the run."),
      optional(share("acid", "Acid in it, by mass, that is to be carried along.")),
      withAlcohol,
      withSalt,
      solids("to", "Solids wanted at the end."),
    ],
    labelsOnly: ["acid", "strength", "salt", "to"],
    result: [
      {
        name: "left.mass",
        says: "What stays in the flask: weigh the flask to stop here.",
        holds: { kind: kinds.mass, unit: "g" },
      },
      { name: "taken.mass", says: "Water that comes over.", holds: { kind: kinds.mass, unit: "g" } },
      { name: "factor", says: "How many times thicker.", holds: { kind: kinds.plain, unit: "", unitOf: "" } },
      {
        name: "acid",
        says: "Acid at the end, by mass; only when it is given before.",
        holds: { kind: kinds.plain, unit: "%", unitOf: "" },
      },
    ],
    equation:
      "left = mass * solids / to; taken = mass - left; factor = to / solids; acid at the end = acid * factor",
    source: "mass balance of the solids (as in Berk, Food Process Engineering and Technology, Example 21.1)",
    range: "solids above 0, `to` at least the solids and at most 100 °Bx; no salt (reduce_salty), no alcohol",
    trust: "exact when no solids come over; the error is that of the two readings",
    cautions: [PERISHABLE, COLD_BOILING, CONCENTRATES],
    examples: [
      { formula: "reduce(5400 g, 15 °Bx, to: 40 °Bx).taken.mass", gives: "3375 g" },
      { formula: "reduce(5400 g, 15 °Bx, to: 40 °Bx).factor", gives: "2.6667" },
    ],
    compute: (args, call) => {
      needSugarOnly(args, "index");
      const to = num(args, "to");
      const run = thicken(num(args, "mass"), num(args, "solids"), to);
      if (to > 0.6)
        call.note("Above 60 °Bx the syrup is thick: heat passes slowly, and times come out too short.");
      if (to >= 0.4 && to <= 0.55) {
        call.note(
          "Fruit thickened to 40 to 50 °Bx is not kept by its sugar (water activity 0.96 to 0.93): acidity and cold keep it.",
        );
      }
      if (args.acid === undefined) {
        call.without(["acid"], {
          says: "The acid at the end is told only when the acid before is given.",
          help: "Add it from a titration, for example acid: 0.8 %.",
        });
      }
      return {
        "left.mass": run.left,
        "taken.mass": run.taken,
        factor: run.factor,
        acid: acidLeft(args.acid as number | undefined, run.factor),
      };
    },
  },
];
