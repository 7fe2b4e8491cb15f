import { type CSSProperties, useEffect, useMemo, useRef, useState } from "react";
import { cardDocument } from "../../exchange/card";
import { useStore } from "../state/store";
import { Mark } from "../view/Mark";
import { useNotebook } from "../view/workbench";
import { isTicking, waitState } from "./alarms";
import { FinishGo, FinishView } from "./FinishView";
import { clockText, type Run, recordOf } from "./run";
import { StepGo } from "./StepGo";
import { StepView } from "./StepView";
import { type KeptRunState, useRunSession, useSession } from "./session";
import type { BenchStep } from "./steps";
import { timeOfDay } from "./times";
import { toldSteps } from "./told";
import { useDialog } from "./useDialog";
import { useNow } from "./useNow";
import { WarmClock, warmClockCalled } from "./WarmClock";
import "./run.css";

/** The run: one step at a time, large, for wet hands at arm's length. */
export function RunView() {
  const session = useRunSession();
  const store = useNotebook();
  const book = useStore(store, (s) => s.book);
  const run = useSession((s) => s.run)!;
  const kept = useSession((s) => s.kept);
  const theirs = useSession((s) => s.theirs);
  const said = useSession((s) => s.said);
  const { readings } = run;
  // biome-ignore lint/correctness/useExhaustiveDependencies: of a run, the steps follow its readings alone
  const steps = useMemo(() => toldSteps(book, run), [book, readings]);
  const at = Math.min(run.at, steps.length + 1);
  const step = steps[at - 1];
  const [asking, setAsking] = useState<"steps" | "stop">();
  const title = book.title === "" ? "Untitled" : book.title;
  const heading = step === undefined ? "The end of the run" : `Step ${at} of ${steps.length}`;
  useEffect(() => {
    document.title = `${heading} · ${title} · Invacuo`;
  }, [heading, title]);
  // Arriving at a step, by whatever way, puts the keyboard and the reader at its sentence.
  const main = useRef<HTMLElement>(null);
  useEffect(() => {
    main.current?.querySelector<HTMLElement>(`[data-step="${at}"]`)?.focus({ preventScroll: true });
    scrollTo(0, 0);
  }, [at]);
  const go = (to: number) => {
    setAsking(undefined);
    session.act({ type: "go", to });
    session.say(to > steps.length ? "The end of the run." : `Step ${to} of ${steps.length}.`);
  };

  return (
    <div className="run">
      <Measure run={run} steps={steps} at={at} onGo={go} />
      <main ref={main}>
        <div className="top">
          <span>
            {title}
            <small>
              <KeptWords kept={kept} />
            </small>
          </span>
          <span className="doors">
            <button type="button" className="act" onClick={() => setAsking("steps")}>
              All steps
            </button>
            <button type="button" className="act" onClick={() => session.show(false)}>
              Whole book
            </button>
            <button type="button" className="act" onClick={() => setAsking("stop")}>
              Stop the run
            </button>
          </span>
        </div>
        {theirs === undefined ? null : <OtherTab />}
        <Clocks run={run} steps={steps} at={at} onGo={go} />
        {step === undefined ? (
          <FinishView book={book} run={run} />
        ) : (
          <StepView key={step.key} book={book} run={run} step={step} of={steps.length} />
        )}
        {warmClockCalled(book) ? <WarmClock book={book} run={run} /> : null}
        <Cautions at={at} />
        {step === undefined ? (
          <FinishGo book={book} run={run} />
        ) : (
          <StepGo key={`go ${step.key}`} book={book} run={run} step={step} of={steps.length} onGo={go} />
        )}
        <p className="unseen" role="status" aria-live="polite">
          {said}
        </p>
      </main>
      {asking === "steps" ? (
        <AllSteps run={run} steps={steps} at={at} onGo={go} onClose={() => setAsking(undefined)} />
      ) : null}
      {asking === "stop" ? (
        <Stop onClose={() => setAsking(undefined)} onEnd={() => go(steps.length + 1)} />
      ) : null}
    </div>
  );
}

function KeptWords({ kept }: { kept: KeptRunState }) {
  switch (kept.state) {
    case "saving":
      return "Keeping it";
    case "saved":
      return `Kept in this browser, ${timeOfDay(kept.at)}. Needs no network.`;
    case "not kept":
      return (
        <>
          <Mark name="care" /> {kept.why} Write the readings down as well.
        </>
      );
  }
}

/** The steps as graduations; the level stands at the step that is shown. */
function Measure({
  run,
  steps,
  at,
  onGo,
}: {
  run: Run;
  steps: readonly BenchStep[];
  at: number;
  onGo: (to: number) => void;
}) {
  const left = Math.max(0, (steps.length - at + 0.5) / Math.max(1, steps.length)) * 100;
  return (
    <nav className="tube" aria-label="Steps">
      <ol style={{ "--steps": steps.length, "--left": `${left.toFixed(1)}%` } as CSSProperties}>
        {steps.map((step) => {
          const done = recordOf(run, step)?.doneAt !== undefined;
          return (
            <li key={step.key} aria-current={step.number === at ? "step" : undefined}>
              <button
                type="button"
                aria-label={`Step ${step.number}${done ? ", done" : ""}: ${step.text}`}
                onClick={() => onGo(step.number)}
              >
                {done ? <Mark name="met" /> : null}
                {step.number}
              </button>
            </li>
          );
        })}
      </ol>
    </nav>
  );
}

