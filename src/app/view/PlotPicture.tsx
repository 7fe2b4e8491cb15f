import { type PointerEvent, useRef } from "react";
import type { ChartItem, ChartSeries } from "../../engine";
import { type Axis, axisFor, axisWithin, dayAxis, dayText, tickText } from "../state/axis";
import { Axes, type Plot, plotIn, type Tick, thinned, Whisker } from "./Plot";
import { short } from "./short";

const HEIGHT = 286;
/** Room for the labels that stand at the end of the curves. */
const RIGHT = 100;

/** A line, dots with error bars, or a curve with its operating point, drawn at the width it has. */
export function PlotPicture({
  item,
  width,
  onMark,
}: {
  item: ChartItem;
  width: number;
  onMark?: ((x: number) => void) | undefined;
}) {
  const svg = useRef<SVGSVGElement>(null);
  const narrow = width < 480;
  const points = item.series.flatMap((s) => s.points);
  const xs = points.map((p) => p.x);
  const ys = points.flatMap((p) => (p.spread === undefined ? [p.y] : [p.y - p.spread, p.y + p.spread]));
  const names = item.xHolds === "names";
  const x: Axis = names
    ? axisWithin(-0.5, Math.max(0, ...item.series.map((s) => s.points.length)) - 0.5, 1)
    : item.style === "curve"
      ? axisWithin(Math.min(...xs), Math.max(...xs), narrow ? 3 : 6, true)
      : item.xHolds === "dates"
        ? dayAxis(xs, narrow ? 2 : 5)
        : roomy(xs, narrow ? 3 : 6);
  const y = axisFor(
    ys,
    5,
    item.style === "curve" && Math.min(...ys) >= 0 && Math.min(...ys) < Math.max(...ys) / 2,
  );
  const plot = plotIn(width, HEIGHT, narrow || item.series.length < 2 ? 28 : RIGHT, x, y);
  const at = (series: ChartSeries, i: number) => (names ? i : series.points[i]!.x);
  const first = item.series[0]!;
  const drag = (event: PointerEvent) => {
    if (onMark === undefined || svg.current === null || (event.buttons & 1) === 0) return;
    const box = svg.current.getBoundingClientRect();
    const share = (event.clientX - box.left - plot.left) / (plot.right - plot.left);
    onMark(x.low + Math.min(1, Math.max(0, share)) * (x.high - x.low));
  };
  return (
    <svg
      ref={svg}
      width={width}
      height={HEIGHT}
      viewBox={`0 0 ${width} ${HEIGHT}`}
      role="img"
      aria-label={describe(item)}
      className={onMark === undefined ? undefined : "draggable"}
      onPointerDown={(event) => {
        if (onMark === undefined) return;
        event.currentTarget.setPointerCapture(event.pointerId);
        drag(event);
      }}
      onPointerMove={drag}
    >
      <Axes
        plot={plot}
        ticks={ticksOf(item, x, plot)}
        xUnit={names ? "" : item.xUnit}
        yUnit={first.unit}
        across={item.xLabel}
      />
      {item.series.map((series, s) => (
        <Series key={series.label} item={item} plot={plot} series={series} nth={s} at={at} />
      ))}
      {narrow ? null : <EndLabels item={item} plot={plot} />}
      {item.mark === undefined ? null : <Operating item={item} plot={plot} />}
    </svg>
  );
}

/** An axis with a little room at both ends, so that no point stands on an edge. */
function roomy(values: readonly number[], wanted: number): Axis {
  const finite = values.filter(Number.isFinite);
  const low = Math.min(...finite);
  const high = Math.max(...finite);
  const room = (high - low) * 0.06;
  return room > 0 ? axisWithin(low - room, high + room, wanted) : axisFor(finite, wanted);
}

interface Placing {
  readonly item: ChartItem;
  readonly plot: Plot;
}

function ticksOf(item: ChartItem, x: Axis, plot: Plot): readonly Tick[] {
  if (item.xHolds === "names")
    return thinned(
      item.series[0]!.points.map((p, i) => ({ at: i, text: p.name })),
      plot,
    );
  return x.ticks.map((at) => ({ at, text: item.xHolds === "dates" ? dayText(at) : tickText(x, at) }));
}

