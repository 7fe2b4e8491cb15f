import { useRef } from "react";
import type { ChartItem, ChartSeries } from "../../engine";
import { dayText } from "../state/axis";
import { elementId, type Placed } from "../state/items";
import { itemPlace } from "../state/place";
import { BarsPicture } from "./BarsPicture";
import { FieldText, Headline } from "./Headline";
import { Mark } from "./Mark";
import { PlotPicture } from "./PlotPicture";
import { Prose } from "./Prose";
import { useWidth } from "./useWidth";

/** A picture of the book, with its words, and its numbers in a table behind it. */
export function Chart({
  placed: { key, item },
  onMark,
}: {
  placed: Placed<ChartItem>;
  onMark?: ((x: number) => void) | undefined;
}) {
  const headId = `${elementId(key)}-head`;
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const empty = item.series.every((s) => s.points.length === 0);
  return (
    <section className="part line" aria-labelledby={headId} id={elementId(key)}>
      <span className="in-margin" />
      <figure className="chart">
        <Headline
          id={headId}
          place={itemPlace(key, "title")}
          label={`title of the chart, ${item.title}`}
          title={item.title || "A chart"}
        >
          <FieldText place={itemPlace(key, "formula")} label={`chart, ${item.formula}`}>
            <code>{item.formula}</code>
          </FieldText>
        </Headline>
        <div ref={box}>
          {item.message === undefined ? null : (
            <div className={empty ? "slip fault" : "slip"} role="note">
              <Mark name={empty ? "fault" : "unknown"} />
              <p>
                <Prose text={item.message} />
              </p>
            </div>
          )}
          {empty ? null : item.style === "bars" ? (
            <BarsPicture item={item} />
          ) : width > 0 ? (
            <PlotPicture item={item} width={width} onMark={onMark} />
          ) : null}
          {empty ? null : <Numbers item={item} />}
        </div>
      </figure>
    </section>
  );
}

/** The points as a table, for those who cannot see the picture and those who want the figures. */
function Numbers({ item }: { item: ChartItem }) {
  const names = item.series[0]!.points;
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
                {item.series.map((s) => (
                  <td key={s.label}>{yText(s, i)}</td>
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

function yText(series: ChartSeries, i: number): string {
  const point = series.points[i];
  if (point === undefined) return "";
  return point.spread === undefined ? short(point.y) : `${short(point.y)} ± ${short(point.spread, 2)}`;
}

/** Five digits, as the language prints what is approximate; whole parts are never shortened. */
export const short = (x: number, digits = 5): string => {
  if (!Number.isFinite(x)) return "";
  const whole =
    Math.abs(x) >= 10 ** digits ? Math.round(x).toString() : Number(x.toPrecision(digits)).toString();
  return whole.replace("-", "−");
};
