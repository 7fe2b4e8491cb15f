import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

/** What a call is given: by place, by label, too much, too little, and where that is told. */

const BOOK = openBook("define three(a, b, c) = a + 10 * b + 100 * c\ndefine one(only) = only\nset k = 2");
const told = (formula: string): string => {
  const { state, text, message, help, span } = BOOK.ask(formula);
  if (state === "ok") return text;
  return [formula.slice(span!.from, span!.to), message, help].filter((s) => s !== undefined).join(" | ");
};
const after = "Arguments by place come first, labelled ones after them.";
const twice = "Leave one of them out; an argument by place counts too.";

describe("the arguments of a call", () => {
  it.each([
    ["three(1, 2, 3)", "321"],
    ["three(1, 2, c: 3)", "321"],
    ["three(1, c: 3, b: 2)", "321"],
    ["three(c: 3, b: 2, a: 1)", "321"],
    ["one(7)", "7"],
    ["let_down(1 L, 96 %vol, to: 40 %vol).total", "2.4 L"],
    ["let_down(strength: 96 %vol, volume: 1 L, to: 40 %vol).total", "2.4 L"],
    // One too many: at the argument, with what it may be meant as.
    [
      "three(1, 2, 3, k)",
      "k | `three` takes 3 arguments by place; this is one more. | It is written `three(a, b, c)`.",
    ],
    ["one(1, k)", "k | `one` takes one argument by place; this is one more. | It is written `one(only)`."],
    [
      "boils_at(60 mbar, 40 %vol)",
      "40 %vol | `boils_at` takes one argument by place; this is one more. | If it is meant as `strength`, write `strength: …`.",
    ],
    [
      "boils_at(60 mbar, 40 %vol, strength: 40 %vol)",
      "40 %vol | `boils_at` takes one argument by place; this is one more. | If it is meant as `strength`, write `strength: …`.",
    ],
    [
      "let_down(1 L, 96 %vol, 40 %vol)",
      "40 %vol | `let_down` takes 2 arguments by place; this is one more. | If it is meant as `to`, write `to: …`.",
    ],
    // Behind a label.
    ["three(a: 1, 2, 3)", `2 | In \`three(…)\` an argument without a label stands behind \`a:\`. | ${after}`],
    ["three(1, b: 2, k)", `k | In \`three(…)\` an argument without a label stands behind \`b:\`. | ${after}`],
    // A label that is none, or stands twice.
    ["one(onyl: 1)", "onyl | `one` has no argument called `onyl`. | `only` is near."],
    ["one(zzzz: 1)", "zzzz | `one` has no argument called `zzzz`. | It is written `one(only)`."],
    ["three(a: 1, a: 2)", `a | \`three\` is given \`a\` twice. | ${twice}`],
    ["three(1, a: 2)", `a | \`three\` is given \`a\` twice. | ${twice}`],
    // Too few: at the call, with all that is missing.
    ["three()", "three() | `three` is missing `a` and `b` and `c`. | It is written `three(a, b, c)`."],
    ["three(1, 2)", "three(1, 2) | `three` is missing `c`. | It is written `three(a, b, c)`."],
    ["three(1, c: 2)", "three(1, c: 2) | `three` is missing `b`. | It is written `three(a, b, c)`."],
    [
      "boils_at()",
      "boils_at() | `boils_at` is missing `pressure`. | It is written `boils_at(pressure; strength: …, solids: …, activity: …)`.",
    ],
    [
      "let_down(1 L, 96 %vol)",
      "let_down(1 L, 96 %vol) | `let_down` is missing `to`. | Add `to: …`. It is written `let_down(volume, strength; to: (needed))`.",
    ],
    [
      "let_down(1 L)",
      "let_down(1 L) | `let_down` is missing `strength` and `to`. | It is written `let_down(volume, strength; to: (needed))`.",
    ],
  ])("%s: %s", (formula, is) => expect(told(formula)).toBe(is));
  it("are mended by the nearest label, written as it stands in a call", () => {
    const book = openBook("define f(`to do`) = `to do`\nset a = f(`to d`: 1)");
    expect(book.messages[0]).toMatchObject({ code: "label-unknown" });
    expect(book.messages[0]!.fixes?.map((f) => f.edits.map((e) => e.text))).toEqual([["`to do`"]]);
    expect(openBook("set a = boils_at(1 mbar, strenght: 1 %vol)").messages[0]!.fixes).toMatchObject([
      { certain: false, edits: [{ text: "strength" }] },
    ]);
    expect(openBook("set a = boils_at(1 mbar, zzzz: 1 %vol)").messages[0]!.fixes).toBeUndefined();
  });
});
