import { describe, expect, it } from "vitest";
import { declared, formula } from "./physics-calling";

describe("every example about spirit and still prints what it says", () => {
  for (const declaration of declared) {
    for (const example of declaration.examples) {
      it(example.formula, () => {
        expect(formula(example.formula)).toBe(example.gives);
      });
    }
  }
});
