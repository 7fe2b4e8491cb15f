import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { beginRun, type Run, type RunAction, runAfter } from "../../src/app/run/run";
import { effectsOf, landingOf, writesOf } from "../../src/app/run/writes";
import { isWritten } from "../../src/app/run/written";
import { type Book, openBook } from "../../src/engine";

const coriander = openBook(readFileSync("workbooks/coriander-trials.vacuo", "utf8"));
const gin = openBook(readFileSync("workbooks/harbour-gin.vacuo", "utf8"));
const begun = beginRun("id", "", 0, "2026-02-09");
const following = (run: Run, ...actions: RunAction[]): Run => actions.reduce(runAfter, run);
const read = (path: string, typed: string): RunAction => ({ type: "read", path, typed, at: 1 });
const extra = (column: string, typed: string): RunAction => ({ type: "extra", table: "runs", column, typed });
const named: RunAction = { type: "name", name: "5a" };
const both = [read("runs.got", "503,5"), read("runs.strength", "78.2")] as const;
/** The lines of the new text that the old has not. */
const added = (book: Book, text: string): string[] => {
  const before = new Set(book.text.split("\n"));
  return text.split("\n").filter((line) => !before.has(line));
};

describe("the end of a run", () => {
  it("is one new row: named by the person, with the day, the readings, and what was added", () => {
    const run = following(begun, ...both, named, extra("charge", "1200"), extra("coolant", "-10"));
    const writes = writesOf(coriander, run);
    expect(writes.troubles).toEqual([]);
    expect(writes.missing).toEqual([]);
    expect(added(coriander, writes.edit!.text)).toEqual([
      "| 5a  | 2026-02-09 | 1200        | 503.5    | 78.2 %vol | -10          |                        |",
    ]);
    expect(writes.edit!.says).toBe("finishing the run 5a");
    const now = coriander.edit(writes.edit!.text);
    expect(now.tally.faults).toBe(0);
    expect(now.ask("count(runs.got)").text).toBe("8");
    expect(now.ask("runs.`5a`.got").text).toBe("503.5 mL");
  });

  it("tells what follows from it before it is written, as the book then has it", () => {
    const run = following(begun, ...both, named, extra("charge", "1200"));
    const writes = writesOf(coriander, run);
    const effects = effectsOf(coriander, writes);
    const now = coriander.edit(writes.edit!.text);
    const typical = effects.values.find((v) => v.label === "typical")!;
    expect(typical.before.text).toBe(coriander.ask("typical").text);
    expect(typical.after.text).toBe(now.ask("typical").text);
    expect(typical.after.text).not.toBe(typical.before.text);
    expect(effects.rows[0]!.cells.find((c) => c.label === "yield")!.text).toBe(
      now.ask("runs.`5a`.yield").text,
    );
  });

  it("ends at the check that it was found not to meet, else where the readings were written, and says so", () => {
    const landing = (book: Book, ...actions: RunAction[]) =>
      landingOf(book, writesOf(book, following(begun, ...actions)));
    expect(landing(gin, read("measured", "42.1"))).toEqual({
      lands: { in: "item", key: "value:measured", field: "formula" },
      says: "Written into the book: measured.",
    });
    expect(landing(gin, read("measured", "43"))).toEqual({
      lands: { in: "item", key: "check~4", field: "text" },
      says: "Written into the book: measured. Here stands the check that is not met: the measured strength is within the label's tolerance of 0.3 %vol.",
    });
    expect(landing(coriander, ...both, named)).toEqual({
      lands: { in: "cell", key: "table:runs", row: 8, column: 0 },
      says: "Written into the book: row 5a of “Runs”.",
    });
    // A check without words of its own is told by its formula; one that was not met before is no news.
    const bare = openBook(
      'set a = blank in g\ncheck 1 > 2 : "never"\ncheck a < 5 g\ncheck a < 6 g : "little"\nstep "x" ask a in g\n',
    );
    expect(landing(bare, read("a", "7"))).toEqual({
      lands: { in: "item", key: "check~2", field: "formula" },
      says: "Written into the book: a. Here stands the first of 2 checks that are not met: a < 5 g.",
    });
    expect(landing(bare, read("a", "5.5")).says).toContain("Here stands the check that is not met: a < 5 g.");
    expect(landing(bare, read("a", "2"))).toMatchObject({ lands: { key: "value:a" } });
  });

  it("fills a row that waits, when that is chosen, and leaves its other cells alone", () => {
    const run = following(begun, ...both, { type: "into", table: "runs", row: "4b" });
    const writes = writesOf(coriander, run);
    expect(writes.rows[0]!.waiting).toEqual(["4b"]);
    expect(added(coriander, writes.edit!.text)).toEqual([
      "| 4b  | 2026-02-09 | 1200        | 503.5    | 78.2 %vol | -10          | still to be run        |",
    ]);
  });

  it("writes nothing while a name is missing or taken, and says which row waits", () => {
    expect(writesOf(coriander, following(begun, ...both)).troubles).toEqual([
      "The row of “Runs” needs a name.",
    ]);
    const taken = writesOf(coriander, following(begun, ...both, { type: "name", name: " 3A " }));
    expect(taken.troubles).toEqual(["“Runs” has a row 3A already. Choose another name."]);
    expect(taken.edit).toBeUndefined();
    const waits = writesOf(coriander, following(begun, ...both, { type: "name", name: "4b" }));
    expect(waits.troubles[0]).toContain("waits for these readings");
  });

  it("leaves blank what was not read, and writes nothing when nothing was", () => {
    const one = writesOf(coriander, following(begun, read("runs.got", "500"), named));
    expect(one.missing).toEqual(["strength"]);
    expect(coriander.edit(one.edit!.text).value("runs.`5a`.strength")?.type).toBe("gap");
    const none = writesOf(coriander, begun);
    expect(none).toMatchObject({ rows: [], values: [], troubles: [], missing: ["got", "strength"] });
    expect(none.edit).toBeUndefined();
  });

  it("stops at a reading that cannot be read, and at one that no step asks for any more", () => {
    expect(writesOf(coriander, following(begun, read("runs.got", "many"), named)).troubles[0]).toMatch(
      /^got: /,
    );
    expect(writesOf(coriander, following(begun, read("runs.got", "1,234"), named)).troubles[0]).toContain(
      "two ways",
    );
    const lost = writesOf(coriander, following(begun, ...both, named, read("runs.colour", "5")));
    expect(lost.troubles[0]).toContain("no step asks for `runs.colour` any more");
    expect(lost.edit).toBeUndefined();
  });

  it("takes over no remarks, and offers the settings of the last row", () => {
    const { cells, like } = writesOf(coriander, following(begun, ...both)).rows[0]!;
    expect(like).toBe("4b");
    expect(cells.filter((c) => c.like !== undefined).map((c) => [c.label, c.like])).toEqual([
      ["charge", "1200"],
      ["coolant", "-10"],
    ]);
  });

  it("puts a reading in the place of a blank value, and tells which check it meets", () => {
    const run = following(begun, read("measured", "42,2"));
    const writes = writesOf(gin, run);
    expect(writes.values.map((v) => [v.item.name, v.before, v.after])).toEqual([
      ["measured", "blank in %vol", "42.2 %vol"],
    ]);
    expect(writes.edit!.text).toBe(
      gin.text.replace("set measured = blank in %vol", "set measured = 42.2 %vol"),
    );
    expect(gin.edit(writes.edit!.text).value("measured")?.type).toBe("quantity");
    const off = effectsOf(gin, writesOf(gin, following(begun, read("measured", "44"))));
    expect(off.checks.map((c) => c.after.state)).toEqual(["unmet"]);
    expect(isWritten(gin, run)).toBe(false);
    expect(isWritten(gin.edit(writes.edit!.text), run)).toBe(true);
  });

  it("replaces a plain value, never a formula", () => {
    const book = openBook('set a = 5 g\nset b = 2 * a\nstep "x" ask a ask b\n');
    const writes = writesOf(book, following(begun, read("a", "6")));
    expect(writes.edit?.text).toContain("set a = 6 g\n");
    expect(writesOf(book, following(begun, read("b", "6"))).troubles).toEqual([
      "`b` is worked out by a formula, so no reading takes its place.",
    ]);
  });

  it("turns a reading into the unit of the heading, and quotes words that would read as numbers", () => {
    const book = openBook(
      'table t\n| run | got (L) | smell | seen (text) |\n| 1 | 0.4 | fresh | |\nstep "x" ask t.got in mL ask t.smell ask t.seen\n',
    );
    const run = following(
      begun,
      read("t.got", "403 mL"),
      read("t.smell", "5 of 10"),
      read("t.seen", "= odd | bar"),
      {
        type: "name",
        name: "2",
      },
    );
    const writes = writesOf(book, run);
    expect(writes.troubles).toEqual([]);
    const now = book.edit(writes.edit!.text);
    expect(now.messages).toEqual([]);
    expect(now.ask("t.`2`.got").text).toBe("0.403 L");
    expect(now.ask("t.`2`.smell").text).toBe("5 of 10");
    expect(now.ask("t.`2`.seen").text).toBe("= odd | bar");
  });

  it("writes two tables and a value as one change, and takes names such as constructor", () => {
    const book = openBook(
      'table constructor\n| run | on (date) | got (mL) |\ntable b\n| run | got (g) |\n| x | 1 |\nset __proto__ = blank in g\nstep "x" ask constructor.got ask b.got ask __proto__ in g',
    );
    const run = following(begun, read("constructor.got", "4"), read("b.got", "5"), read("__proto__", "6"), {
      type: "name",
      name: "toString",
    });
    const writes = writesOf(book, run);
    expect(writes.troubles).toEqual([]);
    const now = book.edit(writes.edit!.text);
    expect(now.messages).toEqual([]);
    expect(["constructor.toString.got", "b.toString.got", "__proto__"].map((f) => now.ask(f).text)).toEqual([
      "4 mL",
      "5 g",
      "6 g",
    ]);
    expect(isWritten(now, run)).toBe(true);
  });

  it("names a row by its day where the first column holds days", () => {
    const book = openBook('table t\n| on (date) | got (mL) |\n| 2026-01-01 | 1 |\nstep "x" ask t.got\n');
    const writes = writesOf(book, following(begun, read("t.got", "4")));
    expect(writes.troubles).toEqual([]);
    expect(added(book, writes.edit!.text)).toEqual(["| 2026-02-09 | 4        |"]);
  });
});
