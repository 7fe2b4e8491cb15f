import "../engine/questions-here";
import { formulaMark, writeName, writePart } from "../../grammar";
import type { Book, Shown, StepItem, TableItem, ValueItem } from "../engine";
import { sigma } from "../quantity";

/** Two books side by side, by name. Plain data: it goes out as JSON as it is. */
export interface Comparison {
  readonly differences: readonly Difference[];
  /** Whether any value differs, is new or is gone; formulas that come to the same do not count. */
  readonly valuesDiffer: boolean;
  /** Statements without a value: title, free text, parts, steps, charts, definitions. */
  readonly words: readonly WordsDifference[];
}
export interface Difference {
  /** As in a formula: `blend.strength`, ``distillates.`lemon peel`.cost``, `check: strong enough`. */
  readonly name: string;
  /**
   * `typed`: another value was written. `formula`: its formula is another one. `upstream`: the same formula comes
   * to another value because something that it uses has changed. `added`, `removed`: it is in one book only.
   */
  readonly change: "added" | "removed" | "typed" | "formula" | "upstream";
  readonly formulaBefore: string | null;
  readonly formulaAfter: string | null;
  readonly before: string | null;
  readonly after: string | null;
  readonly valueDiffers: boolean;
  /** For `upstream`: names changed by hand from which the difference flows, as far as they were found. */
  readonly because: readonly string[];
}
export interface WordsDifference {
  readonly what: "title" | "about" | "part" | "step" | "chart" | "define";
  readonly change: "added" | "removed" | "changed";
  readonly before: string | null;
  readonly after: string | null;
}

interface Entry {
  readonly name: string;
  readonly formula: string;
  /** Equal for formulas that say the same in other spacing. */
  readonly mark: string;
  readonly typed: boolean;
  readonly text: string;
  readonly exact: string;
}

/** What differs from book `a` to book `b`. */
export function compareBooks(a: Book, b: Book): Comparison {
  const [before, after] = [entriesOf(a), entriesOf(b)];
  const found: Difference[] = [];
  for (const [name, now] of after) {
    const was = before.get(name);
    if (was === undefined) {
      found.push(difference(name, "added", undefined, now));
      continue;
    }
    const formula = was.mark !== now.mark;
    const value = was.exact !== now.exact;
    if (!formula && !value) continue;
    const change = !formula ? "upstream" : was.typed && now.typed ? "typed" : "formula";
    found.push(difference(name, change, was, now));
  }
  for (const [name, was] of before)
    if (!after.has(name)) found.push(difference(name, "removed", was, undefined));
  const search: Search = {
    books: [b, a],
    byHand: new Set(found.filter((d) => d.change !== "upstream").map((d) => d.name)),
    changed: new Set(found.map((d) => d.name)),
    columns: columnCells([a, b]),
  };
  const differences = found.map((d) =>
    d.change === "upstream" ? { ...d, because: causes(d.name, search) } : d,
  );
  return { differences, valuesDiffer: differences.some((d) => d.valueDiffers), words: wordsOf(a, b) };
}

function difference(
  name: string,
  change: Difference["change"],
  was: Entry | undefined,
  now: Entry | undefined,
): Difference {
  return {
    name,
    change,
    formulaBefore: was?.formula ?? null,
    formulaAfter: now?.formula ?? null,
    before: was?.text ?? null,
    after: now?.text ?? null,
    valueDiffers: was?.exact !== now?.exact,
    because: [],
  };
}

// ---- what a book says, by name ------------------------------------------------------------------------

function entriesOf(book: Book): Map<string, Entry> {
  const entries = new Map<string, Entry>();
  const put = (name: string, entry: Omit<Entry, "name">): void => {
    if (!entries.has(name)) entries.set(name, { name, ...entry });
  };
  for (const item of book.items) {
    if (item.type === "value") setEntries(item, put);
    else if (item.type === "table") tableEntries(item, put);
    else if (item.type === "check") {
      const name = `check: ${item.text === "" ? item.formula : item.text}`;
      put(name, {
        formula: item.formula,
        mark: markOf(item.formula),
        typed: false,
        text: CHECK[item.state],
        exact: item.state,
      });
    }
  }
  return entries;
}
const CHECK = { met: "met", unmet: "not met", unknown: "not yet known" } as const;

type Put = (name: string, entry: Omit<Entry, "name">) => void;

