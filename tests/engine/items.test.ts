import { describe, expect, it } from "vitest";
import { type Item, openBook } from "../../src/engine";

/** What a book makes of its statements: values as they are shown, checks, steps and charts in words. */

const BOOK = `set a = 3 L
set room = 20 °C
set got = blank in mL
set d = 2026-03-01
set yes = true
table t
| i    | x (L) | n    | on (date)  |
| good | 1     | calm | 2026-02-03 |
| open |       |      |            |
| bad  | 3     | dull | 2026-02-05 |
column y = x * 2
set blend = marry([1 L, 2 L], [40 %vol, 50 %vol])
`;

type Of<T extends Item["type"]> = Extract<Item, { type: T }>;

/** The item of a line that is added to the book. */
function item<T extends Item["type"]>(type: T, line: string): Of<T> {
  const found = openBook(BOOK + line).items.filter((i): i is Of<T> => i.type === type);
  return found.at(-1)!;
}

describe("a check", () => {
  it.each([
    // What holds, and what does not, by how much.
    ["a > 1 L", "met"],
    ["a is 3 L", "met"],
    ["yes", "met"],
    ["[true, true]", "met"],
    ["a > 4 L", "unmet: under by 1 L"],
    ["a < 2 L", "unmet: over by 1 L"],
    ["a >= 4 L", "unmet: under by 1 L"],
    ["a <= 2 L", "unmet: over by 1 L"],
    ["a is 2 L", "unmet: over by 1 L"],
    ["a / 3 > 1.2 L", "unmet: under by 0.2 L"],
    ["a > 3.5e0 L", "unmet: under by 0.5 L"],
    ["a > 4000 mL", "unmet: under by 1 L"],
    ["(a > 4 L)", "unmet: under by 1 L"],
    ["a within 1 L to 2 L", "unmet: over by 1 L"],
    ["a within 4 L to 5 L", "unmet: under by 1 L"],
    ["a > 4 L and a < 2 L", "unmet: under by 1 L"],
    ["a > 2 L and a < 2 L", "unmet: over by 1 L"],
    ["a > 2 L and a < 4 L and a < 2 L", "unmet: over by 1 L"],
    // Two temperatures are apart by a difference.
    ["room > 25 °C", "unmet: under by 5 K"],
    ["room < 15 °C", "unmet: over by 5 K"],
    // Where there is no one distance, there is nothing more to say.
    ["a is not 3 L", "unmet"],
    ["a > 3 L", "unmet"],
    ["a > 4 L or a < 2 L", "unmet"],
    ["not yes", "unmet"],
    ["yes and not yes", "unmet"],
    ["d > 2026-04-01", "unmet"],
    ["d within 2026-03-02 to 2026-03-04", "unmet"],
    ['"a" is "b"', "unmet"],
    ["if yes then a > 4 L else yes", "unmet"],
    // Lists: the first that fails, else the first that is open.
    ["t.x < 2 L", "unmet: not met for bad"],
    ["t.x < 4 L", "unknown: not yet known for open"],
    ["[true, false]", "unmet: not met for entry 2"],
    ["[1, 2]", "unknown: not yet known for entry 1"],
    // Gaps, faults and what is no condition.
    ["got > 3 mL", "unknown: needs got"],
    ["nobody > 3", "unknown: Nothing here is called `nobody`."],
    ["a > 1 g", "unknown: 3 L (a volume) and 1 g (a mass) cannot be compared."],
    ["a", "unknown: A check wants true or false; this comes to a volume."],
    ["d", "unknown: A check wants true or false; this comes to the date 2026-03-01."],
    ['"x"', "unknown: A check wants true or false; this comes to the text “x”."],
    ["blend", "unknown: A check wants true or false; this comes to a result with parts."],
    // The uncertainty may decide it.
    ["3.0 ± 0.2 L > 1 L", "met"],
    ["3.0 ± 0.2 L > 2.9 L", "met: met, but within its uncertainty"],
    ["3.0 ± 0.2 L > 3.1 L", "unmet: under by 0.10 ± 0.20 L"],
  ])("%s is %s", (formula, told) => {
    const { state, says, text } = item("check", `check ${formula}`);
    expect(says === undefined ? state : `${state}: ${says}`).toBe(told);
    // Without a sentence of its own its formula is its text.
    expect(text).toBe(formula);
  });
  it("has its sentence, its formula and the remark beside it", () => {
    expect(item("check", 'check a > 1 L : "enough" # for ten')).toMatchObject({
      text: "enough",
      formula: "a > 1 L",
      remark: "for ten",
    });
    expect(item("check", "check a > 1 L")).not.toHaveProperty("remark");
    expect(item("check", "check a > 1 L #")).not.toHaveProperty("remark");
  });
  it("carries the notes of what it compares", () => {
    expect(item("check", "check t.x > 0 L where x > 0 L").notes).toEqual([
      { text: "1 row left out, its condition is not known" },
    ]);
  });
});

