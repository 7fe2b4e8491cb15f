import { editDistance } from "../../grammar";
import { comesOver, USUAL_FACTOR } from "../matter/aroma";
import { aromaCompounds } from "../matter/aroma-data";
import { type AromaCompound, aromaSources } from "../matter/aroma-sources";
import { boilingTemperature, cleanPot } from "../matter/boiling";
import { fractionOf, type Liquid } from "../matter/liquid";
import { volumeFraction } from "../matter/spirit";
import { mayComeOver, type Staying, staying } from "../matter/staying";
import { type End, isobaricStill, runStill } from "../matter/still";
import { kinds, Trouble } from "../quantity";
import { ALLERGENS, METHANOL, VOLATILE_POISONS } from "./cautions";
import type { Call, Declaration, NumberArguments, ResultPart } from "./declaration";
import { foldName } from "./names";
import { amount, isMass, pressure, strength } from "./parameters";
import { spiritOf } from "./spirit-mixing";

/** What aroma comes over: an order of magnitude with its band, never a yield. */

const greek = new Map([
  ["α", "alpha"],
  ["β", "beta"],
  ["γ", "gamma"],
]);

/** Compounds by folded name, other name and CAS number. */
const known: ReadonlyMap<string, AromaCompound | Staying> = new Map(
  [...aromaCompounds, ...staying].flatMap((c) =>
    [c.name, ...(c.aliases ?? []), c.cas].map((n) => [foldName(n), c] as const),
  ),
);

/** Ends of names that tell what a compound is: linalool is an alcohol, limonene a hydrocarbon, glucose a sugar. */
const ENDINGS = /(?:ene|one|ol|al|ine|in|ose|ate|ide|ane|ile|acid)$/u;

/**
 * The known name that a slip of the fingers may have meant. Most names of compounds lie a letter or two from those of
 * others (citronellol and citronellal, nerol and neral, sucrose and glucose), so only a small slip counts that keeps
 * the first letter and the ending.
 */
function slipOf(spelled: string): string | undefined {
  const most = spelled.length > 8 ? 2 : 1;
  const ending = ENDINGS.exec(spelled)?.[0];
  let best: string | undefined;
  let least = most + 1;
  for (const name of known.keys()) {
    if (name[0] !== spelled[0] || /^\d/u.test(name)) continue;
    if (ending !== undefined && !name.endsWith(ending)) continue;
    const distance = editDistance(spelled, name, most);
    if (distance < least) [best, least] = [name, distance];
  }
  return best;
}

const LAW = "Food law limits it (Regulation (EC) No 1334/2008, Annex III): have the product measured.";

/** Poisons that a reader may well ask for and that have no figures here: what is known all the same. */
const FEARED: ReadonlyMap<string, string> = new Map([
  ["methanol", METHANOL],
  ["beta-asarone", `It is known to come over. ${LAW}`],
  ["menthofuran", `It is known to come over. ${LAW}`],
  ["quassin", `It is not known to come over. ${LAW}`],
  ["teucrin a", `It is not known to come over. ${LAW}`],
]);

const names = (list: readonly { readonly name: string }[]): string => list.map((c) => c.name).join(", ");

function compoundNamed(name: string): AromaCompound | Staying {
  const spelled = foldName(name).replace(/^[αβγ]/u, (letter) => greek.get(letter)!);
  const found = known.get(spelled);
  if (found !== undefined) return found;
  const slip = FEARED.has(spelled) ? undefined : slipOf(spelled);
  throw new Trouble({
    code: "compound-unknown",
    says: `“${name}” is not in the list: no published figure was found that says how much of it comes over, or that it stays.`,
    help:
      FEARED.get(spelled) ??
      (slip === undefined
        ? `These can come over: ${names(aromaCompounds)}. These stay in the pot: ${names(staying)}. CAS numbers are taken too. For any other ask a laboratory.`
        : `If “${slip}” was meant, write that; a compound whose name differs by a letter may behave quite differently.`),
  });
}

