import { describe, expect, it } from "vitest";
import { anywhere, atItem, inGrid, whileWriting } from "../../src/app/state/keys";

const closed = { shown: false, chosen: false };

describe("keys in a table", () => {
  it("move one cell, to the ends of a row, of the table, and by a page", () => {
    expect(inGrid({ key: "ArrowDown" })).toEqual({ do: "move", move: "down", extend: false });
    expect(inGrid({ key: "Home" })).toEqual({ do: "move", move: "row-start", extend: false });
    expect(inGrid({ key: "End", ctrl: true })).toEqual({ do: "move", move: "last", extend: false });
    expect(inGrid({ key: "PageUp" })).toEqual({ do: "move", move: "page-up", extend: false });
  });

  it("extend with Shift, choose all, a row, a column", () => {
    expect(inGrid({ key: "ArrowRight", shift: true })).toEqual({ do: "move", move: "right", extend: true });
    expect(inGrid({ key: "a", ctrl: true })).toEqual({ do: "choose", what: "all" });
    expect(inGrid({ key: " ", shift: true })).toEqual({ do: "choose", what: "row" });
    expect(inGrid({ key: " ", ctrl: true })).toEqual({ do: "choose", what: "column" });
  });

  it("open with Enter and F2, and leave letters to the field", () => {
    expect(inGrid({ key: "Enter" }).do).toBe("open");
    expect(inGrid({ key: "F2" }).do).toBe("open");
    expect(inGrid({ key: "7" }).do).toBe("none");
    expect(inGrid({ key: "=" }).do).toBe("none");
  });

  it("ignore every command while an input method composes", () => {
    for (const key of ["Enter", "Escape", "ArrowDown", "F2", "Delete", "Tab"]) {
      expect(inGrid({ key, composing: true }).do).toBe("none");
      expect(atItem({ key, composing: true }).do).toBe("none");
      expect(whileWriting({ key, composing: true }, closed).do).toBe("none");
    }
    expect(anywhere({ key: "z", ctrl: true, composing: true }).do).toBe("none");
  });

  it("leave Tab to the browser, so that a table is one stop", () => {
    expect(inGrid({ key: "Tab" }).do).toBe("none");
    expect(inGrid({ key: "Tab", shift: true }).do).toBe("none");
    expect(inGrid({ key: "Escape" }).do).toBe("none");
  });

  it("go on with Tab for one who is filling the table, until Escape", () => {
    expect(inGrid({ key: "Tab" }, true)).toEqual({ do: "step", next: "next" });
    expect(inGrid({ key: "Tab", shift: true }, true)).toEqual({ do: "step", next: "previous" });
    expect(inGrid({ key: "Escape" }, true)).toEqual({ do: "leave" });
    expect(inGrid({ key: "Tab", composing: true }, true).do).toBe("none");
    expect(inGrid({ key: "Tab", ctrl: true }, true).do).toBe("none");
  });
});

describe("keys while writing", () => {
  it("keep and move with Enter and Tab, leave with Escape", () => {
    expect(whileWriting({ key: "Enter" }, closed)).toEqual({ do: "keep", next: "down" });
    expect(whileWriting({ key: "Enter", shift: true }, closed)).toEqual({ do: "keep", next: "up" });
    expect(whileWriting({ key: "Tab" }, closed)).toEqual({ do: "keep", next: "next" });
    expect(whileWriting({ key: "Escape" }, closed)).toEqual({ do: "leave" });
  });

  it("leave arrows to the caret unless offers are on show", () => {
    expect(whileWriting({ key: "ArrowDown" }, closed).do).toBe("none");
    expect(whileWriting({ key: "ArrowDown" }, { shown: true, chosen: false })).toEqual({
      do: "offer",
      way: "next",
    });
    expect(whileWriting({ key: "ArrowLeft" }, { shown: true, chosen: true }).do).toBe("none");
  });

  it("leave undo to the field", () => {
    expect(whileWriting({ key: "z", ctrl: true }, closed).do).toBe("none");
  });
});