function Series({
  item,
  plot,
  series,
  nth,
  at,
}: Placing & { series: ChartSeries; nth: number; at: (s: ChartSeries, i: number) => number }) {
  const { px, py } = plot;
  const path = pathOf(series, px, py, at);
  const className = `curve${nth === 1 ? " second" : nth > 1 ? " third" : ""}`;
  return (
    <g>
      {item.style === "dots" ? null : <path className={className} d={path} />}
      {item.style === "curve"
        ? null
        : series.points.map((p, i) => {
            if (!Number.isFinite(p.y)) return null;
            const cx = px(at(series, i));
            const cy = py(p.y);
            return (
              <g key={i}>
                <Whisker plot={plot} x={cx} y={p.y} spread={p.spread} />
                {nth === 0 ? (
                  <circle className="point" cx={cx} cy={cy} r={4.5} />
                ) : (
                  <rect className="point" x={cx - 4} y={cy - 4} width={8} height={8} />
                )}
              </g>
            );
          })}
    </g>
  );
}

/** A path through the points; where a value is missing the line is broken. */
export function pathOf(
  series: ChartSeries,
  px: (value: number) => number,
  py: (value: number) => number,
  at: (s: ChartSeries, i: number) => number,
): string {
  let path = "";
  let pen = "M";
  series.points.forEach((p, i) => {
    if (!Number.isFinite(p.y)) {
      pen = "M";
      return;
    }
    path += `${pen}${px(at(series, i)).toFixed(1)} ${py(p.y).toFixed(1)}`;
    pen = "L";
  });
  return path;
}

/** The name of each curve at its end, moved apart where they would meet. */
function EndLabels({ item, plot }: Placing) {
  if (item.series.length < 2) return null;
  const ends = item.series
    .map((series, nth) => ({
      series,
      nth,
      y: plot.py(series.points.findLast((p) => Number.isFinite(p.y))?.y ?? 0),
    }))
    .sort((a, b) => a.y - b.y);
  let lowest = Number.NEGATIVE_INFINITY;
  return (
    <g>
      {ends.map(({ series, nth, y }) => {
        const put = Math.max(y + 4, lowest + 15);
        lowest = put;
        return (
          <text
            key={series.label}
            x={plot.right + 8}
            y={put}
            className={nth === 0 ? "halo computed-ink" : "halo"}
          >
            {clipped(series.label)}
          </text>
        );
      })}
    </g>
  );
}

const clipped = (label: string): string => (label.length > 14 ? `${label.slice(0, 13)}…` : label);

/** The operating point: a ring with lines to both axes, and its reading in large. */
function Operating({ item, plot }: Placing) {
  const { left, right, top, bottom, px, py } = plot;
  const { mark } = item;
  const y = mark?.ys[0];
  if (mark === undefined || y === undefined || !Number.isFinite(y)) return null;
  const cx = px(mark.x);
  const cy = py(y);
  // The reading stands in the right corner that the curve leaves free.
  const points = item.series[0]!.points.filter((p) => Number.isFinite(p.y));
  const last = points.slice(Math.floor(points.length * 0.6));
  const middle = last.reduce((sum, p) => sum + py(p.y), 0) / Math.max(1, last.length);
  const readAt = middle < (top + bottom) / 2 ? bottom - 18 : top + 48;
  const unit = item.series[0]!.unit;
  return (
    <g>
      <path className="operating" d={`M${cx} ${bottom}V${cy}H${left}`} />
      <circle className="ring" cx={cx} cy={cy} r={11} />
      <circle className="ring-dot" cx={cx} cy={cy} r={3.5} />
      <text x={right - 4} y={readAt - 30} textAnchor="end" className="lead halo">
        at {short(mark.x)} {item.xUnit}
      </text>
      <text x={right - 4} y={readAt} textAnchor="end" className="reads halo">
        {short(y, 4)}
        <tspan className="pm" dx={5}>
          {unit}
        </tspan>
      </text>
    </g>
  );
}

/** The picture in a sentence, for those who hear it. */
export function describe(item: ChartItem): string {
  const parts = item.series.map((s) => {
    const finite = s.points.filter((p) => Number.isFinite(p.y));
    if (finite.length === 0) return `${s.label}: no points`;
    const low = finite.reduce((a, b) => (b.y < a.y ? b : a));
    const high = finite.reduce((a, b) => (b.y > a.y ? b : a));
    const unit = s.unit === "" ? "" : ` ${s.unit}`;
    return `${s.label}: ${finite.length} points from ${short(low.y)} to ${short(high.y)}${unit}`;
  });
  const mark = item.mark === undefined ? "" : ` ${item.mark.text}.`;
  return `${item.title}. ${item.xLabel} across. ${parts.join("; ")}.${mark}`;
}
