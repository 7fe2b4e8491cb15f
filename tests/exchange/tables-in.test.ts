import { execFileSync } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, describe, expect, it } from "vitest";
import { type Book, openBook, type TableItem } from "../../src/engine";
import { exportCsv } from "../../src/exchange/csv";
import { exportOds } from "../../src/exchange/ods";
import {
  type ProposalOptions,
  proposeTable,
  readPastedTables,
  readTables,
  type TableProposal,
} from "../../src/exchange/tables-in";
import { exportXlsx } from "../../src/exchange/xlsx";
import { vocabulary } from "../../src/vocabulary";
import { examples, open } from "./examples";
import { odsNumber, odsOf, odsRow, odsText, xlsxOf } from "./foreign";
import { has, needing, scratch, sweepScratch } from "./readers";

afterAll(sweepScratch);

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const csv = (text: string, options?: ProposalOptions): TableProposal =>
  proposeTable(readTables(bytes(text), "trial.csv")[0]!, options);

/** The proposed table standing in a book of its own. */
function inBook(proposal: TableProposal): { book: Book; table: TableItem } {
  const book = openBook(proposal.statement);
  const bad = book.messages.filter((m) => m.severity === "fault").map((m) => m.says);
  expect(bad, proposal.statement).toEqual([]);
  const table = book.items.find((i): i is TableItem => i.type === "table");
  expect(table, proposal.statement).toBeDefined();
  expect(table!.rowCount, proposal.statement).toBe(proposal.rowCount);
  return { book, table: table! };
}
const cells = (proposal: TableProposal): string[][] => {
  const { table } = inBook(proposal);
  return Array.from({ length: table.rowCount }, (_, r) =>
    table.columns.map((_c, c) => (c === 0 ? table.rowName(r) : table.cell(r, c).text)),
  );
};
const units = (proposal: TableProposal): string[] => proposal.columns.map((c) => c.unit);

describe("headings", () => {
  it.each([
    ["Volume (ml)", "volume", "mL"],
    ["Volume [ml]", "volume", "mL"],
    ["Volume, ml", "volume", "mL"],
    ["Volume ml", "volume", "mL"],
    ["Vol. in litres", "vol", "L"],
    ["ABV", "strength", "%vol"],
    ["Strength (% ABV)", "strength", "%vol"],
    ["% vol.", "strength", "%vol"],
    ["Alc/Vol", "strength", "%vol"],
    ["Brix", "solids", "°Bx"],
    ["Solids °Brix", "solids", "°Bx"],
    ["Bath temp (deg C)", "bath_temp", "°C"],
    ["Pull (mbar)", "pull", "mbar"],
    ["Price € / L", "price", "EUR/L"],
    ["Dose g/l", "dose", "g/L"],
    ["Mass", "mass", ""],
    ["Vitamin C", "vitamin_c", ""],
    ["Score (1 to 10)", "score_1_to_10", ""],
  ])("reads %s", (heading, name, unit) => {
    const proposal = csv(`Item;${heading}\njuniper;12\nlemon;7\n`);
    expect(proposal.columns[1]).toMatchObject({ name, unit, holds: "number" });
    expect(cells(proposal).map((r) => r[0])).toEqual(["juniper", "lemon"]);
  });

  it("takes units from a row of their own", () => {
    const proposal = csv("Item,Volume,Strength\n,(ml),(% vol)\njuniper,2400,61.2\nlemon,350,49.5\n");
    expect(units(proposal)).toEqual(["", "mL", "%vol"]);
    expect(proposal.rowCount).toBe(2);
  });

  it("takes the unit from the cells when the heading has none", () => {
    const proposal = csv("Item,Volume\njuniper,12.5 ml\nlemon,1 L\n");
    expect(units(proposal)).toEqual(["", "mL"]);
    expect(cells(proposal)).toEqual([
      ["juniper", "12.5 mL"],
      ["lemon", "1000 mL"],
    ]);
  });

  it("keeps names apart and away from the words of the language", () => {
    const proposal = csv("Item,Volume (ml),Volume (g),where,2nd cut,,%\na,1,2,3,4,5,6\nb,1,2,3,4,5,6\n");
    const names = proposal.columns.map((c) => c.name);
    expect(new Set(names).size).toBe(names.length);
    expect(names).toEqual(expect.arrayContaining(["where_", "n2nd_cut"]));
    inBook(proposal);
  });

  it("does not take a name that the book has", () => {
    expect(csv("Item,a\nx,1\ny,2\n", { taken: new Set(["trial", "trial_2"]) }).name).toBe("trial_3");
  });
});

