import { type Formula, formulasIn, formulasOf, type Statement } from "../../grammar";
import type { Book, Item, Shown } from "../engine/report";
import { functionsIn } from "./called-functions";

/** A value, table, check, chart or step of the book that brings cautions with it. */
interface Source {
  readonly cautions: ReadonlySet<string>;
  /** Name under which formulas speak of it; "" when they cannot. */
  readonly name: string;
  readonly label: string;
  readonly step?: number;
}

/** Most names beside one caution. */
const MOST_NAMES = 4;

/**
 * What of a book each caution is about: the steps that work with the values and tables that bring it, `steps 2 and 3`;
 * where no step does, those values and tables themselves, `load, setting`. Empty for a caution of the whole book, and
 * where all are about the same: there is nothing to tell apart then.
 */
export function concernsOf(book: Book, cautions: readonly string[]): string[] {
  const sources = book.items.flatMap((item) => sourceOf(item, book) ?? []);
  const steps = stepsByName(book);
  const concerns = cautions.map((caution) => {
    const of = sources.filter((s) => s.cautions.has(caution));
    const numbers = new Set(of.flatMap((s) => (s.step === undefined ? (steps.get(s.name) ?? []) : [s.step])));
    if (numbers.size > 0) {
      const sorted = [...numbers].sort((a, b) => a - b);
      return `${sorted.length === 1 ? "step" : "steps"} ${inWords(sorted)}`;
    }
    const names = [...new Set(of.map((s) => s.label).filter((label) => label !== ""))];
    return names.length <= MOST_NAMES
      ? names.join(", ")
      : [...names.slice(0, MOST_NAMES - 1), `${names.length - MOST_NAMES + 1} more`].join(", ");
  });
  return new Set(concerns.filter((c) => c !== "")).size < 2 ? cautions.map(() => "") : concerns;
}

const inWords = (numbers: readonly number[]): string =>
  numbers.length < 2
    ? numbers.join("")
    : `${numbers.slice(0, -1).join(", ")} and ${numbers[numbers.length - 1]}`;

function sourceOf(item: Item, book: Book): Source | undefined {
  const found = new Set<string>();
  const carried = (notes: Shown["notes"]): void => {
    for (const note of notes) if (note.caution) found.add(note.text);
  };
  for (const f of functionsIn(formulasAt(item), book))
    for (const caution of f.cautions ?? []) found.add(caution);
  switch (item.type) {
    case "value":
      for (const shown of [item.shown, ...item.parts]) carried(shown.notes);
      return { cautions: found, name: item.name, label: item.shown.path };
    case "table":
      for (const foot of item.feet.values()) carried(foot.shown.notes);
      for (let column = 0; column < item.columns.length; column++) {
        if (item.columns[column]!.typed) continue;
        // As many rows as the book itself asks for its cautions.
        for (let row = 0; row < Math.min(item.rowCount, 200); row++) carried(item.cell(row, column).notes);
      }
      return { cautions: found, name: item.name, label: item.title === "" ? item.name : item.title };
    case "check":
      carried(item.notes);
      return { cautions: found, name: "", label: item.text };
    case "chart":
      return { cautions: found, name: "", label: item.title };
    case "step":
      return { cautions: found, name: "", label: "", step: item.number };
    default:
      return undefined;
  }
}

/** The formulas that stand in an item; those of a table with its columns, feet and cells. */
function formulasAt(item: Item): readonly Formula[] {
  const statements: readonly (Statement | undefined)[] =
    item.type === "table"
      ? [
          ...item.columns.map(({ statement }) => statement),
          ...[...item.feet.values()].map(({ statement }) => statement),
          ...item.tree.rows,
        ]
      : [item.statement];
  return statements.flatMap((statement) => (statement === undefined ? [] : formulasOf(statement.node)));
}

/** Numbers of the steps that speak of a name in their sentence, their wait, or what they ask for. */
function stepsByName(book: Book): Map<string, number[]> {
  const found = new Map<string, number[]>();
  for (const item of book.items) {
    if (item.type !== "step") continue;
    const names = new Set<string>();
    for (const formula of formulasAt(item))
      for (const part of formulasIn(formula)) if (part.type === "name") names.add(part.name);
    for (const name of names) found.set(name, [...(found.get(name) ?? []), item.number]);
  }
  return found;
}
