import { describe, expect, it } from "vitest";
import { type Book, openBook } from "../../src/engine";

/** What formulas come to: the entries of a list with commas, a gap or a fault with its words. */

const BOOK = `set a = 3 L
set got = blank in mL
set bad = 1 g + 1 L
set s = "Juniper"
set d = 2026-03-01
set yes = true
set un = 10 ± 1 g
table t
| i    | x (L) | n    |
| good | 1     | calm |
| open |       |      |
| bad  | 3     | dull |
table u
| i    | x (L) |
| good | 1     |
| open | 2     |
| bad  | 3     |
table v
| i | x (L) |
| p | 1     |
| q | 2     |
| r | 3     |
set blend = marry([1 L, 2 L], [40 %vol, 50 %vol])
`;

/** What formulas come to, each the value of a line of one book; a part of `q7` is told as one of `q`. */
function workedOut(formulas: readonly string[]) {
  let opened: Book | undefined;
  return (formula: string) => {
    opened ??= openBook(BOOK + formulas.map((each, i) => `set q${i} = ${each}`).join("\n"));
    const book = opened;
    const i = formulas.indexOf(formula);
    const line = BOOK.split("\n").length + i;
    const item = book.items.find((each) => each.statement.line === line);
    if (item?.type !== "value") throw new Error(`no value of ${formula}`);
    const { shown, parts } = item;
    const each = (p: typeof shown): string =>
      p.state === "ok" ? p.text : `${p.state}: ${p.message!.replaceAll(`q${i}`, "q")}`;
    return {
      text: parts.length > 0 && shown.value.type === "list" ? parts.map(each).join(", ") : each(shown),
      help: shown.help,
      notes: shown.notes.map((n) => n.text),
      messages: book.messages
        .filter((m) => m.line === line)
        .map((m) => `${m.code}: ${book.text.slice(m.from, m.to)}`),
    };
  };
}

const BAD = "fault: needs bad, where: 1 g (a mass) and 1 L (a volume) do not add.";
const ROWS = "fault: These columns belong to different rows (%s), even though they are as long.";

