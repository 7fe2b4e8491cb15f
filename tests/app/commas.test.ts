import { describe, expect, it } from "vitest";
import { readings, withRule } from "../../src/app/state/commas";

const texts = (typed: string) => readings(typed)?.map((r) => r.text);

describe("a number with a comma", () => {
  it("has one reading when it can only be a decimal", () => {
    expect(texts("12,5 L")).toEqual(["12.5 L"]);
    expect(texts("0,25")).toEqual(["0.25"]);
    expect(texts("0,250 kg")).toEqual(["0.250 kg"]);
    expect(texts("-3,5 °C")).toEqual(["-3.5 °C"]);
    expect(texts("−3,5 °C")).toEqual(["-3.5 °C"]);
  });

  it("has two when it may be a thousand, and neither is guessed", () => {
    expect(texts("1,234 g")).toEqual(["1.234 g", "1234 g"]);
  });

  it("reads both marks together by which comes last", () => {
    expect(texts("1.234,5 g")).toEqual(["1234.5 g"]);
    expect(texts("1,234.5 g")).toEqual(["1234.5 g"]);
    expect(texts("1 234,5 g")).toEqual(["1234.5 g"]);
    expect(texts("1’234 g")).toEqual(["1234 g"]);
    expect(texts("1.234.567 g")).toEqual(["1234567 g"]);
  });

  it("keeps what follows the number", () => {
    expect(texts("61,2 ± 0.3 %vol")).toEqual(["61.2 ± 0.3 %vol"]);
    expect(texts("61,2 ± 0,3 %vol")).toEqual(["61.2 ± 0.3 %vol"]);
    expect(texts("61.2 ± 0,3")).toEqual(["61.2 ± 0.3"]);
    expect(texts("1,234 ± 0,3 g")).toEqual(["1.234 ± 0.3 g", "1234 ± 0.3 g"]);
    expect(texts("1234 ± 1,250 g")).toEqual(["1234 ± 1.250 g", "1234 ± 1250 g"]);
    expect(texts("61.2 ± 0.3 %vol")).toBeUndefined();
  });

  it("is no question when there is no comma, or no number", () => {
    expect(readings("12.5 L")).toBeUndefined();
    expect(readings("2400")).toBeUndefined();
    expect(readings("juniper, crushed")).toBeUndefined();
    expect(readings("= sum([1, 2])")).toBeUndefined();
    expect(readings("")).toBeUndefined();
    expect(readings("2026-02-03")).toBeUndefined();
  });
});

describe("a rule for a whole paste", () => {
  it("reads every cell the same way and leaves the others alone", () => {
    expect(["1,5", "1,234", "juniper", "7"].map((c) => withRule(c, "decimal"))).toEqual([
      "1.5",
      "1.234",
      "juniper",
      "7",
    ]);
    expect(["1,234", "2,000,000"].map((c) => withRule(c, "thousands"))).toEqual(["1234", "2000000"]);
    expect(withRule("1,234", "as-is")).toBe("1,234");
  });
});
