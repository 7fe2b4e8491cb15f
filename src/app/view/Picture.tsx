import type { ChartItem, ChartSeries } from "../../engine";
import { dayText } from "../state/axis";
import { BarsPicture } from "./BarsPicture";
import { PlotPicture } from "./PlotPicture";
import { alike, measured, short } from "./short";

/** What a chart draws, and its numbers in a table behind it. */
export function Picture({
  item,
  width,
  onMark,
}: {
  item: ChartItem;
  width: number;
  onMark?: ((x: number) => void) | undefined;
}) {
  return (
    <>
      {item.style === "bars" ? (
        <BarsPicture item={item} />
      ) : (
        <PlotPicture item={item} width={width} onMark={onMark} />
      )}
      <Numbers item={item} />
    </>
  );
}

/** The points as a table, for those who cannot see the picture and those who want the figures. */
function Numbers({ item }: { item: ChartItem }) {
  const names = item.series[0]!.points;
  const written = item.series.map((s) => alike(s.points.map((p) => p.y)));
  const withUnit = (label: string, unit: string) => (unit === "" ? label : `${label} (${unit})`);
  return (
    <details className="numbers">
      <summary>The numbers</summary>
      <div tabIndex={0} role="region" aria-label={`the numbers of ${item.title}`}>
        <table>
          <thead>
            <tr>
              <th scope="col">{withUnit(item.xLabel, item.xHolds === "quantities" ? item.xUnit : "")}</th>
              {item.series.map((s) => (
                <th scope="col" key={s.label}>
                  {withUnit(s.label, s.unit)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {names.map((point, i) => (
              <tr key={i}>
                <th scope="row">{xText(item, point.x, point.name)}</th>
                {item.series.map((s, k) => (
                  <td key={s.label}>{yText(s, i, written[k]!)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}

const xText = (item: ChartItem, x: number, name: string): string =>
  item.xHolds === "names" ? name : item.xHolds === "dates" ? dayText(x) : short(x);

function yText(series: ChartSeries, i: number, written: (y: number) => string): string {
  const point = series.points[i];
  if (point === undefined) return "";
  if (point.spread === undefined) return written(point.y);
  const { number, spread } = measured(point.y, point.spread);
  return `${number} ± ${spread}`;
}
