import { workingsOf } from "../book";
import type { Book } from "../report";
import {
  type ActiveParameter,
  activeParameter,
  expectedAtCaret,
  expectedBehind,
  listsAtCaret,
  sortBeforeIn,
} from "./expectation";
import type { Field } from "./field";
import { columnOf } from "./found";
import { lastStretch } from "./frames";
import { functionCandidates, labelCandidates, totalCandidates } from "./function-proposals";
import { sortOfText } from "./inference";
import {
  askCandidates,
  downstreamOf,
  type Naming,
  nameCandidates,
  partCandidates,
  sortPartCandidates,
  turnedCandidates,
} from "./name-proposals";
import { pathFound, startOfPath } from "./path";
import { type Candidate, chosen, type Proposal } from "./proposal";
import { type Signature, signatureIn } from "./signature";
import { type Expected, wantedLike } from "./sort";
import { sourceAt } from "./source";
import { type Spot, spotAt } from "./spot";
import { headerCandidates, statementCandidates } from "./statement-proposals";
import { cellCandidates, textCandidates } from "./text-proposals";
import { headingCandidates, unitCandidates } from "./unit-proposals";
import { chartStyles, wordsBehind, wordsInFront } from "./word-proposals";

/** What can be written at a caret. */
export interface Completion {
  /** The stretch that a proposal replaces, in the field's text. */
  readonly from: number;
  readonly to: number;
  /** What has been typed of it. */
  readonly typed: string;
  /** What is wanted there, in words: "a volume or a mass". Missing where anything may stand. */
  readonly expected?: string;
  /** Those that fit first. */
  readonly proposals: readonly Proposal[];
  /** The call around the caret, and the parameter whose turn it is. */
  readonly signature?: Signature;
}

/** Most proposals that are handed over, where `most` is not given. */
const MOST = 200;

/**
 * What can be written at the caret of a field, in an order that depends on nothing but the book, the text and the
 * caret. Never throws, whatever has been typed; where nothing is known the list is empty.
 */
export function complete(
  book: Book,
  field: Field,
  caret: number,
  options: { readonly most?: number } = {},
): Completion {
  const source = sourceAt(workingsOf(book), field, caret);
  const spot = spotAt(source, caret);
  const expected = expectedAt(spot);
  const signature = signatureIn(spot.written);
  return {
    from: spot.from - source.shift,
    to: spot.to - source.shift,
    typed: spot.typed,
    ...(expected && { expected: expected.says }),
    proposals: chosen(candidatesAt(spot, book, expected), options.most ?? MOST),
    ...(signature && { signature }),
  };
}

/** What is wanted where the caret stands; for a unit, by what it would measure. */
function expectedAt(spot: Spot): Expected | undefined {
  const { written, tokens } = spot;
  switch (spot.stands) {
    case "operand":
    case "words":
      return expectedAtCaret(written);
    case "unit": {
      const last = tokens.at(-1);
      if (last?.type === "number")
        return expectedBehind(written, written.frames.length - 1, tokens.slice(0, -1));
      return wantedLike(sortBeforeIn(written, tokens, tokens.length - 1));
    }
    case "part":
      return expectedBehind(written, written.frames.length - 1, tokens.slice(0, startOfPath(tokens)));
    default:
      return undefined;
  }
}

function candidatesAt(spot: Spot, book: Book, expected: Expected | undefined): readonly Candidate[] {
  const { source, typed, written, tokens } = spot;
  const { place } = written;
  const table = nearestTable(spot);
  const naming: Naming = {
    book,
    place,
    typed,
    expected,
    lists: listsAtCaret(written),
    escapes: source.escapes,
    downstream: downstreamOf(place),
    ...(table !== undefined && { table }),
  };
  switch (spot.stands) {
    case "start":
      return statementCandidates(typed, source, book);
    case "header":
      return headerCandidates(spot.keyword, typed, source, book, tokens.length);
    case "heading":
      return headingCandidates(typed);
    case "cell":
      return cellCandidates(spot);
    case "unit":
      return [...wordsBehindNumber(spot), ...unitCandidates(typed, expected, leadOf(spot))];
    case "part":
      return behindDot(spot, naming);
    case "operator":
      return wordsBehind(spot);
    case "words":
      return textCandidates(spot, expected, true);
    case "operand":
      return operandCandidates(spot, naming);
    default:
      return [];
  }
}

