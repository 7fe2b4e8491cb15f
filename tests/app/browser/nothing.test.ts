import { afterAll, beforeAll, expect, it } from "vitest";
import { bookText, cell, focused, part, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

it("a blend is built from an empty book by typing and touching, and ends as a bench card", async () => {
  const { page, mishaps, close } = await stage.open();
  await page.getByRole("button", { name: /An empty book/ }).click();
  const adds = page.getByRole("group", { name: "Add below" });
  const put = async (words: string) => {
    await page.keyboard.press("Control+a");
    await page.keyboard.type(words);
    await page.keyboard.press("Enter");
  };

  // A title, a table whose name follows from its title, its columns, two rows.
  await page.getByRole("textbox", { name: "title of the book, Untitled" }).focus();
  await page.keyboard.press("Enter");
  await put("Spring gin");
  await adds.getByRole("button", { name: "table", exact: true }).click();
  expect(await focused(page)).toBe("title of table_1");
  await put("Distillates");
  expect(await focused(page)).toBe("heading amount, in g");
  await page.keyboard.type("volume (mL)");
  await page.keyboard.press("Enter");
  await page.getByRole("button", { name: "Add a column", exact: true }).click();
  await put("strength");
  await cell(page, "distillates", 0, 0).click();
  for (const words of ["juniper", "2400", "61.2 %vol"]) {
    await page.keyboard.type(words);
    await page.keyboard.press("Tab");
  }
  await page.keyboard.press("Control+Enter");
  for (const words of ["coriander", "800", "58 %vol"]) {
    await page.keyboard.type(words);
    await page.keyboard.press("Tab");
  }

  // Values: a name, Enter, and on to the formula; names are offered and taken.
  await adds.getByRole("button", { name: "value", exact: true }).click();
  await put("blend");
  await page.keyboard.type("marry(dist");
  await page
    .getByRole("option", { name: /distillates\.volume|distillates/ })
    .first()
    .waitFor();
  await page.keyboard.press("Escape");
  await page.keyboard.type("marry(distillates.volume, distillates.strength)");
  await page.keyboard.press("Enter");
  await adds.getByRole("button", { name: "value", exact: true }).click();
  await put("water");
  await page.keyboard.type("let_down(blend.volume, blend.strength, to: 42 %vol)");
  await page.keyboard.press("Enter");
  expect(await part(page, "water", "add").first().innerText()).toMatch(/^add\s+14\d\d/);

  // A step with a live amount.
  await adds.getByRole("button", { name: "step", exact: true }).click();
  await page.keyboard.press("Control+a");
  await page.keyboard.type("Stir in {water.add in mL} of water.");
  await page.keyboard.press("Enter");
  expect(await page.locator("main .steps").innerText()).toMatch(/Stir in 14\d\d(\.\d)?\s*mL of water\./);

  // How wide a cell is padded is the grammar's own business, and tested there.
  expect((await bookText(page)).replace(/ +\|/g, " |")).toBe(
    [
      'book "Spring gin"',
      "",
      'table distillates "Distillates"',
      "| item | volume (mL) | strength |",
      "| juniper | 2400 | 61.2 %vol |",
      "| coriander | 800 | 58 %vol |",
      "",
      "set blend = marry(distillates.volume, distillates.strength)",
      "set water = let_down(blend.volume, blend.strength, to: 42 %vol)",
      "",
      'step "Stir in {water.add in mL} of water."',
      "",
    ].join("\n"),
  );
  expect(mishaps).toEqual([]);
  await close();
});
