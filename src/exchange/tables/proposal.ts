import { type ColumnReading, readColumn, unitsToAskFor } from "./columns";
import { feetFor, rowOfTotals } from "./feet";
import type { FoundTable } from "./find-tables";
import { type GridCell, type GridRow, plainDecimal } from "./grid";
import { LIMITS, tooLarge } from "./limits";
import { type DayOrder, type DecimalMark, splitNumber, toDay, toDecimal } from "./reading-numbers";
import { cleaned, headingText, tableName, textCell, uniqueNames } from "./table-text";
import { guessUnit } from "./unit-guess";

/** A question that only the person who brought the table can answer. It has an answer already, to be confirmed. */
export interface Doubt {
  readonly id: string;
  /** Heading that it is about, when it is about one column. */
  readonly column?: string;
  readonly says: string;
  readonly choices: readonly { readonly value: string; readonly says: string }[];
  readonly chosen: string;
}

export interface ProposedColumn {
  /** As it stood in the file. */
  readonly heading: string;
  /** Name in the book. */
  readonly name: string;
  readonly holds: "names" | "number" | "text" | "date";
  readonly unit: string;
}

/** A table of a book, proposed from a foreign one. `statement` is its text, ready to stand in a book. */
export interface TableProposal {
  readonly source: string;
  readonly name: string;
  readonly title: string;
  readonly columns: readonly ProposedColumn[];
  readonly rowCount: number;
  readonly doubts: readonly Doubt[];
  readonly notes: readonly string[];
  readonly statement: string;
}

export interface ProposalOptions {
  /** Answers to doubts by their id; a doubt without one keeps the answer proposed. */
  readonly answers?: ReadonlyMap<string, string>;
  /** Names that the book has already. */
  readonly taken?: ReadonlySet<string>;
}

/** Makes the proposal. Nothing of the file is executed: cells become plain cells of the table, or stay out. */
export function proposeTable(given: FoundTable, options: ProposalOptions = {}): TableProposal {
  const found = withSpreads(given);
  if (found.headings.length > LIMITS.tableColumns)
    throw tooLarge(`its table has ${found.headings.length} columns`);
  const doubts: Doubt[] = [];
  const settle = (doubt: Omit<Doubt, "chosen">, proposed: string): string => {
    const answer = options.answers?.get(doubt.id);
    const chosen = answer !== undefined && doubt.choices.some((c) => c.value === answer) ? answer : proposed;
    doubts.push({ ...doubt, chosen });
    return chosen;
  };

  const totals = rowOfTotals(found);
  const kept = totals === undefined || options.answers?.get("total") === "keep";
  const rows = kept ? found.rows : found.rows.slice(0, -1);
  const readings = found.headings.map((heading, c) =>
    readColumn(
      heading,
      found.units[c] ?? "",
      rows.map((row) => row[c]),
    ),
  );
  const mark = decimalMark(readings, settle);
  const columns = readings.map((reading, c) => settleColumn(reading, c, mark, settle));
  const names = uniqueNames(columns.map((c, i) => (c.label === "" ? `column_${i + 1}` : c.label)));
  const proposed = columns.map(
    (c, i): ProposedColumn => ({
      heading: found.headings[i]!,
      name: names[i]!,
      holds: c.holds,
      unit: c.unit,
    }),
  );
  const body = rows.map((row) => columns.map((column, c) => cellText(row[c], column)));
  const feet =
    totals === undefined
      ? []
      : feetFor(
          proposed.map((p, c) => ({
            ...p,
            // Of a row that is kept the columns above it speak.
            cells: (kept ? body.slice(0, -1) : body).map((row) => row[c]!),
            total: cellText(totals.row[c], columns[c]!),
          })),
          totals.label,
        );
  const asFeet =
    totals !== undefined &&
    settle(totalsQuestion(totals.label, feet), feet.length > 0 ? "foot" : "leave out") === "foot";
  const headings = proposed.map((p) => headingText(p.name, p.holds, p.unit));
  const name = tableName(found.title === "" ? found.source : found.title, options.taken ?? new Set());
  const title = shortened(
    (found.title === "" ? found.source : found.title).replace(/[\s\u00a0]+/g, " ").trim(),
  );
  return {
    source: found.source,
    name,
    title,
    columns: proposed,
    rowCount: rows.length,
    doubts,
    notes: found.notes,
    statement:
      tableStatement(name, title, headings, body, columns) +
      (asFeet ? feet.map((f) => `${f}\n`).join("") : ""),
  };
}

