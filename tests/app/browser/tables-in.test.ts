import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { exportOds, exportXlsx } from "../../../src/exchange";
import { axe, bookText, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const book = 'book "Shelf"\nset jar = 250 mL\nset shelf = 3\n';
const button = (page: Page, name: string | RegExp) => page.getByRole("button", { name, exact: true });
const dialog = (page: Page) => page.getByRole("dialog", { name: "Bring a table in" });
const give = (page: Page, name: string, buffer: Buffer) =>
  page
    .locator('input[data-for="tables"]')
    .setInputFiles({ name, mimeType: "application/octet-stream", buffer });

/** Lets a file go over the page, as a person would drop it. */
const drop = (page: Page, name: string, text: string) =>
  page.evaluate(
    ([name, text]) => {
      const data = new DataTransfer();
      data.items.add(new File([text!], name!));
      const over = document.querySelector("#page, main")!;
      for (const type of ["dragenter", "dragover", "drop"])
        over.dispatchEvent(new DragEvent(type, { bubbles: true, cancelable: true, dataTransfer: data }));
    },
    [name, text],
  );

describe("tables from elsewhere", () => {
  it("come in from a CSV file by the keyboard: named, with units and days, and with what is open asked", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, book);
    await button(page, "A table from elsewhere").focus();
    await page.keyboard.press("Enter");
    await dialog(page).waitFor();
    expect(await axe(page)).toEqual([]);
    await give(
      page,
      "shelf.csv",
      Buffer.from(
        "Item;Volume (ml);Bottled on;Price\nquince;1,250;03/02/2026;4\nginger;2,500;05/02/2026;=1+1\n",
      ),
    );
    // Both readings are shown; the first is taken until another is chosen.
    const decimals = dialog(page)
      .getByRole("group", { name: /can be read in two ways/ })
      .first();
    await decimals.waitFor();
    expect(await axe(page)).toEqual([]);
    await decimals.getByRole("radio", { name: /^1250 / }).check();
    const days = dialog(page).getByRole("group", { name: /In Bottled on/ });
    await days.getByRole("radio", { name: "2026-03-02 (month first)" }).check();
    const put = button(page, "Put it in the book");
    await put.focus();
    await page.keyboard.press("Enter");
    await dialog(page).waitFor({ state: "detached" });
    const text = await bookText(page);
    expect(text.startsWith(`${book}\ntable shelf_2 "shelf"\n`)).toBe(true);
    expect(text).toMatch(/\| quince +\| +1250 +\| 2026-03-02/);
    expect(text).toMatch(/\| item +\| volume \(mL\) +\| bottled_on \(date\)/);
    // What looked like a formula is no formula here.
    expect(openBook(text).messages.filter((m) => m.severity === "fault")).toEqual([]);
    expect(text).toContain('| "=1+1"');
    await button(page, "Undo: bringing in table shelf_2").click();
    expect(await bookText(page)).toBe(book);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("come in from spreadsheets, several at once, of which some are left out", async () => {
    const source = openBook(
      'book "S"\ntable left "Left"\n| a | m (g) |\n| x | 1 |\n| y | 2 |\n\ntable right "Right"\n| b | v (mL) |\n| p | 3 |\n| q | 4 |\n',
    );
    for (const [name, bytes] of [
      ["two.xlsx", await exportXlsx(source)],
      ["two.ods", await exportOds(source)],
    ] as const) {
      const { page, mishaps, close } = await stage.open({ width: 390, height: 844, scheme: "dark" });
      await openText(page, book);
      await button(page, "A table from elsewhere").click();
      await give(page, name, Buffer.from(bytes));
      const boxes = dialog(page).getByRole("checkbox");
      await boxes.first().waitFor();
      expect(await axe(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
      for (const box of await boxes.all()) {
        const label = await box.evaluate((input) => input.closest("label")!.textContent!.trim());
        await box.setChecked(label === "Bring in Right");
      }
      await button(page, "Put it in the book").click();
      await dialog(page).waitFor({ state: "detached" });
      const text = await bookText(page);
      const tables = openBook(text).items.filter((i) => i.type === "table");
      expect(tables.map((t) => [t.title, t.rowCount, t.columns[1]?.unit])).toEqual([["Right", 2, "mL"]]);
      expect(mishaps).toEqual([]);
      await close();
    }
  });

  it("come in by paste, and by a file that is dropped", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, book);
    await button(page, "A table from elsewhere").click();
    await page.evaluate(() => navigator.clipboard.writeText("herb\tmass (g)\nbay\t12\nthyme\t8\n"));
    await dialog(page).getByRole("textbox", { name: "Or paste cells here" }).focus();
    await page.keyboard.press("Control+v");
    await button(page, "Put it in the book").click();
    await dialog(page).waitFor({ state: "detached" });
    expect(await bookText(page)).toMatch(/\| bay +\| +12 \|\n\| thyme +\| +8 \|\n$/);
    await drop(page, "spices.csv", "spice,mass (g)\nmace,3\nclove,5\n");
    await dialog(page).getByText("becomes", { exact: false }).waitFor();
    await page.keyboard.press("Escape");
    await dialog(page).waitFor({ state: "detached" });
    expect(await bookText(page)).not.toContain("mace");
    await drop(page, "spices.csv", "spice,mass (g)\nmace,3\nclove,5\n");
    await button(page, "Put it in the book").click();
    expect(await bookText(page)).toContain('table spices "spices"');
    expect(mishaps).toEqual([]);
    await close();
  });

  it("open an empty book when they are dropped on the start", async () => {
    const { page, mishaps, close } = await stage.open();
    await drop(page, "spices.csv", "spice,mass (g)\nmace,3\nclove,5\n");
    await button(page, "Put it in the book").click();
    expect(await bookText(page)).toMatch(/^book "Untitled"\n\ntable spices "spices"\n/);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("that cannot be read are refused in words, and the book stays", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, book);
    await button(page, "A table from elsewhere").click();
    for (const [name, bytes, says] of [
      ["cut.xlsx", Buffer.from([0x50, 0x4b, 3, 4, 1, 2, 3]), /^cut\.xlsx: /],
      ["old.xls", Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 0, 0]), /old \.xls format/],
      ["words.csv", Buffer.from("only\n"), /Nothing came in/],
    ] as const) {
      await give(page, name, bytes);
      const alert = dialog(page).getByRole("alert").filter({ hasText: says });
      await alert.waitFor();
    }
    await button(page, "Leave it").click();
    expect(await bookText(page)).toBe(book);
    expect(mishaps).toEqual([]);
    await close();
  });
});
