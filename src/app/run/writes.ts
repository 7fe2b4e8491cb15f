import {
  addRows,
  type Patch,
  quoteText,
  type Refusal as Refused,
  setCells,
  setFormula,
} from "../../../grammar";
import type { Book, CheckItem, Item, Shown, TableItem, ValueItem } from "../../engine";
import { placedItems } from "../state/items";
import { cellPlace, itemPlace, type Place } from "../state/place";
import { type Edit, made } from "../state/slot";
import { dayColumn } from "./gathering";
import { numberIn, type Read, readReading, readTyped } from "./readings";
import { type Run, typedFor } from "./run";
import { benchSteps, readingLabel } from "./steps";
import { asked, headingOf, type Wanted } from "./wanted";
import { rawCell, rowNamed, sameName } from "./written";

/** What a finished run would write into its book, shown before it is written. */
export interface Writes {
  readonly rows: readonly RowWrite[];
  readonly values: readonly ValueWrite[];
  /** Questions without a reading. */
  readonly missing: readonly string[];
  /** What stands in the way; while there is any, nothing can be written. */
  readonly troubles: readonly string[];
  /** The one change of the book; undefined when there is nothing to write or something stands in the way. */
  readonly edit?: Edit;
}
export interface RowWrite {
  readonly table: TableItem;
  /** The row that is filled, from 0; the count of rows for a new one. */
  readonly row: number;
  /** Name of the row that waits for these readings, when it is filled instead of a new one. */
  readonly into?: string;
  /** Rows that have none of these readings yet, and could be filled instead. */
  readonly waiting: readonly string[];
  readonly cells: readonly CellWrite[];
  /** Whether the person names the row; where the first column holds days, the day does. */
  readonly named: boolean;
  /** The row whose other cells can be taken over, by name. */
  readonly like?: string;
}
export interface CellWrite {
  readonly column: number;
  readonly label: string;
  readonly unit: string;
  readonly from: "name" | "day" | "reading" | "extra" | "there";
  /** What the cell will hold; "" leaves it blank. */
  readonly text: string;
  /** For an extra: what was typed, and what is wrong with it. */
  readonly typed?: string;
  readonly trouble?: string;
  /** What the row to take over from has here. */
  readonly like?: string;
}
export interface ValueWrite {
  readonly item: ValueItem;
  readonly before: string;
  readonly after: string;
}

type Filled = { readonly path: string; readonly wanted: Wanted; readonly read: Read };

/** What the readings of a run come to in a book, and the one edit that writes them. */
export function writesOf(book: Book, run: Run): Writes {
  const troubles: string[] = [];
  const missing: string[] = [];
  const filled = readAll(book, run, troubles, missing);
  const patches: Patch[] = [];
  const values: ValueWrite[] = [];
  for (const { wanted, read } of filled) {
    if (wanted.in !== "value") continue;
    const { item } = wanted;
    const after = formulaText(read);
    if (!replaceable(item)) {
      troubles.push(`\`${item.name}\` is worked out by a formula, so no reading takes its place.`);
      continue;
    }
    take(setFormula(book.tree, item.statement, after), patches, troubles);
    values.push({ item, before: item.formula, after });
  }
  const rows: RowWrite[] = [];
  const tables = new Set(filled.flatMap(({ wanted }) => (wanted.in === "table" ? [wanted.table] : [])));
  for (const table of tables) {
    const own = filled.filter(({ wanted }) => wanted.in === "table" && wanted.table === table);
    const write = rowWrite(book, run, table, own, troubles);
    const { length } = headings(table);
    const cells = Array.from({ length }, (_, i) => write.cells.find((c) => c.column === i));
    if (write.into !== undefined) {
      const block = cells.map((c) =>
        c === undefined || c.from === "there" || c.text === "" ? undefined : c.text,
      );
      take(setCells(book.tree, table.tree, write.row, 0, [block]), patches, troubles);
    } else {
      take(
        addRows(book.tree, table.tree, table.tree.rows.length, [cells.map((c) => c?.text ?? "")]),
        patches,
        troubles,
      );
    }
    rows.push(write);
  }
  const base = { rows, values, missing, troubles };
  if (troubles.length > 0 || patches.length === 0) return base;
  const name = run.name.trim();
  const says = name === "" ? "finishing the run" : `finishing the run ${name}`;
  const edit = made(book, says, { patches });
  return "refused" in edit ? { ...base, troubles: [edit.refused] } : { ...base, edit };
}

/** Where one stands when the readings are written, and what there is to say of it. */
export interface Landing {
  readonly lands?: Place;
  readonly says: string;
}

