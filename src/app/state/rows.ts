import { type Statement, type TableTree, writeName } from "../../../grammar";
import type { Book, TableItem } from "../../engine";
import { tableAt } from "./items";
import { cellPlace, FORMULAS_ROW, NAMES_ROW } from "./place";
import { type Edit, endOfTable, type Refusal } from "./slot";
import { endOfLine, lineEndOf, patched } from "./source";

/** Rows and columns of a table added, moved and taken away. */

type RowStatement = TableTree["rows"][number];

const gone: Refusal = { refused: "The table is not in the book any more." };

/** A blank row below another (-1: above the first). The keyboard goes to its name. */
export function addRow(book: Book, key: string, below: number): Edit | Refusal {
  const table = tableAt(book, key);
  if (table === undefined) return gone;
  const anchor: Statement | undefined =
    below >= 0 ? table.tree.rows[below] : (rulerOf(book, table) ?? table.tree.heading);
  if (anchor === undefined || table.tree.heading === undefined)
    return { refused: "This table has no heading yet." };
  const pattern = below >= 0 ? table.tree.rows[below]! : (table.tree.rows[0] ?? table.tree.heading);
  const at = endOfLine(book.text, anchor.at + anchor.length);
  const line = blankLike(book.text.slice(pattern.at, pattern.at + pattern.length), typedColumns(table));
  const indent = indentOf(book.text, anchor.at);
  return {
    says: `adding a row to ${table.name}`,
    text: patched(book.text, [{ from: at, to: at, text: lineEndOf(book.text) + indent + line }]),
    lands: cellPlace(key, below + 1, 0),
  };
}

/** A row of blanks with the bars where another line has them. */
function blankLike(line: string, columns: number): string {
  const bars = line.replace(/\\\|/g, "..").replace(/[^|]/g, " ");
  return bars.split("|").length === columns + 2 ? bars.trimEnd() : `|${"   |".repeat(columns)}`;
}

const typedColumns = (table: TableItem): number => table.columns.filter((c) => c.typed).length;
const indentOf = (text: string, at: number): string =>
  /^[ \t]*/.exec(text.slice(text.lastIndexOf("\n", at - 1) + 1, at))![0];

function rulerOf(book: Book, table: TableItem): Statement | undefined {
  return book.tree.statements.find((s) => s.node.type === "ruler" && book.tree.tableOf.get(s) === table.tree);
}

/** Takes rows away, whole lines. */
export function removeRows(book: Book, key: string, first: number, last: number): Edit | Refusal {
  const table = tableAt(book, key);
  if (table === undefined) return gone;
  const rows = table.tree.rows.slice(Math.max(0, first), last + 1);
  if (rows.length === 0) return { refused: "There is no row here to remove." };
  const name = table.rowName(Math.max(0, first)) || `row ${first + 1}`;
  return {
    says: rows.length === 1 ? `removing ${name}` : `removing ${rows.length} rows`,
    text: patched(
      book.text,
      rows.map((row) => ({ ...lineOf(book.text, row), text: "" })),
    ),
    lands: cellPlace(key, Math.max(0, first - (last >= table.rowCount - 1 ? 1 : 0)), 0),
  };
}

/** The whole line of a row, its line end included. */
function lineOf(text: string, row: RowStatement): { from: number; to: number } {
  const from = text.lastIndexOf("\n", row.at - 1) + 1;
  const end = text.indexOf("\n", row.at + row.length);
  if (end !== -1) return { from, to: end + 1 };
  // The last line of a file without a line end: the one before it goes instead.
  return { from: Math.max(0, from - (text[from - 2] === "\r" ? 2 : 1)), to: text.length };
}

/** Changes places with the row above or below. */
export function moveRow(book: Book, key: string, row: number, way: "up" | "down"): Edit | Refusal {
  const table = tableAt(book, key);
  if (table === undefined) return gone;
  const other = row + (way === "up" ? -1 : 1);
  const a = table.tree.rows[row];
  const b = table.tree.rows[other];
  if (a === undefined || b === undefined)
    return { refused: way === "up" ? "It is the first row already." : "It is the last row already." };
  const text = (r: RowStatement) => book.text.slice(r.at, r.at + r.length);
  return {
    says: `moving ${table.rowName(row) || `row ${row + 1}`} ${way}`,
    text: patched(book.text, [
      { from: a.at, to: a.at + a.length, text: text(b) },
      { from: b.at, to: b.at + b.length, text: text(a) },
    ]),
    lands: cellPlace(key, other, 0),
  };
}

/** A new column at the right of another: typed with blank cells, or computed with a formula to write. */
export function addColumn(
  book: Book,
  key: string,
  sort: "typed" | "computed",
  beside?: number,
): Edit | Refusal {
  const table = tableAt(book, key);
  if (table === undefined) return gone;
  const name = freshColumn(table, sort === "typed" ? "amount" : "result");
  if (sort === "computed") {
    const line = `column ${writeName(name)} = blank`;
    const last =
      table.tree.columns.at(-1) ?? table.tree.rows.at(-1) ?? rulerOf(book, table) ?? table.tree.heading;
    const anchor = last ?? table.tree.statement;
    const at = endOfLine(book.text, anchor.at + anchor.length);
    return {
      says: `adding column ${name}`,
      text: patched(book.text, [{ from: at, to: at, text: lineEndOf(book.text) + line }]),
      lands: cellPlace(key, NAMES_ROW, table.columns.length),
      open: true,
    };
  }
  const typed = typedColumns(table);
  const column = Math.min((beside ?? typed - 1) + 1, typed);
  const { heading, rows } = table.tree;
  if (heading === undefined) return { refused: "This table has no heading yet." };
  const ruler = rulerOf(book, table);
  const width = name.length;
  const put = (s: Statement, words: string) => {
    // Behind the bar that closes the column at the left, or at the end of a line that is too short.
    const bar = column === 0 ? s.at + 1 : (barBehind(book.text, s, column - 1) ?? s.at + s.length);
    return { from: bar, to: bar, text: ` ${words} |` };
  };
  const patches = [
    put(heading, name),
    ...(ruler === undefined ? [] : [put(ruler, "-".repeat(width))]),
    ...rows.map((row) => put(row, " ".repeat(width))),
  ];
  return {
    says: `adding column ${name}`,
    text: patched(book.text, patches),
    lands: cellPlace(key, NAMES_ROW, column),
    open: true,
  };
}

