import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

const book = openBook(
  "set pull = 60 mbar\nset bath = 35 °C\nset pot = boils_at(pull, strength: 40 %vol)\nset gap = bath - pot\nset twice = gap * 2\n",
);

describe("a sweep", () => {
  it("works every point of the grid out, the last axis fastest", () => {
    const sweep = book.sweep(
      ["pull from 20 mbar to 60 mbar step 20 mbar", "bath from [30 °C, 40 °C]"],
      ["pot", "gap", "twice in K"],
    );
    expect(sweep.count).toBe(6);
    expect(sweep.inputs(3).map((s) => s.text)).toEqual(["40 mbar", "40 °C"]);
    const alone = openBook("set pot = boils_at(40 mbar, strength: 40 %vol)\nset gap = 40 °C - pot\n");
    expect(sweep.outcomes(3)[0]!.text).toBe(alone.ask("pot").text);
    expect(sweep.outcomes(3)[1]!.text).toBe(alone.ask("gap").text);
    expect(sweep.outcomes(3)[2]!.text).toBe(alone.ask("gap * 2").text);
  });
  it("gives a point the same value whichever was asked before", () => {
    const sweep = book.sweep(["pull from 20 mbar to 200 mbar step 20 mbar"], ["pot"]);
    const forwards = Array.from({ length: sweep.count }, (_, i) => sweep.outcomes(i)[0]!.value);
    const backwards = Array.from(
      { length: sweep.count },
      (_, i) => sweep.outcomes(sweep.count - 1 - i)[0]!.value,
    ).reverse();
    expect(backwards).toEqual(forwards);
    expect(book.ask("pull").text).toBe("60 mbar");
  });
  it("refuses in words what cannot be varied or shown", () => {
    expect(() => book.sweep(["pot from 1 °C to 2 °C step 1 K"], ["gap"])).toThrow(/worked out by a formula/);
    expect(() => book.sweep(["pul from 1 mbar to 2 mbar step 1 mbar"], ["gap"])).toThrow(/no value called/);
    expect(() => book.sweep(["pull"], ["gap"])).toThrow(/does not say what is varied/);
    expect(() => book.sweep(["pull from 1 mbar to 2 mbar step 1 mbar"], ["gapp"])).toThrow(
      /Nothing here is called/,
    );
    expect(() =>
      book.sweep(["pull from 1 mbar to 2 mbar step 1 mbar", "pull from [1 mbar]"], ["gap"]),
    ).toThrow(/varied twice/);
    for (const none of ["60 mbar", "[]"])
      expect(() => book.sweep([`pull from ${none}`], ["gap"]), none).toThrow(
        /is no list of values for `pull`/,
      );
  });
  it("tells what is wrong with a formula in its own words", () => {
    const sweep = book.sweep(["pull from [60 mbar, 40 mbar]"], ["pull + 1 g", "1 / (pull - 60 mbar)"]);
    expect(sweep.outcomes(0).map((s) => [s.path, s.state, s.message])).toEqual([
      ["pull + 1 g", "fault", "60 mbar (a pressure) and 1 g (a mass) do not add."],
      ["1 / (pull - 60 mbar)", "fault", "1 is divided by 0 mbar."],
    ]);
    expect(sweep.outcomes(1)[1]!.text).toBe("-0.05 mbar^-1");
  });
  it("keeps faults of single points to themselves", () => {
    const sweep = book.sweep(["pull from [60 mbar, -5 mbar]"], ["pot"]);
    expect(sweep.outcomes(0)[0]!.state).toBe("ok");
    expect(sweep.outcomes(1)[0]!.state).toBe("fault");
  });
});

