import { type Found, type MonteCarlo, openBook, openBookWith } from "../../engine";
import { trialsOf } from "../../engine/trials";
import { type Comparison, compareBooks } from "../../exchange/comparison";
import { type FoundTable, readPastedTables, tableReading } from "../../exchange/tables-in";
import { Trouble } from "../../quantity";
import type { SweepResult } from "../run/sweeps";
import { type SweepWork, sweepWork } from "./sweeping";

/** Long work on a book, told in plain data: it can be done beside the page, and its result comes back as plain data. */
export type Job =
  | { readonly do: "trials"; readonly text: string; readonly path: string; readonly trials: number }
  | { readonly do: "sweep"; readonly text: string; readonly name: string; readonly result: SweepResult }
  | { readonly do: "compare"; readonly here: string; readonly there: string }
  /** `of`: how many searches were put off; more may wait behind them. */
  | { readonly do: "searches"; readonly text: string; readonly of: number }
  | { readonly do: "tables"; readonly name: string; readonly bytes: Uint8Array }
  /** Cells from a clipboard, in the two ways in which it holds them. */
  | { readonly do: "pasted"; readonly text: string; readonly html: string };

/** What each job comes to. */
export interface Results {
  readonly trials: MonteCarlo | undefined;
  readonly sweep: SweepWork;
  readonly compare: Comparison;
  readonly tables: TablesRead;
  readonly pasted: TablesRead;
  /** By their places in the book. */
  readonly searches: readonly (readonly [place: string, found: Found])[];
}
/** The tables of a file, or why nothing came in. */
export type TablesRead = { readonly tables: readonly FoundTable[] } | { readonly trouble: string };
export type ResultOf<J extends Job> = Results[J["do"]];

/** How far a job has come. */
export interface Progress {
  readonly done: number;
  readonly of: number;
}

/**
 * Does a job a piece at a time; each piece is short, so that whoever drives it can stop between two. What comes in
 * one piece calls `tell` as it goes on.
 */
export function* work(
  job: Job,
  tell: (progress: Progress) => void = () => undefined,
): Generator<Progress, Results[keyof Results], void> {
  switch (job.do) {
    case "trials": {
      const run = trialsOf(openBook(job.text), job.path, job.trials);
      for (;;) {
        const step = run.next();
        if (step.done) return step.value;
        yield { done: step.value, of: job.trials };
      }
    }
    case "sweep":
      return yield* sweepWork(openBook(job.text), job.name, job.result);
    case "compare": {
      const here = openBook(job.here);
      yield { done: 1, of: 3 };
      const there = openBook(job.there);
      yield { done: 2, of: 3 };
      return compareBooks(here, there);
    }
    case "searches": {
      const found = new Map<string, Found>();
      const note = (place: string) => (one: Found) => {
        found.set(place, one);
        tell({ done: found.size, of: Math.max(found.size, job.of) });
      };
      openBookWith(
        {
          begin: () => ({
            goesOn: () => true,
            at: (place) => ({ known: undefined, goesOn: () => true, came: note(place) }),
          }),
        },
        job.text,
      );
      return [...found];
    }
    case "tables":
      try {
        return { tables: yield* tableReading(job.bytes, job.name) };
      } catch (error) {
        return { trouble: `${job.name}: ${inWords(error)}` };
      }
    case "pasted":
      try {
        return { tables: readPastedTables(job.text, job.html === "" ? undefined : job.html) };
      } catch (error) {
        return { trouble: inWords(error) };
      }
  }
}

/** Trouble with help. Throws what is none. */
function inWords(error: unknown): string {
  if (!(error instanceof Trouble)) throw error;
  return `${error.message} ${error.help ?? ""}`.trim();
}
