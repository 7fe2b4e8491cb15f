import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { beforeAll, describe, expect, it } from "vitest";
import { builtPage } from "../../setup/built";

let folder: string;
beforeAll(async () => {
  folder = await builtPage();
});

const file = (name: string): string => readFileSync(join(folder, "assets", name), "utf8");
const weight = (names: Iterable<string>): number =>
  [...names].reduce((sum, name) => sum + gzipSync(file(name), { level: 9 }).length, 0);

/** A script and everything that it imports before it runs. */
function withImports(name: string, seen = new Set<string>()): Set<string> {
  if (seen.has(name)) return seen;
  seen.add(name);
  for (const match of file(name).matchAll(/(?:from|import)\s*["'`]\.\/([\w.-]+\.js)["'`]/g))
    withImports(match[1]!, seen);
  return seen;
}

const startScript = (): string => {
  const html = readFileSync(join(folder, "index.html"), "utf8");
  return /src="\.\/assets\/([^"]+\.js)"/.exec(html)![1]!;
};

describe("what the page weighs, compressed", () => {
  it("the start at most 100 kB, an open book at most 370 kB, before what is fetched when it is asked for", () => {
    const start = withImports(startScript());
    const styles = readdirSync(join(folder, "assets")).filter((n) => n.endsWith(".css"));
    const first = weight([...start, ...styles]);
    const desk = readdirSync(join(folder, "assets")).find((n) => n.startsWith("Desk-") && n.endsWith(".js"))!;
    const book = weight(new Set([...start, ...styles, ...withImports(desk)]));
    expect(first / 1000).toBeLessThan(100);
    // React, the parser, a hundred functions with their sources, the engine, and the page.
    expect(book / 1000).toBeLessThan(370);
    // Spreadsheets, other versions, tables from elsewhere, the run and help while writing are not among it.
    const names = [...withImports(desk), ...start].join(" ");
    expect(names).not.toMatch(
      /XlsxPopulate|exchange-|Compare|ReadThrough|Functions|TablesIn|tables-in|RunView|SweepPanel|TrialsPanel|help-|jobs-|worker/,
    );
    const all = readdirSync(join(folder, "assets")).join(" ");
    for (const asked of ["Compare", "ReadThrough", "TablesIn", "RunView", "help", "worker"])
      expect(all).toMatch(new RegExp(`\\b${asked}-[\\w-]+\\.js`));
  });

  it("holds no address of another host that it would ask", () => {
    const html = readFileSync(join(folder, "index.html"), "utf8");
    expect(html).not.toMatch(/(?:src|href)="(?!\.\/)/);
    expect(html).not.toMatch(/<script(?![^>]*src=)/);
    expect(html).toContain("default-src 'none'");
    for (const name of readdirSync(join(folder, "assets")).filter((n) => n.endsWith(".css")))
      expect(file(name)).not.toMatch(/url\(|@import/);
  });
});
