import { afterAll, describe, expect, it } from "vitest";
import { openBook, type TableItem } from "../../src/engine";
import { exportCsv } from "../../src/exchange/csv";
import { writeOds } from "../../src/exchange/ods";
import { exportReport } from "../../src/exchange/report";
import type { SheetCell, Workbook } from "../../src/exchange/sheet";
import { CHANGED, HOLDS, HOLDS_COLUMN } from "../../src/exchange/sheets/explanation";
import { workbookOf } from "../../src/exchange/workbook";
import { exportXlsx } from "../../src/exchange/xlsx";
import { examples, open } from "./examples";
import { alone, has, needing, recalculatedByLibreOffice, sweepScratch } from "./readers";
import { placeOf, recalculate } from "./recalculate";

/** What a collaborator finds in the file: sheets, headings, gaps that fill, values that own up to being stale. */
afterAll(sweepScratch);

const sheet = (workbook: Workbook, name: string) => workbook.sheets.find((s) => s.name === name)!;
const texts = (workbook: Workbook): string =>
  workbook.sheets
    .flatMap((s) => s.rows.flat())
    .map((c) => String(c.value ?? ""))
    .join("\n");
const find = (rows: readonly (readonly SheetCell[])[], words: string): number =>
  rows.findIndex((r) => String(r[0]?.value) === words);

describe("the sheets of a book", () => {
  it("has a cover, the values, a sheet for each table, checks, steps and an explanation", () => {
    const { workbook } = workbookOf(open("harbour-gin"));
    expect(workbook.sheets.map((s) => s.name)).toEqual([
      "Book",
      "Values",
      "Single distillates",
      ...workbook.sheets.slice(3).map((s) => s.name),
    ]);
    for (const name of ["Checks", "Explanation", "Coefficients"])
      expect(sheet(workbook, name), name).toBeDefined();
    const table = sheet(workbook, "Single distillates");
    expect(table.rows[0]!.map((c) => c.value)).toContain("volume (mL)");
    expect(table.frozen).toEqual({ rows: 1, columns: 1 });
  });

  it.each([...examples.keys()])("carries every caution of %s, and the standing one", (name) => {
    const book = open(name);
    const words = texts(workbookOf(book).workbook);
    for (const caution of book.cautions) expect(words).toContain(caution);
    expect(words).toMatch(/not tested|rely|check/i);
  });

  it.each([...examples.keys()])("holds no number that a file may not hold: %s", (name) => {
    for (const s of workbookOf(open(name)).workbook.sheets)
      for (const cell of s.rows.flat())
        if (typeof cell.value === "number") expect(Number.isFinite(cell.value)).toBe(true);
  });

  it("explains each formula that goes out live through a physics function: equation, source, trust", () => {
    const { workbook } = workbookOf(openBook("set q = 40 %vol\nset w = by_mass(q)\n"));
    const rows = sheet(workbook, "Explanation").rows;
    const row = rows[find(rows, "w")]!.map((c) => String(c.value ?? ""));
    expect(row[1]).toBe("by_mass(q)");
    expect(row[2]).toMatch(/^a live formula/);
    expect(row.join(" ")).toMatch(/OIML/);
    expect(row[5]).toContain("q = 40 %vol");
  });
});

