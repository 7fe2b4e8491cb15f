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
  it("is joined by each sign that cannot end or begin one, and by no other", () => {
    const signs = "+-−–—*×·/÷^±<>=≤≥≠,:.";
    for (const sign of signs) {
      expect(texts(`set a = b ${sign}\nset c = 1`), `${sign} at the end, then a statement`).toHaveLength(2);
      expect(texts(`set a = b ${sign}\nc`), `${sign} at the end`).toHaveLength(1);
      expect(texts(`set a = b\n${sign} c`), `${sign} at the start`).toHaveLength(1);
    }
    for (const sign of "([") expect(texts(`set a = b ${sign}\nc`), sign).toHaveLength(1);
    for (const sign of ")]") expect(texts(`set a = b\n${sign} c`), sign).toHaveLength(1);
    for (const sign of ')]%°€;!&"')
      expect(texts(`set a = b ${sign}\nc`), `${sign} at the end`).toHaveLength(2);
    for (const sign of '([%°€;!&"')
      expect(texts(`set a = b\n${sign} c`), `${sign} at the start`).toHaveLength(2);
  });
  it("is joined by each reserved word at the end, by those and the clause words at the start", () => {
    const reserved = "and or not is in within to step if then else where find from so that";
    const clauses = "try ask wait expect by for mark";
    for (const word of reserved.split(" ")) {
      expect(texts(`set a = b ${word}\nc`), `${word} at the end`).toHaveLength(1);
      expect(texts(`set a = b\n${word} c`), `${word} at the start`).toHaveLength(1);
      for (const other of [
        `${word}s`,
        `x${word}`,
        `é${word}`,
        `e\u0301${word}`,
        `𝒳${word}`,
        `1${word}`,
        `_${word}`,
        `水${word}`,
      ])
        expect(texts(`set a = b ${other}\nc`), `${other} at the end`).toHaveLength(2);
      for (const other of [`${word}s`, `${word}é`, `${word}_`, `${word}1`, `x${word}`])
        expect(texts(`set a = b\n${other} c`), `${other} at the start`).toHaveLength(2);
      expect(texts(`set a = b . ${word}\nc`), `a part ${word}`).toHaveLength(2);
      expect(texts(`set a = b +${word}\nc`), `a sign and ${word}`).toHaveLength(1);
    }
    for (const word of clauses.split(" ")) {
      expect(texts(`set a = b ${word}\nc`), `${word} at the end`).toHaveLength(2);
      expect(texts(`set a = b\n${word} c`), `${word} at the start`).toHaveLength(1);
    }
    for (const word of ["true", "false", "blank"]) {
      expect(texts(`set a = ${word}\nc`), `${word} at the end`).toHaveLength(2);
      expect(texts(`set a = b\n${word} c`), `${word} at the start`).toHaveLength(2);
    }
  });
  it("counts brackets, but not those in texts, backticks and comments", () => {
    for (const [line, joined] of [
      ["set a = (", true],
      ["set a = [", true],
      ["set a = ()", false],
      ["set a = [(])", false],
      ["set a = ((1)", true],
      ["set a = )) + (", true],
      ["set a = )(1)", false],
      ['set a = "("', false],
      ['set a = "(" + (1', true],
      ['set a = "\\"(" + 1', false],
      ['set a = "\\\\" + (1', true],
      ['set a = "{"("}" + 1', false],
      ['set a = "{(}" + 1', false],
      ['set a = "{f("}")}" + 1', false],
      ['set a = "}(" + 1', false],
      ["set a = `(` + 1", false],
      ["set a = `(` + (1", true],
      ["set a = `( + 1", false],
      ['set a = "{`"(`}" + 1', false],
      ["set a = 1 # (", false],
      ["set a = (1 # )", true],
      ['set a = "x (', false],
      ['set a = "{x (', false],
    ] as const)
      expect(texts(`${line}\nx`), line).toHaveLength(joined ? 1 : 2);
  });
  it("ends before what is plainly a statement, however its words are set apart", () => {
    const begins = (line: string): boolean => texts(`set a = f(1,\n${line}`).length === 2;
    for (const line of [
      "set\tb=1",
      "Set b = 1",
      "set `b c`=1",
      "set b\u00A0= 1",
      "column c=1",
      "Column c = 1",
      "foot c = 1",
      "Foot `c` = 1",
      "define f(x)",
      "Define f (x)",
      "table é",
      "table `t`",
      "check (a)",
      "check",
      "seen",
      "seen.a",
      "language 2",
      "Language 1",
      'book"x"',
      "Book “x”",
      'about  "x"',
      "part „x”",
      'Chart "x"',
      "step ”x”",
      'Step "x"',
    ])
      expect(begins(line), line).toBe(true);
    for (const line of [
      "set b",
      "set b + 1",
      "setb = 1",
      "set 2 = 1",
      "set `b = 1",
      "SET b = 1",
      "column",
      "foot + 1",
      "define f",
      "define (x)",
      "table",
      "table + 1",
      "Table t",
      "checks(a)",
      "check_a",
      "Check a",
      "seen1",
      "seené",
      "language",
      "language x",
      "book x",
      'bookx "x"',
      'parts "x"',
      "step 3",
    ])
      expect(begins(line), line).toBe(false);
  });
  it("tells the line that it begins in, whatever stands between", () => {
    const text = "\n# x\nset a = (1 +\n# y\n2)\n\n \nset b = 1\r\ntable t\r\n| i |\r\n# z\r\n| x |";
    expect(parseBook(text).statements.map(({ line }) => line)).toEqual([3, 8, 9, 10, 12]);
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
  it("behind a row begin with their sign, directly behind a bar that is no part of a cell", () => {
    const row = (line: string): unknown => {
      const text = `table t\n| a | b |\n${line}`;
      const { at, length, comment: remark } = parseBook(text).statements[2]!;
      return [text.slice(at, at + length), remark];
    };
    expect(row("| x | 1 | # c")).toEqual(["| x | 1 |", "c"]);
    expect(row("  | x | 1 |#  c \t")).toEqual(["| x | 1 |", "c"]);
    expect(row("| x | 1 | c")).toEqual(["| x | 1 | c", undefined]);
    expect(row("| x | 1 \\| # c")).toEqual(["| x | 1 \\| # c", undefined]);
    expect(row("| # c")).toEqual(["| # c", undefined]);
    expect(row("| x | 1 |  ")).toEqual(["| x | 1 |", undefined]);
    expect(row("| x | 1 | #")).toEqual(["| x | 1 |", ""]);
  });
  it("lose the blanks around them, and are those of the last line of a statement", () => {
    expect(comment("set a = 1 #\u00A0 x y \t")).toBe("x y");
    expect(comment("set a = (1 # x\n) # y")).toBe("y");
    expect(comment("set a = (1 # x\n)")).toBeUndefined();
    expect(comment('set a = "x # y')).toBeUndefined();
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
  it("names each character that cannot be seen", () => {
    for (const [character, says] of [
      ["\u0001", "a control character (U+0001)"],
      ["\u0008", "a control character (U+0008)"],
      ["\u000B", "a control character (U+000B)"],
      ["\u000C", "a form feed (U+000C)"],
      ["\r", "a carriage return without a line feed (U+000D)"],
      ["\u000E", "a control character (U+000E)"],
      ["\u001B", "an escape character (U+001B)"],
      ["\u001F", "a control character (U+001F)"],
      ["\u007F", "a control character (U+007F)"],
      ["\u009F", "a control character (U+009F)"],
      ["\u061C", "a control for writing direction (U+061C)"],
      ["\u200B", "a blank of no width (U+200B)"],
      ["\u200E", "a control for writing direction (U+200E)"],
      ["\u200F", "a control for writing direction (U+200F)"],
      ["\u2028", "a line separator (U+2028)"],
      ["\u2029", "a line separator (U+2029)"],
      ["\u202A", "a control for writing direction (U+202A)"],
      ["\u202E", "a control for writing direction (U+202E)"],
      ["\u2060", "a blank of no width (U+2060)"],
      ["\u2066", "a control for writing direction (U+2066)"],
      ["\u2069", "a control for writing direction (U+2069)"],
      ["\uFEFF", "a byte order mark inside the text (U+FEFF)"],
    ] as const)
      expect(
        parseBook(`# x${character}y`).messages.map((message) => message.says),
        says,
      ).toEqual([`Here stands ${says}, which cannot be seen.`]);
    for (const character of ["\t", "\u00A0", "\u00AD", "\u200C", "\u200D", "\u202F", "\u2065", "\u206A", "é"])
      expect(parseBook(`# x${character}y`).messages, character).toEqual([]);
    expect(parseBook("# x\r\n# y\r").messages).toEqual([]);
  });
  it("tells such a character at the beginning of a statement, in what begins none, and in a cell, once", () => {
    expect(told("\u200Bset a = 1")).toEqual(["1 character-unseen \u200B"]);
    expect(told("set a = 1 # \u200B")).toEqual(["book character-unseen"]);
    expect(told("hello \u200B there")).toEqual(["1 character-unseen \u200B"]);
    expect(told("set \u200Ba = 1 2")).toEqual(["1 character-unseen \u200B"]);
    expect(told("table t\n| i | x |\n| a\u200B | b\u200B |")).toEqual([
      "3 character-unseen \u200B",
      "3 character-unseen \u200B",
    ]);
    const many = parseBook("# \u200B\n".repeat(150)).messages;
    expect(many).toHaveLength(100);
    expect(many[99]!.span).toEqual({ from: 99 * 4 + 2, to: 99 * 4 + 3 });
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

describe("a name in backticks", () => {
  it("ends with its line, whichever end that has", () => {
    for (const end of ["\n", "\r\n"])
      expect(told(`set a = \`x${end}# \`${end}set b = 1`)).toEqual(["1 name-open `x"]);
    expect(kinds("set a = `x\r`")).toEqual(["unread set a"]);
  });
});

describe("a text in quotes", () => {
  it("ends with its line, whichever end that has, but not at a carriage return by itself", () => {
    expect(told('set a = "x\nset b = 1')).toEqual(['1 text-open "x']);
    expect(told('set a = "x\r\nset b = 1')).toEqual(['1 text-open "x']);
    expect(told('set a = "x\ry"\nset b = 1')).toEqual(["1 character-unseen \r"]);
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
