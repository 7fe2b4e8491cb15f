import { flashPoint } from "../matter/flammability";
import { INDEX_ERROR, indexSlope, massFractionFromIndex } from "../matter/refraction";
import {
  densityByFlask,
  massFraction,
  massFractionFromAlcoholometer,
  massFractionFromDensity,
  volumeFraction,
} from "../matter/spirit";
import { indexFromSolids, solidsAt20 } from "../matter/sugar";
import { strengthByTwoReadings } from "../matter/two-readings";
import { kinds, Trouble } from "../quantity";
import { LABEL, SUGAR_HIDES, VAPOUR } from "./cautions";
import type { Call, Declaration, NumberArguments, Parameter, ResultPart } from "./declaration";
import {
  density,
  index,
  isMass,
  optional,
  poured,
  solids,
  strengthByVolume,
  temperature,
  volume,
} from "./parameters";
import { densityError, strengthErrorFromDensity } from "./spirit-scales";

/** Finding the strength of a spirit with what a bench has, and what a strength means for fire. */

const GROUP = "spirit";
const ROOM = 293.15;
const num = (args: NumberArguments, name: string): number => args[name] as number;

const at20 = optional(temperature("temperature", "Temperature of the spirit when it was measured."), "20 °C");
const strengthResult = (says: string): ResultPart => ({
  name: "",
  says,
  holds: { kind: kinds.strengthVolume, unit: "%vol" },
});

/** A spirit's reading in %vol; a strength by mass is no reading of these instruments. */
const reading = (says: string): Parameter => ({
  name: "reading",
  says,
  takes: [{ kind: kinds.strengthVolume }],
});

const sweetness: Parameter = optional(
  density("sugar", "Sugar or extract in the sample, in g/L. There must be none: it misleads the reading."),
  "0 g/L",
);

/** 27 CFR 30.32: a gram of solids in a litre hides 0.2 %vol between 40 and 50 %vol. */
function refuseSugar(sugar: number, by: "density" | "index"): void {
  if (sugar === 0) return;
  const grams = Number(sugar.toPrecision(4));
  throw new Trouble({
    code: "misleading-reading",
    says:
      by === "index"
        ? `Sugar reads as alcohol here: ${grams} g/L of sugar would be taken for alcohol, and one reading cannot tell them apart.`
        : sugar >= 100
          ? `With ${grams} g/L of sugar in it the density says nothing about the strength.`
          : `With ${grams} g/L of sugar in it this would come out about ${Number((0.2 * sugar).toPrecision(2))} %vol too low (near 40 %vol; 0.2 for each gram in a litre).`,
    help: "Distil a sample, make the distillate up with water to the sample's volume, measure that, and use behind_sugar.",
  });
}

const INVERSE_R22 = "OIML R 22 (1973/75), inverse found in a bracket";

