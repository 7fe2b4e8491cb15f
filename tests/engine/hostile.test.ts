import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Book, openBook } from "../../src/engine";
import { WORK_LIMIT } from "../../src/engine/allowance";
import { workingsOf } from "../../src/engine/book";
import { hostileBooks } from "./hostile-books";
import { mutated, mutation, randomBook } from "./random-books";

/** Bytes of each hostile book: 40 kB in the ordinary tests. `INVACUO_HOSTILE=1000000` tries whole ones. */
const SIZE = Number(process.env.INVACUO_HOSTILE ?? 40_000);
const THOROUGH = process.env.INVACUO_HOSTILE !== undefined;
/** They are stopped by the limit of work, as others are that come to it sooner. */
const LONG: ReadonlySet<string> = new Set([
  "long ranges",
  "lists of lists",
  "tables in tables",
  "runs over ranges",
]);
/** `INVACUO_RUNS` asks for a longer search. */
const RUNS = Number(process.env.INVACUO_RUNS ?? 1500);

/** What stops each of them, where something has to. */
const STOPPED_BY: ReadonlyMap<string, string> = new Map([
  ["a tower of searches", "work-limit"],
  ["long ranges", "work-limit"],
  ["products of ranges", "work-limit"],
  ["definitions that expand", "defines-limit"],
  ["definitions of definitions", "defines-limit"],
  ["names of objects", "name-unknown"],
  ["names that are unknown", "name-unknown"],
  ["rows that are not there", "part-unknown"],
  ["brackets without end", "statement-long"],
  ["one statement", "statement-long"],
  ["a text of braces", "statement-long"],
  ["a row of bars", "statement-long"],
  ["no text at all", "file-binary"],
  ["every byte", "character-unseen"],
  ["nothing but faults", "statement-unknown"],
  ["texts that double", "text-long"],
  ["a great circle", "circle"],
  ["huge powers", "overflow"],
  ["runs over ranges", "work-limit"],
  ["a blend of everything", "too-many-stocks"],
  ["names picked from a long table", "no-such-row"],
]);

/** Everything that a page or command asks of a book; gives the messages. */
function asked(book: Book): Book["messages"] {
  const { messages, text } = book;
  for (const message of messages) {
    expect(message.says).not.toBe("");
    expect(message.from).toBeGreaterThanOrEqual(0);
    expect(message.to).toBeGreaterThanOrEqual(message.from);
    expect(message.to).toBeLessThanOrEqual(text.length);
    for (const fix of message.fixes ?? []) {
      for (const { span } of fix.edits) {
        expect(span.from).toBeGreaterThanOrEqual(0);
        expect(span.to).toBeGreaterThanOrEqual(span.from);
        expect(span.to).toBeLessThanOrEqual(text.length);
      }
    }
  }
  expect(book.items.length).toBeGreaterThanOrEqual(0);
  expect(book.answers().length).toBeGreaterThanOrEqual(0);
  expect(book.tally.faults).toBe(messages.filter((m) => m.severity === "fault").length);
  expect(book.cautions.length).toBeGreaterThanOrEqual(0);
  expect(book.ticks.length).toBeGreaterThanOrEqual(0);
  return messages;
}

