import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import {
  type Book,
  type Found,
  openBook,
  openBookWith,
  type Search,
  searchesPutOff,
  takenUpAgain,
} from "../../src/engine";

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
  [
    "anywhere",
    `set a = 4 g
set w = 2 g
define half(x) = find v from 0 g to 20 g so that v * 2 is x + a
define both(x) = half(x) + half(x + 1 g)
table t
| item | want (g) |
| one  | 16 |
| two  | 20 |
column root = both(want)
set many = count(t.want where (find v from 0 g to 20 g so that v is want) > 17 g)
set tried = 5 g try half(2 g) to half(20 g)
check half(a) is 4 g : "a search in a check"
check half(a) > 5 g and both(a) > 1 g : "not met, and told by how much"
chart "Halves" : dots [half(1 g), half(2 g)] by [1, 2]
chart "Curve" : curve half(x), find w from 0 g to 90 g so that w is x for x from 1 g to half(20 g) mark half(10 g)
step "Take {half(a)} and {find w from 0 g to 9 g so that w is half(2 g)}." wait half(2 g) / 1 g * 1 min ask w expect both(2 g)
`,
  ] as const,
].filter(([, text]) => /\bfind\b/.test(text));
const told = (book: Book): unknown => {
  const sinks = book.items.filter(({ type }) => type === "check" || type === "chart" || type === "step");
  return JSON.parse(
    JSON.stringify([book.answers(), book.messages, sinks, book.tally], (_, value) =>
      typeof value === "bigint" ? String(value) : value,
    ),
  );
};

/** Opens a book and counts the trials; `at` says what is done with each search. */
function opened(text: string, at: (place: string) => Partial<Search>): { book: Book; trials: number } {
  let trials = 0;
  const book = openBookWith(
    {
      begin: () => ({
        goesOn: () => true,
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
      }),
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
      // The same where they were put off first, and the rest of the book is taken over.
      let known: ReadonlyMap<string, Found> = new Map();
      const third = opened(text, (place) => ({ known: known.get(place), goesOn: () => false }));
      known = carried;
      expect(told(takenUpAgain(third.book)), name).toEqual(told(openBook(text)));
      made += first.trials;
    }
    expect(made).toBeGreaterThan(500);
  });

  it("count as what they took elsewhere, so that a book meets its limit at the same place", () => {
    const search = (i: number): string =>
      `set s${i} = find x from 0 g to 9 g so that x * count(1 to 10000) is ${20_000 + i} g`;
    const long = (i: number): string => `set n${i} = count(1 to 10000) + ${i}`;
    const meets = (lines: readonly string[]): readonly string[] => {
      const text = `${lines.join("\n")}\n`;
      const found = new Map<string, Found>();
      const first = opened(text, (place) => ({ came: (one) => found.set(place, one) }));
      expect(told(first.book)).toEqual(told(openBook(text)));
      const second = opened(text, (place) => ({ known: structuredClone(found.get(place)) }));
      expect(second.trials).toBe(0);
      expect(told(second.book)).toEqual(told(first.book));
      expect(first.book.messages.map(({ code }) => code)).toContain("work-limit");
      return first.book
        .answers()
        .filter(({ state }) => state === "ok")
        .map(({ name }) => name);
    };
    const times = <T>(count: number, one: (i: number) => T): T[] =>
      Array.from({ length: count }, (_, i) => one(i));
    // In the middle of the searches, and behind them.
    expect(meets(times(20, search)).at(-1)).toMatch(/^s\d/);
    expect(meets([...times(8, search), ...times(350, long)]).at(-1)).toMatch(/^n\d/);
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
    expect(searchesPutOff(book)).toBe(1);
    expect(searchesPutOff(edited)).toBe(1);
    expect(searchesPutOff(openBook(text))).toBe(0);
    // Nobody has to fill it in.
    expect(book.tally.gaps).toBe(0);
    // A question about the book is answered at once.
    expect(book.ask("find v from 0 g to 9 g so that v is 4 g").text).toBe("4 g");
  });

  it("are put off in checks, charts, steps and functions of the writer's own too, and say so", () => {
    const text = `set a = 2 g
define root(x) = find v from 0 g to 9 g so that v + a is x
set x = root(5 g)
check root(4 g) is a : "even"
chart "Roots" : curve root(y) for y from 3 g to 5 g
chart "Two" : dots [root(3 g), root(4 g)] by [1, 2]
step "Take {root(4 g)}."
`;
    const places = new Set<string>();
    const { book, trials } = opened(text, (place) => {
      places.add(place);
      return { goesOn: () => false };
    });
    // Each is told from the others, and asked about once.
    expect(trials).toBe(places.size);
    expect(places.size).toBeGreaterThan(65);
    const [check, curve, dots, step] = book.items.slice(3);
    expect(check).toMatchObject({ state: "unknown", says: "`v` is still being searched for" });
    expect(curve).toMatchObject({ message: "`v` is still being searched for" });
    expect(dots).toMatchObject({ message: expect.stringMatching(/not drawn|still being searched for/) });
    expect(step).toMatchObject({ text: "Take (not worked out yet)." });
  });

  it("are made at once inside another search", () => {
    const inside = "find x from 0 g to 10 g so that x + y is 9 g";
    const text = `define rest(y) = ${inside}
set b = find y from 0 g to 9 g so that rest(y) is 4 g
set c = ${inside.replace("y", "b")}
`;
    const places: string[] = [];
    const { book } = opened(text, (place) => {
      places.push(place);
      return {};
    });
    expect(places).toHaveLength(2);
    expect(book.answers().map((a) => a.text)).toEqual(["5 g", "4 g"]);
  });
});
