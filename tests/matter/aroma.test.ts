import { describe, expect, it } from "vitest";
import { comesOver, volatility } from "../../src/matter/aroma";
import { aromaCompounds } from "../../src/matter/aroma-data";
import { aromaSources } from "../../src/matter/aroma-sources";
import { liquidOfVolume } from "../../src/matter/liquid";
import { massFraction } from "../../src/matter/spirit";
import { mayComeOver, staying } from "../../src/matter/staying";
import { waterBoilingTemperature } from "../../src/matter/water";

const named = (name: string) => aromaCompounds.find((c) => c.name === name)!;
const spirit = liquidOfVolume(1e-3, massFraction(0.4));

describe("the list of compounds", () => {
  it("names a source for every figure", () => {
    for (const c of aromaCompounds) {
      for (const figure of [c.vapourPressure, c.vaporisation, c.henrySlope]) {
        expect(aromaSources[figure.source], c.name).toMatch(/\w/);
        if (figure.source === "estimated") expect(figure.how, c.name).toMatch(/\w/);
      }
      expect(c.henry.sources.length, c.name).toBeGreaterThan(0);
      if (c.henry.low === undefined) expect(c.henry.how, c.name).toMatch(/scaled/);
    }
    for (const s of staying) {
      expect(aromaSources[s.source], s.name).toMatch(/\w/);
      expect(s.because, s.name).toMatch(/\w/);
    }
  });
  it("has a value that no source contradicts by more than rounding", () => {
    for (const c of aromaCompounds) {
      if (c.henry.low === undefined) continue;
      expect(c.henry.value, c.name).toBeGreaterThan(0.98 * c.henry.low);
      expect(c.henry.value, c.name).toBeLessThan(1.02 * c.henry.high!);
    }
  });
  it("names each compound and each CAS number once, with a sound check digit", () => {
    const names = [...aromaCompounds, ...staying].flatMap((c) => [c.name, ...(c.aliases ?? [])]);
    expect(new Set(names).size).toBe(names.length);
    const numbers = [...aromaCompounds, ...staying].map((c) => c.cas);
    expect(new Set(numbers).size).toBe(numbers.length);
    for (const cas of numbers) {
      const digits = [...cas.replaceAll("-", "")].map(Number).reverse();
      const sum = digits.slice(1).reduce((s, d, i) => s + d * (i + 1), 0);
      expect(sum % 10, cas).toBe(digits[0]);
    }
  });
});

describe("a compound in a run", () => {
  it("follows 1 - (1 - take/charge)^K exactly in water", () => {
    const water = liquidOfVolume(1e-3, 0);
    const kelvin = waterBoilingTemperature(3000);
    for (const name of ["geraniol", "eugenol", "vanillin"]) {
      const k = volatility(named(name), 0, kelvin, 3000);
      const found = comesOver(named(name), water, 3000, { type: "volume", volume: 3e-4 });
      const closed = 1 - 0.7 ** k;
      expect(Math.abs(found.taken / closed - 1)).toBeLessThan(1e-6);
    }
  });
  it("has its band from the factor within which its volatility is known", () => {
    for (const c of aromaCompounds) {
      const found = comesOver(c, spirit, 5000, { type: "volume", volume: 4e-4 });
      const factor = c.within ?? 3;
      const exponent = -Math.log1p(-found.low) * factor;
      // Where nearly all comes over the share carries no digits of the exponent any more.
      if (exponent < 20) expect(Math.abs(-Math.expm1(-exponent) - found.taken), c.name).toBeLessThan(1e-9);
      expect(found.low).toBeLessThanOrEqual(found.taken);
      expect(found.taken).toBeLessThanOrEqual(found.high);
      expect(found.high).toBeLessThanOrEqual(1);
    }
  });
  it("adds up over two runs in a row", () => {
    const linalool = named("linalool");
    const whole = comesOver(linalool, spirit, 5000, { type: "mass", mass: 0.35 });
    const first = comesOver(linalool, spirit, 5000, { type: "mass", mass: 0.2 });
    const second = comesOver(linalool, first.run.left, 5000, { type: "mass", mass: 0.15 });
    expect((1 - first.taken) * (1 - second.taken)).toBeCloseTo(1 - whole.taken, 8);
  });
  it("keeps heavy compounds back more in the cold", () => {
    const hot = comesOver(named("eugenol"), spirit, 101_325, { type: "volume", volume: 4e-4 });
    const cold = comesOver(named("eugenol"), spirit, 5000, { type: "volume", volume: 4e-4 });
    expect(hot.taken).toBeGreaterThan(5 * cold.taken);
  });
});

describe("what stays in the pot", () => {
  const substance = (name: string) => staying.find((s) => s.name === name)!;
  const cold = { t: 0.5, startKelvin: 295, endKelvin: 300 };
  it("has a bound that follows the closed form 1 - exp(-3 K t) of the warmest pot", () => {
    const henry = 8.7e-4 * Math.exp(15_000 * (1 / 298.15 - 1 / 300)) * 1000;
    expect(mayComeOver(substance("erythritol"), cold, 5000)).toBeCloseTo(
      1 - Math.exp((-3 * henry * 0.5) / 5000),
      12,
    );
  });
  it("grows with the length of the run and with the warmth of the pot, and never says less than 1 in 10 000", () => {
    for (const s of staying) {
      const bound = mayComeOver(s, cold, 5000);
      expect(bound, s.name).toBeGreaterThanOrEqual(1e-4);
      expect(bound, s.name).toBeLessThan(0.005);
      expect(mayComeOver(s, { ...cold, t: 2 }, 5000), s.name).toBeGreaterThanOrEqual(bound);
      expect(mayComeOver(s, { ...cold, endKelvin: 330 }, 5000), s.name).toBeGreaterThanOrEqual(bound);
    }
  });
});
