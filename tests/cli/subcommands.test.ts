import { chmodSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runCommand } from "./run-command";

const gin = `book "Gin"
set bottling = 42 %vol
table stock "Stock"
| item       | volume (mL) | strength        |
| juniper    | 2400        | 61.2 ± 0.3 %vol |
| lemon peel | 350         | 49.5 %vol       |
column spirit = volume * strength
foot spirit = sum(spirit)
set blend = marry(stock.volume, stock.strength)
set water = let_down(blend.volume, blend.strength, to: bottling)
check blend.strength > bottling : "strong enough"
step "Stir in {water.add_mass in g} of water." wait 30 min
`;

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "invacuo-sub-"));
  writeFileSync(join(folder, "gin.vacuo"), gin);
  writeFileSync(join(folder, "untidy.vacuo"), "set  a=2 L # half\r\n\r\nset b =a*2\r\n");
  writeFileSync(join(folder, "bad.vacuo"), "set a = 1 L + 1 g\nset b = a * 2\n");
});
afterAll(() => rmSync(folder, { recursive: true }));
const call = (...words: string[]) => runCommand(words, { folder });

describe("why", () => {
  it("tells formula, values, sources and where the uncertainty comes from", async () => {
    const ran = await call("why", "gin.vacuo", "water.add");
    expect(ran.code).toBe(0);
    for (const text of [
      "let_down(blend.volume, blend.strength, to: bottling)",
      "blend.strength",
      "equation:",
      "OIML R 22",
      "range:",
      "stock.juniper.strength",
      "Where the uncertainty comes from",
    ]) {
      expect(ran.out).toContain(text);
    }
  });

  it("checks the uncertainty against a run of trials that is the same every time", async () => {
    const ran = await call("why", "gin.vacuo", "water.add", "--trials", "500");
    expect(ran.out).toMatch(/500 trials agree with the linear estimate/);
    expect(await call("why", "gin.vacuo", "water.add", "--trials", "500")).toEqual(ran);
    expect((await call("why", "gin.vacuo", "water.add", "--trials", "5")).code).toBe(2);
  });

  it("gives every part of an answer that has several", async () => {
    const ran = await call("why", "gin.vacuo", "water");
    expect(ran.out).toMatch(/^ {2}water\.add +=.* mL$/m);
    expect(ran.out).toMatch(/^ {2}water\.total +=.* mL$/m);
  });

  it("names the first cause of a fault, and ends with 1", async () => {
    const ran = await call("why", "bad.vacuo", "b");
    expect(ran.code).toBe(1);
    expect(ran.out).toContain("first cause: a");
  });

  it("does not know a name that is not there, and says what is near", async () => {
    const ran = await call("why", "gin.vacuo", "strenght");
    expect(ran).toMatchObject({ code: 2, out: "" });
    expect(ran.err).toContain("no value strenght");
    expect((await call("why", "gin.vacuo", "add")).err).toContain("water.add");
    expect((await call("why", "gin.vacuo", "watr")).err).toContain("Near it: water.");
  });
});

describe("card", () => {
  it("prints steps and cautions, as text and as a page of its own", async () => {
    const text = await call("card", "gin.vacuo");
    expect(text.code).toBe(0);
    expect(text.out).toContain("of water.");
    expect(text.out).toContain("Local codes and licensed practice come first.");
    const page = await call("card", "gin.vacuo", "--html");
    expect(page.out).toMatch(/^<!doctype html>/);
    expect(page.out).not.toMatch(/<script|https?:/);
  });

  it("prints as many digits as are asked for", async () => {
    writeFileSync(join(folder, "third.vacuo"), 'set third = 1 L / 3\nstep "Take {third}." wait 1 h / 7\n');
    expect((await call("card", "third.vacuo")).out).toContain("Take 0.33333 L.");
    const card = (await call("card", "third.vacuo", "--digits", "9")).out;
    expect(card).toContain("Take 0.333333333 L.");
    expect(card).toContain("Wait 0.142857143 h.");
    expect((await call("card", "third.vacuo", "--digits", "0")).code).toBe(2);
  });

  it("ends with 1 for a book with faults, and says so on the card", async () => {
    const ran = await call("card", "bad.vacuo");
    expect(ran.code).toBe(1);
    expect(ran.out).toContain("!");
  });
});

