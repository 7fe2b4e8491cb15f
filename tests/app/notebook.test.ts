import { describe, expect, it } from "vitest";
import {
  type Action,
  chosenExtent,
  type Notebook,
  notebook,
  openNotebook,
  wouldAsk,
} from "../../src/app/state/notebook";
import { cellPlace, itemPlace } from "../../src/app/state/place";
import { addItem } from "../../src/app/state/structure";
import { openBook } from "../../src/engine";

const text = `set a = 1 g
table t "T"
| item | amount (g) | note (text) |
| one  | 10         | x           |
| two  | 20         | y           |
column double = 2 * amount
`;
const start = openNotebook("id", "t.vacuo", openBook(text));
const key = "table:t";
const run = (state: Notebook, ...actions: Action[]): Notebook => actions.reduce(notebook, state);
const go = (row: number, column: number): Action => ({ type: "go", place: cellPlace(key, row, column) });
const type = (words: string): Action => ({ type: "write", text: words, via: "place" });

describe("a draft", () => {
  it("goes into the text when it is kept, and leads on", () => {
    const state = run(start, go(0, 1), type("15"), { type: "keep", next: "down" });
    expect(state.book.text).toBe(text.replace("| 10 ", "| 15 "));
    expect(state.here).toEqual(cellPlace(key, 1, 1));
    expect(state.draft).toBeUndefined();
    expect(state.history.past.map((e) => e.says)).toEqual(["amount of one"]);
  });

  it("is kept as well when the writer goes elsewhere, right or wrong", () => {
    expect(run(start, go(0, 1), type("15"), go(1, 1)).book.text).toContain("| 15 ");
    const wrong = run(start, go(0, 1), type("= 2 * ("), go(1, 1));
    expect(wrong.book.text).toContain("| = 2 * (");
    expect(wrong.book.tally.faults).toBeGreaterThan(0);
  });

  it("of a thing just added is chosen whole, so that the first letter takes its place", () => {
    const add = addItem(start.book, "value");
    if ("refused" in add) throw new Error(add.refused);
    const added = run(start, { type: "edit", edit: add });
    expect(added.draft).toMatchObject({ text: "value", caret: 0, all: true });
    expect(run(added, { type: "change", text: "b", caret: 1 }).draft?.all).toBeUndefined();
    // A function's pattern is gone on from, not written over.
    const pattern = addItem(start.book, "function");
    if ("refused" in pattern) throw new Error(pattern.refused);
    const { draft } = run(start, { type: "edit", edit: pattern });
    expect(draft).toMatchObject({ text: "define twice(x) = 2 * x", via: "line" });
    expect(draft?.all).toBeUndefined();
  });

  it("leaves no trace when it is given up or changes nothing", () => {
    expect(run(start, go(0, 1), type("15"), { type: "leave" }).book).toBe(start.book);
    const same = run(start, go(0, 1), { type: "write", via: "place" }, { type: "keep", next: "stay" });
    expect(same.book).toBe(start.book);
    expect(same.history.past).toEqual([]);
  });

  it("asks about a comma once, and takes the answer", () => {
    const asked = run(start, go(0, 1), type("1,5"), { type: "keep", next: "down" });
    expect(asked.book.text).toBe(text);
    expect(asked.draft?.ask?.map((r) => r.text)).toEqual(["1.5"]);
    expect(run(asked, { type: "keep", next: "down", text: "1.5", asIs: true }).book.text).toContain("| 1.5 ");
    expect(run(asked, { type: "leave" }).draft?.ask).toBeUndefined();
    // Words in a column of text are not numbers.
    expect(run(start, go(0, 2), type("1,5 turns"), { type: "keep", next: "down" }).draft?.ask).toBeDefined();
  });

  it("left with a comma of one reading is kept as that, with the unit of its column, and says so", () => {
    const units = openNotebook(
      "id",
      "u.vacuo",
      openBook(
        "set got = blank in %vol\ntable t\n| item | strength | note (text) |\n| a | 61.5 %vol | |\n| b | | |\n",
      ),
    );
    const left = run(units, go(1, 1), type("58,2"), go(0, 1));
    expect(left.book.text).toMatch(/\| b +\| 58\.2 %vol +\|/);
    expect(left.told?.text).toBe("58,2 was kept as 58.2 %vol; Undo takes it back.");
    expect(left.here).toEqual(cellPlace(key, 0, 1));
    expect(run(left, { type: "undo" }).book.text).toBe(units.book.text);
    // Whose question was on show needs not be told.
    const asked = run(units, go(1, 1), type("58,2"), { type: "keep", next: "down" }, go(0, 1));
    expect(asked.book.text).toMatch(/58\.2 %vol +\|/);
    expect(asked.told).toBeUndefined();
    const value = { type: "go", place: itemPlace("value:got", "formula") } as const;
    expect(run(units, value, type("41,2 ± 0,3"), { type: "keep", next: "here" }).book.text).toContain(
      "set got = 41.2 ± 0.3 %vol\n",
    );
    // A comma among words is theirs.
    const words = run(units, go(0, 2), type("calm"), go(1, 2), type("1,5 turns"), go(0, 1));
    expect(words.book.text).toContain("| 1,5 turns |");
    expect(words.told).toBeUndefined();
  });

  it("left with a comma of several readings stays open and asks", () => {
    for (const away of [go(1, 1), { type: "keep", next: "here" } as const]) {
      const open = run(start, go(0, 1), type("1,234"), away);
      expect(open.draft).toMatchObject({ text: "1,234", place: cellPlace(key, 0, 1) });
      expect(open.draft?.ask?.map((r) => r.text)).toEqual(["1.234", "1234"]);
      expect(open.here).toEqual(cellPlace(key, 0, 1));
      expect(open.focus).toBeGreaterThan(start.focus);
      expect(open.book).toBe(start.book);
      expect(open.told?.text).toContain("which number is meant");
      const done = run(open, { type: "keep", next: "down", text: "1234", asIs: true }, go(1, 1));
      expect(done.book.text).toContain("| 1234 ");
      expect(done.here).toEqual(cellPlace(key, 1, 1));
    }
  });

  it("does not glue what is typed on to a number that is asked about, and goes on once that is answered", () => {
    const asked = run(start, go(0, 1), type("78,5"), { type: "keep", next: "next" });
    const on = run(asked, { type: "change", text: "78,5-", caret: 5 });
    expect(on.draft).toEqual(asked.draft);
    expect(on.told?.text).toContain("which number is meant");
    // Taking a letter back mends what was typed; the question is over.
    expect(run(asked, { type: "change", text: "78,", caret: 3 }).draft).toMatchObject({ text: "78," });
    expect(run(asked, { type: "leave" }, { type: "change", text: "78,50", caret: 5 }).draft?.text).toBe(
      "78,50",
    );
  });

  it("opened under a finger is chosen whole", () => {
    const open = run(start, go(0, 1), { type: "write", via: "line", all: true });
    expect(open.draft).toMatchObject({ text: "10", caret: 2, all: true, via: "line" });
  });

  it("tells beforehand whether it would ask about a comma", () => {
    const at = (field: "formula" | "remark", words: string) =>
      run(start, { type: "go", place: itemPlace("value:a", field) }, type(words));
    expect(wouldAsk(at("formula", "1,5 g"))).toBe(true);
    expect(wouldAsk(at("formula", "1.5 g"))).toBe(false);
    expect(wouldAsk(at("remark", "1,5 g or so"))).toBe(false);
    expect(wouldAsk(run(at("formula", "1,5 g"), { type: "keep", next: "next" }))).toBe(false);
    expect(wouldAsk(start)).toBe(false);
  });

  it("goes on from the answer about a comma the way the key led that was asked back", () => {
    for (const [next, to] of [
      ["next", cellPlace(key, 0, 2)],
      ["down", cellPlace(key, 1, 1)],
      ["previous", cellPlace(key, 0, 0)],
    ] as const) {
      const asked = run(start, go(0, 1), type("1,5"), { type: "keep", next });
      expect(run(asked, { type: "keep", next: "down", text: "1.5", asIs: true }).here).toEqual(to);
    }
  });

  it("of a fresh check leads from what must be true to the words for it, and then stays", () => {
    const add = addItem(start.book, "check");
    if ("refused" in add) throw new Error(add.refused);
    const added = run(start, { type: "edit", edit: add });
    const worded = run(added, { type: "change", text: "a > 0 g", caret: 7 }, { type: "keep", next: "down" });
    expect(worded.draft).toMatchObject({ text: "say what must hold", all: true });
    expect(worded.here).toMatchObject({ in: "item", field: "text" });
    const done = run(
      worded,
      { type: "change", text: "there is some", caret: 13 },
      { type: "keep", next: "down" },
    );
    expect(done.draft).toBeUndefined();
    expect(done.book.text).toContain('check a > 0 g : "there is some"');
    // What it was made with may be kept as it is; its words come next all the same.
    expect(run(added, { type: "keep", next: "down" }).here).toMatchObject({ field: "text" });
    // A check that has its words stays where it was written.
    const again = run(
      done,
      { type: "go", place: itemPlace("check~1", "formula") },
      { type: "write", text: "a > 2 g", via: "place" },
      { type: "keep", next: "down" },
    );
    expect(again.draft).toBeUndefined();
    expect(again.here).toEqual(itemPlace("check~1", "formula"));
  });

  it("that cannot be a name stays open with the reason, and is set aside when it is left", () => {
    const open = run(start, { type: "go", place: itemPlace("value:a", "name") }, type("foot"));
    const refused = run(open, { type: "keep", next: "stay" });
    expect(refused.draft?.refused).toMatch(/foot/);
    const left = run(open, go(0, 1));
    expect(left.aside).toMatchObject({ text: "foot" });
    expect(left.book.text).toBe(text);
    expect(run(left, { type: "aside", take: true }).draft).toMatchObject({
      text: "foot",
      place: open.here,
    });
  });
});

