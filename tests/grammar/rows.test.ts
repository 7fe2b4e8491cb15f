import { describe, expect, it } from "vitest";
import { type Cell, parseBook, type TableTree } from "../../grammar";
import { shape, told } from "./notation";

function table(rows: string): TableTree {
  return parseBook(`table t\n${rows}`).tables[0]!;
}

/** A cell in a word: what it holds. */
function held({ content }: Cell): string {
  switch (content.type) {
    case "quantity":
      return content.by === undefined ? shape(content.of) : `${shape(content.of)} ± ${shape(content.by)}`;
    case "date":
      return content.iso;
    case "text":
      return `"${content.text}"`;
    case "formula":
      return `= ${shape(content.formula)}`;
    default:
      return content.type;
  }
}

const cells = (heading: string, row: string): readonly string[] =>
  table(`${heading}\n${row}`).rows[0]!.node.cells.map(held);
const general = (cell: string): string => cells("| item | x |", `| a | ${cell} |`)[1]!;
const messages = (heading: string, row: string): readonly string[] =>
  told(`table t\n${heading}\n${row}`).map((one) => one.slice(2));

describe("headings", () => {
  it("name columns, with a unit or a word in the last bracket", () => {
    const { heading } = table(
      "| item | volume (mL) | price (GBP/L) | n (number) | on ( date ) | say (text) | x (a) (g) |",
    );
    expect(heading!.node.columns.map(({ name, unit, holds }) => [name, unit?.text, holds])).toEqual([
      ["item", undefined, undefined],
      ["volume", "mL", undefined],
      ["price", "GBP/L", undefined],
      ["n", undefined, "number"],
      ["on", undefined, "date"],
      ["say", undefined, "text"],
      ["x (a)", "g", undefined],
    ]);
  });
  it("take a name in backticks as it is, and a bar by its escape", () => {
    const { heading } = table("| `item (old)` | `a` | b \\| c |");
    expect(heading!.node.columns.map(({ name }) => name)).toEqual(["item (old)", "a", "b | c"]);
  });
  it("are told when a name is empty, doubled, fixed, or its bracket is no unit", () => {
    expect(told("table t\n| a |  | a | foot | b (2 x) | `c` d |")).toEqual([
      "2 heading-empty ^| a | foot | b (2 x) | `c` d |",
      "2 heading-twice a",
      "2 name-fixed foot",
      "2 heading-bracket (2 x)",
      "2 heading-backticks `c` d",
    ]);
  });
});

