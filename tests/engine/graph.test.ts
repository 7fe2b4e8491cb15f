import { describe, expect, it } from "vitest";
import { type Book, openBook } from "../../src/engine";
import { workingsOf } from "../../src/engine/book";
import { cellsKey, footKey, setKey } from "../../src/engine/names";

/** The shapes in which values hang on each other, and what an edit works out again in each. */

const text = (lines: Readonly<Record<string, string>>): string =>
  Object.entries(lines)
    .map(([name, formula]) => `set ${name} = ${formula}`)
    .join("\n");

/** Whether a value was worked out anew, as against kept with the object that it was. */
const kept = (before: Book, after: Book, name: string): boolean => before.value(name) === after.value(name);

/** The edited book says what a fresh one does. */
function edited(book: Book, next: string): Book {
  const after = book.edit(next);
  const fresh = openBook(next);
  expect(after.answers()).toEqual(fresh.answers());
  expect(after.messages).toEqual(fresh.messages);
  return after;
}
const texts = (book: Book, ...names: string[]): string[] => names.map((name) => book.ask(name).text);

describe("a diamond", () => {
  const lines = { a: "1 g", left: "a * 2", right: "a * 3", end: "left + right" };
  it("carries a change down both sides", () => {
    const book = openBook(text(lines));
    expect(texts(book, "end")).toEqual(["5 g"]);
    expect(texts(edited(book, text({ ...lines, a: "2 g" })), "left", "right", "end")).toEqual([
      "4 g",
      "6 g",
      "10 g",
    ]);
  });

  it("with a tail carries it on, and leaves what stands beside it", () => {
    const more = { ...lines, tail: "end * 10", beside: "7 g", alone: "beside * 2" };
    const book = openBook(text(more));
    const after = edited(book, text({ ...more, a: "2 g" }));
    expect(texts(after, "tail")).toEqual(["100 g"]);
    expect(kept(book, after, "alone")).toBe(true);
    expect(kept(book, after, "tail")).toBe(false);
  });

  it("that is jagged sees the long way and the short way at once", () => {
    const jagged = { a: "1 g", b: "a", c: "a * 2", d: "c * 2", e: "b + d" };
    const book = openBook(text(jagged));
    expect(texts(edited(book, text({ ...jagged, a: "3 g" })), "e")).toEqual(["15 g"]);
  });
});

describe("a value that comes out the same", () => {
  it("stops the change: what hangs on it is kept", () => {
    const lines = { a: "3.2 g", b: "round_to(a, 1 g)", c: "b * 2", d: "c + 1 g" };
    const book = openBook(text(lines));
    const after = edited(book, text({ ...lines, a: "3.3 g" }));
    expect([kept(book, after, "b"), kept(book, after, "c"), kept(book, after, "d")]).toEqual([
      true,
      true,
      true,
    ]);
    expect(kept(book, after, "a")).toBe(false);
  });

  it("stops it also between the cells of a table and its foot", () => {
    const table = (x: string): string =>
      `table t\n| n | x (g) |\n| a | ${x} |\n| b | 5 |\ncolumn y = round_to(x, 1 g)\nfoot y = sum(y)\nset z = t.foot.y * 2`;
    const book = openBook(table("3.2"));
    const after = edited(book, table("3.3"));
    expect(kept(book, after, "z")).toBe(true);
    const [then, now] = [workingsOf(book).calculation, workingsOf(after).calculation];
    expect(now.store(cellsKey("t", "y"))).toBe(then.store(cellsKey("t", "y")));
    expect(now.value(footKey("t", "y"))).toBe(then.value(footKey("t", "y")));
    expect(now.store(cellsKey("t", "x"))).not.toBe(then.store(cellsKey("t", "x")));
  });

  it("is the same when only its spelling changes", () => {
    const book = openBook("set a = 1 kg\nset b = a * 2");
    const after = edited(book, "set a =  1 kg # a remark\nset b = a * 2");
    expect(kept(book, after, "b")).toBe(true);
  });
});

