import { type ReactNode, useEffect, useLayoutEffect, useRef, useState } from "react";
import { useStore } from "../state/store";
import { Fetched } from "../view/Fetched";
import { Mark } from "../view/Mark";
import { parcel } from "../view/parcel";
import { useNotebook } from "../view/workbench";
import { type Alarm, alarmsOf, isTicking } from "./alarms";
import { takeWanted } from "./begun-runs";
import { readyBell, ringBell } from "./bell";
import { useRunSession, useSession } from "./session";
import { benchSteps } from "./steps";
import { useNow } from "./useNow";
import "./alarms.css";

const runView = parcel("The run", () => import("./RunView"));

/** Milliseconds between two rings of a clock that nobody has heard yet. */
const AGAIN = 5000;

/** The book, or the run in its place; its clocks ring in either. */
export function RunLayer({ children }: { children: ReactNode }) {
  const session = useRunSession();
  const notebook = useNotebook();
  const open = useSession((s) => s.open && s.run !== undefined);
  const written = useSession((s) => s.run?.finishedAt !== undefined);
  const hasSteps = useStore(notebook, (s) => s.book.items.some((item) => item.type === "step"));
  useEffect(() => {
    // A book with steps will be run; what that takes is fetched while the book is read, and fetched again when it failed.
    if (hasSteps) runView.ask();
  }, [hasSteps]);
  useEffect(() => {
    // Only what is really on the page takes up what the start asked for: a render may be thrown away.
    if (takeWanted(notebook.get().id)) session.show(true);
  }, [notebook, session]);
  const scrolled = useRef(0);
  const was = useRef(open);
  useLayoutEffect(() => {
    if (was.current === open) return;
    was.current = open;
    // The book comes back where it was left; after the end of a run, where its readings were written.
    scrollTo(0, open ? 0 : scrolled.current);
    if (open || !written) return;
    const frame = requestAnimationFrame(() => document.activeElement?.scrollIntoView({ block: "center" }));
    return () => cancelAnimationFrame(frame);
  }, [open, written]);
  useEffect(() => {
    if (open) return;
    const look = () => {
      scrolled.current = scrollY;
    };
    look();
    addEventListener("scroll", look, { passive: true });
    return () => removeEventListener("scroll", look);
  }, [open]);
  return (
    <>
      {open ? (
        <Fetched
          of={runView}
          says="Opening the run"
          frame={(words) => (
            <main className="start prose">
              <h1>Run</h1>
              {words}
            </main>
          )}
        >
          {({ RunView }) => <RunView />}
        </Fetched>
      ) : (
        children
      )}
      <Alarms />
    </>
  );
}

/** Clocks that have come to their end: told in words, sounded, buzzed, until they are heard. */
function Alarms() {
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
