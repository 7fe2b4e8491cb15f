import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openFormula, type Place, write } from "../../src/exchange/expression";
import { writeOds } from "../../src/exchange/ods";
import type { Workbook } from "../../src/exchange/sheet";
import { type ExportedBook, workbookOf } from "../../src/exchange/workbook";
import { writeXlsx } from "../../src/exchange/xlsx";
import { examples, open } from "./examples";
import { type Change, changeThree, compare } from "./other-inputs";
import {
  has,
  needing,
  type SeenBook,
  schemaComplaints,
  seenByOpenpyxl,
  suites,
  sweepScratch,
} from "./readers";
import { recalculate } from "./recalculate";

/**
 * Every example as other programs read it: a schema validator, a reader of stored values, and two office suites that
 * work it out anew, as it went out and with other inputs. Each program is started once for all the examples.
 */
afterAll(sweepScratch);

interface Sent {
  readonly out: ExportedBook;
  readonly bytes: Uint8Array;
  readonly by: Change;
}
const sent = new Map<string, Sent>();
const names = [...examples.keys()];

beforeAll(() => {
  for (const name of names) {
    const book = open(name);
    const out = workbookOf(book);
    const by = changeThree(book, out);
    if (by === undefined) throw new Error(`no inputs of ${name} can be changed`);
    sent.set(name, { out, bytes: writeOds(out.workbook), by });
  }
});

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
const inSuite =
  (seen: SeenBook) =>
  (at: Place): unknown =>
    seen.get(at.sheet)?.[at.row]?.[at.column]?.value;

/** No cell of any sheet shows a failure. */
function noFailures(seen: SeenBook): void {
  for (const [sheet, rows] of seen) {
    rows.forEach((row, r) => {
      for (const { value } of row) expect(String(value), `${sheet} row ${r + 1}`).not.toMatch(/^#|^Err:/);
    });
  }
}

describe("the examples by the OpenDocument 1.3 schema", () => {
  let complaints: Map<string, string[]>;
  beforeAll(() => {
    if (has.jing) complaints = schemaComplaints(new Map(names.map((n) => [n, sent.get(n)!.bytes])));
  });
  it.skipIf(!has.jing).each(names)(needing("jing", has.jing, "%s is valid"), (name) => {
    expect(complaints.get(name)).toEqual([]);
  });
});

describe("the examples as .xlsx", () => {
  let seen: Map<string, SeenBook>;
  beforeAll(async () => {
    if (!has.openpyxl) return;
    const files = new Map<string, Uint8Array>();
    for (const name of names) files.set(name, await writeXlsx(sent.get(name)!.out.workbook));
    seen = seenByOpenpyxl(files);
  });
  it.skipIf(!has.openpyxl).each(names)(
    needing("openpyxl", has.openpyxl, "%s carries a stored value in every cell with a formula"),
    (name) => {
      const { workbook } = sent.get(name)!.out;
      const cells = workbook.sheets.flatMap((s) => s.rows.flat()).filter((c) => c.formula !== undefined);
      const formulas = [...seen.get(name)!.values()].flat(2).filter((c) => c.formula !== null);
      expect(formulas.length).toBe(cells.length);
      // The empty text of a gap is shown as nothing.
      expect(formulas.filter((c) => c.value === null).length).toBe(
        cells.filter((c) => c.value === "").length,
      );
      agrees(workbook, seen.get(name)!, 1e-12);
    },
  );
});

describe.each(suites)("the examples in $suite", ({ suite, present, recalculated }) => {
  let asSent: Map<string, SeenBook>;
  let changed: Map<string, SeenBook>;
  let values = 0;
  beforeAll(() => {
    if (!present) return;
    const files = new Map(
      names.flatMap((n): [string, Uint8Array][] => [
        [`${n}, as sent`, sent.get(n)!.bytes],
        [`${n}, changed`, writeOds(sent.get(n)!.by.workbook)],
      ]),
    );
    const seen = recalculated(files, "ods");
    asSent = new Map(names.map((n) => [n, seen.get(`${n}, as sent`)!]));
    changed = new Map(names.map((n) => [n, seen.get(`${n}, changed`)!]));
  }, 900_000);
  afterAll(() => {
    if (present)
      console.log(`${suite}: ${names.length} examples with three other inputs, ${values} values compared.`);
  });

  it.skipIf(!present).each(names)(
    needing(suite, present, `%s is worked out anew to the same numbers in ${suite}`),
    (name) => {
      const { workbook } = sent.get(name)!.out;
      noFailures(asSent.get(name)!);
      const formulas = agrees(workbook, asSent.get(name)!, 1e-7, recalculate(workbook, new Map()));
      expect(formulas).toBeGreaterThan(0);
    },
  );

  it.skipIf(!present).each(names)(
    needing(suite, present, `%s follows three typed values at once in ${suite}`),
    (name) => {
      const { out, by } = sent.get(name)!;
      expect(by.count).toBe(3);
      const seen = compare(out, by, inSuite(changed.get(name)!));
      expect(seen.moved, by.says).toBeGreaterThan(0);
      values += seen.values;
    },
  );
});
