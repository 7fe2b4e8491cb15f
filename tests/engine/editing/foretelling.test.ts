import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { foretell } from "../../../src/engine/editing";
import { CORDIAL, cordial, field } from "./writing";

const told = (where: string, text: string, book = cordial) => foretell(book, field(where, text), text);

describe("what a field would come to", () => {
  it("a value, in its place, without changing the book", () => {
    const before = cordial.text;
    expect(told("set boiling", "boils_at(pull)")!.shown).toMatchObject({
      path: "boiling",
      state: "ok",
      unit: "°C",
      origin: "computed",
    });
    expect(told("set pull", "0.50 bar")!.shown).toMatchObject({
      number: "0.50",
      unit: "bar",
      origin: "typed",
    });
    expect(cordial.text).toBe(before);
    expect(cordial.value("pull")).toMatchObject({ unit: { text: "mbar" } });
  });
  it("a name that is not in the book yet", () => {
    expect(told("set new_one", "pull + 5 mbar")!.shown.text).toBe("65 mbar");
  });
  it("a result is told with its parts", () => {
    const found = told("set blend", "marry([1 L, 2 L], [40 %vol, 50 %vol])")!;
    expect(found.parts.map((p) => p.path)).toEqual([
      "blend.volume",
      "blend.strength",
      "blend.mass",
      "blend.pure_volume",
      "blend.contraction",
    ]);
  });
  it("a column in the row that is looked at, else in the first", () => {
    expect(told("column stock.cost 1", "volume * price * 2")!.shown).toMatchObject({
      path: "stock.`bay leaf`.cost",
      text: "15.05 GBP",
    });
    expect(told("column stock.cost", "volume * price * 2")!.shown).toMatchObject({
      path: "stock.quince.cost",
      text: "22.56 GBP",
    });
  });
  it("a foot, a check, a sentence, a formula", () => {
    expect(told("foot stock.volume", "largest(volume)")!.shown).toMatchObject({
      path: "stock.foot.volume",
      text: "1200 mL",
    });
    expect(told("check", "pull < 100 mbar")!.shown.text).toBe("true");
    expect(told("sentence", 'Pull to {pull in Pa}, "slowly".')!.shown.text).toBe(
      'Pull to 6000 Pa, "slowly".',
    );
    expect(told("formula", "pull * 2")!.shown.text).toBe("120 mbar");
  });
  it("a typed cell is read under its heading", () => {
    expect(told("cell stock.volume 0", "2.4 L")!.shown.text).toBe("2400 mL");
    expect(told("cell stock.volume 0", "12")!.shown.text).toBe("12 mL");
    expect(told("cell stock.volume 0", "")!.shown.state).toBe("gap");
    expect(told("cell stock.volume 1", "= price * 2 / 1 GBP * 1 L^2")!.shown.state).toBe("ok");
    expect(told("cell stock.volume 1", "= stock.quince.volume")!.shown.state).toBe("fault");
    expect(told("cell stock.on 0", "2026-04-01")!.shown.text).toBe("2026-04-01");
    expect(told("cell stock.sort 0", "fruit | berry")!.shown.text).toBe("fruit | berry");
    expect(told("cell runs.at 0", "33 ± 1 °C")!.shown.text).toBe("33.0 ± 1.0 °C");
    expect(told("cell stock.item 0", "sloe")!.shown.text).toBe("sloe");
  });
  it("what cannot be read tells its place in the field, and the fixes there", () => {
    const found = told("set x", "pull + ,5 mbar")!;
    expect(found.shown.state).toBe("fault");
    expect(found.trouble!.from).toBeGreaterThanOrEqual(7);
    const comma = told("set x", "pull + 2,5 mbar")!.trouble!;
    expect("pull + 2,5 mbar".slice(comma.from, comma.to)).toBe("2,5");
    expect(comma.fixes.length).toBeGreaterThan(0);
    const cell = told("cell stock.volume 0", "= 2,5 mL")!.trouble!;
    expect("= 2,5 mL".slice(cell.from, cell.to)).toBe("2,5");
  });
  it("what comes to a fault tells why, and where in the field", () => {
    const found = told("set x", "1 L + blend.volume + 3 g")!;
    expect(found.shown.message).toMatch(/do not add/);
    expect(found.trouble).toMatchObject({ from: 0, to: 24 });
    const wrong = told("set x", "3 Kg")!.trouble!;
    expect(wrong.fixes[0]!.edits).toEqual([{ span: { from: 2, to: 4 }, text: "kg" }]);
  });
  it("a fault that began elsewhere names its cause and marks nothing here", () => {
    const book = openBook("set a = 1 g + 1 mL\nset b = 3 g\n");
    const found = told("set b", "a * 2", book)!;
    expect(found.shown).toMatchObject({ state: "fault", cause: "a" });
    expect(found.trouble).toBeUndefined();
  });
  it("a circle is told, also one through other names", () => {
    expect(told("set pull", "pull * 2")!.shown.message).toMatch(/pull needs itself|circle/);
    expect(told("set goal", "thinned.total / 1 L * 1 %vol")!.shown.state).toBe("fault");
  });
  it("a column that builds on the row before is worked out from the first row on", () => {
    const book = openBook("table t\n| k | x |\n| a | 1 |\n| b | 2 |\n| c | 3 |\ncolumn run = x\n");
    expect(
      told("column t.run 2", "if before.run is blank then x else before.run + x", book)!.shown.text,
    ).toBe("6");
  });
  it("nothing for what has no value", () => {
    for (const where of ["heading stock", "chart", "clauses", "book", "trial pull", "define kept"])
      expect(told(where, "3 g"), where).toBeUndefined();
    expect(told("set x", "  ")).toBeUndefined();
    expect(told("column nobody.cost", "3 g")).toBeUndefined();
    expect(told("cell stock.cost 0", "3 g")).toBeUndefined();
  });
});

describe("agrees with the book that is edited", () => {
  const formulas: readonly (readonly [string, string, string])[] = [
    ["pull", "set pull    = 60 mbar", "80 mbar"],
    ["pull", "set pull    = 60 mbar", "boils_at(60 mbar)"],
    ["per_bottle", "set per_bottle = stock.foot.cost / 8", "stock.foot.cost / 9 + 1 GBP"],
    ["per_bottle", "set per_bottle = stock.foot.cost / 8", "per_bottle + 1 GBP"],
    [
      "thinned.add",
      "set thinned = let_down(blend.volume, blend.strength, to: goal)",
      "let_down(blend.volume, blend.strength, to: 30 %vol)",
    ],
    [
      "boiling",
      "set boiling = boils_at(pull, strength: goal)",
      "find t from 0 °C to 90 °C so that pressure_for(t) is pull",
    ],
  ];
  it.each(formulas)("%s", (path, line, formula) => {
    const name = path.split(".")[0]!;
    const edited = cordial.edit(CORDIAL.replace(line, `${line.slice(0, line.indexOf("=") + 1)} ${formula}`));
    const found = foretell(cordial, { in: "value", name, text: formula })!;
    const wanted = edited.answers().find((a) => a.name === path);
    const shown = path === name ? found.shown : found.parts.find((p) => p.path === path)!;
    expect({ text: shown.text, state: shown.state }).toEqual({ text: wanted!.text, state: wanted!.state });
  });
});
