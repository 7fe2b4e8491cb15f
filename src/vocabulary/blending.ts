import {
  type AmountKind,
  crossAdd,
  crossFill,
  crossParts,
  type Property,
  plainShare,
  strengthByMass,
  strengthByVolume,
  sugarSolids,
} from "../matter/blending";
import { massFraction, massFractionFromProof } from "../matter/spirit";
import { type Kind, kinds, Trouble } from "../quantity";
import { declarations as composing } from "./composing";
import type { Call, Declaration, NumberArguments, Parameter, ResultPart } from "./declaration";
import { amount, isMass } from "./parameters";

/** Two stocks and a target between them. The n stocks of `compose` are in composing.ts. */

const GROUP = "blending";

/** Anything that blends by amount: strengths (given as the mass fraction), solids, water content, plain shares. */
const property = (name: string, says: string): Parameter => ({
  name,
  says,
  takes: [
    { kind: kinds.strengthVolume, toNumber: massFraction },
    { kind: kinds.strengthMass },
    { kind: kinds.proof, toNumber: massFractionFromProof },
    { kind: kinds.solids },
    { kind: kinds.moisture },
    { kind: kinds.plain },
  ],
});

const num = (args: NumberArguments, name: string): number => args[name] as number;

const isStrength = (kind: Kind): boolean =>
  kind.id === kinds.strengthVolume.id || kind.id === kinds.strengthMass.id || kind.id === kinds.proof.id;

/** Shares of one sort blend; a strength and a sugar content do not. */
const sortOf = (kind: Kind): string =>
  isStrength(kind) ? "strength" : kind.id === kinds.solids.id ? "solids" : "share";

/**
 * What is blended, judged by all the arguments that name it.
 *
 * @throws Trouble `kinds-differ` when they are not of one sort
 */
function propertyOf(call: Call, names: readonly string[]): Property {
  const found = names.map((name) => ({ name, kind: call.kindOf(name) ?? kinds.plain }));
  const first = found[0]!;
  const other = found.find((f) => sortOf(f.kind) !== sortOf(first.kind));
  if (other !== undefined) {
    throw new Trouble({
      code: "kinds-differ",
      says: `${first.name} is ${first.kind.name} and ${other.name} is ${other.kind.name}; they cannot be blended with one another.`,
      help: "Give all of them in one kind: strengths, or °Bx, or plain shares.",
    });
  }
  if (sortOf(first.kind) === "solids") return sugarSolids;
  if (sortOf(first.kind) === "share") return plainShare;
  const byVolume = found.some((f) => f.kind.id !== kinds.strengthMass.id);
  return byVolume ? strengthByVolume : strengthByMass;
}

/** Says on what the amounts stand. */
function noteBasis(of: Property, as: AmountKind | "parts", call: Call): void {
  if (of === plainShare) {
    if (as === "volume")
      call.note("Volumes are taken to add and to be equally dense: weigh when the stocks differ.");
  } else if (as === "parts") {
    call.note("Parts by mass: weigh them. Volumes of spirit or syrup do not add.");
  } else if (as === "volume") {
    call.note("Mixed by mass and told in volumes at 20 °C, which add up to a little more than the mix.");
  }
}

const part = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.plain, unit: "%" },
});

const amountPart = (name: string, says: string, kindOf: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.volume, unit: "mL", unitOf: kindOf, kindOf },
});

const SOURCE = "balance of mass; densities of spirit from OIML R 22, of syrup from Bubník and Kadlec (1995)";
const RANGE = "targets between the two stocks; strengths 0 to 100 %, solids to 85 °Bx when volumes are given";
const TRUST =
  "exact by mass; volumes of spirit within 0.01 % (R 22 against tables), so the readings of the stocks decide";

/** Volumes rest on two densities, each good to about 0.1 kg/m³. */
const volumeUncertainty =
  (names: readonly string[]) =>
  (_args: NumberArguments, result: Readonly<Record<string, number>>): Readonly<Record<string, number>> =>
    Object.fromEntries(names.map((name) => [name, 1e-4 * (result[name] ?? 0)]));

const asOf = (call: Call, name: string): AmountKind => (isMass(call.kindOf(name)) ? "mass" : "volume");

