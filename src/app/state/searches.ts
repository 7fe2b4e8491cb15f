import type { Found, Search, Searches } from "../../engine";

/** Milliseconds for which the searches of a book may hold the page, each time that it is worked out. */
const HOLDS = 120;

/**
 * The searches (`find`) of an open book. What is found soon is found at once; the others are put off, to be made
 * beside the page, and the book is opened again with what they came to.
 */
export class PutOffSearches implements Searches {
  /** Places of the searches that were put off and are not made yet. */
  readonly putOff = new Set<string>();
  private left = HOLDS;
  private known: ReadonlyMap<string, Found> = new Map();

  begin(): void {
    this.left = HOLDS;
  }

  at(place: string): Search {
    const began = performance.now();
    return {
      known: this.known.get(place),
      goesOn: () => {
        if (performance.now() - began < this.left) return true;
        this.left = 0;
        this.putOff.add(place);
        return false;
      },
      came: () => {
        this.left = Math.max(0, this.left - (performance.now() - began));
      },
    };
  }

  /** Does something while it is known what the searches come to; afterwards none is put off but what was put off then. */
  with<T>(found: Iterable<readonly [string, Found]>, act: () => T): T {
    this.known = new Map(found);
    this.putOff.clear();
    try {
      return act();
    } finally {
      this.known = new Map();
    }
  }
}
