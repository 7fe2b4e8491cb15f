import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

const answersOf = (text: string) =>
  new Map(
    openBook(text)
      .answers()
      .map((a) => [a.name, a]),
  );
const textOf = (text: string, name: string) => answersOf(text).get(name)?.text;

describe("a book", () => {
  it("has a line for a list without entries, of a value and of a foot", () => {
    const book = openBook(
      "set none = []\ntable t\n| n | x (g) |\n| a | 1 |\nfoot x = x where x > 2 g\nset few = t.x where x > 2 g\nset some = [1 g]",
    );
    expect(book.answers().map((a) => [a.name, a.text, a.state])).toEqual([
      ["none", "0 entries", "ok"],
      ["t.a.x", "1 g", "ok"],
      ["t.foot.x", "0 entries", "ok"],
      ["few", "0 entries", "ok"],
      ["some.1", "1 g", "ok"],
    ]);
    expect(book.ask("[]")).toMatchObject({ text: "0 entries", state: "ok" });
    expect(book.ask("[]").parts).toBeUndefined();
  });

  it("writes a zero with a tiny uncertainty as a zero", () => {
    expect(textOf("set a = 1 ± 1e-14\nset b = a - 1\n", "b")).toBe("0 ± 1e-14");
  });

  it("works values out whatever their order in the file", () => {
    expect(textOf("set b = a * 2\nset a = 3 g\n", "b")).toBe("6 g");
  });

  it("tells a circle as a path, once", () => {
    const book = openBook("set a = b + 1\nset b = c + 1\nset c = a + 1\nset d = a * 2\n");
    const faults = book.messages.filter((m) => m.severity === "fault");
    expect(faults).toHaveLength(1);
    expect(faults[0]!.says).toContain("a → b → c → a");
    expect(book.answers().map((a) => a.state)).toEqual(["fault", "fault", "fault", "fault"]);
  });

  it("builds rows on the row before", () => {
    const text =
      "table r\n| n | got (g) |\n| a | 1 |\n| b | 2 |\n| c | 4 |\ncolumn total = if before.total is blank then got else before.total + got\n";
    const a = answersOf(text);
    expect([a.get("r.a.total")?.text, a.get("r.b.total")?.text, a.get("r.c.total")?.text]).toEqual([
      "1 g",
      "3 g",
      "7 g",
    ]);
  });

  it("judges circles cell by cell", () => {
    const a = answersOf(
      "table r\n| n | x (g) |\n| a | 1 |\n| b | = r.a.x * 2 |\n| c | = r.d.x |\n| d | = r.c.x |\n",
    );
    expect(a.get("r.b.x")?.text).toBe("2 g");
    expect(a.get("r.c.x")?.state).toBe("fault");
    expect(a.get("r.d.x")?.state).toBe("fault");
  });

  it("survives a chain of 20,000 values in the worst order", () => {
    const lines = ["set v0 = 1"];
    for (let i = 1; i < 20_000; i++) lines.unshift(`set v${i} = v${i - 1} + 1`);
    const book = openBook(lines.join("\n"));
    expect(book.ask("v19999").text).toBe("20000");
  });

  it("survives a chain of cells that runs against the rows", () => {
    const rows = Array.from(
      { length: 5000 },
      (_, i) => `| r${i} | ${i === 4999 ? "1" : `= t.r${i + 1}.x + 1`} |`,
    );
    const book = openBook(`table t\n| n | x (number) |\n${rows.join("\n")}\n`);
    expect(book.ask("t.r0.x").text).toBe("5000");
  });

  it("names the first cause of a fault once and lets what depends on it say so", () => {
    const book = openBook("set a = 1 L + 2 g\nset b = a * 2\n");
    expect(book.messages.filter((m) => m.severity === "fault")).toHaveLength(1);
    const b = book.answers().find((x) => x.name === "b")!;
    expect(b.state).toBe("fault");
    expect(b.message).toContain("needs a");
  });

  it("lets a gap flow and says what is needed", () => {
    const book = openBook("set got = blank in mL\nset left = 2 L - got\n");
    const left = book.answers().find((x) => x.name === "left")!;
    expect(left.state).toBe("gap");
    expect(left.message).toBe("needs got");
  });

  it("converts units under a heading and refuses another kind", () => {
    const a = answersOf("table t\n| n | v (mL) |\n| a | 2.4 L |\n| b | 3 g |\n| c | soon |\n");
    expect(a.get("t.a.v")?.text).toBe("2400 mL");
    expect(a.get("t.b.v")?.state).toBe("fault");
    expect(a.get("t.c.v")?.message).toContain("text in a column of numbers");
  });

  it("takes the unit of the first quantity and refuses a bare number among them", () => {
    const a = answersOf("table t\n| n | s |\n| a | 61.2 %vol |\n| b | 50 |\n");
    expect(a.get("t.a.s")?.text).toBe("61.2 %vol");
    expect(a.get("t.b.s")?.message).toContain("has no unit");
  });

  it("finds a value by turning a set, and leaves the set as it is", () => {
    const book = openBook(
      "set pull = 60 mbar\nset t = boils_at(pull, strength: 40 %vol)\nset best = find pull from 20 mbar to 200 mbar so that t is 30 °C\n",
    );
    expect(book.ask("boils_at(best, strength: 40 %vol)").text).toBe("30 °C");
    expect(book.ask("pull").text).toBe("60 mbar");
  });

  it("expands definitions and refuses recursion", () => {
    expect(textOf("define twice(x) = x * 2\nset a = twice(3 g)\n", "a")).toBe("6 g");
    const book = openBook("define f(x) = g(x)\ndefine g(x) = f(x)\nset a = f(1)\n");
    expect(book.answers()[0]!.message).toContain("cannot use itself");
  });

  it("keeps two equal readings apart and one reading together", () => {
    expect(textOf("set x = 50 ± 1 g\nset d = x - x\n", "d")).toBe("0 g");
    expect(textOf("set x = 50 ± 1 g\nset y = 50 ± 1 g\nset d = x - y\n", "d")).toMatch(/^0\.0 ± 1\.4 g$/);
  });

  it("keeps ordinary names ordinary", () => {
    const text = "set __proto__ = 1 g\nset constructor = __proto__ * 2\nset toString = constructor + 1 g\n";
    expect(textOf(text, "toString")).toBe("3 g");
  });

  it("goes on after a line that cannot be read", () => {
    const book = openBook("set a = 1 +\n\nset b = (2 * 3\nset c = 4\nset d = a + c\n");
    const a = new Map(book.answers().map((x) => [x.name, x]));
    expect(a.get("c")?.text).toBe("4");
    expect(a.get("d")?.state).toBe("fault");
    expect(a.get("d")?.message).toContain("needs a");
  });

  it("answers for blanks", () => {
    const book = openBook("set got = blank in mL\n");
    expect(book.ask("got is blank").text).toBe("true");
    expect(book.ask("got is not blank").text).toBe("false");
    expect(book.ask("false and got > 1 mL").text).toBe("false");
    expect(book.ask("true and got > 1 mL").state).toBe("gap");
  });

  it("shows checks as met, not met, not yet known, and by how much they miss", () => {
    const book = openBook(
      'set a = 2 g\nset b = blank in g\ncheck a > 1 g : "one"\ncheck a > 5 g : "two"\ncheck b > 1 g : "three"\n',
    );
    const checks = book.items.filter((i) => i.type === "check");
    expect(checks.map((c) => c.state)).toEqual(["met", "unmet", "unknown"]);
    expect(checks[1]!.says).toBe("under by 3 g");
  });

  it("explains a value", () => {
    const book = openBook(
      "table t\n| n | v (mL) | p (GBP/L) |\n| a | 2400 | 11.20 |\ncolumn cost = v * p\nset each = t.a.cost / 2\n",
    );
    const why = book.why("t.a.cost")!;
    expect(why.filled).toBe("2400 mL * 11.2 GBP/L");
    expect(why.uses.map((u) => u.path)).toEqual(["t.a.v", "t.a.p"]);
    expect(why.usedBy).toContain("each");
  });
});

