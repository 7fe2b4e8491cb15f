import type { Book, TableItem } from "../engine";
import { STANDING_CAUTION } from "./card";
import { call, operation, range, text } from "./expression";
import { type Fate, Live } from "./live";
import type { Content } from "./recalculation";
import { settled } from "./settled";
import { type Sheet, type SheetCell, sheetNames, type Workbook, words } from "./sheet";
import { CHANGED, type Explained, explanationRows, HOLDS_COLUMN } from "./sheets/explanation";
import { chartSheet, checkRows, stepRows } from "./sheets/pages";
import { Spreads } from "./sheets/spreads";
import { headingOf, placeTables, tableRows } from "./sheets/tables";
import { placeValues, valueRows } from "./sheets/values";
import { Coefficients } from "./translation/coefficients";
import { contentOf, type Layout, placeOfCell } from "./translation/layout";
import { type Definition, Translator } from "./translation/translator";
import { Working } from "./translation/working";

export interface ExportedBook {
  readonly workbook: Workbook;
  /** Every computed value, in the order of the sheets. */
  readonly fates: readonly Fate[];
}

/** The workbook of a book. Made once, written by any of the writers; the same book gives the same workbook. */
export function workbookOf(book: Book): ExportedBook {
  const tables = book.items.filter((i): i is TableItem => i.type === "table");
  const fixed = ["Book", "Values", "Checks", "Steps", "Charts", "Explanation", "Working", "Coefficients"];
  const names = sheetNames([...fixed, ...tables.map((t) => t.title || t.name)]);
  const [cover, values, checks, steps, charts, explanation, working, coefficients] = names as [
    string,
    string,
    string,
    string,
    string,
    string,
    string,
    string,
  ];
  const tableName = new Map(tables.map((t, i) => [t, names[fixed.length + i]!]));

  const placed = placeValues(book, values);
  const layout: Layout = { sets: placed.sets, tables: placeTables(book, (t) => tableName.get(t)!) };
  const constants = new Coefficients(coefficients);
  const contents = contentsOf(layout);
  const desk = new Working(working, (at) =>
    at.sheet === coefficients
      ? constants.read(at.row, at.column)
      : (contents.get(at.sheet)?.(at.row, at.column) ?? null),
  );
  const live = new Live(new Translator(layout, definitionsOf(book), desk, constants));

  const spreads = new Spreads(layout, live);

  const made = new Map<string, SheetCell[][]>();
  made.set(values, valueRows(book, placed.lines, live, spreads));
  for (const spot of layout.tables.values()) made.set(spot.sheet, tableRows(book, spot, live, spreads));
  made.set(checks, checkRows(book, live));
  made.set(steps, stepRows(book, live));
  const drawn = chartSheet(book, charts, live);
  made.set(charts, drawn.rows);
  if (live.fates.some((f) => f.error > EXACT)) {
    const sheets = new Map(made).set(working, desk.rows()).set(coefficients, constants.rows());
    live.settle(settled((at) => sheets.get(at.sheet)?.[at.row]?.[at.column]));
  }
  made.set(explanation, explanationRows(book, explained(book, layout, live), live));
  made.set(working, desk.lines.length === 0 ? [] : desk.rows());
  made.set(coefficients, constants.isEmpty ? [] : constants.rows());
  made.set(cover, coverRows(book, live.fates, explanation, made.get(explanation)!));

  const order = [
    cover,
    values,
    ...[...layout.tables.values()].map((t) => t.sheet),
    checks,
    steps,
    charts,
    explanation,
    working,
    coefficients,
  ];
  const sheets = order.flatMap((name): Sheet[] => {
    const rows = made.get(name) ?? [];
    if (rows.length === 0 || (rows.length === 1 && name !== cover && !isTable(layout, name))) return [];
    return [
      {
        name,
        rows,
        widths: widthsOf(rows),
        frozen: name === cover || name === charts ? { rows: 0, columns: 0 } : { rows: 1, columns: 1 },
        charts: name === charts ? drawn.charts : [],
      },
    ];
  });
  return { workbook: { title: book.title, sheets }, fates: live.fates };
}

