import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

/** Lists that are worked entry by entry, and whether two of them belong together. */

const BOOK = openBook(`set un = 4 ± 1
table t
| i    | x (g) | y | ok |
| same | 1     | 1 | 1  |
| same | 2     | 2 | 1  |
| b    | 3     | 3 |    |
| c    |       | 4 | 0  |
table u
| i    | x (g) | z |
| same | 10    | 1 |
| same | 20    | 2 |
| b    | 30    | 3 |
| d    | 40    | 4 |
`);
const told = (formula: string): string => {
  const { state, text, message, help, parts } = BOOK.ask(formula);
  if (parts) return parts.map((p) => `${p.name}=${p.state === "ok" ? p.text : p.message}`).join(" ");
  return state === "ok" ? text : [message, help].filter((s) => s !== undefined).join(" | ");
};
const PICK = "`pick(column, name)` takes the entry of the row with that name.";
const chosenApart =
  "These lists belong to different rows of table t, even though they are as long. | Rows that are chosen by the same condition go together.";
const apart = (a: string, b: string) =>
  `These columns belong to different rows (${a} and ${b}), even though they are as long. | ${PICK}`;

describe("two lists", () => {
  it.each([
    ["[1, 2] + [10, 20]", "1=11 2=22"],
    ["[1, 2] + 10", "1=11 2=12"],
    ["10 - [1, 2]", "1=9 2=8"],
    ["[1, 2] + [10]", "These lists do not match: 2 entries and 1."],
    ["[1] + [10, 20]", "These lists do not match: 1 entry and 2."],
    // Columns of one table, and parts of them, where the rows are the same.
    ["t.x * t.y", "same=1 g `same (2)`=4 g b=9 g c=needs t.c.x"],
    ["(t.x where y > 1) * (t.y where y > 1)", "same=4 g b=9 g c=needs t.c.x"],
    ["t.y + [1, 1, 1, 1]", "same=2 `same (2)`=3 b=4 c=5"],
    ["[1, 1, 1, 1] + t.y", "same=2 `same (2)`=3 b=4 c=5"],
    // Other rows: of another table, of another name, or of one name and another place.
    ["t.x + u.x", apart("t", "u")],
    ["(t.x where y < 4) + (u.x where z < 4)", "same=11 g `same (2)`=22 g b=33 g"],
    ["(t.x where y is 3) + (t.x where y is 4)", chosenApart],
    ["(t.x where y is 1) + (t.x where y is 2)", chosenApart],
    ["(t.x where y is 1) + (t.x where y is 1)", "same=2 g"],
    ["(t.x where y is 1) + (u.x where z is 2)", "same=21 g"],
    ["[1] + (t.y where y is 1) + (t.y where y is 2)", chosenApart],
    // Trouble in some entries is theirs, in every entry it is that of the whole.
    ["1 / [0, 2]", "1=1 is divided by 0. 2=0.5"],
    ["1 / [0, 0]", "1 is divided by 0. | Nothing can be divided by 0; check that value."],
    ["1 / [0, blank]", "1 is divided by 0. | Nothing can be divided by 0; check that value."],
    [
      "t.x + 1 L",
      "1 g (a mass) and 1 L (a volume) do not add. | `mass_of` and `volume_of` turn one into the other.",
    ],
    ["-[1, 2]", "1=-1 2=-2"],
    ["-[1 / 0, 2]", "1=1 is divided by 0. 2=-2"],
    ["[1 g, 2 g] in kg", "1=0.001 kg 2=0.002 kg"],
    ["not [true, false]", "1=false 2=true"],
    ["[1, 2, 3] > 2", "1=false 2=false 3=true"],
    ["[1, 2] is [1, 3]", "1=true 2=false"],
    ["t.x is blank", "same=false `same (2)`=false b=false c=true"],
    ["t.x is not blank", "same=true `same (2)`=true b=true c=false"],
    ["[1 / 0, 1] is blank", "1=1 is divided by 0. 2=false"],
    ["[1, 5, 9] within 2 to 6", "1=false 2=true 3=false"],
    ["[1, 5] within [2, 4] to [6, 6]", "1=false 2=true"],
    ["[true, false] and [true, true]", "1=true 2=false"],
    ["[true, false] or true", "1=true 2=true"],
    ["true and [true, false]", "1=true 2=false"],
    ["false and [true, false]", "false"],
    ["(t.ok is 1) or (t.y > 2)", "same=true `same (2)`=true b=true c=true"],
    ["(t.ok is 1) and (t.y > 2)", "same=false `same (2)`=false b=needs t.b.ok c=false"],
    ["[1, 2] ± 0.1", "1=1.00 ± 0.10 2=2.00 ± 0.10"],
    ["5 ± [1, 2]", "1=5.0 ± 1.0 2=5.0 ± 2.0"],
  ])("%s: %s", (formula, is) => expect(told(formula)).toBe(is));
  it("of measured entries have an input for each entry", () => {
    const book = openBook("set a = [5, 5] ± 1\nset d = a.1 - a.2\nset none = a.1 - a.1");
    expect(book.ask("d").uncertainty).toBeCloseTo(Math.SQRT2, 12);
    expect(book.why("d")!.contributions.map((c) => c.input)).toEqual(["a.1", "a.2"]);
    expect(book.ask("none").text).toBe("0");
  });
});