describe("a formula of thousands of terms", () => {
  const long = `1${"+1".repeat(9000)}`;
  it("is worked out in a value, in a column and in why", () => {
    const book = openBook(
      `table t\n| n | x |\n| a | 1 |\ncolumn c = x${"+x".repeat(9000)}\nset d = ${long}\n`,
    );
    expect(book.ask("d").text).toBe("9001");
    expect(book.ask("t.a.c").text).toBe("9001");
    expect(book.why("d")!.shown.text).toBe("9001");
  });
  it("is refused in words when it nests", () => {
    const asked = openBook("").ask(`${"not ".repeat(4000)}true`);
    expect(asked.state).toBe("fault");
    expect(asked.message).toMatch(/more than 200/);
  });
});

describe("the tally", () => {
  it("counts what is not filled in, but not empty remarks", () => {
    const book = openBook(
      "table t\n| n | got (g) | remark |\n| a | 1 | hazy |\n| b |  |  |\nset x = blank in g\n",
    );
    expect(book.tally.gaps).toBe(2);
  });
});

describe("messages", () => {
  const codes = (text: string) => openBook(text).messages.map((m) => m.code);
  it("judge a definition where it stands, once, called or not", () => {
    expect(codes("define f(x) = x * nosuch\n")).toEqual(["name-unknown"]);
    expect(codes("define f(x) = x * nosuch\nset a = f(1)\nset b = f(2)\n")).toEqual(["name-unknown"]);
  });
  it("tell what a step cannot ask for", () => {
    expect(codes('set a = 1 + 1\nstep "Read." ask a\n')).toEqual(["ask-computed"]);
    expect(codes('step "Read." ask nosuch\n')).toEqual(["ask-unknown"]);
    expect(
      codes('table t\n| n | got (mL) |\n| a | 1 |\ncolumn twice = got * 2\nstep "Read." ask t.twice\n'),
    ).toEqual(["ask-column"]);
    expect(codes('set a = blank in mL\nstep "Read." ask a in furlong\n')).toContain("unit-unknown");
  });
  it("tell a wait that is no time", () => {
    expect(codes('step "Rest." wait 1 g\n')).toEqual(["wait-time"]);
    expect(codes('set rest = 40 min\nstep "Rest." wait rest\n')).toEqual([]);
  });
  it("note a value outside the range of its slider", () => {
    const item = openBook("set p = 10 mbar try 20 mbar to 60 mbar\n").items[0]!;
    expect(item.type === "value" && item.shown.notes.map((n) => n.text)).toEqual([
      "outside the range that is offered for trying",
    ]);
  });
});