/** Written-out functions nearer to the book than this need no second look. */
const EXACT = 1e-8;

const isTable = (layout: Layout, name: string): boolean =>
  [...layout.tables.values()].some((t) => t.sheet === name);

function definitionsOf(book: Book): Map<string, Definition> {
  const found = new Map<string, Definition>();
  for (const item of book.items) {
    const node = item.statement.node;
    if (item.type !== "define" || node.type !== "define" || found.has(item.name)) continue;
    found.set(item.name, { parameters: item.parameters, formula: node.formula });
  }
  return found;
}

/** What stands in the cells of values and tables, for working formulas out before they go. */
function contentsOf(layout: Layout): Map<string, (row: number, column: number) => Content> {
  const bySheet = new Map<string, (row: number, column: number) => Content>();
  const cells = new Map<string, Content>();
  let sheet = "";
  for (const set of layout.sets.values()) {
    for (const { shown, at } of set.cells) {
      sheet = at.sheet;
      cells.set(`${at.row} ${at.column}`, known(shown));
    }
  }
  bySheet.set(sheet, (row, column) => cells.get(`${row} ${column}`) ?? null);
  for (const spot of layout.tables.values()) {
    const byColumn = new Map([...spot.columns].map(([name, c]) => [c.column, { name, index: c.index }]));
    bySheet.set(spot.sheet, (row, column) => {
      const found = byColumn.get(column);
      if (found === undefined) return null;
      const at = row - spot.firstRow;
      if (row === spot.footRow) {
        const foot = spot.item.feet.get(found.name);
        return foot === undefined ? null : known(foot.shown);
      }
      return at >= 0 && at < spot.item.rowCount ? known(spot.item.cell(at, found.index)) : null;
    });
  }
  return bySheet;
}
/** A gap reads as an empty cell, whichever of the two it will be. */
const known = (shown: Parameters<typeof contentOf>[0]): Content => contentOf(shown).content;

/** Every formula of the book once, with what became of the values that it makes. */
function explained(book: Book, layout: Layout, live: Live): Explained[] {
  const byPath = new Map<string, Fate>();
  for (const fate of live.fates) byPath.set(fate.path, fate);
  const out: Explained[] = [];
  const fatesOf = (paths: readonly string[]): Fate[] => paths.flatMap((p) => byPath.get(p) ?? []);
  for (const set of layout.sets.values()) {
    if (set.item.shown.origin === "typed") continue;
    const node = set.item.statement.node;
    const path = set.item.shown.path;
    out.push({
      path,
      formula: set.item.formula,
      node: node.type === "set" ? node.formula : undefined,
      example: path,
      fates: fatesOf(set.cells.map((c) => c.shown.path)),
    });
  }
  for (const spot of layout.tables.values()) {
    for (const [name, place] of spot.columns) {
      const column = spot.item.columns[place.index]!;
      if (!column.typed && column.statement?.node.type === "column") {
        const paths = Array.from(
          { length: spot.item.rowCount },
          (_, row) => spot.item.cell(row, place.index).path,
        );
        out.push({
          path: `${spot.item.name}.${name}`,
          formula: column.formula ?? "",
          node: column.statement.node.formula,
          example: paths[0] ?? "",
          fates: fatesOf(paths),
        });
      }
      const foot = spot.item.feet.get(name);
      if (foot?.statement.node.type === "foot") {
        out.push({
          path: foot.shown.path,
          formula: foot.formula,
          node: foot.statement.node.formula,
          example: foot.shown.path,
          fates: fatesOf([foot.shown.path]),
        });
      }
    }
  }
  book.items
    .filter((i) => i.type === "check")
    .forEach((check, i) => {
      const node = check.statement.node;
      if (check.type !== "check" || node.type !== "check") return;
      const path = `check ${i + 1}`;
      out.push({ path, formula: check.formula, node: node.formula, example: "", fates: fatesOf([path]) });
    });
  return out;
}

