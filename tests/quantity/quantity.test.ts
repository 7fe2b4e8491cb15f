import { describe, expect, it } from "vitest";
import {
  add,
  adviceFor,
  compare,
  compatible,
  convert,
  convertible,
  divide,
  format,
  fromSI,
  isExact,
  kinds,
  meanQuantities,
  multiply,
  negate,
  parseUnit,
  plain,
  power,
  type Quantity,
  quantity,
  subtract,
  Trouble,
  toSI,
  withKind,
} from "../../src/quantity";
import { q, told, troubleOf } from "./writing";

const shown = (value: Quantity): string => format(value);
const unit = parseUnit;
/** A water content or water activity, as functions give them. */
const moisture = (text: string): Quantity => {
  const value = q(text);
  return quantity(value.n, withKind(value.unit, kinds.moisture));
};
const activity = (text: string): Quantity => {
  const value = q(text);
  return quantity(value.n, withKind(value.unit, kinds.activity));
};

describe("the examples of the language", () => {
  it("1: 0.1 + 0.2 is 0.3", () => {
    expect(compare(add(q("0.1"), q("0.2")), q("0.3")).order).toBe(0);
    expect(isExact(add(q("0.1"), q("0.2")).n)).toBe(true);
  });
  it("2, 3: a + 200 mL and a / jars", () => {
    expect(shown(add(q("2.4 L"), q("200 mL")))).toBe("2.6 L");
    expect(shown(divide(q("2.4 L"), q("4")))).toBe("0.6 L");
  });
  it("7: a volume and a mass do not add", () => {
    const trouble = troubleOf(() => add(q("1 L"), q("200 g")));
    expect(trouble.code).toBe("kinds-differ");
    expect(trouble.says).toBe("1 L (a volume) and 200 g (a mass) do not add.");
    expect(trouble.help).toMatch(/mass_of.*volume_of/);
  });
  it("8: a strength and solids do not add", () => {
    expect(troubleOf(() => add(q("42 %vol"), q("3 °Bx"))).says).toBe(
      "42 %vol (a strength by volume) and 3 °Bx (solids) do not add.",
    );
  });
  it("9: a strength and a percentage", () => {
    const text = told(() => add(q("40 %vol"), q("3 %")));
    expect(text).toContain("40 %vol (a strength by volume) and 3 % (a percentage) do not add.");
    expect(text).toContain("`40 %vol + 3 %vol`");
    expect(text).toContain("`40 %vol * (1 + 3 %)`");
  });
  it("10: a mass and a percentage", () => {
    expect(told(() => add(q("200 g"), q("10 %")))).toContain("For 10 % more write `200 g * (1 + 10 %)`.");
    expect(told(() => subtract(q("200 g"), q("10 %")))).toContain(
      "For 10 % less write `200 g * (1 - 10 %)`.",
    );
    expect(told(() => add(q("10 %"), q("200 g")))).toContain("`200 g * (1 + 10 %)`");
  });
  it("11: ten per cent more", () => {
    const more = multiply(q("200 g"), add(q("1"), q("10 %")));
    expect(shown(more)).toBe("220 g");
    expect(isExact(more.n)).toBe(true);
    expect(more.notes).toBeUndefined();
  });
  it("12, 13, 14: temperatures", () => {
    expect(shown(subtract(q("30 °C"), q("-10 °C")))).toBe("40 K");
    expect(shown(add(q("30 °C"), q("5 K")))).toBe("35 °C");
    const text = told(() => add(q("30 °C"), q("5 °C")));
    expect(text).toContain("30 °C (a temperature) and 5 °C (a temperature) do not add");
    expect(text).toContain("`30 °C + 5 K`");
  });
  it("15, 16: scales and means of temperatures", () => {
    expect(shown(convert(q("25 °C"), unit("°F")))).toBe("77 °F");
    expect(isExact(convert(q("25 °C"), unit("°F")).n)).toBe(true);
    expect(shown(meanQuantities([q("20 °C"), q("30 °C")]))).toBe("25 °C");
  });
  it("17, 18: powers and percentages", () => {
    expect(shown(negate(power(q("2"), q("2"))))).toBe("-4");
    const share = multiply(q("50 %"), q("20 %"));
    expect(shown(share)).toBe("10 %");
    expect(isExact(share.n)).toBe(true);
  });
  it("19: a price times a volume", () => {
    expect(shown(multiply(q("2400 mL"), q("11.20 GBP/L")))).toBe("26.88 GBP");
    expect(
      shown(add(multiply(q("2400 mL"), q("11.20 GBP/L")), multiply(q("350 mL"), q("21.50 GBP/L")))),
    ).toBe("34.405 GBP");
  });
  it("39: `in` does no physics", () => {
    const trouble = troubleOf(() => convert(q("40 %vol"), unit("%mas")));
    expect(trouble.says).toContain("40 %vol (a strength by volume)");
    expect(trouble.says).toContain("a strength by mass");
    expect(trouble.help).toContain("`by_mass(40 %vol)`");
  });
});

