import { describe, expect, it } from "vitest";
import { exact, type Kind, kinds, parseUnit, plainUnit, siUnit, type Unit } from "../../src/quantity";
import type { Declaration, Parameter } from "../../src/vocabulary/declaration";
import { givesInWords, signature, takesInWords } from "../../src/vocabulary/glossary";

// Read from the files themselves, so that a list that the index forgets, or a name that is declared twice, shows.
const files = import.meta.glob<{ readonly declarations?: readonly Declaration[] }>(
  "../../src/vocabulary/*.ts",
  { eager: true },
);
// A file may collect the lists of others: the same declaration then counts once.
const all: readonly Declaration[] = [
  ...new Set(Object.values(files).flatMap((file) => file.declarations ?? [])),
];

const NAME = /^[a-z][a-z0-9]*(?:_[a-z0-9]+)*$/;
/** Words of the language that cannot stand as a name without backticks. */
const RESERVED = new Set(
  "and or not is in within to step if then else where find from so that true false blank".split(" "),
);
const unitOf = (text: string): Unit => (text === "" ? plainUnit : parseUnit(text));
const ratios: readonly Kind[] = [kinds.plain, kinds.moisture, kinds.activity];
const fits = (wanted: Kind, given: Kind) =>
  wanted === given || (ratios.includes(wanted) && ratios.includes(given));

/** The kind of a default as it is written: `0 %vol`, `1013.25 mbar`, `15 K`. Undefined for a text. */
function kindOf(written: string): Kind | undefined {
  if (/^".*"$/u.test(written)) return undefined;
  const match = /^(-?\d+(?:\.\d+)?(?:e-?\d+)?)(?: (\S+))?$/u.exec(written);
  if (match === null) throw new Error(`\`${written}\` is neither a quantity nor a text in quotes`);
  exact(match[1]!);
  return unitOf(match[2] ?? "").kind;
}

describe("every declaration", () => {
  it("is there", () => {
    expect(all.length).toBeGreaterThan(60);
  });
  it("has a name of its own", () => {
    const names = all.map((d) => d.name);
    expect(names.filter((n, i) => names.indexOf(n) !== i)).toEqual([]);
  });

  describe.each(all.map((d) => [d.name, d] as const))("%s", (name, d) => {
    it("says what it is, whence, and how far it holds", () => {
      expect(name).toMatch(NAME);
      expect(RESERVED.has(name)).toBe(false);
      for (const field of [d.group, d.says, d.equation, d.source, d.range]) expect(field).toMatch(/\S/u);
      if (d.trust !== undefined) expect(d.trust).toMatch(/\S/u);
      for (const caution of d.cautions ?? []) expect(caution).toMatch(/\.$/u);
      expect("compute" in d !== "evaluate" in d).toBe(true);
      expect(d.result.length).toBeGreaterThan(0);
      // A look-up in a table cannot be worked out without a book.
      if (name !== "pick") expect(d.examples.length).toBeGreaterThan(0);
      for (const { formula, gives } of d.examples) {
        expect(formula).toContain(`${name}(`);
        expect(gives).toMatch(/\S/u);
      }
    });

    it("has parameters with names, meanings and sound defaults", () => {
      const names = d.parameters.map((p) => p.name);
      expect(new Set(names).size).toBe(names.length);
      for (const p of d.parameters) {
        expect(p.name).toMatch(NAME);
        expect(p.says, p.name).toMatch(/\S/u);
        expect(takesInWords(p), p.name).toMatch(/\w/u);
        if (p.choices !== undefined) expect(p.takes).toBe("text");
        if (p.otherwise === undefined) continue;
        expect(p.optional, p.name).toBe(true);
        const kind = kindOf(p.otherwise);
        if (kind === undefined)
          expect(p.choices ?? [p.otherwise.slice(1, -1)]).toContain(p.otherwise.slice(1, -1));
        else expect(takesKind(p, kind), `${p.name} = ${p.otherwise}`).toBe(true);
      }
      // Place before label: what is required may not stand behind what may be left out, unless it has a label.
      const labels = new Set(d.labelsOnly ?? []);
      for (const label of labels) expect(names).toContain(label);
      const firstOptional = d.parameters.findIndex((p) => p.optional === true || labels.has(p.name));
      if (firstOptional >= 0) {
        for (const p of d.parameters.slice(firstOptional))
          expect(p.optional === true || labels.has(p.name), p.name).toBe(true);
      }
      if (names.includes("to")) expect(labels.has("to")).toBe(true);
    });

    it("has parts with names, meanings and units of their kind", () => {
      const parts = d.result.map((r) => r.name);
      expect(new Set(parts).size).toBe(parts.length);
      if (parts.length > 1) expect(parts).not.toContain("");
      // A part may not be a value and have parts itself.
      for (const part of parts)
        expect(parts.filter((other) => other.startsWith(`${part}.`) && part !== "")).toEqual([]);
      for (const r of d.result) {
        for (const word of r.name === "" ? [] : r.name.split(".")) expect(word).toMatch(/^[a-z][a-z0-9_]*$/u);
        expect(r.says, r.name).toMatch(/\S/u);
        expect(givesInWords(r), r.name).toMatch(/\w/u);
        if (typeof r.holds === "string") {
          if (r.holds === "any") expect("evaluate" in d).toBe(true);
          continue;
        }
        const { kind, unit, unitOf: lender, kindOf: giver } = r.holds;
        // The physics answers in SI: each kind must have such a unit, and the shown one must measure the same.
        const shown = unitOf(unit);
        expect(siUnit(kind).kind.dimension, `${r.name} in ${unit}`).toBe(shown.kind.dimension);
        if (shown.kind !== kind)
          expect(
            fits(kind, shown.kind) || shown.kind === kinds.plain || kind === kinds.difference,
            `${r.name} in ${unit}`,
          ).toBe(true);
        for (const parameter of [lender, giver])
          if (parameter !== undefined && parameter !== "")
            expect(d.parameters.map((p) => p.name)).toContain(parameter);
      }
    });

    it("fits in a line that can be read", () => {
      expect(signature(d)).toMatch(/^\w+\(.*\) -> .+$/u);
      if (d.rowPer !== undefined) expect(d.parameters.find((p) => p.name === d.rowPer)?.list).toBe(true);
      if ("together" in d)
        for (const list of d.together ?? [])
          expect(d.parameters.find((p) => p.name === list)?.list).toBe(true);
    });
  });
});

function takesKind(p: Parameter, kind: Kind): boolean {
  if (p.takes === "any") return true;
  return typeof p.takes !== "string" && p.takes.some((t) => fits(t.kind, kind));
}

describe("the index", () => {
  it("holds every declaration of every file", async () => {
    const { vocabulary } = await import("../../src/vocabulary");
    expect(all.map((d) => d.name).filter((n) => !vocabulary.has(n))).toEqual([]);
  });
});