describe("a selection", () => {
  const wants = (what: string) =>
    `\`where\` wants true or false and meets ${what}. | Write a comparison, such as \`x > 2 L\` or \`x is 3\`.`;
  it.each([
    // A whole column of its own table is taken row by row.
    ["t.y where t.x > 1 g", "same=2 b=3"],
    ["(t.y where y > 1) where t.x > 1 g", "same=2 b=3"],
    // A column of another table, or a list of none, says nothing of these rows.
    ["t.y where u.x > 15 g", wants("a list of 4")],
    ["t.y where [true, true, false, true]", wants("a list of 4")],
    ["(t.y where y > 1) where u.x > 15 g", wants("a list of 4")],
    ["t.y where 3", wants("a plain number")],
    ['t.y where "a"', wants("the text “a”")],
    ["t.y where nobody", "Nothing here is called `nobody`. | Give it a value of its own: `set nobody = …`."],
    ["count(t.y where y > 100)", "0"],
  ])("%s: %s", (formula, is) => expect(told(formula)).toBe(is));
});

describe("a name that is near", () => {
  const near = openBook(
    "table t\n| i | x (g) |\n| good one | 1 |\n| Good One | 2 |\n| other | 3 |\n| a`b | 4 |\n",
  );
  const help = (formula: string): string | undefined => near.ask(formula).help;
  it.each([
    // Capitals and spare blanks are passed over, however many; of several rows the first is meant.
    ["t.`good              one`.x", "`good one` is near."],
    ["t.`GOOD ONE`.x", "`good one` is near."],
    ["t.`Good  One`.x", "`good one` is near."],
    ["t.OTHER.x", "`other` is near."],
    ["t.othre.x", "`other` is near."],
    ["t.x.othre", "`other` is near."],
    ["t.zzzz.x", undefined],
    ["t.x.zzzz", "Its entries are numbered: `.1` is the first."],
    ["t.other.zzzz", "Its columns are i, x."],
  ])("%s: %s", (formula, is) => {
    expect(near.ask(formula).state).toBe("fault");
    expect(help(formula)).toBe(is);
  });
  it("is not asked for where a row is reached by its number, its name being none for backticks", () => {
    expect(near.ask("t.`row 4`.x").text).toBe("4 g");
    expect(near.why("t.`row 4`.x")!.path).toBe("t.`row 4`.x");
    for (const path of ["t.`row 1`.x", "t.`row 5`.x", "t.`row 0`.x", "t.`row x`.x", "t.`a row 4`.x"])
      expect(near.ask(path).state, path).toBe("fault");
  });
  it("is looked at by its number too, where no row is called so", () => {
    const book = openBook("table t\n| i | x (g) |\n| one | 5 ± 1 |\n| 1 | 6 |\n| | 7 |\ncolumn y = x * 2\n");
    const told = (path: string) => {
      const why = book.why(path);
      return why && `${why.path} ${why.shown.text}`;
    };
    expect(told("t.x.1")).toBe("t.1.x 6 g");
    expect(told("t.y.1")).toBe("t.1.y 12 g");
    expect(told("t.x.2")).toBe("t.1.x 6 g");
    expect(told("t.y.3")).toBe("t.`row 3`.y 14 g");
    for (const path of ["t.x.0", "t.x.4", "t.x.01", "t.2.x"]) expect(told(path), path).toBeUndefined();
  });
  it("is not looked for where several rows have the name: their places are told", () => {
    const many = (count: number) =>
      openBook(`table t\n| i | x |\n${Array.from({ length: count }, (_, i) => `| a | ${i} |`).join("\n")}`);
    const give = "Give one of them another name.";
    expect(many(2).ask("t.a.x")).toMatchObject({
      message: "Table t has 2 rows called `a` (rows 1, 2).",
      help: give,
    });
    expect(many(5).ask("t.a.x").message).toBe("Table t has 5 rows called `a` (rows 1, 2, 3, 4, 5).");
    expect(many(6).ask("t.x.a").message).toBe("Table t has 6 rows called `a` (rows 1, 2, 3, 4, 5, …).");
  });
});