describe("a slider", () => {
  const outside = "outside the range that is offered for trying";
  it.each([
    // A value in the range or on its ends has no note, one outside has.
    ["60 mbar try 20 mbar to 200 mbar", "20 to 200 mbar", []],
    ["60 mbar try 200 mbar to 20 mbar", "200 to 20 mbar", []],
    ["20 mbar try 20 mbar to 200 mbar", "20 to 200 mbar", []],
    ["200 mbar try 20 mbar to 200 mbar", "20 to 200 mbar", []],
    ["19 mbar try 20 mbar to 200 mbar", "20 to 200 mbar", [outside]],
    ["201 mbar try 20 mbar to 200 mbar", "20 to 200 mbar", [outside]],
    ["201 mbar try 200 mbar to 20 mbar", "200 to 20 mbar", [outside]],
    // Its ends and its step are told in the unit of the value; a step has no direction.
    ["60 mbar try 0.02 bar to 200 mbar step 0.5 kPa", "20 to 200 by 5 mbar", []],
    ["60 mbar try 20 mbar to 200 mbar step -5 mbar", "20 to 200 by 5 mbar", []],
    ["42 %vol try 30 %vol to 50 %vol step 1 %vol", "30 to 50 by 1 %vol", []],
    ["3 try 1 to 5", "1 to 5 ", []],
    ["3 K try 1 K to 5 K step 1 K", "1 to 5 by 1 K", []],
    // A temperature moves by a difference, which may be written as one or in the unit of the scale.
    ["20 °C try 10 °C to 30 °C step 5 K", "10 to 30 by 5 °C", []],
    ["20 °C try 10 °C to 30 °C step 5 °C", "10 to 30 by 5 °C", []],
    ["20 °C try 50 °F to 30 °C step 9 °F", "10 to 30 by 5 °C", []],
    // A step of another kind is a fault of its own and no step.
    ["3 g try 1 g to 5 g step 1 L", "1 to 5 g", []],
    ["3 g try 1 g to 2 L", "none", []],
    ["3 g try 1 L to 2 g", "none", []],
    ["3 g try 5", "none", []],
    ["3 g", "none", []],
    // While the value is no quantity of that kind, the range stands idle, in its own unit.
    ["blank try 1 to 2", "1 to 2 , idle", []],
    ["3 g try 1 L to 2000 mL step 10 mL", "1 to 2 by 0.01 L, idle", []],
    ["3 zol try 1 L to 2 L", "1 to 2 L, idle", []],
    ["3 L + try 1 L to 2 L", "1 to 2 L, idle", []],
    // A choice of texts.
    ['"a" try ["a", "b"]', "a | b", []],
    ['"c" try ["a", "b"]', "a | b", ["outside the choices that are offered for it"]],
    ["3 g try [1 g]", "", []],
  ])("set q = %s: %s", (formula, range, notes) => {
    const { trial, shown } = item("value", `set q = ${formula}`);
    const told =
      trial === undefined
        ? "none"
        : trial.type === "choices"
          ? trial.choices.join(" | ")
          : `${trial.from} to ${trial.to}${trial.step === undefined ? "" : ` by ${trial.step}`} ${trial.unit}${trial.idle ? ", idle" : ""}`;
    expect(told).toBe(range);
    expect(shown.notes.map((n) => n.text)).toEqual(notes);
  });
});

