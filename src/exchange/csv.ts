import type { Book, TableItem } from "../engine";
import { sigma, Trouble } from "../quantity";
import { guarded } from "./csv-guard";
import { type AsTyped, typedInCell, typedInSet } from "./sheets/as-typed";
import { headingOf } from "./sheets/tables";

/**
 * CSV (RFC 4180: commas, CR LF, quotes doubled), in UTF-8. Without `table` every value of the book, a line each;
 * with it that table, units in its headings. Numbers stand bare and in full. Text is always quoted, and one that a
 * spreadsheet might take for a formula gets an apostrophe in front: numbers, ours or negative, never do.
 */
export function exportCsv(book: Book, table?: string): string {
  const rows = table === undefined ? valueLines(book) : tableLines(book, tableNamed(book, table));
  return rows.map((row) => row.map(field).join(",") + "\r\n").join("");
}

type Field = string | number | null;

function valueLines(book: Book): Field[][] {
  const rows: Field[][] = [["name", "value", "±", "unit", "state", "message"]];
  const typed = typedFaults(book);
  for (const a of book.answers()) {
    const value = typeof a.value === "boolean" ? String(a.value) : a.value;
    const asTyped = a.state === "fault" ? typed.get(a.name) : undefined;
    if (asTyped === undefined) rows.push([a.name, value, a.uncertainty, a.unit, a.state, a.message]);
    else rows.push([a.name, asTyped.text, null, a.unit, a.state, asTyped.note.replaceAll("\n", " ")]);
  }
  return rows;
}

/** What was typed and cannot be taken, by its path. */
function typedFaults(book: Book): Map<string, AsTyped> {
  const found = new Map<string, AsTyped>();
  if (book.tally.faults === 0) return found;
  const keep = (path: string, asTyped: AsTyped | undefined): void => {
    if (asTyped !== undefined) found.set(path, asTyped);
  };
  for (const item of book.items) {
    if (item.type === "value") keep(item.shown.path, typedInSet(book, item));
    if (item.type !== "table") continue;
    for (let row = 0; row < item.rowCount; row++)
      for (let column = 0; column < item.columns.length; column++)
        keep(item.cell(row, column).path, typedInCell(book, item, row, column));
  }
  return found;
}

function tableNamed(book: Book, name: string): TableItem {
  const tables = book.items.filter((i): i is TableItem => i.type === "table");
  const found = tables.find((t) => t.name === name);
  if (found !== undefined) return found;
  throw new Trouble({
    code: "no-such-table",
    says: `The book has no table called ${name}.`,
    help:
      tables.length === 0
        ? "It has no table at all."
        : `Its tables are ${tables.map((t) => t.name).join(", ")}.`,
  });
}

function tableLines(book: Book, table: TableItem): Field[][] {
  const spreads = table.columns.map((_, c) => {
    for (let row = 0; row < table.rowCount; row++) {
      const { value } = table.cell(row, c);
      if (value.type === "quantity" && value.spread !== undefined) return true;
    }
    return false;
  });
  const rows: Field[][] = [
    table.columns.flatMap((column, c) =>
      spreads[c] ? [headingOf(column), `± ${column.unit}`.trim()] : [headingOf(column)],
    ),
  ];
  for (let row = 0; row < table.rowCount; row++) {
    rows.push(
      table.columns.flatMap((column, c): Field[] => {
        const shown = table.cell(row, c);
        const { value } = shown;
        if (value.type !== "quantity") {
          const text = typedInCell(book, table, row, c)?.text ?? shown.text;
          return spreads[c] ? [text, null] : [text];
        }
        const number: Field = value.unit.text === column.unit ? value.n.v : shown.text;
        if (!spreads[c]) return [number];
        return [number, value.spread === undefined ? null : Number(sigma(value.spread).toPrecision(3))];
      }),
    );
  }
  return rows;
}

function field(value: Field): string {
  if (value === null || value === "") return "";
  if (typeof value === "number") return String(value);
  return `"${guarded(value).replace(/"/g, '""')}"`;
}
