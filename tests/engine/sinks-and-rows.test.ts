import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

describe("faults in what looks at values", () => {
  it("are told where they stand: in a check, in the braces of a step, in its wait and its plan", () => {
    const book = openBook(
      [
        "set got = blank in mL",
        "check 1 L > 1 g",
        'step "Add {1 L + 1 g}." wait 1 h + 1 g ask got expect 1 mL + 1 g',
      ].join("\n"),
    );
    expect(book.messages.map((m) => [m.line, m.column, m.severity])).toEqual([
      [2, 7, "fault"],
      [3, 12, "fault"],
      [3, 30, "fault"],
      [3, 55, "fault"],
    ]);
    expect(book.tally.faults).toBe(4);
  });

  it("are told once, where they began, when a check or step only looks at them", () => {
    const book = openBook('set bad = 1 L + 1 g\ncheck bad > 1 L\nstep "Add {bad}."');
    expect(book.messages.map((m) => [m.line, m.path])).toEqual([[1, "bad"]]);
  });
});

describe("rows of a result", () => {
  it("are reached by the names of the rows that they stand for", () => {
    const book = openBook(
      [
        "table jars",
        "| jar    | size (mL) |",
        "| first  | 50        |",
        "| second | 100       |",
        "set run = cuts(800 mL, 45 %vol, 60 mbar, jars.size)",
        "column strength = pick(run.strength, jar)",
      ].join("\n"),
    );
    expect(book.messages).toEqual([]);
    expect(book.ask("run.second.strength is jars.second.strength").value).toBe(true);
    expect(book.ask("run.2.strength is jars.second.strength").value).toBe(true);
  });
});

describe("a column whose only unit cannot be read", () => {
  it("has a fault in that cell, and says so once", () => {
    const book = openBook("table s\n| item | price |\n| a | 23.00 Q |\n| b |  |");
    expect(book.messages.map((m) => [m.line, m.severity])).toEqual([[3, "fault"]]);
    expect(book.answers().map((answer) => answer.state)).toContain("fault");
  });
});