it("a range tells its ends as the language prints them, the lower one first", () => {
  const ends = (formula: string) => {
    const { trial } = item("value", `set q = ${formula}`);
    return trial?.type === "range" ? trial.ends : undefined;
  };
  expect(ends("45 torr try 20 mbar to 1013.25 mbar")).toEqual(["15.001 torr", "760 torr"]);
  expect(ends("1013.25 mbar try 1013.25 mbar to 20 mbar")).toEqual(["20 mbar", "1013.25 mbar"]);
  expect(ends("3 g try 1 to 2")).toEqual(["1", "2"]);
});

describe("a step", () => {
  it.each([
    ["Stir {a}.", "Stir 3 L."],
    ["Stir {a in mL} of {t.x}.", "Stir 3000 mL of good 1 L, open not filled in yet, bad 3 L."],
    ["{yes} {d} {[1, 2]}", "true 2026-03-01 1, 2"],
    ["{boils_at(60 mbar)}", "36.159 °C"],
    ["{blend.volume in mL}", "2998.8 mL"],
    ["{got}", "(not filled in yet)"],
    ["{got * 2}", "(not filled in yet)"],
    ["{nobody}", "(fault)"],
    ["{blend}", "(fault)"],
  ])("%s reads %s", (sentence, text) => expect(item("step", `step "${sentence}"`).text).toBe(text));

  const pieces = (sentence: string) =>
    item("step", `step "${sentence}"`).pieces.map((p) =>
      typeof p === "string" ? p : [p.path, p.label, p.state, p.text, p.message],
    );
  it("is cut into its words and what stands in its braces", () => {
    expect(pieces("Stir {a in mL} in.")).toEqual([
      "Stir ",
      ["a in mL", "a in mL", "ok", "3000 mL", undefined],
      " in.",
    ]);
    expect(pieces("{got}")).toEqual([["got", "got", "gap", "", "got is not filled in yet"]]);
    expect(pieces("{got + 1 mL}")).toEqual([["got + 1 mL", "got + 1 mL", "gap", "", "needs got"]]);
    expect(pieces("{nobody}")).toEqual([
      ["nobody", "nobody", "fault", "", "Nothing here is called `nobody`."],
    ]);
    expect(pieces("{blend}")).toEqual([
      ["blend", "blend", "fault", "", "This result has parts; say which one."],
    ]);
    expect(pieces("{t.x}")).toEqual([
      ["t.x", "t.x", "ok", "good 1 L, open not filled in yet, bad 3 L", undefined],
    ]);
  });
  it("is numbered in the order of the book, and has its wait and its remark", () => {
    const steps = openBook('step "A."\nset b = 1\nstep "B." wait 40 min # stir\nstep "C."').items.flatMap(
      (i) =>
        i.type === "step" ? [[i.number, i.text, i.wait?.text, i.wait?.path, i.wait?.label, i.remark]] : [],
    );
    expect(steps).toEqual([
      [1, "A.", undefined, undefined, undefined, undefined],
      [2, "B.", "40 min", "step 2 wait", "wait", "stir"],
      [3, "C.", undefined, undefined, undefined, undefined],
    ]);
  });
  it.each([
    // what is asked for, its unit, and what stands there now
    ["ask got", ["got", "mL", "", "gap"]],
    ["ask got in L", ["got", "L", "", "gap"]],
    ["ask a", ["a", "L", "3 L", "ok"]],
    ["ask room", ["room", "°C", "20 °C", "ok"]],
    ["ask t.x", ["t.x", "L", undefined, undefined]],
    ["ask t.x in mL", ["t.x", "mL", undefined, undefined]],
    ["ask t.n", ["t.n", "", undefined, undefined]],
    ["ask nobody", ["nobody", "", undefined, undefined]],
    ["ask t.nobody", ["t.nobody", "", undefined, undefined]],
    ["ask nobody.x", ["nobody.x", "", undefined, undefined]],
    ["ask blend.volume", ["blend.volume", "", undefined, undefined]],
  ])("%s", (clause, wanted) => {
    const [ask] = item("step", `step "Read." ${clause}`).asks;
    expect([ask!.path, ask!.unit, ask!.shown?.text, ask!.shown?.state]).toEqual(wanted);
    expect(ask).not.toHaveProperty("expect");
  });
  it("may ask for several readings, each with its plan", () => {
    const { asks } = item("step", 'step "Read." ask got expect 400 mL ± 10 mL ask t.x ask a expect 3 L');
    expect(asks.map((a) => [a.path, a.expect?.text, a.expect?.path, a.expect?.origin])).toEqual([
      ["got", "400 ± 10 mL", "got expected", "typed"],
      ["t.x", undefined, undefined, undefined],
      ["a", "3 L", "a expected", "typed"],
    ]);
  });
});

