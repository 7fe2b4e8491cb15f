import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

describe("an input that does not matter", () => {
  it("leaves no uncertainty behind but the rounding of the last digit", () => {
    const book = openBook("set light = alcohol_out(800 mL, 6.2 ± 0.1 %vol, 40 mbar, to: 0.5 %vol)");
    expect(book.ask("light.total").text).toBe("800 mL");
    expect(book.ask("light.taken.alcohol").uncertainty).toBeGreaterThan(0.7);
  });
});

describe("a note on a value", () => {
  it("goes on with it into what a function of the physics makes of it, once", () => {
    const book = openBook(
      "set pot = 17 ± 11 °C\nset pull = pressure_for(pot)\nset back = boils_at(pull)\nset alone = boils_at(20 mbar ± 14 mbar)\n",
    );
    const bends = "The result bends strongly within the uncertainty: the ± shown is a poor linear estimate.";
    expect(book.ask("pull").notes).toEqual([bends]);
    expect(book.ask("back").notes).toEqual([bends]);
    expect(book.ask("alone").notes).toEqual([]);
  });
});

describe("an uncertainty that reaches out of the range of a function", () => {
  const beyond = "The uncertainty reaches outside the valid range on both sides; it is not carried on.";
  /** The uncertainty of what is asked, without the model's own, which a value without ± does not have. */
  const asked = (formula: string) => {
    const { uncertainty, notes, state } = openBook("").ask(formula);
    return { state, notes, uncertainty };
  };
  it.each([
    // An input of which no strength can be made at either end, and one of which no boiling can.
    "by_mass(50 ± 60 %vol)",
    "mass_of(1 L, 50 ± 60 %vol)",
    "boils_at(600 ± 700 mbar)",
    "mass_of(1 L, [50 ± 60 %vol])",
  ])("on both sides is told: %s", (formula) => {
    const { notes } = asked(formula);
    const said =
      openBook("")
        .ask(formula)
        .parts?.flatMap((p) => p.notes) ?? notes;
    expect(said).toContain(beyond);
  });
  it.each([
    // The side that is within tells: as much as it does without the other.
    ["by_mass(99.9 ± 0.3 %vol)", "by_mass(99.9 %vol)", "by_mass(99.6 %vol)"],
    ["by_mass(0.1 ± 0.3 %vol)", "by_mass(0.4 %vol)", "by_mass(0.1 %vol)"],
    ["boils_at(1099 ± 5 mbar)", "boils_at(1099 mbar)", "boils_at(1094 mbar)"],
    ["boils_at(6.5 ± 1 mbar)", "boils_at(7.5 mbar)", "boils_at(6.5 mbar)"],
  ])("on one side is as wide as on the other: %s", (formula, high, low) => {
    const book = openBook(`set q = ${formula}\nset high = ${high}\nset low = ${low}`);
    const own = book.why("q")!.contributions.find((c) => c.input === "q")!;
    const width = (book.ask("high").value as number) - (book.ask("low").value as number);
    expect(book.ask("q").notes).toEqual([]);
    const total = book.ask("q").uncertainty!;
    expect(Math.sqrt(own.share) * total).toBeCloseTo(width, 6);
  });
  it("is nothing where it cancels", () => {
    const book = openBook("set s = 50 ± 1 %vol\nset q = by_mass(50 %vol + (s - s))");
    expect(book.why("q")!.contributions.filter((c) => !c.input.startsWith("the equation"))).toEqual([]);
    expect(book.ask("q").notes).toEqual([]);
  });
});
