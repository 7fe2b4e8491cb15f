import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { openBook, type TableItem } from "../../src/engine";
import { exportCsv } from "../../src/exchange/csv";
import { guarded, unguarded } from "../../src/exchange/csv-guard";
import { examples, open } from "./examples";

/** CSV as RFC 4180 has it, read back by rule. */
function parse(text: string): { text: string; quoted: boolean }[][] {
  const rows: { text: string; quoted: boolean }[][] = [[]];
  const cell = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n|$)/gy;
  while (cell.lastIndex < text.length) {
    const found = cell.exec(text);
    if (found === null) throw new Error(`not CSV at ${cell.lastIndex}`);
    rows[rows.length - 1]!.push({
      text: found[1]?.replaceAll('""', '"') ?? found[2]!,
      quoted: found[1] !== undefined,
    });
    if (found[3] === "\r\n") rows.push([]);
  }
  expect(rows.pop()).toEqual([]);
  return rows;
}

const RISKY = /^\s*[=+\-@＝＋－＠]|^[\t\r\n]/u;

describe("CSV", () => {
  it.each([...examples.keys()])("is well formed for the values and every table of %s", (name) => {
    const book = open(name);
    const tables = book.items.filter((i): i is TableItem => i.type === "table");
    for (const what of [undefined, ...tables.map((t) => t.name)]) {
      const rows = parse(exportCsv(book, what));
      for (const row of rows) {
        expect(row.length).toBe(rows[0]!.length);
        for (const cell of row) {
          if (cell.quoted) expect(RISKY.test(cell.text), cell.text).toBe(false);
          else if (cell.text !== "") expect(Number.isFinite(Number(cell.text)), cell.text).toBe(true);
        }
      }
      if (what !== undefined) {
        expect(rows.length).toBe(1 + tables.find((t) => t.name === what)!.rowCount);
      }
    }
  });

  it.each(["=1", " =1", "\u00a0@x", "＝1+1", "－2", "\t", "'=1", "''+1", "'", "''a", "a'=1", "", "x =1"])(
    "gives back what it guarded: %j",
    (text) => {
      expect(unguarded(guarded(text))).toBe(text);
      expect(RISKY.test(guarded(text))).toBe(false);
    },
  );

  it("leaves numbers alone, below nought too, and guards only text", () => {
    const book = openBook(
      'set cold = -15 °C\nset link = "=HYPERLINK(\\"x\\")"\nset plus = "+1"\nset said = "he said \\"no\\", twice"\n',
    );
    const rows = parse(exportCsv(book));
    const cell = (name: string) => rows.find((r) => r[0]!.text === name)![1]!;
    expect(cell("cold")).toEqual({ text: "-15", quoted: false });
    expect(cell("link").text).toBe(`'=HYPERLINK("x")`);
    expect(cell("plus").text).toBe("'+1");
    expect(cell("said").text).toBe('he said "no", twice');
  });

  it("keeps a row together whatever its text holds", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 24 }), (words) => {
        const safe = words.replace(/[\p{Cc}\p{Cs}\p{Cf}\ufffd\u2028\u2029]/gu, "").normalize("NFC");
        const book = openBook(`set a = "${safe.replace(/[\\"{}]/g, (c) => `\\${c}`)}"\n`);
        if (book.tally.faults > 0) return;
        const rows = parse(exportCsv(book));
        expect(rows.length).toBe(2);
        expect(rows[1]![1]!.text.replace(/^'(?=[=+\-@])/, "")).toBe(safe);
      }),
      { seed: 2, numRuns: 400 },
    );
  });

  it("names the tables there are when asked for another", () => {
    expect(() => exportCsv(open("harbour-gin"), "nothing")).toThrow(/no table called nothing/);
  });
});
