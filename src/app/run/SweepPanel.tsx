import { useId, useMemo, useRef, useState } from "react";
import type { Book, ValueItem } from "../../engine";
import { quickSweep, withStatement } from "../reckoning/sweeping";
import { useReckoned } from "../reckoning/useReckoned";
import { Working } from "../reckoning/Working";
import { itemAt } from "../state/items";
import { useStore } from "../state/store";
import { Amount } from "../view/Amount";
import { BarsPicture } from "../view/BarsPicture";
import { Mark } from "../view/Mark";
import { PlotPicture } from "../view/PlotPicture";
import { useWidth } from "../view/useWidth";
import { useNotebook } from "../view/workbench";
import { dependentResults, type SweepPicture } from "./sweeps";
import { useDialog } from "./useDialog";
import "./run.css";

/** A result over the range of a value, the present setting marked, and the figures behind it. */
export default function SweepPanel({ id, onClose }: { id: string; onClose: () => void }) {
  const dialog = useDialog();
  const headId = useId();
  const book = useStore(useNotebook(), (s) => s.book);
  const item = itemAt(book, id)?.item;
  const name = item?.type === "value" ? item.name : "the value";
  return (
    <dialog
      ref={dialog}
      className="run-box wide"
      aria-labelledby={headId}
      onClose={onClose}
      onKeyDown={(event) => event.stopPropagation()}
      onClick={(event) => event.stopPropagation()}
    >
      <header>
        <h2 id={headId}>Sweep {name}</h2>
        <button type="button" className="act framed" onClick={onClose}>
          Close
        </button>
      </header>
      {item?.type === "value" ? (
        <Sweeping book={book} item={item} />
      ) : (
        <p>The value is not in the book any more.</p>
      )}
    </dialog>
  );
}

function Sweeping({ book, item }: { book: Book; item: ValueItem }) {
  const results = useMemo(() => dependentResults(book, item.name), [book, item.name]);
  const [path, setPath] = useState<string>();
  const result = results.find((r) => r.path === path) ?? results[0];
  const quick = useMemo(
    () => (result === undefined ? undefined : quickSweep(book, item, result)),
    [book, item, result],
  );
  const slow = useReckoned(
    result === undefined || quick !== undefined
      ? undefined
      : ({ do: "sweep", text: book.text, name: item.name, result } as const),
  );
  if (result === undefined) return <p>No number of the book depends on {item.name} yet.</p>;
  const swept =
    quick ?? (slow.is?.state === "done" ? withStatement(slow.is.result, item.statement) : undefined);
  return (
    <>
      <div className="choices-of">
        <label>
          result
          <select value={result.path} onChange={(e) => setPath(e.currentTarget.value)}>
            {results.map((r) => (
              <option key={r.path} value={r.path}>
                {r.label}
              </option>
            ))}
          </select>
        </label>
      </div>
      <Working is={slow.is} says={`Sweeping ${item.name}`} onStop={slow.stop} onAgain={slow.again} />
      {swept?.says === undefined ? null : (
        <p className="says">
          <Mark name="unknown" />
          <span>{swept.says}</span>
        </p>
      )}
      {swept !== undefined && "rows" in swept ? (
        <Swept swept={swept} item={item} label={result.label} />
      ) : null}
    </>
  );
}

function Swept({ swept, item, label }: { swept: SweepPicture; item: ValueItem; label: string }) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const { chart, rows } = swept;
  const drawn = chart.series[0]!.points.some((p) => Number.isFinite(p.y));
  return (
    <>
      <figure className="chart">
        <div ref={box}>
          {!drawn ? null : chart.style === "bars" ? (
            <BarsPicture item={chart} />
          ) : width > 0 ? (
            <PlotPicture item={chart} width={width} />
          ) : null}
        </div>
      </figure>
      <details className="numbers">
        <summary>The numbers</summary>
        <div tabIndex={0} role="region" aria-label={`the numbers of ${label} over ${item.name}`}>
          <table>
            <thead>
              <tr>
                <th scope="col">{item.name}</th>
                <th scope="col">{label}</th>
                <th scope="col">setting</th>
              </tr>
            </thead>
            <tbody>
              {rows.map(({ input, outcome, here }) => (
                <tr key={input.text}>
                  <th scope="row">{input.text}</th>
                  <td>
                    {outcome.state === "ok" ? <Amount shown={outcome} /> : (outcome.message ?? "no result")}
                  </td>
                  <td>{here ? "as it is now" : ""}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      </details>
    </>
  );
}
