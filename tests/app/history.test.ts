import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  applyChange,
  changeBetween,
  type History,
  inverse,
  noHistory,
  redone,
  remembered,
  undone,
} from "../../src/app/state/history";

const entry = (says: string, thread?: string) => ({
  says,
  before: 0,
  after: 0,
  ...(thread === undefined ? {} : { thread }),
});

describe("a change between two texts", () => {
  it("turns the one into the other and back, whatever the texts are", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), fc.string({ unit: "binary" }), (a, b) => {
        const change = changeBetween(a, b);
        if (change === undefined) return a === b;
        return applyChange(a, change) === b && applyChange(b, inverse(change)) === a;
      }),
    );
  });

  it("is as small as one edit", () => {
    expect(changeBetween("| juniper | 2400 |", "| juniper | 2500 |")).toEqual({
      at: 13,
      removed: "4",
      inserted: "5",
    });
  });

  it("never splits a character of two code units", () => {
    const change = changeBetween("a😀b", "a😁b")!;
    expect(change.removed).toBe("😀");
    expect(change.inserted).toBe("😁");
  });
});

describe("the undo stack", () => {
  const walk = (texts: readonly string[]): History<number> => {
    let history = noHistory<number>();
    for (let i = 1; i < texts.length; i++)
      history = remembered(history, texts[i - 1]!, texts[i]!, entry(`change ${i}`));
    return history;
  };

  it("goes back and forth through every text", () => {
    fc.assert(
      fc.property(fc.array(fc.string(), { minLength: 1, maxLength: 12 }), (texts) => {
        const distinct = texts.filter((t, i) => i === 0 || t !== texts[i - 1]);
        let history = walk(distinct);
        let text = distinct.at(-1)!;
        for (let i = distinct.length - 2; i >= 0; i--) {
          const step = undone(history, text)!;
          expect(step.text).toBe(distinct[i]);
          ({ text, history } = step);
        }
        expect(undone(history, text)).toBeUndefined();
        for (let i = 1; i < distinct.length; i++) {
          const step = redone(history, text)!;
          expect(step.text).toBe(distinct[i]);
          ({ text, history } = step);
        }
        expect(redone(history, text)).toBeUndefined();
      }),
    );
  });

  it("takes a slider's drag as one entry, back to where it began", () => {
    let history = noHistory<number>();
    history = remembered(history, "60", "61", entry("tried 61", "try"));
    history = remembered(history, "61", "72", entry("tried 72", "try"));
    expect(history.past).toHaveLength(1);
    expect(history.past[0]!.says).toBe("tried 72");
    expect(undone(history, "72")!.text).toBe("60");
  });

  it("drops an entry whose drag came back to the beginning", () => {
    let history = remembered(noHistory<number>(), "60", "61", entry("a", "try"));
    history = remembered(history, "61", "60", entry("b", "try"));
    expect(history.past).toHaveLength(0);
  });

  it("does not join what came after an undo", () => {
    let history = remembered(noHistory<number>(), "a", "b", entry("x", "text"));
    const back = undone(history, "b")!;
    const again = redone(back.history, back.text)!;
    history = remembered(again.history, "b", "c", entry("y", "text"));
    expect(history.past.map((e) => e.says)).toEqual(["x", "y"]);
  });

  it("forgets what was undone once something new is written", () => {
    const back = undone(walk(["a", "b"]), "b")!;
    expect(remembered(back.history, "a", "c", entry("new")).future).toEqual([]);
  });
});
