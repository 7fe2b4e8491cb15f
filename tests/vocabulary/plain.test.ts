import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { exact, isExact, plainUnit, type Quantity, quantity, sigma, toBig } from "../../src/quantity";
import type { Value } from "../../src/vocabulary/value";
import { blank, call, column, date, l, notes, q, show, t } from "./calling";

const approx = (v: number, unit = plainUnit): Quantity => ({
  type: "quantity",
  n: { v, dp: -1, big: undefined } as Quantity["n"],
  unit,
});
const x = (written: string | Value) => ({ x: typeof written === "string" ? q(written) : written });

describe("whole and whole_up", () => {
  it.each([
    ["2.75", "2", "3"],
    ["-2.5", "-3", "-2"],
    ["3", "3", "3"],
    ["3.000", "3", "3"],
    ["2.4 L", "2 L", "3 L"],
    ["12.345 GBP", "12.00 GBP", "13.00 GBP"],
    ["24.9 °C", "24 °C", "25 °C"],
    // Nearer to 3 than a double can tell, and still below it.
    ["2.999999999999999999999", "2", "3"],
  ])("%s is %s down and %s up", (from, down, up) => {
    expect(show(call("whole", x(from)))).toBe(down);
    expect(show(call("whole_up", x(from)))).toBe(up);
  });
  it("takes an approximate value within 1e-9 of a whole number for it", () => {
    expect(show(call("whole", x(approx(0.3 / 0.1))))).toBe("3");
    expect(show(call("whole_up", x(approx(3 + 5e-10))))).toBe("3");
    expect(show(call("whole", x(approx(3 - 2e-9))))).toBe("2");
    expect(show(call("whole_up", x(approx(3 + 2e-9))))).toBe("4");
  });
  it("says when the ± reaches another whole number, and only then", () => {
    const near = call("whole", x("14.97 ± 0.05")) as Quantity;
    expect(show(near)).toBe("14");
    expect(near.spread).toBeUndefined();
    expect(notes(near).join()).toMatch(/14.970 ± 0.050 before rounding/);
    expect(notes(call("whole", x("14.5 ± 0.05")))).toEqual([]);
    expect(notes(call("whole_up", x("14.03 ± 0.05"))).length).toBe(1);
    expect(notes(call("whole_up", x("14.5 ± 0.05")))).toEqual([]);
  });
  it("refuses a text", () => {
    expect(() => call("whole", { x: t("six") })).toThrow(
      /`whole` wants a quantity, and was given “six”, a text/,
    );
  });
});

describe("round_to", () => {
  it.each([
    ["1236 g", "5 g", "1235 g"],
    ["1237.5 g", "5 g", "1240 g"],
    ["-1237.5 g", "5 g", "-1240 g"],
    ["12.345 GBP", "0.05 GBP", "12.35 GBP"],
    ["2.4 L", "250 mL", "2.5 L"],
    ["24.955 °C", "0.5 K", "25 °C"],
    ["33.335 %", "0.01 %", "33.34 %"],
    ["0.33335", "0.01 %", "0.3334"],
    ["7", "3", "6"],
  ])("%s to %s is %s", (from, step, to) => {
    const found = call("round_to", { x: q(from), step: q(step) }) as Quantity;
    expect(show(found)).toBe(to);
    expect(isExact(found.n)).toBe(true);
  });
  it("always gives an exact multiple within half a step", () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e12, max: 1e12 }), fc.integer({ min: 1, max: 1e6 }), (a, b) => {
        const value = quantity(exact(`${a}e-4`), plainUnit);
        const step = quantity(exact(`${b}e-3`), plainUnit);
        const found = call("round_to", { x: value, step }) as Quantity;
        const big = toBig(found.n);
        expect(big.times(1000).mod(b).eq(0)).toBe(true);
        expect(big.minus(toBig(value.n)).abs().times(2).lte(toBig(step.n))).toBe(true);
      }),
    );
  });
  it("counts an approximate half as a half", () => {
    expect(show(call("round_to", { x: approx(0.1 * 3 + 0.2), step: q("0.2") }))).toBe("0.6");
  });
  it("keeps the ± of the value", () => {
    expect(sigma((call("round_to", { x: q("101 ± 3 g"), step: q("5 g") }) as Quantity).spread)).toBe(3);
  });
  it("refuses a step of zero, of another kind, or a temperature as a step", () => {
    expect(() => call("round_to", { x: q("1 g"), step: q("0 g") })).toThrow(/step above zero/);
    expect(() => call("round_to", { x: q("1 g"), step: q("1 mL") })).toThrow(/volume/);
    expect(() => call("round_to", { x: q("20 °C"), step: q("5 °C") })).toThrow(/temperature/);
  });
});

