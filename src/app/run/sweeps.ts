import "../../engine/questions-here";
import { quoteText, writeName } from "../../../grammar";
import type { Book, ChartItem, Shown, ValueItem } from "../../engine";
import { convert, sigma, Trouble } from "../../quantity";
import { followersOf } from "../state/followers";

/** What one value of a book does to another over the range that it may be tried in. */
export interface SweepPicture {
  readonly chart: ChartItem;
  readonly rows: readonly { readonly input: Shown; readonly outcome: Shown; readonly here: boolean }[];
  /** Why some points are missing, or why there is no picture at all. */
  readonly says?: string;
}
export interface SweepResult {
  readonly path: string;
  readonly label: string;
}

/** Most points of a small sweep: enough for a smooth curve, worked out in an instant. */
const POINTS = 40;

/** The numbers of the book that depend on a value, however far along. */
export function dependentResults(book: Book, name: string): readonly SweepResult[] {
  const seen = followersOf(book, name);
  const results: SweepResult[] = [];
  const add = (shown: Shown) => {
    if (shown.value.type === "quantity")
      results.push({ path: shown.path, label: shown.path.replaceAll("`", "") });
  };
  for (const item of book.items) {
    if (item.type === "value" && seen.has(writeName(item.name)))
      for (const shown of item.parts.length === 0 ? [item.shown] : item.parts) add(shown);
    if (item.type === "table")
      for (const [column, foot] of item.feet)
        if (seen.has(`${writeName(item.name)}.foot.${writeName(column)}`)) add(foot.shown);
  }
  return results;
}

/** The book over the range of a value, one result shown, the present setting marked. */
export function sweepPicture(
  book: Book,
  item: ValueItem,
  result: SweepResult,
): SweepPicture | { readonly says: string } {
  const run = sweepRun(book, item, result);
  for (;;) {
    const { done, value } = run.next();
    if (done) return value;
  }
}

/** The same point by point: yields how many of how many are worked out. */
export function* sweepRun(
  book: Book,
  item: ValueItem,
  result: SweepResult,
): Generator<{ readonly done: number; readonly of: number }, SweepPicture | { readonly says: string }, void> {
  const { trial } = item;
  if (trial === undefined) return { says: `${item.name} has no range to try.` };
  const written = trial.type === "choices" ? trial.choices.map((c) => quoteText(c)) : settings(trial, item);
  try {
    const sweep = book.sweep([`${writeName(item.name)} from [${written.join(", ")}]`], [result.path]);
    const rows: SweepPicture["rows"][number][] = [];
    for (let i = 0; i < sweep.count; i++) {
      const input = sweep.inputs(i)[0]!;
      rows.push({ input, outcome: sweep.outcomes(i)[0]!, here: same(input, item.shown) });
      yield { done: i + 1, of: sweep.count };
    }
    return picture(item, result, rows);
  } catch (error) {
    if (error instanceof Trouble) return { says: [error.message, error.help ?? ""].join(" ").trim() };
    throw error;
  }
}

/** Settings over the range, the writer's own steps when they are few, and the present one among them. */
function settings(
  trial: Extract<NonNullable<ValueItem["trial"]>, { type: "range" }>,
  item: ValueItem,
): readonly string[] {
  const { from, to, unit } = trial;
  const low = Math.min(from, to);
  const high = Math.max(from, to);
  const own = trial.step === undefined ? 0 : Math.abs(trial.step);
  const step = own > 0 && (high - low) / own <= POINTS ? own : (high - low) / POINTS;
  const values: number[] = [];
  if (step > 0) for (let i = 0; low + i * step <= high + step * 1e-9; i++) values.push(tidy(low + i * step));
  if (values.at(-1) !== high) values.push(high);
  const { value } = item.shown;
  const now = value.type === "quantity" ? tidy(value.n.v) : undefined;
  if (
    now !== undefined &&
    now >= low &&
    now <= high &&
    value.type === "quantity" &&
    value.unit.text === unit
  ) {
    if (!values.some((v) => Math.abs(v - now) <= 1e-9 * Math.max(1, Math.abs(now)))) values.push(now);
    values.sort((a, b) => a - b);
  }
  return values.map((v) => (unit === "" ? `${v}` : `${v} ${unit}`));
}

const tidy = (n: number): number => Number(n.toPrecision(12));

function same(a: Shown, b: Shown): boolean {
  if (a.value.type !== "quantity" || b.value.type !== "quantity") return a.text === b.text;
  if (a.value.unit.kind !== b.value.unit.kind) return false;
  const x = a.value.n.v;
  return Math.abs(x - convert(b.value, a.value.unit).n.v) <= 1e-9 * Math.max(1, Math.abs(x));
}

function picture(item: ValueItem, result: SweepResult, rows: SweepPicture["rows"]): SweepPicture {
  const first = rows.find((r) => r.outcome.value.type === "quantity")?.outcome.value;
  const unit = first?.type === "quantity" ? first.unit : undefined;
  const points = rows.map(({ input, outcome }, i) => {
    const y = outcome.value;
    const x = input.value.type === "quantity" ? input.value.n.v : i;
    const fits = y.type === "quantity" && unit !== undefined && y.unit.kind === unit.kind;
    const there = fits ? convert(y, unit) : undefined;
    const by = there === undefined ? 0 : sigma(there.spread);
    return {
      x,
      y: there === undefined ? Number.NaN : there.n.v,
      ...(by > 0 ? { spread: by } : {}),
      name: input.text,
    };
  });
  const choices = item.trial?.type === "choices";
  const missing = points.filter((p) => !Number.isFinite(p.y)).length;
  const reason = rows.find((r) => r.outcome.state !== "ok")?.outcome.message;
  const here = rows.findIndex((r) => r.here);
  const mark =
    here < 0 || choices ? undefined : { x: points[here]!.x, ys: [points[here]!.y], text: item.shown.text };
  const chart: ChartItem = {
    type: "chart",
    statement: item.statement,
    title: `${result.label} over ${item.name}`,
    style: choices ? "bars" : "curve",
    formula: "",
    series: [{ label: result.label, unit: unit?.text ?? "", points }],
    xLabel: item.name,
    xUnit: item.trial?.type === "range" ? item.trial.unit : "",
    xHolds: choices ? "names" : "quantities",
    ...(mark === undefined || !Number.isFinite(mark.ys[0]) ? {} : { mark }),
  };
  if (missing === 0) return { chart, rows };
  const why = reason === undefined ? "" : ` ${reason.endsWith(".") ? reason : `${reason}.`}`;
  return {
    chart,
    rows,
    says: `${missing === points.length ? "No setting" : `${missing} of ${points.length} settings`} ${missing === points.length ? "has a result" : "have no result"}.${why}`,
  };
}
