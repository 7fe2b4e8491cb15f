import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { codesOf, unreachable } from "./codes";
import { rendered } from "./rendering";

/**
 * One small book for each kind of error, beside it how it is told. `INVACUO_UPDATE=1 npx vitest run tests/errors`
 * writes the tellings again; they are read as text before they are committed.
 */

const folder = import.meta.dirname;
const kinds = readdirSync(folder, { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map((entry) => entry.name)
  .sort();
const books = kinds.flatMap((kind) =>
  readdirSync(join(folder, kind))
    .filter((file) => file.endsWith(".vacuo"))
    .sort()
    .map((file) => `${kind}/${file.slice(0, -".vacuo".length)}`),
);
const textOf = (book: string): string => readFileSync(join(folder, `${book}.vacuo`), "utf8");
const update = process.env.INVACUO_UPDATE === "1";

describe.each(books)("%s", (book) => {
  const text = textOf(book);
  const told = join(folder, `${book}.txt`);

  it("is told as it was read and approved", () => {
    const now = rendered(text, `${book.split("/")[1]}.vacuo`);
    if (update) writeFileSync(told, now);
    expect(existsSync(told), "no telling is stored: run with INVACUO_UPDATE=1 and read what it writes").toBe(
      true,
    );
    expect(now).toBe(readFileSync(told, "utf8"));
  });

  it("has something to tell, inside the text, and each place once", () => {
    const { messages, items } = openBook(text);
    const silent = messages.length === 0 && items.every((item) => item.type !== "check");
    if (silent)
      expect(
        openBook(text)
          .answers()
          .some((a) => a.state !== "ok" || a.notes.length > 0),
      ).toBe(true);
    const places = new Set<string>();
    for (const message of messages) {
      expect(message.says).toMatch(/[.?]$/u);
      expect(message.from).toBeGreaterThanOrEqual(0);
      expect(message.to).toBeGreaterThanOrEqual(message.from);
      expect(message.to).toBeLessThanOrEqual(text.length);
      const place = `${message.from} ${message.to}`;
      expect(
        places,
        `two messages for ${JSON.stringify(text.slice(message.from, message.to))}`,
      ).not.toContain(place);
      places.add(place);
    }
  });

  it("loses a message by the fix that is certain", () => {
    for (const message of openBook(text).messages) {
      for (const fix of message.fixes ?? []) {
        const mended = [...fix.edits]
          .sort((a, b) => b.span.from - a.span.from)
          .reduce((all, { span, text: put }) => all.slice(0, span.from) + put + all.slice(span.to), text);
        expect(mended).not.toBe(text);
        if (!fix.certain) continue;
        const line = (t: string) => t.split("\n")[message.line - 1];
        const after = openBook(mended).messages.filter((m) => m.line === message.line);
        const same = after.filter((m) => m.code === message.code && m.says === message.says);
        expect(same, `${line(text)} → ${line(mended)}`).toEqual([]);
        const before = openBook(text).messages.filter((m) => m.line === message.line);
        expect(after.length, `${line(text)} → ${line(mended)}`).toBeLessThan(before.length);
      }
    }
  });
});

describe("the corpus", () => {
  it("has a book for every code that a book can raise", () => {
    const raised = new Set<string>();
    for (const book of books) {
      const { messages } = openBook(textOf(book));
      for (const message of messages) raised.add(message.code);
      for (const code of faultsIn(textOf(book))) raised.add(code);
    }
    const missing = [...codesOf()].filter((code) => !raised.has(code) && !unreachable.has(code)).sort();
    expect(missing, "write a book in tests/errors for these, or say in codes.ts why there is none").toEqual(
      [],
    );
    const stale = [...unreachable.keys()].filter((code) => raised.has(code) || !codesOf().has(code));
    expect(stale, "these are listed in codes.ts without need").toEqual([]);
  });
});

/** Codes of faults that are values only, such as that of an entry of a list. */
function* faultsIn(text: string): Generator<string> {
  const book = openBook(text);
  for (const item of book.items) {
    const shown = item.type === "value" ? [item.shown, ...item.parts] : [];
    for (const { value } of shown) if (value.type === "fault") yield value.code;
  }
}
