import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { type Book, openBook } from "../../src/engine";

const FOLDER = join(import.meta.dirname, "../../workbooks");

/** Every example book, by its file name. */
export const examples: ReadonlyMap<string, string> = new Map(
  readdirSync(FOLDER)
    .filter((f) => f.endsWith(".vacuo"))
    .sort()
    .map((f) => [f.replace(/\.vacuo$/, ""), readFileSync(join(FOLDER, f), "utf8")]),
);
export const open = (name: string): Book => openBook(examples.get(name)!);
