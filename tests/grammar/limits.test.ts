import { describe, expect, it } from "vitest";
import {
  highlight,
  LARGEST_FILE,
  LONGEST_STATEMENT,
  MOST_NESTED,
  parseBook,
  parseFormula,
  tidy,
} from "../../grammar";
import { told } from "./notation";

const codes = (formula: string): readonly string[] => parseFormula(formula).messages.map(({ code }) => code);
const nested = (open: string, middle: string, close: string, depth: number): string =>
  open.repeat(depth) + middle + close.repeat(depth);

describe("nesting", () => {
  it("reads brackets, lists, calls, braces and conditions forty deep", () => {
    expect(codes(nested("(", "1", ")", MOST_NESTED))).toEqual([]);
    expect(codes(nested("[", "1", "]", MOST_NESTED))).toEqual([]);
    expect(codes(nested("f(", "1", ")", MOST_NESTED))).toEqual([]);
    expect(codes(nested('"{', "1", '}"', MOST_NESTED))).toEqual([]);
    expect(codes(nested("if ", "a", " then b else c", MOST_NESTED))).toEqual([]);
  });
  it("refuses the forty-first, once, with a message of its own", () => {
    for (const [open, close] of [
      ["(", ")"],
      ["[", "]"],
      ["f(", ")"],
      ['"{', '}"'],
      ["if ", " then b else c"],
    ] as const)
      expect(codes(nested(open, "a", close, MOST_NESTED + 1)), open).toEqual(["nested-deep"]);
  });
  it("counts brackets inside braces with those outside", () => {
    expect(codes(nested("(", nested('"{', "a", '}"', 20), ")", 20))).toEqual([]);
    expect(codes(nested("(", nested('"{', "a", '}"', 21), ")", 20))).toEqual(["nested-deep"]);
  });
  it("survives any depth without overflowing the stack", () => {
    for (const open of [
      "(",
      "[",
      "f(",
      '"{',
      "if ",
      "if a then ",
      "(if a then ",
      "not (",
      "-(",
      "2^(",
      "find x from (",
    ])
      expect(
        () => parseFormula(open.repeat(Math.floor((LONGEST_STATEMENT - 10) / open.length))),
        open,
      ).not.toThrow();
  });
});

describe("a level of nesting", () => {
  const inBrackets = (count: number, middle: string): string => nested("(", middle, ")", count);
  it("is a bracket, a brace, or an `if` up to its `else`", () => {
    expect(codes(inBrackets(39, "if a then 1 else 2"))).toEqual([]);
    expect(codes(inBrackets(40, "if a then 1 else 2"))).toEqual(["nested-deep"]);
    expect(codes(`if a then 1 else ${inBrackets(40, "2")}`)).toEqual([]);
    expect(codes(`if ${inBrackets(39, "a")} then 1 else 2`)).toEqual([]);
    expect(codes(`if ${inBrackets(40, "a")} then 1 else 2`)).toEqual(["nested-deep"]);
    expect(codes(`if a then ${inBrackets(39, "1")} else 2`)).toEqual([]);
    expect(codes(`if a then ${inBrackets(40, "1")} else 2`)).toEqual(["nested-deep"]);
    expect(codes(`if a then "{${inBrackets(38, "1")}}" else 2`)).toEqual([]);
    expect(codes(`if a then "{${inBrackets(39, "1")}}" else 2`)).toEqual(["nested-deep"]);
  });
  it("ends with its bracket, its `else` and its argument, whatever was left open in it", () => {
    const cases = Array(50).fill("if a then 1 else 2");
    expect(codes(`[${cases.join(", ")}]`)).toEqual([]);
    expect(codes(cases.map((one) => `(${one})`).join(" + "))).toEqual([]);
    // Here each `if` lacks its `else`: that alone is told.
    const open = Array(50).fill("if a then 1");
    expect(codes(`f(${open.join(", ")})`)).toEqual(["word-expected"]);
    expect(codes(open.map((one) => `(${one})`).join(" + "))).toEqual(["word-expected"]);
    expect(codes(`${") ".repeat(50)}${inBrackets(40, "1")}`)).toEqual(["bracket-stray"]);
    expect(codes(`${"else ".repeat(50)}${inBrackets(41, "1")}`)).toEqual(["nested-deep"]);
  });
  it("is told at the first bracket that is one too many", () => {
    const { messages } = parseFormula(`a + ${inBrackets(45, "1")}`);
    expect(messages).toMatchObject([
      {
        span: { from: 44, to: 45 },
        says: "Brackets, braces and conditions nest more than 40 deep here.",
        help: "Give an inner part a name of its own with `set`, and use the name.",
      },
    ]);
  });
});

