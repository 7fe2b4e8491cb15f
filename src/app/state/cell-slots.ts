import { addFoot, rename, setBracket, setCell } from "../../../grammar";
import type { Book, TableItem } from "../../engine";
import type { Field } from "../../engine/editing";
import { unitBehind } from "./bare-numbers";
import type { ClipCell } from "./clipboard";
import { headComputed } from "./item-edits";
import { tableAt } from "./items";
import { type CellPlace, FORMULAS_ROW, NAMES_ROW } from "./place";
import {
  asFormula,
  type Edit,
  equalsBefore,
  formulaSlot,
  made,
  NAMED,
  oneLine,
  type Refusal,
  type Slot,
} from "./slot";

/** What can be written in a table: cells, headings, formulas of columns, feet. */

/** The slot of a cell, a heading, a column's formula or a foot. */
export function cellSlot(book: Book, place: CellPlace): Slot | undefined {
  const table = tableAt(book, place.key);
  const column = table?.columns[place.column];
  if (table === undefined || column === undefined) return undefined;
  if (place.row === NAMES_ROW) return headingSlot(book, place, table);
  if (place.row === FORMULAS_ROW || (place.row < table.rowCount && !column.typed)) {
    if (column.statement === undefined) return undefined;
    const says = `formula of ${column.name}`;
    const row = place.row >= 0 ? { row: place.row } : {};
    return formulaSlot(book, column.statement, {
      of: column.name,
      what: "each row",
      says,
      field: (text) => ({ in: "column", table: table.name, column: column.name, ...row, text }),
    });
  }
  if (place.row >= table.rowCount) return footSlot(book, table, column.name);
  return typedSlot(book, table, place.row, place.column);
}

/** A cell's words without the escapes of the row. */
export const fromCell = (raw: string): string => raw.trim().replaceAll("\\|", "|");

/** The typed words of a cell, or what a computed one shows. */
export function wordsOf(table: TableItem, row: number, column: number): ClipCell {
  const about = table.columns[column]!;
  const shown = table.cell(row, column);
  const text = shown.state === "ok" ? shown.text : "";
  const cell = about.typed ? table.tree.rows[row]?.node.cells[column] : undefined;
  return { raw: cell === undefined ? text : fromCell(cell.raw), text };
}

function typedSlot(book: Book, table: TableItem, row: number, column: number): Slot | undefined {
  const statement = table.tree.rows[row];
  if (statement === undefined) return undefined;
  const cell = statement.node.cells[column];
  const { name: columnName, holds, unit } = table.columns[column]!;
  const text = cell === undefined ? "" : fromCell(cell.raw);
  // Behind a fault stands no unit; it is written over, as an empty cell is, in the one its column goes by, unless the heading gives it anyway.
  const ownUnit = holds === "quantity" ? unitBehind(text) : undefined;
  const headed = table.tree.heading?.node.columns[column]?.unit !== undefined;
  const rowName = table.rowName(row) || `row ${row + 1}`;
  const says = column === 0 ? `name of ${rowName}` : `${columnName} of ${rowName}`;
  return {
    of: column === 0 ? `row ${row + 1}` : rowName,
    what: columnName,
    text,
    unit:
      text !== "" && table.cell(row, column).state !== "fault"
        ? ownUnit
        : headed || unit === ""
          ? undefined
          : unit,
    language: "cell",
    words: holds === "text",
    field: (text) => ({ in: "cell", table: table.name, column: columnName, row, text }),
    ...(cell === undefined
      ? {}
      : { span: { from: statement.at + cell.span.from, to: statement.at + cell.span.to } }),
    write: (typed) =>
      column === 0
        ? withRowName(book, table, row, typed, says)
        : made(book, says, setCell(book.tree, table.tree, row, column, oneLine(typed))),
  };
}

/** A row that gets another name keeps it in the formulas that call it; without a name no formula can. */
function withRowName(book: Book, table: TableItem, row: number, typed: string, says: string): Edit | Refusal {
  const name = oneLine(typed);
  const called = table.tree.heading?.node.columns[0];
  // A first column with a unit, dates or formulas is read as such; only plain words are names to be followed.
  const plain = called?.unit === undefined && called?.holds === undefined && !/^[="]/.test(name);
  if (name === "" || !plain || table.rowName(row) === "")
    return made(book, says, setCell(book.tree, table.tree, row, 0, name));
  return made(book, says, rename(book.tree, { kind: "row", table: table.tree, row }, name));
}

function headingSlot(book: Book, place: CellPlace, table: TableItem): Slot {
  const column = table.columns[place.column]!;
  const { heading } = table.tree;
  const node = heading?.node.columns[place.column];
  const of = table.title || table.name;
  const renamed = (name: string) =>
    made(
      book,
      `renaming ${column.name} to ${name}`,
      rename(book.tree, { kind: "column", table: table.tree, name: column.name }, name),
    );
  if (!column.typed || heading === undefined || node === undefined)
    return {
      of,
      what: "column",
      text: column.name,
      language: "name",
      help: "A name, and a unit in brackets: `yield (%)`; or all in one go: `yield = got / charge`.",
      field: (text) => ({ in: "column", table: table.name, column: column.name, text }),
      begins: (typed) => NAMED.exec(typed)?.[0].length,
      write: (typed) =>
        /[(=]/.test(typed) ? headComputed(book, place.key, column.name, typed) : renamed(oneLine(typed)),
    };
  const bracket = node.unit?.text ?? node.holds ?? "";
  return {
    of,
    what: "heading",
    text: bracket === "" ? node.name : `${node.name} (${bracket})`,
    language: "name",
    help: "What stands below, and its unit in brackets: `volume (mL)`; without brackets each number brings its own.",
    field: (words) => ({ in: "heading", table: table.name, text: words }),
    span: { from: heading.at + node.span.from, to: heading.at + node.span.to },
    write(typed) {
      const [, name, , unit = ""] = /^(.*?)\s*(\(([^()]*)\))?$/su.exec(oneLine(typed))!;
      const first = name === node.name ? { says: "", text: book.text } : renamed(name!);
      if ("refused" in first || unit.trim() === bracket) return first;
      // The bracket is written in the book that the new name has made.
      const next = first.text === book.text ? book : book.edit(first.text);
      const tree = tableAt(next, place.key)?.tree;
      if (tree === undefined) return first;
      const says = first.says === "" ? `unit of ${node.name}` : first.says;
      return made(next, says, setBracket(next.tree, tree, name!.normalize("NFC"), unit));
    },
  };
}

function footSlot(book: Book, table: TableItem, column: string): Slot | undefined {
  const says = `foot of ${column}`;
  const field = (text: string): Field => ({ in: "foot", table: table.name, column, text });
  const foot = table.feet.get(column);
  if (foot !== undefined) return formulaSlot(book, foot.statement, { of: "foot", what: column, says, field });
  return {
    of: "foot",
    what: column,
    text: "",
    language: "formula",
    field,
    begins: equalsBefore,
    write(typed) {
      const formula = asFormula(typed);
      if (formula === "") return { says, text: book.text };
      return made(book, says, addFoot(book.tree, table.tree, column, formula));
    },
  };
}
