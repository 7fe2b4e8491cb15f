import { unguarded } from "../csv-guard";
import { type Grid, GridBuilder, newBudget } from "./grid";

/**
 * Tables as text: comma, semicolon, tab or bar between the cells (RFC 4180 with its common relatives), quotes
 * doubled inside quotes. The separator is the one that gives the most rows of one width; a tab always wins,
 * because nobody types one by chance.
 */
export function readDelimited(text: string, name: string): Grid {
  const source = text.replace(/^\ufeff/, "");
  const stated = /^sep=(.)\r?\n/.exec(source);
  const body = stated === null ? source : source.slice(stated[0].length);
  const separator = stated?.[1] ?? likelySeparator(body);
  const grid = new GridBuilder(name, newBudget());
  splitRows(body, separator).forEach((cells, row) => {
    cells.forEach((cell, column) => {
      // Our own CSV puts an apostrophe before text that a spreadsheet might take for a formula; here it comes off again.
      grid.put(row, column, { text: unguarded(cell).trim() });
    });
  });
  return grid.done();
}

function likelySeparator(text: string): string {
  const sample = text.slice(0, 20_000);
  if (splitRows(sample, "\t").some((row) => row.length > 1)) return "\t";
  let best = ",";
  let bestScore = 0;
  for (const separator of [",", ";", "|"]) {
    const widths = splitRows(sample, separator)
      .filter((row) => row.some((c) => c.trim() !== ""))
      .map((row) => row.length);
    const counts = new Map<number, number>();
    for (const width of widths) if (width > 1) counts.set(width, (counts.get(width) ?? 0) + 1);
    const score = Math.max(0, ...counts.values());
    // A semicolon is preferred when both fit: where it separates, the comma is the decimal mark.
    if (score > bestScore || (score === bestScore && score > 0 && separator === ";")) {
      best = separator;
      bestScore = score;
    }
  }
  return best;
}

function splitRows(text: string, separator: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let at = 0;
  for (;;) {
    let cell: string;
    if (text[at] === '"') {
      const quoted = readQuoted(text, at);
      cell = quoted.text;
      at = quoted.end;
      // What stands behind the closing quote belongs to the cell: better odd text than a lost word.
      const stop = nextBreak(text, at, separator);
      cell += text.slice(at, stop);
      at = stop;
    } else {
      const stop = nextBreak(text, at, separator);
      cell = text.slice(at, stop);
      at = stop;
    }
    row.push(cell);
    if (at >= text.length) break;
    if (text.startsWith(separator, at)) at += separator.length;
    else {
      rows.push(row);
      row = [];
      at += text.startsWith("\r\n", at) ? 2 : 1;
      if (at >= text.length) return rows;
    }
  }
  rows.push(row);
  return rows;
}

function nextBreak(text: string, from: number, separator: string): number {
  let at = from;
  while (at < text.length && text[at] !== "\n" && text[at] !== "\r" && !text.startsWith(separator, at)) at++;
  return at;
}

function readQuoted(text: string, from: number): { text: string; end: number } {
  let out = "";
  let at = from + 1;
  for (;;) {
    const next = text.indexOf('"', at);
    // A quote that is never closed: take it as a plain character of that one line, not of the rest of the file.
    if (next < 0) {
      const line = text.slice(from).search(/[\r\n]/);
      const end = line < 0 ? text.length : from + line;
      return { text: text.slice(from, end), end };
    }
    out += text.slice(at, next);
    if (text[next + 1] !== '"') return { text: out, end: next + 1 };
    out += '"';
    at = next + 2;
  }
}
