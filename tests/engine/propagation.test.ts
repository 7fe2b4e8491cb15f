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
