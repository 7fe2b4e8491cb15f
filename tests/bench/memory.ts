import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import type { Calculation } from "../../src/engine/calculation";
import { cellsKey, setKey } from "../../src/engine/names";
import { plain } from "../../src/quantity";
import { recalculation, tableText } from "./columns";
import type { Line } from "./table";
import { shortened } from "./table";

const ROWS = 100_000;
const COLUMNS = 10;

setFlagsFromString("--expose_gc");
const collect = runInNewContext("gc") as () => void;

function held(): number {
  collect();
  collect();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}

/** What ten columns of 100,000 computed numbers take, once more for another value of `rate`. */
export function cellMemory(): readonly Line[] {
  const formulas = Array.from({ length: COLUMNS }, (_, i) => `a * rate + b * ${i + 1}`);
  const { calculation } = recalculation(tableText(ROWS, formulas), COLUMNS);
  const wanted = new Set(formulas.map((_, i) => cellsKey("t", `f${i}`)));
  const before = held();
  const trial = calculation.trial(setKey("rate"), plain("2.5"), wanted) as Calculation;
  const after = held();
  const store = trial.store(cellsKey("t", "f0"))!;
  if (!store.allNumbers) throw new Error("the columns are not of plain numbers");
  const bytes = (after - before) / (ROWS * COLUMNS);
  return [
    {
      measure: "memory of a numeric cell, in bytes",
      ratio: bytes,
      limit: 16,
      figures: `${shortened((after - before) / 1e6)} MB for ${(ROWS * COLUMNS).toLocaleString("en")} cells`,
    },
  ];
}
