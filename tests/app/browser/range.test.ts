import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bookText, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

describe("a range to try", () => {
  for (const width of [1280, 390])
    it(`is written in the line, its second unit serving both ends, and gives a slider, at ${width}`, async () => {
      const { page, mishaps, close } = await stage.open({ width });
      await openText(page, 'book "One value"\nset bottling = 42 %vol\nset rest = bottling * 2\n');
      await page.getByRole("textbox", { name: /^bottling, 42 %vol/ }).click();
      if (width < 720) {
        await page.keyboard.press("Escape");
        await page.getByRole("button", { name: "Value", exact: true }).click();
      }
      await page.getByRole("button", { name: "Range to try" }).click();
      // What is typed stands in the line at once, and a blank in it does not scroll the page.
      await page.keyboard.type("38 to 46 %vol");
      expect(await page.getByRole("textbox", { name: "bottling, range to try" }).inputValue()).toBe(
        "38 to 46 %vol",
      );
      expect(await page.evaluate(() => scrollY)).toBe(0);
      await page.keyboard.press("Enter");
      await page.getByRole("slider").waitFor();
      expect(await bookText(page)).toContain("set bottling = 42 %vol try 38 %vol to 46 %vol");
      expect(mishaps).toEqual([]);
      await close();
    });
});
