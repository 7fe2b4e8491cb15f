import { describe, expect, it } from "vitest";
import { regionAt } from "../../../src/engine/editing/region";
import { marked } from "./writing";

const region = (written: string, options: Parameters<typeof regionAt>[3]) => {
  const { text, caret } = marked(written);
  return Object.entries(regionAt(text, 0, caret, options))
    .map(([key, value]) => `${key} ${value}`)
    .join(", ");
};

describe("the stretch in which a caret stands", () => {
  it.each([
    ["a¦", "in formula, from 0, depth 0"],
    ["¦a", "in formula, from 0, depth 0"],
    ['"¦', "in text, quote 0, from 0, depth 0"],
    ['"a¦"', "in text, quote 0, from 0, depth 0"],
    ['"a"¦', "in formula, from 0, depth 0"],
    ['a + "b¦', "in text, quote 4, from 0, depth 0"],
    ['"{¦', "in formula, from 2, depth 1"],
    ['"{a}¦', "in text, quote 0, from 0, depth 0"],
    ['"{a¦}"', "in formula, from 2, depth 1"],
    ['"{"¦', "in text, quote 2, from 2, depth 1"],
    ['"{"b"¦', "in formula, from 2, depth 1"],
    ['"{"b{¦', "in formula, from 5, depth 2"],
    ['"\\{¦', "in text, quote 0, from 0, depth 0"],
    ['"\\"¦', "in text, quote 0, from 0, depth 0"],
    ['"\\\\"¦', "in formula, from 0, depth 0"],
    ["`a¦", "in name, tick 0, from 0, depth 0"],
    ["`a`¦", "in formula, from 0, depth 0"],
    ["`a¦ b`", "in name, tick 0, from 0, depth 0"],
    ["`a\n¦", "in formula, from 0, depth 0"],
    ["`a\nb`¦", "in name, tick 4, from 0, depth 0"],
    ["a # b¦", "in comment"],
    ["a # b\n¦", "in formula, from 0, depth 0"],
    ["a\n# b\nc¦", "in formula, from 0, depth 0"],
    ['"a # b¦', "in text, quote 0, from 0, depth 0"],
    ['"{a # b¦', "in formula, from 2, depth 1"],
    ["`#` ¦", "in formula, from 0, depth 0"],
    ['"a\n¦', "in formula, from 0, depth 0"],
    ['"{a\n¦', "in formula, from 0, depth 0"],
    ["}¦", "in formula, from 0, depth 0"],
    ['"{`}`¦', "in formula, from 2, depth 1"],
    ['# a\n"b¦', "in text, quote 4, from 0, depth 0"],
    ["# a\n`b¦", "in name, tick 4, from 0, depth 0"],
  ])("in a formula, %j: %s", (written, wanted) => expect(region(written, { comments: true })).toBe(wanted));
  it.each([
    ["a¦", "in text, quote 0, from 0, depth 0"],
    ['a "¦', "in text, quote 0, from 0, depth 0"],
    ["{¦", "in formula, from 1, depth 1"],
    ["{a}¦", "in text, quote 0, from 0, depth 0"],
    ['{"¦', "in text, quote 1, from 1, depth 1"],
    ['{"b"¦', "in formula, from 1, depth 1"],
    ["\\{¦", "in text, quote 0, from 0, depth 0"],
    ["a\n{¦", "in formula, from 3, depth 1"],
    ["{a\n¦", "in text, quote 0, from 0, depth 0"],
    ["# a¦", "in text, quote 0, from 0, depth 0"],
    ["{`a¦", "in name, tick 1, from 1, depth 1"],
  ])("in a sentence, %j: %s", (written, wanted) =>
    expect(region(written, { comments: false, inText: true })).toBe(wanted),
  );
  it.each([
    ["# a¦", "in formula, from 0, depth 0"],
    ['a # "b¦', "in text, quote 4, from 0, depth 0"],
  ])("without comments, %j: %s", (written, wanted) =>
    expect(region(written, { comments: false })).toBe(wanted),
  );
});
