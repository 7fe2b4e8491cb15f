import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { generateGrammarDocuments } from "../../grammar/documents";
import { accuracyDocument } from "../../tests/published/accuracy";
import { vocabulary } from "../vocabulary";
import { aromaDocument } from "../vocabulary/aroma-document";
import { vocabularyDocument } from "../vocabulary/document";
import { libraryDocument } from "./library-document";

/**
 * Writes the documents that are made from the code, or with `--check` says which are out of date and ends
 * with 1. A tool for developers (`npm run generate`), not a part of the command.
 */
const documents: ReadonlyMap<string, string> = new Map([
  ["docs/vocabulary.md", vocabularyDocument(vocabulary.values())],
  ["docs/accuracy.md", accuracyDocument()],
  ["docs/aroma.md", aromaDocument()],
  ["docs/library.api.md", libraryDocument()],
  ...generateGrammarDocuments(),
]);

const top = resolve(import.meta.dirname, "../..");
const checks = process.argv.includes("--check");
const stale: string[] = [];
for (const [name, made] of documents) {
  const path = join(top, name);
  if (made === readOrEmpty(path)) continue;
  if (checks) stale.push(name);
  else {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, made);
    console.log(`wrote ${name}`);
  }
}
if (stale.length > 0) {
  console.error(`Out of date: ${stale.join(", ")}. Run npm run generate.`);
  process.exitCode = 1;
} else if (checks) console.log(`${documents.size} generated documents are up to date.`);

function readOrEmpty(path: string): string {
  try {
    return readFileSync(path, "utf8");
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return "";
    throw error;
  }
}
