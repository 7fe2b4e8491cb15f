import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { guards, openSite, type Site } from "../../src/cli/site";

interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly body: string;
}

describe("the served page", () => {
  let folder = "";
  let site: Site;
  let port = 0;

  /** Asks with the path exactly as written: `fetch` would tidy it up first. */
  function ask(path: string, options: { method?: string; host?: string } = {}): Promise<Answer> {
    return new Promise((resolve, reject) => {
      const headers = options.host === undefined ? {} : { Host: options.host };
      request({ host: "127.0.0.1", port, path, method: options.method ?? "GET", headers }, (response) => {
        let body = "";
        response.setEncoding("utf8");
        response.on("data", (piece) => {
          body += piece;
        });
        response.on("end", () => resolve({ status: response.statusCode!, headers: response.headers, body }));
      })
        .on("error", reject)
        .end();
    });
  }

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "invacuo-site-"));
    mkdirSync(join(folder, "page/assets"), { recursive: true });
    writeFileSync(join(folder, "page/index.html"), "<!doctype html><title>page</title>");
    writeFileSync(join(folder, "page/assets/page-1a2b.js"), "export {};");
    writeFileSync(join(folder, "page/näme one.svg"), "<svg/>");
    writeFileSync(join(folder, "secret.txt"), "secret");
    symlinkSync(join(folder, "secret.txt"), join(folder, "page/way-out.txt"));
    site = await openSite(join(folder, "page"), 0);
    port = Number(new URL(site.address).port);
  });
  afterAll(async () => {
    await site.close();
    rmSync(folder, { recursive: true });
  });

  it("is on the loopback address alone", () => {
    expect(site.address).toBe(`http://127.0.0.1:${port}/`);
  });

  it("sends files with their types and the guards", async () => {
    const page = await ask("/");
    expect(page).toMatchObject({ status: 200, body: "<!doctype html><title>page</title>" });
    expect(page.headers["content-type"]).toBe("text/html; charset=utf-8");
    for (const [name, value] of Object.entries(guards)) expect(page.headers[name.toLowerCase()]).toBe(value);
    expect(page.headers["content-security-policy"]).not.toMatch(/unsafe|\*/);
    const script = await ask("/assets/page-1a2b.js");
    expect(script.headers["content-type"]).toBe("text/javascript; charset=utf-8");
    expect(script.headers["cache-control"]).toContain("immutable");
    expect((await ask("/n%C3%A4me%20one.svg?v=1")).headers["content-type"]).toBe("image/svg+xml");
  });

  it("sends only the head when that is asked for", async () => {
    expect(await ask("/", { method: "HEAD" })).toMatchObject({ status: 200, body: "" });
  });

  it.each([
    "/../secret.txt",
    "/%2e%2e/secret.txt",
    "/..%2fsecret.txt",
    "/assets/../../secret.txt",
    "/..\\secret.txt",
    "//../secret.txt",
    "/%00",
    "/%E0%A4%A",
  ])("refuses to leave its folder by %s", async (path) => {
    const answer = await ask(path);
    expect(answer.status).toBeGreaterThanOrEqual(400);
    expect(answer.body).not.toContain("secret");
  });

  it("does not follow a link out of its folder", async () => {
    expect((await ask("/way-out.txt")).status).toBe(404);
  });

  it("has nothing at other addresses, folders included", async () => {
    expect((await ask("/nothing.html")).status).toBe(404);
    expect((await ask("/assets")).status).toBe(404);
    expect((await ask("/assets/")).status).toBe(404);
  });

  it("only reads", async () => {
    const answer = await ask("/", { method: "POST" });
    expect(answer.status).toBe(405);
    expect(answer.headers.allow).toBe("GET, HEAD");
  });

  it("answers nobody who calls it by another name", async () => {
    expect((await ask("/", { host: `stranger.example:${port}` })).status).toBe(403);
    expect((await ask("/", { host: `localhost:${port}` })).status).toBe(200);
  });
});
