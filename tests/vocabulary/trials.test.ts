import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import {
  exact,
  isExact,
  parseUnit,
  plainUnit,
  type Quantity,
  quantity,
  sigma,
  toBig,
} from "../../src/quantity";
import type { Value } from "../../src/vocabulary/value";
import { blank, call, column, date, l, notes, part, q, show, t } from "./calling";

const fault: Value = { type: "fault", code: "x", says: "broken" };
const v = (...entries: readonly (string | Value)[]) => ({ values: l(...entries) });
const at = (values: Value) => ({ values });
const u = (value: Value) => sigma((value as Quantity).spread);

describe("totals", () => {
  it("adds exactly, in the unit of the first", () => {
    const found = call("sum", v("0.1 GBP", "0.2 GBP", "11.20 GBP")) as Quantity;
    expect(show(found)).toBe("11.50 GBP");
    expect(isExact(found.n)).toBe(true);
    expect(show(call("sum", v("1 L", "500 mL")))).toBe("1.5 L");
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -1e12, max: 1e12 }), { minLength: 1, maxLength: 60 }),
        (cents) => {
          const list = cents.map((c) => quantity(exact(`${c}e-2`), plainUnit));
          const sum = toBig((call("sum", v(...list)) as Quantity).n).times(100);
          expect(BigInt(sum.toFixed(0))).toBe(cents.reduce((a, c) => a + BigInt(c), 0n));
        },
      ),
    );
  });
  it("skips blanks and counts them, in the words of the language", () => {
    const one = call("mean", v("61.2 %vol", blank));
    expect(show(one)).toBe("61.2 %vol");
    expect(notes(one)).toEqual(["1 of 2 is blank"]);
    const two = call("sum", v(blank, "1 g", blank, "2 g"));
    expect(show(two)).toBe("3 g");
    expect(notes(two)).toEqual(["2 of 4 are blank"]);
    for (const name of ["smallest", "largest", "count", "median"]) {
      expect(notes(call(name, v("2 g", blank)))).toEqual(["1 of 2 is blank"]);
    }
  });
  it("keeps what the list says about itself", () => {
    const list = { ...l("1 g"), notes: [{ text: "1 row left out, its condition is not known" }] };
    expect(notes(call("sum", at(list)))).toEqual(["1 row left out, its condition is not known"]);
  });
  it("is a gap when everything is blank, with the place of the blank", () => {
    for (const name of [
      "sum",
      "mean",
      "smallest",
      "largest",
      "count",
      "median",
      "standard_deviation",
      "drift",
    ]) {
      const found = call(name, v(blank));
      expect(found.type, name).toBe("gap");
      expect(found.type === "gap" && found.place, name).toBe("runs.got");
      expect(call(name, v(blank, blank)).type, name).toBe("gap");
    }
  });
  it("is 0 for sum and count when nothing is selected, a gap for the others", () => {
    expect(show(call("sum", v()))).toBe("0");
    expect(show(call("sum", at({ ...l(), unit: parseUnit("GBP") })))).toBe("0.00 GBP");
    expect(show(call("count", v()))).toBe("0");
    for (const name of [
      "mean",
      "smallest",
      "largest",
      "median",
      "standard_deviation",
      "relative_deviation",
      "mean_interval",
      "drift",
    ]) {
      expect(show(call(name, v())), name).toMatch(/^gap: nothing is selected for `/);
    }
  });
  it("is the fault of an entry", () => {
    for (const name of [
      "sum",
      "mean",
      "smallest",
      "largest",
      "count",
      "median",
      "standard_deviation",
      "mean_interval",
      "drift",
    ]) {
      expect(call(name, v("1 g", fault, blank)), name).toBe(fault);
    }
  });
  it("treats temperatures as points", () => {
    expect(show(call("mean", v("20 °C", "30 °C")))).toBe("25 °C");
    expect(show(call("mean", v("20 °C", "86 °F")))).toBe("25 °C");
    expect(show(call("median", v("20 °C", "30 °C")))).toBe("25 °C");
    expect(show(call("largest", v("20 °C", "86 °F")))).toBe("30 °C");
    expect(show(call("standard_deviation", v("20 °C", "30 °C")))).toBe("7.0711 K");
    expect(show(call("standard_deviation", v("68 °F", "86 °F")))).toBe("7.0711 K");
    expect(() => call("sum", v("20 °C", "30 °C"))).toThrow(/Temperatures do not add/);
    expect(() => call("relative_deviation", v("20 °C", "30 °C"))).toThrow(/zero depends on the scale/);
  });
  it("works on dates where that makes sense", () => {
    const days = [date("2026-02-24"), date("2026-02-03")];
    expect(show(call("smallest", v(...days)))).toBe("2026-02-03");
    expect(show(call("largest", v(...days, blank)))).toBe("2026-02-24");
    expect(show(call("count", v(...days)))).toBe("2");
    expect(() => call("sum", v(...days))).toThrow(/`sum` wants a quantity, and was given 2026-02-24, a date/);
    expect(() => call("smallest", v(days[0]!, "1 d"))).toThrow(/dates only/);
  });
  it("has an exact mean only where a division is exact", () => {
    const ten = call("mean", v(...Array.from({ length: 10 }, (_, i) => `${i}.1 g`))) as Quantity;
    expect(isExact(ten.n)).toBe(true);
    expect(show(ten)).toBe("4.6 g");
    expect(isExact((call("mean", v("1 g", "2 g", "4 g")) as Quantity).n)).toBe(false);
    expect(isExact((call("mean", v("1.05 g")) as Quantity).n)).toBe(true);
  });
  it("names both kinds when they differ", () => {
    expect(() => call("sum", v("1 L", "1 g"))).toThrow(/volume.*mass|mass.*volume/);
    expect(() => call("largest", v("40 %vol", "3 °Bx"))).toThrow(/strength by volume/);
    expect(() => call("mean", v("1 L", t("x")))).toThrow(/a text/);
  });
  it("carries the ± of its entries", () => {
    expect(u(call("sum", v("50 ± 1 g", "50 ± 1 g")))).toBeCloseTo(Math.SQRT2, 12);
    expect(u(call("mean", v("50 ± 1 g", "50 ± 1 g")))).toBeCloseTo(Math.SQRT1_2, 12);
    expect(u(call("mean", v("20 ± 1 °C", "30 ± 1 °C")))).toBeCloseTo(Math.SQRT1_2, 12);
    const same = q("50 ± 1 g");
    expect(u(call("sum", v(same, same)))).toBeCloseTo(2, 12);
    expect(u(call("largest", v("50 ± 1 g", "60 ± 3 g")))).toBe(3);
    expect(u(call("median", v("1 ± 1 g", "60 ± 3 g", "100 ± 7 g")))).toBe(3);
  });
});

describe("scatter", () => {
  const six = ["61 g", "63 g", "65 g", "63 g", "61 g", "65 g"] as const;
  it("is that of a sample", () => {
    const found = call("standard_deviation", v(...six));
    expect(show(found)).toBe("1.7889 g");
    expect(notes(found)).toEqual([]);
    expect(show(call("relative_deviation", v(...six)))).toBe("2.8395 %");
  });
  it("says how little a few runs say", () => {
    expect(notes(call("standard_deviation", v("61 g", "63 g", "65 g"))).join()).toMatch(
      /3 entries only.*52 %/,
    );
  });
  it("is not yet known from one run", () => {
    expect(show(call("standard_deviation", v("61 g", blank)))).toBe(
      "gap: `standard_deviation` needs two entries at least and has one",
    );
  });
  it("refuses to divide by a mean that is not above zero", () => {
    expect(() => call("relative_deviation", v("-1 g", "1 g"))).toThrow(/above zero/);
  });
  /** Against finite differences of the function itself. */
  it.each(["standard_deviation", "relative_deviation", "mean_interval"])(
    "carries the ± through %s",
    (name) => {
      const values = [61, 63.5, 65, 62];
      const by = 1e-3;
      const value = (xs: readonly number[], end?: string): number => {
        const found = call(name, v(...xs.map((x) => `${x} g`)));
        return ((end === undefined ? found : part(found, end)) as Quantity).n.v;
      };
      for (const end of name === "mean_interval" ? ["low", "high"] : [undefined]) {
        const uncertain = call(name, v(...values.map((x) => `${x} ± ${by} g`)));
        let squares = 0;
        values.forEach((_, i) => {
          const moved = (side: number) =>
            value(
              values.map((x, k) => (k === i ? x + side * 1e-5 : x)),
              end,
            );
          squares += ((by * (moved(1) - moved(-1))) / 2e-5) ** 2;
        });
        const found = u(end === undefined ? uncertain : part(uncertain, end));
        expect(found / Math.sqrt(squares)).toBeCloseTo(1, 4);
      }
    },
  );
  it("gives the interval of the mean, for temperatures on their own scale", () => {
    expect(show(call("mean_interval", v(...six)))).toBe("low=61.123 g; high=64.877 g");
    const celsius = call("mean_interval", v("20 °C", "21 °C", "22 °C"));
    const fahrenheit = call("mean_interval", v("68 °F", "69.8 °F", "71.6 °F"));
    const low = (part(celsius, "low") as Quantity).n.v;
    expect(low).toBeCloseTo(21 - 4.30265 / Math.sqrt(3), 4);
    expect((part(fahrenheit, "low") as Quantity).n.v).toBeCloseTo(1.8 * low + 32, 9);
  });
});

describe("drift", () => {
  it("is the slope a step, along a column, or a day", () => {
    expect(show(call("drift", v("400 mL", "390 mL", "380 mL")))).toBe("-10 mL");
    const dates = l(date("2026-02-03"), date("2026-02-08"));
    expect(show(call("drift", { values: l("400 mL", "390 mL"), by: dates }))).toBe("-2 mL/d");
    expect(
      show(call("drift", { values: l("20 °C", "21 °C", "22 °C"), by: l("0 min", "10 min", "20 min") })),
    ).toBe("0.1 K/min");
    expect(show(call("drift", { values: l("2 g", "4 g"), by: l("1", "2") }))).toBe("2 g");
    expect(show(call("drift", { values: l("1 %vol", "2 %vol") }))).toBe("1 %vol");
  });
  it("skips a run that is still to come, never one that is filled in half", () => {
    const names = ["one", "two", "three"];
    const got = column("runs", names, "400 mL", "390 mL", blank);
    const days = column("runs", names, date("2026-02-03"), date("2026-02-08"), blank);
    const skipped = call("drift", { values: got, by: days });
    expect(show(skipped)).toBe("-2 mL/d");
    expect(notes(skipped)).toContain("1 of 3 is blank");
    const half = column("runs", names, date("2026-02-03"), date("2026-02-08"), date("2026-02-10"));
    expect(show(call("drift", { values: got, by: half }))).toBe(
      "gap: three has an entry to go by but no value yet",
    );
    const other = column("runs", names, "400 mL", "390 mL", "380 mL");
    expect(show(call("drift", { values: other, by: days }))).toBe(
      "gap: three has a value but nothing to go by yet",
    );
  });
  it("counts the place of a blank entry as a step", () => {
    expect(show(call("drift", v("400 mL", blank, "380 mL")))).toBe("-10 mL");
  });
  it("says when scatter alone could make it", () => {
    expect(notes(call("drift", v("400 mL", "390 mL", "398 mL", "391 mL"))).join()).toMatch(
      /scatter alone.*holds zero/,
    );
    expect(notes(call("drift", v("400 mL", "390.1 mL", "380 mL", "369.9 mL")))).toEqual([]);
    expect(notes(call("drift", v("400 mL", "390 mL"))).join()).toMatch(/two entries always lie on a line/);
  });
  it("refuses rows that do not belong together", () => {
    const got = column("runs", ["a", "b"], "1 g", "2 g");
    const by = column("stock", ["c", "d"], "1 d", "2 d");
    expect(() => call("drift", { values: got, by })).toThrow(/rows of runs and of stock/);
    expect(() => call("drift", { values: got, by: l("1 d") })).toThrow(/2 entries and 1/);
    expect(() => call("drift", { values: got, by: l("1 d", "1 d") })).toThrow(/are the same/);
  });
  it("carries the ± of the values and of what they go by", () => {
    // Slope of two points: (y2 - y1)/(x2 - x1).
    expect(u(call("drift", { values: l("4 ± 0.3 g", "2 ± 0.4 g"), by: l("1 d", "3 d") }))).toBeCloseTo(
      0.25,
      12,
    );
    const found = call("drift", { values: l("4 g", "2 g"), by: l("1 ± 0.3 d", "3 ± 0.4 d") });
    expect(u(found)).toBeCloseTo((2 / 4) * 0.5, 12);
  });
});

describe("recovered", () => {
  it("is a share of like by like", () => {
    expect(show(call("recovered", { got: q("380 g"), charge: q("0.4 kg") }))).toBe("95 %");
    expect(() => call("recovered", { got: q("380 g"), charge: q("400 mL") })).toThrow(
      /a mass, 380 g, and a volume, 400 mL/,
    );
    expect(() => call("recovered", { got: q("3 g"), charge: q("0 g") })).toThrow(/0/);
  });
  it("wonders when more came back than went in", () => {
    expect(notes(call("recovered", { got: q("410 g"), charge: q("400 g") })).join()).toMatch(
      /look at the weighings/,
    );
    expect(notes(call("recovered", { got: q("400 g"), charge: q("400 g") }))).toEqual([]);
  });
  it("carries the ±", () => {
    expect(u(call("recovered", { got: q("380 ± 4 g"), charge: q("400 g") }))).toBeCloseTo(1, 12);
  });
});

describe("drift of what has no rate", () => {
  const book = openBook("");
  it("is told in its own unit for one unit of what it is laid out along", () => {
    // Least squares over days 0, 4, 19: numpy's polyfit gives -0.0548173.
    const days = book.ask(
      "drift([61.2 %vol, 60.8 %vol, 60.1 %vol], by: [2026-01-01, 2026-01-05, 2026-01-20])",
    );
    expect(days.value).toBeCloseTo(-0.0548173, 6);
    expect([days.unit, days.notes.join()]).toEqual(["%vol", expect.stringMatching(/for each d of `by`/u)]);
    expect(book.ask("drift([12 °Bx, 13 °Bx], by: [1 h, 2 h])").text).toBe("1 °Bx");
    expect(book.ask("drift([12 ± 0.2 °Bx, 13 °Bx], by: [1 h, 3 h])").text).toBe("0.50 ± 0.10 °Bx");
  });
});

describe("compare_means", () => {
  it("gives the difference, its interval and the chance, in the unit of the first group", () => {
    const a = l("61 g", "63 g", "65 g");
    const found = call("compare_means", { a, b: l("0.057 kg", "58 g", "60 g") });
    expect(show(part(found, "difference"))).toBe("4.6667 g");
    expect(show(part(found, "chance_alone"))).toBe("3.5787 %");
    expect(notes(found).join()).toMatch(/not the chance that nothing has changed/);
    expect(notes(part(found, "difference")).join()).toMatch(/3 entries only/);
    const [low, high] = ["low", "high"].map((end) => (part(found, end) as Quantity).n.v);
    expect(low).toBeLessThan(14 / 3);
    expect(high! - 14 / 3).toBeCloseTo(14 / 3 - low!, 12);
  });
  it("says nothing of a verdict", () => {
    const found = call("compare_means", { a: l("61 g", "63 g"), b: l("57 g", "58 g") });
    expect(JSON.stringify([notes(found), show(found)])).not.toMatch(/significant/);
  });
  it("skips blanks in each group, and waits for a second run", () => {
    expect(show(call("compare_means", { a: l("61 g", blank), b: l("57 g", "58 g") }))).toMatch(
      /needs two entries/,
    );
    expect(notes(call("compare_means", { a: l("61 g", "63 g", blank), b: l("57 g", "58 g") }))).toContain(
      "1 of 3 is blank",
    );
  });
  it("compares temperatures in kelvin, and refuses other kinds", () => {
    const found = call("compare_means", { a: l("20 °C", "21 °C"), b: l("71.6 °F", "72.5 °F") });
    expect(show(part(found, "difference"))).toBe("-1.75 K");
    expect(() => call("compare_means", { a: l("61 g", "63 g"), b: l("1 mL", "2 mL") })).toThrow(
      /a mass, 61 g, and a volume/,
    );
  });
  it("carries the ± into difference and interval", () => {
    const values = [
      [61, 63.5, 65],
      [57, 58, 60, 59],
    ];
    const groups = (move: (group: number, i: number) => number, by = "") => {
      const [a, b] = values.map((xs, g) => l(...xs.map((x, i) => `${x + move(g, i)}${by} g`)));
      return call("compare_means", { a: a!, b: b! });
    };
    const uncertain = groups(() => 0, " ± 0.001");
    for (const end of ["difference", "low", "high"]) {
      let squares = 0;
      for (const [g, xs] of values.entries()) {
        for (const i of xs.keys()) {
          const moved = (side: number) =>
            (
              part(
                groups((h, k) => (h === g && k === i ? side * 1e-5 : 0)),
                end,
              ) as Quantity
            ).n.v;
          squares += ((0.001 * (moved(1) - moved(-1))) / 2e-5) ** 2;
        }
      }
      expect(u(part(uncertain, end)) / Math.sqrt(squares), end).toBeCloseTo(1, 4);
    }
  });
});
