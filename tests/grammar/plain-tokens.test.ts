import { describe, expect, it } from "vitest";
import { type Token, tokensOf } from "../../grammar";

const line = (tokens: readonly Token[]): string =>
  tokens.map(({ type, text, name }) => `${type} ${text}${name === undefined ? "" : ` (${name})`}`).join("  ");
const of = (text: string, mode: "statement" | "formula" | "inner" = "formula"): string =>
  line(tokensOf(text, 0, text.length, mode));

describe("plain tokens", () => {
  it.each([
    ["a + `b c`.`d e`", "name a (a)  operator +  name `b c` (b c)  operator .  part `d e` (d e)"],
    ["f(to: 2.4 L)", "name f (f)  operator (  label to (to)  operator :  number 2.4  unit L  operator )"],
    ["cafe\u0301", "name cafe\u0301 (caf\u00e9)"],
    ["2026-02-03 in d", "date 2026-02-03  word in  unit d"],
    ['not "a {b}"', 'word not  text "a {b}"'],
    [
      "a × b · c ÷ d − e",
      "name a (a)  operator *  name b (b)  operator *  name c (c)  operator /  name d (d)  operator -  name e (e)",
    ],
    ["a +- b ± c", "name a (a)  operator ±  name b (b)  operator ±  name c (c)"],
    ["a ≠ b ≤ c", "name a (a)  operator ≠  name b (b)  operator ≤  name c (c)"],
    ["a == 12,5 €", "name a (a)  odd ==  odd 12,5  odd €"],
    ["2 .5", "number 2  odd .5"],
    ["a # b", "name a (a)"],
    ["true false blank", "word true  word false  word blank"],
  ])("of the formula %s", (text, tokens) => expect(of(text)).toBe(tokens));

  it.each([
    [
      "set a = b try c to d",
      "head set  name a (a)  operator =  name b (b)  clause try  name c (c)  word to  name d (d)",
    ],
    [
      'chart "x" : bars a by b',
      'head chart  text "x"  operator :  style bars  name a (a)  clause by  name b (b)',
    ],
    ["seen a @2ffcfed6", "head seen  name a (a)  odd @2ffcfed6"],
    [
      'step "x" wait a ask b expect c',
      'head step  text "x"  clause wait  name a (a)  clause ask  name b (b)  clause expect  name c (c)',
    ],
  ])("of the statement %s", (text, tokens) => expect(of(text, "statement")).toBe(tokens));

  it("of a cell or between braces take `#` for what cannot be read", () => {
    expect(of("a # b", "inner")).toBe("name a (a)  odd #  name b (b)");
  });
  it("tell where they stand in the whole text, and look no further than they are asked to", () => {
    const text = "set a = `b c` + 12";
    expect(tokensOf(text, 8, 17, "formula")).toEqual([
      { type: "name", from: 8, to: 13, text: "`b c`", name: "b c" },
      { type: "operator", from: 14, to: 15, text: "+" },
      { type: "number", from: 16, to: 17, text: "1" },
    ]);
    expect(tokensOf(text, 18, 18, "formula")).toEqual([]);
  });
});
