import { Trouble } from "../quantity";
import { readDelimited } from "./tables/delimited";
import { type FoundTable, findTables } from "./tables/find-tables";
import type { Grid } from "./tables/grid";
import { damaged, LIMITS, locked, tooLarge } from "./tables/limits";
import { readOds } from "./tables/ods-in";
import { guessUnit } from "./tables/unit-guess";
import { looksLikeHtml, readWebTables } from "./tables/web-table";
import { readXlsx } from "./tables/xlsx-in";
import { ZipPackage } from "./tables/zip";

export type { FoundTable } from "./tables/find-tables";
export {
  type Doubt,
  type ProposalOptions,
  type ProposedColumn,
  proposeTable,
  type TableProposal,
} from "./tables/proposal";

/**
 * The tables of a foreign file: .xlsx, .ods, CSV or other delimited text, or a web page with tables. What the
 * file is, is told from its contents; `name` (a file name) only names what has no name of its own. Throws
 * `Trouble` when it is damaged, locked, too large, hostile, or no table at all. `proposeTable` turns each
 * result into the text of a table statement.
 */
export function readTables(bytes: Uint8Array, name: string): FoundTable[] {
  const run = tableReading(bytes, name);
  for (;;) {
    const step = run.next();
    if (step.done) return step.value;
  }
}

/** The same a piece at a time: yields how many of how many are done, and comes to the tables. */
export function* tableReading(
  bytes: Uint8Array,
  name: string,
): Generator<{ readonly done: number; readonly of: number }, FoundTable[], void> {
  if (bytes.length > LIMITS.fileBytes) throw tooLarge(`it has ${Math.round(bytes.length / 1024 / 1024)} MB`);
  if (bytes.length === 0) throw noTable("it is empty");
  yield { done: 0, of: 2 };
  const grids = gridsOf(bytes, name);
  const tables: FoundTable[] = [];
  for (const [i, grid] of grids.entries()) {
    yield { done: i + 1, of: grids.length + 1 };
    tables.push(...tablesIn(grid));
  }
  return someOf(tables);
}

/** The tables of pasted text: HTML when that is all there is, else cells parted by tabs or another separator. */
export function readPastedTables(text: string, html?: string): FoundTable[] {
  if (text.length + (html?.length ?? 0) > LIMITS.fileBytes)
    throw tooLarge("it has more than 30 million characters");
  // Plain text carries the numbers as typed; HTML may carry them rounded for show, so it comes second.
  if (html !== undefined && looksLikeHtml(html) && !text.includes("\t"))
    return tablesOf(readWebTables(html, "Pasted table"));
  if (looksLikeHtml(text)) return tablesOf(readWebTables(text, "Pasted table"));
  return tablesOf([readDelimited(text, "Pasted table")]);
}

const tablesIn = (grid: Grid): FoundTable[] => findTables(grid, (words) => guessUnit(words) !== undefined);
const tablesOf = (grids: readonly Grid[]): FoundTable[] => someOf(grids.flatMap(tablesIn));

function someOf(tables: FoundTable[]): FoundTable[] {
  if (tables.length === 0) throw noTable("there is no table in it, only single words");
  return tables;
}

const noTable = (how: string): Trouble =>
  new Trouble({
    code: "table-file-empty",
    says: `Nothing came in: ${how}.`,
    help: "A table needs a row of headings and at least one row under it.",
  });
const unknown = (what: string): Trouble =>
  new Trouble({
    code: "table-file-unknown",
    says: `This is ${what}, not a table.`,
    help: "Tables come in from .xlsx, .ods and CSV files, and from the clipboard.",
  });

const begins = (bytes: Uint8Array, ...start: number[]): boolean => start.every((b, i) => bytes[i] === b);

function gridsOf(bytes: Uint8Array, name: string): Grid[] {
  const title = name.replace(/^.*[\\/]/, "").replace(/\.[a-z0-9]{1,5}$/i, "") || "Table";
  if (begins(bytes, 0x50, 0x4b)) return packaged(ZipPackage.open(bytes));
  if (begins(bytes, 0xd0, 0xcf, 0x11, 0xe0)) {
    // Both the old binary format and locked new files stand in this older container.
    if (/\.xls$/i.test(name)) throw unknown("a spreadsheet in the old .xls format; save it as .xlsx");
    throw locked();
  }
  if (begins(bytes, 0x25, 0x50, 0x44, 0x46)) throw unknown("a PDF");
  if (
    begins(bytes, 0x89, 0x50, 0x4e, 0x47) ||
    begins(bytes, 0xff, 0xd8, 0xff) ||
    begins(bytes, 0x47, 0x49, 0x46)
  )
    throw unknown("a picture");
  const text = decoded(bytes);
  return looksLikeHtml(text) ? readWebTables(text, title) : [readDelimited(text, title)];
}

function packaged(zip: ZipPackage): Grid[] {
  if (zip.has("xl/workbook.xml")) return readXlsx(zip);
  if (zip.has("EncryptedPackage")) throw locked();
  const type = zip.text("mimetype")?.trim();
  if (type?.startsWith("application/vnd.oasis.opendocument.spreadsheet")) return readOds(zip);
  if (type?.startsWith("application/vnd.oasis.opendocument"))
    throw unknown("an OpenDocument file that is no spreadsheet");
  if (zip.has("word/document.xml")) throw unknown("a text document");
  if (zip.has("ppt/presentation.xml")) throw unknown("a presentation");
  if (type === undefined && zip.has("content.xml")) return readOds(zip);
  throw zip.paths.length === 0
    ? damaged("the package is empty")
    : unknown("a zip file without a spreadsheet in it");
}

/** Text in UTF-8, in UTF-16 with its mark, or else in Windows-1252, as older programs write it. */
function decoded(bytes: Uint8Array): string {
  if (begins(bytes, 0xff, 0xfe)) return new TextDecoder("utf-16le").decode(bytes);
  if (begins(bytes, 0xfe, 0xff)) return new TextDecoder("utf-16be").decode(bytes);
  const sample = bytes.subarray(0, 8192);
  const odd = sample.reduce((n, b) => n + (b < 9 || (b > 13 && b < 32) ? 1 : 0), 0);
  if (odd > 0) throw unknown("a file of a kind that holds no text");
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return windows1252(bytes);
  }
}

/** The characters that Windows-1252 has where ISO 8859-1 has controls. Some decoders forget them. */
const WINDOWS = "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ";
const windows1252 = (bytes: Uint8Array): string =>
  new TextDecoder("latin1")
    .decode(bytes)
    .replace(/[\u0080-\u009f]/g, (c) => WINDOWS[c.charCodeAt(0) - 0x80]!);
