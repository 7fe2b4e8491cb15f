import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { ColumnList, ColumnStore } from "../../src/engine/blocks";
import { workingsOf } from "../../src/engine/book";
import { setKey } from "../../src/engine/names";
import { sameValue } from "../../src/engine/sameness";
import { approximate, exact, type Note, parseUnit, plainUnit, quantity, spreadBy } from "../../src/quantity";
import { gap, list, record, text, truth, type Value } from "../../src/vocabulary/value";

/** Which values are the same to every reader: an edit is told of the others, and of no more. */

const q = (digits: string, unit = plainUnit) => quantity(exact(digits), unit);
const about = (v: number) => quantity(approximate(v), plainUnit);
const g = parseUnit("g");
const kg = parseUnit("kg");
const noted = (...notes: Note[]): Value => quantity(exact("5"), plainUnit, undefined, notes);
const date = (iso: string, day: number): Value => ({ type: "date", iso, day });
const fault = (more: object = {}): Value => ({ type: "fault", code: "c", says: "s", ...more });
const at = (path: string, from: number, to: number) => ({ place: { path, from, to } });
const rows = (table: string, numbers: number[], names: string[]) => ({ table, rows: numbers, names });
const LONG = "12345678901234567890";

describe("two values are the same", () => {
  it.each<[string, () => Value, () => Value]>([
    ["of one number", () => q("5", g), () => q("5", g)],
    ["with other decimals behind the last digit", () => q("5.0", g), () => q("5", g)],
    ["of one approximate number", () => about(1 / 3), () => about(1 / 3)],
    ["of more digits than a double has", () => q(LONG), () => q(LONG)],
    ["of one number and ±", () => spreadBy(q("5"), q("1"), "a"), () => spreadBy(q("5"), q("1"), "a")],
    ["of one number and remark", () => noted({ text: "so" }), () => noted({ text: "so" })],
    ["without remarks and with none", () => noted(), () => q("5")],
    ["of one text", () => text("a"), () => text("a")],
    ["both true", () => truth(true), () => truth(true)],
    ["of one day", () => date("2026-02-03", 20487), () => date("2026-02-03", 20487)],
    ["gaps that say the same", () => gap("x", "a"), () => gap("x", "a")],
    ["faults that say the same in one place", () => fault(at("a", 1, 2)), () => fault(at("a", 1, 2))],
    ["faults without a place", () => fault(), () => fault()],
    ["lists of the same", () => list([q("1"), text("a")]), () => list([q("1"), text("a")])],
    ["empty lists", () => list([]), () => list([])],
    [
      "lists of the same rows",
      () => list([q("1"), q("2")], rows("t", [0, 2], ["a", "c"])),
      () => list([q("1"), q("2")], rows("t", [0, 2], ["a", "c"])),
    ],
    ["results of the same parts", () => record([["a", q("1")]]), () => record([["a", q("1")]])],
    ["results without parts", () => record([]), () => record([])],
  ])("%s", (_, a, b) => {
    expect(sameValue(a(), b())).toBe(true);
    expect(sameValue(b(), a())).toBe(true);
  });
});

