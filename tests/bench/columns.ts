import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { parseBook } from "../../grammar";
import { Calculation } from "../../src/engine/calculation";
import { cellsKey, setKey } from "../../src/engine/names";
import { makePlan } from "../../src/engine/plan";
import { plain } from "../../src/quantity";
import type { RowFormula } from "./formulas";

/** A table of four columns of plain numbers with two decimals, and a value `rate` on which every formula hangs. */
export function tableText(rows: number, formulas: readonly string[], cell = number): string {
  const lines = [
    "set rate = 1.5",
    "",
    "table t",
    "| n | a (number) | b (number) | c (number) | d (number) |",
  ];
  for (let row = 0; row < rows; row++)
    lines.push(`| r${row} | ${cell(row, 0)} | ${cell(row, 1)} | ${cell(row, 2)} | ${cell(row, 3)} |`);
  formulas.forEach((formula, i) => {
    lines.push(`column f${i} = ${formula}`);
  });
  return lines.join("\n");
}

/** 1.00 to 99.99, without a pattern that a predictor could learn. */
export function number(row: number, column: number): string {
  return (1 + (((row * 7919 + column * 104_729) % 9899) + 0.5) / 100).toFixed(2);
}

export function numbers(rows: number, column: number): Float64Array {
  return Float64Array.from({ length: rows }, (_, row) => Number(number(row, column)));
}

export interface Recalculation {
  /** Works all formulas out again for another rate and gives a figure that hangs on the result. */
  readonly run: () => number;
  readonly calculation: Calculation;
}

/** The engine's recalculation of every column that hangs on `rate`: what happens when a slider is moved. */
export function recalculation(text: string, formulas: number): Recalculation {
  const plan = makePlan(parseBook(text));
  const calculation = Calculation.of(plan);
  const keys = Array.from({ length: formulas }, (_, i) => cellsKey("t", `f${i}`));
  const wanted = new Set(keys);
  const rates = [plain("1.5"), plain("2.5")];
  let turn = 0;
  return {
    calculation,
    run: () => {
      // Each run has all the work of a calculation before it: past the limit there would be nothing to measure.
      calculation.allowance.recount();
      const trial = calculation.trial(setKey("rate"), rates[turn++ % 2]!, wanted) as Calculation;
      let figure = 0;
      for (const key of keys) {
        const { blocks } = trial.store(key)!;
        const last = blocks[blocks.length - 1]!.values;
        figure += last[last.length - 1]!;
      }
      return figure;
    },
  };
}

/** The same formulas as loops of their own, written out as a module and loaded. */
export async function loops(rows: number, formulas: readonly RowFormula[]): Promise<() => number> {
  const folder = mkdtempSync(join(tmpdir(), "invacuo-bench-"));
  const file = join(folder, "loops.mjs");
  writeFileSync(
    file,
    formulas
      .map(
        ({ loop }, i) =>
          `export function f${i}(out, a, b, c, d, rate) { for (let i = 0; i < out.length; i++) out[i] = ${loop}; }`,
      )
      .join("\n"),
  );
  const made = Object.values((await import(pathToFileURL(file).href)) as Record<string, Loop>);
  rmSync(folder, { recursive: true });
  const [a, b, c, d] = [0, 1, 2, 3].map((column) => numbers(rows, column)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  let turn = 0;
  const outs = made.map(() => new Float64Array(rows));
  return () => {
    const rate = [1.5, 2.5][turn++ % 2]!;
    let figure = 0;
    made.forEach((loop, i) => {
      const out = outs[i]!;
      loop(out, a, b, c, d, rate);
      figure += out[rows - 1]!;
    });
    return figure;
  };
}

type Loop = (
  out: Float64Array,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  d: Float64Array,
  rate: number,
) => void;
