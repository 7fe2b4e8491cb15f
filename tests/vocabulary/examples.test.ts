import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { vocabulary } from "../../src/vocabulary";

/** Every worked example of every declaration, through the language. */
const book = openBook("");

for (const declaration of vocabulary.values()) {
  // `pick` needs a table, and is tried in a book instead.
  if (declaration.examples.length === 0) continue;
  describe(declaration.name, () => {
    for (const example of declaration.examples) {
      it(`${example.formula} gives ${example.gives}`, () => {
        const asked = book.ask(example.formula);
        expect(asked.message).toBeNull();
        const text = asked.parts ? asked.parts.map((p) => p.text).join(", ") : asked.text;
        expect(text).toBe(example.gives);
      });
    }
  });
}
