import { strToU8, unzipSync, zipSync } from "fflate";
import { afterAll, describe, expect, it } from "vitest";
import { writeOds } from "../../src/exchange/ods";
import {
  alone,
  has,
  needing,
  partOf,
  recalculatedByGnumeric,
  recalculatedByLibreOffice,
  schemaComplaints,
  sweepScratch,
} from "./readers";
import { agree, controls, WORKBOOK } from "./sheets";

afterAll(sweepScratch);

const bytes = writeOds(WORKBOOK);

describe("an .ods file", () => {
  it("begins with its type, stored, so that any program can tell what it is", () => {
    const start = new TextDecoder("latin1").decode(bytes.slice(0, 90));
    expect(start.slice(0, 2)).toBe("PK");
    expect(bytes[8]! + bytes[9]! * 256, "stored").toBe(0);
    expect(bytes[28]! + bytes[29]! * 256, "no extra field").toBe(0);
    expect(start.slice(30, 84)).toBe("mimetypeapplication/vnd.oasis.opendocument.spreadsheet");
  });

  it("is the same, byte for byte, whenever it is written", () => {
    expect(Buffer.compare(Buffer.from(bytes), Buffer.from(writeOds(WORKBOOK)))).toBe(0);
  });

  it("lists exactly its parts in its manifest", () => {
    const listed = [...partOf(bytes, "META-INF/manifest.xml").matchAll(/full-path="([^"]+)"/g)].map(
      (m) => m[1]!,
    );
    const parts = Object.keys(unzipSync(bytes)).filter(
      (p) => p !== "mimetype" && p !== "META-INF/manifest.xml",
    );
    expect(listed.filter((p) => !p.endsWith("/")).sort()).toEqual(parts.sort());
    expect(new Set(listed).size).toBe(listed.length);
  });

  it("writes formulas in OpenFormula with the value beside each", () => {
    const content = partOf(bytes, "content.xml");
    const cells = [...content.matchAll(/<table:table-cell [^>]*table:formula="[^"]*"[^>]*>/g)].map(
      (m) => m[0],
    );
    expect(cells.length).toBe(9);
    for (const cell of cells)
      expect(cell).toMatch(/office:(value|boolean-value|string-value)="|value-type="string"/);
    expect(content).toContain('table:formula="of:=[.B2]*[.C2]/1000"');
    expect(content).toContain(`table:formula="of:=[$'Single distillates'.D4]&gt;30"`);
  });

  it("lets no control character and no markup of a text through", () => {
    const content = partOf(bytes, "content.xml");
    expect(controls(content)).toBe("");
    expect(content).toContain("=1+1 &amp; &lt;b&gt;&quot;two&quot;&lt;/b&gt;");
    expect(content).not.toContain("NaN");
  });

  it.skipIf(!has.jing)(
    needing("jing", has.jing, "is valid by the OpenDocument 1.3 schema, charts and manifest included"),
    () => {
      expect(schemaComplaints(new Map([["it", bytes]])).get("it")).toEqual([]);
    },
  );

  // One slip in each part that a schema checks: a misspelt attribute, an element out of place, a version.
  it.skipIf(!has.jing)(needing("jing", has.jing, "is checked by schemas that notice a slip"), () => {
    const slips: readonly [path: string, right: string, wrong: string][] = [
      ["meta.xml", "office:version", "office:versoin"],
      ["content.xml", "office:value-type", "office:value-typ"],
      ["styles.xml", "style:name", "style:nmae"],
      ["Object 1/content.xml", "chart:class", "chart:klass"],
      ["META-INF/manifest.xml", "manifest:media-type", "manifest:media-kind"],
      ["META-INF/manifest.xml", 'manifest:version="1.3"', 'manifest:version="1.4"'],
    ];
    const said = schemaComplaints(
      new Map(
        slips.map(([path, right, wrong], i) => {
          const part = partOf(bytes, path);
          expect(part, path).toContain(right);
          return [String(i), withPart(bytes, path, part.replace(right, wrong))];
        }),
      ),
    );
    slips.forEach(([path], i) => {
      const lines = said.get(String(i))!;
      expect(lines.length, path).toBeGreaterThanOrEqual(1);
      for (const line of lines) expect(line.startsWith(`${path}:`), line).toBe(true);
    });
  });

  it.skipIf(!has.libreoffice || !has.openpyxl)(
    needing(
      "LibreOffice or openpyxl",
      has.libreoffice && has.openpyxl,
      "recalculates to the same values in LibreOffice",
    ),
    () => agree(alone(recalculatedByLibreOffice, bytes, "ods")),
  );
  it.skipIf(!has.gnumeric || !has.openpyxl)(
    needing(
      "Gnumeric or openpyxl",
      has.gnumeric && has.openpyxl,
      "recalculates to the same values in Gnumeric",
    ),
    () => agree(alone(recalculatedByGnumeric, bytes, "ods")),
  );
});

function withPart(packed: Uint8Array, path: string, text: string): Uint8Array {
  return zipSync({ ...unzipSync(packed), [path]: strToU8(text) });
}
