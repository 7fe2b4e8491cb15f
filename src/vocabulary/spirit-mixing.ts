import {
  fractionOf,
  type Liquid,
  liquidOfMass,
  liquidOfVolume,
  massOf,
  pureVolumeOf,
  volumeOf,
} from "../matter/liquid";
import {
  type Instead,
  insteadOf,
  makeUp,
  marry,
  massToFortify,
  sugarVolumeError,
  sweeten,
  waterToLetDown,
  waterVolume,
} from "../matter/mixing";
import { spiritDensity, volumeFraction } from "../matter/spirit";
import { kinds, Trouble } from "../quantity";
import { GIN_STRENGTH, LABEL, VAPOUR } from "./cautions";
import type { Call, Declaration, NumberArguments, ResultPart } from "./declaration";
import { amount, isMass, listed, mass, optional, strength } from "./parameters";
import { densityError } from "./spirit-scales";

/** Spirits brought together, let down, raised, made up and sweetened. All of it by mass, with the contraction shown. */

const GROUP = "spirit";
const SOURCE = "mass balance; density by OIML R 22 (1973/75)";
const CLEAN = "0 to 100 %, at 20 °C, clean spirit (no sugar or extract)";

const num = (args: NumberArguments, name: string): number => args[name] as number;
const nums = (args: NumberArguments, name: string): readonly number[] => args[name] as readonly number[];

/** A spirit from an amount that is a volume or a mass, and its strength by volume. */
export function spiritOf(quantity: number, byMass: boolean, p: number): Liquid {
  if (!(quantity > 0)) {
    throw new Trouble({
      code: "nothing-there",
      says: "The amount of spirit must be greater than nothing.",
      help: "Check the amount and its sign.",
    });
  }
  return byMass ? liquidOfMass(quantity, p) : liquidOfVolume(quantity, p);
}

const volumePart = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.volume, unit: "mL" },
});
const massPart = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.mass, unit: "g" },
});
const strengthPart = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.strengthVolume, unit: "%vol" },
});

/** Small beside the volumes it comes from, so it keeps its own unit. */
const contractionPart = (says: string): ResultPart => ({
  name: "contraction",
  says,
  holds: { kind: kinds.volume, unit: "mL", unitOf: "" },
});

const theSpirit = amount("volume", "Volume (at 20 °C) or mass of the spirit: a bench weighs.");
const itsStrength = strength("strength", "Its strength, in %vol (at 20 °C), %mas or proof.");

/** Relative standard uncertainty of a volume of spirit that was reckoned from masses. */
const volumeError = (p: number): number => densityError(p) / spiritDensity(p);

/** Contraction is the small difference of volumes, each as good as the density; this is its standard uncertainty for a whole of 1. */
const CONTRACTION_ERROR = 1e-4;

function noteGin(from: number, to: number, call: Call): void {
  const q = volumeFraction(from);
  if (q >= 0.5 && q < 0.7 && volumeFraction(to) >= 0.375) call.note(GIN_STRENGTH);
}

