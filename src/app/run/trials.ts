import { childrenOf, type Formula, writeName, writePart } from "../../../grammar";
import type { Book, Shown, TableColumn, TableItem } from "../../engine";
import { convert, formatParts, type Quantity, sigma, subtract } from "../../quantity";
import { partsOf } from "../state/paths";
import { dayColumn, judgedColumns } from "./gathering";
import { benchSteps } from "./steps";
import { headingOf } from "./wanted";

/**
 * Runs over time, gathered in a table: which there are, which was best, what changed between two of them, and how a
 * column scatters. Nothing here says more than a handful of runs can carry.
 */

/** One run: a row that has its results. */
export interface Trial {
  readonly row: number;
  readonly name: string;
  /** Days since 1970-01-01, when the table has a column of days and this row a day. */
  readonly day?: number;
}

/**
 * The column that a comparison begins with: one that the book itself draws, else the last that is worked out, else the
 * last that is typed. What is the same in every run tells none from another, and comes last.
 */
export function firstColumn(book: Book, table: TableItem): number | undefined {
  const every = judgedColumns(table);
  const uneven = every.filter((i) => seen(table, i).size > 1);
  const judged = uneven.length > 0 ? uneven : every;
  const path = (i: number) => `${writeName(table.name)}.${writePart(table.columns[i]!.name)}`;
  const drawn = book.items.flatMap((item) => {
    if (item.type !== "chart") return [];
    const [what = ""] = item.formula.split(" by ");
    return judged.filter((i) => what.split(/[\s,]+/).includes(path(i)));
  });
  return drawn[0] ?? judged.findLast((i) => !table.columns[i]!.typed) ?? judged.at(-1);
}

/** What stands in a column, once each. */
function seen(table: TableItem, column: number): ReadonlySet<string> {
  const cells = Array.from({ length: table.rowCount }, (_, row) => table.cell(row, column));
  return new Set(cells.filter((c) => c.state === "ok").map((c) => c.text));
}

/** The finished runs in the order of their days, else of the rows; a run is finished when the column has a value. */
export function trialsOf(table: TableItem, column: number): readonly Trial[] {
  const days = dayColumn(table);
  const trials: Trial[] = [];
  for (let row = 0; row < table.rowCount; row++) {
    if (table.cell(row, column).state !== "ok") continue;
    const day = days === undefined ? undefined : table.cell(row, days).value;
    trials.push({
      row,
      name: table.rowName(row) || `row ${row + 1}`,
      ...(day?.type === "date" ? { day: day.day } : {}),
    });
  }
  // Runs without a day stay where they stand in the table, behind the days that are known.
  const last = Number.POSITIVE_INFINITY;
  return trials.sort((a, b) => (a.day ?? last) - (b.day ?? last) || a.row - b.row);
}

const number = (shown: Shown): number => (shown.value.type === "quantity" ? shown.value.n.v : Number.NaN);

/** The values of a column in the unit of its first row, as its mean has it, so that runs can be compared. */
function inOneUnit(table: TableItem, trials: readonly Trial[], column: number): readonly number[] {
  const values = trials.map((t) => table.cell(t.row, column).value);
  const rows = [...trials].sort((a, b) => a.row - b.row);
  const first = rows.map((t) => table.cell(t.row, column).value).find((v) => v.type === "quantity");
  return values.map((v) =>
    v.type === "quantity" && first?.type === "quantity" && v.unit.kind === first.unit.kind
      ? convert(v, first.unit).n.v
      : Number.NaN,
  );
}

/** The run with the highest or lowest value; the earlier one of two that are equal. */
export function bestTrial(
  table: TableItem,
  trials: readonly Trial[],
  column: number,
  best: "highest" | "lowest",
): Trial | undefined {
  const values = inOneUnit(table, trials, column);
  let at = -1;
  values.forEach((v, i) => {
    if (!Number.isFinite(v)) return;
    if (at < 0 || (best === "highest" ? v > values[at]! : v < values[at]!)) at = i;
  });
  return trials[at];
}