describe("export", () => {
  it.each([
    ["gin.xlsx", [0x50, 0x4b]],
    ["gin.ods", [0x50, 0x4b]],
    ["GIN.CSV", []],
  ])("writes %s", async (name, begins) => {
    const ran = await call("export", "gin.vacuo", name);
    expect(ran).toMatchObject({ code: 0, out: "" });
    expect(ran.err).toContain(`Wrote ${name}.`);
    const bytes = readFileSync(join(folder, name));
    expect([...bytes.subarray(0, begins.length)]).toEqual(begins);
    expect(bytes.length).toBeGreaterThan(100);
  });

  it("reports what goes out live", async () => {
    const ran = await call("export", "gin.vacuo", "gin.ods", "--report");
    expect(ran.out).toMatch(/^\d+ of \d+ computed values go out live/);
  });

  it("writes one table as CSV", async () => {
    await call("export", "gin.vacuo", "stock.csv", "--table", "stock");
    const lines = readFileSync(join(folder, "stock.csv"), "utf8").split("\r\n");
    expect(lines[1]).toContain('"juniper"');
    expect(lines[1]).toContain("2400");
  });

  it.each([
    [["export", "gin.vacuo", "gin.pdf"], ".xlsx, .ods or .csv"],
    [["export", "gin.vacuo", "gin"], ".xlsx, .ods or .csv"],
    [["export", "gin.vacuo", "no/such/folder/gin.ods"], "no file"],
    [["export", "gin.vacuo", "gin.csv", "--table", "nothing"], "nothing"],
    [["export", "gin.vacuo", "gin.ods", "--table", "stock"], "--table"],
    [["export", "none.vacuo", "none.ods"], "no file none.vacuo"],
  ])("%j is a wrong call", async (words, says) => {
    const ran = await call(...words);
    expect(ran).toMatchObject({ code: 2, out: "" });
    expect(ran.err).toContain(says);
    expect(ran.err).not.toContain("defect");
  });
});

describe("import", () => {
  it("brings in what export sent out", async () => {
    writeFileSync(join(folder, "trip.vacuo"), gin.replace(/^foot.*\n/m, ""));
    await call("export", "trip.vacuo", "trip.ods");
    const ran = await call("import", "trip.ods", "--table", "stock");
    expect(ran.code).toBe(0);
    const back = await runCommand(["ask", "stock.juniper.volume", "--book", "-"], { input: ran.out });
    expect(back).toMatchObject({ code: 0, out: "2400 mL\n" });
  });

  it("asks what only a person can decide, and takes the answer", async () => {
    writeFileSync(join(folder, "dates.csv"), "run,on\n1,03/02/2026\n2,05/04/2026\n");
    const asked = await call("import", "dates.csv");
    expect(asked.err).toContain("please check");
    const answers = [...asked.err.matchAll(/--answer '([^']+)'/g)].map((m) => m[1]!);
    expect(answers.length).toBeGreaterThan(1);
    const texts = await Promise.all(
      answers.map(async (a) => (await call("import", "dates.csv", "--answer", a)).out),
    );
    expect(new Set(texts).size).toBeGreaterThan(1);
    expect((await call("import", "dates.csv", "--answer", "nonsense=1")).code).toBe(2);
    expect((await call("import", "dates.csv", "--answer", "nonsense")).code).toBe(2);
  });

  it("refuses what is no table", async () => {
    writeFileSync(join(folder, "broken.xlsx"), Uint8Array.from([0x50, 0x4b, 3, 4, 9, 9, 9]));
    for (const file of ["broken.xlsx", "none.csv"]) {
      const ran = await call("import", file);
      expect(ran).toMatchObject({ code: 2, out: "" });
      expect(ran.err).not.toContain("defect");
    }
  });
});

