import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import type { BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { encodeLink } from "../../../src/exchange";
import { builtSingle } from "../../setup/built";
import { bookText, cell, openCard, openText, type Stage, setStage } from "./stage";

/** The page in one file, opened from disk. */
let stage: Stage;
let file = "";
let context: BrowserContext;
let page: Page;
let mishaps: string[] = [];
beforeAll(async () => {
  file = await builtSingle();
  stage = await setStage();
}, 200_000);
afterAll(() => stage?.close());
beforeEach(async () => {
  context = await stage.browser.newContext({ reducedMotion: "reduce", offline: true });
  context.setDefaultTimeout(30_000);
  mishaps = [];
  context.on("console", (m) => {
    if (m.type() === "error" || m.type() === "warning") mishaps.push(m.text());
  });
  context.on("weberror", (error) => {
    mishaps.push(error.error().message);
  });
  context.on("request", (request) => {
    const address = request.url();
    if (address !== pathToFileURL(file).href && !/^(data|blob):/.test(address)) mishaps.push(address);
  });
  page = await context.newPage();
  await page.goto(pathToFileURL(file).href);
});
afterEach(() => context.close());

it("opens from disk without a network, computes, and keeps a change over a reload", async () => {
  await openCard(page, /Harbour gin/);
  await cell(page, "distillates", 0, 1).click();
  await page.keyboard.type("2500");
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => document.querySelector(".kept")?.textContent?.startsWith("Saved in this"));
  const text = await bookText(page);
  expect(text).toContain("| 2500 ");
  await page.reload();
  await page.getByRole("button", { name: "Harbour gin, spring trial", exact: true }).click();
  expect(await bookText(page)).toBe(text);
  expect(mishaps).toEqual([]);
});

it("writes spreadsheets, and offers no link to an address that nobody else has", async () => {
  await openCard(page, /Harbour gin/);
  for (const name of [/Spreadsheet \.xlsx/, /Spreadsheet, open format/]) {
    await page.getByRole("button", { name: "Keep and send" }).click();
    expect(await page.getByRole("button", { name: /link/ }).count()).toBe(0);
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name }).click(),
    ]);
    expect(
      readFileSync(await download.path())
        .subarray(0, 2)
        .toString(),
    ).toBe("PK");
  }
  expect(mishaps).toEqual([]);
});

it("does long work beside the page, in a worker that comes out of the file itself", async () => {
  const text = "set a = 10.0 ± 0.2 g\nset b = a^2 / 1 g\n";
  const workers: string[] = [];
  page.on("worker", (worker) => workers.push(worker.url()));
  await openText(page, text);
  await page.getByRole("button", { name: /^b, .*: why\?$/ }).click();
  await page.getByRole("button", { name: "Check the ± with 10,000 trials" }).click();
  const said = openBook(text).why("b", { trials: 10_000 })!.monteCarlo!.says;
  await page.getByText(said.replace(/\s+/g, " ").trim()).waitFor();
  expect(workers).toHaveLength(1);
  expect(workers[0]).toMatch(/^blob:/);
  expect(mishaps).toEqual([]);
});

it("reads a link that stands behind its own address", async () => {
  const text = 'book "Sent"\nset a = 1 g\n';
  const next = await context.newPage();
  await next.goto(`${pathToFileURL(file).href}#${encodeLink(text).fragment}`);
  expect(await bookText(next)).toBe(text);
  expect(mishaps).toEqual([]);
});

it("admits its own script and styles by their hashes, and nothing else", async () => {
  const html = readFileSync(file, "utf8");
  const policy = /http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(html)![1]!;
  expect(policy).toMatch(
    /^default-src 'none'; script-src 'sha256-[^' ]+'; style-src 'sha256-[^' ]+'; img-src data:; worker-src blob:; base-uri/,
  );
  expect(policy).not.toMatch(/unsafe|https?:|\*/);
  // Somebody who smuggles a script in gets nowhere.
  const ran = await page.evaluate(async () => {
    const script = document.createElement("script");
    script.textContent = "globalThis.smuggled = true";
    document.body.append(script);
    await new Promise((done) => setTimeout(done, 50));
    return "smuggled" in globalThis;
  });
  expect(ran).toBe(false);
  expect(mishaps.length).toBe(1);
  expect(mishaps[0]).toMatch(/Content Security Policy/);
});
