import { axisFor, axisWithin, dayAxis, dayText } from "../state/axis";
import { Axes, plotIn, thinned, Whisker } from "../view/Plot";
import { short } from "../view/short";
import type { TrialSeries } from "./trials";

const HEIGHT = 256;
/** Room for the word at the end of the line of the mean. */
const RIGHT = 64;

/** A column over the runs: a point for each, the mean as a line, one standard deviation as a band; two runs marked. */
export function TrialsPicture({
  series,
  width,
  marked,
}: {
  series: TrialSeries;
  width: number;
  marked: readonly number[];
}) {
  const { points, mean, deviation } = series;
  const narrow = width < 480;
  // A run without a day would have no place on an axis of days.
  const byDay = points.every((p) => p.trial.day !== undefined);
  const xs = points.map((p, i) => (byDay ? p.trial.day! : i));
  const band = mean === undefined || deviation === undefined ? [] : [mean - deviation, mean + deviation];
  const y = axisFor([...points.flatMap((p) => [p.y - (p.spread ?? 0), p.y + (p.spread ?? 0)]), ...band], 5);
  const x = byDay ? dayAxis(xs, narrow ? 2 : 5) : axisWithin(-0.5, points.length - 0.5, 1);
  const plot = plotIn(width, HEIGHT, RIGHT, x, y);
  const { left, right, px, py } = plot;
  const ticks = byDay
    ? x.ticks.map((t) => ({ at: t, text: dayText(t) }))
    : points.map((p, i) => ({ at: i, text: p.trial.name }));
  return (
    <svg
      width={width}
      height={HEIGHT}
      viewBox={`0 0 ${width} ${HEIGHT}`}
      role="img"
      aria-label={describe(series)}
    >
      {band.length === 0 ? null : (
        <rect
          className="band"
          x={left}
          width={right - left}
          y={py(band[1]!)}
          height={py(band[0]!) - py(band[1]!)}
        />
      )}
      <Axes plot={plot} ticks={thinned(ticks, plot)} yUnit={series.unit} />
      {mean === undefined ? null : (
        <>
          <path className="curve second" d={`M${left} ${py(mean)}H${right}`} />
          <text className="halo" x={right + 8} y={py(mean) + 4}>
            mean
          </text>
        </>
      )}
      {points.map((p, i) => {
        const cx = px(xs[i]!);
        const cy = py(p.y);
        const here = marked.includes(p.trial.row);
        return (
          <g key={p.trial.row}>
            <Whisker plot={plot} x={cx} y={p.y} spread={p.spread} />
            {here ? <circle className="ring" cx={cx} cy={cy} r={9} /> : null}
            <circle className={here ? "ring-dot" : "point"} cx={cx} cy={cy} r={here ? 3.5 : 4.5} />
            {here ? (
              <text className="strong halo" x={cx} y={cy - 14} textAnchor="middle">
                {p.trial.name}
              </text>
            ) : null}
          </g>
        );
      })}
    </svg>
  );
}

/** The picture in a sentence, for those who hear it. */
function describe(series: TrialSeries): string {
  const ys = series.points.map((p) => p.y);
  if (ys.length === 0) return `${series.label}: no finished run.`;
  const unit = series.unit === "" ? "" : ` ${series.unit}`;
  return `${series.label} of ${ys.length} runs, from ${short(Math.min(...ys))} to ${short(Math.max(...ys))}${unit}. ${series.says}`;
}