describe("chains", () => {
  const tower = (links: number, sign = "^"): string =>
    Array(links + 1)
      .fill("a")
      .join(sign);
  it("of powers end at every looser operator and word", () => {
    for (const formula of [
      ...["+", "-", "*", "/", "<", "is", "≠", "and", "or", "to", "where", "±"].map(
        (operator) => `${tower(150)} ${operator} ${tower(150)}`,
      ),
      `a within ${tower(150)} to ${tower(150)}`,
      `if ${tower(150)} then ${tower(150)} else ${tower(150)}`,
      `f(${tower(150)}, ${tower(150)})`,
      `(${tower(150)}) * [${tower(150)}]`,
      `1 to ${tower(150)} step ${tower(150)}`,
      `find x from ${tower(150)} to ${tower(150)} so that ${tower(150)} is ${tower(150)}`,
    ])
      expect(codes(formula), formula.replace(/(?:a\^)+a/g, "…")).toEqual([]);
  });
  it("count a sign for a link of its own", () => {
    expect(codes(tower(199, "^-"))).toEqual([]);
    expect(codes(tower(200, "^-"))).toEqual(["chain-long"]);
    expect(codes(`${"+ - ".repeat(100)}a`)).toEqual([]);
    expect(codes(`${"+ - ".repeat(100)}+ a`)).toEqual(["chain-long"]);
    expect(codes(`${"not ".repeat(200)}a`)).toEqual([]);
    expect(codes(`${"not -(".repeat(40)}a${")".repeat(40)}`)).toEqual([]);
  });
  it("go on into a bracket, and are forgotten behind it", () => {
    expect(codes(`${"a^".repeat(150)}(${tower(50)})`)).toEqual([]);
    expect(codes(`${"a^".repeat(150)}(${tower(51)})`)).toEqual(["chain-long"]);
    expect(codes(`${"a^".repeat(100)}[1, ${tower(100)}]`)).toEqual([]);
    expect(codes(`${"a^".repeat(100)}[1, ${tower(101)}]`)).toEqual(["chain-long"]);
    expect(codes(`${"a^".repeat(150)}(${tower(50)})^${tower(49)}`)).toEqual([]);
    expect(codes(`${"a^".repeat(150)}(${tower(50)})^${tower(50)}`)).toEqual(["chain-long"]);
    expect(codes(`${"if a then 1 else ".repeat(150)}(${tower(51)})`)).toEqual([]);
    expect(codes(`${"if a then 1 else ".repeat(150)}(${tower(52)})`)).toEqual(["chain-long"]);
  });
  it("are told at the first link that is one too many", () => {
    expect(parseFormula(tower(205)).messages).toMatchObject([
      {
        span: { from: 401, to: 402 },
        says: "This is a chain of more than 200 powers, signs or conditions.",
        help: "Give a part of it a name of its own with `set`, or put the cases into a table.",
      },
    ]);
  });
  it("reads two hundred powers or cases, and refuses more", () => {
    expect(codes(Array(201).fill("a").join("^"))).toEqual([]);
    expect(codes(Array(202).fill("a").join("^"))).toEqual(["chain-long"]);
    expect(codes(`${"if a then 1 else ".repeat(201)}2`)).toEqual([]);
    expect(codes(`${"if a then 1 else ".repeat(202)}2`)).toEqual(["chain-long"]);
    expect(codes(`${"-".repeat(200)}a`)).toEqual([]);
    expect(codes(Array(1000).fill("-a").join(" + "))).toEqual([]);
    expect(codes(`${"-".repeat(201)}a`)).toEqual(["chain-long"]);
    expect(codes(`${"not ".repeat(201)}a`)).toEqual(["chain-long"]);
  });
  it("does not count powers that are added up", () => {
    expect(codes(Array(1000).fill("a^2").join(" + "))).toEqual([]);
    expect(codes(`f(${Array(900).fill("if a then 1 else 2").join(", ")})`)).toEqual([]);
  });
  it("counts links along the way through brackets", () => {
    const tower = `${"a^".repeat(150)}(${"a^".repeat(60)}a)`;
    expect(codes(tower)).toEqual(["chain-long"]);
  });
  it("reads sums, products, comparisons and paths of any length that fits", () => {
    for (const operator of [" + ", "*", " and ", "."])
      expect(codes(Array(3000).fill("a").join(operator)), operator).toEqual([]);
  });
});

