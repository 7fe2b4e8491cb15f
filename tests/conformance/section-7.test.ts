import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { SMALL } from "./small-book";
import { reads, telling } from "./telling";

const { gives, givesQuietly, fails, waits, lists, book } = telling(SMALL);

describe("is, within and order", () => {
  it("exact values compare exactly after conversion", () => {
    gives("0.1 + 0.2 is 0.3", "true");
    gives("1 L is 1000 mL", "true");
    gives("1 L is 1000.0000000001 mL", "false");
    gives("1 L is not 1000 mL", "false");
  });
  it("an approximate side is equal within 1e-9 of the larger, or 1e-12 of the right side's unit", () => {
    gives("1 / 3 is 0.333333333", "true");
    gives("1 / 3 is 0.33333333", "false");
    gives("(1 / 3) * 0 is 1e-13", "true");
    gives("(1 / 3) * 0 is 1e-11", "false");
    gives("20 °C + 1 K / 3 is 20.3333333333 °C", "true");
  });
  it("order agrees with that: `<` and `>` are false and `<=` `>=` true for equal values, and `within` includes its ends", () => {
    gives("1 / 3 < 0.33333333334", "false");
    gives("1 / 3 > 0.33333333332", "false");
    gives("1 / 3 <= 0.33333333332", "true");
    gives("1 / 3 >= 0.33333333334", "true");
    gives("1 / 3 within 0.33333333334 to 1", "true");
    gives("25 °C within 25 °C to 30 °C", "true");
    gives("30 °C within 25 °C to 30 °C", "true");
    gives("31 °C within 25 °C to 30 °C", "false");
  });
  it("text is compared without capitals and spare blanks, and has no order", () => {
    gives('s is "juniper "', "true");
    gives('" a  b" is "A B"', "true");
    gives('"ab" is "a b"', "false");
    fails('"a" < "b"', "order");
    fails('"a" within "a" to "b"', "order");
  });
  it("different kinds are a fault, not false", () => {
    fails("1 L is 1 kg");
    fails('"a" is 1');
    fails("true is 1");
    fails("2026-01-01 is 1");
    fails('2026-01-01 is "2026-01-01"');
  });
});

describe("blank, and, or, not", () => {
  it("`blank` is a gap on purpose, and `is blank` the only test that answers for one", () => {
    reads(
      "set got = blank in mL\nset a = got is blank\nset b = got is not blank\nset c = got is 3 mL",
      "got=-",
      "a=true",
      "b=false",
      "c=-",
    );
    gives("a is blank", "false");
    gives("t.`bay leaf`.strength is blank", "true");
    lists("t.strength is blank", "false", "true");
    fails("1 / 0 is blank");
  });
  it("a gap or fault stays one unless the other side decides", () => {
    gives("false and blank", "false");
    gives("blank and false", "false");
    waits("blank and true");
    waits("true and blank");
    gives("true or blank", "true");
    gives("blank or true", "true");
    waits("blank or false");
    waits("not blank");
    fails("1 / 0 > 1 and true");
    fails("1 / 0 > 1 or true");
  });
  it("the right side is skipped when the left decides", () => {
    gives("false and 1 / 0 > 1", "false");
    gives("true or 1 / 0 > 1", "true");
    fails("true and 1 / 0 > 1");
  });
  it("they take true or false only", () => {
    fails("1 and true", "true or false");
    fails("[1] and true");
    fails("not 1", "true or false");
  });
});

describe("if", () => {
  it("works out one branch", () => {
    gives("if true then 1 else 1 / 0", "1");
    gives("if false then 1 / 0 else 2", "2");
  });
  it("has branches of one kind, as far as the other one is a constant", () => {
    fails("if true then 1 L else 1 g", "volume", "mass");
    fails("if true then 1 g + 1 g else 1 L");
    fails('if true then "a" else 1', "if");
    fails("if true then 2026-01-01 else 1");
    fails("if false then true else 1");
    fails('if a > 1 L then a else "none"');
    gives("if true then 1 L else blank", "1 L");
    gives("if true then 1 % else 0.5", "1 %");
  });
  it("needs its `else`, and a condition that is true or false; a gap makes a gap", () => {
    fails("if true then 1", "else");
    fails("if 1 then 2 else 3", "true or false");
    waits("if blank then 1 else 2");
  });
});

