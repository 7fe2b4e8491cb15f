import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { complete } from "../../../src/engine/editing";
import { field } from "./writing";

describe("a large book", () => {
  it("gets no more proposals than can be looked at", () => {
    const rows = Array.from({ length: 5_000 }, (_, r) => `| row ${r} | ${r + 1} |`).join("\n");
    const book = openBook(
      `${Array.from({ length: 20 }, (_, i) => `set a${i} = ${i}\n`).join("")}table log\n| item | volume (mL) |\n${rows}\n`,
    );
    const many = complete(book, field("set x", "log."), 4).proposals.length;
    expect(many).toBeGreaterThan(100);
    expect(many).toBeLessThanOrEqual(200);
    expect(complete(book, field("set x", ""), 0, { most: 7 }).proposals).toHaveLength(7);
  });
});
