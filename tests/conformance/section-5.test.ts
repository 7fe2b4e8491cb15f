import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { SMALL } from "./small-book";
import { reads, telling, valuesOf } from "./telling";

const { gives, givesQuietly, fails, lists } = telling(SMALL);

describe("exact and approximate", () => {
  it("typed decimals add and multiply exactly", () => {
    givesQuietly("0.1 + 0.2", "0.3");
    givesQuietly("0.1 * 3", "0.3");
    givesQuietly("1.005 GBP * 3", "3.015 GBP");
  });
  it("dividing by a power of ten keeps a number exact, and a percentage is exactly a hundredth", () => {
    givesQuietly("10.01 GBP / 100", "0.1001 GBP");
    givesQuietly("12345678.9 / 1000", "12345.6789");
    givesQuietly("12345.678 * 1 %", "12345.678 %");
    givesQuietly("200.5 g * 1 %", "2.005 g");
    gives("18 % is 0.18", "true");
  });
});

describe("kinds", () => {
  it("a plain ratio goes with plain ratios, and with water content and water activity", () => {
    givesQuietly("10 % + 5 ‰", "10.5 %");
    givesQuietly("water_in(60 °Bx) + 2 %", "42 %");
    gives("water_in(60 °Bx) < 0.5", "true");
    gives("activity_from_solids(60 °Bx) + 0.01", "0.90473");
    gives("moisture_from_activity(0.9) is moisture_from_activity(90 %)", "true");
  });
  it("water content and water activity do not go with each other", () => {
    const asked = fails("activity_from_solids(60 °Bx) + water_in(60 °Bx)", "water activity", "water content");
    expect(asked.help).not.toContain("* (1 +");
    fails("activity_from_solids(60 °Bx) < water_in(60 °Bx)");
    fails("[activity_from_solids(60 °Bx), water_in(60 °Bx)]");
  });
  it("strengths, proof, solids and refractive index go with themselves only, never with a percentage", () => {
    for (const unit of ["%vol", "%mas", "proof", "°Bx", "nD"]) {
      gives(`2 ${unit} + 1 ${unit}`, `3 ${unit}`);
      fails(`2 ${unit} + 1 %`);
      fails(`2 ${unit} < 1 %`);
      fails(`2 ${unit} + 1`);
      for (const other of ["%vol", "%mas", "proof", "°Bx", "nD"]) {
        if (other !== unit) fails(`2 ${unit} + 1 ${other}`);
        if (other !== unit) fails(`2 ${unit} is 1 ${other}`);
      }
    }
  });
  it("temperatures: less one another a difference, with a difference a temperature", () => {
    gives("30 °C - -10 °C", "40 K");
    gives("50 °F - 20 °C", "-10 K");
    gives("30 °C + 5 K", "35 °C");
    gives("5 K + 30 °C", "35 °C");
    gives("30 °C - 5 K", "25 °C");
    gives("20 °C in K", "293.15 K");
    gives("25 °C in °F", "77 °F");
    gives("5 W/°C * 10 K", "50 W");
    lists("20 °C to 30 °C step 5 °C", "20 °C", "25 °C", "30 °C");
  });
  it("each currency is a kind of its own, in capitals, and a symbol is a fault with the code", () => {
    fails("5 GBP + 5 EUR", "exchange rate");
    gives("6 GBP / 2 GBP", "3");
    fails("5 €", "EUR");
    fails("€5", "5 EUR");
    fails("5 £", "GBP");
    fails("5 gbp", "GBP");
  });
  it("a typed K is always a difference", () => {
    fails("pressure_for(300 K)", "26.85 °C");
    fails("20 °C < 300 K");
  });
  it("sums and multiples of temperatures are faults, their mean and extremes are not", () => {
    fails("30 °C + 5 °C", "5 K");
    fails("30 °C * 2", "multiples");
    fails("30 °C / 2", "multiples");
    fails("sum([20 °C, 30 °C])", "mean");
    gives("mean([20 °C, 86 °F])", "25 °C");
    gives("smallest([20 °C, 30 °C])", "20 °C");
    gives("largest([20 °C, 30 °C])", "30 °C");
    gives("standard_deviation([20 °C, 30 °C, 40 °C])", "10 K");
  });
  it("a kind survives a plain number, and like by like is a plain number", () => {
    gives("40 %vol * 2", "80 %vol");
    gives("40 %vol / 2", "20 %vol");
    gives("40 %vol / 20 %vol", "2");
    gives("water_in(60 °Bx) * 2 + 1 %", "81 %");
    gives("2 * 10 K", "20 K");
  });
  it("an amount times a share of it is the amount of that part", () => {
    gives("1 L * 40 %vol", "0.4 L");
    gives("40 %vol * 1 L", "0.4 L");
    gives("1 kg * 40 %mas", "0.4 kg");
    gives("1 kg * 20 °Bx", "0.2 kg");
    gives("100 g * water_in(60 °Bx)", "40 g");
  });
  it("a crossed pair names the function that does it with density", () => {
    fails("1 kg * 40 %vol", "pure_mass");
    fails("1 L * 40 %mas", "pure_volume");
    fails("1 L * 20 °Bx", "syrup_density");
    fails("1 L * 80 proof", "by_volume");
  });
  it("`in` changes the scale, never the kind", () => {
    fails("40 %vol in %mas", "by_mass(40 %vol)");
    fails("18 °Bx in %", "water_in(18 °Bx)");
    fails("100 proof in %vol", "by_volume(100 proof)");
    fails("1 L in g");
    gives("0.4 in %", "40 %");
    gives("activity_from_solids(60 °Bx) in %", "89.473 %");
  });
  it("a quantity and a percentage do not add, and the fault tells how it is written", () => {
    fails("200 g + 10 %", "200 g * (1 + 10 %)");
    gives("200 g * (1 + 10 %)", "220 g");
  });
  it("a percentage added to a plain number counts in hundredths, with a note unless the number is 1", () => {
    gives("100 + 10 %", "100.1", "10 %");
    givesQuietly("1 + 10 %", "1.1");
    givesQuietly("1 - 10 %", "0.9");
  });
  it("small letters of litres are taken, another wrong case is a fault with the unit, gallons ask which", () => {
    gives("5 ml", "5 mL");
    gives("5 l", "5 L");
    gives("5 cl", "5 cL");
    gives("5 hl", "5 hL");
    fails("5 Kg", "kg");
    fails("5 ML", "mL");
    fails("5 gal", "us_gal", "uk_gal");
    fails("5 floz", "us_floz", "uk_floz");
  });
});

