import { describe, expect, it } from "vitest";
import { type Book, openBook } from "../../src/engine";

const BOOK = `set a = 3 L
set pull = 60 mbar
set \`net mass\` = 1 g
define kept(x, share) = x * (1 - share)
table t
| item     | volume (L) | strong (%vol) |
| juniper  | 1          | 40            |
| bay leaf | 2          | 50            |
| bay leaf | 3          | 60            |
| Rose     | 4          |               |
column twice = volume * 2
foot volume = sum(volume)
set blend = marry([1 L, 2 L], [40 %vol, 50 %vol])
set list = [1 L, 2 L]
`;

/** Looks formulas up that stand each on a line of one book: the value, or what is told with its place and help. */
function lookedUp(formulas: readonly string[]) {
  let opened: Book | undefined;
  return (formula: string) => {
    opened ??= openBook(BOOK + formulas.map((each, i) => `set q${i} = ${each}`).join("\n"));
    const book = opened;
    const line = BOOK.split("\n").length + formulas.indexOf(formula);
    const item = book.items.find((each) => each.statement.line === line);
    if (item?.type !== "value") throw new Error(`no value of ${formula}`);
    const told = book.messages.filter((m) => m.line === line);
    return {
      text: item.shown.message ?? item.shown.text,
      at: told.map((m) => book.text.slice(m.from, m.to)).join(),
      help: told[0]?.help,
      fix: told[0]?.fixes?.map((f) => f.says).join(),
    };
  };
}

describe("a path leads to", () => {
  const table = [
    ["t.volume", "4 entries"],
    ["t.juniper", "a result with parts"],
    ["t.juniper.volume", "1 L"],
    ["t.Rose.volume", "4 L"],
    ["t.foot.volume", "10 L"],
    ["t.volume.juniper", "1 L"],
    ["t.volume.2", "2 L"],
    ["t.twice.Rose", "8 L"],
    ["list.1", "1 L"],
    ["blend.strength", "46.685 %vol"],
    ["kept(1, 0.5)", "0.5"],
    ["kept(share: 0.5, x: 1)", "0.5"],
    ["kept(1, share: 0.5)", "0.5"],
  ] as const;
  const found = lookedUp(table.map(([formula]) => formula));
  it.each(table)("%s: %s", (formula, text) =>
    expect(found(formula)).toEqual({ text, at: "", help: undefined, fix: undefined }),
  );
});

