import { openBook, type TableItem } from "../../engine";
import type { FoundTable } from "./find-tables";
import type { GridCell, GridRow } from "./grid";
import { headingText } from "./table-text";

/** A column of a proposed table with what stands in it, as the table statement will write it. */
export interface FilledColumn {
  readonly name: string;
  readonly holds: "names" | "number" | "text" | "date";
  readonly unit: string;
  readonly cells: readonly string[];
  /** What the row of totals says of it; "" for nothing. */
  readonly total: string;
}

/**
 * The last row of a table when it is one of totals: its first words say so, or all that stands in it was worked out, as
 * nothing above it was, and comes to the sum or the mean of what stands above.
 */
export function rowOfTotals(found: FoundTable): { row: GridRow; label: string } | undefined {
  const row = found.rows[found.rows.length - 1];
  const filled = row?.flatMap((cell, c) =>
    cell === undefined || cell.text.trim() === "" ? [] : [{ cell, c }],
  );
  if (row === undefined || filled?.[0] === undefined || found.rows.length < 2) return undefined;
  const label = filled[0].cell.text.trim();
  const above = found.rows.slice(0, -1);
  const isTotal = ({ cell, c }: { cell: GridCell; c: number }): boolean => {
    if (cell.formula === undefined || above.some((r) => r[c]?.formula !== undefined)) return false;
    const numbers = above.flatMap((r) => r[c]?.number ?? []).map(Number);
    const sum = numbers.reduce((a, b) => a + b, 0);
    const total = Number(cell.number ?? Number.NaN);
    return [sum, sum / numbers.length].some((v) => Math.abs(v - total) <= 1e-9 * Math.abs(total));
  };
  return /^(grand |sub)?(total|totals|sum|average|mean|foot)\b/i.test(label) || filled.every(isTotal)
    ? { row, label }
    : undefined;
}

/**
 * Feet that say what a row of totals said, for the columns whose total is the sum or the mean of the rows to the last
 * digit written: `foot cost = sum(cost)`. A column whose total is something else, or that the language does not add
 * up, is left out.
 */
export function feetFor(columns: readonly FilledColumn[], label: string): string[] {
  const averages = /average|mean/i.test(label);
  return columns.flatMap((column) => {
    const total = plainNumber(column.total);
    const cells = column.cells.filter((c) => c !== "").map(plainNumber);
    if (column.holds !== "number" || total === undefined || cells.length === 0) return [];
    if (cells.some((c) => c === undefined)) return [];
    const numbers = cells as number[];
    const sum = numbers.reduce((a, b) => a + b, 0);
    const ways = [
      { name: "sum", value: sum },
      { name: "mean", value: sum / numbers.length },
    ];
    if (averages) ways.reverse();
    const decimals = /\.(\d+)/.exec(column.total)?.[1]?.length ?? 0;
    const within = Math.max(0.5 * 10 ** -decimals, 1e-12 * Math.abs(total)) * (1 + 1e-6);
    const feet = ways
      .filter(({ value }) => Math.abs(value - total) <= within)
      .map(({ name }) => `foot ${column.name} = ${name}(${column.name})`);
    return feet.filter((foot) => isTaken(column, foot)).slice(0, 1);
  });
}

/** Whether the language takes a foot under such a column: it adds up no temperatures, for one. */
function isTaken({ name, unit }: FilledColumn, foot: string): boolean {
  const book = openBook(
    `table t\n| row | ${headingText(name, "number", unit)} |\n| a | 1 |\n| b | 2 |\n${foot}\n`,
  );
  const table = book.items.find((i): i is TableItem => i.type === "table");
  return table?.feet.get(name)?.shown.state === "ok";
}

/** The number of a cell, without its uncertainty; undefined when it has a unit of its own, or is no number. */
function plainNumber(cell: string): number | undefined {
  const [digits] = cell.split(" ± ");
  const value = Number(digits);
  return cell !== "" && Number.isFinite(value) ? value : undefined;
}
