import { inflateSync } from "fflate";
import { crc32 } from "../link";
import { damaged, LIMITS, locked, tooLarge } from "./limits";

/**
 * Reads a zip package (PKWARE APPNOTE) without trusting it: sizes are capped by what the directory declares
 * before anything is inflated, and a part whose length or CRC differs from the declaration is damage.
 */
export class ZipPackage {
  private spent = 0;
  private constructor(
    private readonly bytes: Uint8Array,
    private readonly entries: ReadonlyMap<string, Entry>,
  ) {}

  static open(bytes: Uint8Array): ZipPackage {
    return new ZipPackage(bytes, directory(bytes));
  }

  has(path: string): boolean {
    return this.entries.has(path);
  }
  get paths(): readonly string[] {
    return [...this.entries.keys()];
  }

  /** A part as UTF-8 text; undefined when the package has none of that name. */
  text(path: string): string | undefined {
    const entry = this.entries.get(path);
    if (entry === undefined) return undefined;
    const bytes = this.inflate(entry, path);
    try {
      return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    } catch {
      throw damaged(`${path} is not text`);
    }
  }

  private inflate(entry: Entry, path: string): Uint8Array {
    if (entry.encrypted) throw locked();
    if (entry.size > LIMITS.partBytes) throw tooLarge(`${path} unfolds to ${megabytes(entry.size)}`);
    if (entry.size > 1024 * 1024 && entry.size > LIMITS.ratio * Math.max(1, entry.packed)) {
      throw tooLarge(`${path} unfolds to more than ${LIMITS.ratio} times its size`);
    }
    this.spent += entry.size;
    if (this.spent > LIMITS.totalBytes)
      throw tooLarge(`it unfolds to more than ${megabytes(LIMITS.totalBytes)}`);
    const view = new DataView(this.bytes.buffer, this.bytes.byteOffset, this.bytes.byteLength);
    const at = entry.offset;
    if (at + 30 > this.bytes.length || view.getUint32(at, true) !== LOCAL_HEADER)
      throw damaged(`${path} is not where it should be`);
    const start = at + 30 + view.getUint16(at + 26, true) + view.getUint16(at + 28, true);
    const packed = this.bytes.subarray(start, start + entry.packed);
    if (packed.length !== entry.packed) throw damaged(`${path} is cut off`);
    let out: Uint8Array;
    if (entry.method === 0) out = packed;
    else if (entry.method === 8) {
      try {
        out = inflateSync(packed, { out: new Uint8Array(entry.size) });
      } catch {
        throw damaged(`${path} cannot be unfolded`);
      }
    } else throw damaged(`${path} is packed in a way that tables are not`);
    if (out.length !== entry.size || crc32(out) !== entry.crc)
      throw damaged(`${path} does not match its checksum`);
    return out;
  }
}

interface Entry {
  readonly method: number;
  readonly encrypted: boolean;
  readonly crc: number;
  readonly packed: number;
  readonly size: number;
  readonly offset: number;
}

const LOCAL_HEADER = 0x04034b50;
const CENTRAL_HEADER = 0x02014b50;
const END_RECORD = 0x06054b50;

const megabytes = (n: number): string => `${Math.round(n / 1024 / 1024)} MB`;

function directory(bytes: Uint8Array): Map<string, Entry> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = endRecord(view);
  if (end < 0) throw damaged("its end is missing");
  const count = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  if (count === 0xffff || at === 0xffffffff) throw tooLarge("it is a package of more than 4 GB");
  if (count > LIMITS.zipEntries) throw tooLarge(`it holds ${count} parts`);
  const entries = new Map<string, Entry>();
  for (let i = 0; i < count; i++) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== CENTRAL_HEADER)
      throw damaged("its list of parts is broken");
    const flags = view.getUint16(at + 8, true);
    const nameLength = view.getUint16(at + 28, true);
    const name = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameLength));
    if (entries.has(name)) throw damaged(`it holds two parts called ${name}`);
    entries.set(name, {
      encrypted: (flags & 1) === 1,
      method: view.getUint16(at + 10, true),
      crc: view.getUint32(at + 16, true),
      packed: view.getUint32(at + 20, true),
      size: view.getUint32(at + 24, true),
      offset: view.getUint32(at + 42, true),
    });
    at += 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return entries;
}

/** The end record stands behind everything, before a comment of at most 65,535 bytes. */
function endRecord(view: DataView): number {
  for (let at = view.byteLength - 22; at >= Math.max(0, view.byteLength - 22 - 0xffff); at--) {
    if (view.getUint32(at, true) === END_RECORD) return at;
  }
  return -1;
}
