import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { build, type Rolldown } from "vite";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { functionsApart, parts, partsCalled } from "../../src/build/functions-apart";
import { proseApart } from "../../src/build/prose-apart";
import { slimParser } from "../../src/build/slim-parser";
import { openBook } from "../../src/engine";
import { vocabulary } from "../../src/vocabulary";
import { files } from "../../src/vocabulary/vocabulary";

/** The engine as the page gets it. */
interface Built {
  readonly openBook: typeof openBook;
  readonly vocabulary: typeof vocabulary;
  readonly isAway: (name: string) => boolean;
  readonly callsAway: (text: string) => boolean;
  readonly fetchFunctions: (text?: string) => Promise<void>;
  readonly onArrival: (tell: () => void) => () => void;
}

const top = resolve(import.meta.dirname, "../..");
const folder = mkdtempSync(join(tmpdir(), "invacuo-functions-"));
let page: Built;
beforeAll(async () => {
  const entry = join(folder, "entry.ts");
  writeFileSync(
    entry,
    `export { openBook } from ${JSON.stringify(join(top, "src/engine"))};
     export { vocabulary } from ${JSON.stringify(join(top, "src/vocabulary"))};
     export * from ${JSON.stringify(join(top, "src/vocabulary/arrival"))};`,
  );
  const [{ output }] = (await build({
    configFile: false,
    logLevel: "warn",
    publicDir: false,
    plugins: [slimParser(), functionsApart(), proseApart()],
    build: { write: false, minify: true, target: "es2023", lib: { entry, formats: ["es"] } },
  })) as Rolldown.RolldownOutput[] as [Rolldown.RolldownOutput];
  for (const piece of output)
    writeFileSync(
      join(folder, piece.fileName.replace(/\.js$/, ".mjs")),
      piece.type === "chunk" ? piece.code.replaceAll(/(\.\/[\w-]+)\.js/g, "$1.mjs") : piece.source,
    );
  const main = output.find((piece) => piece.type === "chunk" && piece.isEntry)!;
  page = await import(pathToFileURL(join(folder, main.fileName.replace(/\.js$/, ".mjs"))).href);
});
afterAll(() => rmSync(folder, { recursive: true }));

const books = ["workbooks", "tests/errors"].flatMap((room) =>
  readdirSync(join(top, room), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".vacuo"))
    .map((name) => [join(room, name), readFileSync(join(top, room, name), "utf8")] as const),
);
/** Everything that a book says of itself. */
const told = (book: ReturnType<typeof openBook>): unknown =>
  JSON.parse(JSON.stringify([book.answers(), book.messages, book.tally, book.cautions]));
const boiling = 'book "A pot"\nset pot = boils_at(60 mbar, strength: 40 %vol)\n';

// In this order: what has come stays.
describe("the functions of the page, in parts", () => {
  it("are at first those that every book may need; of the others it is known that they are on their way", () => {
    expect([...page.vocabulary.keys()]).toEqual(
      [...vocabulary.keys()].filter((n) => [...files.totals!, ...files.plain!].some((d) => d.name === n)),
    );
    for (const name of vocabulary.keys()) expect(page.isAway(name)).toBe(!page.vocabulary.has(name));
    expect(page.isAway("no_such_function")).toBe(false);
  });

  it("are told from what only looks like a call", () => {
    expect(page.callsAway(boiling)).toBe(true);
    expect(page.callsAway("set a = boils_at (1 bar)")).toBe(true);
    for (const text of [
      'about "boils_at is a function"',
      "set a = my_boils_at(1)",
      "set a = sum([1, 2])",
      "",
    ])
      expect(page.callsAway(text), text).toBe(false);
    expect(partsCalled(boiling)).toEqual(["functions:bench"]);
  });

  it("are a fault of their own while they are away, which goes when they have come", async () => {
    const early = page.openBook(boiling);
    expect(early.messages.map((m) => [m.code, m.says])).toEqual([
      ["function-away", "`boils_at` has not been fetched yet."],
    ]);
    let told = 0;
    const stop = page.onArrival(() => {
      told++;
    });
    await page.fetchFunctions(boiling);
    expect(told).toBe(1);
    stop();
    expect(page.callsAway(boiling)).toBe(false);
    expect(page.isAway("honey_density")).toBe(true);
    expect(page.openBook(boiling).messages).toEqual([]);
  });

  it("are in the order of the vocabulary when all have come, none missing and none twice", async () => {
    await page.fetchFunctions();
    expect([...page.vocabulary.keys()]).toEqual([...vocabulary.keys()]);
    expect([...parts.values()].flat().sort()).toEqual(
      Object.keys(files)
        .filter((f) => f !== "plain" && f !== "totals")
        .sort(),
    );
  });

  it("work every book of the house out to the last digit as the command does, cautions and faults with it", () => {
    expect(books.length).toBeGreaterThan(100);
    for (const [name, text] of books) expect(told(page.openBook(text)), name).toEqual(told(openBook(text)));
  });
});