/** Clocks of other steps that are going: each leads to its step. */
function Clocks({
  run,
  steps,
  at,
  onGo,
}: {
  run: Run;
  steps: readonly BenchStep[];
  at: number;
  onGo: (to: number) => void;
}) {
  const now = useNow(isTicking(run));
  const going = steps.filter((s) => s.number !== at && recordOf(run, s)?.timer?.since !== undefined);
  if (going.length === 0) return null;
  return (
    <p className="clocks">
      {going.map((step) => {
        const { state, shown } = waitState(recordOf(run, step)?.timer, step.wait?.milliseconds, now);
        return (
          <button type="button" className="act framed" key={step.key} onClick={() => onGo(step.number)}>
            Step {step.number}: {clockText(shown)}{" "}
            {state === "over" ? "over" : step.wait?.milliseconds === undefined ? "gone" : "left"}
          </button>
        );
      })}
    </p>
  );
}

/**
 * What stands in the way and what to mind: the first in sight, all of them a touch away. On a phone it is the first
 * sentence of it, so that the clock and the readings of the step are in sight as well.
 */
function Cautions({ at }: { at: number }) {
  const book = useStore(useNotebook(), (s) => s.book);
  const { cautions, warnings } = cardDocument(book);
  const all = [...warnings, ...cautions];
  // What stands in the way is read before the work begins, not when it is done.
  const ahead = at === 1 ? warnings.length + 1 : 1;
  const first = all.slice(0, ahead).map((one) => one.split(/(?<=[.!?]) (?=\p{Lu})/u));
  const more = all.slice(ahead);
  const isCut = first.some((sentences) => sentences.length > 1);
  const [open, setOpen] = useState(false);
  return (
    <div className={`caution${open ? " open" : ""}`} role="note" aria-label="Cautions">
      <Mark name="care" />
      <div>
        {first.map(([sentence, ...rest]) => (
          <p key={sentence}>
            {sentence}
            {rest.length === 0 ? null : <span className="rest"> {rest.join(" ")}</span>}
          </p>
        ))}
        {open ? more.map((caution) => <p key={caution}>{caution}</p>) : null}
      </div>
      {more.length === 0 && !isCut ? null : (
        <button
          type="button"
          className={more.length === 0 ? "act of-rest" : "act"}
          aria-expanded={open}
          onClick={() => setOpen(!open)}
        >
          {open
            ? more.length === 0
              ? "Less"
              : "Fewer"
            : more.length === 0
              ? "The rest of it"
              : `All ${all.length} cautions`}
        </button>
      )}
    </div>
  );
}

function OtherTab() {
  const session = useRunSession();
  const gone = useSession((s) => s.theirs === "gone");
  return (
    <div className="slip fault" role="alert">
      <Mark name="fault" />
      <p>
        {gone
          ? "The run was ended in another tab, so nothing is saved over it. What you have here is still on the screen."
          : "The run was touched in another tab since, so nothing is saved over it. What you have here is still on the screen."}
      </p>
      <span className="fixes">
        <button type="button" className="act framed" onClick={() => session.settle("mine")}>
          Keep what is here
        </button>
        <button type="button" className="act framed" onClick={() => session.settle("theirs")}>
          {gone ? "End it here too" : "Show the other"}
        </button>
      </span>
    </div>
  );
}

function AllSteps({
  run,
  steps,
  at,
  onGo,
  onClose,
}: {
  run: Run;
  steps: readonly BenchStep[];
  at: number;
  onGo: (to: number) => void;
  onClose: () => void;
}) {
  const dialog = useDialog();
  return (
    <dialog ref={dialog} className="run-box" aria-labelledby="h-all-steps" onClose={onClose}>
      <h2 id="h-all-steps">All steps</h2>
      <ol>
        {steps.map((step) => {
          const done = recordOf(run, step)?.doneAt;
          return (
            <li key={step.key}>
              <button
                type="button"
                className="act"
                aria-current={step.number === at ? "step" : undefined}
                onClick={() => onGo(step.number)}
              >
                <b>{step.number}</b>
                <span>{step.text}</span>
                <span className="u">{done === undefined ? "" : `done ${timeOfDay(done)}`}</span>
              </button>
            </li>
          );
        })}
        <li>
          <button
            type="button"
            className="act"
            aria-current={at > steps.length ? "step" : undefined}
            onClick={() => onGo(steps.length + 1)}
          >
            <b />
            <span>The end: what was read, and what will be written</span>
            <span />
          </button>
        </li>
      </ol>
      <button type="button" className="act framed" onClick={onClose}>
        Close
      </button>
    </dialog>
  );
}

function Stop({ onClose, onEnd }: { onClose: () => void; onEnd: () => void }) {
  const dialog = useDialog();
  const session = useRunSession();
  const count = useSession((s) => s.run?.readings.length ?? 0);
  const readings =
    count === 0
      ? "Nothing was read yet."
      : count === 1
        ? "One reading was taken."
        : `${count} readings were taken.`;
  return (
    <dialog ref={dialog} className="run-box" aria-labelledby="h-stop" onClose={onClose}>
      <h2 id="h-stop">Stop the run?</h2>
      <p>{readings} The book stays as it is until the readings are written into it.</p>
      <div className="answers">
        <button type="button" className="act main" onClick={onClose}>
          Go on with the run
        </button>
        {count === 0 ? null : (
          <button type="button" className="act framed" onClick={onEnd}>
            Go to the end and write what was read
          </button>
        )}
        <button
          type="button"
          className="act framed"
          onClick={() => {
            onClose();
            session.letGo();
          }}
        >
          {count === 0 ? "Stop the run" : "Stop the run and throw the readings away"}
        </button>
      </div>
    </dialog>
  );
}
