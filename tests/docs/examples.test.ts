import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { type Asked, openBook } from "../../src/engine";
import { type Example, examplesOf, fencesOf } from "./fences";

const top = resolve(import.meta.dirname, "../..");

/** What an answer says, written as the documents write it. */
function told(asked: Asked): string {
  const parts = asked.parts;
  if (asked.state !== "ok" || !parts || parts.length === 0)
    return asked.state === "ok" ? asked.text : asked.state;
  if (asked.raw.type === "list") return parts.map((part) => part.text).join(", ");
  return parts.map((part) => `${part.name} ${part.text}`).join("; ");
}

/**
 * `fault: words` and `gap: words` ask for the state and the words in its message or its help;
 * `X, note: words` for the value and a note with these words; everything else is the whole text.
 */
function holds(asked: Asked, example: Example): void {
  const where = `line ${example.line}: ${example.formula}`;
  const state = /^(fault|gap)(?:: (.*))?$/.exec(example.result);
  if (state) {
    expect(asked.state, `${where}, which gives ${told(asked)}`).toBe(state[1]);
    const advice = [asked.message, asked.help, ...(asked.fixes ?? []).map((fix) => fix.says)].join(" ");
    if (state[2]) expect(advice, where).toContain(state[2]);
    return;
  }
  const noted = /^(.*), note: (.*)$/.exec(example.result);
  expect(asked.message ?? "", where).toBe("");
  expect(told(asked), where).toBe(noted ? noted[1] : example.result);
  if (noted) expect(asked.notes.join(" "), where).toContain(noted[2]);
}

for (const name of ["docs/language.md", "docs/tutorial.md", "docs/sharing.md"]) {
  describe(name, () => {
    const fences = fencesOf(readFileSync(join(top, name), "utf8")).filter(
      (fence) => fence.words[0] === "vacuo",
    );

    it("has examples", () => {
      expect(fences.length).toBeGreaterThan(2);
    });

    for (const fence of fences) {
      const { book: text, examples } = examplesOf(fence);
      it(`works out the block at line ${fence.line}`, () => {
        const book = openBook(text);
        // A block says so when its book is wrong on purpose.
        const faults = book.messages.filter((m) => m.severity === "fault").map((m) => m.says);
        if (fence.words.includes("faults")) expect(faults).not.toEqual([]);
        else expect(faults).toEqual([]);
        for (const example of examples) holds(book.ask(example.formula), example);
      });
    }
  });
}
