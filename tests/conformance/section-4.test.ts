import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { faults, faultsOf, notesOf, reads, telling, valuesOf } from "./telling";

describe("names", () => {
  it("may be used before they are defined", () => {
    reads(
      "set b = a + f(1)\nset a = 2\ndefine f(x) = x * a\nset c = t.r.y\ntable t\n| n | x |\n| r | 3 |\ncolumn z = y\ncolumn y = x + a",
      "b=4",
      "a=2",
      "c=5",
      "t.r.x=3",
      "t.r.z=5",
      "t.r.y=5",
    );
  });
  it("only a circle is a fault, told as a path", () => {
    const book = faults("set a = b\nset b = c\nset c = a\nset d = a", [1, "a → b → c → a"]);
    expect(valuesOf(book)).toEqual(["a=!", "b=!", "c=!", "d=!"]);
    faults("set a = a + 1", [1, "itself"]);
    faults("table t\n| n | x |\n| r | = sum(x) |", [3]);
    faults("table t\n| n | x |\n| r | 1 |\ncolumn y = foot.y\nfoot y = sum(y)", [4, "t.r.y", "t.foot.y"]);
  });
  it("a circle is judged cell by cell: a row may build on the row before", () => {
    reads(
      "table t\n| n | x |\n| r | 1 |\n| s | 2 |\n| u | 3 |\ncolumn y = if before.y is blank then x else before.y + x",
      "t.r.x=1",
      "t.r.y=1",
      "t.s.x=2",
      "t.s.y=3",
      "t.u.x=3",
      "t.u.y=6",
    );
    reads(
      "table t\n| n | x | y |\n| r | 1 | = t.s.x |\n| s | = t.r.x + 1 | 5 |",
      "t.r.x=1",
      "t.r.y=2",
      "t.s.x=2",
      "t.s.y=5",
    );
    reads(
      "table t\n| n | x | y |\n| r | 1 | = x |\n| s | = before.y * 2 | = x |\n| u | = before.y * 2 | = x |",
      "t.r.x=1",
      "t.r.y=1",
      "t.s.x=2",
      "t.s.y=2",
      "t.u.x=4",
      "t.u.y=4",
    );
  });
  it("values and functions are two spaces", () => {
    reads("set mean = mean([1, 3])\ndefine a(x) = x + 1\nset a = a(2)", "mean=2", "a=3");
    faults("set a = 1\ntable a\n| n |", [2, "a", "line 1"]);
  });
  it("of a name that is defined twice the first counts, and the second is a fault that names the line of the first", () => {
    const book = faults("set a = 1\n\nset a = 2\nset b = a", [3, "a", "line 1"]);
    expect(book.value("b")).toMatchObject({ n: { v: 1 } });
    faults("define f(x) = x\ndefine f(x) = 2 * x", [2, "line 1"]);
    faults("table t\n| n | x | x |\n| r | 1 | 2 |", [2, "x"]);
    faults("table t\n| n | x |\n| r | 1 |\ncolumn x = 2", [4, "x"]);
    faults("table t\n| n | x |\n| r | 1 |\nfoot x = 2\nfoot x = 3", [5, "line 4"]);
  });
  it("a definition wins over a function of the vocabulary, with a note", () => {
    const book = reads("define sqrt(x) = x * 2\nset a = sqrt(9)", "a=18");
    expect(notesOf(book)).toHaveLength(1);
    expect(notesOf(book)[0]).toContain("sqrt");
  });
  it("a name that is also a unit gets a note, no more", () => {
    const book = reads("set L = 3\nset b = L * 2", "L=3", "b=6");
    expect(notesOf(book)[0]).toMatch(/^1: .*unit/u);
  });
});