/** The first sheet: what the book is, how to read the sheets, what does not recalculate, and the cautions. */
function coverRows(
  book: Book,
  fates: readonly Fate[],
  explanation: string,
  explanationSheet: readonly SheetCell[][],
): SheetCell[][] {
  const rows: SheetCell[][] = [[words(book.title === "" ? "Workbook" : book.title, "title")]];
  for (const item of book.items) if (item.type === "about") rows.push([words(item.text, "remark")]);
  rows.push([]);
  const live = fates.filter((f) => f.live).length;
  rows.push([
    words(
      `${live} of ${fates.length} computed values recalculate here; the others are slanted and explained on the sheet ${explanation}.`,
    ),
  ]);
  if (live < fates.length && explanationSheet.length > 1) {
    const at = (row: number) => ({ sheet: explanation, row, column: HOLDS_COLUMN });
    const block = range(at(1), at(explanationSheet.length - 1));
    const changed = call(
      "SUMPRODUCT",
      operation("*", operation("=", block, text(CHANGED)), { type: "number", value: 1 }),
    );
    const fine = "Every value that does not recalculate still holds: what it was made from is unchanged.";
    const stale = `Some values no longer hold, nor does what is worked out from them: see the sheet ${explanation}.`;
    rows.push([
      {
        value: fine,
        role: "caution",
        formula: call("IF", operation("=", changed, { type: "number", value: 0 }), text(fine), text(stale)),
      },
    ]);
  }
  rows.push([
    words(
      "On a line and blue: typed, to be changed. Black: recalculates. Slanted: a value as it was when the book went out. Units stand in the headings; ± is a standard uncertainty, and where it is black it follows the ± of what went in, as strongly as when the book went out.",
      "remark",
    ),
  ]);
  const { faults, gaps, unmet, unknown } = book.tally;
  if (faults + gaps + unmet + unknown > 0) {
    const parts = [
      faults > 0 ? `${faults} ${faults === 1 ? "fault" : "faults"}` : "",
      gaps > 0 ? `${gaps} ${gaps === 1 ? "gap" : "gaps"}` : "",
      unmet > 0 ? `${unmet} ${unmet === 1 ? "check" : "checks"} not met` : "",
      unknown > 0 ? `${unknown} ${unknown === 1 ? "check" : "checks"} not yet known` : "",
    ].filter((p) => p !== "");
    rows.push([words(`The book has ${parts.join(", ")}.`, faults + unmet > 0 ? "fault" : "gap")]);
  }
  rows.push([], [words("Mind", "title")]);
  for (const caution of [...book.cautions.filter((c) => c !== STANDING_CAUTION), STANDING_CAUTION])
    rows.push([words(caution, "caution")]);
  return rows;
}

/** Wide enough for the words and numbers that stand in a column, within reason. */
function widthsOf(rows: readonly (readonly SheetCell[])[]): number[] {
  const widths: number[] = [];
  for (const row of rows.slice(0, 500)) {
    row.forEach((cell, c) => {
      const shown =
        cell.value === null
          ? ""
          : typeof cell.value === "number"
            ? cell.value.toFixed(Math.min(6, cell.decimals ?? 6))
            : String(cell.value);
      const longest = shown.split("\n").reduce((n, line) => Math.max(n, [...line].length), 0);
      const most = cell.role === "title" ? 12 : cell.role === "remark" || cell.role === "caution" ? 50 : 44;
      widths[c] = Math.max(widths[c] ?? 8, Math.min(most, longest + 2));
    });
  }
  return widths.map((w) => w ?? 8);
}

export { headingOf, placeOfCell };
