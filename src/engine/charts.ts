import type { Formula, Statement } from "../../grammar";
import {
  approximate,
  convert,
  convertible,
  format,
  jointKind,
  type Quantity,
  quantity,
  sigma,
  type Unit,
} from "../quantity";
import type { Value } from "../vocabulary/value";
import { TOO_MUCH } from "./allowance";
import { inUnitOf } from "./ends";
import { describe } from "./fault";
import { remark, type Sources, sourceOf } from "./items";
import type { ChartItem, ChartSeries } from "./report";
import { show } from "./show";
import { ownerOf, type Sink } from "./sinks";

/** Points of a curve. */
const CURVE_POINTS = 65;

type ChartNode = Statement["node"] & { type: "chart" };

export function chartItem(sources: Sources, sink: Sink): ChartItem {
  const node = sink.statement.node as ChartNode;
  return node.style === "curve" ? curveItem(sources, sink, node) : pointsItem(sources, sink, node);
}

function core(sink: Sink, node: ChartNode, formula: string) {
  const { statement } = sink;
  return {
    type: "chart" as const,
    statement,
    ...remark(statement),
    title: node.title,
    style: node.style,
    formula,
  };
}

/** Last word of a path, as a label: `spirit` of `distillates.spirit`. */
function labelOf(sources: Sources, statement: Statement, formula: Formula): string {
  if (formula.type === "part") return formula.part;
  if (formula.type === "name") return formula.name;
  return sourceOf(sources.text, statement, formula.span);
}

function pointsItem(
  sources: Sources,
  sink: Sink,
  node: ChartNode & { style: "bars" | "line" | "dots" },
): ChartItem {
  const { calculation, text } = sources;
  const { statement } = sink;
  const worked = sink.parts.map(({ code }): Value => calculation.evaluate(code, ownerOf(sink)));
  const by = worked[node.what.length]!;
  const what = worked.slice(0, node.what.length);
  const written = `${node.style} ${node.what.map((w) => sourceOf(text, statement, w.span)).join(", ")} by ${sourceOf(text, statement, node.by.span)}`;
  const base = core(sink, node, written);
  const empty = {
    series: [] as ChartSeries[],
    xLabel: labelOf(sources, statement, node.by),
    xUnit: "",
    xHolds: "names" as const,
  };
  const refuse = (message: string): ChartItem => ({ ...base, ...empty, message });
  if (by.type === "gap" || by.type === "fault") return refuse(show(by, sink.path, "", "computed").message!);
  if (by.type !== "list") return refuse(`After \`by\` stands a column or a list; this is ${describe(by)}.`);
  if (!calculation.allowance.affords(POINT_WORK * by.entries.length * what.length))
    return refuse(TOO_MUCH.says);
  const firstX = by.entries.find((e) => e.type !== "gap" && e.type !== "fault");
  const xUnit = firstX?.type === "quantity" ? firstX.unit : undefined;
  const xHolds =
    node.style === "bars"
      ? "names"
      : firstX?.type === "quantity"
        ? "quantities"
        : firstX?.type === "date"
          ? "dates"
          : "names";
  const series: ChartSeries[] = [];
  const left = new Set<number>();
  for (let s = 0; s < what.length; s++) {
    const values = what[s]!;
    if (values.type === "gap" || values.type === "fault")
      return refuse(show(values, sink.path, "", "computed").message!);
    if (values.type !== "list")
      return refuse(
        `A chart draws a column or a list; ${labelOf(sources, statement, node.what[s]!)} is ${describe(values)}.`,
      );
    if (values.entries.length !== by.entries.length)
      return refuse(`These lists do not match: ${values.entries.length} values by ${by.entries.length}.`);
    const unit = unitOf(values.entries);
    const other = values.entries.find((e) => e.type !== "quantity" && e.type !== "gap" && e.type !== "fault");
    if (other !== undefined)
      return refuse(
        `A chart draws numbers; ${labelOf(sources, statement, node.what[s]!)} holds ${describe(other)}.`,
      );
    const points: ChartSeries["points"][number][] = [];
    values.entries.forEach((value, i) => {
      const xValue = by.entries[i]!;
      const y = numberIn(value, unit);
      const x = xHolds === "names" ? i : xValue.type === "date" ? xValue.day : numberIn(xValue, xUnit)?.value;
      if (y === undefined || x === undefined || xValue.type === "gap" || xValue.type === "fault") {
        if (!(value.type === "gap" && xValue.type === "gap")) left.add(i);
        return;
      }
      points.push({
        x,
        y: y.value,
        ...(y.spread > 0 && { spread: y.spread }),
        name: nameOf(xValue, xHolds, values.origin?.names[i]),
      });
    });
    series.push({ label: labelOf(sources, statement, node.what[s]!), unit: unit?.text ?? "", points });
  }
  return {
    ...base,
    series,
    xLabel: labelOf(sources, statement, node.by),
    xUnit: xUnit?.text ?? "",
    xHolds,
    ...(left.size > 0 && {
      message: `${left.size === 1 ? "1 row is" : `${left.size} rows are`} not drawn${what.length > 1 ? " in full" : ""}: a value is not known yet`,
    }),
  };
}

