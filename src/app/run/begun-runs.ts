import { useEffect, useState } from "react";
import type { KeptHead } from "../state/keeping";
import type { Notice } from "../view/NoticeSlip";
import { begunRuns, forgetRun, type KeptRun, keptRun, openRuns, saveRun } from "./keeping-runs";
import { dayAndTime } from "./times";

/** The book whose run is to be shown as soon as that book is open. */
let wanted: string | undefined;

/** Whether the run of this book is to be shown at once; true only the first time. */
export function takeWanted(book: string): boolean {
  const is = wanted === book;
  if (is) wanted = undefined;
  return is;
}

/** Runs that were begun with the kept books, offered before any book is open. */
export function useBegunRuns(kept: readonly KeptHead[], open: (head: KeptHead) => void): readonly Notice[] {
  const [runs, setRuns] = useState<readonly KeptRun[]>([]);
  useEffect(() => {
    let left = false;
    // Where the browser keeps nothing there is nothing to offer; an open run says so itself.
    openRuns(indexedDB).then(
      async (db) => {
        const found = await begunRuns(db);
        db.close();
        if (!left) setRuns(found);
      },
      () => setRuns([]),
    );
    return () => {
      left = true;
    };
  }, []);
  return runs.flatMap(({ run }): Notice[] => {
    const head = kept.find((h) => h.id === run.book);
    if (head === undefined) return [];
    const goOn = () => {
      wanted = head.id;
      open(head);
    };
    return [
      {
        grave: false,
        says: `A run of “${head.title === "" ? "Untitled" : head.title}” was begun on ${dayAndTime(run.begunAt)} and is not finished.`,
        answers: [{ word: "Go on with the run", act: goOn }],
      },
    ];
  });
}

/** Takes the run of a book that is removed out of the browser as well; gives the way to put it back. */
export async function removeRunOf(book: string): Promise<() => Promise<void>> {
  const db = await openRuns(indexedDB);
  const kept = await keptRun(db, book);
  await forgetRun(db, book);
  db.close();
  return async () => {
    if (kept === undefined) return;
    const again = await openRuns(indexedDB);
    await saveRun(again, kept.run, 0, kept.savedAt);
    again.close();
  };
}
