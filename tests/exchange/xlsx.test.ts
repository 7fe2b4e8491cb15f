import { strToU8, unzipSync, zipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writeXlsx } from "../../src/exchange/xlsx";
import {
  alone,
  has,
  needing,
  partOf,
  recalculatedByGnumeric,
  recalculatedByLibreOffice,
  seenByOpenpyxl,
  sweepScratch,
} from "./readers";
import { agree, controls, WORKBOOK } from "./sheets";

let bytes: Uint8Array;
beforeAll(async () => {
  bytes = await writeXlsx(WORKBOOK);
});
afterAll(sweepScratch);

/** The package without its stored values, so that a reader must calculate instead of echoing them. */
function withoutValues(packed: Uint8Array): Uint8Array {
  const parts = unzipSync(packed);
  for (const path of Object.keys(parts)) {
    if (!/worksheets\/sheet\d+\.xml$/.test(path)) continue;
    const xml = partOf(packed, path)
      .replace(/(<\/f>)<v>[^<]*<\/v>/g, "$1")
      .replace(/ t="(?:str|b)"(?=><f>)/g, "");
    parts[path] = strToU8(xml);
  }
  return zipSync(parts);
}

describe("an .xlsx file", () => {
  it("is the same, byte for byte, whenever it is written", async () => {
    expect(Buffer.compare(Buffer.from(bytes), Buffer.from(await writeXlsx(WORKBOOK)))).toBe(0);
  });

  it("has a stored value of the right type behind every formula", () => {
    let formulas = 0;
    for (const path of ["xl/worksheets/sheet1.xml", "xl/worksheets/sheet2.xml"]) {
      const xml = partOf(bytes, path);
      for (const cell of xml.match(/<c [^>]*>(?:(?!<\/c>).)*<f>.*?<\/c>/g) ?? []) {
        formulas++;
        expect(cell).toMatch(/<\/f><v>[^<]*<\/v><\/c>$/);
      }
    }
    expect(formulas).toBe(9);
    expect(partOf(bytes, "xl/worksheets/sheet1.xml")).toContain('t="b"><f>');
  });

  it("lists a type for each of its parts and a target for each relation", () => {
    const parts = Object.keys(unzipSync(bytes));
    const types = partOf(bytes, "[Content_Types].xml");
    for (const part of parts) {
      if (part === "[Content_Types].xml" || part.endsWith(".rels") || part.endsWith(".vml")) continue;
      expect(types, part).toContain(`PartName="/${part}"`);
    }
    for (const part of parts.filter((p) => p.endsWith(".rels"))) {
      const base = part.replace(/_rels\/[^/]*$/, "");
      for (const [, target] of partOf(bytes, part).matchAll(/Target="([^"]+)"/g)) {
        expect(parts).toContain(new URL(target!, `file:///${base}`).pathname.slice(1));
      }
    }
  });

  it("lets no control character, no number that is not finite and no foreign escape through", () => {
    for (const part of Object.keys(unzipSync(bytes))) expect(controls(partOf(bytes, part)), part).toBe("");
    expect(partOf(bytes, "xl/sharedStrings.xml")).toContain("_x005F_x0041_");
    const bad = {
      ...WORKBOOK,
      sheets: [{ ...WORKBOOK.sheets[0]!, rows: [[{ value: Number.NaN, role: "typed" as const }]] }],
    };
    return expect(writeXlsx(bad)).rejects.toThrow("not finite");
  });

  it("carries nothing of the library's own blank file", () => {
    const all = Object.keys(unzipSync(bytes))
      .map((p) => partOf(bytes, p))
      .join("");
    expect(all).not.toMatch(/djohnson|Calibri|absPath/);
  });

  it.skipIf(!has.openpyxl)(
    needing("openpyxl", has.openpyxl, "shows every stored value to a reader that does not calculate"),
    () => {
      const seen = seenByOpenpyxl(new Map([["it", bytes]])).get("it")!;
      agree(seen);
      const formulas = [...seen.values()].flat(2).filter((c) => c.formula !== null);
      expect(formulas.length).toBe(9);
      // A gap is the empty text; openpyxl shows that as nothing.
      expect(formulas.filter((c) => c.value === null).length).toBe(1);
    },
  );
  it.skipIf(!has.libreoffice || !has.openpyxl)(
    needing(
      "LibreOffice or openpyxl",
      has.libreoffice && has.openpyxl,
      "calculates to the same values in LibreOffice when its stored values are taken away",
    ),
    () => {
      agree(alone(recalculatedByLibreOffice, withoutValues(bytes), "xlsx"));
    },
  );
  it.skipIf(!has.gnumeric || !has.openpyxl)(
    needing(
      "Gnumeric or openpyxl",
      has.gnumeric && has.openpyxl,
      "calculates to the same values in Gnumeric when its stored values are taken away",
    ),
    () => {
      agree(alone(recalculatedByGnumeric, withoutValues(bytes), "xlsx"));
    },
  );
});