function setEntries(item: ValueItem, put: Put): void {
  const { formula } = item;
  const core = { formula, mark: markOf(formula), typed: item.shown.origin === "typed" };
  const parts = item.parts.length > 0 ? item.parts : [item.shown];
  for (const shown of parts) put(shown.path, { ...core, ...told(shown) });
}

function tableEntries(item: TableItem, put: Put): void {
  item.columns.forEach((column, c) => {
    const formula = column.formula;
    const mark = formula === undefined ? "" : markOf(formula);
    for (let row = 0; row < item.rowCount; row++) {
      const shown = item.cell(row, c);
      if (formula !== undefined) {
        put(shown.path, { formula, mark, typed: false, ...told(shown) });
        continue;
      }
      const raw = item.tree.rows[row]?.node.cells[c]?.raw.trim() ?? "";
      put(shown.path, { formula: raw, mark: `cell ${raw}`, typed: !raw.startsWith("="), ...told(shown) });
    }
  });
  for (const [, foot] of item.feet) {
    put(foot.shown.path, {
      formula: foot.formula,
      mark: markOf(foot.formula),
      typed: false,
      ...told(foot.shown),
    });
  }
}

/** A mark of what a formula says; a formula that cannot be read is its own text. */
const markOf = (formula: string): string => (formula.trim() === "" ? "" : formulaMark(formula));

function told(shown: Shown): Pick<Entry, "text" | "exact"> {
  const { value } = shown;
  if (shown.state === "gap") return { text: "not filled in", exact: "gap" };
  if (shown.state === "fault")
    return { text: `fault: ${shown.message ?? ""}`, exact: `fault ${shown.message ?? ""}` };
  const exact =
    value.type === "quantity" ? `${value.n.v} ${value.unit.text} ${sigma(value.spread)}` : shown.text;
  return { text: shown.text, exact };
}

// ---- why a value that nobody touched is another one ---------------------------------------------------------

/** Most values that are asked for their causes; a chain of thousands ends in the same few names anyway. */
const MOST_STEPS = 500;

interface Search {
  readonly books: readonly Book[];
  readonly byHand: ReadonlySet<string>;
  readonly changed: ReadonlySet<string>;
  /** Cells of a column by the path of the column. */
  readonly columns: ReadonlyMap<string, readonly string[]>;
}

function columnCells(books: readonly Book[]): Map<string, string[]> {
  const columns = new Map<string, string[]>();
  for (const book of books) {
    for (const item of book.items) {
      if (item.type !== "table") continue;
      item.columns.forEach((column, c) => {
        const path = `${writeName(item.name)}.${writePart(column.name)}`;
        const cells = columns.get(path) ?? [];
        for (let row = 0; row < item.rowCount; row++) cells.push(item.cell(row, c).path);
        columns.set(path, cells);
      });
    }
  }
  return columns;
}

/** Names changed by hand that a value goes back to. */
function causes(name: string, search: Search): string[] {
  const found = new Set<string>();
  const seen = new Set([name]);
  const queue = [name];
  const visit = (path: string): void => {
    if (seen.has(path)) return;
    seen.add(path);
    if (search.byHand.has(path)) found.add(path);
    else queue.push(path);
  };
  for (let steps = 0; queue.length > 0 && steps < MOST_STEPS; steps++) {
    const next = queue.shift()!;
    for (const book of search.books) {
      for (const used of book.why(next)?.uses ?? []) {
        // Of a whole column, and of a result with parts, those that differ.
        const cells = search.columns.get(used.path)?.filter((path) => search.changed.has(path));
        if (cells !== undefined) for (const path of cells) visit(path);
        else {
          visit(used.path);
          for (const path of search.byHand) if (path.startsWith(`${used.path}.`)) found.add(path);
        }
      }
    }
  }
  return [...found].sort();
}

// ---- statements without a value -------------------------------------------------------------------------

function wordsOf(a: Book, b: Book): WordsDifference[] {
  const out: WordsDifference[] = [];
  if (a.title !== b.title) out.push({ what: "title", change: "changed", before: a.title, after: b.title });
  out.push(...listed("about", texts(a, "about"), texts(b, "about")));
  out.push(...listed("part", texts(a, "part"), texts(b, "part")));
  out.push(...listed("step", steps(a), steps(b)));
  const keyed = (what: "chart" | "define", was: Map<string, string>, now: Map<string, string>): void => {
    for (const [key, after] of now) {
      const before = was.get(key);
      if (before === undefined) out.push({ what, change: "added", before: null, after });
      else if (markOf(before) !== markOf(after)) out.push({ what, change: "changed", before, after });
    }
    for (const [key, before] of was)
      if (!now.has(key)) out.push({ what, change: "removed", before, after: null });
  };
  keyed("chart", charts(a), charts(b));
  keyed("define", defines(a), defines(b));
  return out;
}

