import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { axe, cell, command, openCard, openText, part, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const widths = [
  [1280, "desk"],
  [820, "tablet"],
  [390, "phone"],
] as const;

const broken = `book "Broken in places"
set a = (1 + 
set b = 2 L + 3 g
table t "A table"
| item | amount (g) | |
| one  | twelve |
column twice = 2 * amuont
chart "No such" : bars t.nothing by t.item
step "Stir {a} and {b}."
nonsense here
`;

describe("axe-core finds nothing", () => {
  for (const [width, name] of widths)
    for (const scheme of ["light", "dark"] as const)
      it(`at the start and in a book, ${name}, ${scheme}`, async () => {
        const { page, mishaps, close } = await stage.open({ width, scheme, height: 1000 });
        expect(await axe(page)).toEqual([]);
        await openCard(page, /Harbour gin/);
        expect(await axe(page)).toEqual([]);
        // The sideways scroll belongs to tables, never to the page.
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
        await part(page, "water", "add").first().click();
        expect(await axe(page)).toEqual([]);
        const text = await command(page, "Text");
        // The open list of a phone's commands, too.
        expect(await axe(page)).toEqual([]);
        await text.click();
        expect(await axe(page)).toEqual([]);
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
        expect(mishaps).toEqual([]);
        await close();
      });

  it("while a cell is written, with offers, a question about a comma, and an open list", async () => {
    const { page, close } = await stage.open();
    await openCard(page, /Harbour gin/);
    await cell(page, "distillates", 0, 1).click();
    expect(await axe(page)).toEqual([]);
    await page.keyboard.type("= 1.9 * dist");
    await page.getByRole("listbox").waitFor();
    expect(await axe(page)).toEqual([]);
    await page.keyboard.press("Escape");
    await page.keyboard.type("1,234");
    await page.keyboard.press("Enter");
    await page.getByRole("listbox", { name: "Which number is meant?" }).waitFor();
    expect(await axe(page)).toEqual([]);
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: "Keep and send" }).click();
    expect(await axe(page)).toEqual([]);
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: "Functions" }).click();
    await page.getByRole("searchbox").fill("let_down");
    expect(await axe(page)).toEqual([]);
    await close();
  });

  it("on charts, trials and the still", async () => {
    for (const title of [/eight runs/, /Setting the still/, /Bay-leaf honey/, /cider/]) {
      const { page, close } = await stage.open();
      await openCard(page, title);
      expect(await axe(page)).toEqual([]);
      await close();
    }
  });

  it("on a book that is broken in many places", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, broken);
    expect(await page.locator(".slip.fault").count()).toBeGreaterThan(2);
    expect(await axe(page)).toEqual([]);
    await page.getByRole("button", { name: "Text", exact: true }).click();
    expect(await page.getByRole("textbox", { name: "Text of the book" }).inputValue()).toBe(broken);
    expect(await axe(page)).toEqual([]);
    expect(mishaps).toEqual([]);
    await close();
  });
});
