import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { SMALL } from "./small-book";
import { reads, telling } from "./telling";

const { gives, givesQuietly, fails, waits } = telling(SMALL);

describe("uncertainty", () => {
  it("each ± is one measured input where it stands", () => {
    reads(
      "set a = 5 ± 1 g\nset b = a - a\nset c = (5 ± 1 g) - (5 ± 1 g)\nset d = a + a",
      "a=5.0 ± 1.0 g",
      "b=0 g",
      "c=0.0 ± 1.4 g",
      "d=10.0 ± 2.0 g",
    );
  });
  it("one for each row of a column, and one for each call of a definition", () => {
    reads(
      "table t\n| n | x (g) |\n| r | 5 |\n| s | 5 |\ncolumn y = x ± 1 g\nfoot y = sum(y)\nset a = t.r.y - t.r.y\nset b = t.r.y - t.s.y\ndefine f(x) = x ± 1 g\nset c = f(5 g) - f(5 g)\nset d = f(5 g)\nset e = d - d",
      "t.r.x=5 g",
      "t.r.y=5.0 ± 1.0 g",
      "t.s.x=5 g",
      "t.s.y=5.0 ± 1.0 g",
      "t.foot.y=10.0 ± 1.4 g",
      "a=0 g",
      "b=0.0 ± 1.4 g",
      "c=0.0 ± 1.4 g",
      "d=5.0 ± 1.0 g",
      "e=0 g",
    );
    gives("(2 ± 0.1) - (find x from 1 to 3 so that x is 2 ± 0.1)", "0.00 ± 0.14");
  });
  it("on a value that has one it adds another", () => gives("(50 ± 3 g) ± 4 g", "50.0 ± 5.0 g"));
  it("one unit at the end serves both sides, or each has its own", () => {
    gives("61.2 ± 0.3 %vol", "61.20 ± 0.30 %vol");
    gives("61.2 %vol ± 0.3 %vol", "61.20 ± 0.30 %vol");
    fails("61.2 %vol ± 0.3", "0.3 %vol");
    gives("20 °C ± 0.5 °C", "20.00 ± 0.50 °C");
    gives("20 °C ± 0.5 K", "20.00 ± 0.50 °C");
    gives("20 ± 0.5 °C", "20.00 ± 0.50 °C");
    gives("250 mL ± 0.005 L", "250.0 ± 5.0 mL");
    fails("250 mL ± 5 g");
  });
  it("a percentage is relative on a quantity, absolute on ratios, and a fault on strengths, solids and temperatures", () => {
    gives("250 mL ± 2 %", "250.0 ± 5.0 mL");
    gives("18 % ± 1 %", "18.0 ± 1.0 %");
    gives("(2 + 1) ± 10 %", "3.00 ± 0.10");
    gives("water_in(60 °Bx) ± 1 %", "40.0 ± 1.0 %");
    fails("40 %vol ± 2 %", "%vol");
    fails("40 %mas ± 2 %", "%mas");
    fails("20 °Bx ± 1 %", "°Bx");
    fails("20 °C ± 2 %", "K");
  });
  it("any formula may carry it, and it binds tighter than a product", () => {
    gives("boils_at(60 mbar) ± 0.5 K", "36.16 ± 0.50 °C");
    gives("2 * 3 ± 1", "6.0 ± 2.0");
    gives("2 ^ 2 ± 1", "4.0 ± 1.0");
    gives("a ± 0.1 L", "2.40 ± 0.10 L");
  });
  it("a negative one is a fault, a blank one a gap", () => {
    fails("250 mL ± (-5 mL)", "negative");
    fails("250 mL ± -5 mL");
    waits("250 mL ± blank");
  });
  it("comparisons use the values, with a note when the difference is less than twice its uncertainty", () => {
    gives("50 ± 1 g > 51 g", "false", "Too close to tell");
    gives("50 ± 1 g < 51 ± 1 g", "true", "Too close to tell");
    gives("50 ± 1 g within 40 g to 51.5 g", "true", "Too close to tell");
    gives("50 ± 1 g is 50 g", "true", "Too close to tell");
    givesQuietly("50 ± 1 g > 60 g", "false");
    givesQuietly("50 ± 1 g < 52.1 g", "true");
  });
  it("the note reaches the check", () => {
    const check = openBook("check 50 ± 1 g > 49 g").items[0];
    expect(check?.type === "check" && [check.state, check.notes.length]).toEqual(["met", 1]);
  });
});
