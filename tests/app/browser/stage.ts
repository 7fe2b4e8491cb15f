import { existsSync, readFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import { createRequire } from "node:module";
import type { AddressInfo } from "node:net";
import { extname, join, normalize } from "node:path";
import { type Browser, type BrowserContext, chromium, type Locator, type Page } from "playwright-core";
import { builtPage } from "../../setup/built";

/** A browser, the built page on a loopback port of its own, and a record of everything that went wrong. */
export interface Stage {
  readonly url: string;
  readonly browser: Browser;
  /** A fresh browser profile with one page on the start. */
  open(options?: OpenOptions): Promise<Scene>;
  close(): Promise<void>;
}
export interface OpenOptions {
  readonly width?: number;
  readonly height?: number;
  readonly scheme?: "light" | "dark";
  readonly touch?: boolean;
  /** Somebody who is here for the first time. By default the first look was put away earlier. */
  readonly newcomer?: boolean;
}
export interface Scene {
  readonly context: BrowserContext;
  readonly page: Page;
  /** Console errors, page errors, requests to other hosts: all of them are mistakes. */
  readonly mishaps: readonly string[];
  close(): Promise<void>;
}

const types: Record<string, string> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".webmanifest": "application/manifest+json; charset=utf-8",
};

function serve(folder: string): Promise<Server> {
  const server = createServer((request, response) => {
    const path = new URL(request.url ?? "/", "http://localhost").pathname;
    const file = join(folder, normalize(path === "/" ? "/index.html" : path));
    if (!file.startsWith(folder) || !existsSync(file)) {
      response.writeHead(404).end();
      return;
    }
    response.writeHead(200, { "content-type": types[extname(file)] ?? "application/octet-stream" });
    response.end(readFileSync(file));
  });
  return new Promise((done) => server.listen(0, "127.0.0.1", () => done(server)));
}

const chromiumPath = ["/usr/bin/chromium", "/usr/bin/chromium-browser"].find(existsSync);

/** What the browser keeps of somebody who has put the first look away. */
const knowing = (url: string) => ({
  cookies: [],
  origins: [{ origin: new URL(url).origin, localStorage: [{ name: "invacuo.tour", value: "away" }] }],
});

/** Sets the stage. Call it in `beforeAll`; it builds the page when its source is newer. */
export async function setStage(): Promise<Stage> {
  if (chromiumPath === undefined)
    throw new Error("The page is tested in Chromium; install the package chromium.");
  const server = await serve(await builtPage());
  const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  const browser = await chromium.launch({
    executablePath: chromiumPath,
    args: [
      "--headless",
      "--no-sandbox",
      "--disable-gpu",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });
  return {
    url,
    browser,
    async open(options = {}) {
      const { width = 1280, height = 900, scheme = "light", touch = false, newcomer = false } = options;
      const context = await browser.newContext({
        viewport: { width, height },
        colorScheme: scheme,
        hasTouch: touch,
        reducedMotion: "reduce",
        ...(newcomer ? {} : { storageState: knowing(url) }),
        permissions: ["clipboard-read", "clipboard-write"],
      });
      const mishaps: string[] = [];
      context.on("request", (request) => {
        const to = request.url();
        if (!to.startsWith(url) && !to.startsWith("blob:") && !to.startsWith("data:"))
          mishaps.push(`request to ${to}`);
      });
      context.on("response", (response) => {
        if (response.status() >= 400) mishaps.push(`${response.status()} for ${response.url()}`);
      });
      context.on("console", (message) => {
        if (message.type() === "error" || message.type() === "warning")
          mishaps.push(`${message.type()}: ${message.text()}`);
      });
      context.on("weberror", (error) => {
        mishaps.push(`page error: ${error.error().message}`);
      });
      // A missing element is told by its name, well before the test itself gives up.
      context.setDefaultTimeout(30_000);
      const page = await context.newPage();
      await page.goto(url);
      await page.getByRole("heading", { name: "Invacuo" }).waitFor();
      return { context, page, mishaps, close: () => context.close() };
    },
    async close() {
      await browser.close();
      await new Promise((done) => server.close(done));
    },
  };
}

/** Opens one of the cards of the start. */
export async function openCard(page: Page, title: string | RegExp): Promise<void> {
  await page.getByRole("button", { name: title }).first().click();
  await page.locator(".bench").waitFor();
}

/** Opens a book from its text, as a file that a person picks. */
export async function openText(page: Page, text: string, name = "book.vacuo"): Promise<void> {
  await page.locator("input[type=file]").setInputFiles({
    name,
    mimeType: "text/plain",
    buffer: Buffer.from(text),
  });
  await page.locator(".bench").waitFor();
}

/** A cell of a table: rows from 0, -1 the formulas, -2 the names. */
export const cell = (page: Page, table: string, row: number, column: number) =>
  page.locator(`[data-grid="table:${table}"] [data-cell="${row},${column}"]`);

/** A part of a result, by its label. */
export const part = (page: Page, value: string, label: string) =>
  page.locator(`[id="at-value.3A${value}"] .parts button`, { hasText: new RegExp(`^${label}`) });

/** What the keyboard's focus says to those who hear it. */
export const focused = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const at = document.activeElement;
    // The field of a table is named by the cell that it lies over.
    const by = at?.getAttribute("aria-labelledby");
    const named = by ? document.getElementById(by)?.querySelector("[role=img]") : at;
    return named?.getAttribute("aria-label") ?? at?.textContent?.trim() ?? "";
  });

/** A command at the top of the page. On a phone it may stand behind a word, which is opened first. */
export async function command(page: Page, name: string | RegExp): Promise<Locator> {
  const nav = page.getByRole("navigation", { name: "Book" });
  const rest = nav.getByRole("button", { name: "Book", exact: true });
  if ((await rest.isVisible()) && (await rest.getAttribute("aria-expanded")) === "false") await rest.click();
  return nav.getByRole("button", { name, exact: typeof name === "string" });
}

/** The text of the book, read from the pane that shows it. */
export async function bookText(page: Page): Promise<string> {
  const pane = page.getByRole("textbox", { name: "Text of the book" });
  if (!(await pane.isVisible())) await (await command(page, "Text")).click();
  return pane.inputValue();
}

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** What axe-core finds wrong on the page as it stands, each with the elements. */
export async function axe(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  return page.evaluate(async () => {
    const { axe } = globalThis as unknown as {
      axe: { run(): Promise<{ violations: { id: string; help: string; nodes: { html: string }[] }[] }> };
    };
    const { violations } = await axe.run();
    return violations.map(
      (v) => `${v.id}: ${v.help}: ${v.nodes.map((n) => n.html.slice(0, 160)).join(" | ")}`,
    );
  });
}
