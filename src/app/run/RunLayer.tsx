import { type ReactNode, useEffect, useLayoutEffect, useRef } from "react";
import { useStore } from "../state/store";
import { Fetched } from "../view/Fetched";
import { useDelivery } from "../view/parcel";
import { useNotebook } from "../view/workbench";
import { begunRun } from "./begun-run";
import { takeWanted } from "./begun-runs";
import { useRunSession, useSession } from "./session";

/** The book, or the run in its place; its clocks ring in either. */
export function RunLayer({ children }: { children: ReactNode }) {
  const session = useRunSession();
  const notebook = useNotebook();
  const begun = useSession((s) => s.run !== undefined);
  const open = useSession((s) => s.open && s.run !== undefined);
  const delivery = useDelivery(begunRun);
  const hasSteps = useStore(notebook, (s) => s.book.items.some((item) => item.type === "step"));
  useEffect(() => {
    // A book with steps will be run; what that takes is fetched while the book is read, and fetched again when it failed.
    if (hasSteps) begunRun.ask();
  }, [hasSteps]);
  useEffect(() => {
    // Only what is really on the page takes up what the start asked for: a render may be thrown away.
    if (takeWanted(notebook.get().id)) session.show(true);
  }, [notebook, session]);
  const scrolled = useRef(0);
  const was = useRef(open);
  // Read while the book still stands there: once the run is in its place, the page is another length.
  if (open && !was.current) scrolled.current = scrollY;
  useLayoutEffect(() => {
    if (was.current === open) return;
    was.current = open;
    // The book comes back where it was left.
    scrollTo(0, open ? 0 : scrolled.current);
  }, [open]);
  return (
    <>
      {open ? (
        <Fetched
          of={begunRun}
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
      {begun && delivery.is === "here" ? <delivery.held.Alarms /> : null}
    </>
  );
}
