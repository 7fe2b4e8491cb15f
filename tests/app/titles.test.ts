import { describe, expect, it } from "vitest";
import { emptyBook } from "../../src/app/state/examples";
import { titledApart } from "../../src/app/state/titles";
import { openBook } from "../../src/engine";

describe("the title of a book that is begun", () => {
  const text = '# ours\nbook "My blend"\nset a = 1 g\nabout "book \\"My blend\\""\n';

  it("is its own where it is free", () => {
    expect(titledApart(text, [])).toBe(text);
    expect(titledApart(text, ["My blends", "my blend", "My blend 2"])).toBe(text);
    expect(titledApart("set a = 1 g\n", [""])).toBe("set a = 1 g\n");
  });

  it("is counted on where a kept book has it, and nothing else of the text changes", () => {
    const second = titledApart(text, ["My blend"]);
    expect(openBook(second).title).toBe("My blend 2");
    expect(second.replace("My blend 2", "My blend")).toBe(text);
    expect(openBook(titledApart(text, ["My blend 2", "My blend", "My blend 3"])).title).toBe("My blend 4");
    expect(openBook(titledApart(emptyBook, ["Untitled"])).title).toBe("Untitled 2");
  });
});
