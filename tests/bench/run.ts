/**
 * `npm run bench`: bundles the measures as the command is bundled, since a program that is translated file by
 * file while it runs is several times slower than the one that is shipped, and runs them in a process of
 * their own. A word behind it chooses the measures whose name holds it.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "vite";

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
  const { status } = spawnSync(process.execPath, [join(folder, "measures.mjs"), ...process.argv.slice(2)], {
    stdio: "inherit",
  });
  process.exitCode = status ?? 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
