import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runCommand } from "./run-command";

describe("ask", () => {
  it.each([
    ["0.1 + 0.2 is 0.3", "true\n"],
    ["2.4 L + 200 mL", "2.6 L\n"],
    ["-2^2", "-4\n"],
    ["-10 °C + 2 K", "-8 °C\n"],
    ["[1 L, 500 mL]", "1  1 L\n2  0.5 L\n"],
    ["2026-02-24 - 2026-02-03", "21 d\n"],
  ])("%s", async (formula, out) => {
    expect(await runCommand(["ask", formula])).toEqual({ code: 0, out, err: "" });
  });

  it("takes options before and behind a formula that begins with a minus", async () => {
    expect((await runCommand(["ask", "--digits", "3", "-1 / 3"])).out).toBe("-0.333\n");
    expect((await runCommand(["ask", "-1 / 3", "--digits", "3"])).out).toBe("-0.333\n");
  });

  it("names the parts of a result", async () => {
    const ran = await runCommand(["ask", "let_down(1 L, 96 %vol, to: 40 %vol)"]);
    expect(ran.out).toMatch(/^add\s+1\.4705 L$/m);
    expect(ran.out).toMatch(/^total\s+2\.4 L$/m);
  });

  it.each([
    ["1 L + 200 g", ["a volume", "a mass"]],
    ["30 °C + 5 °C", ["temperature", "5 K"]],
    ["42 %vol + 3 °Bx", ["a strength by volume", "solids"]],
  ])("%s is a fault that names both sides", async (formula, words) => {
    const ran = await runCommand(["ask", formula]);
    expect(ran.code).toBe(1);
    expect(ran.out).toBe("");
    for (const word of words) expect(ran.err).toContain(word);
    expect(ran.err).toContain(formula);
  });

  it("--json is one line with the agreed fields", async () => {
    const ran = await runCommand(["ask", "--json", "50 ± 1 g + (50 ± 1 g)"]);
    expect(ran.out.trim().split("\n")).toHaveLength(1);
    const report = JSON.parse(ran.out);
    expect(Object.keys(report)).toEqual([
      "formula",
      "value",
      "unit",
      "text",
      "state",
      "message",
      "uncertainty",
      "notes",
    ]);
    expect(report).toMatchObject({
      value: 100,
      unit: "g",
      text: "100.0 ± 1.4 g",
      state: "ok",
      message: null,
      notes: [],
    });
    expect(report.uncertainty).toBeCloseTo(Math.SQRT2, 12);
  });

  it("--json gives the parts of records and lists", async () => {
    const report = JSON.parse((await runCommand(["ask", "--json", "--digits", "3", "[1 L / 3, 2 L]"])).out);
    expect(report.parts.map((part: { name: string; text: string }) => [part.name, part.text])).toEqual([
      ["1", "0.333 L"],
      ["2", "2 L"],
    ]);
  });
});

describe("ask --lines", () => {
  it("answers each formula with a line", async () => {
    const input = "0.1 + 0.2\n\n# a remark\r\n1 L + 1 g\r\n[1 L, 2 L]\nlet_down(1 L, 96 %vol, to: 40 %vol)";
    const ran = await runCommand(["ask", "--lines"], { input });
    const lines = ran.out.trimEnd().split("\n");
    expect(lines).toHaveLength(4);
    expect(lines[0]).toBe("0.3");
    expect(lines[1]).toMatch(/^fault: .*a volume/);
    expect(lines[2]).toBe("1 L, 2 L");
    expect(lines[3]).toMatch(/^add 1\.4705 L; /);
    const told = ran.err.split(/\n(?! )/);
    expect(told[0]).toBe("1 of 4 formulas is a fault.");
    expect(told.filter((line) => line.includes("Ethanol vapour ignites"))).toHaveLength(1);
    expect(ran.code).toBe(1);
  });

  it("works thousands out in one process, one object a line with --json", async () => {
    const count = 5_000;
    const input = Array.from({ length: count }, (_, i) => `${i} mL + 0.5 mL`).join("\n");
    const ran = await runCommand(["ask", "--lines", "--json"], { input });
    const lines = ran.out.trimEnd().split("\n");
    expect(lines).toHaveLength(count);
    lines.forEach((line, i) => {
      expect(JSON.parse(line)).toMatchObject({
        formula: `${i} mL + 0.5 mL`,
        value: i + 0.5,
        unit: "mL",
        state: "ok",
      });
    });
    expect(ran.code).toBe(0);
  });

  it("keeps signs of several bytes whole wherever the pipe cuts them", async () => {
    const input = `${"20 °C ± 0.5 K\n".repeat(3_000)}`;
    const ran = await runCommand(["ask", "--lines"], { input });
    expect(new Set(ran.out.trimEnd().split("\n"))).toEqual(new Set(["20.00 ± 0.50 °C"]));
  });
});

describe("ask --book", () => {
  let folder = "";
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "invacuo-ask-"));
    writeFileSync(join(folder, "stock.vacuo"), "set jug = 2 L\nset got = blank in mL\n");
    writeFileSync(join(folder, "broken.vacuo"), "set jug = 2 L\nset bad = jgu + 1 L\n");
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  it("lends the names of a book", async () => {
    expect(await runCommand(["ask", "jug / 4", "--book", "stock.vacuo"], { folder })).toMatchObject({
      code: 0,
      out: "0.5 L\n",
    });
  });

  it("gives more digits of the parts of a column too", async () => {
    const input = "table t\n| i | v (mL) |\n| lemon peel | 10 |\ncolumn third = v / 3\n";
    const ran = await runCommand(["ask", "t.third", "--digits", "9", "--book", "-"], { input });
    expect(ran.out).toMatch(/3\.33333333 mL/);
  });

  it("says on standard error what is not known yet", async () => {
    const ran = await runCommand(["ask", "got * 2", "--book", "stock.vacuo"], { folder });
    expect(ran).toMatchObject({ code: 0, out: "" });
    expect(ran.err).toContain("got");
  });

  it("tells of faults elsewhere in the book, and answers all the same", async () => {
    const ran = await runCommand(["ask", "jug * 2", "--book", "broken.vacuo"], { folder });
    expect(ran).toMatchObject({ code: 1, out: "4 L\n" });
    expect(ran.err).toContain("broken.vacuo:2:11: fault:");
  });

  it("needs the book to be there", async () => {
    expect((await runCommand(["ask", "1", "--book", "none.vacuo"], { folder })).code).toBe(2);
  });
});
