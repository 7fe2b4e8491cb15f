import { SATURATED_RATIO, saltActivity, saltFromActivity } from "../matter/salt";
import { thickenSalty } from "../matter/savoury";
import { kinds, Trouble } from "../quantity";
import type { Declaration, NumberArguments, ResultPart } from "./declaration";
import { COLD_BOILING, CONCENTRATES, NO_VERDICT, PERISHABLE } from "./food-cautions";
import { activity, mass, optional, poured, share, solids } from "./parameters";

/** Salt in water, and salty liquors thickened: the savoury side, where a refractometer misleads. */

const num = (args: NumberArguments, name: string): number => args[name] as number;
const maybe = (args: NumberArguments, name: string): number | undefined => args[name] as number | undefined;

const activityPart = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.activity, unit: "" },
});
const sharePart = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.plain, unit: "%", unitOf: "" },
});
const massPart = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.mass, unit: "g" },
});

const PITZER =
  "osmotic = 1 - 0.3915 r / (1 + 1.2 r) + m (0.0765 + 0.2664 exp(-2 r)) + 0.00127 m^2, r = sqrt(m); ln(activity) = -2 m * osmotic * 0.018015; m in mol salt/kg water";
const PITZER_SOURCE =
  "Pitzer and Mayorga (1973) at 25 °C; constants seen in several public copies, the publication from memory";

/** As read from several checks, among them 0.755 over saturated brine against our 0.752. */
const SALT_UNCERTAINTY = 0.003;

/** How steeply the activity falls with the salt ratio. */
function activitySlope(ratio: number): number {
  const h = 1e-5;
  const low = Math.max(0, ratio - h);
  const high = Math.min(SATURATED_RATIO, ratio + h);
  return (saltActivity(high) - saltActivity(low)) / (high - low);
}

export const declarations: readonly Declaration[] = [
  {
    name: "salt_activity",
    group: "keeping and freezing",
    says: "The water activity of a brine.",
    parameters: [
      mass("salt", "Mass of the salt."),
      poured("water")("water", "Mass of the water, without the salt."),
    ],
    result: [activityPart("", "Water activity at 25 °C.")],
    equation: PITZER,
    source: PITZER_SOURCE,
    range: "0 to 35.9 g of salt for 100 g of water (saturated), 25 °C",
    trust: "standard uncertainty 0.003",
    cautions: [NO_VERDICT],
    examples: [{ formula: "salt_activity(10 g, 100 g)", gives: "0.94203" }],
    compute: (args) => {
      const water = num(args, "water");
      if (!(water > 0)) {
        throw new Trouble({ code: "out-of-range", says: "A brine needs some water, and there is none." });
      }
      return saltActivity(num(args, "salt") / water);
    },
    modelUncertainty: () => SALT_UNCERTAINTY,
  },
  {
    name: "salt_from_activity",
    group: "keeping and freezing",
    says: "The salt that brings water to a water activity, in grams for 100 g of water.",
    parameters: [activity("activity", "Water activity wanted.")],
    result: [
      sharePart(
        "",
        "Salt as a share of the *water*: 20 % is 20 g of salt in 100 g of water, and 16.7 % of the brine.",
      ),
    ],
    equation: "the salt whose salt_activity is this",
    source: `${PITZER_SOURCE}; found in a bracket`,
    range: "water activities 0.752 (saturated) to 1, 25 °C",
    trust: "standard uncertainty 0.003 in the activity, about half a gram of salt for 100 g of water",
    cautions: [NO_VERDICT],
    examples: [{ formula: "salt_from_activity(0.85)", gives: "23.578 %" }],
    compute: (args, call) => {
      call.note(
        "Counted on the water alone. Tables that say percent salt may mean the brine, which makes a smaller number.",
      );
      return saltFromActivity(num(args, "activity"));
    },
    modelUncertainty: (_args, result) => SALT_UNCERTAINTY / Math.abs(activitySlope(result[""]!)),
  },
  {
    name: "reduce_salty",
    group: "sugar and juice",
    says: "What a salty liquor becomes when water is driven off: by weight, since a refractometer reads salt as sugar.",
    parameters: [
      mass("mass", "Mass of the liquor before the run, weighed."),
      share("salt", "Salt in it, as a share of the whole, by weight of what went in."),
      solids("solids", "Other dissolved solids, by weight of what went in; not a refractometer reading."),
      optional(mass("to_mass", "Mass that stays in the flask.")),
      optional(share("to_salt", "Salt wanted at the end, as a share of the whole.")),
      optional(activity("to_activity", "Water activity wanted at the end, reckoned by the salt alone.")),
    ],
    labelsOnly: ["to_mass", "to_salt", "to_activity"],
    result: [
      massPart("left.mass", "What stays in the flask: weigh the flask to stop here."),
      massPart("taken.mass", "Water that comes over."),
      sharePart("salt", "Salt in the whole that stays."),
      sharePart("salt_in_water", "Dissolved salt in salt and water: the basis of most tables."),
      activityPart(
        "activity",
        "Water activity if the other solids count for nothing: the high, cautious end.",
      ),
      activityPart("activity_low", "Water activity if the other solids all were glucose: the low end."),
      massPart("crystals", "Salt that falls out at 25 °C."),
    ],
    equation:
      "left = salt + solids + water that stays; activity = salt_activity, activity_low = that times the activity of glucose",
    source: `balance of mass; ${PITZER_SOURCE}; Norrish for glucose; product of Ross (1975)`,
    range: "one goal; from the liquor as it is to where no water stays; 25 °C",
    trust:
      "exact as a balance; activity 0.003 for the salt, and the true one lies between both ends unless amino acids bring it lower: measure",
    cautions: [NO_VERDICT, PERISHABLE, COLD_BOILING, CONCENTRATES],
    examples: [
      { formula: "reduce_salty(2000 g, 4.5 %, 9 °Bx, to_mass: 600 g).salt", gives: "15 %" },
      { formula: "reduce_salty(2000 g, 4.5 %, 9 °Bx, to_mass: 600 g).activity", gives: "0.82201" },
    ],
    compute: (args, call) => {
      const state = thickenSalty(num(args, "mass"), num(args, "salt"), num(args, "solids"), {
        mass: maybe(args, "to_mass"),
        salt: maybe(args, "to_salt"),
        activity: maybe(args, "to_activity"),
      });
      if (num(args, "solids") > 0) {
        call.note(
          "The water activity lies between activity_low and activity; what amino acids do to it is not known: measure.",
        );
      }
      if (state.crystals > 0) {
        call.note(
          "Salt falls out of it at 25 °C (water holds 35.9 g in 100 g); a thick bottom burns and bumps.",
        );
      }
      if (state.activityLow === undefined) {
        call.without(["activity_low"], {
          says: "Past 80 % of other solids in their water nothing tells how low the water activity is: the equation for glucose ends there.",
          help: "`activity` is the high, cautious end; a meter tells the rest.",
        });
      }
      return {
        "left.mass": state.left,
        "taken.mass": state.taken,
        salt: state.salt,
        salt_in_water: state.saltInWater,
        activity: state.activity,
        activity_low: state.activityLow,
        crystals: state.crystals,
      };
    },
    modelUncertainty: () => ({ activity: SALT_UNCERTAINTY, activity_low: 0.005 }),
  },
];
