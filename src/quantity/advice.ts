import { unitsOfKind } from "./completion";
import {
  currenciesIn,
  dimensionTimes,
  type Kind,
  kindOfDimension,
  kinds,
  none,
  takesPlain,
} from "./dimension";
import { Trouble } from "./trouble";
import type { Unit } from "./unit";

/** One side of an operation as a message shows it: its value in writing, and its unit. */
export interface Side {
  readonly text: string;
  readonly unit: Unit;
}

/** Whether the unit is a sign for a ratio: `%`, `‰`, `ppm`, `g/kg`, of a plain number or a water content. */
export function isRatioSign(unit: Unit): boolean {
  return unit.text !== "" && takesPlain(unit.kind);
}

/** What a value in this unit is, with its article. */
export function kindName(unit: Unit): string {
  if (unit.kind !== kinds.plain || unit.text === "") return unit.kind.name;
  return unit.text === "%" ? "a percentage" : "a ratio";
}

/** "42 %vol (a strength by volume)". A unit without a value is named by its kind: "a strength by volume (%vol)". */
export function describe(side: Side): string {
  if (side.text === "")
    return side.unit.text === "" ? kindName(side.unit) : `${kindName(side.unit)} (${side.unit.text})`;
  return `${side.text} (${kindName(side.unit)})`;
}

const isMoney = (kind: Kind): boolean => currenciesIn(kind.dimension).length > 0;

/** The functions of the vocabulary that turn one kind into another, by the two ids in alphabetical order. */
const BRIDGES: ReadonlyMap<string, string> = new Map(
  (
    [
      [kinds.mass, kinds.volume, "`mass_of` and `volume_of` turn one into the other."],
      [
        kinds.strengthVolume,
        kinds.strengthMass,
        "`by_mass` and `by_volume` turn one into the other, with density.",
      ],
      [kinds.strengthVolume, kinds.proof, "`by_proof` and `by_volume` turn one into the other."],
      [kinds.strengthMass, kinds.proof, "`by_proof` and `by_mass` turn one into the other, with density."],
      [kinds.solids, kinds.index, "`solids_from_index` and `index_from_solids` turn one into the other."],
      [kinds.solids, kinds.moisture, "`water_in` gives the water content of a solution in °Bx."],
      [kinds.solids, kinds.density, "`solids_from_density` and `syrup_density` turn one into the other."],
      [kinds.solids, kinds.activity, "`activity_from_solids` gives the water activity of a solution in °Bx."],
      [
        kinds.strengthVolume,
        kinds.density,
        "`strength_from_density` and `spirit_density` turn one into the other.",
      ],
      [
        kinds.strengthMass,
        kinds.density,
        "`strength_from_density` and `spirit_density` turn one into the other.",
      ],
      [kinds.moisture, kinds.index, "`honey_moisture` reads the water content of honey from the index."],
      [kinds.moisture, kinds.density, "`honey_density` gives the density of honey from its water content."],
      [
        kinds.moisture,
        kinds.activity,
        "`moisture_from_activity` and `honey_activity` lead from one to the other.",
      ],
    ] as const
  ).map(([a, b, help]): [string, string] => [[a.id, b.id].sort().join(" "), help]),
);

/** Which function leads from one kind to the other, as a sentence. */
export function bridge(a: Kind, b: Kind): string | undefined {
  return BRIDGES.get([a.id, b.id].sort().join(" "));
}

const shares: ReadonlySet<Kind> = new Set([
  kinds.strengthVolume,
  kinds.strengthMass,
  kinds.proof,
  kinds.solids,
  kinds.index,
]);
/** Strengths, solids and refractive index: numbers that never mix with plain ratios. */
export function isShare(kind: Kind): boolean {
  return shares.has(kind);
}

const VERBS: ReadonlyMap<string, string> = new Map([
  ["add", "do not add"],
  ["subtract", "cannot be subtracted"],
  ["compare", "cannot be compared"],
  ["list", "do not belong in one list"],
  ["choose", "cannot both be the outcome of one `if`"],
]);

/**
 * Trouble for two sides of different kinds. `verb` is `add`, `subtract`, `compare`, `list` (entries of one
 * list) or `choose` (branches of an `if`); any other text stands in the sentence as it is.
 */
