import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { compareBooks, comparisonText } from "../../src/exchange/comparison";
import { examples } from "./examples";

const BOOK = `book "Two stocks"
set bottling = 42 %vol
set bottle = 500 mL
define twice(x) = 2 * x
table stock "Stock"
| item    | volume (mL) | strength  |
| juniper | 2400        | 61.2 %vol |
| lemon   |  350        | 49.5 %vol |
column spirit = pure_volume(volume, strength)
foot spirit = sum(spirit)
set bottles = stock.foot.spirit / bottle
check bottles > 2 : "enough"
step "Fill {bottles} bottles."
`;
const compare = (from: string, to: string, book = BOOK) => {
  expect(book).toContain(from);
  return compareBooks(openBook(book), openBook(book.replace(from, to)));
};
const names = (c: ReturnType<typeof compare>) => c.differences.map((d) => `${d.change} ${d.name}`).sort();

describe("comparing two books", () => {
  it("finds nothing where nothing is different, and no change in spacing or comments", () => {
    for (const text of examples.values()) {
      const c = compareBooks(openBook(text), openBook(text));
      expect(c).toEqual({ differences: [], valuesDiffer: false, words: [] });
    }
    expect(compare("foot.spirit / bottle", "foot.spirit   /   bottle   # per bottle").differences).toEqual(
      [],
    );
    expect(comparisonText(compare("set bottle", "set bottle"))).toBe("The two books say the same.\n");
  });

  it("tells what was typed from what follows from it, with the cause", () => {
    const c = compare("| 2400  ", "| 2000  ");
    expect(names(c)).toEqual([
      "typed stock.juniper.volume",
      "upstream bottles",
      "upstream stock.foot.spirit",
      "upstream stock.juniper.spirit",
    ]);
    expect(c.valuesDiffer).toBe(true);
    const bottles = c.differences.find((d) => d.name === "bottles")!;
    expect(bottles.because).toEqual(["stock.juniper.volume"]);
    expect(bottles.formulaBefore).toBe(bottles.formulaAfter);
    expect(bottles.before).not.toBe(bottles.after);
  });

  it("shows the old and the new formula, also when the value stays", () => {
    const c = compare("stock.foot.spirit / bottle", "sum(stock.spirit) / bottle");
    expect(c.differences).toMatchObject([
      {
        name: "bottles",
        change: "formula",
        formulaBefore: "stock.foot.spirit / bottle",
        formulaAfter: "sum(stock.spirit) / bottle",
        valueDiffers: false,
      },
    ]);
    expect(c.valuesDiffer).toBe(false);
  });

  it("lists what is new and what is gone", () => {
    const c = compare("| lemon   |  350        | 49.5 %vol |\n", "| bay     |  200        | 71.0 %vol |\n");
    expect(names(c)).toContain("removed stock.lemon.volume");
    expect(names(c)).toContain("added stock.bay.spirit");
  });

  it("tells of a check whose answer is another one, and of words", () => {
    const c = compare("bottle = 500 mL", "bottle = 900 mL");
    expect(c.differences.find((d) => d.name === "check: enough")).toMatchObject({
      before: "met",
      after: "not met",
      change: "upstream",
    });
    const words = compare('step "Fill {bottles} bottles."', 'step "Fill the bottles."\nabout "x"').words;
    expect(words.map((w) => `${w.what} ${w.change}`)).toEqual(["about added", "step changed"]);
    expect(compare("twice(x) = 2 * x", "twice(x) = x + x").words).toMatchObject([
      { what: "define", change: "changed" },
    ]);
  });

  it("is plain data", () => {
    const c = compare("| 2400  ", "| 2000  ");
    expect(JSON.parse(JSON.stringify(c))).toEqual(c);
    expect(comparisonText(c)).toContain("typed    stock.juniper.volume: 2400 mL -> 2000 mL");
    expect(comparisonText(c)).toMatch(/follows +bottles: .* -> .*\n +from stock\.juniper\.volume/);
  });
});
