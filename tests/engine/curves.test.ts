import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

const chart = (line: string) => {
  const item = openBook(`set a = 3 g\n${line}\n`).items.find((i) => i.type === "chart");
  if (item?.type !== "chart") throw new Error("no chart");
  return item;
};

describe("a curve over what is not one kind", () => {
  it("between a mass and a volume is told in words, not thrown", () => {
    const item = chart('chart "c" : curve x for x from 1 g to 3 mL');
    expect(item.message).toBe("A curve runs between two of one kind; 1 g is a mass, 3 mL a volume.");
    expect(item.series).toEqual([]);
  });
  it("keeps its line when only the mark is of another kind", () => {
    const item = chart('chart "c" : curve x for x from 1 g to 3 g mark 4 mL');
    expect(item.message).toBe("The mark is a volume, and the curve runs over a mass");
    expect(item.series[0]!.points.length).toBeGreaterThan(10);
    expect(item.mark).toBeUndefined();
  });
  it("asked for from outside gives no points", () => {
    const book = openBook("");
    const [from, to] = ["1 g", "3 mL"].map((f) => book.ask(f).raw);
    expect(book.curve("x", "x", from!, to!, 5)).toEqual([]);
    expect(book.curve("x", "x", from!, book.ask("2 kg").raw, 5)).toHaveLength(5);
  });
});