describe("what a bare name means", () => {
  it("first a parameter, then a column, then a value or table of the book", () => {
    reads(
      "set x = 10\ndefine f(x) = x + 1\nset a = f(1)\ntable t\n| n | x |\n| r | 5 |\ncolumn y = x\ncolumn z = f(x)\ncolumn w = book.x",
      "x=10",
      "a=2",
      "t.r.x=5",
      "t.r.y=5",
      "t.r.z=6",
      "t.r.w=10",
    );
  });
  it("the variable of a search or of a curve hides what else has its name", () => {
    reads(
      "set x = 10 L\nset a = find x from 0 to 4 so that x * 2 is 3\ntable t\n| n | x |\n| r | 5 |\ncolumn y = find x from 0 to 9 so that x is 7",
      "x=10 L",
      "a=1.5",
      "t.r.x=5",
      "t.r.y=7",
    );
    const chart = openBook('set x = 10 L\nchart "c" : curve x * 2 for x from 1 to 2').items[1];
    expect(chart?.type === "chart" && chart.series[0]?.points.at(-1)?.y).toBe(4);
  });
  it("`book.` skips the columns", () => {
    reads(
      "set x = 10\ntable t\n| n | x | y |\n| r | 5 | = book.x |\ncolumn z = x + book.x + book.t.r.x\nfoot x = sum(x) + book.x",
      "x=10",
      "t.r.x=5",
      "t.r.y=10",
      "t.r.z=20",
      "t.foot.x=15",
    );
  });
  it("the body of a definition sees its parameters and the book, never the columns of its caller", () => {
    faults("define f(u) = u + x\ntable t\n| n | x |\n| r | 5 |\ncolumn y = f(x)", [1, "x"]);
    reads(
      "set x = 100\ndefine f(u) = u + x\ntable t\n| n | x |\n| r | 5 |\ncolumn y = f(x)",
      "x=100",
      "t.r.x=5",
      "t.r.y=105",
    );
    reads("define f(u) = find v from 0 to 9 so that v is u\nset v = 3\nset a = f(v)", "v=3", "a=3");
    reads("define f(u) = g(u) + 1\ndefine g(v) = v * 2\nset u = 50\nset a = f(3)", "u=50", "a=7");
    faults("define f(u) = g(1)\ndefine g(v) = v + u\nset a = f(3)", [2, "u"]);
  });
});

describe("in tables", () => {
  const T =
    "table t\n| n | x | y |\n| r | 1 | = x * 10 |\n| s | 2 | = before.x |\n| u | 4 | = foot.x |\ncolumn a = x + before.x\ncolumn b = x / foot.x\ncolumn c = sum(t.x)\nfoot x = sum(x)\nfoot a = foot.x * 2\nfoot c = t.r.x";
  it("a bare column name is this row's cell, `before` the row before, `foot` the foot, the full path the whole column", () => {
    const book = openBook(T);
    expect(faultsOf(book)).toEqual([]);
    expect(valuesOf(book)).toEqual([
      "t.r.x=1",
      "t.r.y=10",
      "t.r.a=-",
      "t.r.b=0.14286",
      "t.r.c=7",
      "t.s.x=2",
      "t.s.y=1",
      "t.s.a=3",
      "t.s.b=0.28571",
      "t.s.c=7",
      "t.u.x=4",
      "t.u.y=7",
      "t.u.a=6",
      "t.u.b=0.57143",
      "t.u.c=7",
      "t.foot.x=7",
      "t.foot.a=14",
      "t.foot.c=1",
    ]);
  });
  it("there is no row before the first: a gap", () => {
    const cell = openBook(T)
      .answers()
      .find((a) => a.name === "t.r.a");
    expect(cell?.message).toContain("before");
  });
  it("in a foot a bare column name is the whole column", () => {
    reads(
      "table t\n| n | x |\n| r | 1 |\n| s | 3 |\nfoot x = mean(x) + count(t.x)",
      "t.r.x=1",
      "t.s.x=3",
      "t.foot.x=4",
    );
  });
  it("`before`, `foot` and `book` can name no value, table, column or row", () => {
    for (const word of ["before", "foot", "book"]) {
      faults(`set ${word} = 1`, [1, word]);
      faults(`table ${word}\n| n | x |\n| r | 1 |`, [1, word]);
      faults(`table t\n| n | ${word} |\n| r | 1 |`, [2, word]);
      faults(`table t\n| n | x |\n| ${word} | 1 |`, [3, word]);
      faults(`table t\n| n | x |\n| r | 1 |\ncolumn ${word} = 2`, [4, word]);
    }
  });
});

