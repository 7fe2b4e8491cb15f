import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { applyPatches, type BookTree, parseBook, type Reference, type Renamed, rename } from "../../grammar";
import { BookNames } from "../../grammar/book-names";
import { referencesIn } from "../../grammar/references";
import { bookWithTable } from "./arbitraries";
import { edited, refusal, tableOf } from "./editing";
import { told } from "./notation";

const set = (tree: BookTree, name: string): Renamed => ({
  kind: "set",
  statement: tree.statements.find(({ node }) => node.type === "set" && node.name === name)!,
});
const define = (tree: BookTree, name: string): Renamed => ({
  kind: "define",
  statement: tree.statements.find(({ node }) => node.type === "define" && node.name === name)!,
});
const column = (tree: BookTree, name: string, table = "t"): Renamed => ({
  kind: "column",
  table: tableOf(tree, table),
  name,
});
const row = (tree: BookTree, at: number, table = "t"): Renamed => ({
  kind: "row",
  table: tableOf(tree, table),
  row: at,
});

type Pick = (tree: BookTree) => Renamed;
const renamed = (text: string, pick: Pick, to: string): string =>
  edited(text, (tree) => rename(tree, pick(tree), to));
const refusedAs = (text: string, pick: Pick, to: string): string | undefined =>
  refusal(text, (tree) => rename(tree, pick(tree), to));

/** Renames and compares line by line: `from` lists the lines of the book, `to` what they become. */
function becomes(from: readonly string[], pick: Pick, name: string, to: readonly string[]): void {
  expect(renamed(from.join("\n"), pick, name).split("\n")).toEqual(to);
}

