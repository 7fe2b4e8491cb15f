import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

describe("an input that does not matter", () => {
  it("leaves no uncertainty behind but the rounding of the last digit", () => {
    const book = openBook("set light = alcohol_out(800 mL, 6.2 ± 0.1 %vol, 40 mbar, to: 0.5 %vol)");
    expect(book.ask("light.total").text).toBe("800 mL");
    expect(book.ask("light.taken.alcohol").uncertainty).toBeGreaterThan(0.7);
  });
});
