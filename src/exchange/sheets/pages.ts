import type { Formula, Statement } from "../../../grammar";
import type { Book, ChartItem, CheckItem, StepItem } from "../../engine";
import { call, type Expression, operation, text } from "../expression";
import { inWords, type Live } from "../live";
import { EMPTY, EPOCH_DAYS, type SheetCell, type SheetChart, words } from "../sheet";
import { shownText } from "../translation/shown-text";
import { type ListTerm, NotLive, type Term, textTerm, truthTerm, union } from "../translation/term";
import { decimalsOf } from "./values";

// ---- checks -------------------------------------------------------------------------------------------

const WORD = { met: "met", unmet: "not met", unknown: "not yet known" } as const;

/** The sheet of checks; each answers again when something that it looks at changes. */
export function checkRows(book: Book, live: Live): SheetCell[][] {
  const checks = book.items.filter((i): i is CheckItem => i.type === "check");
  if (checks.length === 0) return [];
  const rows: SheetCell[][] = [["check", "state", "condition", "says"].map((w) => words(w, "heading"))];
  checks.forEach((check, i) => {
    const node = check.statement.node as Statement["node"] & { type: "check" };
    const path = `check ${i + 1}`;
    const made = live.attempt(() => {
      const term = allOf(live.translator.translate(node.formula, {}, path));
      const e = inWords(term.expression, term.missing, WORD.met, WORD.unmet, WORD.unknown);
      return live.finished(textTerm(e), { type: "text", text: WORD[check.state] });
    });
    const isLive = !(made instanceof NotLive);
    live.fates.push({
      path,
      formula: check.formula,
      live: isLive,
      error: 0,
      ...(isLive ? {} : { reason: made.reason }),
    });
    const state: SheetCell = {
      value: WORD[check.state],
      role:
        check.state === "unmet" ? "fault" : check.state === "unknown" ? "gap" : isLive ? "computed" : "kept",
      ...(isLive ? { formula: made } : { note: `This does not answer again here: ${made.reason}.` }),
    };
    const note = check.notes.map((n) => n.text).join("\n");
    rows.push([
      words(check.text === "" ? check.formula : check.text, "plain", note === "" ? undefined : note),
      state,
      words(check.formula, "formula"),
      check.says === undefined ? EMPTY : words(check.says, "remark"),
    ]);
  });
  return rows;
}

/** A list of truths is met when all of them are. */
function allOf(term: Term) {
  if (term.type === "truth") return term;
  if (term.type !== "list") throw new NotLive("a check comes to neither true nor false");
  const entries = Array.from({ length: term.length }, (_, i) => term.entry(i));
  const truths = entries.map((t) => {
    if (t.type !== "truth") throw new NotLive("a check comes to neither true nor false");
    return t;
  });
  return truthTerm(call("AND", ...truths.map((t) => t.expression)), union(...truths.map((t) => t.missing)));
}

// ---- steps --------------------------------------------------------------------------------------------

/** The sheet of steps: the sentences of the bench card with their amounts, and room for the readings. */
export function stepRows(book: Book, live: Live): SheetCell[][] {
  const steps = book.items.filter((i): i is StepItem => i.type === "step");
  if (steps.length === 0) return [];
  const rows: SheetCell[][] = [
    ["step", "what to do", "wait", "reading", "unit", "planned", "got"].map((w) => words(w, "heading")),
  ];
  for (const step of steps) {
    const [first, ...rest] = step.asks;
    const asked = (ask: StepItem["asks"][number] | undefined): SheetCell[] =>
      ask === undefined
        ? []
        : [
            words(ask.path),
            words(ask.unit, "remark"),
            ask.expect?.state === "ok" ? words(ask.expect.text, "plain") : EMPTY,
            { value: null, role: "typed" },
          ];
    rows.push([
      { value: step.number, role: "plain" },
      sentence(step, live),
      step.wait?.state === "ok" ? words(step.wait.text) : EMPTY,
      ...asked(first),
    ]);
    for (const ask of rest) rows.push([EMPTY, EMPTY, EMPTY, ...asked(ask)]);
  }
  return rows;
}

/** The sentence, joined from its pieces so that the amounts follow; plain text where they cannot. */
function sentence(step: StepItem, live: Live): SheetCell {
  const node = step.statement.node as Statement["node"] & { type: "step" };
  if (step.pieces.every((p) => typeof p === "string")) return words(step.text);
  const made = live.attempt(() => {
    let written: Expression | undefined;
    node.text.pieces.forEach((piece, i) => {
      const shown = step.pieces[i];
      let next: Expression;
      if (typeof piece === "string" || typeof shown === "string" || shown === undefined)
        next = text(String(piece));
      else if (shown.state === "fault" || shown.spread !== undefined)
        throw new NotLive("an amount in it is a fault or carries a ±");
      else {
        const term = live.translator.translate(piece, {}, `step ${step.number}`);
        const said = shownText(term, live.translator.working, decimalsOf(shown));
        next = inGap(said.expression, said.missing);
      }
      written = written === undefined ? next : operation("&", written, next);
    });
    return live.finished(textTerm(written!), { type: "text", text: step.text });
  });
  if (made instanceof NotLive)
    return words(step.text, "kept", `The amounts in this sentence do not follow here: ${made.reason}.`);
  return { value: step.text, role: "computed", formula: made };
}
const inGap = (e: Expression, missing: readonly Expression[]): Expression =>
  missing.length === 0
    ? e
    : call("IF", missing.length === 1 ? missing[0]! : call("OR", ...missing), text("(not filled in yet)"), e);