describe("a book that tries to run away", () => {
  if (!THOROUGH)
    console.warn(
      `SKIPPED, since each takes a quarter of a minute; INVACUO_HOSTILE=100000 runs them: ${[...LONG].join(", ")}`,
    );
  it.each([...hostileBooks.keys()].filter((name) => THOROUGH || !LONG.has(name)))(
    "%s",
    (name) => {
      const book = openBook(hostileBooks.get(name)!(SIZE));
      // One formula may go past the limit before it is stopped.
      expect(workingsOf(book).calculation.allowance.spent).toBeLessThan(1.1 * WORK_LIMIT);
      const codes = new Set(asked(book).map((m) => m.code));
      const stop = STOPPED_BY.get(name);
      if (stop !== undefined) expect([...codes]).toContain(stop);
      // However much is stopped, a limit of the whole book is told once.
      expect(book.messages.filter((m) => m.code === "work-limit").length).toBeLessThanOrEqual(1);
    },
    600_000,
  );

  it("has names of objects as ordinary names", () => {
    const book = openBook(
      "set __proto__ = 3 g\nset constructor = __proto__ * 2\nset toString = constructor + 1 g\ntable hasOwnProperty\n| n | valueOf (g) |\n| __proto__ | 2 |\nset z = hasOwnProperty.__proto__.valueOf + toString",
    );
    expect(book.messages).toEqual([]);
    expect(book.ask("z").text).toBe("9 g");
  });

  it("is told that a file is too large, whatever is in it", () => {
    const book = openBook("set a = 3 g\n".repeat(700_000));
    expect(book.messages.map((m) => m.code)).toEqual(["file-large"]);
  });

  it("is told that reading was given up after 50,000 faulty statements", () => {
    const messages = asked(openBook("$\n".repeat(60_000)));
    expect(messages.at(-1)!.code).toBe("file-faulty");
    expect(messages.length).toBeLessThan(50_010);
  });

  it("is stopped after five million function calls", () => {
    const rows = Array.from({ length: 6000 }, (_, i) => `| r${i} | ${i} |`).join("\n");
    const calls = Array(200).fill("abs(x)").join(" + ");
    const columns = Array.from({ length: 6 }, (_, i) => `column f${i} = ${calls}`).join("\n");
    const book = openBook(`table t\n| n | x (g) |\n${rows}\n${columns}\n`);
    expect(book.messages.map((m) => m.code)).toEqual(["call-limit"]);
  }, 120_000);
});

describe("any text", () => {
  it("found before to bring a book down is told in words", () => {
    // A condition in the words of a table, for a list whose entries are no rows of it.
    const selection =
      "table t\n| n | x (g) | y |\nset chosen = ([[t.x, 2 g], 3 g] where x > 1 g) where x > 0 g";
    expect(asked(openBook(selection)).map((m) => m.code)).toEqual(["where-list"]);
    const filled = selection.replace("| y |", "| y |\n| a | 1 | 2 |");
    expect(asked(openBook(filled)).map((m) => m.code)).toEqual(["where-list"]);
  });

  it("opens, and answers", () => {
    fc.assert(
      fc.property(randomBook, (text) => {
        asked(openBook(text));
      }),
      { numRuns: RUNS, seed: 20261125 },
    );
  }, 600_000);

  it("may be changed anywhere, and is then as if freshly opened", () => {
    fc.assert(
      fc.property(randomBook, fc.array(mutation, { minLength: 1, maxLength: 5 }), (start, mutations) => {
        let text = start;
        let book = openBook(text);
        for (const one of mutations) {
          text = mutated(text, one);
          book = book.edit(text);
          const messages = asked(book);
          const fresh = openBook(text);
          expect(messages).toEqual(fresh.messages);
          expect(book.answers()).toEqual(fresh.answers());
        }
      }),
      { numRuns: Math.ceil(RUNS / 3), seed: 20261125 },
    );
  }, 600_000);

  it("of our own workbooks may be changed anywhere", () => {
    const folder = join(import.meta.dirname, "../../workbooks");
    const books = readdirSync(folder)
      .filter((file) => file.endsWith(".vacuo"))
      .sort()
      .map((file) => readFileSync(join(folder, file), "utf8"))
      .filter((text) => text.length < 6000);
    fc.assert(
      fc.property(
        fc.constantFrom(...books),
        fc.array(mutation, { minLength: 1, maxLength: 4 }),
        (start, mutations) => {
          let text = start;
          let book = openBook(text);
          for (const one of mutations) {
            text = mutated(text, one);
            book = book.edit(text);
            asked(book);
          }
          expect(book.answers()).toEqual(openBook(text).answers());
        },
      ),
      { numRuns: Math.ceil(RUNS / 20), seed: 20261125 },
    );
  }, 600_000);
});
