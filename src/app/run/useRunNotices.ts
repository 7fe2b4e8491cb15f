import type { Book } from "../../engine";
import type { Action, Notebook } from "../state/notebook";
import { type Store, useStore } from "../state/store";
import type { Notice } from "../view/NoticeSlip";
import { sessionOf } from "./session";
import { benchSteps } from "./steps";
import { dayAndTime } from "./times";
import { isWritten } from "./written";

const where = (at: number, of: number): string => (at > of ? "its end" : `step ${at} of ${of}`);

/** What the book says of a run that was begun: it can be gone on with; a finished one that is not in the book can too. */
export function useRunNotices(notebook: Store<Notebook, Action>): readonly Notice[] {
  const session = sessionOf(notebook);
  const book: Book = useStore(notebook, (s) => s.book);
  const run = useStore(session.store, (s) => s.run);
  if (run === undefined) return [];
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