// ---- what changed between two runs

export interface Change {
  readonly column: TableColumn;
  readonly older: Shown;
  readonly newer: Shown;
  /** "5 K lower", "the same", "was blank". */
  readonly says: string;
  readonly changed: boolean;
  /** What the change may be worth, in words that claim no more than the runs carry. Results only. */
  readonly judged?: string;
}
export interface TrialComparison {
  readonly older: Trial;
  readonly newer: Trial;
  /** Typed columns that no step asks for, and that do not go into what the runs are judged by: what was set. */
  readonly inputs: readonly Change[];
  /** Typed columns that the judged column is worked out from, where no step tells which of them were read. */
  readonly parts: readonly Change[];
  /** Typed columns that a step asks for: what was read. */
  readonly readings: readonly Change[];
  /** Computed columns. */
  readonly results: readonly Change[];
  /** What the changed inputs allow to be said at all. */
  readonly says: string;
}

/**
 * What differs between two runs. The column they are judged by is an outcome, though no step asks for it; what it is
 * worked out from may have been read or set, and only a step that asks for some of it tells which.
 */
export function compareTrials(
  book: Book,
  table: TableItem,
  older: Trial,
  newer: Trial,
  judged?: number,
): TrialComparison {
  const days = dayColumn(table);
  const read = new Set(
    benchSteps(book).flatMap((s) =>
      s.asks.flatMap((ask) => {
        const [name, column] = partsOf(ask.path);
        return name === table.name && column !== undefined ? [column] : [];
      }),
    ),
  );
  const outcome = judged === undefined ? undefined : table.columns[judged];
  if (outcome !== undefined) read.add(outcome.name);
  const goesIn = outcome === undefined ? new Map<string, boolean>() : partsIn(table, outcome);
  if ([...goesIn.keys()].some((name) => read.has(name))) goesIn.clear();
  const changes = table.columns.flatMap((column, i) => {
    if (i === 0 || i === days) return [];
    // Words are remarks: where neither run has any there is nothing to tell.
    const cells = [table.cell(older.row, i), table.cell(newer.row, i)];
    if (headingOf(table, i).holds === "words" && column.typed && cells.every((c) => c.text === "")) return [];
    return [changeOf(book, table, i, older, newer, !column.typed || read.has(column.name))];
  });
  const words = (change: Change) => change.column.holds === "text";
  const typed = changes.filter((c) => c.column.typed);
  const readings = typed.filter((c) => read.has(c.column.name));
  const parts = typed.filter((c) => goesIn.has(c.column.name));
  const inputs = typed.filter((c) => !read.has(c.column.name) && !goesIn.has(c.column.name));
  const results = changes.filter((c) => !c.column.typed);
  const movedOf = (of: readonly Change[]) =>
    of.filter((c) => c.changed && !words(c)).map((c) => c.column.name);
  const moved = movedOf(inputs);
  const movedParts = movedOf(parts);
  const below = movedParts.filter((name) => goesIn.get(name));
  const says =
    below.length > 0
      ? saysOfDivisors(outcome!.name, below, moved)
      : whatItSays(moved, movedParts, outcome?.name ?? "");
  return { older, newer, inputs, parts, readings, results, says };
}

/**
 * The typed columns that a computed one is worked out from in the same row, also by way of other computed columns; true
 * where one stands below a division line, so that the result is told against it.
 */
