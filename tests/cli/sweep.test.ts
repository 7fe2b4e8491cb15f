import { execFileSync } from "node:child_process";
import {
  appendFileSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runCommand } from "./run-command";

const book = "set pull = 60 mbar\nset bath = 35 °C\nset pot = boils_at(pull, strength: 40 %vol)\n";
const grid = [
  "--vary",
  "pull from 20 mbar to 60 mbar step 1 mbar",
  "bath from [30 °C, 40 °C]",
  "--show",
  "pot",
  "bath - pot",
];
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "invacuo-sweep-"));
  writeFileSync(join(folder, "still.vacuo"), book);
});
afterAll(() => rmSync(folder, { recursive: true }));
const sweep = (...words: string[]) => runCommand(["sweep", "still.vacuo", ...words], { folder });

describe("sweep", () => {
  it("prints a line for each point, in order", async () => {
    const { code, out, err } = await sweep(...grid);
    expect(code).toBe(0);
    const lines = out.trimEnd().split("\n");
    expect(lines).toHaveLength(83);
    expect(lines[0]!.trim().split(/ {2,}/)).toEqual(["pull", "bath", "pot", "bath - pot"]);
    expect(lines.at(-1)!.trim().split(/ {2,}/).slice(0, 3)).toEqual(["60 mbar", "40 °C", "24.955 °C"]);
    expect(err).toContain("82 of 82 points.");
  });

  it("gives the same lines in shards as in one piece", async () => {
    const whole = (await sweep(...grid, "--json")).out.trimEnd().split("\n");
    const shards: string[] = [];
    for (const part of ["1/3", "2/3", "3/3"])
      shards.push(...(await sweep(...grid, "--json", "--shard", part)).out.trimEnd().split("\n"));
    const point = (line: string): number => JSON.parse(line).point;
    expect(shards.sort((a, b) => point(a) - point(b))).toEqual(whole);
  });

  it("goes on where a file ends, a line that was cut off thrown away", async () => {
    await sweep(...grid, "--into", "whole.jsonl");
    const whole = readFileSync(join(folder, "whole.jsonl"), "utf8");
    writeFileSync(join(folder, "broken.jsonl"), whole);
    truncateSync(join(folder, "broken.jsonl"), Math.floor(whole.length / 2));
    const { err } = await sweep(...grid, "--into", "broken.jsonl");
    expect(err).toContain("82 of 82 points.");
    expect(readFileSync(join(folder, "broken.jsonl"), "utf8")).toBe(whole);
  });

  it("never goes on with another sweep's file, nor with a file that is none", async () => {
    await sweep(...grid, "--into", "one.jsonl");
    const other = await sweep("--vary", "pull from [20 mbar]", "--show", "pot", "--into", "one.jsonl");
    expect(other.code).toBe(2);
    expect(other.err).toContain("holds another sweep");
    writeFileSync(join(folder, "letter.txt"), "dear neighbour\n");
    const none = await sweep(...grid, "--into", "letter.txt");
    expect(none.code).toBe(2);
    expect(none.err).toContain("not the file of a sweep");
    expect(readFileSync(join(folder, "letter.txt"), "utf8")).toBe("dear neighbour\n");
    appendFileSync(join(folder, "letter.txt"), "");
  });

  it("says what is wrong with an axis, a formula, a shard", async () => {
    const told = async (...words: string[]) => {
      const { code, err } = await sweep(...words);
      expect(code).toBe(2);
      return err;
    };
    expect(await told("--show", "pot")).toContain("needs a value to vary");
    expect(await told("--vary", "pot from [1 °C]", "--show", "pot")).toContain("worked out by a formula");
    expect(await told("--vary", "pull from [60 mbar]", "--show", "pots")).toContain("pot");
    expect(await told("--vary", "pull from [60 mbar]", "--show", "pot", "--shard", "4/3")).toContain("2/5");
  });

  it("ends with 1 when a point is a fault, and works the others out", async () => {
    const { code, out, err } = await sweep("--vary", "pull from [60 mbar, -5 mbar]", "--show", "pot");
    expect(code).toBe(1);
    expect(err).toMatch(/fault: At pull -5 mbar: .*absolute pressure/);
    expect(out).toContain("24.955 °C");
    expect(out).toContain("fault");
  });

  const built = "dist/cli/invacuo.js";
  it.runIf(existsSync(built))("gives the same lines from several threads as from one", () => {
    const call = (workers: string) =>
      execFileSync(
        process.execPath,
        [built, "sweep", join(folder, "still.vacuo"), ...grid, "--json", "--workers", workers],
        { stdio: ["ignore", "pipe", "ignore"] },
      ).toString();
    expect(call("3")).toBe(call("1"));
  });
});
