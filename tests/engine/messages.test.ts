import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

/** The messages of a book, each as `line:column words | what is told | what to do`. */
const told = (text: string) =>
  openBook(text).messages.map((m) =>
    [
      `${m.line}:${m.column} ${text.slice(m.from, m.to)}`,
      m.says,
      ...(m.help === undefined ? [] : [m.help]),
    ].join(" | "),
  );
const TABLE = "table t\n| i | x (g) |\n| r | 1 |\n";

describe("names of a book", () => {
  const rename = "Give this one another name, or take it out.";
  it.each([
    // The first of a name counts; values and tables share theirs, functions have their own.
    [
      "set a = 1\nset a = 2",
      [`2:5 a | The value \`a\` is defined on line 1 already; that one counts. | ${rename}`],
    ],
    [
      "set a = 1\ntable a\n| i |\n| r |",
      [`2:7 a | The table \`a\` is defined on line 1 already; that one counts. | ${rename}`],
    ],
    [
      "define f(x) = x\ndefine f(y) = y",
      [`2:8 f | The function \`f\` is defined on line 1 already; that one counts. | ${rename}`],
    ],
    [
      `${TABLE}column x = 2`,
      [`4:8 x | The column \`x\` is defined on line 2 already; that one counts. | ${rename}`],
    ],
    [
      `${TABLE}foot x = 1\nfoot x = 2`,
      [
        "5:6 x | The foot `x` is defined on line 4 already; that one counts. | A column has one foot; take one of them out.",
      ],
    ],
    ["set f = 1\ndefine f(x) = x", []],
    ["set x = 1\ntable t\n| i | x |\n| r | 1 |", []],
    [
      `${TABLE}foot y = 1`,
      ["4:6 y | Table t has no column `y` to put a foot under. | Its columns are i, x."],
    ],
    [
      'book "a"\nbook "b"\nbook "c"',
      [2, 3].map(
        (line) =>
          `${line}:1 book "${line === 2 ? "b" : "c"}" | The title of the book stands on line 1 already; that one counts. | Take one of them out; \`part\` gives a part of the book a title of its own.`,
      ),
    ],
    // Notes, no faults.
    ["set L = 3", ["1:5 L | `L` is also a unit; behind a number it means the unit."]],
    ["define sum(x) = x", ["1:8 sum | The vocabulary also has a function `sum`; in this book yours counts."]],
  ])("%j", (text, messages) => expect(told(text)).toEqual(messages));
  it("that are also a unit or a function are only noted", () => {
    for (const text of ["set L = 3", "define sum(x) = x"])
      expect(openBook(text).messages.map((m) => m.severity)).toEqual(["note"]);
    expect(openBook("set a = 1\nset a = 2").messages.map((m) => m.severity)).toEqual(["fault"]);
  });
});