describe("a set", () => {
  it("is renamed wherever its name means it", () => {
    becomes(
      [
        "set a = 1",
        'set b = a + f(a, a: 2) + a.part + x.a + "{a} a"',
        "check a > 1",
        'step "a {a in mL}" wait a ask a',
        "seen a @00000000",
        'chart "a" : bars a by a',
      ],
      (tree) => set(tree, "a"),
      "juice",
      [
        "set juice = 1",
        'set b = juice + f(juice, a: 2) + juice.part + x.a + "{juice} a"',
        "check juice > 1",
        'step "a {juice in mL}" wait juice ask juice',
        "seen juice @00000000",
        'chart "a" : bars juice by juice',
      ],
    );
  });
  it("keeps the brackets around it, which may part it from a word", () => {
    becomes(
      [
        "set a = 1",
        "set b = if(a)then((a))else not( `a` )",
        "set c = (a).part + f((a), to: (a)) + ( # why",
        "  a)",
        'set d = "{(a)}"',
        "table t",
        "| i | x |",
        "| r | = not(a) |",
      ],
      (tree) => set(tree, "a"),
      "juice",
      [
        "set juice = 1",
        "set b = if(juice)then((juice))else not( juice )",
        "set c = (juice).part + f((juice), to: (juice)) + ( # why",
        "  juice)",
        'set d = "{(juice)}"',
        "table t",
        "| i | x |",
        "| r | = not(juice) |",
      ],
    );
  });
  it("is renamed inside every kind of formula", () => {
    for (const around of [
      "-a",
      "not a",
      "b + a",
      "a or b",
      "b and a",
      "b < a",
      "b within a to c",
      "b within c to a",
      "a ± b",
      "b ± a",
      "a in mL",
      "[b, a]",
      "a to b step c",
      "b to a",
      "b to c step a",
      "if a then b else c",
      "if b then a else c",
      "if b then c else a",
      "find x from a to b so that x > c",
      "find x from b to a so that x > c",
      "find x from b to c so that x > a",
      "a where b > c",
      "b where c > a",
      "a.part",
      '"{a}"',
    ])
      becomes(["set a = 1", `set z = ${around}`], (tree) => set(tree, "a"), "juice", [
        "set juice = 1",
        `set z = ${around.replace(/\ba\b/, "juice")}`,
      ]);
  });
  it("takes backticks where the new name needs them, and loses them where it does not", () => {
    becomes(["set a = 1", "set b = a * 2 + a.x"], (tree) => set(tree, "a"), "bay leaf", [
      "set `bay leaf` = 1",
      "set b = `bay leaf` * 2 + `bay leaf`.x",
    ]);
    becomes(["set `to` = 1", "set b = `to`"], (tree) => set(tree, "to"), "goal", [
      "set goal = 1",
      "set b = goal",
    ]);
    becomes(["set a = 1", "table t", "| i | x |", "| r | = a |"], (tree) => set(tree, "a"), "x|y", [
      "set `x|y` = 1",
      "table t",
      "| i | x |",
      "| r | = `x\\|y` |",
    ]);
  });
  it("is left alone where the name means a parameter, a variable or a column", () => {
    becomes(
      [
        "set a = f(1)",
        "define f(a) = a + 1",
        "define g(x) = a + x",
        "set b = find a from 1 to 2 so that a is a",
        'chart "c" : curve a for a from a to 2',
        "table t",
        "| i | a |",
        "column d = a + book.a",
        "foot a = sum(a)",
        "set c = t.a",
      ],
      (tree) => set(tree, "a"),
      "n",
      [
        "set n = f(1)",
        "define f(a) = a + 1",
        "define g(x) = n + x",
        "set b = find a from 1 to 2 so that a is a",
        'chart "c" : curve a for a from n to 2',
        "table t",
        "| i | a |",
        "column d = a + book.n",
        "foot a = sum(a)",
        "set c = t.a",
      ],
    );
  });
  it("is renamed with the search or curve that moves it", () => {
    becomes(
      [
        "set pull = 40 mbar",
        "set best = find pull from 20 mbar to 200 mbar so that spirit(pull) is 60",
        'chart "c" : curve f(pull) for pull from 1 mbar to 2 mbar',
      ],
      (tree) => set(tree, "pull"),
      "vacuum",
      [
        "set vacuum = 40 mbar",
        "set best = find vacuum from 20 mbar to 200 mbar so that spirit(vacuum) is 60",
        'chart "c" : curve f(vacuum) for vacuum from 1 mbar to 2 mbar',
      ],
    );
  });
  it("is written `book.name` where a column would now hide it", () => {
    becomes(
      [
        "set a = 1",
        "table t",
        "| i | volume |",
        "| r | = a |",
        "column b = a * 2",
        "set c = sum(t.volume where volume > a)",
        "set d = a",
      ],
      (tree) => set(tree, "a"),
      "volume",
      [
        "set volume = 1",
        "table t",
        "| i | volume |",
        "| r | = book.volume |",
        "column b = book.volume * 2",
        "set c = sum(t.volume where volume > book.volume)",
        "set d = volume",
      ],
    );
  });
  it("is refused a name that is taken, fixed, impossible, or hidden by a parameter", () => {
    const text = "set a = 1\nset b = 2\ntable t\n| i |\ndefine f(x) = x + a\nset broken = (";
    for (const [name, code] of [
      ["b", "name-taken"],
      ["t", "name-taken"],
      ["broken", "name-taken"],
      ["foot", "name-fixed"],
      ["", "name-empty"],
      ["a`b", "name-empty"],
      ["x", "name-hidden"],
    ])
      expect(
        refusedAs(text, (tree) => set(tree, "a"), name!),
        name,
      ).toBe(code);
    expect(renamed(text, (tree) => set(tree, "a"), "f")).toContain("set f = 1");
    expect(edited(text, (tree) => rename(tree, set(tree, "a"), " a "))).toBe(text);
  });
});

