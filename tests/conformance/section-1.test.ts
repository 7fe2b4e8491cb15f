import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { faults, faultsOf, reads, telling, valuesOf } from "./telling";

describe("lines", () => {
  it("a byte order mark, either line end and every blank stay in the text as they are", () => {
    const text = "\ufeffset a = 1\u00a0L\r\nset b =\u2009a\t+ 1 L\nset c\u202f=\u20072\r\n";
    const book = reads(text, "a=1 L", "b=2 L", "c=2");
    expect(book.text).toBe(text);
    expect(book.edit(`${text}set d = 1`).text).toBe(`${text}set d = 1`);
  });
  it("names, units and text are compared composed", () => {
    const composed = "caf\u00e9";
    const apart = "cafe\u0301";
    reads(`set ${composed} = 2 L\nset b = ${apart} * 2`, `${composed}=2 L`, "b=4 L");
    reads(
      `set \`${apart} noir\` = 2 L\nset b = \`${composed} noir\` * 2`,
      `\`${composed} noir\`=2 L`,
      "b=4 L",
    );
    telling("").gives(`"${composed}" is "${apart}"`, "true");
    telling(`table t\n| n | x |\n| ${apart} | 3 |`).gives(`t.${composed}.x`, "3");
    telling(`table t\n| n | ${apart} |\n| r | 3 |`).gives(`t.r.${composed}`, "3");
    telling(`define f(${apart}) = ${composed} * 2`).gives("f(3)", "6");
    telling(`define f(${apart}) = ${composed} * 2`).gives(`f(${composed}: 3)`, "6");
    telling(`define ${apart}(x) = x`).gives(`${composed}(3)`, "3");
    telling(`table t\n| n | x |\n| ${composed} | 3 |`).gives(`pick(t.x, "${apart}")`, "3");
    telling("").gives(`find ${apart} from 0 to 4 so that 2 * ${composed} is 3`, "1.5");
  });
  it("control characters, turning marks and unseen blanks are faults that name the character", () => {
    faults("set a = 1 \u0007+ 2\nset b = 1", [1, "U+0007"]);
    for (const c of ["\u202a", "\u202e", "\u2066", "\u2069", "\u200b", "\ufeff", "\u2060"]) {
      const code = `U+${c.charCodeAt(0).toString(16).toUpperCase()}`;
      faults(`set a = 1 + ${c}2`, [1, code]);
      faults(`set a = "x${c}y"`, [1, code]);
      faults(`set a = 1 # x${c}y`, [1, code]);
      faults(`table t\n| n | x |\n| r${c} | 1 |`, [3, code]);
      faults(`book "x${c}"`, [1, code]);
    }
    faults("set a = 1\u2028set b = 2", [1, "U+2028"]);
    // A joiner shapes letters and pictures, so text keeps it; a name, where it would hide, does not.
    reads('set a = "x\u200dy"', "a=x\u200dy");
    faults("set a\u200db = 1", [1, "U+200D"]);
  });
  it("a fault in one statement leaves the next one alone", () => {
    for (const broken of [
      "set a = (1 +",
      "set = 3",
      "set a 3",
      "nonsense here",
      "set a = 1 ]",
      'check "',
      "column x = 1",
      "table",
      "define f( = 2",
      "chart",
      "| 1 | 2 |",
      "seen x",
      "step",
      "%",
      '"text"',
    ])
      expect(valuesOf(openBook(`${broken}\nset z = 1 L`)).at(-1), broken).toBe("z=1 L");
  });
  it("a broken statement whose name can be read makes a fault of that name, and of what depends on it", () => {
    const book = faults("set a = 1 +* 2\nset b = a + 1", [1]);
    expect(valuesOf(book)).toEqual(["a=!", "b=!"]);
    expect(book.answers()[1]!.message).toContain("a");
    expect(book.tally.faults).toBeGreaterThan(0);
    telling("define f(x) = x +* 2").fails("f(1)", "f");
    const table = faults(
      "table t\n| n | x |\n| r | 1 |\ncolumn y = x +* 2\nfoot x = sum(x\nset a = t.r.y\nset b = t.foot.x",
      [4],
      [5],
    );
    expect(valuesOf(table)).toEqual(["t.r.x=1", "t.r.y=!", "t.foot.x=!", "a=!", "b=!"]);
    expect(table.answers()[3]!.message).toContain("needs t.r.y");
    const whole = faults("table t +\n| n | x |\n| r | 1 |\nset a = t.r.x", [1]);
    expect(valuesOf(whole)).toEqual(["t=!", "a=!"]);
    expect(whole.answers()[1]!.message).toContain("needs t");
    telling("table t\n| n | x |\n| r | 1 .5 |\n| s | 2 |").fails("sum(t.x)");
  });
  it("a comment starts at a hash, except inside text, backticks and cells", () => {
    reads('set a = "x # y" # z\nset `b # c` = 1 # d', "a=x # y", "`b # c`=1");
    reads("table t\n| n | x (text) |\n| r # 1 | a # b | # remark", "t.`r # 1`.x=a # b");
  });
  it("in a row a comment stands only after the last bar and holds no bar", () => {
    reads("table t\n| n | x | # heading\n| r | 1 | # row", "t.r.x=1");
    expect(faultsOf(openBook("table t\n| n | x |\n| r | 1 | # a | b")).length).toBe(1);
  });
});

