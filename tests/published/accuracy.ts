import { type Declaration, vocabulary } from "../../src/vocabulary";
import { byGroup } from "../../src/vocabulary/glossary";
import { aromaComparisons } from "./aroma-model";
import { askedComparisons } from "./asked-model";
import { boilingComparisons } from "./boiling-model";
import { allowed, type Comparison, deviation, type Mark, type Worth } from "./comparison";
import { distillingComparisons } from "./distilling-model";
import { foodComparisons } from "./food-comparisons";
import { leftOut, withoutPoint } from "./left-out";
import { mixtureComparisons } from "./mixture-model";
import { spiritComparisons } from "./spirit-model";
import { statisticsComparisons } from "./statistics-model";
import { secondRoute } from "./water-route";

/** Every published number that a function of the language answers, and the document that tells how well. */
export const comparisons: readonly Comparison[] = [
  ...boilingComparisons,
  ...distillingComparisons,
  ...spiritComparisons,
  ...mixtureComparisons,
  ...foodComparisons,
  ...askedComparisons,
  ...aromaComparisons,
  ...statisticsComparisons,
];

const WORTHS: Readonly<Record<Worth, string>> = {
  independent: "independent",
  fitted: "fitted",
  code: "code only",
  practice: "practice",
};

/** Sources in the order in which the document comes to them. */
class Sources {
  private readonly numbers = new Map<string, number>();
  readonly lines: string[] = [];

  of(c: Comparison): number {
    const line = `**${c.mark}**: ${c.source}`;
    const known = this.numbers.get(line);
    if (known !== undefined) return known;
    this.lines.push(line);
    this.numbers.set(line, this.lines.length);
    return this.lines.length;
  }
}

const digits = (x: number, count = 2): string => {
  if (x === 0) return "0";
  const size = Math.abs(x);
  const text = size >= 1e-4 && size < 1e6 ? String(Number(x.toPrecision(count))) : x.toExponential(count - 1);
  return text.replace("-", "−");
};

/** What is below the last digit of doubles is 0 for a reader. */
const told = (c: Comparison, by: number): string => {
  const scale = Math.max(1e-300, ...[c.published].flat().filter(Number.isFinite).map(Math.abs));
  const value = Math.abs(by) < 1e-13 * scale ? 0 : by;
  return c.by === "factor" ? `× ${digits(Math.exp(value), 3)}` : digits(value);
};

/** Comparisons of one function that belong in one line. */
function lines(of: readonly Comparison[]): ReadonlyMap<string, readonly Comparison[]> {
  const found = new Map<string, Comparison[]>();
  for (const c of of) {
    const key = [c.what, c.unit, c.worth, c.by ?? ""].join("|");
    const line = found.get(key);
    if (line === undefined) found.set(key, [c]);
    else line.push(c);
  }
  return found;
}

const cell = (text: string): string => text.replace(/\|/gu, "\\|");

function tolerances(line: readonly Comparison[]): string {
  const all = [...new Set(line.map((c) => c.tolerance))].sort((a, b) => a - b);
  const [low, high] = [all[0]!, all.at(-1)!];
  if (line[0]!.by === "factor")
    return low === high ? `× ${digits(low)}` : `× ${digits(low)} to ${digits(high)}`;
  return low === high ? digits(low) : `${digits(low)} to ${digits(high)}`;
}

/** Numbers as `1, 3–5`. */
function spans(numbers: readonly number[]): string {
  const sorted = [...new Set(numbers)].sort((a, b) => a - b);
  const parts: string[] = [];
  for (let i = 0; i < sorted.length; ) {
    let j = i;
    while (sorted[j + 1] === sorted[j]! + 1) j++;
    parts.push(j - i < 2 ? sorted.slice(i, j + 1).join(", ") : `${sorted[i]}–${sorted[j]}`);
    i = j + 1;
  }
  return parts.join(", ");
}

const MARKS: readonly Mark[] = ["seen", "from memory", "computed here", "common practice, no source"];

function row(line: readonly Comparison[], sources: Sources): string {
  const offs = line.map(deviation);
  const mean = offs.reduce((sum, x) => sum + x, 0) / offs.length;
  const worst = offs.reduce((most, x) => (Math.abs(x) > Math.abs(most) ? x : most), 0);
  const [first] = line;
  const marks = MARKS.filter((mark) => line.some((c) => c.mark === mark));
  const apart = line.some((c) => c.disagreement !== undefined) ? " (see known disagreements)" : "";
  return [
    `| ${cell(first!.what)}`,
    first!.unit === "" ? "—" : cell(first!.unit),
    WORTHS[first!.worth],
    String(line.length),
    told(first!, mean),
    told(first!, worst) + apart,
    tolerances(line),
    `${marks.join("; ")} [${spans(line.map((c) => sources.of(c)))}] |`,
  ].join(" | ");
}

const TABLE_HEAD =
  "| what | unit | worth | points | mean | worst | tolerance | sources |\n|---|---|---|---:|---:|---:|---:|---|";

function functionSection(d: Declaration, sources: Sources): string {
  const own = comparisons.filter((c) => c.of === d.name);
  const claims = d.trust === undefined ? "Claims: exact arithmetic." : `Claims: ${d.trust}.`;
  const reason = withoutPoint.get(d.name);
  const body =
    own.length === 0
      ? `No published point: ${reason ?? "none was found"}.`
      : [TABLE_HEAD, ...[...lines(own).values()].map((line) => row(line, sources))].join("\n");
  return `### ${d.name}\n\n${claims}\n\n${body}`;
}

