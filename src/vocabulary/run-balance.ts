import { liquidOfMass, liquidOfVolume, massOf, pureVolumeOf, volumeOf } from "../matter/liquid";
import { heldByMarc, soak } from "../matter/soaking";
import { volumeFraction } from "../matter/spirit";
import { kinds, Trouble } from "../quantity";
import { ALLERGENS, LABEL, LICENCE, VOLATILE_POISONS } from "./cautions";
import type { Declaration, ResultPart } from "./declaration";
import { amount, isMass, listed, mass, moisture, optional, strength } from "./parameters";
import { byVolume, charge, GROUP, massPart, num, sharePart, strengthPart, volumePart } from "./run-words";
import { spiritOf } from "./spirit-mixing";

/** Where the spirit went: what a run lost, and what a botanical keeps. */

/** Loss above which something is wrong with the cold side or the seals (common practice, no source). */
const USUAL_LOSS = 0.03;

const got = amount("got", "What came over, weighed.");

const strengthsPart: ResultPart = volumePart(
  "pure_volume",
  "With `strengths`: pure alcohol that is missing, at 20 °C.",
);

export const balances: readonly Declaration[] = [
  {
    name: "missing",
    group: GROUP,
    says: "What a run lost: three weighings, and the strengths when they are known.",
    parameters: [
      amount("charge", "What went in, weighed."),
      got,
      amount("left", "What stayed in the pot, weighed."),
      optional(
        listed(
          strength(
            "strengths",
            "Strength of charge, distillate and rest, in this order. Needed when volumes are given.",
          ),
        ),
      ),
    ],
    labelsOnly: ["strengths"],
    result: [
      massPart("mass", "Mass that is missing."),
      strengthsPart,
      sharePart("share", "The same as a share of the charge's mass."),
    ],
    equation: "charge - got - left, by mass; the same for the alcohol",
    source: "mass balance",
    range: "three masses, or three volumes at 20 °C with their strengths",
    trust: "exact: the ± of the three readings decides, so give them with theirs",
    cautions: [LICENCE],
    examples: [
      { formula: "missing(750 g, 368 g, 370 g).share", gives: "1.6 %" },
      {
        formula: "missing(750 g, 368 g, 370 g, strengths: [40 %vol, 70 %vol, 6 %vol]).pure_volume",
        gives: "3.1213 mL",
      },
    ],
    compute: (args, call) => {
      const names = ["charge", "got", "left"] as const;
      const strengths = args.strengths as readonly number[] | undefined;
      if (strengths !== undefined && strengths.length !== 3) {
        throw new Trouble({
          code: "list-length",
          says: `Three strengths are wanted, of charge, distillate and rest, and there are ${strengths.length}.`,
          help: "For example strengths: [40 %vol, 70 %vol, 6 %vol].",
        });
      }
      const parts = names.map((name, i) => {
        const byMass = isMass(call.kindOf(name));
        if (!byMass && strengths === undefined) {
          throw new Trouble({
            code: "needs-strengths",
            says: "Volumes of spirit do not add: with volumes the strengths are needed too.",
            help: "Weigh all three, or add strengths: [charge, distillate, rest].",
          });
        }
        const p = strengths?.[i] ?? 0;
        return byMass ? liquidOfMass(num(args, name), p) : liquidOfVolume(num(args, name), p);
      });
      const [went, came, stayed] = parts as [(typeof parts)[0], (typeof parts)[0], (typeof parts)[0]];
      if (!(massOf(went) > 0)) {
        throw new Trouble({
          code: "nothing-there",
          says: "The charge must be greater than nothing.",
          help: "Weigh it before the run.",
        });
      }
      const lost = massOf(went) - massOf(came) - massOf(stayed);
      const share = lost / massOf(went);
      if (share > USUAL_LOSS) {
        call.note(
          "More than 3 % is missing: look for a warm condenser or receiver, or a leak (common practice, no source).",
        );
      } else if (lost < 0) {
        call.note("More came out than went in: check the scale, or wet glass that was not weighed empty.");
      }
      if (strengths === undefined) {
        call.without(["pure_volume"], {
          says: "How much alcohol is missing is told only when the strengths are given.",
          help: "Add them, of charge, distillate and rest: strengths: [40 %vol, 70 %vol, 6 %vol].",
        });
      }
      return {
        mass: lost,
        ...(strengths !== undefined && {
          pure_volume: pureVolumeOf(went) - pureVolumeOf(came) - pureVolumeOf(stayed),
        }),
        share,
      };
    },
  },
  {
    name: "soak",
    group: GROUP,
    effort: 30,
    says: "What a botanical does to the spirit it soaks in: its water thins it, and the drained marc keeps some.",
    parameters: [
      charge,
      strength("strength", "Strength of the spirit before soaking."),
      mass("botanical", "Botanical that goes in, as it is."),
      moisture("moisture", "Its own water: about 12 % for dry berries, 80 % for fresh peel."),
      optional(
        mass(
          "wet_marc",
          "The drained botanical, weighed afterwards: then it says what drains and what is kept.",
        ),
      ),
    ],
    labelsOnly: ["wet_marc"],
    result: [
      strengthPart("strength", "Strength after soaking, inside the botanical and around it."),
      {
        name: "strength_lost",
        says: "How much weaker that is.",
        holds: { kind: kinds.strengthVolume, unit: "%vol" },
      },
      volumePart("drains", "With `wet_marc`: what drains off, at 20 °C."),
      volumePart("spirit_held", "With `wet_marc`: what the marc keeps, at 20 °C."),
      sharePart("share_held", "With `wet_marc`: share of the alcohol that the marc keeps."),
    ],
    equation: "p = E / (E + W + moisture * botanical); held = wet_marc - (1 - moisture) * botanical",
    source: "mass balance: alcohol spreads evenly over all water",
    range: "0 to 100 %; a marc between its dry matter and all the liquid",
    trust:
      "an estimate: what dissolves (sugar, acids, oils) and volumes inside the plant are left out; nobody's losses by botanical were found",
    cautions: [LABEL, VOLATILE_POISONS, ALLERGENS],
    examples: [
      { formula: "soak(800 mL, 60 %vol, 120 g, 80 %, wet_marc: 114 g).strength", gives: "53.784 %vol" },
      { formula: "soak(800 mL, 60 %vol, 120 g, 80 %, wet_marc: 114 g).drains", gives: "794.89 mL" },
      { formula: "soak(800 mL, 60 %vol, 120 g, 80 %, wet_marc: 114 g).share_held", gives: "10.932 %" },
    ],
    compute: (args, call) => {
      const p = num(args, "strength");
      const before = spiritOf(num(args, "volume"), isMass(call.kindOf("volume")), p);
      const botanical = num(args, "botanical");
      const liquid = soak(before, botanical, num(args, "moisture"));
      const after = byVolume(liquid);
      call.note(
        "An estimate: what dissolves out of the botanical is left out. Count the botanical in the flask's fill.",
      );
      const wet = args.wet_marc as number | undefined;
      if (wet === undefined) {
        call.without(["drains", "spirit_held", "share_held"], {
          says: "What drains off and what the botanical keeps are told only when the drained botanical was weighed.",
          help: "Weigh it and add wet_marc: 114 g.",
        });
        return { strength: after, strength_lost: volumeFraction(p) - after };
      }
      if (liquid.ethanol === 0) {
        call.without(["share_held"], {
          says: "There is no alcohol in it, so the botanical keeps no share of it.",
          help: "`spirit_held` tells the liquid that it keeps.",
        });
      }
      const held = heldByMarc(liquid, botanical, num(args, "moisture"), wet);
      return {
        strength: after,
        strength_lost: volumeFraction(p) - after,
        drains: volumeOf({ ethanol: liquid.ethanol - held.ethanol, water: liquid.water - held.water }),
        spirit_held: volumeOf(held),
        ...(liquid.ethanol > 0 && { share_held: held.ethanol / liquid.ethanol }),
      };
    },
  },
];
