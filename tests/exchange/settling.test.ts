import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import {
  type Choice,
  CONFLICT_MARK,
  mergeTexts,
  mergeWithoutBase,
  settleConflicts,
} from "../../src/exchange/merge";
import { examples } from "./examples";

const BASE = `book "Two stocks"
set bottling = 42 %vol     # the label
set bottle   = 500 mL

table stock "Stock"
| item    | volume (mL) | strength  |
| juniper | 2400        | 61.2 %vol |
| lemon   |  350        | 49.5 %vol |
column spirit = pure_volume(
  volume,
  strength)

step "Marry them."
`;
const change = (text: string, ...pairs: readonly (readonly [string, string])[]): string =>
  pairs.reduce((now, [from, to]) => {
    expect(now).toContain(from);
    return now.replace(from, to);
  }, text);

const mine = change(
  BASE,
  ["42 %vol", "43 %vol"],
  ["500 mL", "700 mL"],
  ["2400 ", "2500 "],
  ["strength)", "strength) # mine"],
);
const theirs = change(
  BASE,
  ["42 %vol", "41 %vol"],
  ["Marry them.", "Marry them slowly."],
  ["2400 ", "2600 "],
  ["strength)", "strength) # theirs"],
);

describe("settling the conflicts of a merge", () => {
  it("leaves the chosen version of each, what only one changed, and no comment", () => {
    const merged = mergeTexts(BASE, mine, theirs);
    expect(merged.conflicts.map((c) => c.name)).toEqual(["`bottling`", "`stock.juniper`", "`stock.spirit`"]);
    expect(settleConflicts(merged, ["mine", "theirs", "mine"])).toBe(
      change(
        BASE,
        ["42 %vol", "43 %vol"],
        ["500 mL", "700 mL"],
        ["2400 ", "2600 "],
        ["strength)", "strength) # mine"],
        ["Marry them.", "Marry them slowly."],
      ),
    );
    expect(settleConflicts(merged, ["theirs", "mine", "theirs"])).toBe(
      change(
        BASE,
        ["42 %vol", "41 %vol"],
        ["500 mL", "700 mL"],
        ["2400 ", "2500 "],
        ["strength)", "strength) # theirs"],
        ["Marry them.", "Marry them slowly."],
      ),
    );
  });

  it("leaves both versions where nothing was chosen", () => {
    const merged = mergeTexts(BASE, mine, theirs);
    expect(settleConflicts(merged, ["both", "both", "both"])).toBe(merged.text);
    const one = settleConflicts(merged, ["mine", "both", "mine"]);
    expect(one.split(CONFLICT_MARK).length).toBe(2);
    expect(one).toContain("| juniper | 2500        | 61.2 %vol |\n| juniper | 2600        | 61.2 %vol |\n");
  });

  it("takes a thing out when the version without it is chosen", () => {
    const without = change(BASE, ["set bottle   = 500 mL\n", ""]);
    const other = change(BASE, ["500 mL", "700 mL"]);
    const merged = mergeTexts(BASE, without, other);
    expect(merged.conflicts).toHaveLength(1);
    expect(settleConflicts(merged, ["mine"])).toBe(without);
    expect(settleConflicts(merged, ["theirs"])).toBe(other);
  });

  it("keeps foreign line ends, and a last line without one", () => {
    const windows = (text: string) => text.replaceAll("\n", "\r\n").trimEnd();
    const merged = mergeTexts(windows(BASE), windows(mine), windows(theirs));
    const settled = settleConflicts(merged, ["mine", "mine", "mine"]);
    expect(settled).toBe(windows(change(mine, ["Marry them.", "Marry them slowly."])));
  });

  it("gives one of the two versions back whole when every difference is a conflict and all are chosen alike", () => {
    const numbers = fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(numbers, numbers, (a, b) => {
        const book = (values: readonly number[]) =>
          values.map((v, i) => `set v${i} = ${v} g\n`).join("") + 'step "Stir."\n';
        const length = Math.min(a.length, b.length);
        const [one, two] = [book(a.slice(0, length)), book(b.slice(0, length))];
        const merged = mergeWithoutBase(one, two);
        const all = (choice: Choice) => merged.conflicts.map(() => choice);
        expect(settleConflicts(merged, all("mine"))).toBe(one);
        expect(settleConflicts(merged, all("theirs"))).toBe(two);
      }),
    );
  });
});

describe("merging without a common beginning", () => {
  it("takes what only one has, and makes what both have in different words a conflict", () => {
    const one = change(mine, ["set bottle ", "set tray = 2 L\nset bottle "]);
    const merged = mergeWithoutBase(one, theirs);
    expect(merged.conflicts.map((c) => [c.name, c.base])).toEqual([
      ["`bottling`", undefined],
      ["`bottle`", undefined],
      ["`stock.juniper`", undefined],
      ["`stock.spirit`", undefined],
      ["a step", undefined],
    ]);
    const settled = settleConflicts(merged, ["theirs", "mine", "theirs", "mine", "theirs"]);
    expect(settled).toBe(
      change(one, ["43 %vol", "41 %vol"], ["2500 ", "2600 "], ["Marry them.", "Marry them slowly."]),
    );
    expect(openBook(settled).messages.filter((m) => m.severity === "fault")).toEqual([]);
  });

  it("takes two things of different names for two things", () => {
    const merged = mergeWithoutBase("set a = 1 g\nset b = 2 g\n", "set c = 3 g\nset b = 2 g\n");
    expect(merged).toEqual({ text: "set a = 1 g\nset c = 3 g\nset b = 2 g\n", conflicts: [] });
  });

  it("never takes anything out", () => {
    const shorter = change(
      BASE,
      ["set bottle   = 500 mL\n", ""],
      ["| lemon   |  350        | 49.5 %vol |\n", ""],
    );
    for (const merged of [mergeWithoutBase(BASE, shorter), mergeWithoutBase(shorter, BASE)])
      expect(merged).toEqual({ text: BASE, conflicts: [] });
  });

  it("adds a line to every example, and changes no other byte", () => {
    for (const text of examples.values()) {
      const longer = `${text}# read again\n`;
      expect(mergeWithoutBase(text, longer)).toEqual({ text: longer, conflicts: [] });
      expect(mergeWithoutBase(longer, text)).toEqual({ text: longer, conflicts: [] });
    }
  });
});