describe("what is not there is told", () => {
  const twice = "Table t has 2 rows called `bay leaf` (rows 2, 3).";
  const name = "Give one of them another name.";
  const boils = "It is written `boils_at(pressure; strength: …, solids: …, activity: …)`.";
  const first = "Arguments by place come first, labelled ones after them.";
  const two = "Leave one of them out; an argument by place counts too.";
  const inTable =
    "belongs to the formulas of a table; here the whole path is written, such as `table.column`.";
  // formula, what is told, the words at fault, what to do, a rewrite
  const table: readonly (readonly [string, string, string, string?, string?])[] = [
    // Names: what is near, what it is, or where it stands.
    ["nobody", "Nothing here is called `nobody`.", "nobody", "Give it a value of its own: `set nobody = …`."],
    ["pul", "Nothing here is called `pul`.", "pul", "`pull` is near.", "Write pull"],
    [
      "`net mas`",
      "Nothing here is called `net mas`.",
      "`net mas`",
      "`net mass` is near.",
      "Write `net mass`",
    ],
    [
      "volume",
      "Nothing here is called `volume`.",
      "volume",
      "Table t has a column of that name: write `t.volume`, or `t.foot.volume` for what stands under it.",
    ],
    ["boils_at", "Nothing here is called `boils_at`.", "boils_at", "It is a function: write `boils_at(…)`."],
    ["kept", "Nothing here is called `kept`.", "kept", "It is a function: write `kept(…)`."],
    [
      "mL",
      "Nothing here is called `mL`.",
      "mL",
      "It is a unit; a unit stands directly behind a number or after `in`. To multiply by one, write `1 mL`.",
    ],
    ["before.x", "Nothing here is called `before`.", "before", `\`before.…\` ${inTable}`],
    ["foot.volume", "Nothing here is called `foot`.", "foot", `\`foot.…\` ${inTable}`],
    ["book.a", "Nothing here is called `book`.", "book", `\`book.…\` ${inTable}`],
    // Columns, rows, feet.
    ["t.volum", "Table t has no column or row `volum`.", "volum", "`volume` is near.", "Write volume"],
    ["t.junip", "Table t has no column or row `junip`.", "junip", "`juniper` is near.", "Write juniper"],
    ["t.nobody", "Table t has no column or row `nobody`.", "nobody"],
    ["t.rose", "Table t has no column or row `rose`.", "rose", "`Rose` is near.", "Write Rose"],
    ["t.rose.volume", "Table t has no column or row `rose`.", "rose", "`Rose` is near.", "Write Rose"],
    ["t.juniper.volum", "Table t has no column `volum`.", "volum", "`volume` is near.", "Write volume"],
    [
      "t.juniper.zzzz",
      "Table t has no column `zzzz`.",
      "zzzz",
      "Its columns are item, volume, strong, twice.",
    ],
    ["t.`bay leaf`", twice, "`bay leaf`", name],
    ["t.`bay leaf`.volume", twice, "`bay leaf`", name],
    ["t.volume.`bay leaf`", twice, "`bay leaf`", name],
    ["t.foot.volum", "Table t has no foot under `volum`.", "volum", "`volume` is near."],
    ["t.foot.twice", "Table t has no foot under `twice`.", "twice", "Add `foot twice = …` below its rows."],
    ["t.foot.zzzz", "Table t has no foot under `zzzz`.", "zzzz"],
    ["t.foot", "Table t has no column or row `foot`.", "foot"],
    // Entries and parts.
    ["t.volume.9", "This list has 4 entries; there is no entry 9.", "9"],
    ["list.0", "This list has 2 entries; there is no entry 0.", "0"],
    ["t.volume.rose", "This list has no entry `rose`.", "rose", "`Rose` is near."],
    ["list.x", "This list has no entry `x`.", "x", "Its entries are numbered: `.1` is the first."],
    [
      "blend.strenght",
      "This result has no part `strenght`.",
      "strenght",
      "`strength` is near.",
      "Write strength",
    ],
    [
      "blend.zzz",
      "This result has no part `zzz`.",
      "zzz",
      "Its parts are volume, strength, mass, pure_volume, contraction.",
    ],
    ["a.b", "A volume has no part `b`.", "b"],
    ["pull.x.y", "A pressure has no part `x`.", "x"],
    ["blend.volume.x", "A volume has no part `x`.", "x"],
    // Calls.
    ["boils_at()", "`boils_at` is missing `pressure`.", "boils_at()", boils],
    [
      "boils_at(60 mbar, 40 %vol)",
      "`boils_at` takes one argument by place; this is one more.",
      "40 %vol",
      "If it is meant as `strength`, write `strength: …`.",
    ],
    [
      "boils_at(strength: 3 %vol, 60 mbar)",
      "In `boils_at(…)` an argument without a label stands behind `strength:`.",
      "60 mbar",
      first,
    ],
    ["boils_at(60 mbar, pressure: 60 mbar)", "`boils_at` is given `pressure` twice.", "pressure", two],
    [
      "boils_at(60 mbar, strength: 1 %vol, strength: 2 %vol)",
      "`boils_at` is given `strength` twice.",
      "strength",
      two,
    ],
    ["boils_at(60 mbar, zzz: 3)", "`boils_at` has no argument called `zzz`.", "zzz", boils],
    [
      "let_down(1 L, 96 %vol)",
      "`let_down` is missing `to`.",
      "let_down(1 L, 96 %vol)",
      "Add `to: …`. It is written `let_down(volume, strength; to: (needed))`.",
    ],
    [
      "let_down(1 L, 96 %vol, 40 %vol)",
      "`let_down` takes 2 arguments by place; this is one more.",
      "40 %vol",
      "If it is meant as `to`, write `to: …`.",
    ],
    [
      "let_down(1 L)",
      "`let_down` is missing `strength` and `to`.",
      "let_down(1 L)",
      "It is written `let_down(volume, strength; to: (needed))`.",
    ],
    ["kept(1)", "`kept` is missing `share`.", "kept(1)", "It is written `kept(x, share)`."],
    [
      "kept(1, 2, 3)",
      "`kept` takes 2 arguments by place; this is one more.",
      "3",
      "It is written `kept(x, share)`.",
    ],
    ["kept(1, shar: 2)", "`kept` has no argument called `shar`.", "shar", "`share` is near.", "Write share"],
    ["kept(1, zzz: 2)", "`kept` has no argument called `zzz`.", "zzz", "It is written `kept(x, share)`."],
    ["kept(share: 2, 1)", "In `kept(…)` an argument without a label stands behind `share:`.", "1", first],
    [
      "boil_at(60 mbar)",
      "There is no function called `boil_at`.",
      "boil_at",
      "`boils_at` is near.",
      "Write boils_at",
    ],
    [
      "zzzz(1)",
      "There is no function called `zzzz`.",
      "zzzz",
      "A function of your own begins with `define zzzz(x) = …`.",
    ],
    ["a(3)", "`a` is a value, not a function.", "a", "To multiply, write `a * (…)`."],
  ];
  const found = lookedUp(table.map(([formula]) => formula));
  it.each(table.map((row) => [row[0], row] as const))("%s", (formula, [, text, at, help, fix]) =>
    expect(found(formula)).toEqual({ text, at, help, fix }),
  );
});

