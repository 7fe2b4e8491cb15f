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

describe("the blanks of a statement", () => {
  it.each([
    ["set a=b<=c", "set a = b <= c"],
    ["set a=not(b)", "set a = not (b)"],
    ["set a = f (b)", "set a = f(b)"],
    ["set a = [ ]", "set a = []"],
    ["set a = f( )", "set a = f()"],
    ["set a = f(b ,c,[d ,e ])", "set a = f(b, c, [d, e])"],
    ["set a = ( - b )", "set a = (-b)"],
    ["set a = [- 1,+ 2]", "set a = [-1, +2]"],
    ["set a = b * - c", "set a = b * -c"],
    ["set a = b - - c", "set a = b - -c"],
    ["set a = b + c - 1", "set a = b + c - 1"],
    ["set a = if - b then + c else - d", "set a = if -b then +c else -d"],
    ["set a = b ^ c", "set a = b^c"],
    ["set a = b ^ - c", "set a = b^-c"],
    ["set a = (2 m) ^ 3", "set a = (2 m)^3"],
    ["set a = 2 m ^ - 3", "set a = 2 m ^ -3"],
    ["set a = 3 ^ 2 m", "set a = 3^2 m"],
    ["set a = b . `c d` . 2", "set a = b.`c d`.2"],
    ["set a = [ 1 , 2 ] . 2", "set a = [1, 2].2"],
    ["set a = f( to :3, `b c`:4)", "set a = f(to: 3, `b c`: 4)"],
    ["set a = 5L", "set a = 5 L"],
    ["set a = 5   % vol", "set a = 5 % vol"],
    ["set a = b in  mL", "set a = b in mL"],
    ["set a = 1  try  2  to  3", "set a = 1 try 2 to 3"],
    ["define f ( x ,y )=x", "define f(x, y) = x"],
    ['check a>b:"x"', 'check a > b : "x"'],
    ['chart "x":bars a ,b by c', 'chart "x" : bars a, b by c'],
    ['step  "x"  wait 3min  ask a . b in mL', 'step "x" wait 3 min ask a.b in mL'],
    ['seen a . b @2FFCFED6 "ok"', 'seen a.b @2FFCFED6 "ok"'],
    ['book   "x"', 'book "x"'],
    ["set cafe\u0301=1", "set caf\u00e9 = 1"],
    ['set a = "x { b+ "y {c*d}" } z"', 'set a = "x {b + "y {c * d}"} z"'],
    ['set a = "{b}{c}"', 'set a = "{b}{c}"'],
    ['set a = "b+c"', 'set a = "b+c"'],
  ])("%s", (typed, tidied) => {
    expect(tidy(typed)).toBe(tidied);
    expect(tidy(tidied)).toBe(tidied);
  });
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
  it("keeps line ends inside a statement, and the comments at them", () => {
    expect(tidy("set a = (b + # x\r\n# y\r\n\tc)\r\n")).toBe("set a = (b +  # x\r\n    # y\r\n    c)\r\n");
    expect(tidy("set a = b +  \n c")).toBe("set a = b +\n    c");
  });
  it("takes the blanks of empty lines and of comments, wherever they stand", () => {
    expect(tidy("  \n\t\n  set a=1  \n \n # x \n  # y")).toBe("\n\nset a = 1\n\n# x\n# y");
    expect(tidy("  # alone  ")).toBe("# alone");
    expect(tidy("\u00A0\n")).toBe("\n");
    expect(tidy("")).toBe("");
  });
  it("leaves a text alone that is no book, or holds a carriage return by itself", () => {
    for (const text of ["set a=1\n\0", "set a=1\rset b=2", "# x\r\r\nset a=1"]) expect(tidy(text)).toBe(text);
    expect(tidy("set a=1\r\n")).toBe("set a = 1\r\n");
  });
  it("keeps a byte order mark at the very beginning", () => {
    expect(tidy("\uFEFF# x\n  set a=1")).toBe("\uFEFF# x\nset a = 1");
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
  it("tidies headings, the row names left as they are", () => {
    expect(
      tidy(lines("table t", "|a(mL)|n( number )|`b (c)`|d \\| e|", "|3mL|5|x|y|", "|=b+1|6 L ± 1L|=a+b|z|")),
    ).toBe(
      lines(
        "table t",
        "| a (mL) | n (number) | `b (c)` | d \\| e |",
        "| 3mL    | 5          | x       | y      |",
        "| =b+1   | 6 L ± 1 L  | = a + b | z      |",
      ),
    );
  });
  it("leaves rows alone under a table that cannot be read", () => {
    const text = lines('table u "x', "|i|x|", "|a|1|", "set  b=1");
    expect(tidy(text)).toBe(lines('table u "x', "|i|x|", "|a|1|", "set b = 1"));
  });
  it("leaves rows alone that stand in no table, behind another statement, or below a second ruler", () => {
    expect(tidy("|a|b|")).toBe("|a|b|");
    const text = lines("table t", "|i|x|", "|-|-|", "|-|-|", "|a|1|", "set b=1", "|c|2|");
    expect(tidy(text)).toBe(
      lines("table t", "| i | x |", "| - | - |", "|-|-|", "| a | 1 |", "set b = 1", "|c|2|"),
    );
  });
  it("sets bars under each other up to sixty letters; a longer cell pushes its own bar out", () => {
    const wide = (length: number): string =>
      tidy(lines("table t", "|i|x|", `|a|${"y".repeat(length)}|`)).split("\n")[1]!;
    expect(wide(60)).toBe(`| i | x${" ".repeat(59)} |`);
    expect(wide(61)).toBe(`| i | x${" ".repeat(59)} |`);
    expect(tidy(lines("table t", "|i|", `|${"y".repeat(61)}|`))).toContain(`| ${"y".repeat(61)} |`);
  });
  it("pads no cells where the rows would become too long for a statement", () => {
    const table = (last: number): string => {
      const widths = [...Array<number>(317).fill(60), last];
      const row = (first: boolean): string =>
        `|${widths.map((width, i) => (i < 160 === first ? "y".repeat(width) : "z")).join("|")}|`;
      return lines("table t", `|${widths.map((_, i) => `c${i}`).join("|")}|`, row(true), row(false));
    };
    const padded = tidy(table(25)).split("\n");
    expect(padded.map((line) => line.length)).toEqual([7, 20_000, 20_000, 20_000]);
    expect(tidy(table(26)).split("\n")[1]).toMatch(/^\| c0 \| c1 \| .* \| c317 \|$/);
  });
  it("leaves a row that has a fault out of the widths", () => {
    expect(tidy(lines("table t", "|i|x|", `|a|${"1+".repeat(9)}|`, "|b|1|"))).toBe(
      lines("table t", "| i | x |", `|a|${"1+".repeat(9)}|`, "| b | 1 |"),
    );
  });
  it("leaves rows with a fault, and all rows under a heading with one, as they were typed", () => {
    expect(tidy(lines("table t", "|i|x|", "|a|=1+|", "|b|1|"))).toBe(
      lines("table t", "| i | x |", "|a|=1+|", "| b | 1 |"),
    );
    expect(tidy(lines("table t", "|i|x (= 3)|", "|b|1|"))).toBe(lines("table t", "|i|x (= 3)|", "|b|1|"));
  });
});
