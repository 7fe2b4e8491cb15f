import type { Locator, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bookText, cell, command, openCard, openText, type Stage, setStage } from "./stage";

/** Where the page stands after something was chosen, added or left: what one works at is in sight. */
let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const rows = Array.from({ length: 40 }, (_, i) => `| row ${i + 1} | ${i + 1} |`).join("\n");
const long = `book "Long"\ntable t\n| item | amount (g) |\n${rows}\n`;

/** How far the whole of a cell is clear of the bar above it and the line below it; negative when it is covered. */
const clearance = async (page: Page, at: Locator): Promise<number> => {
  const box = (await at.boundingBox())!;
  const [bar, foot] = await page.evaluate(() => [
    document.querySelector(".strip")!.getBoundingClientRect().bottom,
    document.querySelector(".foot-of-page")!.getBoundingClientRect().top,
  ]);
  return Math.min(box.y - bar!, foot! - box.y - box.height);
};

describe.each([
  { width: 1280, height: 800, touch: false },
  { width: 820, height: 1180, touch: true },
  { width: 390, height: 844, touch: true },
])("at $width", ({ width, height, touch }) => {
  it("a cell that is gone to, and a row that is added, stand clear of the bar and of the formula line", async () => {
    const { page, mishaps, close } = await stage.open({ width, height, touch });
    await openText(page, long);
    await cell(page, "t", 0, 1).click();
    for (let row = 1; row < 40; row++) {
      await page.keyboard.press("ArrowDown");
      expect(await clearance(page, cell(page, "t", row, 1)), `down to ${row}`).toBeGreaterThanOrEqual(0);
    }
    for (let row = 38; row >= 0; row--) {
      await page.keyboard.press("ArrowUp");
      expect(await clearance(page, cell(page, "t", row, 1)), `up to ${row}`).toBeGreaterThanOrEqual(0);
    }
    await page.keyboard.press("Control+End");
    await page.keyboard.press("Control+Enter");
    await expect.poll(() => cell(page, "t", 40, 0).count()).toBe(1);
    expect(await clearance(page, cell(page, "t", 40, 0))).toBeGreaterThanOrEqual(0);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("the start is seen from its top, and the keyboard begins there", async () => {
    const { page, mishaps, close } = await stage.open({ width, height, touch });
    await openCard(page, /Harbour gin/);
    await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
    await (await command(page, "Books")).click();
    await page.getByRole("heading", { name: "Kept in this browser" }).waitFor();
    await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toBe("Invacuo");
    expect(await page.evaluate(() => scrollY)).toBe(0);
    expect(mishaps).toEqual([]);
    await close();
  });
});

describe("on a phone", () => {
  it("a value that is opened is written over, and two versions are compared by a finger", async () => {
    const { page, mishaps, close } = await stage.open({ width: 390, height: 844, touch: true });
    await openText(page, 'book "A"\nset a = 42 %vol\nset b = 2 * a\n');
    const value = page.getByText("42 %vol").first();
    await value.tap({ force: true });
    await value.tap({ force: true });
    const field = page.locator(".writing-line textarea");
    await expect
      .poll(() => field.evaluate((f: HTMLTextAreaElement) => f.value.slice(f.selectionStart, f.selectionEnd)))
      .toBe("42 %vol");
    await page.keyboard.type("40 %vol");
    await page.keyboard.press("Enter");
    expect(await bookText(page)).toContain("set a = 40 %vol\n");
    await (await command(page, "Text")).click();
    await (await command(page, "Compare with another version")).click();
    const choices = page.locator(".choose-other .links button");
    await choices.first().waitFor();
    expect((await choices.first().boundingBox())!.height).toBeGreaterThanOrEqual(44);
    await choices.last().tap();
    const names = page.locator(".difference-name a");
    await names.first().waitFor();
    expect((await names.first().boundingBox())!.height).toBeGreaterThanOrEqual(44);
    expect(mishaps).toEqual([]);
    await close();
  });
});

it("a number with a decimal comma takes one key more, and nothing is glued to it", async () => {
  const { page, mishaps, close } = await stage.open();
  await openText(page, 'book "C"\ntable t\n| item | brix | ok (text) |\n| a | | |\n| b | | |\n');
  await cell(page, "t", 0, 1).click();
  await page.keyboard.type("78,5");
  await page.keyboard.press("Tab");
  await page.locator("#foretell", { hasText: "Enter or Tab takes 78.5." }).waitFor();
  await page.keyboard.type("ok");
  expect(await page.locator(".place.open textarea").inputValue()).toBe("78,5");
  await page.keyboard.press("Tab");
  await page.keyboard.type("ok");
  await page.keyboard.press("Enter");
  // The whole table is chosen: what is typed goes to the cell where the writer stands.
  await cell(page, "t", 1, 1).click();
  await page.keyboard.press("Control+A");
  await page.keyboard.type("12");
  await page.keyboard.press("Enter");
  expect(await bookText(page)).toMatch(/\| a +\| 78\.5 +\| ok +\|\n\| b +\| 12 +\|/);
  expect(mishaps).toEqual([]);
  await close();
});

it.each([
  [820, 1180],
  [390, 844],
])("under a finger at %i a decimal comma is kept by a touch elsewhere, or asks", async (width, height) => {
  const { page, mishaps, close } = await stage.open({ width, height, touch: true });
  await openText(
    page,
    'book "C"\nset got = blank in %vol\ntable t\n| item | strength |\n| a | 61.5 %vol |\n| b | |\n| c | |\ntable u\n| item | mass (g) |\n| d | 2 |\n',
  );
  const write = async (table: string, row: number, words: string) => {
    await cell(page, table, row, 1).tap();
    await cell(page, table, row, 1).tap();
    await page.keyboard.type(words);
  };
  const line = page.locator(".writing-line textarea");
  await write("t", 1, "58,2");
  await page.locator("#foretell", { hasText: /^becomes 58\.2.%vol$/u }).waitFor();
  await write("t", 2, "57,9 ± 0,3");
  await page.getByText("58,2 was kept as 58.2 %vol; Undo takes it back.").last().waitFor();
  await page.keyboard.press("Enter");
  await page.locator("#foretell", { hasText: "Which number is meant?" }).waitFor();
  // The question was on show: a touch elsewhere takes what stands in it.
  await cell(page, "t", 0, 1).tap();
  // What may be two numbers is not given up by a touch, nor by two.
  await write("u", 0, "1,234");
  const hint = page.locator("#foretell", { hasText: "is this 1.234, or 1234?" });
  await hint.waitFor();
  const cut = await hint.evaluate((e) => {
    const r = e.getBoundingClientRect();
    return [
      r.left < 0,
      r.right > innerWidth,
      e.scrollHeight > e.clientHeight + 1,
      e.scrollWidth > e.clientWidth,
    ];
  });
  expect(cut).toEqual([false, false, false, false]);
  await cell(page, "t", 0, 1).tap();
  await cell(page, "t", 1, 1).tap();
  await page.locator("#foretell", { hasText: "Which number is meant?" }).waitFor();
  expect(await line.inputValue()).toBe("1,234");
  expect(await line.evaluate((e) => e === document.activeElement)).toBe(true);
  await page.getByRole("option", { name: /^1234 / }).tap();
  await page.locator('.catch[aria-label^="got, "]').focus();
  await page.keyboard.type("41,2");
  await page.locator("#foretell", { hasText: /^becomes 41\.2.%vol$/u }).waitFor();
  await cell(page, "t", 0, 1).tap();
  expect(await bookText(page)).toMatch(
    /set got = 41\.2 %vol\n[\s\S]*\| b +\| 58\.2 %vol +\|\n\| c +\| 57\.9 ± 0\.3 %vol +\|[\s\S]*\| d +\| 1234 +\|/,
  );
  expect(mishaps).toEqual([]);
  await close();
});