/** At a check that is not met any more or turned out so, else where the first reading was written. */
export function landingOf(book: Book, writes: Writes): Landing {
  const keyOf = (item: Item) => placedItems(book).find((p) => p.item === item)!.key;
  const names = [
    ...writes.rows.map(
      ({ table, cells, into }) => `row ${into ?? cells[0]?.text ?? ""} of ${titleOf(table)}`,
    ),
    ...writes.values.map(({ item }) => item.name),
  ];
  const written = `Written into the book: ${names.join(", ")}.`;
  const unmet = effectsOf(book, writes).checks.flatMap(({ before, after }) =>
    after.state === "unmet" ? [before] : [],
  );
  const [check] = unmet;
  if (check !== undefined) {
    const worded = check.text !== "" && check.text !== check.formula;
    const which =
      unmet.length === 1
        ? "the check that is not met"
        : `the first of ${unmet.length} checks that are not met`;
    return {
      lands: itemPlace(keyOf(check), worded ? "text" : "formula"),
      says: `${written} Here stands ${which}: ${worded ? check.text : check.formula}.`,
    };
  }
  const [row] = writes.rows;
  const [value] = writes.values;
  if (row !== undefined) return { lands: cellPlace(keyOf(row.table), row.row, 0), says: written };
  return value === undefined
    ? { says: written }
    : { lands: itemPlace(keyOf(value.item), "formula"), says: written };
}

function take(
  edited: { readonly patches?: readonly Patch[] | undefined; readonly refused?: Refused | undefined },
  patches: Patch[],
  troubles: string[],
): void {
  if (edited.refused !== undefined)
    troubles.push([edited.refused.says, edited.refused.help ?? ""].join(" ").trim());
  else patches.push(...(edited.patches ?? []));
}

/** Every question of the steps with what was read for it; each path once, however many steps ask for it. */
function readAll(book: Book, run: Run, troubles: string[], missing: string[]): readonly Filled[] {
  const filled: Filled[] = [];
  const asks = new Map(benchSteps(book).flatMap((s) => s.asks.map((ask) => [ask.path, ask] as const)));
  for (const [path, ask] of asks) {
    const label = readingLabel(path);
    const typed = typedFor(run, path);
    const read = readReading(book, ask, typed);
    if (read.state === "empty") missing.push(label);
    else if (read.state === "refused") troubles.push(`${label}: ${read.says}`);
    else if (read.state === "unclear")
      troubles.push(`${label}: “${typed}” can be read in two ways; say at its step which one is meant.`);
    else {
      const wanted = asked(book, path);
      if (wanted === undefined)
        troubles.push(`${label}: the book has no column or value \`${path}\` to write it into.`);
      else filled.push({ path, wanted, read });
    }
  }
  for (const { path, typed } of run.readings)
    if (!asks.has(path))
      troubles.push(
        `${readingLabel(path)}: ${typed} was read, but no step asks for \`${path}\` any more. Put the step back, or empty the reading.`,
      );
  return filled;
}

const headings = (table: TableItem) => table.tree.heading?.node.columns ?? [];

function rowWrite(
  book: Book,
  run: Run,
  table: TableItem,
  own: readonly Filled[],
  troubles: string[],
): RowWrite {
  const days = dayColumn(table);
  const read = new Map(own.map((f) => [(f.wanted as Extract<Wanted, { in: "table" }>).column, f.read]));
  const waiting = waitingRows(table, [...read.keys()]);
  const chosen = run.into.find((i) => i.table === table.name)?.row;
  const into = chosen !== undefined && waiting.includes(chosen) ? chosen : undefined;
  const row = into === undefined ? table.rowCount : rowNamed(table, into);
  const like = likeRow(table, into === undefined ? undefined : row);
  const named = days !== 0 && !read.has(0);
  const name = run.name.trim();
  if (named && into === undefined) {
    if (name === "") troubles.push(`The row of ${titleOf(table)} needs a name.`);
    else if (rowNamed(table, name) >= 0)
      troubles.push(
        waiting.some((w) => sameName(w, name))
          ? `${titleOf(table)} has a row ${name}, which waits for these readings: fill that one, or choose another name.`
          : `${titleOf(table)} has a row ${name} already. Choose another name.`,
      );
  }
  if (days !== undefined && !/^\d{4}-\d{2}-\d{2}$/.test(run.day))
    troubles.push("The day of the run is missing.");
  const cells = headings(table).map((_, column): CellWrite => {
    const { unit, holds } = headingOf(table, column);
    const base = { column, label: table.columns[column]!.name, unit };
    const reading = read.get(column);
    if (reading !== undefined) {
      const text = cellText(table, column, reading);
      if (text === undefined) troubles.push(`${base.label}: it cannot be turned into ${unit}.`);
      return { ...base, from: "reading", text: text ?? "" };
    }
    if (column === days) return { ...base, from: "day", text: run.day };
    if (column === 0)
      return into === undefined
        ? { ...base, from: "name", text: name }
        : { ...base, from: "there", text: into };
    const there = into === undefined ? "" : rawCell(table, row, column);
    if (there !== "") return { ...base, from: "there", text: there };
    const typed = run.extras.find((e) => e.table === table.name && e.column === base.label)?.typed ?? "";
    const extra = readTyped(book, typed, unit, holds);
    // Remarks belong to their run and are not taken over.
    const taken = like === undefined || holds === "words" ? "" : rawCell(table, like, column);
    const more = { typed, ...(taken === "" ? {} : { like: taken }) };
    if (extra.state === "refused" || extra.state === "unclear") {
      const trouble =
        extra.state === "refused" ? extra.says : `“${typed}” can be read in two ways; write it with a point.`;
      troubles.push(`${base.label}: ${trouble}`);
      return { ...base, from: "extra", text: "", ...more, trouble };
    }
    return { ...base, from: "extra", text: cellText(table, column, extra) ?? "", ...more };
  });
  return {
    table,
    row,
    ...(into === undefined ? {} : { into }),
    waiting,
    cells,
    named,
    ...(like === undefined ? {} : { like: table.rowName(like) || `row ${like + 1}` }),
  };
}

