import { createServer, type Server } from "node:net";
import { resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { builtPage } from "../setup/built";
import { runCommand } from "./run-command";

const top = resolve(import.meta.dirname, "../..");

/** Serves until the link has been used, and gives what was printed. */
async function serving(words: readonly string[], use: (link: string) => Promise<void>) {
  let stop = () => {};
  let tell = (_: string) => {};
  const stopped = new Promise<void>((done) => {
    stop = done;
  });
  const printed = new Promise<string>((done) => {
    tell = done;
  });
  const running = runCommand(["serve", ...words], { folder: top, stopped, onOut: tell });
  const link = await Promise.race([printed, running.then((ran) => Promise.reject(new Error(ran.err)))]);
  try {
    await use(link.trim());
  } finally {
    stop();
  }
  return running;
}

function occupy(port: number): Promise<Server> {
  return new Promise((done, fail) => {
    const server = createServer().once("error", fail);
    server.listen(port, "127.0.0.1", () => done(server));
  });
}

describe("serve", () => {
  beforeAll(async () => {
    await builtPage();
  }, 200_000);

  it("prints the link of the page and serves it, until it is told to stop", async () => {
    let link = "";
    const ran = await serving(["--port", "0"], async (printed) => {
      link = printed;
      expect(link).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/);
      const page = await fetch(link);
      expect(page.status).toBe(200);
      const html = await page.text();
      expect(html).toContain("<title>Invacuo</title>");
      // Everything that the page names is there, with a type that browsers accept under nosniff.
      for (const [, path] of html.matchAll(/(?:src|href)="(\.\/[^"]+)"/g)) {
        const file = await fetch(new URL(path!, link));
        expect(file.status, path).toBe(200);
        expect(file.headers.get("content-type"), path).toMatch(/javascript|css|svg|png|manifest/);
        await file.arrayBuffer();
      }
    });
    expect(ran.code).toBe(0);
    await expect(fetch(link)).rejects.toThrow();
  });

  it("serves what a browser needs to keep the page: its worker and its manifest, asked for afresh each time", async () => {
    await serving(["--port", "0"], async (link) => {
      for (const [name, type] of [
        ["service-worker.js", "text/javascript"],
        ["invacuo.webmanifest", "application/manifest+json"],
        ["", "text/html"],
      ]) {
        const { status, headers } = await fetch(new URL(name!, link));
        expect(status, name).toBe(200);
        expect(headers.get("content-type"), name).toContain(type);
        expect(headers.get("cache-control"), name).toBe("no-cache");
        expect(headers.get("content-security-policy"), name).toMatch(
          /worker-src 'self'; manifest-src 'self'/,
        );
      }
    });
  });

  it("takes the book along in the link", async () => {
    await serving(["workbooks/harbour-gin.vacuo", "--port", "0"], async (link) => {
      const { code, out } = await runCommand(["link", link, "--read"]);
      expect(code).toBe(0);
      expect(out).toContain('book "Harbour gin, spring trial"');
    });
  });

  it("chooses a free port when the usual one is taken", async () => {
    const usual = await occupy(8642).catch(() => undefined);
    try {
      await serving([], async (link) => {
        expect(new URL(link).port).not.toBe("8642");
        expect((await fetch(link)).status).toBe(200);
      });
    } finally {
      usual?.close();
    }
  });

  it("does not take another port than the one it was asked to take", async () => {
    const taken = await occupy(0);
    const address = taken.address();
    const port = typeof address === "object" && address ? String(address.port) : "";
    const ran = await runCommand(["serve", "--port", port], { folder: top });
    taken.close();
    expect(ran).toMatchObject({ code: 2, out: "" });
    expect(ran.err).toContain(`Port ${port} is in use`);
  });

  it("needs the book to be there", async () => {
    expect((await runCommand(["serve", "none.vacuo"], { folder: top })).code).toBe(2);
  });
});