describe("Enter at the name of the last row", () => {
  it("leads to the first cell of the row that is to be filled, and else down", () => {
    const book = openBook(
      "table t\n| item | a (g) | b (g) |\n| one | 1 | |\n| | 2 | |\ncolumn c = 2 * a\nfoot a = sum(a)\n",
    );
    const named = run(openNotebook("id", "n.vacuo", book), go(1, 0), type("two"), {
      type: "keep",
      next: "down",
    });
    expect(named.here).toEqual(cellPlace(key, 1, 2));
    const enter = (row: number, column: number) =>
      run(named, go(row, column), { type: "write", via: "place" }, { type: "keep", next: "down" }).here;
    // Names are written down their column, and behind the last one that is full stands the foot.
    expect(enter(0, 0)).toEqual(cellPlace(key, 1, 0));
    expect(enter(1, 2)).toEqual(cellPlace(key, 2, 2));
    const full = run(named, type("5"), { type: "keep", next: "down" }, go(1, 0), type("2b"), {
      type: "keep",
      next: "down",
    });
    expect(full.here).toEqual(cellPlace(key, 2, 0));
  });
});

describe("Tab while writing", () => {
  it("goes through the typed cells, row after row, and never into computed ones", () => {
    let state = run(start, go(0, 0));
    const seen: string[] = [];
    for (let i = 0; i < 7; i++) {
      state = run(state, { type: "write", via: "place" }, { type: "keep", next: "next" });
      if (state.here?.in === "cell") seen.push(`${state.here.row},${state.here.column}`);
    }
    expect(seen).toEqual(["0,1", "0,2", "1,0", "1,1", "1,2", "1,2", "1,2"]);
  });
});