/** What a table is called in a sentence. */
export const titleOf = (table: TableItem): string => (table.title === "" ? table.name : `“${table.title}”`);

/** Rows with a name that have none of the readings yet. */
function waitingRows(table: TableItem, columns: readonly number[]): readonly string[] {
  const names: string[] = [];
  for (let row = 0; row < table.rowCount; row++) {
    const name = table.rowName(row);
    if (name !== "" && columns.every((c) => rawCell(table, row, c) === "")) names.push(name);
  }
  return names;
}

/** The last row that is not the one to be filled: its settings can be taken over. */
function likeRow(table: TableItem, without: number | undefined): number | undefined {
  const last = table.rowCount - 1 - (without === table.rowCount - 1 ? 1 : 0);
  return last < 0 ? undefined : last;
}

/** What a cell must hold for a reading; undefined when its unit does not fit under the heading. */
function cellText(table: TableItem, column: number, read: Read): string | undefined {
  if (read.state === "words") {
    const declared = headings(table)[column]?.holds;
    const plain = declared === "date" || !/^["=]/.test(read.written);
    const safe = declared !== undefined || column === 0 || !/^[-+−]?\d/u.test(read.written);
    return headingOf(table, column).holds === "date" || (plain && safe)
      ? read.written
      : quoteText(read.written);
  }
  if (read.state !== "read") return "";
  const { unit } = headingOf(table, column);
  if (unit === "") return read.unit === "" ? read.number : `${read.number} ${read.unit}`;
  return read.unit === unit ? read.number : numberIn(read.value, unit);
}

/** What a `set` must say for a reading. */
function formulaText(read: Read): string {
  if (read.state === "words")
    return /^\d{4}-\d{2}-\d{2}$/.test(read.written) ? read.written : quoteText(read.written);
  if (read.state !== "read") return "blank";
  return read.unit === "" ? read.number : `${read.number} ${read.unit}`;
}

/** Only what was typed or left open gives way to a reading, never a formula. */
function replaceable(item: ValueItem): boolean {
  const { node } = item.statement;
  if (node.type !== "set") return false;
  const open =
    node.formula.type === "blank" || (node.formula.type === "shown" && node.formula.of.type === "blank");
  return open || item.shown.origin === "typed";
}

// ---- what follows from it

export interface Effects {
  /** The computed cells of each written row. */
  readonly rows: readonly { readonly table: TableItem; readonly cells: readonly Shown[] }[];
  readonly values: readonly { readonly label: string; readonly before: Shown; readonly after: Shown }[];
  readonly checks: readonly { readonly before: CheckItem; readonly after: CheckItem }[];
}

/** What a book would make of the written readings: the rest of the new row, and all that moves with it. */
export function effectsOf(book: Book, writes: Writes): Effects {
  if (writes.edit === undefined) return { rows: [], values: [], checks: [] };
  const after = book.edit(writes.edit.text);
  const rows = writes.rows.flatMap(({ table, row }) => {
    const there = after.items.find((i): i is TableItem => i.type === "table" && i.name === table.name);
    if (there === undefined) return [];
    const cells = there.columns.flatMap((c, i) => (c.typed ? [] : [there.cell(row, i)]));
    return [{ table: there, cells: cells.map((cell, i) => ({ ...cell, label: computedLabel(there, i) })) }];
  });
  const written = new Set(writes.values.map((v) => v.item.name));
  const values = book.items.flatMap((item) => {
    if (item.type !== "value" || written.has(item.name)) return [];
    const now = after.items.find((i): i is ValueItem => i.type === "value" && i.name === item.name);
    if (now === undefined) return [];
    const pairs: readonly (readonly [Shown | undefined, Shown])[] =
      now.parts.length === 0
        ? [[item.shown, now.shown]]
        : now.parts.map((p) => [item.parts.find((q) => q.path === p.path), p]);
    return pairs.flatMap(([was, is]) =>
      was === undefined || (was.text === is.text && was.state === is.state)
        ? []
        : [{ label: is.path.replaceAll("`", ""), before: was, after: is }],
    );
  });
  const checksOf = (b: Book) => b.items.filter((i): i is CheckItem => i.type === "check");
  const now = checksOf(after);
  const checks = checksOf(book).flatMap((before, i) => {
    const is = now[i];
    return is === undefined || is.state === before.state ? [] : [{ before, after: is }];
  });
  return { rows, values, checks };
}

const computedLabel = (table: TableItem, nth: number): string =>
  table.columns.filter((c) => !c.typed)[nth]!.name;
