import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { faults, faultsOf, reads, valuesOf } from "./telling";

const table = (rows: string, heading = "| n | x (mL) |") => `table t\n${heading}\n${rows}`;

describe("headings", () => {
  it("are plain text, unique and not empty", () => {
    reads("table t\n| n | a {b} # c |\n| r | 1 |", "t.r.`a {b} # c`=1");
    faults("table t\n| n | x | x |\n| r | 1 | 2 |", [2, "x"]);
    faults("table t\n| n | |\n| r | 1 |", [2, "no name"]);
    faults("table t", [1, "heading"]);
  });
  it("have only a last bracket as unit, `number`, `text` or `date`; another name in a bracket stands in backticks", () => {
    reads("table t\n| n | x (a) (L) |\n| r | 1 |", "t.r.`x (a)`=1 L");
    faults("table t\n| n | x (size) |\n| r | 1 |", [2, "size", "backticks"]);
    reads("table t\n| n | `x (size)` |\n| r | 1 |", "t.r.`x (size)`=1");
  });
});

describe("the first column", () => {
  it("is text and names the row, whatever it looks like", () => {
    reads(
      "table t\n| n | x |\n| 2a | 1 |\n| 2026-02-03 | 2 |\n| 5 mL | 3 |\n| 1.5 | 4 |\n| = 3 | 5 |",
      "t.2a.x=1",
      "t.2026-02-03.x=2",
      "t.`5 mL`.x=3",
      "t.`1.5`.x=4",
      "t.`= 3`.x=5",
    );
  });
  it("with a unit or `date` is read as such, and the row keeps the writing as its name", () => {
    const book = openBook("table t\n| n (mL) | x |\n| 2 L | 1 |\n| 300 | 2 |\nset a = t.`2 L`.n + t.300.n");
    expect(valuesOf(book)).toEqual([
      "t.`2 L`.n=2000 mL",
      "t.`2 L`.x=1",
      "t.300.n=300 mL",
      "t.300.x=2",
      "a=2300 mL",
    ]);
    reads(
      "table t\n| n (date) | x |\n| 2026-02-03 | 1 |\nset a = t.n.1 + 1 d\nset b = t.2026-02-03.x",
      "t.2026-02-03.n=2026-02-03",
      "t.2026-02-03.x=1",
      "a=2026-02-04",
      "b=1",
    );
  });
  it("may leave a row nameless, which no path reaches", () => {
    const book = reads(
      "table t\n| n | x |\n| | 1 |\n| | 2 |\nset a = sum(t.x)",
      "t.`row 1`.x=1",
      "t.`row 2`.x=2",
      "a=3",
    );
    expect(book.ask("t.`row 1`.x").state).toBe("fault");
  });
});

describe("cells", () => {
  it("have the unit of the heading, else of the first quantity; other units of the dimension are converted", () => {
    reads(table("| r | 2.4 L |\n| s | 200 |"), "t.r.x=2400 mL", "t.s.x=200 mL");
    reads(
      table("| r | |\n| s | 2.4 L |\n| u | 200 mL |", "| n | x |"),
      "t.r.x=-",
      "t.s.x=2.4 L",
      "t.u.x=0.2 L",
    );
    const book = openBook(table("| r | 2.40 L |"));
    const item = book.items[0]!;
    expect(item.type === "table" && [item.cell(0, 1).number, item.cell(0, 1).unit]).toEqual(["2.40", "L"]);
  });
  it("of another kind than the column are faults", () => {
    faults(table("| r | 3 g |"), [3, "mass", "volume"]);
    faults(table("| r | 40 % |", "| n | x (%vol) |"), [3, "%"]);
    faults(table("| r | 40 %mas |", "| n | x (%vol) |"), [3, "by mass"]);
    faults(table("| r | 300 K |", "| n | x (°C) |"), [3, "difference"]);
    faults(table("| r | 4 EUR |", "| n | x (GBP) |"), [3, "EUR"]);
    faults(table("| r | 1 L |\n| s | 2 g |", "| n | x |"), [4, "mass"]);
    faults(table("| r | 3 L |", "| n | x (number) |"), [3, "volume"]);
  });
  it("without a unit among quantities with one, under a heading without, are a fault", () => {
    faults(table("| r | 2 L |\n| s | 3 |", "| n | x |"), [4, "3 L"]);
    // Also where it stands first: the others tell what is missing there.
    faults(table("| r | 3 |\n| s | 2 L |", "| n | x |"), [3, "3 L"]);
  });
  it("that begin with a digit or a sign and a digit are a quantity or a date, unless quoted or headed `text`", () => {
    faults(table("| r | 3 of them |", "| n | x |"), [3, "quotes", "(text)"]);
    faults(table("| r | -5 apples |", "| n | x |"), [3]);
    reads(table('| r | "3 of them" |\n| s | some |', "| n | x |"), "t.r.x=3 of them", "t.s.x=some");
    reads(
      table("| r | 3 of them |\n| s | 3 |\n| u | 2026-01-01 |", "| n | x (text) |"),
      "t.r.x=3 of them",
      "t.s.x=3",
      "t.u.x=2026-01-01",
    );
    reads(table("| r | +4 |\n| s | -5 |\n| u | - 6 |", "| n | x |"), "t.r.x=4", "t.s.x=-5", "t.u.x=-6");
  });
  it("of text among numbers are a fault that says to leave it empty", () => {
    faults(table("| r | soon |"), [3, "empty"]);
    faults(table("| r | 4 |\n| s | soon |", "| n | x |"), [4, "empty"]);
    faults(table("| r | soon |\n| s | 4 |", "| n | x |"), [3, "empty"]);
    faults(table("| r | soon |", "| n | x (date) |"), [3, "empty"]);
    faults(table("| r | 3 |", "| n | x (date) |"), [3, "2026-02-03"]);
  });
  it("keep their braces, quoted or not", () => {
    reads(table('| r | a {1} |\n| s | "b {2}" |', "| n | x |"), "t.r.x=a {1}", "t.s.x=b {2}");
  });
  it("with a formula give its own unit, and a plain number under a unit is a fault that offers to multiply", () => {
    faults(table("| r | = 3 |"), [3, "* 1 mL"]);
    reads(table("| r | = 3 L |\n| s | = blank |"), "t.r.x=3000 mL", "t.s.x=-");
    faults(table("| r | = 3 g |"), [3, "mass"]);
    faults(table("| r | = [1 L, 2 L] |"), [3, "list"]);
  });
  it("left empty are gaps that name their cell", () => {
    const book = openBook(`${table("| r | |")}\nset a = t.r.x * 2`);
    expect(book.answers().map((a) => [a.state, a.message])).toEqual([
      ["gap", "t.r.x is not filled in yet"],
      ["gap", "needs t.r.x"],
    ]);
  });
});

