import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { build, type Rolldown } from "vite";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { proseApart, withoutProse } from "../../src/build/prose-apart";
import { vocabulary } from "../../src/vocabulary";
import type { Declaration } from "../../src/vocabulary/declaration";
import { type Prose, proseOf, putBack } from "../../src/vocabulary/prose";

/** The vocabulary as the page gets it, and the prose that was taken out of it. */
interface Built {
  readonly vocabulary: ReadonlyMap<string, Declaration>;
  readonly apart: Readonly<Record<string, Prose>>;
}

const folder = mkdtempSync(join(tmpdir(), "invacuo-prose-"));
let built: Built;
let code = "";
beforeAll(async () => {
  const room = resolve(import.meta.dirname, "../../src/vocabulary");
  const entry = join(folder, "entry.ts");
  writeFileSync(
    entry,
    `export { vocabulary } from ${JSON.stringify(join(room, "index"))};
     export const apart = () => import(${JSON.stringify(join(room, "prose-apart"))});`,
  );
  const [{ output }] = (await build({
    configFile: false,
    logLevel: "warn",
    publicDir: false,
    plugins: [proseApart()],
    build: { write: false, minify: true, target: "es2023", lib: { entry, formats: ["es"] } },
  })) as Rolldown.RolldownOutput[] as [Rolldown.RolldownOutput];
  for (const piece of output)
    writeFileSync(
      join(folder, piece.fileName.replace(/\.js$/, ".mjs")),
      piece.type === "chunk" ? piece.code.replaceAll(/(\.\/[\w-]+)\.js/g, "$1.mjs") : piece.source,
    );
  const main = output.find((piece) => piece.type === "chunk" && piece.isEntry) as Rolldown.OutputChunk;
  code = output
    .filter((piece) => piece.type === "chunk" && !/^prose-apart/.test(piece.fileName))
    .map((piece) => (piece as Rolldown.OutputChunk).code)
    .join("");
  const page = await import(pathToFileURL(join(folder, main.fileName.replace(/\.js$/, ".mjs"))).href);
  built = { vocabulary: page.vocabulary, apart: (await page.apart()).apart };
});
afterAll(() => rmSync(folder, { recursive: true }));

/** What of a declaration can be compared: all but its code, of which only that it is there. */
const comparable = (declarations: ReadonlyMap<string, Declaration>): unknown =>
  JSON.parse(
    JSON.stringify([...declarations.values()], (_, value) => (typeof value === "function" ? "code" : value)),
  );

describe("the prose of the functions, apart from them", () => {
  it("is not in the code that calculates", () => {
    const long = [...vocabulary.values()].flatMap((d) => {
      const { says, equation, source, range, trust, parameters, result, examples } = proseOf(d);
      return [says, equation, source, range, trust ?? "", ...parameters, ...result].concat(
        examples.map((e) => e.formula),
      );
    });
    // Short ones may stand in a message as well.
    const left = long.filter((text) => text.length > 30 && code.includes(JSON.stringify(text).slice(1, -1)));
    expect(left).toEqual([]);
    for (const d of built.vocabulary.values()) {
      for (const key of ["says", "equation", "source", "range", "trust", "examples"])
        expect(d).not.toHaveProperty(key);
      for (const part of [...d.parameters, ...d.result]) expect(part.says ?? "").toBe("");
    }
  });

  it("leaves all else of a declaration where it was: parameters, results, cautions, code", () => {
    const whole = JSON.parse(JSON.stringify(comparable(vocabulary)));
    for (const d of whole) {
      for (const key of ["says", "equation", "source", "range", "trust", "examples"]) delete d[key];
      for (const part of [...d.parameters, ...d.result]) delete part.says;
    }
    const slim = JSON.parse(JSON.stringify(comparable(built.vocabulary)));
    for (const d of slim) for (const part of [...d.parameters, ...d.result]) delete part.says;
    expect(slim).toEqual(whole);
  });

  it("is put back word for word", () => {
    putBack(built.vocabulary, built.apart);
    expect(comparable(built.vocabulary)).toEqual(comparable(vocabulary));
  });

  it("is refused where it belongs to other declarations", () => {
    const { marry: _, ...without } = built.apart;
    expect(() => putBack(built.vocabulary, without)).toThrow(/words of marry/);
  });
});

describe("cutting prose out of code", () => {
  const cut = (text: string) => withoutProse(text, new Set(["How much there is."])).replace(/\s+/g, " ");

  it("takes what only documents need, and what builders are given", () => {
    expect(
      cut(
        'const d = { name: "a", says: "It is.", equation: A + B, examples: [{ formula: "a" }], compute: f };',
      ),
    ).toBe('const d = { name: "a", compute: f };');
    expect(cut('const p = mass("m", "How much there is.");')).toBe('const p = mass("m", "");');
    expect(cut('const p = { name: "m", says, takes: "any" };')).toBe(
      'const p = { name: "m", takes: "any" };',
    );
  });

  it("keeps messages, remarks and cautions", () => {
    for (const kept of [
      'throw new Trouble({ code: "x", says: "Too much.", help: "Take less." });',
      'call.note("How much there is.");',
      'const d = { name: "a", cautions: [GLASS], compute: f };',
      "const { says, equation } = declaration;",
    ])
      expect(cut(kept)).toBe(kept);
  });
});
