import { type AromaSource, from, type Sourced } from "./aroma-sources";

/**
 * Substances that stay in the pot: sugars, salts, acids, polyphenols, pungent and bitter ones. Each has a published
 * reason; one for which none was found (naringin, catechin, lactose) is not in the list.
 */

export interface Staying {
  readonly name: string;
  readonly aliases?: readonly string[];
  readonly cas: string;
  /** Why it stays, as the rest of a sentence: "it breaks down by heat before it could boil". */
  readonly because: string;
  readonly source: AromaSource;
  /** Henry constant in water at 25 °C, kPa per mole fraction, where one was found. */
  readonly henry?: Sourced;
}

const HARDLY = "over water it has next to no vapour pressure";
const CALCULATED = "single-value entry (probably calculated)";

/** One whose Henry constant is known; all of them lie far below what a run can move. */
const hardlyVolatile = (
  name: string,
  cas: string,
  henry: number,
  {
    source = "sanderSingle",
    how = CALCULATED,
    ...more
  }: { readonly source?: AromaSource; readonly how?: string; readonly aliases?: readonly string[] } = {},
): Staying => ({ name, cas, because: HARDLY, source, henry: from(henry, source, how), ...more });

const brokenDown = (
  name: string,
  cas: string,
  source: AromaSource,
  aliases: readonly string[] = [],
): Staying => ({
  name,
  cas,
  because: "it breaks down by heat before it could boil",
  source,
  aliases,
});

export const staying: readonly Staying[] = [
  brokenDown("sucrose", "57-50-1", "sugarHeated", ["sugar", "table sugar", "saccharose"]),
  hardlyVolatile("D-glucose", "50-99-7", 2.9e-14, {
    aliases: ["glucose", "dextrose"],
    source: "hydration",
    how: "hydration free energy -25.47 kcal/mol",
  }),
  brokenDown("fructose", "57-48-7", "sugarHeated", ["D-fructose", "laevulose"]),
  hardlyVolatile("mannitol", "69-65-8", 6.7e-13, {
    source: "hydration",
    how: "hydration free energy -23.62 kcal/mol; the compilation's single value is 2.0e-6",
  }),
  hardlyVolatile("sorbitol", "50-70-4", 2e-6),
  hardlyVolatile("xylitol", "87-99-0", 4.2e-5),
  hardlyVolatile("erythritol", "149-32-6", 8.7e-4),
  hardlyVolatile("glycerol", "56-81-5", 7.7e-5, { aliases: ["glycerine"] }),
  {
    name: "sodium chloride",
    aliases: ["salt", "table salt"],
    cas: "7647-14-5",
    because: "it is a salt that boils at 1465 °C",
    source: "inorganic",
  },
  {
    name: "calcium chloride",
    cas: "10043-52-4",
    because: "it is a salt that boils at 1935 °C",
    source: "inorganic",
  },
  hardlyVolatile("citric acid", "77-92-9", 1.8e-15),
  hardlyVolatile("tartaric acid", "87-69-4", 5.6e-15),
  hardlyVolatile("malic acid", "6915-15-7", 2e-6),
  hardlyVolatile("succinic acid", "110-15-6", 4.2e-6),
  hardlyVolatile("oxalic acid", "144-62-7", 5.4e-3),
  hardlyVolatile("gallic acid", "149-91-7", 4.8e-13),
  hardlyVolatile("caffeic acid", "331-39-5", 7.8e-10),
  hardlyVolatile("resveratrol", "501-36-0", 7.8e-10),
  hardlyVolatile("curcumin", "458-37-7", 4e-15),
  brokenDown("tannic acid", "1401-55-4", "tanninHeated", ["tannin"]),
  hardlyVolatile("caffeine", "58-08-2", 6.2e-5, {
    how: "single-value entry; hydration free energy -12.64 kcal/mol gives 7.5e-5",
  }),
  hardlyVolatile("theobromine", "83-67-0", 9e-5),
  {
    name: "quinine",
    cas: "130-95-0",
    because: "it is made by distilling spirit off its solution, and stays behind",
    source: "codex1911",
  },
  hardlyVolatile("capsaicin", "404-86-4", 5.6e-7),
  {
    name: "piperine",
    cas: "94-62-2",
    because:
      "it stays behind when pepper's extract is distilled, and pepper oil made with steam is not pungent",
    source: "pepper",
  },
];

/** Least that is told as a bound: nobody measured less. */
const LEAST_BOUND = 1e-4;
/** Factor within which such small constants are trusted; most of them were calculated, not measured. */
const TRUST = 3;
/** Rise of ln H with -1/T, K: steeper than caffeine's heat of sublimation (114.5 kJ/mol, in the library chemicals) over R. */
const STEEPEST = 15_000;
const REFERENCE = 298.15;

/**
 * The most of it that may come over, as a share, 0 to 1: in a run that leaves exp(-t) of the pot's moles, with the pot
 * between two temperatures (K), at a pressure (Pa). Never told below 1 in 10 000, and without a Henry constant that
 * stands for nothing measured.
 */
export function mayComeOver(
  substance: Staying,
  run: { readonly t: number; readonly startKelvin: number; readonly endKelvin: number },
  pascal: number,
): number {
  if (substance.henry === undefined) return LEAST_BOUND;
  const warmest = Math.max(run.startKelvin, run.endKelvin);
  const henry = 1000 * substance.henry.value * Math.exp(STEEPEST * (1 / REFERENCE - 1 / warmest));
  return Math.max(LEAST_BOUND, -Math.expm1((-TRUST * henry * run.t) / pascal));
}
