import type { ChartItem } from "../../engine";
import { describe } from "./PlotPicture";
import { alike, measured } from "./short";

/** Lying bars with their names at the left and their numbers at the right. Several series stand under each other. */
export function BarsPicture({ item }: { item: ChartItem }) {
  const all = item.series.flatMap((s) => s.points.map((p) => p.y)).filter(Number.isFinite);
  const low = Math.min(0, ...all);
  const high = Math.max(0, ...all);
  const width = high - low || 1;
  const zero = (-low / width) * 100;
  const names = item.series[0]?.points ?? [];
  const written = item.series.map((s) => alike(s.points.map((p) => p.y)));
  return (
    <div className="bars" role="img" aria-label={describe(item)}>
      {names.map((name, i) => (
        <div className="row" key={i}>
          <span>{name.name}</span>
          <span>
            {item.series.map((series, s) => {
              const y = series.points[i]?.y ?? 0;
              const length = (Math.abs(y) / width) * 100;
              return (
                <span className="track" key={series.label}>
                  <i
                    className={`bar${s > 0 ? " second" : ""}${y < 0 ? " below-zero" : ""}`}
                    style={{ width: `${length}%`, left: `${y < 0 ? zero - length : zero}%` }}
                  />
                </span>
              );
            })}
          </span>
          <span>
            {item.series.map((series, s) => {
              const point = series.points[i];
              return (
                <span className="q" key={series.label} style={{ display: "block" }}>
                  {point && <PointNumber y={point.y} spread={point.spread} written={written[s]!} />}
                  {series.unit === "" ? null : <span className="u"> {series.unit}</span>}
                  {item.series.length > 1 ? <span className="u"> {series.label}</span> : null}
                </span>
              );
            })}
          </span>
        </div>
      ))}
    </div>
  );
}

interface PointNumberProps {
  readonly y: number;
  readonly spread: number | undefined;
  /** How the numbers of its series are written. */
  readonly written: (y: number) => string;
}

function PointNumber({ y, spread, written }: PointNumberProps) {
  if (spread === undefined) return written(y);
  const told = measured(y, spread);
  return (
    <>
      {told.number}
      <span className="pm"> ± {told.spread}</span>
    </>
  );
}
