import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { cell, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const foot = "(sum(got) - smallest(got)) / (largest(charge) * (count(got) - 1)) + mean(got) / mean(charge)";
const runs = `book "Runs"
table runs
| run | charge (mL) | got (mL) |
| a | 1000 | 412 |
| b | 1000 | 430 |
column share = got / charge
foot got = mean(got)
foot share = ${foot}
`;

describe("the foot of a table", () => {
  for (const width of [1280, 390])
    it(`wraps a long formula, and leaves a short one on its line, at ${width}`, async () => {
      const { page, mishaps, close } = await stage.open({ width });
      await openText(page, runs);
      const sized = async (column: number) =>
        (await cell(page, "runs", 2, column).locator(".how").boundingBox())!;
      const [short, long] = [await sized(2), await sized(3)];
      // Its 96 letters of some 7 px would be wider than 600 px on one line.
      expect(long.width).toBeLessThan(220);
      expect(long.height).toBeGreaterThan(2.5 * short.height);
      expect(short.height).toBeLessThan(24);
      expect(mishaps).toEqual([]);
      await close();
    });
});
