import { readFileSync } from "node:fs";
import type { BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { axe, bookText, command, openCard, openText, type Stage, setStage } from "./stage";

let stage: Stage;
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());

const button = (page: Page, name: string | RegExp) =>
  page.getByRole("button", { name, exact: typeof name === "string" });
const field = (page: Page, name: string | RegExp) => page.getByRole("textbox", { name });
const verb = (page: Page) => page.locator(".run .verb").innerText();
/** The browser has what was touched. */
const kept = (page: Page) => page.getByText(/^Kept in this browser/).waitFor();
const begin = async (page: Page) => {
  await button(page, "Run").click();
  await page.locator(".run").waitFor();
};
/** Begins a run with a reading in one tab, and goes on with it in another, which is given back. */
const inTwoTabs = async (page: Page, context: BrowserContext): Promise<Page> => {
  await openText(page, steeping);
  await page.getByText(/^Saved in this browser/).waitFor();
  await begin(page);
  await button(page, /^Step 2/).click();
  await field(page, /^got/).fill("398");
  await kept(page);
  const other = await context.newPage();
  await other.goto(stage.url);
  await button(other, "Go on with the run").click();
  return other;
};
/** Done with a step whose wait is not kept in a test. */
const pass = async (page: Page) => {
  await button(page, /^Done\. /).click();
  await button(page, "Done without it").click();
};
const number = (text: string): number => Number.parseFloat(text.replace("−", "-").replace(/^[^\d-]*/, ""));

/** Words on the page that say how two things stand, without their spaces. */
const squeezed = (text: string): string => text.replace(/\s+/g, " ").trim();

const steeping = `book "Cold steep"
table runs "Runs"
| run | on (date)  | pull (mbar) | got (mL) | strength  |
| 1   | 2026-01-05 | 60          | 401      | 61.0 %vol |
| 2   | 2026-01-07 | 60          | 395      | 61.4 %vol |
column alcohol = pure_volume(got, strength)
set typical = mean(runs.got)
set rest = blank in °C
step "Pull down to {60 mbar}." wait 30 min
step "Weigh it." ask runs.got in mL expect 400 mL ± 10 mL ask runs.strength in %vol expect 61 %vol ± 0.5 %vol
step "Feel the pot." wait 20 s ask rest in °C
`;

