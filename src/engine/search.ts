import type { TroubleParts } from "../quantity";
import type { Value } from "../vocabulary/value";

/**
 * Searches (`find`) that whoever opens a book may have made elsewhere: a search tries a formula some forty times, and a
 * page must not stand still for that. What is put off is a gap until the book is opened again with what was found.
 * A search inside another one, in a function of the writer's own, or in a check, chart or step is always made at once.
 */
export interface Searches {
  /** The values are about to be worked out. */
  begin(): void;
  /** The search at a place; the text of the book and the place together tell it from every other. */
  at(place: string): Search;
}
export interface Search {
  /** What it is known to come to, in a book of the same text. */
  readonly known: Found | undefined;
  /** Is asked before each trial: false puts the search off. */
  goesOn(): boolean;
  /** Is told what it came to. */
  came(found: Found): void;
}

/** What a search came to, as plain data: the number and how many trials were passed over, or why there is none. */
export type Found =
  | { readonly is: "root"; readonly at: number; readonly passed: number }
  | { readonly is: "trouble"; readonly parts: TroubleParts }
  | { readonly is: "value"; readonly value: Value };

/** Thrown by a search that is put off. */
export class PutOff {}