function partsIn(table: TableItem, of: TableColumn): Map<string, boolean> {
  const columns = new Map(table.columns.map((column) => [column.name, column]));
  const found = new Map<string, boolean>();
  const seen = new Set<string>();
  const waiting: [Formula, boolean][] = [];
  const into = (column: TableColumn, below: boolean) => {
    const key = `${below} ${column.name}`;
    if (seen.has(key)) return;
    seen.add(key);
    const node = column.statement?.node;
    if (column.typed) found.set(column.name, below || found.get(column.name) === true);
    else if (node?.type === "column") waiting.push([node.formula, below]);
  };
  if (!of.typed) into(of, false);
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const [formula, below] = next;
    const column = formula.type === "name" ? columns.get(formula.name) : undefined;
    if (column !== undefined) into(column, below);
    if (formula.type === "arithmetic" && formula.operator === "/")
      waiting.push([formula.left, below], [formula.right, !below]);
    else for (const child of childrenOf(formula)) waiting.push([child, below]);
  }
  return found;
}

const listed = (names: readonly string[]): string =>
  names.length === 1 ? names[0]! : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;

/** A yield for each of two charges is not the yield of two settings. */
function saysOfDivisors(judged: string, below: readonly string[], moved: readonly string[]): string {
  const differ = below.length === 1 ? "differs" : "differ";
  const too = moved.length === 0 ? "" : " too";
  const it =
    moved.length === 0
      ? "so the difference may come from that"
      : `so the difference in ${judged} cannot be put down to ${listed(moved)}`;
  return `${listed(below)}, by which ${judged} is divided, ${differ}${too}, ${it}. Compare two runs that have the same ${listed(below)}.`;
}

function whatItSays(moved: readonly string[], parts: readonly string[], judged: string): string {
  const go = parts.length === 1 ? "goes" : "go";
  const besides = parts.length === 0 ? "" : `Besides ${listed(parts)}, which ${go} into ${judged}, `;
  if (moved.length === 0)
    return `${besides === "" ? "Nothing" : `${besides}nothing`} that is written down was changed between them: the difference is what runs scatter by themselves, or something that is not in the table.`;
  if (moved.length === 1)
    return `${besides === "" ? "Only" : `${besides}only`} ${moved[0]} was changed between them. One pair of runs cannot show that it made the difference; runs repeated both ways can.`;
  return `${besides}${listed(moved)} were changed together, so no difference can be put down to one of them.`;
}

function changeOf(
  book: Book,
  table: TableItem,
  i: number,
  older: Trial,
  newer: Trial,
  judge: boolean,
): Change {
  const column = table.columns[i]!;
  const was = table.cell(older.row, i);
  const is = table.cell(newer.row, i);
  const base = { column, older: was, newer: is };
  if (column.typed && headingOf(table, i).holds === "words") {
    const same = was.text === is.text;
    return { ...base, says: same ? "the same" : "another", changed: !same };
  }
  if (was.state !== "ok" || is.state !== "ok") {
    const neither = was.state !== "ok" && is.state !== "ok";
    const missing = neither
      ? "known for neither"
      : was.state !== "ok"
        ? "not known for the older"
        : "not known for the newer";
    return { ...base, says: missing, changed: false };
  }
  if (was.value.type !== "quantity" || is.value.type !== "quantity") {
    const same = was.text === is.text;
    return { ...base, says: same ? "the same" : "not the same", changed: !same };
  }
  if (was.value.unit.kind !== is.value.unit.kind) return { ...base, says: "of another kind", changed: true };
  const difference = subtract(is.value, was.value);
  const size = Math.abs(difference.n.v);
  if (size <= 1e-9 * Math.max(1, Math.abs(number(was)))) return { ...base, says: "the same", changed: false };
  const amount = formatParts({ ...difference, spread: undefined }, { digits: 3 }).number.replace("-", "");
  const unit = difference.unit.text;
  const says = `${amount}${unit === "" ? "" : ` ${unit}`} ${difference.n.v > 0 ? "higher" : "lower"}`;
  if (!judge) return { ...base, says, changed: true };
  return { ...base, says, changed: true, judged: judgement(book, table, i, difference) };
}

/** Fewest runs of which a scatter is told at all. */
const FEWEST = 4;

/**
 * What a difference of two runs may be worth, beside the scatter of all finished runs and the ± of the two. By
 * Student's t: two single runs of one kind differ by more than t s √2 in one case out of twenty. The scatter is taken
 * over all runs, the two compared ones among them, so that it is rather too wide than too narrow.
 */
