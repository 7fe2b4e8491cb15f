import { describe, expect, it } from "vitest";
import type { Fix } from "../../../grammar";
import { foretell } from "../../../src/engine/editing";
import { cordial, field } from "./writing";

/** The text of a field once a fix is taken. */
const mended = (text: string, { edits }: Fix): string =>
  [...edits]
    .sort((a, b) => b.span.from - a.span.from)
    .reduce((t, { span, text: put }) => t.slice(0, span.from) + put + t.slice(span.to), text);

/** All that is told about what a field would come to: its place, its text or what is wrong, its notes, parts, fixes. */
function told(where: string, text: string): readonly string[] {
  const found = foretell(cordial, field(where, text), text);
  if (found === undefined) return ["nothing"];
  const { shown, parts, trouble } = found;
  if (trouble) expect([trouble.says, trouble.help]).toEqual([shown.message, shown.help]);
  return [
    `${shown.path || "-"} ${shown.state} ${shown.origin}`,
    shown.text || (shown.message ?? ""),
    shown.help ?? "",
    shown.cause === undefined ? "" : `waits for ${shown.cause}`,
    ...shown.notes.map((n) => n.text),
    ...parts.map((p) => `${p.path} = ${p.text}`),
    trouble === undefined ? "" : `marks “${text.slice(trouble.from, trouble.to)}” at ${trouble.from}`,
    ...(trouble?.fixes ?? []).map(
      (fix) => `${fix.certain ? "" : "perhaps: "}${fix.says}: ${mended(text, fix)}`,
    ),
  ].filter((line) => line !== "");
}

