import { describe, expect, it } from "vitest";
import { openBook, type TableItem } from "../../src/engine";

function tableOf(text: string): TableItem {
  const found = openBook(text).items.find((item) => item.type === "table");
  if (found?.type !== "table") throw new Error("no table");
  return found;
}
const TABLE = `table t "On the shelf" # mine
| i   | x (L) | p (GBP) |
| a   | 1.5   | 2       |
| b   | 2.25  | 0.5     |
|     | 3     |         |
| a b | 4     | 1       |
`;
/** The computed column of a formula: its unit, what it holds, and its cells. */
function computed(formula: string) {
  const table = tableOf(`${TABLE}column y = ${formula}\n`);
  const { unit, holds, fault, typed, formula: written } = table.columns[3]!;
  expect([typed, written]).toEqual([false, formula]);
  const cells = Array.from({ length: 4 }, (_, row) => table.cell(row, 3));
  return {
    is: `${unit} ${holds}`,
    cells: cells.map((c) => (c.state === "ok" ? c.text : c.state)).join(", "),
    fault,
  };
}

describe("a computed column", () => {
  it.each([
    // Exact cells show all their decimals, and all rows as many; money its minor ones.
    ["x * 2", "L quantity", "3.0 L, 4.5 L, 6.0 L, 8.0 L"],
    ["x * 10", "L quantity", "15.0 L, 22.5 L, 30.0 L, 40.0 L"],
    ["x * 100", "L quantity", "150 L, 225 L, 300 L, 400 L"],
    ["p * 2", "GBP quantity", "4.00 GBP, 1.00 GBP, gap, 2.00 GBP"],
    // Approximate ones five digits of the largest.
    ["x / 3", "L quantity", "0.5000 L, 0.7500 L, 1.0000 L, 1.3333 L"],
    ["x / 3 * 1000", "L quantity", "500.0 L, 750.0 L, 1000.0 L, 1333.3 L"],
    ["x / 3 * 1000000", "L quantity", "500000 L, 750000 L, 1000000 L, 1333333 L"],
    ["x * p / 7", "L*GBP quantity", "0.42857 L*GBP, 0.16071 L*GBP, gap, 0.57143 L*GBP"],
    ["0 * x / 3", "L quantity", "0 L, 0 L, 0 L, 0 L"],
    // Each with its ±.
    ["x ± 0.1 L", "L quantity", "1.50 ± 0.10 L, 2.25 ± 0.10 L, 3.00 ± 0.10 L, 4.00 ± 0.10 L"],
    // Other things than numbers; two units in one column are none of the column.
    ["if x > 2 L then x else x in mL", " quantity", "1500.00 mL, 2.25 L, 3.00 L, 4.00 L"],
    ['if x > 2 L then "big" else "small"', " text", "small, big, big, big"],
    ["2026-03-01", " date", "2026-03-01, 2026-03-01, 2026-03-01, 2026-03-01"],
    ["x > 2 L", " truth", "false, true, true, true"],
    ["blank", " empty", "gap, gap, gap, gap"],
    ['if x > 2 L then "big" else blank', " text", "gap, big, big, big"],
  ])("%s", (formula, is, cells) => expect(computed(formula)).toEqual({ is, cells, fault: undefined }));
  it("that is a fault in every row has it as its own", () => {
    expect(computed("x + 1 g")).toEqual({
      is: " empty",
      cells: "fault, fault, fault, fault",
      fault: "1.5 L (a volume) and 1 g (a mass) do not add.",
    });
    expect(computed("if x > 2 L then x else 1 L / 0")).toMatchObject({
      cells: "fault, 2.25 L, 3.00 L, 4.00 L",
      fault: undefined,
    });
  });
  it("may hold a text in one row and a number in another, and has no unit then", () => {
    expect(computed("if x > 2 L then i else x")).toEqual({
      is: " mixed",
      cells: "1.5 L, b, , a b",
      fault: undefined,
    });
    expect(computed("if x > 2 L then x > 3 L else blank")).toMatchObject({ is: " truth" });
  });
  it("shows as many decimals as its longest row needs, wherever that stands", () => {
    const long = (odd: Readonly<Record<number, string>>) =>
      tableOf(
        `table t\n| i | x (L) |\n${Array.from({ length: 2100 }, (_, i) => `| r${i} | ${odd[i] ?? "1"} |`).join("\n")}\ncolumn y = x * 2\ncolumn z = x / 3\n`,
      );
    for (const at of [0, 1023, 1024, 2099]) {
      const table = long({ [at]: "0.125" });
      expect([0, 1023, 1024, 2099].map((row) => table.cell(row, 2).text)).toEqual(
        [0, 1023, 1024, 2099].map((row) => (row === at ? "0.25 L" : "2.00 L")),
      );
    }
    // Of a measured row only its own digits count.
    expect(long({ 3: "0.125 ± 0.01" }).cell(0, 2).text).toBe("2 L");
    // Five digits of the largest, two of the smallest.
    const table = long({ 0: "3000", 2000: "0.03" });
    expect([0, 1, 2000].map((row) => table.cell(row, 3).text)).toEqual(["1000.000 L", "0.333 L", "0.010 L"]);
  });
  it("follows an edit that needs more decimals, or fewer", () => {
    const text = (x: string) => `table t\n| i | x (L) |\n| a | 1.5 |\n| b | ${x} |\ncolumn y = x * 2\n`;
    const shown = (book: ReturnType<typeof openBook>) => {
      const table = book.items.find((i) => i.type === "table")!;
      return table.type === "table" ? [0, 1].map((row) => table.cell(row, 2).text) : [];
    };
    const start = openBook(text("1"));
    expect(shown(start)).toEqual(["3 L", "2 L"]);
    const more = start.edit(text("0.125"));
    expect(shown(more)).toEqual(["3.00 L", "0.25 L"]);
    expect(shown(more.edit(text("4")))).toEqual(["3 L", "8 L"]);
    expect(shown(more.edit(text("soon")))).toEqual(["3 L", ""]);
  });
  it("keeps two digits of its smallest entry", () => {
    const table = tableOf("table t\n| i | x |\n| a | 0.001 |\n| b | 1000 |\ncolumn y = x / 3\n");
    expect([table.cell(0, 2).text, table.cell(1, 2).text]).toEqual(["0.00033", "333.33333"]);
  });
});

