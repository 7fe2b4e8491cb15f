import "../../../grammar/alterations-here";
import "../../engine/questions-here";
import { type KeyboardEvent, useEffect, useId, useMemo, useRef, useState } from "react";
import { writeName, writePart } from "../../../grammar";
import type { Book, Explanation, Shown, TableItem } from "../../engine";
import "../../vocabulary/prose-here";
import { itemAt } from "../state/items";
import { placeOfPath } from "../state/path-places";
import { nextUnread, progressOf, type Review, reviewOf, type Stop, tick, untick } from "../state/review";
import { Amount } from "../view/Amount";
import { apply } from "../view/commands";
import { Mark, type MarkName } from "../view/Mark";
import { Prose } from "../view/Prose";
import { SideSheet } from "../view/SideSheet";
import { useNotebook } from "../view/workbench";
import "./review.css";

const stateWords = {
  open: "not yet checked",
  checked: "checked",
  changed: "was checked, has changed since",
} as const;
const stateMarks: Readonly<Record<Stop["state"], MarkName>> = {
  open: "unknown",
  checked: "seen",
  changed: "stale",
};
const kindWords = {
  value: "value",
  function: "function of this book",
  column: "column, each row",
  cell: "one cell",
  foot: "foot of a column",
} as const;

/** The read-through: each formula of the book once, with its values filled in, to be ticked when it is right. */
export default function ReadThrough({ book }: { book: Book }) {
  const store = useNotebook();
  const review = useMemo(() => reviewOf(book), [book]);
  const [path, setPath] = useState(() => review.stops[Math.max(0, nextUnread(review, 0))]?.path);
  const found = review.stops.findIndex((stop) => stop.path === path);
  const at = Math.max(0, found);
  const stop = review.stops[at];
  const close = () => store.send({ type: "side", side: "none" });
  const walk = (to: number) => {
    const count = review.stops.length;
    setPath(review.stops[(to + count) % count]?.path);
  };
  const progress = progressOf(review);
  const left = review.stops.length - progress.of;
  return (
    <SideSheet label="Read-through" className="reading" title="Read-through" onClose={close}>
      {stop === undefined ? (
        <p className="source">This book has no formula yet. Typed numbers are read where they stand.</p>
      ) : (
        <>
          <p role="status" aria-atomic="true">
            {progress.checked} of {progress.of} checked
            {progress.changed === 0
              ? ""
              : progress.changed === 1
                ? "; 1 was checked and has changed since"
                : `; ${progress.changed} were checked and have changed since`}
          </p>
          <progress
            className="gauge"
            aria-label="formulas checked"
            value={progress.checked}
            max={Math.max(1, progress.of)}
          />
          <Reading
            key={stop.path}
            book={book}
            review={review}
            at={at}
            onWalk={walk}
            onTicked={() => {
              const next = nextUnread(reviewOf(store.get().book), at + 1);
              walk(next === -1 ? at : next);
            }}
          />
          <section>
            <h3>Every formula</h3>
            <ol className="stops">
              {review.stops.map((one, i) => (
                <li key={`${one.path} ${i}`}>
                  <button type="button" aria-current={i === at || undefined} onClick={() => walk(i)}>
                    <Mark name={stateMarks[one.state]} />
                    <span>{one.path}</span>
                    <span className="u">{stateWords[one.state]}</span>
                  </button>
                </li>
              ))}
            </ol>
            {left === 0 ? null : (
              <p className="source ask">
                {left === 1 ? "One formula stands" : `${left} formulas stand`} in a row to which no tick can
                point, and {left === 1 ? "does" : "do"} not count.
              </p>
            )}
          </section>
          <Lost review={review} />
        </>
      )}
    </SideSheet>
  );
}

interface ReadingProps {
  readonly book: Book;
  readonly review: Review;
  readonly at: number;
  readonly onWalk: (to: number) => void;
  readonly onTicked: () => void;
}

