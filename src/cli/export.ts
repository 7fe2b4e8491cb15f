import { extname } from "node:path";
import { type Book, openBook } from "../engine";
import { exportCsv, exportOds, exportReport, exportXlsx } from "../exchange";
import { tellMessages } from "./calc";
import { writeOut } from "./files";
import { readText } from "./source";
import type { Terminal } from "./terminal";
import { WrongCall } from "./wrong-call";

export interface ExportOptions {
  readonly report?: boolean;
  readonly table?: string;
}

/** `export BOOK OUT`: a spreadsheet with live formulas, or CSV; the ending of OUT chooses. */
export async function exportBook(
  name: string,
  out: string,
  options: ExportOptions,
  terminal: Terminal,
): Promise<number> {
  const write = writers.get(extname(out).toLowerCase());
  if (!write) {
    throw new WrongCall(`${out} says no format that is known.`, "Let its name end in .xlsx, .ods or .csv.");
  }
  if (options.table !== undefined && write !== writers.get(".csv")) {
    throw new WrongCall("--table chooses a table for .csv; .xlsx and .ods hold them all.");
  }
  const source = await readText(name, terminal);
  const book = openBook(source.text);
  await writeOut(out, await write(book, options.table), terminal);
  if (options.report) await terminal.out.write(exportReport(book).text);
  await terminal.err.write(`Wrote ${out}.\n`);
  return tellMessages(book, source, terminal);
}

type Writer = (book: Book, table?: string) => string | Uint8Array | Promise<Uint8Array>;

const writers: ReadonlyMap<string, Writer> = new Map<string, Writer>([
  [".xlsx", (book) => exportXlsx(book)],
  [".ods", (book) => exportOds(book)],
  [".csv", (book, table) => exportCsv(book, table)],
]);
