import { USUAL_FACTOR } from "../matter/aroma";
import { aromaCompounds } from "../matter/aroma-data";
import { type AromaCompound, type AromaSource, aromaSources, type Sourced } from "../matter/aroma-sources";
import { type Staying, staying } from "../matter/staying";

/** The list behind `comes_over` as Markdown: every figure with its source. */

const HEAD = `# What comes over, and what stays: the list

What \`comes_over\` knows, compound by compound, each figure with the number of its source below. Made from the code by
\`npm run generate\`; the equation is in [science.md](science.md), section 6. All of it is good for an order of magnitude and no more.

A source names where the figure was seen; the papers behind compilations were not read. A compound without a source is not in
the list and is refused.
`;

const VOLATILE = `## What can come over

Henry constant: over water at 25 °C, for a mole fraction; in brackets the lowest and highest value found. Its rise: of its logarithm
with −1/T. Vapour pressure of the liquid at 25 °C. γ: activity coefficient in ethanol, one value for each chemical class, within a
factor of 2, chosen here; bend: of the logarithm between water and ethanol, chosen here. Within: the factor within which the volatility is trusted.

| compound | CAS | Henry constant, kPa | rise, K | vapour pressure, Pa | heat of evaporation, kJ/mol | γ | bend | within | law |
|---|---|---|---|---|---|---|---|---|---|`;

const STAYING = `## What stays in the pot

Henry constant as above; none was found where the cell is empty.

| substance | CAS | why | Henry constant, kPa |
|---|---|---|---|`;

/** Numbers of the sources in the order in which they are met. */
class Sources {
  readonly met: string[] = [];

  mark(source: AromaSource, how?: string): string {
    const text = `${aromaSources[source]}${how === undefined ? "" : `: ${how}`}`;
    const found = this.met.indexOf(text);
    return `[${(found < 0 ? this.met.push(text) - 1 : found) + 1}]`;
  }
}

const plain = (x: number): string =>
  x >= 1e-3 && x < 1e6 ? String(x) : x.toExponential().replace("e+", "e");

function volatileRow(c: AromaCompound, sources: Sources): string {
  const told = ({ value, source, how }: Sourced): string => `${plain(value)} ${sources.mark(source, how)}`;
  const { henry } = c;
  const range =
    henry.low === undefined || henry.low === henry.high
      ? ""
      : ` (${plain(henry.low)} to ${plain(henry.high!)})`;
  const from = henry.sources.map((s) => sources.mark(s, henry.how)).join(" ");
  return `| ${[
    [c.name, ...(c.aliases ?? [])].join(", "),
    c.cas,
    `${plain(henry.value)}${range} ${from}`,
    told(c.henrySlope),
    told(c.vapourPressure),
    told(c.vaporisation),
    c.mixing.inEthanol,
    c.mixing.bend,
    c.within ?? USUAL_FACTOR,
    c.limited ? "limited" : "",
  ].join(" | ")} |`;
}

const stayingRow = (s: Staying, sources: Sources): string =>
  `| ${[
    [s.name, ...(s.aliases ?? [])].join(", "),
    s.cas,
    `${s.because} ${sources.mark(s.source)}`,
    s.henry === undefined ? "" : `${plain(s.henry.value)} ${sources.mark(s.henry.source, s.henry.how)}`,
  ].join(" | ")} |`;

export function aromaDocument(): string {
  const sources = new Sources();
  const lines = [
    HEAD,
    VOLATILE,
    ...aromaCompounds.map((c) => volatileRow(c, sources)),
    "",
    "Limited: named in Annex III of Regulation (EC) No 1334/2008. Have the product measured; no share worked out here passes or fails one.",
    "",
    STAYING,
    ...staying.map((s) => stayingRow(s, sources)),
    "",
    "## Sources",
    "",
    ...sources.met.map((text, i) => `${i + 1}. ${text}`),
  ];
  return `${lines.join("\n")}\n`;
}
