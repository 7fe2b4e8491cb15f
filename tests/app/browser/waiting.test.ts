import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { axe, bookText, cell, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const squeezed = (text: string): string => text.replace(/\s+/g, " ").trim();

/** A sweep that costs enough to be done beside the page, whatever the machine: each setting distils fifteen charges. */
const runs = Array.from({ length: 15 }, (_, i) => `| r${i} | ${900 + i} |`).join("\n");
const slow = `book "Slow"
set pull = 60 mbar try 20 mbar to 200 mbar
set strong = 40.0 ± 0.4 %vol
table t
| run | charge (mL) |
${runs}
column got = distil(charge, strong, pull, take: 300 mL).taken.strength
set all = mean(t.got)
`;

describe("long work", () => {
  it("checks an uncertainty by trials beside the page, tells what the engine tells, and can be stopped", async () => {
    const { page, mishaps, close } = await stage.open();
    const text = "set a = 10.0 ± 0.2 g\nset b = a^2 / 1 g\n";
    await openText(page, text);
    await page.getByRole("button", { name: /^b, .*: why\?$/ }).click();
    await page.getByRole("button", { name: "Check the ± with 10,000 trials" }).focus();
    await page.keyboard.press("Enter");
    const said = openBook(text).why("b", { trials: 10_000 })!.monteCarlo!.says;
    await page.getByText(squeezed(said)).waitFor();
    expect(await axe(page)).toEqual([]);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("leaves the page to the person while it lasts, and stops when it is told to", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, slow);
    await page.getByRole("button", { name: /^all, .*: why\?$/ }).click();
    await page.getByRole("button", { name: "Check the ± with 10,000 trials" }).click();
    const stop = page.getByRole("button", { name: "Stop" });
    await stop.waitFor();
    // While the trials run the page answers: another value is asked about, and the book is still written in.
    expect(await axe(page)).toEqual([]);
    await page.getByRole("textbox", { name: /^strong, / }).focus();
    await page.keyboard.press("F2");
    await page.keyboard.press("Escape");
    expect(await stop.count()).toBe(1);
    await stop.click();
    await page.getByText("Stopped.").waitFor();
    await page.getByRole("button", { name: "Again" }).click();
    await stop.waitFor();
    // A change of the book gives up what was being worked out for the old one.
    await page.getByRole("button", { name: "Close" }).first().click();
    expect(await stop.count()).toBe(0);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("searches beside the page where a search takes long, tells the same as the engine, and can be stopped", async () => {
    const { page, mishaps, close } = await stage.open();
    const charges = Array.from({ length: 75 }, (_, i) => `| r${i} | ${900 + i} |`).join("\n");
    const text = `book "Slow search"
set pull = 60 mbar
set strong = 40 %vol
table t
| run | charge (mL) |
${charges}
column got = distil(charge, strong, pull, take: 300 mL).taken.strength
set all = mean(t.got)
set wanted = find pull from 20 mbar to 200 mbar so that all is 77 %vol
set double = wanted * 2
set quick = find x from 0 g to 9 g so that x is strong / 10 %vol * 1 g
define pull_for(aim) = find pull from 20 mbar to 200 mbar so that all is aim
check pull_for(77.1 %vol) > 19 mbar : "a pull that the pump can do"
`;
    await openText(page, text);
    const going = page.locator(".on-its-way");
    await going.getByText("Searching beside the page").waitFor();
    await going.getByRole("progressbar").waitFor();
    await going.getByRole("button", { name: "Stop" }).click();
    await going.getByText("Stopped.").waitFor();
    await page.getByText("needs wanted").first().waitFor();
    const waits = page.getByText(/pull is still being searched for/).filter({ visible: true });
    await waits.first().waitFor();
    expect(await axe(page)).toEqual([]);
    await going.getByRole("button", { name: "Again" }).click();
    // What is written meanwhile is searched for anew.
    const pane = page.getByRole("textbox", { name: "Text of the book" });
    const now = text.replace("is 77 %vol", "is 77.2 %vol");
    await bookText(page);
    await pane.fill(now);
    const book = openBook(now);
    const answer = (name: string) =>
      book
        .answers()
        .find((a) => a.name === name)!
        .text.replace(/ \S+$/, "");
    await page.getByText(answer("wanted")).first().waitFor({ timeout: 60_000 });
    await page.getByText(answer("double")).first().waitFor();
    await page.getByText("needs wanted").first().waitFor({ state: "detached" });
    await waits.first().waitFor({ state: "detached" });
    expect(await going.count()).toBe(0);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("works a long book out while the page goes on, can be stopped, and follows what is written meanwhile", async () => {
    const { page, mishaps, close } = await stage.open();
    const charges = Array.from({ length: 14_000 }, (_, i) => `| r${i} | ${900 + i} |`).join("\n");
    const text = `book "Long"
set pull = 60 mbar
set jar = 250 mL
set half = jar / 2
table t
| run | charge (mL) |
${charges}
column got = distil(charge, 40 %vol, pull, take: 300 mL).taken.strength
set all = mean(t.got)
check all > 50 %vol : "strong enough"
`;
    await openText(page, text);
    const going = page.locator(".on-its-way");
    await going.getByText("Working out the book").waitFor();
    await going.getByRole("progressbar").waitFor();
    await going.getByRole("button", { name: "Stop" }).click();
    await going.getByText("Stopped. What was not worked out says so.").waitFor();
    await cell(page, "t", 0, 2).getByText("not yet").waitFor();
    await page
      .getByText("was not worked out: the work was stopped")
      .filter({ visible: true })
      .first()
      .waitFor();
    // What was typed is kept all the same, and what was worked out is there.
    await page.getByText(/^Saved in this browser/).waitFor();
    await page.getByRole("button", { name: /^half, 125 mL/ }).waitFor();
    expect(await axe(page)).toEqual([]);
    await going.getByRole("button", { name: "Work it out" }).click();
    await going.getByRole("progressbar").waitFor();
    // Letters that the page took while the book was being worked out.
    await page.evaluate(() => {
      const seen = globalThis as unknown as { letters: number };
      seen.letters = 0;
      document.addEventListener("input", () => {
        if (document.querySelector(".on-its-way progress") !== null) seen.letters++;
      });
    });
    const pull = page.locator('textarea.catch[aria-label^="pull, "]');
    const write = async (what: string) => {
      await pull.focus();
      await page.keyboard.press("F2");
      await page.keyboard.press("ControlOrMeta+A");
      await page.keyboard.type(what);
      await page.keyboard.press("Enter");
    };
    await write("70 mbar");
    await going.getByRole("progressbar").waitFor();
    await write("80 mbar");
    expect(await page.evaluate(() => (globalThis as unknown as { letters: number }).letters)).toBeGreaterThan(
      4,
    );
    const book = openBook(text.replace("60 mbar", "80 mbar"));
    const all = book.answers().find((a) => a.name === "all")!.text;
    await page.getByRole("button", { name: new RegExp(`^all, ${all}`) }).waitFor({ timeout: 60_000 });
    expect(await going.count()).toBe(0);
    const first = book.answers().find((a) => a.name === "t.r0.got")!.text;
    await cell(page, "t", 0, 2).getByText(first.replace(/ \S+$/, "")).waitFor();
    // What is worked out again tells what it was.
    await write("90 mbar");
    // At once: a fast machine is done while a pointer waits for the button to stand still.
    await going.getByRole("button", { name: "Stop" }).dispatchEvent("click");
    await cell(page, "t", 0, 2).getByText(`was ${first}`).waitFor();
    await page
      .getByRole("button", { name: new RegExp(`^all, was ${all}: all was not worked out`) })
      .waitFor();
    expect(await axe(page)).toEqual([]);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("reads a large table beside the page, can be stopped and begun again", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, 'book "Shelf"\nset jar = 250 mL\n');
    const columns = ["item", "volume (mL)", "strength (%vol)", "price (GBP)", "day", "remark"];
    const lines = Array.from(
      { length: 60_000 },
      (_, i) =>
        `jar ${i},${100 + (i % 700)},${20 + (i % 60)}.5,${i % 90}.25,2026-0${1 + (i % 9)}-11,kept cool`,
    );
    const buffer = Buffer.from([columns.join(","), ...lines].join("\n"));
    await page.getByRole("button", { name: "A table from elsewhere" }).click();
    const box = page.getByRole("dialog", { name: "Bring a table in" });
    // Frames that the page draws while the file is read: a page that is held draws none.
    await page.evaluate(() => {
      const seen = globalThis as unknown as { frames: number };
      seen.frames = 0;
      const count = () => {
        if (document.querySelector("dialog progress") !== null) seen.frames++;
        requestAnimationFrame(count);
      };
      count();
    });
    await box
      .locator('input[data-for="tables"]')
      .setInputFiles({ name: "shelf.csv", mimeType: "text/csv", buffer });
    await box.getByText("Reading shelf.csv").waitFor();
    await box.getByRole("progressbar").waitFor();
    await box.getByRole("button", { name: "Stop" }).click();
    await box.getByText("Stopped.").waitFor();
    await box.getByRole("button", { name: "Again" }).click();
    await box.getByRole("region", { name: "table shelf" }).waitFor({ timeout: 60_000 });
    expect(await page.evaluate(() => (globalThis as unknown as { frames: number }).frames)).toBeGreaterThan(
      5,
    );
    await box
      .getByText(/60,?000 rows/)
      .first()
      .waitFor();
    expect(mishaps).toEqual([]);
    await close();
  });

  it("is done on the page itself, and can be stopped, where no worker can be started", async () => {
    const { page, close } = await stage.open();
    await page.route(/assets\/worker-/, (route) => route.abort());
    const text = "set a = 10.0 ± 0.2 g\nset b = a^2 / 1 g\n";
    await openText(page, text);
    await page.getByRole("button", { name: /^b, .*: why\?$/ }).click();
    await page.getByRole("button", { name: "Check the ± with 10,000 trials" }).click();
    await page.getByText(squeezed(openBook(text).why("b", { trials: 10_000 })!.monteCarlo!.says)).waitFor();
    await close();
  });

  it("sweeps beside the page where a sweep takes long", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, slow);
    await page.getByRole("button", { name: "Sweep pull" }).click();
    const box = page.getByRole("dialog", { name: "Sweep pull" });
    await box.getByRole("progressbar").waitFor();
    expect(await axe(page)).toEqual([]);
    await box.getByRole("button", { name: "Close" }).focus();
    await box.getByText("The numbers").waitFor({ timeout: 60_000 });
    await box.getByText("The numbers").click();
    // The same figures as the book itself gives.
    const book = openBook(slow);
    const swept = book.sweep(["pull from [20 mbar, 60 mbar, 200 mbar]"], ["all"]);
    const rows = await box.locator("tbody tr").allInnerTexts();
    for (let i = 0; i < swept.count; i++) {
      const [input, outcome] = [swept.inputs(i)[0]!.text, swept.outcomes(i)[0]!.text];
      expect(rows.map(squeezed).filter((row) => row.startsWith(`${input} `))).toEqual([
        expect.stringContaining(outcome),
      ]);
    }
    expect(mishaps).toEqual([]);
    await close();
  });
});
