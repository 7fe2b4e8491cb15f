import { nearAmong } from "../../grammar";
import {
  compatible,
  convert,
  exactInteger,
  isExact,
  largestRemainder,
  type Note,
  parseUnit,
  quantity,
  Trouble,
  toBig,
} from "../quantity";
import type { ResultPart, ValueDeclaration } from "./declaration";
import {
  describe,
  entriesOf,
  gatherNotes,
  isDate,
  isFault,
  nothingFor,
  quantitiesIn,
  quantityOf,
  sift,
  withNotes,
  wrongSort,
} from "./entries";
import { foldName } from "./names";
import { type Fault, gap, type ListOrigin, type ListValue, type Value } from "./value";

/** Choosing among the entries of a list, and sharing a whole out over them. */

const GROUP = "plain";
const NO_SOURCE = "no source needed";

const values = (says: string) => ({ name: "list", says, takes: "any", list: true }) as const;
const entry = (says: string): readonly ResultPart[] => [{ name: "", says, holds: "any" }];

/** An entry together with what the list said about itself. */
const taken = (list: Value, chosen: Value): Value =>
  withNotes(chosen, list.type === "list" ? list.notes : undefined);

function ending(
  name: "first" | "last",
  at: (entries: readonly Value[]) => Value | undefined,
): ValueDeclaration["evaluate"] {
  return (args) => {
    const list = args.list!;
    const chosen = at(entriesOf(list));
    return chosen === undefined ? gap(`nothing is selected for \`${name}\``) : taken(list, chosen);
  };
}

function nearestEntry(list: Value, wanted: Value, note: (text: string) => Note): Value {
  const sifted = sift(list, note);
  if (isFault(sifted)) return sifted;
  const { kept } = sifted;
  if (kept.length === 0) return nothingFor("nearest", sifted);
  let distances: readonly number[];
  if (isDate(wanted)) {
    distances = kept.map((e) => {
      if (isDate(e)) return Math.abs(e.day - wanted.day);
      throw wrongSort("nearest", `dates beside ${wanted.iso}`, e);
    });
  } else {
    const x = quantityOf("nearest", wanted);
    const quantities = quantitiesIn("nearest", kept);
    compatible(quantities[0]!.unit, x.unit, "compare");
    const at = convert(x, quantities[0]!.unit).n;
    distances = quantities.map((q) =>
      isExact(q.n) && isExact(at)
        ? Number(toBig(q.n).minus(toBig(at)).abs().toString())
        : Math.abs(q.n.v - at.v),
    );
  }
  let best = 0;
  for (let i = 1; i < distances.length; i++) if (distances[i]! < distances[best]!) best = i;
  return withNotes(kept[best]!, sifted.notes);
}

/** Row numbers by folded name. Kept for the origin that it was made of: `pick` asks once for every row of a table. */
const indices = new WeakMap<ListOrigin, ReadonlyMap<string, readonly number[]>>();

function indexOf(origin: ListOrigin): ReadonlyMap<string, readonly number[]> {
  const known = indices.get(origin);
  if (known !== undefined) return known;
  const index = new Map<string, number[]>();
  origin.names.forEach((name, i) => {
    const folded = foldName(name);
    if (folded === "") return;
    const rows = index.get(folded);
    if (rows === undefined) index.set(folded, [i]);
    else rows.push(i);
  });
  indices.set(origin, index);
  return index;
}

function pickOne(column: ListValue, origin: ListOrigin, wanted: Value): Value {
  if (wanted.type === "gap" || wanted.type === "fault") return wanted;
  if (wanted.type !== "text" && wanted.type !== "date")
    throw wrongSort("pick", "the name of a row, a text", wanted);
  const name = wanted.type === "date" ? wanted.iso : wanted.text;
  const rows = indexOf(origin).get(foldName(name));
  if (rows === undefined) {
    const near = nearAmong(name, origin.names);
    throw new Trouble({
      code: "no-such-row",
      says:
        near === undefined
          ? `Table ${origin.table} has no row “${name}”.`
          : `Table ${origin.table} has no row “${name}”; “${near}” is near.`,
      help:
        near === undefined
          ? `Its rows are ${someNames(origin.names)}.`
          : "Write the name as it stands in the first column of that table.",
    });
  }
  if (rows.length > 1) {
    throw new Trouble({
      code: "row-repeated",
      says: `Table ${origin.table} has ${rows.length} rows “${name}”, ${rows.map((i) => `row ${origin.rows[i]! + 1}`).join(" and ")}.`,
      help: "Give each row its own name; which one is meant cannot be guessed.",
    });
  }
  return taken(column, withNotes(column.entries[rows[0]!]!, wanted.notes));
}

/** Told once for a table, however many names are not found in it. */
const told = new WeakMap<readonly string[], string>();

function someNames(names: readonly string[]): string {
  const known = told.get(names);
  if (known !== undefined) return known;
  const some = listNames(names);
  told.set(names, some);
  return some;
}

function listNames(names: readonly string[]): string {
  const written = names.filter((n) => n !== "");
  if (written.length === 0) return "all nameless";
  const shown = written.slice(0, 6).join(", ");
  return written.length > 6 ? `${shown} and ${written.length - 6} more` : shown;
}

const faultOf = (trouble: Trouble): Fault => ({
  type: "fault",
  code: trouble.code,
  says: trouble.says,
  ...(trouble.help === undefined ? {} : { help: trouble.help }),
});

