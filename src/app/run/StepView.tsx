import { useMemo } from "react";
import type { Book } from "../../engine";
import { Amount } from "../view/Amount";
import { StepAmount } from "../view/Steps";
import { isTicking, waitState } from "./alarms";
import { readyBell } from "./bell";
import { ReadingField } from "./ReadingField";
import { clockText, elapsed, type Run, recordOf, typedFor } from "./run";
import { useRunSession } from "./session";
import type { BenchStep, Fact, Pour } from "./steps";
import { timeOfDay } from "./times";
import { useAwake } from "./useAwake";
import { useNow } from "./useNow";
import { effectsOf, writesOf } from "./writes";

/** One step: one sentence, one number, a few facts; then its clock and its readings. */
export function StepView({ book, run, step, of }: { book: Book; run: Run; step: BenchStep; of: number }) {
  const gauges = (step.wait === undefined ? 0 : 1) + step.asks.length;
  return (
    <>
      <section className="step" aria-labelledby="step">
        <p className="which">
          Step {step.number} of {of}
          {step.part === "" ? "" : `, ${step.part}`}
        </p>
        <h1 className="verb" id="step" tabIndex={-1} data-step={step.number}>
          {step.pieces.map((piece, i) =>
            typeof piece === "string" ? piece : <StepAmount key={`${piece.path}-${i}`} shown={piece} />,
          )}
        </h1>
        {step.main === undefined ? null : <Huge fact={step.main} />}
        {step.pours.length === 0 ? null : <Pours of={step.pours} />}
        {step.facts.length === 0 ? null : (
          <dl className="facts">
            {step.facts.map((fact) => (
              <div key={`${fact.label} ${fact.shown.path}`}>
                <dt>{fact.label}</dt>
                <dd>
                  <Amount shown={fact.shown} />
                </dd>
              </div>
            ))}
          </dl>
        )}
      </section>
      {gauges === 0 ? null : (
        <section className="gauges" aria-label={step.wait === undefined ? "Readings" : "Clock and readings"}>
          {step.wait === undefined ? null : <WaitClock run={run} step={step} />}
          {step.asks.map((ask) => (
            <ReadingField key={ask.path} book={book} ask={ask} typed={typedFor(run, ask.path)} />
          ))}
        </section>
      )}
      {step.asks.some((ask) => typedFor(run, ask.path) !== "") ? <Gives book={book} run={run} /> : null}
    </>
  );
}

function Huge({ fact: { label, shown } }: { fact: Fact }) {
  const spread = shown.spread === undefined ? "" : ` ± ${shown.spread}`;
  const chars = shown.number.length + (spread.length + shown.unit.length) * 0.45 + 0.5;
  return (
    <div className="main-fact" aria-hidden="true">
      <p className="huge" style={{ "--chars": chars } as React.CSSProperties}>
        {shown.number}
        {spread === "" ? null : <span className="pm">{spread}</span>}
        {shown.unit === "" ? null : <span className="u">{shown.unit}</span>}
      </p>
      {label === "" ? null : <p className="of">{label}</p>}
    </div>
  );
}

/** What is weighed or poured one after the other, each as large as they all fit. */
const Pours = ({ of }: { of: readonly Pour[] }) => (
  <ol className="pours" style={{ "--rows": of.length } as React.CSSProperties} aria-hidden="true">
    {of.map(({ label, number, spread, unit }, i) => (
      <li key={i}>
        <b>
          {number}
          {spread === undefined ? null : <span className="pm"> ± {spread}</span>}
          {unit === "" ? null : <span className="u"> {unit}</span>}
        </b>
        <span className="of">{label}</span>
      </li>
    ))}
  </ol>
);

/** The clock of a step. It keeps the moments at which it was started and held, so that it goes on through a reload. */
function WaitClock({ run, step }: { run: Run; step: BenchStep }) {
  const session = useRunSession();
  const now = useNow(isTicking(run));
  const timer = recordOf(run, step)?.timer;
  const planned = step.wait!.milliseconds;
  const { state, shown } = waitState(timer, planned, now);
  const awake = useAwake(state === "going");
  const act = (what: "start" | "pause" | "again", says: string) => () => {
    readyBell();
    session.act({ type: "timer", step, do: what, at: Date.now() });
    session.say(says);
  };
  const begun = timer?.since === undefined ? undefined : timer.since - timer.before;
  const overAt = begun === undefined || planned === undefined ? undefined : begun + planned;
  return (
    <div>
      <span className="cap" id="cap-clock">
        {planned === undefined
          ? "time"
          : state === "over"
            ? `planned ${step.wait!.text}, over by`
            : `time left, planned ${step.wait!.text}`}
      </span>
      <div
        className={`clock${state === "over" ? " over" : ""}`}
        role="timer"
        aria-live="off"
        aria-labelledby="cap-clock"
      >
        {clockText(shown)}
      </div>
      <div className="buttons">
        {state === "not begun" ? (
          <button type="button" className="act framed" onClick={act("start", "The clock goes.")}>
            Start the clock
          </button>
        ) : null}
        {state === "held" ? (
          <button type="button" className="act framed" onClick={act("start", "The clock goes on.")}>
            Go on
          </button>
        ) : null}
        {timer?.since !== undefined ? (
          <button
            type="button"
            className="act framed"
            onClick={act("pause", `The clock is held at ${clockText(elapsed(timer, Date.now()))}.`)}
          >
            {state === "over" ? "Stop" : "Pause"}
          </button>
        ) : null}
        {timer !== undefined ? (
          <button type="button" className="act" onClick={act("again", "The clock is set back.")}>
            Set back
          </button>
        ) : null}
      </div>
      <p className="says">
        {step.wait!.says !== undefined && planned === undefined ? (
          <span>{step.wait!.says} The clock counts up.</span>
        ) : begun !== undefined && overAt !== undefined ? (
          <span>
            {timer!.before === 0 ? `Started ${timeOfDay(begun)}, ` : ""}over at {timeOfDay(overAt)}.
            {state === "going" && !awake ? " Keep the screen on: a sleeping tablet may ring late." : ""}
          </span>
        ) : null}
      </p>
    </div>
  );
}

/** What the readings so far come to in the book. */
function Gives({ book, run }: { book: Book; run: Run }) {
  const parts = useMemo(() => {
    // A name is asked for at the end; it changes no number.
    const effects = effectsOf(
      book,
      writesOf(book, run.name.trim() === "" ? { ...run, name: "this run" } : run),
    );
    return {
      cells: effects.rows.flatMap((r) => r.cells).filter((c) => c.state === "ok" && c.text !== ""),
      checks: effects.checks.filter((c) => c.after.text !== ""),
    };
  }, [book, run]);
  if (parts.cells.length + parts.checks.length === 0) return null;
  return (
    <p className="gives">
      {parts.cells.length === 0 ? null : <span>So far this gives </span>}
      {parts.cells.map((cell, i) => (
        <span key={cell.path}>
          {i === 0 ? "" : ", "}
          {cell.label} <Amount shown={cell} />
        </span>
      ))}
      {parts.cells.length === 0 ? null : ". "}
      {parts.checks.map(({ after }) => (
        <span key={after.formula}>
          {after.text}:{" "}
          {after.state === "met" ? "met" : after.state === "unmet" ? "not met" : "not yet known"}.{" "}
        </span>
      ))}
    </p>
  );
}
