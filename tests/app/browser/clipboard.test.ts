import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bookText, cell, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const small = `table t
| item | amount (g) | note (text) |
| one  | 10         | a           |
| two  | = 2 * 10 g | b           |
column double = 2 * amount
`;

describe("copy and paste", () => {
  it("copies what is shown as text and what was written as our own", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, small);
    await cell(page, "t", 0, 1).click();
    await page.keyboard.press("Shift+ArrowDown");
    await page.keyboard.press("Control+c");
    const plain = await page.evaluate(() => navigator.clipboard.readText());
    expect(plain.split("\n")).toEqual(["10 g", "20 g"]);
    // Pasted back, the formula is a formula.
    await cell(page, "t", 0, 1).click();
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Control+v");
    const text = await bookText(page);
    expect(text).toContain("| two  | 10         | b           |");
    expect(text).toMatch(/\n\| +\| = 2 \* 10 g +\|/);
    await page.keyboard.press("Escape");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("adds the rows that a paste needs, in one entry of the undo stack", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, small);
    await page.evaluate(() =>
      navigator.clipboard.writeText('three\t30\t"with ""quotes"" | and bar"\nfour\t40\tc\n'),
    );
    await cell(page, "t", 1, 0).click();
    await page.keyboard.press("Control+v");
    expect(await bookText(page)).toContain('| three | 30         | with "quotes" \\| and bar |');
    expect(await bookText(page)).toContain("| four | 40         | c           |");
    await page.getByRole("button", { name: "Undo: pasting 6 cells" }).click();
    expect(await bookText(page)).toBe(small);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("asks how commas are meant, and shows what it would write", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, small);
    await page.evaluate(() => navigator.clipboard.writeText("1,234\n5,5"));
    await cell(page, "t", 0, 1).click();
    await page.keyboard.press("Control+v");
    const dialog = page.getByRole("dialog", { name: "Paste 2 rows" });
    await dialog.waitFor();
    expect(await dialog.locator("td").allInnerTexts()).toEqual(["1.234", "5.5"]);
    await dialog.getByRole("radio", { name: "Commas group thousands" }).check();
    expect(await dialog.locator("td").allInnerTexts()).toEqual(["1234", "5,5"]);
    await dialog.getByRole("radio", { name: "Commas are decimal marks" }).check();
    await dialog.getByRole("button", { name: "Paste" }).click();
    expect(await cell(page, "t", 0, 1).innerText()).toBe("1.234");
    expect(await cell(page, "t", 1, 1).innerText()).toMatch(/^5\.5/);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("says which columns have no place, and leaves computed ones alone", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, small);
    await page.evaluate(() => navigator.clipboard.writeText("x\t1\ty\t99\tz"));
    await cell(page, "t", 0, 0).click();
    await page.keyboard.press("Control+v");
    const dialog = page.getByRole("dialog", { name: "Paste a row" });
    expect(await dialog.innerText()).toContain("One column has no place in this table");
    expect(await dialog.innerText()).toContain("One column is computed and will stay so");
    await dialog.getByRole("button", { name: "Leave it" }).click();
    expect(await bookText(page)).toBe(small);
    expect(mishaps).toEqual([]);
    await close();
  });
});