/** Functions of plain arithmetic without a point share one line. */
function groupSection(group: string, members: readonly Declaration[], sources: Sources): string {
  const plain = members.filter((d) => d.trust === undefined && !comparisons.some((c) => c.of === d.name));
  const told = members.filter((d) => !plain.includes(d)).map((d) => functionSection(d, sources));
  const rest =
    plain.length === 0
      ? []
      : [
          `Exact arithmetic or choice without a published point: ${plain.map((d) => `\`${d.name}\` (${withoutPoint.get(d.name)})`).join("; ")}.`,
        ];
  return [`## ${group[0]!.toUpperCase()}${group.slice(1)}`, ...told, ...rest].join("\n\n");
}

function disagreements(): string {
  const found = new Map<string, Comparison[]>();
  for (const c of comparisons) {
    if (c.disagreement === undefined) continue;
    const key = `${c.of}|${c.what}|${c.disagreement.because}`;
    const same = found.get(key);
    if (same === undefined) found.set(key, [c]);
    else same.push(c);
  }
  const told = [...found.values()].map((same) => {
    const [c] = same;
    const worst = same.reduce((most, x) => (Math.abs(deviation(x)) > Math.abs(deviation(most)) ? x : most));
    const published = typeof worst.published === "number" ? worst.published : worst.published.join(" to ");
    return `| \`${c!.of}\` | ${cell(worst.label)} | ${published} ${worst.unit} | ${digits(worst.computed, 6)} ${worst.unit} | ${digits(allowed(worst))} | ${same.length} | ${cell(c!.disagreement!.because)} |`;
  });
  return [
    "| function | where it is worst | published | here | tolerance | points | reason |\n|---|---|---:|---:|---:|---:|---|",
    ...told,
  ].join("\n");
}

const INTRODUCTION = `# How far to trust each function

Every number that a function gives was compared, where that could be done, with numbers that somebody else published. This
page shows by how much they differ. It is made from the same list of comparisons that the tests check
(\`tests/published\`), so it cannot say anything that the tests do not; after a change it is written again with
\`npm run generate\`, or \`INVACUO_UPDATE=1 npx vitest run tests/published/accuracy.test.ts\`.

How to read it. Under each function stands what the function *claims* of itself: the standard uncertainty that is counted
in the ± of its results. Below it, for each kind of number, stand the count of points, the *mean* and the *worst* of
"here minus published" (for factors: here over published), the *tolerance* that the tests allow, and the sources, numbered
at the end. Small means with the mark *independent* are the best reason to trust a function. The column *worth* says what
agreement proves:

- **independent**: the number was not used to make the equation. It tests nature, as far as the source does.
- **fitted**: the number, or its table, was used to make the equation. It shows the fit and no more.
- **code only**: the number was worked out outside this project with the same equations. It tests the code, not nature.
- **practice**: a fact of the trade, with which an answer should agree.

And the mark before a source says who read the number: **seen** (read at the source while this was made), **from memory**,
**computed here** (worked out for this project), **common practice, no source**. Many tolerances were set by whoever
gathered the points, with the differences in view, at about the distance between published sets: that all are met is
no blind prediction. Where a number lies outside its tolerance it stands under *known disagreements* with the reason;
nothing was widened to make it fit.

What nobody has measured is written in \`docs/science.md\`. Above all: no measured run under vacuum with all its
strengths was found, and no measurements of sugar and alcohol together.
`;

/** The text of docs/accuracy.md. */
export function accuracyDocument(): string {
  const sources = new Sources();
  const groups = [...byGroup(vocabulary.values())].map(([group, members]) =>
    groupSection(group, members, sources),
  );
  const numbers = (worth: Worth): number => comparisons.filter((c) => c.worth === worth).length;
  const withPoints = new Set(comparisons.map((c) => c.of)).size;
  const count = `${comparisons.length} comparisons for ${withPoints} of ${vocabulary.size} functions: ${numbers("independent")} independent, ${numbers("fitted")} fitted, ${numbers("code")} code only, ${numbers("practice")} practice; ${comparisons.filter((c) => c.disagreement !== undefined).length} of them are known disagreements.`;
  const out = [...leftOut.entries()].map(([quantity, why]) => `- ${quantity}: ${why}.`);
  const route = secondRoute.map(({ what, within, range }) => `| ${what} | ${within} | ${range} |`);
  return `${[
    INTRODUCTION,
    count,
    `## Known disagreements\n\n${disagreements()}`,
    `## A second route\n\nWater is worked out a second way, with the open library iapws (Debian package \`python3-iapws\`), which carries the international formulations IAPWS-95 and IAPWS-IF97 whole. The test runs where the library is there and says so where it is not (\`tests/published/water.test.ts\`).\n\n| what | within | range |\n|---|---|---|\n${route.join("\n")}`,
    `## Checked elsewhere\n\nUnits and money by their definitions (\`tests/published/units.test.ts\`); uncertainty by the worked examples of JCGM 100:2008, annex H (\`tests/published/uncertainty.test.ts\`); what sentences say about keeping and growth (\`tests/published/keeping.test.ts\`, \`honey.test.ts\`); facts of the trade (\`tests/published/practice.test.ts\`); balances, inverses, limits and other properties (\`tests/matter\`).`,
    ...groups,
    `## Points that no function answers\n\n${out.join("\n")}`,
    `## Sources\n\n${sources.lines.map((line, i) => `${i + 1}. ${line}`).join("\n")}`,
  ]
    .join("\n\n")
    .replace(/\n{3,}/gu, "\n\n")}\n`;
}