describe("kinds", () => {
  it("a plain ratio goes with water content and water activity, which do not go with each other", () => {
    expect(shown(add(moisture("18 %"), q("2 %")))).toBe("20 %");
    expect(add(q("2 %"), moisture("18 %")).unit.kind).toBe(kinds.moisture);
    expect(shown(subtract(q("1"), moisture("18 %")))).toBe("0.82");
    expect(subtract(q("1"), moisture("18 %")).unit.kind).toBe(kinds.moisture);
    expect(shown(subtract(activity("0.6"), q("5 %")))).toBe("0.55");
    expect(told(() => add(moisture("18 %"), activity("0.6")))).toMatch(/a water content.*a water activity/);
    expect(compare(moisture("18 %"), q("0.18")).order).toBe(0);
  });
  it("strengths, proof, solids and refractive index each go with themselves only", () => {
    const all = ["40 %vol", "40 %mas", "80 proof", "12 °Bx", "1.4 nD"];
    for (const a of all) {
      for (const b of all) {
        if (a === b) {
          expect(add(q(a), q(b)).unit).toBe(q(a).unit);
          expect(shown(divide(q(a), q(b)))).toBe("1");
        } else {
          expect(troubleOf(() => add(q(a), q(b))).code).toBe("kinds-differ");
          expect(troubleOf(() => compare(q(a), q(b))).code).toBe("kinds-differ");
          expect(troubleOf(() => convert(q(a), q(b).unit)).code).toBe("kinds-differ");
        }
      }
      for (const ratio of ["3 %", "3", "3 ‰"]) {
        expect(troubleOf(() => add(q(a), q(ratio))).code).toBe("kinds-differ");
        expect(troubleOf(() => subtract(q(ratio), q(a))).code).toBe("kinds-differ");
      }
    }
  });
  it("say which function leads from one to the other", () => {
    expect(told(() => add(q("40 %vol"), q("40 %mas")))).toMatch(/by_mass.*by_volume/);
    expect(told(() => subtract(q("12 °Bx"), q("1.35 nD")))).toContain("solids_from_index");
    expect(told(() => compare(q("80 proof"), q("40 %vol")))).toContain("by_volume");
    expect(told(() => add(q("12 °Bx"), moisture("18 %")))).toContain("°Bx");
    expect(told(() => compare(q("12 °Bx"), q("1.05 kg/L")))).toContain("solids_from_density");
  });
  it("always say what would work", () => {
    const values = [
      "1 L",
      "1 g",
      "1 kW",
      "1 kJ",
      "40 %vol",
      "3 °Bx",
      "1.4 nD",
      "20 °C",
      "5 K",
      "2",
      "3 %",
      "1 GBP",
      "1 GBP/L",
    ];
    for (const a of values) {
      for (const b of values) {
        for (const work of [add, subtract, compare, multiply, divide] as const) {
          let trouble: Trouble | undefined;
          try {
            work(q(a), q(b));
          } catch (caught) {
            if (!(caught instanceof Trouble)) throw caught;
            trouble = caught;
          }
          if (trouble === undefined) continue;
          expect(trouble.says).toContain(`${format(q(a))} (`);
          expect(trouble.says).toContain(`${format(q(b))} (`);
          expect(trouble.help).toMatch(/\.$/);
        }
        const trouble = convertible(q(a).unit, q(b).unit);
        if (trouble !== undefined && q(b).unit.text !== "") expect(trouble.help).toMatch(/\.$/);
      }
    }
    expect(told(() => add(q("1 GBP/L"), q("1 GBP")))).toContain(
      "A price per volume times a volume is an amount in GBP.",
    );
    expect(told(() => add(q("1 kJ"), q("1 kW")))).toContain("A power times a time is an energy.");
    expect(told(() => add(q("3 °Bx"), q("1 g")))).toContain("Only values of one kind go together");
    // A warming times a time is a difference, and no point on the scale.
    expect(told(() => add(q("20 °C"), q("1 K/min")))).not.toContain("is a temperature.");
    expect(told(() => add(q("1 K/min"), q("20 °C")))).not.toContain("is a temperature.");
    expect(told(() => add(q("1 K/min"), q("5 K")))).toContain("times a time is a temperature difference.");
    expect(told(() => convert(q("1 kW"), unit("g")))).toContain("A power is shown in `W`, `kW` or `mW`.");
    expect(told(() => convert(q("40 %vol"), unit("L")))).toContain("Leave out `in L`.");
    expect(told(() => convert(q("18 %"), unit("°Bx")))).toContain("`10 °Bx`");
    expect(told(() => power(q("2 °C"), q("2")))).toContain("2 °C (a temperature) has no powers.");
  });
  it("money of two currencies needs a rate that the book types", () => {
    const text = told(() => add(q("3 EUR"), q("2 GBP")));
    expect(text).toContain("3.00 EUR (an amount in EUR) and 2.00 GBP (an amount in GBP)");
    expect(text).toContain("exchange rate");
    expect(shown(add(multiply(q("3 EUR"), q("0.85 GBP/EUR")), q("2 GBP")))).toBe("4.55 GBP");
    expect(told(() => compare(q("3 EUR/L"), q("2 GBP/L")))).toContain("exchange rate");
  });
  it("a ratio and a water content beside a unit are not asked for one", () => {
    expect(told(() => compare(q("10 %"), q("5 g")))).not.toContain("Give the number");
    expect(told(() => compare(q("5 g"), moisture("0.17")))).not.toContain("Give the number");
  });
  it("that share nothing never add and never compare, with no advice about temperatures", () => {
    for (const [a, b] of [
      ["1 g", "5 K"],
      ["5 K", "1 g"],
      ["20 °C", "1 g"],
      ["1 g", "20 °C"],
    ] as const) {
      for (const work of [add, subtract, compare])
        expect(troubleOf(() => work(q(a), q(b))).code).toBe("kinds-differ");
      expect(told(() => compare(q(a), q(b)))).not.toContain("K is a difference");
    }
  });
  it("a water content is shown in any ratio", () => {
    expect(shown(convert(moisture("0.18"), unit("%")))).toBe("18 %");
    expect(convert(moisture("0.18"), unit("%")).unit.kind).toBe(kinds.moisture);
    expect(told(() => convert(q("1 L"), unit("%")))).toContain("which measures a ratio");
    expect(told(() => convert(moisture("0.18"), unit("kg/L")))).toContain("`honey_density(0.18)`");
  });
  it("a measured value is told without its uncertainty", () => {
    expect(told(() => add(q("100 ± 1 g"), q("1 L")))).toContain("100 g (a mass) and 1 L (a volume)");
  });
  it("a plain number beside a unit asks for its unit", () => {
    expect(told(() => add(q("2"), q("1 L")))).toContain("`2 L`");
    expect(told(() => subtract(q("1 L"), q("0.5")))).toContain("`0.5 L`");
    expect(told(() => convert(q("4"), unit("g")))).toContain("`* 1 g`");
  });
  it("a kind survives multiplying and dividing by a plain number", () => {
    for (const text of ["40 %vol", "40 %mas", "80 proof", "12 °Bx", "1.4 nD", "2 L", "5 K", "29.70 GBP"]) {
      const value = q(text);
      expect(multiply(value, q("2")).unit).toBe(value.unit);
      expect(multiply(q("2"), value).unit).toBe(value.unit);
      expect(divide(value, q("2")).unit).toBe(value.unit);
      expect(multiply(value, q("50 %")).unit).toBe(value.unit);
      expect(toSI(multiply(value, q("50 %")))).toBeCloseTo(toSI(value) / 2, 12);
      expect(toSI(divide(value, q("50 %")))).toBeCloseTo(toSI(value) * 2, 12);
    }
    expect(multiply(moisture("18 %"), q("2")).unit.kind).toBe(kinds.moisture);
  });
});

