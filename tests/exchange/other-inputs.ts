import { expect } from "vitest";
import type { Statement } from "../../grammar";
import type { Book } from "../../src/engine";
import type { Expression, Place } from "../../src/exchange/expression";
import type { SheetCell, Workbook } from "../../src/exchange/sheet";
import { FOLLOWS } from "../../src/exchange/sheets/spreads";
import { type ExportedBook, workbookOf } from "../../src/exchange/workbook";

/**
 * A typed value is changed in the spreadsheet, and the same one in the book: what the spreadsheet then works out
 * must be what the book then says, within the stated error of each value.
 */
const FACTORS = [1.02, 0.97, 1.004];
/** Of the values made from inexact cells the error is known where the book stood when it went out. */
const ROOM = 4;

export interface Typed {
  /** Offset in the book. */
  readonly at: number;
  readonly digits: string;
  readonly says: string;
}

/** Every typed number of a book that is not nought: values and cells of tables; or the uncertainty of each. */
export function typedNumbers(book: Book, which: "values" | "uncertainties" = "values"): Typed[] {
  const out: Typed[] = [];
  const add = (
    statement: Statement,
    node: { digits: string; span: { from: number } },
    says: string,
  ): void => {
    const at = statement.at + node.span.from;
    if (Number(node.digits) !== 0 && book.text.startsWith(node.digits, at))
      out.push({ at, digits: node.digits, says });
  };
  for (const item of book.items) {
    const { node } = item.statement;
    if (node.type === "set") {
      const { formula } = node;
      const [of, by] = formula.type === "spread" ? [formula.of, formula.by] : [formula];
      const number = which === "values" ? of : by;
      if (number?.type === "number") add(item.statement, number, `set ${node.name}`);
    }
    if (item.type !== "table") continue;
    item.tree.rows.forEach((row, r) => {
      row.node.cells.forEach((cell, c) => {
        if (cell.content.type !== "quantity") return;
        const number = which === "values" ? cell.content.of : cell.content.by;
        if (number !== undefined) add(row, number, `${item.name} row ${r + 1} column ${c + 1}`);
      });
    });
  }
  return out;
}

export function changed(text: string, numbers: readonly Typed[], factor: number): string {
  let out = text;
  for (const { at, digits } of [...numbers].sort((a, b) => b.at - a.at)) {
    const next = String(Number((Number(digits) * factor).toPrecision(6)));
    out = out.slice(0, at) + next + out.slice(at + digits.length);
  }
  return out;
}

const PLAIN = new Set(["Book", "Explanation", "Working", "Coefficients", "Charts"]);
const key = (at: Place): string => `${at.sheet}!${at.row}!${at.column}`;
export function* cellsOf(workbook: Workbook): Generator<{ at: Place; cell: SheetCell }> {
  for (const sheet of workbook.sheets) {
    for (const [row, cells] of sheet.rows.entries())
      for (const [column, cell] of cells.entries()) yield { at: { sheet: sheet.name, row, column }, cell };
  }
}
export const cellAt = (workbook: Workbook, at: Place): SheetCell | undefined =>
  workbook.sheets.find((s) => s.name === at.sheet)?.rows[at.row]?.[at.column];

/** The workbook as it went out, with the typed cells of another one. */
export function retyped(old: Workbook, now: Workbook): { workbook: Workbook; count: number } {
  let count = 0;
  const sheets = old.sheets.map((sheet) => ({
    ...sheet,
    rows: sheet.rows.map((row, r) =>
      row.map((cell, c) => {
        const next = cellAt(now, { sheet: sheet.name, row: r, column: c });
        if (cell.role !== "typed" || next?.role !== "typed" || next.value === cell.value) return cell;
        count++;
        return { ...cell, value: next.value };
      }),
    ),
  }));
  return { workbook: { ...old, sheets }, count };
}

/** Cells whose value rests on one that does not follow. */
function tainted(old: Workbook, now: Workbook): Set<string> {
  const done = new Map<string, boolean>();
  const reads = (e: Expression): boolean => {
    switch (e.type) {
      case "cell":
        return isTainted(e.at);
      case "range":
        for (let row = e.from.row; row <= e.to.row; row++)
          for (let column = e.from.column; column <= e.to.column; column++)
            if (isTainted({ sheet: e.from.sheet, row, column })) return true;
        return false;
      case "negate":
        return reads(e.of);
      case "operation":
        return reads(e.left) || reads(e.right);
      case "call":
        return e.arguments.some(reads);
      default:
        return false;
    }
  };
  const isTainted = (at: Place): boolean => {
    const known = done.get(key(at));
    if (known !== undefined) return known;
    const cell = cellAt(old, at);
    const next = cellAt(now, at);
    let is = false;
    if (cell?.formula !== undefined) is = reads(cell.formula);
    else if (cell !== undefined && cell.role !== "typed" && !PLAIN.has(at.sheet))
      is = next === undefined || next.value !== cell.value;
    done.set(key(at), is);
    return is;
  };
  const out = new Set<string>();
  for (const { at, cell } of cellsOf(old)) if (cell.formula !== undefined && isTainted(at)) out.add(key(at));
  return out;
}

