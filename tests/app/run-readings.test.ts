import { describe, expect, it } from "vitest";
import { deviationFrom, readReading } from "../../src/app/run/readings";
import { benchSteps } from "../../src/app/run/steps";
import { openBook } from "../../src/engine";

const book = openBook(`table runs "Runs"
| run | on (date) | got (mL) | strength  | pot (°C) | note (text) |
| 1   | 2026-01-05 | 400     | 61 %vol   | 24       |             |
set activity = blank
step "Read." ask runs.got in mL expect 400 mL ± 10 mL ask runs.strength in %vol expect 61 %vol ± 0.5 %vol ask runs.pot in °C expect 24 °C ± 2 K ask runs.note ask runs.on ask activity ask runs.got in L expect 0.5 L
`);
const asks = benchSteps(book)[0]!.asks;
const [got, strength, pot, note, day, activity] = asks;
const planned = (ask: (typeof asks)[number], typed: string) => {
  const read = readReading(book, ask, typed);
  return read.state === "read" ? deviationFrom(ask.expect, read.value) : undefined;
};
const read = (ask: (typeof asks)[number], typed: string) => {
  const found = readReading(book, ask, typed);
  return found.state === "read" ? `${found.number} ${found.unit}`.trim() : found.state;
};

describe("a reading", () => {
  it("has the unit of its field when none is typed, as it was typed", () => {
    expect(read(got!, "403")).toBe("403 mL");
    expect(read(got!, " 403.50 ")).toBe("403.50 mL");
    expect(read(strength!, "61.0")).toBe("61.0 %vol");
    expect(read(activity!, "0.93")).toBe("0.93");
  });

  it("understands a decimal comma, and says so", () => {
    const found = readReading(book, got!, "403,5");
    expect(found).toMatchObject({ state: "read", number: "403.5", unit: "mL", says: "read as 403.5 mL" });
    expect(read(got!, "0,403 L")).toBe("403 mL");
    expect(read(activity!, "0,93")).toBe("0.93");
    expect(read(got!, "403,5 ± 0,5")).toBe("403.5 ± 0.5 mL");
  });

  it("is taken for what its field shows when half of the unit was typed, and says so", () => {
    expect(readReading(book, strength!, "61,2%")).toMatchObject({
      number: "61.2",
      says: "read as 61.2 %vol",
    });
    expect(readReading(book, pot!, "24 C")).toMatchObject({ number: "24", says: "read as 24 °C" });
    expect(read(got!, "61%")).toBe("refused");
  });

  it("asks when a comma can mean two numbers, and takes either answer", () => {
    const found = readReading(book, got!, "1,234");
    expect(found.state).toBe("unclear");
    if (found.state !== "unclear") return;
    expect(found.choices.map((c) => c.text)).toEqual(["1.234", "1234"]);
    expect(found.choices.map((c) => read(got!, c.text))).toEqual(["1.234 mL", "1234 mL"]);
  });

  it("turns a typed unit into that of the field, with its ±", () => {
    expect(read(got!, "0.403 L")).toBe("403 mL");
    expect(read(got!, "403 ml")).toBe("403 mL");
    expect(read(got!, "0.4 L ± 5 mL")).toBe("400 ± 5 mL");
    expect(read(pot!, "77 °F")).toBe("25 °C");
    expect(readReading(book, got!, "0.403 L")).toMatchObject({ says: "read as 403 mL" });
    expect(readReading(book, got!, "403 mL")).not.toHaveProperty("says");
  });

  it("is refused in words when it is another kind, a formula, or no number", () => {
    for (const typed of ["403 g", "40 %vol"]) {
      const found = readReading(book, got!, typed);
      expect(found.state).toBe("refused");
      expect(found.state === "refused" && found.says).toMatch(/mL/);
    }
    for (const typed of ["about five", "403 + 5", "runs.got", "4..3", "403 mL mL", '"403"', "2026-01-05"]) {
      const found = readReading(book, got!, typed);
      expect([typed, found.state]).toEqual([typed, "refused"]);
      expect(found.state === "refused" && found.says.length).toBeGreaterThan(5);
    }
  });

  it("is words or a day where the column holds such", () => {
    expect(readReading(book, note!, "foamed, 3 times")).toEqual({
      state: "words",
      written: "foamed, 3 times",
    });
    expect(readReading(book, day!, "2026-02-03")).toEqual({ state: "words", written: "2026-02-03" });
    expect(readReading(book, day!, "3.2.2026").state).toBe("refused");
    expect(readReading(book, got!, "  ")).toEqual({ state: "empty" });
  });
});

describe("a reading beside its plan", () => {
  it("is within, outside or on it, with the distance and the ± in words", () => {
    expect(planned(got!, "400")).toEqual({ state: "as planned", says: "as planned" });
    expect(planned(got!, "392")).toEqual({
      state: "within",
      says: "8 mL under the plan, within its ± 10 mL",
    });
    expect(planned(got!, "410")).toEqual({
      state: "within",
      says: "10 mL over the plan, within its ± 10 mL",
    });
    expect(planned(got!, "410.1")).toEqual({
      state: "outside",
      says: "10.1 mL over the plan, outside its ± 10 mL",
    });
    expect(planned(strength!, "60,2")).toEqual({
      state: "outside",
      says: "0.8 %vol under the plan, outside its ± 0.5 %vol",
    });
  });

  it("tells a temperature's distance as a difference", () => {
    expect(planned(pot!, "21.5")).toEqual({
      state: "outside",
      says: "2.5 K under the plan, outside its ± 2 K",
    });
  });

  it("gives no judgement when the plan has no ±, and takes the plan's unit", () => {
    expect(planned(asks[6]!, "450 mL")).toEqual({ state: "off", says: "0.05 L under the plan" });
    expect(planned(activity!, "0.9")).toBeUndefined();
  });
});
