import { describe, expect, it } from "vitest";
import { applyPatches } from "../../../grammar";
import { openBook } from "../../../src/engine";
import {
  definitionAt,
  diagnostics,
  hover,
  nameAt,
  outline,
  renameAt,
  signatureAt,
} from "../../../src/engine/editing";
import { cordial, field, marked, proposal } from "./writing";

describe("a proposal, with all that it tells", () => {
  it.each([
    [
      "set x",
      "pu¦",
      "pull",
      { thing: "name", insert: "pull", is: "a pressure", stops: [4], caret: 4, fits: true, shown: "60 mbar" },
    ],
    [
      "set x",
      "stock¦",
      "stock",
      { thing: "table", insert: "stock", is: "a table", stops: [5], caret: 5, fits: true },
    ],
    [
      "set x",
      "glyc¦",
      "glycol",
      { thing: "name", insert: "glycol", is: "a text", stops: [6], caret: 6, fits: true, shown: "propylene" },
    ],
    [
      "set x",
      "flash_point(str¦",
      "blend.strength",
      {
        thing: "part",
        insert: "blend.strength",
        is: "a strength by volume",
        stops: [14],
        caret: 14,
        fits: true,
        shown: "43.644 %vol",
      },
    ],
    [
      "column stock.cost 1",
      "vol¦",
      "volume",
      {
        thing: "column",
        insert: "volume",
        is: "a volume",
        stops: [6],
        caret: 6,
        fits: true,
        shown: "350 mL",
      },
    ],
    [
      "column stock.cost 1",
      "before.vol¦",
      "volume",
      {
        thing: "column",
        insert: "volume",
        is: "a volume",
        stops: [6],
        caret: 6,
        fits: true,
        shown: "1200 mL",
      },
    ],
    [
      "set x",
      "stock.¦",
      "bay leaf",
      { thing: "row", insert: "`bay leaf`", is: "a row", stops: [10], caret: 10, fits: true },
    ],
    [
      "set x",
      "stock.¦",
      "foot",
      { thing: "foot", insert: "foot", is: "values under a table", stops: [4], caret: 4, fits: true },
    ],
    [
      "set x",
      "stock.foot.¦",
      "cost",
      {
        thing: "foot",
        insert: "cost",
        is: "an amount in GBP",
        stops: [4],
        caret: 4,
        fits: true,
        shown: "19.133 GBP",
      },
    ],
    [
      "set x",
      "stock.price.¦",
      "bay leaf",
      {
        thing: "cell",
        insert: "`bay leaf`",
        is: "a price per volume",
        stops: [10],
        caret: 10,
        fits: true,
        shown: "21.5 GBP/L",
      },
    ],
    [
      "set x",
      "blend.¦",
      "volume",
      {
        thing: "part",
        insert: "volume",
        is: "a volume",
        stops: [6],
        caret: 6,
        fits: true,
        shown: "1547.8 mL",
      },
    ],
    [
      "define kept",
      "sh¦",
      "share",
      { thing: "parameter", insert: "share", is: "", stops: [5], caret: 5, fits: true },
    ],
    [
      "set x",
      "kep¦",
      "kept",
      {
        thing: "function",
        insert: "kept()",
        stops: [5],
        is: "",
        says: "A function of this book.",
        signature: "kept(x, share)",
        caret: 5,
        fits: true,
      },
    ],
    [
      "set x",
      "kep¦(",
      "kept",
      {
        thing: "function",
        insert: "kept",
        is: "",
        says: "A function of this book.",
        signature: "kept(x, share)",
        stops: [4],
        caret: 4,
        fits: true,
      },
    ],
    [
      "set x",
      "let_d¦",
      "let_down",
      {
        thing: "function",
        insert: "let_down(, to: )",
        stops: [9, 15],
        is: "a result with parts",
        says: "The water that brings a spirit down to a strength, and what there is then.",
        signature: "let_down(volume, strength; to)",
        caret: 9,
        fits: true,
      },
    ],
    [
      "set x",
      "boils_at(s¦",
      "strength:",
      {
        thing: "label",
        insert: "strength: ",
        is: "a strength by mass, a strength by volume or a strength in US proof",
        says: "Strength of the liquid in the pot (the whole of it, when it also holds solids). When left out: 0 %vol.",
        stops: [10],
        caret: 10,
        fits: true,
      },
    ],
    [
      "set x",
      "boils_at(pre¦",
      "pressure:",
      {
        thing: "label",
        insert: "pressure: ",
        is: "a pressure",
        says: "Absolute pressure in the still: a perfect vacuum is 0. A dial that reads below the room goes through absolute_pressure.",
        stops: [10],
        caret: 10,
        fits: true,
      },
    ],
    [
      "set x",
      "let_down(¦",
      "to:",
      {
        thing: "label",
        insert: "to: ",
        is: "a strength by mass, a strength by volume or a strength in US proof",
        says: "Strength wanted.",
        stops: [4],
        caret: 4,
        fits: true,
      },
    ],
    [
      "set x",
      "stays_liquid_to(¦",
      '"ethylene"',
      { thing: "text", insert: '"ethylene"', is: "a text", stops: [10], caret: 10, fits: true },
    ],
    [
      "cell stock.sort 0",
      "¦",
      "fruit",
      { thing: "text", insert: "fruit", is: "a text", stops: [5], caret: 5, fits: true },
    ],
    [
      "set x",
      "3¦",
      "mL",
      {
        thing: "unit",
        insert: " mL",
        is: "a volume",
        says: "millilitre, a volume",
        stops: [3],
        caret: 3,
        fits: true,
      },
    ],
    [
      "set x",
      "3 ¦",
      "mL",
      {
        thing: "unit",
        insert: "mL",
        is: "a volume",
        says: "millilitre, a volume",
        stops: [2],
        caret: 2,
        fits: true,
      },
    ],
    [
      "set x",
      "3 ¦",
      "%vol",
      {
        thing: "unit",
        insert: "%vol",
        is: "a strength by volume",
        says: "strength by volume at 20 °C, a strength by volume",
        stops: [4],
        caret: 4,
        fits: true,
      },
    ],
    [
      "set x",
      "3 ¦",
      "GBP",
      {
        thing: "unit",
        insert: "GBP",
        is: "an amount in GBP",
        says: "an amount in GBP",
        stops: [3],
        caret: 3,
        fits: true,
      },
    ],
    [
      "set x",
      "3 ¦",
      "GBP/L",
      {
        thing: "unit",
        insert: "GBP/L",
        is: "a price per volume",
        says: "a price per volume",
        stops: [5],
        caret: 5,
        fits: true,
      },
    ],
    [
      "set x",
      "3 ¦",
      "K",
      {
        thing: "unit",
        insert: "K",
        is: "a temperature difference",
        says: "kelvin, a temperature difference",
        stops: [1],
        caret: 1,
        fits: true,
      },
    ],
    [
      "heading stock",
      "x (¦",
      "number",
      {
        thing: "word",
        insert: "number",
        is: "",
        says: "plain numbers, without a unit",
        stops: [6],
        caret: 6,
        fits: true,
      },
    ],
    [
      "heading stock",
      "x (¦",
      "text",
      {
        thing: "word",
        insert: "text",
        is: "",
        says: "texts, whatever they look like",
        stops: [4],
        caret: 4,
        fits: true,
      },
    ],
    [
      "heading stock",
      "x (¦",
      "date",
      {
        thing: "word",
        insert: "date",
        is: "",
        says: "days, written year-month-day",
        stops: [4],
        caret: 4,
        fits: true,
      },
    ],
    [
      "foot stock.price",
      "¦",
      "sum(price)",
      {
        thing: "function",
        insert: "sum(price)",
        is: "a price per volume",
        says: "The total.",
        stops: [10],
        caret: 10,
        fits: true,
      },
    ],
    [
      "foot stock.price",
      "¦",
      "count(price)",
      {
        thing: "function",
        insert: "count(price)",
        is: "a plain number",
        says: "How many are filled in.",
        stops: [12],
        caret: 12,
        fits: true,
      },
    ],
    [
      "foot runs.at",
      "¦",
      "mean(at)",
      {
        thing: "function",
        insert: "mean(at)",
        is: "a temperature",
        says: "The average.",
        stops: [8],
        caret: 8,
        fits: true,
      },
    ],
    [
      "set goal",
      "¦",
      "thinned",
      {
        thing: "name",
        insert: "thinned",
        is: "a result with parts",
        stops: [7],
        caret: 7,
        fits: false,
        misfit: "builds on goal itself",
        shown: "a result with parts",
      },
    ],
    [
      "check",
      "stock.vol¦",
      "volume",
      {
        thing: "column",
        insert: "volume",
        is: "a list, each a volume",
        stops: [6],
        caret: 6,
        fits: false,
        misfit: "a list, where one value stands",
        shown: "3 entries",
      },
    ],
    [
      "set x",
      "pull + ro¦",
      "room",
      {
        thing: "name",
        insert: "room",
        is: "a temperature",
        stops: [4],
        caret: 4,
        fits: false,
        misfit: "not a pressure",
        shown: "20 °C",
      },
    ],
    [
      "set x",
      "pull + ble¦",
      "blend",
      {
        thing: "name",
        insert: "blend",
        is: "a result with parts",
        stops: [5],
        caret: 5,
        fits: false,
        misfit: "choose one of its parts",
        shown: "a result with parts",
      },
    ],
    [
      "set x",
      "pull + sto¦",
      "stock",
      {
        thing: "table",
        insert: "stock",
        is: "a table",
        stops: [5],
        caret: 5,
        fits: false,
        misfit: "a table: go on with a dot",
      },
    ],
    [
      "set x",
      "marry(got¦",
      "got",
      {
        thing: "name",
        insert: "got",
        is: "a volume",
        stops: [3],
        caret: 3,
        fits: false,
        misfit: "one value, not a list",
        shown: "",
      },
    ],
    [
      "set x",
      "pull + stock.¦",
      "bay leaf",
      {
        thing: "row",
        insert: "`bay leaf`",
        is: "a row",
        stops: [10],
        caret: 10,
        fits: false,
        misfit: "a row: go on with a dot",
      },
    ],
    [
      "set x",
      "pull + stock.¦",
      "foot",
      {
        thing: "foot",
        insert: "foot",
        is: "values under a table",
        stops: [4],
        caret: 4,
        fits: false,
        misfit: "values under a table: go on with a dot",
      },
    ],
    [
      "set x",
      "pull + marr¦",
      "marry",
      {
        thing: "function",
        insert: "marry()",
        stops: [6],
        is: "a result with parts",
        says: "Several spirits in one vessel: how much, how strong, and how much less than their volumes add up to.",
        signature: "marry(volumes, strengths)",
        caret: 6,
        fits: false,
        misfit: "choose one of its parts",
      },
    ],
    [
      "set x",
      "pull + 3 k¦",
      "kg",
      {
        thing: "unit",
        insert: "kg",
        is: "a mass",
        says: "kilogram, a mass",
        stops: [2],
        caret: 2,
        fits: false,
        misfit: "not a pressure",
      },
    ],
  ])("%s: %s: %s", (where, written, label, wanted) => {
    const { shown, ...found } = proposal(where, written, label);
    expect({ ...found, ...(shown && { shown: shown.text }) }).toEqual({ label, ...wanted });
  });
});