export function kindsDiffer(a: Side, b: Side, verb: string): Trouble {
  const help = mixingHelp(a, b, verb) ?? productHelp(a, b) ?? ONLY_ALIKE;
  return new Trouble({
    code: "kinds-differ",
    says: `${a.text === "" ? capital(describe(a)) : describe(a)} and ${describe(b)} ${VERBS.get(verb) ?? verb}.`,
    help,
  });
}

const ONLY_ALIKE = "Only values of one kind go together; look for the one that is not what it should be.";

/** "A power times a time is an energy", for two kinds that a third one joins. */
function productHelp(a: Side, b: Side): string | undefined {
  for (const [whole, part] of [
    [a.unit.kind, b.unit.kind],
    [b.unit.kind, a.unit.kind],
  ] as const) {
    if (whole === kinds.temperature || part === kinds.temperature || part.dimension === none) continue;
    const link = kindOfDimension(dimensionTimes(whole.dimension, part.dimension, -1));
    if (JOINING.has(link)) return `${capital(part.name)} times ${link.name} is ${whole.name}.`;
  }
  return undefined;
}
const JOINING: ReadonlySet<Kind> = new Set([
  kinds.time,
  kinds.volume,
  kinds.mass,
  kinds.density,
  kinds.difference,
  kinds.power,
  kinds.energy,
]);
const capital = (text: string): string => text[0]!.toUpperCase() + text.slice(1);

/** A typed percentage; a water content shown in `%` is none. */
const isPercentage = (unit: Unit): boolean => isRatioSign(unit) && unit.kind === kinds.plain;

/** What to do about two currencies, where each kind has one and it is another; the rate turns the second into the first. */
export function rateHelp(to: Kind, of: Kind): string | undefined {
  const [wanted, ...more] = currenciesIn(to.dimension);
  const [given, ...others] = currenciesIn(of.dimension);
  return wanted === undefined || given === undefined || wanted === given || more.length + others.length > 0
    ? undefined
    : `A book knows no exchange rate: multiply by one that you type, such as \`* 1.2 ${wanted}/${given}\`.`;
}

/** A share of at most one, written where a percentage is wanted, is meant in hundredths: 0.42 is 42 %vol. */
export const inHundredths = (number: string): string =>
  number !== "" && Math.abs(Number(number)) <= 1
    ? String(Number((Number(number) * 100).toPrecision(12)))
    : number;

