import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { aromaCompounds } from "../../src/matter/aroma-data";
import { massFraction } from "../../src/matter/spirit";
import { staying } from "../../src/matter/staying";
import { type Kind, kinds } from "../../src/quantity";
import { declarations } from "../../src/vocabulary/aroma";
import { aromaDocument } from "../../src/vocabulary/aroma-document";
import type { PhysicsDeclaration } from "../../src/vocabulary/declaration";

const declaration = declarations[0] as PhysicsDeclaration;

interface Outcome {
  readonly taken: number;
  readonly left: number;
  readonly taken_low: number;
  readonly taken_high: number;
  readonly how: string;
  readonly notes: string;
  readonly cautions: string;
}

function run(
  compound: string,
  percent = 40,
  mbar = 50,
  takeMillilitres = 400,
  take: Kind = kinds.volume,
): Outcome {
  const notes: string[] = [];
  const cautions: string[] = [];
  const result = declaration.compute(
    {
      compound,
      volume: 1e-3,
      strength: massFraction(percent / 100),
      pressure: 100 * mbar,
      take: takeMillilitres * (take === kinds.volume ? 1e-6 : 1e-3),
    },
    {
      kindOf: (name) => (name === "take" ? take : kinds.volume),
      note: (text) => notes.push(text),
      caution: (text) => cautions.push(text),
      without: () => {},
    },
  ) as Record<string, number>;
  return { ...(result as unknown as Outcome), notes: notes.join("\n"), cautions: cautions.join("\n") };
}