export const mixing: readonly Declaration[] = [
  {
    name: "marry",
    group: GROUP,
    says: "Several spirits in one vessel: how much, how strong, and how much less than their volumes add up to.",
    parameters: [
      listed(amount("volumes", "Volume (at 20 °C) or mass of each spirit.")),
      listed(strength("strengths", "Strength of each, in the same order.")),
    ],
    together: ["volumes", "strengths"],
    result: [
      volumePart("volume", "Volume of the blend at 20 °C."),
      strengthPart("strength", "Its strength by volume."),
      massPart("mass", "Its mass."),
      volumePart("pure_volume", "Pure alcohol in it, at 20 °C."),
      contractionPart("What the parts measure apart less what they measure together."),
    ],
    equation: "mass and alcohol add: p = sum(m p) / sum(m); volume = sum(m) / density(p)",
    source: SOURCE,
    range: CLEAN,
    trust:
      "relative standard uncertainty of the volume 0.007 %, of the strength 0.005 %: the readings that go in decide",
    cautions: [VAPOUR, LABEL],
    examples: [
      { formula: "marry([40 L, 60 L], [70 %vol, 30 %vol]).volume", gives: "99.395 L" },
      { formula: "marry([40 L, 60 L], [70 %vol, 30 %vol]).strength", gives: "46.28 %vol" },
    ],
    compute: (args, call) => {
      const strengths = nums(args, "strengths");
      const byMass = isMass(call.kindOf("volumes"));
      const parts = nums(args, "volumes").map((a, i) =>
        byMass ? liquidOfMass(a, strengths[i]!) : liquidOfVolume(a, strengths[i]!),
      );
      const { whole, contraction } = marry(parts);
      const volume = volumeOf(whole);
      return {
        volume,
        strength: pureVolumeOf(whole) / volume,
        mass: massOf(whole),
        pure_volume: pureVolumeOf(whole),
        contraction,
      };
    },
    modelUncertainty: (_args, result) => ({
      volume: 7e-5 * result.volume!,
      strength: 5e-5 * result.strength!,
      mass: 7e-5 * result.mass!,
      contraction: CONTRACTION_ERROR * result.volume!,
    }),
  },
  {
    name: "let_down",
    group: GROUP,
    says: "The water that brings a spirit down to a strength, and what there is then.",
    parameters: [theSpirit, itsStrength, strength("to", "Strength wanted.")],
    labelsOnly: ["to"],
    result: [
      volumePart("add", "Water to add, at 20 °C."),
      massPart("add_mass", "The same water, to be weighed."),
      volumePart("total", "Volume afterwards, at 20 °C."),
      contractionPart("What spirit and water measure apart less what they measure together."),
    ],
    equation: "water = m p / p_to - m; total = (m + water) / density(p_to)",
    source: SOURCE,
    range: `${CLEAN}; \`to\` above 0 and not above the spirit's own strength`,
    trust:
      "standard uncertainty of the water 0.01 % of the total (pharmacopoeia's dilution table: within 0.16 mL in 1000)",
    cautions: [LABEL, VAPOUR],
    examples: [
      { formula: "let_down(1 L, 96 %vol, to: 40 %vol).add", gives: "1.4705 L" },
      { formula: "let_down(1 L, 96 %vol, to: 40 %vol).total", gives: "2.4 L" },
    ],
    compute: (args, call) => {
      const p = num(args, "strength");
      const to = num(args, "to");
      const spirit = spiritOf(num(args, "volume"), isMass(call.kindOf("volume")), p);
      const water = waterToLetDown(spirit, to);
      noteGin(p, to, call);
      const total = volumeOf({ ethanol: spirit.ethanol, water: spirit.water + water });
      return {
        add: waterVolume(water),
        add_mass: water,
        total,
        contraction: volumeOf(spirit) + waterVolume(water) - total,
      };
    },
    modelUncertainty: (args, result) => {
      const total = result.total!;
      const changed = num(args, "to") < num(args, "strength") ? 1 : 0;
      return {
        add: CONTRACTION_ERROR * total * changed,
        add_mass: CONTRACTION_ERROR * total * 998.2 * changed,
        total: volumeError(num(args, "to")) * total,
        contraction: CONTRACTION_ERROR * total * changed,
      };
    },
  },
  {
    name: "fortify",
    group: GROUP,
    says: "How much of a stronger spirit raises a weak liquid to a strength.",
    parameters: [
      amount("volume", "Volume (at 20 °C) or mass of the weak liquid."),
      strength("strength", "Its strength; 0 %vol for water."),
      strength("with", "Strength of the stronger spirit."),
      strength("to", "Strength wanted."),
    ],
    labelsOnly: ["to"],
    result: [
      volumePart("add", "Stronger spirit to add, at 20 °C."),
      massPart("add_mass", "The same, to be weighed."),
      volumePart("total", "Volume afterwards, at 20 °C."),
      contractionPart("What both measure apart less what they measure together."),
    ],
    equation: "m_add = m (p_to - p) / (p_with - p_to)",
    source: SOURCE,
    range: `${CLEAN}; \`to\` from the weak liquid's strength to below the strong one's`,
    trust: "standard uncertainty of the addition 0.01 % of the total",
    cautions: [VAPOUR, LABEL],
    examples: [
      { formula: "fortify(1 L, 12 %vol, 96 %vol, to: 18 %vol).add", gives: "0.075491 L" },
      { formula: "fortify(1 L, 12 %vol, 96 %vol, to: 18 %vol).total", gives: "1.0693 L" },
    ],
    compute: (args, call) => {
      const by = num(args, "with");
      const weak = spiritOf(num(args, "volume"), isMass(call.kindOf("volume")), num(args, "strength"));
      const added = liquidOfMass(massToFortify(weak, by, num(args, "to")), by);
      const total = volumeOf({ ethanol: weak.ethanol + added.ethanol, water: weak.water + added.water });
      return {
        add: volumeOf(added),
        add_mass: massOf(added),
        total,
        contraction: volumeOf(weak) + volumeOf(added) - total,
      };
    },
    modelUncertainty: (args, result) => {
      // What is added is the small difference of two strengths: as sure as the whole, not as itself.
      const changed = result.add! > 0 ? 1 : 0;
      const add = CONTRACTION_ERROR * result.total! * changed;
      return {
        add,
        add_mass: add * spiritDensity(num(args, "with")),
        total: 7e-5 * result.total!,
        contraction: CONTRACTION_ERROR * result.total!,
      };
    },
  },
  {
    name: "make_up",
    group: GROUP,
    says: "An exact amount of an exact strength from distillates that are dosed already, a neutral spirit and water.",
    parameters: [
      amount("total", "Volume (at 20 °C) or mass of the finished spirit."),
      listed(amount("volumes", "Volume (at 20 °C) or mass of each distillate that is dosed.")),
      listed(strength("strengths", "Strength of each, in the same order.")),
      optional(strength("with", "Strength of the neutral spirit that makes it up."), "96 %vol"),
      strength("to", "Strength of the finished spirit."),
    ],
    labelsOnly: ["with", "to"],
    together: ["volumes", "strengths"],
    result: [
      volumePart("spirit", "Neutral spirit to add, at 20 °C."),
      massPart("spirit_mass", "The same, to be weighed."),
      volumePart("water", "Water to add, at 20 °C."),
      massPart("water_mass", "The same, to be weighed."),
      contractionPart("What all the parts measure apart less the total."),
      {
        name: "short",
        says: "What stands in the way: “nothing”, or what the dosed parts hold too much of. Then there is no amount to add.",
        holds: "text",
      },
    ],
    equation:
      "spirit = (alcohol of the total - alcohol of the parts) / p_with; water = what is missing to the mass of the total",
    source: SOURCE,
    range: `${CLEAN}; the parts may not hold more alcohol or more water than the total`,
    trust: "standard uncertainty of spirit and water 0.01 % of the total",
    cautions: [LABEL, VAPOUR],
    examples: [
      {
        formula:
          "make_up(3 L, [300 mL, 180 mL, 90 mL, 40 mL], [78 %vol, 72.5 %vol, 66 %vol, 70.1 %vol], to: 42 %vol).spirit",
        gives: "0.84173 L",
      },
      {
        formula:
          "make_up(3 L, [300 mL, 180 mL, 90 mL, 40 mL], [78 %vol, 72.5 %vol, 66 %vol, 70.1 %vol], to: 42 %vol).water_mass",
        gives: "1621 g",
      },
    ],
    compute: (args, call) => {
      const to = num(args, "to");
      const strengths = nums(args, "strengths");
      const byMass = isMass(call.kindOf("volumes"));
      const parts = nums(args, "volumes").map((a, i) =>
        byMass ? liquidOfMass(a, strengths[i]!) : liquidOfVolume(a, strengths[i]!),
      );
      const target = spiritOf(num(args, "total"), isMass(call.kindOf("total")), to);
      const made = makeUp(target, parts, num(args, "with"));
      const slack = 1e-12 * massOf(target);
      const totalByMass = isMass(call.kindOf("total"));
      const asked = { byMass: totalByMass, total: num(args, "total") };
      const instead = () =>
        insteadOf(
          totalByMass ? { mass: asked.total } : { volume: asked.total },
          to,
          parts,
          num(args, "with"),
        );
      if (made.spirit.ethanol < -slack) {
        const have = parts.reduce((sum, part) => sum + pureVolumeOf(part), 0);
        const amounts = { ...asked, have, want: pureVolumeOf(target) };
        return { short: tooMuch("alcohol", amounts, instead(), to, call) };
      }
      if (made.water < -slack) {
        const have = parts.reduce((sum, part) => sum + part.water, made.spirit.water);
        const amounts = { ...asked, have: waterVolume(have), want: waterVolume(target.water) };
        return { short: tooMuch("water", amounts, instead(), to, call) };
      }
      const dosed = parts.reduce(
        (sum, part) => ({ ethanol: sum.ethanol + part.ethanol, water: sum.water + part.water }),
        {
          ethanol: 0,
          water: 0,
        },
      );
      if (massOf(dosed) > 0) noteGin(fractionOf(dosed), to, call);
      return {
        spirit: Math.max(0, volumeOf(made.spirit)),
        spirit_mass: Math.max(0, massOf(made.spirit)),
        water: Math.max(0, waterVolume(made.water)),
        water_mass: Math.max(0, made.water),
        contraction: made.contraction,
        short: "nothing",
      };
    },
    modelUncertainty: (_args, result) => {
      const total = (result.spirit ?? 0) + (result.water ?? 0);
      return {
        spirit: CONTRACTION_ERROR * total,
        spirit_mass: CONTRACTION_ERROR * total * 807,
        water: CONTRACTION_ERROR * total,
        water_mass: CONTRACTION_ERROR * total * 998,
        contraction: CONTRACTION_ERROR * total,
      };
    },
  },
  {
    name: "sweeten",
    group: GROUP,
    says: "Volume, strength and sweetness after sugar is dissolved in a spirit. An estimate, never for a label.",
    parameters: [theSpirit, itsStrength, mass("sugar", "Sucrose that is dissolved in it.")],
    result: [
      volumePart("volume", "Volume afterwards, at 20 °C."),
      strengthPart("strength", "Strength afterwards."),
      {
        name: "sugar_per_litre",
        says: "Sugar in the finished drink, for its volume.",
        holds: { kind: kinds.density, unit: "g/L", unitOf: "" },
      },
    ],
    equation: "volume = spirit + 0.62 mL/g * sugar; strength = pure alcohol / volume",
    source:
      "volume that sucrose takes up in water (ICUMSA density); in spirit not seen measured; 27 CFR 30.32 supports 0.60 to 0.64; adding densities instead (Tabarié) is known to give too little volume above about 20 %vol (Hackbarth 2011, abstract seen)",
    range: "spirit to 60 %vol, to 500 g of sugar for a litre of spirit",
    trust:
      "standard uncertainty 0.01 mL for each gram of sugar to 40 %vol, rising to 0.024 at 60: 0.09 %vol at 40 %vol with 300 g/L, 0.3 at 60 %vol",
    cautions: [LABEL],
    examples: [
      { formula: "sweeten(1 L, 40 %vol, 300 g).volume", gives: "1.186 L" },
      { formula: "sweeten(1 L, 40 %vol, 300 g).strength", gives: "33.727 %vol" },
      { formula: "sweeten(1 L, 40 %vol, 300 g).sugar_per_litre", gives: "252.95 g/L" },
    ],
    compute: (args, call) => {
      const spirit = spiritOf(num(args, "volume"), isMass(call.kindOf("volume")), num(args, "strength"));
      const made = sweeten(spirit, num(args, "sugar"));
      call.note(
        "An estimate, never for a label: how much room sugar takes up in spirit was not seen measured.",
      );
      if (pureVolumeOf(spirit) / volumeOf(spirit) >= 0.45 && made.sugarPerVolume >= 300) {
        call.note("From 45 %vol and 300 g/L on, sugar may stay undissolved.");
      }
      return { volume: made.volume, strength: made.strength, sugar_per_litre: made.sugarPerVolume };
    },
    modelUncertainty: (args, result) => {
      const change = sugarVolumeError(volumeFraction(num(args, "strength"))) * num(args, "sugar");
      const volume = result.volume!;
      return {
        volume: change,
        strength: (-result.strength! * change) / volume,
        sugar_per_litre: (-result.sugar_per_litre! * change) / volume,
      };
    },
  },
];