describe("two values are not the same", () => {
  it.each<[string, Value, Value]>([
    ["of two types", q("5"), text("5")],
    ["of two numbers", q("5"), q("6")],
    ["of two units", q("5", g), q("5", kg)],
    ["one exact, the other approximate", q("5"), about(5)],
    ["0 and -0", about(0), quantity({ v: -0, dp: about(0).n.dp }, plainUnit)],
    ["one with more digits than a double has", q(LONG), q("12345678901234567891")],
    ["one of them with such digits", q(LONG), { ...q(LONG), n: { v: q(LONG).n.v, dp: 0 } }],
    ["one with ±", spreadBy(q("5"), q("1"), "a"), q("5")],
    ["with other ±", spreadBy(q("5"), q("1"), "a"), spreadBy(q("5"), q("2"), "a")],
    ["with ± of another input", spreadBy(q("5"), q("1"), "a"), spreadBy(q("5"), q("1"), "b")],
    [
      "with ± of one input more",
      spreadBy(q("5"), q("1"), "a"),
      spreadBy(spreadBy(q("5"), q("1"), "a"), q("1"), "b"),
    ],
    ["one with a remark", noted({ text: "so" }), q("5")],
    ["with other remarks", noted({ text: "so" }), noted({ text: "and so" })],
    ["with a remark that is a caution", noted({ text: "so" }), noted({ text: "so", caution: true })],
    ["with one remark more", noted({ text: "so" }), noted({ text: "so" }, { text: "and so" })],
    [
      "with another second remark",
      noted({ text: "so" }, { text: "x" }),
      noted({ text: "so" }, { text: "y" }),
    ],
    ["of two texts", text("a"), text("A")],
    ["true and false", truth(true), truth(false)],
    ["of two days", date("2026-02-03", 20487), date("2026-02-04", 20488)],
    ["gaps that say something else", gap("x", "a"), gap("y", "a")],
    ["gaps of other values", gap("x", "a"), gap("x", "b")],
    ["a gap of a value and one of none", gap("x", "a"), gap("x")],
    ["faults of another kind", fault(), fault({ code: "d" })],
    ["faults that say something else", fault(), fault({ says: "t" })],
    ["faults with other advice", fault({ help: "h" }), fault({ help: "i" })],
    ["faults of other values", fault(at("a", 1, 2)), fault(at("b", 1, 2))],
    ["faults that begin elsewhere", fault(at("a", 1, 2)), fault(at("a", 0, 2))],
    ["faults that end elsewhere", fault(at("a", 1, 2)), fault(at("a", 1, 3))],
    ["faults of which one has a place", fault(at("a", 1, 2)), fault()],
    ["lists of another length", list([q("1")]), list([q("1"), q("2")])],
    ["lists of other entries", list([q("1"), q("2")]), list([q("1"), q("3")])],
    ["lists of another unit", { ...list([]), unit: g }, { ...list([]), unit: kg }],
    ["lists of which one has rows", list([q("1")], rows("t", [0], ["a"])), list([q("1")])],
    ["lists of other tables", list([q("1")], rows("t", [0], ["a"])), list([q("1")], rows("u", [0], ["a"]))],
    [
      "lists of rows of other names",
      list([q("1"), q("1")], rows("t", [0, 1], ["a", "b"])),
      list([q("1"), q("1")], rows("t", [0, 1], ["a", "c"])),
    ],
    [
      "lists of other rows of one name",
      list([q("1"), q("1")], rows("t", [0, 1], ["a", "a"])),
      list([q("1"), q("1")], rows("t", [0, 2], ["a", "a"])),
    ],
    [
      "results of more parts",
      record([["a", q("1")]]),
      record([
        ["a", q("1")],
        ["b", q("1")],
      ]),
    ],
    ["results of parts of other names", record([["a", q("1")]]), record([["b", q("1")]])],
    ["results of other parts", record([["a", q("1")]]), record([["a", q("2")]])],
    [
      "results of the same parts in another order",
      record([
        ["a", q("1")],
        ["b", q("1")],
      ]),
      record([
        ["b", q("1")],
        ["a", q("1")],
      ]),
    ],
  ])("%s", (_, a, b) => {
    expect(sameValue(a, b)).toBe(false);
    expect(sameValue(b, a)).toBe(false);
    // Each is the same as itself.
    expect([sameValue(a, a), sameValue(b, b)]).toEqual([true, true]);
  });
});

describe("a whole column", () => {
  const store = (...digits: string[]): ColumnStore => {
    const made = new ColumnStore(digits.length);
    digits.forEach((d, row) => {
      made.set(row, q(d));
    });
    return made.seal();
  };
  const origin = rows("t", [0, 1], ["a", "b"]);
  it("is the same as one of the same cells in the same rows", () => {
    const cells = store("1", "2");
    expect(sameValue(new ColumnList(cells, origin), new ColumnList(cells, origin))).toBe(true);
    expect(sameValue(new ColumnList(cells, origin), new ColumnList(store("1", "2"), origin))).toBe(true);
    expect(sameValue(new ColumnList(cells, origin), new ColumnList(store("1", "3"), origin))).toBe(false);
    expect(
      sameValue(new ColumnList(cells, origin), new ColumnList(cells, rows("t", [0, 1], ["a", "c"]))),
    ).toBe(false);
  });
  it("is not the same as a list of its entries, whose total may round otherwise", () => {
    const column = new ColumnList(store("1", "2"), origin);
    const entries: Value = { ...list(column.entries, origin), unit: plainUnit };
    expect([sameValue(column, entries), sameValue(entries, column)]).toEqual([false, false]);
  });
});

describe("a table that is handed on", () => {
  it("is never the same, for its rows and feet are shown too", () => {
    const table = (foot: string) =>
      `table t\n| i | x |\n| a | 1 |\nfoot x = ${foot}\nset q = t\nset r = q.foot.x`;
    const start = openBook(table("sum(x)"));
    const { calculation } = workingsOf(start);
    const value = calculation.value(setKey("q"));
    const plain = value.type === "record" ? record([...value.parts]) : value;
    expect([sameValue(value, plain), sameValue(plain, value)]).toEqual([false, false]);
    expect(start.edit(table("sum(x) + 1")).ask("r").text).toBe("2");
  });
});