describe("a range", () => {
  it.each([
    ["1 to 4", "1=1 2=2 3=3 4=4"],
    ["4 to 1", "1=4 2=3 3=2 4=1"],
    ["3 to 3", "1=3"],
    ["-1 to 1", "1=-1 2=0 3=1"],
    ["0 to 1 step 0.25", "1=0 2=0.25 3=0.5 4=0.75 5=1"],
    ["0 to 1 step 0.3", "1=0 2=0.3 3=0.6 4=0.9"],
    ["1 to 0 step -0.5", "1=1 2=0.5 3=0"],
    ["3 to 3 step 1", "1=3"],
    ["10 mbar to 0.03 bar step 10 mbar", "1=10 mbar 2=20 mbar 3=30 mbar"],
    ["20 °C to 30 °C step 5 K", "1=20 °C 2=25 °C 3=30 °C"],
    ["20 °C to 30 °C step 5 °C", "1=20 °C 2=25 °C 3=30 °C"],
    ["1 to 3 step 0", "The step of a range is 0; it would never arrive."],
    ["1 to 3 step -1", "The step points away from the end of the range. | Give the step the other sign."],
    ["3 to 1 step 1", "The step points away from the end of the range. | Give the step the other sign."],
    [
      "1 to 2.5",
      "A range without a step counts whole plain numbers only. | Say the step: `10 mbar to 40 mbar step 10 mbar`.",
    ],
    [
      "0.5 to 2",
      "A range without a step counts whole plain numbers only. | Say the step: `10 mbar to 40 mbar step 10 mbar`.",
    ],
    [
      "1 g to 3 g",
      "A range without a step counts whole plain numbers only. | Say the step: `10 mbar to 40 mbar step 10 mbar`.",
    ],
    [
      "1 to 300 %",
      "A range without a step counts whole plain numbers only. | Say the step: `10 mbar to 40 mbar step 10 mbar`.",
    ],
    ['1 to "a"', "`to` counts between two numbers."],
    ['"a" to 3', "`to` counts between two numbers."],
    ['1 to 3 step "a"', "`to` counts between two numbers."],
    ["1 to blank", "`blank` stands for what is not filled in yet"],
    ["1 to 3 step blank", "`blank` stands for what is not filled in yet"],
    ["1 to 3 step (1 / 0)", "1 is divided by 0. | Nothing can be divided by 0; check that value."],
    ["count(1 to 10000)", "10000"],
    [
      "count(1 to 10001)",
      "A range may have at most 10,000 entries; this one has more. | Take a larger step.",
    ],
  ])("%s: %s", (formula, is) => expect(told(formula)).toBe(is));
});

describe("a selection of nothing", () => {
  const empty = openBook(
    "table t\n| i | x (g) | w |\n| p | 1 | 5 ± 1 mL |\n| q | 2 | 6 ± 1 mL |\ncolumn kg = x in kg\n",
  );
  it.each([
    // Its total is in the unit of what was chosen from.
    ["sum(t.x where x > 9 g)", "0 g"],
    ["sum((t.x * 2) where x > 9 g)", "0 g"],
    ["sum(t.w where x > 9 g)", "0 mL"],
    ["sum(t.kg where x > 9 g)", "0 kg"],
    ["sum([1 g, 2 g] where [false, false])", "0 g"],
    ["sum((t.x in kg) where x > 9 g)", "0 kg"],
    ["count(t.w where x > 9 g)", "0"],
    ["sum([] where [])", "0"],
  ])("%s: %s", (formula, is) => expect(empty.ask(formula).text).toBe(is));
  it.each(["mean", "smallest", "largest", "median"])("has no %s", (total) => {
    expect(empty.ask(`${total}(t.x where x > 9 g)`)).toMatchObject({
      state: "gap",
      message: `nothing is selected for \`${total}\``,
    });
  });
});