/** A figure with four digits, the last rounded to the side that is possible. */
function told(x: number, way: "up" | "down"): number {
  const step = 10 ** (Math.floor(Math.log10(x)) - 3);
  // What is whole but for the last bits of a double is whole.
  const steps = (x / step) * (way === "up" ? 1 - 1e-12 : 1 + 1e-12);
  return Number(((way === "up" ? Math.ceil(steps) : Math.floor(steps)) * step).toPrecision(4));
}

const ADVICE = {
  alcohol: "Make more of it, make it stronger, or dose less.",
  water: "Make it weaker, take a stronger spirit, or dose less.",
} as const;

/**
 * Says that the dosed parts hold too much of something, and what can be made up instead: as a caution, and to whoever
 * asks for an amount that is not there. Answers what `short` says.
 */
function tooMuch(
  what: "alcohol" | "water",
  made: { readonly have: number; readonly want: number; readonly byMass: boolean; readonly total: number },
  instead: Instead,
  to: number,
  call: Call,
): string {
  const litres = (v: number): string => `${Number((1000 * v).toPrecision(4))} L`;
  const thing = what === "alcohol" ? "pure alcohol" : "water";
  const says = `the dosed parts hold ${litres(made.have)} of ${thing}, and the total may hold ${litres(made.want)}`;
  const percent = (p: number, way: "up" | "down"): string => `${told(100 * volumeFraction(p), way)} %vol`;
  const size = (liquid: Liquid): string =>
    made.byMass ? `${told(massOf(liquid), "up")} kg` : `${told(1000 * volumeOf(liquid), "up")} L`;
  const only = what === "alcohol" ? "water" : "the spirit";
  const possible: string[] = [];
  if (instead.least !== undefined) {
    possible.push(
      `At ${percent(to, "down")} these parts make at least ${size(instead.least)}, with ${only} alone.`,
    );
  }
  const asked = made.byMass ? `${Number(made.total.toPrecision(4))} kg` : litres(made.total);
  possible.push(
    instead.nearest === undefined
      ? `The parts alone are more than ${asked}.`
      : what === "alcohol"
        ? `In ${asked} the weakest that is possible is ${percent(instead.nearest, "up")}.`
        : `In ${asked} the strongest that is possible is ${percent(instead.nearest, "down")}.`,
  );
  const caution = `This cannot be made up: ${says}.`;
  const help = `${ADVICE[what]} ${possible.join(" ")}`;
  call.caution(`${caution} ${help}`);
  call.without(["spirit", "spirit_mass", "water", "water_mass", "contraction"], { says: caution, help });
  return `too much ${what}: ${says}`;
}
