import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { axe, bookText, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const squeezed = (text: string): string => text.replace(/\s+/g, " ").trim();
const book = `book "Bay cordial"
set bottling = 20 %vol
set strong   = 1200 mL

table stock "Stock"
| item | volume (mL) | strength |
| bay  | 900         | 48 %vol  |
column spirit = pure_volume(volume, strength)
`;
const pane = (page: Page) => page.getByRole("textbox", { name: "Text of the book" });
const offers = (page: Page) => page.getByRole("listbox", { name: "What can stand here" });
const button = (page: Page, name: string | RegExp) => page.getByRole("button", { name });
const card = (page: Page) => page.getByRole("tooltip");

/** Puts the caret behind some words of the text. */
const caretBehind = (page: Page, words: string) =>
  pane(page).evaluate((field, words) => {
    const area = field as HTMLTextAreaElement;
    const at = area.value.indexOf(words) + words.length;
    area.focus();
    area.setSelectionRange(at, at);
  }, words);

/** The middle of a word as it stands on the screen. */
const placeOf = (page: Page, word: string): Promise<{ x: number; y: number }> =>
  page.locator(".text-sheet pre").evaluate((pre, word) => {
    const walker = document.createTreeWalker(pre, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode() as Text | null; node; node = walker.nextNode() as Text | null) {
      const at = node.data.indexOf(word);
      if (at < 0) continue;
      const range = document.createRange();
      range.setStart(node, at);
      range.setEnd(node, at + word.length);
      const r = range.getBoundingClientRect();
      return { x: r.left + r.width / 2, y: r.top + r.height / 2 };
    }
    throw new Error(`${word} is not in the text`);
  }, word);

describe("the text of the book", () => {
  it("offers names, functions and units while it is typed in, and takes them by keys that its own undo knows", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, book);
    await bookText(page);
    await caretBehind(page, "1200 mL\n");
    await page.keyboard.type("set half = bott");
    await offers(page).waitFor();
    expect(squeezed(await offers(page).getByRole("option", { selected: true }).innerText())).toContain(
      "bottling",
    );
    expect(await axe(page)).toEqual([]);
    // The list hangs below the caret.
    const [list, word] = [await offers(page).boundingBox(), await placeOf(page, "half")];
    expect(list!.y).toBeGreaterThan(word.y);
    await page.keyboard.press("Enter");
    expect(await pane(page).inputValue()).toContain("set half = bottling\n");
    expect(await offers(page).count()).toBe(0);
    await page.keyboard.press("Control+z");
    expect(await pane(page).inputValue()).toContain("set half = bott\n");
    await page.keyboard.press("Control+a");
    await page.keyboard.type("set a = 3 ");
    await offers(page).waitFor();
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("ArrowDown");
    expect(await pane(page).getAttribute("aria-activedescendant")).toMatch(/^offer-\d+$/);
    await page.keyboard.press("Escape");
    expect(await offers(page).count()).toBe(0);
    // With nothing on offer the keys are the field's own again.
    await page.keyboard.press("Enter");
    await page.keyboard.type("set b = let_d");
    await offers(page).waitFor();
    await page.keyboard.press("Tab");
    expect(await pane(page).inputValue()).toMatch(/^set a = 3 \nset b = let_down\(/);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("tells the word under the pointer on a card that can be gone over to, and that Escape closes", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, book);
    await bookText(page);
    const name = await placeOf(page, "pure_volume");
    await page.mouse.move(name.x, name.y);
    await card(page).waitFor();
    expect(squeezed(await card(page).innerText())).toMatch(/^pure_volume\(/);
    expect(await axe(page)).toEqual([]);
    const box = await card(page).boundingBox();
    await page.mouse.move(name.x, box!.y + box!.height - 8, { steps: 4 });
    await page.mouse.move(box!.x + 20, box!.y + box!.height - 8, { steps: 4 });
    // Over the card it stays for as long as the pointer does.
    await page.waitForTimeout(700);
    expect(await card(page).count()).toBe(1);
    await page.keyboard.press("Escape");
    expect(await card(page).count()).toBe(0);
    const unit = await placeOf(page, "%vol");
    await page.mouse.move(unit.x, unit.y);
    await card(page).waitFor();
    expect(squeezed(await card(page).innerText())).toContain("%vol");
    await page.mouse.move(5, 5);
    await card(page).waitFor({ state: "detached" });
    expect(mishaps).toEqual([]);
    await close();
  });

  it("tells the word at the caret when Alt and Enter ask for it", async () => {
    const { page, mishaps, close } = await stage.open({ width: 820, height: 1100 });
    await openText(page, book);
    await bookText(page);
    await caretBehind(page, "set stro");
    await page.keyboard.press("Alt+Enter");
    await card(page).waitFor();
    expect(squeezed(await card(page).innerText())).toMatch(/^strong 1200 mL/);
    expect(await pane(page).getAttribute("aria-describedby")).toBe("text-hover");
    await page.keyboard.press("Escape");
    expect(await card(page).count()).toBe(0);
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe("TEXTAREA");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("goes from a name to where it is written and to its uses, and renames it everywhere in one step", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, book);
    await bookText(page);
    const chosen = () =>
      pane(page).evaluate((field) => {
        const { value, selectionStart, selectionEnd } = field as HTMLTextAreaElement;
        return { word: value.slice(selectionStart, selectionEnd), before: value.slice(0, selectionStart) };
      });
    const named = page.getByRole("region", { name: "The name at the caret" });
    await caretBehind(page, "pure_volume(volu");
    await page.keyboard.press("ArrowLeft");
    await named.getByText("volume, a column, used once").waitFor();
    await named.getByRole("button", { name: "Where it is written" }).click();
    expect((await chosen()).word).toBe("volume");
    expect((await chosen()).before).toMatch(/\n\| item \| $/);
    await named.getByRole("button", { name: "Next use" }).click();
    expect((await chosen()).before).toMatch(/pure_volume\($/);
    await page.keyboard.press("F2");
    await page.keyboard.type("strength");
    await page.keyboard.press("Enter");
    await named.getByRole("alert").waitFor();
    expect(await axe(page)).toEqual([]);
    expect(await pane(page).inputValue()).toBe(book);
    await page.keyboard.press("Control+a");
    await page.keyboard.type("amount");
    await page.keyboard.press("Enter");
    await named.getByText("amount, a column, used once").waitFor();
    expect(await pane(page).inputValue()).toBe(
      book.replace("volume (mL)", "amount (mL)").replace("(volume,", "(amount,"),
    );
    await button(page, /^Undo/).click();
    await page.waitForFunction(
      (text) => document.querySelector<HTMLTextAreaElement>(".text-sheet textarea")?.value === text,
      book,
    );
    // A function of the vocabulary has no other name.
    await caretBehind(page, "pure_vol");
    await page.keyboard.press("ArrowLeft");
    await page.getByText("Put the caret on a name").waitFor();
    expect(mishaps).toEqual([]);
    await close();
  });
});
