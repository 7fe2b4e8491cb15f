import { describe, expect, it } from "vitest";
import { cellPlace, NAMES_ROW } from "../../src/app/state/place";
import type { Edit, Refusal } from "../../src/app/state/slot";
import { slotAt } from "../../src/app/state/slots";
import { openBook, type TableItem } from "../../src/engine";

const table = "table runs\n| run | charge (mL) | got (mL) |\n| a | 1000 | 412 |\n| b | 1000 | |\n";
const bookOf = (formula: string, more = "") => openBook(`${table}column share = ${formula}\n${more}`);

/** What comes of a heading that is typed over that of the one computed column. */
const headed = (typed: string, formula = "got / charge", more = ""): Edit | Refusal =>
  slotAt(bookOf(formula, more), cellPlace("table:runs", NAMES_ROW, 3))!.write(typed);
const text = (edit: Edit | Refusal): string => {
  if ("refused" in edit) throw new Error(edit.refused);
  return edit.text;
};
const line = (edit: Edit | Refusal): string => /^column .*$/m.exec(text(edit))![0];
const refusal = (edit: Edit | Refusal): string => ("refused" in edit ? edit.refused : "");

describe("the heading of a computed column", () => {
  it("takes a unit in brackets for the one that the column is shown in", () => {
    const written = openBook(text(headed("yield (%)", "got / charge", "foot share = mean(share)\n")));
    const { columns, ...runs } = written.items.find((i): i is TableItem => i.type === "table")!;
    expect(columns[3]).toMatchObject({ name: "yield", unit: "%", formula: "got / charge in %" });
    expect(runs.feet.get("yield")?.shown.text).toBe("41.2 %");
    expect(written.ask("runs.a.yield").text).toBe("41.2 %");
    // The name may stay, and a blank may be left away.
    expect(line(headed("share(%)"))).toBe("column share = got / charge in %");
    expect(line(headed("share (mL)", "blank"))).toBe("column share = blank in mL");
  });

  it("lets a new unit stand for the one that is there, and puts brackets where `in` would take a part", () => {
    expect(line(headed("share (L)", "got + charge in mL"))).toBe("column share = got + charge in L");
    expect(line(headed("share (L)", "(got in mL)"))).toBe("column share = (got in L)");
    const chosen = headed("share (L)", "if got > 1 mL then got else charge");
    expect(line(chosen)).toBe("column share = (if got > 1 mL then got else charge) in L");
    expect(openBook(text(chosen)).ask("runs.a.share").text).toBe("0.412 L");
  });

  it("says so where the unit does not suit", () => {
    expect(refusal(headed("yield (mL)"))).toMatch(
      /^yield cannot be shown in mL\. 0\.412 \(a plain number\) cannot be shown in mL, which measures a volume/,
    );
  });

  it("keeps a bracket that holds no unit in the name", () => {
    expect(line(headed("yield (second try)"))).toBe("column `yield (second try)` = got / charge");
    expect(line(headed("got again"))).toBe("column `got again` = got / charge");
  });

  it("takes name and formula in one go, with a unit or without", () => {
    expect(line(headed("left = charge - got"))).toBe("column left = charge - got");
    expect(line(headed("yield (%) = got / charge * 2", "blank"))).toBe(
      "column yield = got / charge * 2 in %",
    );
    expect(text(headed("left = charge - got", "blank", "foot share = sum(share)\n"))).toMatch(
      /^foot left = sum\(left\)$/m,
    );
    expect(refusal(headed("charge = got"))).not.toBe("");
  });
});
