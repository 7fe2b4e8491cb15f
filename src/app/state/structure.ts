import { writeName } from "../../../grammar";
import type { Statement, TableTree } from "../../../grammar";
import type { Book, Item, TableItem } from "../../engine";
import { startWithComment } from "./comments";
import { itemAt, placedItems, tableAt } from "./items";
import { cellPlace, type Field, FORMULAS_ROW, itemPlace, NAMES_ROW } from "./place";
import { endOfLine, endOfTable } from "./slots";
import { lineEndOf, patched } from "./source";
import { type Edit, type Refusal, wordFor } from "./slots";

/** Items of the book added, moved and taken away: whole lines, with the comment lines that stand above them. */

export type Sort = "value" | "table" | "check" | "chart" | "step" | "words" | "part" | "function";

/** The lines of an item: from the comments above it to the end of its last line, line end included. */
export function blockOf(book: Book, item: Item): { readonly from: number; readonly to: number } {
  const end =
    item.type === "table" ? endOfTable(book, item) : endOfLine(book.text, item.statement.at + item.statement.length);
  const lineEnd = book.text.startsWith("\r\n", end) ? 2 : book.text[end] === "\n" ? 1 : 0;
  return { from: startWithComment(book.text, item.statement.at), to: end + lineEnd };
}

/** Takes an item out of the book, its table rows and comments with it. */
export function removeItem(book: Book, key: string): Edit | Refusal {
  const placed = itemAt(book, key);
  if (placed === undefined) return { refused: "It is not in the book any more." };
  const { from, to } = blockOf(book, placed.item);
  const list = placedItems(book);
  const at = list.indexOf(placed);
  const neighbour = list[at - 1] ?? list[at + 1];
  return {
    says: `removing ${wordFor(placed.item)}`,
    text: patched(book.text, [{ from, to: blankBehind(book.text, from, to), text: "" }]),
    ...(neighbour === undefined ? {} : { then: standOn(neighbour.key, neighbour.item) }),
  };
}

/** One blank line behind a block goes with it when another stands above, so that no double gap is left. */
function blankBehind(text: string, from: number, to: number): number {
  const above = /(^|\n)[ \t]*\r?\n$/.test(text.slice(0, from)) || from === 0;
  const below = /^[ \t]*\r?\n/.exec(text.slice(to));
  return above && below ? to + below[0].length : to;
}

/** Moves an item before its neighbour above, or behind its neighbour below. */
export function moveItem(book: Book, key: string, way: "up" | "down"): Edit | Refusal {
  const list = placedItems(book);
  const at = list.findIndex((p) => p.key === key);
  const placed = list[at];
  const other = list[way === "up" ? at - 1 : at + 1];
  if (placed === undefined || other === undefined)
    return { refused: way === "up" ? "It stands at the top already." : "It stands at the end already." };
  const a = blockOf(book, way === "up" ? other.item : placed.item);
  const b = blockOf(book, way === "up" ? placed.item : other.item);
  const eol = lineEndOf(book.text);
  const whole = (block: { from: number; to: number }) => {
    const text = book.text.slice(block.from, block.to);
    return text.endsWith("\n") ? text : text + eol;
  };
  const between = book.text.slice(a.to, b.from);
  const endsOpen = b.to === book.text.length && !book.text.endsWith("\n");
  let text = whole(b) + between + whole(a);
  if (endsOpen) text = text.slice(0, -eol.length);
  return {
    says: `moving ${wordFor(placed.item)} ${way}`,
    text: patched(book.text, [{ from: a.from, to: b.to, text }]),
    then: standOn(placed.key, placed.item),
  };
}

/** Where the writer stands on an item. */
export function standOn(key: string, item: Item) {
  if (item.type === "table") return cellPlace(key, item.rowCount > 0 ? 0 : NAMES_ROW, 0);
  return itemPlace(key, mainField(item));
}

/** The field that an item is mostly about. */
export function mainField(item: Item): Field {
  switch (item.type) {
    case "value":
    case "define":
      return "formula";
    case "table":
    case "chart":
      return "title";
    case "unread":
      return "statement";
    default:
      return "text";
  }
}

