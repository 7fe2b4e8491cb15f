import { describe, expect, it } from "vitest";
import { type Book, type Item, openBook } from "../../src/engine";
import { vocabulary } from "../../src/vocabulary";

describe("faults in what looks at values", () => {
  it("are told where they stand: in a check, in the braces of a step, in its wait and its plan", () => {
    const book = openBook(
      [
        "set got = blank in mL",
        "check 1 L > 1 g",
        'step "Add {1 L + 1 g}." wait 1 h + 1 g ask got expect 1 mL + 1 g',
      ].join("\n"),
    );
    expect(book.messages.map((m) => [m.line, m.column, m.severity])).toEqual([
      [2, 7, "fault"],
      [3, 12, "fault"],
      [3, 30, "fault"],
      [3, 55, "fault"],
    ]);
    expect(book.tally.faults).toBe(4);
  });

  it("are told once, where they began, when a check or step only looks at them", () => {
    const book = openBook('set bad = 1 L + 1 g\ncheck bad > 1 L\nstep "Add {bad}."');
    expect(book.messages.map((m) => [m.line, m.path])).toEqual([[1, "bad"]]);
  });
});

describe("rows of a result", () => {
  it("are reached by the names of the rows that they stand for", () => {
    const book = openBook(
      [
        "table jars",
        "| jar    | size (mL) |",
        "| first  | 50        |",
        "| second | 100       |",
        "set run = cuts(800 mL, 45 %vol, 60 mbar, jars.size)",
        "column strength = pick(run.strength, jar)",
      ].join("\n"),
    );
    expect(book.messages).toEqual([]);
    expect(book.ask("run.second.strength is jars.second.strength").value).toBe(true);
    expect(book.ask("run.2.strength is jars.second.strength").value).toBe(true);
  });
});

describe("a column whose only unit cannot be read", () => {
  it("has a fault in that cell, and says so once", () => {
    const book = openBook("table s\n| item | price |\n| a | 23.00 Q |\n| b |  |");
    expect(book.messages.map((m) => [m.line, m.severity])).toEqual([[3, "fault"]]);
    expect(book.answers().map((answer) => answer.state)).toContain("fault");
  });
});

describe("a check", () => {
  const says = (text: string): readonly (string | undefined)[] =>
    openBook(text).items.flatMap((item) => (item.type === "check" ? [`${item.state}: ${item.says}`] : []));
  it("of several conditions tells by how much the first that fails is missed", () => {
    expect(says("set a = 3 L\ncheck a > 1 L and a < 2.5 L\ncheck a > 3.5 L and a < 2 L")).toEqual([
      "unmet: over by 0.5 L",
      "unmet: under by 0.5 L",
    ]);
  });
  it("of a list names the row that fails, or the place of an entry without a row", () => {
    const table = "table t\n| i | x (L) |\n| good | 1 |\n| open | |\n| bad | 3 |\n";
    expect(says(`${table}check t.x < 2 L`)).toEqual(["unmet: not met for bad"]);
    expect(says(`${table}check t.x < 4 L`)).toEqual(["unknown: not yet known for open"]);
    expect(says("check [1, 5] < 2")).toEqual(["unmet: not met for entry 2"]);
  });
});

describe("a chart", () => {
  const TABLE =
    "table t\n| i | on (date) | v (L) | w (mL) |\n| r | | | 1 |\n| s | 2026-02-03 | 2 | 5 |\n| u | 2026-02-05 | 3 | 7 |\n";
  const chart = (line: string) => {
    const [found] = openBook(TABLE + line).items.filter((item) => item.type === "chart");
    expect(found?.type).toBe("chart");
    return found as Extract<typeof found, { type: "chart" }>;
  };
  it("takes what it draws along from the first value that is there, not from a gap above it", () => {
    const drawn = chart('chart "c" : line t.w by t.v');
    expect([drawn.xHolds, drawn.xUnit, drawn.message]).toEqual([
      "quantities",
      "L",
      "1 row is not drawn: a value is not known yet",
    ]);
    expect(drawn.series[0]!.points.map(({ x, y }) => [x, y])).toEqual([
      [2, 5],
      [3, 7],
    ]);
    expect(chart('chart "c" : line t.w by t.on').xHolds).toBe("dates");
  });
  it("names a point of a date by the day, not by its row", () => {
    expect(chart('chart "c" : bars t.w by t.on').series[0]!.points.map(({ name }) => name)).toEqual([
      "2026-02-03",
      "2026-02-05",
    ]);
  });
});