describe("lengths", () => {
  it("reads a statement of twenty thousand characters, and refuses a longer one", () => {
    const sum = (length: number): string => `set a = ${"1+".repeat((length - 9) / 2)}1`;
    expect(sum(LONGEST_STATEMENT - 1).length).toBe(LONGEST_STATEMENT - 1);
    expect(told(sum(LONGEST_STATEMENT - 1))).toEqual([]);
    const long = parseBook(`${sum(LONGEST_STATEMENT + 1)}\nset b = 1`);
    expect(long.statements[0]).toMatchObject({
      node: { type: "unread", name: "a", defines: "set" },
      messages: [{ code: "statement-long" }],
    });
    expect(long.statements[1]!.node.type).toBe("set");
    expect(parseFormula("1".repeat(LONGEST_STATEMENT + 1)).messages).toMatchObject([
      { code: "statement-long" },
    ]);
  });
  it("refuses a row that is too long, and reads the next", () => {
    const book = parseBook(`table t\n| i | x |\n| a | ${"x".repeat(LONGEST_STATEMENT)} |\n| b | 1 |`);
    expect(book.statements[2]!.messages.map(({ code }) => code)).toEqual(["statement-long"]);
    expect(book.tables[0]!.rows.map(({ node }) => node.cells.map(({ content }) => content.type))).toEqual([
      ["unread", "unread"],
      ["text", "quantity"],
    ]);
  });
  it("takes numbers of thirty-four digits", () => {
    expect(codes("1".repeat(34))).toEqual([]);
    expect(codes(`0.${"1".repeat(33)}`)).toEqual([]);
    expect(codes(`${"0".repeat(40)}1`)).toEqual([]);
    expect(codes("1".repeat(35))).toEqual(["number-long"]);
    expect(codes("1e33")).toEqual([]);
    expect(codes("1e34")).toEqual(["number-long"]);
    expect(codes(`1e${"9".repeat(5000)}`)).toEqual(["number-long"]);
  });
  it("refuses a file above eight megabytes, counted in bytes", () => {
    const most = `#${"x".repeat(LARGEST_FILE - 1)}`;
    expect(parseBook(most).messages).toEqual([]);
    expect(parseBook(`${most}x`)).toMatchObject({
      statements: [],
      messages: [{ code: "file-large", says: "This file has 8.0 MB; 8 MB is the most for a book." }],
    });
    expect(parseBook(`#${"é".repeat(LARGEST_FILE / 2)}`).messages).toMatchObject([{ code: "file-large" }]);
    expect(parseBook(`#${"😀".repeat(LARGEST_FILE / 4 - 1)}`).messages).toEqual([]);
  });
});

describe("the length of a file in bytes", () => {
  it("counts two for letters beyond ASCII, three for most other signs, four for pairs", () => {
    const sixteen = "\u07FF\u0800\u{10000}\uFFFC\u{10FFFF}";
    const most = `#${sixteen.repeat(LARGEST_FILE / 16 - 1)}`.padEnd((LARGEST_FILE / 16 - 1) * 7 + 16, "x");
    expect(new TextEncoder().encode(most)).toHaveLength(LARGEST_FILE);
    expect(parseBook(most).messages).toEqual([]);
    expect(parseBook(`${most}x`).messages).toMatchObject([{ code: "file-large" }]);
  });
});

