import { afterAll, beforeAll, expect, it } from "vitest";
import { cell, focused, openCard, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const stock = `book "Stock"
part "On the shelf"
table t "Things"
| item | strength        | price    |
| one  | 61.0 ± 0.3 %vol | 2 GBP/kg |
| two  | 58.0 ± 0.3 %vol | 3 GBP/kg |
column dear = price * 2
chart "What it costs" : bars t.price by t.item
`;

it("names what stands on the page by its words alone, and says each cell once, as it is seen", async () => {
  const { page, mishaps, close } = await stage.open();
  await openText(page, stock);
  await page
    .locator(".bench > [role=status]", { hasText: /^Stock is open\.$/ })
    .waitFor({ state: "attached" });
  // The field that lies over a title has a name of its own, which is no part of the title's.
  for (const title of ["Stock", "On the shelf", "Things", "What it costs"])
    expect(await page.getByRole("heading", { name: title, exact: true }).count(), title).toBe(1);
  expect(await page.getByRole("grid", { name: "Things", exact: true }).count()).toBe(1);
  expect(await page.getByRole("region", { name: "What it costs", exact: true }).count()).toBe(1);

  await cell(page, "t", 0, 1).click();
  expect(await focused(page)).toBe("one, strength, 61.0 ± 0.3 %vol, typed");
  // What the field says is not said again by what is seen under it.
  const seen = (row: number) => cell(page, "t", row, 1).getByText("± 0.3").count();
  const silent = (row: number) => cell(page, "t", row, 1).locator("[role=img]").getByText("± 0.3").count();
  expect([await seen(0), await silent(0)]).toEqual([1, 1]);
  expect([await seen(1), await silent(1)]).toEqual([1, 0]);

  await cell(page, "t", 1, 1).click();
  await page.keyboard.type("61 kg");
  await page.keyboard.press("Enter");
  const heard = page.locator(".bench > [role=status]");
  expect(await heard.innerText()).toMatch(/^Changed strength of two, recalculated\. 1 fault\.$/);
  expect((await focused(page)).match(/fault/g)).toHaveLength(1);
  expect(await focused(page)).toMatch(/^two, strength, fault: 61 kg is a mass.*[^.]$/);
  await page.keyboard.press("Control+z");

  // The field that has the keyboard lasts from row to row: one that is taken away makes a screen reader read the row.
  await page.evaluate(() => {
    const first = document.activeElement;
    Object.assign(globalThis, { lasts: () => first === document.activeElement });
  });
  const lasts = () => page.evaluate(() => (globalThis as unknown as { lasts(): boolean }).lasts());
  for (const key of ["ArrowUp", "ArrowUp", "ArrowUp", "ArrowRight", "Control+End"]) {
    await page.keyboard.press(key);
    const at = await page.evaluate(() => document.activeElement?.getAttribute("aria-activedescendant"));
    expect(await page.locator(`[id="${at}"] [role=img]`).getAttribute("aria-label"), key).toBe(
      await focused(page),
    );
    expect(await lasts(), key).toBe(true);
  }
  await cell(page, "t", 1, 1).click();
  await page.keyboard.type("59 %vol");
  // While it is written in, the field itself is heard.
  expect(await page.evaluate(() => document.activeElement?.hasAttribute("aria-activedescendant"))).toBe(
    false,
  );
  await page.keyboard.press("Enter");
  expect(await lasts()).toBe(true);
  await page.keyboard.press("Control+z");

  await cell(page, "t", 0, 3).click();
  await page.keyboard.press("Alt+Enter");
  expect(await heard.innerText()).toBe("Beside the page stands why t.one.dear is what it is.");
  expect(mishaps).toEqual([]);
  await close();
});

it("saves one change at once, so that a page that is left right after it has it again", async () => {
  const { page, mishaps, close } = await stage.open();
  await openText(page, stock);
  await page.getByText(/^Saved in this browser/).waitFor();
  // A minute of rest; from here on the clock goes on only when it is told to.
  await page.clock.install();
  await page.clock.runFor(60_000);
  await cell(page, "t", 0, 2).click();
  await page.keyboard.type("9 GBP/kg");
  await page.keyboard.press("Enter");
  // Far less than the rest that a second change would be given.
  await page.clock.runFor(1);
  await page.getByText(/^Saved in this browser/).waitFor();
  await page.reload();
  await page.getByRole("button", { name: "Stock", exact: true }).click();
  expect(await cell(page, "t", 0, 2).innerText()).toMatch(/^9\s*GBP\/kg$/);
  expect(mishaps).toEqual([]);
  await close();
});

it("leaves the marks of the first look off paper, and what is offered inside the window", async () => {
  const { page, mishaps, close } = await stage.open({ newcomer: true });
  await openCard(page, /Harbour gin/);
  const pointed = page.locator("[data-pointed]").first();
  await pointed.waitFor();
  await page.emulateMedia({ media: "print" });
  expect(
    await pointed.evaluate((e) => [
      getComputedStyle(e).outlineStyle,
      getComputedStyle(e, "::before").display,
    ]),
  ).toEqual(["none", "none"]);
  await page.emulateMedia({ media: "screen" });
  // Beside the text what can be done with a name stands above the first look, not under it.
  await page.getByRole("button", { name: "Text", exact: true }).click();
  const foot = (await page.locator(".foot-of-page").boundingBox())!;
  const told = (await page.getByText("Put the caret on a name").boundingBox())!;
  expect(Math.floor(told.y + told.height)).toBeLessThanOrEqual(Math.ceil(foot.y));
  expect(mishaps).toEqual([]);
  await close();
});
