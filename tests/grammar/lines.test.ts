import { describe, expect, it } from "vitest";
import { parseBook, type Statement } from "../../grammar";
import { kinds, told } from "./notation";

const texts = (text: string): readonly string[] =>
  parseBook(text).statements.map(({ at, length }) => text.slice(at, at + length));

describe("where a statement begins and ends", () => {
  it("is one line, its comment left out", () => {
    const [statement] = parseBook("  set a = 3   # half a jar \n").statements;
    expect(statement).toMatchObject({ at: 2, length: 9, line: 1, comment: "half a jar" });
  });
  it("goes on while a round or square bracket is open", () => {
    expect(texts("set a = f(1,\n2\n)\nset b = [1 L,\n\t2 L]")).toEqual([
      "set a = f(1,\n2\n)",
      "set b = [1 L,\n\t2 L]",
    ]);
  });
  it("goes on inside a bracket even where no line ends or begins with a sign", () => {
    for (const inside of ["(1 L\n2 L)", "[1 L\n2 L]", "f(a\n# remark\nb)"])
      expect(texts(`set a = ${inside}\nset b = 1`)).toEqual([`set a = ${inside}`, "set b = 1"]);
  });
  it("goes on behind an operator, a comma, a colon, an equals sign or a reserved word", () => {
    for (const end of ["3 +", "3 *", "a and", "not", "1 to", "a in", "a <", "if", "3 ±", "3 ×", "a."]) {
      const rest = end === "a in" ? "mL" : "b";
      expect(kinds(`set a = ${end}\n${rest}\nset c = 1`), end).toHaveLength(2);
    }
    expect(texts("set a =\n3")).toHaveLength(1);
    expect(texts('check a :\n"x"')).toHaveLength(1);
  });
  it("goes on when the next line begins with one of those, a clause word or a closing bracket", () => {
    for (const next of [
      "+ 3",
      "* 3",
      "and b",
      "where c",
      "in mL",
      "to 3",
      "step 2",
      ", 3",
      "= 3",
      ": 3",
      ") + 1",
      "try 3",
      "by x",
    ])
      expect(kinds(`set a = 1\n${next}\nset c = 1`), next).toHaveLength(2);
    expect(texts('step "x"\n  wait 3 min\n  ask a')).toHaveLength(1);
  });
  it("ends behind a value word, a part that looks reserved, and a text or name that ends in an operator", () => {
    for (const end of ["true", "false", "blank", "a.to", "a.in", '"x +"', "`x +`"])
      expect(kinds(`set a = ${end}\nhello`), end).toEqual(["set a", "unread"]);
    expect(kinds("set a = 3\ntrue")).toHaveLength(2);
    expect(kinds('set a = "x (\nhello')).toHaveLength(2);
  });
  it("lets comment lines stand in between", () => {
    const text = "set a = 1 +\n# a remark (\n  # and another\n 2 # last";
    expect(parseBook(text).statements).toMatchObject([
      { length: text.length - " # last".length, comment: "last" },
    ]);
    expect(kinds("set a = 1\n# remark\n + 2\nset b = 1")).toEqual(["set a", "set b"]);
    expect(kinds("set a = 1\n# remark\n\n + 2")).toHaveLength(2);
  });
  it("always ends at a blank line, at a row and at the end of the file", () => {
    expect(kinds("set a = (1 +\n\nset b = 2")).toEqual(["unread set a", "set b"]);
    expect(kinds("table t\n| a |\nset a = (1 +\n| x |")[2]).toBe("unread set a");
    expect(kinds("set a = (1 +")).toEqual(["unread set a"]);
    expect(kinds("set a = (1 +\n \t \nset b = 2")).toEqual(["unread set a", "set b"]);
  });
  it("always ends before a line that is plainly a new statement", () => {
    const plain = [
      "set b = 1",
      "set `b c` = 1",
      "define f(x) = x",
      'book "x"',
      'about "x"',
      'part "x"',
      'chart "x" : bars a by b',
      'step "x"',
      "check b",
      "seen b @00000000",
      "language 1",
      "table u",
      "column c = 1",
      "foot c = 1",
    ];
    for (const line of plain) {
      const { statements } = parseBook(`set a = f(1,\n${line}\n`);
      expect(statements[0]!.node, line).toMatchObject({ type: "unread", name: "a" });
      expect(statements[1]!.node.type, line).not.toBe("unread");
      expect(statements, line).toHaveLength(2);
    }
  });
  it("does not end before a word that only looks like one", () => {
    expect(kinds("set a = f(1,\nset)\n")).toEqual(["set a"]);
    expect(kinds("set a = f(\nstep: 3)\n")).toEqual(["set a"]);
    expect(kinds("set a = f(\npart, book, about)\n")).toEqual(["set a"]);
  });
});

