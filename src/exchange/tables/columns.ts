import type { GridCell } from "./grid";
import {
  type DayOrder,
  type DecimalMark,
  dayIsAmbiguous,
  possibleMarks,
  splitNumber,
  toDay,
  toDecimal,
} from "./reading-numbers";
import { guessUnit, readHeading, type UnitGuess } from "./unit-guess";

/** What a column of a foreign table seems to hold, before doubts are settled. */
export interface ColumnReading {
  readonly heading: string;
  /** Heading without its unit. */
  readonly label: string;
  readonly holds: "number" | "date" | "text";
  readonly unit?: UnitGuess;
  /** Decimal marks under which every number of the column can be read. */
  readonly marks: ReadonlySet<DecimalMark>;
  /** An example that reads differently under the two marks. */
  readonly markExample?: string;
  readonly dayOrders: ReadonlySet<DayOrder>;
  readonly dayExample?: string;
  /** Rows whose cell is a word among numbers or days, with the word. */
  readonly strangers: readonly { readonly row: number; readonly text: string }[];
  /** Every stranger is a writing for "nothing". */
  readonly strangersAreBlanks: boolean;
}

/** What people write into a cell that has nothing to say. */
const NOTHING = /^(-+|–|—|\.+|\?+|n\/?a|n\.a\.|none|nil|nothing|null|tbd|x)$/i;

export function readColumn(
  heading: string,
  unitRow: string,
  cells: readonly (GridCell | undefined)[],
): ColumnReading {
  const read = readHeading(heading);
  const fromRow = unitRow === "" ? undefined : guessUnit(unitRow, heading);
  const core = { heading, label: read.label };
  const texts = cells.map((c) => (c === undefined || c.failed ? "" : c.text.trim()));
  const filledRows = texts.flatMap((t, row) => (t === "" ? [] : [row]));

  const isDay = (row: number): boolean =>
    cells[row]!.day !== undefined ||
    toDay(texts[row]!, "day first") !== undefined ||
    toDay(texts[row]!, "month first") !== undefined;
  const days = filledRows.filter(isDay);
  if (days.length > 0 && days.length * 5 >= filledRows.length * 4) {
    const orders = new Set<DayOrder>(["day first", "month first"]);
    let example: string | undefined;
    for (const row of days) {
      if (cells[row]!.day !== undefined) continue;
      for (const order of [...orders]) if (toDay(texts[row]!, order) === undefined) orders.delete(order);
      if (dayIsAmbiguous(texts[row]!)) example ??= texts[row]!;
    }
    const strangers = filledRows.filter((row) => !isDay(row)).map((row) => ({ row, text: texts[row]! }));
    return {
      ...core,
      label: heading.trim(),
      holds: orders.size === 0 ? "text" : "date",
      marks: new Set(),
      dayOrders: orders,
      ...(example === undefined || orders.size < 2 ? {} : { dayExample: example }),
      strangers,
      strangersAreBlanks: strangers.every((s) => NOTHING.test(s.text)),
    };
  }

  const marks = new Set<DecimalMark>([".", ","]);
  let markExample: string | undefined;
  const units: UnitGuess[] = [];
  const strangers: { row: number; text: string }[] = [];
  let numbers = 0;
  for (const row of filledRows) {
    if (cells[row]!.number !== undefined) {
      numbers++;
      continue;
    }
    const writing = splitNumber(texts[row]!);
    const unit =
      writing === undefined || writing.words === "" ? undefined : guessUnit(writing.words, heading);
    if (writing === undefined || (writing.words !== "" && unit === undefined)) {
      strangers.push({ row, text: texts[row]! });
      continue;
    }
    const possible = possibleMarks(writing.digits);
    if (possible.size === 0) {
      strangers.push({ row, text: texts[row]! });
      continue;
    }
    numbers++;
    if (unit !== undefined) units.push(unit);
    for (const mark of [...marks]) if (!possible.has(mark)) marks.delete(mark);
    if (possible.size === 2 && toDecimal(writing.digits, ".") !== toDecimal(writing.digits, ","))
      markExample ??= texts[row]!;
  }
  // Points in one row and commas in the next: then each row is read by its own mark, and only doubtful ones are asked.
  if (marks.size === 0) marks.add(".").add(",");
  const unit = read.guess ?? fromRow ?? units[0];
  const numeric =
    filledRows.length === 0 ? unit !== undefined : numbers > 0 && numbers * 2 >= filledRows.length;
  return {
    ...core,
    label: numeric ? read.label : heading.trim(),
    holds: numeric ? "number" : "text",
    ...(numeric && unit !== undefined ? { unit } : {}),
    marks,
    ...(markExample === undefined || marks.size < 2 ? {} : { markExample }),
    dayOrders: new Set(),
    strangers: numeric ? strangers : [],
    strangersAreBlanks: strangers.every((s) => NOTHING.test(s.text)),
  };
}

/** Names of things that have a unit, for headings that give none. */
export function unitsToAskFor(label: string): readonly string[] {
  const words = label.toLowerCase();
  if (/\b(strength|abv|alcohol|proof)\b/.test(words)) return ["%vol", "%mas", "proof", "%"];
  if (/\b(temp|temperature|bath|coolant)\b/.test(words)) return ["°C", "°F"];
  if (/\b(volume|vol)\b/.test(words)) return ["mL", "L"];
  if (/\b(mass|weight)\b/.test(words)) return ["g", "kg"];
  if (/\b(pressure|vacuum|pull)\b/.test(words)) return ["mbar", "hPa", "kPa", "torr"];
  if (/\b(solids|brix)\b/.test(words)) return ["°Bx", "%"];
  return [];
}
