import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { highlight, highlightCell, highlightFormula, type Ink } from "../../grammar";
import { anything, book } from "./arbitraries";

const inks = (text: string, list: readonly Ink[]): string =>
  list.map(({ from, to, ink }) => `${ink}:${text.slice(from, to)}`).join("  ");

describe("inks", () => {
  it("of a formula follow its tokens", () => {
    const formula = 'if f(a, to: 2.4 L) > `x y`.part then "add {b in mL} now" else 2026-02-03 # remark';
    expect(inks(formula, highlightFormula(formula))).toBe(
      'word:if  name:f  operator:(  name:a  operator:,  name:to  operator::  number:2.4  unit:L  operator:)  operator:>  name:`x y`  operator:.  name:part  word:then  text:"add   operator:{  name:b  word:in  unit:mL  operator:}  text: now"  word:else  number:2026-02-03  comment:# remark',
    );
  });
  it("show what cannot be read", () => {
    const formula = 'a == 12,5 € "open';
    expect(inks(formula, highlightFormula(formula))).toBe(
      'name:a  fault:==  fault:12,5  fault:€  fault:"open',
    );
  });
  it("of a book tell statements, tables, cells and comments apart", () => {
    const text = [
      "# top",
      "set a = 3 # x",
      "table t",
      "| item | v (mL) | n (text) |",
      "|------|",
      "| 2a | 3 mL | 4 | # y",
      '| x | = a*2 | "q" |',
      "  # between",
      "seen a @00000000",
      "hello 3",
    ].join("\n");
    expect(inks(text, highlight(text))).toBe(
      [
        "comment:# top",
        "word:set  name:a  operator:=  number:3  comment:# x",
        "word:table  name:t",
        "operator:|  name:item  operator:|  name:v  unit:mL  operator:|  name:n  word:text  operator:|",
        "operator:|------|",
        "operator:|  name:2a  operator:|  number:3  unit:mL  operator:|  text:4  operator:|  comment:# y",
        'operator:|  name:x  operator:|  operator:=  name:a  operator:*  number:2  operator:|  text:"q"  operator:|',
        "comment:# between",
        "word:seen  name:a  mark:@00000000",
        "fault:hello  number:3",
      ].join("  "),
    );
  });
  it("of a row without a table begin with its name, whatever it looks like", () => {
    expect(inks("| 3 | 2 |", highlight("| 3 | 2 |"))).toBe(
      "operator:|  name:3  operator:|  number:2  operator:|",
    );
  });
  it("of a row go on behind the last column that the heading names", () => {
    const rows = "table t\n| i | x |\n| r | 2 | 3 |";
    expect(inks(rows, highlight(rows))).toMatch(/number:2 {2}operator:\| {2}number:3 {2}operator:\|$/);
  });
  it("of a cell are those of what it holds", () => {
    const cell = (raw: string, first = false): string => inks(raw, highlightCell(raw, first));
    expect(cell(" 61.2 ± 0.3 %vol ")).toBe("number:61.2  operator:±  number:0.3  unit:%vol");
    expect(cell("= a")).toBe("operator:=  name:a");
    expect(cell("a remark")).toBe("text:a remark");
    expect(cell("2a", true)).toBe("name:2a");
  });
  it("of a stretch are those of the whole that touch it", () => {
    const text = "set a = 1\n# c\ntable t\n| i | x |\n| r | 2 mL |\n# d\nset b = 3\n";
    const whole = highlight(text);
    for (let from = 0; from <= text.length; from++)
      for (let to = from; to <= text.length; to += 3)
        expect(highlight(text, from, to)).toEqual(whole.filter((ink) => ink.to >= from && ink.from <= to));
  });
  it("never overlap, stay in order and inside the text, whatever the text", () => {
    fc.assert(
      fc.property(fc.oneof(anything, book), (text) => {
        for (const list of [highlight(text), highlightFormula(text)]) {
          const ends = list.map(({ to }) => to);
          const apart = list.every(({ from, to }, i) => from >= (ends[i - 1] ?? 0) && to > from);
          expect(apart && (ends.at(-1) ?? 0) <= text.length).toBe(true);
        }
      }),
      { numRuns: 600, seed: 5 },
    );
  });
});
