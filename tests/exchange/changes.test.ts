import { describe, expect, it } from "vitest";
import { exportReport } from "../../src/exchange/report";
import { workbookOf } from "../../src/exchange/workbook";
import { examples, open } from "./examples";
import { change, compare, typedNumbers } from "./other-inputs";
import { recalculate } from "./recalculate";

describe.each([...examples.keys()])("the example %s, with other inputs", (name) => {
  const book = open(name);
  const old = workbookOf(book);
  const numbers = typedNumbers(book);

  it("follows each typed value in its cells as in the book", () => {
    let values = 0;
    let moved = 0;
    for (const number of numbers) {
      const by = change(book, old, [number]);
      if (by === undefined) continue;
      const seen = compare(old, by, recalculate(by.workbook, new Map()));
      values += seen.values;
      moved += seen.moved;
    }
    expect(values).toBeGreaterThan(0);
    expect(moved).toBeGreaterThan(0);
  });
});

describe("the example books together", () => {
  it("go out live to nine parts of ten", () => {
    let computed = 0;
    let live = 0;
    for (const name of examples.keys()) {
      const report = exportReport(open(name));
      computed += report.computed;
      live += report.live;
      for (const { reason } of report.kept) expect(reason).not.toBe("");
    }
    expect(live / computed).toBeGreaterThanOrEqual(0.9);
  });
});
