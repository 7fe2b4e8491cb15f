import { describe, expect, it, vi } from "vitest";
import { type Book, type Item, openBook } from "../../src/engine";
import { Calculation } from "../../src/engine/calculation";

/** The items that a book makes of its statements, what it counts of them, and which of them an edit makes anew. */

const items = (text: string): readonly Item[] => openBook(text).items;
const unread = (text: string): string[] =>
  items(text).flatMap((item) => (item.type === "unread" ? [`${item.text} => ${item.message}`] : []));

describe("the items of a book", () => {
  it("are one for each statement, in their order, with the remark behind it", () => {
    const text = [
      'book "Gin" # title',
      'about "What it is." # for whom',
      'part "Still" # one',
      "set a = 1 L # first",
      "define f(x, y) = x * (1 - y) # shrinks",
      "table t # shelf",
      "| n | v (L) |",
      "| r | 1 |",
      "column w = v * 2",
      "foot v = sum(v)",
      "check a > 0 L # must",
      'step "Wait." # slowly',
      'chart "c" : bars t.v by t.n # seen',
      "",
      "# only a remark",
      "seen a @00000000",
    ].join("\n");
    const made = items(text);
    expect(made.map(({ type, remark }) => [type, remark])).toEqual([
      ["book", "title"],
      ["about", "for whom"],
      ["part", "one"],
      ["value", "first"],
      ["define", "shrinks"],
      ["table", "shelf"],
      ["check", "must"],
      ["step", "slowly"],
      ["chart", "seen"],
    ]);
    expect(made.slice(0, 3).map((i) => "text" in i && i.text)).toEqual(["Gin", "What it is.", "Still"]);
    const define = made[4]!;
    if (define.type !== "define") throw new Error("no definition");
    const { name, parameters, formula, formulaSpan } = define;
    expect([name, parameters, formula, text.slice(formulaSpan.from, formulaSpan.to)]).toEqual([
      "f",
      ["x", "y"],
      "x * (1 - y)",
      "x * (1 - y)",
    ]);
    expect(openBook(text).title).toBe("Gin");
    expect(openBook("set a = 1").title).toBe("");
    // Without a remark there is none.
    for (const item of items(text.replace(/ #.*$/gm, ""))) expect(item.remark).toBeUndefined();
  });
  it.each([
    ["set a = 1\nset a = 2", ["set a = 2 => `a` is defined twice."]],
    ["table t\n| n |\n| r |\ntable t\n| n |\n| r |", ["table t => `t` is defined twice."]],
    ["set a = 1\ntable a\n| n |\n| r |", ["table a => `a` is defined twice."]],
    ["table a\n| n |\n| r |\nset a = 1", ["set a = 1 => `a` is defined twice."]],
    ["set a = 1", []],
  ])("of %j are unread where a name is another's", (text, is) => expect(unread(text)).toEqual(is));
  it("of what stands outside any table are unread, with what is wrong there", () => {
    for (const line of ["| r | 1 |", "column x = 1", "foot x = 1"]) {
      const [item, ...rest] = items(line);
      expect([item!.type, rest]).toEqual(["unread", []]);
      if (item!.type !== "unread") continue;
      expect(item!.text).toBe(line);
      expect(item!.message).toBe(openBook(line).messages[0]!.says);
    }
    // A value whose formula cannot be read is a value all the same.
    expect(items("set a = 1 +").map((i) => i.type)).toEqual(["value"]);
    expect(items("set a = 1\nset a = 1 +").map((i) => i.type)).toEqual(["value", "unread"]);
  });
  it("number the steps and no others", () => {
    const numbers = (text: string) => items(text).flatMap((i) => (i.type === "step" ? [i.number] : []));
    expect(numbers('step "a"\ncheck 1 > 0\nstep "b"\nset x = 1\nstep "c"')).toEqual([1, 2, 3]);
  });
});

describe("an edit", () => {
  /** The checks that were worked out anew; everything is as in a fresh book. */
  const anew = (from: string, to: string): string[] => {
    const was = openBook(from);
    expect(was.items.length).toBeGreaterThan(0);
    const evaluated = vi.spyOn(Calculation.prototype, "evaluate");
    const book = was.edit(to);
    const { items: made } = book;
    const paths = evaluated.mock.calls.flatMap(([, owner]) =>
      owner.isSink && owner.pathOf(-1).startsWith("check") ? [owner.pathOf(-1)] : [],
    );
    evaluated.mockRestore();
    const fresh = openBook(to);
    const plain = (all: readonly Item[]) =>
      all.map((i) =>
        i.type === "check"
          ? [i.state, i.says, i.statement.line, i.remark]
          : i.type === "step"
            ? [i.text, i.number, i.statement.line, i.remark]
            : i.type,
      );
    expect(plain(made)).toEqual(plain(fresh.items));
    expect(book.tally).toEqual(fresh.tally);
    return [...new Set(paths)];
  };
  const text =
    'set c = 3\nset a = 1 L\nset b = 2 L\ncheck a > 0 L\ncheck b > 1 L\nstep "Take {a}."\nstep "Take {b}."';
  it.each([
    ["of nothing that they look at", text.replace("c = 3", "c = 4"), []],
    ["of one value", text.replace("1 L", "5 L"), ["check 1"]],
    ["of a value that comes to the same", text.replace("a = 1 L", "a = 1.0 L"), []],
    ["of one of them", text.replace("b > 1 L", "b > 3 L"), ["check 2"]],
    ["that puts one before the others", text.replace("check a", "check b < 9 L\ncheck a"), ["check 1"]],
    [
      "that puts a step before the others",
      text.replace('step "Take {a}."', 'step "Stir."\nstep "Take {a}."'),
      [],
    ],
    ["that only adds a remark", text.replace("check a > 0 L", "check a > 0 L # sure"), []],
    ["that moves them down", `\n\n${text}`, []],
    ["that takes one out", text.replace("check a > 0 L\n", ""), []],
  ])("%s", (_, to, made) => expect(anew(text, to)).toEqual(made));
  it("of nothing gives the same book", () => {
    const book = openBook(text);
    expect(book.edit(text)).toBe(book);
  });
});

describe("what a book counts", () => {
  const counts = (text: string) => {
    const { faults, gaps, unmet, unknown } = openBook(text).tally;
    return { faults, gaps, unmet, unknown };
  };
  const none = { faults: 0, gaps: 0, unmet: 0, unknown: 0 };
  it.each([
    ["set a = 1", none],
    ["set a = blank", { ...none, gaps: 1 }],
    ["set a = blank\nset b = a * 2", { ...none, gaps: 1 }],
    ["set a = blank\nset b = blank", { ...none, gaps: 2 }],
    ["check 1 > 2\ncheck 1 < 2\ncheck 3 > 4", { ...none, unmet: 2 }],
    ["set a = blank\ncheck a > 1", { ...none, gaps: 1, unknown: 1 }],
    ["set a = 1 L + 1 g\ncheck a > 1 L", { ...none, faults: 1, unknown: 1 }],
    [
      "table t\n| n | v (L) | w | on (date) |\n|  | 1 | x | 2026-02-03 |\n| r |  |  |  |",
      { ...none, gaps: 2 },
    ],
    ["table t\n| n | v |\n| r |  |", { ...none, gaps: 1 }],
    ["set L = 3", none],
  ])("%j", (text, tally) => expect(counts(text)).toEqual(tally));
});

describe("a curve", () => {
  const book = openBook("set k = 2\nset p = 60 mbar");
  const curve = (formula: string, from: string, to: string, count = 3) =>
    book
      .curve(formula, "x", book.ask(from).raw, book.ask(to).raw, count)
      .map(({ x, y }) =>
        [x, y].map((v) => (v.type === "quantity" ? `${v.n.v} ${v.unit.text}`.trim() : v.type)).join(" -> "),
      );
  it.each([
    ["x * k", "0", "2", ["0 -> 0", "1 -> 2", "2 -> 4"]],
    ["x * k", "1 L", "3000 mL", ["1 L -> 2 L", "2 L -> 4 L", "3 L -> 6 L"]],
    ["x + 1 g", "1 L", "3 L", ["1 L -> fault", "2 L -> fault", "3 L -> fault"]],
    ["x * k", "1 L", "3 g", []],
    ["x * k", "1 L", '"b"', []],
    ["x * k", '"a"', "3 L", []],
    ["x *", "0", "2", []],
  ])("of %s from %s to %s", (formula, from, to, points) => expect(curve(formula, from, to)).toEqual(points));
});

describe("a tick", () => {
  const mark = (text: string, path: string): string => {
    const found = openBook(text).markOf(path);
    if (found === undefined) throw new Error("no mark");
    return found;
  };
  const text =
    "set a = 1 L + 2 L\ndefine f(x) = x * 2\ntable t\n| n | v (L) |\n| r | 1 |\ncolumn w = v * 2\nfoot v = sum(v)";
  it.each(["a", "f", "t.w", "t.foot.v"])("on %s holds while its formula is the same", (path) => {
    const states = (body: string): string[] => {
      const book: Book = openBook(`${body}\nseen ${path} ${mark(text, path)} "looked at"`);
      return book.ticks.map((t) => `${t.path} ${t.state} ${t.text}`);
    };
    expect(states(text)).toEqual([`${path} holds looked at`]);
    expect(states(text.replace(/([+*]) 2/g, "$1  2"))).toEqual([`${path} holds looked at`]);
    const changed = text
      .replace("1 L + 2 L", "1 L + 3 L")
      .replaceAll("* 2", "* 3")
      .replace("sum(v)", "mean(v)");
    expect(states(changed)).toEqual([`${path} changed looked at`]);
    expect(states("set other = 1")).toEqual([`${path} lost looked at`]);
  });
  it("on a definition counts its parameters", () => {
    expect(mark("define f(x) = x", "f")).not.toBe(mark("define f(y) = y", "f"));
    expect(mark("define f(x) = 2 * 3", "f")).not.toBe(mark("define f(y) = 2 * 3", "f"));
    // A value of the name comes before a definition.
    expect(mark("define f(x) = x\nset f = 7", "f")).toBe(mark("set f = 7", "f"));
    expect(openBook("set a = 1").markOf("nobody")).toBeUndefined();
  });
});

describe("a table of more cells than can be listed one by one", () => {
  it("is one fault among the answers, and its cells are there all the same", () => {
    const rows = Array.from({ length: 1000 }, (_, i) => `| r${i} | ${i} |`);
    const text = (columns: number) =>
      [
        "table big",
        "| i | x |",
        ...rows,
        ...Array.from({ length: columns }, (_, i) => `column c${i} = x`),
      ].join("\n");
    const book = openBook(`${text(1999)}\nset after = 1`);
    const said = "This table has too many cells to list one by one: 2,000,000 values are the most.";
    expect(book.answers().map((a) => [a.name, a.state, a.message ?? a.text])).toEqual([
      ["big", "fault", said],
      ["after", "ok", "1"],
    ]);
    expect(book.ask("big.r7.c1998").text).toBe("7");
  });
});