/** One formula: where it stands, what it says with its values, and the tick. */
function Reading({ book, review, at, onWalk, onTicked }: ReadingProps) {
  const store = useNotebook();
  const stop = review.stops[at]!;
  const id = useId();
  const box = useRef<HTMLElement>(null);
  const [note, setNote] = useState(stop.note ?? "");
  const [row, setRow] = useState(0);
  const table = stop.kind === "column" ? tableOf(book, stop.key) : undefined;
  const asked = table === undefined || table.rowCount === 0 ? stop.path : pathInRow(table, stop, row);
  const why = useMemo(() => book.why(asked), [book, asked]);

  useEffect(() => {
    // The place on the page comes into view, the keyboard stays here.
    const place = placeOfPath(store.get().book, stop.path);
    if (place !== undefined) {
      store.send({ type: "go", place: place.place, focus: false });
      document.getElementById(place.id)?.scrollIntoView({ block: "nearest" });
    }
    box.current?.focus({ preventScroll: true });
  }, [stop.path, store]);

  const check = () => {
    const before = store.get().book;
    const edit = tick(before, stop, note);
    apply(store, edit);
    if (!("refused" in edit)) onTicked();
  };
  const keys = (event: KeyboardEvent) => {
    if (event.target !== box.current) return;
    if (event.key === "Enter") check();
    else if (event.key === "ArrowRight" || event.key === "ArrowDown") onWalk(at + 1);
    else if (event.key === "ArrowLeft" || event.key === "ArrowUp") onWalk(at - 1);
    else return;
    event.preventDefault();
  };
  return (
    <section
      ref={box}
      className="stop"
      tabIndex={-1}
      aria-label={`Formula ${at + 1} of ${review.stops.length}: ${stop.path}, ${kindWords[stop.kind]}, ${stateWords[stop.state]}`}
      onKeyDown={keys}
    >
      <p className="ask">
        {at + 1} of {review.stops.length}, {kindWords[stop.kind]}
      </p>
      <p className="stop-name">{stop.path}</p>
      <p className="stop-state">
        <Mark name={stateMarks[stop.state]} />
        {stateWords[stop.state]}
      </p>
      {stop.state === "open" || !stop.note ? null : <p className="source">“{stop.note}”</p>}
      <p>
        <code>{stop.formula}</code>
      </p>
      {why === undefined ? null : (
        <Filled why={why} formula={stop.formula} whole={stop.kind === "column" && table?.rowCount === 0} />
      )}
      {table === undefined || table.rowCount < 2 ? null : (
        <p className="stop-rows">
          <span className="u">
            worked for {table.rowName(row) || `row ${row + 1}`}, row {row + 1} of {table.rowCount}
          </span>
          <button type="button" className="act" onClick={() => setRow((row + 1) % table.rowCount)}>
            Another row
          </button>
        </p>
      )}
      {stop.kind === "value" ? <Parts book={book} stop={stop} /> : null}
      {stop.untickable === undefined ? (
        <>
          <label htmlFor={id}>Note, if there is one</label>
          <input
            id={id}
            className="search"
            value={note}
            autoComplete="off"
            onChange={(event) => setNote(event.currentTarget.value)}
            onKeyDown={(event) => {
              if (event.key !== "Enter" || event.nativeEvent.isComposing) return;
              event.preventDefault();
              check();
            }}
          />
        </>
      ) : (
        <p className="slip gap">{stop.untickable}</p>
      )}
      <p className="fixes">
        {stop.untickable === undefined ? (
          <button type="button" className="act main" onClick={check}>
            {stop.state === "checked" ? "Checked again" : "Checked"}
          </button>
        ) : null}
        <button type="button" className="act framed" onClick={() => onWalk(at - 1)}>
          Back
        </button>
        <button type="button" className="act framed" onClick={() => onWalk(at + 1)}>
          Next
        </button>
        {stop.state === "open" ? null : (
          <button
            type="button"
            className="act"
            onClick={() => {
              apply(store, untick(store.get().book, stop.path));
              box.current?.focus({ preventScroll: true });
            }}
          >
            Take the tick away
          </button>
        )}
      </p>
      <p className="u keys-hint">
        <span className="key">Enter</span> checks it and goes on, <span className="key">→</span> and{" "}
        <span className="key">←</span> walk.
      </p>
    </section>
  );
}

/** The formula with its values, and what it comes to. */
function Filled({ why, formula, whole }: { why: Explanation; formula: string; whole: boolean }) {
  const { shown } = why;
  return (
    <>
      {why.filled === "" || why.filled === formula ? null : <p className="stop-filled">{why.filled}</p>}
      {shown.message !== undefined ? (
        <p>
          <Prose text={shown.message} />
        </p>
      ) : whole || shown.value.type === "record" || shown.value.type === "list" ? null : (
        <p className="stop-answer">
          <span className="ask" aria-hidden="true">
            ={" "}
          </span>
          <Amount shown={shown} />
        </p>
      )}
      {why.functions.map((f) => (
        <p className="source" key={f.name}>
          <code>{f.name}</code> <Prose text={f.says} />
        </p>
      ))}
    </>
  );
}

/** What a result with parts comes to, a line each. */
function Parts({ book, stop }: { book: Book; stop: Stop }) {
  const item = itemAt(book, stop.key)?.item;
  const parts: readonly Shown[] = item?.type === "value" ? item.parts : [];
  if (parts.length === 0) return null;
  return (
    <dl className="stop-parts">
      {parts.slice(0, MOST_PARTS).map((part) => (
        <div key={part.path}>
          <dt>{part.label.replaceAll("_", " ")}</dt>
          <dd>
            <Amount shown={part} />
          </dd>
        </div>
      ))}
    </dl>
  );
}
const MOST_PARTS = 40;

/** Ticks on what is not in the book any more: they stay in the text until somebody lets them go. */
function Lost({ review }: { review: Review }) {
  const store = useNotebook();
  if (review.lost.length === 0) return null;
  return (
    <section>
      <h3>Ticks on what is gone</h3>
      {review.lost.map((one) => (
        <p className="stop-rows" key={`${one.path} ${one.mark}`}>
          <span>
            <code>{one.path}</code> {one.text}
          </span>
          <button
            type="button"
            className="act"
            onClick={() => apply(store, untick(store.get().book, one.path))}
          >
            Let it go<span className="unseen">: {one.path}</span>
          </button>
        </p>
      ))}
    </section>
  );
}

function tableOf(book: Book, key: string): TableItem | undefined {
  const item = itemAt(book, key)?.item;
  return item?.type === "table" ? item : undefined;
}

/** The path of a column's cell in a row. */
function pathInRow(table: TableItem, stop: Stop, row: number): string {
  const own = writeName(table.name);
  const column = table.columns.findIndex((c) => `${own}.${writePart(c.name)}` === stop.path);
  return column < 0 ? stop.path : table.cell(Math.min(row, table.rowCount - 1), column).path;
}
