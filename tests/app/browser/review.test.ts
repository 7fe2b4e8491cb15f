import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { axe, bookText, command, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const squeezed = (text: string): string => text.replace(/\s+/g, " ").trim();

const cordial = `book "Rowan cordial"
set sugar = 420 g
set juice = 800 mL
set share = sugar / (sugar + 820 g)
define twice(x) = 2 * x
table jars "Jars"
| jar   | holds (mL)   |
| small | 250          |
| large | = 3 * 250 mL |
column left = juice - holds
foot left = smallest(left)
set two = twice(juice)
`;

const sheet = (page: import("playwright-core").Page) =>
  page.getByRole("complementary", { name: "Read-through" });

async function openReading(page: import("playwright-core").Page) {
  await page.getByRole("button", { name: "Go over" }).focus();
  await page.keyboard.press("Enter");
  await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  await sheet(page).locator(".stop").waitFor();
}

describe("the read-through", () => {
  it("walks every formula by the keyboard alone, a column once, and writes ticks with notes into the text", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, cordial);
    await openReading(page);
    const stop = sheet(page).locator(".stop");
    const here = () => page.evaluate(() => document.activeElement?.getAttribute("aria-label") ?? "");
    expect(await here()).toBe("Formula 1 of 6: share, value, not yet checked");
    expect(squeezed(await stop.innerText())).toContain("420 g / (420 g + 820 g)");
    expect(await axe(page)).toEqual([]);
    // Ticked with Enter, it goes on to the next.
    await page.keyboard.press("Enter");
    expect(await here()).toBe("Formula 2 of 6: twice, function of this book, not yet checked");
    await page.keyboard.press("Enter");
    expect(await here()).toBe("Formula 3 of 6: jars.large.holds, one cell, not yet checked");
    // Passed over.
    await page.keyboard.press("ArrowRight");
    expect(await here()).toBe("Formula 4 of 6: jars.left, column, each row, not yet checked");
    expect(squeezed(await stop.innerText())).toContain("800 mL - 250 mL");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    expect(squeezed(await stop.innerText())).toContain("800 mL - 750 mL");
    await page.keyboard.press("Tab");
    await page.keyboard.type("against the jug");
    await page.keyboard.press("Enter");
    expect(await here()).toBe("Formula 5 of 6: jars.foot.left, foot of a column, not yet checked");
    await sheet(page).getByText("3 of 6 checked").waitFor();
    expect(await axe(page)).toEqual([]);
    const text = await bookText(page);
    expect(text.startsWith(cordial)).toBe(true);
    expect(text.slice(cordial.length)).toMatch(
      /^\nseen share @[0-9a-f]{8}\nseen twice @[0-9a-f]{8}\nseen jars\.left @[0-9a-f]{8} "against the jug"\n$/,
    );
    expect(mishaps).toEqual([]);
    await close();
  });

  it("shows the ticks at the formulas, drops one when its formula changes, and each tick can be undone by name", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, cordial);
    await openReading(page);
    await page.keyboard.press("Enter");
    const value = page.locator('[id="at-value.3Ashare"]');
    await value.getByRole("img", { name: "checked", exact: true }).waitFor();
    await sheet(page).getByRole("button", { name: "Close" }).click();
    await page.getByRole("textbox", { name: "share, formula: sugar / (sugar + 820 g)" }).focus();
    await page.keyboard.press("F2");
    await page.keyboard.press("Control+a");
    await page.keyboard.type("sugar / (sugar + 830 g)");
    await page.keyboard.press("Enter");
    await value.getByRole("img", { name: "was checked, has changed since" }).waitFor();
    await openReading(page);
    await sheet(page).getByText("0 of 6 checked; 1 was checked and has changed since").waitFor();
    expect(await sheet(page).locator(".stop").getAttribute("aria-label")).toBe(
      "Formula 1 of 6: share, value, was checked, has changed since",
    );
    // Read again, it holds again, in the same line.
    await page.keyboard.press("Enter");
    await value.getByRole("img", { name: "checked", exact: true }).waitFor();
    expect((await bookText(page)).match(/^seen share /gm)).toHaveLength(1);
    await page.getByRole("button", { name: "Undo: the tick of share" }).click();
    await value.getByRole("img", { name: "was checked, has changed since" }).waitFor();
    await page.getByRole("button", { name: "Undo: share" }).click();
    await value.getByRole("img", { name: "checked", exact: true }).waitFor();
    await page.getByRole("button", { name: "Undo: the tick of share" }).click();
    expect(await value.locator(".seen").count()).toBe(0);
    expect(await bookText(page)).toBe(cordial);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("says what cannot be ticked, and lets ticks on what is gone go", async () => {
    const { page, mishaps, close } = await stage.open({ width: 390, height: 844, scheme: "dark" });
    await openText(
      page,
      `table t
| a | b (g) |
|   | = 2 g * 3 |
| x | = 1 g * 3 |
seen gone @12345678 "long ago"
`,
    );
    await (await command(page, "Read through every formula")).click();
    await sheet(page).locator(".stop, .source").first().waitFor();
    await sheet(page).getByText("0 of 1 checked").waitFor();
    await sheet(page)
      .getByText("One formula stands in a row to which no tick can point", { exact: false })
      .waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    expect(await axe(page)).toEqual([]);
    await sheet(page)
      .getByRole("button", { name: /^Let it go/ })
      .click();
    expect(await sheet(page).getByText("Ticks on what is gone").count()).toBe(0);
    await page.getByRole("button", { name: "Undo: taking away the tick of gone" }).waitFor();
    expect(mishaps).toEqual([]);
    await close();
  });
});
