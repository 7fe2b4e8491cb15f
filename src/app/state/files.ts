/** Files of books: reading what a person opens or drops, writing what a person saves. */

/** The largest file that is read; the language allows no larger book. */
export const LARGEST = 8 * 1024 * 1024;

export type Read = { readonly text: string; readonly name: string } | { readonly refused: string };

/** Reads a file as a book's text; refuses what is too large or no text, and says so. */
export async function readBookFile(file: File): Promise<Read> {
  if (file.size > LARGEST)
    return { refused: `${file.name} has ${(file.size / 1024 / 1024).toFixed(1)} MB; a book may have 8 MB.` };
  const bytes = new Uint8Array(await file.arrayBuffer());
  try {
    const text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
    if (text.includes("\u0000")) return { refused: `${file.name} is not a text, so it is no book.` };
    return { text, name: file.name };
  } catch (error) {
    if (error instanceof TypeError)
      return { refused: `${file.name} is not a text in UTF-8, so it is no book.` };
    throw error;
  }
}

/** A file name from a title: letters, digits and dashes. */
export function fileNameFor(title: string, ending = "vacuo"): string {
  const stem = title
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 60);
  return `${stem === "" ? "book" : stem}.${ending}`;
}

/** Offers bytes as a download. This makes a copy; it does not save over anything. */
export function downloadCopy(name: string, data: Uint8Array | string, type: string): void {
  const part = typeof data === "string" ? data : new Uint8Array(data);
  const url = URL.createObjectURL(new Blob([part], { type }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  // The browser has taken the data by the next turn; a minute is kind to slow ones.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

/** A file that the browser lets the page write again, where there is such a thing. */
export interface FileHandle {
  readonly name: string;
  createWritable(): Promise<{ write(data: string): Promise<void>; close(): Promise<void> }>;
}
interface FilePicking {
  showSaveFilePicker?: (options: object) => Promise<FileHandle>;
}

/** Whether this browser can save into a file rather than only download a copy. */
export const canSaveFiles = (): boolean =>
  typeof (globalThis as FilePicking).showSaveFilePicker === "function";

/** Saves into a file: the one that is known, or one that the person picks. Undefined when the person gives up. */
export async function saveToFile(
  text: string,
  name: string,
  known: FileHandle | undefined,
): Promise<FileHandle | undefined> {
  const handle = known ?? (await pick(name));
  if (handle === undefined) return undefined;
  const stream = await handle.createWritable();
  await stream.write(text);
  await stream.close();
  return handle;
}

async function pick(name: string): Promise<FileHandle | undefined> {
  const show = (globalThis as FilePicking).showSaveFilePicker!;
  try {
    return await show.call(globalThis, {
      suggestedName: name,
      types: [{ description: "Invacuo book", accept: { "text/plain": [".vacuo"] } }],
    });
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") return undefined;
    throw error;
  }
}
