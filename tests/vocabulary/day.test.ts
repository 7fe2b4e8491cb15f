import { describe, expect, it } from "vitest";
import type { Quantity } from "../../src/quantity";
import { sigma } from "../../src/quantity";
import type { ListValue, Value } from "../../src/vocabulary/value";
import { blank, call, column, l, notes, part, q, show, t } from "./calling";

const three = {
  names: l(t("juniper"), t("lemon"), t("bay")),
  run_times: l("95 min", "80 min", "2 h"),
  clean_times: l("30 min", "30 min", "20 min"),
};
const rows = (plan: Value) => (plan as ListValue).entries;
const column1 = (plan: Value, name: string) => rows(plan).map((r) => show(part(r, name)));

describe("day_plan", () => {
  it("does one run after the other, after the chiller is cold", () => {
    const plan = call("day_plan", three);
    expect(column1(plan, "starts_at")).toEqual(["08:45", "10:50", "12:40"]);
    expect(column1(plan, "ends_at")).toEqual(["10:20", "12:10", "14:40"]);
    expect(column1(plan, "free")).toEqual(["10.833 h", "12.667 h", "15 h"]);
    expect(part(rows(plan)[0]!, "over")).toBeUndefined();
  });
  it("takes its times of day as text too, and one cleaning time for all", () => {
    const typed = call("day_plan", {
      ...three,
      clean_times: q("30 min"),
      starts: t("08:30"),
      chill_down: q("0 min"),
    });
    const counted = call("day_plan", {
      ...three,
      clean_times: l("30 min", "30 min", "30 min"),
      starts: q("8.5 h"),
      chill_down: q("0 min"),
    });
    expect(show(typed)).toBe(show(counted));
    expect(column1(typed, "starts_at")[0]).toBe("08:30");
  });
  it("says what does not fit, counting the cleaning", () => {
    const plan = call("day_plan", { ...three, ends: t("14:30") });
    expect(column1(plan, "over")).toEqual(["0 min", "0 min", "30 min"]);
    expect(notes(rows(plan)[2]!).join()).toBe("bay does not fit: the still is clean at 15:00, after 14:30");
    expect(notes(rows(plan)[1]!)).toEqual([]);
    expect(column1(call("day_plan", { ...three, ends: t("15:00") }), "over")).toEqual([
      "0 min",
      "0 min",
      "0 min",
    ]);
  });
  it("goes past midnight", () => {
    const plan = call("day_plan", { ...three, starts: t("21:30"), ends: q("26 h") });
    expect(column1(plan, "ends_at")).toEqual(["23:50", "01:40 next day", "04:10 next day"]);
    expect(() => call("day_plan", { ...three, starts: t("21:30"), ends: t("06:00") })).toThrow(
      /not after its start.*/,
    );
  });
  it("keeps the rows of its table, skips a run that is still to come, and never one filled in half", () => {
    const names = ["juniper", "lemon", "bay"];
    const plan = call("day_plan", {
      names: column("runs", names, t("juniper"), blank, t("bay")),
      run_times: column("runs", names, "95 min", blank, "2 h"),
      clean_times: q("30 min"),
    });
    expect((plan as ListValue).origin).toEqual({ table: "runs", rows: [0, 2], names: ["juniper", "bay"] });
    expect(show(call("day_plan", { ...three, run_times: l("95 min", blank, "2 h") }))).toBe(
      "gap: lemon has no run time yet",
    );
    expect(show(call("day_plan", { ...three, clean_times: l("95 min", "1 min", blank) }))).toBe(
      "gap: bay has no cleaning time yet",
    );
  });
  it("carries the ± of the run times", () => {
    const plan = call("day_plan", { ...three, run_times: l("95 ± 3 min", "80 ± 4 min", "2 h") });
    const last = part(rows(plan)[2]!, "end") as Quantity;
    expect(60 * sigma(last.spread)).toBeCloseTo(5, 12);
  });
  it("refuses what makes no day", () => {
    expect(() => call("day_plan", { ...three, starts: t("8.30") })).toThrow(/“8.30” is no time of day/);
    expect(() => call("day_plan", { ...three, starts: t("24:30") })).toThrow(/no time of day/);
    expect(() => call("day_plan", { ...three, run_times: l("95 min") })).toThrow(/3 names, 1 run times/);
    expect(() => call("day_plan", { ...three, run_times: l("95 min", "-1 min", "2 h") })).toThrow(
      /negative time/,
    );
    expect(() => call("day_plan", { ...three, run_times: l("95 g", "1 min", "2 h") })).toThrow(
      /a time for `run_times`/,
    );
  });
});

describe("rinses", () => {
  const count = (clings: string, rinse: string, to: string) =>
    show(call("rinses", { clings: q(clings), rinse: q(rinse), to: q(to) }));
  it("counts the rinses", () => {
    expect(count("15 mL", "100 mL", "0.1 %")).toBe("4");
    // Each rinse leaves exactly a tenth: three are a thousandth, not four.
    expect(count("10 mL", "90 mL", "0.1 %")).toBe("3");
    expect(count("10 mL", "0.09 L", "0.001")).toBe("3");
    expect(count("10 g", "90 g", "0.099 %")).toBe("4");
  });
  it("warns, and says when the ± asks for more", () => {
    const found = call("rinses", { clings: q("10 ± 1 mL"), rinse: q("90 mL"), to: q("0.1 %") });
    expect(show(found)).toBe("3");
    expect(notes(found)).toContain("with the ± given it may take 4");
    expect(found.notes?.some((n) => n.caution === true && /allergy/.test(n.text))).toBe(true);
  });
  it("refuses what is no dilution", () => {
    expect(() => count("10 mL", "90 g", "0.1 %")).toThrow(/Give both|compares/);
    expect(() => count("0 mL", "90 mL", "0.1 %")).toThrow(/above zero/);
    expect(() => count("10 mL", "90 mL", "100 %")).toThrow(/between 0 and 100 %/);
    expect(() => count("10 °C", "90 mL", "1 %")).toThrow(/volumes or masses/);
  });
});

describe("spirit_book", () => {
  const amounts = {
    opening: q("12.4 L"),
    received: q("20 L"),
    made: q("0 L"),
    used: q("18.9 L"),
    closing: q("13.2 L"),
  };
  it("balances exactly", () => {
    const found = call("spirit_book", amounts);
    expect(show(found)).toBe("expected=13.5 L; missing=0.3 L; share=0.92593 %");
    expect(found.notes?.some((n) => n.caution === true && /licence/.test(n.text))).toBe(true);
  });
  it("wonders about a surplus", () => {
    expect(notes(call("spirit_book", { ...amounts, closing: q("14 L") })).join()).toMatch(/more is there/);
    expect(notes(call("spirit_book", { ...amounts, used: q("80 L") })).join()).toMatch(
      /more is booked as used than there ever was/,
    );
    expect(notes(call("spirit_book", { ...amounts, closing: q("13.5 L") })).join()).not.toMatch(
      /more is there/,
    );
  });
  it("has no share of nothing", () => {
    const empty = call("spirit_book", {
      opening: q("0 L"),
      received: q("0 L"),
      made: q("0 L"),
      used: q("0 L"),
      closing: q("0 L"),
    });
    expect(show(empty)).toBe("expected=0 L; missing=0 L");
  });
  it("refuses a spirit's strength in place of an amount", () => {
    expect(() => call("spirit_book", { ...amounts, made: q("40 %vol") })).toThrow(
      /amount of alcohol for `made`/,
    );
  });
});
