import { readdirSync, readFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { type Notebook, notebook, openNotebook } from "../../src/app/state/notebook";
import { PutOffSearches } from "../../src/app/state/searches";
import { openBook, openBookWith, searchesPutOff, takenUpAgain, underwayOf } from "../../src/engine";

/** A clock that stands a second later each time that it is looked at: no work is soon done. */
beforeEach(() => {
  let now = 0;
  vi.spyOn(performance, "now").mockImplementation(() => {
    now += 1000;
    return now;
  });
});
afterEach(() => {
  vi.restoreAllMocks();
});

const charges = Array.from({ length: 120 }, (_, i) => `| r${i} | ${900 + i} |`).join("\n");
const long = `set pull = 60 mbar
table t
| run | charge (mL) |
${charges}
column got = distil(charge, 40 %vol, pull, take: 300 mL).taken.strength
set all = mean(t.got)
`;
const state = (text: string, searches = new PutOffSearches()): Notebook =>
  openNotebook("1", "", openBookWith(searches, text));
const changed = (was: Notebook, text: string): Notebook =>
  notebook(was, { type: "edit", edit: { says: "pull", text } });

describe("a book on the page", () => {
  it("is worked out in one go where it is short, however slow the machine", () => {
    for (const name of readdirSync("workbooks")) {
      const text = readFileSync(`workbooks/${name}`, "utf8");
      const searches = new PutOffSearches();
      searches.hurry(true);
      expect(underwayOf(openBookWith(searches, text)), name).toBeUndefined();
    }
  });

  it("is left in the middle where it is long, says so, and says in the end what a change did", () => {
    const opened = state(long);
    const whole = underwayOf(opened.book)!.goOn(() => true)!;
    const there = notebook(opened, { type: "again", book: whole });
    expect(there.said).toBe("The book is worked out.");
    const text = long.replace("60 mbar", "70 mbar");
    const left = changed(there, text);
    expect(left.said).toBe("Changed pull. The book is being worked out.");
    expect(left.book.text).toBe(text);
    expect(left.book.answers().find((a) => a.name === "all")?.state).toBe("gap");
    // A change that is made meanwhile is of the newest text.
    const newest = changed(left, text.replace("70 mbar", "80 mbar"));
    const done = notebook(newest, { type: "again", book: underwayOf(newest.book)!.goOn(() => true)! });
    expect(done.said).toBe("Changed pull, recalculated.");
    expect(done.book.answers()).toEqual(openBook(long.replace("60 mbar", "80 mbar")).answers());
  });

  it("has its searches put off, also where another text is tried out meanwhile, and is taken up with what they came to", () => {
    const text = "set a = 2 g\nset x = find v from 0 g to 9 g so that v + a is 5 g\n";
    const searches = new PutOffSearches();
    const book = openBookWith(searches, text);
    expect(searchesPutOff(book)).toBe(1);
    const tried = book.edit(text.replace("2 g", "3 g"));
    expect(searchesPutOff(tried)).toBe(1);
    // Where it is not among what was found it is made, rather than put off for ever.
    searches.know(text, []);
    const again = takenUpAgain(book);
    expect(searchesPutOff(again)).toBe(0);
    expect(again.answers().find((a) => a.name === "x")?.text).toBe("3 g");
    expect(
      takenUpAgain(tried)
        .answers()
        .find((a) => a.name === "x")?.state,
    ).toBe("gap");
  });
});
