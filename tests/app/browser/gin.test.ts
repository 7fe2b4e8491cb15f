import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bookText, cell, focused, openCard, part, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

/** The number in front of a text such as `60.79 ± 0.18 %vol`. */
const number = (text: string): number => Number.parseFloat(text.replace("−", "-").replace(/^[^\d-]*/, ""));

describe("a blend of gin", () => {
  it("answers to a changed volume, takes it back, and leaves as a file", async () => {
    const { page, mishaps, close } = await stage.open();
    await openCard(page, /Harbour gin/);
    const strength = () =>
      part(page, "blend", "strength")
        .innerText()
        .then((t) => number(t.replace("strength", "")));
    const water = () =>
      part(page, "water", "add")
        .first()
        .innerText()
        .then((t) => number(t.replace("add", "")));
    const cost = () => cell(page, "distillates", 0, 6).innerText().then(number);
    const total = () => cell(page, "distillates", 5, 6).innerText().then(number);
    const before = {
      strength: await strength(),
      water: await water(),
      cost: await cost(),
      total: await total(),
    };
    const text = await bookText(page);
    expect(before.strength).toBeCloseTo(60.79, 2);
    expect(before.cost).toBeCloseTo(26.88, 9);

    await cell(page, "distillates", 0, 1).click();
    await page.keyboard.type("4800");
    await page.keyboard.press("Enter");
    expect(await cell(page, "distillates", 0, 1).innerText()).toBe("4800");
    // Twice the juniper at 61.2 %vol draws the blend towards it, wants more water, and costs twice as much.
    expect(await strength()).toBeGreaterThan(before.strength);
    expect(await strength()).toBeLessThan(61.2);
    expect(await water()).toBeGreaterThan(before.water * 1.4);
    expect(await cost()).toBeCloseTo(2 * before.cost, 9);
    expect(await total()).toBeCloseTo(before.total + before.cost, 9);
    expect(await bookText(page)).toBe(text.replace("| 2400 ", "| 4800 "));

    await page.getByRole("button", { name: /^Undo/ }).click();
    expect(await strength()).toBe(before.strength);
    expect(await water()).toBe(before.water);
    expect(await total()).toBe(before.total);
    expect(await bookText(page)).toBe(text);
    await page.getByRole("button", { name: /^Redo/ }).click();
    expect(await cell(page, "distillates", 0, 1).innerText()).toBe("4800");
    await page.keyboard.press("Control+z");
    expect(await bookText(page)).toBe(text);

    await page.getByRole("button", { name: "Keep and send" }).click();
    const [sheet] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: /Spreadsheet .xlsx/ }).click(),
    ]);
    expect(sheet.suggestedFilename()).toBe("harbour-gin-spring-trial.xlsx");
    const bytes = readFileSync(await sheet.path());
    expect(bytes.subarray(0, 4).toString("latin1")).toBe("PK\u0003\u0004");
    expect(bytes.length).toBeGreaterThan(4000);

    await page.getByRole("button", { name: "Keep and send" }).click();
    const [ods] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: /Spreadsheet, open format/ }).click(),
    ]);
    expect(readFileSync(await ods.path()).toString("latin1")).toContain(
      "mimetypeapplication/vnd.oasis.opendocument.spreadsheet",
    );
    expect(mishaps).toEqual([]);
    await close();
  });

  it("says why a number is what it is, and leads to what it used", async () => {
    const { page, mishaps, close } = await stage.open();
    await openCard(page, /Harbour gin/);
    await part(page, "water", "add").first().click();
    const why = page.getByRole("complementary", { name: /Why water.add/ });
    await why.waitFor();
    expect(await why.getByRole("heading", { level: 2 }).innerText()).toMatch(/Why water.add is 1981/);
    expect(await why.innerText()).toContain("let_down(blend.volume, blend.strength, to: bottling)");
    expect(await why.innerText()).toContain("OIML R 22");
    await why.getByRole("link", { name: "bottling" }).first().click();
    await page.getByRole("complementary", { name: "Why bottling" }).waitFor();
    expect(await focused(page)).toMatch(/^bottling, 42 %vol/);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("moves with its slider, by keys, in one entry of the undo stack", async () => {
    const { page, mishaps, close } = await stage.open();
    await openCard(page, /Harbour gin/);
    const slider = page.getByRole("slider", { name: "try bottling" });
    const text = await bookText(page);
    await slider.focus();
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowRight");
    expect(await slider.getAttribute("aria-valuetext")).toBe("43 %vol");
    expect(await bookText(page)).toBe(
      text.replace("set bottling = 42 %vol try", "set bottling = 43 %vol try"),
    );
    await page.keyboard.press("PageUp");
    expect(await slider.getAttribute("aria-valuetext")).toBe("47 %vol");
    await page.keyboard.press("Control+z");
    expect(await bookText(page)).toBe(text);
    expect(mishaps).toEqual([]);
    await close();
  });
});