/** A blank goes between a number and its unit. */
function leadOf({ source, from }: Spot): string {
  return from > 0 && /\d/.test(source.text[from - 1]!) ? " " : "";
}

/**
 * Behind a blank a number may need no unit, so that the words follow which can follow any operand: behind the measures,
 * before the money. A typed cell holds no words.
 */
function wordsBehindNumber(spot: Spot): readonly Candidate[] {
  if (spot.tokens.at(-1)?.type !== "number" || leadOf(spot) !== "" || spot.source.reads === "cell") return [];
  return wordsBehind(spot).map((word) => ({ ...word, near: 1 }));
}

function operandCandidates(spot: Spot, naming: Naming): readonly Candidate[] {
  const { source, typed, written, keyword, tokens } = spot;
  const { expected } = naming;
  const frame = written.frames.at(-1)!;
  const clause = written.frames.length === 1 ? lastStretch(frame).clause : "";
  if (keyword === "chart" && clause === ":" && tokens.length === 0) return chartStyles(typed);
  // The variable of a curve has a name of its own.
  if (clause === "for" && tokens.length === 0) return [];
  if (clause === "ask") return askCandidates(naming);
  if (tokens.at(-1)?.text === "find") return turnedCandidates(naming);
  const quoted = source.text[spot.from] === "`";
  const names = nameCandidates(naming);
  if (quoted || keyword === "seen") return names;
  const bracketed = /^[ \t]*\(/.test(source.text.slice(spot.to));
  const candidates = [...totalsUnder(spot), ...names, ...textCandidates(spot, expected, false)];
  const active = activeParameter(frame, written.place, written.behind);
  if (active && tokens.length === 0 && !lastStretch(frame).label)
    candidates.push(...labelCandidates(typed, active));
  if (!onlyLabels(active, spot)) {
    const functions = functionCandidates(typed, expected, written.place, { bracketed, lists: naming.lists });
    // Without a beginning only those are of use that give what is wanted.
    candidates.push(
      ...(typed !== "" ? functions : wantsSomething(expected) ? functions.filter((f) => f.fit.rank < 2) : []),
    );
  }
  candidates.push(...wordsInFront(spot));
  return onlyLabels(active, spot) ? candidates.filter((c) => c.thing === "label") : candidates;
}

/** In an empty foot, totals of the column above it. */
function totalsUnder({ typed, tokens, written }: Spot): readonly Candidate[] {
  const { place, frames } = written;
  const { table } = place.scope;
  const [kind, , column] = place.self?.split("\u0000") ?? [];
  if (kind !== "foot" || !table || frames.length > 1 || tokens.length > 0 || !table.byName.has(column!))
    return [];
  return totalCandidates(typed, columnOf(table, column!, place));
}

/** Where anything may stand, everything would fit, and a long list says nothing. */
const wantsSomething = (expected: Expected | undefined): boolean =>
  expected !== undefined && expected.wants.is !== "anything";

/** The table whose columns stand beside what is written: in earlier arguments of the call, in the chart's own lists. */
function nearestTable({ written, source }: Spot): string | undefined {
  const { frames, place } = written;
  for (const { tokens } of frames.at(-1)!.stretches.slice(0, -1)) {
    if (tokens.length === 0) continue;
    const sort = sortOfText(source.text.slice(tokens[0]!.from, tokens.at(-1)!.to), place);
    if (sort.is === "list" && sort.table !== undefined) return sort.table;
  }
  return undefined;
}

/** Behind the last argument that is taken by place only labels can follow. */
function onlyLabels(active: ActiveParameter | undefined, spot: Spot): boolean {
  if (!active || active.parameter !== undefined || spot.tokens.length > 0) return false;
  return lastStretch(spot.written.frames.at(-1)!).label === undefined;
}

function behindDot(spot: Spot, naming: Naming): readonly Candidate[] {
  const { tokens, source } = spot;
  const start = startOfPath(tokens);
  const path = tokens.slice(start, -1);
  const found = pathFound(path, naming.place);
  if (found) return partCandidates(naming, found);
  const first = path[0];
  if (first === undefined) return [];
  return sortPartCandidates(naming, sortOfText(source.text.slice(first.from, path.at(-1)!.to), naming.place));
}
