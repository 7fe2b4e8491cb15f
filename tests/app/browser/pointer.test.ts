import type { Locator } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bookText, cell, focused, openCard, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

describe("with a mouse", () => {
  it("a second button on the chosen cell opens the menu of its field, which can paste", async () => {
    const { page, mishaps, close } = await stage.open();
    await openCard(page, /Harbour gin/);
    const menu = () =>
      page.evaluate(
        () =>
          new Promise<string>((done) =>
            addEventListener("contextmenu", (event) => done((event.target as Element).tagName), {
              once: true,
            }),
          ),
      );
    const volume = cell(page, "distillates", 1, 1);
    await volume.click();
    const opened = menu();
    await volume.click({ button: "right" });
    expect(await opened).toBe("TEXTAREA");
    await cell(page, "distillates", 2, 1).click();
    expect(await focused(page)).toBe("lemon peel, volume, 350 mL, typed");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("a drag chooses a rectangle, a second click opens the cell", async () => {
    const { page, mishaps, close } = await stage.open();
    await openCard(page, /Harbour gin/);
    const from = (await cell(page, "distillates", 0, 1).boundingBox())!;
    await cell(page, "distillates", 2, 2).scrollIntoViewIfNeeded();
    const start = (await cell(page, "distillates", 0, 1).boundingBox())!;
    const end = (await cell(page, "distillates", 2, 2).boundingBox())!;
    expect(from.width).toBeGreaterThan(24);
    await page.mouse.move(start.x + 5, start.y + 5);
    await page.mouse.down();
    await page.mouse.move(end.x + 10, end.y + 10, { steps: 6 });
    await page.mouse.up();
    expect(await page.locator('[data-grid] [aria-selected="true"]').count()).toBe(6);
    await cell(page, "distillates", 1, 1).click();
    expect(await page.locator('[data-grid] [aria-selected="true"]').count()).toBe(1);
    expect(await page.locator(".place.open").count()).toBe(0);
    await cell(page, "distillates", 1, 1).click();
    expect(await page.locator(".place.open textarea").inputValue()).toBe("800");
    await page.keyboard.press("Escape");
    // Beside the words of a cell, a second click opens it as well, and what is typed goes into it.
    const beside = (await cell(page, "distillates", 2, 3).boundingBox())!;
    await page.mouse.click(beside.x + 6, beside.y + beside.height / 2);
    await page.mouse.click(beside.x + 6, beside.y + beside.height / 2);
    await page.keyboard.press("Control+A");
    await page.keyboard.type("23 GBP/L");
    expect(await page.locator(".place.open textarea").inputValue()).toBe("23 GBP/L");
    await page.keyboard.press("Escape");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("a number in another unit than its heading says so, and one typed without its unit is asked about", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(
      page,
      'book "Units"\nset label = 42 %vol\ntable t\n| item | volume (mL) | price |\n| a | 500 | 12 GBP/L |\n| b | 400 |  |\n',
    );
    const kept = async (row: number, column: number, ...keys: string[]) => {
      await cell(page, "t", row, column).click();
      await page.keyboard.type(keys[0]!);
      for (const key of keys.slice(1)) await page.keyboard.press(key);
    };
    await kept(0, 1, "1.5 l", "Enter");
    expect((await cell(page, "t", 0, 1).innerText()).replace(/\s+/g, " ").trim()).toBe("1.5 l");
    expect((await cell(page, "t", 1, 1).innerText()).trim()).toBe("400");
    // Over a unit, and in an empty cell of a column that goes by one; a heading gives its unit without a question.
    await kept(0, 2, "14", "Enter");
    await kept(1, 2, "15", "Enter");
    await kept(1, 1, "300", "Enter");
    // A comma that is settled keeps the unit; who wants the number alone goes down to it.
    await kept(0, 1, "1,2", "Enter", "Enter");
    expect(await bookText(page)).toMatch(/\| a +\| 1\.2 l +\| 14 GBP\/L +\|\n\| b +\| 300 +\| 15 GBP\/L +\|/);
    await kept(0, 1, "700", "ArrowDown", "Enter");
    expect(await bookText(page)).toMatch(/\| a +\| 700 +\|/);
    await page.getByText("42 %vol").first().click({ force: true });
    await page.keyboard.type("40");
    await page.getByText("its unit as before").waitFor();
    await page.locator(".tells").getByRole("button", { name: "Keep" }).click();
    expect(await bookText(page)).toContain("set label = 40 %vol\n");
    // Who goes elsewhere gets what the formula line foretold.
    await page.getByText("40 %vol").first().click({ force: true });
    await page.keyboard.press("Control+A");
    await page.keyboard.type("41");
    await cell(page, "t", 0, 2).click();
    await page.keyboard.type("16");
    await cell(page, "t", 1, 1).click();
    expect(await bookText(page)).toMatch(/set label = 41 %vol\n[\s\S]*\| 16 GBP\/L \|/);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("a command is hit though keeping the open field moves the page, and the line of gaps keeps its place", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(
      page,
      'book "Gap"\ntable t\n| item | amount (g) |\n| a | |\n\ntable u\n| item | amount (g) |\n| b | 2 |\n',
    );
    const tally = page.locator(".tally-line");
    expect(await tally.innerText()).toContain("1 gap");
    const heading = page.getByRole("heading", { name: "t", exact: true });
    const before = (await heading.boundingBox())!.y;
    await cell(page, "t", 0, 1).click();
    await page.keyboard.type("5 oranges");
    // What is typed is a fault: its message pushes the second table down as soon as it is kept.
    const add = page.locator('[id="at-table.3Au"]').getByRole("button", { name: "Add a row" });
    const at = (await add.boundingBox())!;
    await page.mouse.move(at.x + at.width / 2, at.y + at.height / 2);
    await page.mouse.down();
    expect(await page.locator(".slip.fault").count()).toBe(0);
    await page.mouse.up();
    await page.locator(".slip.fault").first().waitFor();
    expect((await add.boundingBox())!.y).toBeGreaterThan(at.y + 10);
    expect(await bookText(page)).toBe(
      'book "Gap"\ntable t\n| item | amount (g) |\n| a | 5 oranges |\n\ntable u\n| item | amount (g) |\n| b | 2 |\n|      |            |\n',
    );
    await page.getByRole("button", { name: "Close", exact: true }).click();
    await cell(page, "t", 0, 1).click();
    await page.keyboard.type("5");
    await page.keyboard.press("Enter");
    await cell(page, "u", 1, 1).click();
    await page.keyboard.type("7");
    await page.keyboard.press("Enter");
    expect((await tally.innerText()).trim()).toBe("");
    expect((await heading.boundingBox())!.y).toBe(before);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("the ring of a chart moves the value it marks, in one entry of the undo stack", async () => {
    const { page, mishaps, close } = await stage.open();
    await openCard(page, /Setting the still/);
    const text = await bookText(page);
    await page.getByRole("complementary").getByRole("button", { name: "Close" }).click();
    const ring = page.locator(".chart .ring").first();
    await ring.scrollIntoViewIfNeeded();
    const box = (await ring.boundingBox())!;
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2 + 120, box.y, { steps: 8 });
    await page.mouse.up();
    const moved = await bookText(page);
    const pull = Number(/^set pull\s*= (\d+) mbar/m.exec(moved)![1]);
    expect(pull).toBeGreaterThan(70);
    expect(moved).toBe(text.replace(/^(set pull\s*= )\d+/m, `$1${pull}`));
    await page.getByRole("button", { name: /^Undo: pull, tried/ }).click();
    expect(await bookText(page)).toBe(text);
    expect(mishaps).toEqual([]);
    await close();
  });
});

describe("under a finger", () => {
  it("the first touch chooses without a keyboard, the second opens the formula line", async () => {
    const { page, mishaps, close } = await stage.open({ width: 390, height: 844, touch: true });
    await openCard(page, /Harbour gin/);
    const volume = cell(page, "distillates", 1, 1);
    await volume.tap();
    const mode = () => page.evaluate(() => (document.activeElement as HTMLTextAreaElement).inputMode);
    expect(await mode()).toBe("none");
    await volume.tap();
    expect(await mode()).toBe("");
    expect(await page.evaluate(() => document.activeElement?.getAttribute("aria-label"))).toBe(
      "coriander, volume",
    );
    await page.keyboard.press("Control+a");
    await page.keyboard.type("900");
    await page.locator(".tells").getByRole("button", { name: "Keep" }).tap();
    expect(await volume.innerText()).toBe("900");
    await page.getByRole("button", { name: "Undo: volume of coriander" }).tap();
    // Keep asks how a comma is meant, and once more takes the first reading, as Enter does.
    await volume.tap();
    await volume.tap();
    await page.keyboard.press("Control+a");
    await page.keyboard.type("0,9 L");
    await page.locator(".tells").getByRole("button", { name: "Keep" }).tap();
    await page.locator(".tells").getByRole("button", { name: "Keep" }).tap();
    expect((await volume.innerText()).replace(/\s+/g, " ").trim()).toBe("0.9 L");
    await page.getByRole("button", { name: "Undo: volume of coriander" }).tap();
    expect(await volume.innerText()).toBe("800");
    // What is used at the still is large enough for a wet thumb.
    const targets = await page.locator(".strip .act, .below .act, .tells .act").evaluateAll((all) =>
      all
        .map((e) => e.getBoundingClientRect())
        .filter((r) => r.width > 0)
        .map((r) => Math.min(r.width, r.height)),
    );
    expect(Math.min(...targets)).toBeGreaterThanOrEqual(40);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("offers nothing before something is typed, unless it is asked for", async () => {
    const { page, mishaps, close } = await stage.open({ width: 390, height: 844, touch: true });
    await openCard(page, /Harbour gin/);
    const bottle = page.locator('[id="at-value.3Abottle"] .amount .place');
    await bottle.tap();
    await bottle.tap();
    const line = page.getByRole("region", { name: "Formula line" });
    await line.getByRole("button", { name: "What fits here" }).waitFor();
    expect(await page.getByRole("option").count()).toBe(0);
    await line.getByRole("button", { name: "What fits here" }).tap();
    expect(await page.getByRole("option").count()).toBeGreaterThan(3);
    await line.getByRole("button", { name: /^Leave/ }).tap();
    await bottle.tap();
    await line.getByRole("button", { name: "What fits here" }).waitFor();
    await page.keyboard.press("ArrowDown");
    expect(await page.getByRole("option").count()).toBeGreaterThan(3);
    await line.getByRole("button", { name: /^Leave/ }).tap();
    await bottle.tap();
    await page.keyboard.press("Control+a");
    await page.keyboard.type("500 m");
    expect(await page.getByRole("option").count()).toBeGreaterThan(1);
    expect(mishaps).toEqual([]);
    await close();
  });

  it.each([
    ["desk", 1280, false],
    ["tablet", 820, true],
    ["phone", 390, true],
  ] as const)(
    "stands still where a cell is chosen and where a tried value is mended, %s",
    async (_, width, touch) => {
      const { page, mishaps, close } = await stage.open({ width, touch });
      await openCard(page, /Harbour gin/);
      const press = (at: Locator) => (touch ? at.tap() : at.click());
      const below = page.locator(".below").first();
      const before = await below.evaluate((e) => (e as HTMLElement).offsetHeight);
      for (const [row, column, command] of [
        [2, 1, "Remove the row"],
        [2, 2, "Add the strength of the blend"],
        [-2, 5, "Remove the column"],
      ] as const) {
        await press(cell(page, "distillates", row, column));
        await below.getByRole("button", { name: command }).waitFor();
        expect(await below.evaluate((e) => (e as HTMLElement).offsetHeight), command).toBe(before);
      }
      const tried = page.locator('[id="at-value.3Abottling"]');
      const height = await tried.evaluate((e) => (e as HTMLElement).offsetHeight);
      const fromTop = () =>
        tried.evaluate(
          (e) => e.querySelector(".try")!.getBoundingClientRect().top - e.getBoundingClientRect().top,
        );
      const stood = await fromTop();
      const order = () => page.locator("main .value b, main .value .label").allInnerTexts();
      const names = await order();
      const slider = tried.getByRole("slider", { name: "try bottling" });
      for (const wrong of ["42 kg", "42 %zol", "42 %vol +"]) {
        await press(tried.locator(".amount .place"));
        await page.keyboard.press("Enter");
        await page.keyboard.press("Control+a");
        await page.keyboard.type(wrong);
        await page.keyboard.press("Enter");
        await expect.poll(() => slider.isDisabled(), { message: wrong }).toBe(true);
        expect(await tried.locator(".ends").innerText(), wrong).toMatch(/37\.5 %vol\s+47 %vol/);
        // A formula that cannot be told from its range is shown with it, which takes a narrow page more lines.
        if (wrong !== "42 %vol +") expect(await fromTop(), wrong).toBe(stood);
        expect(await order(), wrong).toEqual(names);
      }
      await page.keyboard.press("Control+z");
      await page.keyboard.press("Control+z");
      await page.keyboard.press("Control+z");
      expect(await slider.isDisabled()).toBe(false);
      expect(await tried.evaluate((e) => (e as HTMLElement).offsetHeight)).toBe(height);
      expect(mishaps).toEqual([]);
      await close();
    },
  );

  it("zoomed to twice the size, nothing of the page is cut off sideways", async () => {
    // 200 % on a desk 1280 wide leaves 640.
    const { page, close } = await stage.open({ width: 640, height: 450 });
    await openCard(page, /Harbour gin/);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(640);
    await cell(page, "distillates", 4, 1).click();
    const at = (await cell(page, "distillates", 4, 1).boundingBox())!;
    const line = (await page.getByRole("region", { name: "Formula line" }).boundingBox())!;
    expect(at.y + at.height).toBeLessThanOrEqual(line.y);
    await close();
  });
});
