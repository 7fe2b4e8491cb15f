import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { complete, foretell } from "../../../src/engine/editing";
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

  it("foretells with each letter only what is soon worked out", () => {
    const rows = Array.from({ length: 2_000 }, (_, r) => `| row ${r} | ${900 + r} |`).join("\n");
    const book = openBook(`table log\n| item | volume (mL) |\n${rows}\n`);
    const told = (text: string) => foretell(book, field("set x", text), text)!.shown;
    expect(told("sum(log.volume)").text).toBe("3799000 mL");
    expect(told("distil(900 mL, 40 %vol, 60 mbar, take: 300 mL).taken.strength").state).toBe("ok");
    expect(
      told("mean(distil(log.volume, 40 %vol, 60 mbar, take: 300 mL).taken.strength)").value,
    ).toMatchObject({
      type: "gap",
      waits: true,
      says: "This takes a while to work out; that is done when it is kept.",
    });
    // What was asked leaves no trace in the book.
    expect(book.ask("count(log.volume)").text).toBe("2000");
  });
});
