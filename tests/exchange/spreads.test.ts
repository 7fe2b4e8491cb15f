import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { FOLLOWS } from "../../src/exchange/sheets/spreads";
import { workbookOf } from "../../src/exchange/workbook";
import { examples, open } from "./examples";
import { cellAt, cellsOf, changed, retyped, typedNumbers } from "./other-inputs";
import { recalculate } from "./recalculate";

/**
 * Uncertainties are changed in the spreadsheet and in the book: those of the computed values must follow alike. They are
 * shown with three digits. Of arithmetic they follow exactly. For a physics function the book takes the slope between
 * the two points one standard uncertainty off (JCGM 100:2008, 5.1.3, note 2), so that it moves a little with the
 * uncertainty itself, while the spreadsheet keeps the slope that went out.
 */
const SHOWN = 1e-3;
const measured = [...examples.keys()].filter((n) => typedNumbers(open(n), "uncertainties").length > 0);

describe("uncertainties in a spreadsheet", () => {
  it("are found in the examples", () => {
    expect(measured).toContain("harbour-gin");
  });

  it.each(measured)("follow those that go into them: %s", (name) => {
    const book = open(name);
    const old = workbookOf(book).workbook;
    const typed = typedNumbers(book, "uncertainties");
    for (const number of typed) {
      for (const factor of [0.5, 3]) {
        const now = workbookOf(book.edit(changed(book.text, [number], factor))).workbook;
        const { workbook, count } = retyped(old, now);
        const read = recalculate(workbook, new Map());
        for (const { at, cell } of cellsOf(old)) {
          if (cell.note !== FOLLOWS) continue;
          const want = cellAt(now, at)?.value as number;
          const where = `${number.says} times ${factor}: ${at.sheet} row ${at.row + 1}`;
          // An uncertainty inside a longer formula has no cell of its own, and its share stays.
          if (count === 0) continue;
          expect(Math.abs((read(at) as number) / want - 1), where).toBeLessThan(SHOWN);
        }
      }
    }
  });

  it("are written as the root of the sum of squares, with what the equations add", () => {
    const book = openBook(
      "set a = 3 ± 0.4 mL\nset b = 5 ± 0.3 mL\nset c = a - 2 * b\nset d = a + a\nset e = a - a\nset f = c + (1 ± 0.2 mL)\n",
    );
    const { workbook } = workbookOf(book);
    const rows = workbook.sheets.find((s) => s.name === "Values")!.rows;
    expect(rows.slice(1).map((r) => r[2]!.value)).toEqual([
      0.4,
      0.3,
      expect.closeTo(Math.hypot(0.4, 0.6), 12),
      expect.closeTo(0.8, 12),
      null,
      expect.closeTo(Math.hypot(0.4, 0.6, 0.2), 12),
    ]);
    expect(rows.map((r) => r[2]!.formula !== undefined)).toEqual([
      false,
      false,
      false,
      true,
      true,
      false,
      true,
    ]);
    const read = recalculate(workbook, new Map([["Values!1!2", 0.8]]));
    expect(read({ sheet: "Values", row: 3, column: 2 })).toBeCloseTo(1, 9);
    expect(read({ sheet: "Values", row: 4, column: 2 })).toBeCloseTo(1.6, 9);
  });

  it("stay as they were, and say so, beside a value that does", () => {
    const rows = workbookOf(openBook("set p = 30 ± 2 mbar\nset m = drift([p, 2 * p, 5 * p])\n")).workbook
      .sheets;
    const kept = rows
      .flatMap((s) => s.rows.flat())
      .filter((c) => c.note?.startsWith("Standard uncertainty when"));
    for (const cell of kept) {
      expect(cell.role).toBe("kept");
      expect(cell.formula).toBeUndefined();
    }
  });
});
