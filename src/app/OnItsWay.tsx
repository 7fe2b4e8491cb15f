import { useCallback, useEffect, useState } from "react";
import { searchesPutOff, takenUpAgain, type Underway, underwayOf } from "../engine";
import { type Reckoned, useReckoned } from "./reckoning/useReckoned";
import { Working } from "./reckoning/Working";
import type { Action, Notebook } from "./state/notebook";
import type { PutOffSearches } from "./state/searches";
import { type Store, useStore } from "./state/store";

interface OnItsWayProps {
  readonly store: Store<Notebook, Action>;
  readonly searches: PutOffSearches;
}

/** What of the open book is still being worked out, how far that has come, and a way to stop it. */
export function OnItsWay({ store, searches }: OnItsWayProps) {
  const rest = useRest(store, searches);
  const search = useSearches(store, searches);
  if (rest.is !== undefined)
    return (
      <section className="on-its-way" aria-label="Working out">
        <Working
          {...rest}
          says="Working out the book"
          stopped="Stopped. What was not worked out says so."
          again="Work it out"
        />
      </section>
    );
  if (search.is === undefined || search.is.state === "done") return null;
  return (
    <section className="on-its-way" aria-label="Searches">
      <Working {...search} says="Searching beside the page" />
    </section>
  );
}

/** Milliseconds of work at a time, between which the page sees to whoever types, and between two words on how far it is. */
const SLICE = 12;
const TELLS = 100;
/** The same of work where nobody sees the page, and the browser seldom lets it work. */
const UNSEEN = 500;
/** Milliseconds after which it is told at all: what is done sooner is not worth a word. */
const UNTOLD = 300;

/** Works the rest of the open book out in slices. What is written meanwhile begins anew with the newest text. */
function useRest(store: Store<Notebook, Action>, searches: PutOffSearches) {
  const book = useStore(store, (s) => s.book);
  const underway = underwayOf(book);
  const [told, setTold] = useState<{ readonly of: Underway; readonly is: Reckoned<never> }>();
  const isStopped = told !== undefined && told.of === underway && told.is.state === "stopped";
  useEffect(() => searches.hurry(underway !== undefined), [searches, underway]);
  useEffect(() => {
    if (underway === undefined || isStopped) return;
    let tells = performance.now() + UNTOLD;
    const slice = () => {
      if (underwayOf(store.get().book) !== underway) return;
      const now = performance.now();
      const until = now + (document.hidden ? UNSEEN : SLICE);
      const whole = underway.goOn(() => performance.now() < until);
      if (whole !== undefined) {
        store.send({ type: "again", book: whole });
        return;
      }
      if (now > tells) {
        tells = now + TELLS;
        const { done, of } = underway;
        setTold({ of: underway, is: { state: "working", progress: { done, of } } });
      }
      timer = setTimeout(slice);
    };
    let timer = setTimeout(slice);
    return () => clearTimeout(timer);
  }, [underway, isStopped, store]);
  const onStop = useCallback(() => {
    if (underway === undefined) return;
    setTold({ of: underway, is: { state: "stopped" } });
    store.send({ type: "again", book: underway.stopped() });
  }, [underway, store]);
  const onAgain = useCallback(() => {
    if (underway === undefined) return;
    setTold({ of: underway, is: { state: "working" } });
    store.send({ type: "again", book: underway.soFar() });
  }, [underway, store]);
  return { is: underway !== undefined && told?.of === underway ? told.is : undefined, onStop, onAgain };
}

/** Makes the searches of the open book that were put off beside the page, and takes it up again with what they came to. */
function useSearches(store: Store<Notebook, Action>, searches: PutOffSearches) {
  const book = useStore(store, (s) => s.book);
  const { text } = book;
  const of = searchesPutOff(book);
  const { is, stop, again } = useReckoned(
    of === 0 ? undefined : ({ do: "searches", text, of } as const),
    `searches ${text}`,
  );
  useEffect(() => {
    const now = store.get().book;
    if (is?.state !== "done" || now.text !== text) return;
    searches.know(text, is.result);
    store.send({ type: "again", book: takenUpAgain(now) });
  }, [is, store, searches, text]);
  return { is, onStop: stop, onAgain: again };
}
