import { describe, expect, it } from "vitest";
import { mergeNotes, type Note, notesOf } from "../../src/quantity";

const settle: Note = { text: "let it settle" };
const glass: Note = { text: "glass under vacuum", caution: true };
const plainGlass: Note = { text: "glass under vacuum" };

describe("the notes of two values", () => {
  it("are those of either when the other has none", () => {
    const notes = [settle, glass];
    for (const nothing of [undefined, []]) {
      expect(mergeNotes(notes, nothing)).toBe(notes);
      expect(mergeNotes(nothing, notes)).toBe(notes);
    }
  });
  it("are undefined when both have none", () => {
    for (const a of [undefined, []])
      for (const b of [undefined, []]) expect(mergeNotes(a, b)).toBeUndefined();
  });
  it("hold each text once, in order", () => {
    expect(mergeNotes([settle], [glass, settle])).toEqual([settle, glass]);
  });
  it("keep a caution that only one of them knows as such", () => {
    expect(mergeNotes([plainGlass, settle], [glass])).toEqual([glass, settle]);
    expect(mergeNotes([glass, settle], [plainGlass])).toEqual([glass, settle]);
  });
  it("are the first list itself when the second adds nothing", () => {
    const notes = [glass, settle];
    expect(mergeNotes(notes, [settle, plainGlass])).toBe(notes);
    expect(mergeNotes(notes, notes)).toBe(notes);
  });
});

describe("the notes of many values", () => {
  it("are gathered in order, values without any aside", () => {
    expect(notesOf({ notes: [settle] }, undefined, {}, { notes: [glass, settle] })).toEqual([settle, glass]);
    expect(notesOf(undefined, {})).toBeUndefined();
  });
});