function mixingHelp(a: Side, b: Side, verb: string): string | undefined {
  const arithmetic = verb === "add" || verb === "subtract";
  if (isPercentage(b.unit) && arithmetic) return percentHelp(a, b, verb);
  if (isPercentage(a.unit) && arithmetic) return percentHelp(b, a, verb);
  const known = bridge(a.unit.kind, b.unit.kind);
  if (known !== undefined) return known;
  const rate = rateHelp(a.unit.kind, b.unit.kind);
  if (rate !== undefined) return rate;
  for (const [number, other] of [
    [a, b],
    [b, a],
  ] as const) {
    if (number.unit.text === "" && number.unit.kind === kinds.plain && other.unit.text !== "") {
      const { text: unit } = other.unit;
      const meant = unit.startsWith("%") ? inHundredths(number.text) : number.text;
      return `Give the number its unit: ${number.text === "" ? `\`* 1 ${unit}\`` : `\`${meant} ${unit}\``}.`;
    }
  }
  if (a.unit.kind === kinds.temperature || b.unit.kind === kinds.temperature) {
    if (a.unit.kind === kinds.difference || b.unit.kind === kinds.difference) {
      return verb === "subtract"
        ? "Take the difference from the temperature, not the temperature from the difference."
        : "K is a difference; write a temperature in °C or °F.";
    }
  }
  return undefined;
}

/** For `200 g + 10 %` and `40 %vol + 3 %`. */
function percentHelp(of: Side, share: Side, verb: string): string {
  const sign = verb === "subtract" ? "-" : "+";
  const word = verb === "subtract" ? "less" : "more";
  const percent = share.text === "" ? `10 ${share.unit.text}` : share.text;
  const x = of.text === "" ? "x" : of.text;
  const scaled = `\`${x} * (1 ${sign} ${percent})\``;
  if (isShare(of.unit.kind)) {
    const number = share.text.split(" ")[0] || "3";
    return `Write \`${x} ${sign} ${number} ${of.unit.text}\`, or for ${percent} ${word} of it ${scaled}.`;
  }
  if (of.unit.kind === kinds.temperature)
    return "A temperature has no percentage; write the difference in K.";
  return `For ${percent} ${word} write ${scaled}.`;
}

/** Why `in` cannot show one unit in another, with what does it instead. */
export function cannotShow(from: Side, to: Unit): Trouble {
  const call = (name: string): string => `\`${name}(${from.text === "" ? "…" : from.text})\``;
  const help = showingHelp(from.unit, to, call) ?? unitsHelp(from.unit, to);
  return new Trouble({
    code: "kinds-differ",
    says: `${describe(from)} cannot be shown in ${to.text}, which measures ${to.kind === kinds.plain ? "a ratio" : to.kind.name}: \`in\` changes the scale, not the kind.`,
    help,
  });
}

/** The units in which a value can be shown. */
function unitsHelp(unit: Unit, to: Unit): string {
  const names = unitsOfKind(unit.kind);
  if (names.length < 2) return `Leave out \`in ${to.text}\`.`;
  const ticked = names.slice(0, 6).map((name) => `\`${name}\``);
  return `${capital(kindName(unit))} is shown in ${ticked.slice(0, -1).join(", ")} or ${ticked.at(-1)}.`;
}

function showingHelp(unit: Unit, target: Unit, call: (name: string) => string): string | undefined {
  const from = unit.kind;
  const to = target.kind;
  const strengthFrom = from === kinds.strengthVolume || from === kinds.strengthMass || from === kinds.proof;
  if (strengthFrom && to === kinds.strengthMass) return `${call("by_mass")} does this with density.`;
  if (from === kinds.strengthMass && to === kinds.strengthVolume)
    return `${call("by_volume")} does this with density.`;
  if (strengthFrom && to === kinds.strengthVolume) return `${call("by_volume")} does this.`;
  if (strengthFrom && to === kinds.proof) return `${call("by_proof")} does this.`;
  if (strengthFrom && to === kinds.density) return `${call("spirit_density")} does this.`;
  if (strengthFrom && to === kinds.plain) {
    return `A strength is not a plain share; divide it by \`100 ${unit.text}\` if that is really what is wanted.`;
  }
  if (from === kinds.solids && (to === kinds.plain || to === kinds.moisture)) {
    return `${call("water_in")} gives the water content.`;
  }
  if (from === kinds.solids && to === kinds.density) return `${call("syrup_density")} does this.`;
  if (from === kinds.solids && to === kinds.index) return `${call("index_from_solids")} does this.`;
  if (from === kinds.index && to === kinds.solids) return `${call("solids_from_index")} does this.`;
  if (from === kinds.index && to === kinds.plain) return `${call("honey_moisture")} does this for honey.`;
  if (from === kinds.density && to === kinds.solids) return `${call("solids_from_density")} does this.`;
  if (from === kinds.density && isShare(to)) return `${call("strength_from_density")} does this.`;
  if (from === kinds.moisture && to === kinds.density) return `${call("honey_density")} does this for honey.`;
  if (from === kinds.volume && to === kinds.mass)
    return "`mass_of(volume, strength)` does this for a spirit, or multiply by a density.";
  if (from === kinds.mass && to === kinds.volume)
    return "`volume_of(mass, strength)` does this for a spirit, or divide by a density.";
  if (isRatioSign(unit) && isShare(to)) {
    return `Write it in its own unit from the start, as in \`10 ${target.text}\`.`;
  }
  if (from === kinds.plain && unit.text === "")
    return `To give a plain number a unit, multiply: \`* 1 ${target.text}\`.`;
  if (from === kinds.difference && to === kinds.temperature)
    return "A difference stays in K; one degree Celsius is as wide as one K.";
  if (isMoney(from) && isMoney(to)) {
    return `A book knows no exchange rate: multiply by one that you type, such as \`* 1.2 ${target.text}/${unit.text}\`.`;
  }
  return undefined;
}
