import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { openSite, type Site } from "../../../src/cli/site";
import { builtPage } from "../../setup/built";
import { bookText, cell, openCard, openText, type Stage, setStage } from "./stage";

/** The page as `invacuo serve` serves it, kept by the browser. Each test has a copy of its own, which it may renew. */
let stage: Stage;
let folder = "";
let site: Site;
let context: BrowserContext;
let page: Page;
let mishaps: string[] = [];
beforeAll(async () => {
  stage = await setStage();
});
afterAll(() => stage?.close());
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "invacuo-page-"));
  cpSync(await builtPage(), folder, { recursive: true });
  site = await openSite(folder, 0);
  context = await stage.browser.newContext({ reducedMotion: "reduce" });
  context.setDefaultTimeout(30_000);
  mishaps = [];
  context.on("console", (m) => {
    if (m.type() === "error" || m.type() === "warning") mishaps.push(m.text());
  });
  context.on("weberror", (error) => {
    mishaps.push(error.error().message);
  });
  page = await context.newPage();
  await page.goto(site.address);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
});
afterEach(async () => {
  await context.close();
  await site.close();
  rmSync(folder, { recursive: true });
});

const saved = (on: Page) =>
  on.waitForFunction(() => document.querySelector(".kept")?.textContent?.startsWith("Saved in this browser"));
/** Lays a newer version beside the one that is served: its start says so, and its fingerprint is another. */
function renew(words: string): void {
  const start = join(folder, "index.html");
  writeFileSync(
    start,
    readFileSync(start, "utf8").replace(/(name="description" content=")[^"]*/, `$1${words}`),
  );
  const worker = join(folder, "service-worker.js");
  writeFileSync(worker, readFileSync(worker, "utf8").replace(/"version":"[^"]*"/, `"version":"${words}"`));
}
const askForNews = (on: Page) =>
  on.evaluate(async () => {
    await (await navigator.serviceWorker.ready).update();
  });
const version = (on: Page) => on.locator("meta[name=description]").getAttribute("content");
const versionsKept = (on: Page) => on.evaluate(() => caches.keys());

describe("without a network", () => {
  it("the page comes up, opens an example, keeps what is changed in it, and writes a spreadsheet", async () => {
    await context.setOffline(true);
    await site.close();
    await page.reload();
    await openCard(page, /Harbour gin/);
    await saved(page);
    await cell(page, "distillates", 0, 1).click();
    await page.keyboard.type("2500");
    await page.keyboard.press("Enter");
    await saved(page);
    const text = await bookText(page);
    expect(text).toContain("| 2500 ");
    await page.reload();
    await page.getByRole("button", { name: "Harbour gin, spring trial", exact: true }).click();
    expect(await bookText(page)).toBe(text);
    await page.getByRole("button", { name: "Keep and send" }).click();
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: /Spreadsheet .xlsx/ }).click(),
    ]);
    expect(
      readFileSync(await download.path())
        .subarray(0, 2)
        .toString(),
    ).toBe("PK");
    // A link is read without a network too.
    await page.goto(`${site.address}#1.cut.off`);
    await page.getByRole("alert").first().waitFor();
    expect(mishaps).toEqual([]);
  });

  it("every file of the page is kept", async () => {
    const kept = await page.evaluate(async () => {
      const [name] = await caches.keys();
      return (await (await caches.open(name!)).keys()).map((request) => new URL(request.url).pathname);
    });
    const files = readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && entry.name !== "service-worker.js")
      .map((entry) =>
        `${entry.parentPath.slice(folder.length)}/${entry.name}`.replace(/^\/index\.html$/, "/"),
      );
    expect(kept.sort()).toEqual(files.sort());
  });
});

