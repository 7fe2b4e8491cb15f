import {
  type Edited,
  endOfLineBefore,
  insertion,
  isOpenEnded,
  linesOf,
  oneLine,
  type Patch,
  patched,
  refused,
  removal,
  smallest,
} from "./patches";
import { cutRow, type Slot } from "./rows";
import type { BookTree, Statement, TableTree } from "./tree";
import { sourceOf } from "./walk";

/** Edits of the cells and rows of a table. Rows and columns count from 0; the heading is no row. */

type Row = TableTree["rows"][number];

/**
 * Writes a cell as it was typed: a quantity, a date, a text or `= formula`. Bars in it are escaped. The bars of the
 * row stay where they are as long as there is room.
 */
export function setCell(
  tree: BookTree,
  table: TableTree,
  row: number,
  column: number,
  typed: string,
): Edited {
  const statement = table.rows[row];
  if (statement === undefined) return noRow(row);
  const columns = columnCount(table);
  if (column < 0 || column >= columns) return noColumn(column);
  return patched(...rowPatches(tree.text, statement, new Map([[column, typed]]), columns));
}

/**
 * Writes a block of cells from a place on, as when pasting: rows that the table has not are added below, columns that
 * it has not are refused. A hole in the block leaves its cell alone.
 */
export function setCells(
  tree: BookTree,
  table: TableTree,
  row: number,
  column: number,
  block: readonly (readonly (string | undefined)[])[],
): Edited {
  const columns = columnCount(table);
  const widest = block.reduce((most, cells) => Math.max(most, cells.length), 0);
  if (row < 0 || row > table.rows.length) return noRow(row);
  if (column < 0 || column + widest > columns)
    return refused(
      "columns-missing",
      `The block is ${widest === 1 ? "1 column" : `${widest} columns`} wide, and from here the table has ${Math.max(0, columns - column)}.`,
      "Add columns first, or paste further to the left.",
    );
  const patches: Patch[] = [];
  const added: string[][] = [];
  block.forEach((cells, i) => {
    const wanted = new Map<number, string>();
    cells.forEach((cell, j) => {
      if (cell !== undefined) wanted.set(column + j, cell);
    });
    const statement = table.rows[row + i];
    if (statement !== undefined) patches.push(...rowPatches(tree.text, statement, wanted, columns));
    else added.push(Array.from({ length: columns }, (_, j) => wanted.get(j) ?? ""));
  });
  const below = addRows(tree, table, table.rows.length, added);
  if (below.refused !== undefined) return below;
  return patched(...patches, ...below.patches);
}

/** Adds rows before row `at`, or behind the last; each is given as its cells from the left, the rest stay empty. */
export function addRows(
  tree: BookTree,
  table: TableTree,
  at: number,
  rows: readonly (readonly string[])[],
): Edited {
  if (rows.length === 0) return patched();
  if (table.heading === undefined)
    return refused("heading-missing", "The table has no heading to add a row to.");
  if (at < 0 || at > table.rows.length) return noRow(at);
  const columns = columnCount(table);
  if (rows.some((cells) => cells.length > columns))
    return refused("columns-missing", `The table has ${columns} columns, and a row has more cells.`);
  const above = at === 0 ? headingOrRuler(tree, table) : table.rows[at - 1]!;
  const slots = cutRow(sourceOf(tree.text, table.heading)).slots;
  const lines = rows.map((cells) =>
    writeCells(
      Array.from({ length: columns }, (_, i) => writeTyped(cells[i] ?? "")),
      slots,
    ),
  );
  return patched(insertion(tree.text, linesOf(tree.text, above).to, lines));
}

/** Takes a row out, with the comment behind it. */
export function removeRow(tree: BookTree, table: TableTree, row: number): Edited {
  const statement = table.rows[row];
  return statement === undefined ? noRow(row) : patched(removal(tree.text, linesOf(tree.text, statement)));
}

/** Moves a row so that it is row `to` afterwards. */
export function moveRow(tree: BookTree, table: TableTree, from: number, to: number): Edited {
  const statement = table.rows[from];
  const target = table.rows[to];
  if (statement === undefined) return noRow(from);
  if (target === undefined) return noRow(to);
  return patched(...moveLine(tree.text, statement, target, to > from));
}

