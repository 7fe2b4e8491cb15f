import { describe, expect, it } from "vitest";
import { tidy } from "../../grammar";

const lines = (...all: readonly string[]): string => all.join("\n");

describe("tidying a formula", () => {
  it.each([
    [
      "sets one blank around operators, and none inside brackets",
      "set  a=( b+2 )*[ 3, 4 ]",
      "set a = (b + 2) * [3, 4]",
    ],
    [
      "binds a call, its labels and its parts together",
      "set a = f( b,to:3 )+c . d",
      "set a = f(b, to: 3) + c.d",
    ],
    ["binds a sign to what it stands before", "set a = - b + - ( c )- -1", "set a = -b + -(c) - -1"],
    ["keeps two signs apart", "set a = - - b", "set a = - -b"],
    [
      "binds a power, but not to a unit, which would become a volume",
      "set a = x ^ - 2 + 2 m ^ 3",
      "set a = x^-2 + 2 m ^ 3",
    ],
    ["writes the usual signs", "set a = 3 +- 0.1 L × b ÷ 2 − 1", "set a = 3 ± 0.1 L * b / 2 - 1"],
    ["writes comparisons the usual way", "set a = b≤c and c ≠ d", "set a = b <= c and c is not d"],
    [
      "tidies inside braces and leaves the rest of a text alone",
      'set a = "so  {b+c}  much"',
      'set a = "so  {b + c}  much"',
    ],
    ["leaves a formula with a fault as it was typed", "set  a=1+", "set  a=1+"],
  ])("%s", (_, typed, tidied) => expect(tidy(typed)).toBe(tidied));
});

describe("tidying between statements", () => {
  it("takes the blanks around comments and statements away, and keeps blank lines and line ends", () => {
    expect(tidy("# top  \r\n   \r\n  set a=1\r\n   # last  ")).toBe("# top\r\n\r\nset a = 1\r\n# last");
  });
  it("sets a comment behind a statement two blanks away", () => {
    expect(tidy("set a=1 # one\nset b=2# two\n")).toBe("set a = 1  # one\nset b = 2  # two\n");
  });
  it("indents the lines that a statement goes on in, and the comments between them", () => {
    expect(tidy(lines("set a = b +", "# why", "c +   # more", " d"))).toBe(
      lines("set a = b +", "    # why", "    c +  # more", "    d"),
    );
  });
  it("keeps a byte order mark at the very beginning", () => {
    expect(tidy("\uFEFF  set a=1")).toBe("\uFEFFset a = 1");
  });
});

describe("tidying a table", () => {
  it("sets the bars of heading, ruler and rows under each other, and tidies what is in the cells", () => {
    expect(
      tidy(
        lines(
          "table  t",
          "|item|v  (mL)|n (text)|",
          "|-|-|-|",
          "| 2a|3mL|as  it is|# yes",
          "|longer one |  =a*2+  - 1||",
          "set z=1",
        ),
      ),
    ).toBe(
      lines(
        "table t",
        "| item       | v (mL)       | n (text)  |",
        "| ---------- | ------------ | --------- |",
        "| 2a         | 3 mL         | as  it is |  # yes",
        "| longer one | = a * 2 + -1 |           |",
        "set z = 1",
      ),
    );
  });
  it("counts letters, not the marks that sit on them", () => {
    expect(tidy(lines("table t", "|i|x|", "|e\u0301a|1|"))).toBe(
      lines("table t", "| i  | x |", "| e\u0301a | 1 |"),
    );
  });
  it("leaves rows with a fault, and all rows under a heading with one, as they were typed", () => {
    expect(tidy(lines("table t", "|i|x|", "|a|=1+|", "|b|1|"))).toBe(
      lines("table t", "| i | x |", "|a|=1+|", "| b | 1 |"),
    );
    expect(tidy(lines("table t", "|i|x (= 3)|", "|b|1|"))).toBe(lines("table t", "|i|x (= 3)|", "|b|1|"));
  });
});