describe("in a table", () => {
  /** What cells `f` come to, or what is told of them. */
  const inTable = (...lines: string[]): string => {
    const book = openBook(
      ["set k = 2 g", "table t", "| i | x (g) |", "| a | 1 |", "| b | 2 |", ...lines].join("\n"),
    );
    const [message] = book.messages;
    if (message) return [message.says, message.help].filter((s) => s !== undefined).join(" | ");
    return ["t.a.f", "t.b.f", "t.foot.x"]
      .map((path) => book.ask(path))
      .flatMap((a) =>
        a.message?.startsWith("Table") ? [] : [a.state === "fault" ? a.message : a.text || a.message],
      )
      .join(", ");
  };
  it.each([
    [["column f = x"], "1 g, 2 g"],
    [["column f = before.x"], "there is no row before the first, 1 g"],
    [["column f = book.k"], "2 g, 2 g"],
    [["column f = book.t.x.b"], "2 g, 2 g"],
    [["column f = t.a.x"], "1 g, 1 g"],
    [["column f = foot.x * 2", "foot x = sum(x)"], "6 g, 6 g, 3 g"],
    [["column f = t.foot.x * 2", "foot x = sum(x)"], "6 g, 6 g, 3 g"],
    [["foot x = book.t.a.x"], "1 g"],
    [["foot x = x.b"], "2 g"],
    // Words that mean the table around them stand before a dot.
    [["column f = book"], "`book` stands before a dot: `book.NAME`."],
    [["column f = before"], "`before` stands before a dot: `before.column`."],
    [["column f = foot"], "`foot` stands before a dot: `foot.column`."],
    [["foot x = foot"], "`foot` stands before a dot: `foot.column`."],
    [["column f = before.zz"], "Table t has no column `zz`. | Its columns are i, x, f."],
    [["column f = foot.x"], "Table t has no foot under `x`. | Add `foot x = …` below its rows."],
    [["column f = foot.zz"], "Table t has no foot under `zz`."],
    [
      ["column f = foot.total", "column totl = 1", "foot totl = 3"],
      "Table t has no foot under `total`. | `totl` is near.",
    ],
    [["column f = book.x"], "Nothing here is called `x`. | Table t has a column of that name: write `t.x`."],
    [
      ["column f = book.nobody"],
      "Nothing here is called `nobody`. | Give it a value of its own: `set nobody = …`.",
    ],
    [["column f = x.y"], "A mass has no part `y`."],
    [["column f = t.zz.x"], "Table t has no column or row `zz`."],
    [["column f = t.foot"], "Table t has no column or row `foot`."],
    [["foot x = foot.x"], "t.foot.x needs itself. | It must come from something else."],
    [
      ["column f = t.f.b"],
      "t.a.f needs itself. | It must come from something else. The row before is `before.f`.",
    ],
    [
      ["column f = t.a"],
      "A cell holds one value; this comes to a result with parts. | Say which part: `.i`, `.x`, `.f`.",
    ],
  ])("%j: %s", (lines, is) => expect(inTable(...lines)).toBe(is));
});