describe("a percentage", () => {
  it("beside a plain number counts hundredths, with a note unless the number is 1", () => {
    const sum = add(q("100"), q("10 %"));
    expect(shown(sum)).toBe("100.1");
    expect(sum.notes?.[0]?.text).toContain("10 % counts as 0.1: 100 + 10 % is 100.1.");
    expect(sum.notes?.[0]?.text).toContain("`100 * (1 + 10 %)`");
    expect(shown(add(q("1"), q("10 %")))).toBe("1.1");
    expect(add(q("1"), q("10 %")).notes).toBeUndefined();
    expect(subtract(q("1"), q("10 %")).notes).toBeUndefined();
    expect(subtract(q("100"), q("10 %")).notes?.[0]?.text).toContain("100 - 10 % is 99.9");
    expect(shown(add(q("10 %"), q("100")))).toBe("10010 %");
    expect(add(q("10 %"), q("100")).notes).toHaveLength(1);
    expect(add(q("10 %"), q("5 %")).notes).toBeUndefined();
    expect(shown(add(q("10 %"), q("5 ‰")))).toBe("10.5 %");
  });
  it("stays a percentage times a number or a percentage, and drops out beside another unit", () => {
    expect(shown(multiply(q("10 %"), q("3")))).toBe("30 %");
    expect(shown(multiply(q("3"), q("10 %")))).toBe("30 %");
    expect(shown(multiply(q("10 %"), q("5 ‰")))).toBe("0.05 %");
    expect(shown(multiply(q("10 %"), q("250 mL")))).toBe("25 mL");
    expect(shown(divide(q("25 mL"), q("10 %")))).toBe("250 mL");
    expect(shown(divide(q("18 %"), q("6 %")))).toBe("3");
    expect(shown(divide(q("1"), q("20 %")))).toBe("5");
    expect(shown(power(q("20 %"), q("2")))).toBe("4 %");
    expect(shown(power(q("25 %"), q("0.5")))).toBe("0.5");
    expect(shown(multiply(q("0.1 %/d"), q("10 d")))).toBe("1 %");
    expect(shown(multiply(q("10 %"), q("2 W/K")))).toBe("0.2 W/K");
  });
  it("is exactly a hundredth", () => {
    expect(isExact(multiply(q("10 %"), q("29.70 GBP")).n)).toBe(true);
    expect(shown(multiply(q("12.5 %"), q("29.70 GBP")))).toBe("3.7125 GBP");
    expect(shown(convert(q("0.18"), unit("%")))).toBe("18 %");
    expect(shown(convert(q("18 %"), unit("ppm")))).toBe("180000 ppm");
  });
});