describe("a value that a new name brings behind something nearer", () => {
  it("is written with `book` where columns hide it, at the head of a path too", () => {
    becomes(
      [
        "set a = 1",
        "table t",
        "| i | x |",
        "| r | = a + (a) + a.part + f(a) |",
        "foot x = sum(x) + a",
        'step "{a}"',
      ],
      (tree) => set(tree, "a"),
      "x",
      [
        "set x = 1",
        "table t",
        "| i | x |",
        "| r | = book.x + (book.x) + book.x.part + f(book.x) |",
        "foot x = sum(x) + book.x",
        'step "{x}"',
      ],
    );
  });
  it("is refused where a parameter or a variable hides it", () => {
    for (const line of [
      "define f(x) = x + a",
      "set b = find x from 1 to 2 so that x is a",
      'chart "c" : curve a + x for x from 1 to 2',
      "set b = find a from 1 to 2 so that (find x from 1 to 2 so that x is a) is 1",
    ])
      expect(
        refusedAs(`set a = 1\n${line}`, (tree) => set(tree, "a"), "x"),
        line,
      ).toBe("name-hidden");
  });
  it("is refused where the name that a search moves would be a column's", () => {
    const text = "set a = 1\ntable t\n| i | x |\ncolumn y = find a from 1 to 2 so that a is 1";
    expect(refusedAs(text, (tree) => set(tree, "a"), "x")).toBe("name-hidden");
    expect(renamed(text, (tree) => set(tree, "a"), "z")).toContain("find z from 1 to 2 so that z is 1");
  });
});

describe("a define", () => {
  it("is renamed in its calls and its tick, and in nothing else of that name", () => {
    becomes(
      ["define f(x) = x", "set f = f(1) + f(f(2))", 'step "{f(3)}"', "define g(x) = f(x)"],
      (tree) => define(tree, "f"),
      "double it",
      [
        "define `double it`(x) = x",
        "set f = `double it`(1) + `double it`(`double it`(2))",
        'step "{`double it`(3)}"',
        "define g(x) = `double it`(x)",
      ],
    );
    becomes(["define f(x) = x", "seen f @00000000"], (tree) => define(tree, "f"), "g", [
      "define g(x) = x",
      "seen g @00000000",
    ]);
  });
  it("is refused the name of another, or of a function that the book calls", () => {
    const text = "define f(x) = x\ndefine g(x) = mean(x)";
    expect(refusedAs(text, (tree) => define(tree, "f"), "g")).toBe("name-taken");
    expect(refusedAs(text, (tree) => define(tree, "f"), "mean")).toBe("name-taken");
  });
});

describe("a table", () => {
  it("is renamed in every path that leads to it", () => {
    becomes(
      [
        "table t",
        "| i | x |",
        "| r | = t.foot.x |",
        "column y = book.t.x",
        "set a = t.x + t.r.x + t.foot.x + f(t) + t",
        "seen t.foot.x @00000000",
        'step "{t.r.x}" ask t.x',
      ],
      (tree) => ({ kind: "table", table: tableOf(tree) }),
      "stills",
      [
        "table stills",
        "| i | x |",
        "| r | = stills.foot.x |",
        "column y = book.stills.x",
        "set a = stills.x + stills.r.x + stills.foot.x + f(stills) + stills",
        "seen stills.foot.x @00000000",
        'step "{stills.r.x}" ask stills.x',
      ],
    );
  });
});

const BOOK = [
  "table t",
  "| item | volume (mL) | `b (c)` |",
  "| juniper | 1 | = volume * 2 |",
  "| bay leaf | = before.volume | |",
  "column cost = volume * 2 + foot.volume",
  "foot volume = sum(volume)",
  "foot cost = sum(cost where volume > 1)",
];