describe("comes_over", () => {
  it("shows its band with every answer, as parts and in words", () => {
    const found = run("linalool");
    expect(found.taken).toBeCloseTo(0.46, 2);
    expect(found.taken_low).toBeCloseTo(0.19, 2);
    expect(found.taken_high).toBeCloseTo(0.84, 2);
    expect(found.left).toBe(1 - found.taken);
    expect(found.notes).toMatch(/between 19 % and 84 % of the linalool/);
    for (const { name } of aromaCompounds)
      expect(run(name).notes, name).toMatch(/^Order of magnitude: between/);
  });
  it("says in words what decides", () => {
    expect(run("limonene").how).toBe("comes over early and almost wholly");
    expect(run("linalool").how).toBe("waits until the pot is weak: it comes with the tail");
    expect(run("vanillin").how).toBe("stays in the pot almost wholly");
    expect(run("eugenol", 0, 30, 100).how).toBe("comes over slowly throughout");
  });
  it("knows other names, Greek letters and CAS numbers", () => {
    for (const [name, other] of [
      ["alpha-pinene", "α-Pinene"],
      ["eucalyptol", "1,8-cineole"],
      ["estragole", "methyl chavicol"],
      ["linalool", "78-70-6"],
    ]) {
      expect(run(other!)).toEqual(run(name!));
    }
  });
  it("refuses a compound without data and names the list", () => {
    const fault = (name: string): { says: string; help: string } => {
      try {
        run(name);
      } catch (error) {
        return error as { says: string; help: string };
      }
      throw new Error(`${name} was answered`);
    };
    expect(fault("terpinen-4-ol").says).toMatch(/“terpinen-4-ol” is not in the list: no published figure/);
    expect(fault("constructor").says).toMatch(/not in the list/);
    expect(fault("saffron").help).toMatch(/come over: alpha-pinene.*stay in the pot: sucrose.*CAS/);
    expect(fault("limonen").help).toMatch(/If “limonene” was meant/);
    expect(fault("geraniool").help).toMatch(/If “geraniol” was meant/);
  });
  it("says of the poisons without figures what is known all the same", () => {
    const help = (name: string): string => {
      try {
        run(name);
      } catch (error) {
        return (error as { help: string }).help;
      }
      throw new Error(`${name} was answered`);
    };
    expect(help("methanol")).toMatch(/a cut removes none/);
    expect(help("β-Asarone")).toMatch(/known to come over.*1334\/2008/);
    expect(help("menthofuran")).toMatch(/have the product measured/);
    expect(help("quassin")).toMatch(/not known to come over/);
  });
  it("never offers another compound for one that it does not know", () => {
    for (const other of [
      "maltose",
      "lactose",
      "citronellol",
      "nerol",
      "thujene",
      "limonin",
      "methyl acetate",
      "naringin",
    ]) {
      expect(() => run(other), other).toThrow(/not in the list/);
      try {
        run(other);
      } catch (error) {
        expect((error as { help: string }).help, other).not.toMatch(/was meant/);
      }
    }
  });
  it("answers what stays with nothing, the reason and its source", () => {
    const found = run("caffeine");
    expect([found.taken, found.left, found.taken_high]).toEqual([0, 1, 1e-4]);
    expect(found.how).toBe("stays in the pot");
    expect(found.notes).toMatch(/stays in the pot: over water .*Sander.*droplets/s);
    expect(run("sucrose").notes).toMatch(/breaks down by heat before it could boil .*Agric\. Food Chem/);
    expect(run("salt").notes).toMatch(/sodium chloride stays.*1465 °C/);
    expect(run("piperine").notes).toMatch(/pepper oil made with steam is not pungent/);
    expect(run("quinine").notes).toMatch(/Codex 1911/);
    expect(run("oxalic acid").taken_high).toBeGreaterThan(1e-4);
    expect(run("sucrose", 40, 1013.25).notes).toMatch(/Nobody measured/);
  });
  it("warns of what food law limits, and of prussic acid twice", () => {
    for (const name of ["thujone", "estragole", "pulegone", "safrole", "methyleugenol", "coumarin", "HCN"]) {
      expect(run(name).cautions, name).toMatch(/limited by food law.*have the product measured/);
    }
    expect(run("HCN").cautions).toMatch(/never take it for gone/);
    expect(run("limonene").cautions).toBe("");
  });
  it("marks what is by analogy", () => {
    expect(run("thujone").notes).toMatch(/by analogy, menthone scaled/);
    expect(run("linalool").notes).not.toMatch(/by analogy/);
  });
  it("says where its band no longer holds", () => {
    expect(run("linalool").notes).not.toMatch(/wider|Extrapolated/);
    expect(run("linalool", 40, 1013.25).notes).toMatch(/above 60 °C/);
    expect(run("linalool", 40, 200).notes).toMatch(/20 to 150 mbar/);
    expect(run("linalool", 40, 30).notes).toMatch(/between 15 and 40 °C/);
    expect(run("linalool", 85).notes).toMatch(/up to 80 %vol/);
  });
  it("takes the distillate as a mass too", () => {
    const byVolume = run("linalool", 0, 40, 200);
    const byMass = run("linalool", 0, 40, 200 * 0.9982, kinds.mass);
    expect(byMass.taken).toBeCloseTo(byVolume.taken, 4);
  });
  it("refuses a run to dryness, a frozen pot and nothing at all", () => {
    expect(() => run("linalool", 40, 50, 1000)).toThrow(/run to dryness cannot be worked out/);
    expect(() => run("linalool", 0, 5)).toThrow(/below 0 °C/);
    expect(() => run("linalool", 40, 50, 0)).toThrow(/greater than nothing/);
  });
  it("counts its band as the uncertainty of the model, opposite for what is left", () => {
    const found = run("linalool");
    const u = declaration.modelUncertainty!({}, found as unknown as Record<string, number>) as Record<
      string,
      number
    >;
    expect(u.taken).toBeCloseTo((found.taken_high - found.taken_low) / 2, 12);
    expect(u.left).toBe(-u.taken!);
  });
});

describe("the printed list", () => {
  const rows = aromaDocument()
    .split("\n")
    .filter((line) => line.startsWith("| "));
  it("has a row for each compound, with a source for every figure", () => {
    for (const c of aromaCompounds) {
      const row = rows.find((r) => r.includes(`| ${c.cas} |`))!;
      // Henry constant, its rise, vapour pressure, heat of evaporation.
      for (const cell of row.split(" | ").slice(2, 6)) expect(cell, c.name).toMatch(/^\S.* \[\d+\]$/u);
    }
    for (const s of staying)
      expect(
        rows.find((r) => r.includes(`| ${s.cas} |`)),
        s.name,
      ).toMatch(/\[\d+\]/u);
  });
  it("names each source that it numbers", () => {
    const text = aromaDocument();
    const numbers = [...text.matchAll(/\[(\d+)\]/gu)].map((m) => Number(m[1]));
    for (const n of new Set(numbers)) expect(text).toMatch(new RegExp(`^${n}\\. \\S`, "mu"));
  });
  it("is as it was written", () => {
    const written = readFileSync(new URL("../../docs/aroma.md", import.meta.url), "utf8");
    expect(written, "run npm run generate").toBe(aromaDocument());
  });
});
