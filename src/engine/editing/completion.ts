import { parseFormula } from "../../../grammar";
import { workingsOf } from "../book";
import { cellsKey } from "../names";
import type { Book } from "../report";
import { originTable } from "../syntax";
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
import type { Place } from "./place";
import { type Candidate, chosen, matchOf, type Proposal } from "./proposal";
import { type Signature, signatureIn } from "./signature";
import { type Expected, fitOf, wantedLike } from "./sort";
import { sourceAt } from "./source";
import { type Spot, spotAt } from "./spot";
import { headerCandidates, statementCandidates } from "./statement-proposals";

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
    case "unit":
    case "number": {
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
      return unitCandidates(typed, expected, leadOf(spot));
    case "number":
      return unitCandidates("", expected, " ");
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

function operandCandidates(spot: Spot, naming: Naming): readonly Candidate[] {
  const { source, typed, written, keyword, tokens } = spot;
  const { expected } = naming;
  const frame = written.frames.at(-1)!;
  const clause = written.frames.length === 1 ? lastStretch(frame).clause : "";
  if (keyword === "chart" && clause === ":" && tokens.length === 0) return chartStyles(typed);
  if (clause === "for") return [];
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

// ---- behind a dot

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

// ---- texts

/** Most different texts of a column that are proposed. */
const MOST_TEXTS = 50;
/** Rows that are read for them. */
const MOST_READ = 2000;

/** Texts that can stand at the caret: the choices of a parameter, or those of the column that it is compared with. */
function textCandidates(spot: Spot, expected: Expected | undefined, inQuotes: boolean): readonly Candidate[] {
  if (expected === undefined || (expected.wants.is !== "text" && expected.wants.is !== "anything")) return [];
  const texts = ("choices" in expected.wants && expected.wants.choices) || comparedTexts(spot);
  return [...texts].flatMap((text): readonly Candidate[] => {
    const label = `"${text.replace(/["\\{}]/g, "\\$&")}"`;
    const match = inQuotes
      ? matchOf(text, spot.typed)
      : (matchOf(text, spot.typed) ?? matchOf(label, spot.typed));
    if (match === undefined) return [];
    const insert = spot.source.escapes ? label.replaceAll("|", "\\|") : label;
    return [
      {
        label,
        thing: "text",
        fit: { fits: true, rank: 0 },
        match,
        near: -1,
        make: () => ({ insert, is: "a text" }),
      },
    ];
  });
}

/** Texts in the column that stands before `is`, and names of rows behind `pick(column, `. */
function comparedTexts({ written, tokens, source }: Spot): ReadonlySet<string> {
  const { place } = written;
  const frame = written.frames.at(-1)!;
  const last = tokens.at(-1);
  if (last === undefined) {
    const list = frame.call?.name === "pick" ? frame.stretches[0]!.tokens : [];
    if (list.length === 0 || frame.stretches.length < 2) return new Set();
    const { formula } = parseFormula(source.text.slice(list[0]!.from, list.at(-1)!.to));
    const table = originTable(formula, place.scope);
    return new Set(
      table
        ? place.calculation
            .rows(table.name)
            .names.filter((n) => n !== "")
            .slice(0, MOST_TEXTS)
        : [],
    );
  }
  const is = last.text === "not" ? tokens.length - 2 : tokens.length - 1;
  const start = startOfPath([...tokens.slice(0, is), last]);
  const path = tokens.slice(start, is);
  const found = pathFound(path, place);
  if (found?.meant.type !== "cell" && found?.meant.type !== "column") return new Set();
  return textsIn(found.meant.table, found.meant.column, place.calculation);
}

function textsIn(table: string, column: string, calculation: Place["calculation"]): ReadonlySet<string> {
  const texts = new Set<string>();
  const key = cellsKey(table, column);
  const { count } = calculation.rows(table);
  for (let row = 0; row < Math.min(count, MOST_READ) && texts.size < MOST_TEXTS; row++) {
    const value = calculation.cell(key, row);
    if (value.type === "text" && value.text !== "") texts.add(value.text);
  }
  return texts;
}

/** A typed cell that holds no number: texts that its column holds already. The first column only names rows. */
function cellCandidates(spot: Spot): readonly Candidate[] {
  const { column, place } = spot.source;
  if (column === undefined || column.table.byName.get(column.name)?.typed === 0) return [];
  const nature = place.calculation.nature(cellsKey(column.table.name, column.name));
  if (nature?.type !== "text" && nature?.type !== "open") return [];
  const own = spot.source.text.trim();
  return [...textsIn(column.table.name, column.name, place.calculation)].flatMap(
    (text): readonly Candidate[] => {
      const match = matchOf(text, spot.typed);
      if (match === undefined || (text === own && spot.typed === own)) return [];
      const insert = spot.source.escapes ? text.replaceAll("|", "\\|") : text;
      return [
        {
          label: text,
          thing: "text",
          fit: fitOf({ is: "text" }, undefined),
          match,
          near: 0,
          make: () => ({ insert, is: "a text" }),
        },
      ];
    },
  );
}
