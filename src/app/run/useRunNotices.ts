import { useEffect } from "react";
import type { Action, Notebook } from "../state/notebook";
import { type Store, useStore } from "../state/store";
import type { Notice } from "../view/NoticeSlip";
import { useDelivery } from "../view/parcel";
import { begunRun } from "./begun-run";
import { sessionOf } from "./session";

/** What the book says of a run of it that was begun; when what tells of it does not come, that is told. */
export function useRunNotices(notebook: Store<Notebook, Action>): readonly Notice[] {
  const session = sessionOf(notebook);
  const book = useStore(notebook, (s) => s.book);
  const run = useStore(session.store, (s) => s.run);
  const delivery = useDelivery(begunRun);
  const begun = run !== undefined;
  useEffect(() => {
    if (begun) begunRun.ask();
  }, [begun]);
  if (run === undefined) return [];
  if (delivery.is === "here") return delivery.held.runNotices(book, session, run);
  if (delivery.is !== "away") return [];
  return [
    {
      grave: true,
      says: "A run of this book was begun, and what shows it and rings its clocks could not be fetched. Look whether this device is on its network. Nothing of the run is lost.",
      answers: [{ word: "Try again", act: () => begunRun.ask() }],
    },
  ];
}