describe("all that is told about what a field would come to", () => {
  it.each([
    [
      "set x",
      "1 L + 3 g",
      [
        "x fault computed",
        "1 L (a volume) and 3 g (a mass) do not add.",
        "`mass_of` and `volume_of` turn one into the other.",
        "marks “1 L + 3 g” at 0",
      ],
    ],
    [
      "set x",
      "3 Kg",
      [
        "x fault typed",
        "Kg is no unit; capitals count.",
        "Write `3 kg` (kilogram).",
        "marks “Kg” at 2",
        "Write kg: 3 kg",
      ],
    ],
    [
      "set x",
      "  3 Kg",
      [
        "x fault typed",
        "Kg is no unit; capitals count.",
        "Write `3 kg` (kilogram).",
        "marks “Kg” at 4",
        "Write kg:   3 kg",
      ],
    ],
    [
      "set x",
      "200 g + 10 %",
      [
        "x fault computed",
        "200 g (a mass) and 10 % (a percentage) do not add.",
        "For 10 % more write `200 g * (1 + 10 %)`.",
        "marks “200 g + 10 %” at 0",
      ],
    ],
    [
      "set x",
      "1/2 L",
      [
        "x fault computed",
        "`1/2 L`: is this `0.5 L`, or 1 divided by 2 L?",
        "Write `0.5 L`, or `1 / 2 L` with blanks around the stroke to divide.",
        "marks “1/2 L” at 0",
        "perhaps: Write 0.5 L: 0.5 L",
        "perhaps: Write 1 / 2 L: 1 / 2 L",
      ],
    ],
    [
      "set x",
      "12,5 L",
      [
        "x fault computed",
        "`12,5`: is this `12.5`, or `12, 5`?",
        "The decimal sign is a point, and a blank stands behind a comma.",
        "marks “12,5” at 0",
        "perhaps: Write 12.5: 12.5 L",
        "perhaps: Write 12, 5: 12, 5 L",
      ],
    ],
    [
      "set x",
      "2 L/jars",
      [
        "x fault typed",
        "jars in L/jars is no unit.",
        "`2 L / jars`, with blanks, divides by jars.",
        "marks “L/jars” at 2",
        "Write L / jars: 2 L / jars",
      ],
    ],
    [
      "set x",
      "pul + 1 mbar",
      [
        "x fault computed",
        "Nothing here is called `pul`.",
        "`pull` is near.",
        "marks “pul” at 0",
        "perhaps: Write pull: pull + 1 mbar",
      ],
    ],
    [
      "set x",
      "blend + 1",
      [
        "x fault computed",
        "A result with parts has no value of its own. Its parts are volume, strength, mass, pure_volume, contraction.",
        "Say which one, for example with `.volume` behind it.",
        "marks “blend + 1” at 0",
      ],
    ],
    [
      "set x",
      "blend.strenght",
      [
        "x fault computed",
        "This result has no part `strenght`.",
        "`strength` is near.",
        "marks “strenght” at 6",
        "perhaps: Write strength: blend.strength",
      ],
    ],
    [
      "set x",
      "boils_att(pull)",
      [
        "x fault computed",
        "There is no function called `boils_att`.",
        "`boils_at` is near.",
        "marks “boils_att” at 0",
        "perhaps: Write boils_at: boils_at(pull)",
      ],
    ],
    [
      "set x",
      "boils_at(pull, strenth: 3 %vol)",
      [
        "x fault computed",
        "`boils_at` has no argument called `strenth`.",
        "`strength` is near.",
        "marks “strenth” at 15",
        "perhaps: Write strength: boils_at(pull, strength: 3 %vol)",
      ],
    ],
    [
      "set x",
      "boils_at()",
      [
        "x fault computed",
        "`boils_at` is missing `pressure`.",
        "It is written `boils_at(pressure; strength: …, solids: …, activity: …)`.",
        "marks “boils_at()” at 0",
      ],
    ],
    [
      "set x",
      "40 %vol in %mas",
      [
        "x fault computed",
        "40 %vol (a strength by volume) cannot be shown in %mas, which measures a strength by mass: `in` changes the scale, not the kind.",
        "`by_mass(40 %vol)` does this with density.",
        "marks “40 %vol in %mas” at 0",
      ],
    ],
    [
      "set x",
      "1 < 2 < 3",
      [
        "x fault computed",
        "A comparison has two sides, and this is a third.",
        "Write `2 within 1 to 3`.",
        "marks “<” at 6",
        "perhaps: Write 2 within 1 to 3: 2 within 1 to 3",
        "perhaps: Write 1 < 2 and 2 < 3: 1 < 2 and 2 < 3",
      ],
    ],
    [
      "set x",
      "if true then 1",
      [
        "x fault computed",
        "Behind `1` `else` is expected, but nothing follows.",
        "A choice is `if condition then one else other`, and the `else` is required.",
        "marks “” at 14",
      ],
    ],
    [
      "set x",
      "(1 + 2",
      [
        "x fault computed",
        "The `(` is not closed.",
        "Each `(` needs its `)`.",
        "marks “(” at 0",
        "perhaps: Close it with ): (1 + 2)",
      ],
    ],
    [
      "set x",
      "pull =",
      [
        "x fault computed",
        "`=` gives a name its formula, and this is inside one.",
        "Two values are compared with `is`; an argument's label ends with `:`.",
        "marks “=” at 5",
        "perhaps: Write is: pull is",
      ],
    ],
    [
      "set x",
      "3 / 0",
      [
        "x fault computed",
        "3 is divided by 0.",
        "Nothing can be divided by 0; check that value.",
        "marks “3 / 0” at 0",
      ],
    ],
    [
      "set x",
      "[1 g, 2 mL]",
      [
        "x fault computed",
        "A list holds one kind of thing; here are a mass, 1 g, and a volume, 2 mL.",
        "marks “[1 g, 2 mL]” at 0",
      ],
    ],
    [
      "set x",
      "x + 1",
      [
        "x fault computed",
        "Nothing here is called `x`.",
        "Give it a value of its own: `set x = …`.",
        "marks “x” at 0",
      ],
    ],
    [
      "set goal",
      "thinned.total / 1 L * 1 %vol",
      [
        "goal fault computed",
        "This goes round in a circle: goal → thinned → goal.",
        "One of them must be given by something outside the circle.",
        "marks “thinned.total / 1 L * 1 %vol” at 0",
      ],
    ],
    [
      "set goal",
      "  thinned.total / 1 L * 1 %vol",
      [
        "goal fault computed",
        "This goes round in a circle: goal → thinned → goal.",
        "One of them must be given by something outside the circle.",
        "marks “thinned.total / 1 L * 1 %vol” at 2",
      ],
    ],
    [
      "set pull",
      "pull",
      ["pull fault computed", "pull needs itself.", "It must come from something else.", "marks “pull” at 0"],
    ],
    [
      "set pull",
      "1 mbar + pull * 2",
      [
        "pull fault computed",
        "pull needs itself.",
        "It must come from something else.",
        "marks “1 mbar + pull * 2” at 0",
      ],
    ],
    ["set pull", "80 mbar", ["pull ok typed", "80 mbar"]],
    [
      "set blend",
      "thinned",
      [
        "blend fault computed",
        "This goes round in a circle: blend → thinned → blend.",
        "One of them must be given by something outside the circle.",
        "marks “thinned” at 0",
      ],
    ],
    ["set x", "got", ["x gap computed", "needs got", "waits for got"]],
    ["set x", "got * 2", ["x gap computed", "needs got", "waits for got"]],
    ["set x", "blank", ["x gap typed", "x is not filled in yet"]],
    ["set x", "61.2 ± 0.3 %vol", ["x ok typed", "61.20 ± 0.30 %vol"]],
    ["set x", "[1 g, 2 g]", ["x ok computed", "2 entries", "x.1 = 1 g", "x.2 = 2 g"]],
    ["set x", "1 to 3", ["x ok computed", "3 entries", "x.1 = 1", "x.2 = 2", "x.3 = 3"]],
    ["set x", "find y from 1 to 2 so that y^2 is 2", ["x ok found", "1.4142"]],
    [
      "set x",
      "find y from 2 to 3 so that y^2 is 2",
      [
        "x fault found",
        "No `y` between these ends meets the goal: at 2 it is 2 above, at 3 it is 7 above.",
        "Widen the bracket, or change the goal.",
        "marks “find y from 2 to 3 so that y^2 is 2” at 0",
      ],
    ],
    [
      "set x",
      "marry(stock.volume, stock.strength)",
      ["x gap computed", "quince has a volume but no strength yet", "waits for stock.`quince (2)`.strength"],
    ],
    ["set x", "mean([1 g, blank])", ["x ok computed", "1 g", "1 of 2 is blank"]],
    ["check", "pull", ["- ok computed", "60 mbar"]],
    [
      "check",
      "pull < nobody",
      [
        "- fault computed",
        "Nothing here is called `nobody`.",
        "Give it a value of its own: `set nobody = …`.",
        "marks “nobody” at 7",
      ],
    ],
    ["check", "got > 3 mL", ["- gap computed", "needs got", "waits for got"]],
    [
      "formula",
      "stock.volume",
      ["- ok computed", "3 entries", "quince = 1200 mL", "`bay leaf` = 350 mL", "`quince (2)` = 80 mL"],
    ],
    ["formula", "boils_at(pull)", ["- ok computed", "36.159 °C"]],
    ["sentence", "Add {thinned.add in mL} now", ["- ok computed", "Add 1272.3 mL now"]],
    [
      "sentence",
      "Add {nobody} now",
      [
        "- fault computed",
        "Nothing here is called `nobody`.",
        "Give it a value of its own: `set nobody = …`.",
        "marks “nobody” at 5",
      ],
    ],
    [
      "sentence",
      'Add "{nobody}"',
      [
        "- fault computed",
        "Nothing here is called `nobody`.",
        "Give it a value of its own: `set nobody = …`.",
        "marks “nobody” at 6",
      ],
    ],
    [
      "sentence",
      '{nobody} "now"',
      [
        "- fault computed",
        "Nothing here is called `nobody`.",
        "Give it a value of its own: `set nobody = …`.",
        "marks “nobody” at 1",
      ],
    ],
    [
      "sentence",
      '"{1 g + 1 L}"',
      [
        "- fault computed",
        "1 g (a mass) and 1 L (a volume) do not add.",
        "`mass_of` and `volume_of` turn one into the other.",
        "marks “1 g + 1 L” at 2",
      ],
    ],
    [
      "sentence",
      'a "b" {blend.strenght}',
      [
        "- fault computed",
        "This result has no part `strenght`.",
        "`strength` is near.",
        "marks “strenght” at 13",
        'perhaps: Write strength: a "b" {blend.strength}',
      ],
    ],
    ["sentence", "{got}", ["- gap computed", "needs got", "waits for got"]],
    ["column stock.cost", "volume * price", ["stock.quince.cost ok computed", "11.28 GBP"]],
    ["column stock.cost 2", "volume * price", ["stock.`quince (2)`.cost ok computed", "0.328 GBP"]],
    ["column stock.cost 3", "volume * price", ["nothing"]],
    [
      "column stock.cost 1",
      "cost",
      [
        "stock.`bay leaf`.cost fault computed",
        "stock.`bay leaf`.cost needs itself.",
        "It must come from something else. The row before is `before.cost`.",
        "marks “cost” at 0",
      ],
    ],
    [
      "column stock.cost 1",
      "volume * price + cost",
      [
        "stock.`bay leaf`.cost fault computed",
        "stock.`bay leaf`.cost needs itself.",
        "It must come from something else. The row before is `before.cost`.",
        "marks “volume * price + cost” at 0",
      ],
    ],
    [
      "column stock.cost 1",
      "before.cost",
      ["stock.`bay leaf`.cost gap computed", "there is no row before the first"],
    ],
    ["column stock.gone 1", "volume", ["- ok computed", "350 mL"]],
    ["column runs.new 1", "mass * 2", ["- ok computed", "790 g"]],
    [
      "foot stock.cost",
      "foot.cost",
      [
        "stock.foot.cost fault computed",
        "stock.foot.cost needs itself.",
        "It must come from something else.",
        "marks “foot.cost” at 0",
      ],
    ],
    [
      "foot stock.cost",
      "sum(cost) + foot.cost",
      [
        "stock.foot.cost fault computed",
        "stock.foot.cost needs itself.",
        "It must come from something else.",
        "marks “sum(cost) + foot.cost” at 0",
      ],
    ],
    ["foot stock.cost", "mean(cost)", ["stock.foot.cost ok computed", "6.38 GBP"]],
    ["foot stock.cost", "sum(foot.volume)", ["stock.foot.cost ok computed", "1630 mL"]],
    [
      "foot stock.volume",
      "volume",
      [
        "stock.foot.volume ok computed",
        "3 entries",
        "stock.foot.volume.quince = 1200 mL",
        "stock.foot.volume.`bay leaf` = 350 mL",
        "stock.foot.volume.`quince (2)` = 80 mL",
      ],
    ],
    ["foot stock.strength", "mean(strength)", ["- ok computed", "49.75 %vol", "1 of 3 is blank"]],
    ["foot gone.cost", "1", ["nothing"]],
    [
      "cell stock.volume 0",
      "12 g",
      [
        "stock.quince.volume fault typed",
        "12 g is a mass, under a heading in mL, a volume.",
        "A column holds one kind; another kind stands in a column of its own.",
        "marks “12 g” at 0",
      ],
    ],
    [
      "cell stock.volume 0",
      "abc",
      [
        "stock.quince.volume fault typed",
        "“abc” is text in a column of numbers.",
        "Leave the cell empty when it is not known yet; a remark belongs in a column of its own.",
        "marks “abc” at 0",
      ],
    ],
    [
      "cell stock.volume 0",
      "= volume",
      [
        "stock.quince.volume fault computed",
        "stock.quince.volume needs itself.",
        "It must come from something else.",
        "marks “= volume” at 0",
      ],
    ],
    [
      "cell stock.volume 0",
      "=  volume",
      [
        "stock.quince.volume fault computed",
        "stock.quince.volume needs itself.",
        "It must come from something else.",
        "marks “=  volume” at 0",
      ],
    ],
    [
      "cell stock.volume 0",
      "= 3 g",
      [
        "stock.quince.volume fault computed",
        "3 g is a mass, under a heading in mL, a volume.",
        "A column holds one kind; another kind stands in a column of its own.",
        "marks “= 3 g” at 0",
      ],
    ],
    [
      "cell stock.volume 1",
      "= stock.quince.volume",
      [
        "stock.`bay leaf`.volume fault computed",
        "Table stock has 2 rows called `quince` (rows 1, 3).",
        "Give one of them another name.",
        "marks “quince” at 8",
      ],
    ],
    ["cell stock.volume 1", "= before.volume * 2", ["stock.`bay leaf`.volume ok computed", "2400 mL"]],
    [
      "cell stock.volume 1",
      "= stock.volume",
      [
        "stock.`bay leaf`.volume fault computed",
        "stock.`bay leaf`.volume needs itself.",
        "It must come from something else.",
        "marks “= stock.volume” at 0",
      ],
    ],
    [
      "cell stock.volume 0",
      "= pul",
      [
        "stock.quince.volume fault computed",
        "Nothing here is called `pul`.",
        "`pull` is near.",
        "marks “pul” at 2",
        "perhaps: Write pull: = pull",
      ],
    ],
    [
      "cell stock.volume 0",
      "  = 2 * pul",
      [
        "stock.quince.volume fault computed",
        "Nothing here is called `pul`.",
        "`pull` is near.",
        "marks “pul” at 8",
        "perhaps: Write pull:   = 2 * pull",
      ],
    ],
    [
      "cell stock.on 0",
      "3.2.2026",
      [
        "stock.quince.on fault computed",
        "`3.2.2026` is no way to write a date here.",
        "A date is year-month-day: is it 2026-02-03 or 2026-03-02?",
        "marks “3.2.2026” at 0",
        "perhaps: Write 2026-02-03: 2026-02-03",
        "perhaps: Write 2026-03-02: 2026-03-02",
      ],
    ],
    [
      "cell stock.on 0",
      "2026-13-01",
      [
        "stock.quince.on fault computed",
        "There is no day `2026-13-01`.",
        "A date is year-month-day.",
        "marks “2026-13-01” at 0",
      ],
    ],
    [
      "cell stock.sort 0",
      "12 things",
      [
        "stock.quince.sort fault typed",
        "things is no unit.",
        "To multiply by things, write `* things`.",
        "marks “12 things” at 0",
      ],
    ],
    ["cell stock.sort 0", '"12 things"', ["stock.quince.sort ok typed", "12 things"]],
    ["cell stock.price 0", "  12 GBP/l  ", ["stock.quince.price ok typed", "12 GBP/L"]],
    [
      "cell stock.price 0",
      "12,5",
      [
        "stock.quince.price fault computed",
        "`12,5` is written with a comma.",
        "The decimal sign is a point: `12.5`.",
        "marks “12,5” at 0",
        "Write 12.5: 12.5",
      ],
    ],
    [
      "cell stock.price 0",
      "  12,5",
      [
        "stock.quince.price fault computed",
        "`12,5` is written with a comma.",
        "The decimal sign is a point: `12.5`.",
        "marks “12,5” at 2",
        "Write 12.5:   12.5",
      ],
    ],
    [
      "cell stock.volume 0",
      "12 mL | 3",
      [
        "stock.quince.volume fault computed",
        "`12 mL | 3` begins like a number and goes on as something else.",
        "A cell that begins with a digit holds a quantity or a date. When it is a remark put it in quotes, or head the column `(text)`.",
        "marks “12 mL | 3” at 0",
        'perhaps: Write "12 mL | 3": "12 mL | 3"',
      ],
    ],
    [
      "cell stock.volume 0",
      "12 mL\nx",
      [
        "stock.quince.volume fault computed",
        "`12 mL x` begins like a number and goes on as something else.",
        "A cell that begins with a digit holds a quantity or a date. When it is a remark put it in quotes, or head the column `(text)`.",
        "marks “12 mL\nx” at 0",
        'perhaps: Write "12 mL x": "12 mL x"',
      ],
    ],
    ["cell stock.volume 7", "12", ["nothing"]],
    ["cell stock.gone 0", "12", ["nothing"]],
    ["cell gone.volume 0", "12", ["nothing"]],
    [
      "cell stock.volume 0",
      "   12 Ml",
      [
        "stock.quince.volume fault typed",
        "Ml is no unit; capitals count.",
        "Write `mL` (millilitre).",
        "marks “12 Ml” at 3",
      ],
    ],
    [
      "cell stock.volume 0",
      "=",
      [
        "stock.quince.volume fault computed",
        "Behind `=` a value is expected, but nothing follows.",
        "A value is a number, a name, a text, or a formula in brackets.",
        "marks “” at 1",
      ],
    ],
  ])("%s: %s", (where, text, wanted) => expect(told(where, text)).toEqual(wanted));
});