const stays = (c: AromaCompound | Staying): c is Staying => !("vapourPressure" in c);

const percent = (share: number): string => {
  const p = 100 * share;
  if (p >= 99.5) return "all";
  return p < 0.01 ? "less than 0.01 %" : `${Number(p.toPrecision(2))} %`;
};

/** Where the comparisons behind the band were made. */
const TRUSTED = { strength: 0.8, low: 2000, high: 15_000, cold: 288.15, warm: 313.15, hot: 333.15 } as const;

function noteRange(
  run: { readonly startKelvin: number; readonly endKelvin: number },
  q: number,
  pascal: number,
  call: Call,
): void {
  const warmest = Math.max(run.startKelvin, run.endKelvin);
  const coldest = Math.min(run.startKelvin, run.endKelvin);
  if (warmest > TRUSTED.hot) {
    call.note(
      "Extrapolated: the pot is above 60 °C, where a weak pot may give 3 to 9 times less than this says.",
    );
  } else if (warmest > TRUSTED.warm || coldest < TRUSTED.cold) {
    call.note("The band holds for a pot between 15 and 40 °C; here it may be wider.");
  }
  if (q > TRUSTED.strength) call.note("The band holds up to 80 %vol; here it may be wider.");
  if (pascal < TRUSTED.low || pascal > TRUSTED.high)
    call.note("The band holds from 20 to 150 mbar; here it may be wider.");
}

/** In words what decides, from how volatile the compound is over the first and the last of the pot. */
function story(run: ReturnType<typeof comesOver>): string {
  if (run.low >= 0.9) return "comes over early and almost wholly";
  if (run.high <= 0.1) return "stays in the pot almost wholly";
  const { startK, endK, startEthanolK } = run;
  if (startEthanolK !== undefined && startK < startEthanolK && endK > 2 * startK) {
    return "waits until the pot is weak: it comes with the tail";
  }
  if (run.taken >= 0.9) return "comes over for the greater part";
  return endK > 2 * startK ? "comes more and more as the pot gets weaker" : "comes over slowly throughout";
}

/** What a run does with a substance that stays: nothing comes over, with the reason and the most that it may be. */
function whatStays(substance: Staying, charge: Liquid, pascal: number, end: End, call: Call) {
  const still = isobaricStill(pascal);
  const run = runStill(still, charge, end);
  const course = {
    t: run.t,
    startKelvin: still.temperature(run.startX),
    endKelvin: still.temperature(run.endX),
  };
  const most = mayComeOver(substance, course, pascal);
  call.note(`${substance.name} stays in the pot: ${substance.because} (${aromaSources[substance.source]}).`);
  call.note(
    `At most ${Number((100 * most).toPrecision(1))} % of it comes over as vapour. It travels with droplets, when a pot foams or splashes: where a distillate tastes of it, pot liquid was carried over.`,
  );
  if (substance.henry === undefined && Math.max(course.startKelvin, course.endKelvin) > TRUSTED.warm)
    call.note("Nobody measured how little that is; above 40 °C in the pot the bound is a guess.");
  return { taken: 0, left: 1, taken_low: 0, taken_high: most, how: "stays in the pot" };
}

