import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { build, type Rolldown } from "vite";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import * as grammar from "../../grammar";
import { later } from "../../src/build/later";
import { openBook } from "../../src/engine";

/** The engine as the page gets it, its functions left whole. */
interface Built {
  readonly openBook: typeof openBook;
  readonly grammar: typeof grammar;
  readonly fetchQuestions: () => Promise<unknown>;
  readonly fetchAlterations: () => Promise<unknown>;
  readonly fetchReasons: () => Promise<unknown>;
}

const top = resolve(import.meta.dirname, "../..");
const folder = mkdtempSync(join(tmpdir(), "invacuo-later-"));
const from = (path: string): string => JSON.stringify(join(top, path));
let page: Built;
let pieces: readonly Rolldown.OutputChunk[];
beforeAll(async () => {
  const entry = join(folder, "entry.ts");
  writeFileSync(
    entry,
    `export { openBook } from ${from("src/engine")};
     export * as grammar from ${from("grammar")};
     export const fetchAlterations = () => import(${from("grammar/alterations-here")});
     export const fetchReasons = () => import(${from("grammar/explaining-here")});
     export const fetchQuestions = () => import(${from("src/engine/questions-here")});`,
  );
  const [{ output }] = (await build({
    configFile: false,
    logLevel: "warn",
    publicDir: false,
    plugins: [later()],
    build: { write: false, minify: true, target: "es2023", lib: { entry, formats: ["es"] } },
  })) as Rolldown.RolldownOutput[] as [Rolldown.RolldownOutput];
  pieces = output.filter((piece) => piece.type === "chunk");
  for (const { fileName, code } of pieces)
    writeFileSync(
      join(folder, fileName.replace(/\.js$/, ".mjs")),
      code.replaceAll(/(\.\/[\w-]+)\.js/g, "$1.mjs"),
    );
  const main = pieces.find((piece) => piece.isEntry)!;
  page = await import(pathToFileURL(join(folder, main.fileName.replace(/\.js$/, ".mjs"))).href);
});
afterAll(() => rmSync(folder, { recursive: true }));

const text = readFileSync(join(top, "workbooks/harbour-gin.vacuo"), "utf8");
/** What is told in words; a value itself holds how it is stored as well. */
const told = (value: unknown): unknown =>
  JSON.parse(JSON.stringify(value, (key, held) => (key === "value" ? undefined : held)));

/** Each of these modules is in one piece, and not in that which opens a book. */
function comeLater(...modules: readonly string[]): void {
  for (const module of modules) {
    const holding = pieces.filter((piece) => piece.moduleIds.some((id) => id.endsWith(module)));
    expect(holding, module).toHaveLength(1);
    expect(holding[0]!.isEntry, module).toBe(false);
  }
}

// In this order: what has come stays.
describe("what a book is asked, in the page", () => {
  it("is not in the piece that opens a book", () => {
    comeLater("engine/explanation.ts", "engine/sweep.ts", "engine/montecarlo.ts");
    expect(() => page.openBook("set a = 1 L").why("a")).toThrow();
  });

  it("is answered as by the whole once it has come, by a book that was open before too", async () => {
    const book = page.openBook(text);
    await page.fetchQuestions();
    const whole = openBook(text);
    for (const { name } of whole.answers()) expect(told(book.why(name)), name).toEqual(told(whole.why(name)));
    const [first] = whole.answers().filter((answer) => answer.uncertainty !== null);
    const trials = { trials: 200 };
    expect(told(book.why(first!.name, trials))).toEqual(told(whole.why(first!.name, trials)));
    const two = "set a = 2 L\nset b = a * 2";
    const axis = ["a from [1 L, 2 L]"];
    const swept = page.openBook(two).sweep(axis, ["b"]);
    expect(swept.count).toBe(2);
    expect(told(swept.outcomes(1))).toEqual(told(openBook(two).sweep(axis, ["b"]).outcomes(1)));
  });
});

describe("edits, in the page", () => {
  const book = "table stock\n| item | volume (mL) |\n| juniper | 2400 |\n\nset all = sum(stock.volume)\n";
  /** What each sort of edit makes of the book: the text, or the code of the refusal. */
  const edits = (from: typeof grammar): Readonly<Record<string, string>> => {
    const tree = from.parseBook(book);
    const table = tree.tables[0]!;
    const set = tree.statements.find(({ node }) => node.type === "set")!;
    const made = {
      cell: from.setCell(tree, table, 0, 1, "2500"),
      row: from.addRows(tree, table, 1, [["bay leaf", "350"]]),
      formula: from.setFormula(tree, set, "stock.juniper.volume"),
      name: from.rename(tree, { kind: "column", table, name: "volume" }, "amount"),
      column: from.addComputedColumn(tree, table, "half", "volume / 2"),
      comment: from.setComment(tree, set, "what there is"),
      gone: from.removeStatement(tree, set),
    };
    return Object.fromEntries(
      Object.entries(made).map(([what, edited]) => [
        what,
        edited.refused?.code ?? from.applyPatches(book, edited.patches!),
      ]),
    );
  };
  const whole = edits(grammar);
  const first = ["cell", "row", "formula"];

  it("of cells and formulas are made at once; others are refused as long as they are on their way", () => {
    comeLater("grammar/renaming.ts", "grammar/references.ts", "grammar/table-edits.ts");
    comeLater("grammar/statement-edits.ts");
    for (const [what, text] of Object.entries(edits(page.grammar)))
      expect(text, what).toBe(first.includes(what) ? whole[what] : "edit-away");
  });

  it("are all made once the others have come", async () => {
    await page.fetchAlterations();
    expect(edits(page.grammar)).toEqual(whole);
    expect(whole.name).toContain("sum(stock.amount)");
  });
});

describe("why something cannot be read, in the page", () => {
  const books = readdirSync(join(top, "tests/errors"), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".vacuo"))
    .map((name) => [name, readFileSync(join(top, "tests/errors", name), "utf8")] as const);

  it("is on its way at first: the fault has its place, and the rest of the book is worked out", () => {
    comeLater("grammar/misplaced.ts", "grammar/wanted.ts");
    const text = "set a = 2 L\nset b = (a * 2\nset c = a * 3\n";
    const [here] = page.openBook(text).messages;
    const [whole] = openBook(text).messages;
    expect(here).toMatchObject({ code: "reason-away", severity: "fault", line: 2 });
    expect(whole).toMatchObject({ code: "bracket-open", severity: "fault", line: 2 });
    expect(told(page.openBook(text).answers().at(-1))).toEqual(told(openBook(text).answers().at(-1)));
  });

  it("is told as by the whole once it has come", async () => {
    await page.fetchReasons();
    expect(books.length).toBeGreaterThan(50);
    for (const [name, text] of books)
      expect(told(page.openBook(text).messages), name).toEqual(told(openBook(text).messages));
  });
});