describe("a fault is told once", () => {
  it.each([
    // In a definition, whether it is called or not; where a call brings it about, at the call.
    [
      "define f(x) = nobody",
      ["1:15 nobody | Nothing here is called `nobody`. | Give it a value of its own: `set nobody = …`."],
    ],
    [
      "define f(x) = nobody\nset a = f(1)\nset b = f(2)",
      ["1:15 nobody | Nothing here is called `nobody`. | Give it a value of its own: `set nobody = …`."],
    ],
    [
      "define f(x) = x + 1 g\nset a = f(1 L)",
      [
        "2:9 f(1 L) | 1 L (a volume) and 1 g (a mass) do not add. | `mass_of` and `volume_of` turn one into the other.",
      ],
    ],
    // What cannot be read, where it cannot, and not where it is called.
    [
      "define f(x) = (\nset a = f(1)",
      [
        "1:16  | Behind `(` a value is expected, but nothing follows. | A value is a number, a name, a text, or a formula in brackets.",
      ],
    ],
    [
      `${TABLE}foot z = (`,
      [
        "4:1 foot z = ( | Table t has no column `z` to put a foot under. | Its columns are i, x.",
        "4:11  | Behind `(` a value is expected, but nothing follows. | A value is a number, a name, a text, or a formula in brackets.",
      ],
    ],
    // A circle where it begins.
    [
      Array.from({ length: 8 }, (_, i) => `set a${i} = a${(i + 1) % 8}`).join("\n"),
      [
        "1:10 a1 | This goes round in a circle: a0 → a1 → a2 → a3 → a4 → a5 → a6 → a7 → a0. | One of them must be given by something outside the circle.",
      ],
    ],
    [
      Array.from({ length: 9 }, (_, i) => `set a${i} = a${(i + 1) % 9}`).join("\n"),
      [
        "1:10 a1 | This goes round in a circle: a0 → a1 → a2 → a3 → … → a6 → a7 → a8 → a0. | One of them must be given by something outside the circle.",
      ],
    ],
    [
      `${TABLE.replace("1", "= t.s.x").trimEnd()}\n| s | = t.r.x |\n`,
      [
        "3:7 = t.s.x | This goes round in a circle: t.r.x → t.s.x → t.r.x. | One of them must be given by something outside the circle.",
      ],
    ],
    [
      `${TABLE}foot x = sum(y)\ncolumn y = x + foot.x`,
      [
        "5:12 x + foot.x | This goes round in a circle: t.r.y → t.foot.x → t.r.y. | One of them must be given by something outside the circle.",
      ],
    ],
    ["set a = a", ["1:9 a | a needs itself. | It must come from something else."]],
    [
      "set a = b\nset b = a\nset c = a",
      [
        "1:9 b | This goes round in a circle: a → b → a. | One of them must be given by something outside the circle.",
      ],
    ],
    [
      "table t\n| i | x |\n| r | = x |",
      ["3:7 = x | t.r.x needs itself. | It must come from something else."],
    ],
    [
      `${TABLE}column y = y + x`,
      ["4:12 y + x | t.r.y needs itself. | It must come from something else. The row before is `before.y`."],
    ],
  ])("%j", (text, messages) => expect(told(text)).toEqual(messages));
});

describe("a step", () => {
  it.each([
    ['step "a" wait 3 min', []],
    [
      'step "a" wait 3 g',
      ["1:15 3 g | A step waits for a time; this is a mass. | Write for example `wait 40 min`."],
    ],
    [
      'step "a" wait "x"',
      ['1:15 "x" | A step waits for a time; this is the text “x”. | Write for example `wait 40 min`.'],
    ],
    [
      'step "a" wait nobody',
      ["1:15 nobody | Nothing here is called `nobody`. | Give it a value of its own: `set nobody = …`."],
    ],
    ['set a = blank in min\nstep "a" wait a', []],
    [
      'set a = 1 + 2\nstep "x" ask a',
      [
        "2:14 a | `a` is worked out by a formula, so a reading cannot take its place. | Ask for a `set` that is blank: `set reading = blank in mL`.",
      ],
    ],
    [
      'set a = 3 g\nstep "x" ask a in mL',
      [
        "2:19 mL | The reading is asked for in mL, a volume, and is written where a mass stands. | Ask for it in g, or in another unit of that kind.",
      ],
    ],
    [
      'set a = 3 g\nstep "x" ask b',
      [
        "2:14 b | There is no value or table called `b` for the reading. | Add `set b = blank in mL`, in the unit that is read.",
      ],
    ],
    [
      'set total = 3 g\nstep "x" ask totl',
      ["2:14 totl | There is no value or table called `totl` for the reading. | `total` is near."],
    ],
    [
      'set a = blank in g\nstep "x" ask a expect 3 mL',
      [
        "2:23 3 mL | The plan is a volume, and the reading a mass. | Say what is expected in g, or in another unit of that kind.",
      ],
    ],
    ['set a = blank in g\nstep "x" ask a expect 3 kg ± 1 g', []],
    // A unit that is none is told where it stands, and holds up nothing else.
    ['set a = blank in gg\nstep "x" ask a', ["1:18 gg | gg is no unit. | To multiply by gg, write `* gg`."]],
    [
      'set a = blank in gg\nstep "x" ask a in mL expect 3 g',
      [
        "1:18 gg | gg is no unit. | To multiply by gg, write `* gg`.",
        "2:29 3 g | The plan is a mass, and the reading a volume. | Say what is expected in mL, or in another unit of that kind.",
      ],
    ],
    [`${TABLE}step "x" ask t.x`, []],
    [
      `${TABLE}column y = x\nstep "x" ask t.y`,
      ["5:16 y | The column `y` of table t is computed, so a reading cannot be written in it."],
    ],
    [`${TABLE}step "x" ask t.z`, ["4:16 z | Table t has no column `z` for the reading."]],
    [
      `${TABLE.replace("x (g)", "mass (g)")}step "x" ask t.mas`,
      ["4:16 mas | Table t has no column `mas` for the reading. | `mass` is near."],
    ],
    [
      `${TABLE}step "x" ask t.r.x`,
      [
        "4:14 t.r.x | A reading is asked for a `set` or for a column of a table, and this is a part of one. | Ask for the whole column, `ask runs.got`: each run becomes a row of its own.",
      ],
    ],
    [
      'step "{marry([1 L], [40 %vol])}"',
      [
        "1:8 marry([1 L], [40 %vol]) | A result with parts has no value of its own. Its parts are volume, strength, mass, pure_volume, contraction. | Say which one, for example with `.volume` behind it.",
      ],
    ],
  ])("%j", (text, messages) => expect(told(text)).toEqual(messages));
});

