import { describe, expect, it } from "vitest";
import { type Formula, formulasIn, parseBook, parseFormula, type Span } from "../../grammar";

/** Where everything in a tree stands: each node, and each word, sign, name and unit that has a place of its own. */

function spansOf(source: string, of: object): readonly string[] {
  const own: string[] = [];
  for (const [key, value] of Object.entries(of)) {
    const text = ({ from, to }: Span): string => source.slice(from, to);
    if (key.endsWith("Span")) own.push(`${key.slice(0, -"Span".length)} ${text(value as Span)}`);
    else if (key === "unit") own.push(`unit ${text((value as { span: Span }).span)}`);
    else if (key === "arguments")
      for (const { labelSpan } of value as readonly { labelSpan?: Span }[])
        if (labelSpan !== undefined) own.push(`label ${text(labelSpan)}`);
  }
  return own;
}

const placesIn = (source: string, formula: Formula): readonly string[] =>
  [...formulasIn(formula)].flatMap((one) => [
    `${one.type} ${source.slice(one.span.from, one.span.to)}`,
    ...spansOf(source, one),
  ]);

describe("the places of a formula", () => {
  it.each([
    ["12", ["number 12"]],
    [" 1.5e3  mL ", ["number 1.5e3  mL", "unit mL"]],
    ["- 10 °C", ["number - 10 °C", "unit °C"]],
    ["+ -10", ["number + -10"]],
    ["(-10)", ["number (-10)"]],
    ["-(10)", ["negate -(10)", "number (10)"]],
    ["- -a", ["negate - -a", "negate -a", "name a"]],
    ["- + a", ["negate - + a", "name a"]],
    ["+ a", ["name a"]],
    ["- 2 ± 1 K", ["spread - 2 ± 1 K", "number - 2", "number 1 K", "unit K"]],
    ["-(2 ± 1)", ["negate -(2 ± 1)", "spread (2 ± 1)", "number 2", "number 1"]],
    ["-2^2", ["negate -2^2", "arithmetic 2^2", "operator ^", "number 2", "number 2"]],
    ["a^ - 2", ["arithmetic a^ - 2", "operator ^", "name a", "number - 2"]],
    [
      "a^-b^c",
      [
        "arithmetic a^-b^c",
        "operator ^",
        "name a",
        "negate -b^c",
        "arithmetic b^c",
        "operator ^",
        "name b",
        "name c",
      ],
    ],
    [
      "a + (b * c)",
      [
        "arithmetic a + (b * c)",
        "operator +",
        "name a",
        "arithmetic (b * c)",
        "operator *",
        "name b",
        "name c",
      ],
    ],
    ["a − b", ["arithmetic a − b", "operator −", "name a", "name b"]],
    ["a ÷ b", ["arithmetic a ÷ b", "operator ÷", "name a", "name b"]],
    ["a +- b", ["spread a +- b", "name a", "name b"]],
    ["a is  not b", ["compare a is  not b", "operator is  not", "name a", "name b"]],
    ["a is b", ["compare a is b", "operator is", "name a", "name b"]],
    ["a ≠ b", ["compare a ≠ b", "operator ≠", "name a", "name b"]],
    ["a <= b", ["compare a <= b", "operator <=", "name a", "name b"]],
    ["a within b to c", ["within a within b to c", "name a", "name b", "name c"]],
    [
      "a or b and c",
      ["logic a or b and c", "operator or", "name a", "logic b and c", "operator and", "name b", "name c"],
    ],
    ["not  not a", ["not not  not a", "not not a", "name a"]],
    ["a in  GBP/L", ["shown a in  GBP/L", "unit GBP/L", "name a"]],
    ["a to b", ["range a to b", "name a", "name b"]],
    ["a to b step c", ["range a to b step c", "name a", "name b", "name c"]],
    ["if a then b else c", ["choice if a then b else c", "name a", "name b", "name c"]],
    [
      "if a then b else if c then d else e",
      [
        "choice if a then b else if c then d else e",
        "name a",
        "name b",
        "choice if c then d else e",
        "name c",
        "name d",
        "name e",
      ],
    ],
    [
      "find `x y` from a to b so that c",
      ["find find `x y` from a to b so that c", "name `x y`", "name a", "name b", "name c"],
    ],
    ["a where b", ["where a where b", "name a", "name b"]],
    ["f( )", ["call f( )", "name f"]],
    ["`f g`(a, to : b)", ["call `f g`(a, to : b)", "name `f g`", "label to", "name a", "name b"]],
    ["f(`b c`: a)", ["call f(`b c`: a)", "name f", "label `b c`", "name a"]],
    ["a . `b c`.2", ["part a . `b c`.2", "part 2", "part a . `b c`", "part `b c`", "name a"]],
    ["(a).b", ["part (a).b", "part b", "name (a)"]],
    ["[a, [ ] ]", ["list [a, [ ] ]", "name a", "list [ ]"]],
    ['"x {a} {"y {b}"}"', ['text "x {a} {"y {b}"}"', "name a", 'text "y {b}"', "name b"]],
    ["(true)", ["truth (true)"]],
    ["false", ["truth false"]],
    ["blank", ["blank blank"]],
    ["2026-02-03", ["date 2026-02-03"]],
    ["( (a) + b )", ["arithmetic ( (a) + b )", "operator +", "name (a)", "name b"]],
  ] as const)("%s", (source, places) => {
    const { formula, messages } = parseFormula(source);
    expect(messages).toEqual([]);
    expect(placesIn(source, formula)).toEqual(places);
  });
  it("that cannot be read is the whole of it, and in a brace what stands between the braces", () => {
    expect(parseFormula(" a + ").formula).toEqual({ type: "unread", span: { from: 0, to: 5 } });
    expect(parseFormula("(".repeat(41)).formula).toEqual({ type: "unread", span: { from: 0, to: 41 } });
    const { statements } = parseBook('step "x { a b } y {} z {c}"');
    const { node } = statements[0]!;
    expect(node.type === "step" && node.text.pieces).toEqual([
      "x ",
      { type: "unread", span: { from: 9, to: 14 } },
      " y ",
      { type: "unread", span: { from: 19, to: 19 } },
      " z ",
      { type: "name", name: "c", span: { from: 24, to: 25 } },
    ]);
  });
});

