import { writeName, writePart } from "../../../grammar";
import type { Book } from "../report";
import { bookName, bookNames, columnOf, type Found, footOf, nameIn, partsOf } from "./found";
import { fitOfResult } from "./function-proposals";
import { namesAt, type Place } from "./place";
import { type Candidate, matchOf, type Thing } from "./proposal";
import { shownOf } from "./shown";
import { type Expected, type Sort, sortInWords } from "./sort";

/** What names are proposed from. */
export interface Naming {
  readonly book: Book;
  readonly place: Place;
  readonly typed: string;
  readonly expected: Expected | undefined;
  /** Bars inside names are written `\|`. */
  readonly escapes: boolean;
}

const things: Readonly<Record<Found["meant"]["type"], Thing>> = {
  value: "name",
  table: "table",
  column: "column",
  cell: "column",
  row: "row",
  foot: "foot",
  part: "part",
  local: "parameter",
  lead: "word",
};

function candidate(
  naming: Naming,
  found: Found,
  label: string,
  insert: string,
  match: number,
  near: number,
  thing: Thing = things[found.meant.type],
): Candidate {
  const { book, expected } = naming;
  const { sort } = found;
  return {
    label,
    thing,
    fit: fitOfResult(sort, expected),
    match,
    near,
    make: () => {
      const shown = shownOf(found, book);
      return { insert, is: sortInWords(sort), ...(shown && { shown }) };
    },
  };
}

/** Every name that can begin an operand: columns of the table around, parameters, values and tables of the book. */
export function nameCandidates(naming: Naming): readonly Candidate[] {
  const { place, typed, escapes } = naming;
  const { scope, self } = place;
  const candidates: Candidate[] = [];
  const taken = new Set<string>();
  const put = (name: string, near: number): void => {
    if (taken.has(name)) return;
    taken.add(name);
    const match = matchOf(name, typed);
    if (match === undefined) return;
    const found = nameIn(name, place);
    if (found && !isSelf(found, self))
      candidates.push(candidate(naming, found, name, writeName(name, escapes), match, near));
  };
  for (const frame of [...scope.frames].reverse()) for (const name of frame) put(name, 0);
  for (const name of scope.table?.byName.keys() ?? []) put(name, 0);
  const names = bookNames(place);
  for (const name of names) put(name, 1);
  candidates.push(...pathCandidates(naming, names));
  return candidates;
}

function isSelf({ meant }: Found, self: string | undefined): boolean {
  if (self === undefined) return false;
  const key =
    meant.type === "value"
      ? `set\u0000${meant.name}`
      : meant.type === "cell"
        ? `cells\u0000${meant.table}\u0000${meant.column}`
        : "";
  return key === self;
}

/** How many names of the book are looked into for parts that would fit. */
const MOST_OPENED = 2000;

/**
 * Parts that fit what is wanted, as whole paths: `blend.strength`, `distillates.volume`. Without something that
 * is wanted, or a beginning that was typed, there would be too many.
 */
function pathCandidates(naming: Naming, names: readonly string[]): readonly Candidate[] {
  const { place, typed, expected, escapes } = naming;
  if (expected === undefined && typed === "") return [];
  const candidates: Candidate[] = [];
  const put = (found: Found, lead: string, near: number): void => {
    const tail = writePart(found.name, escapes);
    const label = `${lead}.${tail}`;
    const match = matchOf(found.name, typed) ?? matchOf(label, typed);
    // A part is proposed by its own name; the name in front of it is there already by itself.
    if (match === undefined || (expected === undefined && matchOf(found.name, typed) === undefined)) return;
    const of = candidate(naming, found, label, label, match, near);
    if (of.fit.fits && of.fit.rank < 2) candidates.push(of);
  };
  for (const name of names.slice(0, MOST_OPENED)) {
    const lead = writeName(name, escapes);
    // In a table a column of that name would be meant.
    const hidden = place.scope.table?.byName.has(name) || place.scope.frames.some((f) => f.includes(name));
    const found = hidden ? undefined : bookName(name, place);
    if (!found || isSelf(found, place.self)) continue;
    const { sort } = found;
    if (sort.is === "record") putParts(found, lead, 2, place, put);
    else if (sort.is === "table" && found.meant.type === "table") {
      for (const column of sort.table.byName.keys()) put(columnOf(sort.table, column, place), lead, 2);
      for (const foot of sort.table.feet.keys()) put(footOf(sort.table, foot, place), `${lead}.foot`, 2);
    }
  }
  return candidates;
}

function putParts(
  found: Found,
  lead: string,
  near: number,
  place: Place,
  put: (found: Found, lead: string, near: number) => void,
): void {
  for (const part of partsOf(found, place, () => true)) {
    if (part.sort.is === "record") putParts(part, `${lead}.${writePart(part.name)}`, near, place, put);
    else put(part, lead, near);
  }
}

/** What can follow a dot: columns, feet, rows, parts. */
export function partCandidates(naming: Naming, of: Found): readonly Candidate[] {
  const { place, typed, escapes } = naming;
  const candidates: Candidate[] = [];
  for (const part of partsOf(of, place, (name) => matchOf(name, typed) !== undefined)) {
    const near =
      part.meant.type === "row" || (of.meant.type === "column" && part.meant.type === "cell") ? 2 : 1;
    const thing = of.meant.type === "column" ? "cell" : things[part.meant.type];
    candidates.push(
      candidate(
        naming,
        part,
        part.name,
        writePart(part.name, escapes),
        matchOf(part.name, typed)!,
        near,
        thing,
      ),
    );
  }
  return candidates;
}

/** Parts of something that has no name, such as a call: they are told from its sort. */
export function sortPartCandidates(naming: Naming, sort: Sort): readonly Candidate[] {
  const parts =
    sort.is === "record"
      ? sort.parts
      : sort.is === "list" && sort.of.is === "record"
        ? sort.of.parts
        : undefined;
  return [...(parts ?? [])].flatMap(([name, of]): readonly Candidate[] => {
    const match = matchOf(name, naming.typed);
    if (match === undefined) return [];
    return [
      {
        label: name,
        thing: "part",
        fit: fitOfResult(of, naming.expected),
        match,
        near: 1,
        make: () => ({ insert: writePart(name, naming.escapes), is: sortInWords(of) }),
      },
    ];
  });
}

/** Names that formulas use and nothing defines yet: what a new statement is likely to be for. */
export function wantedNames(book: Book, place: Place): readonly string[] {
  const { sets, tables } = namesAt(place);
  const found = new Set<string>();
  for (const message of book.messages) {
    if (message.code !== "name-unknown") continue;
    const name = book.text.slice(message.from, message.to).replace(/^`|`$/g, "");
    if (name !== "" && !sets.has(name) && !tables.has(name)) found.add(name);
  }
  return [...found];
}
