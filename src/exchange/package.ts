import { type Zippable, zipSync } from "fflate";

/** 1980-01-01, the first day that a zip file can name: with it the same book gives the same bytes on every day. */
const FIRST_DAY = new Date(1980, 0, 1);

export interface PackagePart {
  readonly path: string;
  readonly bytes: Uint8Array;
  /** Kept as it is instead of deflated. */
  readonly stored?: boolean;
}

/** A zip file of the parts in their order, without the clock. */
export function zipParts(parts: readonly PackagePart[]): Uint8Array {
  const files: Zippable = {};
  for (const part of parts) {
    files[part.path] = [part.bytes, { level: part.stored ? 0 : 6, mtime: FIRST_DAY }];
  }
  return zipSync(files);
}

export const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