describe("cells", () => {
  it("hold quantities, with signs, units and uncertainties", () => {
    expect(general("2400")).toBe("2400");
    expect(general("2.4 L")).toBe("2.4_L");
    expect(general("2.4L")).toBe("2.4_L");
    expect(general("-5 °C")).toBe("-5_°C");
    expect(general("−5")).toBe("-5");
    expect(general("+5")).toBe("5");
    expect(general("61.2 ± 0.3 %vol")).toBe("61.2 ± 0.3_%vol");
    expect(general("61.2 %vol +- 0.3 %vol")).toBe("61.2_%vol ± 0.3_%vol");
    expect(general("-10 ± 2 °C")).toBe("-10 ± 2_°C");
    expect(general("42 % vol")).toBe("42_% vol");
    expect(general("1e-3 g")).toBe("0.001_g");
    expect(general("11.20 GBP/L")).toBe("11.20_GBP/L");
  });
  it("hold dates, formulas, texts and nothing", () => {
    expect(general("2026-02-03")).toBe("2026-02-03");
    expect(general("= volume * 2")).toBe("= (* volume 2)");
    expect(general("=a")).toBe("= a");
    expect(general("a remark, with {braces} and # signs")).toBe('"a remark, with {braces} and # signs"');
    expect(general('"2 eggs"')).toBe('"2 eggs"');
    expect(general('"a \\"b\\" {c} \\| d"')).toBe('"a "b" {c} | d"');
    expect(general("")).toBe("blank");
    expect(general("x \\| y")).toBe('"x | y"');
    expect(general("~5")).toBe('"~5"');
  });
  it("of the first column are text and name the row, whatever they look like", () => {
    for (const name of ["2a", "2026-02-03", "12 mL", "3.2.2026", "1/2 L"])
      expect(cells("| item | x |", `| ${name} | 1 |`)[0]).toBe(`"${name}"`);
    expect(cells("| item | x |", '| "2a" | 1 |')[0]).toBe('"2a"');
    expect(cells("| item | x |", "|  | 1 |")[0]).toBe("blank");
  });
  it("of a first column with a unit or date are read as such, and keep their writing", () => {
    const { rows } = table("| at (date) | x |\n| 2026-02-03 | 1 |");
    expect(rows[0]!.node.cells[0]).toMatchObject({ content: { type: "date" }, raw: "2026-02-03" });
    expect(cells("| dose (mL) | x |", "| 5 mL | 1 |")[0]).toBe("5_mL");
  });
  it("of a text column are text", () => {
    expect(cells("| item | note (text) |", "| a | 2 eggs |")[1]).toBe('"2 eggs"');
    expect(cells("| item | note (text) |", "| a | = 3 |")[1]).toBe('"= 3"');
  });
  it("know their place, their slot and their writing", () => {
    const row = "|  a  |2 mL | |";
    const text = `table t\n| i | x | y |\n${row}`;
    const { at, node } = parseBook(text).tables[0]!.rows[0]!;
    expect(text.slice(at, at + row.length)).toBe(row);
    expect(
      node.cells.map(({ span, slot, raw }) => [
        row.slice(span.from, span.to),
        row.slice(slot.from, slot.to),
        raw,
      ]),
    ).toEqual([
      ["a", "  a  ", "a"],
      ["2 mL", "2 mL ", "2 mL"],
      ["", " ", ""],
    ]);
    const { content } = node.cells[1]!;
    expect(
      content.type === "quantity" && row.slice(content.of.unit!.span.from, content.of.unit!.span.to),
    ).toBe("mL");
  });
  it("take bars in names and texts of a formula by their escape", () => {
    expect(general('= `a \\| b` & "x"'.replace(' & "x"', ""))).toBe("= <a | b>");
    expect(general('= f("x \\| y")')).toBe('= (f() "x | y")');
    expect(general("= t.`a\\|b`")).toBe("= (. t a|b)");
  });
});

describe("faults in cells", () => {
  it("are told for what begins like a number and goes on otherwise", () => {
    expect(messages("| i | x |", "| a | 2 eggs and more |")).toEqual(["cell-remark 2 eggs and more"]);
    expect(messages("| i | x |", "| a | 12,5 |")).toEqual(["number-comma 12,5"]);
    expect(messages("| i | x |", "| a | 1 000 |")).toEqual(["number-grouped 1 000"]);
    expect(messages("| i | x |", "| a | 1/2 L |")).toEqual(["number-ratio 1/2 L"]);
    expect(messages("| i | x |", "| a | .5 |")).toEqual(["number-point .5"]);
    expect(messages("| i | x |", "| a | ½ L |")).toEqual(["number-fraction ½"]);
    expect(messages("| i | x |", "| a | € 5 |")).toEqual(["currency-sign € 5"]);
    expect(messages("| i | x |", "| a | 5 € |")).toEqual(["currency-sign €"]);
    expect(messages("| i | x |", "| a | –5 |")).toEqual(["character-lookalike –"]);
    for (const cell of [
      "5 ± 1 ± 2",
      "5 ± x",
      "5 ±",
      "5 by 3",
      "5 to: 3",
      "5 = 3",
      "5 == 3",
      "5 < 6 < 7",
      "5 'a'",
      "5 {a}",
      "5 # a",
      "5 @a",
      "5 `a",
      "5 ? a",
      "5 + ",
    ])
      expect(messages("| i | x |", `| a | ${cell} |`), cell).toEqual([`cell-remark ${cell.trim()}`]);
  });
  it("are told for dates in another form", () => {
    for (const date of ["3.2.2026", "3/2/2026", "3-2-26", "2026/2/3", "2026.02.03", "2026-2-3"])
      expect(messages("| i | x |", `| a | ${date} |`)).toEqual([`date-form ${date}`]);
    expect(messages("| i | x |", "| a | 2026-02-30 |")).toEqual(["date-impossible 2026-02-30"]);
    expect(messages("| i | x |", "| a | = 3/2/2026 |")).toEqual(["date-form 3/2/2026"]);
  });
  it("are told for unclosed and crowded texts, and curly quotes", () => {
    expect(messages("| i | x |", '| a | "b |')).toEqual(['text-open "b']);
    expect(messages("| i | x |", '| a | "b" c |')).toEqual(["cell-text  c"]);
    expect(messages("| i | x |", "| a | “b” |")).toEqual(["quote-curly “b”"]);
  });
  it("are told for formulas, in their place", () => {
    expect(messages("| i | x |", "| a | = 3 + |")).toEqual(["value-missing ^ |"]);
    expect(messages("| i | x |", "| a | = a # b |")).toEqual(["comment-inside #"]);
    expect(cells("| i | x |", "| a | = 3 + |")[1]).toBe("= ?");
  });
  it("leave the other cells of the row as they are", () => {
    expect(cells("| i | x | y | z |", "| a | 12,5 | 3 mL | b |")).toEqual(['"a"', "unread", "3_mL", '"b"']);
  });
});

