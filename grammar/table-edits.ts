import { columnCount, headingOrRuler, moveLine, noColumn, writeTyped } from "./cell-edits";
import { writeName } from "./names";
import {
  type Edited,
  insertion,
  linesOf,
  newName,
  oneLine,
  type Patch,
  patched,
  refused,
  removals,
  smallest,
} from "./patches";
import { cutRow, type Slot } from "./rows";
import { endOfUnit } from "./scanning";
import type { BookTree, Statement, TableTree } from "./tree";
import { sourceOf } from "./walk";

/** Edits of the columns and feet of a table. Written columns count from 0 and come before the computed ones. */

/** A written column: its name, and what stands in the bracket of its heading. */
export interface NewColumn {
  readonly name: string;
  /** A unit, or one of `number`, `text`, `date`. */
  readonly bracket?: string;
  /** Cells from the first row on; missing ones are left empty. */
  readonly cells?: readonly string[];
}

/** Adds a written column before column `at`, or behind the last. */
export function addColumn(tree: BookTree, table: TableTree, at: number, column: NewColumn): Edited {
  const count = columnCount(table);
  if (table.heading === undefined)
    return refused("heading-missing", "The table has no heading to add a column to.");
  if (at < 1 || at > count)
    return refused("column-first", "The first column names the rows; add the new one behind it.");
  const named = columnName(table, column.name);
  if (typeof named !== "string") return named;
  const bracket = (column.bracket ?? "").trim();
  if (bracket !== "" && !isBracket(bracket))
    return refused(
      "heading-bracket",
      `\`${bracket}\` is neither a unit nor \`number\`, \`text\` or \`date\`.`,
    );
  const heading = writeHeading(named, bracket);
  const cells = table.rows.map((_, i) => writeTyped(column.cells?.[i] ?? ""));
  const width = Math.max(heading.length, ...cells.map((cell) => cell.length));
  return eachRow(tree, table, (row, slots, i) => {
    const dashes = row.node.type === "ruler" ? "-".repeat(width) : undefined;
    const content = dashes ?? (i < 0 ? heading : cells[i]!);
    const place = at < slots.length ? slots[at]!.from : slots.at(-1)!.to + 1;
    return [{ from: place, to: place, insert: ` ${content.padEnd(width)} |` }];
  });
}

/** Takes a column out: a written one from every row, a computed one with its statement; a foot under it goes too. */
export function removeColumn(tree: BookTree, table: TableTree, name: string): Edited {
  const feet = table.feet.filter((foot) => foot.node.name === name).map((foot) => linesOf(tree.text, foot));
  const computed = table.columns.find((column) => column.node.name === name);
  if (computed !== undefined) return patched(...removals(tree.text, [linesOf(tree.text, computed), ...feet]));
  const at = writtenColumn(table, name);
  if (at < 0) return noSuchColumn(table, name);
  if (at === 0) return refused("column-first", "The first column names the rows and stays.");
  const written = eachRow(tree, table, (_, slots) => {
    const slot = slots[at]!;
    return [{ from: slot.from, to: slot.to + 1, insert: "" }];
  });
  return written.refused === undefined ? patched(...written.patches, ...removals(tree.text, feet)) : written;
}

/** Moves a column so that it is column `to` of its sort, written or computed, afterwards. */
export function moveColumn(tree: BookTree, table: TableTree, name: string, to: number): Edited {
  const computedAt = table.columns.findIndex((column) => column.node.name === name);
  if (computedAt >= 0) {
    const target = table.columns[to];
    if (target === undefined) return noColumn(to);
    return patched(...moveLine(tree.text, table.columns[computedAt]!, target, to > computedAt));
  }
  const at = writtenColumn(table, name);
  if (at < 0) return noSuchColumn(table, name);
  if (at === 0 || to === 0)
    return refused("column-first", "The first column names the rows and stays where it is.");
  if (to < 0 || to >= columnCount(table)) return noColumn(to);
  if (at === to) return patched();
  return eachRow(tree, table, (row, slots) => {
    const source = sourceOf(tree.text, row);
    const moving = slots[at]!;
    const goal = slots[to]!;
    const place = to > at ? goal.to + 1 : goal.from;
    return [
      { from: moving.from, to: moving.to + 1, insert: "" },
      { from: place, to: place, insert: `${source.slice(moving.from, moving.to)}|` },
    ];
  });
}