const texts = (book: Book, type: "about" | "part"): string[] =>
  book.items.flatMap((i) => (i.type === type ? [(i as { text: string }).text] : []));
const steps = (book: Book): string[] =>
  book.items
    .filter((i): i is StepItem => i.type === "step")
    .map((i) => book.text.slice(i.statement.at, i.statement.at + i.statement.length).replace(/\s+/g, " "));
const charts = (book: Book): Map<string, string> =>
  new Map(book.items.flatMap((i) => (i.type === "chart" ? [[i.title, i.formula] as const] : [])));
const defines = (book: Book): Map<string, string> =>
  new Map(
    book.items.flatMap((i) =>
      i.type === "define" ? [[i.name, `(${i.parameters.join(", ")}) = ${i.formula}`] as const] : [],
    ),
  );

/** Lists compared in their order: what both hold in the same order stays, the rest went or came. */
function listed(
  what: WordsDifference["what"],
  was: readonly string[],
  now: readonly string[],
): WordsDifference[] {
  const table = Array.from({ length: was.length + 1 }, () => new Uint32Array(now.length + 1));
  for (let i = was.length - 1; i >= 0; i--) {
    for (let j = now.length - 1; j >= 0; j--) {
      table[i]![j] =
        was[i] === now[j] ? table[i + 1]![j + 1]! + 1 : Math.max(table[i + 1]![j]!, table[i]![j + 1]!);
    }
  }
  const out: WordsDifference[] = [];
  let [i, j] = [0, 0];
  while (i < was.length || j < now.length) {
    if (i < was.length && j < now.length && was[i] === now[j]) [i, j] = [i + 1, j + 1];
    else if (j >= now.length || (i < was.length && table[i + 1]![j]! >= table[i]![j + 1]!)) {
      out.push({ what, change: "removed", before: was[i++]!, after: null });
    } else out.push({ what, change: "added", before: null, after: now[j++]! });
  }
  return pairUp(out);
}

/** One that went and one that came beside it is one that was changed. */
function pairUp(list: readonly WordsDifference[]): WordsDifference[] {
  const out: WordsDifference[] = [];
  for (const d of list) {
    const last = out[out.length - 1];
    if (last?.change === "removed" && d.change === "added") {
      out[out.length - 1] = { what: d.what, change: "changed", before: last.before, after: d.after };
    } else out.push(d);
  }
  return out;
}

// ---- as text --------------------------------------------------------------------------------------------

const CHANGE = {
  added: "new",
  removed: "gone",
  typed: "typed",
  formula: "formula",
  upstream: "follows",
} as const;

/** The comparison for reading in a terminal: what was changed by hand first, then what follows from it. */
export function comparisonText(comparison: Comparison): string {
  const lines: string[] = [];
  const line = (d: Difference): void => {
    const value =
      d.before === null
        ? (d.after ?? "")
        : d.after === null
          ? d.before
          : d.valueDiffers
            ? `${d.before} -> ${d.after}`
            : `${d.after}, as before`;
    lines.push(`${CHANGE[d.change].padEnd(8)} ${d.name}: ${value}`);
    if (d.change === "formula")
      lines.push(`           was  ${d.formulaBefore}`, `           now  ${d.formulaAfter}`);
    if (d.because.length > 0) {
      const shown = d.because.slice(0, 4).join(", ");
      lines.push(
        `           from ${shown}${d.because.length > 4 ? ` and ${d.because.length - 4} more` : ""}`,
      );
    }
  };
  for (const d of comparison.differences) if (d.change !== "upstream") line(d);
  for (const d of comparison.differences) if (d.change === "upstream") line(d);
  for (const w of comparison.words) {
    lines.push(`${w.what}: ${w.change === "changed" ? "changed" : w.change === "added" ? "new" : "gone"}`);
    if (w.before !== null) lines.push(`           was  ${w.before}`);
    if (w.after !== null) lines.push(`           now  ${w.after}`);
  }
  return lines.length === 0 ? "The two books say the same.\n" : `${lines.join("\n")}\n`;
}
