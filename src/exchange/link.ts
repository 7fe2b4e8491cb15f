import { deflateSync, Inflate, strFromU8, strToU8 } from "fflate";
import { Trouble } from "../quantity/trouble";

/**
 * A whole book in the fragment of an address, which a browser never sends to a server:
 *
 *     version.length.checksum.data
 *
 * `data` is the UTF-8 of the text, deflated (RFC 1951) and written in base64url without padding (RFC 4648);
 * `length` counts its characters, so that a link cut off on its way is told from a damaged one; `checksum`
 * is the CRC-32 of the UTF-8 in eight hexadecimal digits. Both checks run before anything is opened.
 */
export const LINK_VERSION = "1";
/** Above this many characters some programs cut an address: a file is the better way then. */
export const COMFORTABLE_LINK = 2_000;
/** The most text a link may hold, that of a book's own limit (8 MB). */
const MOST_TEXT = 8 * 1024 * 1024;

export interface EncodedLink {
  /** What goes behind the `#`. */
  readonly fragment: string;
  /** Characters of the fragment. */
  readonly length: number;
  /** Said when the link is longer than some programs pass on. */
  readonly advice?: string;
}

/** The fragment that holds a text. The same text gives the same fragment. */
export function encodeLink(text: string): EncodedLink {
  const bytes = strToU8(text);
  if (bytes.length > MOST_TEXT) {
    throw new Trouble({
      code: "link-too-long",
      says: "This book is larger than the 8 MB that a link can hold.",
      help: "Send it as a file.",
    });
  }
  const data = base64url(deflateSync(bytes, { level: 9 }));
  const fragment = `${LINK_VERSION}.${data.length}.${hexadecimal(crc32(bytes))}.${data}`;
  if (fragment.length <= COMFORTABLE_LINK) return { fragment, length: fragment.length };
  return {
    fragment,
    length: fragment.length,
    advice: `This link has ${fragment.length} characters. Some programs cut an address after about ${COMFORTABLE_LINK}, so a file is safer.`,
  };
}

/** The text in a fragment (with or without its `#`). Throws `Trouble` that names what is wrong with it. */
export function decodeLink(fragment: string): string {
  const bare = fragment.trim().replace(/^#/, "");
  const parts = bare.split(".");
  if (!/^\d{1,6}$/.test(parts[0] ?? "")) {
    throw new Trouble({
      code: "link-unknown",
      says: "This is no link to a book: it does not begin with a version number.",
      help: "Ask for the link again, or for the file.",
    });
  }
  if (parts[0] !== LINK_VERSION) {
    throw new Trouble({
      code: "link-version",
      says: `This link was made by a newer version (${parts[0]}); this one reads version ${LINK_VERSION}.`,
      help: "Open it with a newer version, or ask for the file.",
    });
  }
  if (parts.length < 4) throw cutOff("its end is missing");
  const [, lengthText, checksum, data] = parts;
  if (parts.length > 4 || !/^\d{1,9}$/.test(lengthText!) || !/^[0-9a-f]{8}$/.test(checksum!)) throw damaged();
  const length = Number(lengthText);
  if (data!.length < length) throw cutOff(`${data!.length} of ${length} characters arrived`);
  if (data!.length > length) {
    throw new Trouble({
      code: "link-extended",
      says: `Something was added to the end of this link: it should hold ${length} characters and holds ${data!.length}.`,
      help: "Copy the link without the words around it.",
    });
  }
  const bytes = inflateWithin(fromBase64url(data!), MOST_TEXT);
  if (hexadecimal(crc32(bytes)) !== checksum) throw damaged();
  const text = strFromU8(bytes);
  // A lenient decoder would let broken UTF-8 through as replacement characters: the bytes must come back.
  if (hexadecimal(crc32(strToU8(text))) !== checksum) throw damaged();
  return text;
}

const cutOff = (how: string): Trouble =>
  new Trouble({
    code: "link-cut-off",
    says: `This link was cut off on its way: ${how}.`,
    help: "Ask for it again in one piece, or for the file. Nothing was opened.",
  });
const damaged = (): Trouble =>
  new Trouble({
    code: "link-damaged",
    says: "This link was changed on its way: its contents do not match its checksum.",
    help: "Ask for it again, or for the file. Nothing was opened.",
  });

function inflateWithin(packed: Uint8Array, most: number): Uint8Array {
  const chunks: Uint8Array[] = [];
  let size = 0;
  let ended = false;
  const inflate = new Inflate((chunk, final) => {
    size += chunk.length;
    if (size > most) {
      throw new Trouble({
        code: "link-too-long",
        says: "This link unfolds to more than 8 MB; no book is that large.",
      });
    }
    chunks.push(chunk);
    ended = final;
  });
  try {
    // Small pieces, so that the limit stops a bomb before it has unfolded.
    for (let i = 0; i < packed.length; i += 1024) {
      inflate.push(packed.subarray(i, i + 1024), i + 1024 >= packed.length);
    }
    if (packed.length === 0) throw damaged();
  } catch (error) {
    if (error instanceof Trouble) throw error;
    throw damaged();
  }
  if (!ended) throw damaged();
  const bytes = new Uint8Array(size);
  let at = 0;
  for (const chunk of chunks) {
    bytes.set(chunk, at);
    at += chunk.length;
  }
  return bytes;
}

// ---- base64url and CRC-32, small enough to own and the same in every place where this runs -----------

const ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

function base64url(bytes: Uint8Array): string {
  const out: string[] = [];
  for (let i = 0; i < bytes.length; i += 3) {
    const a = bytes[i]!;
    const b = bytes[i + 1];
    const c = bytes[i + 2];
    out.push(ALPHABET[a >> 2]!, ALPHABET[((a & 3) << 4) | ((b ?? 0) >> 4)]!);
    if (b !== undefined) out.push(ALPHABET[((b & 15) << 2) | ((c ?? 0) >> 6)]!);
    if (c !== undefined) out.push(ALPHABET[c & 63]!);
  }
  return out.join("");
}

function fromBase64url(text: string): Uint8Array {
  if (text.length % 4 === 1) throw damaged();
  const bytes = new Uint8Array(Math.floor((text.length * 3) / 4));
  let at = 0;
  let bits = 0;
  let held = 0;
  for (const character of text) {
    const value = ALPHABET.indexOf(character);
    if (value < 0) throw damaged();
    held = ((held << 6) | value) & 0xffff;
    bits += 6;
    if (bits >= 8) {
      bits -= 8;
      bytes[at++] = (held >> bits) & 255;
    }
  }
  return bytes.subarray(0, at);
}

const CRC_TABLE = /* @__PURE__ */ (() => {
  const table = new Uint32Array(256);
  for (let n = 0; n < 256; n++) {
    let c = n;
    for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
    table[n] = c >>> 0;
  }
  return table;
})();

/** CRC-32 as in zip files (ISO 3309), of all bytes. */
export function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (let i = 0; i < bytes.length; i++) c = CRC_TABLE[(c ^ bytes[i]!) & 255]! ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

const hexadecimal = (n: number): string => n.toString(16).padStart(8, "0");
