import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { SMALL } from "./small-book";
import { faults, faultsOf, reads, telling } from "./telling";

const { gives, fails, lists } = telling(SMALL);

describe("what binds tighter", () => {
  it("a sign before a lone quantity belongs to it", () => {
    gives("-10 °C", "-10 °C");
    gives("-10 ± 2 °C", "-10.0 ± 2.0 °C");
    gives("- 10 °C in °F", "14 °F");
    reads("table t\n| n | x (°C) |\n| r | -10 |\n| q | +5 ± 1 |", "t.r.x=-10 °C", "t.q.x=5.0 ± 1.0 °C");
  });
  it("a power binds before the sign and groups from the right", () => {
    gives("-2^2", "-4");
    gives("2^3^2", "512");
    gives("2^-1", "0.5");
    gives("2^-2^2", "0.0625");
    gives("2 * 3^2", "18");
  });
  it("an exponent at a unit belongs to the unit", () => {
    gives("2 m^3", "2 m3");
    gives("(2 m)^3", "8 m3");
  });
  it("signs may stand one behind another", () => {
    gives("--2", "2");
    gives("3 - -2", "5");
    gives("2 * -3", "-6");
    gives("-+2", "-2");
  });
  it("products come before sums, and both are read from the left", () => {
    gives("1 + 2 * 3", "7");
    gives("8 / 4 / 2", "1");
    gives("8 - 4 - 2", "2");
    gives("8 / 4 * 2", "4");
  });
  it("`in` binds looser than a sum and tighter than a comparison", () => {
    gives("a + 1 L in mL", "3400 mL");
    gives("a + 1 L in mL > 3 L", "true");
    gives("3 L < a + 1 L in mL", "true");
  });
  it("behind `in` only a comparison, a word or a bracket follows", () => {
    fails("a in mL / 2", "in mL", "brackets");
    fails("a in mL + 1 L", "in mL");
    fails("a in mL in L", "second");
    gives("(a in mL) / 2", "1200 mL");
    gives("a in mL is 2400 mL and true", "true");
    gives("if a in mL > 1 L then a in mL else a in L", "2400 mL");
  });
  it("`if` and `find` reach as far right as they can, and need brackets in arithmetic", () => {
    gives("if true then 1 else 2 + 3", "1");
    gives("if false then 1 else 2 + 3", "5");
    fails("1 + if true then 1 else 2", "if");
    gives("1 + (if true then 1 else 2)", "2");
    gives("(find x from 0 to 4 so that x * 2 is 3) + 1", "2.5");
    fails("1 + find x from 0 to 4 so that x is 2");
    gives("find x from 0 to 10 so that x is (if true then 3 else 4)", "3");
  });
  it("a comparison of three is a fault that offers `within`", () => {
    fails("1 < jars < 3", "jars within 1 to 3");
    fails("1 < 2 is true");
  });
  it("`not` binds looser than a comparison, `and` tighter than `or`", () => {
    gives("not a is 2.4 L", "false");
    gives("not not true", "true");
    gives("true or false and false", "true");
    gives("not true or true", "true");
  });
  it("`to` makes a list loosest of the operators", () => {
    lists("1 + 1 to 2 * 2", "2", "3", "4");
    lists("0 to 1 step 1 / 4", "0", "0.25", "0.5", "0.75", "1");
  });
  it("`where` binds loosest, once in each argument or bracket", () => {
    lists("[1, 2, 3] * 2 where [true, false, true]", "2", "6");
    gives("sum(t.volume where strength is blank) + 1 L", "1350 mL");
    gives("sum([1, 2] where [true, false]) + sum([3, 4] where [false, true])", "5");
    lists("([1, 2, 3] where [true, true, false]) where [false, true]", "2");
    fails("[1, 2] where [true, true] where [true, false]", "once");
  });
  it("labels exist only directly behind the bracket or a comma of a call", () => {
    const book = openBook('define f(x) = x > 1\nset b = 2\ncheck f(b) : "fine"\ncheck (b > 1) : "good"');
    expect(faultsOf(book)).toEqual([]);
    expect(book.items.flatMap((i) => (i.type === "check" ? [i.text, i.state] : []))).toEqual([
      "fine",
      "met",
      "good",
      "met",
    ]);
    fails("(x: 1)", ":");
    fails("[x: 1]", ":");
  });
});

describe("statements", () => {
  it("every one is read in its whole form", () => {
    const text = `language 1
book "b"
about "about {x} is plain" # never mind
part "p"`;
    faults(text, [3]);
    const book = reads(
      `book "b"
about "words"
part "p"
set x = 2 L try 1 L to 3 L step 0.5 L
set y = "one" try ["one", "two"]
define f(u, v) = u + v
table t "Title"
| n | x (mL) | on (date) | w (text) | c (number) |
|---|--------|-----------|----------|------------|
| r | 1 | 2026-01-01 | 3 of | 4 |
column z = x * 2
foot z = sum(z)
set got = blank in mL
check x > 1 L
check x > 1 L : "why"
chart "one" : bars t.x by t.n
chart "two" : line t.x, t.z by t.on
chart "three" : dots t.x by t.z
chart "four" : curve u * 2, u * 3 for u from 1 to 2 mark 1.5
step "s" wait 40 min ask got in mL expect 400 mL ± 10 mL ask t.x
seen x @00000000 "remark"`,
      "x=2 L",
      "y=one",
      "t.r.x=1 mL",
      "t.r.on=2026-01-01",
      "t.r.w=3 of",
      "t.r.c=4",
      "t.r.z=2 mL",
      "t.foot.z=2 mL",
      "got=-",
    );
    expect(book.items.map((i) => i.type)).toEqual(
      "book about part value value define table value check check chart chart chart chart step".split(" "),
    );
  });
  it("a bar in a cell is escaped, also in its text", () => {
    reads(
      'table t\n| n | x (text) | y |\n| a \\| b | c\\|d | "e \\| f" |',
      "t.`a | b`.x=c|d",
      "t.`a | b`.y=e | f",
    );
  });
});
