import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { openFormula, write } from "../../src/exchange/expression";
import { exportOds } from "../../src/exchange/ods";
import type { Workbook } from "../../src/exchange/sheet";
import { workbookOf } from "../../src/exchange/workbook";
import { exportXlsx } from "../../src/exchange/xlsx";
import { vocabulary } from "../../src/vocabulary";
import { examples, open } from "./examples";
import {
  has,
  needing,
  recalculatedByGnumeric,
  recalculatedByLibreOffice,
  type SeenBook,
  schemaComplaints,
  scratch,
  seenByOpenpyxl,
  sweepScratch,
} from "./readers";
import { placeOf, recalculate } from "./recalculate";

afterAll(sweepScratch);

/**
 * Every cell with a formula must show what our own working out of the cells comes to (`anew`), or what is stored
 * in it; `how` is the largest relative difference.
 */
function agrees(workbook: Workbook, seen: SeenBook, how: number, anew?: Reading): number {
  let formulas = 0;
  for (const sheet of workbook.sheets) {
    const rows = seen.get(sheet.name);
    // Slopes in helper cells are quotients of small differences.
    const within = sheet.name === "Working" ? 1000 * how : how;
    expect(rows, sheet.name).toBeDefined();
    sheet.rows.forEach((row, r) => {
      row.forEach((cell, c) => {
        if (cell.formula === undefined) return;
        formulas++;
        const got = rows![r]?.[c]?.value ?? null;
        const where = `${sheet.name} row ${r + 1} column ${c + 1}: ${write(cell.formula, openFormula, sheet.name)}`;
        if (cell.isDate) return;
        const want = anew === undefined ? cell.value : anew({ sheet: sheet.name, row: r, column: c });
        if (typeof want === "number") {
          expect(typeof got, `${where} is ${got}`).toBe("number");
          const apart = Math.abs((got as number) - want);
          expect(apart, `${where}: ${got}, not ${want}`).toBeLessThanOrEqual(
            within * Math.abs(want) + 0.01 * within,
          );
        } else if (typeof want === "boolean") expect(Boolean(got), where).toBe(want);
        else expect(got ?? "", where).toBe(want ?? "");
      });
    });
  }
  return formulas;
}

type Reading = ReturnType<typeof recalculate>;

/** No cell of any sheet shows a failure. */
function noFailures(seen: SeenBook): void {
  for (const [sheet, rows] of seen) {
    rows.forEach((row, r) => {
      for (const { value } of row) expect(String(value), `${sheet} row ${r + 1}`).not.toMatch(/^#|^Err:/);
    });
  }
}

describe.each([...examples.keys()])("the example %s, sent out", (name) => {
  const book = open(name);
  const { workbook, fates } = workbookOf(book);
  const anew = recalculate(workbook, new Map());

  it("is the same every time", async () => {
    expect(Buffer.compare(Buffer.from(exportOds(book)), Buffer.from(exportOds(open(name))))).toBe(0);
    expect(
      Buffer.compare(Buffer.from(await exportXlsx(book)), Buffer.from(await exportXlsx(open(name)))),
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

  it.skipIf(!has.schema || has.validator === undefined)(
    needing(
      "the OpenDocument schema or a validator",
      has.schema && has.validator !== undefined,
      "is valid OpenDocument 1.3",
    ),
    () => {
      expect(schemaComplaints(exportOds(book))).toEqual([]);
    },
  );

  it.skipIf(!has.libreoffice || !has.openpyxl)(
    needing(
      "LibreOffice or openpyxl",
      has.libreoffice && has.openpyxl,
      "recalculates to the same numbers in LibreOffice",
    ),
    () => {
      const seen = recalculatedByLibreOffice(exportOds(book), "ods");
      noFailures(seen);
      agrees(workbook, seen, 1e-7, anew);
    },
  );

  it.skipIf(!has.gnumeric || !has.openpyxl)(
    needing(
      "Gnumeric or openpyxl",
      has.gnumeric && has.openpyxl,
      "recalculates to the same numbers in Gnumeric",
    ),
    () => {
      const seen = recalculatedByGnumeric(exportOds(book), "ods");
      noFailures(seen);
      agrees(workbook, seen, 1e-7, anew);
    },
  );

  it.skipIf(!has.openpyxl)(
    needing("openpyxl", has.openpyxl, "carries a stored value in every formula cell of the .xlsx"),
    async () => {
      const file = join(scratch(), "out.xlsx");
      writeFileSync(file, await exportXlsx(book));
      const seen = seenByOpenpyxl(file);
      const sent = workbook.sheets.flatMap((s) => s.rows.flat()).filter((c) => c.formula !== undefined);
      const formulas = [...seen.values()].flat(2).filter((c) => c.formula !== null);
      expect(formulas.length).toBe(sent.length);
      // The empty text of a gap is shown as nothing.
      expect(formulas.filter((c) => c.value === null).length).toBe(sent.filter((c) => c.value === "").length);
      agrees(workbook, seen, 1e-12);
    },
  );
});