describe("the grid of a sweep", () => {
  const grid = openBook(
    'set pull = 60 mbar\nset kind = "a"\nset `net mass` = 1 g\ntable t\n| i | x |\n| r | 1 |\ncolumn y = pull * x\nset total = sum(t.y)\n',
  );
  it("varies quantities and texts, and works out all that hangs on them", () => {
    const sweep = grid.sweep(
      ["pull from [20 mbar, 30 mbar]", 'kind from ["a", "b", "c"]', "`net mass` from [1 g, 2 g]"],
      ["pull * 2", "kind", "total", "`net mass` * 3"],
    );
    expect([sweep.count, sweep.names]).toEqual([12, ["pull", "kind", "net mass"]]);
    const point = (i: number) => [
      sweep
        .inputs(i)
        .map((s) => `${s.path}=${s.text}`)
        .join(" "),
      sweep
        .outcomes(i)
        .map((s) => s.text)
        .join(" "),
    ];
    expect(point(0)).toEqual(["pull=20 mbar kind=a `net mass`=1 g", "40 mbar a 20 mbar 3 g"]);
    expect(point(1)).toEqual(["pull=20 mbar kind=a `net mass`=2 g", "40 mbar a 20 mbar 6 g"]);
    expect(point(2)).toEqual(["pull=20 mbar kind=b `net mass`=1 g", "40 mbar b 20 mbar 3 g"]);
    expect(point(6)).toEqual(["pull=30 mbar kind=a `net mass`=1 g", "60 mbar a 30 mbar 3 g"]);
    expect(point(11)).toEqual(["pull=30 mbar kind=c `net mass`=2 g", "60 mbar c 30 mbar 6 g"]);
    expect(sweep.inputs(0).map((s) => s.origin)).toEqual(["typed", "typed", "typed"]);
    expect(sweep.outcomes(0).map((s) => [s.path, s.origin])[0]).toEqual(["pull * 2", "computed"]);
  });
  const axis = "Write `NAME from A to B step C`, or `NAME from [a, b, c]`.";
  const list = "Write `A to B step C`, or `[a, b, c]`.";
  const typed = "Vary what it is worked out from.";
  it.each<[readonly string[], readonly string[], string, string | undefined]>([
    [
      [],
      ["pot"],
      "A sweep needs a value to vary.",
      "Write for example `pressure from 20 mbar to 200 mbar step 20 mbar`.",
    ],
    [
      ["pull from [1 mbar]"],
      [],
      "A sweep needs a formula to show.",
      "Name a value of the book, such as `water.add`, or write a formula.",
    ],
    [["pull"], ["pot"], "“pull” does not say what is varied and over which values.", axis],
    [["pull to 3"], ["pot"], "“pull to 3” does not say what is varied and over which values.", axis],
    [["pul from [1 mbar]"], ["pot"], "The book has no value called `pul`.", "`pull` is near."],
    [["zzzz from [1 mbar]"], ["pot"], "The book has no value called `zzzz`.", undefined],
    [
      ["pot from [1 °C]"],
      ["gap"],
      "`pot` is worked out by a formula; only a value that was typed can be varied.",
      typed,
    ],
    [["pull from [1 mbar]", "pull from [2 mbar]"], ["pot"], "`pull` is varied twice.", undefined],
    [["pull from 60 mbar"], ["pot"], "“60 mbar” is no list of values for `pull`.", list],
    [["pull from []"], ["pot"], "“[]” is no list of values for `pull`.", list],
    [
      ["pull from 1 mbar to 3"],
      ["pot"],
      "Of pull: A range without a step counts whole plain numbers only.",
      "Say the step: `10 mbar to 40 mbar step 10 mbar`.",
    ],
    [["pull from [1 mbar"], ["pot"], "In `[1 mbar`: The `[` is not closed.", "Each `[` needs its `]`."],
    [
      ["pull from [1 mbar]"],
      ["nobody"],
      "In `nobody`: Nothing here is called `nobody`.",
      "Give it a value of its own: `set nobody = …`.",
    ],
    [
      ["pull from 1 to 10000", "bath from 1 to 1001"],
      ["pot"],
      "This sweep has 10010000 points; at most 10000000 are worked out.",
      "Take larger steps, or fewer values to vary.",
    ],
  ])("%j of %j is refused: %s", (varies, shows, says, help) => {
    let told: unknown;
    try {
      book.sweep(varies, shows);
    } catch (error) {
      told = error;
    }
    expect(told).toMatchObject({ says, code: expect.stringMatching(/^[a-z-]+$/) });
    expect((told as { help?: string }).help).toBe(help);
  });
  it("may have ten million points", () => {
    expect(book.sweep(["pull from 1 to 10000", "bath from 1 to 1000"], ["gap"]).count).toBe(10_000_000);
  });
});
