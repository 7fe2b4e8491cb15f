import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

/** What a column makes of its cells: how it is called and what it holds, each cell as it is shown, what is told. */
function column(heading: string, cells: readonly string[]) {
  const text = ["table t", `| i | ${heading} |`, ...cells.map((cell, i) => `| r${i + 1} | ${cell} |`)].join(
    "\n",
  );
  const book = openBook(text);
  const [table] = book.items;
  if (table?.type !== "table") throw new Error("no table");
  const { name, unit, holds, fault } = table.columns[1]!;
  return {
    is: [name, unit, holds, ...(fault === undefined ? [] : [fault])].join(" / "),
    shown: cells.map((_, row) => {
      const { text: value, state } = table.cell(row, 1);
      return state === "ok" ? value : state;
    }),
    numbers: cells.map((_, row) => table.cell(row, 1).number),
    told: book.messages.map((m) => `${text.slice(m.from, m.to)}: ${m.says} ${m.help ?? ""}`.trim()),
  };
}

const OWN = "A column holds one kind; another kind stands in a column of its own.";
const EMPTY = "Leave the cell empty when it is not known yet; a remark belongs in a column of its own.";

describe("a column", () => {
  it.each([
    // The unit of the heading, else of the first quantity, is that of all; other units are converted.
    [
      "x (mL)",
      ["2400", "2.4 L", "2400 mL", "-3", "+3", "1 cL", ""],
      "x / mL / quantity",
      ["2400 mL", "2400 mL", "2400 mL", "-3 mL", "3 mL", "10 mL", "gap"],
    ],
    ["x", ["2400 mL", "2.4 L", ""], "x / mL / quantity", ["2400 mL", "2400 mL", "gap"]],
    ["x", ["5", "6", ""], "x /  / quantity", ["5", "6", "gap"]],
    ["x (number)", ["3", "0.5", "50 %"], "x /  / quantity", ["3", "0.5", "0.5"]],
    ["x (%)", ["18", "18 %", "= 0.18"], "x / % / quantity", ["18 %", "18 %", "18 %"]],
    ["x (°C)", ["20", "68 °F"], "x / °C / quantity", ["20 °C", "20 °C"]],
    ["x (GBP)", ["9.4", "= 29.7 GBP"], "x / GBP / quantity", ["9.40 GBP", "29.70 GBP"]],
    ["net (a) (g)", ["1"], "net (a) / g / quantity", ["1 g"]],
    // With ±: one unit serves both, a percentage is one of the value.
    [
      "x (mL)",
      ["12 ± 1", "12 ± 1 mL", "12 mL ± 1 %"],
      "x / mL / quantity",
      ["12.0 ± 1.0 mL", "12.0 ± 1.0 mL", "12.00 ± 0.12 mL"],
    ],
    ["x (°C)", ["20 ± 0.5"], "x / °C / quantity", ["20.00 ± 0.50 °C"]],
    // Texts and dates.
    ["x", ["calm", "dull", ""], "x /  / text", ["calm", "dull", "gap"]],
    ["x", ['"quoted"', '"3 g"', "a \\| b"], "x /  / text", ["quoted", "3 g", "a | b"]],
    ["x (text)", ["3", "3.2.2026", "= 3", ""], "x /  / text", ["3", "3.2.2026", "= 3", "gap"]],
    ["x", ["2026-02-03", ""], "x /  / date", ["2026-02-03", "gap"]],
    ["x (date)", ["2026-02-03"], "x /  / date", ["2026-02-03"]],
    ["x", ["", ""], "x /  / empty", ["gap", "gap"]],
    // Empty quotes are an empty text, also where numbers or dates stand.
    ["x (g)", ["3", '""', "4"], "x / g / quantity", ["3 g", "", "4 g"]],
    ["x", ["2026-02-03", '""'], "x /  / date", ["2026-02-03", ""]],
    // Names of rows and texts are compared as one and the same letter, however it was put in.
    ["x (text)", ["e\u0301te\u0301", "  two  blanks "], "x /  / text", ["été", "two  blanks"]],
    // A ± with a unit of its own; a difference for a temperature.
    [
      "x (g)",
      ["2 kg ± 5 g", "2 ± 0.5 g", "1.5 ± 0.25"],
      "x / g / quantity",
      ["2000.0 ± 5.0 g", "2.00 ± 0.50 g", "1.50 ± 0.25 g"],
    ],
    [
      "x (°C)",
      ["20 °C ± 0.5 K", "20 ± 0.5 °C", "68 °F ± 1.8 °F"],
      "x / °C / quantity",
      ["20.00 ± 0.50 °C", "20.00 ± 0.50 °C", "20.0 ± 1.0 °C"],
    ],
    ["x", ["3 ± 1 g", "5 g"], "x / g / quantity", ["3.0 ± 1.0 g", "5 g"]],
    ["x (number)", ["3 ± 1", "= 2 ± 1"], "x /  / quantity", ["3.0 ± 1.0", "2.0 ± 1.0"]],
    // Formulas in cells.
    ["x (g)", ["= 3 g", "= t.r1.x * 2", "= blank"], "x / g / quantity", ["3 g", "6 g", "gap"]],
    ["x", ["= 3 g", "5 g"], "x / g / quantity", ["3 g", "5 g"]],
    ["x", ['= "a"', "b"], "x /  / text", ["a", "b"]],
  ])("%s of %j is %s", (heading, cells, is, shown) => {
    expect(column(heading, cells)).toMatchObject({ is, shown, told: [] });
  });
  it("leaves what was typed as it was written", () => {
    expect(column("x (g)", ["1.50", "2 kg", "= 1 g / 3"]).numbers).toEqual(["1.50", "2", "0.33333"]);
  });
  it.each([
    // heading, cells, those that are a fault, what is told and what to do
    ["x (mL)", ["1", "350 g"], 1, `350 g: 350 g is a mass, under a heading in mL, a volume. ${OWN}`],
    ["x", ["2 g", "3 mL"], 1, `3 mL: 3 mL is a volume, in a column that begins in g, a mass. ${OWN}`],
    [
      "x",
      ["2400 mL", "5"],
      1,
      "5: 5 has no unit, and the others in this column have. Write `5 mL`, or give the heading a unit: `(mL)`.",
    ],
    [
      "x",
      ["5", "2400 mL", "3 L"],
      0,
      "5: 5 has no unit, and the others in this column have. Write `5 mL`, or give the heading a unit: `(mL)`.",
    ],
    [
      "x",
      ["5", "2026-02-03"],
      1,
      "2026-02-03: 2026-02-03 is a date in a column of numbers. Head the column `(date)`, or write a number.",
    ],
    ["x", ["calm", "3"], 0, `calm: “calm” is text in a column of numbers. ${EMPTY}`],
    ["x (mL)", ["3", "calm"], 1, `calm: “calm” is text in a column of numbers. ${EMPTY}`],
    ["x (number)", ["3", "3 g"], 1, `3 g: 3 g is a mass, under a heading in plain numbers. ${OWN}`],
    ["x (date)", ["2026-02-03", "calm"], 1, `calm: “calm” is text in a column of dates. ${EMPTY}`],
    [
      "x",
      ["2026-02-03", "3 g"],
      1,
      "3 g: “3 g” is a number in a column of dates. Write the day as year-month-day: `2026-02-03`.",
    ],
    [
      "x (%vol)",
      ["40", "40 %"],
      1,
      "40 %: 40 % does not say of what it is a percentage; the heading is in %vol, a strength by volume. Write `40 %vol`, or the number alone; if `%mas` is meant, `= by_volume(40 %mas)`.",
    ],
    [
      "x (%vol)",
      ["40", "40%"],
      1,
      "40%: 40% does not say of what it is a percentage; the heading is in %vol, a strength by volume. Write `40 %vol`, or the number alone; if `%mas` is meant, `= by_volume(40 %mas)`.",
    ],
    [
      "x (%vol)",
      ["40", "40 %mas"],
      1,
      `40 %mas: 40 %mas is a strength by mass, under a heading in %vol, a strength by volume. ${OWN}`,
    ],
    [
      "x (°C)",
      ["20", "300 K"],
      1,
      `300 K: 300 K is a temperature difference, under a heading in °C, a temperature. ${OWN}`,
    ],
    [
      "x (g)",
      ["1", "= 3"],
      1,
      "= 3: 3 is a plain number, under a heading in g, a mass. Give it the unit: `* 1 g`.",
    ],
    [
      "x (g)",
      ["1", "= [1 g, 2 g]"],
      1,
      "= [1 g, 2 g]: A cell holds one value; this comes to a list of 2. Use `sum`, `mean` or another total, or look at this row with the bare column name.",
    ],
    ["x", ["3 Kg"], 0, "3 Kg: Kg is no unit; capitals count. Write `kg` (kilogram)."],
    ["x", ["3 g", "3 ± 1 Kg"], 1, "3 ± 1 Kg: Kg is no unit; capitals count. Write `kg` (kilogram)."],
    ["x (g)", ["3", "3 g ± 1"], 1, "3 g ± 1: The ± in “3 g ± 1” has no unit. Write `3 ± 1 g`."],
    [
      "x (g)",
      ["3", "3 ± 1 mL"],
      1,
      `3 ± 1 mL: 3.0 ± 1.0 mL is a volume, under a heading in g, a mass. ${OWN}`,
    ],
    [
      "x (number)",
      ["3", '= "a"'],
      1,
      '= "a": This cell comes to the text “a”, under a heading in plain numbers. Head the column `(text)` or `(date)` if that is what stands in it.',
    ],
    ["x (number)", ["3", "= 2 g"], 1, `= 2 g: 2 g is a mass, under a heading in plain numbers. ${OWN}`],
    [
      "x (g)",
      ["3", "= 2026-02-03"],
      1,
      "= 2026-02-03: This cell comes to the date 2026-02-03, under a heading in g. Head the column `(text)` or `(date)` if that is what stands in it.",
    ],
    [
      "x (%vol)",
      ["40", "= 40 %"],
      1,
      "= 40 %: 40 % does not say of what it is a percentage; the heading is in %vol, a strength by volume. Let the formula come to a strength: write `%vol` where it has `%`; what is meant in `%mas` becomes one with `by_volume`.",
    ],
    [
      "x (%mas)",
      ["40", "35 %"],
      1,
      "35 %: 35 % does not say of what it is a percentage; the heading is in %mas, a strength by mass. Write `35 %mas`, or the number alone; if `%vol` is meant, `= by_mass(35 %vol)`.",
    ],
    [
      "x (%mas)",
      ["40", "0.35 ± 0.01 %"],
      1,
      "0.35 ± 0.01 %: 0.35 ± 0.01 % does not say of what it is a percentage; the heading is in %mas, a strength by mass. Write `0.35 ± 0.01 %mas`, or the number alone; if `%vol` is meant, `= by_mass(0.35 ± 0.01 %vol)`.",
    ],
    [
      "x (date)",
      ["2026-02-03", "3 g"],
      1,
      "3 g: “3 g” is a number in a column of dates. Write the day as year-month-day: `2026-02-03`.",
    ],
    [
      "x (date)",
      ["2026-02-03", "3.2.2026"],
      1,
      "3.2.2026: `3.2.2026` is no way to write a date here. A date is year-month-day: is it 2026-02-03 or 2026-03-02?",
    ],
    [
      "x (date)",
      ["2026-02-03", "3 February 2026"],
      1,
      "3 February 2026: `3 February 2026` is no way to write a date here. A date is year-month-day: 2026-02-03.",
    ],
    [
      "x (date)",
      ["2026-02-03", "February 3, 2026"],
      1,
      "February 3, 2026: “February 3, 2026” is no way to write a date here. A date is year-month-day: 2026-02-03.",
    ],
    ["x", ["3 Kg", "4 kg"], 0, "3 Kg: Kg is no unit; capitals count. Write `kg` (kilogram)."],
  ])("%s of %j holds a fault in one cell", (heading, cells, at, told) => {
    const found = column(heading, cells);
    expect(found.told).toEqual([told]);
    expect(found.shown.map((s) => s === "fault")).toEqual(cells.map((_, i) => i === at));
  });
  it("whose heading has no unit that is one is a fault as a whole, told once", () => {
    expect(column("x (Q)", ["1", "2 g"])).toMatchObject({
      is: "x /  / empty / Q is no unit.",
      shown: ["fault", "fault"],
      told: [
        "Q: Q is no unit. The bracket of a heading holds a unit, or `number`, `text` or `date`; a name that ends in a bracket stands in backticks.",
      ],
    });
  });
});

describe("a misspelt unit in a cell", () => {
  it.each([
    ["58 %vil", "58 %vol"],
    ["58 ± 0.3 %vil", "58 ± 0.3 %vol"],
    ["58 %vol ± 0.3 %vil", "58 %vol ± 0.3 %vol"],
  ])("%s is mended in its place, and its number stays: %s", (typed, mended) => {
    const text = `table t\n| item | strength |\n| a | 61 %vol |\n| b | ${typed} |\n`;
    const fixes = openBook(text).messages.flatMap((m) => m.fixes ?? []);
    expect(fixes.map((fix) => fix.says)).toEqual([`Write ${mended}`]);
    const { span, text: instead } = fixes[0]!.edits[0]!;
    expect(text.slice(0, span.from) + instead + text.slice(span.to)).toBe(text.replace(typed, mended));
  });
});
