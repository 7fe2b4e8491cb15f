import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import fc from "fast-check";
import { build, type Rolldown } from "vite";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import * as whole from "../../grammar";
import * as collections from "../../src/build/collections";
import { cut, slimParser } from "../../src/build/slim-parser";

/** The grammar as the page gets it. */
let slim: typeof whole;
let code = "";
const folder = mkdtempSync(join(tmpdir(), "invacuo-parser-"));
const top = resolve(import.meta.dirname, "../..");
beforeAll(async () => {
  const [{ output }] = (await build({
    configFile: false,
    logLevel: "warn",
    publicDir: false,
    plugins: [slimParser()],
    build: {
      write: false,
      minify: true,
      target: "es2023",
      lib: { entry: join(top, "grammar/index.ts"), formats: ["es"] },
    },
  })) as Rolldown.RolldownOutput[] as [Rolldown.RolldownOutput];
  expect(output).toHaveLength(1);
  code = output[0].code;
  const file = join(folder, "grammar.mjs");
  writeFileSync(file, code);
  slim = await import(pathToFileURL(file).href);
});
afterAll(() => rmSync(folder, { recursive: true }));

/** Every book of the house: those to begin from, and those that hold each fault. */
const books = ["workbooks", "tests/errors", "tests/docs", "tests/conformance"].flatMap((room) =>
  readdirSync(join(top, room), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".vacuo"))
    .map((name) => [join(room, name), readFileSync(join(top, room, name), "utf8")] as const),
);
const plain = (tree: unknown): unknown => JSON.parse(JSON.stringify(tree));

describe("the parser without what a finished grammar never runs", () => {
  it("reads every book of the house as the whole parser does, faults and all", () => {
    expect(books.length).toBeGreaterThan(200);
    for (const [name, text] of books)
      expect(plain(slim.parseBook(text)), name).toEqual(plain(whole.parseBook(text)));
  });

  it("reads texts that were broken anywhere as the whole parser does", () => {
    const broken = fc
      .constantFrom(...books)
      .chain(([, text]) =>
        fc.tuple(
          fc.constant(text),
          fc.nat(text.length),
          fc.nat(4),
          fc.string({ unit: "grapheme", maxLength: 4 }),
        ),
      )
      .map(([text, at, away, put]) => text.slice(0, at) + put + text.slice(at + away));
    fc.assert(
      fc.property(broken, (text) => {
        expect(plain(slim.parseBook(text))).toEqual(plain(whole.parseBook(text)));
      }),
      { numRuns: 300 },
    );
  });

  it("lexes any characters as the whole lexer does", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 30 }), (text) => {
        const [a, b] = [slim.parseFormula(text), whole.parseFormula(text)];
        expect(plain(a)).toEqual(plain(b));
        expect(plain(slim.highlight(`set a = ${text}`))).toEqual(plain(whole.highlight(`set a = ${text}`)));
      }),
      { numRuns: 500 },
    );
  });

  it("holds nothing of the package's checks, trees, recovery and messages", () => {
    for (const words of ["Ambiguous", "left recursion", "sad sad panda", "Redundant input", "CstVisitor"])
      expect(code).not.toContain(words);
  });
});

describe("cutting a package's code", () => {
  it("refuses code that reads otherwise than expected", () => {
    expect(() => cut("let a = 1;", { instead: [["let b", "let c"]] }, "x.js")).toThrow(
      /x\.js.*let b.*0 times/,
    );
    expect(() => cut("class A { b() {} }", { methods: ["c"] }, "x.js")).toThrow(/c is a method 0 times/);
    expect(() => cut("let a;", { without: ["./b.js"] }, "x.js")).toThrow(/imports \.\/b\.js 0 times/);
    expect(() => cut("let a;", { list: "Sorts" }, "x.js")).toThrow(/no list Sorts/);
  });

  it("takes methods and imports", () => {
    expect(cut('import { a, b as c } from "./b.js";', { without: ["./b.js"] }, "x.js")).toBe(
      "const a = undefined; const c = undefined;",
    );
    expect(cut("export class A { b() {} c() {} }", { methods: ["b"] }, "x.js")).toBe(
      "export class A {  c() {} }",
    );
  });
});