describe("lists", () => {
  it("are flat, of one kind, in the unit of the first entry", () => {
    lists("[[1, 2], [3]]", "1", "2", "3");
    lists("[500 mL, 1 L]", "500 mL", "1000 mL");
    fails("[1 L, 2 g]");
    fails('[1, "a"]');
  });
  it("are worked with entry by entry, and a single value repeats", () => {
    lists("[1, 2] * [3, 4]", "3", "8");
    lists("[1, 2] * 3", "3", "6");
    lists("3 - [1, 2]", "2", "1");
    lists("sqrt([4, 9])", "2", "3");
    lists("by_mass([40 %vol, 50 %vol]) > 40 %mas", "false", "true");
  });
  it("must have one length, and the same rows when they come from tables", () => {
    fails("[1 L, 2 L] * [1, 2, 3]", "2 entries and 3");
    const two = telling(
      "table a\n| n | x |\n| r | 1 |\n| s | 2 |\ntable b\n| n | x |\n| q | 3 |\n| s | 4 |\ntable c\n| n | x |\n| r | 5 |\n| s | 6 |",
    );
    two.fails("a.x + b.x", "pick");
    two.lists("a.x + [10, 20]", "11", "22");
    two.lists("a.x + pick(c.x, a.n)", "6", "8");
  });
  it("keep a gap or fault of one entry in its place", () => {
    lists("[1, blank, 1 / 0, 4] + 1", "2", "-", "!", "5");
  });
  it("of records give lists of their parts", () => {
    lists("let_down([1 L, 2 L], 96 %vol, to: 48 %vol).total > 3 L", "false", "true");
    gives("count(distil(1 L, 40 %vol, 60 mbar, take: [100 mL, 200 mL]).taken.volume)", "2");
  });
});

describe("ranges", () => {
  it("count from A by C, with B when it is met exactly", () => {
    lists("10 mbar to 40 mbar step 10 mbar", "10 mbar", "20 mbar", "30 mbar", "40 mbar");
    lists("1 to 2 step 0.3", "1", "1.3", "1.6", "1.9");
    lists("0.1 to 0.3 step 0.1", "0.1", "0.2", "0.3");
    lists("4 to 1 step -1.5", "4", "2.5", "1");
  });
  it("without a step count whole plain numbers only", () => {
    lists("2 to 4", "2", "3", "4");
    fails("1 L to 2 L", "step");
    fails("1.5 to 3", "step");
  });
  it("need a step that points from A to B and is not 0", () => {
    fails("1 to 4 step -1", "sign");
    fails("4 to 1 step 1", "sign");
    fails("1 to 4 step 0", "0");
  });
});