describe("shares of an amount", () => {
  it("a volume times %vol is pure ethanol; a mass times %mas, °Bx or water content the mass of that part", () => {
    expect(shown(multiply(q("2.4 L"), q("61.2 %vol")))).toBe("1.4688 L");
    expect(shown(multiply(q("61.2 %vol"), q("2.4 L")))).toBe("1.4688 L");
    expect(shown(multiply(q("500 g"), q("35 %mas")))).toBe("175 g");
    expect(shown(multiply(q("500 g"), q("12 °Bx")))).toBe("60 g");
    expect(shown(multiply(q("500 g"), moisture("18 %")))).toBe("90 g");
    expect(shown(divide(q("1 L"), q("40 %vol")))).toBe("2.5 L");
    expect(shown(divide(q("175 g"), q("35 %mas")))).toBe("500 g");
  });
  it("holds for prices and rates of volumes and masses", () => {
    expect(shown(divide(q("12 GBP/L"), q("40 %vol")))).toBe("30 GBP/L");
    expect(shown(multiply(q("10 mL/min"), q("80 %vol")))).toBe("8 mL/min");
    expect(shown(multiply(q("2 GBP/kg"), q("50 %mas")))).toBe("1 GBP/kg");
    expect(shown(multiply(q("1.2 kg/L"), q("50 °Bx")))).toBe("0.6 kg/L");
  });
  it.each([
    ["1 kg", "40 %vol", "pure_mass"],
    ["1 L", "40 %mas", "pure_volume"],
    ["1 L", "12 °Bx", "syrup_density"],
    ["1 L", "80 proof", "by_volume"],
    ["1 kg", "80 proof", "by_volume"],
    ["1 W", "40 %vol", "share of a volume"],
    ["1 m", "40 %vol", "share of a volume"],
    ["1 kJ", "40 %mas", "share of a mass"],
    ["1 g", "1.4 nD", "solids_from_index"],
    ["1.2 kg/L", "40 %vol", "by_mass"],
    ["2 GBP/kg", "40 %vol", "by_mass"],
  ])("%s * %s is a crossed pair, told with both sides and %s", (a, b, way) => {
    for (const text of [
      told(() => multiply(q(a), q(b))),
      told(() => multiply(q(b), q(a))),
      told(() => divide(q(a), q(b))),
    ]) {
      expect(text).toContain(`${format(q(a))} (${q(a).unit.kind.name})`);
      expect(text).toContain(`${b} (${q(b).unit.kind.name})`);
      expect(text).toContain(way);
    }
  });
  it("a water content is of a mass, a water activity of nothing", () => {
    expect(told(() => multiply(q("1 L"), moisture("18 %")))).toContain("density");
    expect(told(() => multiply(q("1 kg"), activity("0.6")))).toContain("moisture_from_activity");
  });
  it("two shares do not multiply, and a strength has no rate and no powers", () => {
    expect(troubleOf(() => multiply(q("40 %vol"), q("40 %vol"))).code).toBe("kinds-crossed");
    expect(troubleOf(() => multiply(q("40 %vol"), q("12 °Bx"))).code).toBe("kinds-crossed");
    expect(troubleOf(() => divide(q("40 %vol"), q("1 h"))).code).toBe("kinds-crossed");
    expect(troubleOf(() => divide(q("1"), q("40 %vol"))).code).toBe("kinds-crossed");
    expect(troubleOf(() => divide(q("40 %vol"), q("12 °Bx"))).code).toBe("kinds-crossed");
    expect(troubleOf(() => power(q("40 %vol"), q("2"))).code).toBe("kinds-crossed");
    expect(shown(power(q("40 %vol"), q("1")))).toBe("40 %vol");
  });
});

