import { expect, it } from "vitest";
import { parseBook, parseFormula, type SyntaxMessage } from "../../grammar";
import { fixed, marked } from "./notation";

/**
 * Messages word for word: what is marked, what is said, what to do, and what each button says and does. The corpus of
 * errors holds one book for each kind; the tests that use this hold the other ways in which each kind can come.
 */

const lines = (source: string, message: SyntaxMessage): readonly string[] => [
  marked(source, message),
  message.says,
  ...(message.help === undefined ? [] : [message.help]),
  ...fixed(source, message).map((mended, i) => `${message.fixes![i]!.says} => ${mended}`),
];

export const ofFormula = (source: string): readonly (readonly string[])[] =>
  parseFormula(source).messages.map((message) => lines(source, message));

/** What is told of the last statement of a book. */
export function ofBook(text: string): readonly (readonly string[])[] {
  const statement = parseBook(text).statements.at(-1)!;
  const source = text.slice(statement.at, statement.at + statement.length);
  return statement.messages.map((message) => lines(source, message));
}

export type Case = readonly [source: string, ...lines: readonly string[]];

/** What more than one message says to do. */
export const VALUE = "A value is a number, a name, a text, or a formula in brackets.";
export const BACKTICKS = "As a name it takes backticks.";

/** Codes whose one fix is the one thing that can be meant, so that one click may apply it. */
const CERTAIN = new Set([
  ...["number-grouped", "number-point", "number-fraction", "operator-other", "character-lookalike"],
  ...["quote-curly", "quote-single", "currency-sign", "title-brace", "brace-stray", "character-unseen"],
  ...["colon-missing", "statement-shape", "row-open", "language-unknown", "statement-capital"],
]);
const sure = (source: string, { code, says, fixes = [] }: SyntaxMessage): readonly boolean[] => {
  if (code === "name-spaced") return [true, false];
  if (code === "name-reserved") return [says.endsWith("is a word of the language.")];
  if (code === "number-comma") return fixes.map(() => says.endsWith("is written with a comma."));
  if (source.includes("√") || source.includes("->")) return [false];
  return fixes.map(() => CERTAIN.has(code) && fixes.length === 1);
};

/** Every fix of some messages is certain only where one thing alone can be meant. */
export function certainOnlyIfAlone(
  messages: readonly (readonly [source: string, message: SyntaxMessage])[],
): void {
  const mended = messages.filter(([, { fixes }]) => fixes !== undefined);
  it("has buttons that are certain only where one thing alone can be meant", () => {
    expect(mended.length).toBeGreaterThan(40);
    for (const [source, message] of mended)
      expect(
        message.fixes!.map(({ certain }) => certain),
        source,
      ).toEqual(sure(source, message));
  });
}
