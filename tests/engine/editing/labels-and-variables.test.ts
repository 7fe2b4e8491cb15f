import { describe, expect, it } from "vitest";
import { applyPatches } from "../../../grammar";
import { openBook } from "../../../src/engine";
import { definitionAt, renameAt } from "../../../src/engine/editing";
import { marked } from "./writing";

describe("a parameter that is renamed", () => {
  const calls = (call: string) => {
    const { text, caret } = marked(`define f(x¦, n) = x * n\nset q = ${call}\n`);
    const edited = renameAt(openBook(text), caret, "much");
    return edited.patches ? applyPatches(text, edited.patches).split("\n")[1]!.slice(8) : edited.refused.says;
  };
  it.each([
    // Its labels are those directly inside the brackets of its own calls.
    ["f(x: 1, n: 2)", "f(much: 1, n: 2)"],
    ["f(n: 2, x: 1)", "f(n: 2, much: 1)"],
    ["f( x : 1, n: 2)", "f( much : 1, n: 2)"],
    ["f(`x`: 1, n: 2)", "f(much: 1, n: 2)"],
    ["f(n: (2), x: 1)", "f(n: (2), much: 1)"],
    ["f(n: sum([2, 3]), x: 1)", "f(n: sum([2, 3]), much: 1)"],
    ["f(f(1, 2), n: 3) + f(4, n: 5)", "f(f(1, 2), n: 3) + f(4, n: 5)"],
    ["f(f(x: 1, n: 2), n: f(3, n: 4))", "f(f(much: 1, n: 2), n: f(3, n: 4))"],
    ['f(n: count(["a)", ",x:"]), x: 1)', 'f(n: count(["a)", ",x:"]), much: 1)'],
    ['f(n: count(["\\", x: "]), x: 1)', 'f(n: count(["\\", x: "]), much: 1)'],
    ["f(n: `a(b`, x: 1)", "f(n: `a(b`, much: 1)"],
    ["f(n: 2 * `a)b`, x: 1)", "f(n: 2 * `a)b`, much: 1)"],
    ["f(1, n: 2) + g(x: 3)", "f(1, n: 2) + g(x: 3)"],
    ["g(f(1, n: 2), x: 3)", "g(f(1, n: 2), x: 3)"],
    ["g([f(1, n: 2)], x: 3)", "g([f(1, n: 2)], x: 3)"],
  ])("%s: %s", (call, renamed) => expect(calls(call)).toBe(renamed));
});

describe("the place where a variable is made", () => {
  const made = (written: string) => {
    const { text, caret } = marked(written);
    const found = definitionAt(openBook(text), caret);
    return found && `${found.from} ${text.slice(found.from, found.to)}`;
  };
  it.each([
    ["define f(x, xy) = x¦ + xy", "9 x"],
    ["define f(x, xy) = x + xy¦", "12 xy"],
    ["set q = find x from 1 to 2 so that x¦ is 1", "13 x"],
    // Of two searches the one whose name it is, whole.
    ["set q = find x from 1 to 2 so that (find xy from 1 to 2 so that xy is 1) is x¦", "13 x"],
    ["set q = find x from 1 to 2 so that (find xy from 1 to 2 so that xy¦ is 1) is x", "41 xy"],
    ["set q = (find x from 1 to 2 so that x is 1) + (find x from 3 to 4 so that x¦ is 3)", "52 x"],
    ["set q = find `a b` from 1 to 2 so that `a b`¦ is 1", "13 `a b`"],
    ['chart "c" : curve x¦ for x from 1 to 2', "24 x"],
    // Where it is made it is made there, as a value is.
    ["define f(x¦, xy) = x + xy", "9 x"],
    ["define f(x, xy¦) = x + xy", "12 xy"],
    ["define f(x) = find v¦ from 1 to 2 so that v is x", "19 v"],
    ["set q = find x¦ from 1 to 2 so that x is 1", "13 x"],
    ["set q = (find x from 1 to 2 so that x is 1) + (find x¦ from 3 to 4 so that x is 3)", "52 x"],
    ['chart "c" : curve x for x¦ from 1 to 2', "24 x"],
    ['check (find x¦ from 1 to 2 so that x is 1) > 0 : "c"', "12 x"],
    ["table t\n| i | a |\n| r | = find x¦ from 1 to 2 so that x is 1 |", "31 x"],
    ["table t\n| i | a |\n| r | 2 |\ncolumn c = find x¦ from 1 to 2 so that x is 1", "44 x"],
    ["table t\n| i | a |\n| r | 2 |\nfoot a = find x¦ from 1 to 2 so that x is 1", "42 x"],
    // A search that moves a value of the book leads to that value.
    ["set x = 1\nset q = find x¦ from 1 to 2 so that x * 2 is 3", "4 x"],
  ])("%s: %s", (written, wanted) => expect(made(written)).toBe(wanted));
});
