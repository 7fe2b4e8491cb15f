/**
 * `npm run bench`: bundles the measures as the command is bundled, since a program that is translated file by
 * file while it runs is several times slower than the one that is shipped. Each measure runs in a process of its
 * own, so that it does not hang on what was measured before it: reading formulas took twice as long at the end of
 * a process that had worked through all the others. A word behind it chooses the measures whose name holds it.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "vite";
import { isMet, type Line, printed } from "./table";

const folder = mkdtempSync(join(tmpdir(), "invacuo-bench-"));
try {
  await build({
    configFile: false,
    publicDir: false,
    logLevel: "warn",
    build: {
      ssr: join(import.meta.dirname, "measures.ts"),
      target: "node20",
      outDir: folder,
      minify: false,
      emptyOutDir: true,
      rolldownOptions: { output: { format: "es", entryFileNames: "measures.mjs" } },
    },
    ssr: { noExternal: true, target: "node" },
  });
  const bundle = join(folder, "measures.mjs");
  const asked = <T>(...words: readonly string[]): T => {
    const { status, stdout } = spawnSync(process.execPath, [bundle, ...words], {
      encoding: "utf8",
      stdio: ["ignore", "pipe", "inherit"],
    });
    if (status !== 0) throw new Error(`measures.ts ${words.join(" ")} ended with ${status}`);
    return JSON.parse(stdout) as T;
  };
  const started = performance.now();
  const wanted = process.argv[2] ?? "";
  const names = asked<readonly string[]>().filter((name) => name.includes(wanted));
  if (names.length === 0) throw new Error(`no measure has "${wanted}" in its name`);
  const lines: Line[] = [];
  for (const name of names) {
    const begun = performance.now();
    lines.push(...asked<readonly Line[]>(name));
    process.stderr.write(`${name}: ${((performance.now() - begun) / 1000).toFixed(1)} s\n`);
  }
  console.log(printed(lines));
  const missed = lines.filter((line) => !isMet(line)).length;
  console.log(
    `\n${missed === 0 ? "every limit is met" : `${missed} of ${lines.length} limits are missed`}; ` +
      `${((performance.now() - started) / 1000).toFixed(0)} s, node ${process.version}`,
  );
} finally {
  rmSync(folder, { recursive: true, force: true });
}
