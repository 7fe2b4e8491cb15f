import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { faultsOf, telling } from "./telling";

const { gives, fails } = telling("");
const again = (text: string, times: number): string => text.repeat(times);

describe("limits, each with its own message", () => {
  it("brackets, braces and conditions nest 40 deep", () => {
    for (const [open, close] of [
      ["(", ")"],
      ["[", "]"],
      ["abs(", ")"],
      ['"{', '}"'],
    ] as const) {
      expect(openBook("").ask(`${again(open, 40)}1${again(close, 40)}`).state, open).toBe("ok");
      fails(`${again(open, 41)}1${again(close, 41)}`, "40 deep");
    }
    gives(`if ${again("if ", 39)}true${again(" then true else false", 39)} then 1 else 2`, "1");
    fails(`if ${again("if ", 40)}true${again(" then true else false", 40)} then 1 else 2`, "40 deep");
  });
  it("chains of powers and of `else if` have 200 links", () => {
    gives(`1${again("^1", 200)}`, "1");
    fails(`1${again("^1", 201)}`, "200");
    gives(`${again("if false then 1 else ", 200)}2`, "2");
    fails(`${again("if false then 1 else ", 202)}2`, "200");
  });
  it("a statement has 20,000 characters", () => {
    gives(`1${again(" + 1", 4990)}`, "4991");
    fails(`1${again(" + 1", 5000)}`, "20000");
  });
  it("a file has 8 MB", () => {
    const book = openBook(`set a = 1\n${again(`# ${"x".repeat(78)}\n`, 105_000)}`);
    expect(faultsOf(book).join()).toContain("8 MB");
  });
  it("a list has 100,000 entries, a range 10,000", () => {
    const lists = Array.from({ length: 11 }, (_, i) => `set l${i} = 1 to 10000`).join("\n");
    const names = Array.from({ length: 11 }, (_, i) => `l${i}`);
    const { gives, fails } = telling(lists);
    gives(`count([${names.slice(1).join(", ")}])`, "100000");
    fails(`count([${names.join(", ")}])`, "100,000");
    gives("count(1 to 10000)", "10000");
    fails("1 to 10001", "10,000");
    fails("0 to 1 step 1e-9", "10,000");
  });
  it("a search tries 200 values and stands inside one other", () => {
    fails(
      "find x from 0 to 1 so that (find y from 0 to 1 so that (find z from 0 to 1 so that z is y) is x) is 0.5",
      "one inside another",
    );
  });
  it("a formula has 10,000 parts once its definitions are written out", () => {
    const layers = Array.from(
      { length: 6 },
      (_, i) => `define f${i + 1}(x) = ${Array(6).fill(`f${i}(x)`).join(" + ")}`,
    );
    telling(`define f0(x) = x + x\n${layers.join("\n")}`).fails("f6(1)", "10,000 parts");
  });
  it("a number has 34 digits", () => {
    gives(`${"1".repeat(34)} - ${"1".repeat(34)}`, "0");
    fails("1".repeat(35), "34 digits");
    fails("1e40", "34 digits");
  });
  it("division by zero, overflow and what is no number name the operand", () => {
    fails("1 L / (2 g - 2 g)", "1 L is divided by 0 g");
    fails("1 / 0", "divided by 0");
    fails("0 ^ -1", "0");
    fails("(10 ^ 300) * (10 ^ 300)", "1e300", "too large");
    fails("10 ^ 400", "too large");
    fails("sqrt(-4)", "-4");
    fails("(-8) ^ 0.5", "-8");
    fails("ln(0)", "0");
  });
  it("what stands before `in` is worked out once, however deep it nests", () => {
    gives(`${again("(", 40)}1 L${again(" in mL)", 40)}`, "1000 mL");
  });
});