describe("a way through A to B to A", () => {
  it("ends when B drops out", () => {
    const lines = { a: "2 g", b: "a * 3", c: "a + b" };
    const book = openBook(text(lines));
    const dropped = edited(book, text({ ...lines, c: "a + a" }));
    expect(texts(dropped, "c")).toEqual(["4 g"]);
    const other = edited(dropped, text({ ...lines, b: "a * 5", c: "a + a" }));
    expect(kept(dropped, other, "c")).toBe(true);
    expect(texts(edited(other, text({ ...lines, b: "a * 5" })), "c")).toEqual(["12 g"]);
  });
});

describe("a dependency on condition", () => {
  const lines = { which: "1", a: "10 g", b: "20 g", c: "if which is 1 then a else b", d: "c * 2" };
  it("is dropped and regained", () => {
    let book = openBook(text(lines));
    expect(texts(book, "d")).toEqual(["20 g"]);
    book = edited(book, text({ ...lines, which: "2" }));
    expect(texts(book, "d")).toEqual(["40 g"]);
    const other = edited(book, text({ ...lines, which: "2", a: "11 g" }));
    expect(kept(book, other, "d")).toBe(true);
    expect(texts(edited(other, text({ ...lines, which: "1", a: "11 g" })), "d")).toEqual(["22 g"]);
  });

  it("on the side that is not taken may be a fault", () => {
    const book = openBook(text({ ...lines, b: "1 L + 1 g" }));
    expect(texts(book, "d")).toEqual(["20 g"]);
    expect(edited(book, text({ ...lines, b: "1 L + 1 g", which: "2" })).ask("d").state).toBe("fault");
  });

  it("breaks a circle where it is not taken", () => {
    const book = openBook("set n = 1\nset a = if n is 1 then 2 g else b\nset b = a * 2");
    expect(texts(book, "b")).toEqual(["4 g"]);
    const turned = edited(book, "set n = 2\nset a = if n is 1 then 2 g else b\nset b = a * 2");
    expect(turned.messages.map((m) => m.code)).toEqual(["circle"]);
    expect(texts(edited(turned, "set n = 1\nset a = if n is 1 then 2 g else b\nset b = a * 2"), "b")).toEqual(
      ["4 g"],
    );
  });
});

describe("a fault", () => {
  const lines = { a: "1 L", b: "2 g", c: "a + b", d: "c * 2", x: "5 g", y: "x * 2" };
  it("is kept, and worked out again only when something in it changes", () => {
    const book = openBook(text(lines));
    expect(book.value("c")!.type).toBe("fault");
    const elsewhere = edited(book, text({ ...lines, x: "6 g" }));
    expect([kept(book, elsewhere, "c"), kept(book, elsewhere, "d")]).toEqual([true, true]);
    const other = edited(elsewhere, text({ ...lines, x: "6 g", b: "3 g" }));
    expect(kept(elsewhere, other, "c")).toBe(false);
    expect(texts(edited(other, text({ ...lines, x: "6 g", b: "3 mL" })), "d")).toEqual(["2.006 L"]);
  });

  it("in a row leaves the other rows", () => {
    const table = (x: string): string => `table t\n| n | x (g) |\n| a | ${x} |\n| b | 5 |\ncolumn y = x * 2`;
    const book = openBook(table("soon"));
    expect(book.value("t.a.y")!.type).toBe("fault");
    expect(texts(book, "t.b.y")).toEqual(["10 g"]);
    expect(texts(edited(book, table("4")), "t.a.y", "t.b.y")).toEqual(["8 g", "10 g"]);
  });

  it("that cannot be read comes and goes with its statement", () => {
    const book = openBook("set a = 1 g\nset b = a * 2");
    const broken = edited(book, "set a = 1 g +\nset b = a * 2");
    expect(broken.ask("b").state).toBe("fault");
    expect(texts(edited(broken, "set a = 1 g + 2 g\nset b = a * 2"), "b")).toEqual(["6 g"]);
  });
});

