import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bookText, cell, openCard, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const saved = (page: import("playwright-core").Page) => page.getByText(/^Saved in this browser/).waitFor();

describe("a book in this browser", () => {
  it("is there again after the page was closed, with the last change that said saved", async () => {
    const { page, context, mishaps, close } = await stage.open();
    await openCard(page, /Harbour gin/);
    await saved(page);
    await cell(page, "distillates", 0, 1).click();
    await page.keyboard.type("2500");
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => document.querySelector(".kept")?.textContent?.startsWith("Saved"));
    const text = await bookText(page);
    expect(text).toContain("| 2500 ");
    await page.close();
    const again = await context.newPage();
    await again.goto(stage.url);
    await again.getByRole("button", { name: "Harbour gin, spring trial", exact: true }).click();
    expect(await bookText(again)).toBe(text);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("is never overwritten by a second tab: the one that comes late is told, and keeps its own", async () => {
    const { page, context, mishaps, close } = await stage.open();
    await openText(page, 'book "Shared"\nset a = 1 g\nset b = 2 g\n', "shared.vacuo");
    await saved(page);
    const other = await context.newPage();
    await other.goto(stage.url);
    await other.getByRole("button", { name: "Shared", exact: true }).click();
    await saved(other);
    const write = async (p: typeof page, name: string, value: string) => {
      await p.getByRole("textbox", { name: new RegExp(`^${name}, `) }).focus();
      await p.keyboard.type(value);
      await p.keyboard.press("Enter");
    };
    await write(page, "a", "10 g");
    await page.waitForFunction(() => document.querySelector(".kept")?.textContent?.startsWith("Saved"));
    await write(other, "b", "20 g");
    const alert = other.getByRole("alert");
    await alert.waitFor();
    expect(await alert.innerText()).toContain("changed in another tab");
    expect(await bookText(other)).toContain("set b = 20 g");
    await alert.getByRole("button", { name: "Keep mine as a new copy" }).click();
    await saved(other);
    expect(await bookText(other)).toBe('book "Shared"\nset a = 1 g\nset b = 20 g\n');
    const third = await context.newPage();
    await third.goto(stage.url);
    await third.getByRole("button", { name: "Shared", exact: true }).first().waitFor();
    expect(await third.getByRole("button", { name: "Shared", exact: true }).count()).toBe(2);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("opens a file as a new copy and downloads it byte for byte", async () => {
    const { page, mishaps, close } = await stage.open();
    const text = '\uFEFF# a remark\r\nbook "Windows"\r\n\r\nset a = 1 g   # kept\r\n';
    await page.evaluate(() => {
      // A browser without file handles, as most are.
      delete (globalThis as { showSaveFilePicker?: unknown }).showSaveFilePicker;
    });
    await openText(page, text, "windows.vacuo");
    await page.keyboard.press("Control+s").catch(() => undefined);
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page
        .getByRole("button", { name: "Keep and send" })
        .click()
        .then(() => page.getByRole("button", { name: /Download a copy/ }).click()),
    ]);
    expect(download.suggestedFilename()).toBe("windows.vacuo");
    const { readFileSync } = await import("node:fs");
    expect(readFileSync(await download.path(), "utf8")).toBe(text);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("refuses what is no text, in words, and opens an empty file", async () => {
    const { page, mishaps, close } = await stage.open();
    await page.locator("input[type=file]").setInputFiles({
      name: "picture.png",
      mimeType: "image/png",
      buffer: Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0xff, 0xfe]),
    });
    expect(await page.getByRole("alert").innerText()).toContain("picture.png is not a text in UTF-8");
    await openText(page, "", "empty.vacuo");
    expect(await bookText(page)).toBe("");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("keeps every letter typed into the text, however wrong, and shows the page beside it in step", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, 'book "Typing"\nset a = 1 g\n');
    await bookText(page);
    const pane = page.getByRole("textbox", { name: "Text of the book" });
    await pane.focus();
    await page.keyboard.press("Control+End");
    await page.keyboard.type("set b = 2 * a\nset c = (b + ");
    await page.getByRole("button", { name: "b, 2 g: why?" }).waitFor();
    expect(await pane.inputValue()).toBe('book "Typing"\nset a = 1 g\nset b = 2 * a\nset c = (b + ');
    await page.locator(".text-slips .slip.fault").waitFor();
    await page.keyboard.type("a)");
    await page.getByRole("button", { name: "c, 3 g: why?" }).waitFor();
    expect(await page.locator(".slip.fault").count()).toBe(0);
    // A spell of typing is one entry of the book's undo stack.
    await page.getByRole("button", { name: /^Undo: typing in the text/ }).click();
    expect(await pane.inputValue()).toBe('book "Typing"\nset a = 1 g\n');
    expect(mishaps).toEqual([]);
    await close();
  });
});
