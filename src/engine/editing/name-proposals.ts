import { writeName, writePart } from "../../../grammar";
import { plainQuantity } from "../names";
import type { Book } from "../report";
import { plainBlank } from "../syntax";
import { bookName, bookNames, columnOf, type Found, footOf, nameIn, partsOf } from "./found";
import { fitOfResult } from "./function-proposals";
import { namesAt, type Place } from "./place";
import { type Candidate, matchOf, type Thing } from "./proposal";
import { shownOf } from "./shown";
import { type Expected, type Fit, type Sort, sortInWords } from "./sort";

/** What names are proposed from. */
export interface Naming {
  readonly book: Book;
  readonly place: Place;
  /** Keys of what builds on the formula that is being written: using one would close a circle. */
  readonly downstream: ReadonlySet<string>;
  /** Table whose columns stand nearest, for lists that belong together. */
  readonly table?: string;
  readonly typed: string;
  readonly expected: Expected | undefined;
  /** Whether a list may stand here. */
  readonly lists: boolean;
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
    fit: circleFit(found, naming) ?? localFit(found) ?? fitOfResult(sort, expected, naming.lists),
    match,
    near: naming.table !== undefined && sort.is === "list" && sort.table === naming.table ? near - 1 : near,
    make: () => {
      const shown = shownOf(found, book);
      return { insert, is: sortInWords(sort), ...(shown && { shown }) };
    },
  };
}

/** What builds on the formula already cannot be built upon by it. */
function circleFit({ key }: Found, { downstream, place }: Naming): Fit | undefined {
  if (key === undefined || !downstream.has(key)) return undefined;
  return { fits: false, rank: 3, why: `builds on ${place.self!.split("\u0000").at(-1)} itself` };
}

/** What a parameter is nobody knows, but it is there to be used. */
const localFit = ({ meant, sort }: Found): Fit | undefined =>
  meant.type === "local" && sort.is === "unknown" ? { fits: true, rank: 0 } : undefined;

/** Everything that a change of the formula at a place would reach, what it defines included. */
export function downstreamOf({ plan, self }: Place): ReadonlySet<string> {
  const found = new Set<string>(self === undefined ? [] : [self]);
  const waiting = [...found];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    for (const key of plan.dependants.get(next) ?? []) {
      if (found.has(key)) continue;
      found.add(key);
      waiting.push(key);
    }
  }
  return found;
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

const isSelf = ({ key }: Found, self: string | undefined): boolean => key !== undefined && key === self;

/** How many names of the book are looked into for parts that would fit. */
const MOST_OPENED = 2000;

/**
 * Parts that fit what is wanted, as whole paths: `blend.strength`, `distillates.volume`. Without something that
 * is wanted, or a beginning that was typed, there would be too many.
 */
function pathCandidates(naming: Naming, names: readonly string[]): readonly Candidate[] {
  const { place, typed, expected, escapes } = naming;
  const anything = expected === undefined || (expected.wants.is === "anything" && expected.list !== "wanted");
  if (anything && typed === "") return [];
  const candidates: Candidate[] = [];
  const put = (found: Found, lead: string, near: number): void => {
    const tail = writePart(found.name, escapes);
    const label = `${lead}.${tail}`;
    const match = matchOf(found.name, typed) ?? matchOf(label, typed);
    // A part is proposed by its own name; the name in front of it is there already by itself.
    if (match === undefined || (anything && matchOf(found.name, typed) === undefined)) return;
    const of = candidate(naming, found, label, label, match, near);
    if (of.fit.rank < 2) candidates.push(of);
  };
  for (const name of names.slice(0, MOST_OPENED)) {
    const lead = writeName(name, escapes);
    // In a table a column of that name would be meant.
    const hidden = place.scope.table?.byName.has(name) || place.scope.frames.some((f) => f.includes(name));
    const found = hidden ? undefined : bookName(name, place);
    if (!found) continue;
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

/** What a reading at the bench can fill: a value that is typed or blank, a typed column. */
export function askCandidates(naming: Naming): readonly Candidate[] {
  const { place, typed, escapes } = naming;
  const { sets, tables } = namesAt(place);
  const candidates: Candidate[] = [];
  const put = (found: Found, label: string): void => {
    const match = matchOf(label, typed);
    if (match !== undefined) candidates.push(candidate(naming, found, label, label, match, 1));
  };
  for (const name of bookNames(place)) {
    const formula = sets.get(name)?.formula;
    if (formula && (plainQuantity(formula) || plainBlank(formula)))
      put(bookName(name, place)!, writeName(name, escapes));
    for (const column of tables.get(name)?.columns ?? [])
      if (column.typed !== undefined && column.typed > 0)
        put(
          columnOf(tables.get(name)!, column.name, place),
          `${writeName(name, escapes)}.${writePart(column.name, escapes)}`,
        );
  }
  return candidates;
}

/** What `find` can turn: values whose formula is a plain quantity. */
export function turnedCandidates(naming: Naming): readonly Candidate[] {
  const { place, typed, escapes } = naming;
  return [...namesAt(place).sets.values()].flatMap(({ name, formula }): readonly Candidate[] => {
    const match = matchOf(name, typed);
    if (match === undefined || !formula || !plainQuantity(formula)) return [];
    return [candidate(naming, bookName(name, place)!, name, writeName(name, escapes), match, 1)];
  });
}

/** Most rows of a table that are proposed: a table may have 20,000. */
const MOST_ROWS = 200;

/** What can follow a dot: columns, feet, rows, parts. */
export function partCandidates(naming: Naming, of: Found): readonly Candidate[] {
  const { place, typed, escapes } = naming;
  const candidates: Candidate[] = [];
  const rows = rowsProposed(of, typed, place);
  for (const part of partsOf(of, place, (name) => matchOf(name, typed) !== undefined, rows)) {
    const thing = of.meant.type === "column" ? "cell" : things[part.meant.type];
    const match = matchOf(part.name, typed)!;
    candidates.push(candidate(naming, part, part.name, writePart(part.name, escapes), match, 1, thing));
  }
  return candidates;
}

/** The table whose rows can follow. */
function rowsBehind({ meant, sort }: Found): string | undefined {
  return meant.type === "column" ? meant.table : sort.is === "table" ? sort.table.name : undefined;
}

/** The rows that go best with what was typed, in the order of the table. */
function rowsProposed(of: Found, typed: string, place: Place): ReadonlySet<string> {
  const table = rowsBehind(of);
  if (table === undefined) return new Set();
  const found: string[][] = [[], [], [], []];
  for (const name of place.calculation.rows(table).names) {
    const match = name === "" ? undefined : matchOf(name, typed);
    if (match === undefined || found[match]!.length >= MOST_ROWS) continue;
    found[match]!.push(name);
    if (found[0]!.length >= MOST_ROWS) break;
  }
  return new Set(found.flat().slice(0, MOST_ROWS));
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
        fit: fitOfResult(of, naming.expected, naming.lists),
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
