import { describe, expect, it } from "vitest";
import { declared, formula } from "./food-calling";

describe("every example about blending, sugar, salt, keeping and honey prints what it says", () => {
  for (const declaration of declared) {
    for (const example of declaration.examples) {
      it(example.formula, () => {
        expect(formula(example.formula)).toBe(example.gives);
      });
    }
  }
});

describe("every declaration about food is accountable", () => {
  for (const d of declared) {
    it(`${d.name} states equation, source, range and trust, and what each part is`, () => {
      for (const words of [d.says, d.equation, d.source, d.range, d.trust])
        expect(words?.length).toBeGreaterThan(10);
      expect(d.examples.length).toBeGreaterThan(0);
      for (const p of d.parameters) expect(p.says).toMatch(/\.$/u);
      for (const r of d.result) expect(r.says).toMatch(/\.$/u);
      for (const label of d.labelsOnly ?? []) expect(d.parameters.map((p) => p.name)).toContain(label);
      for (const p of d.parameters) if (p.optional || p.name === "to") expect(d.labelsOnly).toContain(p.name);
    });
  }
});