/** A title stays on one line of the page. */
const shortened = (title: string): string =>
  [...title].length <= 60 ? title : `${[...title].slice(0, 59).join("").trim()}…`;

/** A column headed `±` joins the one before it. */
function withSpreads(found: FoundTable): FoundTable {
  const spreads = found.headings.flatMap((h, c) => (c > 0 && /^\s*(±|\+\/?-)/.test(h) ? [c] : []));
  if (spreads.length === 0) return found;
  const stays = found.headings.flatMap((_, c) => (spreads.includes(c) ? [] : [c]));
  const joined = (row: GridRow, c: number): GridCell | undefined => {
    const cell = row[c];
    const by = spreads.includes(c + 1) ? row[c + 1] : undefined;
    if (cell === undefined || by === undefined || splitNumber(by.text)?.words !== "") return cell;
    if (cell.number !== undefined && by.number !== undefined) {
      // What was worked out has all its digits; an uncertainty says nothing beyond the third.
      const spread =
        by.formula === undefined ? by.number : plainDecimal(Number(Number(by.number).toPrecision(3)));
      return { ...cell, spread };
    }
    return splitNumber(cell.text)?.words === "" ? { text: `${cell.text.trim()} ± ${by.text.trim()}` } : cell;
  };
  return {
    ...found,
    headings: stays.map((c) => found.headings[c]!),
    units: found.units.length === 0 ? [] : stays.map((c) => found.units[c] ?? ""),
    rows: found.rows.map((row) => stays.map((c) => joined(row, c))),
  };
}

type Settle = (doubt: Omit<Doubt, "chosen">, proposed: string) => string;

