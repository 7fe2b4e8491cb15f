import { describe, expect, it } from "vitest";
import { SMALL } from "./small-book";
import { faults, reads, telling } from "./telling";

const { gives, fails, lists } = telling(SMALL);

describe("tokens", () => {
  it("four, two and two digits with dashes are a date, never a subtraction, and an impossible one is a fault", () => {
    gives("2026-02-03", "2026-02-03");
    fails("2026-2-3", "no way to write a date");
    gives("2026 - 2 - 3", "2021");
    fails("2026-02-30", "no day");
    fails("2026-13-01", "no day");
    fails("2025-02-29", "no day");
    gives("2024-02-29", "2024-02-29");
  });
  it("a number is digits with a point and an exponent; other ways of writing it are faults with the fix", () => {
    gives("1e3", "1000");
    gives("1E-3 L", "0.001 L");
    gives("1.5e+2", "150");
    fails(".5", "0.5");
    fails("5.", "Write 5");
    fails("½", "0.5");
    fails("1 000", "1000");
    fails("1_000", "1000");
  });
  it("digits joined by a comma without a blank are a fault that offers both readings", () => {
    fails("1,5 L", "1.5", "1, 5");
    fails("[1,2]", "1.2", "1, 2");
    lists("[1, 2]", "1", "2");
    lists("[1 L,2 L]", "1 L", "2 L");
  });
  it("a unit stands only behind a number or `in`, so that its letters are free as names", () => {
    reads("set L = 3\nset h = L * 2\nset g = 2 L / h", "L=3", "h=6", "g=0.33333 L");
    fails("a * L", "unit");
  });
  it("a name begins with a letter or a low line, capitals count, and backticks hold anything else", () => {
    reads("set _a1 = 1\nset B = 2\nset b = 3\nset `2 + x` = B + b", "_a1=1", "B=2", "b=3", "`2 + x`=5");
    reads("set äpfel = 1\nset 数 = 2", "äpfel=1", "数=2");
    fails("``", "backticks");
    fails("`a", "backtick");
  });
  it("a part behind a dot may be reserved, in backticks, digits with letters, or a date", () => {
    const runs = telling(
      "table runs\n| run | to | 2b |\n| 2a | 1 | 4 |\n| 2026-02-03 | 2 | 5 |\n| 1 | 3 | 6 |\n| to | 7 | 8 |",
    );
    runs.gives("runs.2a.to", "1");
    runs.gives("runs.2026-02-03.2b", "5");
    runs.gives("runs.1.to", "3");
    runs.gives("runs.`2a`.`2b`", "4");
    runs.gives("runs.1 .2b", "6");
  });
  it("text has five escapes, holds formulas in braces, and texts nest in them", () => {
    gives('"\\" \\\\ \\{ \\} \\|"', '" \\ { } |');
    gives('"{if s is "Juniper" then 1 else 2}"', "1");
    gives('"a {"b {"c"} {1 + 1}"} d"', "a b c 2 d");
    fails("“x”", "straight");
    fails('"\\n"');
    fails('"{1"');
    fails('"1}"');
  });
  it("a mark stands only in `seen`", () => {
    fails("@12345678", "mark");
    faults("set a = 1\nseen a @123", [2]);
  });
  it("other ways of writing an operator are taken, or are faults with the fix", () => {
    gives("50 +- 1 g", "50.0 ± 1.0 g");
    gives("3 − 2", "1");
    gives("3 × 2", "6");
    gives("3 · 2", "6");
    gives("3 ÷ 2", "1.5");
    gives("a ≤ 3 L", "true");
    gives("a ≥ 3 L", "false");
    gives("a ≠ 3 L", "true");
    fails("a == 3 L", "`is`");
    fails("a != 3 L", "`is not`");
    fails("a <> 3 L", "`is not`");
    fails("3 – 2", "`-`");
  });
});

describe("units in the text", () => {
  it("a unit is letters, a percent sign, a degree sign with letters, or per mille", () => {
    gives("2 us_gal in L", "7.570823568 L");
    gives("3 m3", "3 m3");
    gives("50 % vol", "50 %vol");
    gives("50 % mas", "50 %mas");
    gives("10 ‰ in %", "1 %");
    gives("20 ºC", "20 °C");
    gives("20 ˚C", "20 °C");
    gives("20 degC", "20 °C");
  });
  it("a word of a unit may have a whole exponent", () => {
    gives("2 m^3", "2 m3");
    gives("2 m³", "2 m3");
    gives("5 s^-1", "5 s^-1");
    gives("5 s⁻¹ is 5 s^-1", "true");
    fails("3 L^1.5");
  });
  it("words join with a stroke, a star or a point without blanks, read from the left", () => {
    gives("4.2 kJ/kg/K * 2 kg * 10 K", "84 kJ");
    gives("4.2 kJ·kg is 4.2 kJ*kg", "true");
    gives("6 W*h/W", "6 h");
  });
  it("behind a digit the unit wins, and what cannot be one divides", () => {
    fails("2 L/jars", "jars", "2 L / jars");
    gives("2 L / jars", "0.5 L");
    gives("2 L/4", "0.5 L");
  });
  it("reserved and clause words are never units", () => {
    reads("set b = 3 L\ntry 1 L to 4 L", "b=3 L");
    gives("if 2 < 3 then 4 else 5", "4");
    lists("1 to 3 step 2", "1", "3");
    gives("3 is 3 and 2 < 4", "true");
  });
  it("a number before an unknown word is a fault with a near unit, or a multiplication", () => {
    fails("2 jars", "* jars");
    fails("2 mbra", "mbar");
    fails("2 Brix", "°Bx");
  });
  it("a fraction written tight before a unit is a fault that offers both readings", () => {
    fails("1/2 L", "0.5 L", "1 / 2 L");
    gives("1 / 2 L", "0.5 L^-1");
  });
  it("a unit behind a bracket is a fault that tells `in` and `* 1 L`", () => {
    fails("(1 + 2) L", "in L", "* 1 L");
    gives("(1 + 2) * 1 L", "3 L");
    gives("(a + 1 L) in mL", "3400 mL");
  });
});

describe("reserved words", () => {
  const RESERVED =
    "and or not is in within to step if then else where find from so that true false blank".split(" ");
  it("need backticks as a name, and none in a heading, behind a dot or as a label", () => {
    for (const word of RESERVED) {
      reads(`set \`${word}\` = 1\nset b = \`${word}\` + 1`, `\`${word}\`=1`, "b=2");
      const table = telling(`table t\n| n | ${word} |\n| r | 1 |`);
      table.gives(`t.r.${word}`, "1");
      table.gives(`t.${word}.r`, "1");
      telling(`define f(\`${word}\`) = \`${word}\` * 2`).gives(`f(${word}: 3)`, "6");
      expect(faults(`set ${word} = 1`, [1, word]).text).toContain(word);
    }
  });
  it("clause words are free as names", () => {
    for (const word of "try ask wait expect by for mark".split(" "))
      reads(`set ${word} = 1\nset b = ${word} + 1`, `${word}=1`, "b=2");
    reads("set by = 2\nset try = 1 try 0 to by", "by=2", "try=1");
  });
  it("nothing multiplies by standing side by side", () => {
    fails("2 (3)", "*");
    fails("jars (3)", "*");
    fails("jars a", "*");
    fails("(1) (2)", "*");
  });
});