describe("where", () => {
  it("works its condition out in each row of the list's table, columns first", () => {
    lists('t.volume where item is "juniper"', "2400 mL");
    lists("t.volume where cost > 10 GBP", "2400 mL");
    lists("t.volume where foot.cost > cost * 2", "350 mL");
    lists("t.volume where volume > a / jars", "2400 mL");
    lists("t.volume * 2 where volume > 1 L", "4800 mL");
    gives(
      "find strength from 0 to 4000 so that sum(t.volume where strength > 50 %vol) / 1 mL is strength",
      "2400",
    );
  });
  it("finds the table also through values, definitions and arguments", () => {
    const { lists, gives, fails } = telling(
      "table t\n| n | x | w |\n| r | 1 | 5 |\n| s | 2 | 6 |\nset v = t.x * 2\nset u = t\ndefine big(q) = sum(q.x where x > 1)\ndefine heavy(q) = q where w > 5\ndefine scaled(k) = t.x * k\nset x = 100",
    );
    lists("v where w > 5", "4");
    lists("u.x where w > 5", "2");
    gives("big(t)", "2");
    gives("big(u)", "2");
    lists("heavy(t.x)", "2");
    lists("heavy(v)", "4");
    lists("scaled(10) where w > 5", "20");
    fails("big(3)");
    fails("v where nosuch > 5", "nosuch");
  });
  it("takes a whole column of true and false of the same rows too", () => {
    lists("t.volume where t.volume > 1 L", "2400 mL");
    lists("(t.volume where price > 0 GBP/L) where t.volume < 1 L", "350 mL");
  });
  it("of a list without a table takes a list of true and false", () => {
    lists("[1, 2, 3] where [true, false, true]", "1", "3");
    lists("[1, 2, 3] where [1, 2, 3] > 1", "2", "3");
    fails("[1, 2] where [true]");
    fails("[1, 2] where true");
  });
  it("leaves a row out, with a note, whose condition is not known", () => {
    gives("sum(t.volume where strength > 50 %vol)", "2400 mL", "1 row left out, its condition is not known");
    gives("count(t.volume where before.volume > 1 L)", "1", "1 row left out");
  });
});

describe("totals", () => {
  it("skip gaps and say how many", () => {
    gives("sum([1, blank, 3])", "4", "1 of 3 is blank");
    gives("mean(t.strength)", "61.2 %vol", "1 of 2 is blank");
    gives("count([1, blank, blank])", "1", "2 of 3 are blank");
    gives("smallest([blank, 2])", "2", "1 of 2");
    gives("largest([2, blank])", "2", "1 of 2");
    gives("median([1, 2, blank, 3])", "2", "1 of 4");
    gives("standard_deviation([1, 2, blank, 3])", "1", "1 of 4");
    givesQuietly("sum([1, 2])", "3");
  });
  it("of blanks alone are a gap", () => {
    for (const total of "sum mean smallest largest count median standard_deviation".split(" "))
      waits(`${total}([blank, blank])`);
  });
  it("of nothing selected are 0 for sum and count, else a gap", () => {
    gives("sum(t.volume where volume > 10 L)", "0 mL");
    gives("count(t.volume where volume > 10 L)", "0");
    for (const total of "mean smallest largest median standard_deviation".split(" "))
      waits(`${total}(t.volume where volume > 10 L)`);
  });
  it("with a fault in an entry are that fault", () => {
    for (const total of "sum mean smallest largest count median standard_deviation".split(" "))
      fails(`${total}([1, 1 / 0])`, "divided by 0");
  });
});

describe("lists that belong together", () => {
  const filled = (rows: string) => telling(`table t\n| n | v (L) | s (%vol) | on (date) |\n${rows}`);
  it("skip a row that is blank in all of them", () => {
    filled("| r | 1 | 40 | |\n| s | | | |\n| u | 1 | 40 | |").gives("marry(t.v, t.s).pure_volume", "0.8 L");
  });
  it("are a gap that names the cell when a row is filled in part", () => {
    filled("| r | 1 | 40 | |\n| s | 2 | | |").waits("marry(t.v, t.s)", "s has a volume but no strength yet");
    filled("| r | 1 | 40 | |\n| s | | 50 | |").waits("marry(t.v, t.s)", "s has a strength but no volume yet");
    waits("marry(t.volume, t.strength)", "bay leaf has a volume but no strength yet");
    filled("| r | 1 | | 2026-01-01 |\n| s | 2 | | 2026-01-02 |\n| u | 3 | | |").waits(
      "drift(t.v, by: t.on)",
      "u",
    );
  });
});

