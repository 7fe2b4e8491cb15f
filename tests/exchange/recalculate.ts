import type { Place } from "../../src/exchange/expression";
import { type Content, type FailedCell, workOut } from "../../src/exchange/recalculation";
import type { Workbook } from "../../src/exchange/sheet";

/** A workbook worked out from its typed cells, as an office suite would after some of them were changed. */
export function recalculate(
  workbook: Workbook,
  changes: ReadonlyMap<string, Content>,
): (at: Place) => Content | FailedCell {
  const sheets = new Map(workbook.sheets.map((s) => [s.name, s]));
  const done = new Map<string, Content | FailedCell>();
  const key = (at: Place): string => `${at.sheet}!${at.row}!${at.column}`;
  const read = (at: Place): Content | FailedCell => {
    const k = key(at);
    const known = done.get(k);
    if (known !== undefined) return known;
    const cell = sheets.get(at.sheet)?.rows[at.row]?.[at.column];
    let value: Content | FailedCell = changes.get(k) ?? cell?.value ?? null;
    if (changes.has(k)) value = changes.get(k)!;
    else if (cell?.formula !== undefined) value = workOut(cell.formula, read as (at: Place) => Content);
    done.set(k, value);
    return value;
  };
  return read;
}

/** Where a value stands: by its path in the first column of the sheet of values. */
export function placeOf(workbook: Workbook, path: string): Place {
  const row = workbook.sheets.find((s) => s.name === "Values")!.rows.findIndex((r) => r[0]?.value === path);
  if (row < 0) throw new Error(`no value ${path}`);
  return { sheet: "Values", row, column: 1 };
}