describe("the call around the caret", () => {
  it.each([
    ["let_down(¦, 96 %vol, to: 40 %vol)", "let_down(volume, strength; to); given: strength to; next: volume"],
    ["let_down(¦, 96 %vol, 3, 4)", "let_down(volume, strength; to); given: strength; next: volume"],
    ["let_down(1 L, ¦)", "let_down(volume, strength; to); given: volume; next: strength"],
    ["let_down(to: ¦, 3 %vol)", "let_down(volume, strength; to); given: none; next: to"],
    ["let_down(to: 3 %vol, ¦)", "let_down(volume, strength; to); given: to; next: none"],
    [
      "boils_at(¦, strength: 3 %vol, 4)",
      "boils_at(pressure; strength = 0 %vol, solids = 0 °Bx, activity = 1); given: strength; next: pressure",
    ],
    [
      "boils_at(1, 2, ¦",
      "boils_at(pressure; strength = 0 %vol, solids = 0 °Bx, activity = 1); given: pressure; next: none",
    ],
    ["kept(¦, 2)", "kept(x, share); given: none; next: x"],
    ["kept(x: 1, ¦", "kept(x, share); given: x; next: share"],
    ["kept(1, x: ¦", "kept(x, share); given: x; next: x"],
    ["kept(share: 1, ¦", "kept(x, share); given: share; next: share"],
    ["kept(1, ¦", "kept(x, share); given: x; next: share"],
    ["kept(nobody: ¦", "kept(x, share); given: none; next: none"],
    [
      "boils_at((¦",
      "boils_at(pressure; strength = 0 %vol, solids = 0 °Bx, activity = 1); given: none; next: pressure",
    ],
    [
      "boils_at([¦",
      "boils_at(pressure; strength = 0 %vol, solids = 0 °Bx, activity = 1); given: none; next: pressure",
    ],
    [
      "marry([1 L], boils_at(¦",
      "boils_at(pressure; strength = 0 %vol, solids = 0 °Bx, activity = 1); given: none; next: pressure",
    ],
    ["marry([1 L], boils_at(pull), ¦", "marry(volumes, strengths); given: volumes strengths; next: none"],
  ])("%s: %s", (written, wanted) => {
    const { text, caret } = marked(written);
    const { call, parameters, active } = signatureAt(cordial, field("set x", text), caret)!;
    const given = parameters.filter((p) => p.given).map((p) => p.name);
    const next = active === undefined ? "none" : parameters[active]!.name;
    expect(`${call}; given: ${given.join(" ") || "none"}; next: ${next}`).toBe(wanted);
  });
});

