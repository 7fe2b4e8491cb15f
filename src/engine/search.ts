import type { TroubleParts } from "../quantity";
import type { Value } from "../vocabulary/value";
import type { Allowance, Cost } from "./allowance";

/**
 * Searches (`find`) that whoever opens a book may have made elsewhere: a search tries a formula some forty times, and a
 * page must not stand still for that. What is put off is a gap until the book is opened again with what was found.
 * A search inside another one is always made at once.
 */
export interface Searches {
  /** A book of this text is about to be worked out. */
  begin(text: string): Waits;
}
/** For one book that is worked out. */
export interface Waits {
  /** Work of a piece, when it is not that of about a millisecond (see pieces.ts). */
  readonly piece?: number;
  /**
   * Is asked between two pieces of the work: false leaves the rest for later, and gives the
   * book as far as it has come (see underway.ts).
   */
  goesOn(): boolean;
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

/** The end of a search, as plain data: the number and how many trials were passed over, or why there is none. */
export type Ending =
  | { readonly is: "root"; readonly at: number; readonly passed: number }
  | { readonly is: "trouble"; readonly parts: TroubleParts }
  | { readonly is: "value"; readonly value: Value };

/**
 * What a search came to, what it took, and whether a limit was met by then: the limits of a book do not hang on where
 * its searches are made.
 */
export type Found = Ending & { readonly took: Cost; readonly stopped: boolean };

/** A search as the one who makes it sees it. */
export interface Making {
  readonly known: Ending | undefined;
  goesOn(): boolean;
  came(ending: Ending): void;
}

/** Thrown by a search that is put off. */
export class PutOff {}

/** The searches that are met while the values of a book, or what is shown of it, are worked out from end to end. */
export class SearchesMet {
  private readonly waits: Waits;
  private readonly allowance: Allowance;
  /** How often each place was met: a function of the writer's own, a curve or a `where` comes to it again and again. */
  private readonly times = new Map<string, number>();
  /** Whether one is being made. */
  within = false;
  /** How many were put off. */
  putOff = 0;

  constructor(waits: Waits, allowance: Allowance) {
    this.waits = waits;
    this.allowance = allowance;
  }

  /** A formula is begun again: what is called by this path comes to its searches as if for the first time. */
  forget(path: string): void {
    for (const place of this.times.keys()) if (place.startsWith(path)) this.times.delete(place);
  }

  /**
   * Makes the search at a place of the book, told from the others that are made at the same place; `otherwise` holds
   * the place of one that is put off.
   */
  make<T>(place: string, act: (making?: Making) => T, otherwise: () => T): T {
    if (this.within) return act();
    const time = (this.times.get(place) ?? 0) + 1;
    this.times.set(place, time);
    const search = this.waits.at(time === 1 ? place : `${place} (${time})`);
    const { counted } = this.allowance;
    this.within = true;
    try {
      return act({
        known: search.known,
        goesOn: () => search.goesOn(),
        came: (ending) =>
          search.came({
            ...ending,
            took: this.allowance.since(counted),
            stopped: this.allowance.isStopped(),
          }),
      });
    } catch (error) {
      if (!(error instanceof PutOff)) throw error;
      this.putOff++;
      return otherwise();
    } finally {
      if (search.known) this.allowance.settle(counted, search.known);
      this.within = false;
    }
  }
}
