import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

const root = join(import.meta.dirname, "../..");
const ROOMS = ["grammar", "src/quantity", "src/engine", "src/vocabulary"];
/** Refusals of edits and of questions that the page and the command ask, not faults of a book. */
const EDITS = /(?:-edits|renaming|patches|sweep|editing\/[-\w]+)\.ts$/u;

const NAMED = /code: "([a-z]+(?:-[a-z]+)*)"/gu;
const TOLD = /\b(?:fault|note|trouble)\(\s*"([a-z]+(?:-[a-z]+)+)"/gu;
const ODD = /\boddity\([^"]*?"([a-z]+(?:-[a-z]+)+)"/gu;
/** `oddity(image, at, "code"` with an image in quotes. */
const ODD_QUOTED = /^\s*"([a-z]+(?:-[a-z]+)+)",$/gmu;

/** Every code that stands in the sources of the rooms. */
export function codesOf(): ReadonlySet<string> {
  const codes = new Set<string>();
  for (const room of ROOMS) {
    for (const file of readdirSync(join(root, room), { recursive: true, encoding: "utf8" })) {
      if (!file.endsWith(".ts") || EDITS.test(file)) continue;
      const text = readFileSync(join(root, room, file), "utf8");
      const patterns = room === "grammar" ? [NAMED, TOLD, ODD, ODD_QUOTED] : [NAMED, TOLD];
      for (const pattern of patterns) for (const [, code] of text.matchAll(pattern)) codes.add(code!);
    }
  }
  return codes;
}

/** Codes for which no book of the corpus can be written, or none small enough, and why. */
export const unreachable: ReadonlyMap<string, string> = new Map([
  ["answers-limit", "needs two million cells; they are told one by one only to programs"],
  ["call-limit", "takes seconds to reach; tests/engine/hostile.test.ts does"],
  ["define-deep", "needs 300 definitions; tests/engine/defined.test.ts writes them"],
  ["defines-limit", "needs 300,000 parts; tests/engine/defined.test.ts writes them"],
  ["file-faulty", "needs 50,000 faulty statements; tests/engine/hostile.test.ts writes them"],
  ["file-large", "needs 8 MB; tests/engine/hostile.test.ts writes them"],
  [
    "function-away",
    "every function is here but on the page; tests/app/browser/fetching.test.ts keeps one away",
  ],
  ["formula-empty", "only a formula by itself can be without anything, in a question or a field of the page"],
  ["list-empty", "totals of nothing are gaps before the mean is asked for"],
  ["number-too-long", "the reader of numbers tells a number that is too long"],
  ["number-unreadable", "the reader of numbers lets nothing else through"],
  ["too-many-stocks", "needs more than 200 rows; tests/engine/hostile.test.ts writes them"],
  ["unit-symbol", "the reader of characters tells a currency sign first"],
  ["work-limit", "takes seconds to reach; tests/engine/hostile.test.ts does"],
]);
