import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { vocabulary } from "../../src/vocabulary";

/** Every worked example of every declaration, through the language. */
const book = openBook("");

for (const declaration of vocabulary.values()) {
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
