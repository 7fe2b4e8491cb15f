import { useEffect } from "react";
import { openBookWith } from "../engine";
import { callsAway, fetchFunctions, onArrival } from "../vocabulary/arrival";
import type { Action, Notebook } from "./state/notebook";
import type { PutOffSearches } from "./state/searches";
import { type Store, useStore } from "./state/store";
import type { Notice } from "./view/NoticeSlip";
import { inQuiet, parcel, useDelivery } from "./view/parcel";

const others = parcel("The other functions", () => fetchFunctions());

/**
 * Fetches the functions that the book does not call yet, once it is on the page. What was written with one of them
 * before it came is worked out again; when it does not come, that is told.
 */
export function useFunctions(store: Store<Notebook, Action>, searches: PutOffSearches): readonly Notice[] {
  const delivery = useDelivery(others);
  const wanted = useStore(store, (s) => callsAway(s.book.text));
  useEffect(() => inQuiet(() => others.ask()), []);
  useEffect(() => {
    if (wanted) others.ask();
  }, [wanted]);
  useEffect(
    () =>
      onArrival(() => {
        const { book } = store.get();
        if (book.messages.some((m) => m.code === "function-away"))
          store.send({ type: "again", book: openBookWith(searches, book.text) });
      }),
    [store, searches],
  );
  if (!wanted || delivery.is !== "away") return [];
  return [
    {
      grave: true,
      says: "A function that this book calls could not be fetched. Look whether this device is on its network. Nothing of the book is lost.",
      answers: [{ word: "Try again", act: () => others.ask() }],
    },
  ];
}
