import { useEffect, useRef, useState } from "react";
import type { Book } from "../../engine";
import { Mark } from "../view/Mark";
import { readyBell } from "./bell";
import { type Doubt, doubtAt } from "./doubts";
import type { Run } from "./run";
import { useRunSession } from "./session";
import type { BenchStep } from "./steps";

interface StepGoProps {
  readonly book: Book;
  readonly run: Run;
  readonly step: BenchStep;
  readonly of: number;
  readonly onGo: (to: number) => void;
}

/**
 * Back, and on: a step that is left with its wait not begun, or with a reading that cannot be read or is far from its
 * plan, is asked about first.
 */
export function StepGo({ book, run, step, of, onGo }: StepGoProps) {
  const session = useRunSession();
  const box = useRef<HTMLDivElement>(null);
  // Counts how often it was asked about; 0 while it was not.
  const [asked, setAsked] = useState(0);
  useEffect(() => {
    // The keyboard goes to what puts it right, so that a second Enter does that and never passes it over.
    if (asked > 0) box.current?.querySelector<HTMLElement>(".fixes button")?.focus();
  }, [asked]);
  // Told as long as it holds: a clock that was started and a reading put right take it away.
  const doubt = doubtAt(book, run, step);
  const last = step.number === of;
  const done = () => {
    session.act({ type: "done", step, at: Date.now() });
    const end = run.readings.length === 0 ? "Nothing was read." : "Look at what was read.";
    session.say(last ? `The last step is done. ${end}` : `Step ${step.number + 1} of ${of}.`);
  };
  return (
    <div className="go" ref={box}>
      {doubt === undefined || asked === 0 ? null : (
        <div className="slip gap" role="alert">
          <Mark name="unknown" />
          <p>{doubt.says}</p>
          <span className="fixes">
            {doubt.again === undefined ? null : (
              <button
                type="button"
                className="act framed"
                onClick={() => {
                  setAsked(0);
                  // One field for each reading, in their order.
                  const field =
                    document.querySelectorAll<HTMLInputElement>(".run .gauges input")[doubt.again!];
                  field?.focus();
                  // What is typed takes the place of what stands there.
                  field?.select();
                }}
              >
                Read it again
              </button>
            )}
            {doubt.wait ? (
              <button
                type="button"
                className="act framed"
                onClick={() => {
                  readyBell();
                  session.act({ type: "timer", step, do: "start", at: Date.now() });
                  session.say("The clock goes.");
                  setAsked(0);
                  box.current?.querySelector<HTMLElement>(".main")?.focus();
                }}
              >
                Start the clock
              </button>
            ) : null}
            <button type="button" className="act framed" onClick={done}>
              {onward(doubt)}
            </button>
          </span>
        </div>
      )}
      <button
        type="button"
        className="act framed"
        disabled={step.number === 1}
        onClick={() => onGo(step.number - 1)}
      >
        Back
      </button>
      <button
        type="button"
        className="act main"
        onClick={doubt === undefined ? done : () => setAsked(asked + 1)}
      >
        {last ? "Done. Finish the run" : `Done. Next: step ${step.number + 1}`}
      </button>
    </div>
  );
}

/** What a button says that goes on in spite of a doubt: a reading that is far off stays, what is not there stays away. */
function onward({ wait, unread, far }: Doubt): string {
  const lacks = Number(wait) + unread;
  if (far === 0) return `Done without ${lacks > 1 ? "them" : "it"}`;
  return lacks > 0 ? "Go on all the same" : `Go on with ${far > 1 ? "them" : "it"}`;
}
