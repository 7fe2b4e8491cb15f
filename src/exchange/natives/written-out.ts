import { blending } from "./blending";
import { freezing } from "./freezing";
import { honey } from "./honey";
import type { Native } from "./native";
import { run } from "./run";
import { spirit } from "./spirit";
import { still } from "./still";
import { sugar } from "./sugar";

/** Every physics function that is written out in spreadsheet arithmetic, by its name in the vocabulary. */
export const natives: ReadonlyMap<string, Native> = new Map(
  Object.entries({ ...spirit, ...blending, ...sugar, ...honey, ...still, ...run, ...freezing }),
);
