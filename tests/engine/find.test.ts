import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

const BOOK = `set a = 3 L
set got = blank
set bad = 1 g + 1 L
set pull = 60 mbar
set un = 2.0 ± 0.1
set warm = boils_at(pull)
`;

function found(formula: string) {
  const book = openBook(`${BOOK}set q = ${formula}`);
  const q = book.items.at(-1)!;
  if (q.type !== "value") throw new Error("no value");
  return {
    told: q.shown.message ?? q.shown.text,
    help: q.shown.help,
    notes: q.shown.notes.map((n) => n.text),
    messages: book.messages
      .filter((m) => m.path === "q")
      .map((m) => `${m.code}: ${book.text.slice(m.from, m.to)}`),
  };
}

describe("a search finds", () => {
  it.each([
    ["find x from 1 to 3 so that x^2 is 4", "2"],
    ["find x from 3 to 1 so that x^2 is 4", "2"],
    ["find x from 1 to 3 so that x^2 is 2.25", "1.5"],
    // The ends belong to it.
    ["find x from 1 to 3 so that x is 1", "1"],
    ["find x from 1 to 3 so that x is 3", "3"],
    ["find x from 0 to 1 so that x^3 is 0", "0"],
    // In the unit of the first end, whatever that of the second is.
    ["find x from 1 L to 4 L so that x is a", "3 L"],
    ["find x from 1000 mL to 4 L so that x is a", "3000 mL"],
    ["find x from 4 L to 1000 mL so that x is a", "3 L"],
    ["find x from 10 % to 0.5 so that x is 0.3", "30 %"],
    ["find x from 1 K to 5 K so that x is 2 K", "2 K"],
    // Water under 60 mbar boils at 36.159 °C, which is 97.086 °F.
    ["find x from 20 °C to 60 °C so that pressure_for(x) is 60 mbar", "36.159 °C"],
    ["find x from 20 °C to 140 °F so that pressure_for(x) is 60 mbar", "36.159 °C"],
    ["find x from 68 °F to 60 °C so that pressure_for(x) is 60 mbar", "97.086 °F"],
    // A value of the book is turned with all that hangs on it.
    ["find pull from 20 mbar to 200 mbar so that warm is 36.159 °C", "60.001 mbar"],
    // The uncertainty of the goal, divided by the slope: 0.1 / (2 √2), and 0.2 / 4.
    ["find x from 1 to 3 so that x^2 is un", "1.414 ± 0.035"],
    ["find x from 1 to 3 so that x^2 is 2 * un", "2.000 ± 0.050"],
    ["find x from 1 to 3 so that 2 * un is x^2", "2.000 ± 0.050"],
    // What it waits for.
    ["find x from got to 3 so that x is 1", "needs got"],
    ["find x from 1 to got so that x is 1", "needs got"],
    ["find x from 1 to 3 so that x is got", "needs got"],
    ["find x from bad to 3 so that x is 1", "needs bad, where: 1 g (a mass) and 1 L (a volume) do not add."],
    ["find x from 1 to 3 so that bad is x", "needs bad, where: 1 g (a mass) and 1 L (a volume) do not add."],
  ])("%s: %s", (formula, told) => {
    const q = found(formula);
    expect([q.told, q.messages, q.notes]).toEqual([told, [], []]);
  });
  it("passes over what lies outside the range of a function, and says so", () => {
    // Under 6.1 mbar water freezes: of the 33 trials only the first, at 0 mbar, is one.
    expect(found("find x from 0 mbar to 200 mbar so that boils_at(x) is 30 °C")).toMatchObject({
      told: "42.469 mbar",
      notes: ["1 of 33 trials lay outside the range of a function and were passed over"],
      messages: [],
    });
  });
  it("carries what the functions of the goal remark", () => {
    expect(
      found("find x from 20 mbar to 90 mbar so that boils_at(x, strength: 40 %vol) is 24.955 °C").notes[0],
    ).toMatch(/^Ethanol vapour ignites/);
  });
});

