import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type Book, type Found, openBook, openBookWith, type Search } from "../../src/engine";

const folder = "tests/errors/find";
const bookOf = (name: string, room: string) => [name, readFileSync(join(room, name), "utf8")] as const;
const books = [
  ...readdirSync("workbooks").map((name) => bookOf(name, "workbooks")),
  ...readdirSync(folder)
    .filter((name) => name.endsWith(".vacuo"))
    .map((name) => bookOf(name, folder)),
  [
    "spread and rows",
    `set a = 4.0 ± 0.1 g
table t
| item | want (g) |
| one  | 16 |
| two  | 20 |
| open |    |
column root = find x from 0 g to 10 g so that x * a is want * 1 g
set b = find y from 0 g to 9 g so that find x from 0 g to 10 g so that x + y is 9 g is a
set c = b + sum(t.root)
`,
  ] as const,
].filter(([, text]) => /\bfind\b/.test(text));
const told = (book: Book): unknown => JSON.parse(JSON.stringify([book.answers(), book.messages]));

/** Opens a book and counts the trials; `at` says what is done with each search. */
function opened(text: string, at: (place: string) => Partial<Search>): { book: Book; trials: number } {
  let trials = 0;
  const book = openBookWith(
    {
      begin: () => undefined,
      at: (place) => {
        const { known, goesOn = () => true, came = () => undefined } = at(place);
        return {
          known,
          came,
          goesOn: () => {
            trials++;
            return goesOn();
          },
        };
      },
    },
    text,
  );
  return { book, trials };
}

describe("searches that are made elsewhere", () => {
  it("come to the very same book, faults and uncertainties and all, without being made again", () => {
    expect(books.length).toBeGreaterThan(4);
    let made = 0;
    for (const [name, text] of books) {
      const found = new Map<string, Found>();
      const first = opened(text, (place) => ({ came: (one) => found.set(place, one) }));
      expect(told(first.book), name).toEqual(told(openBook(text)));
      // As plain data, as it comes from beside the page.
      const carried = structuredClone(found);
      const second = opened(text, (place) => ({ known: carried.get(place) }));
      expect(told(second.book), name).toEqual(told(openBook(text)));
      expect(second.trials, name).toBe(0);
      made += first.trials;
    }
    expect(made).toBeGreaterThan(500);
  });

  it("are gaps that say so while they are put off, also after an edit, and what does not hang on them is there", () => {
    const text =
      "set a = 2 g\nset x = find v from 0 g to 9 g so that v + a is 5 g\nset y = x * 2\nset z = a * 2\n";
    const { book } = opened(text, () => ({ goesOn: () => false }));
    expect(book.answers().map(({ name, state }) => [name, state])).toEqual([
      ["a", "ok"],
      ["x", "gap"],
      ["y", "gap"],
      ["z", "ok"],
    ]);
    expect(book.answers()[1]!.message).toMatch(/still being searched for/);
    const edited = book.edit(text.replace("2 g", "3 g"));
    expect(edited.answers()[1]!.state).toBe("gap");
    expect(edited.answers()[3]!.text).toBe("6 g");
    // A question about the book is answered at once.
    expect(book.ask("find v from 0 g to 9 g so that v is 4 g").text).toBe("4 g");
  });
});
