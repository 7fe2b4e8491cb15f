/**
 * What is known of aroma compounds over boiling spirit. Every figure has its source beside it; a compound for which
 * none was found (terpinen-4-ol) is not in the list. The figures were seen in the sources named; the original papers
 * behind the compilations were not.
 */

export const aromaSources = {
  sanderPage:
    "R. Sander, Compilation of Henry's law constants, Atmos. Chem. Phys. 23 (2023) 10901, doi:10.5194/acp-23-10901-2023, single entries",
  sanderSlope:
    "Sander's compilation, temperature-dependent entries by CAS number, as carried by the open library thermo 0.6.1",
  sanderSingle:
    "Sander's compilation, single values by CAS number, as carried by the open library thermo 0.6.1; some are calculated values",
  hydration:
    "hydration free energies, experimental column, FreeSolv database, https://github.com/MobleyLab/FreeSolv",
  solubilityRatio: "vapour pressure over measured solubility (AqSolDB, https://github.com/mcsorkun/AqSolDB)",
  antoine: "Antoine constants of Landolt–Börnstein IV/20, as carried by the open library chemicals 1.5.2",
  vaporisation:
    "enthalpies of vaporisation at 298 K, table in the open library chemicals 1.5.2 (original paper not seen)",
  linalool: "Copolovici and Niinemets 2007, abstract: linalool 2.62 Pa m³/mol at 30 °C",
  monoterpenoids: "Copolovici and Niinemets, Chemosphere 61 (2005) 1390, abstract",
  databank: "Hazardous Substances Data Bank, as quoted at https://bioinformatics.charite.de/mvoc",
  sugarHeated:
    "Lee, Thomas and Schmidt, J. Agric. Food Chem. 59 (2011) 684, abstract seen: these sugars break down where they seem to melt",
  inorganic:
    "boiling point in the CRC Handbook's table of inorganic compounds, as carried by the open library chemicals 1.5.2",
  codex1911:
    "British Pharmaceutical Codex 1911, transcribed at https://www.henriettes-herb.com/eclectic/bpc1911/cinchona_quin.html",
  pepper:
    "U.S. Pharmacopoeia, Oleoresina Piperis, transcribed at https://chestofbooks.com; pepper oil by steam is told to lack the pungency at https://m.chemicalbook.com (CB2400808)",
  tanninHeated: "an encyclopedia's entry on tannic acid (decomposes above 200 °C); no primary source seen",
  estimated: "not measured; estimated here",
} as const;

export type AromaSource = keyof typeof aromaSources;

export interface Sourced {
  readonly value: number;
  readonly source: AromaSource;
  /** How it was made of what the source gives, when it was not read off directly. */
  readonly how?: string;
}

/** Henry constant in water at 25 °C, kPa per mole fraction. */
export interface HenryConstant {
  /** Our choice among the values found. */
  readonly value: number;
  /** Lowest and highest value found; absent when none was and the value is by analogy. */
  readonly low?: number;
  readonly high?: number;
  readonly sources: readonly AromaSource[];
  readonly how?: string;
}

export interface AromaCompound {
  readonly name: string;
  readonly aliases?: readonly string[];
  readonly cas: string;
  /** Vapour pressure of the liquid at 25 °C, Pa. */
  readonly vapourPressure: Sourced;
  /** Enthalpy of vaporisation, kJ/mol. */
  readonly vaporisation: Sourced;
  readonly henry: HenryConstant;
  /** Rise of ln H with -1/T, K. */
  readonly henrySlope: Sourced;
  readonly mixing: {
    /** Activity coefficient at infinite dilution in ethanol: one value for each chemical class, within a factor 2. */
    readonly inEthanol: number;
    /** Bend of ln H between water and ethanol: 2.4, for alcohols and phenols 4; chosen after seeing solubilities in mixtures. */
    readonly bend: number;
  };
  /** Factor within which its volatility is known, when it is worse than 3. */
  readonly within?: number;
  /** Named in Annex III of Regulation (EC) No 1334/2008, which limits it in food and drink. */
  readonly limited?: boolean;
}

export const from = (value: number, source: AromaSource, how?: string): Sourced =>
  how === undefined ? { value, source } : { value, source, how };
export const chosen = (
  value: number,
  low: number,
  high: number,
  sources: readonly AromaSource[],
): HenryConstant => ({
  value,
  low,
  high,
  sources,
});
export const byAnalogy = (value: number, how: string): HenryConstant => ({
  value,
  sources: ["estimated"],
  how,
});
