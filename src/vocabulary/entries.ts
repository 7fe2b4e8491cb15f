import {
  approximate,
  combine,
  convert,
  format,
  kinds,
  mergeNotes,
  type Note,
  type Quantity,
  type Spread,
  scaleSpread,
  Trouble,
  toSI,
  type Unit,
} from "../quantity";
import {
  type DateValue,
  type Fault,
  type Gap,
  gap,
  type ListValue,
  type TextValue,
  type Value,
} from "./value";

/** What value functions share: what they were given, entry by entry, and the remarks that must not get lost. */

/** A value in the words of a message: `“lemon”, a text`, `2.4 L`. */
export function describe(value: Value): string {
  switch (value.type) {
    case "quantity":
      return format(value);
    case "text":
      return `“${value.text}”, a text`;
    case "truth":
      return `${value.value}, a truth value`;
    case "date":
      return `${value.iso}, a date`;
    case "list":
      return `a list of ${value.entries.length}`;
    case "record":
      return `a record with the parts ${[...value.parts.keys()].join(", ")}`;
    case "gap":
      return "a blank";
    case "fault":
      return "a fault";
  }
}

/** Trouble for an argument of the wrong sort. `wants` begins with an article: "a quantity". */
export function wrongSort(name: string, wants: string, value: Value): Trouble {
  return new Trouble({
    code: "wrong-sort",
    says: `\`${name}\` wants ${wants}, and was given ${describe(value)}.`,
    help:
      value.type === "record"
        ? "Write a dot and the name of the part after it."
        : "Look at what stands in the brackets.",
  });
}

export function quantityOf(name: string, value: Value): Quantity {
  if (value.type === "quantity") return value;
  throw wrongSort(name, "a quantity", value);
}

export function textOf(name: string, value: Value): TextValue {
  if (value.type === "text") return value;
  throw wrongSort(name, "a text", value);
}

/** The entries of a list; a single value is a list of one. */
export function entriesOf(value: Value): readonly Value[] {
  return value.type === "list" ? value.entries : [value];
}

/** Several lists of notes, each text once; undefined when there are none. */
export function gatherNotes(
  ...sources: readonly (readonly Note[] | undefined)[]
): readonly Note[] | undefined {
  return sources.reduce<readonly Note[] | undefined>(mergeNotes, undefined);
}

/** The same value with more notes. */
export function withNotes<V extends Value>(
  value: V,
  ...sources: readonly (readonly Note[] | undefined)[]
): V {
  const notes = gatherNotes(value.notes, ...sources);
  if (notes === undefined || notes.length === (value.notes?.length ?? 0)) return value;
  return { ...value, notes };
}

/** What a result says of the blanks that were left out of it. */
export const blanksLeftOut = (blanks: number, of: number): string =>
  `${blanks} of ${of} ${blanks === 1 ? "is" : "are"} blank`;

/** A list without its blanks. */
export interface Sifted {
  /** Entries that are filled in, and where each stood (0-based). */
  readonly kept: readonly Value[];
  readonly at: readonly number[];
  readonly blanks: number;
  /** Notes of the list itself (rows left out by `where`), and how many entries are blank. */
  readonly notes: readonly Note[];
  /** The first blank, for its place. */
  readonly firstGap?: Gap;
}

/**
 * Leaves the blanks out and counts them: "1 of 2 is blank". The first fault among the entries is returned as it is,
 * for a total over a fault is that fault.
 */
export function sift(value: Value, note: (text: string) => Note): Sifted | Fault {
  const entries = entriesOf(value);
  const kept: Value[] = [];
  const at: number[] = [];
  let blanks = 0;
  let firstGap: Gap | undefined;
  for (let i = 0; i < entries.length; i++) {
    const entry = entries[i]!;
    if (entry.type === "fault") return entry;
    if (entry.type === "gap") {
      firstGap ??= entry;
      blanks++;
    } else {
      kept.push(entry);
      at.push(i);
    }
  }
  const notes: Note[] = value.type === "list" && value.notes !== undefined ? [...value.notes] : [];
  if (blanks > 0 && kept.length > 0) {
    notes.push(note(blanksLeftOut(blanks, entries.length)));
  }
  return firstGap === undefined ? { kept, at, blanks, notes } : { kept, at, blanks, notes, firstGap };
}

export const isFault = (x: Sifted | Fault): x is Fault => "type" in x;

/** The gap of a total over nothing. */
export function nothingFor(name: string, sifted: Sifted): Gap {
  if (sifted.firstGap === undefined) return gap(`nothing is selected for \`${name}\``);
  const { place, says } = sifted.firstGap;
  return sifted.blanks === 1
    ? sifted.firstGap
    : gap(`all ${sifted.blanks} entries are blank${says === "" ? "" : `: ${says}`}`, place);
}

/** The filled entries as quantities, all in the unit of the first. */
export function quantitiesIn(name: string, kept: readonly Value[]): readonly Quantity[] {
  const first = quantityOf(name, kept[0]!);
  return kept.map((entry) => {
    const q = quantityOf(name, entry);
    return q.unit === first.unit ? q : withNotes(convert(q, first.unit), q.notes);
  });
}

export const isDate = (value: Value): value is DateValue => value.type === "date";
export const isList = (value: Value): value is ListValue => value.type === "list";
export const isTemperature = (unit: Unit): boolean => unit.kind.id === kinds.temperature.id;

/** Numbers that can be subtracted and scaled: as they are, temperatures in kelvin. Spreads in the same unit. */
export interface Readings {
  readonly xs: readonly number[];
  readonly spreads: readonly (Spread | undefined)[];
  /** Unit of their differences. */
  readonly unit: Unit;
  readonly temperatures: boolean;
}

export function readingsOf(quantities: readonly Quantity[], kelvin: Unit): Readings {
  const unit = quantities[0]!.unit;
  if (!isTemperature(unit)) {
    return {
      xs: quantities.map((q) => q.n.v),
      spreads: quantities.map((q) => q.spread),
      unit,
      temperatures: false,
    };
  }
  // A step of one in the reading's own unit, in kelvin: 1 for °C, 5/9 for °F.
  const step = Number(unit.scale.num) / Number(unit.scale.den);
  return {
    xs: quantities.map(toSI),
    spreads: quantities.map((q) => scaleSpread(q.spread, step)),
    unit: kelvin,
    temperatures: true,
  };
}

/** First-order uncertainty of a function of the readings, from its derivative for each of them. */
export function weigh(
  spreads: readonly (Spread | undefined)[],
  derivative: (i: number) => number,
): Spread | undefined {
  const terms: { by: number; spread: Spread }[] = [];
  spreads.forEach((spread, i) => {
    if (spread !== undefined) terms.push({ by: derivative(i), spread });
  });
  return terms.length === 0 ? undefined : combine(terms);
}

/** An approximate quantity with its uncertainty and notes. */
export function approximately(v: number, unit: Unit, spread?: Spread, notes?: readonly Note[]): Quantity {
  return {
    type: "quantity",
    n: approximate(v),
    unit,
    ...(spread === undefined ? {} : { spread }),
    ...(notes === undefined || notes.length === 0 ? {} : { notes }),
  };
}
