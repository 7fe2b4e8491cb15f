import { readFile, stat } from "node:fs/promises";
import { resolve } from "node:path";
import type { Terminal } from "./terminal";
import { WrongCall } from "./wrong-call";

/** A text that was read, and the name under which messages speak of it. */
export interface Source {
  readonly name: string;
  readonly text: string;
  /** Where it came from; undefined for standard input. */
  readonly path?: string;
}

/** Above this size nothing is read: a book may have 8 MB, and a message about a longer one needs no more than this. */
const mostBytes = 64 * 1024 * 1024;

/**
 * Reads a book or another text: a file, or standard input for `-`.
 * @throws WrongCall when there is no such file, it cannot be read, or it is no text in UTF-8.
 */
export async function readText(name: string, terminal: Terminal): Promise<Source> {
  if (name === "-") {
    return { name: "standard input", text: decode(await readInput(terminal), "standard input") };
  }
  const path = resolve(terminal.folder, name);
  return { name, path, text: decode(await readBytes(name, terminal), name) };
}

/**
 * The bytes of a file.
 * @throws WrongCall when there is no such file or it cannot be read.
 */
export async function readBytes(name: string, terminal: Terminal): Promise<Uint8Array> {
  if (name === "-") return readInput(terminal);
  const path = resolve(terminal.folder, name);
  try {
    const { size } = await stat(path);
    if (size > mostBytes) throw new WrongCall(`${name} is larger than 64 MB, too large to be read.`);
    return await readFile(path);
  } catch (error) {
    throw asWrongCall(error, name);
  }
}

/** Turns what the file system says into a sentence; anything else is passed on. */
export function asWrongCall(error: unknown, name: string): unknown {
  if (!(error instanceof Error) || !("syscall" in error) || !("code" in error)) return error;
  switch (error.code) {
    case "ENOENT":
    case "ENOTDIR":
      return new WrongCall(`There is no file ${name}.`, "Check the name and the folder.");
    case "EISDIR":
      return new WrongCall(`${name} is a folder, not a file.`, "Name a file in it.");
    case "EACCES":
    case "EPERM":
      return new WrongCall(`${name} may not be read or written by you.`, "Check the rights of the file.");
    case "EROFS":
    case "ENOSPC":
      return new WrongCall(`${name} cannot be written: the disk is full or write-protected.`);
    default:
      return new WrongCall(`${name} cannot be read or written (${String(error.code)}).`);
  }
}

async function readInput(terminal: Terminal): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  let size = 0;
  for await (const piece of terminal.input) {
    const bytes = typeof piece === "string" ? new TextEncoder().encode(piece) : piece;
    size += bytes.length;
    if (size > mostBytes) throw new WrongCall("Standard input is larger than 64 MB, too large to be read.");
    pieces.push(bytes);
  }
  return Buffer.concat(pieces);
}

/**
 * Text of bytes in UTF-8.
 * @throws WrongCall for anything else, with a guess at what it is.
 */
export function decode(bytes: Uint8Array, name: string): string {
  const starts = (...signature: number[]) => signature.every((b, i) => bytes[i] === b);
  if (starts(0x50, 0x4b, 0x03, 0x04)) {
    throw new WrongCall(
      `${name} is a packed file (such as .xlsx, .ods or .zip), not the text of a book.`,
      "A book is plain text, a file that ends in .vacuo.",
    );
  }
  if (starts(0xff, 0xfe) || starts(0xfe, 0xff)) {
    throw new WrongCall(`${name} is text in UTF-16; a book is text in UTF-8.`, "Save it again as UTF-8.");
  }
  if (bytes.includes(0)) throw new WrongCall(`${name} is not text: it holds bytes that no text has.`);
  try {
    // The byte order mark stays, so that what is written back is byte for byte what was read.
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new WrongCall(`${name} is not text in UTF-8.`, "If it is text, save it again as UTF-8.");
  }
}