/** Adds an item below another, or at the end of the book, and opens what has to be written first. */
export function addItem(book: Book, sort: Sort, below?: string): Edit {
  const eol = lineEndOf(book.text);
  const placed = below === undefined ? undefined : itemAt(book, below);
  const made = freshItem(book, sort, placed?.item.type === "table" ? placed.item : undefined);
  const lines = made.lines.join(eol) + eol;
  let at = book.text.length;
  let before = "";
  let behind = "";
  if (placed !== undefined) {
    at = blockOf(book, placed.item).to;
    // A run of values, checks or steps stays one run; anything else gets a blank line of its own.
    const alike = placed.item.type === sort;
    before = book.text[at - 1] === "\n" ? "" : eol;
    if (!alike) before += eol;
    if (!alike && !/^[ \t]*(\r?\n|$)/.test(book.text.slice(at))) behind = eol;
  } else {
    const tail = /(\r?\n)?[ \t]*(\r?\n)?$/.exec(book.text)![0];
    const breaks = tail.split("\n").length - 1;
    const last = placedItems(book).at(-1);
    const wanted = book.text.trim() === "" ? 0 : last?.item.type === sort ? 1 : 2;
    before = eol.repeat(Math.max(0, wanted - breaks));
  }
  return {
    says: `adding ${made.word}`,
    text: patched(book.text, [{ from: at, to: at, text: before + lines + behind }]),
    then: made.then,
    open: true,
  };
}

interface Fresh {
  readonly word: string;
  readonly lines: readonly string[];
  readonly then: NonNullable<Edit["then"]>;
}

function freshItem(book: Book, sort: Sort, near: TableItem | undefined): Fresh {
  const nth = (type: Item["type"]) => placedItems(book).filter((p) => p.item.type === type).length + 1;
  switch (sort) {
    case "value": {
      const name = freshName(book, "value");
      return { word: "a value", lines: [`set ${name} = blank`], then: itemPlace(`value:${name}`, "name") };
    }
    case "function": {
      const name = freshName(book, "twice");
      return { word: "a function", lines: [`define ${name}(x) = 2 * x`], then: itemPlace(`define:${name}`, "statement") };
    }
    case "table": {
      const name = freshName(book, "table_1");
      return {
        word: "a table",
        lines: [`table ${name} "New table"`, "| item | amount (g) |", "|      |            |"],
        then: itemPlace(`table:${name}`, "title"),
      };
    }
    case "check":
      return {
        word: "a check",
        lines: ['check true : "say what must hold"'],
        then: itemPlace(`check~${orderOf(book, "check")}`, "formula"),
      };
    case "chart":
      return {
        word: "a chart",
        lines: [`chart "New chart" : ${chartOf(book, near)}`],
        then: itemPlace(`chart~${orderOf(book, "chart")}`, "formula"),
      };
    case "step":
      return { word: "a step", lines: ['step "Say what to do."'], then: itemPlace(`step~${orderOf(book, "step")}`, "text") };
    case "words":
      return { word: "words", lines: ['about "Say something."'], then: itemPlace(`about~${nth("about")}`, "text") };
    case "part":
      return { word: "a part", lines: ['part "New part"'], then: itemPlace(`part~${nth("part")}`, "text") };
  }
  function orderOf(b: Book, type: Item["type"]): number {
    return placedItems(b).filter((p) => p.item.type === type).length + 1;
  }
}

/** A first picture: the amounts of the nearest table, or a curve when there is none. */
function chartOf(book: Book, near: TableItem | undefined): string {
  const table = near ?? placedItems(book).findLast((p) => p.item.type === "table")?.item;
  if (table?.type === "table") {
    const what = table.columns.findLast((c, i) => i > 0 && c.holds === "quantity");
    const by = table.columns[0];
    if (what !== undefined && by !== undefined)
      return `bars ${writeName(table.name)}.${writeName(what.name)} by ${writeName(table.name)}.${writeName(by.name)}`;
  }
  return "curve x^2 for x from 0 to 10";
}

/** A name that no value, table or function of the book has. */
export function freshName(book: Book, stem: string): string {
  const taken = new Set(placedItems(book).flatMap((p) => ("name" in p.item ? [p.item.name] : [])));
  if (!taken.has(stem)) return stem;
  const bare = stem.replace(/_\d+$/, "");
  for (let i = 2; ; i++) if (!taken.has(`${bare}_${i}`)) return `${bare}_${i}`;
}

// ---- rows and columns ---------------------------------------------------------------------------

type RowStatement = TableTree["rows"][number];

const gone: Refusal = { refused: "The table is not in the book any more." };

/** A blank row below another (-1: above the first). The keyboard goes to its name. */
export function addRow(book: Book, key: string, below: number): Edit | Refusal {
  const table = tableAt(book, key);
  if (table === undefined) return gone;
  const anchor: Statement | undefined = below >= 0 ? table.tree.rows[below] : (rulerOf(book, table) ?? table.tree.heading);
  if (anchor === undefined || table.tree.heading === undefined) return { refused: "This table has no heading yet." };
  const pattern = below >= 0 ? table.tree.rows[below]! : (table.tree.rows[0] ?? table.tree.heading);
  const at = endOfLine(book.text, anchor.at + anchor.length);
  const line = blankLike(book.text.slice(pattern.at, pattern.at + pattern.length), typedColumns(table));
  const indent = indentOf(book.text, anchor.at);
  return {
    says: `adding a row to ${table.name}`,
    text: patched(book.text, [{ from: at, to: at, text: lineEndOf(book.text) + indent + line }]),
    then: cellPlace(key, below + 1, 0),
  };
}