export const declarations: readonly Declaration[] = [
  {
    name: "cross_parts",
    group: GROUP,
    says: "The Pearson square: which shares of a rich and a lean stock meet a target.",
    parameters: [
      property("rich", "The stock above the target: a strength, °Bx, or a plain share such as fat or acid."),
      property("lean", "The stock below the target, in the same kind."),
      property("to", "The target, in the same kind."),
    ],
    labelsOnly: ["to"],
    result: [
      part("rich", "Share of the rich stock in the whole, by mass."),
      part("lean", "Share of the lean stock in the whole, by mass."),
    ],
    equation: "rich = (to - lean) / (rich - lean); lean = (rich - to) / (rich - lean)",
    source: "balance of mass, known as the Pearson square",
    range: RANGE,
    trust: "exact for what adds by mass",
    examples: [
      { formula: "cross_parts(3.9 %, 0 %, to: 2.6 %).rich", gives: "66.667 %" },
      { formula: "cross_parts(40 %mas, 15 %mas, to: 20 %mas).rich", gives: "20 %" },
    ],
    compute: (args, call) => {
      const of = propertyOf(call, ["rich", "lean", "to"]);
      noteBasis(of, "parts", call);
      return { ...crossParts(num(args, "rich"), num(args, "lean"), num(args, "to"), of) };
    },
  },
  {
    name: "cross_fill",
    group: GROUP,
    says: "How much of a rich and a lean stock makes a total at the target.",
    parameters: [
      amount("total", "Amount wanted: a mass, or a volume at 20 °C."),
      property("rich", "The stock above the target: a strength, °Bx, or a plain share."),
      property("lean", "The stock below the target, in the same kind."),
      property("to", "The target, in the same kind."),
    ],
    labelsOnly: ["to"],
    result: [
      amountPart("rich", "Amount of the rich stock.", "total"),
      amountPart("lean", "Amount of the lean stock.", "total"),
    ],
    equation:
      "mass of the mix = total * density(to); each stock's mass by the Pearson square, its volume = mass / its density",
    source: SOURCE,
    range: RANGE,
    trust: TRUST,
    examples: [
      { formula: "cross_fill(2400 mL, 96 %vol, 0 %vol, to: 40 %vol).rich", gives: "1000 mL" },
      { formula: "cross_fill(3.9 kg, 3.9 %, 0 %, to: 2.6 %).lean", gives: "1.3 kg" },
    ],
    compute: (args, call) => {
      const of = propertyOf(call, ["rich", "lean", "to"]);
      const as = asOf(call, "total");
      noteBasis(of, as, call);
      return {
        ...crossFill(num(args, "total"), as, num(args, "rich"), num(args, "lean"), num(args, "to"), of),
      };
    },
    modelUncertainty: volumeUncertainty(["rich", "lean"]),
  },
  {
    name: "cross_add",
    group: GROUP,
    says: "How much of a stock brings what you have to the target.",
    parameters: [
      amount("have", "Amount that you have: a mass, or a volume at 20 °C."),
      property("at", "What it is at: a strength, °Bx, or a plain share."),
      property("with", "What the added stock is at, in the same kind; 0 %vol or 0 °Bx for water."),
      property("to", "The target, in the same kind."),
    ],
    labelsOnly: ["to"],
    result: [
      amountPart("add", "Amount of the stock to add.", "have"),
      amountPart("total", "Amount of the mix.", "have"),
    ],
    equation:
      "added mass = mass * (to - at) / (with - to); volumes through the density of each liquid and of the mix",
    source: SOURCE,
    range: RANGE,
    trust: TRUST,
    examples: [
      { formula: "cross_add(1 L, 96 %vol, 0 %vol, to: 40 %vol).add", gives: "1.4705 L" },
      { formula: "cross_add(500 g, 12 °Bx, 65 °Bx, to: 20 °Bx).add", gives: "88.889 g" },
    ],
    compute: (args, call) => {
      const of = propertyOf(call, ["at", "with", "to"]);
      const as = asOf(call, "have");
      noteBasis(of, as, call);
      return { ...crossAdd(num(args, "have"), as, num(args, "at"), num(args, "with"), num(args, "to"), of) };
    },
    modelUncertainty: volumeUncertainty(["add", "total"]),
  },
  ...composing,
];