describe("where a statement goes on", () => {
  const joined = (text: string, ...values: string[]) => reads(text, ...values);
  it("while a round or square bracket is open", () => {
    joined("set a = (1\n+ 2\n)\nset b = sum([1,\n2\n])", "a=3", "b=3");
    joined("set a = sum([1\n, 2])", "a=3");
  });
  it("after an operator, a comma, a colon or an equals sign", () => {
    for (const op of ["+", "-", "*", "/", "^"])
      reads(`set a = 4 ${op}\n  2`, `a=${{ "+": 6, "-": 2, "*": 8, "/": 2, "^": 16 }[op]}`);
    joined("set a = 50 g ±\n1 g", "a=50.0 ± 1.0 g");
    joined("set a =\n  2", "a=2");
    for (const op of ["<", "<=", ">", ">="])
      expect(faultsOf(openBook(`set a = 1 ${op}\n 2`)), op).toEqual([]);
    const book = openBook('check 1 < 2 :\n"fine"\nchart "c" :\nbars [1, 2] by ["a",\n"b"]');
    expect(faultsOf(book)).toEqual([]);
  });
  it("after a reserved word other than true, false and blank", () => {
    joined("set a = if\n1 < 2\nthen\n3\nelse\n4", "a=3");
    joined(
      "set a = true and\nfalse\nset b = not\ntrue\nset c = true or\nfalse",
      "a=false",
      "b=false",
      "c=true",
    );
    joined(
      "set a = 1 L in\nmL\nset b = 1 within\n0\nto\n2\nset c = 1 is\nnot\n2",
      "a=1000 mL",
      "b=true",
      "c=true",
    );
    joined("set a = find x from\n0 to\n4 so\nthat\n2 * x is\n3", "a=1.5");
    joined(
      "set a = sum([1, 2] where\n[true, false])\nset b = [1 to\n3 step\n1]",
      "a=1",
      "b.1=1",
      "b.2=2",
      "b.3=3",
    );
    joined("set a = true\nset b = false\nset c = blank", "a=true", "b=false", "c=-");
  });
  it("when the next line begins with an operator, a reserved word, a clause word or a closing bracket", () => {
    joined("set a = 1\n+ 2\n- 1\n* 3", "a=0");
    joined("set a = 1 L\nin mL\nset b = if true\nthen 1\nelse 2", "a=1000 mL", "b=1");
    joined("set a = 3 L\ntry 1 L\nto 4 L\nstep 1 L", "a=3 L");
    const book = openBook(
      'set got = blank in mL\nstep "Wait."\nwait 40 min\nask got\nin mL\nexpect 400 mL\n± 10 mL\nchart "c" : curve x\nfor x\nfrom 1 to 2\nmark 1.5',
    );
    expect(faultsOf(book)).toEqual([]);
    const step = book.items.find((i) => i.type === "step");
    expect(step?.wait?.text).toBe("40 min");
    expect(step?.asks[0]?.expect?.text).toContain("400");
  });
  it("over comment lines in between", () => {
    joined("set a = 1 +\n# one\n  # two\n2\nset b = 1\n# three\n+ 4", "a=3", "b=5");
    joined("set a = (1 # open\n# one\n+ 2)", "a=3");
  });
  it("but it ends at a blank line, at a row and at the end of the file", () => {
    faults("set a = (1 +\n\n2)\nset b = 1", [1], [3]);
    const row = openBook("table t\n| n | x |\ncolumn y = (x +\n| r | 1 |\nset z = 2");
    expect(valuesOf(row)).toContain("z=2");
    expect(faultsOf(row)[0]).toMatch(/^3:/u);
    faults("set a = (1 +", [1]);
  });
  it("and before a line that is plainly a new statement, so that an open bracket costs one statement", () => {
    for (const next of [
      "set b = 1",
      "define f(x) = x",
      "table t\n| n | x |",
      "check true",
      "language 1",
      'book "b"',
      'about "b"',
      'part "p"',
      'step "s"',
      'chart "c" : bars [1] by ["a"]',
    ]) {
      const met = faultsOf(openBook(`set a = (1 +\n${next}`)).filter((f) => !f.includes("language"));
      expect(met.length, `${next}: ${met.join(" / ")}`).toBe(1);
      expect(met[0]).toMatch(/^1:/u);
    }
    const column = openBook(
      "table t\n| n | x |\n| r | 1 |\ncolumn y = (x +\ncolumn z = x\nfoot x = (sum(x)\nfoot z = sum(z)",
    );
    expect(valuesOf(column)).toEqual(["t.r.x=1", "t.r.y=!", "t.r.z=1", "t.foot.x=!", "t.foot.z=1"]);
    const seen = openBook('set a = (1 +\nseen a @00000000 "x"\nset b = 1');
    expect(faultsOf(seen).length).toBe(1);
  });
});

describe("first words and the version", () => {
  it("words that begin a statement are free as names elsewhere", () => {
    reads(
      "set table = 3\nset set = table + 1\nset check = set\nset column = 1\nset language = 2\nset define = 5\nset chart = 6\nset seen = 1\nset part = 4\nset about = 2",
      "table=3",
      "set=4",
      "check=4",
      "column=1",
      "language=2",
      "define=5",
      "chart=6",
      "seen=1",
      "part=4",
      "about=2",
    );
  });
  it("the first line may state the version, and a higher one is refused politely", () => {
    reads("language 1\nset a = 1", "a=1");
    reads("# comment\n\nlanguage 1\nset a = 1", "a=1");
    faults("language 2\nset a = 1", [1, "2", "1"]);
    faults("set a = 1\nlanguage 1", [2]);
  });
  it("today and now do not exist", () => {
    telling("").fails("today", "today");
    telling("").fails("now");
    telling("").fails("today()");
  });
});