describe("temperatures", () => {
  it("minus a temperature are a difference in K, whatever the scale", () => {
    expect(shown(subtract(q("86 °F"), q("14 °F")))).toBe("40 K");
    expect(shown(subtract(q("30 °C"), q("14 °F")))).toBe("40 K");
    expect(shown(subtract(q("86 °F"), q("-10 °C")))).toBe("40 K");
    expect(subtract(q("86 °F"), q("14 °F")).unit).toBe(unit("K"));
  });
  it("plus or minus a difference are temperatures, on the scale of the temperature", () => {
    expect(shown(subtract(q("30 °C"), q("5 K")))).toBe("25 °C");
    expect(shown(add(q("5 K"), q("30 °C")))).toBe("35 °C");
    expect(shown(add(q("50 °F"), q("10 K")))).toBe("68 °F");
    expect(shown(add(q("10 K"), q("50 °F")))).toBe("68 °F");
    expect(told(() => subtract(q("5 K"), q("30 °C")))).toContain("not the temperature from the difference");
  });
  it("are shown in K and stay temperatures", () => {
    const kelvin = convert(q("25 °C"), unit("K"));
    expect(shown(kelvin)).toBe("298.15 K");
    expect(isExact(kelvin.n)).toBe(true);
    expect(kelvin.unit.kind).toBe(kinds.temperature);
    expect(shown(add(kelvin, q("5 K")))).toBe("303.15 K");
    expect(shown(subtract(kelvin, q("20 °C")))).toBe("5 K");
    expect(troubleOf(() => add(kelvin, kelvin)).code).toBe("temperatures-add");
    expect(troubleOf(() => multiply(kelvin, q("2"))).code).toBe("temperature-product");
    expect(compare(kelvin, q("25 °C")).order).toBe(0);
    expect(shown(convert(kelvin, unit("°F")))).toBe("77 °F");
    expect(shown(convert(kelvin, unit("K")))).toBe("298.15 K");
    expect(convert(kelvin, unit("K")).unit.kind).toBe(kinds.temperature);
  });
  it("a typed K is a difference and no temperature", () => {
    expect(q("300 K").unit.kind).toBe(kinds.difference);
    for (const [a, b] of [
      ["300 K", "25 °C"],
      ["25 °C", "300 K"],
    ] as const) {
      expect(told(() => compare(q(a), q(b)))).toContain("K is a difference");
    }
    expect(adviceFor(q("300 K"), kinds.temperature)).toBe(
      "A typed K is a difference. As a temperature this is `26.85 °C`.",
    );
    expect(told(() => convert(q("40 K"), unit("°C")))).toContain("A difference stays in K");
  });
  it("that are added ask for a difference, the second one's number when it is in degrees as wide as a kelvin", () => {
    expect(told(() => add(q("30 °C"), q("9 °C")))).toContain("`30 °C + 9 K`");
    expect(told(() => add(q("30 °C"), q("9 °F")))).toContain("`30 °C + 5 K`");
    expect(told(() => compatible(unit("°C"), unit("°C"), "add"))).toContain("`t + 5 K`");
  });
  it("have no sums, multiples, ratios, powers and negatives", () => {
    for (const work of [
      () => multiply(q("30 °C"), q("2")),
      () => multiply(q("2"), q("30 °C")),
      () => multiply(q("30 °C"), q("10 %")),
      () => divide(q("30 °C"), q("2")),
      () => divide(q("30 °C"), q("10 °C")),
      () => divide(q("1 kJ"), q("10 °C")),
      () => power(q("30 °C"), q("2")),
      () => negate(q("30 °C")),
    ]) {
      const trouble = troubleOf(work);
      expect(trouble.code).toBe("temperature-product");
      expect(trouble.help).toBeDefined();
    }
    expect(told(() => multiply(q("30 °C"), q("2")))).toContain(
      "30 °C (a temperature) and 2 (a plain number)",
    );
  });
  it("are differences inside a compound", () => {
    expect(shown(multiply(q("5 W/°C"), q("20 K")))).toBe("100 W");
    expect(shown(divide(q("100 W"), q("5 W/°C")))).toBe("20 K");
    expect(divide(q("100 W"), q("5 W/°F")).unit).toBe(unit("K"));
    expect(toSI(divide(q("100 W"), q("5 W/°F")))).toBeCloseTo((20 * 5) / 9, 12);
    expect(shown(add(q("5 W/°C"), q("1 W/K")))).toBe("6 W/°C");
    expect(shown(multiply(q("2 K/min"), q("5 min")))).toBe("10 K");
  });
  it("go to SI and back", () => {
    expect(toSI(q("25 °C"))).toBe(298.15);
    expect(toSI(q("77 °F"))).toBeCloseTo(298.15, 12);
    expect(shown(fromSI(298.15, unit("°C")))).toBe("25 °C");
    expect(shown(fromSI(298.15, unit("°F")))).toBe("77 °F");
    expect(shown(fromSI(298.15, convert(q("1 °C"), unit("K")).unit))).toBe("298.15 K");
  });
});