describe("a slider", () => {
  const write =
    'A quantity moves between two of its kind, `try 1 L to 3 L`; a text is chosen from a list, `try ["one", "two"]`.';
  it.each([
    ["set k = 3 g try 1 g to 5 kg step 1 mg", []],
    ["set k = 20 °C try 10 °C to 50 °C step 1 K", []],
    ["set k = 20 °C try 10 °C to 50 °C step 1 °F", []],
    ['set k = "a" try ["a", "b"]', []],
    ["set k = 18 % try 0.1 to 30 %", []],
    ["set k = 3 g try blank to 5 g", []],
    ["set k = 3 g try 1 g to 5 L", [`1:24 5 L | \`k\` is a mass, and \`try\` goes to a volume. | ${write}`]],
    ["set k = 3 g try 1 L to 5 g", [`1:17 1 L | \`k\` is a mass, and \`try\` goes to a volume. | ${write}`]],
    [
      'set k = 3 g try "a" to 5 g',
      [`1:17 "a" | \`k\` is a mass, and \`try\` goes to the text “a”. | ${write}`],
    ],
    [
      'set k = 3 g try 1 g to 5 g step "x"',
      [`1:33 "x" | \`k\` is a mass, and \`try\` goes in steps of the text “x”. | ${write}`],
    ],
    [
      "set k = 3 g try 1 g to 5 g step 1 L",
      [`1:33 1 L | \`k\` is a mass, and \`try\` goes in steps of a volume. | ${write}`],
    ],
    [
      "set k = 20 °C try 10 °C to 50 °C step 1 g",
      [`1:39 1 g | \`k\` is a temperature, and \`try\` goes in steps of a mass. | ${write}`],
    ],
    [
      "set k = 3 g try [1 g, 2 g]",
      [`1:17 [1 g, 2 g] | \`k\` is a mass, and \`try\` offers a list of 2. | ${write}`],
    ],
    [
      'set k = "a" try ["a", 2]',
      ['1:17 ["a", 2] | A list holds one kind of thing; here are the text “a” and a plain number.'],
    ],
    ['set k = "a" try [1, 2]', [`1:17 [1, 2] | \`k\` is a text, and \`try\` offers a list of 2. | ${write}`]],
    ['set k = "a" try 1 to 2', [`1:17 1 | \`k\` is a text, and \`try\` offers a plain number. | ${write}`]],
    [
      "set k = 3 g try nobody to 5 g",
      ["1:17 nobody | Nothing here is called `nobody`. | Give it a value of its own: `set nobody = …`."],
    ],
  ])("%j", (text, messages) => expect(told(text)).toEqual(messages));
});

