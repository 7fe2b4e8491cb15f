import type { Formula, Statement } from "../../../grammar";
import type { Book, Shown, TableColumn, TableItem } from "../../engine";
import type { Live } from "../live";
import { EMPTY, type SheetCell, words } from "../sheet";
import { type ColumnSpot, contentOf, type TableSpot } from "../translation/layout";
import { NotLive } from "../translation/term";
import { type AsTyped, typedInCell } from "./as-typed";
import type { Spreads } from "./spreads";

/** A sheet for each table: headings with units, a row for each row, the feet below. */
const FIRST_ROW = 1;
/**
 * A computed column goes out as values when its rows would bring the workbook beyond so many helper cells: 40,000 of them
 * make a file of 3 MB.
 */
const MOST_HELPERS = 40_000;

export function placeTables(book: Book, nameOf: (table: TableItem) => string): Map<string, TableSpot> {
  const spots = new Map<string, TableSpot>();
  for (const item of book.items) {
    if (item.type !== "table" || spots.has(item.name)) continue;
    const columns = new Map<string, ColumnSpot>();
    let at = 0;
    item.columns.forEach((column, index) => {
      let gaps = false;
      let spreads = false;
      for (let row = 0; row < item.rowCount; row++) {
        const { value } = item.cell(row, index);
        if (value.type === "gap") gaps = true;
        if (value.type === "quantity" && value.spread !== undefined) spreads = true;
      }
      columns.set(column.name, { index, column: at, gaps });
      at += spreads ? 2 : 1;
    });
    spots.set(item.name, {
      item,
      sheet: nameOf(item),
      firstRow: FIRST_ROW,
      columns,
      footRow: item.feet.size === 0 ? undefined : FIRST_ROW + item.rowCount,
      names: Array.from({ length: item.rowCount }, (_, row) => item.rowName(row)),
    });
  }
  return spots;
}

export function tableRows(book: Book, spot: TableSpot, live: Live, spreads: Spreads): SheetCell[][] {
  const { item } = spot;
  const width = Math.max(0, ...[...spot.columns.values()].map((c) => c.column)) + 2;
  const rows: SheetCell[][] = [new Array<SheetCell>(width).fill(EMPTY)];
  for (let row = 0; row < item.rowCount; row++) rows.push(new Array<SheetCell>(width).fill(EMPTY));
  if (spot.footRow !== undefined) rows.push(new Array<SheetCell>(width).fill(EMPTY));
  for (const [name, place] of spot.columns) {
    const column = item.columns[place.index]!;
    rows[0]![place.column] = words(headingOf(column), "heading", headingNote(column));
    if (hasSpreads(spot, place)) rows[0]![place.column + 1] = words(`± ${column.unit}`.trim(), "heading");
    const isTooMuch = needsTooManyHelpers(spot, name, column, live);
    for (let row = 0; row < item.rowCount; row++) {
      const shown = item.cell(row, place.index);
      const line = rows[FIRST_ROW + row]!;
      line[place.column] = cellOf(book, spot, name, column, row, shown, live, isTooMuch);
      const spread = spreads.cell(shown, line[place.column]!);
      if (spread !== EMPTY) line[place.column + 1] = spread;
    }
    footCells(spot, name, place, rows, live, spreads);
  }
  return rows.map(trimmed);
}

const hasSpreads = (spot: TableSpot, place: ColumnSpot): boolean => {
  const next = [...spot.columns.values()].find((c) => c.index === place.index + 1);
  if (next !== undefined) return next.column === place.column + 2;
  for (let row = 0; row < spot.item.rowCount; row++) {
    const { value } = spot.item.cell(row, place.index);
    if (value.type === "quantity" && value.spread !== undefined) return true;
  }
  return false;
};