describe("a column", () => {
  it("is renamed in its heading, in cells, columns and feet, and in paths", () => {
    becomes(
      [...BOOK, "set a = t.volume + t.juniper.volume + t.foot.volume + t.cost", "seen t.volume @00000000"],
      (tree) => column(tree, "volume"),
      "amount",
      [
        "table t",
        "| item | amount (mL) | `b (c)` |",
        "| juniper | 1 | = amount * 2 |",
        "| bay leaf | = before.amount | |",
        "column cost = amount * 2 + foot.amount",
        "foot amount = sum(amount)",
        "foot cost = sum(cost where amount > 1)",
        "set a = t.amount + t.juniper.amount + t.foot.amount + t.cost",
        "seen t.amount @00000000",
      ],
    );
  });
  it("that is computed is renamed with its statement and its foot", () => {
    const text = renamed(BOOK.join("\n"), (tree) => column(tree, "cost"), "in all");
    expect(text).toContain("column `in all` = volume");
    expect(text).toContain("foot `in all` = sum(`in all` where volume > 1)");
    expect(told(text)).toEqual([]);
  });
  it("may have the name of a variable that its own name would hide where the variable is not used", () => {
    becomes(
      ["table t", "| i | x |", "| r | 1 |", "set a = find y from 1 to 2 so that sum(t.x where x > 1) is y"],
      (tree) => column(tree, "x"),
      "y",
      ["table t", "| i | y |", "| r | 1 |", "set a = find y from 1 to 2 so that sum(t.y where y > 1) is y"],
    );
  });
  it("keeps its heading readable", () => {
    const heading = (pick: string, to: string): string =>
      renamed(BOOK.join("\n"), (tree) => column(tree, pick), to).split("\n")[1]!;
    expect(heading("volume", "volume (old)")).toBe("| item | volume (old) (mL) | `b (c)` |");
    expect(heading("b (c)", "d")).toBe("| item | volume (mL) | d |");
    expect(heading("b (c)", "e (f)")).toBe("| item | volume (mL) | `e (f)` |");
    expect(heading("item", "a|b")).toBe("| a\\|b | volume (mL) | `b (c)` |");
  });
  it("is followed into conditions, through sets, and into definitions that always meet the same table", () => {
    becomes(
      [
        "table t",
        "| i | x | y |",
        "| r | 1 | 2 |",
        "set all = t.x",
        "set row = t.r",
        "set a = sum(all where y > 1) + row.y + sum(all * 2 where not (y is blank))",
        "define some(list, least) = sum(list where y > least)",
        "set b = some(t.x, 3) + some(list: all, least: 4)",
        "set c = sum(other where y > 1)",
      ],
      (tree) => column(tree, "y"),
      "z",
      [
        "table t",
        "| i | x | z |",
        "| r | 1 | 2 |",
        "set all = t.x",
        "set row = t.r",
        "set a = sum(all where z > 1) + row.z + sum(all * 2 where not (z is blank))",
        "define some(list, least) = sum(list where z > least)",
        "set b = some(t.x, 3) + some(list: all, least: 4)",
        "set c = sum(other where y > 1)",
      ],
    );
  });
  it("is followed from `book`, and not into a definition that meets several tables", () => {
    becomes(
      [
        "table t",
        "| i | x |",
        "| r | 1 |",
        "table u",
        "| i | x |",
        "| r | 2 |",
        "set whole = book.t",
        "set a = whole.x",
        "define both(some) = some.x",
        "set b = both(t) + both(u)",
        "set c = both(u)",
      ],
      (tree) => column(tree, "x", "u"),
      "z",
      [
        "table t",
        "| i | x |",
        "| r | 1 |",
        "table u",
        "| i | z |",
        "| r | 2 |",
        "set whole = book.t",
        "set a = whole.x",
        "define both(some) = some.x",
        "set b = both(t) + both(u)",
        "set c = both(u)",
      ],
    );
    becomes(
      ["table t", "| i | x |", "| r | 1 |", "set whole = book.t", "set a = whole.x"],
      (tree) => column(tree, "x"),
      "z",
      ["table t", "| i | z |", "| r | 1 |", "set whole = book.t", "set a = whole.z"],
    );
  });
  it("writes `book.name` for a value that its new name would hide", () => {
    becomes(
      [
        "set price = 2",
        "table t",
        "| i | x |",
        "| r | = price |",
        "column y = x * price + price.part",
        "set z = price",
        "set w = sum(t.x where x > price)",
      ],
      (tree) => column(tree, "x"),
      "price",
      [
        "set price = 2",
        "table t",
        "| i | price |",
        "| r | = book.price |",
        "column y = price * book.price + book.price.part",
        "set z = price",
        "set w = sum(t.price where price > book.price)",
      ],
    );
  });
  it("is refused the name of another column or of a row, and what a variable would hide", () => {
    const text = [...BOOK, "set a = sum(t.volume where (find x from 1 to 2 so that x is volume) > 1)"].join(
      "\n",
    );
    expect(refusedAs(text, (tree) => column(tree, "volume"), "cost")).toBe("name-taken");
    expect(refusedAs(text, (tree) => column(tree, "volume"), "juniper")).toBe("name-taken");
    expect(refusedAs(text, (tree) => column(tree, "volume"), "before")).toBe("name-fixed");
    expect(refusedAs(text, (tree) => column(tree, "volume"), "x")).toBe("name-hidden");
  });
});

