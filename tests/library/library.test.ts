import { execFileSync } from "node:child_process";
import { copyFileSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { build } from "vite";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { libraryDocument } from "../../src/build/library-document";
import { openBook } from "../../src/engine";
import { exportXlsx } from "../../src/exchange";
import * as source from "../../src/library";
import { fencesOf } from "../docs/fences";
import { builtLibrary } from "../setup/built";
import { checkAndRun, consumerFolder, top } from "./consumer";

let folder = "";
beforeAll(async () => {
  await builtLibrary();
  folder = consumerFolder();
}, 200_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const guide = fencesOf(readFileSync(join(top, "docs/library.md"), "utf8"));

describe("the public face", () => {
  const written = join(top, "docs/library.api.md");
  /** Without what is told about the names: only names and types are promised. */
  const promised = (document: string): readonly string[] =>
    [...document.matchAll(/```ts\n([\s\S]*?)```/g)].flatMap(([, block]) =>
      block!
        .replace(/\/\*\*[\s\S]*?\*\//g, "")
        .split(/\n(?=\S)/)
        .map((line) => line.replace(/\s+/g, " ").trim())
        .filter((line) => line !== ""),
    );

  it("is the one that is written down (when the change is meant: npm run generate)", () => {
    const now = libraryDocument();
    if (process.env.INVACUO_UPDATE === "1") writeFileSync(written, now);
    expect(promised(now)).toEqual(promised(readFileSync(written, "utf8")));
  });

  it("is what the built modules export", async () => {
    const built = execFileSync(
      process.execPath,
      [
        "--input-type=module",
        "-e",
        'import * as all from "invacuo"; console.log(Object.keys(all).join(" "));',
      ],
      { cwd: folder, encoding: "utf8" },
    );
    expect(built.trim().split(" ").sort()).toEqual(Object.keys(source).sort());
    const document = readFileSync(written, "utf8");
    for (const name of Object.keys(source))
      expect(document).toMatch(new RegExp(`^(function|class|const) ${name}\\b`, "m"));
  });

  it("is found by its name in this package too", () => {
    const printed = execFileSync(
      process.execPath,
      [
        "--input-type=module",
        "-e",
        'import { openBook } from "invacuo"; console.log(openBook("set a = 2 g").ask("2 * a").text);',
      ],
      { cwd: top, encoding: "utf8" },
    );
    expect(printed).toBe("4 g\n");
  });
});

describe("a program of somebody else's", () => {
  it("the example of the guide passes the strictest types, runs, and prints what the guide says", async () => {
    copyFileSync(join(top, "workbooks/harbour-gin.vacuo"), join(folder, "harbour-gin.vacuo"));
    const program = guide.find((fence) => fence.words[0] === "ts")!.lines.join("\n");
    const says = guide.find((fence) => fence.words[0] === "text")!.lines.join("\n");
    expect(checkAndRun(folder, program).trimEnd()).toBe(says);
    // The spreadsheet is byte for byte the one that the source writes.
    const text = readFileSync(join(folder, "harbour-gin.vacuo"), "utf8");
    const weaker = openBook(text.replace(/^set bottling\s*=\s*42 %vol/m, (line) => line.replace("42", "40")));
    expect(readFileSync(join(folder, "weaker.xlsx"))).toEqual(Buffer.from(await exportXlsx(weaker)));
  }, 60_000);

  it("learns from the compiler what is wrong with a call", () => {
    expect(() => checkAndRun(folder, 'import { openBook } from "invacuo";\nopenBook(3);\n')).toThrow(
      /TS2345/,
    );
    expect(() => checkAndRun(folder, 'import { openBok } from "invacuo";\nopenBok("");\n')).toThrow(
      /TS2724|TS2305/,
    );
  }, 60_000);
});

describe("a bundler", () => {
  /** What a program weighs with what it takes from the library: the script that loads first, and all that may follow. */
  async function bundled(program: string): Promise<{ first: string; names: readonly string[] }> {
    const entry = join(folder, "entry.js");
    writeFileSync(entry, program);
    const result = await build({
      configFile: false,
      logLevel: "silent",
      root: folder,
      build: { write: false, minify: true, rolldownOptions: { input: entry } },
    });
    if (!("output" in result)) throw new Error("One build was asked for.");
    const chunks = result.output.filter((piece) => piece.type === "chunk");
    return {
      first: chunks.find((chunk) => chunk.isEntry)!.code,
      names: chunks.map((chunk) => chunk.fileName),
    };
  }

  it("takes only what is used: reading a link brings no language, no functions and no spreadsheets along", async () => {
    const { first } = await bundled(
      'import { decodeLink } from "invacuo"; console.log(decodeLink(location.hash));',
    );
    expect(first).not.toContain("boils_at");
    expect(gzipSync(first).length).toBeLessThan(12_000);
  });

  it("leaves the writer of .xlsx for when it is asked for", async () => {
    const { first, names } = await bundled(
      'import { openBook, exportXlsx } from "invacuo"; console.log(await exportXlsx(openBook("")));',
    );
    expect(names.length).toBeGreaterThan(1);
    expect(first).not.toContain("sharedStrings");
    // Nothing in it asks for Node.
    expect(first).not.toMatch(/from"node:|require\("fs"\)/);
  }, 60_000);
});
