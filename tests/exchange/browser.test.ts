import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { build } from "vite";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { encodeLink, exportOds, exportXlsx } from "../../src/exchange";
import { slimLibrary } from "../../src/exchange/shim/slim-library";
import { examples, open } from "./examples";
import { needing, scratch, sweepScratch } from "./readers";

const CHROMIUM = ["/usr/bin/chromium", "/usr/bin/chromium-browser"].find((path) => {
  try {
    readFileSync(path, { flag: "r" });
    return true;
  } catch {
    return false;
  }
});

/** The exchange, built as the page builds it, in one script. */
let script = "";
beforeAll(async () => {
  const folder = scratch();
  const entry = join(folder, "entry.ts");
  writeFileSync(
    entry,
    `import { openBook } from ${JSON.stringify(join(import.meta.dirname, "../../src/engine"))};
     import * as exchange from ${JSON.stringify(join(import.meta.dirname, "../../src/exchange"))};
     Object.assign(globalThis, { openBook, exchange });`,
  );
  mkdirSync(join(folder, "out"));
  await build({
    configFile: false,
    logLevel: "error",
    root: folder,
    plugins: [slimLibrary()],
    build: {
      outDir: join(folder, "out"),
      minify: false,
      rolldownOptions: {
        input: entry,
        output: { format: "iife", entryFileNames: "entry.js", codeSplitting: false },
      },
    },
  });
  script = readFileSync(join(folder, "out/entry.js"), "utf8");
}, 120_000);
afterAll(sweepScratch);

describe("in a browser", () => {
  it("needs nothing of Node and no code made from text", () => {
    for (const trace of ["process.browser", "__vite-browser-external", "pako", "createCipheriv"]) {
      expect(script.includes(trace), trace).toBe(false);
    }
  });

  it.skipIf(CHROMIUM === undefined)(
    needing(
      "chromium",
      CHROMIUM !== undefined,
      "writes the same files, byte for byte, as in the terminal, under a strict content policy",
    ),
    async () => {
      const text = examples.get("harbour-gin")!;
      const book = open("harbour-gin");
      const browser = await chromium.launch({ executablePath: CHROMIUM!, args: ["--no-sandbox"] });
      try {
        const page = await browser.newPage();
        await page.route("http://page.test/**", (route) => {
          const isScript = route.request().url().endsWith("entry.js");
          return route.fulfill({
            contentType: `${isScript ? "text/javascript" : "text/html"}; charset=utf-8`,
            headers: { "content-security-policy": "default-src 'none'; script-src 'self'" },
            body: isScript ? script : '<!doctype html><script src="entry.js"></script>',
          });
        });
        const failures: string[] = [];
        page.on("pageerror", (error) => failures.push(String(error)));
        page.on("console", (message) => message.type() === "error" && failures.push(message.text()));
        await page.goto("http://page.test/index.html");
        expect(failures.filter((f) => !f.includes("favicon"))).toEqual([]);
        const made = await page.evaluate(async (source) => {
          // biome-ignore lint/suspicious/noExplicitAny: globals of the built script
          const { openBook, exchange } = globalThis as any;
          const opened = openBook(source);
          const xlsx: Uint8Array = await exchange.exportXlsx(opened);
          const ods: Uint8Array = exchange.exportOds(opened);
          const [table] = exchange.readTables(ods, "x.ods");
          return {
            xlsx: [...xlsx],
            ods: [...ods],
            link: exchange.encodeLink(source).fragment,
            table: table.headings.length,
          };
        }, text);
        expect(failures.filter((f) => !f.includes("favicon"))).toEqual([]);
        expect(Buffer.compare(Buffer.from(made.ods), Buffer.from(exportOds(book)))).toBe(0);
        expect(Buffer.compare(Buffer.from(made.xlsx), Buffer.from(await exportXlsx(book)))).toBe(0);
        expect(made.link).toBe(encodeLink(text).fragment);
        expect(made.table).toBeGreaterThan(0);
      } finally {
        await browser.close();
      }
    },
    60_000,
  );
});