describe("numbers and days", () => {
  it("reads decimal commas where a column has no other meaning", () => {
    const proposal = csv("Item;Menge (ml)\na;1.234,5\nb;12,25\n");
    expect(proposal.doubts).toEqual([]);
    expect(cells(proposal)).toEqual([
      ["a", "1234.5 mL"],
      ["b", "12.25 mL"],
    ]);
  });

  it("asks when a mark has two meanings, and follows the answer", () => {
    const text = "Item;Volume (ml)\na;1,234\nb;5,678\n";
    const asked = csv(text);
    expect(asked.doubts.map((d) => d.id)).toEqual(["decimal"]);
    expect(asked.doubts[0]!.choices.length).toBe(2);
    const comma = csv(text, { answers: new Map([["decimal", ","]]) });
    const point = csv(text, { answers: new Map([["decimal", "."]]) });
    expect(cells(comma)[0]![1]).toBe("1.234 mL");
    expect(cells(point)[0]![1]).toBe("1234 mL");
    expect(csv(text, { answers: new Map([["decimal", "nonsense"]]) }).doubts[0]!.chosen).toBe(
      asked.doubts[0]!.chosen,
    );
  });

  it("asks for the order of days only when both give a day", () => {
    const text = "Day,n\n03/04/2026,1\n05/06/2026,2\n";
    const asked = csv(text);
    expect(asked.doubts.map((d) => d.id)).toEqual(["days:0"]);
    expect(asked.statement).toContain("2026-04-03");
    expect(csv(text, { answers: new Map([["days:0", "month first"]]) }).statement).toContain("2026-03-04");
    const sure = csv("Day,n\n03/04/2026,1\n25/06/2026,2\n");
    expect(sure.doubts).toEqual([]);
    expect(sure.statement).toContain("2026-06-25");
    expect(csv("Day,n\n3 May 2026,1\nJune 5th 2026,2\n").statement).toMatch(/2026-05-03[\s\S]*2026-06-05/);
  });

  it("asks what an ounce, a dollar and a bare per cent of alcohol are", () => {
    const proposal = csv("Item,Amount (oz),Cost ($),Alcohol (%)\na,1,2,40\nb,2,3,50\n");
    expect(proposal.doubts.map((d) => d.id)).toEqual(["unit:1", "unit:2", "unit:3"]);
    for (const doubt of proposal.doubts) {
      for (const choice of doubt.choices)
        inBook(
          csv("Item,Amount (oz),Cost ($),Alcohol (%)\na,1,2,40\nb,2,3,50\n", {
            answers: new Map([[doubt.id, choice.value]]),
          }),
        );
    }
  });

  it("keeps a spread and turns the signs of other keyboards", () => {
    const proposal = csv("Item;Strength (%vol)\na;61.2 ± 0.3\nb;60 +/- 0.5\n");
    expect(proposal.statement).toContain("61.2 ± 0.3");
    expect(proposal.statement).toContain("60 ± 0.5");
    expect(csv("Item;Temp (°C)\na;−15\nb;- 3\n").statement).toMatch(/-15[\s\S]*-3/);
  });

  it("makes words among numbers a question, blanks where they say nothing", () => {
    const nothing = csv("Item,Volume (ml)\na,12\nb,n/a\nc,-\nd,14\n");
    expect(nothing.doubts.map((d) => [d.id, d.chosen])).toEqual([["strangers:1", "blank"]]);
    expect(cells(nothing).map((r) => r[1])).toEqual(["12 mL", "", "", "14 mL"]);
    const words = csv("Item,Volume (ml)\na,12\nb,spilt\nc,13\nd,14\n");
    expect(words.doubts.map((d) => [d.id, d.chosen])).toEqual([["strangers:1", "text"]]);
  });

  it("makes a row of totals the foot of the table where it is one, and offers to leave it out or keep it", () => {
    const text = "Item,Volume (ml)\na,12\nb,13\nTotal,25\n";
    const proposal = csv(text);
    expect(proposal.rowCount).toBe(2);
    expect(proposal.doubts.map((d) => [d.id, d.chosen])).toEqual([["total", "foot"]]);
    expect(proposal.statement).toMatch(/\nfoot volume = sum\(volume\)\n$/);
    expect(inBook(proposal).table.feet.get("volume")?.shown.text).toBe("25 mL");
    const without = csv(text, { answers: new Map([["total", "leave out"]]) });
    expect(without.statement).not.toContain("foot");
    expect(without.rowCount).toBe(2);
    const kept = csv(text, { answers: new Map([["total", "keep"]]) });
    expect(kept.statement).not.toContain("foot");
    expect(kept.rowCount).toBe(3);
  });

  it.each([
    ["a mean", "Item,Volume (ml)\na,12\nb,13\nMean,12.5\n", "foot volume = mean(volume)"],
    ["a rounded sum", "Item;Price (GBP)\na;1,255\nb;2,255\nSum;3,5\n", "foot price = sum(price)"],
    [
      "two of three",
      "Item,g,mL,%vol\na,1,2,40\nb,3,4,50\ntotal,4,6,46.7\n",
      "foot g = sum(g)\nfoot volume = sum(volume)",
    ],
    ["a row of our own", "what,mass (g)\na,1.5 ± 0.1\nb,2\nfoot,3.5 ± 0.1\n", "foot mass = sum(mass)"],
    ["a mean of temperatures", "Run,Bath (°C)\na,40\nb,42\naverage,41\n", "foot bath = mean(bath)"],
  ])("sees that %s is one", (_, text, feet) => {
    const { statement } = csv(text);
    expect(statement.slice(statement.indexOf("foot"))).toBe(`${feet}\n`);
    expect(openBook(statement).messages.filter((m) => m.severity === "fault")).toEqual([]);
  });

  it("sees a foot without a word beside it by its formulas, and takes no other row of formulas for one", () => {
    const read = (body: string) =>
      proposeTable(
        readTables(exportOds(openBook(`table t\n| n (g) | m (g) |\n| 1 | 2 |\n| 3 | 4 |\n${body}`)), "x")[2]!,
      );
    expect(inBook(read("foot n = sum(n)\nfoot m = mean(m)\n")).table.feet.get("m")?.formula).toBe("mean(m)");
    expect(inBook(read("foot n = sum(n)\nfoot m = max(m)\n")).table.feet.size).toBe(0);
    expect(read("| = n.before | = 4 g |\n").rowCount).toBe(3);
  });

  it.each([
    ["that add up to something else", "Item,Volume (ml)\na,12\nb,13\nTotal,26\n"],
    ["of temperatures", "Run,Bath (°C)\na,40\nb,42\nTotal,82\n"],
    ["of words", "Item,What\na,x\nb,y\nTotal,z\n"],
    ["in other units", "Item,Volume (ml)\na,12\nb,13\nTotal,25 l\n"],
  ])("proposes no foot for totals %s", (_, text) => {
    const proposal = csv(text);
    expect(proposal.doubts.find((d) => d.id === "total")?.chosen).toBe("leave out");
    expect(proposal.statement).not.toContain("foot");
  });
});

