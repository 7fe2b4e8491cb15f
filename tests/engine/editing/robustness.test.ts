import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Book, openBook } from "../../../src/engine";
import {
  complete,
  definitionAt,
  diagnostics,
  type Field,
  foretell,
  hover,
  meaning,
  nameAt,
  outline,
  renameAt,
  signatureAt,
} from "../../../src/engine/editing";
import { CORDIAL, cordial } from "./writing";

/** Asks everything at one caret, and looks at what every answer must hold. */
function askAll(book: Book, field: Field, text: string, caret: number): void {
  const inside = (from: number, to: number): void => {
    expect(from).toBeGreaterThanOrEqual(0);
    expect(to).toBeGreaterThanOrEqual(from);
    expect(to).toBeLessThanOrEqual(text.length);
  };
  const completion = complete(book, field, caret, { most: 40 });
  inside(completion.from, completion.to);
  expect(completion.from).toBeLessThanOrEqual(caret);
  expect(completion.to).toBeGreaterThanOrEqual(caret);
  for (const { insert, caret: at, stops, fits, misfit } of completion.proposals) {
    expect(stops.every((s) => s >= 0 && s <= insert.length)).toBe(true);
    expect(stops).toContain(at);
    expect(misfit === undefined).toBe(fits);
  }
  const meant = meaning(book, field, caret);
  if (meant) inside(meant.from, meant.to);
  const told = hover(book, field, caret);
  if (told) inside(told.from, told.to);
  signatureAt(book, field, caret);
  const foreseen = foretell(book, field);
  if (foreseen?.trouble) inside(foreseen.trouble.from, foreseen.trouble.to);
}

const folder = new URL("../../../workbooks/", import.meta.url);
const books = readdirSync(folder).filter((f) => f.endsWith(".vacuo"));

describe("at every caret", () => {
  it.each(["the cordial", ...books])("of %s every question has an answer", (file) => {
    const text = file === "the cordial" ? CORDIAL : readFileSync(new URL(file, folder), "utf8");
    const book = openBook(text);
    for (let caret = 0; caret <= text.length; caret += 5) {
      askAll(book, { in: "book" }, text, caret);
      definitionAt(book, caret);
      const name = nameAt(book, caret);
      if (name) expect(text.slice(name.from, name.to)).toContain(name.name.replaceAll("|", "\\|"));
    }
    expect(outline(book).length).toBeGreaterThan(3);
  });
  it("two askings give the same answer", () => {
    for (let caret = 0; caret <= CORDIAL.length; caret += 29) {
      const plain = (b: Book) =>
        JSON.stringify(complete(b, { in: "book" }, caret), (key, value) =>
          key === "value" ? undefined : value,
        );
      expect(plain(openBook(CORDIAL))).toBe(plain(cordial));
    }
  });
});

describe("whatever is typed", () => {
  const pieces = fc.constantFrom(
    ...'set column foot table check chart step define book if then else find from so that is in to where pull stock volume blend strength ( ) [ ] , : . + - * / ^ ± < = " { } ` | \\ # 3 2.5 mL %vol ° % GBP/ 2026-01-01 \n \r\n é 𝛼 ‰ before. stock. "a{'.split(
      " ",
    ),
    " ",
    "\t",
  );
  const soup = fc.array(pieces, { maxLength: 24 }).map((p) => p.join(fc.sample(fc.constant(""), 1)[0]!));
  const spaced = fc.array(pieces, { maxLength: 20 }).map((p) => p.join(" "));
  const anything = fc.oneof(soup, spaced, fc.string({ unit: "grapheme", maxLength: 30 }));
  const fields = (text: string): readonly Field[] => [
    { in: "value", name: "pull", text },
    { in: "trial", name: "pull", text },
    { in: "define", name: "kept", text },
    { in: "column", table: "stock", column: "cost", text, row: 1 },
    { in: "foot", table: "stock", column: "cost", text },
    { in: "cell", table: "stock", column: "volume", row: 0, text },
    { in: "cell", table: "stock", column: "sort", row: 1, text },
    { in: "heading", table: "stock", text },
    { in: "check", text },
    { in: "chart", text },
    { in: "sentence", text },
    { in: "clauses", text },
    { in: "statement", table: "stock", text },
    { in: "formula", text },
    { in: "column", table: "nobody", column: "nothing", text },
  ];

  it("into a field, nothing is thrown and every place lies inside", () => {
    fc.assert(
      fc.property(anything, fc.nat(), (text, n) => {
        for (const field of fields(text)) askAll(cordial, field, text, n % (text.length + 1));
      }),
      { numRuns: 100, seed: 20260302 },
    );
  });
  it("into the text of the book, nothing is thrown and every place lies inside", () => {
    fc.assert(
      fc.property(anything, fc.nat(), fc.nat(), (typed, place, back) => {
        const at = place % CORDIAL.length;
        const text = CORDIAL.slice(0, at) + typed + CORDIAL.slice(at + (back % 9));
        const book = cordial.edit(text);
        const caret = at + typed.length;
        askAll(book, { in: "book" }, text, caret);
        askAll(cordial, { in: "book", text }, text, caret);
        definitionAt(book, caret);
        renameAt(book, caret, typed);
        outline(book);
        diagnostics(book);
      }),
      { numRuns: 60, seed: 41 },
    );
  });
});
