import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  addColumn,
  addComputedColumn,
  addFoot,
  applyPatches,
  type BookTree,
  moveColumn,
  parseBook,
  removeColumn,
  removeStatement,
  setBracket,
  type TableTree,
} from "../../grammar";
import { bookWithTable } from "./arbitraries";
import { edited, refusal, tableOf, touched } from "./editing";
import { told, withoutPlaces } from "./notation";

const BOOK = `table t "T"
| item    | volume (mL) | price |
|---------|-------------|-------|
| juniper |        2400 | 11.20 | # best
| bay     |         350 |       |
column cost = volume * price
column half = volume / 2
foot volume = sum(volume)
foot cost = sum(cost)
`;

describe("a written column", () => {
  it("is added with its heading, under the ruler and in every row", () => {
    const text = edited(BOOK, (tree) =>
      addColumn(tree, tableOf(tree), 2, { name: "strength", bracket: "%vol", cells: ["61.2"] }),
    );
    expect(touched(BOOK, text)).toEqual([
      "| item    | volume (mL) | strength (%vol) | price |",
      "|---------|-------------| --------------- |-------|",
      "| juniper |        2400 | 61.2            | 11.20 | # best",
      "| bay     |         350 |                 |       |",
    ]);
    expect(told(text)).toEqual([]);
    expect(edited("table t\n| a |\n| x |", (tree) => addColumn(tree, tableOf(tree), 1, { name: "b" }))).toBe(
      "table t\n| a | b |\n| x |   |",
    );
  });
  it("gets backticks when its name ends in a bracket, and an escape for a bar", () => {
    const add = (name: string): string =>
      edited("table t\n| a |", (tree) => addColumn(tree, tableOf(tree), 1, { name })).split("\n")[1]!;
    expect(add("old (x)")).toBe("| a | `old (x)` |");
    expect(add("b | c")).toBe("| a | b \\| c |");
  });
  it("is refused in the first place, with a name that is taken or none, with a bracket that is no unit, and while a row is broken", () => {
    expect(refusal(BOOK, (tree) => addColumn(tree, tableOf(tree), 0, { name: "x" }))).toBe("column-first");
    expect(refusal(BOOK, (tree) => addColumn(tree, tableOf(tree), 1, { name: "half" }))).toBe("name-taken");
    expect(refusal(BOOK, (tree) => addColumn(tree, tableOf(tree), 1, { name: " " }))).toBe("name-empty");
    expect(refusal(BOOK, (tree) => addColumn(tree, tableOf(tree), 1, { name: "foot" }))).toBe("name-fixed");
    expect(
      refusal(BOOK, (tree) => addColumn(tree, tableOf(tree), 1, { name: "x", bracket: "two words" })),
    ).toBe("heading-bracket");
    expect(
      refusal("table t\n| a | b |\n| x |", (tree) => addColumn(tree, tableOf(tree), 1, { name: "x" })),
    ).toBe("row-cells");
  });
  it("is taken out of every row, with the foot under it", () => {
    const text = edited(BOOK, (tree) => removeColumn(tree, tableOf(tree), "volume"));
    expect(text.split("\n").slice(0, 8)).toEqual([
      'table t "T"',
      "| item    | price |",
      "|---------|-------|",
      "| juniper | 11.20 | # best",
      "| bay     |       |",
      "column cost = volume * price",
      "column half = volume / 2",
      "foot cost = sum(cost)",
    ]);
    expect(refusal(BOOK, (tree) => removeColumn(tree, tableOf(tree), "item"))).toBe("column-first");
    expect(refusal(BOOK, (tree) => removeColumn(tree, tableOf(tree), "nothing"))).toBe("column-missing");
  });
  it("is moved with all its cells", () => {
    const text = edited(BOOK, (tree) => moveColumn(tree, tableOf(tree), "price", 1));
    expect(text.split("\n").slice(1, 5)).toEqual([
      "| item    | price | volume (mL) |",
      "|---------|-------|-------------|",
      "| juniper | 11.20 |        2400 | # best",
      "| bay     |       |         350 |",
    ]);
    expect(edited(text, (tree) => moveColumn(tree, tableOf(tree), "price", 2))).toBe(BOOK);
    expect(refusal(BOOK, (tree) => moveColumn(tree, tableOf(tree), "price", 0))).toBe("column-first");
  });
  it("changes its bracket alone", () => {
    const bracket = (typed: string): readonly string[] =>
      touched(
        BOOK,
        edited(BOOK, (tree) => setBracket(tree, tableOf(tree), "volume", typed)),
      );
    expect(bracket("L")).toEqual(["| item    | volume (L) | price |"]);
    expect(bracket("")).toEqual(["| item    | volume | price |"]);
    expect(bracket("number")).toEqual(["| item    | volume (number) | price |"]);
    expect(refusal(BOOK, (tree) => setBracket(tree, tableOf(tree), "volume", "1"))).toBe("heading-bracket");
  });
});

