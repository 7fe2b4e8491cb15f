import { useId, useMemo, useRef, useState } from "react";
import type { Book, Shown, TableItem } from "../../engine";
import { tableAt } from "../state/items";
import { useStore } from "../state/store";
import { Amount } from "../view/Amount";
import { useWidth } from "../view/useWidth";
import { useNotebook } from "../view/workbench";
import { judgedColumns } from "./gathering";
import { TrialsPicture } from "./TrialsPicture";
import {
  bestTrial,
  type Change,
  compareTrials,
  firstColumn,
  seriesOf,
  type Trial,
  type TrialComparison,
  trialsOf,
} from "./trials";
import { useDialog } from "./useDialog";
import { titleOf } from "./writes";
import "./run.css";

/** Two runs side by side, the last against the one before and against the best, and all of them over their days. */
export default function TrialsPanel({ id, onClose }: { id: string; onClose: () => void }) {
  const dialog = useDialog();
  const book = useStore(useNotebook(), (s) => s.book);
  const table = tableAt(book, id);
  const headId = useId();
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
        <h2 id={headId}>Compare the runs of {table === undefined ? "the table" : titleOf(table)}</h2>
        <button type="button" className="act framed" onClick={onClose}>
          Close
        </button>
      </header>
      {table === undefined ? (
        <p>The table is not in the book any more.</p>
      ) : (
        <Comparing book={book} table={table} />
      )}
    </dialog>
  );
}

function Comparing({ book, table }: { book: Book; table: TableItem }) {
  const [column, setColumn] = useState(() => firstColumn(book, table) ?? 0);
  const [best, setBest] = useState<"highest" | "lowest">("highest");
  const [chosen, setChosen] = useState<{ readonly newer?: number; readonly older?: number }>({});
  const trials = useMemo(() => trialsOf(table, column), [table, column]);
  const at = (row: number | undefined) => trials.findIndex((t) => t.row === row);
  const newerAt = at(chosen.newer) < 0 ? trials.length - 1 : at(chosen.newer);
  const newer = trials[newerAt];
  const before = at(chosen.older) < 0 ? trials[newerAt - 1] : trials[at(chosen.older)];
  const top = bestTrial(table, trials, column, best);
  const name = table.columns[column]?.name ?? "";
  return (
    <>
      <div className="choices-of">
        <label>
          judged by
          <select value={column} onChange={(e) => setColumn(Number(e.currentTarget.value))}>
            {judgedColumns(table).map((i) => (
              <option key={i} value={i}>
                {table.columns[i]!.name}
              </option>
            ))}
          </select>
        </label>
        <label>
          best is
          <select value={best} onChange={(e) => setBest(e.currentTarget.value as typeof best)}>
            <option value="highest">the highest</option>
            <option value="lowest">the lowest</option>
          </select>
        </label>
        <Chooser
          word="run"
          trials={trials}
          row={newer?.row}
          onChoose={(row) => setChosen({ ...chosen, newer: row })}
        />
        <Chooser
          word="against"
          trials={trials}
          row={before?.row}
          onChoose={(row) => setChosen({ ...chosen, older: row })}
        />
      </div>
      <Picture
        book={book}
        table={table}
        column={column}
        marked={[newer?.row, before?.row].filter((r) => r !== undefined)}
      />
      {newer === undefined ? (
        <p>No run has a value of {name} yet.</p>
      ) : before === undefined || before.row === newer.row ? (
        <p>
          {trials.length < 2
            ? `Only ${newer.name} has a value of ${name}; a comparison needs two.`
            : "Choose two different runs."}
        </p>
      ) : (
        <Pair
          book={book}
          table={table}
          judged={column}
          older={before}
          newer={newer}
          title={`${newer.name} against ${before.name}`}
        />
      )}
      {newer === undefined || top === undefined ? null : top.row === newer.row ? (
        <p>
          By {name}, {newer.name} is the best run itself.
        </p>
      ) : top.row === before?.row ? (
        <p>
          By {name}, {top.name} is also the best run.
        </p>
      ) : (
        <Pair
          book={book}
          table={table}
          judged={column}
          older={top}
          newer={newer}
          title={`${newer.name} against the best by ${name}, ${top.name}`}
        />
      )}
    </>
  );
}

