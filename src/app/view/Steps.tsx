import { Fragment } from "react";
import type { Book, Shown, StepItem } from "../../engine";
import { nameBefore } from "../../engine/items";
import { type CardDocument, type CardEntry, cardDocument, entriesOf } from "../../exchange/card";
import { elementId, type Placed } from "../state/items";
import { itemPlace } from "../state/place";
import { FieldText } from "./Headline";
import { Mark } from "./Mark";

interface StepsProps {
  readonly book: Book;
  readonly id: string;
  readonly steps: readonly Placed<StepItem>[];
  /** The last steps of the book: the cautions stand below them. */
  readonly last: boolean;
  readonly onPrint: () => void;
}

/** A run of steps, as the bench card shows them. */
export function Steps({ book, id, steps, last, onPrint }: StepsProps) {
  const headId = `${elementId(id)}-head`;
  return (
    <section className="part line" aria-labelledby={headId} id={elementId(id)}>
      <span className="in-margin" />
      <div>
        <div className="headline">
          <h2 id={headId}>Bench card</h2>
          <button type="button" className="act framed" onClick={onPrint}>
            Print card
          </button>
        </div>
        <div className="card">
          <ol className="steps">
            {steps.map(({ key, item }) => (
              <li key={key} id={key === id ? undefined : elementId(key)} value={item.number}>
                <span className="count" aria-hidden="true">
                  {item.number}
                </span>
                <div>
                  <FieldText place={itemPlace(key, "text")} label={`step ${item.number}: ${item.text}`}>
                    {item.pieces.map((piece, i) =>
                      typeof piece === "string" ? (
                        piece
                      ) : (
                        <StepAmount key={`${piece.path}-${i}`} shown={piece} />
                      ),
                    )}
                  </FieldText>
                  <Readings id={key} item={item} />
                </div>
              </li>
            ))}
          </ol>
          {last ? <Mind card={cardDocument(book)} /> : null}
        </div>
      </div>
    </section>
  );
}

/** A live amount inside a sentence; a blank rule where there is none yet. */
export function StepAmount({ shown }: { shown: Shown }) {
  if (shown.state !== "ok") {
    return (
      <b title={shown.message}>
        <Mark name={shown.state === "gap" ? "gap" : "fault"} says={shown.message ?? shown.state} /> ______
        {shown.unit === "" ? null : <span className="u"> {shown.unit}</span>}
      </b>
    );
  }
  const entries = entriesOf(shown.value);
  if (entries !== undefined) return <Each of={entries} />;
  if (shown.value.type !== "quantity") return <b>{shown.text}</b>;
  return (
    <b>
      {shown.number}
      {shown.spread === undefined ? null : <span className="pm"> ± {shown.spread}</span>}
      {shown.unit === "" ? null : <span className="u"> {shown.unit}</span>}
    </b>
  );
}

/** Entries of a list in a sentence, each with the name of its row. */
export const Each = ({ of }: { of: readonly CardEntry[] }) =>
  of.map(({ name, text }, i) => (
    <Fragment key={i}>
      {i === 0 ? "" : ", "}
      {nameBefore(name)}
      <b>{text}</b>
    </Fragment>
  ));

function Readings({ id, item }: { id: string; item: StepItem }) {
  if (item.wait === undefined && item.asks.length === 0) return null;
  return (
    <FieldText
      place={itemPlace(id, "clauses")}
      label={`wait and readings of step ${item.number}`}
      className="readings-of"
      stop={false}
    >
      <span className="readings">
        {item.wait === undefined ? null : <span>wait {item.wait.text || "______"}</span>}
        {item.asks.map((ask) => (
          <span className="blank" key={ask.path}>
            {ask.path.replaceAll("`", "").split(".").at(-1)}
            {ask.unit === "" ? null : <span className="u">{ask.unit}</span>}
          </span>
        ))}
      </span>
    </FieldText>
  );
}

/** The cautions, in a box that needs no colour. */
export function Mind({ card: { cautions, concerns } }: { card: CardDocument }) {
  return (
    <div className="mind">
      <h3>Mind</h3>
      {cautions.map((caution, i) => (
        <p key={caution} className={i === cautions.length - 1 ? "last" : undefined}>
          {caution}
          {concerns[i] ? <small> ({concerns[i]})</small> : null}
        </p>
      ))}
    </div>
  );
}