describe("the ways in", () => {
  const want = [
    ["juniper", "2400 mL", "61.2 %vol"],
    ["lemon", "350 mL", "49.5 %vol"],
  ];
  const rows = [
    ["Item", "Volume (ml)", "ABV"],
    ["juniper", 2400, 61.2],
    ["lemon", 350, 49.5],
  ];

  it("reads .xlsx, with shared strings, formulas, days and per cent", () => {
    expect(cells(proposeTable(readTables(xlsxOf(rows), "x.xlsx")[0]!))).toEqual(want);
    const shared = xlsxOf(
      [
        [{ xml: '<c t="s"><v>0</v></c>' }, { xml: '<c t="s"><v>1</v></c>' }, "share"],
        ["a", { xml: '<c s="1"><v>46100.5</v></c>' }, { xml: '<c s="2"><f>1/4</f><v>0.25</v></c>' }],
        ["b", { xml: '<c s="1"><v>46101</v></c>' }, { xml: '<c t="e"><f>1/0</f><v>#DIV/0!</v></c>' }],
      ],
      {
        formats: ["dd/mm/yyyy", "0.0%"],
        parts: { "xl/sharedStrings.xml": "<sst><si><t>it</t><r><t>em</t></r></si><si><t>on</t></si></sst>" },
      },
    );
    const found = readTables(shared, "x.xlsx")[0]!;
    const proposal = proposeTable(found);
    expect(proposal.columns.map((c) => [c.name, c.holds, c.unit])).toEqual([
      ["item", "names", ""],
      ["on", "date", ""],
      ["share", "number", "%"],
    ]);
    expect(cells(proposal)).toEqual([
      ["a", "2026-03-19", "25 %"],
      ["b", "2026-03-20", ""],
    ]);
    expect(proposal.notes.join(" ")).toMatch(/formula/);
  });

  it("counts days from 1904 where the file says so", () => {
    const file = xlsxOf(
      [
        ["on", "n"],
        [{ xml: '<c s="1"><v>0</v></c>' }, 1],
        [{ xml: '<c s="1"><v>1</v></c>' }, 2],
      ],
      {
        formats: ["yyyy-mm-dd"],
        from1904: true,
      },
    );
    expect(proposeTable(readTables(file, "x.xlsx")[0]!).statement).toContain("1904-01-02");
  });

  it("reads .ods with repeated cells and rows", () => {
    const file = odsOf(
      odsRow(odsText("Item"), odsText("Volume (ml)"), odsText("ABV")) +
        odsRow(odsText("juniper"), odsNumber(2400), odsNumber(61.2)) +
        `<table:table-row table:number-rows-repeated="1">${odsText("lemon")}${odsNumber(350)}${odsNumber(49.5)}<table:table-cell table:number-columns-repeated="16000"/></table:table-row>` +
        '<table:table-row table:number-rows-repeated="1048000"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>',
    );
    expect(cells(proposeTable(readTables(file, "x.ods")[0]!))).toEqual(want);
  });

  it.each([
    ["commas", "Item,Volume (ml),ABV\njuniper,2400,61.2\nlemon,350,49.5\n"],
    ["semicolons and decimal commas", "Item;Volume (ml);ABV\r\njuniper;2400;61,2\r\nlemon;350;49,5\r\n"],
    ["tabs", "Item\tVolume (ml)\tABV\njuniper\t2400\t61.2\nlemon\t350\t49.5"],
    ["bars", "Item|Volume (ml)|ABV\njuniper|2400|61.2\nlemon|350|49.5"],
    ["quotes", '"Item","Volume (ml)","ABV"\n"juniper","2400","61.2"\n"lemon","350","49.5"\n'],
    ["a byte order mark", "\ufeffItem,Volume (ml),ABV\njuniper,2400,61.2\nlemon,350,49.5\n"],
    ["a stated separator", "sep=;\nItem;Volume (ml);ABV\njuniper;2400;61.2\nlemon;350;49.5\n"],
    ["old line ends", "Item,Volume (ml),ABV\rjuniper,2400,61.2\rlemon,350,49.5"],
  ])("reads text with %s", (_, text) => {
    expect(cells(csv(text))).toEqual(want);
    expect(cells(proposeTable(readPastedTables(text)[0]!))).toEqual(want);
  });

  it("reads UTF-16 and Windows-1252", () => {
    const text = "Item\tPrix (€)\ncrème\t2\nmûre\t3\n";
    const wide = new Uint8Array(2 + text.length * 2);
    wide.set([0xff, 0xfe]);
    [...text].forEach((ch, i) => {
      wide[2 + 2 * i] = ch.charCodeAt(0) & 255;
      wide[3 + 2 * i] = ch.charCodeAt(0) >> 8;
    });
    const narrow = Uint8Array.from(text, (ch) => (ch === "€" ? 0x80 : ch.charCodeAt(0)));
    for (const file of [wide, narrow]) {
      const proposal = proposeTable(readTables(file, "x.txt")[0]!);
      expect(cells(proposal)).toEqual([
        ["crème", "2.00 EUR"],
        ["mûre", "3.00 EUR"],
      ]);
    }
  });

  it("reads the tables of a page, and runs nothing in it", () => {
    const html = `<html><script>alert(1)</script><style>td{}</style><table><tr><th>Item<th>Volume&nbsp;(ml)<th>ABV</tr>
      <tr><td>juniper<td>2400<td>61.2<tr><td onclick="x()">lemon</td><td>350</td><td><b>49.5</b><script>document.write("9")</script></td></tr></table>
      <table><tr><td rowspan=2>a<td>1<tr><td>2</table>`;
    const tables = readPastedTables("", html);
    expect(tables.length).toBe(2);
    expect(cells(proposeTable(tables[0]!))).toEqual(want);
    expect((globalThis as { x?: unknown }).x).toBeUndefined();
  });

  it("takes several sheets, and a title above a table", () => {
    const file = xlsxOf([], {
      sheets: { Stock: [["The spring stock"], [], ...rows], Empty: [], Notes: [["Do not forget"]] },
    });
    const found = readTables(file, "x.xlsx");
    expect(found.length).toBe(1);
    expect(proposeTable(found[0]!)).toMatchObject({ title: "The spring stock", name: "the_spring_stock" });
  });

  it("says what a file is that holds no table", () => {
    const says = (file: Uint8Array, name: string): string => {
      try {
        readTables(file, name);
      } catch (error) {
        return (error as { says: string }).says;
      }
      return "read";
    };
    expect(says(bytes(""), "x.csv")).toMatch(/empty/);
    expect(says(bytes("%PDF-1.7 "), "x.pdf")).toMatch(/PDF/);
    expect(says(Uint8Array.of(0x89, 0x50, 0x4e, 0x47), "x.png")).toMatch(/picture/);
    expect(says(Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, 0xa1), "x.xlsx")).toMatch(/password/);
    expect(says(Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, 0xa1), "x.xls")).toMatch(/old .xls/);
    expect(says(Uint8Array.of(0, 1, 2, 3), "x.bin")).toMatch(/no text/);
    expect(says(bytes("hello"), "x.txt")).toMatch(/no table/);
  });

  it.skipIf(!has.libreoffice)(
    needing("LibreOffice", has.libreoffice, "reads what LibreOffice writes"),
    () => {
      const folder = scratch();
      writeFileSync(join(folder, "in.csv"), "Item,Volume (ml),ABV\njuniper,2400,61.2\nlemon,350,49.5\n");
      for (const kind of ["xlsx", "ods", "html"]) {
        mkdirSync(join(folder, kind));
        execFileSync(
          "soffice",
          [
            `-env:UserInstallation=file://${join(folder, "profile")}`,
            "--headless",
            "--convert-to",
            kind,
            "--outdir",
            join(folder, kind),
            join(folder, "in.csv"),
          ],
          { stdio: "ignore", timeout: 180_000 },
        );
        const file = new Uint8Array(readFileSync(join(folder, kind, `in.${kind}`)));
        expect(cells(proposeTable(readTables(file, `in.${kind}`)[0]!)), kind).toEqual(want);
      }
    },
  );
});