function nameOf(x: Value, holds: ChartItem["xHolds"], row: string | undefined): string {
  if (x.type === "text") return x.text;
  if (x.type === "date") return x.iso;
  if (x.type === "quantity") return holds === "names" ? format(x) : row || format(x);
  return row ?? "";
}

function unitOf(entries: readonly Value[]): Unit | undefined {
  const first = entries.find((e) => e.type === "quantity");
  return first?.type === "quantity" ? first.unit : undefined;
}

function numberIn(value: Value, unit: Unit | undefined): { value: number; spread: number } | undefined {
  if (value.type !== "quantity" || !unit || value.unit.kind !== unit.kind) return undefined;
  const { n, spread } = convert(value, unit);
  return { value: n.v, spread: sigma(spread) };
}

/** Work of a point that is drawn: it is kept with its name. */
const POINT_WORK = 200;

function curveItem(sources: Sources, sink: Sink, node: ChartNode & { style: "curve" }): ChartItem {
  const { calculation, text } = sources;
  const { statement } = sink;
  const owner = ownerOf(sink);
  const curves = sink.parts.slice(0, node.what.length);
  const [from, to, markValue] = sink.parts
    .slice(node.what.length)
    .map(({ code }) => calculation.evaluate(code, owner)) as [Value, Value, Value?];
  const src = (f: Formula): string => sourceOf(text, statement, f.span);
  const written = `curve ${node.what.map(src).join(", ")} for ${node.variable} from ${src(node.from)} to ${src(node.to)}${node.mark ? ` mark ${src(node.mark)}` : ""}`;
  const base = core(sink, node, written);
  const empty = {
    series: [] as ChartSeries[],
    xLabel: node.variable,
    xUnit: "",
    xHolds: "quantities" as const,
  };
  if (from.type !== "quantity" || to.type !== "quantity") {
    const bad = from.type === "quantity" ? to : from;
    const message =
      bad.type === "gap" || bad.type === "fault"
        ? show(bad, sink.path, "", "computed").message!
        : "A curve runs between two numbers.";
    return { ...base, ...empty, message };
  }
  if (jointKind(from.unit.kind, to.unit.kind) === undefined) {
    const message = `A curve runs between two of one kind; ${format(from)} is ${from.unit.kind.name}, ${format(to)} ${to.unit.kind.name}.`;
    return { ...base, ...empty, message };
  }
  if (!calculation.allowance.affords(POINT_WORK * CURVE_POINTS * node.what.length))
    return { ...base, ...empty, message: TOO_MUCH.says };
  const xs = spaced(from, to, CURVE_POINTS);
  const marked =
    markValue?.type === "quantity" && convertible(markValue.unit, from.unit) === undefined
      ? convert(markValue, from.unit)
      : undefined;
  const strayMark =
    markValue !== undefined && marked === undefined && markValue.type !== "gap" && markValue.type !== "fault"
      ? `The mark is ${describe(markValue)}, and the curve runs over ${from.unit.kind.name}`
      : undefined;
  const series: ChartSeries[] = [];
  const ys: number[] = [];
  let outsideRange = 0;
  let firstFault: string | undefined;
  for (const [i, { code }] of curves.entries()) {
    const at = (x: Quantity): Value =>
      code({ values: calculation, owner, row: -1, locals: { values: [x], outer: undefined }, route: "" });
    const values = xs.map(at);
    const unit = unitOf(values);
    const points = values.flatMap((value, i) => {
      const y = numberIn(value, unit);
      if (y === undefined) {
        outsideRange++;
        if (value.type === "fault" || value.type === "gap") firstFault ??= value.says;
        return [];
      }
      return [{ x: xs[i]!.n.v, y: y.value, ...(y.spread > 0 && { spread: y.spread }), name: format(xs[i]!) }];
    });
    series.push({ label: src(node.what[i]!), unit: unit?.text ?? "", points });
    if (marked) ys.push(numberIn(at(marked), unit)?.value ?? Number.NaN);
  }
  return {
    ...base,
    series,
    xLabel: node.variable,
    xUnit: from.unit.text,
    xHolds: "quantities",
    ...(marked && { mark: { x: marked.n.v, ys, text: format(marked) } }),
    ...(series.every((s) => s.points.length === 0) && firstFault !== undefined
      ? { message: firstFault }
      : outsideRange > 0 && {
          message: `${outsideRange} of ${CURVE_POINTS * node.what.length} points ${outsideRange === 1 ? "lies outside a function's range and is" : "lie outside a function's range and are"} not drawn`,
        }),
    ...(strayMark !== undefined && { message: strayMark }),
  };
}

/** Evenly spaced quantities between two ends, in the unit of the first. */
export function spaced(from: Quantity, to: Quantity, count: number): Quantity[] {
  const a = from.n.v;
  const b = inUnitOf(to, from);
  return Array.from({ length: count }, (_, i) =>
    quantity(approximate(i === count - 1 ? b : a + ((b - a) * i) / (count - 1)), from.unit),
  );
}