describe("a row", () => {
  it("is renamed in its first cell and in the paths that ask for it", () => {
    becomes(
      [
        "table t",
        "| i | x |",
        "| bay leaf | 1 |",
        "| 2a | 2 |",
        "set a = t.`bay leaf`.x + t.2a.x + t.x.`bay leaf`",
        'set b = "bay leaf"',
      ],
      (tree) => row(tree, 0),
      "laurel",
      [
        "table t",
        "| i | x |",
        "| laurel   | 1 |",
        "| 2a | 2 |",
        "set a = t.laurel.x + t.2a.x + t.x.laurel",
        'set b = "bay leaf"',
      ],
    );
  });
  it("takes quotes where its new name begins with one, and backticks where a path asks for it", () => {
    becomes(
      ["table t", "| i | x |", "| r | 1 |", "| s | = t.r.x |", "set a = t.r.x"],
      (tree) => row(tree, 0),
      '"a" \\ b',
      [
        "table t",
        "| i | x |",
        '| "\\"a\\" \\\\ b" | 1 |',
        '| s | = t.`"a" \\ b`.x |',
        'set a = t.`"a" \\ b`.x',
      ],
    );
    becomes(
      ["table t", "| i | x |", "| r | 1 |", "| s | = t.r.x |", "set a = t.r.x"],
      (tree) => row(tree, 0),
      "a|b",
      ["table t", "| i | x |", "| a\\|b | 1 |", "| s | = t.`a\\|b`.x |", "set a = t.`a|b`.x"],
    );
  });
  it("is not the column of that name, which a path means first", () => {
    const lines = ["table t", "| i | r |", "| r | 1 |", "set a = t.r + sum(t.r where r > 1)"];
    becomes(lines, (tree) => row(tree, 0), "s", ["table t", "| i | r |", "| s | 1 |", ...lines.slice(3)]);
  });
  it("keeps the name that it has, as everything does", () => {
    const text = ["set a = 1", "define f(x) = x", "table t", "| i | x |", "| r | 1 |", "column y = 1"].join(
      "\n",
    );
    const picks: readonly (readonly [Pick, string])[] = [
      [(tree) => set(tree, "a"), "a"],
      [(tree) => define(tree, "f"), "f"],
      [(tree) => ({ kind: "table", table: tableOf(tree) }), "t"],
      [(tree) => column(tree, "x"), "x"],
      [(tree) => column(tree, "y"), "y"],
      [(tree) => row(tree, 0), "r"],
    ];
    for (const [pick, name] of picks) {
      const tree = parseBook(text);
      expect(rename(tree, pick(tree), ` ${name} `), name).toEqual({ patches: [] });
    }
  });
  it("is written behind a dot as a part, which needs fewer backticks, as a column is", () => {
    for (const name of ["2a", "to", "2026-02-03"])
      becomes(
        ["table t", "| i | x |", "| row name | 1 |", "set a = t.`row name`.x"],
        (tree) => row(tree, 0),
        name,
        ["table t", "| i | x |", `| ${name.padEnd(8)} | 1 |`, `set a = t.${name}.x`],
      );
    becomes(
      ["table t", "| i | x |", "| r | 1 |", "column y = x + before.x", "set a = t.x"],
      (tree) => column(tree, "x"),
      "to",
      ["table t", "| i | to |", "| r | 1 |", "column y = `to` + before.to", "set a = t.to"],
    );
  });
  it("without a name may be given one, and what has none is no use of it", () => {
    becomes(["table t", "| i | x |", "|  | 1 |", "|  | 2 |", "set a = t.x"], (tree) => row(tree, 1), "r", [
      "table t",
      "| i | x |",
      "|  | 1 |",
      "| r | 2 |",
      "set a = t.x",
    ]);
  });
  it("may take the name of another row only while no formula asks for that name", () => {
    const text = "table t\n| i | x |\n| r | 1 |\n| s | 2 |";
    expect(renamed(text, (tree) => row(tree, 1), "r")).toContain("| r | 2 |");
    expect(refusedAs(`${text}\nset a = t.r.x`, (tree) => row(tree, 1), "r")).toBe("name-taken");
    expect(refusedAs(text, (tree) => row(tree, 1), "x")).toBe("name-taken");
  });
});

