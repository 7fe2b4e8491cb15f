import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { hover } from "../../../src/engine/editing";
import { completed, field, marked, misfits, proposal } from "./writing";

const book = openBook(`set mass = 3 g
set ten = [1 g, 2 g, 3 g, 4 g, 5 g, 6 g, 7 g, 8 g, 9 g, 10 g]
set torn = [1 g] + [1 g, 2 g]
set later = blank in mL
set soon = marry([later], [40 %vol])
set part_of = soon
table t
| i | a (mL) | b (%vol) | c (g) |
| r | 100    | 40       |       |
| s | 200    | 50       | 1     |
column sum = if before.sum is blank then a else before.sum + a
foot a = sum(a)
foot b = marry(a, b)
foot c = c.r + c.s
set column = t.a
set u = marry(t.a, t.b)
`);

/** Title, what it is, and what it comes to now, of the word under the caret. */
const told = (where: string, written: string) => {
  const { text, caret } = marked(written);
  const found = hover(book, field(where, text), caret);
  return found && [found.title, found.lines[0], found.shown?.text ?? "-"].join(" | ");
};

describe("what a path leads to", () => {
  it.each([
    // Rows and entries of a list, by name and by number.
    ["set q", "column.s¦", "column.s | A volume. | 200 mL"],
    ["set q", "ten.10¦", "ten.10 | A mass. | 10 g"],
    ["set q", "ten.11¦", undefined],
    ["set q", "ten.0x1¦", undefined],
    ["set q", "ten.1e0¦", undefined],
    ["set q", "torn.1¦", undefined],
    // Cells, by column and by row; a part of one.
    ["set q", "t.s.a¦", "t.s.a | A volume. | 200 mL"],
    ["set q", "t.a.s¦", "t.s.a | A volume. | 200 mL"],
    ["set q", "t.sum.s¦", "t.s.sum | A volume. | 300 mL"],
    // Feet and their parts.
    ["set q", "t.foot.a¦", "t.foot.a | A volume. | 300 mL"],
    ["set q", "t.foot.b.str¦ength", "t.foot.b.strength | A strength by volume. | 46.685 %vol"],
    ["set q", "t.fo¦ot", "t.foot | Values under a table. | -"],
    // What is not known yet still is what it will be.
    ["set q", "t.foot.c¦", "t.foot.c | A mass. | "],
    ["set q", "soon.vol¦ume", "soon.volume | A volume. | -"],
    ["set q", "part_of.vol¦ume", "part_of.volume | A volume. | -"],
    // Names that lead on, and what they lead to.
    ["column t.sum 1", "before.a¦", "t.r.a | A volume. | 100 mL"],
    ["column t.sum 0", "before.a¦", "t.a | A volume. | -"],
    ["column t.sum", "before.a¦", "t.a | A volume. | -"],
    ["column t.sum 1", "bef¦ore.a", "before | A row. | -"],
    ["column t.sum 1", "foot.a¦", "t.foot.a | A volume. | 300 mL"],
    ["column t.sum 1", "book.mass¦", "mass | A mass. | 3 g"],
    ["foot t.a", "foot.b¦", "t.foot.b | A result with parts. | a result with parts"],
    ["column t.sum 9", "a¦", "t.a | A volume. | -"],
    ["column t.sum 2", "a¦", "t.a | A volume. | -"],
    ["column t.sum 1", "a¦", "t.s.a | A volume. | 200 mL"],
    // The variable of a search, and a part of it.
    ["set q", "find z from u to u so that z.vol¦ume is 1 L", "volume | A volume. | -"],
    // What leads nowhere.
    ["set q", "mass.a¦", undefined],
    ["set q", "t.nobody¦", undefined],
    ["set q", "t.r.nobody¦", undefined],
    ["set q", "t.foot.nobody¦", undefined],
    ["set q", "t.foot.sum¦", undefined],
    ["set q", "t.foot.a.r¦", undefined],
    ["set q", "t.a.nobody¦", undefined],
    ["set q", "before¦.a", undefined],
    ["set q", "foot.a¦", undefined],
    ["set q", "book.mass¦", undefined],
    ["foot t.a", "before.a¦", undefined],
    ["column t.sum 1", "before.nobody¦", undefined],
    ["column t.sum 1", "foot.nobody¦", undefined],
    ["column t.sum 1", "foot.sum¦", undefined],
    ["column t.sum 1", "book.nobody¦", undefined],
  ])("%s: %s: %s", (where, written, wanted) => expect(told(where, written)).toBe(wanted));

  it.each([
    ["set q", "t.foot.¦", "a b c"],
    ["set q", "t.foot.b.¦", "volume strength mass pure_volume contraction"],
    ["set q", "t.sum.¦", "r s"],
    ["column t.sum", "before.¦", "i a b c sum"],
    ["column t.sum", "foot.¦", "a b c"],
    ["column t.sum", "foot.c¦", "c"],
    ["column t.sum", "before.a¦", "a"],
    ["column t.sum", "book.t¦", "t ten torn"],
    ["column t.sum", "book.u¦", "u"],
    ["foot t.a", "before.¦", ""],
    ["foot t.a", "foot.¦", "b c a"],
  ])("%s: %s is followed by %s", (where, written, labels) => {
    const offered = completed(where, written, book).proposals.filter((p) => p.thing !== "function");
    expect(offered.map((p) => p.label).join(" ")).toBe(labels);
  });

  it("to a cell of another row closes no circle, to the own column does", () => {
    expect(misfits("column stock.alcohol", "stock.`bay leaf`.¦").has("cost")).toBe(false);
    expect(misfits("column stock.volume", "stock.¦").get("alcohol")).toBe("builds on volume itself");
  });
  it("to a name of the book is hidden by the column, parameter or variable of that name", () => {
    const hiding = openBook(
      "set a = 3 g\ntable t\n| i | a (mL) |\n| r | 1 |\ncolumn z = 1\ndefine f(a) = a\n",
    );
    expect(proposal("set q", "a¦", "a", hiding).is).toBe("a mass");
    expect(proposal("column t.z", "a¦", "a", hiding).is).toBe("a volume");
    expect(proposal("define f", "a¦", "a", hiding)).toMatchObject({ thing: "parameter", is: "" });
  });
});