/** What becomes of a row of totals. */
function totalsQuestion(label: string, feet: readonly string[]): Omit<Doubt, "chosen"> {
  return {
    id: "total",
    says: `The last row ("${label.slice(0, 40)}") looks like a total. In a book a total stands in a foot, where it follows the rows.`,
    choices: [
      ...(feet.length === 0
        ? []
        : [{ value: "foot", says: `Make it ${feet.map((f) => `\`${f}\``).join(", ")}` }]),
      { value: "leave out", says: "Leave it out" },
      { value: "keep", says: "Keep it as a row" },
    ],
  };
}

/** One decimal mark serves the whole table. A column that fits only one settles it; else, if it matters, it is asked. */
function decimalMark(readings: readonly ColumnReading[], settle: Settle): DecimalMark {
  const numeric = readings.filter((r) => r.holds === "number");
  const settled = numeric.filter((r) => r.marks.size === 1).map((r) => [...r.marks][0]!);
  if (settled.length > 0) return settled.filter((m) => m === ",").length * 2 > settled.length ? "," : ".";
  const example = numeric.map((r) => r.markExample).find((e) => e !== undefined);
  if (example === undefined) return ".";
  const digits = splitNumber(example)!.digits;
  return settle(
    {
      id: "decimal",
      says: `"${example}" can be read in two ways.`,
      choices: ([".", ","] as const).map((m) => ({
        value: m,
        says: `${toDecimal(digits, m)} (the decimal mark is a ${m === "." ? "point" : "comma"})`,
      })),
    },
    example.includes(".") ? "." : ",",
  ) as DecimalMark;
}

interface SettledColumn {
  readonly label: string;
  readonly holds: ProposedColumn["holds"];
  readonly unit: string;
  readonly mark: DecimalMark;
  readonly order: DayOrder;
  readonly blanks: ReadonlySet<string>;
  readonly index: number;
}

function settleColumn(
  reading: ColumnReading,
  index: number,
  tableMark: DecimalMark,
  settle: Settle,
): SettledColumn {
  const about = { column: reading.heading };
  const mark = reading.marks.size === 1 ? [...reading.marks][0]! : tableMark;
  const core = {
    index,
    mark,
    label: reading.label,
    blanks: new Set<string>(),
    order: "day first" as DayOrder,
    unit: "",
  };
  // The first column names the rows; it is read as numbers or days only where it carries a unit or days.
  if (
    index === 0 &&
    !(reading.holds === "date" && reading.strangers.length === 0) &&
    !(reading.holds === "number" && reading.unit !== undefined && reading.strangers.length === 0)
  ) {
    return { ...core, holds: "names", label: reading.heading.trim() };
  }
  if (reading.holds === "text") return { ...core, holds: "text" };
  let blanks = new Set<string>();
  if (reading.strangers.length > 0) {
    const examples = [...new Set(reading.strangers.map((s) => `"${s.text.slice(0, 24)}"`))]
      .slice(0, 3)
      .join(", ");
    const kind = reading.holds === "date" ? "days" : "numbers";
    const count = reading.strangers.length;
    const answer = settle(
      {
        ...about,
        id: `strangers:${index}`,
        says: `${reading.heading} holds ${kind}, and in ${count} ${count === 1 ? "row" : "rows"} something else: ${examples}.`,
        choices: [
          { value: "blank", says: "Leave those cells blank" },
          { value: "text", says: "Read the whole column as text" },
        ],
      },
      reading.strangersAreBlanks ? "blank" : "text",
    );
    if (answer === "text") return { ...core, holds: "text", label: reading.heading.trim() };
    blanks = new Set(reading.strangers.map((s) => s.text));
  }
  if (reading.holds === "date") {
    let order = [...reading.dayOrders][0]!;
    if (reading.dayExample !== undefined) {
      const example = reading.dayExample;
      order = settle(
        {
          ...about,
          id: `days:${index}`,
          says: `In ${reading.heading}, "${example}" can be read in two ways.`,
          choices: (["day first", "month first"] as const).map((o) => ({
            value: o,
            says: `${toDay(example, o)} (${o})`,
          })),
        },
        "day first",
      ) as DayOrder;
    }
    return { ...core, holds: "date", blanks, order };
  }
  return { ...core, holds: "number", blanks, unit: settleUnit(reading, index, settle) };
}

function settleUnit(reading: ColumnReading, index: number, settle: Settle): string {
  const guess = reading.unit;
  const asked = guess === undefined ? unitsToAskFor(reading.label) : [guess.unit, ...guess.others];
  if (asked.length === 0) return "";
  if (guess !== undefined && guess.others.length === 0) return guess.unit;
  return settle(
    {
      column: reading.heading,
      id: `unit:${index}`,
      says:
        guess === undefined
          ? `${reading.heading} gives no unit.`
          : `The unit of ${reading.heading} can mean more than one thing.`,
      choices: [...asked.map((u) => ({ value: u, says: u })), { value: "", says: "no unit, plain numbers" }],
    },
    guess === undefined ? "" : guess.unit,
  );
}

function cellText(cell: GridCell | undefined, column: SettledColumn): string {
  if (cell === undefined || cell.failed || cell.text.trim() === "") return "";
  const text = cell.text.trim();
  if (column.holds === "names") return textCell(text, true);
  if (column.holds === "text") return textCell(text, false);
  if (column.blanks.has(text)) return "";
  if (column.holds === "date") return cell.day ?? toDay(text, column.order) ?? "";
  if (cell.number !== undefined) return cell.number + (cell.spread === undefined ? "" : ` ± ${cell.spread}`);
  const writing = splitNumber(text)!;
  const decimal = (digits: string): string =>
    toDecimal(digits, column.mark) ?? toDecimal(digits, column.mark === "." ? "," : ".")!;
  const digits = decimal(writing.digits);
  const spread = writing.spread === undefined ? undefined : decimal(writing.spread);
  const own = writing.words === "" ? "" : (guessUnit(writing.words, column.label)?.unit ?? "");
  // A unit in the cell that is not the column's stays with its number.
  const unit = own === "" || own === column.unit || sameWriting(writing.words, column) ? "" : ` ${own}`;
  return digits + (spread === undefined ? "" : ` ± ${spread}`) + unit;
}

/** A cell whose words may mean the unit that was chosen for the column: they mean it. */
function sameWriting(words: string, column: SettledColumn): boolean {
  const guess = guessUnit(words, column.label);
  return guess !== undefined && [guess.unit, ...guess.others].includes(column.unit);
}

function tableStatement(
  name: string,
  title: string,
  headings: readonly string[],
  body: readonly (readonly string[])[],
  columns: readonly SettledColumn[],
): string {
  const width = (s: string): number => [...s].length;
  const widths = headings.map((h, c) =>
    body.reduce((most, row) => Math.max(most, Math.min(width(row[c]!), 40)), width(h)),
  );
  const line = (cells: readonly string[], heading: boolean): string =>
    `| ${cells
      .map((cell, c) => {
        const fill = " ".repeat(Math.max(0, widths[c]! - width(cell)));
        return columns[c]!.holds === "number" && !heading ? fill + cell : cell + fill;
      })
      .join(" | ")} |`;
  const words = cleaned(title.replace(/["\\{}]/g, ""));
  const head = words === "" ? `table ${name}` : `table ${name} "${words}"`;
  return `${[head, line(headings, true), ...body.map((row) => line(row, false))].join("\n")}\n`;
}