/** Offset behind the bar that closes the column, counted in the book; undefined when the line has no such bar. */
function barBehind(text: string, s: Statement, column: number): number | undefined {
  let bars = 0;
  for (let i = s.at; i < s.at + s.length; i++) {
    if (text[i] === "\\") i++;
    else if (text[i] === "|" && ++bars === column + 2) return i + 1;
  }
  return undefined;
}

function freshColumn(table: TableItem, stem: string): string {
  const taken = new Set(table.columns.map((c) => c.name));
  if (!taken.has(stem)) return stem;
  for (let i = 2; ; i++) if (!taken.has(`${stem} ${i}`)) return `${stem} ${i}`;
}

/** Takes a column away: its cells, or its formula, and the foot under it. */
export function removeColumn(book: Book, key: string, column: number): Edit | Refusal {
  const table = tableAt(book, key);
  const about = table?.columns[column];
  if (table === undefined || about === undefined) return gone;
  const foot = table.feet.get(about.name)?.statement;
  const lines = (statements: readonly Statement[]) =>
    statements.map((s) => ({ ...lineOf(book.text, s as RowStatement), text: "" }));
  if (!about.typed) {
    const own = about.statement === undefined ? [] : [about.statement];
    return {
      says: `removing column ${about.name}`,
      text: patched(book.text, lines([...own, ...(foot ? [foot] : [])])),
      lands: cellPlace(key, NAMES_ROW, Math.max(0, column - 1)),
    };
  }
  if (typedColumns(table) === 1)
    return { refused: "The first column names the rows; remove the table instead." };
  const all = [table.tree.heading, rulerOf(book, table), ...table.tree.rows].filter((s) => s !== undefined);
  const cuts = all.flatMap((s) => {
    const from = column === 0 ? s.at + 1 : barBehind(book.text, s, column - 1);
    const to = barBehind(book.text, s, column);
    return from === undefined || to === undefined ? [] : [{ from, to, text: "" }];
  });
  return {
    says: `removing column ${about.name}`,
    text: patched(book.text, [...cuts, ...lines(foot ? [foot] : [])]),
    lands: cellPlace(key, NAMES_ROW, Math.max(0, column - 1)),
  };
}

/** Changes places with the column at the left or right; typed ones with typed ones, computed with computed. */
export function moveColumn(book: Book, key: string, column: number, way: "left" | "right"): Edit | Refusal {
  const table = tableAt(book, key);
  const about = table?.columns[column];
  if (table === undefined || about === undefined) return gone;
  const other = column + (way === "left" ? -1 : 1);
  const beside = table.columns[other];
  if (beside === undefined || beside.typed !== about.typed)
    return { refused: "A computed column stands at the right of the typed ones." };
  const lands = cellPlace(key, about.typed ? NAMES_ROW : FORMULAS_ROW, other);
  const says = `moving column ${about.name} ${way}`;
  if (!about.typed) {
    const [a, b] = [about.statement, beside.statement];
    if (a === undefined || b === undefined) return gone;
    const text = (s: Statement) => book.text.slice(s.at, endOfLine(book.text, s.at + s.length));
    return {
      says,
      text: patched(book.text, [
        { from: a.at, to: a.at + text(a).length, text: text(b) },
        { from: b.at, to: b.at + text(b).length, text: text(a) },
      ]),
      lands,
    };
  }
  if (Math.min(column, other) === 0)
    return { refused: "The first column names the rows and stays where it is." };
  const all = [table.tree.heading, rulerOf(book, table), ...table.tree.rows].filter((s) => s !== undefined);
  const left = Math.min(column, other);
  const patches = all.flatMap((s) => {
    const a = barBehind(book.text, s, left - 1);
    const b = barBehind(book.text, s, left);
    const c = barBehind(book.text, s, left + 1);
    if (a === undefined || b === undefined || c === undefined) return [];
    return [{ from: a, to: c, text: book.text.slice(b, c) + book.text.slice(a, b) }];
  });
  return { says, text: patched(book.text, patches), lands };
}

/** A sum under a column. The keyboard goes to it, so that another total can be written instead. */
export function addTotal(book: Book, key: string, column: number): Edit | Refusal {
  const table = tableAt(book, key);
  const about = table?.columns[column];
  if (table === undefined || about === undefined) return gone;
  if (table.feet.has(about.name)) return { refused: `${about.name} has a foot already.` };
  const at = endOfTable(book, table);
  const name = writeName(about.name);
  return {
    says: `adding a total of ${about.name}`,
    text: patched(book.text, [
      { from: at, to: at, text: `${lineEndOf(book.text)}foot ${name} = sum(${name})` },
    ]),
    lands: cellPlace(key, table.rowCount, column),
  };
}