function compute(args: NumberArguments, call: Call) {
  const compound = compoundNamed(args.compound as string);
  const p = args.strength as number;
  const pascal = args.pressure as number;
  const charge = spiritOf(args.volume as number, isMass(call.kindOf("volume")), p);
  const take = args.take as number;
  if (!(take > 0)) {
    throw new Trouble({
      code: "nothing-there",
      says: "The amount of distillate must be greater than nothing.",
      help: "Give what the run takes over, such as 400 mL.",
    });
  }
  // Refuses pressures at which nothing is known, and pots that would freeze.
  boilingTemperature(cleanPot(p), pascal);
  const end: End = isMass(call.kindOf("take"))
    ? { type: "mass", mass: take }
    : { type: "volume", volume: take };
  if (stays(compound)) return whatStays(compound, charge, pascal, end, call);
  const run = comesOver(compound, charge, pascal, end);
  call.note(
    `Order of magnitude: between ${percent(run.low)} and ${percent(run.high)} of the ${compound.name} dissolved in the charge may come over; what sits in plant tissue or floats as oil comes more slowly.`,
  );
  if (compound.henry.low === undefined) {
    call.note(
      `Nothing was measured for ${compound.name} over water: its volatility is by analogy, ${compound.henry.how}.`,
    );
  }
  noteRange(run, volumeFraction(fractionOf(charge)), pascal, call);
  if (compound.limited === true) {
    call.caution(
      `${compound.name} is limited by food law, for example in Regulation (EC) No 1334/2008, Annex III: have the product measured. No share worked out here passes or fails one.`,
    );
  }
  if (compound.name === "HCN") {
    call.caution(
      "Prussic acid is set free slowly from stone kernels and their aroma: never take it for gone, neither from the pot nor from the distillate.",
    );
  }
  return { taken: run.taken, left: 1 - run.taken, taken_low: run.low, taken_high: run.high, how: story(run) };
}

const share = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.plain, unit: "%" },
});

/** The aroma of a run. */
export const declarations: readonly Declaration[] = [
  {
    name: "comes_over",
    group: "the run",
    effort: 60,
    says: "About which share of an aroma compound leaves the pot in a run, and in how wide a band.",
    parameters: [
      { name: "compound", says: 'Name or CAS number of the compound, such as "linalool".', takes: "text" },
      amount("volume", "Volume (at 20 °C) or mass of the charge."),
      strength("strength", "Its strength; 0 %vol for water."),
      pressure("pressure", "Absolute pressure in the still: a perfect vacuum is 0."),
      amount("take", "Volume (at 20 °C) or mass of distillate."),
    ],
    result: [
      share(
        "taken",
        "Share of the compound that leaves the pot: a middle value, good for nothing without its band.",
      ),
      share("left", "Share that stays: what is not taken."),
      share("taken_low", "Lower end of the band."),
      share("taken_high", "Upper end of the band."),
      { name: "how", says: "In words what decides.", holds: "text" },
    ],
    equation:
      "taken = 1 - exp(-integral of K dt), t = -ln(moles left in the pot); K = H/P; ln H = (1 - f) ln H_water + f ln H_ethanol - k f (1 - f), f the share of ethanol by volume",
    source:
      "log-linear cosolvency with a bend chosen here from measured solubilities; constants from the compilation of Sander (2023), FreeSolv, AqSolDB and Landolt–Börnstein, each named in the list of compounds; what stays (sugars, salts, acids, polyphenols, pungent and bitter substances) with its reason and source in the note",
    range: "charges up to 80 %vol, 20 to 150 mbar, pot between 15 and 40 °C; outside with a note",
    trust: `volatility within a factor of ${USUAL_FACTOR} (10 for estragole, thujone, phenylethanol, methyl salicylate, menthol, linalyl acetate): a judgement from many comparisons, no statistic; no measured recovery of a botanical compound could be read`,
    cautions: [VOLATILE_POISONS, ALLERGENS],
    examples: [
      { formula: 'comes_over("linalool", 1 L, 40 %vol, 50 mbar, 400 mL).taken', gives: "46.261 %" },
      {
        formula: 'comes_over("vanillin", 1 L, 40 %vol, 50 mbar, 400 mL).how',
        gives: "stays in the pot almost wholly",
      },
      { formula: 'comes_over("sucrose", 1 L, 40 %vol, 50 mbar, 400 mL).how', gives: "stays in the pot" },
    ],
    compute,
    // The band counts as the standard uncertainty: wide on purpose, and the same for both shares with opposite sign.
    modelUncertainty: (_args, result) => {
      const half = (result.taken_high! - result.taken_low!) / 2;
      return { taken: half, left: -half };
    },
  },
];