describe("the places of a statement", () => {
  const node = (source: string): object => parseBook(source).statements[0]!.node;
  const places = (source: string): readonly string[] => spansOf(source, node(source));
  it.each([
    ["set  a = 1", ["name a"]],
    ["set `a b` = 1", ["name `a b`"]],
    ["define f(x) = x", ["name f"]],
    ['table `t u`  "T"', ["name `t u`", 'title "T"']],
    ["table t", ["name t"]],
    ["column c = 1", ["name c"]],
    ['book  "x"', ['text "x"']],
    ['chart "c" : curve a for `x y` from 1 to 2', ["variable `x y`"]],
  ] as const)("%s", (source, spans) => expect(places(source)).toEqual(spans));
  it("that is a definition: its parameters", () => {
    expect(node("define f( a , `b c` ) = a")).toMatchObject({
      parameters: [
        { name: "a", span: { from: 10, to: 11 } },
        { name: "b c", span: { from: 14, to: 19 } },
      ],
    });
  });
  it("that is a step: its asks, each to its own end", () => {
    const source = 'step "x" ask a.b  ask c in mL  wait 3 min ask d expect 2 ± 1 g';
    const { asks } = node(source) as { asks: readonly { span: Span }[] };
    expect(asks.map(({ span }) => source.slice(span.from, span.to))).toEqual([
      "ask a.b",
      "ask c in mL",
      "ask d expect 2 ± 1 g",
    ]);
  });
});

