import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  addRows,
  applyPatches,
  type BookTree,
  moveRow,
  parseBook,
  removeRow,
  setCell,
  setCells,
} from "../../grammar";
import { bookWithTable } from "./arbitraries";
import { edited, refusal, tableOf, touched } from "./editing";
import { said, withoutPlaces } from "./notation";

const BOOK = `set a = 1
table t
| item    | volume (mL) | price |
|---------|-------------|-------|
| juniper |        2400 | 11.20 | # best
| bay     |         350 |       |
| lemon   | 800
column cost = volume * price
`;

const set = (row: number, column: number, typed: string): string =>
  edited(BOOK, (tree) => setCell(tree, tableOf(tree), row, column, typed));

describe("writing a cell", () => {
  it("touches only that cell, and leaves the bars where they are", () => {
    expect(touched(BOOK, set(0, 2, "9.90"))).toEqual(["| juniper |        2400 | 9.90  | # best"]);
    expect(touched(BOOK, set(1, 2, "21.50"))).toEqual(["| bay     |         350 | 21.50 |"]);
    expect(touched(BOOK, set(1, 0, "bay leaf"))).toEqual(["| bay leaf |         350 |       |"]);
  });
  it("keeps a number that is set to the right at the right", () => {
    expect(touched(BOOK, set(0, 1, "24"))).toEqual(["| juniper |          24 | 11.20 | # best"]);
    expect(touched(BOOK, set(1, 1, "2400000"))).toEqual(["| bay     |     2400000 |       |"]);
  });
  it("moves the bar when there is no room", () => {
    expect(touched(BOOK, set(0, 2, "= volume * 2"))).toEqual([
      "| juniper |        2400 | = volume * 2 | # best",
    ]);
  });
  it("empties a cell and keeps its width", () => {
    expect(touched(BOOK, set(0, 1, ""))).toEqual(["| juniper |             | 11.20 | # best"]);
  });
  it("escapes bars, takes line ends for blanks, and never lets a backslash meet the bar", () => {
    expect(touched(BOOK, set(0, 2, "a | b\nc"))).toEqual(["| juniper |        2400 | a \\| b c | # best"]);
    expect(touched(BOOK, set(0, 2, "abcd\\"))).toEqual(
      ["| juniper |        2400 | abcd\\ | # best"].map((line) => line.replace("abcd\\ |", "abcd\\  |")),
    );
  });
  it("adds the cells that a short row lacks, with their bars", () => {
    expect(touched(BOOK, set(2, 2, "5"))).toEqual(["| lemon   | 800 | 5 |"]);
    expect(touched(BOOK, set(2, 1, "900"))).toEqual(["| lemon   | 900"]);
    expect(touched(BOOK, set(2, 1, ""))).toEqual(["| lemon   | |"]);
  });
  it("is refused for rows and columns that are not there", () => {
    expect(refusal(BOOK, (tree) => setCell(tree, tableOf(tree), 9, 0, "x"))).toBe("row-missing");
    expect(refusal(BOOK, (tree) => setCell(tree, tableOf(tree), 0, 3, "x"))).toBe("column-missing");
  });
});

describe("pasting a block", () => {
  it("writes cells, leaves holes alone, and adds the rows that are missing", () => {
    const text = edited(BOOK, (tree) =>
      setCells(tree, tableOf(tree), 1, 0, [
        ["bay", undefined, "1"],
        ["lime", "2 L", "3"],
        ["rose", "4"],
      ]),
    );
    expect(touched(BOOK, text)).toEqual([
      "| bay     |         350 | 1     |",
      "| lime    | 2 L | 3 |",
      "| rose    | 4           |       |",
    ]);
    const { rows } = parseBook(text).tables[0]!;
    expect(rows.map(({ node }) => node.cells.map(({ raw }) => raw))).toEqual([
      ["juniper", "2400", "11.20"],
      ["bay", "350", "1"],
      ["lime", "2 L", "3"],
      ["rose", "4", ""],
    ]);
  });
  it("is refused when it is wider than the table", () => {
    expect(refusal(BOOK, (tree) => setCells(tree, tableOf(tree), 0, 2, [["1", "2"]]))).toBe(
      "columns-missing",
    );
  });
});

