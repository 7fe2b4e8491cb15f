import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runCommand } from "./run-command";

const gin = `book "Gin"
set bottling = 42 %vol   # on the label
table stock "Stock"
| item       | volume (mL) | strength        |
| juniper    | 2400        | 61.2 ± 0.3 %vol |
| lemon peel | 350         |                 |
column spirit = pure_volume(volume, strength)
foot volume = sum(volume)
set got = blank in mL
set two = [1 g, 2 g]
check stock.foot.volume > 2 L : "enough"
check got > 1 L : "enough came over"
step "Take {stock.foot.volume in L}." wait 40 min ask got in mL expect 400 mL ± 10 mL
`;

describe("calc --json", () => {
  it("has the shape that scripts rely on", async () => {
    const ran = await runCommand(["calc", "-", "--json"], { input: gin });
    const report = JSON.parse(ran.out);
    expect(Object.keys(report)).toEqual(["book", "values", "checks", "steps"]);
    expect(report.book).toBe("Gin");
    for (const value of report.values) {
      expect(Object.keys(value)).toEqual([
        "name",
        "value",
        "unit",
        "text",
        "state",
        "message",
        "uncertainty",
        "notes",
      ]);
    }
    const names = report.values.map((value: { name: string }) => value.name);
    expect(names).toEqual(
      expect.arrayContaining([
        "bottling",
        "stock.juniper.volume",
        "stock.`lemon peel`.spirit",
        "stock.foot.volume",
        "got",
        "two.1",
        "two.2",
      ]),
    );
    const of = (name: string) => report.values.find((value: { name: string }) => value.name === name);
    expect(of("bottling")).toEqual({
      name: "bottling",
      value: 42,
      unit: "%vol",
      text: "42 %vol",
      state: "ok",
      message: null,
      uncertainty: null,
      notes: [],
    });
    expect(of("stock.juniper.strength")).toMatchObject({ value: 61.2, uncertainty: 0.3 });
    expect(of("stock.foot.volume")).toMatchObject({ value: 2750, unit: "mL" });
    expect(of("got")).toMatchObject({ value: null, state: "gap" });
    expect(of("stock.`lemon peel`.spirit")).toMatchObject({ value: null, state: "gap" });
    expect(of("stock.`lemon peel`.spirit").message).toMatch(/lemon peel/);
    expect(report.checks).toEqual([
      { text: "enough", state: "met" },
      { text: "enough came over", state: "unknown" },
    ]);
    expect(report.steps).toEqual([
      {
        number: 1,
        text: "Take 2.75 L.",
        wait: "40 min",
        asks: [{ path: "got", unit: "mL", expect: "400 ± 10 mL" }],
      },
    ]);
    expect(ran.code).toBe(0);
  });

  it("is the only thing on standard output", async () => {
    const ran = await runCommand(["calc", "-", "--json"], { input: "set a = 1 L + 1 g\n" });
    expect(JSON.parse(ran.out).values[0]).toMatchObject({ name: "a", value: null, state: "fault" });
    expect(ran.err).toContain("standard input:1:9: fault:");
    expect(ran.code).toBe(1);
  });
});

describe("calc", () => {
  it("prints the book in its order, gaps and states in words", async () => {
    const ran = await runCommand(["calc", "-"], { input: gin });
    const at = (text: string) => {
      expect(ran.out).toContain(text);
      return ran.out.indexOf(text);
    };
    const places = [
      "Gin",
      "bottling",
      "on the label",
      "Stock (stock)",
      "61.2",
      "2750",
      "got",
      "met  enough",
      "not yet known",
      "1. Take 2.75 L.",
    ].map(at);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(ran.out).not.toContain("\u001b");
    expect(ran.err).toContain("1 check not yet known");
  });

  it("gives more digits when asked", async () => {
    const book = 'set a = 1 L / 3\ntable t\n| i | v (mL) |\n| x | 10 |\ncolumn third = v / 3\nstep "{a}"\n';
    const ran = await runCommand(["calc", "-", "--digits", "8"], { input: book });
    expect(ran.out).toMatch(/a\s+0\.33333333\s+L/);
    expect(ran.out).toContain("3.3333333");
    expect(ran.out).toContain("1. 0.33333333 L");
    const json = JSON.parse(
      (await runCommand(["calc", "-", "--json", "--digits", "3"], { input: book })).out,
    );
    expect(json.values[0]).toMatchObject({ text: "0.333 L", value: 1 / 3 });
    expect(json.steps[0].text).toBe("0.333 L");
  });

  it("exits with 1 when a check is not met, 0 when one is not yet known", async () => {
    expect((await runCommand(["calc", "-"], { input: "check 1 > 2\n" })).code).toBe(1);
    expect((await runCommand(["calc", "-"], { input: "set a = blank\ncheck a > 2\n" })).code).toBe(0);
  });

  it("colours states on a terminal, beside their words", async () => {
    const ran = await runCommand(["calc", "-"], { input: gin, colour: true, width: 80 });
    expect(ran.out).toContain("\u001b[32m✓ met\u001b[0m");
  });

  it("works out what can be read around a mistake", async () => {
    const ran = await runCommand(["calc", "-"], { input: "set a = (1 L\nset b = 2 L\nset c = a + b\n" });
    expect(ran.code).toBe(1);
    expect(ran.out).toMatch(/b\s+2\s+L/);
    expect(ran.err).toContain("standard input:1:");
    expect(ran.err.match(/: fault:/g)).toHaveLength(1);
  });
});

