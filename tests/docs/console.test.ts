import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runCommand } from "../cli/run-command";
import { fencesOf } from "./fences";

const top = resolve(import.meta.dirname, "../..");

/** The words of a command line, quotes undone. */
function wordsOf(line: string): string[] {
  return [...line.matchAll(/'([^']*)'|"([^"]*)"|(\S+)/g)].map((m) => m[1] ?? m[2] ?? m[3]!);
}

/**
 * Every `$ npx invacuo …` of the documents is run, and must print what stands under it. A block
 * ` ```vacuo gin.vacuo ` is a file that the commands after it can read.
 */
for (const name of ["README.md", "docs/language.md", "docs/tutorial.md", "docs/sharing.md"]) {
  describe(`the commands of ${name}`, () => {
    let folder = "";
    beforeAll(() => {
      folder = mkdtempSync(join(tmpdir(), "invacuo-docs-"));
    });
    afterAll(() => rmSync(folder, { recursive: true }));

    for (const fence of fencesOf(readFileSync(join(top, name), "utf8"))) {
      const file = fence.words[0] === "vacuo" ? fence.words[1] : undefined;
      if (file?.endsWith(".vacuo")) {
        it(`keeps ${file} (line ${fence.line})`, () => {
          writeFileSync(join(folder, file), `${fence.lines.join("\n")}\n`);
        });
      }
      if (fence.words[0] !== "console") continue;
      it(`prints what stands at line ${fence.line}`, async () => {
        let printed = "";
        for (const line of fence.lines.filter((text) => text.startsWith("$ "))) {
          const words = wordsOf(line.slice(2));
          expect(words.slice(0, 2), line).toEqual(["npx", "invacuo"]);
          const books = name === "README.md" ? top : folder;
          const ran = await runCommand(words.slice(2), { folder: books });
          printed += `${line}\n${ran.out}${ran.err}`;
        }
        expect(printed.trimEnd()).toBe(fence.lines.join("\n").trimEnd());
      });
    }
  });
}
