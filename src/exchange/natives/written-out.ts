import { blending } from "./blending";
import { freezing } from "./freezing";
import { honey } from "./honey";
import type { Native } from "./native";
import { run } from "./run";
import { spirit } from "./spirit";
import { still } from "./still";
import { sugar } from "./sugar";
import { runTime, TIME_ERROR } from "./timing";

const timing: Readonly<Record<string, Native>> = {
  run_time: { error: TIME_ERROR, write: (c) => ({ parts: runTime(c) }) },
};

/** Every physics function that is written out in spreadsheet arithmetic, by its name in the vocabulary. */
export const natives: ReadonlyMap<string, Native> = new Map(
  Object.entries({ ...spirit, ...blending, ...sugar, ...honey, ...still, ...run, ...timing, ...freezing }),
);
