import { useCallback, useEffect, useRef, useState } from "react";
import { type Opened, openBookKept, saveBook } from "./state/keeping";
import type { Action, Notebook } from "./state/notebook";
import { type Store, useStore } from "./state/store";
import type { KeptState } from "./view/Strip";

export interface Keeping {
  readonly kept: KeptState;
  /** Another tab saved since: what it left, or that the book is gone. */
  readonly conflict: Opened | "gone" | undefined;
  /** Saves what is still waiting, without delay; tells whether all of it is saved. */
  flush(): Promise<boolean>;
}

/** Milliseconds of rest after a change before it is saved; a change after such a rest is saved at once. */
const REST = 400;

/**
 * Keeps an open book in the browser while it changes. It says "saved" only when the browser has said so, and
 * stops when another tab has saved since.
 */
export function useKeeping(
  store: Store<Notebook, Action>,
  db: IDBDatabase | "none" | undefined,
  openedRevision: number,
): Keeping {
  const text = useStore(store, (s) => s.book.text);
  const [kept, setKept] = useState<KeptState>({ state: "saving" });
  const [conflict, setConflict] = useState<Opened | "gone">();
  const revision = useRef(openedRevision);
  const savedText = useRef(openedRevision > 0 ? store.get().book.text : undefined);
  const busy = useRef<Promise<void>>(undefined);
  const stopped = useRef(false);
  const changed = useRef(Number.NEGATIVE_INFINITY);

  const saveNow = useCallback(async (): Promise<void> => {
    if (db === undefined || db === "none" || stopped.current) return;
    try {
      while (!stopped.current && store.get().book.text !== savedText.current) {
        const { id, file, book } = store.get();
        const result = await saveBook(
          db,
          { id, file, title: book.title, text: book.text },
          revision.current,
          Date.now(),
        );
        if (!result.saved) {
          stopped.current = true;
          setConflict((await openBookKept(db, id)) ?? "gone");
          setKept({ state: "not-kept", why: "Not saved: changed in another tab" });
          return;
        }
        revision.current = result.revision;
        savedText.current = book.text;
      }
      setKept({ state: "saved", at: clock() });
    } catch (error) {
      const quota = error instanceof DOMException && error.name === "QuotaExceededError";
      setKept({
        state: "not-kept",
        why: quota
          ? "Not saved: the browser has no room left. Save a file."
          : "Not saved in this browser. Save a file.",
      });
    }
  }, [db, store]);
  const save = useCallback((): Promise<void> => {
    busy.current ??= saveNow().finally(() => {
      busy.current = undefined;
    });
    return busy.current;
  }, [saveNow]);
  const flush = useCallback(async (): Promise<boolean> => {
    await busy.current;
    await save();
    return store.get().book.text === savedText.current;
  }, [save, store]);

  useEffect(() => {
    if (db === "none") {
      setKept({ state: "not-kept", why: "This browser keeps nothing. Save a file." });
      return;
    }
    if (db === undefined || stopped.current) return;
    if (text === savedText.current) {
      setKept((now) => (now.state === "saving" ? { state: "saved", at: clock() } : now));
      return;
    }
    setKept((now) => (now.state === "not-kept" ? now : { state: "saving" }));
    // Not every browser lets a page that is being left finish what it saves: one change is safe at once, and only
    // many in a row, as while typing in the text, wait until they rest.
    const now = performance.now();
    const rested = now - changed.current >= REST;
    changed.current = now;
    const waiting = setTimeout(() => void save(), revision.current === 0 || rested ? 0 : REST);
    return () => clearTimeout(waiting);
  }, [db, text, save]);

  useEffect(() => {
    const hide = () => {
      if (document.visibilityState === "hidden") void save();
    };
    document.addEventListener("visibilitychange", hide);
    return () => document.removeEventListener("visibilitychange", hide);
  }, [save]);

  // What is not kept anywhere is not left without a question.
  const unkept = kept.state === "not-kept" && text !== savedText.current;
  useEffect(() => {
    if (!unkept) return;
    const ask = (event: BeforeUnloadEvent) => event.preventDefault();
    addEventListener("beforeunload", ask);
    return () => removeEventListener("beforeunload", ask);
  }, [unkept]);

  return { kept, conflict, flush };
}

const clock = (): string => new Date().toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