describe("what a formula comes to", () => {
  const table = [
    // Lists go entry by entry, a single value repeats, and a gap stays one.
    ["[1, 2] + 1", "2, 3"],
    ["1 - [1, 2]", "0, -1"],
    ["[1, 2] * [3, 4]", "3, 8"],
    ["t.x + u.x", "2 L, gap: needs t.open.x, 6 L"],
    ["u.x + u.x", "2 L, 4 L, 6 L"],
    ["t.x + [1 L, 2 L, 3 L]", "2 L, gap: needs t.open.x, 6 L"],
    ["[1 L, 2 L, 3 L] + t.x", "2 L, gap: needs t.open.x, 6 L"],
    ["[1, blank] + 1", "2, gap: q is not filled in yet"],
    ["-[1, 2]", "-1, -2"],
    ["[1 L, 2 L] in mL", "1000 mL, 2000 mL"],
    ["[1, 2] ± 1", "1.0 ± 1.0, 2.0 ± 1.0"],
    ["[1, 2] ± [1, 2]", "1.0 ± 1.0, 2.0 ± 2.0"],
    ["1 ± [1, 2]", "1.0 ± 1.0, 1.0 ± 2.0"],
    ["[1, 2, 3] > 2", "false, false, true"],
    ["t.x > 1 L", "false, gap: needs t.open.x, true"],
    ["t.x is blank", "false, true, false"],
    ["t.x is not blank", "true, false, true"],
    ["not [true, false]", "false, true"],
    ["[true, false] and true", "true, false"],
    ["true and [true, false]", "true, false"],
    ["[true, false] or [false, false]", "true, false"],
    ["[true, false] and got", "gap: needs got, false"],
    ["[true, false] or got", "true, gap: needs got"],
    ["[1 L, 200 mL]", "1 L, 0.2 L"],
    ["[[1, 2], 3]", "1, 2, 3"],
    ["[blank, 1]", "gap: q is not filled in yet, 1"],
    ["[1 L, 2 L].2", "2 L"],
    ["t.x.good", "1 L"],
    ["t.x.3", "3 L"],
    // A fault that comes from elsewhere, and a gap, go through; a fault is the stronger.
    ["got + 1 mL", "gap: needs got"],
    ["[1, 2] + got", "gap: needs got, gap: needs got"],
    ["-got", "gap: needs got"],
    ["got in L", "gap: needs got"],
    ["a ± got", "gap: needs got"],
    ["got < 3 mL", "gap: needs got"],
    ["a within got to 5 L", "gap: needs got"],
    ["1 to got", "gap: needs got"],
    ["1 to 3 step got", "gap: needs got"],
    ["d + got", "gap: needs got"],
    ["if got then 1 else 2", "gap: needs got"],
    ['"{a} {got}"', "gap: needs got"],
    ["got + bad", BAD],
    ["bad + got", BAD],
    ["got < bad", BAD],
    ["got to bad", BAD],
    ["-bad", BAD],
    ["bad in L", BAD],
    ["bad is blank", BAD],
    ["not bad", BAD],
    ["if bad then 1 else 2", BAD],
    ['"{bad}"', BAD],
    // Comparing: equal ends count in `<=`, `>=` and `within`.
    ["3 L < 3000 mL", "false"],
    ["3 L <= 3000 mL", "true"],
    ["3 L > 3000 mL", "false"],
    ["3 L >= 3000 mL", "true"],
    ["a is 3000 mL", "true"],
    ["a is not 3 L", "false"],
    ["a within 1 L to 3 L", "true"],
    ["a within 3 L to 4 L", "true"],
    ["a within 4 L to 5 L", "false"],
    ["a within 1 L to 2 L", "false"],
    ["d < 2026-03-02", "true"],
    ["d < 2026-03-01", "false"],
    ["d <= 2026-03-01", "true"],
    ["d > 2026-02-28", "true"],
    ["d is 2026-03-01", "true"],
    ["d is not 2026-03-01", "false"],
    ['s is "juniper "', "true"],
    ['s is not "juniper "', "false"],
    ['"a  b" is " A B"', "true"],
    ['"ab" is "a b"', "false"],
    ["yes is true", "true"],
    ["yes is false", "false"],
    ["yes is not false", "true"],
    ["got is blank", "true"],
    ["got is not blank", "false"],
    ["a is blank", "false"],
    ["a is not blank", "true"],
    // The left side decides where it can, and then the right one is not looked at.
    ["false and bad", "false"],
    ["true or bad", "true"],
    ["false and 1", "false"],
    ["true or 1", "true"],
    ["got and false", "false"],
    ["got or true", "true"],
    ["true and true", "true"],
    ["true and false", "false"],
    ["false or true", "true"],
    ["false or false", "false"],
    ["got and true", "gap: needs got"],
    ["true and got", "gap: needs got"],
    ["got or false", "gap: needs got"],
    ["false or got", "gap: needs got"],
    ["bad and false", BAD],
    ["true and bad", BAD],
    ["got and bad", BAD],
    // Ranges.
    ["1 to 3", "1, 2, 3"],
    ["3 to 1", "3, 2, 1"],
    ["2 to 2", "2"],
    ["1 to 1 step 5", "1"],
    ["1 L to 3 L step 500 mL", "1 L, 1.5 L, 2 L, 2.5 L, 3 L"],
    ["1 L to 2.2 L step 1 L", "1 L, 2 L"],
    ["3 L to 1 L step -1 L", "3 L, 2 L, 1 L"],
    ["0 to 0.3 step 0.1", "0, 0.1, 0.2, 0.3"],
    ["20 °C to 30 °C step 5 K", "20 °C, 25 °C, 30 °C"],
    ["count(1 to 10000)", "10000"],
    // Dates: whole days, and no others.
    ["d - 2026-02-01", "28 d"],
    ["2026-02-01 - d", "-28 d"],
    ["d + 3 d", "2026-03-04"],
    ["3 d + d", "2026-03-04"],
    ["d - 3 d", "2026-02-26"],
    ["d + 24 h", "2026-03-02"],
    ["2024-02-28 + 2 d", "2024-03-01"],
    ["9999-12-30 + 1 d", "9999-12-31"],
    ["0001-01-02 - 1 d", "0001-01-01"],
    ["0100-01-01 - 0099-12-31", "1 d"],
    // Text.
    ['"{d} {yes} {s}"', "2026-03-01 true Juniper"],
    ['"{[1, 2]}"', "1, 2"],
    ["if yes then 1 else bad", "1"],
    ["if not yes then bad else 2", "2"],
  ] as const;
  const worked = workedOut(table.map(([formula]) => formula));
  it.each(table)("%s: %s", (formula, text) => {
    expect(worked(formula).text).toBe(text);
    // What goes wrong elsewhere is told there.
    expect(worked(formula).messages).toEqual([]);
  });
});