describe("a computed column", () => {
  it("is added behind the others, or behind the rows, or under the heading", () => {
    expect(
      touched(
        BOOK,
        edited(BOOK, (tree) => addComputedColumn(tree, tableOf(tree), "in all", "volume")),
      ),
    ).toEqual(["column `in all` = volume"]);
    expect(edited("table t\n| a |\n| x |", (tree) => addComputedColumn(tree, tableOf(tree), "b", "1"))).toBe(
      "table t\n| a |\n| x |\ncolumn b = 1",
    );
    expect(
      edited("table t\n| a |\n|---|\n\nset x = 1", (tree) =>
        addComputedColumn(tree, tableOf(tree), "b", "1"),
      ),
    ).toBe("table t\n| a |\n|---|\ncolumn b = 1\n\nset x = 1");
    expect(refusal(BOOK, (tree) => addComputedColumn(tree, tableOf(tree), "volume", "1"))).toBe("name-taken");
  });
  it("is taken out with its foot, also at the end of a file without a line end", () => {
    expect(edited(BOOK, (tree) => removeColumn(tree, tableOf(tree), "cost"))).toBe(
      BOOK.replace("column cost = volume * price\n", "").replace("foot cost = sum(cost)\n", ""),
    );
    const short = "table t\n| a |\ncolumn c = 1\nfoot c = sum(c)";
    expect(edited(short, (tree) => removeColumn(tree, tableOf(tree), "c"))).toBe("table t\n| a |");
  });
  it("is moved among the computed ones", () => {
    const text = edited(BOOK, (tree) => moveColumn(tree, tableOf(tree), "half", 0));
    expect(touched(BOOK, text)).toEqual(["column half = volume / 2", "column cost = volume * price"]);
  });
});

describe("a foot", () => {
  it("is put under a column that has none, behind the other feet", () => {
    expect(
      touched(
        BOOK,
        edited(BOOK, (tree) => addFoot(tree, tableOf(tree), "half", "sum(half)")),
      ),
    ).toEqual(["foot half = sum(half)"]);
    expect(refusal(BOOK, (tree) => addFoot(tree, tableOf(tree), "cost", "1"))).toBe("foot-taken");
    expect(refusal(BOOK, (tree) => addFoot(tree, tableOf(tree), "nothing", "1"))).toBe("column-missing");
  });
});

describe("a table", () => {
  it("is taken out with all that belongs to it, and leaves what stands between", () => {
    const without = (tree: BookTree) => removeStatement(tree, tableOf(tree).statement);
    const text = "set a = 1\n\ntable t\n| a |\n| x |\nset b = 2\ncolumn c = 1\n\nset d = 3\n";
    expect(edited(text, without)).toBe("set a = 1\n\nset b = 2\n\nset d = 3\n");
    expect(edited("table t\n| a |\n| x |", without)).toBe("");
    const broken = "table t\n| a |\ncolumn c = (\ncolumn d = 1\nfoot d = (\nset e = 1\n";
    expect(edited(broken, without)).toBe("set e = 1\n");
  });
});

describe("whatever the book", () => {
  const sound = (table: TableTree): boolean =>
    table.heading !== undefined &&
    [table.heading, ...table.rows].every(({ messages }) =>
      messages.every(({ code }) => code !== "row-cells" && code !== "row-open"),
    );
  const written = (tree: BookTree, index: number): readonly (readonly string[])[] =>
    tree.tables[index]!.rows.map(({ node }) => node.cells.map(({ raw }) => raw));
  const rest = (tree: BookTree): readonly unknown[] =>
    tree.statements
      .filter(({ node }) => !["row", "heading", "ruler"].includes(node.type))
      .map(({ node, comment }) => withoutPlaces({ node, comment }));

  it("a written column comes, moves and goes, and nothing else has changed", () => {
    fc.assert(
      fc.property(bookWithTable, fc.nat(), fc.nat(), (text, a, b) => {
        const tree = parseBook(text);
        const index = tree.tables.findIndex(
          (table) => sound(table) && !table.columns.some(({ node }) => node.name === "fresh"),
        );
        fc.pre(index >= 0);
        const table = tree.tables[index]!;
        const count = table.heading!.node.columns.length;
        const at = 1 + (a % count);
        const added = applyPatches(
          text,
          addColumn(tree, table, at, {
            name: "fresh",
            bracket: "text",
            cells: table.rows.map((_, i) => `c${i}`),
          }).patches!,
        );
        const grown = parseBook(added);
        expect(written(grown, index)).toEqual(
          written(tree, index).map((cells, i) => [...cells.slice(0, at), `c${i}`, ...cells.slice(at)]),
        );
        expect(rest(grown)).toEqual(rest(tree));
        const to = 1 + (b % count);
        const moved = applyPatches(added, moveColumn(grown, grown.tables[index]!, "fresh", to).patches!);
        const shuffled = parseBook(moved);
        expect(written(shuffled, index)).toEqual(
          written(tree, index).map((cells, i) => [...cells.slice(0, to), `c${i}`, ...cells.slice(to)]),
        );
        expect(rest(shuffled)).toEqual(rest(tree));
        const back = applyPatches(added, removeColumn(grown, grown.tables[index]!, "fresh").patches!);
        expect(back).toBe(text);
      }),
      { numRuns: 200, seed: 9 },
    );
  });
});
