import Big from "big.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  approximate,
  exact,
  format,
  isExact,
  kinds,
  largestRemainder,
  meanQuantities,
  type Num,
  parseUnit,
  quantity,
  sumNum,
  sumQuantities,
  toBig,
  withKind,
} from "../../src/quantity";
import { q, told, troubleOf } from "./writing";

const total = (...texts: string[]): string => format(sumQuantities(texts.map(q)));

describe("a total", () => {
  it("is in the unit of the first entry, and exact", () => {
    expect(total("1 L", "500 mL")).toBe("1.5 L");
    expect(total("500 mL", "1 L", "1 us_gal")).toBe("5285.411784 mL");
    expect(isExact(sumQuantities([q("500 mL"), q("1 us_gal")]).n)).toBe(true);
    expect(total("26.88 GBP", "7.525 GBP")).toBe("34.405 GBP");
    expect(total("5 g")).toBe("5 g");
    expect(total("18 %", "0.02")).toBe("20 %");
    expect(format(sumQuantities([]))).toBe("0");
  });
  it("is exact for 100,000 amounts of money", () => {
    const entries = Array.from({ length: 100_000 }, (_, i) =>
      quantity(exact(`${(i * 7919) % 10000}.${10 + (i % 90)}`), q("1 GBP").unit),
    );
    const oracle = entries.reduce((sum, entry) => sum + BigInt(Math.round(entry.n.v * 100)), 0n);
    const sum = sumQuantities(entries);
    expect(toBig(sum.n).times(100).toFixed()).toBe(oracle.toString());
  });
  it("keeps a special kind and the notes", () => {
    const honey = quantity(exact("18"), withKind(parseUnit("%"), kinds.moisture), undefined, [
      { text: "read at 20 °C" },
    ]);
    expect(sumQuantities([q("1 %"), honey]).unit.kind).toBe(kinds.moisture);
    expect(sumQuantities([honey, honey]).notes).toEqual([{ text: "read at 20 °C" }]);
  });
  it("of different kinds names the first entry and the one that differs", () => {
    expect(told(() => sumQuantities([q("1 L"), q("2 L"), q("3 g")]))).toContain(
      "1 L (a volume) and 3 g (a mass)",
    );
    expect(troubleOf(() => sumQuantities([q("20 °C"), q("30 °C")])).code).toBe("temperatures-add");
    expect(troubleOf(() => sumQuantities([q("20 °C")])).code).toBe("temperatures-add");
    expect(troubleOf(() => sumQuantities([q("20 °C"), q("3 K")])).code).toBe("temperatures-add");
    expect(troubleOf(() => sumQuantities([q("3 K"), q("20 °C")])).code).toBe("kinds-differ");
  });
});

describe("a mean", () => {
  it("is in the unit of the first entry", () => {
    expect(format(meanQuantities([q("1 L"), q("500 mL")]))).toBe("0.75 L");
    expect(format(meanQuantities([q("61.2 %vol")]))).toBe("61.2 %vol");
    expect(format(meanQuantities([q("40 %vol"), q("44 %vol")]))).toBe("42 %vol");
  });
  it("of temperatures is a temperature, on any scale", () => {
    expect(format(meanQuantities([q("20 °C"), q("30 °C")]))).toBe("25 °C");
    expect(format(meanQuantities([q("20 °C"), q("86 °F")]))).toBe("25 °C");
    expect(format(meanQuantities([q("68 °F"), q("30 °C")]))).toBe("77 °F");
    expect(meanQuantities([q("20 °C"), q("30 °C")]).unit.kind).toBe(kinds.temperature);
  });
  it("needs entries of one kind", () => {
    expect(troubleOf(() => meanQuantities([])).code).toBe("list-empty");
    expect(told(() => meanQuantities([q("20 °C"), q("3 K")]))).toContain("do not belong in one list");
  });
});

describe("shares by the largest remainder", () => {
  const texts = (shares: readonly Num[]): string[] => shares.map((n) => toBig(n).toFixed());
  it("add to the whole, exactly", () => {
    expect(texts(largestRemainder(["1", "1", "1"].map(exact), exact("0.001")))).toEqual([
      "0.334",
      "0.333",
      "0.333",
    ]);
    expect(texts(largestRemainder(["1", "2", "4"].map(exact), exact("0.01")))).toEqual([
      "0.14",
      "0.29",
      "0.57",
    ]);
    expect(texts(largestRemainder(["2", "1"].map(exact), exact("1"), exact("100")))).toEqual(["67", "33"]);
    expect(texts(largestRemainder(["5"].map(exact), exact("0.1")))).toEqual(["1"]);
    expect(texts(largestRemainder(["0", "5", "0"].map(exact), exact("0.1")))).toEqual(["0", "1", "0"]);
  });
  it("are those of values with different counts of decimals, in any order", () => {
    const shares = (values: readonly string[]): readonly number[] =>
      largestRemainder(values.map(exact), exact("0.01")).map(({ v }) => v);
    // 4/7, 2/7 and 1/7: 0.5714, 0.2857 and 0.1429.
    expect(shares(["1", "0.5", "0.25"])).toEqual([0.57, 0.29, 0.14]);
    expect(shares(["0.25", "0.5", "1"])).toEqual([0.14, 0.29, 0.57]);
  });
  it("give a tie to the larger value, then to the earlier", () => {
    expect(texts(largestRemainder(["1", "3"].map(exact), exact("0.5")))).toEqual(["0", "1"]);
    expect(texts(largestRemainder(["1", "1"].map(exact), exact("1")))).toEqual(["1", "0"]);
    // In doubles 0.1 + 0.2 is a little more than 0.3; as shares they are equal.
    expect(texts(largestRemainder([approximate(0.3), approximate(0.1 + 0.2)], exact("1")))).toEqual([
      "1",
      "0",
    ]);
  });
  it("are within a step of the true share, and add up, whatever the values", () => {
    fc.assert(
      fc.property(
        fc.array(fc.bigInt({ min: 0n, max: 10n ** 9n }), { minLength: 1, maxLength: 30 }),
        fc.constantFrom("0.1", "0.01", "0.001", "0.25", "0.0001"),
        (values, step) => {
          const sum = values.reduce((a, b) => a + b, 0n);
          fc.pre(sum > 0n);
          const shares = largestRemainder(
            values.map((v) => exact(v.toString())),
            exact(step),
          );
          expect(toBig(sumNum(shares)).eq(1)).toBe(true);
          shares.forEach((share, i) => {
            const off = toBig(share).times(sum.toString()).minus(values[i]!.toString()).abs();
            expect(off.lt(new Big(step).times(sum.toString()))).toBe(true);
            expect(toBig(share).div(step).round(0).times(step).eq(toBig(share))).toBe(true);
          });
        },
      ),
    );
  });
  it("refuse what cannot be shared", () => {
    expect(troubleOf(() => largestRemainder([exact("1"), exact("-1")], exact("0.1"))).code).toBe(
      "share-negative",
    );
    expect(troubleOf(() => largestRemainder([exact("0")], exact("0.1"))).code).toBe("share-of-nothing");
    expect(troubleOf(() => largestRemainder([], exact("0.1"))).code).toBe("share-of-nothing");
    expect(troubleOf(() => largestRemainder([exact("1")], exact("0.3"))).code).toBe("share-step");
    expect(troubleOf(() => largestRemainder([exact("1")], exact("0"))).code).toBe("share-step");
    expect(troubleOf(() => largestRemainder([exact("1")], exact("-0.1"))).code).toBe("share-step");
  });
});