/** Moves the line of a statement before or behind that of another. */
export function moveLine(
  text: string,
  statement: Statement,
  target: Statement,
  behind: boolean,
): readonly Patch[] {
  if (statement === target) return [];
  const lines = linesOf(text, statement);
  const goal = linesOf(text, target);
  const line = text.slice(lines.from, lines.to).replace(/\r?\n$/, "");
  return [removalOfOne(text, lines), insertion(text, behind ? goal.to : goal.from, [line])];
}

/** Unlike `removal`, leaves the blank lines around alone: something moves within a group. */
function removalOfOne(text: string, { from, to }: { readonly from: number; readonly to: number }): Patch {
  return { from: isOpenEnded(text, to) ? endOfLineBefore(text, from) : from, to, insert: "" };
}

export function columnCount(table: TableTree): number {
  return table.heading?.node.columns.length ?? 0;
}

function noRow(row: number): Edited {
  return refused("row-missing", `The table has no row ${row + 1}.`);
}
export function noColumn(column: number): Edited {
  return refused(
    "column-missing",
    `The table has no written column ${column + 1}.`,
    "A computed column is changed by its formula.",
  );
}

/** The ruler under the heading when there is one, else the heading. */
export function headingOrRuler(tree: BookTree, table: TableTree): Statement {
  const heading = table.heading!;
  const next = tree.statements[tree.statements.indexOf(heading) + 1];
  return next !== undefined && next.node.type === "ruler" && tree.tableOf.get(next) === table
    ? next
    : heading;
}

// ---- writing

/** What was typed into a cell, on one line and with its bars escaped. */
export function writeTyped(typed: string): string {
  const line = oneLine(typed).replace(/(?<!\\)\|/g, "\\|");
  return line.endsWith("\\") ? `${line} ` : line;
}

/** Patches for some cells of a row. Cells that the row has not are added with their bars. */
function rowPatches(
  text: string,
  row: Row,
  wanted: ReadonlyMap<number, string>,
  columns: number,
): readonly Patch[] {
  const source = sourceOf(text, row);
  const { slots, closed } = cutRow(source);
  const patches: Patch[] = [];
  for (const [column, typed] of wanted) {
    const slot = slots[column];
    if (slot === undefined) continue;
    const open = !closed && column === slots.length - 1;
    const content = writeTyped(typed);
    const written = open ? (content === "" ? " |" : ` ${content}`.trimEnd()) : fitted(slot, content);
    const patch = smallest(source, slot.from, slot.to, written);
    patches.push({ from: row.at + patch.from, to: row.at + patch.to, insert: patch.insert });
  }
  const last = Math.max(-1, ...wanted.keys());
  if (last >= slots.length && last < columns) {
    let tail = closed ? "" : " |";
    for (let i = slots.length; i <= last; i++) tail += ` ${writeTyped(wanted.get(i) ?? "")} |`;
    patches.push({ from: row.at + source.length, to: row.at + source.length, insert: tail });
  }
  return patches;
}

/** A slot with new content: the bars keep their places while there is room, and a cell set to the right stays so. */
function fitted(slot: Slot, content: string): string {
  const width = slot.to - slot.from;
  if (content === "") return " ".repeat(Math.max(width, 1));
  const blank = slot.content.from === slot.content.to;
  const before = blank ? 1 : slot.content.from - slot.from;
  const behind = slot.to - slot.content.to;
  const room = width - content.length;
  const padded = (lead: number, trail: number): string => " ".repeat(lead) + content + " ".repeat(trail);
  if (!blank && before > 1 && behind <= 1) return padded(Math.max(1, room - 1), 1);
  const lead = Math.max(before, 1);
  return padded(lead, Math.max(room - lead, 1));
}

/** A row of cells, as wide as the slots of a model row where that is wide enough. */
function writeCells(cells: readonly string[], model: readonly Slot[]): string {
  const written = cells.map((cell, i) => {
    const slot = model[i];
    const width = slot === undefined ? 0 : slot.to - slot.from;
    return ` ${cell}`.padEnd(width - 1) + " ";
  });
  return `|${written.join("|")}|`;
}
