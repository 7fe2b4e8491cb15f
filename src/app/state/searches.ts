import type { Found, Searches, Waits } from "../../engine";

/** Milliseconds for which working a book out may hold the page when it is opened, and when it is changed. */
const OPENS = 400;
const HOLDS = 120;
/** The same where the change before it is still being worked out, so that typing goes on. */
const HURRIES = 16;
/** Pieces of work that are never left, however slow the machine: a book that takes no more is done in one go. */
const SHORT = 20;

/**
 * The work on an open book. What is soon done is done at once. Searches (`find`) that take longer are put off, to be
 * made beside the page, and the book is taken up again with what they came to; the rest is gone on with in slices.
 */
export class PutOffSearches implements Searches {
  private holds = OPENS;
  private made: { readonly text: string; readonly found: ReadonlyMap<string, Found> } | undefined;

  begin(text: string): Waits {
    const until = performance.now() + this.holds;
    const found = this.made?.text === text ? this.made.found : undefined;
    /** Milliseconds that searches may still take. */
    let left = HOLDS;
    let pieces = 0;
    return {
      goesOn: () => ++pieces < SHORT || performance.now() < until,
      at: (place) => {
        const began = performance.now();
        return {
          known: found?.get(place),
          goesOn: () => {
            // Where the others are known, one that is not would be put off for ever.
            if (found || performance.now() - began < left) return true;
            left = 0;
            return false;
          },
          came: () => {
            left = Math.max(0, left - (performance.now() - began));
          },
        };
      },
    };
  }

  /** Whether the open book is still being worked out. */
  hurry(isUnderway: boolean): void {
    this.holds = isUnderway ? HURRIES : HOLDS;
  }

  /** Tells what the searches of a text come to, for when its book is taken up again. */
  know(text: string, found: Iterable<readonly [string, Found]>): void {
    this.made = { text, found: new Map(found) };
  }
}