describe("rows", () => {
  const add = (text: string, at: number, cells: readonly string[]): string =>
    edited(text, (tree) => addRows(tree, tableOf(tree), at, [cells]));
  it("are added before another, behind the last, and under the heading", () => {
    expect(touched(BOOK, add(BOOK, 1, ["rose", "5"]))).toEqual(["| rose    | 5           |       |"]);
    expect(touched(BOOK, add(BOOK, 0, ["rose"]))).toEqual(["| rose    |             |       |"]);
    expect(add(BOOK, 3, ["rose"]).split("\n")[7]).toBe("| rose    |             |       |");
    const empty = "table t\n| a | b |";
    expect(add(empty, 0, ["x"])).toBe("table t\n| a | b |\n| x |   |");
  });
  it("are added with the line ends of the book, also where the last line has none", () => {
    expect(add("table t\r\n| a |\r\n| x |\r\nset b = 1", 1, ["y"])).toBe(
      "table t\r\n| a |\r\n| x |\r\n| y |\r\nset b = 1",
    );
    expect(add("table t\r\n| a |\r\n| x |", 1, ["y"])).toBe("table t\r\n| a |\r\n| x |\r\n| y |");
  });
  it("are taken out with their comment", () => {
    expect(edited(BOOK, (tree) => removeRow(tree, tableOf(tree), 0))).toBe(
      BOOK.replace(/\| juniper.*\n/, ""),
    );
    expect(edited("table t\n| a |\n| x |", (tree) => removeRow(tree, tableOf(tree), 0))).toBe(
      "table t\n| a |",
    );
  });
  it("are moved up and down, also from and to an end without a line end", () => {
    const text = "table t\n| a |\n| 1 | # one\n| 2 |\n| 3 |";
    const move = (from: number, to: number): readonly string[] =>
      edited(text, (tree) => moveRow(tree, tableOf(tree), from, to))
        .split("\n")
        .slice(2);
    expect(move(0, 2)).toEqual(["| 2 |", "| 3 |", "| 1 | # one"]);
    expect(move(2, 0)).toEqual(["| 3 |", "| 1 | # one", "| 2 |"]);
    expect(move(1, 2)).toEqual(["| 1 | # one", "| 3 |", "| 2 |"]);
    expect(move(2, 1)).toEqual(["| 1 | # one", "| 3 |", "| 2 |"]);
    expect(move(1, 1)).toEqual(text.split("\n").slice(2));
  });
});

/** Statements of two trees, cells as they are written, for telling that nothing else has changed. */
const statements = (tree: BookTree): readonly unknown[] => said(tree) as readonly unknown[];

describe("whatever the book", () => {
  const typed = fc.constantFrom(
    "",
    "2400",
    "61.2 ± 0.3 %vol",
    "a | b",
    "= volume * `x|y`",
    '"x"',
    "#",
    "\\",
    "a\\",
    "\\|",
    "x\r\ny",
    "  padded ",
    "2026-02-03",
  );
  it("a cell holds what was written, and nothing else has changed", () => {
    fc.assert(
      fc.property(bookWithTable, fc.nat(), fc.nat(), fc.nat(), typed, (text, t, r, c, value) => {
        const tree = parseBook(text);
        const tables = tree.tables.filter(({ rows, heading }) => rows.length > 0 && heading !== undefined);
        fc.pre(tables.length > 0);
        const table = tables[t % tables.length]!;
        const row = r % table.rows.length;
        const column = c % table.heading!.node.columns.length;
        const made = setCell(tree, table, row, column, value);
        const next = parseBook(applyPatches(text, made.patches!));
        const index = tree.statements.indexOf(table.rows[row]!);
        const expected = [...statements(tree)];
        const now = [...statements(next)];
        expect(now.length).toBe(expected.length);
        const changed = next.statements[index]!.node;
        const was = table.rows[row]!.node;
        if (changed.type !== "row") throw new Error("the row is no row any more");
        expect(changed.cells[column]!.raw).toBe(
          value
            .replace(/[\r\n]+/g, " ")
            .trim()
            .replace(/(?<!\\)\|/g, "\\|"),
        );
        changed.cells.forEach((cell, i) => {
          if (i !== column) expect(withoutPlaces(cell)).toEqual(withoutPlaces(was.cells[i]));
        });
        expected.splice(index, 1);
        now.splice(index, 1);
        expect(now).toEqual(expected);
      }),
      { numRuns: 120, seed: 7 },
    );
  });
  it("rows are added, moved and taken out, and nothing else has changed", () => {
    fc.assert(
      fc.property(bookWithTable, fc.nat(), fc.nat(), fc.nat(), (text, t, a, b) => {
        const tree = parseBook(text);
        const tables = tree.tables.filter(({ rows, heading }) => rows.length > 0 && heading !== undefined);
        fc.pre(tables.length > 0);
        const table = tables[t % tables.length]!;
        const count = table.rows.length;
        const from = a % count;
        const to = b % count;
        const writing = (one: BookTree): readonly string[] =>
          one.tables[tree.tables.indexOf(table)]!.rows.map((row) =>
            one.text.slice(row.at, row.at + row.length),
          );
        const rest = (one: BookTree): readonly unknown[] =>
          one.statements.filter(({ node }) => node.type !== "row").map(({ node }) => withoutPlaces(node));
        const rows = writing(tree);
        const moved = parseBook(applyPatches(text, moveRow(tree, table, from, to).patches!));
        const order = [...rows];
        order.splice(to, 0, ...order.splice(from, 1));
        expect(writing(moved)).toEqual(order);
        expect(rest(moved)).toEqual(rest(tree));
        const removed = parseBook(applyPatches(text, removeRow(tree, table, from).patches!));
        expect(writing(removed)).toEqual(rows.filter((_, i) => i !== from));
        expect(rest(removed)).toEqual(rest(tree));
        const added = parseBook(applyPatches(text, addRows(tree, table, to, [["new"]]).patches!));
        expect(writing(added).filter((_, i) => i !== to)).toEqual(rows);
        expect(added.tables[tree.tables.indexOf(table)]!.rows[to]!.node.cells[0]!.raw).toBe("new");
        expect(rest(added)).toEqual(rest(tree));
      }),
      { numRuns: 120, seed: 8 },
    );
  });
});