describe("the unit of a result", () => {
  it("is that of the first value in sums, lists and totals", () => {
    gives("150 g + 0.5 kg", "650 g");
    gives("0.5 kg - 150 g", "0.35 kg");
    lists("[500 mL, 1 L]", "500 mL", "1000 mL");
    gives("sum([1 L, 500 mL])", "1.5 L");
    gives("mean([500 mL, 1 L])", "750 mL");
    // Only one branch of an `if` is worked out: its unit is that of the branch that is taken.
    gives("if false then 1 L else 500 mL", "500 mL");
  });
  it("cancels in products, with the factor in the number, and keeps the first writing of what is left", () => {
    gives("11.20 GBP/L * 500 mL", "5.60 GBP");
    gives("3 L / 500 mL", "6");
    gives("2 L / 10 min * 1 h", "12 L");
    gives("3 m * 2 cm", "0.06 m2");
    gives("100 W * 1 h in kJ", "360 kJ");
  });
  it("drops a percentage beside another unit, and keeps it by a number or another one", () => {
    gives("3 L * 10 %", "0.3 L");
    gives("10 % * 3 L", "0.3 L");
    gives("10 % * 3", "30 %");
    gives("50 % * 20 %", "10 %");
  });
  it("of a function is that of the argument of its dimension, else that of its declaration", () => {
    gives("marry([500 mL, 1 L], [40 %vol, 40 %vol]).volume", "1500 mL");
    gives("marry([0.5 L, 1 L], [40 %vol, 40 %vol]).volume", "1.5 L");
    gives("boils_at(60 mbar)", "36.159 °C");
  });
  it("is overridden by `in`", () => gives("(1 L + 1 L in mL) + 1 L", "3000 mL"));
});

describe("print", () => {
  it("exact numbers show every decimal without trailing zeros, at most twelve digits", () => {
    gives("1.50 L + 0 L", "1.5 L");
    gives("123456789.123456789 * 1", "123456789.123");
    gives("1000000 * 1000000", "1000000000000");
  });
  it("approximate numbers show five digits without trailing zeros, whole parts never shortened", () => {
    gives("1 / 3", "0.33333");
    gives("2 / 3", "0.66667");
    gives("1 / 4 * 3", "0.75");
    gives("20000000 / 7", "2857143");
    gives("200000 / 3", "66667");
  });
  it("money shows at least its minor digits, and exactly those when approximate", () => {
    gives("29.7 GBP * 1", "29.70 GBP");
    gives("1234.5678 GBP * 1", "1234.5678 GBP");
    gives("10 GBP / 3", "3.33 GBP");
    gives("10 JPY / 3", "3 JPY");
  });
  it("an uncertainty shows two digits, and the value the same place", () => {
    gives("50 ± 1 g + (50 ± 1 g)", "100.0 ± 1.4 g");
    gives("250 mL ± 0.01 L", "250 ± 10 mL");
    gives("1234 ± 123 g", "1230 ± 120 g");
    gives("3 ± 0.1", "3.00 ± 0.10");
  });
  it("a column prints one count of decimals", () => {
    const book = openBook("table t\n| n | x |\n| r | 1.25 |\n| s | 2 |\ncolumn y = x * 2\ncolumn z = x / 3");
    const item = book.items[0]!;
    const cells = (column: number) =>
      item.type === "table" ? [0, 1].map((row) => item.cell(row, column).text) : [];
    expect(cells(2)).toEqual(["2.5", "4.0"]);
    expect(cells(3)).toEqual(["0.41667", "0.66667"]);
  });
  it("what a person typed is shown as it was typed", () => {
    const book = openBook("set a = 2.40 L\nset b = 1.50 ± 0.10 g\ntable t\n| n | x |\n| r | 1.250 L |");
    const shown = book.items.flatMap((i) =>
      i.type === "value" ? [i.shown.number] : i.type === "table" ? [i.cell(0, 1).number] : [],
    );
    expect(shown).toEqual(["2.40", "1.50", "1.250"]);
  });
  it("programs get the whole double", () => {
    expect(openBook("").ask("1 / 3").value).toBe(1 / 3);
    expect(openBook("").ask("50 ± 1 g + (50 ± 1 g)").uncertainty).toBeCloseTo(Math.SQRT2, 14);
    expect(valuesOf(reads("set a = 1 / 3", "a=0.33333"))).toHaveLength(1);
  });
});