describe("the helpers of the parser's package", () => {
  const value = fc.oneof(
    fc.integer({ min: -2, max: 2 }),
    fc.constant(undefined),
    fc.constant(null),
    fc.string(),
  );
  const list = fc.array(value, { maxLength: 6 });
  const bag = fc.oneof(
    list,
    fc.dictionary(fc.string({ minLength: 1, maxLength: 3 }), value, { maxKeys: 5, noNullPrototype: true }),
  );
  const even = (v: unknown): boolean => typeof v === "number" && v % 2 === 0;
  type Helper = (...args: never[]) => unknown;
  const ours = new Map<string, Helper>(Object.entries(collections) as [string, Helper][]);
  // The package brings them along; they have no types here.
  const library: string = "lodash-es";
  let originals: ReadonlyMap<string, Helper>;
  beforeAll(async () => {
    originals = new Map(Object.entries(await import(library)));
  });
  const same = (name: keyof typeof collections, ...args: readonly fc.Arbitrary<unknown>[]): void => {
    const own = ours.get(name)!;
    const original = originals.get(name)!;
    fc.assert(
      fc.property(fc.tuple(...args), (given) => {
        expect(own(...(copied(given) as never[]))).toEqual(original(...(copied(given) as never[])));
      }),
    );
  };
  /** Copies lists and objects, keeps functions: some helpers change what they are given. */
  const copied = (given: readonly unknown[]): unknown[] =>
    given.map((one) => (typeof one === "function" ? one : structuredClone(one)));

  it("answer as the originals do", () => {
    const f = fc.constant(even);
    for (const name of ["map", "filter", "reject", "find", "some", "every", "forEach", "groupBy"] as const)
      same(name, bag, f);
    same(
      "flatMap",
      bag,
      fc.constant((v: unknown) => [v, v]),
    );
    same("pickBy", fc.dictionary(fc.constantFrom("a", "b", "c"), value, { noNullPrototype: true }), f);
    same(
      "reduce",
      bag,
      fc.constant((sum: unknown, v: unknown) => `${sum},${v}`),
      fc.constant(""),
    );
    same(
      "reduce",
      bag,
      fc.constant((sum: unknown, v: unknown) => `${sum},${v}`),
    );
    same("includes", bag, value);
    same("indexOf", list, value);
    for (const name of ["isEmpty", "keys", "values", "clone"] as const) same(name, bag);
    for (const name of ["first", "last", "compact", "uniq"] as const) same(name, list);
    same("flatten", fc.array(fc.oneof(value, list)));
    for (const name of ["drop", "dropRight"] as const) {
      same(name, list);
      same(name, list, fc.nat(7));
    }
    same("difference", list, list);
    same("has", bag, fc.constantFrom("a", "length", "0"));
    same("defaults", fc.record({ a: value }), fc.record({ a: value, b: value }));
    same("upperFirst", fc.string());
    const anything = fc.oneof(bag, value, fc.constant(/a/), fc.constant(even));
    for (const name of [
      "isArray",
      "isUndefined",
      "isString",
      "isFunction",
      "isRegExp",
      "isObject",
      "identity",
    ] as const)
      same(name, name === "isRegExp" ? fc.oneof(value, list) : anything);
    expect(collections.isRegExp(/a/)).toBe(true);
  });

  it("end a walk where the callback says so", () => {
    for (const helpers of [ours, originals]) {
      const forEach = helpers.get("forEach") as (of: number[], f: (v: number) => boolean) => void;
      const seen: unknown[] = [];
      forEach([1, 2, 3], (v) => {
        seen.push(v);
        return v !== 2;
      });
      expect(seen).toEqual([1, 2]);
    }
  });
});