describe("a gap", () => {
  const text = `set full = 1200 mL
set got = blank in mL
set share = got / full
table runs
| run | got (mL) |
| a   | 500      |
| b   |          |
column part = got / full
foot got = sum(got)
foot part = mean(part)
`;

  it("stands as an empty cell, and what needs it is empty too", () => {
    const book = openBook(text);
    expect(book.tally.faults, book.messages.map((m) => m.says).join("; ")).toBe(0);
    const { workbook } = workbookOf(book);
    const read = recalculate(workbook, new Map());
    expect(read(placeOf(workbook, "share"))).toBe("");
    expect(exportReport(book).share).toBe(1);
  });

  it("fills what needs it when a number is typed into the sheet", () => {
    const book = openBook(text);
    const { workbook } = workbookOf(book);
    const got = placeOf(workbook, "got");
    const table = workbook.sheets.find((s) => s.rows[0]?.some((c) => c.value === "got (mL)"))!;
    const column = table.rows[0]!.findIndex((c) => c.value === "got (mL)");
    const part = table.rows[0]!.findIndex((c) => String(c.value).startsWith("part"));
    const read = recalculate(
      workbook,
      new Map([
        [`${got.sheet}!${got.row}!${got.column}`, 600],
        [`${table.name}!2!${column}`, 300],
      ]),
    );
    const after = openBook(
      text.replace("blank in mL", "600 mL").replace("| b   |          |", "| b | 300 |"),
    );
    expect(after.value("share")).toMatchObject({ type: "quantity" });
    const number = (path: string): number => {
      const value = after.value(path);
      if (value?.type !== "quantity") throw new Error(path);
      return value.n.v;
    };
    expect(read(placeOf(workbook, "share"))).toBeCloseTo(number("share"), 12);
    expect(read({ sheet: table.name, row: 2, column: part })).toBeCloseTo(number("runs.b.part"), 12);
    expect(read({ sheet: table.name, row: 3, column })).toBeCloseTo(number("runs.foot.got"), 9);
    expect(read({ sheet: table.name, row: 3, column: part })).toBeCloseTo(number("runs.foot.part"), 12);
  });
});

describe("a value that does not recalculate", () => {
  const text = `set charge = 800 mL
set pot = 12 %vol
set pull = 40 mbar
set other = 3 g
set twice = 2 * other
set growth = can_grow(0.91, acidity: 5.5, kept_at: 4 °C)
set kept = simulate_nothing(charge)
`;
  // Whatever does not go out live today stands in the examples; one of them is taken as it is.
  const name = [...examples.keys()].find((n) => exportReport(open(n)).kept.length > 0);

  it.skipIf(name === undefined)("says why, in its note and in the explanation, and is slanted", () => {
    const { workbook, fates } = workbookOf(open(name!));
    const kept = fates.filter((f) => !f.live && !f.path.includes("`") && !f.path.startsWith("check"));
    expect(kept.length).toBeGreaterThan(0);
    for (const fate of kept) {
      const rows = sheet(workbook, "Values").rows;
      const row = rows[find(rows, fate.path)];
      if (row === undefined) continue;
      expect(row[1]!.formula).toBeUndefined();
      expect(row[1]!.role).toBe("kept");
      expect(row[1]!.note).toContain(fate.reason!);
    }
  });

  it.skipIf(name === undefined)("owns up when what it was made from has changed", () => {
    const { workbook, fates } = workbookOf(open(name!));
    const explanation = sheet(workbook, "Explanation");
    const rows = explanation.rows
      .map((row, r) => ({ row, r }))
      .filter(({ row }) => row[HOLDS_COLUMN]?.formula !== undefined);
    expect(rows.length).toBeGreaterThan(0);
    const asSent = recalculate(workbook, new Map());
    const at = (r: number) => ({ sheet: "Explanation", row: r, column: HOLDS_COLUMN });
    for (const { r } of rows) expect(asSent(at(r))).toBe(HOLDS);
    // Every typed number of the values is turned a little: every such value must say so.
    const changes = new Map<string, number>();
    sheet(workbook, "Values").rows.forEach((row, r) => {
      const cell = row[1];
      if (cell?.role === "typed" && typeof cell.value === "number" && !cell.isDate)
        changes.set(`Values!${r}!1`, cell.value * 1.01 + 0.001);
    });
    const changed = recalculate(workbook, changes);
    for (const { r } of rows) expect(changed(at(r))).toBe(CHANGED);
    const cover = sheet(workbook, "Book").rows.findIndex((row) => row[0]?.formula !== undefined);
    expect(asSent({ sheet: "Book", row: cover, column: 0 })).toMatch(/still holds/);
    expect(changed({ sheet: "Book", row: cover, column: 0 })).toMatch(/no longer hold/);
    expect(fates.some((f) => !f.live)).toBe(true);
  });

  it("never drags the book down: a fault goes out as its sentence", () => {
    const book = openBook(text);
    const { workbook } = workbookOf(book);
    const rows = sheet(workbook, "Values").rows;
    expect(rows[find(rows, "kept")]![1]!.role).toBe("fault");
    expect(rows[find(rows, "twice")]![1]!.formula).toBeDefined();
    expect(exportReport(book).kept.map((k) => k.path)).toContain("kept");
  });
});

