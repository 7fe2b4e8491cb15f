import type { Grid, GridCell, GridRow } from "./grid";
import { splitNumber, toDay } from "./reading-numbers";

/** A table found on a foreign sheet: its headings and rows as they stand there. */
export interface FoundTable {
  /** Sheet or file. */
  readonly source: string;
  /** Lines above the table, such as its title; "" when there are none. */
  readonly title: string;
  readonly headings: readonly string[];
  /** A second heading row that holds units. */
  readonly units: readonly string[];
  readonly rows: readonly GridRow[];
  readonly notes: readonly string[];
}

/**
 * Finds the tables of a sheet: blocks of rows between blank rows, with single cells above them taken as the
 * title. A block that starts with numbers goes on with the table before it.
 */
export function findTables(grid: Grid, isUnit: (words: string) => boolean): FoundTable[] {
  const found: {
    title: string[];
    headings: string[];
    units: string[];
    rows: GridRow[];
    columns: number[];
  }[] = [];
  let title: string[] = [];
  for (const block of blocksOf(grid.rows)) {
    const rows = [...block];
    while (
      rows.length > 0 &&
      filled(rows[0]!).length === 1 &&
      (rows.length === 1 || widest(rows.slice(1)) > 1)
    ) {
      title.push(textOf(filled(rows.shift()!)[0]!));
    }
    if (rows.length === 0) continue;
    const columns = columnsOf(rows);
    const last = found[found.length - 1];
    const headed = isHeading(rows[0]!, rows.slice(1), isUnit);
    if (
      !headed &&
      title.length === 0 &&
      last !== undefined &&
      columns.every((c) => last.columns.includes(c))
    ) {
      last.rows.push(...rows);
      continue;
    }
    const headings = headed
      ? columns.map((c) => textOf(rows[0]![c]))
      : columns.map((_, i) => `column ${i + 1}`);
    const body = headed ? rows.slice(1) : rows;
    let units: string[] = [];
    if (headed && body.length > 1) {
      const second = columns.map((c) => body[0]![c]);
      const said = second.map(textOf).filter((t) => t !== "");
      if (
        said.length > 0 &&
        second.every((c) => c?.number === undefined && c?.day === undefined) &&
        said.every((t) => isUnit(bare(t)))
      ) {
        units = second.map((c) => bare(textOf(c)));
        body.shift();
      }
    }
    found.push({ title, headings, units, rows: body, columns });
    title = [];
  }
  return found
    .filter((t) => t.rows.length > 0)
    .map((t) => ({
      source: grid.name,
      title: t.title.join(" – "),
      headings: t.headings,
      units: t.units,
      rows: t.rows.map((row) => t.columns.map((c) => row[c])),
      notes: grid.notes,
    }));
}

const bare = (text: string): string => text.replace(/^[([]\s*|\s*[)\]]$/g, "").trim();
const textOf = (cell: GridCell | undefined): string =>
  cell === undefined || cell.failed ? "" : cell.text.trim();
const filled = (row: GridRow): GridCell[] =>
  row.filter((c): c is GridCell => c !== undefined && textOf(c) !== "");
const widest = (rows: readonly GridRow[]): number =>
  rows.reduce((most, row) => Math.max(most, filled(row).length), 0);

function* blocksOf(rows: readonly GridRow[]): Generator<readonly GridRow[]> {
  let block: GridRow[] = [];
  for (const row of rows) {
    if (filled(row).length > 0) block.push(row);
    else if (block.length > 0) {
      yield block;
      block = [];
    }
  }
  if (block.length > 0) yield block;
}

/** Columns with anything in them. */
function columnsOf(rows: readonly GridRow[]): number[] {
  const used = new Set<number>();
  for (const row of rows)
    row.forEach((cell, c) => {
      if (textOf(cell) !== "") used.add(c);
    });
  return [...used].sort((a, b) => a - b);
}

/** `12`, `12 ml`, `3/4/2026`: no heading; `2nd cut` and `5 runs` may be one. */
function isQuantity(text: string, isUnit: (words: string) => boolean): boolean {
  if (toDay(text, "day first") !== undefined || toDay(text, "month first") !== undefined) return true;
  const writing = splitNumber(text);
  return writing !== undefined && (writing.words === "" || isUnit(writing.words));
}

/** A heading row is words only, and something stands under it. Below it there may be words only, too. */
function isHeading(row: GridRow, below: readonly GridRow[], isUnit: (words: string) => boolean): boolean {
  if (below.length === 0) return false;
  const cells = filled(row);
  return (
    cells.length > 0 &&
    cells.every((c) => c.number === undefined && c.day === undefined && !isQuantity(c.text, isUnit))
  );
}
