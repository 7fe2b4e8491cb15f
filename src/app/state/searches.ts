import type { Found, Search, Searches } from "../../engine";

/** Milliseconds for which working a book out may hold the page when it is opened, and when it is changed. */
const OPENS = 400;
const HOLDS = 120;
/** The same where the change before it is still being worked out, so that typing goes on. */
const HURRIES = 16;

/**
 * The work on an open book. What is soon done is done at once. Searches (`find`) that take longer are put off, to be
 * made beside the page, and the book is opened again with what they came to; the rest is gone on with in slices.
 */
export class PutOffSearches implements Searches {
  /** Places of the searches that were put off and are not made yet. */
  readonly putOff = new Set<string>();
  /** Milliseconds that searches may still take. */
  private left = HOLDS;
  private until = 0;
  private holds = OPENS;
  private made: { readonly text: string; readonly found: ReadonlyMap<string, Found> } | undefined;

  begin(text: string): void {
    this.left = HOLDS;
    this.until = performance.now() + this.holds;
    this.holds = HOLDS;
    // Each that is still to be made is come to again.
    this.putOff.clear();
    if (this.made?.text !== text) this.made = undefined;
  }

  goesOn(): boolean {
    if (performance.now() < this.until) return true;
    this.holds = HURRIES;
    return false;
  }

  /** The book that was not waited for is there. */
  caughtUp(): void {
    this.holds = HOLDS;
  }

  at(place: string): Search {
    const began = performance.now();
    const { made } = this;
    return {
      known: made?.found.get(place),
      goesOn: () => {
        // Where the others are known, one that is not would be put off for ever.
        if (made || performance.now() - began < this.left) return true;
        this.left = 0;
        this.putOff.add(place);
        return false;
      },
      came: () => {
        this.left = Math.max(0, this.left - (performance.now() - began));
      },
    };
  }

  /** Tells what the searches of a text come to, for when it is opened again. */
  know(text: string, found: Iterable<readonly [string, Found]>): void {
    this.made = { text, found: new Map(found) };
  }
}
