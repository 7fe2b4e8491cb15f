import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { axe, bookText, command, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const squeezed = (text: string): string => text.replace(/\s+/g, " ").trim();
const button = (page: Page, name: string | RegExp) => page.getByRole("button", { name, exact: true });
const sheet = (page: Page) => page.getByRole("complementary", { name: /^Compare/ });

const liqueur = `book "Quince liqueur"
set bottling = 30 %vol     # the label
set sugar    = 240 g

table stock "Stock"
| item   | volume (mL) | strength |
| quince | 900         | 48 %vol  |
| ginger | 120         | 62 %vol  |
column spirit = pure_volume(volume, strength)
foot spirit = sum(spirit)

set added = let_down(stock.quince.volume, stock.quince.strength, to: bottling).add

step "Stir in {added in mL} of water."
step "Dissolve {sugar in g} of sugar."
`;

async function copiedLink(page: Page): Promise<string> {
  await button(page, "Keep and send").click();
  await page.getByRole("button", { name: /^Copy a link/ }).click();
  await page
    .getByText(/^Copied the link/)
    .first()
    .waitFor();
  return page.evaluate(() => navigator.clipboard.readText());
}

/** Writes another text into the pane of the text. */
async function rewrite(page: Page, ...changes: readonly (readonly [string, string])[]): Promise<string> {
  let text = await bookText(page);
  for (const [from, to] of changes) {
    expect(text).toContain(from);
    text = text.replace(from, to);
  }
  await page.getByRole("textbox", { name: "Text of the book" }).fill(text);
  await page.getByText(/^Saved in this browser/).waitFor();
  return text;
}

async function beside(page: Page, link: string): Promise<void> {
  await button(page, "Go over").click();
  await button(page, "Compare with another version").click();
  await sheet(page).getByRole("textbox", { name: "Paste the link that was sent to you" }).fill(link);
  await button(page, "Compare with the link").click();
}

const entry = (page: Page, name: string) =>
  sheet(page)
    .locator(".differences > li")
    .filter({ has: page.locator(".difference-name", { hasText: name }) });

describe("a collaborator", () => {
  it("gets a link, edits a copy, sends it back, and both versions are compared and brought together", async () => {
    const mine = await stage.open();
    const { page } = mine;
    await openText(page, liqueur, "quince.vacuo");
    await page.getByText(/^Saved in this browser/).waitFor();
    const link = await copiedLink(page);

    // The collaborator, in a browser of their own.
    const theirs = await stage.open({ width: 820, height: 1100 });
    await theirs.page.goto(link);
    await theirs.page.getByText("This book came in a link.", { exact: false }).waitFor();
    expect(await bookText(theirs.page)).toBe(liqueur);
    await rewrite(
      theirs.page,
      ["30 %vol", "28 %vol"],
      ["| ginger | 120         |", "| ginger | 150         |"],
      ["Dissolve {sugar in g} of sugar.", "Dissolve {sugar in g} of sugar, and taste."],
    );
    const back = await copiedLink(theirs.page);

    // Meanwhile here: the same strength in another way, and a sugar of one's own.
    const changed = await rewrite(page, ["30 %vol", "32 %vol"], ["240 g", "220 g"]);
    await button(page, "Close").click();
    await beside(page, back);
    await entry(page, "bottling").waitFor();
    expect(squeezed(await entry(page, "bottling").innerText())).toBe(
      "bottling typed here 32 %vol there 28 %vol",
    );
    expect(squeezed(await entry(page, "sugar").innerText())).toBe("sugar typed here 220 g there 240 g");
    expect(squeezed(await entry(page, "stock.ginger.spirit").innerText())).toBe(
      "stock.ginger.spirit follows here 74.4 mL there 93 mL from stock.ginger.volume",
    );
    expect(squeezed(await entry(page, "added").innerText())).toMatch(
      /^added follows here [\d.]+ mL there [\d.]+ mL from bottling$/,
    );
    expect(squeezed(await entry(page, "a step").innerText())).toContain("and taste.");
    expect(await axe(page)).toEqual([]);

    await button(page, "Bring the two together").click();
    const merge = page.getByRole("region", { name: "Bring the two together" });
    // What was sent is what both began as.
    expect(await merge.getByRole("combobox").locator("option:checked").innerText()).toMatch(/opened|sent/);
    await merge.getByText("One thing was changed in both. One is to be chosen.").waitFor();
    expect(await button(page, "Put it into this book").isDisabled()).toBe(true);
    expect(squeezed(await merge.locator(".conflicts").innerText())).toBe(
      'bottling was changed in both. book "Quince liqueur" here set bottling = 32 %vol # the label ' +
        "there set bottling = 28 %vol # the label set sugar = 220 g It was set bottling = 30 %vol # the label.",
    );
    expect(await axe(page)).toEqual([]);
    await merge.getByRole("radio", { name: /^there/ }).focus();
    await page.keyboard.press("Space");
    await merge.getByText("All are chosen.", { exact: false }).waitFor();
    await button(page, "Put it into this book").focus();
    await page.keyboard.press("Enter");
    await merge.waitFor({ state: "detached" });

    const merged = changed
      .replace("32 %vol", "28 %vol")
      .replace("| ginger | 120         |", "| ginger | 150         |")
      .replace("of sugar.", "of sugar, and taste.");
    // What is left is what is kept on purpose.
    await page.waitForFunction(() => document.querySelectorAll(".differences > li").length === 1);
    expect(squeezed(await entry(page, "sugar").innerText())).toBe("sugar typed here 220 g there 240 g");
    expect(await bookText(page)).toBe(merged);
    await button(page, "Undo: bringing in the link").click();
    expect(await bookText(page)).toBe(changed);
    await button(page, "Redo: bringing in the link").click();
    expect(await bookText(page)).toBe(merged);
    expect([...mine.mishaps, ...theirs.mishaps]).toEqual([]);
    await mine.close();
    await theirs.close();
  });

  it("whose version began elsewhere is asked about everything that differs, and nothing is taken out", async () => {
    const { page, mishaps, close } = await stage.open({
      width: 390,
      height: 844,
      touch: true,
      scheme: "dark",
    });
    await openText(page, liqueur);
    await (await command(page, "Compare with another version")).click();
    await page.locator('input[data-for="compare"]').setInputFiles({
      name: "theirs.vacuo",
      mimeType: "text/plain",
      buffer: Buffer.from('book "Another"\nset sugar = 300 g\nset cloves = 4\n'),
    });
    await entry(page, "cloves").waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    expect(await axe(page)).toEqual([]);
    await button(page, "Bring the two together").click();
    const merge = page.getByRole("region", { name: "Bring the two together" });
    expect(await merge.getByRole("combobox").inputValue()).toBe("none");
    await button(page, "All as here").click();
    await button(page, "Put it into this book").click();
    const text = await bookText(page);
    for (const line of liqueur.split("\n")) expect(text.split("\n")).toContain(line);
    expect(text.split("\n")).toContain("set cloves = 4");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("is told what is wrong with a link that was cut", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, liqueur);
    const link = await copiedLink(page);
    await beside(page, link.slice(0, -20));
    const told = sheet(page).getByRole("alert");
    await told.waitFor();
    expect(await told.innerText()).toMatch(/characters arrived/);
    await sheet(page).getByRole("textbox", { name: "Paste the link that was sent to you" }).fill(link);
    await button(page, "Compare with the link").click();
    await sheet(page).getByText("The two say the same, letter by letter.").waitFor();
    expect(mishaps).toEqual([]);
    await close();
  });
});
