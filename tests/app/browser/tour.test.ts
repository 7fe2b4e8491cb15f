import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { axe, bookText, focused, openCard, openText, part, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const button = (page: Page, name: string | RegExp) => page.getByRole("button", { name, exact: true });
const line = (page: Page, step: RegExp) => page.getByRole("region", { name: step });
const squeezed = (text: string): string => text.replace(/\s+/g, " ").trim();
/** What is outlined, and with the number of which step. */
const pointed = (page: Page) =>
  page
    .locator("[data-pointed]")
    .evaluateAll((all) =>
      all.map((e) => `${e.getAttribute("data-pointed")}: ${(e as HTMLElement).innerText}`),
    )
    .then((all) => all.map(squeezed));

describe("the first look", () => {
  it("leads through three steps by the keyboard alone, pointing at the real thing, and is remembered", async () => {
    const { page, mishaps, close } = await stage.open({ newcomer: true });
    expect(await pointed(page)).toEqual([expect.stringMatching(/^1: Harbour gin, spring trial /)]);
    const tab = async (name: string | RegExp) => {
      for (let i = 0; i < 12; i++) {
        await page.keyboard.press("Tab");
        const now = await focused(page);
        if (typeof name === "string" ? now === name : name.test(now)) return;
      }
      throw new Error(`The keyboard does not reach ${name}.`);
    };
    await tab("Open “Harbour gin, spring trial”");
    await page.keyboard.press("Enter");
    await page.locator(".bench").waitFor();

    // The keyboard is where the words are, and one step from the place that they speak of.
    await line(page, /2 of 3/).waitFor();
    expect(await focused(page)).toBe("First look, 2 of 3");
    expect(await pointed(page)).toEqual(["2: 42 %vol"]);
    const before = squeezed(await part(page, "water", "add").first().locator(".q").innerText());
    expect(squeezed(await line(page, /2 of 3/).innerText())).toContain(`water.add is ${before} now`);
    await tab("Show me");
    await page.keyboard.press("Enter");
    expect(await focused(page)).toBe("bottling, 42 %vol, typed");
    await page.keyboard.type("40 %vol");
    await page.keyboard.press("Enter");

    await line(page, /3 of 3/).waitFor();
    expect(await focused(page)).toBe("First look, 3 of 3");
    const after = squeezed(await part(page, "water", "add").first().locator(".q").innerText());
    expect(after).not.toBe(before);
    expect(squeezed(await line(page, /3 of 3/).innerText())).toContain(`went from ${before} to ${after}`);
    expect(await pointed(page)).toEqual([`3: add ${after}`]);
    await tab("Show me");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Enter");
    await page.getByRole("complementary", { name: "Why water.add" }).waitFor();
    await line(page, /done/).waitFor();
    expect(await focused(page)).toBe("First look, done");
    expect(await pointed(page)).toEqual([]);
    await tab("Done");
    await page.keyboard.press("Enter");
    expect(await page.locator(".tour").count()).toBe(0);
    expect(await bookText(page)).toContain("set bottling = 40 %vol");

    // Done is done, in this browser, until it is called back.
    await page.reload();
    await page.getByRole("heading", { name: "Invacuo" }).waitFor();
    expect(await page.locator(".tour-offer, [data-pointed]").count()).toBe(0);
    await openCard(page, /Bay-leaf honey/);
    expect(await page.locator(".tour").count()).toBe(0);
    await button(page, "View").click();
    await button(page, "A first look, in three steps").click();
    await line(page, /2 of 3/).waitFor();
    expect((await pointed(page)).length).toBe(1);
    await button(page, "Put away").click();
    await button(page, "Books").click();
    await button(page, "A first look, in three steps").click();
    expect(await page.locator(".tour-offer").count()).toBe(1);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("says in words that a number cannot be worked out, and never shows the mark of a fault as a number", async () => {
    const { page, mishaps, close } = await stage.open({ newcomer: true });
    await openCard(page, /^Start a blend/);
    await page.locator('[aria-label^="bottling, "]').first().click();
    const written = async (text: string) => {
      await page.keyboard.type(text);
      await page.keyboard.press("Enter");
    };
    await line(page, /2 of 3/).waitFor();
    await written("40 %vol");
    await line(page, /3 of 3/)
      .getByText("went from")
      .waitFor();
    await written("42 g");
    const words = line(page, /3 of 3/).getByRole("status");
    await words.getByText("That does not fit yet").waitFor();
    expect(squeezed(await words.innerText())).toBe(
      "That does not fit yet, so water cannot be worked out: a number takes its unit with it. Write it again, or take it back with Undo.",
    );
    // On the rail it is a mistake where it is told first; what comes of it, and tells it again, has a quiet mark.
    const rail = page.getByRole("navigation", { name: "Contents" }).locator(".scale");
    expect(await rail.getByRole("img", { name: "a fault" }).count()).toBe(2);
    expect(await rail.getByRole("img", { name: "follows from makes" }).count()).toBe(2);
    expect(await rail.getByRole("img", { name: "follows from bottling" }).count()).toBe(3);
    expect(await rail.locator(".fault-ink").count()).toBe(2);
    await button(page, /^Undo/).click();
    await words.getByText("went from").waitFor();
    expect(mishaps).toEqual([]);
    await close();
  });

  it("stands in nobody's way: it can be put away at each step, and work goes on beside it", async () => {
    const { page, mishaps, close } = await stage.open({ newcomer: true });
    await openCard(page, /^Start a honey/);
    await line(page, /2 of 3/).waitFor();
    // Something else than what it speaks of can be done; it waits, and covers nothing.
    await button(page, "Text").click();
    await page.getByRole("textbox", { name: "Text of the book" }).waitFor();
    await button(page, "Close").click();
    expect(await line(page, /2 of 3/).count()).toBe(1);
    const covered = await page.evaluate(() => {
      scrollTo(0, document.documentElement.scrollHeight);
      const last = document.querySelector(".adds")!.getBoundingClientRect();
      return last.bottom > document.querySelector(".tour")!.getBoundingClientRect().top;
    });
    expect(covered).toBe(false);
    await button(page, "Put away").click();
    expect(await page.locator(".tour, [data-pointed]").count()).toBe(0);
    await button(page, "Books").click();
    expect(await page.locator(".tour-offer").count()).toBe(0);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("is not begun by a book of one's own, and says so where nothing follows from a number", async () => {
    const { page, close } = await stage.open({ newcomer: true });
    await openText(page, 'book "Mine"\nset a = 1 g\n');
    expect(await page.locator(".tour").count()).toBe(0);
    await button(page, "View").click();
    await button(page, "A first look, in three steps").click();
    await page.getByText("Nothing in this book follows from a number yet.").waitFor();
    await close();
  });

  for (const [width, height] of [
    [1280, 900],
    [820, 1180],
    [390, 844],
  ] as const)
    it(`has no fault that axe-core finds, and room at ${width}`, async () => {
      const scheme = width === 820 ? "dark" : "light";
      const { page, mishaps, close } = await stage.open({
        width,
        height,
        scheme,
        newcomer: true,
        touch: width < 1000,
      });
      const looked = async () => {
        expect(await axe(page)).toEqual([]);
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
      };
      await looked();
      await openCard(page, /^Open “Harbour/);
      await line(page, /2 of 3/).waitFor();
      await looked();
      await button(page, "Show me").click();
      await page.keyboard.type("41 %vol");
      await page.keyboard.press("Enter");
      await line(page, /3 of 3/).waitFor();
      await looked();
      await button(page, "Show me").click();
      // What it points at is in sight, clear of the lines at the bottom.
      const [at, foot] = await page.evaluate(() => [
        document.querySelector("[data-pointed]")!.getBoundingClientRect().bottom,
        document.querySelector(".tour")!.getBoundingClientRect().top,
      ]);
      expect(at).toBeLessThan(foot!);
      await page.keyboard.press("Enter");
      await line(page, /done/).waitFor();
      await looked();
      expect(mishaps).toEqual([]);
      await close();
    });
});