describe("a search refuses", () => {
  const widen = "Widen the bracket, or change the goal.";
  const narrow = "Narrow the bracket to the one that is meant.";
  const look = "Narrow the bracket, or look at the curve of both sides.";
  it.each([
    [
      "find x from 2 to 3 so that x^2 is 2",
      "find-none",
      "No `x` between these ends meets the goal: at 2 it is 2 above, at 3 it is 7 above.",
      widen,
    ],
    [
      "find x from 1 to 3 so that x^2 is 20",
      "find-none",
      "No `x` between these ends meets the goal: at 1 it is 19 below, at 3 it is 11 below.",
      widen,
    ],
    [
      "find x from 1000 mL to 2 L so that x is a",
      "find-none",
      "No `x` between these ends meets the goal: at 1000 mL it is 2000 mL below, at 2000 mL it is 1000 mL below.",
      widen,
    ],
    [
      "find x from -3 to 3 so that x^2 is 4",
      "find-several",
      "There is more than one answer for `x`: between -2.0625 and -1.875; between 1.875 and 2.0625.",
      narrow,
    ],
    [
      "find x from 0 to 8 so that (x - 1) * (x - 2) * (x - 3) * (x - 4.1) is 0",
      "find-several",
      "There is more than one answer for `x`: 1; 2; 3; between 4 and 4.25.",
      narrow,
    ],
    [
      "find x from 0 to 8 so that (x - 1) * (x - 2) * (x - 3) * (x - 4.1) * (x - 5.1) is 0",
      "find-several",
      "There is more than one answer for `x`: 1; 2; 3; between 4 and 4.25; ….",
      narrow,
    ],
    [
      "find x from 1 to 3 so that (if x < 2.01 then 1 else 5) is 3",
      "find-jump",
      "The two sides change places near 2.01 without meeting: one of them jumps there.",
      look,
    ],
    [
      "find x from 1 to 3 so that 1 / (x - 2.01) is 0",
      "find-jump",
      "The two sides change places near 2.01 without meeting: one of them jumps there.",
      look,
    ],
    [
      "find x from 1 to 1 so that x is 1",
      "find-ends",
      "`find` has no room to search: both ends are the same.",
      undefined,
    ],
    [
      "find x from 1 L to 1000 mL so that x is 1 L",
      "find-ends",
      "`find` has no room to search: both ends are the same.",
      undefined,
    ],
    [
      'find x from "a" to 3 so that x is 1',
      "find-ends",
      "`find` searches between two numbers; it meets the text “a”.",
      undefined,
    ],
    [
      "find x from 1 to true so that x is 1",
      "find-ends",
      "`find` searches between two numbers; it meets true.",
      undefined,
    ],
    [
      'find x from 1 to 3 so that x is "a"',
      "find-goal",
      "The goal of `find` compares two numbers; it meets the text “a”.",
      undefined,
    ],
    [
      "find x from 1 to 3 so that true is x",
      "find-goal",
      "The goal of `find` compares two numbers; it meets true.",
      undefined,
    ],
    [
      "find x from 1 L to 3 g so that x is a",
      "kinds-differ",
      "1 L (a volume) and 3 g (a mass) cannot be compared.",
      "`mass_of` and `volume_of` turn one into the other.",
    ],
    [
      "find x from 1 to 3 so that x is 1 g",
      "kinds-differ",
      "1 (a plain number) and 1 g (a mass) cannot be subtracted.",
      "Give the number its unit: `1 g`.",
    ],
  ])("%s", (formula, code, told, help) => {
    expect(found(formula)).toEqual({ told, help, notes: [], messages: [`${code}: ${formula}`] });
  });
  it("with the fault of the function, where every trial lies outside its range", () => {
    const q = found("find x from -3 mbar to -1 mbar so that boils_at(x) is 30 °C");
    expect(q.told).toBe(
      "The still is worked out from 1 to 1100 mbar of absolute pressure, and this is -3 mbar.",
    );
    expect(q.messages).toEqual(["out-of-range: boils_at(x)"]);
  });
});