/** A row of blanks with the bars where another line has them. */
function blankLike(line: string, columns: number): string {
  const bars = line.replace(/\\\|/g, "..").replace(/[^|]/g, " ");
  return bars.split("|").length === columns + 2 ? bars.trimEnd() : `|${"   |".repeat(columns)}`;
}

const typedColumns = (table: TableItem): number => table.columns.filter((c) => c.typed).length;
const indentOf = (text: string, at: number): string => /^[ \t]*/.exec(text.slice(text.lastIndexOf("\n", at - 1) + 1, at))![0];

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
    text: patched(book.text, rows.map((row) => ({ ...lineOf(book.text, row), text: "" }))),
    then: cellPlace(key, Math.max(0, first - (last >= table.rowCount - 1 ? 1 : 0)), 0),
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
    then: cellPlace(key, other, 0),
  };
}

/** A new column at the right of another: typed with blank cells, or computed with a formula to write. */
export function addColumn(book: Book, key: string, sort: "typed" | "computed", beside?: number): Edit | Refusal {
  const table = tableAt(book, key);
  if (table === undefined) return gone;
  const name = freshColumn(table, sort === "typed" ? "amount" : "result");
  if (sort === "computed") {
    const line = `column ${writeName(name)} = blank`;
    const last = table.tree.columns.at(-1) ?? table.tree.rows.at(-1) ?? rulerOf(book, table) ?? table.tree.heading;
    const anchor = last ?? table.tree.statement;
    const at = endOfLine(book.text, anchor.at + anchor.length);
    return {
      says: `adding column ${name}`,
      text: patched(book.text, [{ from: at, to: at, text: lineEndOf(book.text) + line }]),
      then: cellPlace(key, NAMES_ROW, table.columns.length),
      open: true,
    };
  }
  const typed = typedColumns(table);
  const column = Math.min((beside ?? typed - 1) + 1, typed);
  const { heading, rows } = table.tree;
  if (heading === undefined) return { refused: "This table has no heading yet." };
  const ruler = rulerOf(book, table);
  const width = name.length;
  const put = (s: Statement, words: string, columns: readonly { readonly to: number }[]) => {
    // Behind the bar that closes the column at the left, or at the end of a line that is too short.
    const bar = column === 0 ? s.at + 1 : (barBehind(book.text, s, column - 1) ?? s.at + s.length);
    void columns;
    return { from: bar, to: bar, text: ` ${words} |` };
  };
  const patches = [
    put(heading, name, []),
    ...(ruler === undefined ? [] : [put(ruler, "-".repeat(width), [])]),
    ...rows.map((row) => put(row, " ".repeat(width), [])),
  ];
  return {
    says: `adding column ${name}`,
    text: patched(book.text, patches),
    then: cellPlace(key, NAMES_ROW, column),
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
      then: cellPlace(key, NAMES_ROW, Math.max(0, column - 1)),
    };
  }
  if (typedColumns(table) === 1) return { refused: "The first column names the rows; remove the table instead." };
  const all = [table.tree.heading, rulerOf(book, table), ...table.tree.rows].filter((s) => s !== undefined);
  const cuts = all.flatMap((s) => {
    const from = column === 0 ? s.at + 1 : barBehind(book.text, s, column - 1);
    const to = barBehind(book.text, s, column);
    return from === undefined || to === undefined ? [] : [{ from, to, text: "" }];
  });
  return {
    says: `removing column ${about.name}`,
    text: patched(book.text, [...cuts, ...lines(foot ? [foot] : [])]),
    then: cellPlace(key, NAMES_ROW, Math.max(0, column - 1)),
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
  const then = cellPlace(key, about.typed ? NAMES_ROW : FORMULAS_ROW, other);
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
      then,
    };
  }
  if (Math.min(column, other) === 0) return { refused: "The first column names the rows and stays where it is." };
  const all = [table.tree.heading, rulerOf(book, table), ...table.tree.rows].filter((s) => s !== undefined);
  const left = Math.min(column, other);
  const patches = all.flatMap((s) => {
    const a = barBehind(book.text, s, left - 1);
    const b = barBehind(book.text, s, left);
    const c = barBehind(book.text, s, left + 1);
    if (a === undefined || b === undefined || c === undefined) return [];
    return [{ from: a, to: c, text: book.text.slice(b, c) + book.text.slice(a, b) }];
  });
  return { says, text: patched(book.text, patches), then };
}