describe("a newer version", () => {
  it("waits until it is wanted; then the book is saved, and opens again in the new version", async () => {
    const before = await version(page);
    await openText(page, 'book "Waiting"\nset a = 1 g\n');
    await saved(page);
    renew("newer");
    await askForNews(page);
    const slip = page.getByRole("alert").filter({ hasText: "A new version is ready." });
    await slip.waitFor();
    expect(await version(page)).toBe(before);
    // Another page of the old version, opened meanwhile, is still the old one.
    const other = await context.newPage();
    await other.goto(site.address);
    expect(await version(other)).toBe(before);
    await other.close();

    await page.getByRole("textbox", { name: /^a, / }).focus();
    await page.keyboard.type("7 g");
    const loaded = page.waitForEvent("load");
    await slip.getByRole("button", { name: "Save and reload" }).click();
    await loaded;
    await page.locator(".bench").waitFor();
    expect(await version(page)).toBe("newer");
    expect(await bookText(page)).toBe('book "Waiting"\nset a = 7 g\n');
    await page.reload();
    await expect.poll(() => versionsKept(page)).toEqual(["invacuo newer"]);
    expect(mishaps).toEqual([]);
  });

  it("is put off with a word, and taken when all pages are closed", async () => {
    renew("newer");
    await askForNews(page);
    const slip = page.getByRole("alert").filter({ hasText: "A new version is ready." });
    await slip.getByRole("button", { name: "Later" }).click();
    await slip.waitFor({ state: "detached" });
    await page.close();
    const next = await context.newPage();
    await expect
      .poll(async () => {
        await next.goto("about:blank");
        await next.goto(site.address);
        return version(next);
      })
      .toBe("newer");
    expect(mishaps).toEqual([]);
  });

  it("leaves to another open page the files that it came with", async () => {
    const other = await context.newPage();
    await other.goto(site.address);
    const before = await version(other);
    // The new version has no file of the old one's name any more.
    renew("newer");
    const assets = join(folder, "assets");
    const desk = readdirSync(assets).find((name) => /^exchange-.*\.js$/.test(name))!;
    await askForNews(page);
    const loaded = page.waitForEvent("load");
    await page.getByRole("alert").getByRole("button", { name: "Save and reload" }).click();
    await loaded;
    expect(await version(page)).toBe("newer");
    expect(await version(other)).toBe(before);
    rmSync(join(assets, desk));
    expect((await versionsKept(other)).length).toBe(2);
    expect(await other.evaluate((name) => fetch(`./assets/${name}`).then((r) => r.status), desk)).toBe(200);
    expect(mishaps).toEqual([]);
  });

  it("is not taken while a book cannot be saved", async () => {
    await openText(page, 'book "Two tabs"\nset a = 1 g\n');
    await saved(page);
    const other = await context.newPage();
    await other.goto(site.address);
    await other.getByRole("button", { name: "Two tabs", exact: true }).click();
    await saved(other);
    for (const [on, words] of [
      [page, "2 g"],
      [other, "3 g"],
    ] as const) {
      await on.getByRole("textbox", { name: /^a, / }).focus();
      await on.keyboard.type(words);
      await on.keyboard.press("Enter");
      if (on === page) await saved(page);
    }
    await other.getByRole("alert").filter({ hasText: "changed in another tab" }).waitFor();
    renew("newer");
    await askForNews(other);
    await other.getByRole("button", { name: "Save and reload" }).click();
    await other.getByRole("alert").filter({ hasText: "was not loaded again" }).waitFor();
    expect(await bookText(other)).toContain("set a = 3 g");
    expect(mishaps).toEqual([]);
  });
});

describe("installing", () => {
  it("finds a manifest with the page's own mark, in pictures that are there", async () => {
    const manifest = await page.evaluate(async () => {
      const address = (document.querySelector("link[rel=manifest]") as HTMLLinkElement).href;
      const answer = await fetch(address);
      const told = await answer.json();
      const pictures = await Promise.all(
        (told.icons as { src: string; sizes: string; type: string }[]).map(async (icon) => {
          const picture = await createImageBitmapOf(new URL(icon.src, address).href);
          return { ...icon, ...picture };
        }),
      );
      return {
        type: answer.headers.get("content-type"),
        start: new URL(told.start_url, address).href,
        pictures,
      };

      async function createImageBitmapOf(source: string) {
        const image = new Image();
        image.src = source;
        await image.decode();
        return { width: image.naturalWidth, height: image.naturalHeight };
      }
    });
    expect(manifest.type).toContain("application/manifest+json");
    expect(manifest.start).toBe(site.address);
    for (const { sizes, width, height } of manifest.pictures.filter((p) => p.type === "image/png"))
      expect(sizes).toBe(`${width}x${height}`);
    expect(manifest.pictures.map((p) => p.sizes)).toEqual(expect.arrayContaining(["192x192", "512x512"]));
    const session = await context.newCDPSession(page);
    const { errors } = (await session.send("Page.getAppManifest")) as { errors: unknown[] };
    expect(errors).toEqual([]);
    const { installabilityErrors } = (await session.send("Page.getInstallabilityErrors")) as {
      installabilityErrors: { errorId: string }[];
    };
    // A browser profile for tests is a private one, where nothing can be installed; nothing else stands in the way.
    expect(installabilityErrors.filter((e) => e.errorId !== "in-incognito")).toEqual([]);
  });
});