describe("compare", () => {
  it("tells values apart that print alike, once more digits are asked for", async () => {
    writeFileSync(join(folder, "one.vacuo"), "set a = 1 L\nset b = a / 3\n");
    writeFileSync(join(folder, "two.vacuo"), "set a = 1.0000001 L\nset b = a / 3\n");
    expect((await call("compare", "one.vacuo", "two.vacuo")).out).not.toContain("0.333333367");
    const ran = await call("compare", "one.vacuo", "two.vacuo", "--digits", "9");
    expect(ran.out).toContain("0.333333333 L");
    expect(ran.out).toContain("0.333333367 L");
    expect(ran.code).toBe(1);
  });

  it("says what was changed by hand and what follows, and ends with 1 when values differ", async () => {
    writeFileSync(join(folder, "gin2.vacuo"), gin.replace("42 %vol", "40 %vol"));
    const ran = await call("compare", "gin.vacuo", "gin2.vacuo");
    expect(ran).toMatchObject({ code: 1, err: "" });
    expect(ran.out).toMatch(/typed +bottling: 42 %vol -> 40 %vol/);
    expect(ran.out).toMatch(/follows +water\.add: /);
    expect(ran.out).toContain("from bottling");
    const json = JSON.parse((await call("compare", "gin.vacuo", "gin2.vacuo", "--json")).out);
    expect(json.valuesDiffer).toBe(true);
    expect(json.differences[0]).toMatchObject({
      name: "bottling",
      change: "typed",
      before: "42 %vol",
      after: "40 %vol",
    });
  });

  it("ends with 0 when the values are the same, whatever the spacing", async () => {
    writeFileSync(join(folder, "spaced.vacuo"), gin.replace("set bottling = 42", "set  bottling =  42"));
    expect((await call("compare", "gin.vacuo", "spaced.vacuo")).code).toBe(0);
    expect((await call("compare", "gin.vacuo", "none.vacuo")).code).toBe(2);
    expect((await call("compare", "-", "-")).code).toBe(2);
  });
});

describe("merge", () => {
  const write = (name: string, text: string) => writeFileSync(join(folder, name), text);

  it("takes what each side changed", async () => {
    write("mine.vacuo", gin.replace("42 %vol", "40 %vol"));
    write("theirs.vacuo", gin.replace("| 350 ", "| 400 "));
    const ran = await call("merge", "gin.vacuo", "mine.vacuo", "theirs.vacuo");
    expect(ran).toMatchObject({ code: 0, err: "" });
    expect(ran.out).toBe(gin.replace("42 %vol", "40 %vol").replace("| 350 ", "| 400 "));
  });

  it("keeps both versions of what both changed, says where, and ends with 1", async () => {
    write("mine.vacuo", gin.replace("42 %vol", "40 %vol"));
    write("theirs.vacuo", gin.replace("42 %vol", "43 %vol"));
    const ran = await call("merge", "gin.vacuo", "mine.vacuo", "theirs.vacuo", "--out", "merged.vacuo");
    expect(ran).toMatchObject({ code: 1, out: "" });
    expect(ran.err).toMatch(/^merged\.vacuo:\d+: `bottling` was changed in both/);
    const named = await call(
      ...[
        "merge",
        "gin.vacuo",
        "mine.vacuo",
        "theirs.vacuo",
        "--out",
        "merged.vacuo",
        "--name",
        "shelf/gin.vacuo",
      ],
    );
    expect(named.err).toMatch(/^shelf\/gin\.vacuo:\d+: `bottling` was changed in both/);
    const merged = readFileSync(join(folder, "merged.vacuo"), "utf8");
    for (const text of ["set bottling = 40 %vol", "set bottling = 43 %vol", "# conflict:"]) {
      expect(merged).toContain(text);
    }
    const line = Number(/:(\d+):/.exec(ran.err)![1]);
    expect(merged.split("\n")[line - 1]).toContain("# conflict:");
  });

  it("needs three texts", async () => {
    expect((await call("merge", "gin.vacuo", "mine.vacuo")).code).toBe(2);
    expect((await call("merge", "gin.vacuo", "-", "-")).code).toBe(2);
  });
});