describe("rows", () => {
  it("have as many cells as the heading and end with a bar", () => {
    faults(table("| r | 1 | 2 |"), [3, "3 cells", "2 columns"]);
    faults(table("| r |"), [3, "x"]);
    faults(table("| r | 1"), [3, "|"]);
  });
  it("with missing cells count as faults, not as gaps", () => {
    const book = openBook(`${table("| r |\n| s | 2 |")}\nset a = sum(t.x)`);
    expect(valuesOf(book)).toEqual(["t.r.x=!", "t.s.x=2 mL", "a=!"]);
  });
  it("of dashes under the heading are a ruler; blank and comment lines may stand between", () => {
    reads("table t\n# c\n| n | x |\n|---|:--:|\n\n| r | 1 |\n# c\n\n| s | 2 |", "t.r.x=1", "t.s.x=2");
    faults(table("| r | 1 |\n|---|---|"), [4, "heading"]);
  });
});

describe("columns and feet", () => {
  it("`column` adds a column at the right, with a new name", () => {
    const book = openBook(`${table("| r | 1 |")}\ncolumn z = x\ncolumn y = z`);
    const item = book.items[0]!;
    expect(item.type === "table" && item.columns.map((c) => c.name)).toEqual(["n", "x", "z", "y"]);
    faults(`${table("| r | 1 |")}\ncolumn x = 2 L`, [4, "line 2"]);
  });
  it("`foot` puts one value under a column that exists, one for each", () => {
    reads(
      `${table("| r | 1 |")}\nfoot x = sum(x)\ncolumn y = x\nfoot y = foot.x * 2`,
      "t.r.x=1 mL",
      "t.r.y=1 mL",
      "t.foot.x=1 mL",
      "t.foot.y=2 mL",
    );
    faults(`${table("| r | 1 |")}\nfoot y = 1`, [4, "y"]);
    faults(`${table("| r | 1 |")}\nfoot x = 1\nfoot x = 2`, [5, "line 4"]);
  });
  it("belong to the nearest table above", () => {
    reads(
      "table t\n| n | x |\n| r | 1 |\nset a = 1\ntable u\n| n | x |\n| s | 2 |\nset b = 2\ncolumn y = x\nfoot y = sum(y)",
      "t.r.x=1",
      "a=1",
      "u.s.x=2",
      "u.s.y=2",
      "u.foot.y=2",
      "b=2",
    );
  });
  it("rows behind them, and any of these without a table, are faults with a fix", () => {
    const book = faults(`${table("| r | 1 |")}\ncolumn y = x\n| s | 5 |\nset a = sum(t.x)`, [5, "Move"]);
    expect(valuesOf(book).at(-1)).toBe("a=!");
    faults("column a = 1\nfoot b = 2\n| x | y |", [1, "table"], [2, "table"], [3, "table"]);
    expect(faultsOf(openBook("set a = 1\ncolumn x = 2"))).toHaveLength(1);
  });
});