describe("results", () => {
  it("of units that merely differ in size carry no note", () => {
    expect(add(q("1 L"), q("200 mL")).notes).toBeUndefined();
    expect(subtract(q("25 °C"), q("5 K")).notes).toBeUndefined();
  });
  it("carry the notes of both sides, each once", () => {
    const a = quantity(q("1 g").n, unit("g"), undefined, [{ text: "weighed twice" }]);
    const b = quantity(q("2 g").n, unit("g"), undefined, [
      { text: "glass", caution: true },
      { text: "weighed twice" },
    ]);
    expect(add(a, b).notes).toEqual([{ text: "weighed twice" }, { text: "glass", caution: true }]);
    expect(multiply(a, q("2")).notes).toBe(a.notes);
    expect(divide(q("2"), b).notes).toBe(b.notes);
    expect(convert(a, unit("kg")).notes).toBe(a.notes);
    expect(negate(a).notes).toBe(a.notes);
  });
  it("name both operands when a number runs out", () => {
    expect(troubleOf(() => divide(q("5 g"), q("0 L")))).toMatchObject({
      code: "division-by-zero",
      says: "5 g is divided by 0 L.",
    });
    expect(told(() => multiply(q("1e200 g"), q("1e200")))).toMatch(
      /1\w*0 g \* 1\w*0: the result is too large/,
    );
    expect(told(() => power(q("-8"), q("0.5")))).toContain("-8 ^ 0.5");
    expect(told(() => power(q("0"), q("-1")))).toContain("0 ^ -1");
  });
  it("of powers have whole units", () => {
    expect(shown(power(q("2 m"), q("3")))).toBe("8 m3");
    expect(shown(power(q("4 m2"), q("0.5")))).toBe("2 m");
    expect(shown(power(q("8 L"), plain(1 / 3)))).toBe("0.2 m");
    expect(shown(power(q("2 L"), q("-1")))).toBe("0.5 L^-1");
    expect(shown(power(q("2 g"), q("0")))).toBe("1");
    expect(shown(power(q("10"), q("50 %")))).toBe("3.1623");
    expect(shown(power(q("20 %"), q("-2")))).toBe("25");
    expect(troubleOf(() => power(q("2 g"), q("0.5"))).code).toBe("unit-power");
    expect(troubleOf(() => power(q("2 g"), q("40"))).code).toBe("unit-power");
    expect(told(() => power(q("2"), q("3 g")))).toContain("3 g is a mass");
    expect(shown(power(q("5 g/kg"), q("2")))).toBe("0.000025");
  });
  it("of a literal power of ten stay exact", () => {
    expect(isExact(divide(q("12.5 g"), q("100"), true).n)).toBe(true);
    expect(isExact(divide(q("12.5 g"), q("100 mL"), true).n)).toBe(true);
    expect(shown(divide(q("12.5 g"), q("100 mL"), true))).toBe("0.125 g/mL");
    expect(isExact(divide(q("12.5 g"), q("100")).n)).toBe(false);
  });
  it("of division are rounded once", () => {
    expect(divide(q("2.4 L"), q("200 mL")).n.v).toBe(12);
    expect(divide(q("0.3 L"), q("0.1 L")).n.v).toBe(0.3 / 0.1);
  });
  it("from plain numbers", () => {
    expect(isExact(plain("0.10").n)).toBe(true);
    expect(isExact(plain(3).n)).toBe(true);
    expect(isExact(plain(0.5).n)).toBe(false);
    expect(toSI(q("250 mL"))).toBe(0.00025);
    expect(toSI(q("40 %vol"))).toBe(0.4);
    expect(toSI(q("80 proof"))).toBe(0.4);
    expect(shown(fromSI(0.4, unit("%vol")))).toBe("40 %vol");
    expect(shown(fromSI(2.5e-4, unit("mL")))).toBe("250 mL");
  });
});

