import { useEffect } from "react";
import { openBookWith } from "../engine";
import type { Action, Notebook } from "./state/notebook";
import type { PutOffSearches } from "./state/searches";
import type { Store } from "./state/store";
import type { Notice } from "./view/NoticeSlip";
import { parcel, useDelivery } from "./view/parcel";

const behind = parcel("What adds, moves, renames and explains faults", () => import("./state/behind"));

// It is on its way before a book is on the page, and ahead of what can wait longer.
behind.ask();

/**
 * Fetches what a book is opened without; what did not come is asked for again with the next book. Numbers and formulas can be written before it
 * comes; other edits are refused until then and stay with the writer, and what cannot be read is told without a reason,
 * which is added when it has come. When it does not come, that is told.
 */
export function useBehind(store: Store<Notebook, Action>, searches: PutOffSearches): readonly Notice[] {
  const delivery = useDelivery(behind);
  useEffect(() => behind.ask(), []);
  const here = delivery.is === "here";
  useEffect(() => {
    const { book } = store.get();
    if (here && book.messages.some((m) => m.code === "reason-away"))
      store.send({ type: "again", book: openBookWith(searches, book.text) });
  }, [here, store, searches]);
  if (delivery.is !== "away") return [];
  return [
    {
      grave: true,
      says: "What adds, moves, renames and explains faults could not be fetched; numbers and formulas can be written. Look whether this device is on its network. Nothing of the book is lost.",
      answers: [{ word: "Try again", act: () => behind.ask() }],
    },
  ];
}