describe("roots, logarithms, size", () => {
  it("takes the size, and leaves an exact value exact", () => {
    const found = call("abs", x("-2.50 g")) as Quantity;
    expect(show(found)).toBe("2.5 g");
    expect(isExact(found.n)).toBe(true);
    expect(() => call("abs", x("-5 °C"))).toThrow(/depends on the scale/);
  });
  it("takes roots of numbers, ratios and even powers", () => {
    expect(show(call("sqrt", x("2")))).toBe("1.4142");
    expect(show(call("sqrt", x("25 %")))).toBe("0.5");
    expect(show(call("sqrt", x("9 m^2")))).toBe("3 m");
    expect(show(call("sqrt", x("16 cm^4")))).toBe("4 cm2");
    expect(() => call("sqrt", x("2 L"))).toThrow(/no unit/);
    expect(() => call("sqrt", x("-1"))).toThrow(/negative number, -1/);
    expect(() => call("sqrt", x("40 %vol"))).toThrow(/no unit/);
  });
  it("takes logarithms of ratios only", () => {
    expect(show(call("ln", x("2")))).toBe("0.69315");
    expect(show(call("log10", x("0.1 %")))).toBe("-3");
    expect(show(call("exp", x("1")))).toBe("2.7183");
    expect(() => call("ln", x("0"))).toThrow(/above zero/);
    expect(() => call("ln", x("2 L"))).toThrow(/plain number, and was given a volume, 2 L/);
    expect(() => call("exp", x("1000"))).toThrow(/too large/);
  });
  it.each([
    ["sqrt", "4 ± 0.1", 0.1 / 4],
    ["sqrt", "25 ± 1 %", 0.01 / (2 * 0.5)],
    ["exp", "2 ± 0.01", Math.exp(2) * 0.01],
    ["ln", "20 ± 0.2", 0.01],
    ["ln", "20 ± 0.2 %", 0.01],
    ["log10", "20 ± 0.2", 0.01 / Math.LN10],
    ["abs", "-4 ± 0.1", 0.1],
  ])("carries the ± through %s of %s", (name, from, by) => {
    expect(sigma((call(name, x(from)) as Quantity).spread)).toBeCloseTo(by, 12);
  });
  it("keeps the identity of what was measured: x - x stays without ±", () => {
    const size = q("-4 ± 0.1 g");
    const found = call("abs", { x: size }) as Quantity;
    const [input] = [...size.spread!.keys()];
    expect([...found.spread!.entries()]).toEqual([[input, -0.1]]);
  });
});

describe("first, last, nearest", () => {
  it("gives the ends as they stand", () => {
    expect(show(call("first", { list: l("60 mbar", "50 mbar") }))).toBe("60 mbar");
    expect(show(call("last", { list: l("60 mbar", blank) }))).toBe("gap: not filled in");
    expect(show(call("last", { list: l() }))).toMatch(/^gap: nothing is selected/);
    expect(show(call("first", { list: l(date("2026-02-03")) }))).toBe("2026-02-03");
  });
  it("gives the nearest, of equals the earlier, blanks skipped", () => {
    expect(show(call("nearest", { list: l("1 L", "2 L", "5 L"), x: q("2900 mL") }))).toBe("2 L");
    expect(show(call("nearest", { list: l("2 L", "4 L"), x: q("3 L") }))).toBe("2 L");
    const skipped = call("nearest", { list: l(blank, "4 L"), x: q("3 L") });
    expect(show(skipped)).toBe("4 L");
    expect(notes(skipped)).toEqual(["1 of 2 is blank"]);
    const days = l(date("2026-02-03"), date("2026-02-24"));
    expect(show(call("nearest", { list: days, x: date("2026-02-20") }))).toBe("2026-02-24");
    expect(() => call("nearest", { list: l("1 L"), x: q("1 g") })).toThrow(/volume/);
  });
  it("decides exactly between decimals that doubles confuse", () => {
    const list = l("0.1000000000000000000001", "0.1000000000000000000009");
    expect(show(call("nearest", { list, x: q("0.1000000000000000000006") }))).toBe(show(list.entries[1]!));
    expect((call("nearest", { list, x: q("0.1000000000000000000006") }) as Quantity).n).toBe(
      (list.entries[1] as Quantity).n,
    );
  });
});