describe("the places of a table", () => {
  const table = (heading: string, row: string) => {
    const text = `table t\n${heading}\n${row}`;
    const [, head, cells] = parseBook(text).statements;
    if (head?.node.type !== "heading" || cells?.node.type !== "row") throw new Error("no table");
    return { columns: head.node.columns, cells: cells.node.cells };
  };
  it("of its headings: the whole, the name, the unit", () => {
    const source = "|  a  | b c (mL)|`d (e)` | f ( number ) | g \\| h ( GBP/L ) | i () |";
    const { columns } = table(source, "| x |");
    expect(
      columns.map((column) => [
        column.name,
        source.slice(column.span.from, column.span.to),
        ...spansOf(source, column),
      ]),
    ).toEqual([
      ["a", "a", "name a"],
      ["b c", "b c (mL)", "name b c", "unit mL"],
      ["d (e)", "`d (e)`", "name `d (e)`"],
      ["f", "f ( number )", "name f"],
      ["g | h", "g \\| h ( GBP/L )", "name g \\| h", "unit GBP/L"],
      ["i ()", "i ()", "name i ()"],
    ]);
  });
  it("of a heading in a sign of money: the unit that alone can be meant", () => {
    const { columns } = table("| i | p (£/L) | q ($) |", "| a |");
    expect(columns.map(({ name, unit }) => [name, unit])).toEqual([
      ["i", undefined],
      ["p", { text: "GBP/L", span: { from: 9, to: 12 } }],
      ["q", undefined],
    ]);
  });
  it("of its cells: the slot, the writing, and what is in it", () => {
    const row = "| a |  - 5 ± 1 mL  |= b + c|2026-02-03| 2.5  GBP/L |−5|+ 5 °C| |";
    const { cells } = table("| i | p | q | r | s | t | u | v |", row);
    expect(
      cells.map(({ span, slot, content }) => [
        row.slice(slot.from, slot.to),
        row.slice(span.from, span.to),
        ...(content.type === "quantity"
          ? [content.of, ...(content.by === undefined ? [] : [content.by])].flatMap((one) =>
              placesIn(row, one),
            )
          : []),
        ...(content.type === "formula" ? placesIn(row, content.formula) : []),
      ]),
    ).toEqual([
      [" a ", "a"],
      ["  - 5 ± 1 mL  ", "- 5 ± 1 mL", "number - 5", "number 1 mL", "unit mL"],
      ["= b + c", "= b + c", "arithmetic b + c", "operator +", "name b", "name c"],
      ["2026-02-03", "2026-02-03"],
      [" 2.5  GBP/L ", "2.5  GBP/L", "number 2.5  GBP/L", "unit GBP/L"],
      ["−5", "−5", "number −5"],
      ["+ 5 °C", "+ 5 °C", "number + 5 °C", "unit °C"],
      [" ", ""],
    ]);
  });
  it("of cells that are missing, or that stand in a row that is too long: a point at the end", () => {
    const point = { from: 4, to: 4 };
    expect(table("| i | x | y |", "| a|").cells.slice(1)).toEqual([
      { content: { type: "unread" }, raw: "", span: point, slot: point },
      { content: { type: "unread" }, raw: "", span: point, slot: point },
    ]);
    const end = { from: 20_001, to: 20_001 };
    expect(table("| i | x |", "| a |".padEnd(20_000, "b").concat("|")).cells).toEqual(
      Array(2).fill({ content: { type: "unread" }, raw: "", span: end, slot: end }),
    );
  });
});

