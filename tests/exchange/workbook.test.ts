import { describe, expect, it } from "vitest";
import { openFormula, write } from "../../src/exchange/expression";
import { exportOds, writeOds } from "../../src/exchange/ods";
import { workbookOf } from "../../src/exchange/workbook";
import { exportXlsx, writeXlsx } from "../../src/exchange/xlsx";
import { vocabulary } from "../../src/vocabulary";
import { examples, open } from "./examples";
import { placeOf, recalculate } from "./recalculate";

describe.each([...examples.keys()])("the example %s, sent out", (name) => {
  const book = open(name);
  const { workbook, fates } = workbookOf(book);
  const anew = recalculate(workbook, new Map());

  it("is the same every time", async () => {
    expect(Buffer.compare(Buffer.from(writeOds(workbook)), Buffer.from(exportOds(open(name))))).toBe(0);
    expect(
      Buffer.compare(Buffer.from(await writeXlsx(workbook)), Buffer.from(await exportXlsx(open(name)))),
    ).toBe(0);
  });

  it("never says that its own translation came to another value", () => {
    for (const fate of fates) {
      expect(fate.reason ?? "", fate.path).not.toMatch(
        /would make|fails in a spreadsheet|something else|no number in/,
      );
    }
  });

  it("comes to the book's values within the stated errors when it is worked out anew", () => {
    const errors = new Map(fates.map((f) => [f.path, f.error]));
    for (const row of workbook.sheets.find((s) => s.name === "Values")?.rows ?? []) {
      const path = String(row[0]?.value);
      const { value, formula } = row[1] ?? {};
      if (formula === undefined || typeof value !== "number") continue;
      const got = anew(placeOf(workbook, path));
      expect(typeof got, path).toBe("number");
      const zero = /^[°]/.test(String(row[3]?.value)) ? 273.15 : 0;
      const within = Math.max(1e-7, errors.get(path) ?? 0) * (Math.abs(value) + zero) + 1e-9;
      expect(Math.abs((got as number) - value), `${path}: ${got}, not ${value}`).toBeLessThanOrEqual(within);
    }
  });

  it("says nothing is stale before anything was changed", () => {
    for (const sheet of workbook.sheets) {
      if (sheet.name !== "Explanation" && sheet.name !== "Book") continue;
      sheet.rows.forEach((row, r) => {
        row.forEach((cell, c) => {
          if (cell.formula === undefined) return;
          expect(anew({ sheet: sheet.name, row: r, column: c })).toBe(cell.value);
        });
      });
    }
  });

  it("uses none of the functions of our own vocabulary", () => {
    for (const sheet of workbook.sheets) {
      for (const cell of sheet.rows.flat()) {
        if (cell.formula === undefined) continue;
        const bare = write(cell.formula, openFormula, sheet.name).replace(/"(?:[^"]|"")*"|\[[^\]]*\]/g, "");
        for (const [word] of bare.matchAll(/[A-Za-z_][A-Za-z_0-9]*(?=\()/g)) {
          expect(word).toBe(word.toUpperCase());
          if (vocabulary.has(word)) throw new Error(word);
        }
      }
    }
  });
});
