import { useEffect, useState } from "react";
import type { Book } from "../../engine";
import { useStore } from "../state/store";
import { Mark } from "../view/Mark";
import type { Notice } from "../view/NoticeSlip";
import { useNotebook } from "../view/workbench";
import { type Alarm, alarmsOf, isTicking } from "./alarms";
import { readyBell, ringBell } from "./bell";
import type { Run } from "./run";
import { type RunSession, useRunSession, useSession } from "./session";
import { benchSteps } from "./steps";
import { dayAndTime } from "./times";
import { useNow } from "./useNow";
import { isWritten } from "./written";
import "./alarms.css";

/** All that a book needs once a run of it was begun. */

export { RunView } from "./RunView";

/** Milliseconds between two rings of a clock that nobody has heard yet. */
const AGAIN = 5000;

/** Clocks that have come to their end: told in words, sounded, buzzed, until they are heard. */
export function Alarms() {
  const session = useRunSession();
  const book = useStore(useNotebook(), (s) => s.book);
  const run = useSession((s) => s.run);
  const now = useNow(run !== undefined && isTicking(run));
  const [sound, setSound] = useState<ReturnType<typeof ringBell>>("rang");
  const alarms = run === undefined ? [] : alarmsOf(run, benchSteps(book), now);
  const ids = alarms.map((a) => a.id).join(", ");

  useEffect(() => {
    // Any touch makes the bell ready for later; the first after a reload also lets a waiting one sound.
    addEventListener("pointerdown", readyBell);
    addEventListener("keydown", readyBell);
    return () => {
      removeEventListener("pointerdown", readyBell);
      removeEventListener("keydown", readyBell);
    };
  }, []);
  useEffect(() => {
    if (ids === "") return;
    const ring = () => setSound(ringBell());
    ring();
    const again = setInterval(ring, AGAIN);
    return () => clearInterval(again);
  }, [ids]);

  if (alarms.length === 0) return null;
  const hear = (alarm: Alarm) => {
    if (alarm.of.clock === "wait")
      session.act({ type: "timer", step: alarm.of.step, do: "heard", at: Date.now() });
    else session.act({ type: "warm-heard", hours: alarm.of.hours });
  };
  return (
    <div className="alarms" role="alert">
      {alarms.map((alarm) => (
        <div key={alarm.id}>
          <Mark name="care" />
          <p>
            <b>{alarm.says}</b>
            {sound === "not touched" ? " It cannot sound until this page is touched." : ""}
            {sound === "no sound" ? " This browser gives no sound." : ""}
          </p>
          <span>
            {alarm.of.clock === "wait" ? (
              <button
                type="button"
                className="act framed"
                onClick={() => {
                  if (alarm.of.clock === "wait") session.act({ type: "go", to: alarm.of.step.number });
                  session.show(true);
                  hear(alarm);
                }}
              >
                Show the step
              </button>
            ) : null}
            <button type="button" className="act main" onClick={() => hear(alarm)}>
              Heard
            </button>
          </span>
        </div>
      ))}
    </div>
  );
}

const where = (at: number, of: number): string => (at > of ? "its end" : `step ${at} of ${of}`);

/** What the book says of a run that was begun: it can be gone on with; a finished one that is not in the book can too. */
export function runNotices(book: Book, session: RunSession, run: Run): readonly Notice[] {
  const begun = dayAndTime(run.begunAt);
  if (run.finishedAt === undefined)
    return [
      {
        grave: false,
        says: `A run of this book was begun on ${begun}; it stands at ${where(run.at, benchSteps(book).length)}.`,
        answers: [{ word: "Go on with the run", act: () => session.show(true) }],
      },
    ];
  if (run.readings.length === 0 || isWritten(book, run)) return [];
  return [
    {
      grave: false,
      says: `The readings of the run of ${begun} are not in the book any more.`,
      answers: [
        {
          word: "Take the run up again",
          act: () => {
            session.act({ type: "take-up" });
            session.show(true);
          },
        },
        { word: "Let the readings go", act: () => session.letGo() },
      ],
    },
  ];
}