describe("all that is told over a word", () => {
  const book = openBook(`set a = 3 g
set \`b c\` = a * 2
table t "Title"
| k | x (g) | y |
| r | 1 | z |
| s | 2 | z |
column d = x * 2
foot x = sum(x)
table one
| k |
| r |
set m = marry([1 L], [40 %vol])
set w = (marry([1 L], [40 %vol]))
define f(x) = x
set bad = nobody + 1
set e = "it" # over!
set l = [1 g, 2 g] # two things`);
  it.each([
    ["t¦", "t | t | A table. | Title. 2 rows; columns: k, x (g), y, d (g)."],
    ["t.y¦", "t.y | t.y | A list, each a text. | Typed in column y of table t. | = 2 entries"],
    [
      "t.d¦",
      "t.d | t.d | A list, each a mass. | Computed in each row, column d of table t: x * 2 (line 7). | = 2 entries",
    ],
    ["t.r¦", "t.r | t.r | A row. | A row of table t."],
    [
      "t.r.d¦",
      "t.r.d | t.r.d | A mass. | Computed in each row, column d of table t: x * 2 (line 7). | = 2 g",
    ],
    ["t.foot¦", "t.foot | t.foot | Values under a table."],
    ["t.foot.x¦", "t.foot.x | t.foot.x | A mass. | Under column x of table t: sum(x) (line 8). | = 3 g"],
    ["one¦", "one | one | A table. | 1 row; columns: k."],
    [
      "m¦",
      "m | m | A result with parts. | Computed in line 12: marry([1 L], [40 %vol]) | = a result with parts",
    ],
    [
      "m.volume¦",
      "m.volume | m.volume | A volume. | Volume of the blend at 20 °C. | A part of m: marry([1 L], [40 %vol]) (line 12). | = 1 L",
    ],
    [
      "w.volume¦",
      "w.volume | w.volume | A volume. | A part of w: (marry([1 L], [40 %vol])) (line 13). | = 1 L",
    ],
    ["f¦(2)", "f | f(x) | A function of this book, line 14. | = x"],
    ["f(x¦: 2)", "x | x: | A parameter of f."],
    [
      "bad¦",
      "bad | bad | Computed in line 15: nobody + 1 | Nothing here is called `nobody`. | Give it a value of its own: `set nobody = …`. | = ",
    ],
    ["e¦", "e | e | A text. | Typed in line 16. | Over! | = it"],
    ["l¦", "l | l | A list, each a mass. | Computed in line 17: [1 g, 2 g] | Two things. | = 2 entries"],
    ["l.1¦", "l.1 | l.1 | A mass. | A part of l: [1 g, 2 g] (line 17). | = 1 g"],
    [
      "boils_at(1 mbar, str¦ength: 2 %vol)",
      "strength | strength: | A strength by mass, a strength by volume or a strength in US proof. | Strength of the liquid in the pot (the whole of it, when it also holds solids). | When left out: 0 %vol.",
    ],
    [
      "boils_at(pre¦ssure: 2 mbar)",
      "pressure | pressure: | A pressure. | Absolute pressure in the still: a perfect vacuum is 0. A dial that reads below the room goes through absolute_pressure.",
    ],
    ["12.5 K¦", "K | K | Kelvin, a temperature difference."],
    ["3 GBP¦", "GBP | GBP | An amount in GBP."],
    ["3 GBP¦/L", "GBP/L | GBP/L | A price per volume. | 3 GBP/L is 3000 GBP/m3."],
    ["1.¦5 kg", "1.5 kg | 1.5 kg | A mass."],
    ["1.5.2¦ kg", "nothing"],
    ["0.5¦  kg", "0.5  kg | 0.5 kg | A mass."],
    ["3¦\u00A0kg", "3\u00A0kg | 3 kg | A mass."],
    ["x3¦ kg", "nothing"],
    ["3kg¦", "kg | kg | Kilogram, a mass."],
    ["12 kg/L¦", "kg/L | kg/L | A density. | 12 kg/L is 12000 kg/m3."],
    ["90¦ °F", "90 °F | 90 °F | A temperature. | 90 °F is 305.37 K."],
    ["1234567890123456789012345678901234567890¦ g", "nothing"],
  ])("%s: %s", (written, wanted) => {
    const { text, caret } = marked(written);
    const found = hover(book, field("set q", text), caret);
    const told = found && [text.slice(found.from, found.to), found.title, ...found.lines];
    const shown = found?.shown ? [`= ${found.shown.text}`] : [];
    expect(told ? [...told, ...shown].join(" | ") : "nothing").toBe(wanted);
  });
});