describe("rows", () => {
  it("need a cell for each heading: a missing one is a fault, not a gap", () => {
    expect(cells("| i | x | y |", "| a | 1 |")).toEqual(['"a"', "1", "unread"]);
    expect(messages("| i | x | y |", "| a | 1 |")).toEqual(["row-cells ^"]);
  });
  it("with a cell too many give no value, for it cannot be told which one", () => {
    expect(cells("| i | x |", "| a | 1 | 2 |")).toEqual(['"a"', "unread"]);
    expect(messages("| i | x |", "| a | 1 | 2 |")).toEqual(["row-cells  2 "]);
  });
  it("end with a bar", () => {
    expect(cells("| i | x |", "| a | 1")).toEqual(['"a"', "1"]);
    expect(messages("| i | x |", "| a | 1")).toEqual(["row-open ^"]);
    expect(messages("| i | x |", "| a | 1 \\|")).toEqual(["row-open ^", "cell-remark 1 \\|"]);
  });
  it("may be parted by blank and comment lines, and ruled under the heading", () => {
    const { rows, heading } = table("| i | x |\n|---|:-:|\n| a | 1 |\n\n# remark\n| b | 2 |");
    expect([heading?.node.columns.length, rows.length]).toEqual([2, 2]);
    expect(told("table t\n| i | x |\n|---|---|\n| a | 1 |\n|---|---|")).toEqual(["5 ruler-place |---|---|"]);
  });
  it("that stand behind a column or another statement belong to the table, but give no value", () => {
    const text =
      "table t\n| i | x |\n| a | 1 |\ncolumn y = x\n| b | 2 |\nset z = 1\n| c | 3 |\nfoot x = sum(x)";
    const book = parseBook(text);
    expect(told(text)).toEqual(["5 row-late | b | 2 |", "7 row-late | c | 3 |"]);
    expect(book.tables[0]!.rows.map((row) => row.node.cells.map(held))).toEqual([
      ['"a"', "1"],
      ['"b"', "unread"],
      ['"c"', "unread"],
    ]);
    expect(book.tables[0]!.feet).toHaveLength(1);
  });
  it("without a table are told once", () => {
    expect(told("| a | b |\n| c |")).toEqual(["1 row-homeless | a | b |", "2 row-homeless | c |"]);
  });
  it("of a table that cannot be read are no fault of their own", () => {
    const text = 'table t\n| i |\n| a |\ntable u "x\n| i | x |\n| b | 1 |\ncolumn y = x';
    expect(told(text)).toEqual(['4 text-open "x']);
    expect(parseBook(text).tables.map(({ name, rows }) => [name, rows.length])).toEqual([["t", 1]]);
  });
  it("cannot be named as formulas name other things", () => {
    expect(messages("| i | x |", "| foot | 1 |")).toEqual(["name-fixed foot"]);
  });
});

describe("tables", () => {
  it("gather their rows, columns and feet, across other statements", () => {
    const text =
      "table t\n| i | x |\n| a | 1 |\nset q = 1\ncolumn y = x\nfoot x = sum(x)\ntable u\n| i |\ncolumn z = 1";
    const book = parseBook(text);
    expect(
      book.tables.map((one) => [one.name, one.rows.length, one.columns.length, one.feet.length]),
    ).toEqual([
      ["t", 1, 1, 1],
      ["u", 0, 1, 0],
    ]);
    const owners = book.statements.map((statement) => book.tableOf.get(statement)?.name);
    expect(owners).toEqual(["t", "t", "t", undefined, "t", "t", "u", "u", "u"]);
  });
});
