import { declarations as alcoholOut } from "./alcohol-out";
import { declarations as aroma } from "./aroma";
import { declarations as blending } from "./blending";
import { declarations as day } from "./day";
import type { Declaration } from "./declaration";
import { declarations as honey } from "./honey";
import { declarations as keeping } from "./keeping";
import { declarations as plain } from "./plain";
import { declarations as run } from "./run";
import { declarations as salt } from "./salt";
import { declarations as spirit } from "./spirit";
import { declarations as still } from "./still";
import { declarations as sugar } from "./sugar";
import { declarations as totals } from "./totals";
import { declarations as trials } from "./trials";

/** The declarations by their files, in the order in which a cook would look for them. */
export const files: Readonly<Record<string, readonly Declaration[]>> = {
  still,
  run,
  aroma,
  spirit,
  blending,
  sugar,
  salt,
  keeping,
  honey,
  "alcohol-out": alcoholOut,
  totals,
  trials,
  day,
  plain,
};

/** Every function of the language, by name, in that order. */
export const vocabulary: ReadonlyMap<string, Declaration> = new Map(
  Object.values(files)
    .flat()
    .map((declaration) => [declaration.name, declaration] as const),
);