describe("paths", () => {
  it("lead to a column, a cell, a foot, a part and an entry", () => {
    const { gives, lists } = telling(
      "table t\n| n | x |\n| r | 1 L |\n| s | 2 L |\nfoot x = sum(x)\nset m = let_down(1 L, 96 %vol, to: 40 %vol)\nset l = [4, 5]",
    );
    lists("t.x", "1 L", "2 L");
    gives("t.s.x", "2 L");
    gives("t.foot.x", "3 L");
    gives("m.add", "1.4705 L");
    gives("l.2", "5");
    gives("([4, 5] where [false, true]).1", "5");
  });
  it("behind a table a column is looked for first, then a row", () => {
    const { lists, gives } = telling("table t\n| n | x | r |\n| r | 1 | 2 |\n| x | 3 | 4 |");
    lists("t.x", "1", "3");
    lists("t.r", "2", "4");
    gives("t.x.x", "3");
    gives("t.x.r", "1");
    lists("(t where true).x".replace("(t where true)", "t"), "1", "3");
  });
  it("two rows of one name are allowed until a path asks for it: a fault that tells which", () => {
    const book = reads(
      "table t\n| n | x |\n| r | 1 |\n| r | 2 |\nfoot x = sum(x)",
      "t.r.x=1",
      "t.`r (2)`.x=2",
      "t.foot.x=3",
    );
    const asked = book.ask("t.r.x");
    expect(asked.state).toBe("fault");
    expect(`${asked.message} ${asked.help}`).toMatch(/rows 1, 2/u);
    const list = book.ask("t.x.r");
    expect(list.state).toBe("fault");
    expect(list.message).toContain("rows 1, 2");
    expect(book.ask("(t.x where x > 1).r").text).toBe("2");
  });
  it("a list that came from a table is asked by row name, one that did not by number", () => {
    const { gives, fails } = telling("table t\n| n | x |\n| r | 1 |\n| s | 2 |");
    gives("t.x.s", "2");
    gives("(t.x * 3).s", "6");
    fails("[1, 2].r");
    fails("[1, 2].3", "2 entries");
  });
});

describe("records and tables in definitions", () => {
  it("may be passed, and are looked into where the definition is called", () => {
    const { gives, lists, fails } = telling(
      "table t\n| n | x |\n| r | 1 |\n| s | 2 |\nfoot x = sum(x)\ntable q\n| n | x |\n| z | 5 |\ndefine total(u) = sum(u.x)\ndefine cell(u) = u.r.x\ndefine under(u) = u.foot.x\ndefine add(m) = m.add\ndefine big(u) = sum(u.x where x > 1)\ndefine twice(u) = total(u) * 2",
    );
    gives("total(t)", "3");
    gives("total(q)", "5");
    gives("cell(t)", "1");
    fails("cell(q)", "r");
    gives("under(t)", "3");
    fails("under(q)", "foot");
    gives("add(let_down(1 L, 96 %vol, to: 40 %vol))", "1.4705 L");
    gives("big(t)", "2");
    gives("twice(t)", "6");
    lists("total(t) to total(q)", "3", "4", "5");
  });
  it("a definition that comes back to itself is a fault", () => {
    faults("define f(x) = f(x - 1)\nset a = f(3)", [1, "f → f"]);
    faults("define f(x) = g(x)\ndefine g(x) = f(x)\nset a = f(3)", [1, "f → g → f"]);
  });
  it("arguments come by place or by label", () => {
    const { gives, fails } = telling("define f(a, b) = a - b");
    gives("f(3, 1)", "2");
    gives("f(b: 3, a: 1)", "-2");
    gives("f(3, b: 1)", "2");
    fails("f(3)", "b");
    fails("f(3, 1, 2)");
    fails("f(a: 3, 1)", "label");
    fails("f(3, a: 1)", "twice");
    fails("f(3, c: 1)", "c");
  });
});
