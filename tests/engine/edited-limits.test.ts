import { describe, expect, it } from "vitest";
import { type Book, openBook } from "../../src/engine";

/** An edited book stops where a freshly opened one stops, though most of it was worked out before. */

const repeat = (count: number, line: (i: number) => string): string[] =>
  Array.from({ length: count }, (_, i) => line(i));
const faults = (book: Book): string[] => book.messages.map((m) => `${m.line} ${m.code}`);
const tell = (book: Book): unknown => [
  book.answers(),
  book.messages,
  book.items.map((i) => (i.type === "check" ? [i.state, i.says] : i.type)),
];

/** 410,000 steps each, of 200,000,000. */
const long = (name: string): string => `set ${name} = count(1 to 10000)`;
/** About 10,000 parts of 300,000 each. */
const sum = `define total(n) = ${repeat(90, () => "n").join(" + ")}`;
const wide = (name: string): string => `set ${name} = ${repeat(105, () => "total(1)").join(" + ")}`;

const someChecks = repeat(470, (i) => `check count(1 to 10000) > ${i}`);
const someWide = [sum, ...repeat(28, (i) => wide(`one${i}`))];

describe.each<[string, string, string[], string[]]>([
  ["work", "work-limit", repeat(470, (i) => long(`one${i}`)), repeat(510, (i) => long(`one${i}`))],
  [
    "work of checks",
    "work-limit",
    someChecks,
    [...someChecks, ...repeat(40, (i) => `check count(1 to 10000) < ${i}`)],
  ],
  [
    // The names are the same in both books, so that what was compiled for the one does for the other.
    "parts of definitions",
    "defines-limit",
    [...someWide, ...repeat(6, (i) => `set two${i} = 1 + 1`)],
    [...someWide, ...repeat(6, (i) => wide(`two${i}`))],
  ],
])("the limit of %s", (_, code, fewer, more) => {
  const below = fewer.join("\n");
  const beyond = more.join("\n");

  it("is met by an edit as by opening, and forgotten by the edit that takes it back", () => {
    const start = openBook(below);
    const before = tell(start);
    expect(faults(start)).toEqual([]);
    const fresh = openBook(beyond);
    expect(faults(fresh).some((f) => f.endsWith(code))).toBe(true);
    const edited = start.edit(beyond);
    expect(tell(edited)).toEqual(tell(fresh));
    expect(tell(edited.edit(below))).toEqual(before);
  });
});

it("counts what many small edits took, and begins anew rather than stop early", () => {
  const entries = `[${repeat(9, () => "1 to 10000").join(", ")}]`;
  const rows = repeat(20, (i) => `| r${i} | ${i} |`);
  const text = (first: number): string =>
    [
      "table t",
      "| n | x (number) |",
      `| first | ${first} |`,
      ...rows,
      `column y = count(${entries}) + x`,
    ].join("\n");
  let book = openBook(text(0));
  for (let first = 1; first <= 12; first++) book = book.edit(text(first));
  expect(faults(book)).toEqual([]);
  expect(book.answers()).toEqual(openBook(text(12)).answers());
});
