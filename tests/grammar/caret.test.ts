import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CaretContext, contextAt, contextInBook, type Writing } from "../../grammar";
import { anything, book } from "./arbitraries";

/** The context of the place marked `|`. */
function at(marked: string, writing: Writing = "formula"): CaretContext {
  const caret = marked.indexOf("^");
  return contextAt(marked.replace("^", ""), caret, writing);
}
const expects = (marked: string, writing?: Writing): string => {
  const { expects: list, prefix } = at(marked, writing);
  return `${list.join(" ")}${prefix === "" ? "" : ` <${prefix}>`}`;
};

describe("what may stand at the caret", () => {
  it("is a value at the start, behind an operator, a bracket or a word", () => {
    for (const marked of ["^", "vol^", "a + ^", "a + vo^", "(^", "[a, ^", "not ^", "if ^", "a to ^", "a ± ^"])
      expect(expects(marked)).toMatch(/^value/);
  });
  it("is a value or a label in a call", () => {
    expect(expects("f(^")).toBe("value label");
    expect(expects("f(a, t^")).toBe("value label <t>");
    expect(expects("f(to: ^")).toBe("value");
  });
  it("is an operator behind a whole value", () => {
    for (const marked of ["a ^", "a a^", "f(a)^", '"x" ^', "a.b ^", "true ^"])
      expect(expects(marked)).toMatch(/^operator/);
  });
  it("is a unit behind `in`, and a unit or an operator behind a number", () => {
    expect(expects("a in ^")).toBe("unit");
    expect(expects("a in m^")).toBe("unit <m>");
    expect(expects("2 ^")).toBe("unit operator");
    expect(expects("2 GBP/^L")).toBe("unit value");
    expect(at("2 GBP/L^")).toMatchObject({ prefix: "L", word: { from: 6, to: 7 } });
  });
  it("is a part behind a dot, with the way to it", () => {
    expect(at("stills.`bay leaf`.st^")).toMatchObject({
      expects: ["part"],
      path: ["stills", "bay leaf"],
      prefix: "st",
      word: { from: 18, to: 20 },
    });
    expect(at("f(x).^")).toMatchObject({ expects: ["part"], path: [] });
  });
  it("is nothing in a text or a comment, and a formula in its braces", () => {
    expect(expects('"add ^')).toBe("text");
    expect(expects("a # b^")).toBe("comment");
    expect(expects('"add {wa^ter} now"')).toBe("value <wa>");
    expect(at('"add {wa^ter} now"').word).toEqual({ from: 6, to: 11 });
    expect(expects('"{"{f(^')).toBe("value label");
  });
  it("is a name in open backticks", () => {
    expect(at("a + `lemon p^")).toMatchObject({
      expects: ["value"],
      prefix: "lemon p",
      inBackticks: true,
      word: { from: 4, to: 12 },
    });
    expect(at("t.`lemon ^peel`")).toMatchObject({
      expects: ["part"],
      path: ["t"],
      word: { from: 2, to: 14 },
    });
  });
});

describe("the call around the caret", () => {
  it("has a name, a place, and the labels that are used", () => {
    expect(at("f(a, ^").call).toEqual({ name: "f", index: 1, labels: [], places: 1 });
    expect(at("f(a, to: 2^, with: 3)").call).toEqual({
      name: "f",
      index: 1,
      label: "to",
      labels: ["with"],
      places: 1,
    });
    expect(at("g(f(a), [b, ^").call).toEqual({ name: "g", index: 1, labels: [], places: 1 });
    expect(at("g(f(a, (b + ^").call).toMatchObject({ name: "f", index: 1 });
    expect(at("`my f`(^").call).toMatchObject({ name: "my f", index: 0 });
  });
  it("is none outside", () => {
    for (const marked of ["^f(a)", "f(a)^", "(a, ^", "[^"]) expect(at(marked).call).toBeUndefined();
  });
});

describe("a caret in a statement or cell", () => {
  it("stands in the first word, in a formula, or in plain writing", () => {
    expect(at("se^", "statement")).toMatchObject({
      expects: ["statement"],
      prefix: "se",
      word: { from: 0, to: 2 },
    });
    expect(expects("set a = vo^", "statement")).toBe("value <vo>");
    expect(expects("hello ^", "statement")).toBe("");
    expect(expects("= vo^", "cell")).toBe("value <vo>");
    expect(expects("2 m^", "cell")).toBe("unit operator <m>");
    expect(expects("a rem^", "cell")).toBe("text");
  });
  it("is found in the text of a book", () => {
    const text = '# top\nset a = vol + 1\n\ntable t\n| i | x |\n| r | = a + b |\nstep "{a}" \n';
    const context = (find: string, shift = 0): CaretContext =>
      contextInBook(text, text.indexOf(find) + shift);
    expect(context("vol", 3)).toMatchObject({
      expects: ["value"],
      prefix: "vol",
      word: { from: 14, to: 17 },
    });
    expect(context("top", 1).expects).toEqual(["comment"]);
    expect(context("\ntable").expects).toEqual(["statement"]);
    expect(context("a + b", 5)).toMatchObject({ expects: ["value"], prefix: "b" });
    expect(context("r |", 1).expects).toEqual(["text"]);
    expect(contextInBook("", 0).expects).toEqual(["statement"]);
  });
});

describe("any caret in any text", () => {
  it("has a context, and a word around it", () => {
    fc.assert(
      fc.property(
        fc.oneof(anything, book),
        fc.nat(),
        fc.constantFrom<Writing>("formula", "statement", "cell"),
        (text, pick, writing) => {
          const caret = pick % (text.length + 1);
          for (const { word, prefix } of [contextAt(text, caret, writing), contextInBook(text, caret)]) {
            expect(word.from).toBeLessThanOrEqual(caret);
            expect(word.to).toBeGreaterThanOrEqual(caret);
            expect(word.from).toBeGreaterThanOrEqual(0);
            expect(word.to).toBeLessThanOrEqual(text.length);
            expect(text.slice(word.from, caret).replace(/^`/, "")).toBe(prefix);
          }
        },
      ),
      { numRuns: 800, seed: 6 },
    );
  });
});