describe("our own files, read back", () => {
  it.each([...examples.keys()])("the tables of %s", async (name) => {
    const book = open(name);
    const tables = book.items.filter((i): i is TableItem => i.type === "table");
    for (const file of [exportOds(book), await exportXlsx(book)]) {
      const found = readTables(file, "book");
      for (const table of tables) {
        const first = table.columns[0]!.name;
        const back = found.find(
          (f) =>
            f.rows.length >= table.rowCount &&
            f.headings[0]!.startsWith(first) &&
            table.columns.every((c) => f.headings.some((h) => h.startsWith(c.name))),
        );
        expect(back, `${table.name} in ${found.map((f) => f.source).join(", ")}`).toBeDefined();
        const proposal = proposeTable(back!);
        inBook(proposal);
        expect(proposal.rowCount, `${table.name}: its foot is no row`).toBe(table.rowCount);
        const sums = [...table.feet].filter(
          ([name, f]) => f.formula === `sum(${name})` && f.shown.state === "ok",
        );
        for (const [name] of sums) expect(proposal.statement).toContain(`\nfoot ${name} = sum(${name})\n`);
        expect(proposal.doubts.filter((d) => d.id === "decimal")).toEqual([]);
        for (const column of table.columns) {
          if (column.unit === "") continue;
          const mine = proposal.columns.find((c) => c.heading.startsWith(`${column.name} (`));
          if (proposal.doubts.some((d) => d.column === mine?.heading)) continue;
          expect(mine?.unit, `${table.name}.${column.name}`).toBe(column.unit);
        }
      }
    }
    if (tables.length > 0) inBook(proposeTable(readTables(bytes(exportCsv(book)), "book.csv")[0]!));
  });
});

