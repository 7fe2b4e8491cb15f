import { childrenOf, type Formula, parseFormula, sourceOf } from "../../../grammar";
import type { Book, Shown, StepItem } from "../../engine";
import { convert, formatParts, parseUnit } from "../../quantity";
import { partsOf } from "../state/paths";

/**
 * A step as the run view shows it: its sentence, large what the hand does first (one amount, or each of a column), the
 * other amounts as facts, its clock, its readings.
 */
export interface BenchStep {
  /** The sentence as it is written in the book; the second of two that are alike is told apart by its count. */
  readonly key: string;
  /** The keys of all steps of the book. */
  readonly all: ReadonlySet<string>;
  /** 1-based. */
  readonly number: number;
  /** Title of the part that it stands in, or "". */
  readonly part: string;
  readonly pieces: StepItem["pieces"];
  /** The sentence with its amounts, as words. */
  readonly text: string;
  readonly main?: Fact;
  /** A column that is weighed or poured, row by row; then no single amount is `main`, and their sum is a fact. */
  readonly pours: readonly Pour[];
  readonly facts: readonly Fact[];
  /** The clock as planned; `milliseconds` is undefined when its formula has no value yet. */
  readonly wait?: {
    readonly milliseconds: number | undefined;
    readonly text: string;
    readonly says?: string;
  };
  readonly asks: StepItem["asks"];
}
export interface Fact {
  readonly label: string;
  readonly shown: Shown;
}

/** One row of a column in a sentence. `number` is a blank rule while the row has none. */
export interface Pour {
  readonly label: string;
  readonly number: string;
  readonly spread?: string;
  readonly unit: string;
}

const known = new WeakMap<Book, readonly BenchStep[]>();

/** The steps of a book in their order. */
export function benchSteps(book: Book): readonly BenchStep[] {
  const before = known.get(book);
  if (before !== undefined) return before;
  const steps: BenchStep[] = [];
  const all = new Set<string>();
  const tables = new Set(book.items.flatMap((item) => (item.type === "table" ? [item.name] : [])));
  let part = "";
  for (const item of book.items) {
    if (item.type === "part") part = item.text;
    else if (item.type === "step") {
      const key = keyOf(book, item, all);
      all.add(key);
      steps.push(benchStep(item, part, key, all, tables));
    }
  }
  known.set(book, steps);
  return steps;
}

function keyOf(book: Book, item: StepItem, taken: ReadonlySet<string>): string {
  const { node } = item.statement;
  if (node.type !== "step") return item.text;
  const written = sourceOf(book.text, item.statement).slice(node.text.span.from, node.text.span.to);
  let key = written;
  for (let i = 2; taken.has(key); i++) key = `${written} ${i}`;
  return key;
}

function benchStep(
  item: StepItem,
  part: string,
  key: string,
  all: ReadonlySet<string>,
  tables: ReadonlySet<string>,
): BenchStep {
  const amounts = item.pieces
    .filter((p): p is Shown => typeof p !== "string" && p.state === "ok" && p.value.type === "quantity")
    .map((shown) => ({ label: labelOf(shown.path, tables), shown }));
  const pours = item.pieces.flatMap((p) => (typeof p === "string" ? [] : poursOf(p)));
  const [main, ...others] = amounts;
  const facts = pours.length === 0 ? others : amounts;
  return {
    key,
    all,
    number: item.number,
    part,
    pieces: item.pieces,
    text: item.text,
    ...(main === undefined || pours.length > 0 ? {} : { main }),
    pours,
    facts: facts.filter(
      (f, i) => facts.findIndex((g) => g.label === f.label && g.shown.text === f.shown.text) === i,
    ),
    ...(item.wait === undefined ? {} : { wait: waitOf(item.wait) }),
    asks: item.asks,
  };
}

/** What a column of amounts has the hand do, one row after the other. */
function poursOf({ value }: Shown): readonly Pour[] {
  if (value.type !== "list" || !value.entries.some(({ type }) => type === "quantity")) return [];
  return value.entries.map((entry, i) => ({
    label: value.origin?.names[i] ?? "",
    ...(entry.type === "quantity" ? formatParts(entry) : { number: "______", unit: "" }),
  }));
}

function waitOf(shown: Shown): NonNullable<BenchStep["wait"]> {
  const { value } = shown;
  if (value.type !== "quantity")
    return {
      milliseconds: undefined,
      text: "",
      says: shown.message ?? `A wait is a length of time, and this is ${shown.text}.`,
    };
  const seconds = parseUnit("s");
  if (value.unit.kind !== seconds.kind)
    return {
      milliseconds: undefined,
      text: shown.text,
      says: `A wait is a length of time, and this is ${shown.text}.`,
    };
  return { milliseconds: Math.max(0, convert(value, seconds).n.v * 1000), text: shown.text };
}

/**
 * What an amount in a sentence is called: the first thing that its formula speaks of. `round_to(pull, 1 mbar)` is
 * "pull", ``runs.`4b`.charge in mL`` is "charge", `blend.mass` is "blend mass".
 */
export function labelOf(formula: string, tables: ReadonlySet<string>): string {
  const [root, ...parts] = firstPath(parseFormula(formula).formula) ?? [];
  if (root === undefined) return "";
  const last = parts.at(-1);
  const words = tables.has(root) ? [last ?? root] : parts.length > 1 ? parts.slice(-2) : [root, ...parts];
  const label = words.join(" ").replaceAll("_", " ");
  // "first time time" says it twice.
  return label.replace(/(^| )(\S+) \2$/u, "$1$2");
}

function firstPath(formula: Formula): readonly string[] | undefined {
  if (formula.type === "name") return [formula.name];
  if (formula.type === "part") {
    const of = firstPath(formula.of);
    return of === undefined ? [formula.part] : [...of, formula.part];
  }
  for (const child of childrenOf(formula)) {
    const found = firstPath(child);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** What a reading is called: the last part of its path. */
export const readingLabel = (path: string): string => (partsOf(path).at(-1) ?? path).replaceAll("_", " ");
