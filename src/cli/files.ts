import { realpath, rename, rm, stat, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { asWrongCall } from "./source";
import type { Terminal } from "./terminal";

/**
 * Writes a file. @throws WrongCall when it cannot be written.
 */
export async function writeOut(
  name: string,
  content: string | Uint8Array,
  terminal: Terminal,
): Promise<void> {
  try {
    await writeFile(resolve(terminal.folder, name), content);
  } catch (error) {
    throw asWrongCall(error, name);
  }
}

/**
 * Replaces a file in one step: whoever reads it, and whatever breaks off in between, finds the old text or
 * the new one and never half of it. @throws WrongCall when it cannot be written.
 */
export async function replaceFile(name: string, content: string, terminal: Terminal): Promise<void> {
  try {
    const path = await realpath(resolve(terminal.folder, name));
    const { mode } = await stat(path);
    const beside = join(dirname(path), `.${process.pid}.invacuo-writing`);
    try {
      await writeFile(beside, content, { mode });
      await rename(beside, path);
    } catch (error) {
      await rm(beside, { force: true });
      throw error;
    }
  } catch (error) {
    throw asWrongCall(error, name);
  }
}