describe("undo", () => {
  it("puts back the text and the writer", () => {
    const state = run(start, go(0, 1), type("15"), { type: "keep", next: "down" }, go(1, 2), {
      type: "undo",
    });
    expect(state.book.text).toBe(text);
    expect(state.here).toEqual(cellPlace(key, 0, 1));
    expect(state.said).toBe("Took back: amount of one.");
    const again = run(state, { type: "redo" });
    expect(again.book.text).toContain("| 15 ");
    expect(run(again, { type: "redo" }).said).toBe("Nothing to redo.");
  });

  it("keeps the writer inside a table that has become smaller", () => {
    const state = run(
      start,
      { type: "edit", edit: { says: "a row", text: text.replace("| two", "| three | 1 | z |\n| two") } },
      go(2, 1),
      { type: "undo" },
      { type: "redo" },
      go(2, 1),
      { type: "undo" },
    );
    expect(state.here === undefined || (state.here.in === "cell" && state.here.row <= 1)).toBe(true);
  });
});

describe("choosing", () => {
  it("extends from where it began, and ends with the next plain move", () => {
    const state = run(start, go(0, 1), { type: "move", move: "down", extend: true });
    expect(state.anchor).toEqual({ row: 0, column: 1 });
    expect(run(state, { type: "move", move: "down", extend: false }).anchor).toBeUndefined();
    const all = run(state, { type: "choose", what: "all" });
    expect(chosenExtent(all)).toEqual({ top: 0, bottom: 1, left: 0, right: 3 });
    // The writer stays in the cell, and what is typed goes there, not into the name of the first row.
    expect(all.here).toEqual(state.here);
    expect(run(all, type("7"), { type: "keep", next: "stay" }).book.text).toBe(
      text.replace("| 20 ", "| 7  "),
    );
    for (const [what, extent] of [
      ["row", { top: 1, bottom: 1, left: 0, right: 3 }],
      ["column", { top: 0, bottom: 1, left: 1, right: 1 }],
    ] as const) {
      const now = run(state, { type: "choose", what });
      expect([chosenExtent(now), now.here]).toEqual([extent, state.here]);
    }
    expect(chosenExtent(run(all, { type: "move", move: "up", extend: true }))).toEqual({
      top: 0,
      bottom: 1,
      left: 1,
      right: 1,
    });
  });
});

it("tells what a change did to the checks and faults of the book", () => {
  const state = run(start, go(0, 1), type("many"), { type: "keep", next: "down" });
  expect(state.said).toMatch(/^Changed amount of one, recalculated\. \d faults?\./);
});