describe("a selection by the rows of a table", () => {
  // The columns of the table that a list comes from, through values, definitions and selections.
  const shelf = openBook(`table t
| i | x (g) | y |
| a | 1 | 1 |
| b | 2 | 5 |
| c | 3 | 9 |
table u
| i | x (g) | z |
| a | 10 | 1 |
| d | 20 | 2 |
define of(rows) = rows.x where x > 1 g
define again(rows) = of(rows)
define heavy(l) = l where x > 1 g
define twice(l) = heavy(l * 2)
define through(l) = heavy(l)
define both(rows, l) = sum(rows.x where x > 1 g) + sum(l where x > 1 g)
define swapped(a, b) = both(rows: b, l: a)
define lim(l, x) = l where y > x
define nest(l) = (l where y > 1) where x < 3 g
set s = t.x
set r = t
set ss = s
set pick2 = if 1 > 2 then t.x else t.x
`);
  const comesTo = (formula: string): string => {
    const { state, text, message, parts } = shelf.ask(formula);
    if (parts) return parts.map((p) => `${p.name}=${p.text}`).join(" ");
    return state === "ok" ? text : message!;
  };
  it.each([
    ["of(t)", "b=2 g c=3 g"],
    ["of(u)", "a=10 g d=20 g"],
    ["again(t)", "b=2 g c=3 g"],
    ["heavy(t.x)", "b=2 g c=3 g"],
    ["twice(t.x)", "b=4 g c=6 g"],
    ["through(t.x)", "b=2 g c=3 g"],
    ["through(u.x)", "a=10 g d=20 g"],
    ["both(t, t.x)", "10 g"],
    ["both(t, u.x)", "35 g"],
    ["swapped(t.x, u)", "35 g"],
    ["swapped(b: t, a: t.x)", "10 g"],
    ["lim(t.x, 4)", "1 (a plain number) and 1 g (a mass) cannot be compared."],
    ["nest(t.x)", "b=2 g"],
    ["s where y > 1", "b=2 g c=3 g"],
    ["ss where y > 1", "b=2 g c=3 g"],
    ["r.x where y > 1", "b=2 g c=3 g"],
    ["of(r)", "b=2 g c=3 g"],
    ["heavy(s)", "b=2 g c=3 g"],
    ["heavy(ss)", "b=2 g c=3 g"],
    ["heavy(pick2)", "b=2 g c=3 g"],
    ["pick2 where y > 1", "b=2 g c=3 g"],
    ["through([1 g, 2 g])", "Nothing here is called `x`."],
    ["heavy(3 g)", "`where` chooses from a list; it meets a mass."],
    ["of(3)", "A plain number has no part `x`."],
    ["(t.x + u.x) where x > 1 g", "These lists do not match: 3 entries and 2."],
    ["sum(t.x where y > 1) + sum(u.x where z > 1)", "25 g"],
    ["(u.x where z > 1) where x > 1 g", "d=20 g"],
    ["[1, 2, 3] where t.y > 1", "1=2 2=3"],
    ["(s * 2 where y > 1)", "b=4 g c=6 g"],
    ["(1 to 3) where t.y > 1", "1=2 2=3"],
    ['t.y where x > 1 g and i is not "c"', "b=5"],
    ["t.i where y > 1", "b=b c=c"],
    ["t.x where before.y is blank", "a=1 g"],
    ["t.x where before.y > 0", "b=2 g c=3 g"],
    ["t.x where book.s.a is 1 g", "a=1 g b=2 g c=3 g"],
    ["t.x where foot.x > 1", "Table t has no foot under `x`."],
  ])("%s: %s", (formula, is) => expect(comesTo(formula)).toBe(is));
});