describe("a run at the bench", () => {
  it("goes from the first step to a new row, through a reload, and is taken back by one undo", async () => {
    const { page, mishaps, close } = await stage.open({ width: 820, height: 1180 });
    await openCard(page, /eight runs/);
    const text = await bookText(page);
    const typical = () =>
      page
        .locator('[id="at-value.3Atypical"] .amount')
        .textContent()
        .then((shown) => number(shown ?? ""));
    const before = await typical();
    await begin(page);
    expect(squeezed(await verb(page))).toBe(
      "Charge 1200 mL of macerate, flask at most half full. Coolant at -10 °C.",
    );
    expect(await page.locator(".huge").innerText()).toMatch(/^1200\s*mL$/);
    await pass(page);
    await field(page, /^got, planned 515 ± 12 mL/).fill("497,5");
    expect(
      await page.getByText(/^read as 497.5 mL; 17.5 mL under the plan, outside its ± 12 mL$/).count(),
    ).toBe(1);
    await kept(page);

    // The browser goes away in the middle of the step.
    await page.reload();
    await page.getByText(/A run of “Coriander, eight runs” was begun/).waitFor();
    await button(page, "Go on with the run").click();
    await page.locator(".run").waitFor();
    expect(await page.getByText("Step 2 of 2, The next run").count()).toBe(1);
    expect(await field(page, /^got/).inputValue()).toBe("497,5");
    expect(await button(page, /^Step 1, done/).count()).toBe(1);
    await field(page, /^strength/).fill("78.4");
    expect(await page.getByText(/0.1 %vol under the plan, within its ± 0.4 %vol/).count()).toBe(1);
    expect(squeezed(await page.locator(".gives").innerText())).toMatch(
      /^So far this gives alcohol 390\.04 mL/,
    );

    await button(page, "Done. Finish the run").click();
    await page.getByText("The row of “Runs” needs a name.").waitFor();
    expect(await button(page, "Write it into the book").isDisabled()).toBe(true);
    await field(page, /name of this run/).fill("5a");
    await button(page, /^Take over from 4b: charge 1200, coolant -10/).click();
    await page.locator('input[type="date"]').fill("2026-02-09");
    // What will be written, and what follows from it, stand there before it is written.
    const then = await page
      .locator(".follows tr", { hasText: /^typical/ })
      .locator("td")
      .last()
      .innerText();
    await button(page, "Write it into the book").click();
    await page.locator(".bench").waitFor();

    expect(await bookText(page)).toBe(
      text.replace(
        /(\| 4b .*\n)/,
        "$1| 5a  | 2026-02-09 | 1200        | 497.5    | 78.4 %vol | -10          |                        |\n",
      ),
    );
    expect(await typical()).toBe(number(then));
    expect(await typical()).not.toBe(before);
    expect(
      await page.evaluate(
        () => document.querySelector(".grid [data-cell='8,0']")?.getBoundingClientRect().top,
      ),
    ).toBeLessThan(1180);

    // The next comparison includes it.
    await button(page, "Compare runs").click();
    const dialog = page.getByRole("dialog");
    await dialog.getByRole("heading", { name: "5a against 4a" }).waitFor();
    expect(await dialog.getByRole("heading", { name: "5a against 4a" }).count()).toBe(1);
    expect(await dialog.getByRole("heading", { name: /5a against the best by yield, 3b/ }).count()).toBe(1);
    const got = dialog.getByRole("row", { name: /^got/ }).first();
    expect(squeezed(await got.innerText())).toMatch(
      /^got 516 mL 497\.5 mL 18\.5 mL lower no more than two of these 8 runs/,
    );
    expect(await dialog.getByText(/^Mean 73\.54 % of 8 runs/).count()).toBe(1);
    await page.keyboard.press("Escape");
    expect(await dialog.count()).toBe(0);

    // One undo takes the whole run back out, and the readings are not lost.
    await button(page, /^Undo: finishing the run 5a/).click();
    expect(await bookText(page)).toBe(text);
    expect(await typical()).toBe(before);
    await button(page, "Take the run up again").click();
    expect(await field(page, /name of this run/).inputValue()).toBe("5a");
    await button(page, "Write it into the book").click();
    expect(await bookText(page)).toContain("| 5a  | 2026-02-09 |");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("keeps its clocks by the moments they were started, rings, and is heard", async () => {
    const { page, mishaps, close } = await stage.open();
    await page.clock.install({ time: new Date("2026-03-04T09:00:00") });
    await page.evaluate(() => {
      const rung = globalThis as unknown as { tones: number; buzzes: number };
      rung.tones = 0;
      rung.buzzes = 0;
      const start = OscillatorNode.prototype.start;
      OscillatorNode.prototype.start = function (when) {
        rung.tones++;
        start.call(this, when);
      };
      navigator.vibrate = () => {
        rung.buzzes++;
        return true;
      };
    });
    const rung = () =>
      page.evaluate(() => {
        const { tones, buzzes } = globalThis as unknown as { tones: number; buzzes: number };
        return { tones, buzzes };
      });
    await openText(page, steeping);
    await begin(page);
    const clock = page.getByRole("timer").first();
    expect(await clock.innerText()).toBe("0:30:00");
    await button(page, "Start the clock").click();
    await page.clock.fastForward("10:00");
    await page.waitForFunction(() => document.querySelector(".clock")?.textContent === "0:20:00");
    expect(await page.getByText(/^Started 09:00, over at 09:30\./).count()).toBe(1);
    await button(page, "Pause").click();
    await page.clock.fastForward("05:00");
    expect(await clock.innerText()).toBe("0:20:00");
    await button(page, "Go on").click();
    await button(page, /^Done/).click();
    await page.clock.fastForward("04:00");
    // The page's clock goes on by itself, and on a busy machine a second passes before anybody looks.
    await page.getByRole("button", { name: /^Step 1: 0:1(?:6:00|5:5\d) left/ }).waitFor();
    // The book, too, is under the same clock.
    await button(page, "Whole book").click();
    await page.getByText(/it stands at step 2 of 3\.$/).waitFor();
    await page.clock.fastForward("16:05");
    const alarm = page.getByRole("alert").filter({ hasText: "Step 1: 30 min are over." });
    await alarm.waitFor();
    expect(await rung()).toEqual({ tones: 3, buzzes: 1 });
    // It rings again until somebody hears it.
    await page.clock.fastForward("00:05");
    expect(await rung()).toEqual({ tones: 6, buzzes: 2 });
    expect(await axe(page)).toEqual([]);
    await alarm.getByRole("button", { name: "Show the step" }).click();
    await page.waitForFunction(() => document.querySelector(".clock.over") !== null);
    expect(await page.getByText("planned 30 min, over by").count()).toBe(1);
    expect(await alarm.count()).toBe(0);
    const { tones } = await rung();
    await page.clock.fastForward("01:00");
    expect((await rung()).tones).toBe(tones);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("rings after a reload for a wait that ended while the page was away, and is quiet once it was heard", async () => {
    const { page, context, mishaps, close } = await stage.open();
    await page.clock.install({ time: new Date("2026-03-04T09:00:00") });
    await openText(page, steeping);
    await begin(page);
    await button(page, "Start the clock").click();
    await kept(page);
    await page.close();
    const again = await context.newPage();
    await again.clock.install({ time: new Date("2026-03-04T09:40:00") });
    await again.goto(stage.url);
    await button(again, "Go on with the run").click();
    await again.getByRole("alert").filter({ hasText: "Step 1: 30 min are over." }).waitFor();
    await again.getByText("planned 30 min, over by").first().waitFor();
    expect(await again.getByText("planned 30 min, over by").count()).toBe(1);
    expect(await again.getByRole("timer").first().innerText()).toMatch(/^0:(09:5|10:0)\d$/);
    await button(again, "Heard").click();
    expect(await again.getByRole("alert").count()).toBe(0);
    await kept(again);
    await again.reload();
    await button(again, "Go on with the run").click();
    await again.locator(".run").waitFor();
    expect(await again.getByRole("alert").count()).toBe(0);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("works without network from the first step to the row, by the keyboard alone", async () => {
    const { page, context, mishaps, close } = await stage.open();
    await openText(page, steeping);
    // The page is whole in this browser once its service worker has taken over.
    await page.evaluate(async () => (await navigator.serviceWorker.ready).active?.state);
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await context.setOffline(true);
    await button(page, "Run").focus();
    await page.keyboard.press("Enter");
    await page.locator(".run").waitFor();
    const focus = () => page.evaluate(() => document.activeElement?.textContent?.trim() ?? "");
    const press = async (name: string | RegExp) => {
      for (let i = 0; i < 40; i++) {
        const now = await page.evaluate(
          () =>
            document.activeElement?.getAttribute("aria-label") ?? document.activeElement?.textContent ?? "",
        );
        if (typeof name === "string" ? now === name : name.test(now)) {
          await page.keyboard.press("Enter");
          return;
        }
        await page.keyboard.press("Tab");
      }
      throw new Error(`The keyboard does not reach ${name}.`);
    };
    expect(await focus()).toMatch(/^Pull down to 60/);
    await press("Done. Next: step 2");
    // The keyboard stands at what puts it right; what passes it over is one further.
    expect(await focus()).toBe("Start the clock");
    await press("Done without it");
    expect(await focus()).toBe("Weigh it.");
    await page.keyboard.press("Tab");
    await page.keyboard.type("1,402");
    await page.getByRole("group", { name: "Which number is meant by 1,402?" }).waitFor();
    await page.keyboard.press("Control+a");
    await page.keyboard.type("0,4 L");
    await page.getByText("read as 400 mL; as planned").waitFor();
    await page.keyboard.press("Enter");
    await page.keyboard.type("60");
    await page.getByText("1 %vol under the plan, outside its ± 0.5 %vol").waitFor();
    await page.keyboard.press("Enter");
    expect(await focus()).toBe("Done. Next: step 3");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Tab");
    await page.keyboard.type("24,5");
    await press("Done. Finish the run");
    await press("Done without it");
    expect(await focus()).toBe("Write the run into the book");
    await field(page, /name of this run/).focus();
    await page.keyboard.type("3");
    await page.locator('input[type="date"]').fill("2026-03-04");
    await field(page, /^pull/).focus();
    await page.keyboard.type("60");
    expect(squeezed(await page.locator(".replaced").innerText())).toBe("rest blank in °C becomes 24.5 °C");
    await press("Write it into the book");
    await page.locator(".bench").waitFor();
    const text = await bookText(page);
    expect(text).toContain("| 3   | 2026-03-04 | 60          | 400      | 60 %vol   |\n");
    expect(text).toContain("set rest = 24.5 °C\n");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("never writes over what another tab did to the same run", async () => {
    const { page, context, mishaps, close } = await stage.open();
    await openText(page, steeping);
    await page.getByText(/^Saved in this browser/).waitFor();
    await begin(page);
    await kept(page);
    const other = await context.newPage();
    await other.goto(stage.url);
    await button(other, "Go on with the run").click();
    await other.locator(".run").waitFor();
    await pass(other);
    await kept(other);
    await button(other, "Back").click();
    await kept(other);
    await pass(page);
    const alert = page.getByRole("alert").filter({ hasText: "touched in another tab" });
    await alert.waitFor();
    expect(await page.locator(".which", { hasText: "Step 2 of 3" }).count()).toBe(1);
    await alert.getByRole("button", { name: "Show the other" }).click();
    await page.locator(".which", { hasText: "Step 1 of 3" }).waitFor();
    // The other tab passed its wait over, so nobody asks about it again.
    await button(page, /^Done/).click();
    await page.locator(".which", { hasText: "Step 2 of 3" }).waitFor();
    await kept(page);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("keeps what is here when it is told to, and then the other tab is the one that is told", async () => {
    const { page, context, mishaps, close } = await stage.open();
    const other = await inTwoTabs(page, context);
    expect(await field(other, /^got/).inputValue()).toBe("398");
    await field(other, /^got/).fill("411");
    await kept(other);

    await field(page, /^strength/).fill("61.2");
    const told = (of: Page) => of.getByRole("alert").filter({ hasText: "touched in another tab" });
    await told(page).waitFor();
    expect(await page.getByText(/^Kept in this browser/).count()).toBe(0);
    await told(page).getByRole("button", { name: "Keep what is here" }).click();
    await kept(page);
    expect(await told(page).count()).toBe(0);
    expect(await field(page, /^got/).inputValue()).toBe("398");
    // What is touched from now on is kept again, and still there after a reload.
    await field(page, /^got/).fill("399");
    await kept(page);

    // The other tab finds out with its next touch, keeps its own on the screen, and can take over what is kept.
    await field(other, /^strength/).fill("60.9");
    await told(other).waitFor();
    expect(await field(other, /^got/).inputValue()).toBe("411");
    await told(other).getByRole("button", { name: "Show the other" }).click();
    expect(await field(other, /^got/).inputValue()).toBe("399");
    expect(await field(other, /^strength/).inputValue()).toBe("61.2");
    await other.close();
    await page.reload();
    await button(page, "Go on with the run").click();
    expect(await field(page, /^got/).inputValue()).toBe("399");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("that was ended in another tab is told, and a run begun afterwards is kept", async () => {
    const { page, context, mishaps, close } = await stage.open();
    const other = await inTwoTabs(page, context);
    await button(other, "Stop the run").click();
    await button(other, "Stop the run and throw the readings away").click();
    await other.locator(".bench").waitFor();

    await field(page, /^strength/).fill("61.2");
    const ended = page.getByRole("alert").filter({ hasText: "ended in another tab" });
    await ended.waitFor();
    expect(await field(page, /^got/).inputValue()).toBe("398");
    // Stopping here as well lets the quarrel go with the run: the next one begins clean.
    await button(page, "Stop the run").click();
    await button(page, "Stop the run and throw the readings away").click();
    await page.locator(".bench").waitFor();
    await begin(page);
    await pass(page);
    await kept(page);
    expect(await ended.count()).toBe(0);
    await page.reload();
    await button(page, "Go on with the run").click();
    await page.locator(".which", { hasText: "Step 2 of 3" }).waitFor();
    expect(mishaps).toEqual([]);
    await close();
  });

  it("comes back after a reload without network, with its readings and its clock", async () => {
    const { page, context, mishaps, close } = await stage.open();
    await openText(page, steeping);
    await page.getByText(/^Saved in this browser/).waitFor();
    await page.evaluate(async () => (await navigator.serviceWorker.ready).active?.state);
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await begin(page);
    await button(page, "Start the clock").click();
    await button(page, /^Done/).click();
    await field(page, /^got/).fill("398");
    await kept(page);
    await context.setOffline(true);
    await page.reload();
    await page.getByText(/A run of “Cold steep” was begun/).waitFor();
    await button(page, "Go on with the run").click();
    await page.locator(".run").waitFor();
    expect(await field(page, /^got/).inputValue()).toBe("398");
    expect(await page.getByRole("button", { name: /^Step 1: (?:0:2\d:\d\d|0:30:00) left/ }).count()).toBe(1);
    await field(page, /^strength/).fill("61.2");
    await kept(page);
    await page.reload();
    await button(page, "Go on with the run").click();
    expect(await field(page, /^strength/).inputValue()).toBe("61.2");
    expect(mishaps).toEqual([]);
    await close();
  });

  it("can be stopped, and the book stays as it was", async () => {
    const { page, mishaps, close } = await stage.open();
    await openText(page, steeping);
    await begin(page);
    await pass(page);
    await field(page, /^got/).fill("403");
    await button(page, "Stop the run").click();
    await page.getByRole("dialog").getByText("One reading was taken.", { exact: false }).waitFor();
    await button(page, "Go on with the run").click();
    expect(await field(page, /^got/).inputValue()).toBe("403");
    await button(page, "Stop the run").click();
    await button(page, "Stop the run and throw the readings away").click();
    await page.locator(".bench").waitFor();
    expect(await button(page, "Run").count()).toBe(1);
    expect(await bookText(page)).toBe(steeping);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("counts the warm hours where the cautions call for it, and keeps them", async () => {
    const { page, mishaps, close } = await stage.open();
    await page.clock.install({ time: new Date("2026-03-04T09:00:00") });
    await openCard(page, /cider/);
    await begin(page);
    const warm = page.getByRole("region", { name: "Warm clock" });
    expect(await warm.innerText()).toContain("under 12 % alcohol by mass that is not sour (above pH 4.6)");
    await warm.getByRole("button", { name: "It is warm now" }).click();
    await warm.getByRole("button", { name: "15 min more" }).click();
    await page.clock.fastForward("01:44:00");
    await warm
      .getByText(/may go back to the fridge\. 1 min until 2 h are reached\. The local food code decides\./)
      .waitFor();
    await page.clock.fastForward("01:00");
    await page.getByRole("alert").filter({ hasText: "2 h between 5 and 60 °C are reached" }).waitFor();
    expect(await warm.innerText()).toContain("use it at once, do not chill it again");
    await button(page, "Heard").click();
    await warm.getByRole("button", { name: "Not warm any more" }).click();
    await page.clock.fastForward("05:00:00");
    expect(await warm.getByRole("timer").innerText()).toMatch(/^2:00:0\d$/);
    expect(await page.getByRole("alert").count()).toBe(0);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("says what speaks against Done, loses nothing, and leads from the end to what was not read", async () => {
    const { page, mishaps, close } = await stage.open({ width: 820, height: 1180 });
    await openText(page, steeping);
    await begin(page);
    const doubt = page.getByRole("alert");
    await button(page, "Done. Next: step 2").click();
    expect(squeezed(await doubt.locator("p").innerText())).toBe("The wait of 30 min never began.");
    expect(await page.locator(".which", { hasText: "Step 1 of 3" }).count()).toBe(1);
    await doubt.getByRole("button", { name: "Start the clock" }).click();
    expect(await doubt.count()).toBe(0);
    // A clock that goes is a wait that began: it goes on while the next step is done.
    await button(page, "Done. Next: step 2").click();
    await button(page, /^Step 1: (?:0:29:\d\d|0:30:00) left/).waitFor();

    await field(page, /^got/).fill("4o3");
    await button(page, "Done. Next: step 3").click();
    expect(squeezed(await doubt.locator("p").innerText())).toBe("“4o3” is no reading of got.");
    await doubt.getByRole("button", { name: "Read it again" }).click();
    expect(await field(page, /^got/).evaluate((e) => e === document.activeElement)).toBe(true);
    expect(await field(page, /^got/).inputValue()).toBe("4o3");
    // What is typed takes its place. Put right, there is nothing left to ask about.
    await page.keyboard.type("403");
    expect(await field(page, /^got/).inputValue()).toBe("403");
    expect(await doubt.count()).toBe(0);
    await field(page, /^got/).fill("4o3");
    await button(page, "Done. Next: step 3").click();
    await doubt.getByRole("button", { name: "Done without it" }).click();

    await page.locator(".which", { hasText: "Step 3 of 3" }).waitFor();
    await field(page, /^rest/).fill("warm");
    await button(page, "Done. Finish the run").click();
    expect(squeezed(await doubt.locator("p").innerText())).toBe(
      "The wait of 20 s never began, and “warm” is no reading of rest.",
    );
    expect(await axe(page)).toEqual([]);
    await doubt.getByRole("button", { name: "Done without them" }).click();

    // The end leads to each step that still wants a reading; what was typed stands there as it was.
    await button(page, "Go to step 3 for rest").click();
    expect(await field(page, /^rest/).inputValue()).toBe("warm");
    await field(page, /^rest/).fill("24");
    await button(page, "Done. Finish the run").click();
    expect(await button(page, "Go to step 3 for rest").count()).toBe(0);
    await button(page, "Go to step 2 for got, strength").click();
    expect(await field(page, /^got/).inputValue()).toBe("4o3");
    expect(mishaps).toEqual([]);
    await close();
  });

  for (const width of [820, 390])
    it(`asks about a reading far from its plan, has it read again, or goes on with it, at ${width}`, async () => {
      const { page, mishaps, close } = await stage.open({ width, height: 844, touch: width === 390 });
      await openCard(page, /^Start a blend/);
      await begin(page);
      const doubt = page.getByRole("alert");
      const weighed = field(page, /^weighed/);
      await weighed.fill("870.5");
      await button(page, "Done. Next: step 2").click();
      expect(squeezed(await doubt.locator("p").innerText())).toBe("weighed is 495.5 g under the plan.");
      expect(await axe(page)).toEqual([]);
      await doubt.getByRole("button", { name: "Read it again" }).click();
      expect(await weighed.evaluate((e) => e === document.activeElement)).toBe(true);
      await page.keyboard.type("1340.5");
      await button(page, "Done. Next: step 2").click();
      expect(squeezed(await doubt.locator("p").innerText())).toBe("weighed is 25.5 g under the plan.");
      await doubt.getByRole("button", { name: "Go on with it" }).click();
      await page.locator(".which", { hasText: "Step 2 of 4" }).waitFor();
      // The water is for what was weighed: 1340.5 / 1366 of the 636 g that were planned.
      expect(squeezed(await page.locator(".huge").innerText())).toBe("624g");
      // It stays as it was read, and is not asked about twice.
      await button(page, "Back").click();
      expect(await weighed.inputValue()).toBe("1340.5");
      await button(page, "Done. Next: step 2").click();
      await page.locator(".which", { hasText: "Step 2 of 4" }).waitFor();
      expect(mishaps).toEqual([]);
      await close();
    });

  it("on a phone keeps the caution in sight in one sentence, beside the clock and the reading of the step", async () => {
    const { page, mishaps, close } = await stage.open({ width: 390, height: 844, touch: true });
    await openCard(page, /^Start a blend/);
    await begin(page);
    const caution = page.getByRole("note", { name: "Cautions" });
    const folded =
      "Ethanol vapour ignites: ventilate, keep flames and sparks away, and lead the pump's exhaust out.";
    /** Whether it stands whole in the window, above what leads on. */
    const inSight = (what: string) =>
      page
        .locator(what)
        .first()
        .evaluate((element) => {
          const [box, go] = [element, document.querySelector(".run .go")!].map((e) =>
            e.getBoundingClientRect(),
          );
          return box!.top >= 0 && box!.bottom <= go!.top + 1;
        });
    // What is poured first stands large, and what it comes to after it.
    expect((await page.locator(".pours li").allInnerTexts()).map(squeezed)).toEqual([
      "909.1 g first",
      "456.8 g second",
    ]);
    expect(squeezed(await page.locator(".facts").innerText())).toBe("blend mass 1366 g");
    expect(await page.locator(".huge").count()).toBe(0);
    expect(squeezed(await caution.innerText())).toBe(`${folded} All 3 cautions`);
    expect([await inSight(".caution"), await inSight(".gauges .entry")]).toEqual([true, true]);
    for (const step of [2, 3]) {
      await button(page, new RegExp(`^Step ${step}:`)).click();
      expect([step, await inSight(".caution"), await inSight(".gauges .clock")]).toEqual([step, true, true]);
    }
    // Any touch of it brings all of it, and the fold back.
    await caution.click({ position: { x: 40, y: 20 } });
    expect(squeezed(await caution.innerText())).toContain(
      "exhaust out. From about 40 %vol up a spirit can be above its flash point in a warm room. The strength",
    );
    await button(page, "Fewer").click();
    expect(squeezed(await caution.innerText())).toBe(`${folded} All 3 cautions`);
    // A long list of what is poured does not push it out of sight.
    await button(page, "Whole book").click();
    await (await command(page, "Books")).click();
    await openText(page, readFileSync("workbooks/harbour-gin.vacuo", "utf8"));
    await begin(page);
    await button(page, /^Step 2:/).click();
    expect(await page.locator(".pours li").count()).toBe(5);
    expect([await inSight(".caution"), await inSight(".pours")]).toEqual([true, true]);
    await page.setViewportSize({ width: 390, height: 640 });
    expect(await inSight(".caution")).toBe(true);
    // Wide, nothing is folded, and on paper every caution stands whole.
    await page.setViewportSize({ width: 1280, height: 900 });
    expect(squeezed(await caution.innerText())).toMatch(/^Ethanol .* in a warm room\. All 4 cautions$/);
    await button(page, "Whole book").click();
    await page.evaluate(() => {
      document.body.dataset.print = "card";
    });
    await page.emulateMedia({ media: "print" });
    const paper = squeezed(await page.locator(".paper").innerText());
    expect(paper).toContain(`${folded} From about 40 %vol up a spirit can be above its flash point`);
    expect(mishaps).toEqual([]);
    await close();
  });

  for (const [width, height] of [
    [390, 844],
    [1280, 900],
  ] as const)
    it(`ends where the readings were written, or at the check they do not meet, and says so, at ${width}`, async () => {
      const { page, mishaps, close } = await stage.open({ width, height, touch: width === 390 });
      const readAs = async (measured: string, collected: string) => {
        await button(page, /^Step 3/).click();
        // The clock was not needed; what is far from the plan is asked about, and gone on with.
        await field(page, /^collected/).fill(collected);
        await button(page, "Done. Next: step 4").click();
        if (collected === "346") await button(page, "Done without it").click();
        else await button(page, "Go on with it").click();
        await field(page, /^measured/).fill(measured);
        await button(page, "Done. Finish the run").click();
        if (measured === "95") await button(page, "Go on with it").click();
        expect(await page.locator(".run").getByRole("status").innerText()).toBe(
          "The last step is done. Look at what was read.",
        );
        await button(page, "Write it into the book").click();
        await page.locator(".bench").waitFor();
      };
      const standsAt = (id: string) =>
        page.waitForFunction((name) => {
          const element = document.getElementById(name)!;
          const { left, top, bottom } = element.getBoundingClientRect();
          const seen = document.elementFromPoint(left + 9, (top + bottom) / 2);
          return (
            top >= 0 &&
            bottom <= innerHeight &&
            element.contains(seen) &&
            element.contains(document.activeElement)
          );
        }, id);
      const heard = page.locator(".bench > [role=status]");
      await openCard(page, /^Start a run/);
      await begin(page);
      await readAs("75.2", "346");
      await standsAt("at-value.3Acollected");
      await heard.getByText("Written into the book: collected, measured.").waitFor();
      await button(page, /^Undo: finishing the run/).click();
      await button(page, "Take the run up again").click();
      // More than ever went in: the check that tells so is where one stands.
      await readAs("95", "800");
      await standsAt("at-check~4");
      await heard
        .getByText(/ Here stands the check that is not met: no more alcohol came over than went in\.$/)
        .waitFor();
      expect(await axe(page)).toEqual([]);
      expect(mishaps).toEqual([]);
      await close();
    });

  it("ends without a word of readings where nothing was read, and leaves the book where it was", async () => {
    const { page, mishaps, close } = await stage.open({ width: 390, height: 844, touch: true });
    await openText(page, 'book "Rinse"\nstep "Rinse."\nstep "Rinse again."\n');
    await begin(page);
    await button(page, "Done. Next: step 2").click();
    await button(page, "Done. Finish the run").click();
    expect(await page.locator(".run").getByRole("status").innerText()).toBe(
      "The last step is done. Nothing was read.",
    );
    await button(page, "End the run").click();
    await page.locator(".bench").waitFor();
    expect(await page.evaluate(() => scrollY)).toBe(0);
    expect(await page.locator(".told").count()).toBe(0);
    expect(mishaps).toEqual([]);
    await close();
  });

  it("is no command of a book without steps", async () => {
    const { page, close } = await stage.open();
    await openText(page, 'book "No steps"\nset a = 1 g\n');
    expect(await page.getByRole("button", { name: /^Run/ }).count()).toBe(0);
    await close();
  });
});

describe("the run and what is beside it, on every screen", () => {
  for (const [width, height] of [
    [1280, 900],
    [820, 1180],
    [390, 844],
  ] as const)
    for (const scheme of ["light", "dark"] as const)
      it(`has no fault that axe-core finds, targets of 48 px, and no sideways scroll at ${width}, ${scheme}`, async () => {
        const { page, mishaps, close } = await stage.open({ width, height, scheme });
        const looked = async () => {
          expect(await axe(page)).toEqual([]);
          expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
          const small = await page.evaluate(() =>
            [
              ...document.querySelectorAll<HTMLElement>(
                ".run button, .run-box button, .run-box select, .alarms button, .entry",
              ),
            ]
              .filter((e) => e.offsetParent !== null || e.closest("dialog") !== null)
              .map((e) => ({ says: e.textContent, box: e.getBoundingClientRect() }))
              .filter(({ box }) => box.height < 48 || box.width < 48)
              .map(({ says, box }) => `${says} ${box.width}×${box.height}`),
          );
          expect(small).toEqual([]);
        };
        await openText(page, readFileSync("workbooks/dry-cider.vacuo", "utf8"));
        await begin(page);
        await looked();
        await button(page, /^All \d+ cautions/).click();
        await looked();
        await button(page, "Fewer").click();
        await button(page, /^Step 3/).click();
        await field(page, /^weighed/).fill("1,234");
        await looked();
        await field(page, /^weighed/).fill("40 mL");
        await looked();
        await field(page, /^weighed/).fill("40");
        await button(page, "All steps").click();
        await looked();
        await page
          .getByRole("dialog")
          .getByRole("button", { name: /The end/ })
          .click();
        await looked();
        await button(page, "Stop the run").click();
        await looked();
        await button(page, "Go on with the run").click();
        await button(page, "Whole book").click();
        await looked();
        expect(mishaps).toEqual([]);
        await close();
      });

  it("compares runs and sweeps a value without a fault that axe-core finds, at desk, tablet and phone", async () => {
    for (const width of [1280, 820, 390]) {
      const { page, mishaps, close } = await stage.open({
        width,
        height: 900,
        scheme: width === 820 ? "dark" : "light",
      });
      await openText(page, readFileSync("workbooks/coriander-trials.vacuo", "utf8"));
      await button(page, "Compare runs").click();
      await page.locator("dialog svg").first().waitFor();
      expect(await axe(page)).toEqual([]);
      const dialog = page.getByRole("dialog");
      await dialog.getByRole("combobox", { name: /^best is/ }).selectOption("lowest");
      expect(await dialog.getByRole("heading", { name: /^4a against the best by yield, 2b/ }).count()).toBe(
        1,
      );
      await dialog.getByRole("combobox", { name: /^run/ }).selectOption({ label: "3a" });
      expect(await dialog.getByRole("heading", { name: "3a against 2b" }).count()).toBe(1);
      expect(await dialog.getByText("By yield, 2b is also the best run.").count()).toBe(1);
      expect(await dialog.getByText(/^Only coolant was changed between them/).count()).toBe(1);
      await dialog.getByRole("button", { name: "Close" }).click();
      await (await command(page, "Books")).click();
      const gin = readFileSync("workbooks/harbour-gin.vacuo", "utf8");
      await openText(page, gin);
      await button(page, "Sweep bottling").click();
      await page.locator("dialog svg").first().waitFor();
      await dialog.getByRole("combobox", { name: /^result/ }).selectOption("per_bottle");
      expect(await axe(page)).toEqual([]);
      await dialog.getByText("The numbers").click();
      const now = await dialog.getByRole("row", { name: /as it is now/ }).innerText();
      expect(squeezed(now)).toBe(`42 %vol ${openBook(gin).ask("per_bottle").text} as it is now`);
      expect(await axe(page)).toEqual([]);
      await page.keyboard.press("Escape");
      expect(await page.evaluate(() => document.activeElement?.textContent)).toContain("Sweep");
      expect(mishaps).toEqual([]);
      await close();
    }
  });
});