function footCells(
  spot: TableSpot,
  name: string,
  place: ColumnSpot,
  rows: SheetCell[][],
  live: Live,
  spreads: Spreads,
): void {
  if (spot.footRow === undefined) return;
  const line = rows[spot.footRow]!;
  const foot = spot.item.feet.get(name);
  if (foot === undefined) {
    line[place.column] = place.index === 0 ? words("foot", "foot") : { value: null, role: "foot" };
    return;
  }
  const node = foot.statement.node as Statement["node"] & { type: "foot" };
  const term = live.translate(node.formula, { table: spot }, foot.shown.path);
  const decimals = spot.item.columns[place.index]!.decimals;
  const made = live.cell(foot.shown, term, foot.formula, "foot", decimals);
  line[place.column] =
    made.note === undefined ? { ...made, note: `${foot.shown.path} = ${foot.formula}` } : made;
  if (hasSpreads(spot, place)) {
    const spread = spreads.cell(foot.shown, made);
    if (spread !== EMPTY) line[place.column + 1] = { ...spread, role: "foot" };
  }
}

function cellOf(
  book: Book,
  spot: TableSpot,
  name: string,
  column: TableColumn,
  row: number,
  shown: Shown,
  live: Live,
  isTooMuch: boolean,
): SheetCell {
  const formula = formulaOf(spot, name, column, row);
  const decimals = shown.value.type === "quantity" ? column.decimals : undefined;
  const asTyped = typedInCell(book, spot.item, row, spot.columns.get(name)!.index);
  if (formula === undefined) return typedCell(shown, decimals, asTyped);
  const term = isTooMuch
    ? new NotLive("the table has too many rows for helper cells")
    : live.translate(formula.node, { table: spot, row }, shown.path);
  const made = live.cell(shown, term, formula.source, "computed", decimals);
  return asTyped === undefined ? made : { ...made, value: asTyped.text, note: asTyped.note };
}

/** Whether the rows of a column would need too many helper cells: the first rows tell how many each needs. */
function needsTooManyHelpers(spot: TableSpot, name: string, column: TableColumn, live: Live): boolean {
  const { rowCount } = spot.item;
  if (column.typed || rowCount < PROBED_ROWS) return false;
  const { working } = live.translator;
  const before = working.mark;
  let most = 0;
  for (let row = 0; row < PROBED_ROWS; row++) {
    const mark = working.mark;
    const formula = formulaOf(spot, name, column, row);
    if (formula !== undefined)
      live.translate(formula.node, { table: spot, row }, `${spot.item.name}.${name}`);
    // The first row also brings the steps that all rows share.
    if (row > 0) most = Math.max(most, working.mark - mark);
  }
  working.takeBack(before);
  return before + most * rowCount > MOST_HELPERS;
}
const PROBED_ROWS = 5;

/** The formula of a computed column, or of a single cell that holds one. */
function formulaOf(
  spot: TableSpot,
  name: string,
  column: TableColumn,
  row: number,
): { node: Formula; source: string } | undefined {
  if (!column.typed) {
    const node = column.statement?.node;
    return node?.type === "column" ? { node: node.formula, source: column.formula ?? "" } : undefined;
  }
  const place = spot.columns.get(name)!.index;
  const content = spot.item.tree.rows[row]?.node.cells[place]?.content;
  if (content?.type !== "formula") return undefined;
  return {
    node: content.formula,
    source: spot.item.tree.rows[row]!.node.cells[place]!.raw.replace(/^=\s*/, ""),
  };
}

function typedCell(shown: Shown, decimals: number | undefined, asTyped: AsTyped | undefined): SheetCell {
  const { content, isDate } = contentOf(shown);
  if (shown.state === "gap") return { value: null, role: "gap" };
  if (asTyped !== undefined) return { value: asTyped.text, role: "fault", note: asTyped.note };
  if (shown.state === "fault")
    return { value: content, role: "fault", ...(shown.help === undefined ? {} : { note: shown.help }) };
  return {
    value: content,
    role: "typed",
    ...(isDate ? { isDate } : {}),
    ...(decimals === undefined ? {} : { decimals }),
  };
}

export const headingOf = (column: TableColumn): string =>
  column.unit === "" ? column.name : `${column.name} (${column.unit})`;
const headingNote = (column: TableColumn): string | undefined =>
  column.formula === undefined ? undefined : `${column.name} = ${column.formula}`;

/** Without the empty cells at the end of a row. */
function trimmed(row: SheetCell[]): SheetCell[] {
  let end = row.length;
  while (end > 0 && row[end - 1] === EMPTY) end--;
  return row.slice(0, end);
}