describe("what no book is", () => {
  let folder = "";
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "invacuo-cli-"));
    writeFileSync(join(folder, "binary.vacuo"), Uint8Array.from([1, 2, 0, 255, 254, 3]));
    writeFileSync(join(folder, "book.xlsx"), Uint8Array.from([0x50, 0x4b, 3, 4, 20, 0]));
    writeFileSync(join(folder, "wide.vacuo"), Uint8Array.from([0xff, 0xfe, 0x73, 0, 0x65, 0]));
    writeFileSync(join(folder, "latin.vacuo"), Uint8Array.from([0x73, 0x65, 0x74, 0x20, 0xe9]));
    writeFileSync(join(folder, "empty.vacuo"), "");
    writeFileSync(join(folder, "blank.vacuo"), "\ufeff\n  \n");
    writeFileSync(join(folder, "long.vacuo"), `set a = ${"1 + ".repeat(2_600_000)}1\n`);
    writeFileSync(join(folder, "nested.vacuo"), `set a = ${"(".repeat(100_000)}1\n`);
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  it.each([
    ["nothing.vacuo", 2, "There is no file nothing.vacuo"],
    [".", 2, "is a folder"],
    ["binary.vacuo", 2, "is not text"],
    ["book.xlsx", 2, "packed file"],
    ["wide.vacuo", 2, "UTF-16"],
    ["latin.vacuo", 2, "UTF-8"],
    ["empty.vacuo", 1, "is empty"],
    ["blank.vacuo", 1, "is empty"],
    ["long.vacuo", 1, "8 MB"],
    ["nested.vacuo", 1, "fault"],
  ])("%s ends with %i and says why", async (file, code, says) => {
    for (const call of [
      ["calc", file],
      ["calc", file, "--json"],
      ["card", file],
    ]) {
      const ran = await runCommand(call, { folder });
      expect(ran.code, ran.err).toBe(code);
      expect(ran.err).toContain(says);
      expect(ran.err).not.toMatch(/\n\s+at |node:internal|Error:/);
      expect(ran.err.length).toBeLessThan(4_000);
    }
  });
});

describe("a wrong call", () => {
  it.each([
    [[], "Usage"],
    [["clac"], "unknown command"],
    [["calc"], "missing required argument"],
    [["calc", "-", "--jsn"], "--json"],
    [["calc", "a", "b"], "too many arguments"],
    [["calc", "-", "--digits", "0"], "from 1 to 12"],
    [["calc", "-", "--digits", "x"], "from 1 to 12"],
    [["ask"], "needs a formula"],
    [["ask", "1", "--lines"], "--lines"],
    [["serve", "--port", "99999"], "65535"],
  ])("%j ends with 2", async (words, says) => {
    const ran = await runCommand(words as string[]);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain(says);
    expect(ran.out).toBe("");
  });

  it("is not a call for help or for the version", async () => {
    expect(await runCommand(["--help"])).toMatchObject({ code: 0, err: "" });
    expect(await runCommand(["calc", "--help"])).toMatchObject({ code: 0, err: "" });
    expect((await runCommand(["--version"])).out).toMatch(/^\d+\.\d+\.\d+\n$/);
  });
});
