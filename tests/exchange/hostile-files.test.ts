import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { exportCsv } from "../../src/exchange/csv";
import { exportOds } from "../../src/exchange/ods";
import { proposeTable, readPastedTables, readTables } from "../../src/exchange/tables-in";
import { exportXlsx } from "../../src/exchange/xlsx";
import { Trouble } from "../../src/quantity";
import { open } from "./examples";
import { dice, odsNumber, odsOf, odsRow, odsText, xlsxOf, zipped } from "./foreign";

/**
 * Files that are damaged, hostile or absurd. Each is either read or turned away with a sentence for its owner;
 * nothing else may be thrown, and one that hangs runs into the runner's own time limit.
 */

type Outcome = "read" | string;
function outcome(bytes: Uint8Array, name: string): Outcome {
  let out: Outcome = "read";
  try {
    for (const found of readTables(bytes, name)) proposeTable(found);
  } catch (error) {
    if (!(error instanceof Trouble)) throw error;
    expect(error.says).not.toMatch(/undefined|\[object|\p{Cc}/u);
    expect(error.help).toBeTruthy();
    out = error.code;
  }
  return out;
}

const text = (s: string): Uint8Array => strToU8(s);
const rows = [
  ["Item", "Volume (ml)", "ABV"],
  ["juniper", 2400, 61.2],
  ["lemon", 350, 49.5],
];

async function seeds(): Promise<Map<string, Uint8Array>> {
  const gin = open("harbour-gin");
  return new Map<string, Uint8Array>([
    ["a.xlsx", await exportXlsx(gin)],
    ["b.ods", exportOds(gin)],
    ["c.xlsx", xlsxOf(rows)],
    [
      "d.ods",
      odsOf(odsRow(odsText("Item"), odsText("Volume (ml)")) + odsRow(odsText("juniper"), odsNumber(2400))),
    ],
    ["e.csv", text(exportCsv(gin))],
    [
      "f.html",
      text("<table><tr><th>Item<th>Volume (ml)<tr><td rowspan=2>a<td>1&nbsp;234<tr><td>3</table>".repeat(4)),
    ],
  ]);
}

/** One way to damage bytes, chosen by the dice. */
function damage(bytes: Uint8Array, roll: () => number): Uint8Array {
  const at = Math.floor(roll() * bytes.length);
  const length = 1 + Math.floor(roll() * 64);
  const out = bytes.slice();
  switch (Math.floor(roll() * 6)) {
    case 0:
      return bytes.slice(0, at);
    case 1:
      for (let i = 0; i < length; i++) out[Math.floor(roll() * out.length)] = Math.floor(roll() * 256);
      return out;
    case 2:
      return out.fill(0, at, at + length);
    case 3:
      return Uint8Array.from([...out.subarray(0, at), ...out.subarray(at + length)]);
    case 4:
      return Uint8Array.from([...out.subarray(0, at), ...out.subarray(at, at + length), ...out.subarray(at)]);
    default:
      // The end of a package, where its directory stands.
      for (let i = 0; i < 4; i++)
        out[Math.max(0, out.length - 1 - Math.floor(roll() * 120))] = Math.floor(roll() * 256);
      return out;
  }
}

const ODD = [
  "-1",
  "0",
  "1e308",
  "1e999",
  "NaN",
  "99999999999",
  "XFD1048576",
  "ZZZZZZZ1",
  "A0",
  "",
  "&#0;",
  "&#x110000;",
  "&evil;",
  "<c>",
  "</row>",
  "<![CDATA[",
  "<!--",
  "\u0000",
  "\u202e",
  "&#xD800;",
  "_xD800_",
];

/** Damages the XML inside a package and packs it again, so that the reader gets past the checksums. */
function damageInside(bytes: Uint8Array, roll: () => number): Uint8Array {
  const parts = unzipSync(bytes);
  const paths = Object.keys(parts).filter((p) => /sheet|content|workbook|shared|styles/.test(p));
  const path = paths[Math.floor(roll() * paths.length)]!;
  let xml = strFromU8(parts[path]!);
  for (let i = 0; i < 1 + Math.floor(roll() * 3); i++) {
    const at = Math.floor(roll() * xml.length);
    const odd = ODD[Math.floor(roll() * ODD.length)]!;
    switch (Math.floor(roll() * 4)) {
      case 0:
        xml = xml.slice(0, at) + xml.slice(at + 1 + Math.floor(roll() * 40));
        break;
      case 1:
        xml = xml.slice(0, at) + odd + xml.slice(at);
        break;
      case 2: {
        // A number or a reference becomes an absurd one.
        const found = /"[A-Z]{0,3}\d+"/g;
        found.lastIndex = at;
        const hit = found.exec(xml);
        if (hit !== null) xml = xml.slice(0, hit.index + 1) + odd + xml.slice(hit.index + hit[0].length - 1);
        break;
      }
      default:
        xml = xml.slice(0, at) + xml.slice(Math.max(0, at - 200), at) + xml.slice(at);
    }
  }
  return zipSync({ ...parts, [path]: strToU8(xml) });
}

describe("files that were damaged on the way", () => {
  it("are read or turned away with a sentence: 900 of them", async () => {
    const roll = dice(20260209);
    const seen = new Map<Outcome, number>();
    let count = 0;
    for (const [name, bytes] of await seeds()) {
      for (let i = 0; i < 150; i++) {
        const zip = name.endsWith("x") || name.endsWith("s");
        const bad = zip && i % 2 === 0 ? damageInside(bytes, roll) : damage(bytes, roll);
        const got = outcome(bad, name);
        seen.set(got, (seen.get(got) ?? 0) + 1);
        count++;
      }
    }
    const outcomes = [...seen].map(([outcome, n]) => `${n} ${outcome}`).join(", ");
    console.log(`${count} damaged files: ${outcomes}.`);
    expect(count).toBe(900);
    expect(seen.get("table-file-damaged")).toBeGreaterThan(100);
    expect(seen.get("read")).toBeGreaterThan(50);
  }, 300_000);
});

/** Numbers of a zip header, to lie with. */
function patched(bytes: Uint8Array, signature: number, offset: number, value: number): Uint8Array {
  const out = bytes.slice();
  const view = new DataView(out.buffer);
  for (let at = 0; at + 4 < out.length; at++)
    if (view.getUint32(at, true) === signature) view.setUint32(at + offset, value, true);
  return out;
}
const CENTRAL = 0x02014b50;

describe("files made to do harm", () => {
  it("a bomb is turned away by what its directory says, before anything unfolds", () => {
    const bomb = zipSync({
      "xl/workbook.xml": strToU8("<workbook/>"),
      "xl/_rels/workbook.xml.rels": strToU8("<r/>"),
      "xl/sharedStrings.xml": new Uint8Array(130 * 1024 * 1024),
    });
    expect(outcome(bomb, "x.xlsx")).toBe("table-file-too-large");
    const dense = zipSync({
      "xl/workbook.xml": strToU8("<workbook/>"),
      "xl/_rels/workbook.xml.rels": strToU8("<r/>"),
      "xl/sharedStrings.xml": new Uint8Array(20 * 1024 * 1024),
    });
    expect(outcome(dense, "x.xlsx")).toBe("table-file-too-large");
  });

  it("a bomb that lies about its size is damage", () => {
    const big = xlsxOf(rows, {
      parts: { "xl/sharedStrings.xml": `<sst>${"<si><t>a</t></si>".repeat(50_000)}</sst>` },
    });
    expect(outcome(patched(big, CENTRAL, 24, 100), "x.xlsx")).toBe("table-file-damaged");
    expect(outcome(patched(big, CENTRAL, 24, 0xfffffff0), "x.xlsx")).toBe("table-file-too-large");
    expect(outcome(patched(big, CENTRAL, 42, 0xfffffff0), "x.xlsx")).toBe("table-file-damaged");
    expect(outcome(patched(big, CENTRAL, 16, 1), "x.xlsx")).toBe("table-file-damaged");
    expect(outcome(patched(big, CENTRAL, 28, 0xffffffff), "x.xlsx")).toBe("table-file-damaged");
  });

  it("a locked file is called locked", () => {
    expect(outcome(patched(xlsxOf(rows), CENTRAL, 8, 0x00080001), "x.xlsx")).toBe("table-file-locked");
    expect(outcome(zipped({ EncryptedPackage: "x" }), "x.xlsx")).toBe("table-file-locked");
    expect(outcome(Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1), "x.xlsx")).toBe(
      "table-file-locked",
    );
  });

  it.each([
    ["a document type", "<!DOCTYPE x>"],
    ["entities that unfold", '<!DOCTYPE x [<!ENTITY a "aa"><!ENTITY b "&a;&a;">]>'],
    ["an outside entity", '<!DOCTYPE x SYSTEM "file:///etc/passwd">'],
  ])("%s is refused", (_, door) => {
    expect(outcome(odsOf(odsRow(odsText("a"), odsText("b")), door), "x.ods")).toBe("table-file-refused");
  });

  it("elements nested without end are refused", () => {
    expect(outcome(odsOf("<a>".repeat(20_000) + "</a>".repeat(20_000)), "x.ods")).toBe("table-file-refused");
  });

  it.each([
    [
      "rows and cells repeated by the million",
      odsOf(
        '<table:table-row table:number-rows-repeated="1000000"><table:table-cell table:number-columns-repeated="1000" office:value-type="float" office:value="1"/></table:table-row>',
      ),
    ],
    [
      "cells far apart",
      xlsxOf([], {
        parts: {
          "xl/worksheets/sheet1.xml": `<worksheet><sheetData>${Array.from({ length: 60_000 }, (_, i) => `<row r="${i + 1}"><c r="IV${i + 1}"><v>1</v></c></row>`).join("")}</sheetData></worksheet>`,
        },
      }),
    ],
    [
      "a cell in the last corner",
      xlsxOf([], {
        parts: {
          "xl/worksheets/sheet1.xml":
            '<worksheet><sheetData><row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData></worksheet>',
        },
      }),
    ],
    ["two hundred columns", text(`${"a,".repeat(200)}\n${"1,".repeat(200)}\n${"1,".repeat(200)}`)],
    [
      "a hundred sheets",
      xlsxOf([], {
        sheets: Object.fromEntries(Array.from({ length: 100 }, (_, i) => [`s${i}`, rows])),
      }),
    ],
    [
      "thousands of parts",
      zipSync(Object.fromEntries(Array.from({ length: 2_500 }, (_, i) => [`p${i}`, new Uint8Array(0)]))),
    ],
    ["more bytes than are read", new Uint8Array(31 * 1024 * 1024)],
    ["more rows than are read", text("a,b\n".repeat(100_500))],
  ])("%s are too large", (_, bytes) => {
    expect(outcome(bytes, "x")).toBe("table-file-too-large");
  });

  it.each([
    [
      "a part that goes out of the folder",
      zipped({ "../../etc/passwd": "x", "xl/workbook.xml": "<workbook/>" }),
    ],
    ["no sheets", xlsxOf([], { sheets: {} })],
    [
      "a sheet that is itself the workbook",
      xlsxOf(rows, {
        parts: {
          "xl/_rels/workbook.xml.rels": '<R><Relationship Id="rId1" Target="workbook.xml"/></R>',
        },
      }),
    ],
    [
      "a sheet elsewhere",
      xlsxOf(rows, {
        parts: {
          "xl/_rels/workbook.xml.rels":
            '<R><Relationship Id="rId1" TargetMode="External" Target="https://evil.example/x.xml"/></R>',
        },
      }),
    ],
    [
      "strings that are not there",
      xlsxOf([
        [{ xml: '<c t="s"><v>99</v></c>' }, "a"],
        ["b", "c"],
      ]),
    ],
    [
      "days that never were",
      xlsxOf(
        [
          ["day", "n"],
          [{ xml: '<c s="1"><v>-99999999</v></c>' }, 1],
        ],
        { formats: ["yyyy"] },
      ),
    ],
    [
      "numbers that are none",
      xlsxOf([
        ["a", "b"],
        ["c", { xml: "<c><v>1e999</v></c>" }],
      ]),
    ],
    ["XML that is none", xlsxOf([], { parts: { "xl/workbook.xml": "{}" } })],
    [
      "a lone half of a pair",
      xlsxOf([
        ["a\ud800", "b"],
        ["c", "d _xD800_"],
      ]),
    ],
    ["quotes without end", text(`a,b\n${'"x\n'.repeat(5_000)}`)],
    ["a page of open tags", text(`<table>${"<td><script>".repeat(20_000)}`)],
    ["a page of tables in tables", text("<table><tr><td>".repeat(20_000))],
    ["spans without measure", text("<table><tr><td colspan=9999 rowspan=9999>a<td>b<tr><td>c</table>")],
    ["a heading without end", text(`${"(".repeat(9_000)},b\n1,2\n3,4\n`)],
    ["a cell of noughts", text(`a,b\n${"0".repeat(9_000)},${"1".repeat(9_000)}\n3,4\n`)],
    ["blanks only", text(" \t \n\t\t\n   ")],
  ])("%s harm nothing", (_, bytes) => {
    outcome(bytes, "x");
  });

  it("what is pasted is held to the same", () => {
    const roll = dice(7);
    for (let i = 0; i < 200; i++) {
      const letters = Array.from(
        { length: Math.floor(roll() * 300) },
        () => "<>/=\"'&;\t\n, tabledr013.%°|#"[Math.floor(roll() * 28)],
      ).join("");
      for (const html of [undefined, `<table>${letters}</table>`]) {
        try {
          for (const found of readPastedTables(letters, html)) proposeTable(found);
        } catch (error) {
          if (!(error instanceof Trouble)) throw error;
        }
      }
    }
  });
});
