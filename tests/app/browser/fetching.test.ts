import type { BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { vocabulary } from "../../../src/vocabulary";
import { axe, bookText, cell, openCard, openText, part, type Stage, setStage } from "./stage";

/** What the page fetches when it is asked for, on a network that comes and goes. Nothing is kept by a service worker here. */
let stage: Stage;
let context: BrowserContext;
let page: Page;
let mishaps: string[] = [];
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());
beforeEach(async () => {
  context = await stage.browser.newContext({ reducedMotion: "reduce" });
  await context.addInitScript(() =>
    Object.defineProperty(Navigator.prototype, "serviceWorker", { get: () => undefined }),
  );
  context.setDefaultTimeout(30_000);
  mishaps = [];
  context.on("console", (m) => {
    // That a request came to nothing is what these tests arrange.
    if (m.type() === "error" && !/ERR_FAILED/.test(m.text())) mishaps.push(m.text());
  });
  context.on("weberror", (error) => {
    mishaps.push(error.error().message);
  });
  page = await context.newPage();
});
afterEach(async () => {
  await context.close();
  expect(mishaps).toEqual([]);
});

/** Asks for the example, whatever becomes of that. */
const chooseGin = () =>
  page
    .getByRole("button", { name: /Harbour gin/ })
    .first()
    .click();
const squeezed = (text: string): string => text.replace(/\s+/g, " ").trim();

describe("a part of the page that does not come", () => {
  it("is told by its name and can be asked for again, while the book stays and is written in", async () => {
    const parts = /assets\/(Functions|Compare)-/;
    await page.route(parts, (route) => route.abort());
    await page.goto(stage.url);
    await openCard(page, /Harbour gin/);
    await page.getByRole("button", { name: "Functions" }).click();
    const side = page.getByRole("complementary", { name: "Functions" });
    await side.getByText("The list of functions could not be fetched.").waitFor();
    expect(await axe(page)).toEqual([]);
    // The book goes on.
    await cell(page, "distillates", 0, 1).click();
    await page.keyboard.type("2500");
    await page.keyboard.press("Enter");
    await side.getByRole("button", { name: "Try again" }).click();
    await side.getByText("The list of functions could not be fetched.").waitFor();
    await page.unroute(parts);
    await side.getByRole("button", { name: "Try again" }).click();
    await side.getByRole("searchbox").waitFor();
    expect(await bookText(page)).toContain("| 2500 ");
  });

  it("is the open book itself: told in place of it, with a way back and a way on", async () => {
    const parts = /assets\/open-/;
    await page.route(parts, (route) => route.abort());
    await page.goto(stage.url);
    await chooseGin();
    await page.getByText("What opens a book could not be fetched.").waitFor();
    expect(await axe(page)).toEqual([]);
    await page.getByRole("button", { name: "Back to the start" }).click();
    await page.getByRole("heading", { name: "Invacuo" }).waitFor();
    expect(await page.getByText("could not be fetched").count()).toBe(0);
    await chooseGin();
    await page.getByText("What opens a book could not be fetched.").waitFor();
    await page.unroute(parts);
    await page.getByRole("button", { name: "Try again" }).click();
    await page.locator(".bench").waitFor();
  });
});

describe("what shows offers", () => {
  it("is fetched behind the book before anything is written", async () => {
    const came = page.waitForResponse(/assets\/OffersBox-/);
    await page.goto(stage.url);
    await openCard(page, /Harbour gin/);
    expect((await came).ok()).toBe(true);
    expect(await page.locator(".place.open").count()).toBe(0);
  });

  it("is told when it does not come, the draft staying open, and comes when it is asked for again", async () => {
    const parts = /assets\/OffersBox-/;
    let refused = 0;
    await page.route(parts, (route) => {
      refused++;
      return route.abort();
    });
    await page.goto(stage.url);
    await openCard(page, /Harbour gin/);
    await cell(page, "distillates", 0, 1).click();
    await page.keyboard.type("1,5");
    await page.keyboard.press("Enter");
    // Behind the book it is asked for, and again where it is needed.
    await expect.poll(() => refused).toBe(2);
    await page.getByText("What shows what can stand here could not be fetched.").waitFor();
    expect(await axe(page)).toEqual([]);
    await page.unroute(parts);
    await page.getByRole("button", { name: "Try again" }).click();
    await page.getByRole("listbox", { name: "Which number is meant?" }).waitFor();
    expect(await page.locator(".place.open textarea").inputValue()).toBe("1,5");
    await page.keyboard.press("Enter");
    expect(await bookText(page)).toContain("| 1.5 ");
  });
});

