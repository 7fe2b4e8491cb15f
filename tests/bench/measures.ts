/**
 * The speed of the language and its engine, as ratios to what a bare loop or function needs in the same run;
 * a ratio hangs less on the machine than a time does. `npm run bench` bundles this file and runs it once for each
 * measure.
 */
import { parseFormula } from "../../grammar";
import { loops, recalculation, tableText } from "./columns";
import { chain, editing, growth, totals } from "./editing";
import { rowFormulas, writtenFormulas } from "./formulas";
import { keystrokes } from "./keystrokes";
import { cellMemory } from "./memory";
import { physics } from "./physics";
import { parsePratt } from "./pratt";
import { type Line, shortened } from "./table";
import { compared } from "./timing";
import { uncertainty } from "./uncertainty";

function parsing(): readonly Line[] {
  const formulas = writtenFormulas(2000);
  const mean = formulas.reduce((sum, f) => sum + f.length, 0) / formulas.length;
  for (const formula of formulas) {
    const { messages } = parseFormula(formula);
    if (messages.length > 0) throw new Error(`${formula}: ${messages[0]!.says}`);
  }
  const [bare, ours] = compared(
    [
      () => formulas.reduce((sum, f) => sum + parsePratt(f).type.length, 0),
      () => formulas.reduce((sum, f) => sum + parseFormula(f).formula.type.length, 0),
    ],
    { rounds: 15, warmUp: 300 },
  );
  return [
    {
      measure: `reading 2,000 formulas of ${mean.toFixed(0)} characters, against a bare parser by hand`,
      ratio: ours!.ratio,
      limit: 15,
      figures: `${shortened(ours!.micros / 2000)} µs and ${shortened(bare!.micros / 2000)} µs a formula`,
    },
  ];
}

async function recalculating(): Promise<readonly Line[]> {
  const lines: Line[] = [];
  for (const [count, rows, limit] of [
    [30, 3334, 12],
    [120, 834, 12],
    [300, 334, 12],
    [1, 100_000, 5],
  ] as const) {
    const formulas =
      count === 1
        ? [{ written: "a * b / 1000 * rate", loop: "a[i] * b[i] / 1000 * rate" }]
        : rowFormulas(count, true);
    const ours = recalculation(
      tableText(
        rows,
        formulas.map((f) => f.written),
      ),
      count,
    );
    const [bare, engine] = compared([await loops(rows, formulas), ours.run], { warmUp: 400, rounds: 11 });
    const cells = count * rows;
    lines.push({
      measure: `recalculating ${count === 1 ? "one formula" : `${count} formulas`} × ${rows.toLocaleString("en")} rows, against plain loops`,
      ratio: engine!.ratio,
      limit,
      figures: `${shortened((engine!.micros / cells) * 1000)} ns and ${shortened((bare!.micros / cells) * 1000)} ns a cell`,
    });
  }
  return lines;
}

function exactness(): readonly Line[] {
  const formulas = rowFormulas(40, false).map((f) => f.written);
  const rows = 2500;
  const exact = recalculation(tableText(rows, formulas), formulas.length);
  // The same numbers, approximate because they come out of a division.
  const text = tableText(rows, formulas)
    .replace(
      "| n | a (number) | b (number) | c (number) | d (number) |",
      "| n | p (number) | q (number) | r (number) | s (number) |",
    )
    .replace(
      "column f0",
      "column a = p / 3\ncolumn b = q / 3\ncolumn c = r / 3\ncolumn d = s / 3\ncolumn f0",
    );
  const rough = recalculation(text, formulas.length);
  const [doubles, decimals] = compared([rough.run, exact.run], { warmUp: 400, rounds: 11 });
  return [
    {
      measure: "exact decimals, against the same 40 formulas in doubles",
      ratio: decimals!.ratio,
      limit: 3,
      figures: `${shortened((decimals!.micros / (rows * formulas.length)) * 1000)} ns and ${shortened((doubles!.micros / (rows * formulas.length)) * 1000)} ns a cell`,
    },
  ];
}

const MEASURES: Readonly<Record<string, () => readonly Line[] | Promise<readonly Line[]>>> = {
  recalculating,
  exactness,
  totals,
  editing,
  chain,
  memory: cellMemory,
  uncertainty,
  growth,
  physics,
  parsing,
  keystrokes,
};

// Without a word: the names of the measures; with one: the lines of that measure. Both as JSON, for run.ts.
const [wanted] = process.argv.slice(2);
const told = wanted === undefined ? Object.keys(MEASURES) : await MEASURES[wanted]!();
process.stdout.write(JSON.stringify(told));
