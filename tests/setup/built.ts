import { spawn } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, rmSync, statSync } from "node:fs";
import { join, resolve } from "node:path";
import { setTimeout as pause } from "node:timers/promises";

const top = resolve(import.meta.dirname, "../..");

const viteBuild = [join(top, "node_modules/vite/bin/vite.js"), "build", "--configLoader", "runner"];
const tsx = join(top, "node_modules/tsx/dist/cli.mjs");

/** The built command, built again when its source is newer. Returns its path. */
export async function builtCommand(): Promise<string> {
  const file = join(top, "dist/cli/invacuo.js");
  await upToDate("command", file, [...viteBuild, "--config", "vite.command.config.ts"]);
  return file;
}

/** The built page, built again when its source is newer. Returns its folder. */
export async function builtPage(): Promise<string> {
  await upToDate("page", join(top, "dist/app/index.html"), viteBuild);
  return join(top, "dist/app");
}

/** The page in one file, built again when its source is newer. Returns its path. */
export async function builtSingle(): Promise<string> {
  const file = join(top, "dist/single/invacuo.html");
  await upToDate("single", file, [...viteBuild, "--config", "vite.single.config.ts"]);
  return file;
}

/** The built library, built again when its source is newer. Returns its folder. */
export async function builtLibrary(): Promise<string> {
  await upToDate("library", join(top, "dist/library/index.d.ts"), [tsx, "src/build/build-library.ts"]);
  return join(top, "dist/library");
}

/** Test files run side by side: one builds, the others wait for it. */
async function upToDate(what: string, file: string, builder: readonly string[]): Promise<void> {
  const lock = join(top, "node_modules", `.building-${what}`);
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
      if (stale(file)) await build(builder);
    } finally {
      rmSync(lock, { recursive: true, force: true });
    }
    return;
  }
}

function build(builder: readonly string[]): Promise<void> {
  return new Promise((done, fail) => {
    const running = spawn(process.execPath, builder, {
      cwd: top,
      stdio: ["ignore", "pipe", "pipe"],
      // Under the test runner NODE_ENV is "test", and React would be bundled in its slow form.
      env: { ...process.env, NODE_ENV: "production" },
    });
    let told = "";
    running.stdout.on("data", (piece) => {
      told += piece;
    });
    running.stderr.on("data", (piece) => {
      told += piece;
    });
    running.on("error", fail);
    running.on("close", (code) => (code === 0 ? done() : fail(new Error(`The build failed:\n${told}`))));
  });
}

function stale(file: string): boolean {
  if (!existsSync(file)) return true;
  const built = statSync(file).mtimeMs;
  const sources = ["src", "grammar", "workbooks", "tools", "package.json"];
  const settings = readdirSync(top).filter((name) => /^(vite\..*|tsconfig.*)\.(ts|json)$/.test(name));
  return [...sources, ...settings].some((name) => newest(join(top, name)) > built);
}

function newest(path: string): number {
  if (!existsSync(path)) return 0;
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  return readdirSync(path).reduce((latest, name) => Math.max(latest, newest(join(path, name))), 0);
}