describe("references", () => {
  it("tell what each name means, where it stands", () => {
    const text =
      "set a = t.x\ntable t\n| i | x |\n| r | 1 |\ncolumn y = x + a\ndefine f(p) = p + a\ncheck f(a) > nothing";
    const kinds = referencesIn(parseBook(text)).map(
      ({ statement, name, meaning, as }) => `${statement.line} ${name} ${meaning.kind} ${as}`,
    );
    expect([...kinds].sort()).toEqual(
      [
        "1 t table bare",
        "1 x column part",
        "5 a set bare",
        "5 x column bare",
        "6 a set bare",
        "6 p local bare",
        "7 a set bare",
        "7 f define call",
        "7 nothing open bare",
      ].sort(),
    );
  });
  /** What each use of a name means, in the order of the text: `3 x column`. */
  const uses = (...lines: readonly string[]): readonly string[] => {
    const tree = parseBook(lines.join("\n"));
    expect(told(tree.text)).toEqual([]);
    return referencesIn(tree)
      .map((one) => ({ one, at: one.statement.at + one.span.from }))
      .sort((a, b) => a.at - b.at)
      .map(({ one: { statement, span, name, meaning, as } }) => {
        const { at } = statement;
        const written = tree.text.slice(at + span.from, at + span.to);
        expect(written.replaceAll("`", "")).toBe(name);
        const table = "table" in meaning && meaning.kind !== "table" ? ` of ${meaning.table.name}` : "";
        return `${statement.line} ${name} ${meaning.kind}${table} ${as}`;
      });
  };
  const TABLES = ["table t", "| i | x | y |", "| r | 1 | 2 |", "table u", "| i | z |", "| s | 3 |"];
  it("follow a path through tables, rows, columns and feet", () => {
    expect(uses(...TABLES, "set a = t.x + t.r.y + t.foot.x + t.x.r + t.r.r + t.s + t.foot + a.x")).toEqual([
      "7 t table bare",
      "7 x column of t part",
      "7 t table bare",
      "7 r row of t part",
      "7 y column of t part",
      "7 t table bare",
      "7 x column of t part",
      "7 t table bare",
      "7 x column of t part",
      "7 r row of t part",
      "7 t table bare",
      "7 r row of t part",
      "7 r open part",
      "7 t table bare",
      "7 s open part",
      "7 t table bare",
      "7 foot open part",
      "7 a set bare",
      "7 x open part",
    ]);
  });
  it("in a table mean its columns first, and `before` and `foot` its own", () => {
    expect(
      uses(
        "set x = 1",
        "set w = 2",
        ...TABLES,
        "column k = z + x + w + before.z + foot.z + before.x + book.x + book.t.x + t.foot.y",
      ),
    ).toEqual([
      "9 z column of u bare",
      "9 x set bare",
      "9 w set bare",
      "9 z column of u part",
      "9 z column of u part",
      "9 x open part",
      "9 x set part",
      "9 t table part",
      "9 x column of t part",
      "9 t table bare",
      "9 y column of t part",
    ]);
  });
  it("in a foot take a column for the list that it is, with its rows", () => {
    expect(uses(...TABLES, "foot z = sum(z) + z.s + z.r", "set a = t.x.r")).toEqual([
      "7 sum open call",
      "7 z column of u bare",
      "7 z column of u bare",
      "7 s row of u part",
      "7 z column of u bare",
      "7 r open part",
      "8 t table bare",
      "8 x column of t part",
      "8 r row of t part",
    ]);
    expect(uses(...TABLES, "column k = z.s").at(-1)).toBe("7 s open part");
  });
  it("outside a table do not know `before`, `foot` and its columns", () => {
    expect(uses(...TABLES, "set a = x + before.x + foot.x + nothing.x")).toEqual([
      "7 x open bare",
      "7 before open bare",
      "7 x open part",
      "7 foot open bare",
      "7 x open part",
      "7 nothing open bare",
      "7 x open part",
    ]);
  });
  it("in a condition mean the columns of the table that the list comes from", () => {
    const lists: Readonly<Record<string, string>> = {
      "t.x": "t",
      "book.t.x": "t",
      "(t.x where x > 1)": "t",
      "(t.x in mL)": "t",
      "(t.x ± 1)": "t",
      "(-t.x)": "t",
      "(not t.x)": "t",
      "(if true then t.x else 1)": "t",
      "(if true then 1 else t.x)": "t",
      "f(1, t.x)": "t",
      "(1 + t.x)": "t",
      "(t.x * 2 + u.z)": "t",
      "(u.z < t.x)": "u",
      "(1 < t.x and true)": "t",
    };
    for (const [list, table] of Object.entries(lists)) {
      const own = table === "t" ? "y" : "z";
      expect(uses(...TABLES, `set a = sum(${list} where ${own} > 1)`).at(-1), list).toBe(
        `7 ${own} column of ${table} bare`,
      );
    }
    for (const list of ["[1, 2]", "a", "(t.r.x)", "1 to 3", '"x"'])
      expect(uses(...TABLES, "set a = 1", `set b = sum(${list} where y > 1)`).at(-1), list).toBe(
        "8 y open bare",
      );
  });
  it("follow sets, also in a circle, and a chain of eight but not without end", () => {
    expect(uses(...TABLES, "set a = b", "set b = t", "set c = a.x").slice(-2)).toEqual([
      "9 a set bare",
      "9 x column of t part",
    ]);
    expect(uses("set a = b", "set b = a", "set c = a.x").slice(-2)).toEqual([
      "3 a set bare",
      "3 x open part",
    ]);
  });
  it("follow what a definition is called with and gives back", () => {
    expect(
      uses(
        ...TABLES,
        "define whole(some) = some",
        "define first(some, other) = some.x",
        "set a = whole(t).x + first(t, u) + first(other: u, some: t)",
      ),
    ).toEqual([
      "7 some local bare",
      "8 some local bare",
      "8 x column of t part",
      "9 whole define call",
      "9 t table bare",
      "9 x column of t part",
      "9 first define call",
      "9 t table bare",
      "9 u table bare",
      "9 first define call",
      "9 u table bare",
      "9 t table bare",
    ]);
  });
  it("take the parameters, variables and parts for what they are, in every statement", () => {
    expect(
      uses(
        "set a = 1",
        "set b = 2 * a",
        "define f(a) = a + b + a.b",
        "set c = find a from b to c so that a is (find b from 1 to 2 so that b > c)",
        'chart "c" : curve a + b for a from b to c mark b',
        'chart "c" : curve b for b from a to b',
        'chart "c" : bars a, b by c',
        'step "x {a}" wait a ask b.c expect c',
        "set d = 1 try a to b step c",
        "check f(a) > f",
      ),
    ).toEqual([
      "2 a set bare",
      "3 a local bare",
      "3 b set bare",
      "3 a local bare",
      "3 b open part",
      "4 a set variable",
      "4 b set bare",
      "4 c set bare",
      "4 a set bare",
      "4 b local variable",
      "4 b local bare",
      "4 c set bare",
      "5 a set bare",
      "5 b set bare",
      "5 a set variable",
      "5 b set bare",
      "5 c set bare",
      "5 b set bare",
      "6 b local bare",
      "6 b local variable",
      "6 a set bare",
      "6 b set bare",
      "7 a set bare",
      "7 b set bare",
      "7 c set bare",
      "8 a set bare",
      "8 a set bare",
      "8 b set bare",
      "8 c open part",
      "8 c set bare",
      "9 a set bare",
      "9 b set bare",
      "9 c set bare",
      "10 f define call",
      "10 a set bare",
      "10 f open bare",
    ]);
  });
  it("of a tick may be a definition, where nothing else has its name", () => {
    expect(
      uses(
        "define f(x) = x",
        "set g = 1",
        "define g(x) = x",
        "seen f @00000000",
        "seen g @00000000",
        "seen h @00000000",
      ).slice(-3),
    ).toEqual(["4 f define bare", "5 g set bare", "6 h open bare"]);
  });
  it("of rows that cannot be named are left open", () => {
    const tree = parseBook("table t\nset a = 1\n| x |\nset b = t.x");
    const names = new BookNames(tree);
    expect([...names.rowsOf(tree.tables[0]!), ...names.columnsOf(tree.tables[0]!)]).toEqual([]);
    const nameless = parseBook('table t\n| i | x |\n|  | 1 |\n| 5 mL | 2 |\n| "q" | 3 |');
    expect([...new BookNames(nameless).rowsOf(nameless.tables[0]!)]).toEqual(["5 mL", "q"]);
    const dated = parseBook("table t\n| on (date) | x |\n| 2026-02-03 | 1 |\n|  | 2 |");
    expect([...new BookNames(dated).rowsOf(dated.tables[0]!)]).toEqual(["2026-02-03"]);
  });
  it("of a name that a broken statement has are left open", () => {
    const tree = parseBook(
      "set a = (\nset a = 1\ntable t x\nset t = 2\ncolumn c = (\nset c = 3\ncheck a + t + c",
    );
    expect(
      referencesIn(tree)
        .map(({ name, meaning }) => `${name} ${meaning.kind}`)
        .sort(),
    ).toEqual(["a open", "c set", "t open"]);
  });
  it("of two equal names follow the first", () => {
    const tree = parseBook("set a = 1\nset a = 2\nset b = a");
    const [reference] = referencesIn(tree);
    expect(reference!.meaning).toMatchObject({ kind: "set", statement: { line: 1 } });
    expect(rename(tree, set(tree, "a"), "c").refused?.code).toBeUndefined();
  });
});

