import { workingsOf } from "./book";
import { locate } from "./located";
import { monteCarloRun } from "./montecarlo";
import type { Book, MonteCarlo } from "./report";

/**
 * The Monte Carlo run that `why` makes for a path, one trial at a time: yields how many are done, and comes to what
 * `why` calls `monteCarlo`; undefined when there is no such value, or none with an uncertainty. `trials` is at
 * least 2.
 */
export function* trialsOf(
  book: Book,
  path: string,
  trials: number,
): Generator<number, MonteCarlo | undefined, void> {
  const { calculation } = workingsOf(book);
  const located = locate(path, calculation);
  if (located?.value.type !== "quantity") return undefined;
  const { value, key } = located;
  const pick = (drawn: typeof calculation) => locate(path, drawn)?.value ?? value;
  return yield* monteCarloRun(value, key, pick, calculation, trials);
}
