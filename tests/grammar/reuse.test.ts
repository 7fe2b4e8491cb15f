import { describe, expect, it } from "vitest";
import { applyPatches, type BookTree, parseBook } from "../../grammar";
import { told } from "./notation";

function edited(tree: BookTree, find: string, insert: string, length = find.length): BookTree {
  const from = tree.text.indexOf(find);
  expect(from).toBeGreaterThanOrEqual(0);
  return parseBook(applyPatches(tree.text, [{ from, to: from + length, insert }]), tree);
}

/** Which statements of the second tree have a node that the first has not, by line. */
function fresh(before: BookTree, after: BookTree): readonly number[] {
  const known = new Set(before.statements.map(({ node }) => node));
  return after.statements.filter(({ node }) => !known.has(node)).map(({ line }) => line);
}

const ROWS = Array.from({ length: 1000 }, (_, i) => `| row ${i} | ${i} mL | note ${i} |`);
const BOOK = [
  "set a = 1",
  "table t",
  "| item | volume | note |",
  ...ROWS,
  "column twice = volume * 2",
  "set b = 2",
  "check a < b",
].join("\n");

describe("reading again after an edit", () => {
  it("reads one row when one row has changed", () => {
    const before = parseBook(BOOK);
    const after = edited(before, "500 mL", "501 mL");
    expect(fresh(before, after)).toEqual([504]);
    expect(after.statements.slice(0, 500)).toEqual(before.statements.slice(0, 500));
    expect(after.statements[10]).toBe(before.statements[10]);
  });
  it("keeps nodes and messages of what has moved, with the new places", () => {
    const before = parseBook(`${BOOK}\nset c = (`);
    const after = edited(before, "set a = 1", "# remark\n\nset a = 100");
    expect(fresh(before, after)).toEqual([3]);
    const last = after.statements.at(-1)!;
    expect(last.node).toBe(before.statements.at(-1)!.node);
    expect(last.messages).toBe(before.statements.at(-1)!.messages);
    expect(last).toMatchObject({ line: 1009, at: after.text.length - "set c = (".length });
  });
  it("keeps rows that are moved, doubled or taken away", () => {
    const before = parseBook(BOOK);
    const moved = parseBook(
      BOOK.replace(`${ROWS[5]}\n`, "").replace(ROWS[900]!, `${ROWS[900]}\n${ROWS[5]}`),
      before,
    );
    expect(fresh(before, moved)).toEqual([]);
    const fewer = parseBook(BOOK.replace(ROWS.slice(100, 900).join("\n"), ""), before);
    expect(fresh(before, fewer)).toEqual([]);
    const sorted = parseBook(BOOK.replace(ROWS.join("\n"), [...ROWS].reverse().join("\n")), before);
    expect(fresh(before, sorted)).toEqual([]);
  });
  it("keeps the very statements that stand where they stood, before the change and behind it", () => {
    const before = parseBook(BOOK);
    for (const [find, insert, line] of [
      ["set a = 1", "set a = 2", 1],
      ["| row 0 | 0 mL", "| row 0 | 5 mL", 4],
      ["500 mL", "501 mL", 504],
      ["set b = 2", "set b = 3", 1005],
    ] as const) {
      const after = edited(before, find, insert);
      const same = after.statements.filter((statement, i) => statement === before.statements[i]);
      // The statement above is cut again, for its end depends on what follows, and may be a new one of the same node.
      expect(same.length, find).toBeGreaterThanOrEqual(1004);
      expect(after.statements[line - 1]).not.toBe(before.statements[line - 1]);
    }
  });
  it("gives what has moved its new place and line, and nothing else", () => {
    const before = parseBook(`set a = 1\n\n# x\nset b = 2 # c\n\n\ntable t\n| i |\n| y | # d\nset e = (`);
    for (const [find, insert] of [
      ["set a = 1", "set a = 1000"],
      ["set a = 1\n", "\n\nset a = 1\n"],
      ["set a = 1\n\n", ""],
      ["# x\n", ""],
      ["set a", "set z = 0\nset a"],
      ["a = 1", "a = (1 +\n1)"],
      [" # c\n", "\n"],
      ["\n\n\ntable", "\ntable"],
      ["| i |", "| i | j |"],
    ] as const) {
      const after = edited(before, find, insert);
      const afresh = parseBook(after.text);
      expect(after.statements, find).toEqual(afresh.statements);
      expect(after.messages, find).toEqual(afresh.messages);
      expect(after.tables, find).toEqual(afresh.tables);
    }
  });
  it("finds the change in texts that repeat themselves", () => {
    const line = "set a = 1\n";
    for (const count of [1, 2, 3, 300]) {
      const before = parseBook(line.repeat(count));
      for (const text of [line.repeat(count + 1), line.repeat(count - 1), `${line.repeat(count)}set a = 1`]) {
        const after = parseBook(text, before);
        expect(after.statements.map(({ at, line: number }) => [at, number])).toEqual(
          parseBook(text).statements.map(({ at, line: number }) => [at, number]),
        );
        expect(fresh(before, after)).toEqual([]);
      }
    }
  });
  it("keeps a byte order mark that comes, stays and goes", () => {
    const plain = parseBook("set a = 1\nset b = 2");
    const marked = parseBook("\uFEFFset a = 1\nset b = 2", plain);
    expect(marked.statements.map(({ at }) => at)).toEqual([1, 11]);
    expect(marked.messages).toEqual([]);
    expect(fresh(plain, marked)).toEqual([]);
    const changed = edited(marked, "1", "3");
    expect([changed.statements.map(({ at }) => at), changed.messages]).toEqual([[1, 11], []]);
    const without = parseBook("set a = 3\nset b = 2", changed);
    expect(without.statements.map(({ at }) => at)).toEqual([0, 10]);
    expect(fresh(changed, without)).toEqual([]);
  });
  it("reads afresh behind a text that was no book, and behind one that was given up", () => {
    const nothing = parseBook("set a = 1\0");
    expect(parseBook("set a = 1", nothing).statements).toHaveLength(1);
    const lost = parseBook("set a = 1\nset b = \uFFFD", parseBook("set a = 1\nset b = 2"));
    expect(lost.messages.map(({ code }) => code)).toEqual(["file-encoding"]);
    expect(parseBook("set a = 1\nset b = 2", lost).messages).toEqual([]);
  });
  it("gives back the nodes from before when a change is undone", () => {
    const before = parseBook(BOOK);
    const after = edited(before, "500 mL", "501 mL");
    const undone = parseBook(BOOK, after);
    expect(fresh(before, undone)).toEqual([]);
    expect(undone.statements).toEqual(before.statements);
  });
  it("keeps rows when a heading only takes another name or unit", () => {
    const before = parseBook(BOOK);
    expect(fresh(before, edited(before, "| volume |", "| amount (L) |"))).toEqual([3]);
  });
  it("reads the rows again when the heading changes what they are", () => {
    const before = parseBook(BOOK);
    expect(fresh(before, edited(before, "| volume |", "| volume (text) |"))).toHaveLength(1001);
    const narrower = edited(before, "| volume | note |", "| volume |");
    expect(narrower.statements[10]!.messages).toMatchObject([{ code: "row-cells" }]);
  });
  it("keeps rows with a fault as well, as long as their heading stays", () => {
    const before = parseBook("set a = 1\ntable t\n| i | x |\n| r | 1 2 |\n| s |\n| u | 1 |");
    for (const text of [
      `\n${before.text}`,
      before.text.replace("a = 1", "a = 2"),
      `${before.text}\nset b = 1`,
    ]) {
      const after = parseBook(text, before);
      const rows = (tree: BookTree): readonly unknown[] => tree.tables[0]!.rows.map(({ node }) => node);
      rows(before).forEach((node, i) => {
        expect(rows(after)[i]).toBe(node);
      });
    }
  });
  it("tells missing cells by the names of the heading that is there now", () => {
    const before = parseBook("table t\n| a | b |\n| x |");
    const after = edited(before, "| b |", "| c |");
    expect(after.statements[2]!.messages[0]!.says).toBe("The row ends before `c`.");
  });
  it("follows a table that begins or ends above", () => {
    const before = parseBook(BOOK);
    const without = edited(before, "table t\n", "");
    expect(without.tables).toEqual([]);
    expect(told(without.text)).toHaveLength(1002);
    const again = parseBook(BOOK, without);
    expect(again.tables[0]!.rows).toHaveLength(1000);
    expect(fresh(before, again).length).toBeLessThanOrEqual(1001);
  });
  it("hands back the very tree when nothing has changed", () => {
    const tree = parseBook(BOOK);
    expect(parseBook(BOOK, tree)).toBe(tree);
  });
  it("leaves the earlier tree as it was, whatever is tried on it", () => {
    const before = parseBook(BOOK);
    const nodes = before.statements.map(({ node }) => node);
    edited(before, "| volume |", "| volume (text) |");
    edited(before, "table t\n", "");
    const after = edited(before, "500 mL", "501 mL");
    expect(before.statements.map(({ node }) => node)).toEqual(nodes);
    expect(fresh(before, after)).toEqual([504]);
  });
  it("reads afresh when the earlier tree is not one of its own", () => {
    const tree = parseBook(BOOK);
    const copy: BookTree = { ...tree, tableOf: tree.tableOf };
    expect(parseBook(BOOK, copy).statements).toEqual(tree.statements);
  });
  it("finds one changed letter wherever it stands in a long book", () => {
    const before = parseBook(BOOK);
    for (let row = 20; row < ROWS.length; row += 20) {
      const after = edited(before, `| note ${row} |`, `| mote ${row} |`);
      expect(fresh(before, after), `row ${row}`).toEqual([row + 4]);
      expect(after.statements[row + 3]!.node).toEqual(parseBook(after.text).statements[row + 3]!.node);
    }
  });
  it("reads a bracket that closes later, and one that no longer does", () => {
    const open = parseBook("set a = f(1,\n2\nset b = 3\n");
    const closed = edited(open, "2", "2)");
    expect(closed.statements.map(({ node }) => node.type)).toEqual(["set", "set"]);
    expect(closed.statements[1]!.node).toBe(open.statements[1]!.node);
    const joined = edited(parseBook("set a = 1\nb\n"), "b", "+ b");
    expect(joined.statements).toHaveLength(1);
    const behind = edited(parseBook("set a = 1\nb"), "b", "by");
    expect(behind.statements).toHaveLength(1);
  });
});
