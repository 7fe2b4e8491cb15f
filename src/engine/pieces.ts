/**
 * Work that is done a piece at a time: it yields between two pieces, where whoever drives it may turn to something else
 * and come back, or not come back at all. What it comes to does not hang on where it was left.
 */
export type Pieces<T> = Generator<void, T, void>;

/** Work of a piece where nothing else is asked for, in parts of formulas: about a millisecond. */
export const PIECE = 20_000;

/** All of it, without a stop. */
export function whole<T>(pieces: Generator<unknown, T, void>): T {
  for (;;) {
    const step = pieces.next();
    if (step.done) return step.value;
  }
}
