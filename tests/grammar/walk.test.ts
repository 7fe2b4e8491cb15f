import { describe, expect, it } from "vitest";
import {
  childrenOf,
  type Formula,
  formulasIn,
  formulasOf,
  parseBook,
  parseFormula,
  sourceOf,
} from "../../grammar";

const wordsOf = (text: string, formulas: Iterable<Formula>): readonly string[] =>
  [...formulas].map(({ span }) => text.slice(span.from, span.to));

describe("the formulas directly inside one", () => {
  it.each([
    ["a", []],
    ["2 L", []],
    ["2026-02-03", []],
    ["true", []],
    ["blank", []],
    ['"x {a} y {b + c}"', ["a", "b + c"]],
    ["[a, b, c]", ["a", "b", "c"]],
    ["f(a, to: b)", ["a", "b"]],
    ["a.b.c", ["a.b"]],
    ["-a", ["a"]],
    ["not a", ["a"]],
    ["a in mL", ["a"]],
    ["a ± b", ["a", "b"]],
    ["a + b", ["a", "b"]],
    ["a^b", ["a", "b"]],
    ["a is b", ["a", "b"]],
    ["a or b", ["a", "b"]],
    ["a within b to c", ["a", "b", "c"]],
    ["a to b", ["a", "b"]],
    ["a to b step c", ["a", "b", "c"]],
    ["if a then b else c", ["a", "b", "c"]],
    ["find x from a to b so that c", ["a", "b", "c"]],
    ["a where b", ["a", "b"]],
  ] as const)("%s", (source, inside) => {
    const { formula, messages } = parseFormula(source);
    expect(messages).toEqual([]);
    expect(wordsOf(source, childrenOf(formula))).toEqual(inside);
  });
});

describe("all formulas in one", () => {
  it("come each before what is inside it, in the order of the text", () => {
    const source = "f(a + b, [c]) where d.e";
    expect(wordsOf(source, formulasIn(parseFormula(source).formula))).toEqual([
      "f(a + b, [c]) where d.e",
      "f(a + b, [c])",
      "a + b",
      "a",
      "b",
      "[c]",
      "c",
      "d.e",
      "d",
    ]);
  });
});

describe("the formulas of a statement", () => {
  it.each([
    ["set a = b", ["b"]],
    ["set a = 1 try b", ["1", "b"]],
    ["set a = 1 try b to c step d", ["1", "b", "c", "d"]],
    ["define f(x) = x + a", ["x + a"]],
    ["column a = b", ["b"]],
    ["foot a = b", ["b"]],
    ['check a > b : "c"', ["a > b"]],
    ['chart "x" : bars a, b by c', ["a", "b", "c"]],
    ['chart "x" : curve a, b for x from c to d', ["a", "b", "c", "d"]],
    ['chart "x" : curve a for x from c to d mark e', ["a", "c", "d", "e"]],
    ['step "x {a}"', ['"x {a}"']],
    ['step "x" wait a ask b.c in mL expect d ask e', ['"x"', "a", "b.c", "d", "e"]],
    ["seen a.b @00000000", ["a.b"]],
    ['book "x"', []],
    ["language 1", []],
    ["table t", []],
    ["hello", []],
  ] as const)("%s", (source, formulas) => {
    const statement = parseBook(source).statements[0]!;
    expect(wordsOf(sourceOf(source, statement), formulasOf(statement.node))).toEqual(formulas);
  });
  it("that is a row are its quantities and formulas", () => {
    const text =
      "table t\n| i | a | b | c | d |\n|---|---|---|---|---|\n| x | 2 ± 1 L | = y + z | 2026-02-03 |  |";
    const [, heading, ruler, row] = parseBook(text).statements;
    expect(wordsOf(sourceOf(text, row!), formulasOf(row!.node))).toEqual(["2", "1 L", "y + z"]);
    expect(formulasOf(heading!.node)).toEqual([]);
    expect(formulasOf(ruler!.node)).toEqual([]);
  });
});
