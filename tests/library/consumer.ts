import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

export const top = resolve(import.meta.dirname, "../..");

/** A folder of somebody else's, with the package installed by its path and nothing else but types of Node. */
export function consumerFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "invacuo-consumer-"));
  mkdirSync(join(folder, "node_modules/@types"), { recursive: true });
  symlinkSync(top, join(folder, "node_modules/invacuo"));
  symlinkSync(join(top, "node_modules/@types/node"), join(folder, "node_modules/@types/node"));
  symlinkSync(join(top, "node_modules/undici-types"), join(folder, "node_modules/undici-types"));
  writeFileSync(join(folder, "package.json"), JSON.stringify({ type: "module", private: true }));
  return folder;
}

/** Type-checks a program there as strictly as the compiler can, the library's own types included, and runs it. */
export function checkAndRun(folder: string, program: string): string {
  writeFileSync(join(folder, "program.ts"), program);
  writeFileSync(
    join(folder, "tsconfig.json"),
    JSON.stringify({
      compilerOptions: {
        strict: true,
        noUncheckedIndexedAccess: true,
        exactOptionalPropertyTypes: true,
        skipLibCheck: false,
        module: "nodenext",
        target: "es2022",
        lib: ["es2022"],
        types: ["node"],
        outDir: "out",
      },
      files: ["program.ts"],
    }),
  );
  run(folder, [join(top, "node_modules/typescript/bin/tsc"), "-p", "."]);
  return run(folder, ["out/program.js"]);
}

function run(folder: string, words: readonly string[]): string {
  try {
    return execFileSync(process.execPath, words, { cwd: folder, encoding: "utf8", stdio: "pipe" });
  } catch (error) {
    const { stdout = "", stderr = "" } = error as { stdout?: string; stderr?: string };
    throw new Error(`${words.join(" ")} failed:\n${stdout}${stderr}`);
  }
}