export interface Change {
  readonly says: string;
  readonly now: ExportedBook;
  /** The workbook as it went out, with the changed cells. */
  readonly workbook: Workbook;
  /** How many cells were changed. */
  readonly count: number;
}

/** Changes that keep the book what it is: nothing new is at fault, and every cell stays in its place. */
export function change(book: Book, old: ExportedBook, numbers: readonly Typed[]): Change | undefined {
  for (const factor of FACTORS) {
    const next = book.edit(changed(book.text, numbers, factor));
    if (next.tally.faults > book.tally.faults || next.tally.gaps !== book.tally.gaps) continue;
    const now = workbookOf(next);
    const { workbook, count } = retyped(old.workbook, now.workbook);
    if (count === 0) continue;
    return { says: `${numbers.map((n) => n.says).join(", ")} times ${factor}`, now, workbook, count };
  }
  return undefined;
}

/**
 * Three typed numbers at once, from the beginning, the middle and the end of a book; where that makes another book of
 * it (a row too many is chosen, a run has no end), the three after them, and so on. All that there are when they are fewer.
 */
export function changeThree(book: Book, old: ExportedBook): Change | undefined {
  const numbers = typedNumbers(book);
  for (let shift = 0; shift < numbers.length; shift++) {
    const three = [0.2, 0.5, 0.8].map(
      (part) => numbers[(Math.floor(part * numbers.length) + shift) % numbers.length]!,
    );
    const by = change(book, old, [...new Set(three)]);
    if (by !== undefined && by.count === Math.min(3, numbers.length)) return by;
  }
  return undefined;
}

/** How much was compared, and how much of it is no longer as it went out. */
export interface Compared {
  readonly values: number;
  readonly moved: number;
}

/** Compares what was recalculated with what the book says after the same change. */
export function compare(old: ExportedBook, by: Change, read: (at: Place) => unknown): Compared {
  const errors = new Map(old.fates.map((f) => [f.path, f.error]));
  const skip = tainted(old.workbook, by.now.workbook);
  const most = Math.max(0, ...old.fates.map((f) => f.error));
  let values = 0;
  let moved = 0;
  for (const { at, cell } of cellsOf(old.workbook)) {
    if (cell.formula === undefined || PLAIN.has(at.sheet) || skip.has(key(at))) continue;
    // How strongly an uncertainty counts stays as it was; see spreads.test.ts.
    if (cell.note === FOLLOWS) continue;
    const want = cellAt(by.now.workbook, at)?.value;
    const got = read(at);
    const path = at.sheet === "Values" ? cellAt(old.workbook, { ...at, column: 0 })?.value : undefined;
    const where = `${by.says}: ${at.sheet} row ${at.row + 1} column ${at.column + 1} (${String(path)})`;
    if (typeof want === "number") {
      const error = typeof path === "string" ? (errors.get(path) ?? 0) : most;
      const unit = at.sheet === "Values" ? cellAt(old.workbook, { ...at, column: 3 })?.value : "";
      const zero = /^°[CF]/.test(String(unit)) ? 273.15 : 0;
      expect(typeof got, `${where} is ${String(got)}`).toBe("number");
      const apart = Math.abs((got as number) - want);
      const within = Math.max(2e-7, ROOM * error) * (Math.abs(want) + zero) + 1e-9;
      expect(apart, `${where}: ${String(got)}, not ${want}`).toBeLessThanOrEqual(within);
      values++;
      if (want !== cell.value) moved++;
    } else if (typeof want === "boolean") {
      // Some suites keep a truth as 1 or 0 under a format that shows the word.
      expect(got === want || got === Number(want), `${where} is ${String(got)}`).toBe(true);
    } else if (cell.isDate === true || at.sheet === "Steps") continue;
    else expect(String(got ?? ""), where).toBe(String(want ?? ""));
  }
  return { values, moved };
}