describe("where a name is defined, and what it names", () => {
  it.each([
    [
      "set q = (find x from 1 to 2 so that x¦ is 1) + (find x from 3 to 4 so that x is 3)",
      "1: 14 x",
      "variable, x, no path, 36 x",
    ],
    ["set q = find   x from 1 to 2 so that x¦ is 1", "1: 15 x", "variable, x, no path, 37 x"],
    ["define f(x) = find y from 1 to 2 so that y¦ is x", "1: 19 y", "variable, y, no path, 41 y"],
    ["define f(x) = find y from 1 to 2 so that y is x¦", "1: 9 x", "parameter, x, no path, 46 x"],
    ["define f(x¦) = x", "1: 9 x", "parameter, x, no path, 9 x"],
    ["table t\n| k | x |\n| r | 1 |\nset q = t.foot¦", "1: 6 t", "no name"],
    [
      "table t\n| k | x |\n| r | 1 |\ncolumn y = find z from 1 to 2 so that z¦ is x",
      "4: 44 z",
      "variable, z, no path, 66 z",
    ],
    ["set a = [1, 2]\nset b = a.2¦", "1: 4 a", "no name"],
    ["set m = distil(1 L, 12 %vol, 60 mbar, take: 200 mL)\nset n = m.taken.vol¦ume", "1: 4 m", "no name"],
    ['chart "c" : curve x¦ for x from 1 to 2', "1: 24 x", "variable, x, no path, 18 x"],
    ['chart "c" : curve x for x¦ from 1 to 2', "1: 24 x", "variable, x, no path, 24 x"],
    ['chart "c" : curve x + y for x from 1 to 2 mark x¦', "nowhere", "no name"],
    ["define f(x) = x\nset q = f(x¦: 2)", "1: 9 x", "no name"],
    ["set q = 3 m¦L", "nowhere", "no name"],
    ["set `a b` = 1\nset q = `a b`¦", "1: 4 `a b`", "value, a b, `a b`, 22 `a b`"],
    ["table t\n| k | x |\n| r | |\nset q = t.r.x¦", "3: 24", "column, x, t.x, 38 x"],
    ["table t\n| k | x (g) |\n| r | 1 |\nset q = t.r¦.x", "3: 24 r", "row, r, t.r, 42 r"],
    ["table t\n| k | x (g) |\n| r | 1 |\nset q = t.foot.x¦", "nowhere", "column, x, t.x, 47 x"],
    ["table t\n| k | x (g) |\n| r | 1 |\nfoot x = 1 g\nset q = t.foot.x¦", "4: 37 x", "column, x, t.x, 60 x"],
    ["table t\n| k | x (g) |\n| r | 1¦ |", "3: 28 1", "no name"],
    ["table t\n| k | x (g) |\n|¦ | 1 |\n", "nowhere", "no name"],
    ["define `a b`(x) = x\nset q = `a b¦`(2)", "1: 7 `a b`", "function, a b, `a b`, 28 `a b`"],
    ["set b = 1\nset b = 2\nset q = b¦", "1: 4 b", "value, b, b, 28 b"],
    ["set q = boils_at¦(1 mbar)", "nowhere", "no name"],
    ["# set a¦", "nowhere", "no name"],
  ])("%j: %s; %s", (written, place, called) => {
    const { text, caret } = marked(written);
    const book = openBook(text);
    const made = definitionAt(book, caret);
    const stretch = made && `${made.line}: ${made.from} ${text.slice(made.from, made.to)}`.trim();
    expect(stretch ?? "nowhere").toBe(place);
    const name = nameAt(book, caret);
    const told = name && [
      name.what,
      name.name,
      name.path ?? "no path",
      `${name.from} ${text.slice(name.from, name.to)}`,
    ];
    expect(told?.join(", ") ?? "no name").toBe(called);
  });
});