describe("a value", () => {
  it.each([
    // formula, where it comes from, number, ±, unit: digits stay as they were typed
    ["3.50 L", "typed", "3.50", undefined, "L"],
    ["3.50", "typed", "3.50", undefined, ""],
    ["-3.50 L", "typed", "-3.50", undefined, "L"],
    ["3.50 ± 0.20 L", "typed", "3.50", "0.20", "L"],
    ["3.50 L ± 0.20 L", "typed", "3.50", "0.20", "L"],
    ["3.50 L ± 20 mL", "typed", "3.50", "20 mL", "L"],
    ["20 °C ± 0.5 K", "typed", "20", "0.5 K", "°C"],
    ["250 mL ± 2 %", "typed", "250", "2 %", "mL"],
    ["2026-03-01", "typed", "2026-03-01", undefined, ""],
    ["true", "typed", "true", undefined, ""],
    ['"a"', "typed", "a", undefined, ""],
    ["blank", "typed", "", undefined, ""],
    ["blank in mL", "typed", "", undefined, ""],
    ["3.50 L + 0 L", "computed", "3.5", undefined, "L"],
    ["2 ± 1 + 3", "computed", "5.0", "1.0", ""],
    ["a ± 0.1 L", "computed", "3.00", "0.10", "L"],
    ['"a {a}"', "computed", "a 3 L", undefined, ""],
    ["[1 L, 2 L]", "computed", "2 entries", undefined, ""],
    ["[1 L]", "computed", "1 entry", undefined, ""],
    ["find x from 1 to 3 so that x^2 is 4", "found", "2", undefined, ""],
    ["(find x from 1 to 3 so that x^2 is 4) + 1", "computed", "3", undefined, ""],
  ])("set q = %s is %s", (formula, origin, number, spread, unit) => {
    const { shown, formula: written, formulaSpan } = item("value", `set q = ${formula}`);
    expect([shown.origin, shown.number, shown.spread, shown.unit]).toEqual([origin, number, spread, unit]);
    expect(written).toBe(formula);
    expect(`${BOOK}set q = ${formula}`.slice(formulaSpan.from, formulaSpan.to)).toBe(formula);
  });
  it("that cannot be read is a fault in its place", () => {
    const { shown, formula, formulaSpan } = item("value", "set q = (");
    expect([shown.state, shown.message, formula]).toEqual(["fault", "This statement cannot be read.", ""]);
    expect(formulaSpan).toEqual({ from: BOOK.length, to: BOOK.length + 9 });
  });
  it.each([
    // The parts of a result and the entries of a list, each by its path; a repeated row name is counted on.
    [
      "blend",
      "q.volume=2.9988 L q.strength=46.685 %vol q.mass=2808.3 g q.pure_volume=1.4 L q.contraction=1.1537 mL",
    ],
    ["[1 L, 2 L]", "q.1=1 L q.2=2 L"],
    ["[]", ""],
    ["3 L", ""],
    ["t.x", "q.good=1 L q.open=needs t.open.x q.bad=3 L"],
    ["t.good", "q.i=good q.x=1 L q.n=calm q.on=2026-02-03 q.y=2 L"],
  ])("set q = %s has the parts %s", (formula, parts) => {
    const told = item("value", `set q = ${formula}`).parts.map((p) => `${p.path}=${p.message ?? p.text}`);
    expect(told.join(" ")).toBe(parts);
  });
  it("of a list counts rows of one name on", () => {
    const book = openBook("table t\n| i | x (g) |\n| a | 1 |\n| a | 2 |\n| | 3 |\n| a | 4 |\nset q = t.x");
    const q = book.items.at(-1)!;
    expect(q.type === "value" && q.parts.map((p) => p.path)).toEqual([
      "q.a",
      "q.`a (2)`",
      "q.3",
      "q.`a (3)`",
    ]);
  });
  it("with a name in backticks keeps its plain name and its written path", () => {
    const { name, shown } = item("value", "set `b c` = 3 L");
    expect([name, shown.path, shown.label]).toEqual(["b c", "`b c`", "b c"]);
  });
});
