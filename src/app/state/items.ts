import type { Book, CheckItem, Item, StepItem, TableItem, ValueItem } from "../../engine";

/**
 * The items of a book under keys that stay the same from one calculation to the next, and in the groups in
 * which the page sets them.
 */
export interface Placed<I extends Item = Item> {
  readonly key: string;
  readonly item: I;
}

const known = new WeakMap<readonly Item[], { list: readonly Placed[]; byKey: ReadonlyMap<string, Placed> }>();

function keyed(book: Book) {
  const before = known.get(book.items);
  if (before) return before;
  const counts = new Map<string, number>();
  const list = book.items.map((item): Placed => {
    const stem = "name" in item ? `${item.type}:${item.name}` : `${item.type}`;
    const nth = (counts.get(stem) ?? 0) + 1;
    counts.set(stem, nth);
    return { key: "name" in item && nth === 1 ? stem : `${stem}~${nth}`, item };
  });
  const made = { list, byKey: new Map(list.map((p) => [p.key, p])) };
  known.set(book.items, made);
  return made;
}

/** Every item with its key, in the order of the text. */
export const placedItems = (book: Book): readonly Placed[] => keyed(book).list;

/** The item under a key, or undefined when the book has none such any more. */
export const itemAt = (book: Book, key: string): Placed | undefined => keyed(book).byKey.get(key);

/** The id of an item's element on the page. Keys may hold any letter, so they are coded. */
export const elementId = (key: string): string => `at-${encodeURIComponent(key).replaceAll("%", ".")}`;

/** The id of a table's cell on the page. */
export const cellId = (key: string, row: number, column: number): string =>
  `${elementId(key)}.${row}.${column}`;

/** The table under a key. */
export function tableAt(book: Book, key: string): TableItem | undefined {
  const placed = itemAt(book, key);
  return placed?.item.type === "table" ? placed.item : undefined;
}

/** How the page sets items: single ones, and runs of one sort together. */
export type Group =
  | { readonly type: "pairs"; readonly key: string; readonly values: readonly Placed<ValueItem>[] }
  | { readonly type: "checks"; readonly key: string; readonly checks: readonly Placed<CheckItem>[] }
  | { readonly type: "steps"; readonly key: string; readonly steps: readonly Placed<StepItem>[] }
  | { readonly type: "one"; readonly key: string; readonly placed: Placed };

/** A typed value without parts and without a slider stands beside its like, two to a line. */
export const isPlainValue = (item: Item): item is ValueItem =>
  item.type === "value" &&
  item.shown.origin === "typed" &&
  item.parts.length === 0 &&
  item.trial === undefined;

export function groupsOf(book: Book): readonly Group[] {
  const groups: Group[] = [];
  const list = placedItems(book);
  const runOf = <I extends Item>(from: number, is: (item: Item) => item is I): Placed<I>[] => {
    const run: Placed<I>[] = [];
    for (let i = from; i < list.length && is(list[i]!.item); i++) run.push(list[i] as Placed<I>);
    return run;
  };
  for (let i = 0; i < list.length; ) {
    const placed = list[i]!;
    const { item, key } = placed;
    if (isPlainValue(item)) {
      const values = runOf(i, isPlainValue);
      groups.push({ type: "pairs", key, values });
      i += values.length;
    } else if (item.type === "check") {
      const checks = runOf(i, (it): it is CheckItem => it.type === "check");
      groups.push({ type: "checks", key, checks });
      i += checks.length;
    } else if (item.type === "step") {
      const steps = runOf(i, (it): it is StepItem => it.type === "step");
      groups.push({ type: "steps", key, steps });
      i += steps.length;
    } else {
      groups.push({ type: "one", key, placed });
      i += 1;
    }
  }
  return groups;
}

/** The items that a group sets together. */
export function membersOf(group: Group): readonly Placed[] {
  switch (group.type) {
    case "pairs":
      return group.values;
    case "checks":
      return group.checks;
    case "steps":
      return group.steps;
    case "one":
      return [group.placed];
  }
}

/** The rail's graduations. */
export interface Graduation {
  readonly key: string;
  readonly word: string;
  readonly major: boolean;
  /** `follows`: the fault stands elsewhere, and this only comes of it. */
  readonly mark?: "fault" | "follows" | "gap" | "unmet" | "unknown";
  readonly markSays?: string;
}

/** The contents of a book; what is marked in them comes with what helps, `marks.ts`. */
export const outline = (book: Book): readonly Graduation[] =>
  groupsOf(book).flatMap((group) => graduationOf(group) ?? []);

function graduationOf(group: Group): Graduation | undefined {
  const { key } = group;
  switch (group.type) {
    case "pairs": {
      const words = group.values.map((v) => v.item.name);
      const word = words.length < 3 ? words.join(", ") : `${words[0]} and ${inWords(words.length - 1)} more`;
      return { key, word, major: false };
    }
    case "checks": {
      const { length } = group.checks;
      return { key, word: length === 1 ? "a check" : `${inWords(length)} checks`, major: false };
    }
    case "steps":
      return { key, word: "Bench card", major: true };
    case "one":
      return graduationOfOne(group.placed);
  }
}

function graduationOfOne({ key, item }: Placed): Graduation | undefined {
  switch (item.type) {
    case "book":
    case "part":
      return { key, word: item.text || "Untitled", major: true };
    case "table":
      return { key, word: item.title || item.name, major: true };
    case "chart":
      return { key, word: item.title || "A chart", major: true };
    case "value":
      return { key, word: item.name, major: false };
    case "define":
      return { key, word: `${item.name}( )`, major: false };
    case "unread":
      return { key, word: "cannot be read", major: false };
    default:
      return undefined;
  }
}

const words = [
  "no",
  "one",
  "two",
  "three",
  "four",
  "five",
  "six",
  "seven",
  "eight",
  "nine",
  "ten",
  "eleven",
  "twelve",
];
export const inWords = (n: number): string => words[n] ?? String(n);