describe("another name", () => {
  const edited = (written: string, name: string) => {
    const { text, caret } = marked(written);
    return { text, ...renameAt(openBook(text), caret, name) };
  };
  it.each([
    [
      "set a¦ = 1\nset b = 2\n",
      "b",
      { code: "name-taken", says: "`b` is taken: line 2 has that name.", help: "Choose another name." },
    ],
    [
      "set a¦ = 1\n",
      "",
      { code: "name-empty", says: "A value needs a name, without a backtick and on one line." },
    ],
    [
      "set a¦ = 1\n",
      "book",
      {
        code: "name-fixed",
        says: "`book` cannot name a value.",
        help: "In a formula `before`, `foot` and `book` always mean the same.",
      },
    ],
    [
      "define f(x¦, n) = x * n\n",
      "n",
      { code: "name-taken", says: "`n` is used in this line already.", help: "Choose another name." },
    ],
    [
      "define f(x¦) = x\n",
      " ",
      { code: "name-empty", says: "A parameter needs a name, without a backtick and on one line." },
    ],
    [
      "define f(x¦) = x\n",
      "a`b",
      { code: "name-empty", says: "A parameter needs a name, without a backtick and on one line." },
    ],
    [
      "set a = boils_at¦(3 mbar)\n",
      "warm",
      {
        code: "rename-nothing",
        says: "There is no name of this book here.",
        help: "Names of values, tables, columns, rows and functions of the book can be changed; those of the vocabulary cannot.",
      },
    ],
    [
      "define f(x, x¦) = x\n",
      "y",
      {
        code: "name-unclear",
        says: "`x` stands for more than one thing in this line.",
        help: "Change it by hand.",
      },
    ],
    [
      "define f(x¦) = [twice, x]\n",
      "twice",
      { code: "name-taken", says: "`twice` is used in this line already.", help: "Choose another name." },
    ],
    [
      "table t\n| k | x¦ |\n| r | 1 |\ncolumn y = x\n",
      "y",
      { code: "name-taken", says: "The table has a column `y` already.", help: "Choose another name." },
    ],
    [
      "table t\n| k | x |\n| r¦ | 1 |\nset s = t.r.x\n",
      "k",
      { code: "name-taken", says: "A column of the table is named `k`.", help: "Choose another name." },
    ],
    [
      'chart "c" : curve p¦ * a for p from 1 to 2\nset a = 1\n',
      "a",
      { code: "name-taken", says: "`a` is used in this line already.", help: "Choose another name." },
    ],
  ])("%j to %j is refused, with what to do", (written, name, refused) =>
    expect(edited(written, name).refused).toEqual(refused),
  );
  it.each([
    ["define f(x¦) = x\n", " y ", "define f(y) = y\n"],
    ["define f(x¦) = x\n", "if", "define f(`if`) = `if`\n"],
    ["define f(x¦) = x + f(x: 2)\n", "y", "define f(y) = y + f(y: 2)\n"],
    [
      "define f(x¦) = find y from 1 to 2 so that y is x\n",
      "z",
      "define f(z) = find y from 1 to 2 so that y is z\n",
    ],
    [
      "define f(x) = find y¦ from 1 to 2 so that y is x\n",
      "z",
      "define f(x) = find z from 1 to 2 so that z is x\n",
    ],
    [
      "set q = [f(n: (2), x: 1), 3]\ndefine f(x¦, n) = x * n\n",
      "z",
      "set q = [f(n: (2), z: 1), 3]\ndefine f(z, n) = z * n\n",
    ],
  ])("%j to %j", (written, name, wanted) => {
    const { text, patches } = edited(written, name);
    expect(applyPatches(text, patches!)).toBe(wanted);
  });
});

