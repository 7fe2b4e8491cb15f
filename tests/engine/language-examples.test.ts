import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

/** The worked examples of the language: each formula beside what it comes to, in this small book. */
const BOOK = `set a = 2.4 L
set jars = 4
set s = "Juniper"

table t
| item      | volume (mL) | strength  | price (GBP/L) | on (date)  |
| juniper   | 2400        | 61.2 %vol | 11.20         | 2026-02-03 |
| bay leaf  | 350         |           | 21.50         | 2026-02-24 |
column cost = volume * price
foot cost = sum(cost)
`;
const book = openBook(BOOK);

const comesTo = (formula: string, text: string, note?: string) =>
  it(`${formula} is ${text}`, () => {
    const asked = book.ask(formula);
    expect(asked.message).toBeNull();
    expect(asked.text).toBe(text);
    if (note !== undefined) expect(asked.notes).toContain(note);
  });

/** A fault whose sentence and help hold all of these words. */
const fails = (formula: string, ...words: string[]) =>
  it(`${formula} is refused`, () => {
    const asked = book.ask(formula);
    expect(asked.state).toBe("fault");
    const told = `${asked.message} ${asked.help ?? ""} ${(asked.fixes ?? []).map((f) => f.says).join(" ")}`;
    for (const word of words) expect(told).toContain(word);
  });

describe("worked examples of the language", () => {
  comesTo("0.1 + 0.2 is 0.3", "true");
  comesTo("a + 200 mL", "2.6 L");
  comesTo("a / jars", "0.6 L");
  fails("2 L/jars", "jars", "2 L / jars");
  fails("1/2 L", "0.5 L");
  fails("12,5 L", "12.5");
  fails("1 L + 200 g", "a volume", "a mass", "mass_of", "volume_of");
  fails("42 %vol + 3 °Bx", "a strength by volume", "solids");
  fails("40 %vol + 3 %", "3 %vol", "(1 + 3 %)");
  fails("200 g + 10 %", "200 g * (1 + 10 %)");
  comesTo("200 g * (1 + 10 %)", "220 g");
  comesTo("30 °C - -10 °C", "40 K");
  comesTo("30 °C + 5 K", "35 °C");
  fails("30 °C + 5 °C", "5 K");
  comesTo("25 °C in °F", "77 °F");
  comesTo("mean([20 °C, 30 °C])", "25 °C");
  comesTo("-2^2", "-4");
  comesTo("50 % * 20 %", "10 %");
  comesTo("t.juniper.cost", "26.88 GBP");
  comesTo("t.foot.cost", "34.405 GBP");
  comesTo("t.`bay leaf`.volume in L", "0.35 L");
  comesTo("sum([1 L, 500 mL])", "1.5 L");
  comesTo("sum(t.volume where strength > 50 %vol)", "2400 mL", "1 row left out, its condition is not known");
  it("marry(t.volume, t.strength) is a gap that names the row", () => {
    const asked = book.ask("marry(t.volume, t.strength)");
    expect(asked.state).toBe("gap");
    expect(asked.message).toContain("bay leaf has a volume but no strength yet");
  });
  comesTo("mean(t.strength)", "61.2 %vol", "1 of 2 is blank");
  fails("[1 L, 2 L] * [1, 2, 3]", "2 entries and 3");
  it("10 mbar to 40 mbar step 10 mbar counts", () => {
    const asked = book.ask("10 mbar to 40 mbar step 10 mbar");
    expect(asked.parts?.map((p) => p.text)).toEqual(["10 mbar", "20 mbar", "30 mbar", "40 mbar"]);
  });
  comesTo("25 °C within 20 °C to 30 °C", "true");
  comesTo('s is "juniper"', "true");
  comesTo("2026-02-24 - 2026-02-03", "21 d");
  comesTo('if a > 2 L then "large" else "small"', "large");
  comesTo("whole(0.3 L / 0.1 L)", "3");
  comesTo("find x from 1 to 2 so that x^2 is 2", "1.4142");
  fails("find x from 2 to 3 so that x^2 is 2", "at 2 it is 2 above", "at 3 it is 7 above");
  comesTo("50 ± 1 g + (50 ± 1 g)", "100.0 ± 1.4 g");
  comesTo("let_down(1 L, 96 %vol, to: 40 %vol).add", "1.4705 L");
  comesTo("boils_at(60 mbar, strength: 40 %vol)", "24.955 °C");
  comesTo(
    "infuse_honey(1000 g, 18 %, 500 g, strength: 35 %mas, solids: 2 °Bx, to: 18 %).taken.water",
    "312.8 g",
  );
  fails("40 %vol in %mas", "by_mass(40 %vol)");
  it("t.juniper is a record", () => {
    expect(book.ask("t.juniper").parts?.map((p) => p.name)).toEqual([
      "item",
      "volume",
      "strength",
      "price",
      "on",
      "cost",
    ]);
  });
  fails("t.strenght", "Table t", "strength");
  comesTo('"add {a in mL} now"', "add 2400 mL now");
});