describe("tidy", () => {
  it("prints the tidied text, values and line ends kept", async () => {
    const ran = await call("tidy", "untidy.vacuo");
    expect(ran).toMatchObject({ code: 0, err: "" });
    expect(ran.out).toContain("set a = 2 L");
    expect(ran.out.match(/\r\n/g)).toHaveLength(3);
    expect((await runCommand(["tidy", "-"], { input: ran.out })).out).toBe(ran.out);
  });

  it("--check only looks", async () => {
    const before = readFileSync(join(folder, "untidy.vacuo"), "utf8");
    const ran = await call("tidy", "untidy.vacuo", "--check");
    expect(ran).toMatchObject({ code: 1, out: "" });
    expect(ran.err).toContain("untidy.vacuo:1");
    expect(readFileSync(join(folder, "untidy.vacuo"), "utf8")).toBe(before);
  });

  it("--write replaces the file in one step and keeps its rights", async () => {
    const path = join(folder, "mine.vacuo");
    writeFileSync(path, "set  a=2 L\n");
    chmodSync(path, 0o640);
    expect(await call("tidy", "mine.vacuo", "--write")).toEqual({ code: 0, out: "", err: "" });
    expect(readFileSync(path, "utf8")).toBe("set a = 2 L\n");
    expect(statSync(path).mode & 0o777).toBe(0o640);
    expect(readdirSync(folder).filter((name) => name.includes("writing"))).toEqual([]);
    expect((await call("tidy", "mine.vacuo", "--check")).code).toBe(0);
  });

  it("cannot do both, nor write to standard input", async () => {
    expect((await call("tidy", "mine.vacuo", "--check", "--write")).code).toBe(2);
    expect((await call("tidy", "-", "--write")).code).toBe(2);
  });
});

describe("link", () => {
  it("holds the whole book, and gives it back byte for byte", async () => {
    const there = await call("link", "gin.vacuo");
    expect(there.code).toBe(0);
    expect(there.out).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/#\S+\n$/);
    expect(there.err).toMatch(/\d+ characters/);
    expect(await call("link", there.out.trim(), "--read")).toMatchObject({ code: 0, out: gin });
    expect((await runCommand(["link", "-", "--read"], { input: there.out })).out).toBe(gin);
    const elsewhere = await call("link", "gin.vacuo", "--page", "https://kitchen.example/books#old");
    expect(elsewhere.out).toMatch(/^https:\/\/kitchen\.example\/books#\d/);
  });

  it("notices when it was cut off or damaged", async () => {
    const whole = (await call("link", "gin.vacuo")).out.trim();
    for (const damaged of [whole.slice(0, -9), `${whole.slice(0, -3)}abc`, "http://127.0.0.1/#nothing"]) {
      const ran = await call("link", damaged, "--read");
      expect(ran).toMatchObject({ code: 2, out: "" });
      expect(ran.err).not.toContain("defect");
    }
  });
});

describe("glossary", () => {
  it("lists the functions by group", async () => {
    const ran = await call("glossary");
    expect(ran.code).toBe(0);
    for (const name of ["boils_at", "marry", "infuse_honey", "sum"]) expect(ran.out).toContain(`  ${name} `);
  });

  it("tells all about one", async () => {
    const ran = await call("glossary", "let_down");
    for (const text of ["let_down(volume, strength; to)", "equation", "source", "range", "example"]) {
      expect(ran.out).toContain(text);
    }
  });

  it("tells what a word of the language does, with an example and what that gives", async () => {
    expect((await call("glossary", "within")).out).toBe(
      "within\n  Asks whether a value lies between two others, both ends included.\n  example:  25 °C within 20 °C to 30 °C\n  gives:    true\n",
    );
    expect((await call("glossary", "step")).out.match(/^step$/gmu)).toHaveLength(2);
    expect(JSON.parse((await call("glossary", "that", "--json")).out)).toMatchObject([{ word: "so that" }]);
    expect((await call("glossary")).out).toContain("within");
  });

  it("finds functions by a word of their description", async () => {
    expect((await call("glossary", "honey")).out).toContain("infuse_honey");
  });

  it("gives the same for programs", async () => {
    const one = JSON.parse((await call("glossary", "boils_at", "--json")).out);
    expect(one).toMatchObject({
      name: "boils_at",
      parameters: expect.any(Array),
      source: expect.any(String),
    });
    expect(JSON.parse((await call("glossary", "--json")).out).length).toBeGreaterThan(50);
  });

  it("says what is near a name that is not there", async () => {
    const ran = await call("glossary", "bolis_at");
    expect(ran).toMatchObject({ code: 2, out: "" });
    expect(ran.err).toContain("boils_at");
  });
});