describe("whatever stands in the cells", () => {
  const hostile = fc.oneof(
    fc.string({ unit: "binary", maxLength: 12 }),
    fc.constantFrom(
      "=1+1",
      "=cmd|' /C calc'!A0",
      "@SUM(A1)",
      "+1",
      "-1",
      "|",
      "\\",
      "\\|",
      '"',
      '""',
      '"a',
      "“x”",
      "{x}",
      "{",
      "#",
      "# a",
      "table x",
      "step",
      "| a |",
      "---",
      ":-:",
      "a\nb",
      "a\r\nset x = 1",
      "\u202eevil",
      "\u0000",
      "<b>",
      "&amp;",
      "1e400",
      "NaN",
      "Infinity",
      "true",
      "2026-02-30",
      "12-14",
      "1,2,3",
      "٣",
      "½",
      "1/2",
      "0x10",
      "1_000",
      "`x`",
      "a`b",
      "where",
      "in",
      ...vocabulary.keys(),
    ),
    fc.double().map(String),
  );
  it("makes a statement that the language takes, row for row", () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(hostile, { minLength: 2, maxLength: 4 }), { minLength: 2, maxLength: 6 }),
        fc.array(hostile, { minLength: 4, maxLength: 4 }),
        (body, headings) => {
          const quoted = [headings, ...body]
            .map((row) => row.map((c) => `"${c.replaceAll('"', '""')}"`).join(","))
            .join("\n");
          let found: ReturnType<typeof readTables>;
          try {
            found = readTables(bytes(quoted), "odd.csv");
          } catch (error) {
            expect((error as Error).name).toBe("Trouble");
            return;
          }
          for (const table of found) {
            const proposal = proposeTable(table);
            const { book } = inBook(proposal);
            // One statement and nothing else came out of it.
            expect(book.items.length).toBe(1);
          }
        },
      ),
      { seed: 11, numRuns: 1500 },
    );
  });

  it("keeps the words of a text column to the letter", () => {
    const word = fc
      .string({ unit: "grapheme", minLength: 1, maxLength: 20 })
      .map((s) =>
        s
          .normalize("NFC")
          .replace(
            /[\p{Cc}\p{Cs}\p{Zl}\p{Zp}\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff\ufffd\u00a0]/gu,
            "",
          )
          .replace(/\s+/g, " ")
          .trim(),
      )
      .filter((s) => /\p{L}/u.test(s));
    fc.assert(
      fc.property(fc.array(word, { minLength: 2, maxLength: 8 }), (words) => {
        const quoted = `Item,Remark\n${words.map((w, i) => `r${i},"${w.replaceAll('"', '""')}"`).join("\n")}`;
        const proposal = csv(quoted);
        if (proposal.columns[1]!.holds !== "text") return;
        expect(cells(proposal).map((r) => r[1])).toEqual(
          words.map((w) => (/^'[=+\-@]/.test(w) ? w.slice(1) : w)),
        );
      }),
      { seed: 3, numRuns: 800 },
    );
  });
});
