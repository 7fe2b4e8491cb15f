import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { applyPatches, formulasIn, parseBook, parseFormula, printFormula, tidy } from "../../grammar";
import { anything, book, formula, soup } from "./arbitraries";
import { withoutPlaces } from "./notation";
import { formulaInside, messagesInside, soundPlaces } from "./places";

/** The same inputs on every machine; tests/bench/parser-fuzz.ts tries others. */
const SEED = 20_260_203;

describe("a formula", () => {
  it("prints to what reads back as the same tree", () => {
    fc.assert(
      fc.property(formula, (tree) => {
        const printed = printFormula(tree);
        const { formula: read, messages } = parseFormula(printed);
        expect(messages.map((message) => message.says)).toEqual([]);
        expect(withoutPlaces(read)).toEqual(withoutPlaces(tree));
        expect(printFormula(read)).toBe(printed);
      }),
      { numRuns: 800, seed: SEED },
    );
  });
  it("prints brackets where they are needed, and nowhere else", () => {
    for (const text of [
      "(a - b) * c",
      "a - (b - c)",
      "a - b - c",
      "a / (b * c)",
      "a / b / c",
      "(a + b) / c",
      "(2 m)^2",
      "2^3",
      "a^b^c",
      "(a^b)^c",
      "-(2)",
      "(-2)^2",
      "(a or b) and c",
      "not (a and b)",
      "(a + b in mL) * 2",
    ])
      expect(printFormula(parseFormula(text).formula)).toBe(text);
    expect(printFormula(parseFormula("((a) * (b)) + (c)").formula)).toBe("a * b + c");
  });
  it("prints in a cell to what reads back as the same tree", () => {
    // A bar behind a backslash is the one name that a cell cannot hold.
    fc.assert(
      fc.property(formula, (tree) => {
        const row = `| a | = ${printFormula(tree, { inCell: true })} |`;
        const read = parseBook(`table t\n| i | x |\n${row}`).tables[0]!.rows[0]!;
        expect(read.messages.map((message) => message.says)).toEqual([]);
        expect(withoutPlaces(read.node.cells[1]!.content)).toEqual({
          type: "formula",
          formula: withoutPlaces(tree),
        });
      }),
      { numRuns: 300, seed: SEED },
    );
  });
  it("never throws, whatever the text, and keeps every place inside it", () => {
    fc.assert(
      fc.property(anything, (text) => {
        const { formula: read, messages } = parseFormula(text);
        messagesInside(messages, text.length);
        formulaInside(read, text.length);
        if (messages.length === 0)
          expect(withoutPlaces(parseFormula(printFormula(read)).formula)).toEqual(withoutPlaces(read));
        else expect([...formulasIn(read)].some((one) => one.type === "unread")).toBe(true);
      }),
      { numRuns: 2000, seed: SEED },
    );
  });
});

describe("a book", () => {
  it("never throws, whatever the text, and keeps every place inside it", () => {
    fc.assert(
      fc.property(
        fc.oneof(
          anything,
          book,
          fc.tuple(book, soup, book).map((parts) => parts.join("")),
        ),
        (text) => soundPlaces(parseBook(text)),
      ),
      { numRuns: 600, seed: SEED },
    );
  });
  it("reads the same after any edit as when it is read afresh, and keeps the nodes of what did not change", () => {
    fc.assert(
      fc.property(
        book,
        fc.array(
          fc.tuple(
            fc.nat(),
            fc.nat(40),
            fc.oneof(soup, book, fc.constantFrom("", "\n", "|", '"', "(", "3", "=", " ")),
          ),
          { minLength: 1, maxLength: 4 },
        ),
        (start, edits) => {
          let tree = parseBook(start);
          for (const [at, length, insert] of edits) {
            const from = tree.text.length === 0 ? 0 : at % (tree.text.length + 1);
            const text = applyPatches(tree.text, [
              { from, to: Math.min(tree.text.length, from + length), insert },
            ]);
            const next = parseBook(text, tree);
            const fresh = parseBook(text);
            expect(JSON.stringify(next.statements)).toBe(JSON.stringify(fresh.statements));
            expect(JSON.stringify(next.messages)).toBe(JSON.stringify(fresh.messages));
            expect(JSON.stringify(next.tables)).toBe(JSON.stringify(fresh.tables));
            expect([...next.tableOf].map(([statement, table]) => [statement.line, table.name])).toEqual(
              [...fresh.tableOf].map(([statement, table]) => [statement.line, table.name]),
            );
            soundPlaces(next);
            tree = next;
          }
          expect(parseBook(tree.text, tree)).toBe(tree);
        },
      ),
      { numRuns: 250, seed: SEED },
    );
  });
});

describe("tidying", () => {
  const meaning = (text: string): unknown =>
    parseBook(text).statements.map(({ node, comment, messages }) => ({
      node: JSON.parse(
        JSON.stringify(withoutPlaces(node), (key, value) => (key === "raw" ? undefined : value)),
      ),
      comment: comment?.trimEnd(),
      codes: messages.map(({ code }) => code),
    }));
  it("changes nothing that a book says, and nothing more the second time", () => {
    fc.assert(
      fc.property(
        fc.oneof(
          book,
          fc.tuple(book, soup, book).map((parts) => parts.join("")),
        ),
        (text) => {
          const tidied = tidy(text);
          expect(meaning(tidied)).toEqual(meaning(text));
          expect(tidy(tidied)).toBe(tidied);
          expect(tidied.split("\n").length).toBe(text.split("\n").length);
        },
      ),
      { numRuns: 250, seed: SEED },
    );
  });
});