function Chooser({
  word,
  trials,
  row,
  onChoose,
}: {
  word: string;
  trials: readonly Trial[];
  row: number | undefined;
  onChoose: (row: number) => void;
}) {
  return (
    <label>
      {word}
      <select
        value={row ?? ""}
        disabled={trials.length === 0}
        onChange={(e) => onChoose(Number(e.currentTarget.value))}
      >
        {row === undefined ? <option value="">none</option> : null}
        {[...trials].reverse().map((t) => (
          <option key={t.row} value={t.row}>
            {t.name}
          </option>
        ))}
      </select>
    </label>
  );
}

function Picture({
  book,
  table,
  column,
  marked,
}: {
  book: Book;
  table: TableItem;
  column: number;
  marked: readonly number[];
}) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const series = useMemo(() => seriesOf(book, table, column), [book, table, column]);
  return (
    <figure className="chart">
      <div ref={box}>
        {width > 0 && series.points.length > 0 ? (
          <TrialsPicture series={series} width={width} marked={marked} />
        ) : null}
      </div>
      <figcaption>{series.says}</figcaption>
    </figure>
  );
}

function Pair({
  book,
  table,
  judged,
  older,
  newer,
  title,
}: {
  book: Book;
  table: TableItem;
  /** The column the runs are judged by. */
  judged: number;
  older: Trial;
  newer: Trial;
  title: string;
}) {
  const headId = useId();
  const compared = useMemo(
    () => compareTrials(book, table, older, newer, judged),
    [book, table, older, newer, judged],
  );
  return (
    <div>
      <h3 id={headId}>{title}</h3>
      <p>{compared.says}</p>
      <div className="hold" tabIndex={0} role="region" aria-labelledby={headId}>
        <table className="pair" role="table">
          <thead role="rowgroup">
            <tr role="row">
              <th scope="col" role="columnheader">
                column
              </th>
              <th scope="col" role="columnheader">
                {older.name}
              </th>
              <th scope="col" role="columnheader">
                {newer.name}
              </th>
              <th scope="col" role="columnheader">
                difference
              </th>
            </tr>
          </thead>
          <Changes word="what was set" changes={compared.inputs} />
          <Changes word={`what goes into ${table.columns[judged]!.name}`} changes={compared.parts} />
          <Changes word="what was read" changes={compared.readings} />
          <Changes word="what is worked out" changes={compared.results} />
        </table>
      </div>
    </div>
  );
}

function Changes({ word, changes }: { word: string; changes: TrialComparison["inputs"] }) {
  if (changes.length === 0) return null;
  return (
    <tbody role="rowgroup">
      <tr role="row" className="group">
        <th scope="rowgroup" role="rowheader" colSpan={4}>
          {word}
        </th>
      </tr>
      {changes.map((change) => (
        <ChangeRow key={change.column.name} change={change} />
      ))}
    </tbody>
  );
}

function ChangeRow({ change: { column, older, newer, says, changed, judged } }: { change: Change }) {
  return (
    <tr role="row" className={changed ? "changed" : undefined}>
      <th scope="row" role="rowheader">
        {column.name}
      </th>
      <td role="cell">
        <Held shown={older} words={column.typed && column.holds === "text"} />
      </td>
      <td role="cell">
        <Held shown={newer} words={column.typed && column.holds === "text"} />
      </td>
      <td role="cell">
        {changed ? <b>{says}</b> : says}
        {judged === undefined ? null : <small>{judged}</small>}
      </td>
    </tr>
  );
}

/** A remark that was not made is no gap. */
const Held = ({ shown, words }: { shown: Shown; words: boolean }) =>
  words && shown.state === "gap" ? null : <Amount shown={shown} />;
