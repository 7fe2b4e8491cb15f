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
import { declarations as trials } from "./trials";

/** Every function of the language, by name, in the order in which a cook would look for it. */
export const vocabulary: ReadonlyMap<string, Declaration> = new Map(
  [
    ...still,
    ...run,
    ...aroma,
    ...spirit,
    ...blending,
    ...sugar,
    ...salt,
    ...keeping,
    ...honey,
    ...alcoholOut,
    ...trials,
    ...day,
    ...plain,
  ].map((declaration) => [declaration.name, declaration] as const),
);
