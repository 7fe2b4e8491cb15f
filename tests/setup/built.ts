import { spawn } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, rmSync, statSync } from "node:fs";
import { join, resolve } from "node:path";
import { setTimeout as pause } from "node:timers/promises";

const top = resolve(import.meta.dirname, "../..");

/** The built command, built again when its source is newer. Returns its path. */
export async function builtCommand(): Promise<string> {
  const file = join(top, "dist/cli/invacuo.js");
  await upToDate(file, ["--config", "vite.command.config.ts"]);
  return file;
}

/** The built page, built again when its source is newer. Returns its folder. */
export async function builtPage(): Promise<string> {
  await upToDate(join(top, "dist/app/index.html"), []);
  return join(top, "dist/app");
}

/** Test files run side by side: one builds, the others wait for it. */
async function upToDate(file: string, config: readonly string[]): Promise<void> {
  const lock = join(top, "node_modules", `.building-${file.includes("/cli/") ? "command" : "page"}`);
  // A build takes seconds: a lock older than this was left behind by a run that was ended.
  const abandoned = 90_000;
  while (stale(file)) {
    try {
      mkdirSync(lock);
    } catch {
      if (existsSync(lock) && Date.now() - statSync(lock).mtimeMs > abandoned)
        rmSync(lock, { recursive: true, force: true });
      await pause(200);
      continue;
    }
    try {
      if (stale(file)) await build(config);
    } finally {
      rmSync(lock, { recursive: true, force: true });
    }
    return;
  }
}

function build(config: readonly string[]): Promise<void> {
  return new Promise((done, fail) => {
    const vite = spawn(process.execPath, [join(top, "node_modules/vite/bin/vite.js"), "build", ...config], {
      cwd: top,
      stdio: ["ignore", "pipe", "pipe"],
      // Under the test runner NODE_ENV is "test", and React would be bundled in its slow form.
      env: { ...process.env, NODE_ENV: "production" },
    });
    let told = "";
    vite.stdout.on("data", (piece) => {
      told += piece;
    });
    vite.stderr.on("data", (piece) => {
      told += piece;
    });
    vite.on("error", fail);
    vite.on("close", (code) => (code === 0 ? done() : fail(new Error(`The build failed:\n${told}`))));
  });
}

function stale(file: string): boolean {
  if (!existsSync(file)) return true;
  const built = statSync(file).mtimeMs;
  return ["src", "grammar", "workbooks", "package.json", "vite.config.ts", "vite.command.config.ts"].some(
    (name) => newest(join(top, name)) > built,
  );
}

function newest(path: string): number {
  if (!existsSync(path)) return 0;
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  return readdirSync(path).reduce((latest, name) => Math.max(latest, newest(join(path, name))), 0);
}
