import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { trialsOf } from "../../src/engine/trials";

const book = openBook(`set a = 10.0 ± 0.2 g
set b = a^2 / 1 g
set c = 3 g
`);

describe("trials one at a time", () => {
  it("come to what why tells of the same number of trials", () => {
    const run = trialsOf(book, "b", 500);
    const told: number[] = [];
    let step = run.next();
    while (!step.done) {
      told.push(step.value);
      step = run.next();
    }
    expect(told).toEqual(Array.from({ length: 500 }, (_, i) => i + 1));
    expect(step.value).toEqual(book.why("b", { trials: 500 })!.monteCarlo);
    expect(step.value!.trials).toBe(500);
  });

  it("can be given up, and leave the book as it was", () => {
    const before = book.answers();
    const run = trialsOf(book, "b", 1_000_000);
    for (let i = 0; i < 5; i++) run.next();
    expect(run.return(undefined).done).toBe(true);
    expect(book.answers()).toEqual(before);
  });

  it("are none for a value without an uncertainty, and for a name that the book does not have", () => {
    expect(trialsOf(book, "c", 100).next()).toEqual({ done: true, value: undefined });
    expect(trialsOf(book, "d", 100).next()).toEqual({ done: true, value: undefined });
  });
});
