import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { axe, bookText, command, openCard, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const saved = (page: Page) => page.getByText(/^Saved in this browser/).waitFor();
const toStart = async (page: Page) => {
  await saved(page);
  await (await command(page, "Books")).click();
  await page.getByRole("heading", { name: "Invacuo" }).waitFor();
};
const add = (page: Page, what: string) =>
  page.getByRole("group", { name: "Add below" }).getByRole("button", { name: what, exact: true });
const squeezed = (text: string): string => text.replace(/\s+/g, " ").trim();

describe("a copy of a book", () => {
  for (const width of [1280, 390])
    it(`is a second book of its own, and the first stays as it was, at ${width}`, async () => {
      const { page, mishaps, close } = await stage.open({ width });
      await openText(page, 'book "Shelf gin"\nset bottling = 42 %vol\n');
      await page.getByRole("heading", { name: "Shelf gin" }).waitFor();
      await saved(page);
      if (width > 390) await page.getByRole("button", { name: "Keep and send" }).click();
      await (await command(page, "Copy this book")).click();
      await page.getByRole("heading", { name: "Shelf gin 2" }).waitFor();
      await page.getByRole("textbox", { name: /^bottling, 42 %vol/ }).click();
      await page.keyboard.type("44\n");
      await saved(page);
      expect(await bookText(page)).toBe('book "Shelf gin 2"\nset bottling = 44 %vol\n');
      await toStart(page);
      await page.getByRole("button", { name: /^Shelf gin 2/ }).waitFor();
      await page.getByRole("button", { name: /^Shelf gin(?! 2)/ }).click();
      await page.getByRole("textbox", { name: /^bottling, 42 %vol/ }).waitFor();
      expect(mishaps).toEqual([]);
      await close();
    });
});

describe("books begun alike", () => {
  for (const [width, scheme] of [
    [1280, "light"],
    [820, "dark"],
    [390, "dark"],
  ] as const)
    it(`are told apart by title and day, and offered first to compare with, at ${width}, ${scheme}`, async () => {
      const { page, mishaps, close } = await stage.open({ width, scheme });
      await openCard(page, /^Start a blend/);
      await toStart(page);
      await openCard(page, /^Start a blend/);
      await page.getByRole("heading", { name: "My blend 2" }).waitFor();
      await saved(page);
      // From the book itself: the other one, its title and its day, before a file or a link is asked for.
      if (width > 390) await page.getByRole("button", { name: "Go over" }).click();
      await (await command(page, "Compare with another version")).click();
      const first = page.locator(".choose-other section").first();
      await first.getByRole("heading", { name: "Kept in this browser" }).waitFor();
      expect(squeezed(await first.getByRole("button").innerText())).toMatch(
        /^My blend \d{1,2} \w{3,4} \d{4}, \d\d:\d\d$/,
      );
      expect(await axe(page)).toEqual([]);
      await first.getByRole("button").click();
      const sheet = page.getByRole("complementary", { name: "Compare with My blend" });
      await sheet.getByText("My blend 2").first().waitFor();
      await toStart(page);
      const kept = page.locator(".kept-books li");
      // The list is read from the store when the start is there already.
      await kept.nth(1).waitFor();
      expect((await kept.allInnerTexts()).map(squeezed)).toEqual([
        expect.stringMatching(/^My blend 2 \d{1,2} \w{3,4} \d{4}, \d\d:\d\d ?Remove$/),
        expect.stringMatching(/^My blend \d{1,2} \w{3,4} \d{4}, \d\d:\d\d ?Remove$/),
      ]);
      // What is opened from the list keeps its title.
      await page.getByRole("button", { name: "My blend", exact: true }).click();
      await page.locator(".bench").waitFor();
      expect(await page.getByRole("heading", { level: 1 }).innerText()).toBe("My blend");
      expect(mishaps).toEqual([]);
      await close();
    });

  it("have a card, on paper too, that tells what is weighed of each", async () => {
    const { page, mishaps, close } = await stage.open();
    await openCard(page, /^Start a blend/);
    const weighed =
      "Weigh the distillates into one vessel: first 909.1 g, second 456.8 g. That is 1366 g in all";
    expect(squeezed(await page.locator(".card .steps li").first().innerText())).toContain(weighed);
    await page.evaluate(() => {
      document.body.dataset.print = "card";
    });
    await page.emulateMedia({ media: "print" });
    expect(squeezed(await page.locator(".paper").innerText())).toContain(weighed);
    expect(mishaps).toEqual([]);
    await close();
  });
});

describe("what is added below a book", () => {
  for (const width of [1280, 820, 390])
    it(`stands where it belongs, in sight, or what it needs is said, at ${width}`, async () => {
      const { page, mishaps, close } = await stage.open({ width, height: 700 });
      await openCard(page, /^Start a blend/);
      await add(page, "value").click();
      const fresh = page.locator('[id="at-value.3Avalue"]');
      await fresh.waitFor();
      await page.waitForFunction(() => {
        const box = document.getElementById("at-value.3Avalue")!.getBoundingClientRect();
        return box.top >= 0 && box.bottom <= innerHeight;
      });
      await page.keyboard.type("label = 5 mL");
      await page.keyboard.press("Enter");
      expect(await bookText(page)).toMatch(/\nset measured = .*\nset label = 5 mL\n\ncheck blend_strength/);
      await (await command(page, "Text")).click();
      await add(page, "chart").click();
      await page.getByRole("img", { name: "New chart. item across. cost" }).waitFor();
      expect(await bookText(page)).toContain(
        'chart "New chart" : bars distillates.cost by distillates.item\n',
      );
      await toStart(page);

      await openText(page, 'book "Flat"\ntable t "Flat"\n| item | mass (g) |\n| one | 5 |\n| two | 5 |\n');
      await add(page, "chart").click();
      await page.locator(".told").waitFor();
      expect(await page.locator(".told").innerText()).toBe(
        "A chart draws numbers that differ from row to row, and “Flat” has none: fill in two rows of it first.",
      );
      expect(await page.locator(".bench figure").count()).toBe(0);
      expect(mishaps).toEqual([]);
      await close();
    });
});

it("on a phone what stands behind a word is called by what it holds, and by no word twice", async () => {
  const { page, mishaps, close } = await stage.open({ width: 390, height: 844, touch: true });
  await openCard(page, /^Start a run/);
  await page.locator('[aria-label^="charge, 1000"]').click();
  await page.keyboard.press("Escape");
  const words = (await page.locator(".drawer > button").allInnerTexts()).map(squeezed);
  expect(words).toEqual(["Book", "Value"]);
  await page.getByRole("button", { name: "Value", exact: true }).click();
  expect(
    await page.getByRole("group", { name: "Value" }).getByRole("button", { name: "Remove" }).count(),
  ).toBe(1);
  expect(await axe(page)).toEqual([]);
  await page.keyboard.press("Escape");
  await (await command(page, "Functions")).waitFor();
  expect(await axe(page)).toEqual([]);
  expect(mishaps).toEqual([]);
  await close();
});
