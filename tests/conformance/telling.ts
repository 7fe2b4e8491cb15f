import { expect } from "vitest";
import { type Asked, type Book, openBook } from "../../src/engine";

/** What a small book says, in the short words that the tests of this directory are written in. */
export interface Telling {
  readonly book: Book;
  /** The formula comes to this text and carries these notes. */
  gives(formula: string, text: string, ...notes: readonly string[]): Asked;
  /** The formula comes to this text, and nothing is noted about it. */
  givesQuietly(formula: string, text: string): void;
  /** The formula is a fault whose sentence, help and fixes together hold every one of the words. */
  fails(formula: string, ...words: readonly string[]): Asked;
  /** The formula is a gap whose sentence holds the words. */
  waits(formula: string, ...words: readonly string[]): Asked;
  /** The formula is a list or a record with these entries, in order; a gap is written `-`, a fault `!`. */
  lists(formula: string, ...texts: readonly string[]): Asked;
}

const told = (a: Asked): string =>
  [
    a.message ?? "",
    a.help ?? "",
    ...(a.fixes ?? []).flatMap((f) => [f.says, ...f.edits.map((e) => e.text)]),
  ].join(" ");
const short = (a: { readonly state: string; readonly text: string }): string =>
  a.state === "ok" ? a.text : a.state === "gap" ? "-" : "!";

/** A book, and the ways to ask it. */
export function telling(text: string): Telling {
  const book = openBook(text);
  const ask = (formula: string) => book.ask(formula);
  return {
    book,
    gives(formula, wanted, ...notes) {
      const asked = ask(formula);
      expect(asked.message, formula).toBeNull();
      expect(asked.text, formula).toBe(wanted);
      for (const note of notes) expect(asked.notes.join("; "), formula).toContain(note);
      return asked;
    },
    givesQuietly(formula, wanted) {
      const asked = ask(formula);
      expect([asked.message, asked.text, ...asked.notes], formula).toEqual([null, wanted]);
    },
    fails(formula, ...words) {
      const asked = ask(formula);
      expect([asked.state, asked.text, told(asked)], formula).toEqual(["fault", "", told(asked)]);
      for (const word of words) expect(told(asked), formula).toContain(word);
      return asked;
    },
    waits(formula, ...words) {
      const asked = ask(formula);
      expect([asked.state, asked.text], formula).toEqual(["gap", ""]);
      for (const word of words) expect(asked.message ?? "", formula).toContain(word);
      return asked;
    },
    lists(formula, ...texts) {
      const asked = ask(formula);
      expect(asked.parts?.map(short) ?? told(asked), formula).toEqual(texts);
      return asked;
    },
  };
}

/** The fault messages of a book, each with the line that it stands on: `3: sentence help`. */
export const faultsOf = (book: Book): readonly string[] =>
  book.messages
    .filter((m) => m.severity === "fault")
    .map((m) => `${m.line}: ${m.says} ${m.help ?? ""}`.trim());
export const notesOf = (book: Book): readonly string[] =>
  book.messages
    .filter((m) => m.severity === "note")
    .map((m) => `${m.line}: ${m.says} ${m.help ?? ""}`.trim());

/** Every value of a book: `name=text`, a gap `name=-`, a fault `name=!`. */
export const valuesOf = (book: Book): readonly string[] => book.answers().map((a) => `${a.name}=${short(a)}`);

/** A book without a fault whose values are these. */
export function reads(text: string, ...values: readonly string[]): Book {
  const book = openBook(text);
  expect(faultsOf(book), text).toEqual([]);
  expect(valuesOf(book)).toEqual(values);
  return book;
}

/** A book that has exactly these faults: of each, its line and words of it, as `[3, "word", …]`. */
export function faults(text: string, ...wanted: readonly (readonly [number, ...string[]])[]): Book {
  const book = openBook(text);
  const met = faultsOf(book);
  expect(
    met.map((m) => Number(m.slice(0, m.indexOf(":")))),
    `${text}\n${met.join("\n")}`,
  ).toEqual(wanted.map(([line]) => line));
  wanted.forEach(([, ...words], i) => {
    for (const word of words) expect(met[i], text).toContain(word);
  });
  return book;
}