describe("what a formula refuses", () => {
  const number = "Write a comparison, such as `x > 2 L` or `x is 3`.";
  const part = "Say which one, for example with `.volume` behind it.";
  const record =
    "fault: A result with parts has no value of its own. Its parts are volume, strength, mass, pure_volume, contraction.";
  const table = [
    ['a + "x"', "fault: `+` works on numbers; here it meets the text “x”.", undefined],
    ['"x" + a', "fault: `+` works on numbers; here it meets the text “x”.", undefined],
    ["a * yes", "fault: `*` works on numbers; here it meets true.", undefined],
    ["-s", "fault: A minus works on numbers; here it meets the text “Juniper”.", undefined],
    ["-d", "fault: A minus works on numbers; here it meets the date 2026-03-01.", undefined],
    ["-yes", "fault: A minus works on numbers; here it meets true.", undefined],
    ["s in L", "fault: `in L` works on a number with a unit; here it meets the text “Juniper”.", undefined],
    ["a ± s", "fault: ± stands between two numbers; here it meets the text “Juniper”.", undefined],
    ["s ± 1", "fault: ± stands between two numbers; here it meets the text “Juniper”.", undefined],
    ["a - blend", record, part],
    ["blend - a", record, part],
    ["-blend", record, part],
    ["blend in L", record, part],
    ["blend ± 1", record, part],
    ["a < blend", record, part],
    ["blend is a", record, part],
    ['"{blend}"', record, part],
    // Lists of one length, and of the same rows.
    ["[1, 2] + [1]", "fault: These lists do not match: 2 entries and 1.", undefined],
    ["[1] + [1, 2]", "fault: These lists do not match: 1 entry and 2.", undefined],
    [
      "t.x + v.x",
      ROWS.replace("%s", "t and v"),
      "`pick(column, name)` takes the entry of the row with that name.",
    ],
    [
      "u.x * v.x",
      ROWS.replace("%s", "u and v"),
      "`pick(column, name)` takes the entry of the row with that name.",
    ],
    // Comparing.
    ['s < "a"', "fault: Text has no order; only `is` and `is not` work on it.", undefined],
    ["yes < true", "fault: True and true cannot be compared.", undefined],
    ["yes is 1", "fault: True and a plain number cannot be compared.", undefined],
    ["a is s", "fault: A volume and the text “Juniper” cannot be compared.", undefined],
    ["a is d", "fault: A volume and the date 2026-03-01 cannot be compared.", undefined],
    // True or false.
    ["1 and true", "fault: `and` wants true or false and meets a plain number.", number],
    ["true and 1", "fault: `and` wants true or false and meets a plain number.", number],
    ["false or 1", "fault: `or` wants true or false and meets a plain number.", number],
    ["s or true", "fault: `or` wants true or false and meets the text “Juniper”.", number],
    ["not 1", "fault: `not` wants true or false and meets a plain number.", number],
    ["not blend", "fault: `not` wants true or false and meets a result with parts.", number],
    // Ranges.
    [
      "1 to 2.5",
      "fault: A range without a step counts whole plain numbers only.",
      "Say the step: `10 mbar to 40 mbar step 10 mbar`.",
    ],
    [
      "1.5 to 3",
      "fault: A range without a step counts whole plain numbers only.",
      "Say the step: `10 mbar to 40 mbar step 10 mbar`.",
    ],
    [
      "1 L to 3 L",
      "fault: A range without a step counts whole plain numbers only.",
      "Say the step: `10 mbar to 40 mbar step 10 mbar`.",
    ],
    [
      "3 L to 1 L step 1 L",
      "fault: The step points away from the end of the range.",
      "Give the step the other sign.",
    ],
    [
      "1 to 3 step -1",
      "fault: The step points away from the end of the range.",
      "Give the step the other sign.",
    ],
    ["1 to 3 step 0", "fault: The step of a range is 0; it would never arrive.", undefined],
    ['1 to "x"', "fault: `to` counts between two numbers.", undefined],
    ['"x" to 1', "fault: `to` counts between two numbers.", undefined],
    ["1 to 3 step s", "fault: `to` counts between two numbers.", undefined],
    [
      "1 to 10001",
      "fault: A range may have at most 10,000 entries; this one has more.",
      "Take a larger step.",
    ],
    // Dates.
    ["d * 2", "fault: A date takes only `date - date`, `date + days` and `date - days`.", undefined],
    ["d + d", "fault: A date takes only `date - date`, `date + days` and `date - days`.", undefined],
    ["3 d - d", "fault: A date takes only `date - date`, `date + days` and `date - days`.", undefined],
    ["d + 1.5 d", "fault: A date moves by whole days only.", "Use `whole` or `round_to(…, 1 d)` first."],
    ["d - 36 h", "fault: A date moves by whole days only.", "Use `whole` or `round_to(…, 1 d)` first."],
    ["d + 1 g", "fault: Only days can be added to a date, not a mass.", "Write for example `+ 30 d`."],
    ["d + 3", "fault: Only days can be added to a date, not a plain number.", "Write for example `+ 30 d`."],
    ["9999-12-31 + 1 d", "fault: This day lies outside the years 0001 to 9999.", undefined],
    ["0001-01-01 - 1 d", "fault: This day lies outside the years 0001 to 9999.", undefined],
  ] as const;
  const worked = workedOut(table.map(([formula]) => formula));
  it.each(table)("%s", (formula, text, help) => {
    const found = worked(formula);
    expect([found.text, found.help]).toEqual([text, help]);
    expect(found.messages).toHaveLength(1);
    expect(found.messages[0]).toContain(`: ${formula}`);
  });
  it("one entry of a list, where only that one is wrong, and tells it", () => {
    const worked = workedOut([
      "[1, 2] / [1, 0]",
      "[1, 2] / [0, 1]",
      "boils_at([0.5 mbar, 60 mbar])",
      "[1, 2] / 0",
      "[1, 2] + 1 g",
    ]);
    const zero = "division-by-zero";
    expect(worked("[1, 2] / [1, 0]")).toMatchObject({
      text: "1, fault: 2 is divided by 0.",
      messages: [`${zero}: [1, 2] / [1, 0]`],
    });
    expect(worked("[1, 2] / [0, 1]")).toMatchObject({
      text: "fault: 1 is divided by 0., 2",
      messages: [`${zero}: [1, 2] / [0, 1]`],
    });
    expect(worked("boils_at([0.5 mbar, 60 mbar])").text).toMatch(/^fault: The still is .*, 36\.159 °C$/);
    // What is wrong with all of them is the fault of the whole.
    expect(worked("[1, 2] / 0")).toMatchObject({
      text: "fault: 1 is divided by 0.",
      messages: [`${zero}: [1, 2] / 0`],
    });
    expect(worked("[1, 2] + 1 g").text).toBe("fault: 1 (a plain number) and 1 g (a mass) do not add.");
  });
  it("where the condition of an if is no condition, at that condition", () => {
    const worked = workedOut(["if a then 1 else 2", "if [true, false] then 1 else 2"]);
    expect(worked("if a then 1 else 2").messages).toEqual(["truth-wanted: a"]);
    expect(worked("if [true, false] then 1 else 2").messages).toEqual(["truth-wanted: [true, false]"]);
  });
});

describe("the remark of a comparison that is too close to tell", () => {
  const close =
    "Too close to tell: 10.0 ± 1.0 g and 11 g differ by 1 g, less than twice the uncertainty of that difference (± 1 g).";
  const table: readonly (readonly [string, readonly string[]])[] = [
    ["un < 11 g", [close]],
    ["un < 30 g", []],
    ["un within 9 g to 30 g", [close.replace("and 11 g", "and 9 g")]],
    ["not (un < 11 g)", [close]],
    ["un < 11 g and yes", [close]],
    ["if un < 11 g then 1 else 2", [close]],
  ];
  const worked = workedOut(table.map(([formula]) => formula));
  it.each(table)("%s", (formula, notes) => expect(worked(formula).notes).toEqual(notes));
});