describe("whatever the book", () => {
  it("every use of the renamed thing has the new name, and every other use means what it meant", () => {
    let count = 0;
    fc.assert(
      fc.property(bookWithTable, fc.nat(), (text, pick) => {
        const tree = parseBook(text);
        const names = new BookNames(tree);
        const things: Renamed[] = [
          ...[...names.sets.values()].map((statement): Renamed => ({ kind: "set", statement })),
          ...[...names.defines.values()].map((statement): Renamed => ({ kind: "define", statement })),
          ...[...names.tables.values()].map((table): Renamed => ({ kind: "table", table })),
          ...[...names.tables.values()].flatMap((table) =>
            [...names.columnsOf(table)].map((name): Renamed => ({ kind: "column", table, name })),
          ),
        ];
        const thing = things[pick % things.length]!;
        const made = rename(tree, thing, "brand new");
        if (made.refused !== undefined) return;
        count++;
        const means = ({ meaning }: Reference): boolean => {
          if (meaning.kind !== thing.kind) return false;
          if ("statement" in meaning && "statement" in thing) return meaning.statement === thing.statement;
          if (!("table" in meaning) || !("table" in thing) || meaning.table !== thing.table) return false;
          return !("name" in meaning) || !("name" in thing) || meaning.name === thing.name;
        };
        const before = referencesIn(tree).map((one) => [
          one.meaning.kind,
          one.as,
          means(one) ? "brand new" : one.name,
        ]);
        const next = parseBook(applyPatches(text, made.patches!));
        expect(referencesIn(next).map((one) => [one.meaning.kind, one.as, one.name])).toEqual(before);
        const codes = (one: string): readonly string[] =>
          told(one)
            .map((each) => each.split(" ").slice(0, 2).join(" "))
            .filter((each) => !each.endsWith("name-fixed"));
        expect(codes(next.text)).toEqual(codes(text));
      }),
      { numRuns: 200, seed: 12 },
    );
    expect(count).toBeGreaterThan(120);
  });
});
