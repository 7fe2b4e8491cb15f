import { along, axisFor, axisWithin, dayText, tickText } from "../state/axis";
import { short } from "../view/Chart";
import type { TrialSeries } from "./trials";

const HEIGHT = 260;
const LEFT = 56;
const RIGHT = 64;
const TOP = 16;
const BOTTOM = 44;

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
  const right = width - RIGHT;
  const bottom = HEIGHT - BOTTOM;
  // A run without a day would have no place on an axis of days.
  const byDay = points.every((p) => p.trial.day !== undefined);
  const xs = points.map((p, i) => (byDay ? p.trial.day! : i));
  const band = mean === undefined || deviation === undefined ? [] : [mean - deviation, mean + deviation];
  const y = axisFor([...points.flatMap((p) => [p.y - (p.spread ?? 0), p.y + (p.spread ?? 0)]), ...band], 5);
  const x = byDay
    ? axisWithin(Math.min(...xs) - 1, Math.max(...xs) + 1, narrow ? 2 : 5)
    : axisWithin(-0.5, points.length - 0.5, 1);
  const px = (value: number) => along(x, value, LEFT, right);
  const py = (value: number) => along(y, value, bottom, TOP);
  const ticks = byDay
    ? x.ticks.filter((t) => t !== x.low && t !== x.high).map((t) => ({ at: t, text: dayText(t) }))
    : points.map((p, i) => ({ at: i, text: p.trial.name }));
  const every = Math.max(1, Math.ceil((ticks.length * 78) / Math.max(1, right - LEFT)));
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
          x={LEFT}
          width={right - LEFT}
          y={py(band[1]!)}
          height={py(band[0]!) - py(band[1]!)}
        />
      )}
      <g className="grid-rule">
        {y.ticks.map((t) => (
          <path key={t} d={`M${LEFT} ${py(t)}H${right}`} />
        ))}
      </g>
      <path className="axis" d={`M${LEFT} ${bottom}H${right}`} />
      <g textAnchor="end">
        {y.ticks.map((t, i) => (
          <text key={t} x={LEFT - 8} y={py(t) + 4}>
            {tickText(y, t)}
            {i === y.ticks.length - 1 && series.unit !== "" ? ` ${series.unit}` : ""}
          </text>
        ))}
      </g>
      <path className="axis" d={ticks.map((t) => `M${px(t.at)} ${bottom}v5`).join("")} />
      <g textAnchor="middle">
        {ticks.map((t, i) => (
          <text key={t.at} x={px(t.at)} y={bottom + 20}>
            {i % every === 0 ? t.text : ""}
          </text>
        ))}
      </g>
      {mean === undefined ? null : (
        <>
          <path className="curve second" d={`M${LEFT} ${py(mean)}H${right}`} />
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
            {p.spread === undefined ? null : (
              <path className="whisker" d={`M${cx} ${py(p.y + p.spread)}V${py(p.y - p.spread)}`} />
            )}
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
