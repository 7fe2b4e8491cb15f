import {
  activityFromSolids,
  type Dissolved,
  mixtureActivity,
  NORRISH_TRUSTED,
  SOLUTES,
  type Solute,
  solidsFromActivity,
} from "../matter/activity";
import { canGrow, WARM_CLOCK_ETHANOL, warmRule, warmTime } from "../matter/keeping";
import { kinds } from "../quantity";
import type { Call, Declaration, NumberArguments, Parameter, ResultPart } from "./declaration";
import { COLD_BOILING, NO_VERDICT } from "./food-cautions";
import { declarations as freezing } from "./freezing";
import {
  activity,
  choice,
  listed,
  mass,
  optional,
  plainNumber,
  poured,
  solids,
  strength,
  temperature,
  time,
} from "./parameters";

/** Water activity of sugars and mixtures, what can grow, and the warm clock. Freezing is in freezing.ts, salt in salt.ts. */

const GROUP = "keeping and freezing";

const num = (args: NumberArguments, name: string): number => args[name] as number;
const maybe = (args: NumberArguments, name: string): number | undefined => args[name] as number | undefined;

const activityResult: ResultPart = {
  name: "",
  says: "Water activity at 25 °C.",
  holds: { kind: kinds.activity, unit: "" },
};

const solute: Parameter = optional(
  choice("solute", "What the solids are taken to be.", SOLUTES),
  '"sucrose"',
);

const ACTIVITY_SOURCE =
  "Starzak and Peacock for sucrose; Norrish (1966) for the others, constants from memory, those of polyols from PMC2836749, Table 3";
const ACTIVITY_EQUATION =
  "sucrose: ln(activity) = ln(1 - x) - 17638/(R T) x^2 (1 - 1.0038 x - 0.24653 x^2); others: activity = (1 - x) exp(-K x^2); x mole fraction";
const ACTIVITY_RANGE = "0 to 85 % sucrose, 0 to 80 % of another solute, by mass in water, 25 °C";

/** About where a kilogram of sucrose solution is full at 25 °C (64.4 % at 0 °C and 70.2 % at 40 °C seen). */
const SUCROSE_FULL = 0.68;

function noteThick(w: number, of: Solute, call: Call): void {
  if (of === "sucrose") {
    if (w > SUCROSE_FULL)
      call.note("Sucrose alone is full near 68 °Bx at 25 °C: thicker than that crystals may fall out.");
  } else if (w > NORRISH_TRUSTED) {
    call.note("Norrish's equation past 60 % by mass is an estimate.");
  }
}

/** Past this mass fraction of sucrose published equations part: by 0.014 at 80 °Bx. */
const SUCROSE_AGREED = 0.7;

const uncertaintyOf = (solids: number, solute: unknown): number =>
  solute !== "sucrose" ? 0.005 : solids <= SUCROSE_AGREED ? 0.002 : 0.01;

/** Masses that `activity` takes beside the water. */
const DISSOLVED: readonly (readonly [name: keyof Dissolved, says: string])[] = [
  ["sucrose", "Mass of sucrose (table sugar)."],
  ["glucose", "Mass of glucose (dextrose, dry)."],
  ["fructose", "Mass of fructose."],
  ["maltose", "Mass of maltose."],
  ["lactose", "Mass of lactose."],
  ["glycerol", "Mass of glycerol."],
  ["sorbitol", "Mass of sorbitol."],
  ["xylitol", "Mass of xylitol."],
  ["erythritol", "Mass of erythritol."],
  ["mannitol", "Mass of mannitol."],
  ["salt", "Mass of salt."],
  ["ethanol", "Mass of alcohol (ethanol)."],
];

const dissolvedOf = (args: NumberArguments): Dissolved =>
  Object.fromEntries(DISSOLVED.map(([name]) => [name, maybe(args, name)]).filter(([, m]) => m !== undefined));