describe("a table", () => {
  it("has its title, its remark, its columns and its rows by name", () => {
    const table = tableOf(`${TABLE}foot x = sum(x)\nfoot p = count(p)\n`);
    expect(table).toMatchObject({ name: "t", title: "On the shelf", remark: "mine", rowCount: 4 });
    expect(table.columns.map((c) => [c.name, c.typed, c.unit, c.holds])).toEqual([
      ["i", true, "", "text"],
      ["x", true, "L", "quantity"],
      ["p", true, "GBP", "quantity"],
    ]);
    expect([0, 1, 2, 3, 4].map((row) => table.rowName(row))).toEqual(["a", "b", "", "a b", ""]);
    expect(
      [...table.feet].map(([name, foot]) => [
        name,
        foot.formula,
        foot.shown.text,
        foot.shown.path,
        foot.shown.origin,
      ]),
    ).toEqual([
      ["x", "sum(x)", "10.75 L", "t.foot.x", "computed"],
      ["p", "count(p)", "3", "t.foot.p", "computed"],
    ]);
    expect(tableOf("table t\n| i |\n").title).toBe("");
  });
  it("calls its cells by their paths, a row without a name by its number", () => {
    const table = tableOf(TABLE);
    expect([0, 2, 3].map((row) => table.cell(row, 1).path)).toEqual(["t.a.x", "t.`row 3`.x", "t.`a b`.x"]);
    expect(tableOf("table `my t`\n| i | `a b` |\n| 1 | 2 |\n").cell(0, 1).path).toBe("`my t`.1.`a b`");
  });
  it("shows approximate numbers by its largest and its smallest, and a nought as none of them", () => {
    const table = tableOf(
      "table t\n| i | x |\n| a | 0 |\n| b | 1 |\n| c | 1000 |\n| d | |\ncolumn y = x / 3\n",
    );
    expect([0, 1, 2].map((row) => table.cell(row, 2).text)).toEqual(["0.00", "0.33", "333.33"]);
  });
  it("counts on where several rows have one name", () => {
    const names = ["a", "b", "a", "a", "b", "a", "a", "c"];
    const table = tableOf(`table t\n| i | x |\n${names.map((n) => `| ${n} | 1 |`).join("\n")}\n`);
    expect(names.map((_, row) => table.cell(row, 1).path)).toEqual([
      "t.a.x",
      "t.b.x",
      "t.`a (2)`.x",
      "t.`a (3)`.x",
      "t.`b (2)`.x",
      "t.`a (4)`.x",
      "t.`a (5)`.x",
      "t.c.x",
    ]);
  });
  it("knows what its heading wants of a column that is not filled in yet", () => {
    const holds = (heading: string) => tableOf(`table t\n| i | ${heading} |\n| a | |\n`).columns[1]!;
    expect([holds("x (g)").holds, holds("x (g)").unit]).toEqual(["quantity", "g"]);
    expect([holds("x (number)").holds, holds("x (number)").unit]).toEqual(["quantity", ""]);
    expect(holds("x (text)").holds).toBe("text");
    expect(holds("x").holds).toBe("empty");
  });
  it("tells where a cell comes from, and keeps the unit in which it was typed", () => {
    const table = tableOf(
      "table t\n| i | x (L) |\n| a | 500 mL ± 5 mL |\n| b | = 2 L |\n| c | = find y from 1 L to 3 L so that y is 2 L |\n| d | |\n",
    );
    const cells = [0, 1, 2, 3].map((row) => table.cell(row, 1));
    expect(cells.map((c) => [c.origin, c.number, c.spread, c.unit])).toEqual([
      ["typed", "500", "5", "mL"],
      ["typed", "2", undefined, "L"],
      ["found", "2", undefined, "L"],
      ["typed", "", undefined, ""],
    ]);
    expect(cells[0]!.text).toBe("0.5000 ± 0.0050 L");
  });
});