describe("find", () => {
  it("finds the root in its bracket, whichever way it runs", () => {
    gives("find x from 1 to 2 so that x^2 is 2", "1.4142");
    gives("find x from 2 to 1 so that x^2 is 2", "1.4142");
    gives("find x from 1 L to 2000 mL so that x * 2 is 3 L", "1.5 L");
    gives("find x from 20 °C to 60 °C so that boils_at(60 mbar) is x", "36.159 °C");
    gives("find x from -2 to 2 so that x^2 is 0", "0");
  });
  it("tells both ends when there is no sign change", () => {
    fails("find x from 2 to 3 so that x^2 is 2", "at 2 it is 2 above", "at 3 it is 7 above");
  });
  it("tells where there is more than one, and to narrow the bracket", () => {
    fails(
      "find x from 0 to 10 so that x^2 - 5 * x is -6",
      "between 1.875 and 2.1875",
      "between 2.8125 and 3.125",
      "Narrow",
    );
    fails("find x from -2 to 2 so that x^2 is 1", "-1; 1");
  });
  it("passes over trials outside a function's range, with a note", () => {
    gives("find x from 0 to 1 so that sqrt(x - 0.5) is 0.1", "0.51", "16 of 33 trials");
    fails("find p from 0.0001 mbar to 0.001 mbar so that boils_at(p) is 30 °C");
  });
  it("takes no jump for a root", () => {
    fails("find x from 0 to 2 so that (if x > 1 then 1 else 0) is 0.5", "jumps");
  });
  it("recalculates what depends on a `set` that is a plain quantity, which itself stays as it is", () => {
    const { gives, lists } = telling(
      "set pull = 60 mbar\nset warm = boils_at(pull)\ndefine twice(x) = x * 2\nset p = find pull from 20 mbar to 200 mbar so that warm is 40 °C\ntable t\n| n | x |\n| r | 1 |\n| s | 2 |\ncolumn y = x * pull\ncolumn best = find pull from 1 mbar to 90 mbar so that y is x * 2 mbar",
    );
    gives("p", book.ask("pressure_for(40 °C) in mbar").text);
    gives("pull", "60 mbar");
    gives("warm", "36.159 °C");
    lists("t.best", "2 mbar", "2 mbar");
    gives("find pull from 20 mbar to 200 mbar so that t.r.y + t.s.y is 300 mbar", "100 mbar");
    gives("find pull from 20 mbar to 200 mbar so that twice(pull) is 100 mbar", "50 mbar");
  });
  it("of a name that is computed, a text or a table is a new variable", () => {
    gives("find s from 1 to 2 so that s is 1.5", "1.5");
    gives("find t from 1 to 2 so that t is 1.5", "1.5");
    const computed = telling("set a = 2 * 3\nset b = a + 1");
    computed.fails("find a from 0 to 5 so that b is 3", "at 0 it is 4 above");
    computed.gives("find a from 0 to 5 so that a is 3", "3");
  });
  it("stands twice, one inside the other, and no deeper", () => {
    gives("find x from 0 to 4 so that (find y from 0 to 10 so that y is x * 2) is 3", "1.5");
    const two = telling(
      "set a = 1 g\nset b = 1 g\nset s = a + b\nset best = find a from 0 g to 10 g so that s is 5 g",
    );
    two.gives("best", "4 g");
    two.gives("find b from 0 g to 4 g so that best is 3 g", "2 g");
    fails(
      "find x from 0 to 4 so that (find y from 0 to 10 so that (find z from 0 to 20 so that z is y) is x * 2) is 3",
      "inside a `find`",
    );
  });
  it("wants a goal with `is`, two ends of one kind, and room", () => {
    fails("find x from 1 to 2 so that x > 1", "is");
    fails("find x from 1 to 2 so that x within 1 to 2", "is");
    fails("find x from 1 L to 2 g so that x is 1 L");
    fails("find x from 1 to 1 so that x is 1", "same");
    waits("find x from blank to 2 so that x is 1");
    waits("find x from 1 to 2 so that x is blank");
  });
});