describe("a selection of what a function comes to", () => {
  const shelf = openBook(`table t
| i | x (g) | y |
| a | 1 | 1 |
| b | 2 | 5 |
| c | 3 | 9 |
define double(l) = l * 2
define column_of(rows) = rows.x
define second(a, b) = b * 1
define inner(l) = double(l)
define ends(rows, l) = rows.x + l
set s = double(t.x)
`);
  it.each([
    // The rows are those of the table that its argument comes from, by place and by label, at any depth.
    ["double(t.x) where y > 1", "b=4 g c=6 g"],
    ["double(l: t.x) where y > 1", "b=4 g c=6 g"],
    ["inner(t.x) where y > 1", "b=4 g c=6 g"],
    ["double(double(t.x)) where y > 5", "c=12 g"],
    ["column_of(t) where y > 1", "b=2 g c=3 g"],
    ["column_of(rows: t) where y > 1", "b=2 g c=3 g"],
    ["double(column_of(t)) where y > 1", "b=4 g c=6 g"],
    ["second(3, t.x) where y > 1", "b=2 g c=3 g"],
    ["second(b: t.x, a: 3) where y > 1", "b=2 g c=3 g"],
    ["ends(t, t.x) where y > 1", "b=4 g c=6 g"],
    ["s where y > 1", "b=4 g c=6 g"],
    ["(s - t.x) where y > 1", "b=2 g c=3 g"],
    ["(if 1 > 2 then s else t.x) where y > 1", "b=2 g c=3 g"],
    ["-s where y > 1", "b=-4 g c=-6 g"],
    ["(s in kg) where y > 5", "c=0.006 kg"],
  ])("%s: %s", (formula, is) => {
    const { parts, message } = shelf.ask(formula);
    expect(parts?.map((p) => `${p.name}=${p.text}`).join(" ") ?? message).toBe(is);
  });
});

describe("a selection in an edited book", () => {
  const text = (y: string, name = "b", before = "2") =>
    [
      "table t",
      "| i | x (g) | y |",
      "| a | 1 | 1 |",
      `| ${name} | 2 | ${y} |`,
      "| c | 3 | 9 |",
      "column z = y * 2",
      "set q = sum(t.x where y > 4)",
      "set r = sum(t.x where z > 8)",
      'set n = sum(t.x where i is "b")',
      `set o = count(t.x where before.y is ${before})`,
      "column w = sum(t.x where y > 4) + x",
    ].join("\n");
  it.each([
    ["the cell of a condition", text("5"), text("3")],
    ["to a gap", text("5"), text("")],
    ["to a fault", text("5"), text("soon")],
    ["the name of a row", text("5"), text("5", "d")],
    ["the row before", text("2"), text("7")],
    ["the condition", text("5"), text("5", "b", "5")],
  ])("follows an edit of %s", (_, from, to) => {
    const start = openBook(from);
    for (const [book, fresh] of [
      [start.edit(to), openBook(to)],
      [start.edit(to).edit(from), start],
    ] as const) {
      expect(book.answers()).toEqual(fresh.answers());
      expect(book.messages).toEqual(fresh.messages);
    }
  });
  it("comes to other totals", () => {
    const totals = (book: ReturnType<typeof openBook>) =>
      ["q", "r", "n", "o"].map((name) => book.ask(name).text);
    const start = openBook(text("5"));
    expect(totals(start)).toEqual(["5 g", "5 g", "2 g", "0"]);
    expect(totals(start.edit(text("3")))).toEqual(["3 g", "3 g", "2 g", "0"]);
    expect(totals(start.edit(text("2")))).toEqual(["3 g", "3 g", "2 g", "1"]);
    expect(totals(start.edit(text("5", "d")))).toEqual(["5 g", "5 g", "0 g", "0"]);
  });
});

describe("lists that belong together", () => {
  const book = openBook(
    [
      "table t",
      "| item | volume (mL) | strength (%vol) |",
      "| one | 1000 | 60 |",
      "| two | 500 | 62 |",
      "| three | | |",
    ].join("\n"),
  );
  const notes = (formula: string) => book.ask(formula).notes;
  it("say how many rows were left out, as a total does", () => {
    expect(notes("marry(t.volume, t.strength).strength")).toEqual(["1 of 3 is blank"]);
    expect(notes("compose(1 L, t.volume, strength: t.strength, to_strength: 60.5 %vol).amounts")).toContain(
      "1 of 3 is blank",
    );
    expect(notes("marry([1 L, 500 mL], [60 %vol, 62 %vol]).strength")).not.toContain("1 of 3 is blank");
  });
});