function pickAll(column: Value, wanted: Value): Value {
  if (column.type !== "list" || column.origin === undefined) {
    throw new Trouble({
      code: "no-row-names",
      says: `\`pick\` finds a row by its name, and was given ${describe(column)} without row names.`,
      help: "Give a column of a table, such as `pick(stock.strength, item)`.",
    });
  }
  const { origin } = column;
  if (wanted.type !== "list") return pickOne(column, origin, wanted);
  // One name that is not found spoils its own entry only.
  const entries = wanted.entries.map((name): Value => {
    try {
      return pickOne(column, origin, name);
    } catch (error) {
      if (error instanceof Trouble) return faultOf(error);
      throw error;
    }
  });
  const notes = gatherNotes(wanted.notes, column.notes);
  return {
    type: "list",
    entries,
    ...(wanted.origin === undefined ? {} : { origin: wanted.origin }),
    ...(column.unit === undefined ? {} : { unit: column.unit }),
    ...(notes === undefined ? {} : { notes }),
  };
}

function shareOut(list: Value, step: Value): Value {
  const entries = entriesOf(list);
  for (const e of entries) if (e.type === "fault") return e;
  const blank = entries.find((e) => e.type === "gap");
  // A share of the whole cannot be told while a part of the whole is unknown.
  if (blank !== undefined) return blank;
  if (entries.length === 0) return gap("nothing is selected for `share_out`");
  const amounts = quantitiesIn("share_out", entries);
  const percent = parseUnit("%");
  const size = convert(quantityOf("share_out", step), percent);
  const shares = largestRemainder(
    amounts.map((a) => a.n),
    size.n,
    exactInteger(100),
  );
  const made = shares.map((share, i) => quantity(share, percent, undefined, amounts[i]!.notes));
  const origin = list.type === "list" ? list.origin : undefined;
  const notes = list.type === "list" ? list.notes : undefined;
  return {
    type: "list",
    entries: made,
    unit: percent,
    ...(origin === undefined ? {} : { origin }),
    ...(notes === undefined ? {} : { notes }),
  };
}

export const selections: readonly ValueDeclaration[] = [
  {
    name: "first",
    group: GROUP,
    looksUp: true,
    says: "The first entry of a list.",
    parameters: [values("A list, or a column of a table.")],
    result: entry("The entry as it stands; a gap when it is blank or when nothing is selected."),
    equation: "entry 1",
    source: NO_SOURCE,
    range: "any list",
    examples: [{ formula: "first([60 mbar, 50 mbar, 40 mbar])", gives: "60 mbar" }],
    takesGaps: true,
    evaluate: ending("first", (entries) => entries[0]),
  },
  {
    name: "last",
    group: GROUP,
    looksUp: true,
    says: "The last entry of a list: the latest run of a table that grows.",
    parameters: [values("A list, or a column of a table.")],
    result: entry("The entry as it stands; a gap when it is blank or when nothing is selected."),
    equation: "entry n",
    source: NO_SOURCE,
    range: "any list",
    examples: [{ formula: "last([60 mbar, 50 mbar, 40 mbar])", gives: "40 mbar" }],
    takesGaps: true,
    evaluate: ending("last", (entries) => entries[entries.length - 1]),
  },
  {
    name: "nearest",
    group: GROUP,
    says: "The entry of a list that is nearest to a value: the flask size, the setting that the pump has.",
    parameters: [
      values("Quantities of one kind, or dates. Blanks are skipped."),
      { name: "x", says: "The value to come near to.", takes: "any" },
    ],
    result: entry("The entry itself; of two equally near ones the earlier."),
    equation: "the entry for which |entry - x| is least",
    source: NO_SOURCE,
    range: "quantities of the kind of x, or dates",
    examples: [{ formula: "nearest([1 L, 2 L, 5 L], 2.9 L)", gives: "2 L" }],
    takesGaps: true,
    evaluate: (args, call) => nearestEntry(args.list!, args.x!, call.note),
  },
  {
    name: "pick",
    group: GROUP,
    looksUp: true,
    says: "The entry of a column in the row of that name, so that two tables meet by name and nothing is typed twice.",
    parameters: [
      { name: "column", says: "A column of a table, such as stock.strength.", takes: "any", list: true },
      { name: "name", says: "The row's name, a text; a list or column of texts gives a list.", takes: "any" },
    ],
    result: entry("The entry in that row; a list of them for a list of names, in its order."),
    equation: "the entry whose row is called name; case and spare blanks do not matter",
    source: NO_SOURCE,
    range: "names that stand once in the first column of the table",
    examples: [],
    takesGaps: true,
    evaluate: (args) => pickAll(args.column!, args.name!),
  },
  {
    name: "share_out",
    group: GROUP,
    says: "Shares of a whole, rounded so that they add to exactly 100 %.",
    parameters: [
      values("Amounts of one kind, zero or above: volumes, masses, costs, plain numbers."),
      {
        name: "step",
        says: "What the shares are rounded to; it must divide 100 %.",
        takes: "any",
        optional: true,
        otherwise: "0.01 %",
      },
    ],
    labelsOnly: ["step"],
    result: [{ name: "", says: "A list of shares, exact, one for each amount.", holds: "any" }],
    equation:
      "whole steps of amount / total; the steps left over go to the largest remainders, of equals to the earlier",
    source: "method of the largest remainder; common practice, no source",
    range: "amounts zero or above, not all zero, none of them blank",
    examples: [
      { formula: "first(share_out([1 L, 1 L, 1 L]))", gives: "33.34 %" },
      { formula: "last(share_out([200 g, 150 g, 50 g], step: 1 %))", gives: "12 %" },
    ],
    takesGaps: true,
    evaluate: (args) => shareOut(args.list!, args.step!),
  },
];
