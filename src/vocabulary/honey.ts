import {
  DENSITY_JUDGED,
  hmfTime,
  honeyActivity,
  honeyDensity,
  honeyMoisture,
  honeyMoistureFromSolids,
  yeastRisk,
} from "../matter/honey";
import { type HoneyMix, infuseHoney, infuseHoneyLimit } from "../matter/infusion";
import { volumeFraction } from "../matter/spirit";
import { ethanolInSweet, sweetDensity } from "../matter/sweet";
import { kinds, Trouble } from "../quantity";
import { LICENCE, VAPOUR } from "./cautions";
import type { Call, Declaration, NumberArguments, ResultPart } from "./declaration";
import { COLD_BOILING, FERMENTS, GLASS, NO_VERDICT, NOT_HONEY, PERISHABLE, STRIPPED } from "./food-cautions";
import {
  index,
  moisture,
  optional,
  poured,
  share,
  solids,
  strength,
  temperature,
  vessel,
} from "./parameters";

/** Honey: what its refractometer says, how it keeps, and how an infusion is driven off it again. */

const GROUP = "honey";
const ROOM = 293.15;

/** A share as it is written in a formula: 16.5 %. */
const percentText = (share: number): string => `${Number((100 * share).toPrecision(6))} %`;
const num = (args: NumberArguments, name: string): number => args[name] as number;
const moistureResult = (says: string): ResultPart => ({
  name: "",
  says,
  holds: { kind: kinds.moisture, unit: "%" },
});
const massPart = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.mass, unit: "g" },
});

const infusionStrength = optional(strength("strength", "Alcohol in the infusion."), "0 %vol");
const infusionSolids = optional(
  solids("solids", "Dissolved solids in the infusion, by weight of what went in."),
  "0 °Bx",
);
const alcoholLeft = optional(strength("alcohol_left", "Alcohol that may stay in the honey."), "0 %mas");
const goal = optional(moisture("to", "Moisture wanted at the end."), "18 %");

/**
 * Ethanol of the infusion as a mass fraction of the whole liquid. A strength by volume of a sweet infusion counts
 * the sugar's volume; one by mass already is what is wanted.
 */
function ethanolOf(args: NumberArguments, call: Call): number {
  const p = num(args, "strength");
  const s = num(args, "solids");
  const kind = call.kindOf("strength");
  if (kind === undefined || kind.id === kinds.strengthMass.id || s === 0 || p === 0) return p;
  call.note(
    "The mass of alcohol in a sweet infusion is an estimate: sugar is taken to add 0.62 mL/g to the spirit.",
  );
  return ethanolInSweet(volumeFraction(p), s);
}

const withAlcohol = optional(
  strength("strength", "Alcohol in the honey. There must be none: alcohol misleads the reading."),
);

/** An infused honey that still holds alcohol: no reading tells water and alcohol apart. Half a per cent for one is reckoned, not measured. */
function refuseAlcohol(args: NumberArguments): void {
  const p = (args.strength as number | undefined) ?? 0;
  if (p === 0) return;
  throw new Trouble({
    code: "misleading-reading",
    says: `With alcohol in it a refractometer does not show the water of honey: each per cent by mass moves the reading by about 0.5 %, so this alcohol by about ${Number((50 * p).toPrecision(2))} %.`,
    help: "Go by weight: infuse_honey tells the mass at which to stop. Read the honey when no alcohol is left.",
  });
}

function mixOf(args: NumberArguments, call: Call): HoneyMix {
  return {
    honey: num(args, "honey"),
    moisture: num(args, "moisture"),
    ethanol: ethanolOf(args, call),
    solids: num(args, "solids"),
    to: num(args, "to"),
    alcoholLeft: num(args, "alcohol_left"),
  };
}

function remarkRun(mix: HoneyMix, call: Call): void {
  call.note("Solids are taken not to come over, and the aroma's own mass is left out.");
  if (mix.ethanol > 0) {
    // What is driven off here is spirit, in the receiver and past the pump.
    call.caution(VAPOUR);
    call.caution(LICENCE);
    call.caution(STRIPPED);
    if (mix.alcoholLeft === 0) {
      call.note(
        "The last alcohol leaves a thick honey slowly: believe the nose, not a zero. One percent of it shifts the refractometer by about 0.5 %.",
      );
    }
  }
  if (mix.to > 0.2)
    call.note(
      "Over 20 % water it is no honey by Directive 2001/110/EC (heather honey: 23 %), and yeasts can grow.",
    );
  else if (mix.to > 0.18)
    call.note("Over 18 % water a honey keeps only with very few yeasts: see yeast_risk.");
  const dry = percentText(mix.to);
  call.note(
    mix.to >= 0.13 && mix.to <= 0.21
      ? `At the end the pull must suit the honey, not the infusion: pressure_for(t, activity: honey_activity(${dry})).`
      : `At the end the pull must suit what is in the flask, not the infusion, and at ${dry} water no activity of honey is known.`,
  );
}