describe("what is no book", () => {
  it("is a text in which many characters are lost, more than one of fifty", () => {
    const lost = (count: number, length: number): string => `#${"\uFFFD".repeat(count)}`.padEnd(length, "x");
    expect(parseBook(lost(21, 1049)).messages).toMatchObject([
      {
        code: "file-binary",
        span: { from: 1, to: 2 },
        says: "This file is not text in UTF-8.",
        help: "A book is a plain text file in UTF-8. Perhaps another file was meant, or it was saved in another encoding.",
      },
    ]);
    expect(parseBook(lost(21, 1050)).messages).toMatchObject([
      {
        code: "file-encoding",
        span: { from: 1, to: 2 },
        says: "21 characters of this file could not be read.",
        help: "The file was saved in another encoding: save it again as UTF-8, and look at the places marked with \uFFFD.",
      },
    ]);
    expect(parseBook(lost(20, 21)).messages).toMatchObject([{ code: "file-encoding" }]);
  });
  it("is a text with a null character, wherever it stands", () => {
    expect(parseBook("set a = 1\n# \0").messages).toEqual([
      {
        code: "file-binary",
        severity: "fault",
        span: { from: 12, to: 13 },
        says: "This file is not text.",
        help: "A book is a plain text file in UTF-8. Perhaps another file was meant.",
      },
    ]);
    expect(parseBook("\0").messages).toMatchObject([{ code: "file-binary" }]);
  });
  it("is told in one message: a line of ten megabytes, a binary file, another encoding", () => {
    expect(parseBook("a".repeat(10_000_000)).messages.map(({ code }) => code)).toEqual(["file-large"]);
    expect(parseBook("PK\u0003\u0004\0\0junk\nset a = 1")).toMatchObject({
      statements: [],
      messages: [{ code: "file-binary" }],
    });
    expect(parseBook("\uFFFD".repeat(100))).toMatchObject({
      statements: [],
      messages: [{ code: "file-binary" }],
    });
  });
  it("is read all the same when only a few characters are lost", () => {
    const book = parseBook("set a = 20 \uFFFDC\nset b = 1");
    expect(book.messages).toMatchObject([
      { code: "file-encoding", says: "One character of this file could not be read." },
    ]);
    expect(book.statements.map(({ node }) => node.type)).toEqual(["unread", "set"]);
  });
  it("is given up after fifty thousand faults, and says where", () => {
    const book = parseBook("?\n".repeat(60_000));
    expect(book.messages).toMatchObject([{ code: "file-faulty", span: { to: 120_000 } }]);
    expect(book.statements.length).toBe(50_001);
    expect(book.messages[0]!.span.from).toBe(2 * 50_001);
  });
});

describe("time", () => {
  // No clock here: what takes a time that grows with the square of its length runs into the runner's own limit.
  it("stays short for texts that are made to take long", () => {
    const unkind: readonly string[] = [
      "é".repeat(300_000),
      `set a = ${"é".repeat(300_000)}`,
      `set a = ${"𝒳".repeat(200_000)}`,
      `table t\n| a${" ".repeat(100_000)}b |\n| x |`,
      `table t\n| ${"(".repeat(19_000)}) |`,
      `table t\n| a |\n${"|-".repeat(500_000)}|`,
      `table t\n| a |\n${"| x".repeat(500_000)}|`,
      `set ${"a ".repeat(500_000)}`,
      `# a${" ".repeat(300_000)}b\nset a = 1 # a${" ".repeat(300_000)}b`,
      `set a = ${"`".repeat(200_001)}`,
      `set a = ${"“".repeat(9_000)}`,
      `set a = ${'"{'.repeat(9_000)}a`,
      `step "${"{".repeat(9_000)}`,
      `check f(${"a:".repeat(9_000)})`,
      `set ${"a ".repeat(9_000)}= 1`,
    ];
    for (const text of unkind)
      for (const work of [parseBook, tidy, highlight])
        expect(() => work(text), text.slice(0, 30)).not.toThrow();
  });
  it("grows in proportion with the text, whatever the text", () => {
    const shapes: Readonly<Record<string, (n: number) => string>> = {
      rows: (n) => `table t\n| i | x |\n${"| a | 2.4 L |\n".repeat(n)}`,
      sets: (n) => "set a = f(b, 2 L) * 3\n".repeat(n),
      tables: (n) => "table t\n".repeat(n),
      comments: (n) => "set a = 1 +\n# x\n2\n".repeat(n),
      unseen: (n) => "# \u200B\n".repeat(n),
      carriage: (n) => "# x\r".repeat(n),
      quotes: (n) => '"{'.repeat(n),
      rest: (n) => "set a = (\n".repeat(n),
    };
    for (const [name, make] of Object.entries(shapes)) {
      const text = make(20_000);
      expect(parseBook(text).text, name).toBe(text);
    }
  });
});