describe("pick", () => {
  const names = ["Juniper", "lemon peel", "Éclat", "twice", "Twice", "", "__proto__"];
  const stock = column(
    "stock",
    names,
    "61 %vol",
    "49 %vol",
    "50 %vol",
    "1 %vol",
    "2 %vol",
    "3 %vol",
    "4 %vol",
  );
  it("finds a row whatever its case, blanks and accents are made of", () => {
    expect(show(call("pick", { column: stock, name: t(" juniper ") }))).toBe("61 %vol");
    expect(show(call("pick", { column: stock, name: t("Lemon\u00a0 Peel") }))).toBe("49 %vol");
    expect(show(call("pick", { column: stock, name: t("e\u0301clat") }))).toBe("50 %vol");
    expect(show(call("pick", { column: stock, name: t("__proto__") }))).toBe("4 %vol");
  });
  it("names a near row, or the rows there are", () => {
    expect(() => call("pick", { column: stock, name: t("junper") })).toThrow(
      /no row “junper”; “Juniper” is near/,
    );
    expect(() => call("pick", { column: stock, name: t("constructor") })).toThrow(/no row “constructor”\.$/);
  });
  it("does not guess between two rows of one name", () => {
    expect(() => call("pick", { column: stock, name: t("twice") })).toThrow(
      /2 rows “twice”, row 4 and row 5/,
    );
  });
  it("joins two tables: a list of names keeps its own rows", () => {
    const doses = column("doses", ["a", "b", "c", "d"], t("lemon peel"), t("lost"), blank, t("juniper"));
    const found = call("pick", { column: stock, name: doses });
    expect(found.type === "list" && found.origin).toBe(doses.origin);
    expect(show(found)).toBe("49 %vol, fault: Table stock has no row “lost”., gap: not filled in, 61 %vol");
  });
  it("wants a column and a text", () => {
    expect(() => call("pick", { column: l("1 L"), name: t("a") })).toThrow(/without row names/);
    expect(() => call("pick", { column: stock, name: q("2 L") })).toThrow(/name of a row/);
  });
});

describe("share_out", () => {
  it("adds to exactly 100 %", () => {
    expect(show(call("share_out", { list: l("1 L", "1 L", "1 L") }))).toBe("33.34 %, 33.33 %, 33.33 %");
    expect(show(call("share_out", { list: l("200 g", "0.15 kg", "50 g"), step: q("1 %") }))).toBe(
      "50 %, 38 %, 12 %",
    );
  });
  it("adds to 100 % whatever the amounts, no share off by a step or more", () => {
    fc.assert(
      fc.property(
        fc
          .array(fc.integer({ min: 0, max: 1e9 }), { minLength: 1, maxLength: 40 })
          .filter((a) => a.some((v) => v > 0)),
        fc.constantFrom("0.01", "0.1", "0.5", "1", "4"),
        (amounts, step) => {
          const list = l(...amounts.map((a) => quantity(exact(`${a}e-2`), q("1 GBP").unit)));
          const found = call("share_out", { list, step: q(`${step} %`) });
          if (found.type !== "list") throw new Error(show(found));
          const shares = found.entries.map((e) => toBig((e as Quantity).n));
          expect(shares.reduce((a, b) => a.plus(b)).eq(100)).toBe(true);
          const total = amounts.reduce((a, b) => a + b, 0);
          shares.forEach((share, i) => {
            expect(Math.abs(Number(share) - (100 * amounts[i]!) / total)).toBeLessThan(
              Number(step) * (1 + 1e-9),
            );
          });
        },
      ),
    );
  });
  it("keeps the rows, and is a gap while an amount is unknown", () => {
    const stock = column("stock", ["a", "b"], "1 L", "3 L");
    const found = call("share_out", { list: stock });
    expect(found.type === "list" && found.origin).toBe(stock.origin);
    expect(show(call("share_out", { list: l("1 L", blank) }))).toBe("gap: not filled in");
  });
  it("refuses what has no shares", () => {
    expect(() => call("share_out", { list: l("1 L", "-1 L") })).toThrow(/negative/);
    expect(() => call("share_out", { list: l("0 L", "0 L") })).toThrow(/0/);
    expect(() => call("share_out", { list: l("1 L"), step: q("0.3 %") })).toThrow(/add up to/);
    expect(() => call("share_out", { list: l("1 L", "1 g") })).toThrow(/mass/);
  });
});