describe("a check that is no condition", () => {
  const write = "Write a comparison, such as `x > 2 L` or `x is 3`.";
  it.each([
    ["check 3", [`1:7 3 | A check wants true or false; this comes to a plain number. | ${write}`]],
    ['check "x"', [`1:7 "x" | A check wants true or false; this comes to the text “x”. | ${write}`]],
    ["check [1, 2]", [`1:7 [1, 2] | A check wants true or false; this comes to a list of 2. | ${write}`]],
    ["check [true, blank]", []],
    ["check blank", []],
  ])("%j", (text, messages) => expect(told(text)).toEqual(messages));
});

describe("the place of a message", () => {
  it("counts lines and columns from 1, also behind a carriage return and in the last line", () => {
    const places = (text: string) => openBook(text).messages.map((m) => `${m.line}:${m.column}`);
    expect(places("set a = nobody")).toEqual(["1:9"]);
    expect(places("\n\nset a = nobody")).toEqual(["3:9"]);
    expect(places("set a = 1\r\nset b = nobody\r\n")).toEqual(["2:9"]);
    expect(places("set a = x1\nset b = x2\nset c = x3\nset q = x4\n")).toEqual(["1:9", "2:9", "3:9", "4:9"]);
    expect(places("set a = 1 +\n  nobody")).toEqual(["2:3"]);
  });
  it("orders them by where they stand", () => {
    const text = `${TABLE}column y = nobody\nset a = x1 + x2\ncheck x3\n`;
    expect(openBook(text).messages.map((m) => text.slice(m.from, m.to))).toEqual([
      "nobody",
      "x1",
      "x2",
      "x3",
    ]);
  });
});

describe("the fix of a message", () => {
  const cell = (heading: string, ...cells: string[]) =>
    `table t\n| i | ${heading} |\n${cells.map((c, i) => `| r${i} | ${c} |`).join("\n")}\n`;
  it.each([
    // What is likely but may not be meant is a guess.
    ["set total = 1\nset q = totl", "totl", "total", false],
    ["set q = meann([1])", "meann", "mean", false],
    [`${cell("mass (g)", "1")}set q = t.r0.mas`, "mas", "mass", false],
    ["table t\n| i | mass (g) |\n| good | 1 |\nset q = t.goood.mass", "goood", "good", false],
    ["set q = marry([1 L], [40 %vol]).volum", "volum", "volume", false],
    ["set q = boils_at(1 mbar, strenght: 1 %vol)", "strenght", "strength", false],
    [cell("s (%vol)", "40 %"), "40 %", "40 %vol", false],
    ["set q = 3 grm", "grm", "g", false],
    // What can be meant in one way only is certain.
    ["set q = 3 Kg", "Kg", "kg", true],
    ["set q = 3 litre", "litre", "L", true],
    [cell("x", "5", "3 g"), "5", "5 g", true],
    [cell("x (g)", "3 g ± 1"), "3 g ± 1", "3 ± 1 g", true],
    ["set net_mass = 1\nset `a b` = 2\nset q = `a bb`", "`a bb`", "`a b`", false],
  ])("%j: %s is written %s", (text, at, put, certain) => {
    const [message] = openBook(text).messages;
    const { from, to, fixes } = message!;
    expect(text.slice(from, to)).toBe(at);
    expect(fixes).toEqual([{ says: `Write ${put}`, certain, edits: [{ span: { from, to }, text: put }] }]);
  });
  it("is missing where nothing is near", () => {
    expect(openBook("set q = zzzzzz").messages[0]).not.toHaveProperty("fixes");
  });
});
