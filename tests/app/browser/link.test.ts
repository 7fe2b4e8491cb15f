import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { encodeLink } from "../../../src/exchange";
import { axe, bookText, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const short = 'book "Shared"\nset a = 1 g\n';
const workbook = (name: string): string =>
  readFileSync(resolve(import.meta.dirname, `../../../workbooks/${name}.vacuo`), "utf8");
const linkTo = (text: string): string => `${stage.url}#${encodeLink(text).fragment}`;
const saved = (page: Page) =>
  page.waitForFunction(() =>
    document.querySelector(".kept")?.textContent?.startsWith("Saved in this browser"),
  );
const change = async (page: Page, name: string, words: string) => {
  await page.getByRole("textbox", { name: new RegExp(`^${name}, `) }).focus();
  await page.keyboard.type(words);
  await page.keyboard.press("Enter");
};

describe("a link", () => {
  it("opens as a new copy, is kept, and is opened once", async () => {
    const { context, mishaps, close } = await stage.open();
    const page = await context.newPage();
    await page.goto(linkTo(workbook("harbour-gin")));
    await page.getByRole("alert").filter({ hasText: "came in a link" }).waitFor();
    expect(await bookText(page)).toBe(workbook("harbour-gin"));
    expect(page.url()).toBe(stage.url);
    await saved(page);
    await page.reload();
    await page.getByRole("heading", { name: "Kept in this browser" }).waitFor();
    expect(await page.getByRole("button", { name: "Harbour gin, spring trial", exact: true }).count()).toBe(
      1,
    );
    expect(mishaps).toEqual([]);
    await close();
  });

  it("never touches the work that is here: an open book is saved first, and a book of the same name stays", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, short, "shared.vacuo");
    await saved(page);
    await change(page, "a", "2 g");
    // No rest for saving: the address changes right after the key.
    await page.evaluate((link) => {
      location.href = link;
    }, linkTo(short));
    await page.getByRole("alert").filter({ hasText: "came in a link" }).waitFor();
    expect(await bookText(page)).toBe(short);
    await change(page, "a", "3 g");
    await saved(page);
    await page.reload();
    const kept = page.getByRole("button", { name: "Shared", exact: true });
    await kept.first().waitFor();
    expect(await kept.count()).toBe(2);
    const texts: string[] = [];
    for (const which of [0, 1]) {
      await kept.nth(which).click();
      texts.push(await bookText(page));
      await page.getByRole("button", { name: "Books", exact: true }).click();
      await kept.first().waitFor();
    }
    expect(texts.sort()).toEqual([short.replace("1 g", "2 g"), short.replace("1 g", "3 g")]);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("that was cut off, changed or made by a newer version is told in words, and opens nothing", async () => {
    const { context, mishaps, close } = await stage.open();
    const { fragment } = encodeLink(workbook("bay-honey"));
    const [, length, sum, data] = fragment.split(".");
    const damaged = `1.${length}.${sum}.${data!.slice(0, 40)}${data![40] === "A" ? "B" : "A"}${data!.slice(41)}`;
    for (const [what, words] of [
      [fragment.slice(0, -200), /cut off on its way: \d+ of \d+ characters arrived/],
      [fragment.slice(0, 6), /cut off on its way/],
      [damaged, /changed on its way/],
      [fragment.replace(/^1/, "7"), /newer version \(7\)/],
      [`${fragment}&from=mail`, /changed on its way|Something was added/],
    ] as const) {
      const page = await context.newPage();
      await page.goto(`${stage.url}#${what}`);
      const slip = page.getByRole("alert");
      await slip.waitFor();
      expect(await slip.innerText()).toMatch(words);
      expect(await page.locator(".bench").count()).toBe(0);
      expect(await axe(page)).toEqual([]);
      await page.close();
    }
    expect(mishaps).toEqual([]);
    await close();
  });

  it("that is broken leaves an open book as it is", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, short, "shared.vacuo");
    await page.evaluate(() => {
      location.hash = "1.500.00000000.abc";
    });
    await page.getByRole("alert").filter({ hasText: "cut off" }).waitFor();
    expect(await bookText(page)).toBe(short);
    expect(mishaps).toEqual([]);
    await close();
  });
});

describe("sending a link", () => {
  it("tells its size first, and copies an address that opens the same book elsewhere", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, short, "shared.vacuo");
    await page.getByRole("button", { name: "Keep and send" }).click();
    const command = page.getByRole("button", { name: /^Copy a link/ });
    await command.waitFor();
    const link = linkTo(short);
    expect(await command.innerText()).toContain(`${link.length} characters`);
    await command.click();
    await page.getByRole("status").filter({ hasText: "Copied the link" }).first().waitFor();
    expect(await page.evaluate(() => navigator.clipboard.readText())).toBe(link);
    const guest = await stage.open();
    await guest.page.goto("about:blank");
    await guest.page.goto(link);
    expect(await bookText(guest.page)).toBe(short);
    expect([...mishaps, ...guest.mishaps]).toEqual([]);
    await guest.close();
    await close();
  });

  it("offers a file before a link that some programs would cut", async () => {
    const { page, mishaps, close } = await stage.open();
    // Words that do not shrink.
    const words = Array.from({ length: 900 }, (_, i) => ((i * 7919 + 13) ** 2 % 99_991).toString(36)).join(
      " ",
    );
    const long = `book "Long"\nabout "${words}"\nset a = 1 g\n`;
    expect(encodeLink(long).fragment.length).toBeGreaterThan(2_000);
    await openText(page, long, "long.vacuo");
    await page.getByRole("button", { name: "Keep and send" }).click();
    const file = page.getByRole("button", { name: /^Send a file instead/ });
    await file.waitFor();
    expect(await axe(page)).toEqual([]);
    expect(await page.getByRole("button", { name: /^Copy the long link/ }).innerText()).toMatch(
      /\d,\d{3} characters/,
    );
    const [download] = await Promise.all([page.waitForEvent("download"), file.click()]);
    expect(download.suggestedFilename()).toBe("long.vacuo");
    expect(readFileSync(await download.path(), "utf8")).toBe(long);
    expect(mishaps).toEqual([]);
    await close();
  });
});