/** Writes the bracket of a heading: a unit, `number`, `text`, `date`, or nothing. */
export function setBracket(tree: BookTree, table: TableTree, name: string, typed: string): Edited {
  const at = writtenColumn(table, name);
  if (at < 0) return noSuchColumn(table, name);
  const bracket = typed.trim();
  if (bracket !== "" && !isBracket(bracket))
    return refused(
      "heading-bracket",
      `\`${bracket}\` is neither a unit nor \`number\`, \`text\` or \`date\`.`,
    );
  const row = table.heading!;
  const { span } = row.node.columns[at]!;
  return patched(smallest(tree.text, row.at + span.from, row.at + span.to, writeHeading(name, bracket)));
}

/** Adds a computed column behind the other columns of its table. */
export function addComputedColumn(tree: BookTree, table: TableTree, name: string, formula: string): Edited {
  const named = columnName(table, name);
  if (typeof named !== "string") return named;
  return addBelow(
    tree,
    table,
    table.columns.at(-1) ?? table.rows.at(-1),
    `column ${writeName(named)} = ${oneLine(formula)}`,
  );
}

/** Puts a foot under a column that has none. */
export function addFoot(tree: BookTree, table: TableTree, column: string, formula: string): Edited {
  if (writtenColumn(table, column) < 0 && !table.columns.some(({ node }) => node.name === column))
    return noSuchColumn(table, column);
  if (table.feet.some(({ node }) => node.name === column))
    return refused(
      "foot-taken",
      `The column \`${column}\` has a foot already.`,
      "Change the formula of that one.",
    );
  const last = table.feet.at(-1) ?? table.columns.at(-1) ?? table.rows.at(-1);
  return addBelow(tree, table, last, `foot ${writeName(column)} = ${oneLine(formula)}`);
}

/** Puts a line under the statement, or under the heading of the table when there is none. */
function addBelow(tree: BookTree, table: TableTree, above: Statement | undefined, line: string): Edited {
  if (table.heading === undefined) return refused("heading-missing", "The table has no heading yet.");
  const under = above ?? headingOrRuler(tree, table);
  return patched(insertion(tree.text, linesOf(tree.text, under).to, [line]));
}

/** The statements of a table, in the order of the text, those that cannot be read included. */
export function partsOf(tree: BookTree, table: TableTree): readonly Statement[] {
  const broken = new Set<Statement>(table.broken);
  return tree.statements.filter(
    (statement) => tree.tableOf.get(statement) === table || broken.has(statement),
  );
}

// ---- headings and rows

/** A heading as it is written: a name that ends in a bracket stands in backticks when no other bracket follows. */
export function writeHeading(name: string, bracket: string): string {
  const plain = name.replaceAll("|", "\\|");
  if (bracket !== "") return `${plain} (${bracket})`;
  return /\)$/.test(plain) ? `\`${plain}\`` : plain;
}

function isBracket(bracket: string): boolean {
  return ["number", "text", "date"].includes(bracket) || endOfUnit(bracket, 0) === bracket.length;
}

function columnName(table: TableTree, typed: string): string | Edited {
  const named = newName(typed, "column");
  if ("refused" in named) return { refused: named.refused };
  const { name } = named;
  const taken = writtenColumn(table, name) >= 0 || table.columns.some(({ node }) => node.name === name);
  return taken
    ? refused("name-taken", `The table has a column \`${name}\` already.`, "Choose another name.")
    : name;
}

function writtenColumn(table: TableTree, name: string): number {
  return table.heading?.node.columns.findIndex((column) => column.name === name) ?? -1;
}

function noSuchColumn(table: TableTree, name: string): Edited {
  return refused("column-missing", `The table \`${table.name}\` has no column \`${name}\`.`);
}

/** Patches for the heading and the ruler (index below 0) and every row; refused while a row has not as many cells as the heading. */
function eachRow(
  tree: BookTree,
  table: TableTree,
  change: (row: Statement, slots: readonly Slot[], index: number) => readonly Patch[],
): Edited {
  const count = columnCount(table);
  const ruler = headingOrRuler(tree, table);
  const above: Statement[] = ruler === table.heading ? [ruler] : [table.heading!, ruler];
  const patches: Patch[] = [];
  for (const [i, row] of [...above, ...table.rows].entries()) {
    const { slots, closed } = cutRow(sourceOf(tree.text, row));
    if (!closed || slots.length !== count)
      return refused(
        "row-cells",
        `The row in line ${row.line} has not as many cells as the heading.`,
        "Mend that row first.",
      );
    for (const { from, to, insert } of change(row, slots, i - above.length))
      patches.push({ from: row.at + from, to: row.at + to, insert });
  }
  return patched(...patches);
}