/** Share of the sugars and polyols in sugars, polyols and water. */
function sweetShare(water: number, dissolved: Dissolved): number {
  let sweet = 0;
  for (const [name] of DISSOLVED) if (name !== "salt" && name !== "ethanol") sweet += dissolved[name] ?? 0;
  return sweet / (sweet + water);
}

function mixtureUncertainty(args: NumberArguments): number {
  if ((maybe(args, "ethanol") ?? 0) > 0) return 0.015;
  return sweetShare(num(args, "water"), dissolvedOf(args)) > NORRISH_TRUSTED ? 0.03 : 0.005;
}

export const declarations: readonly Declaration[] = [
  {
    name: "activity_from_solids",
    group: GROUP,
    says: "The water activity of a sugar solution.",
    parameters: [solids("solids", "Dissolved solids, by mass."), solute],
    labelsOnly: ["solute"],
    result: [activityResult],
    equation: ACTIVITY_EQUATION,
    source: ACTIVITY_SOURCE,
    range: ACTIVITY_RANGE,
    trust:
      "standard uncertainty 0.002 for sucrose to 70 °Bx and 0.01 above (where equations part by 0.014), 0.005 for the others",
    cautions: [NO_VERDICT],
    examples: [
      { formula: "activity_from_solids(65 °Bx)", gives: "0.86544" },
      { formula: 'activity_from_solids(30 °Bx, solute: "glucose")', gives: "0.95527" },
    ],
    compute: (args, call) => {
      const of = args.solute as Solute;
      noteThick(num(args, "solids"), of, call);
      return activityFromSolids(num(args, "solids"), of);
    },
    modelUncertainty: (args) => uncertaintyOf(num(args, "solids"), args.solute),
  },
  {
    name: "moisture_from_activity",
    group: GROUP,
    says: "The water content at which a sugar solution has a water activity.",
    parameters: [activity("activity", "Water activity wanted."), solute],
    labelsOnly: ["solute"],
    result: [{ name: "", says: "Water, by mass.", holds: { kind: kinds.moisture, unit: "%" } }],
    equation: "1 - the solids whose activity_from_solids is this",
    source: `${ACTIVITY_SOURCE}; found in a bracket`,
    range: ACTIVITY_RANGE,
    trust:
      "standard uncertainty 0.002 in the activity for sucrose (0.2 % water at 65 °Bx), 0.005 for the others",
    cautions: [NO_VERDICT],
    examples: [{ formula: "moisture_from_activity(0.85)", gives: "32.86 %" }],
    compute: (args, call) => {
      const of = args.solute as Solute;
      const w = solidsFromActivity(num(args, "activity"), of);
      noteThick(w, of, call);
      return 1 - w;
    },
    modelUncertainty: (args, result) => {
      const of = args.solute as Solute;
      const w = 1 - result[""]!;
      const h = 1e-4;
      const low = Math.max(0, w - h);
      const slope = (activityFromSolids(w, of) - activityFromSolids(low, of)) / (w - low);
      return w === 0 ? 0 : uncertaintyOf(w, of) / Math.abs(slope);
    },
  },
  {
    name: "activity",
    group: GROUP,
    says: "The water activity of a mixture, from the masses in it.",
    parameters: [
      poured("water")("water", "Mass of the water alone, that of fruit, milk and syrup included."),
      ...DISSOLVED.map(([name, says]) =>
        optional(name === "ethanol" ? poured("alcohol")(name, says) : mass(name, says)),
      ),
    ],
    labelsOnly: DISSOLVED.map(([name]) => name),
    result: [activityResult],
    equation: "product of the activities that each solute alone gives in all the water",
    source: `Ross (1975); ${ACTIVITY_SOURCE}; salt by Pitzer and Mayorga (1973); alcohol by the vapour model's x_w * gamma_w`,
    range:
      "each solute inside its own range: sucrose 85 %, other sugars 80 %, salt 26.4 % of the brine, 25 °C",
    trust:
      "standard uncertainty 0.005; 0.015 with alcohol; 0.03 past 60 % sugars. Amino acids and extract are not known: measure",
    cautions: [NO_VERDICT],
    examples: [
      { formula: "activity(90 g, salt: 17 g)", gives: "0.88375" },
      { formula: "activity(100 g, sucrose: 50 g, salt: 5 g)", gives: "0.9425" },
    ],
    compute: (args, call) => {
      const water = num(args, "water");
      const dissolved = dissolvedOf(args);
      const result = mixtureActivity(water, dissolved);
      if ((dissolved.ethanol ?? 0) > 0) {
        call.note(
          "With alcohol an estimate, high by about 0.012 in wines. What keeps a spirit is its alcohol, not this figure.",
        );
      }
      if (sweetShare(water, dissolved) > NORRISH_TRUSTED) {
        call.note(
          "Past 60 % sugars the product reads high: 0.03 at honey's water. An estimate, on the cautious side.",
        );
      }
      return result;
    },
    modelUncertainty: mixtureUncertainty,
  },
  ...freezing,
  {
    name: "can_grow",
    group: GROUP,
    says: "What published tables say can grow in a food of this water activity; a caution, never a verdict.",
    parameters: [
      activity("activity", "Water activity, measured or reckoned."),
      optional(plainNumber("acidity", "Its pH, from a meter or strip.")),
      optional(strength("strength", "Alcohol in it.")),
      optional(temperature("kept_at", "Temperature at which it is kept.")),
    ],
    labelsOnly: ["acidity", "strength", "kept_at"],
    result: [{ name: "", says: "What can grow, in sentences.", holds: "text" }],
    equation:
      "steps of water activity; low in acid when pH > 4.6 and activity > 0.85; alcohol at 6 and 11 % by mass",
    source:
      "table adapted from Beuchat (1981); 21 CFR 114.3; J. Food Prot. 66 (2003) 610; J. Jpn Soc. Food Sci. Technol. 31 (1984) 531; Lett. Appl. Microbiol. 24 (1997) 95",
    range: "activity 0 to 1, pH 0 to 14",
    trust: "a table of groups, not of your food; a food laboratory decides",
    cautions: [
      NO_VERDICT,
      "Garlic, mushroom, roots and herbs in oil or in a thick liquor get no shelf date from a model.",
    ],
    examples: [
      {
        formula: "can_grow(0.55)",
        gives: "At a water activity of 0.55 no microbe is known to grow, though those present may survive.",
      },
    ],
    compute: (args, call) => {
      const ph = maybe(args, "acidity");
      if (ph === undefined) call.note("Never judged from the water activity alone: give the acidity too.");
      return {
        "": canGrow({
          activity: num(args, "activity"),
          ph,
          ethanol: maybe(args, "strength"),
          kelvin: maybe(args, "kept_at"),
        }),
      };
    },
  },
  {
    name: "warm_time",
    group: GROUP,
    says: "How long a food has been between 5 and 60 °C, over all the stages it went through.",
    parameters: [
      listed(time("times", "How long each stage took.")),
      listed(temperature("temperatures", "Temperature of the food in each stage.")),
    ],
    result: [
      {
        name: "between_5_and_60",
        says: "Time between 5 and 60 °C.",
        holds: { kind: kinds.time, unit: "min" },
      },
    ],
    equation: "sum of the times whose temperature lies from 5 to 60 °C, ends included",
    source: "a city food safety kit after the Australian code; local code decides",
    range: "times from 0 up",
    trust: "as good as the record of the stages",
    cautions: [
      COLD_BOILING,
      `The 2 and 4 hour rule is one country's; local code decides. It is for food under ${100 * WARM_CLOCK_ETHANOL} % alcohol by mass and above pH 4.6.`,
    ],
    examples: [
      {
        formula: "warm_time([40 min, 95 min, 30 min], [20 °C, 32 °C, 3 °C]).between_5_and_60",
        gives: "135 min",
      },
    ],
    together: ["times", "temperatures"],
    compute: (args, call) => {
      const seconds = warmTime(args.times as readonly number[], args.temperatures as readonly number[]);
      call.note(warmRule(seconds));
      return { between_5_and_60: seconds };
    },
  },
];
