import type { Shown } from "../report";
import type { Fit } from "./sort";

/** Something that could be written at the caret. */
export interface Proposal {
  /** As it reads in a list: `volume`, `blend.strength`, `boils_at`, `"propylene"`, `mL`. */
  readonly label: string;
  /** What takes the place of the stretch that is being typed, backticks, brackets and labels included. */
  readonly insert: string;
  /** Where the caret goes afterwards, counted in `insert`. */
  readonly caret: number;
  /** Places to fill in, in order, counted in `insert`; the caret is at the first. */
  readonly stops: readonly number[];
  readonly thing: Thing;
  /** What it comes to now, for names, columns, cells and parts. */
  readonly shown?: Shown;
  /** What it is, in words: "a volume", "a list, each a price per volume"; "" when that cannot be told. */
  readonly is: string;
  readonly fits: boolean;
  /** Why it does not fit: "not a price per volume". */
  readonly misfit?: string;
  /** A sentence about it: what a function answers, what a parameter means, what a word does. */
  readonly says?: string;
  /** How a function is called. */
  readonly signature?: string;
}

export type Thing =
  | "name"
  | "table"
  | "column"
  | "row"
  | "cell"
  | "foot"
  | "part"
  | "parameter"
  | "function"
  | "label"
  | "text"
  | "unit"
  | "word"
  | "statement";

/** A proposal before it is chosen for the list: what it takes to put it in order. */
export interface Candidate {
  readonly label: string;
  readonly thing: Thing;
  readonly fit: Fit;
  /** How well it goes with what was typed; smaller is better. */
  readonly match: number;
  /** Of things that go equally well, what stands nearer comes first. */
  readonly near: number;
  make(): Omit<Proposal, "label" | "thing" | "fits" | "misfit" | "caret" | "stops"> & {
    readonly stops?: readonly number[];
  };
}

/**
 * How well a name goes with what was typed: 0 its beginning, 1 the same in other letters, 2 the beginning of a
 * word in it, 3 somewhere inside; undefined when it does not go with it at all.
 */
export function matchOf(name: string, typed: string): number | undefined {
  if (typed === "" || name.startsWith(typed)) return 0;
  const folded = name.toLowerCase();
  const wanted = typed.toLowerCase();
  const at = folded.indexOf(wanted);
  if (at < 0) return undefined;
  if (at === 0) return 1;
  if (/[\s_.`/]/.test(folded[at - 1]!)) return 2;
  return [...wanted].length < 2 ? undefined : 3;
}

/** The best candidates in order: those that fit first, then by how well they match, then by how near they are. */
export function chosen(candidates: readonly Candidate[], most: number): readonly Proposal[] {
  const ordered = [...candidates].sort(
    (a, b) => a.fit.rank - b.fit.rank || a.match - b.match || a.near - b.near,
  );
  return ordered.slice(0, most).map((candidate): Proposal => {
    const { label, thing, fit } = candidate;
    const made = candidate.make();
    const stops = made.stops ?? [made.insert.length];
    return {
      label,
      thing,
      ...made,
      stops,
      caret: stops[0]!,
      fits: fit.fits,
      ...(fit.why !== undefined && { misfit: fit.why }),
    };
  });
}