describe("what a book is opened without", () => {
  const parts = /assets\/(alterations|explaining)-here-/;

  it("is told when it does not come: numbers are written, a new name waits, and a fault gets its reason later", async () => {
    await page.route(parts, (route) => route.abort());
    await page.goto(stage.url);
    await openCard(page, /Harbour gin/);
    const away = page.getByText("What adds, moves, renames and explains faults could not be fetched;");
    await away.waitFor();
    expect(await axe(page)).toEqual([]);
    await cell(page, "distillates", 0, 1).click();
    await page.keyboard.type("2500");
    await page.keyboard.press("Enter");
    expect(await bookText(page)).toContain("| 2500 ");
    // A row's name is used in formulas, so it takes more than its cell: what was typed stays with the writer.
    await cell(page, "distillates", 0, 0).click();
    await page.keyboard.type("juniper berry");
    await page.keyboard.press("Enter");
    await page.getByText("What makes this change is still on its way.").first().waitFor();
    expect(await bookText(page)).not.toContain("juniper berry");
    // So do rows and the clipboard, which say so; nothing is pasted as words into a cell.
    await cell(page, "distillates", 0, 1).click();
    await page.keyboard.press("Control+Enter");
    await page.locator(".told", { hasText: "What makes this change is still on its way." }).waitFor();
    await page.keyboard.press("Control+C");
    await page.locator(".told", { hasText: "What copies and pastes cells is still on its way." }).waitFor();
    const paste = () =>
      page.evaluate(() => {
        const clipboardData = new DataTransfer();
        clipboardData.setData("text/plain", "7\t8");
        const event = new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true });
        document.activeElement?.dispatchEvent(event);
        return event.defaultPrevented;
      });
    expect(await paste()).toBe(true);
    expect(await bookText(page)).toMatch(/\| 2500 [^\n]*\n\| coriander/);
    await page.unroute(parts);
    await page.getByRole("button", { name: "Try again" }).click();
    await away.waitFor({ state: "detached" });
    await cell(page, "distillates", 1, 1).click();
    await paste();
    await expect.poll(() => bookText(page)).toMatch(/\| +7 +\| 8 /);
    await cell(page, "distillates", 0, 1).click();
    await page.keyboard.press("Control+Z");
    await page.getByRole("button", { name: "Take it up again" }).click();
    const written = () => page.evaluate(() => (document.activeElement as HTMLInputElement | null)?.value);
    await expect.poll(written).toBe("juniper berry");
    await page.keyboard.press("Enter");
    await expect.poll(() => bookText(page)).toContain("juniper berry");
  });

  it("adds the reasons to the faults of an open book when it has come", async () => {
    await page.route(parts, (route) => route.abort());
    await page.goto(stage.url);
    await openText(page, "set a = 2 L\nset b = (a * 2\n");
    await page.getByText("This cannot be read. The reason is on its way.").first().waitFor();
    // An open book asks by itself once more, which has to fail too before the network is back.
    const again = page.getByRole("button", { name: "Try again" });
    await again.waitFor();
    await page.unroute(parts);
    await again.click();
    await page.getByText("is not closed.").first().waitFor();
    expect(await page.getByText("The reason is on its way.").count()).toBe(0);
  });
});

describe("the functions of the language", () => {
  const parts = /assets\/_functions_|assets\/prose-/;

  it("that a book calls come before it is opened", async () => {
    await page.route(parts, (route) => route.abort());
    await page.goto(stage.url);
    await chooseGin();
    await page.getByText("What this book calculates with could not be fetched.").waitFor();
    expect(await page.locator(".bench").count()).toBe(0);
    await page.unroute(parts);
    await page.getByRole("button", { name: "Try again" }).click();
    await page.locator(".bench").waitFor();
    expect(await page.locator(".slip.fault").count()).toBe(0);
  });

  it("that are written before they have come are a fault that says so, and are worked out when they come", async () => {
    await page.route(parts, (route) => route.abort());
    await page.goto(stage.url);
    await openText(page, 'book "A pot"\nset pull = 60 mbar\n');
    const text = await bookText(page);
    const pane = page.getByRole("textbox", { name: "Text of the book" });
    await pane.fill(`${text}set pot = boils_at(pull)\n`);
    await page.getByText("boils_at has not been fetched yet.").first().waitFor();
    await page.getByText("A function that this book calls could not be fetched.").waitFor();
    await page.unroute(parts);
    await page.getByRole("button", { name: "Try again" }).click();
    const shown = openBook(`${text}set pot = boils_at(pull)\n`).value("pot")!;
    expect(shown.type).toBe("quantity");
    await page
      .getByText(/^36\.\d+/)
      .first()
      .waitFor();
    await page.getByText("has not been fetched yet").waitFor({ state: "detached" });
    expect(await page.getByText("could not be fetched").count()).toBe(0);
  });
});

describe("the words of the functions", () => {
  it("come after the book and its cautions, are waited for where they are asked for, and are never shown empty", async () => {
    let letThrough = (): void => undefined;
    const held = new Promise<void>((done) => {
      letThrough = done;
    });
    const words: string[] = [];
    await page.route(/assets\/prose-/, async (route) => {
      words.push(route.request().url());
      await held;
      await route.continue();
    });
    await page.goto(stage.url);
    await openCard(page, /Harbour gin/);
    const book = page.getByRole("main");
    await book
      .getByText(/Ethanol vapour ignites/)
      .first()
      .waitFor();
    await part(page, "water", "total").click();
    const side = page.getByRole("complementary", { name: /^Why/ });
    await side.getByText("One moment").waitFor();
    expect(await side.locator(".equation").count()).toBe(0);
    expect(words).toHaveLength(1);
    letThrough();
    const { equation, source } = vocabulary.get("let_down")!;
    await side.getByText(equation).waitFor();
    const shown = squeezed(await side.innerText());
    expect(shown).toContain(source.slice(1));
  });
});