// ---- charts -------------------------------------------------------------------------------------------

/** The sheet of charts: each as a drawing over its own table of points, which follow the book's cells where they can. */
export function chartSheet(
  book: Book,
  sheet: string,
  live: Live,
): { rows: SheetCell[][]; charts: SheetChart[] } {
  const rows: SheetCell[][] = [];
  const charts: SheetChart[] = [];
  for (const chart of book.items) {
    if (chart.type !== "chart") continue;
    const top = rows.length;
    rows.push([words(chart.title, "title")]);
    rows.push([words(chart.formula, "formula")]);
    if (chart.message !== undefined) rows.push([words(chart.message, "remark")]);
    const longest = Math.max(0, ...chart.series.map((s) => s.points.length));
    if (longest === 0) {
      rows.push([]);
      continue;
    }
    const head = rows.length;
    const points = pointRows(chart, live);
    rows.push(...points.rows);
    const count = chart.series.length * 2;
    while (rows.length < top + CHART_ROWS + 2) rows.push([]);
    charts.push({
      title: chart.title,
      style: chart.style === "curve" ? "line" : chart.style,
      named: chart.style === "bars" || chart.xHolds === "names",
      series: chart.series.map((s, i) => ({
        label: { sheet, row: head, column: 2 * i + 1 },
        xs: { sheet, column: 2 * i, fromRow: head + 1, toRow: head + s.points.length },
        ys: { sheet, column: 2 * i + 1, fromRow: head + 1, toRow: head + s.points.length },
      })),
      xTitle: withUnit(chart.xLabel, chart.xUnit),
      yTitle:
        chart.series.length === 1
          ? withUnit(chart.series[0]!.label, chart.series[0]!.unit)
          : (chart.series[0]!.unit ?? ""),
      at: { row: top, column: count + 1, rows: CHART_ROWS, columns: 7 },
    });
    rows.push([]);
  }
  return { rows, charts };
}
const CHART_ROWS = 18;
const withUnit = (label: string, unit: string): string => (unit === "" ? label : `${label} (${unit})`);

/** Two columns for each series: what stands along the bottom, and the values. */
function pointRows(chart: ChartItem, live: Live): { rows: SheetCell[][] } {
  const longest = Math.max(...chart.series.map((s) => s.points.length));
  const rows: SheetCell[][] = Array.from({ length: longest + 1 }, () => []);
  chart.series.forEach((series, s) => {
    const along = chart.xHolds === "quantities" ? withUnit(chart.xLabel, chart.xUnit) : chart.xLabel;
    rows[0]!.push(words(along, "heading"), words(withUnit(series.label, series.unit), "heading"));
    const follow = followed(chart, s, live);
    for (let i = 0; i < longest; i++) {
      const point = series.points[i];
      if (point === undefined) {
        rows[i + 1]!.push(EMPTY, EMPTY);
        continue;
      }
      const x: SheetCell =
        chart.xHolds === "names"
          ? words(point.name)
          : chart.xHolds === "dates"
            ? { value: point.x + EPOCH_DAYS, isDate: true, role: "plain" }
            : { value: point.x, role: "plain" };
      const e = follow?.(i);
      rows[i + 1]!.push(
        x,
        e === undefined ? { value: point.y, role: "kept" } : { value: point.y, role: "computed", formula: e },
      );
    }
  });
  return { rows };
}

/** References to the cells that a chart draws from, when its points are those of a column, one for one. */
function followed(
  chart: ChartItem,
  s: number,
  live: Live,
): ((i: number) => Expression | undefined) | undefined {
  const node = chart.statement.node as Statement["node"] & { type: "chart" };
  if (node.style === "curve") return undefined;
  const formula: Formula | undefined = node.what[s];
  if (formula === undefined) return undefined;
  const list = live.translate(formula, {}, chart.title);
  if (list instanceof NotLive || list.type !== "list" || list.chosen !== undefined) return undefined;
  const { points, unit } = chart.series[s]!;
  if (points.length !== (list as ListTerm).length) return undefined;
  return (i) => {
    const made = live.attempt(() => {
      const entry = list.entry(i);
      if (entry.type !== "quantity" || entry.unit.text !== unit || entry.missing.length > 0)
        throw new NotLive("no single cell");
      if (entry.expression.type !== "cell") throw new NotLive("no single cell");
      const got = live.translator.working.evaluate(entry.expression);
      if (typeof got !== "number" || Math.abs(got - points[i]!.y) > 1e-9 * Math.abs(got))
        throw new NotLive("another value");
      return entry.expression;
    });
    return made instanceof NotLive ? undefined : made;
  };
}
