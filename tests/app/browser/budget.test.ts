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

/** A script, and everything that it imports before it runs. */
function withImports(name: string, seen = new Set<string>()): Set<string> {
  if (seen.has(name)) return seen;
  seen.add(name);
  for (const match of file(name).matchAll(/(?:from|import)\s*["'`]\.\/([\w.-]+\.js)["'`]/g))
    withImports(match[1]!, seen);
  return seen;
}

const all = (): string[] => readdirSync(join(folder, "assets"));
/** The one file of a part of the page, its fingerprint aside. */
const named = (part: string, ending = "js"): string => {
  const found = all().filter((n) => new RegExp(`^${part}-[\\w-]{8}\\.${ending}$`).test(n));
  expect(found, part).toHaveLength(1);
  return found[0]!;
};
/** Files that the page itself names: the script that begins, and the styles. */
const inPage = (ending: string): string[] => {
  const html = readFileSync(join(folder, "index.html"), "utf8");
  return [...html.matchAll(/(?:src|href)="\.\/assets\/([^"]+)"/g)]
    .map((m) => m[1]!)
    .filter((n) => n.endsWith(ending));
};

describe("what the page weighs, compressed", () => {
  it("the start at most 90 kB, with an open book at most 252 kB, before what is fetched when it is asked for", () => {
    const start = new Set([...inPage(".css"), ...inPage(".js").flatMap((n) => [...withImports(n)])]);
    expect(weight(start) / 1000).toBeLessThan(90);
    const styles = all().filter((n) => /^open-[\w-]{8}\.css$/.test(n));
    const bare = new Set([...start, ...styles, ...withImports(named("open"))]);
    // The functions of the first example; those of others come in their stead or beside them.
    const book = new Set([...bare, ...withImports(named("_functions_spirit"))]);
    expect(weight(book) / 1000).toBeLessThan(252);
    // A book that calls every function waits for all of them.
    const parts = all().filter((n) => n.startsWith("_functions_"));
    expect(parts.length).toBeGreaterThan(4);
    const most = new Set([...bare, ...parts.flatMap((n) => [...withImports(n)])]);
    expect(weight(most) / 1000).toBeLessThan(345);
    // Words of the functions, spreadsheets, other versions, tables from elsewhere, the run and help are not among it.
    expect([...most].join(" ")).not.toMatch(
      /XlsxPopulate|exchange-|Compare|ReadThrough|Functions-|Why-|prose|TablesIn|tables-in|BegunRun|TourLine|Picture|behind|questions|SweepPanel|TrialsPanel|help-|jobs-|worker/,
    );
    for (const asked of [
      "Compare",
      "ReadThrough",
      "TablesIn",
      "BegunRun",
      "TourLine",
      "Picture",
      "behind",
      "Why",
      "prose-here",
      "help",
      "worker",
    ])
      named(asked);
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
