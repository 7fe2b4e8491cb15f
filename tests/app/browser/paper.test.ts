import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { focused, openCard, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

describe("on paper", () => {
  it("the bench card stands alone, with its steps, blanks and cautions", async () => {
    const { page, mishaps, close } = await stage.open();
    await openCard(page, /Harbour gin/);
    await page.evaluate(() => {
      // The print window waits for a person; its begin and end are what counts here.
      window.print = () => undefined;
    });
    await page.getByRole("button", { name: "Print card" }).first().click();
    await page.emulateMedia({ media: "print" });
    const seen = await page.evaluate(() => (document.body.innerText.match(/\S+/g) ?? []).join(" "));
    expect(seen).toContain("Harbour gin, spring trial");
    expect(seen).toMatch(/Stir in 1978( ± \d+)? g of water at 20 °C/);
    expect(seen).toContain("Ethanol vapour ignites");
    expect(seen).toContain("Local codes and licensed practice come first.");
    expect(seen).not.toContain("Add a row");
    expect(seen).not.toContain("What it costs");
    const sheets = await page.pdf({ format: "A4" });
    expect(sheets.subarray(0, 5).toString()).toBe("%PDF-");
    // A card of five steps goes on one sheet, and no empty one comes after it.
    expect(sheets.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length).toBe(1);
    await page.emulateMedia({ media: "screen" });
    await page.evaluate(() => dispatchEvent(new Event("afterprint")));
    expect(await page.evaluate(() => document.body.dataset.print)).toBeUndefined();
    expect(mishaps).toEqual([]);
    await close();
  });

  it("a browser that does not print prints the whole book the next time it is asked itself", async () => {
    const { page, mishaps, close } = await stage.open();
    await openCard(page, /Harbour gin/);
    await page.evaluate(() => {
      window.print = () => undefined;
    });
    const print = page.getByRole("button", { name: "Print card" }).first();
    const set = () => page.evaluate(() => document.body.dataset.print);
    for (const goOn of [
      () => page.getByRole("heading", { name: "Harbour gin, spring trial" }).click(),
      () => page.keyboard.press("Shift"),
    ]) {
      await print.click();
      expect(await set()).toBe("card");
      await goOn();
      expect(await set()).toBeUndefined();
    }
    await print.focus();
    await page.keyboard.press("Enter");
    expect(await set()).toBe("card");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("the whole book leaves out what only the screen needs", async () => {
    const { page, close } = await stage.open({ scheme: "dark" });
    await openCard(page, /Setting the still/);
    await page.emulateMedia({ media: "print" });
    const seen = await page.evaluate(() => document.body.innerText);
    expect(seen).toContain("Liquids on the bench");
    expect(seen).toContain("boils_at(");
    for (const word of ["Add a row", "Keep and send", "Contents", "The numbers"])
      expect(seen).not.toContain(word);
    // Always light: black on white.
    expect(
      await page.evaluate(() => getComputedStyle(document.querySelector(".page")!).backgroundColor),
    ).toBe("rgb(255, 255, 255)");
    await close();
  });
});

describe("a long table", () => {
  it("is drawn where it is looked at, keeps the focused row, and counts every row aloud", async () => {
    const { page, mishaps, close } = await stage.open();
    const rows = Array.from({ length: 5000 }, (_, i) => `| r${i} | ${400 + (i % 100)} |`).join("\n");
    await openText(
      page,
      `table runs "Runs"\n| run | got (mL) |\n${rows}\ncolumn twice = 2 * got\nfoot got = sum(got)\n`,
    );
    const grid = page.getByRole("grid", { name: "Runs" });
    expect(await grid.getAttribute("aria-rowcount")).toBe("5003");
    expect(await grid.locator("tbody tr:not(.spacer)").count()).toBeLessThan(150);
    const at = (r: number, c: number) => page.locator(`[data-cell="${r},${c}"]`);
    await at(2, 1).click();
    await page.locator(".hold.long").evaluate((box) => {
      box.scrollTop = 100_000;
    });
    await at(2640, 1).waitFor();
    // The row with the focus is still there, and typing goes into it.
    expect(await focused(page)).toBe("r2, got, 402 mL, typed");
    await page.keyboard.type("7");
    await page.keyboard.press("Enter");
    expect(await focused(page)).toBe("r3, got, 403 mL, typed");
    expect(await at(2, 2).innerText()).toBe("14");
    await page.keyboard.press("Control+End");
    await page.keyboard.press("ArrowUp");
    expect(await focused(page)).toBe("r4999, twice, 998 mL, computed");
    expect(await page.locator('tr[aria-rowindex="5002"]').count()).toBe(1);
    expect(mishaps).toEqual([]);
    await close();
  });
});