describe("what a cell holds", () => {
  const held = (cell: string, heading = "| i | x |"): unknown => {
    const tree = parseBook(`table t\n${heading}\n| a | ${cell} |`);
    const { node } = tree.statements[2]!;
    if (node.type !== "row") throw new Error("no row");
    const { content } = node.cells[1]!;
    if (content.type !== "quantity") return content.type === "text" ? content.text : content.type;
    return [content.of, content.by].map(
      (one) => one && `${one.digits}${one.unit ? ` ${one.unit.text}` : ""}`,
    );
  };
  it.each([
    ["5", ["5", undefined]],
    ["-5", ["-5", undefined]],
    ["−5", ["-5", undefined]],
    ["+5", ["5", undefined]],
    ["123456789012345", ["123456789012345", undefined]],
    ["1234567890123456", ["1234567890123456", undefined]],
    ["1.123456789012345 L", ["1.123456789012345 L", undefined]],
    ["1.1234567890123456 L", ["1.1234567890123456 L", undefined]],
    ["5e3", ["5000", undefined]],
    ["5E-3 L", ["0.005 L", undefined]],
    ["5 e", ["5 e", undefined]],
    ["5 E3", ["5 E3", undefined]],
    ["5mL", ["5 mL", undefined]],
    ["5 m³", ["5 m³", undefined]],
    ["5 %", ["5 %", undefined]],
    ["5\u00A0°C", ["5 °C", undefined]],
    ["-5 ± 0.5 °C", ["-5", "0.5 °C"]],
    ["5 L +- 1 mL", ["5 L", "1 mL"]],
    ["007", ["007", undefined]],
    ["5_000", "unread"],
    ["5_a", ["5 _a", undefined]],
    ["5 L 3", "unread"],
    ["± 5", "unread"],
    ["5 to", "unread"],
    ["~5", "~5"],
    ["a 5", "a 5"],
    ["- a", "- a"],
    ["-", "-"],
    ["½", "unread"],
    ["€5", "unread"],
    ["€ a", "€ a"],
    [".5", "unread"],
    [". 5", ". 5"],
    ['"5"', "5"],
    ['"a \\"b\\" \\\\ \\{c\\} \\| d"', 'a "b" \\ {c} | d'],
    ['"a \\n b"', "a \\n b"],
    ['"a {b} c"', "a {b} c"],
    ["a \\| b", "a | b"],
    ["cafe\u0301", "caf\u00e9"],
    ['"cafe\u0301"', "caf\u00e9"],
    ['"a" b', "unread"],
    ["a\u200Bb", "unread"],
    ["= 5", "formula"],
    ["2026-02-03", "date"],
    ["2026-02-30", "unread"],
    ["", "blank"],
  ])("%j", (cell, content) => expect(held(cell)).toEqual(content));
  it("of any column but the first may begin like a formula or be called as the language calls things", () => {
    const messages = (row: string): readonly string[] =>
      parseBook(`table t\n| i | x (text) |\n${row}`).statements[2]!.messages.map(({ code }) => code);
    expect(messages("| a | = 3 |")).toEqual([]);
    expect(messages("| a | foot |")).toEqual([]);
    expect(messages("| = 3 | a |")).toEqual(["cell-named"]);
    expect(messages("| before | a |")).toEqual(["name-fixed"]);
  });
  it("under `text` is text, quotes aside", () => {
    for (const [cell, text] of [
      ["5", "5"],
      ["= a", "= a"],
      ["3.2.2026", "3.2.2026"],
      ['"5"', "5"],
      ["a \\| b", "a | b"],
    ] as const)
      expect(held(cell, "| i | x (text) |")).toBe(text);
  });
});

describe("rulers", () => {
  const isRuler = (line: string): boolean =>
    parseBook(`table t\n| i |\n${line}`).statements[2]!.node.type === "ruler";
  it.each(["|-|", "|---|---|", "| --- | :-: |", "|:-|-:|\t---\u00A0|"])("%s", (line) =>
    expect(isRuler(line)).toBe(true),
  );
  it.each(["|-", "|---|--", "| |", "|::-|", "|- -|", "|-a-|", "| -- | a |", "||"])("not %s", (line) =>
    expect(isRuler(line)).toBe(false),
  );
  it("up to the length of a statement", () => {
    expect(isRuler(`|${"-".repeat(19_998)}|`)).toBe(true);
    expect(isRuler(`|${"-".repeat(19_999)}|`)).toBe(false);
  });
});