export const measuring: readonly Declaration[] = [
  {
    name: "strength_from_density",
    group: GROUP,
    says: "The strength of a clean spirit from its true density (a value weighed in air is about 1.1 kg/m^3 lower).",
    parameters: [
      density("density", "True density, from a density meter or a weighed flask."),
      at20,
      sweetness,
      optional(
        index(
          "index",
          "Refractive index of the same liquid at 20 °C (index_from_solids turns a °Bx reading into it). With it sugar may be in the liquid: it drops out.",
        ),
      ),
    ],
    labelsOnly: ["temperature", "sugar", "index"],
    result: [strengthResult("Strength at 20 °C.")],
    equation:
      "the strength whose spirit_density at that temperature is this density; with `index`: r = (n^2 - 1)/((n^2 + 2) density), e (0.07054 + 0.0045 e) = r - 0.20606, strength = e * density / 789.24 kg/m^3",
    source: `${INVERSE_R22}; with \`index\`: specific refraction adds by mass, constants from CRC indices and densities`,
    range:
      "densities from ethanol to water at that temperature, -20 to 40 °C, no sugar or extract; with `index`: 20 °C, 0 to 40 %mas, sugar but no salt",
    trust:
      "standard uncertainty of the formula 0.02 to 0.06 %vol (0.06 kg/m^3); 0.1 %vol is 0.11 kg/m^3 at 20, 0.16 at 40, 0.28 at 80 %vol; with `index` 0.5 %vol with good instruments, 2 with kitchen ones",
    cautions: [LABEL],
    examples: [
      { formula: "strength_from_density(948.05 kg/m^3)", gives: "39.997 %vol" },
      { formula: "strength_from_density(1020.59 kg/m^3, index: 1.35337 nD)", gives: "12.029 %vol" },
    ],
    compute: (args, call) => {
      if (args.index !== undefined) {
        if (Math.abs(num(args, "temperature") - ROOM) > 1e-9) {
          throw new Trouble({
            code: "out-of-range",
            says: "Density and index together are understood at 20 °C only.",
            help: "Bring the sample to 20 °C and read both.",
          });
        }
        call.note(
          "Without salt, and with little acid or glycerol: an estimate, 2 %vol with kitchen instruments. behind_sugar is surer.",
        );
        return strengthByTwoReadings(num(args, "density"), num(args, "index"));
      }
      call.caution(SUGAR_HIDES);
      refuseSugar(num(args, "sugar"), "density");
      return volumeFraction(massFractionFromDensity(num(args, "density"), num(args, "temperature")));
    },
    modelUncertainty: (args, result) => {
      if (args.index !== undefined) return 0.005;
      const p = massFraction(result[""]!);
      return strengthErrorFromDensity(p, num(args, "temperature"), densityError(p));
    },
  },
  {
    name: "strength_at_20",
    group: GROUP,
    says: "The true strength behind the reading of a glass alcoholometer (marked at 20 °C) in a spirit of another temperature.",
    parameters: [
      reading("What the alcoholometer shows."),
      temperature(
        "temperature",
        "Temperature of the spirit when it was read: without it there is no strength.",
      ),
      sweetness,
    ],
    labelsOnly: ["sugar"],
    result: [strengthResult("Strength at 20 °C.")],
    equation: "density(p, t) = density(reading, 20 °C) / (1 + 25e-6 (t - 20)), solved for p",
    source: `${INVERSE_R22}; glass expansion 25e-6 /K, the usual value`,
    range: "0 to 100 %vol, -20 to 40 °C; no sugar or extract",
    trust:
      "standard uncertainty 0.03 %vol (US Gauging Manual lines); the instrument itself 0.3 to 0.5 %vol, and 1 K is 0.4 %vol near 40",
    cautions: [SUGAR_HIDES, LABEL],
    examples: [
      { formula: "strength_at_20(40 %vol, 25 °C)", gives: "37.993 %vol" },
      { formula: "strength_at_20(60 %vol, 30 °C)", gives: "56.448 %vol" },
    ],
    compute: (args) => {
      refuseSugar(num(args, "sugar"), "density");
      return volumeFraction(massFractionFromAlcoholometer(num(args, "reading"), num(args, "temperature")));
    },
    modelUncertainty: () => 3e-4,
  },
  {
    name: "strength_by_flask",
    group: GROUP,
    says: "The strength of a clean spirit from one flask weighed full to its mark with the spirit and with water.",
    parameters: [
      poured("spirit")("spirit", "Net mass of the flask full of spirit: the flask's own mass taken off."),
      poured("water")("water", "Net mass of the same flask full of water, at the same temperature."),
      at20,
      sweetness,
    ],
    labelsOnly: ["temperature", "sugar"],
    result: [strengthResult("Strength at 20 °C.")],
    equation: "density = spirit / water * (water's density - 1.2) + 1.2 kg/m^3; then strength_from_density",
    source: `${INVERSE_R22}; buoyancy of air 1.2 kg/m^3, the conventional value`,
    range: "strengths 0 to 100 %vol, -20 to 40 °C; no sugar or extract",
    trust:
      "standard uncertainty of the formula 0.02 to 0.06 %vol; with 100 mL weighed to 0.02 g: 0.26 %vol at 20, 0.17 at 40, 0.12 at 60; 50 mL doubles that",
    cautions: [SUGAR_HIDES, LABEL],
    examples: [{ formula: "strength_by_flask(94.71 g, 99.72 g)", gives: "39.959 %vol" }],
    compute: (args) => {
      refuseSugar(num(args, "sugar"), "density");
      const water = num(args, "water");
      if (!(water > 0)) {
        throw new Trouble({
          code: "nothing-there",
          says: "The flask full of water must weigh something.",
          help: "Give net masses: full flask less empty flask.",
        });
      }
      const kelvin = num(args, "temperature");
      return volumeFraction(
        massFractionFromDensity(densityByFlask(num(args, "spirit"), water, kelvin), kelvin),
      );
    },
    modelUncertainty: (args, result) => {
      const p = massFraction(result[""]!);
      return strengthErrorFromDensity(p, num(args, "temperature"), densityError(p));
    },
  },
  {
    name: "strength_by_drops",
    group: GROUP,
    says: "The strength of a clean distillate from two drops on a sugar refractometer, thinned with water by weight when it is strong.",
    parameters: [
      solids("reading", "What the refractometer shows."),
      optional(
        partOfMix("spirit", "Distillate in what was read: its mass, or a number of parts by mass."),
        "1",
      ),
      optional(partOfMix("water", "Water it was thinned with: in the same measure."), "0"),
      optional(
        temperature(
          "temperature",
          "Temperature of prism and sample; 20 °C when the instrument corrects by itself.",
        ),
        "20 °C",
      ),
      sweetness,
    ],
    labelsOnly: ["spirit", "water", "temperature", "sugar"],
    result: [strengthResult("Strength of the distillate at 20 °C.")],
    equation:
      "index of the reading on the sugar scale = 1.333 + 0.053961 e + 0.15393 e^2 - 0.42655 e^3 + 0.24817 e^4, solved for e; p = e (spirit + water) / spirit",
    source: "fit to the CRC table of ethanol in water (20 °C); sugar scale of ICUMSA 1974",
    range: "what is read: 0 to 40 %mas (16.6 °Bx); thin anything stronger; 10 to 30 °C; no sugar, no salt",
    trust: "standard uncertainty of the fit 0.05 %mas; 0.2 °Bx of reading is 0.4 %mas up to 20, 0.7 near 40",
    cautions: [LABEL],
    examples: [
      { formula: "strength_by_drops(9.4 °Bx)", gives: "24.489 %vol" },
      { formula: "strength_by_drops(12 °Bx, spirit: 1, water: 1)", gives: "59.466 %vol" },
    ],
    compute: (args, call) => {
      refuseSugar(num(args, "sugar"), "index");
      const kelvin = num(args, "temperature");
      const at = solidsAt20(num(args, "reading"), kelvin);
      if (Math.abs(kelvin - ROOM) > 1e-9) {
        call.note(
          "The correction to 20 °C is that of sugar solutions: for spirit an estimate. Read near 20 °C.",
        );
      }
      const e = massFractionFromIndex(indexFromSolids(at));
      needOneMeasure(num(args, "water"), call);
      const { spirit, water } = mixOf(args);
      const p = (e * (spirit + water)) / spirit;
      if (p > 1) {
        throw new Trouble({
          code: "out-of-range",
          says: `That reading and that much water would mean ${Number((100 * p).toPrecision(4))} %mas before thinning, which cannot be.`,
          help: "Check both weights, and that the sample holds no sugar.",
        });
      }
      return volumeFraction(p);
    },
    modelUncertainty: (args, result) => {
      const { spirit, water } = mixOf(args);
      const p = massFraction(result[""]!);
      const e = (p * spirit) / (spirit + water);
      const byMass = (INDEX_ERROR / indexSlope(e)) * ((spirit + water) / spirit);
      const h = 1e-4;
      const at = Math.min(1 - h, Math.max(h, p));
      return (byMass * (volumeFraction(at + h) - volumeFraction(at - h))) / (2 * h);
    },
  },
  {
    name: "behind_sugar",
    group: GROUP,
    says: "The strength of a sweet spirit from a sample that was distilled off, made up with water, and measured.",
    parameters: [
      strengthByVolume("reading", "Strength of the distillate after it was made up with water."),
      volume("sample", "Volume of the sample before distilling, at 20 °C."),
      volume("made_up", "Volume that its distillate was made up to, at 20 °C."),
    ],
    result: [strengthResult("Strength of the sweet spirit.")],
    equation: "reading * made_up / sample",
    source: "principle of the reference methods, OIV-MA-AS312-01 and OIV-MA-BS-02: distil volume to volume",
    range: "a distillate that holds all the alcohol of the sample; the result at most 100 %vol",
    trust:
      "standard uncertainty 0.5 %vol with good instruments, 2 with kitchen ones; what a vacuum run loses is missing in it",
    cautions: [LABEL],
    examples: [{ formula: "behind_sugar(23.4 %vol, 100 mL, 100 mL)", gives: "23.4 %vol" }],
    compute: (args, call) => {
      const sample = num(args, "sample");
      const madeUp = num(args, "made_up");
      if (!(sample > 0 && madeUp > 0)) {
        throw new Trouble({
          code: "nothing-there",
          says: "Sample and made-up volume must both be greater than nothing.",
          help: "Measure both in the same flask at 20 °C.",
        });
      }
      const strength = (num(args, "reading") * madeUp) / sample;
      if (strength > 1) {
        throw new Trouble({
          code: "out-of-range",
          says: `That would be ${Number((100 * strength).toPrecision(4))} %vol in the sample, which cannot be.`,
          help: "Check the volumes: sample first, then what the distillate was made up to.",
        });
      }
      call.note("An estimate on this bench: alcohol lost to the pump makes it too low.");
      return strength;
    },
    modelUncertainty: (_args, result) => 0.005 * Math.min(1, result[""]! / 0.05),
  },
  {
    name: "flash_point",
    group: GROUP,
    says: "The temperature from which the vapour over a spirit can be lit. Guidance, no safety limit.",
    parameters: [
      strengthByVolume("strength", "Strength of the spirit."),
      optional(
        temperature("room", "Temperature of the room or of the spirit, whichever is warmer."),
        "25 °C",
      ),
    ],
    labelsOnly: ["room"],
    result: [{ name: "", says: "Flash point.", holds: { kind: kinds.temperature, unit: "°C" } }],
    equation:
      "straight lines between 10: 49, 20: 36, 30: 29, 40: 26, 50: 24, 60: 22, 70: 21, 80: 20, 90 and 96: 17, 100 %vol: 12 °C",
    source:
      "list seen in two places, believed NFPA 325 (test method not stated); pure ethanol: lowest closed-cup value in use, from memory",
    range: "10 to 100 %vol",
    trust: "standard uncertainty 2 K; guidance only",
    cautions: [VAPOUR],
    examples: [{ formula: "flash_point(40 %vol)", gives: "26 °C" }],
    compute: (args, call) => {
      const kelvin = flashPoint(num(args, "strength"));
      call.note("An estimate from a list whose test method is not stated: keep well below it.");
      if (kelvin <= num(args, "room")) {
        call.caution(
          "At this room's temperature the spirit is above its flash point: a spark or flame can light its vapour.",
        );
      }
      return kelvin;
    },
    modelUncertainty: () => 2,
  },
];

function partOfMix(name: string, says: string): Parameter {
  return { name, says, takes: [{ kind: kinds.plain }, { kind: kinds.mass }] };
}

function mixOf(args: NumberArguments): { readonly spirit: number; readonly water: number } {
  const spirit = num(args, "spirit");
  const water = num(args, "water");
  if (spirit > 0 && water >= 0) return { spirit, water };
  throw new Trouble({
    code: "nothing-there",
    says: "There must be some spirit in what was read, and no less than no water.",
    help: "Give the weights that were mixed, for example spirit: 5 g, water: 5 g.",
  });
}

/** Five grams with one part of water is no mixture that anyone weighed. */
function needOneMeasure(water: number, call: Call): void {
  if (water === 0 || isMass(call.kindOf("spirit")) === isMass(call.kindOf("water"))) return;
  throw new Trouble({
    code: "kinds-differ",
    says: "Spirit and water must be given in one measure: both as masses, or both as numbers of parts by mass.",
    help: "For example spirit: 5 g, water: 5 g, or spirit: 1, water: 1.",
  });
}