describe("advice for an argument of the wrong kind", () => {
  it.each([
    ["40 %", kinds.strengthVolume, "`40 %vol`"],
    ["40", kinds.strengthVolume, "`40 %vol`"],
    ["0.42", kinds.strengthVolume, "`42 %vol`"],
    ["1 %", kinds.strengthVolume, "`1 %vol`"],
    ["12 %", kinds.solids, "`12 °Bx`"],
    ["1.49", kinds.index, "`1.49 nD`"],
    ["60", kinds.pressure, "Give the number its unit: `Pa`, `hPa`, `kPa`, `mbar`, `bar` or `mmHg`."],
    ["60", kinds.temperature, "Give the number its unit: `°C` or `°F`."],
    ["3", kinds.heatTransfer, "Give the number its unit: `W/K`."],
    ["20 °C", kinds.difference, "in K"],
    ["12 °Bx", kinds.moisture, "water_in"],
    ["1 L", kinds.mass, "mass_of"],
    ["1.05 kg/L", kinds.solids, "solids_from_density"],
  ] as const)("%s", (text, kind, words) => {
    expect(adviceFor(q(text), kind)).toContain(words);
  });
  it("is silent when there is none", () => {
    expect(adviceFor(q("1 W"), kinds.mass)).toBeUndefined();
    expect(adviceFor(q("12 %"), kinds.mass)).toBeUndefined();
    expect(adviceFor(q("12"), unit("m/s2").kind)).toBeUndefined();
  });
});
