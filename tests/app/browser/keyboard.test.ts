import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bookText, cell, focused, openCard, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const small = `book "Small"
set total = t.foot.amount

table t "Things"
| item | amount (g) | price    |
| one  | 10         | 2 GBP/kg |
| two  | 20         | 3 GBP/kg |
column cost = amount * price
foot amount = sum(amount)
check total < 100 g : "it fits the bowl"
step "Weigh {total}."
`;

describe("by keyboard alone", () => {
  it("walks through a table by cells, rows and columns, as one stop of Tab", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, small);
    await cell(page, "t", 0, 0).click();
    expect(await focused(page)).toBe("item, one");
    const walk = async (key: string) => {
      await page.keyboard.press(key);
      return focused(page);
    };
    expect(await walk("ArrowRight")).toBe("one, amount, 10 g, typed");
    expect(await walk("ArrowDown")).toBe("two, amount, 20 g, typed");
    expect(await walk("ArrowDown")).toBe("foot, amount, 30 g, sum(amount)");
    expect(await walk("ArrowDown")).toBe("foot, amount, 30 g, sum(amount)");
    expect(await walk("Control+Home")).toBe("item, one");
    expect(await walk("ArrowLeft")).toBe("item, one");
    expect(await walk("End")).toBe("one, cost, 0.02 GBP, computed");
    expect(await walk("ArrowUp")).toBe("cost, formula: amount * price");
    expect(await walk("ArrowUp")).toBe("heading cost, in GBP");
    expect(await walk("Control+End")).toBe("foot, cost, empty");
    expect(await walk("PageUp")).toBe("heading cost, in GBP");
    expect(await walk("Tab")).toMatch(/^Add a row/);
    expect(await walk("Shift+Tab")).toBe("heading cost, in GBP");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("says on every row and cell where it stands, and what cannot be typed in", async () => {
    const { page, close } = await stage.open();
    await openText(page, small);
    const grid = page.getByRole("grid", { name: "Things" });
    expect(await grid.getAttribute("aria-rowcount")).toBe("5");
    expect(await grid.getAttribute("aria-colcount")).toBe("4");
    const rows = await grid
      .locator("tr")
      .evaluateAll((all) => all.map((r) => r.getAttribute("aria-rowindex")));
    expect(rows).toEqual(["1", "2", "3", "4", "5"]);
    expect(await cell(page, "t", 0, 3).getAttribute("aria-readonly")).toBe("true");
    expect(await cell(page, "t", 0, 1).getAttribute("aria-readonly")).toBeNull();
    await cell(page, "t", 0, 1).click();
    await page.keyboard.press("Shift+ArrowDown");
    expect(await grid.locator('[aria-selected="true"]').count()).toBe(2);
    await page.keyboard.press("Control+a");
    expect(await grid.locator('tbody [aria-selected="true"]').count()).toBe(8);
    await close();
  });

  it("writes, keeps, moves on and leaves, and undoes with the place", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, small);
    await cell(page, "t", 0, 1).click();
    await page.keyboard.type("15");
    await page.keyboard.press("Tab");
    expect(await focused(page)).toBe("one, price, 2 GBP/kg, typed");
    await page.keyboard.press("F2");
    await page.keyboard.press("Backspace");
    await page.keyboard.press("Escape");
    expect(await cell(page, "t", 0, 2).innerText()).toMatch(/^2\s*GBP\/kg$/);
    await page.keyboard.press("Enter");
    await page.keyboard.type(" ± 0.1 GBP/kg");
    await page.keyboard.press("Tab");
    // From the last typed column Tab goes on to the next row.
    expect(await focused(page)).toBe("item, two");
    expect(await bookText(page)).toBe(
      small.replace("| 10         | 2 GBP/kg |", "| 15         | 2 GBP/kg ± 0.1 GBP/kg |"),
    );
    await page.keyboard.press("Control+z");
    await page.keyboard.press("Control+z");
    expect(await bookText(page)).toBe(small);
    expect(await focused(page)).toBe("one, amount, 10 g, typed");
    await page.keyboard.press("Control+Shift+z");
    expect(await cell(page, "t", 0, 1).innerText()).toBe("15");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("goes on with Tab from cell to cell while the table is filled, typed in or not, and out past the last one", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, small);
    const walk = async (key: string) => {
      await page.keyboard.press(key);
      return focused(page);
    };
    await cell(page, "t", 0, 0).click();
    await page.keyboard.type("first");
    expect(await walk("Tab")).toBe("first, amount, 10 g, typed");
    // Nothing is typed here: Tab skips it, and the next row begins behind the last typed column.
    expect(await walk("Tab")).toBe("first, price, 2 GBP/kg, typed");
    expect(await walk("Shift+Tab")).toBe("first, amount, 10 g, typed");
    expect(await walk("Tab")).toBe("first, price, 2 GBP/kg, typed");
    await page.keyboard.type("4 GBP/kg");
    expect(await walk("Tab")).toBe("item, two");
    expect(await walk("Tab")).toBe("two, amount, 20 g, typed");
    expect(await walk("Tab")).toBe("two, price, 3 GBP/kg, typed");
    expect(await walk("Tab")).toMatch(/^Add a row/);
    // Back in the table, it is one stop again.
    expect(await walk("Shift+Tab")).toBe("two, price, 3 GBP/kg, typed");
    expect(await walk("Shift+Tab")).not.toMatch(/^two/);
    for (const ends of ["ArrowRight", "Escape", "click"]) {
      await cell(page, "t", 0, 1).click();
      await page.keyboard.type("12");
      expect(await walk("Enter")).toBe("two, amount, 20 g, typed");
      if (ends === "click") await cell(page, "t", 0, 2).click();
      else await page.keyboard.press(ends);
      expect(await walk("Tab"), ends).toMatch(/^Add a row/);
    }
    expect(mishaps).toEqual([]);
    await close();
  });

  it("adds, moves, fills and removes rows and columns", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, small);
    await cell(page, "t", 1, 1).click();
    await page.keyboard.press("Control+Enter");
    expect(await focused(page)).toBe("item, no name");
    for (const word of ["three", "30", "4 GBP/kg"]) {
      await page.keyboard.type(word);
      await page.keyboard.press("Tab");
    }
    expect(await cell(page, "t", 3, 1).innerText()).toMatch(/^60/);
    await cell(page, "t", 2, 0).click();
    await page.keyboard.press("Alt+ArrowUp");
    expect(await cell(page, "t", 1, 0).innerText()).toBe("three");
    await cell(page, "t", 0, 2).click();
    await page.keyboard.press("Alt+Shift+ArrowDown");
    expect(await cell(page, "t", 2, 2).innerText()).toMatch(/^2\s*GBP/);
    await page.keyboard.press("Delete");
    expect(await cell(page, "t", 0, 2).innerText()).toBe("gap");
    await page.keyboard.press("Control+z");
    await cell(page, "t", 1, 0).click();
    await page.keyboard.press("Control+Delete");
    expect(await cell(page, "t", 1, 0).innerText()).toBe("two");
    // Heading row: columns.
    await cell(page, "t", -2, 1).click();
    await page.keyboard.press("Alt+ArrowRight");
    expect(await cell(page, "t", -2, 2).innerText()).toMatch(/^amount/);
    await page.keyboard.press("Control+Delete");
    expect(await page.locator("[data-grid] thead tr").first().locator("th").count()).toBe(3);
    for (let i = 0; i < 6; i++) await page.keyboard.press("Control+z");
    expect(await bookText(page)).toContain("| two  | 20         | 3 GBP/kg |");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("renames a value everywhere it is used, and keeps aside what cannot be kept", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, small);
    await page.getByRole("button", { name: "total, 30 g: why?" }).waitFor();
    await page.locator(".value .label").first().click();
    await page.keyboard.press("Enter");
    await page.keyboard.press("Control+a");
    await page.keyboard.type("in the bowl");
    await page.keyboard.press("Enter");
    expect(await bookText(page)).toBe(
      small
        .replace("set total", "set `in the bowl`")
        .replace("check total", "check `in the bowl`")
        .replace("{total}", "{`in the bowl`}"),
    );
    await page.keyboard.press("Control+z");
    await page.locator(".value .label").first().click();
    await page.keyboard.press("Enter");
    await page.keyboard.press("Control+a");
    await page.keyboard.type("book");
    await cell(page, "t", 0, 1).click();
    const line = page.getByRole("region", { name: "Formula line" });
    expect(await line.innerText()).toContain("Not kept: book");
    await line.getByRole("button", { name: "Take it up again" }).click();
    expect(await page.evaluate(() => (document.activeElement as HTMLTextAreaElement).value)).toBe("book");
    await page.keyboard.press("Escape");
    expect(await bookText(page)).toBe(small);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("goes past the contents with its first key, to the commands of the page", async () => {
    const { page, mishaps, close } = await stage.open();
    await openCard(page, /Harbour gin/);
    await page.evaluate(() => (document.activeElement as HTMLElement).blur());
    await page.keyboard.press("Tab");
    expect(await focused(page)).toBe("Past the contents");
    const skip = (await page.getByRole("link", { name: "Past the contents" }).boundingBox())!;
    expect(skip.y).toBeGreaterThanOrEqual(0);
    await page.keyboard.press("Enter");
    await page.keyboard.press("Tab");
    expect(await focused(page)).toBe("Why");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("reaches why from a cell, and every command of the page by Tab", async () => {
    const { page, close } = await stage.open();
    await openText(page, small);
    await cell(page, "t", 0, 3).click();
    await page.keyboard.press("Alt+Enter");
    await page.getByRole("complementary", { name: "Why t.one.cost" }).waitFor();
    await page.evaluate(() => (document.activeElement as HTMLElement).blur());
    const seen = new Set<string>();
    await page.evaluate(() => scrollTo(0, 0));
    await page.getByRole("button", { name: /^Why$/ }).first().focus();
    for (let i = 0; i < 80; i++) {
      seen.add(await focused(page));
      await page.keyboard.press("Tab");
    }
    for (const wanted of [
      "Text",
      "Functions",
      "Print card",
      "Keep and send",
      "View",
      "Books",
      "Add a row",
      "value",
      "step",
      "Close",
    ])
      expect(
        [...seen].some((s) => s.includes(wanted)),
        wanted,
      ).toBe(true);
    await close();
  });
});

describe("an input method", () => {
  it("begins in the chosen cell with its first letter, and its Enter ends only the composition", async () => {
    const { page, context, mishaps, close } = await stage.open();
    await openCard(page, /Harbour gin/);
    await cell(page, "distillates", 0, 0).click();
    const cdp = await context.newCDPSession(page);
    await cdp.send("Input.imeSetComposition", { text: "と", selectionStart: 1, selectionEnd: 1 });
    await cdp.send("Input.imeSetComposition", { text: "とう", selectionStart: 2, selectionEnd: 2 });
    const field = page.locator(".place.open textarea");
    expect(await field.inputValue()).toBe("とう");
    // Enter while composing belongs to the input method.
    await cdp.send("Input.dispatchKeyEvent", {
      type: "rawKeyDown",
      key: "Enter",
      windowsVirtualKeyCode: 229,
    });
    expect(await field.inputValue()).toBe("とう");
    await cdp.send("Input.insertText", { text: "橙" });
    expect(await field.inputValue()).toBe("橙");
    await page.keyboard.press("Enter");
    expect(await cell(page, "distillates", 0, 0).innerText()).toBe("橙");
    expect(mishaps).toEqual([]);
    await close();
  });
});
