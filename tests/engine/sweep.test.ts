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
  it("keeps faults of single points to themselves", () => {
    const sweep = book.sweep(["pull from [60 mbar, -5 mbar]"], ["pot"]);
    expect(sweep.outcomes(0)[0]!.state).toBe("ok");
    expect(sweep.outcomes(1)[0]!.state).toBe("fault");
  });
});