describe("an entry of the contents, with its stretch and its counts", () => {
  // Behind the stretch: faults, gaps, checks that are not met, checks that are not known yet, size.
  it.each([
    ["set a = blank", ["0 value a (a): gap, line 1, 0 to 13; 0 1 0 0 0"]],
    ["set a = 1 g + 1 L", ["0 value a (a): fault, line 1, 0 to 17; 1 0 0 0 0"]],
    ["set a = marry([1 L, blank], [40 %vol, 2 %vol])", ["0 value a (a): gap, line 1, 0 to 46; 0 1 0 0 0"]],
    ["table t\n| k | x (g) |\n| r | 1 |\n", ["0 table t (t): ok, line 1, 0 to 31; 0 0 0 0 1"]],
    [
      "table t\n| k | x (g) |\n| r | |\n\ncolumn y = x\nfoot x = sum(x)\n# end\n",
      ["0 table t (t): gap, line 1, 0 to 59; 0 1 0 0 1"],
    ],
    ["table t\n| k | x (g) | y |\n| r | 1 L | |\n", ["0 table t (t): fault, line 1, 0 to 39; 1 1 0 0 1"]],
    [
      "table t\n| k | x (g) |\n| r | 1 |\ncolumn y = x + 1 L\ncolumn z = x",
      ["0 table t (t): fault, line 1, 0 to 63; 1 0 0 0 1"],
    ],
    ["table t", ["0 table t (t): fault, line 1, 0 to 7; 1 0 0 0 0"]],
    ["table t\n| k |", ["0 table t (t): ok, line 1, 0 to 13; 0 0 0 0 0"]],
    ['check 1 > 2 : "no"', ["0 check no: unmet, line 1, 0 to 18; 0 0 1 0 0"]],
    ["check 1 > 2", ["0 check 1 > 2: unmet, line 1, 0 to 11; 0 0 1 0 0"]],
    ['check 1 < 2 : "yes"', ["0 check yes: ok, line 1, 0 to 19; 0 0 0 0 0"]],
    ['check blank > 2 : "who"', ["0 check who: unknown, line 1, 0 to 23; 0 0 0 1 0"]],
    ["check 1 g > 2", ["0 check 1 g > 2: fault, line 1, 0 to 13; 1 0 0 1 0"]],
    ['chart "c" : bars [1, 2] by [1]', ["0 chart c: unknown, line 1, 0 to 30; 0 0 0 0 0"]],
    ['chart "" : bars [1, 2] by [1, 2]', ["0 chart bars [1, 2] by [1, 2]: ok, line 1, 0 to 32; 0 0 0 0 0"]],
    ['step "Stir {1 g + 1 L}"', ["0 step Stir (fault): fault, line 1, 0 to 23; 1 0 0 0 0"]],
    ['step "Stir." ask u.x', ["0 step Stir.: fault, line 1, 0 to 20; 1 0 0 0 0"]],
    ["define f(x, `a b`) = x", ["0 function f(x, a b): ok, line 1, 0 to 22; 0 0 0 0 0"]],
    ["define f(x) = nobody", ["0 function f(x): fault, line 1, 0 to 20; 1 0 0 0 0"]],
    ['about "x"', []],
    ['book "B"', ["0 title B: ok, line 1, 0 to 8; 0 0 0 0 0"]],
    [
      'part "P"\nabout "x"\ncheck 1 > 2\npart "Q"\nset a = blank',
      [
        "0 part P: unmet, line 1, 0 to 31; 0 0 1 0 1",
        "1 check 1 > 2: unmet, line 3, 19 to 30; 0 0 1 0 0",
        "0 part Q: gap, line 4, 31 to 53; 0 1 0 0 1",
        "1 value a (a): gap, line 5, 40 to 53; 0 1 0 0 0",
      ],
    ],
    ["set = 3", ["0 unread set = 3: fault, line 1, 0 to 7; 1 0 0 0 0"]],
    ["what is this", ["0 unread what is this: fault, line 1, 0 to 12; 1 0 0 0 0"]],
    [
      "set a = 1\nset a = 2",
      [
        "0 value a (a): ok, line 1, 0 to 9; 0 0 0 0 0",
        "0 unread set a = 2: fault, line 2, 10 to 19; 1 0 0 0 0",
      ],
    ],
  ] as const)("%j", (text, wanted) => {
    const told = outline(openBook(text)).map(
      ({ level, type, label, path, state, line, from, to, counts }) => {
        const { faults, gaps, unmet, unknown, size } = counts;
        const named = path === undefined ? label : `${label} (${path})`;
        return `${level} ${type} ${named}: ${state}, line ${line}, ${from} to ${to}; ${faults} ${gaps} ${unmet} ${unknown} ${size}`;
      },
    );
    expect(told).toEqual(wanted);
  });
});