function judgement(book: Book, table: TableItem, i: number, difference: Quantity): string {
  const size = Math.abs(difference.n.v);
  const doubt = sigma(difference.spread);
  if (doubt > 0 && size < 2 * doubt) return "less than twice its own ±: it may be nothing";
  const { count, chance } = scatterOf(book, table, i);
  if (count < FEWEST || chance === undefined)
    return `${count} runs are too few to tell it from what runs scatter by themselves`;
  const usual =
    `${formatParts({ ...chance, spread: undefined }, { digits: 2 }).number} ${chance.unit.text}`.trim();
  const same = chance.unit.kind === difference.unit.kind ? convert(chance, difference.unit) : chance;
  return size <= same.n.v
    ? `no more than two of these ${count} runs may differ by chance (up to about ${usual})`
    : `more than two of these ${count} runs usually differ by chance (up to about ${usual}); look whether it comes again`;
}

/** How many runs a column has, and by how much two of them differ by chance in 19 cases out of 20. */
export function scatterOf(
  book: Book,
  table: TableItem,
  i: number,
): { readonly count: number; readonly chance?: Quantity } {
  const path = `${writeName(table.name)}.${writePart(table.columns[i]!.name)}`;
  const count = trialsOf(table, i).length;
  if (count < 2) return { count };
  // Half the width of the mean's 95 % interval is t s / √n; two single runs differ by √2 s.
  const half = book.ask(
    `(mean_interval(${path}).high - mean_interval(${path}).low) * ${Math.sqrt(count / 2)}`,
  );
  return half.raw.type === "quantity" ? { count, chance: half.raw } : { count };
}

// ---- the picture

export interface TrialSeries {
  readonly unit: string;
  readonly label: string;
  readonly points: readonly {
    readonly trial: Trial;
    readonly y: number;
    readonly spread?: number;
    readonly text: string;
  }[];
  /** Mean and standard deviation of the finished runs; from two runs on. */
  readonly mean?: number;
  readonly deviation?: number;
  readonly says: string;
}

/** A column over the runs, with its mean and the band of one standard deviation. */
export function seriesOf(book: Book, table: TableItem, column: number): TrialSeries {
  const trials = trialsOf(table, column);
  const values = inOneUnit(table, trials, column);
  const about = table.columns[column]!;
  const path = `${writeName(table.name)}.${writePart(about.name)}`;
  const points = trials.map((trial, i) => {
    const { value, text } = table.cell(trial.row, column);
    const by = value.type === "quantity" ? sigma(value.spread) : 0;
    return { trial, y: values[i]!, ...(by > 0 ? { spread: by } : {}), text };
  });
  const mean = book.ask(`mean(${path})`);
  const deviation = book.ask(`standard_deviation(${path})`);
  const base = { unit: about.unit, label: about.name, points };
  if (trials.length < 2 || mean.raw.type !== "quantity" || deviation.raw.type !== "quantity")
    return {
      ...base,
      says: trials.length === 1 ? "One run: nothing to compare it with yet." : "No finished run yet.",
    };
  const spread =
    `${formatParts({ ...deviation.raw, spread: undefined }, { digits: 2 }).number} ${deviation.raw.unit.text}`.trim();
  const average =
    `${formatParts({ ...mean.raw, spread: undefined }, { digits: 4 }).number} ${mean.raw.unit.text}`.trim();
  const few =
    trials.length < FEWEST
      ? ` ${trials.length} runs say little about how much they scatter.`
      : trials.length < 10
        ? " The band itself is known only roughly from so few."
        : "";
  return {
    ...base,
    mean: mean.raw.n.v,
    deviation: deviation.raw.n.v,
    says: `Mean ${average} of ${trials.length} runs; the band is one standard deviation, ${spread}, to each side.${few}`,
  };
}