describe("a circle", () => {
  it.each([
    ["of one", "set a = a + 1"],
    ["of two", "set a = b\nset b = a"],
    ["of two, and a tail", "set a = b\nset b = a\nset c = a * 2\nset d = c * 2"],
    [
      "through a column and its foot",
      "table t\n| n | x (g) |\n| a | 1 |\ncolumn y = x + t.foot.y\nfoot y = sum(y)",
    ],
    ["through a cell", "table t\n| n | x (g) |\n| a | = b |\nset b = t.a.x"],
    ["through a definition", "define f(x) = x + b\nset b = f(1)"],
    ["through a selection", "table t\n| n | x (g) |\n| a | 1 |\ncolumn y = sum(t.y where x > 0 g)"],
    ["through a search", "set a = find x from 1 to 3 so that x * 2 is b\nset b = a + 1"],
    ["through a text", 'set a = "{b}"\nset b = "{a}"'],
    ["through a whole table", "table t\n| n | x (g) |\n| a | 1 |\ncolumn y = count(t.y)"],
  ])("%s is told once and can be mended", (_, book) => {
    const opened = openBook(book);
    expect(opened.messages.filter((m) => m.severity === "fault").map((m) => m.code)).toEqual(["circle"]);
    edited(openBook("set q = 1"), book);
    const mended = edited(opened, `${book.split("\n")[0]!.startsWith("table") ? "set q = 1" : "set a = 1"}`);
    expect(mended.messages).toEqual([]);
  });

  it("that is deep does not overflow the stack", () => {
    const n = 30_000;
    const book = openBook(Array.from({ length: n }, (_, i) => `set v${i} = v${(i + 1) % n} + 1`).join("\n"));
    expect(book.messages.map((m) => m.code)).toEqual(["circle"]);
  });

  it("two of them apart are two messages", () => {
    const book = openBook("set a = b\nset b = a\nset p = q\nset q = p");
    expect(book.messages.map((m) => m.code)).toEqual(["circle", "circle"]);
  });

  it("a row that builds on the row before is none", () => {
    const table = (first: string): string =>
      `table t\n| n | x (g) |\n| a | ${first} |\n| b | 2 |\n| c | 3 |\ncolumn y = if before.y is blank then x else before.y + x\ncolumn z = if before.w is blank then x else before.w\ncolumn w = z * 2`;
    const book = openBook(table("1"));
    expect(texts(book, "t.c.y", "t.c.w")).toEqual(["6 g", "8 g"]);
    expect(texts(edited(book, table("2")), "t.a.y", "t.b.y", "t.c.y", "t.c.w")).toEqual([
      "2 g",
      "4 g",
      "7 g",
      "16 g",
    ]);
  });
});

describe("names that come and go", () => {
  it("a definition that changes reaches its callers and no others", () => {
    const lines = "define f(x) = x * 2\nset a = f(3 g)\nset b = 4 g * 2";
    const book = openBook(lines);
    const after = edited(book, lines.replace("x * 2", "x * 3"));
    expect(texts(after, "a")).toEqual(["9 g"]);
    expect(texts(edited(after, lines), "a", "b")).toEqual(["6 g", "8 g"]);
  });

  it("a value that is renamed leaves a fault behind, until its users follow", () => {
    const book = openBook("set a = 3 g\nset b = a * 2");
    const renamed = edited(book, "set other = 3 g\nset b = a * 2");
    expect(renamed.messages.map((m) => m.code)).toEqual(["name-unknown"]);
    expect(texts(edited(renamed, "set other = 3 g\nset b = other * 2"), "b")).toEqual(["6 g"]);
  });

  it("a column that hides a value is seen by the column's table alone", () => {
    const before = "set x = 5 g\ntable t\n| n | y (g) |\n| a | 1 |\ncolumn z = x + y\nset w = x * 2";
    const book = openBook(before);
    expect(texts(book, "t.a.z", "w")).toEqual(["6 g", "10 g"]);
    const after = edited(book, before.replace("| n | y (g) |", "| x | y (g) |"));
    expect(after.ask("t.a.z").state).toBe("fault");
    expect(texts(after, "w")).toEqual(["10 g"]);
  });

  it("a search leaves the value that it turns as it is", () => {
    const book = openBook("set p = 5 g\nset d = p * 2\nset best = find p from 1 g to 9 g so that d is 6 g");
    expect(texts(book, "p", "d", "best")).toEqual(["5 g", "10 g", "3 g"]);
    const { calculation } = workingsOf(book);
    expect(calculation.value(setKey("p"))).toMatchObject({ n: { v: 5 } });
  });
});
