import { canBeName, writeName } from "../../../grammar";
import type { Book, TableItem } from "../../engine";
import { tableAt } from "./items";
import { type CellPlace, FORMULAS_ROW, NAMES_ROW } from "./place";
import { renamed, renamePatches } from "./renaming";
import { asFormula, endOfTable, formulaSlot, type Slot } from "./slot";
import { fromCell, lineEndOf, oneLine, type Patch, patched, toCell } from "./source";

/** What can be written in a table: cells, headings, formulas of columns, feet. */

/** The slot of a cell, a heading, a column's formula or a foot. */
export function cellSlot(book: Book, place: CellPlace): Slot | undefined {
  const table = tableAt(book, place.key);
  const column = table?.columns[place.column];
  if (table === undefined || column === undefined) return undefined;
  if (place.row === NAMES_ROW) return headingSlot(book, place, table);
  if (place.row === FORMULAS_ROW || (place.row < table.rowCount && !column.typed)) {
    if (column.statement === undefined) return undefined;
    return formulaSlot(book, column.statement, column.name, "each row", `formula of ${column.name}`);
  }
  if (place.row >= table.rowCount) return footSlot(book, table, column.name);
  return typedSlot(book, table, place.row, place.column);
}

function typedSlot(book: Book, table: TableItem, row: number, column: number): Slot | undefined {
  const statement = table.tree.rows[row];
  if (statement === undefined) return undefined;
  const cell = statement.node.cells[column];
  const columnName = table.columns[column]!.name;
  const rowName = table.rowName(row) || `row ${row + 1}`;
  const says = column === 0 ? `name of ${rowName}` : `${columnName} of ${rowName}`;
  return {
    of: column === 0 ? `row ${row + 1}` : rowName,
    what: columnName,
    text: cell === undefined ? "" : fromCell(cell.raw.trim()),
    language: "cell",
    ...(cell === undefined
      ? {}
      : { span: { from: statement.at + cell.span.from, to: statement.at + cell.span.to } }),
    write: (typed) => {
      const patches = cellPatches(book, table, row, [[column, typed]]);
      const calls = column === 0 ? rowCalls(book, table, row, typed) : [];
      return { says, text: patched(book.text, [...patches, ...calls]) };
    },
  };
}

/** A row that gets another name keeps it in the formulas that call it, as long as it is the only one so called. */
function rowCalls(book: Book, table: TableItem, row: number, typed: string): Patch[] {
  const old = table.rowName(row);
  const name = oneLine(typed).replace(/^"(.*)"$/, "$1");
  if (old === "" || name === "" || name === old || !canBeName(name)) return [];
  for (let r = 0; r < table.rowCount; r++)
    if (r !== row && (table.rowName(r) === old || table.rowName(r) === name)) return [];
  return renamePatches(book, { row: old, of: table.name }, name);
}

/**
 * The patches that write cells of one row. A cell keeps its width where the new words fit, so that bars stay
 * under each other; other rows are never touched. Missing cells are added.
 */
export function cellPatches(
  book: Book,
  table: TableItem,
  row: number,
  cells: readonly (readonly [column: number, typed: string])[],
): Patch[] {
  const statement = table.tree.rows[row]!;
  const present = statement.node.cells.length;
  const patches: Patch[] = [];
  const missing: string[] = [];
  for (const [column, typed] of cells) {
    const words = toCell(typed);
    const cell = statement.node.cells[column];
    if (cell === undefined) {
      while (missing.length < column - present) missing.push("");
      missing[column - present] = words;
      continue;
    }
    if (words === cell.raw.trim()) continue;
    patches.push({
      from: statement.at + cell.slot.from,
      to: statement.at + cell.slot.to,
      text: padded(words, book.text.slice(statement.at + cell.slot.from, statement.at + cell.slot.to)),
    });
  }
  if (missing.length > 0) {
    const at = statement.at + statement.length;
    const closed = book.text[at - 1] === "|";
    patches.push({
      from: at,
      to: at,
      text: `${closed ? "" : " |"}${missing.map((m) => ` ${m} |`).join("")}`,
    });
  }
  return patches;
}

/** New words in an old slot: numbers that stood at the right stay there, everything else at the left. */
function padded(words: string, slot: string): string {
  const before = /^\s*/.exec(slot)![0];
  const after = slot.trim() === "" ? "" : /\s*$/.exec(slot)![0];
  const room = slot.length - words.length;
  if (room < 2) return ` ${words} `;
  if (slot.trim() !== "" && before.length > 1 && after.length <= 1) return " ".repeat(room - 1) + words + " ";
  return ` ${words}${" ".repeat(room - 1)}`;
}

function headingSlot(book: Book, place: CellPlace, table: TableItem): Slot {
  const column = table.columns[place.column]!;
  const heading = table.tree.heading?.node.columns[place.column];
  const of = table.title || table.name;
  if (!column.typed || heading === undefined || table.tree.heading === undefined) {
    return {
      of,
      what: "column",
      text: column.name,
      language: "name",
      write: (typed) => renamed(book, { column: column.name, of: table.name }, typed),
    };
  }
  const at = table.tree.heading.at;
  const span = { from: at + heading.span.from, to: at + heading.span.to };
  const text = fromCell(book.text.slice(span.from, span.to));
  return {
    of,
    what: "heading",
    text,
    language: "name",
    span,
    write: (typed) => {
      const words = oneLine(typed);
      const bracket = /^(.*?)\s*(\([^()]*\))?$/su.exec(words)!;
      const name = bracket[1]!;
      const unit = bracket[2] ?? "";
      if (name === "") return { refused: "A column needs a name." };
      const oldUnit = /\([^()]*\)\s*$/.exec(text)?.[0].trim() ?? "";
      const afresh =
        name === heading.name || name === `\`${heading.name}\``
          ? { says: `heading ${column.name}`, text: book.text }
          : renamed(book, { column: column.name, of: table.name }, name);
      if ("refused" in afresh || unit === oldUnit) return afresh;
      return { says: `heading ${name}`, text: withHeadingUnit(afresh.text, span.from, unit) };
    },
  };
}

/** The heading cell that starts at `from`, with another bracket. */
function withHeadingUnit(text: string, from: number, unit: string): string {
  const end = /(\\\||[^|\n])*/.exec(text.slice(from))![0];
  const plain = end.replace(/\s*\([^()]*\)\s*$/, "").trimEnd();
  const words = unit === "" ? plain : `${plain} ${unit}`;
  return text.slice(0, from) + words.padEnd(end.length - 1) + " " + text.slice(from + end.length);
}

function footSlot(book: Book, table: TableItem, column: string): Slot {
  const foot = table.feet.get(column);
  if (foot !== undefined) return formulaSlot(book, foot.statement, "foot", column, `foot of ${column}`);
  return {
    of: "foot",
    what: column,
    text: "",
    language: "formula",
    write: (typed) => {
      const formula = asFormula(typed);
      if (formula === "") return { says: `foot of ${column}`, text: book.text };
      const at = endOfTable(book, table);
      const line = `foot ${writeName(column)} = ${formula}`;
      return {
        says: `foot of ${column}`,
        text: patched(book.text, [{ from: at, to: at, text: `${lineEndOf(book.text)}${line}` }]),
      };
    },
  };
}
