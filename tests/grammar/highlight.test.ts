import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { highlight, highlightCell, highlightFormula, type Ink, LONGEST_STATEMENT } from "../../grammar";
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
  it("of statements tell words, styles, clauses and marks", () => {
    for (const [text, list] of [
      [
        'chart "x" : curve a for b from 1 to c mark d',
        'word:chart  text:"x"  operator::  word:curve  name:a  word:for  name:b  word:from  number:1  word:to  name:c  word:mark  name:d',
      ],
      [
        'step "x" wait 3 min ask a expect b',
        'word:step  text:"x"  word:wait  number:3  unit:min  word:ask  name:a  word:expect  name:b',
      ],
      [
        "define f(x) = x.y",
        "word:define  name:f  operator:(  name:x  operator:)  operator:=  name:x  operator:.  name:y",
      ],
      ["seen a @12345678", "word:seen  name:a  mark:@12345678"],
      ["- 3", "fault:-  number:3"],
      ["sett a = 3 # x", "fault:sett  name:a  operator:=  number:3  comment:# x"],
      [
        'step "{a}{"b {c}"}"',
        'word:step  text:"  operator:{  name:a  operator:}  operator:{  text:"b   operator:{  name:c  operator:}  text:"  operator:}  text:"',
      ],
    ] as const)
      expect(inks(text, highlight(text)), text).toBe(list);
  });
  it("of headings mark the name, and the unit or word in the bracket", () => {
    const text = "table t\n| a | `b (c)` | d\\|e ( mL ) | f (number) | g ( date ) | text (text) | h (2 x) |";
    expect(inks(text, highlight(text)).replace("word:table  name:t  ", "")).toBe(
      "operator:|  name:a  operator:|  name:`b (c)`  operator:|  name:d\\|e  unit:mL  operator:|  name:f  word:number  operator:|  name:g  word:date  operator:|  name:text  word:text  operator:|  name:h (2 x)  operator:|",
    );
  });
  it("of cells tell numbers, dates and formulas from remarks", () => {
    const row = (cells: string): string => {
      const text = `table t\n| i | x | y |\n${cells}`;
      return inks(text, highlight(text)).split("name:y  operator:|  ")[1]!;
    };
    expect(row("| a | 2026-02-03 | -5 °C |")).toBe(
      "operator:|  name:a  operator:|  number:2026-02-03  operator:|  operator:-  number:5  unit:°C  operator:|",
    );
    expect(row("| a | − 5 | + 5 |")).toBe(
      "operator:|  name:a  operator:|  operator:−  number:5  operator:|  operator:+  number:5  operator:|",
    );
    expect(row("| a | .5 | - x |")).toBe(
      "operator:|  name:a  operator:|  fault:.5  operator:|  text:- x  operator:|",
    );
    expect(row('| "a" | "2" | 2 eggs |')).toBe(
      'operator:|  name:"a"  operator:|  text:"2"  operator:|  number:2  unit:eggs  operator:|',
    );
    expect(row("| a |  | b \\|")).toBe("operator:|  name:a  operator:|  operator:|  text:b \\|");
    expect(row("|")).toBe("operator:|");
    expect(row("| a | 1 # 2 |")).toBe(
      "operator:|  name:a  operator:|  number:1  fault:#  number:2  operator:|",
    );
  });
  it("of a cell by itself count from where it stands, blanks included", () => {
    expect(highlightCell("  = 12 ")).toEqual([
      { from: 2, to: 3, ink: "operator" },
      { from: 4, to: 6, ink: "number" },
    ]);
    expect(highlightCell(" bay ", true)).toEqual([{ from: 1, to: 4, ink: "name" }]);
    expect(highlightCell("  ")).toEqual([]);
  });
  it("of a statement or row that is too long are one fault", () => {
    const set = (length: number): string => "set a = b".padEnd(length, "b");
    expect(highlight(set(LONGEST_STATEMENT)).map(({ ink }) => ink)).not.toContain("fault");
    expect(highlight(set(LONGEST_STATEMENT + 1))).toEqual([
      { from: 0, to: LONGEST_STATEMENT + 1, ink: "fault" },
    ]);
    const row = (length: number): string => `table t\n| i |\n${"| x".padEnd(length - 2)} |`;
    expect(highlight(row(LONGEST_STATEMENT)).at(-2)).toMatchObject({ ink: "name" });
    expect(highlight(row(LONGEST_STATEMENT + 1)).at(-1)).toMatchObject({
      ink: "fault",
      from: 14,
      to: 15 + LONGEST_STATEMENT,
    });
  });
  it("of comments go to the end of their line, in and around statements, behind a byte order mark too", () => {
    const text = "\uFEFF# a\r\nset b = ( # c\r\n# d\r\n1) # e\r\n\r\n  # f";
    expect(inks(text, highlight(text))).toBe(
      "comment:# a  word:set  name:b  operator:=  operator:(  comment:# c  comment:# d  number:1  operator:)  comment:# e  comment:# f",
    );
  });
  it("of a table begin anew with each table, and go on behind other statements", () => {
    const text = "table t\n| i | x (text) |\n| a | 1 |\nset b = 1\n| c | 2 |\ntable u\n| i | x |\n| d | 3 |";
    expect(inks(text, highlight(text)).match(/\w+:[123]\b/g)).toEqual([
      "text:1",
      "number:1",
      "text:2",
      "number:3",
    ]);
  });
  it("of a stretch know the heading above it, which is not shown", () => {
    const text = "table t\n| i | x (text) |\n| a | 1 |\n| b | 2 |";
    const from = text.indexOf("| b");
    expect(inks(text, highlight(text, from))).toBe("operator:|  name:b  operator:|  text:2  operator:|");
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