describe("the cautions of a book", () => {
  it("are those of every function that it calls, also where only a typed cell or a check calls it", () => {
    const [caution] = vocabulary.get("boils_at")!.cautions!;
    for (const text of [
      "set a = boils_at(60 mbar)",
      "table t\n| i | x |\n| r | = boils_at(60 mbar) |",
      "table t\n| i | x |\n| r | 1 |\ncolumn y = boils_at(60 mbar)",
      "check boils_at(60 mbar) < 40 °C",
    ])
      expect(openBook(text).cautions, text).toContain(caution);
    expect(openBook("set a = 60 mbar").cautions).toEqual([]);
  });
});

describe("where a value comes from", () => {
  it("is typed, computed or found", () => {
    const origins = openBook(
      'set a = 2 L\nset b = a * 2\nset c = find x from 1 to 3 so that x^2 is 4\nset d = (find x from 1 to 3 so that x^2 is 4) in L/L\nset e = "so"\nset f = "so {a}"',
    ).items.map((item) => item.type === "value" && item.shown.origin);
    expect(origins).toEqual(["typed", "computed", "found", "found", "typed", "computed"]);
  });
});

describe("checks, charts and steps of an edited book", () => {
  const text = [
    "set warm = 30 °C",
    "set got = blank in mL",
    "set far = 2",
    "table runs",
    "| run | day (date) | oil (mL) |",
    "| a   | 2026-02-03 | 3        |",
    "| b   |            | 4        |",
    "check warm < 40 °C   # by hand",
    'chart "Oil" : bars runs.oil by runs.run',
    'chart "Boiling" : curve boils_at(p, strength: 40 %vol) for p from 50 mbar to 90 mbar',
    'step "Warm to {warm}." ask got expect 5 mL ask runs.oil',
    'step "Rest."',
  ].join("\n");
  const edited = (from: string, to: string) => {
    const before = openBook(text);
    const madeOf = (item: Item): unknown =>
      item.type === "chart" ? item.series : item.type === "step" ? item.pieces : item;
    const sinksIn = (book: Book) =>
      book.items.filter((i) => i.type === "check" || i.type === "chart" || i.type === "step");
    const made = sinksIn(before).map(madeOf);
    const after = before.edit(text.replace(from, to));
    const fresh = openBook(after.text);
    expect(sinksIn(after).map(plain)).toEqual(sinksIn(fresh).map(plain));
    return sinksIn(after).map((item) => (item.type === "check" ? "check" : made.includes(madeOf(item))));
  };
  const plain = ({ statement: _, ...rest }: Item) => rest;

  it.each([
    // what is edited, into what, and which of the two charts and two steps are as they were
    ["far = 2", "far = 3", [true, true, true, true]],
    ["# by hand", "# by the dial", [true, true, true, true]],
    ["warm = 30", "warm = 31", [true, true, false, true]],
    ["| 4        |", "| 5        |", [false, true, true, true]],
    ["| b   |", "| c   |", [false, true, true, true]],
    ["oil (mL)", "oil (L)", [false, true, false, true]],
    ["blank in mL", "blank in L", [true, true, false, true]],
    ["blank in mL", "7 mL", [true, true, false, true]],
    ["90 mbar", "95 mbar", [true, false, true, true]],
    ['"Boiling"', '"Boils"', [true, false, true, true]],
    ['chart "Oil" : bars runs.oil by runs.run\n', "", [true, true, true]],
    ['step "Warm', 'step "Rinse."\nstep "Warm', [true, true, false, false, false]],
    ["set far", "define p(x) = x + 1\nset far", [true, true, true, true]],
    ["set far", "set more", [true, true, true, true]],
  ])("%j made into %j: what it does not touch is taken over", (from, to, kept) => {
    const [, ...others] = edited(from, to);
    expect(others.slice(0, kept.length)).toEqual(kept);
  });

  it("leave a remark that was taken out", () => {
    const before = openBook(text);
    expect(before.items.some((i) => i.type === "check" && i.remark === "by hand")).toBe(true);
    const after = before.edit(text.replace("   # by hand", ""));
    expect(after.items.filter((i) => i.type === "check").map((i) => i.remark)).toEqual([undefined]);
  });

  it("are told at their own place when one comes before them", () => {
    const bad = "set a = 1\ncheck 1 L > 1 g\nset b = 2";
    const before = openBook(bad);
    expect(before.messages).toHaveLength(1);
    const after = before.edit(bad.replace("check", "check a < 2\ncheck"));
    const fresh = openBook(after.text);
    expect(after.items.map(plain)).toEqual(fresh.items.map(plain));
  });
});
