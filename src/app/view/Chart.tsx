import { type ReactNode, useRef } from "react";
import type { ChartItem } from "../../engine";
import { elementId, type Placed } from "../state/items";
import { itemPlace } from "../state/place";
import { Fetched } from "./Fetched";
import { FieldText, Headline } from "./Headline";
import { Mark } from "./Mark";
import { Prose } from "./Prose";
import { parcel } from "./parcel";
import { useWidth } from "./useWidth";

const pictures = parcel("The picture", () => import("./Picture"));

/** About the room that a picture will take, so that little moves when it comes. */
const room = ({ style, series }: ChartItem, words: ReactNode) => (
  <div style={{ minHeight: style === "bars" ? `${2.5 + 1.9 * series[0]!.points.length}rem` : "20rem" }}>
    {words}
  </div>
);

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
          {empty || width === 0 ? null : (
            <Fetched of={pictures} says="The picture is on its way" frame={(words) => room(item, words)}>
              {({ Picture }) => <Picture item={item} width={width} onMark={onMark} />}
            </Fetched>
          )}
        </div>
      </figure>
    </section>
  );
}
