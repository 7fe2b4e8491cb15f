import { type ReactNode, useEffect } from "react";
import { openBook, openBookWith } from "../engine";
import { useReckoned } from "./reckoning/useReckoned";
import { Working } from "./reckoning/Working";
import type { Action, Notebook } from "./state/notebook";
import type { PutOffSearches } from "./state/searches";
import { type Store, useStore } from "./state/store";

/** Makes the searches of a book that were put off beside the page, and opens it again with what they came to. Gives what is to be seen of it. */
export function useSearches(store: Store<Notebook, Action>, searches: PutOffSearches): ReactNode {
  const book = useStore(store, (s) => s.book);
  const { text } = book;
  const of = searches.putOff.size;
  const { is, stop, again } = useReckoned(
    of === 0 ? undefined : ({ do: "searches", text, of } as const),
    `searches ${text}`,
  );
  useEffect(() => {
    if (is?.state !== "done" || store.get().book.text !== text) return;
    const found = searches.with(is.result, () => openBookWith(searches, text));
    // A search that was not made elsewhere would be put off for ever.
    const whole = searches.putOff.size === 0 ? found : searches.with([], () => openBook(text));
    store.send({ type: "again", book: whole });
  }, [is, store, searches, text]);
  if (is === undefined || is.state === "done") return null;
  return (
    <section className="on-its-way" aria-label="Searches">
      <Working is={is} says="Searching beside the page" onStop={stop} onAgain={again} />
    </section>
  );
}
