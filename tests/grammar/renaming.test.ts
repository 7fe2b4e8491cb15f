import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  applyPatches,
  BookNames,
  type BookTree,
  parseBook,
  type Reference,
  type Renamed,
  referencesIn,
  rename,
} from "../../grammar";
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
