import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

/** Definitions, selections and searches in a book: what they come to, and what is told with its place. */

const BOOK = `define twice(x) = x * 2
define weighed(x) = x ± 1 g
define inner(x) = x + 1 g
define outer(x) = inner(x) * 2
define of_list(x) = sum(x) + count(x) * 1 g
define heavy(x) = x where x > 2 g
define best(y) = find x from 0 to 10 so that x * y is 6
set got = blank
set bad = 1 g + 1 L
set three = 3 g
table t
| i    | x (g) | ok   | n |
| one  | 1     | yes  | 1 |
|      | 2     | no   | 2 |
| open |       | yes  | 3 |
| last | 5     | yes  |   |
table u
| i | y (g) |
| p | 1     |
| q | 5     |
`;
function worked(formula: string) {
  const book = openBook(`${BOOK}set q = ${formula}`);
  const q = book.items.at(-1)!;
  if (q.type !== "value") throw new Error("no value");
  const each = (s: typeof q.shown) => (s.state === "ok" ? s.text : `${s.state}: ${s.message}`);
  return {
    text: q.parts.length > 0 ? q.parts.map(each).join(", ") : each(q.shown),
    notes: q.shown.notes.map((n) => n.text),
    told: book.messages
      .filter((m) => m.line > 20)
      .map((m) =>
        [
          `${m.code} ${book.text.slice(m.from, m.to)}`,
          m.says,
          ...(m.help === undefined ? [] : [m.help]),
        ].join(" | "),
      ),
  };
}
const LEFT = "1 row left out, its condition is not known";

describe("what comes to", () => {
  it.each<[string, string, (readonly string[])?]>([
    ["twice(3 g)", "6 g"],
    ["twice([1 g, 2 g])", "2 g, 4 g"],
    ["twice(twice(3 g))", "12 g"],
    ["outer(3 g)", "8 g"],
    ["of_list(t.x)", "11 g", ["1 of 4 is blank"]],
    ["of_list([1 g, 2 g])", "5 g"],
    ["twice(got)", "gap: needs got"],
    // Each call is a measurement of its own, and each entry of a list.
    ["weighed(3 g) - weighed(3 g)", "0.0 ± 1.4 g"],
    ["twice(weighed(3 g))", "6.0 ± 2.0 g"],
    ["sum(weighed([3 g, 3 g]))", "6.0 ± 1.4 g"],
    // A selection looks at the columns of the table that its list comes from.
    ["t.x where x > 1 g", "2 g, 5 g", [LEFT]],
    ["t.x where x >= 1 g", "1 g, 2 g, 5 g", [LEFT]],
    ['t.x where ok is "yes"', "1 g, gap: needs t.open.x, 5 g"],
    ["t.i where x > 1 g", ", last", [LEFT]],
    ["t.x where t.x > 1 g", "2 g, 5 g", [LEFT]],
    ['t.x where ok is "yes" and x > 1 g', "5 g", [LEFT]],
    ["t.x where n > 1", "2 g, gap: needs t.open.x", [LEFT]],
    ['(t.x where ok is "yes") where x > 1 g', "5 g", [LEFT]],
    ['(t.x where ok is "yes") where n is not blank', "1 g, gap: needs t.open.x"],
    ["count(t.x where x > 100 g)", "0", [LEFT]],
    ["t.x where x > three", "5 g", [LEFT]],
    ["twice(t.x where x > 2 g)", "10 g", [LEFT]],
    ["t.x where before.x is blank", "1 g, 5 g"],
    ["t.x where x is smallest(t.x)", "1 g", [LEFT]],
    ["heavy(t.x)", "5 g", [LEFT]],
    ["heavy([1 g, 3 g])", "3 g"],
    // A list without a table takes a list of true and false.
    ["[1, 2, 3] where [true, false, true]", "1, 3"],
    ["[1, 2, 3] where [1, 2, 3] > 1", "2, 3"],
    ["[1, 2, 3] where [true, false, got]", "1", [LEFT]],
    ["[1, 2, 3] where got", "gap: needs got"],
    ["got where true", "gap: needs got"],
    // Searches: one may stand inside another.
    ["best(2)", "3"],
    ["best(4) + best(3)", "3.5"],
    ["find z from 1 to 10 so that best(z) is 2", "3"],
  ])("%s is %s", (formula, text, notes = []) => {
    expect(worked(formula)).toEqual({ text, notes, told: [] });
  });
});

