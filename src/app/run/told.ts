import type { Book } from "../../engine";
import { readReading } from "./readings";
import { type Run, typedFor } from "./run";
import { type BenchStep, benchSteps } from "./steps";
import { asked } from "./wanted";
import { writesOf } from "./writes";

/**
 * The steps of a book as they are told during a run: their amounts follow from what was read so far for the values of
 * the book, as they will once the readings are written. What was planned stays: the waits, which may be going, and the
 * plan of each reading, which is what the reading is held against. A row that the run will add is not there yet.
 */
export function toldSteps(book: Book, run: Run): readonly BenchStep[] {
  const planned = benchSteps(book);
  const legible = new Set(
    planned.flatMap((step) =>
      step.asks.flatMap((ask) =>
        asked(book, ask.path)?.in === "value" &&
        ["read", "words"].includes(readReading(book, ask, typedFor(run, ask.path)).state)
          ? [ask.path]
          : [],
      ),
    ),
  );
  const { edit } = writesOf(book, { ...run, readings: run.readings.filter((r) => legible.has(r.path)) });
  if (edit === undefined) return planned;
  const now = benchSteps(book.edit(edit.text));
  return planned.map((step, i) => {
    const { wait: _, ...told } = now[i] ?? step;
    return { ...told, asks: step.asks, ...(step.wait === undefined ? {} : { wait: step.wait }) };
  });
}