describe("a long table", () => {
  const ROWS = 3_000;
  const long = `table log\n| n | volume (mL) | strength (%vol) |\n${Array.from(
    { length: ROWS },
    (_, i) => `| r${i} | ${100 + i} | ${20 + (i % 50)} |`,
  ).join("\n")}\ncolumn alcohol = volume * strength\nfoot alcohol = sum(alcohol)\n`;

  it("goes out live, plain arithmetic in every row", () => {
    const book = openBook(long);
    const { fates } = workbookOf(book);
    expect(fates.length).toBe(ROWS + 1);
    expect(fates.filter((f) => !f.live)).toEqual([]);
  });

  const helped = (rows: number): string =>
    `table log\n| n | strength (%vol) |\n${Array.from({ length: rows }, (_, i) => `| r${i} | ${20 + (i % 50)} |`).join("\n")}\ncolumn mass = by_mass(strength)\nset q = 40 %vol\nset w = by_mass(q)\n`;

  it("goes out live with helper cells in every row, while they are not too many", () => {
    const report = exportReport(openBook(helped(ROWS)));
    expect(report.kept).toEqual([]);
    expect(report.computed).toBe(ROWS + 1);
  });

  it("keeps a whole column as values when its helper cells would be too many, and says so", () => {
    const rows = 20_000;
    const report = exportReport(openBook(helped(rows)));
    expect(report.kept.length).toBe(rows);
    expect(report.kept.every((k) => /too many rows/.test(k.reason))).toBe(true);
    expect(report.live).toBe(1);
  });

  it.skipIf(!has.libreoffice || !has.openpyxl)(
    needing("LibreOffice", has.libreoffice && has.openpyxl, "opens in LibreOffice and in openpyxl"),
    async () => {
      const book = openBook(long);
      const table = book.items.find((i): i is TableItem => i.type === "table")!;
      const seen = alone(recalculatedByLibreOffice, writeOds(workbookOf(book).workbook), "ods");
      const foot = seen.get("log")![ROWS + 1]![3]!.value as number;
      const want = table.feet.get("alcohol")!.shown.value;
      expect(want.type === "quantity" ? Math.abs(foot / want.n.v - 1) : 1).toBeLessThan(1e-12);
      expect((await exportXlsx(book)).length).toBeGreaterThan(10_000);
    },
  );
});

describe("what a book cannot take", () => {
  const book = openBook(`set c = = 3
set b = 5 mml
table log "Log"
| item | on (date)  | volume (mL)  | n   |
| a    | 3/2/2026   | 5            | =1+ |
| b    | 2026-02-03 | 6 spoons old | 3   |
`);
  const { sheets } = workbookOf(book).workbook;
  const rows = (name: string) => sheets.find((s) => s.name === name)!.rows;

  it("goes out as it was typed, marked, with what is wrong in a note", () => {
    const log = rows("Log");
    for (const [cell, text, note] of [
      [log[1]![1], "3/2/2026", /no way to write a date/],
      [log[1]![3], "=1+", /expected/],
      [log[2]![2], "6 spoons old", /begins like a number/],
      [rows("Values")[1]![1], "= 3", /inside one/],
      [rows("Values")[2]![1], "5 mml", /no unit/],
    ] as const) {
      expect(cell).toMatchObject({ value: text, role: "fault" });
      expect(cell!.formula).toBeUndefined();
      expect(cell!.note).toMatch(note);
    }
  });

  it("stands in CSV too, guarded, beside its message", () => {
    const lines = exportCsv(book).split("\r\n");
    expect(lines).toContainEqual(expect.stringMatching(/^"log\.a\.on","3\/2\/2026",,,"fault","`3\/2\/2026`/));
    expect(lines).toContainEqual(expect.stringMatching(/^"log\.a\.n","'=1\+",,,"fault",/));
    expect(exportCsv(book, "log").split("\r\n")[1]).toBe(`"a","3/2/2026",5,"'=1+"`);
  });
});