describe("a message about a book, with its place, its help and its fixes", () => {
  it.each([
    [
      "set a = 2,5 L",
      [
        "fault number-comma 1:9 “2,5”: `2,5`: is this `2.5`, or `2, 5`?",
        "The decimal sign is a point, and a blank stands behind a comma.",
        "perhaps: Write 2.5: set a = 2.5 L",
        "perhaps: Write 2, 5: set a = 2, 5 L",
      ],
    ],
    [
      "set a = 3 Kg",
      [
        "fault unit-case 1:11 “Kg” of a: Kg is no unit; capitals count.",
        "Write `3 kg` (kilogram).",
        "Write kg: set a = 3 kg",
      ],
    ],
    [
      "set a = .5 L",
      [
        "fault number-point 1:9 “.5”: `.5` begins with a point.",
        "A number begins with a digit.",
        "Write 0.5: set a = 0.5 L",
      ],
    ],
    [
      "set pull = 3\nset b = pul * 2",
      [
        "fault name-unknown 2:9 “pul” of b: Nothing here is called `pul`.",
        "`pull` is near.",
        "perhaps: Write pull: set pull = 3\nset b = pull * 2",
      ],
    ],
    [
      "set a = 1 == 2",
      [
        "fault operator-other 1:11 “==”: Two values are compared with `is`, not `==`.",
        "Write `is`.",
        "Write is: set a = 1 is 2",
      ],
    ],
    [
      "set a = 1 000",
      [
        "fault number-grouped 1:9 “1 000”: The digits of `1 000` are set apart.",
        "Digits are written without a gap.",
        "Write 1000: set a = 1000",
      ],
    ],
    [
      "table t\n| k | x (g) |\n| r | 1 |\nset u = t.xx",
      ["fault part-unknown 4:11 “xx” of u: Table t has no column or row `xx`."],
    ],
    [
      "Set a = 3",
      [
        "fault statement-capital 1:1 “Set”: `Set` begins with a capital.",
        "The first word of a statement is written small.",
        "Write set: set a = 3",
      ],
    ],
    [
      "set a = “x”",
      [
        "fault quote-curly 1:9 ““x””: `“x”` stands in curly quotes.",
        'A text stands between straight quotes: "like this".',
        'Write straight quotes: set a = "x"',
      ],
    ],
    [
      "table t\n| k | x |\n| r | 1",
      [
        "fault row-open 3:8 “”: The row does not end with a `|`.",
        "Every row begins and ends with a bar; a comment behind it holds no bar.",
        "Close the row with |: table t\n| k | x |\n| r | 1 |",
      ],
    ],
    [
      "set a = 1 < 2 < 3",
      [
        "fault comparison-chained 1:15 “<”: A comparison has two sides, and this is a third.",
        "Write `2 within 1 to 3`.",
        "perhaps: Write 2 within 1 to 3: set a = 2 within 1 to 3",
        "perhaps: Write 1 < 2 and 2 < 3: set a = 1 < 2 and 2 < 3",
      ],
    ],
    [
      "set a = 2 gal",
      [
        "fault unit-ambiguous 1:11 “gal” of a: gal stands for more than one unit.",
        "Say which: `us_gal` or `uk_gal`.",
      ],
    ],
    [
      "table t\n| k | x |\n| r | 3.2.2026 |",
      [
        "fault date-form 3:7 “3.2.2026”: `3.2.2026` is no way to write a date here.",
        "A date is year-month-day: is it 2026-02-03 or 2026-03-02?",
        "perhaps: Write 2026-02-03: table t\n| k | x |\n| r | 2026-02-03 |",
        "perhaps: Write 2026-03-02: table t\n| k | x |\n| r | 2026-03-02 |",
      ],
    ],
    [
      "set a = boils_at(60 mbar, strenth: 3 %vol)",
      [
        "fault label-unknown 1:27 “strenth” of a: `boils_at` has no argument called `strenth`.",
        "`strength` is near.",
        "perhaps: Write strength: set a = boils_at(60 mbar, strength: 3 %vol)",
      ],
    ],
    [
      "set a = (1",
      [
        "fault bracket-open 1:9 “(”: The `(` is not closed.",
        "Each `(` needs its `)`.",
        "perhaps: Close it with ): set a = (1)",
      ],
    ],
    [
      "set a = 2 L/jars",
      [
        "fault unit-unknown 1:11 “L/jars” of a: jars in L/jars is no unit.",
        "`2 L / jars`, with blanks, divides by jars.",
        "Write L / jars: set a = 2 L / jars",
      ],
    ],
  ] as const)("%j", (text, wanted) => {
    const told = diagnostics(openBook(text)).flatMap((d) => [
      `${d.severity} ${d.code} ${d.line}:${d.column} “${text.slice(d.from, d.to)}”${d.path === undefined ? "" : ` of ${d.path}`}: ${d.says}`,
      ...(d.help === undefined ? [] : [d.help]),
      ...d.fixes.map(
        (fix) => `${fix.certain ? "" : "perhaps: "}${fix.says}: ${applyPatches(text, fix.patches)}`,
      ),
    ]);
    expect(told).toEqual(wanted);
  });
});
