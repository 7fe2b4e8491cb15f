import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";

/**
 * Stands in for the zip library of xlsx-populate when the page and the command are built: the few calls that the
 * library makes, on the zip code that we ship anyway. (Not used where the library runs from its own package, as in
 * the tests.)
 */
type Content = string | Uint8Array | undefined;

export default class Archive {
  static readonly external = { Promise };
  private readonly parts = new Map<string, Uint8Array>();

  static async loadAsync(data: Uint8Array): Promise<Archive> {
    const archive = new Archive();
    for (const [path, bytes] of Object.entries(unzipSync(data))) archive.parts.set(path, bytes);
    return archive;
  }

  /** With one argument the part of that name, or null; with more, puts a part in. */
  file(path: string, ...content: [] | [Content] | [Content, unknown]): unknown {
    if (content.length === 0) {
      const bytes = this.parts.get(path);
      return bytes === undefined ? null : { async: async () => strFromU8(bytes) };
    }
    const [value] = content;
    if (value === undefined) this.parts.delete(path);
    else this.parts.set(path, typeof value === "string" ? strToU8(value) : value);
    return this;
  }

  remove(path: string): this {
    this.parts.delete(path);
    return this;
  }

  async generateAsync(): Promise<Uint8Array> {
    // Stored, not packed: the package is opened and packed again at once (xlsx-parts.ts).
    return zipSync(Object.fromEntries(this.parts), { level: 0, mtime: new Date(1980, 0, 1) });
  }
}