describe("what stops a formula", () => {
  const stopped = telling("set got = blank in mL\nset list = [1 mL, 2 mL]\nset bad = 1 g + 1 L");
  it("is the gap or fault that its condition or its bound comes to", () => {
    stopped.waits("list where got > 1 mL", "needs got");
    stopped.waits("1 mL to got step 1 mL", "needs got");
    stopped.fails("list where bad > 1 mL", "do not add");
  });
  it("is a bound or a step that is no number", () => {
    for (const formula of ['1 to "x"', '"x" to 3', '1 mL to 3 mL step "x"', "1 to 2026-02-03"])
      stopped.fails(formula, "counts between two numbers");
  });
  it("of a list is the fault of its first entry that has one", () => {
    const asked = stopped.book.ask("[1 mL, 1 g + 1 L]");
    expect([asked.state, asked.text]).toEqual(["fault", "2 entries"]);
    expect(asked.message).toContain("do not add");
  });
});

describe("dates", () => {
  it("less one another are days, exactly; with whole days a date", () => {
    givesQuietly("2026-02-24 - 2026-02-03", "21 d");
    gives("2026-02-24 + 5 d", "2026-03-01");
    gives("5 d + 2026-02-24", "2026-03-01");
    fails("5 d - 2026-02-24", "date + days");
    gives("2026-02-24 - 24 h", "2026-02-23");
    gives("2024-02-28 + 1 d", "2024-02-29");
    gives("2026-02-24 + 3 * (1 d / 3)", "2026-02-25");
    lists("t.on - 2026-02-01", "2 d", "23 d");
  });
  it("have an order; all else is a fault", () => {
    gives("2026-02-24 > 2026-02-03", "true");
    gives("2026-02-24 is 2026-02-24", "true");
    gives("2026-02-24 within 2026-02-01 to 2026-03-01", "true");
    fails("2026-02-24 + 1");
    fails("2026-02-24 + 1.5 d", "whole");
    fails("2026-02-24 * 2");
    fails("2026-02-24 + 2026-02-24");
    fails("-2026-02-24");
    fails("mean(t.on)");
    fails("2026-01-01 to 2026-01-05 step 1 d");
  });
  it("in another form are a fault with the form to choose", () => {
    fails("3.2.2026", "2026-02-03", "2026-03-02");
    const book = openBook("table t\n| n | d |\n| r | 3.2.2026 |");
    expect(book.messages[0]!.fixes?.map((f) => f.edits[0]!.text)).toEqual(["2026-02-03", "2026-03-02"]);
  });
});

describe("arguments", () => {
  it("that are required come by place or label, optional ones and goals by label only", () => {
    gives("let_down(1 L, 96 %vol, to: 40 %vol).add", "1.4705 L");
    gives("let_down(to: 40 %vol, strength: 96 %vol, volume: 1 L).add", "1.4705 L");
    fails("let_down(1 L, 96 %vol, 40 %vol)", "to: …");
    fails("boils_at(60 mbar, 40 %vol)", "strength: …");
  });
  it("by place stand before those by label, each once, under a known label", () => {
    fails("let_down(1 L, to: 40 %vol, 96 %vol)", "label");
    fails("let_down(1 L, 96 %vol, to: 40 %vol, to: 50 %vol)", "twice");
    fails("let_down(1 L, volume: 2 L, strength: 96 %vol, to: 40 %vol)", "twice");
    fails("boils_at(60 mbar, strenght: 40 %vol)", "strength");
    fails("boils_at()", "pressure");
  });
});

describe("whole numbers", () => {
  it("an approximate value within 1e-9 of a whole number counts as it", () => {
    gives("whole(0.3 L / 0.1 L)", "3");
    gives("whole((1 / 3) * 9)", "3");
    gives("whole_up((1 / 3) * 9)", "3");
    gives("whole_up(0.3 L / 0.1 L)", "3");
    gives("whole(2.9999999999 * 1)", "2");
    gives("round_to((1 / 3) * 0.45, 0.1)", "0.2");
    gives("2026-01-01 + (1 / 3) * 3 * 1 d", "2026-01-02");
  });
});