describe("what is refused", () => {
  const mass = "`mass_of` and `volume_of` turn one into the other.";
  const many = (count: number) => Array.from({ length: count }, () => "1").join(" + ");
  it.each([
    // In a definition: at the call; in what it was given: there.
    ["outer(1 L)", ["kinds-differ outer(1 L)", "1 L (a volume) and 1 g (a mass) do not add.", mass]],
    [
      "1 + 0 * count([outer(1 L)])",
      ["kinds-differ outer(1 L)", "1 L (a volume) and 1 g (a mass) do not add.", mass],
    ],
    ["twice(1 L + 2 g)", ["kinds-differ 1 L + 2 g", "1 L (a volume) and 2 g (a mass) do not add.", mass]],
    [
      "twice([1 g, 1 g / 0])",
      ["division-by-zero 1 g / 0", "1 g is divided by 0.", "Nothing can be divided by 0; check that value."],
    ],
    ["twice()", ["argument-missing twice()", "`twice` is missing `x`.", "It is written `twice(x)`."]],
    [
      "twice(1, 2)",
      [
        "argument-extra 2",
        "`twice` takes one argument by place; this is one more.",
        "It is written `twice(x)`.",
      ],
    ],
    [
      "twice(x: 1, x: 2)",
      [
        "argument-twice x",
        "`twice` is given `x` twice.",
        "Leave one of them out; an argument by place counts too.",
      ],
    ],
    // No function of that name.
    [
      "three(2)",
      ["not-a-function three", "`three` is a value, not a function.", "To multiply, write `three * (…)`."],
    ],
    ["twise(2)", ["function-unknown twise", "There is no function called `twise`.", "`twice` is near."]],
    [
      "qqqqqqqq(2)",
      [
        "function-unknown qqqqqqqq",
        "There is no function called `qqqqqqqq`.",
        "A function of your own begins with `define qqqqqqqq(x) = …`.",
      ],
    ],
    // An argument of one's own place.
    [
      "boils_at(60 mbar, strength: 3 L)",
      [
        "argument-kind 3 L",
        "`boils_at` wants a strength by mass or a strength by volume or a strength in US proof for `strength`, and is given a volume, 3 L.",
      ],
    ],
    // A selection of what is no list, or by what is none.
    ["3 g where true", ["where-list 3 g where true", "`where` chooses from a list; it meets a mass."]],
    [
      "[1, 2] where true",
      [
        "where-list [1, 2] where true",
        "This list comes from no table: `where` wants a list of true and false beside it.",
      ],
    ],
    [
      "[1, 2] where [true]",
      ["list-lengths [1, 2] where [true]", "These lists do not match: 2 entries and 1."],
    ],
    [
      "t.x where 3",
      [
        "truth-wanted t.x where 3",
        "`where` wants true or false and meets a plain number.",
        "Write a comparison, such as `x > 2 L` or `x is 3`.",
      ],
    ],
    // Searches.
    [
      "find a from 0 to 9 so that (find b from 0 to 9 so that best(a + b) is 1) is 3",
      [
        "find-nested best(a + b)",
        "This is a `find` inside a `find` inside a `find`; one inside another is the most.",
        "Give the inner search a name of its own with `set`.",
      ],
    ],
    [
      "find x from 1 to 2 so that x > 1",
      [
        "find-goal x > 1",
        "`find` looks for the place where one thing `is` another.",
        "Write `so that … is …`.",
      ],
    ],
    [
      "find x from 1 to 2 so that x",
      ["find-goal x", "`find` looks for the place where one thing `is` another.", "Write `so that … is …`."],
    ],
  ])("%s", (formula, told) => expect(worked(formula).told).toEqual([told.join(" | ")]));
  it("what uses itself, told once with the way round", () => {
    const told = (text: string) => openBook(text).messages.map((m) => `${m.line}: ${m.code} ${m.says}`);
    const one = ["1: define-circle A definition cannot use itself: f → f."];
    expect(told("define f(x) = f(x)\nset a = f(1)")).toEqual(one);
    expect(told("define f(x) = f(x)\nset a = 1")).toEqual(one);
    expect(told("define e(x) = f(x)\ndefine f(x) = g(x)\ndefine g(x) = f(x)\nset a = e(1)")).toEqual([
      "2: define-circle A definition cannot use itself: f → g → f.",
    ]);
    expect(
      told("define f(x) = f(x) + g(x)\ndefine g(x) = h(x) * h(x)\ndefine h(x) = if x > 1 then g(x) else 1"),
    ).toEqual([...one, "2: define-circle A definition cannot use itself: g → h → g."]);
    const long = Array.from({ length: 20_000 }, (_, i) => `define f${i}(x) = f${(i + 1) % 20_000}(x)`);
    expect(told(long.join("\n"))).toEqual([
      "1: define-circle A definition cannot use itself: f0 → f1 → f2 → f3 → … → f19997 → f19998 → f19999 → f0.",
      expect.stringContaining("defines-limit"),
    ]);
    // Twice side by side is no circle.
    expect(told("define f(x) = x + 1\nset a = f(f(1)) + f(2)")).toEqual([]);
  });
  it("a formula nested too deep once its definitions are written out, which must not end in a full stack", () => {
    const book = (definitions: number, of = (call: string) => call) =>
      openBook(
        [
          ...Array.from({ length: definitions }, (_, i) => `define f${i}(x) = ${of(`f${i + 1}(x)`)}`),
          `define f${definitions}(x) = x`,
          "set a = f0(7)",
        ].join("\n"),
      );
    const a = (...given: Parameters<typeof book>) => book(...given).answers()[0];
    expect(a(250)).toMatchObject({ state: "ok", text: "7" });
    const deep = book(2_000);
    const says = "This formula is nested more than 600 deep once its definitions are written out.";
    expect(deep.answers()[0]).toMatchObject({ state: "fault", message: says });
    // The book is also too long to judge each definition by itself, which is told once.
    expect(deep.messages.map((m) => [m.line, m.code])).toEqual([
      [expect.any(Number), "defines-limit"],
      [2002, "define-deep"],
    ]);
    const wrapped = (call: string) => `${"abs(".repeat(35)}${call}${")".repeat(35)}`;
    expect(a(10, wrapped)).toMatchObject({ state: "ok", text: "7" });
    expect(a(40, wrapped)).toMatchObject({ state: "fault", message: says });
  });
  it("a formula of more than 10,000 parts once its definitions are written out", () => {
    const last = (calls: number) => {
      const book = openBook(
        `define big(n) = ${many(100)}\nset a = ${Array.from({ length: calls }, () => "big(1)").join(" + ")}`,
      );
      return book.messages.map((m) => m.code);
    };
    // Each call has 103 parts with its argument and its plus: the 98th begins at 9,992, the 99th at 10,095.
    expect(last(98)).toEqual([]);
    expect(last(99)).toEqual(["define-limit"]);
  });
});