/** Relative standard uncertainty of the density of a honey with this water. */
const densityError = (w: number): number => (w >= 0.15 && w <= DENSITY_JUDGED ? 0.001 : 0.0035);

export const declarations: readonly Declaration[] = [
  {
    name: "honey_moisture",
    group: GROUP,
    says: "The water in a honey from its refractive index.",
    parameters: [
      index("index", "Refractive index at 589 nm of clear, liquid honey."),
      optional(temperature("temperature", "Temperature of honey and prism."), "20 °C"),
      withAlcohol,
    ],
    labelsOnly: ["temperature", "strength"],
    result: [moistureResult("Water, by mass.")],
    equation: "water % = (-0.26810 - log10(n - 1)) / 0.002243; n at 20 °C = n + 0.00023 (t - 20)",
    source: "Chataway's data in Wedmore's formula (AOAC 969.38, International Honey Commission)",
    range: "13 to 25 % water (index 1.5044 to 1.4740), 10 to 40 °C; no alcohol",
    trust:
      "standard uncertainty 0.02 % water (worst against 61 printed rows 0.022); a reading of ±0.0005 is worth 0.2 %",
    examples: [
      { formula: "honey_moisture(1.4915 nD)", gives: "18.001 %" },
      { formula: "honey_moisture(1.4900 nD, temperature: 25 °C)", gives: "18.139 %" },
    ],
    compute: (args) => {
      refuseAlcohol(args);
      return honeyMoisture(num(args, "index"), num(args, "temperature"));
    },
    modelUncertainty: () => 2e-4,
  },
  {
    name: "honey_moisture_from_solids",
    group: GROUP,
    says: "The water in a honey from a refractometer with a sugar scale.",
    parameters: [solids("solids", "Reading in °Bx at 20 °C."), withAlcohol],
    labelsOnly: ["strength"],
    result: [moistureResult("Water, by mass.")],
    equation: "water % = 100.638 - 1.02917 * °Bx",
    source: "our line through the honey table and the ICUMSA sugar scale",
    range: "73.5 to 85.2 °Bx (13 to 25 % water); no alcohol",
    trust: "standard uncertainty 0.03 % water; 0.2 °Bx is worth 0.2 %. Not 100 - °Bx: 80.3 °Bx is 18 % water",
    examples: [{ formula: "honey_moisture_from_solids(78 °Bx)", gives: "20.363 %" }],
    compute: (args) => {
      refuseAlcohol(args);
      return honeyMoistureFromSolids(num(args, "solids"));
    },
    modelUncertainty: () => 3e-4,
  },
  {
    name: "honey_density",
    group: GROUP,
    says: "The density of honey from its water.",
    parameters: [
      moisture("moisture", "Water in the honey, by mass."),
      optional(temperature("temperature", "Temperature of the honey."), "20 °C"),
    ],
    labelsOnly: ["temperature"],
    result: [{ name: "", says: "Density.", holds: { kind: kinds.density, unit: "kg/m3" } }],
    equation: "density = 0.992 * syrup_density(100 % - moisture)",
    source: "our rule, judged by White's table of the specific gravity of honey (from memory)",
    range: "13 to 25 % water, 0 to 100 °C; judged for 13 to 21 % at 20 °C only",
    trust: "standard uncertainty 0.1 % for 15 to 21 % water, 0.35 % outside",
    examples: [{ formula: "honey_density(18 %)", gives: "1414.2 kg/m3" }],
    compute: (args, call) => {
      if (num(args, "moisture") > DENSITY_JUDGED)
        call.note("No table was there to judge the density above 21 % water: an estimate.");
      if (Math.abs(num(args, "temperature") - ROOM) > 1e-9)
        call.note("Away from 20 °C the density of honey follows that of sugar syrup: an estimate.");
      return honeyDensity(num(args, "moisture"), num(args, "temperature"));
    },
    modelUncertainty: (args, result) => densityError(num(args, "moisture")) * result[""]!,
  },
  {
    name: "honey_activity",
    group: GROUP,
    says: "The water activity of liquid honey, estimated on the high and so cautious side.",
    parameters: [moisture("moisture", "Water in the honey, by mass.")],
    result: [{ name: "", says: "Water activity.", holds: { kind: kinds.activity, unit: "" } }],
    equation: "activity = 0.267 + 0.0177 * water %",
    source: "J. Food Eng. 72 (2006) 287 (equation from memory), set beside four other studies",
    range: "13 to 21 % water, liquid honey; crystallised honey reads higher",
    trust:
      "standard uncertainty 0.04: five studies at 18 % water lie from 0.52 to 0.59; most honeys are up to 0.07 lower than this line",
    cautions: [NO_VERDICT],
    examples: [{ formula: "honey_activity(18 %)", gives: "0.5856" }],
    compute: (args, call) => {
      call.note(
        "An estimate on the high side: honeys of one moisture differ by 0.07, and crystallised honey reads higher than liquid.",
      );
      return honeyActivity(num(args, "moisture"));
    },
    modelUncertainty: () => 0.04,
  },
  {
    name: "infuse_honey",
    group: GROUP,
    says: "What must be driven off when an infusion is stirred into honey and the honey is brought back to its moisture.",
    parameters: [
      poured("honey")("honey", "Mass of the honey."),
      moisture("moisture", "Water in the honey."),
      poured("spirit")("infusion", "Mass of the infusion."),
      infusionStrength,
      infusionSolids,
      alcoholLeft,
      goal,
    ],
    labelsOnly: ["strength", "solids", "alcohol_left", "to"],
    result: [
      {
        name: "mixed_moisture",
        says: "Water in the mix before the run.",
        holds: { kind: kinds.moisture, unit: "%" },
      },
      massPart("taken.mass", "Mass of all that comes over: weigh the receiver, or the flask, to stop."),
      massPart("taken.water", "Water in what comes over."),
      massPart("taken.alcohol", "Alcohol in what comes over."),
      massPart("left.mass", "Mass of the honey that stays."),
    ],
    equation:
      "left = solids / (1 - to - alcohol_left); taken water = water - to * left; taken alcohol = alcohol - alcohol_left * left",
    source: "balance of solids, water and alcohol",
    range: "any masses; a mix that is too dry or holds too little alcohol for the goal is refused",
    trust: "exact as a balance; the moisture readings decide (0.2 % water is 2.4 g in a kilogram)",
    cautions: [NOT_HONEY, FERMENTS, PERISHABLE, COLD_BOILING, GLASS],
    examples: [
      {
        formula: "infuse_honey(1000 g, 18 %, 500 g, strength: 35 %mas, solids: 2 °Bx, to: 18 %).taken.water",
        gives: "312.8 g",
      },
      {
        formula: "infuse_honey(1000 g, 18 %, 500 g, strength: 35 %mas, solids: 2 °Bx, to: 18 %).left.mass",
        gives: "1012.2 g",
      },
    ],
    compute: (args, call) => {
      const mix = mixOf(args, call);
      const run = infuseHoney(mix, num(args, "infusion"));
      remarkRun(mix, call);
      return {
        mixed_moisture: run.mixedMoisture,
        "taken.mass": run.takenMass,
        "taken.water": run.takenWater,
        "taken.alcohol": run.takenAlcohol,
        "left.mass": run.leftMass,
      };
    },
  },
  {
    name: "infuse_honey_limit",
    group: GROUP,
    says: "The most infusion that a honey can take within the water that can be driven off and the flask.",
    parameters: [
      poured("honey")("honey", "Mass of the honey."),
      moisture("moisture", "Water in the honey."),
      infusionStrength,
      infusionSolids,
      optional(
        poured("water")(
          "budget",
          "Water that the still can drive off in the time there is: rate times time.",
        ),
      ),
      optional(vessel("flask", "Full volume of the flask that holds honey and infusion at the start.")),
      optional(share("fill", "Share of the flask that may be filled; at most half."), "50 %"),
      alcoholLeft,
      goal,
    ],
    labelsOnly: ["strength", "solids", "budget", "flask", "fill", "alcohol_left", "to"],
    result: [
      massPart("infusion", "The most infusion."),
      { name: "limited_by", says: "What sets the limit: the budget of water, or the flask.", holds: "text" },
      massPart("taken.water", "Water that comes over then."),
      massPart("left.mass", "Mass of the honey that stays then."),
    ],
    equation:
      "smaller of (budget - water the honey must lose) / (net water of an infusion) and infusion density * (fill * flask - honey / honey density)",
    source: "balance of solids, water and alcohol; contraction left out, which is the safe side",
    range: "fill at most 50 %; a honey that alone needs more than the budget, or fills the flask, is refused",
    trust:
      "exact as a balance; where the flask limits, standard uncertainty of the infusion that of the densities of honey (0.1 to 0.35 %) and infusion (0.5 % with sugar and alcohol)",
    cautions: [NOT_HONEY, FERMENTS, PERISHABLE, COLD_BOILING, GLASS],
    examples: [
      {
        formula:
          "infuse_honey_limit(600 g, 18.5 %, strength: 30 %mas, solids: 1 °Bx, budget: 420 g, to: 18 %).infusion",
        gives: "605.32 g",
      },
    ],
    compute: (args, call) => {
      const mix = mixOf(args, call);
      const fill = num(args, "fill");
      if (!(fill > 0 && fill <= 0.5)) {
        throw new Trouble({
          code: "flask-over-half",
          says: `A flask under vacuum is filled at most half, and the fill is ${Number((100 * fill).toFixed(1))} %.`,
          help: "Honey foams: a third is better still. Feed the rest during the run.",
        });
      }
      const flask = args.flask as number | undefined;
      const limit = infuseHoneyLimit(mix, {
        budget: args.budget as number | undefined,
        flask:
          flask === undefined
            ? undefined
            : {
                volume: flask,
                fill,
                honeyDensity: honeyDensity(mix.moisture),
                infusionDensity: sweetDensity(mix.ethanol, mix.solids),
              },
      });
      remarkRun(mix, call);
      if (flask !== undefined)
        call.note("Honey foams early under vacuum: a third of the flask is safer than half.");
      return {
        infusion: limit.infusion,
        limited_by: limit.limitedBy === "water" ? "the budget of water" : "the flask",
        "taken.water": limit.takenWater,
        "left.mass": limit.leftMass,
      };
    },
    modelUncertainty: (args, result): Readonly<Record<string, number>> => {
      if (args.flask === undefined) return {};
      const [ethanol, sugar] = [num(args, "strength"), num(args, "solids")];
      const infusionDensity = sweetDensity(ethanol, sugar);
      const honeyRoom = num(args, "honey") / honeyDensity(num(args, "moisture"));
      const byFlask = infusionDensity * (num(args, "fill") * (args.flask as number) - honeyRoom);
      // Where the budget of water limits, no density is in the answer.
      if (result.infusion! < byFlask * (1 - 0.01)) return {};
      const own = (ethanol > 0 && sugar > 0 ? 0.005 : 1e-4) * result.infusion!;
      const infusion = Math.hypot(densityError(num(args, "moisture")) * honeyRoom * infusionDensity, own);
      const [to, alcoholLeft] = [num(args, "to"), num(args, "alcohol_left")];
      const left = (infusion * sugar) / (1 - to - alcoholLeft);
      return { infusion, "left.mass": left, "taken.water": infusion * (1 - ethanol - sugar) - to * left };
    },
  },
  {
    name: "yeast_risk",
    group: GROUP,
    says: "What its water says about the risk that honey ferments.",
    parameters: [moisture("moisture", "Water in the honey.")],
    result: [{ name: "", says: "The risk, in a sentence.", holds: "text" }],
    equation: "steps at 17.1, 18, 19 and 20 % water",
    source: "A Practical Manual of Beekeeping, Table 2, commonly credited to Lochhead (1933)",
    range:
      "0 to 100 % water; the table's rows are in tenths of a per cent, and what lies between two of them takes the stricter",
    trust: "a table of experience; count the yeasts to be sure",
    cautions: ["A table of experience is no verdict: count the yeasts, and keep honey cool and closed."],
    examples: [
      {
        formula: "yeast_risk(17.5 %)",
        gives: "Safe from fermentation if it holds under 1000 yeasts in a gram (17.1 to 18 % water).",
      },
    ],
    compute: (args) => ({ "": yeastRisk(num(args, "moisture")) }),
  },
  {
    name: "hmf_time",
    group: GROUP,
    says: "How long honey takes at a temperature to form 30 mg/kg of HMF, the mark of heating.",
    parameters: [temperature("temperature", "Temperature of the honey.")],
    result: [{ name: "", says: "Time to 30 mg/kg.", holds: { kind: kinds.time, unit: "d" } }],
    equation: "ln(days) = 17593 / T - 52.73, T in kelvin",
    source: "our Arrhenius line through White, Kushnir and Subers (1964), three samples",
    range: "30 to 80 °C",
    trust: "off by a factor of up to 1.5 (standard uncertainty 25 %)",
    cautions: [
      "A time to 30 mg/kg of HMF is a guide to a factor of 1.5; acid infusions shorten it by an unknown factor. The law's limit is 40 mg/kg, and enzymes go earlier.",
    ],
    examples: [{ formula: "hmf_time(50 °C)", gives: "5.5412 d" }],
    compute: (args) => hmfTime(num(args, "temperature")),
    modelUncertainty: (_args, result) => 0.25 * result[""]!,
  },
];