describe("comments", () => {
  const comment = (text: string): string | undefined => parseBook(text).statements[0]!.comment;
  it("begin outside texts, backticks and cells", () => {
    expect(comment('set a = "x # y" # z')).toBe("z");
    expect(comment("set a = `x # y` # z")).toBe("z");
    expect(comment('set a = "{f("#")}" # z')).toBe("z");
    expect(comment("set a = 3")).toBeUndefined();
    expect(comment("set a = 3 #")).toBe("");
  });
  it("stand in a row only behind the last bar", () => {
    const [, , row] = parseBook("table t\n| a | b |\n| # x | 3 | # a remark\n").statements;
    expect(row).toMatchObject({ comment: "a remark", node: { cells: [{ raw: "# x" }, { raw: "3" }] } });
  });
});

describe("line ends and marks", () => {
  it("keeps places right with carriage returns and a byte order mark", () => {
    const text = '\uFEFFbook "x"\r\nset a = 1 +\r\n 2\r\ntable t\r\n| a |\r\n| x |\r\n';
    const book = parseBook(text);
    expect(told(text)).toEqual([]);
    expect(book.statements.map((s: Statement) => [s.line, text.slice(s.at, s.at + s.length)])).toEqual([
      [1, 'book "x"'],
      [2, "set a = 1 +\r\n 2"],
      [4, "table t"],
      [5, "| a |"],
      [6, "| x |"],
    ]);
  });
  it("reads a book of blanks and comments as one without statements", () => {
    for (const text of ["", "\n", "\r\n\r\n", "   \t\u00A0\n# a\n  # b", "\uFEFF"]) {
      expect(parseBook(text)).toMatchObject({ text, statements: [], tables: [], messages: [] });
    }
  });
  it("tells a character that cannot be seen wherever it stands, once each", () => {
    expect(told('set a = 1\n# x\u200By\nset b\u202E = 2\nset c = "z\u0007"')).toEqual([
      "book character-unseen",
      "3 character-unseen \u202E",
      "4 character-unseen \u0007",
    ]);
    expect(told("set a = 1 +\n# x\u200By\n 2")).toEqual(["1 character-unseen \u200B"]);
    expect(told("set `a\u200Bb` = 1")).toEqual(["1 character-unseen \u200B"]);
    expect(told("table t\n| a\u200B |\n| x\u2066 |")).toEqual([
      "2 character-unseen \u200B",
      "3 character-unseen \u2066",
    ]);
    expect(told("set a = 1\rset b = 2")).toEqual(["1 character-unseen \r"]);
  });
});

describe("recovery", () => {
  it("never lets a fault in one statement spoil the next", () => {
    const text = 'set a = (\nset b = 1 ==\nset c = "x\nset d = 4\ncheck d >\nset e = 5';
    expect(kinds(text)).toEqual([
      "unread set a",
      "unread set b",
      "unread set c",
      "set d",
      "unread check",
      "set e",
    ]);
    expect(told(text)).toHaveLength(4);
  });
  it("reports several faults of a file, each once, in the order of the text", () => {
    expect(told("set a = 1 +\n\nset b = 2 3\n\nset c = @")).toEqual([
      "1 value-missing ^",
      "3 operator-missing 2 3",
      "5 mark-form @",
    ]);
  });
});
