import { useCallback, useEffect, useRef, useState } from "react";
import { useOpenAgain } from "./offline/open-again";
import { type SaveNow, useNewVersion } from "./offline/useNewVersion";
import { removeRunOf, useBegunRuns } from "./run/begun-runs";
import { type Example, emptyBook } from "./state/examples";
import { readBookFile } from "./state/files";
import { giveTable, isTableFile } from "./state/incoming";
import { forgetBook, type KeptHead, keptBooks, openBookKept, openKeeping } from "./state/keeping";
import { titledApart } from "./state/titles";
import { useSharedLink } from "./useSharedLink";
import { Fetched } from "./view/Fetched";
import type { Notice } from "./view/NoticeSlip";
import { parcel } from "./view/parcel";
import { Start } from "./view/Start";
import { wordsOf } from "./view/words";

/** A text that is to be opened, and where the browser keeps it. */
export interface OpenedText {
  readonly text: string;
  readonly file: string;
  readonly id: string;
  /** Revision of the kept copy that this tab starts from; 0 when it is new. */
  readonly revision: number;
}
export type Tell = (says: string, grave?: boolean, answers?: Notice["answers"]) => void;
/** Opens a text: as a new copy unless it says where it is kept. */
export type Open = (text: Pick<OpenedText, "text" | "file"> & Partial<OpenedText>) => void;

/** Working with a book needs the language and its functions; they are fetched while the start is being read. */
const desk = parcel("What opens a book", () => import("./Desk"));

/** The page: the start, or an open book. */
export function App() {
  // Counts what was opened, so that opening the same book again begins afresh.
  const [opened, setOpened] = useState<OpenedText & { readonly count: number }>();
  const [told, setNotices] = useState<readonly Notice[]>([]);
  const [db, setDb] = useState<IDBDatabase | "none">();

  const tell: Tell = useCallback((says, grave = true, answers = []) => {
    const close = { word: "Close", act: () => setNotices((now) => now.filter((n) => n.says !== says)) };
    setNotices((now) => [
      ...now.filter((n) => n.says !== says),
      { says, grave, answers: [...answers, close] },
    ]);
  }, []);
  const open: Open = useCallback((text) => {
    setNotices([]);
    setOpened((now) => ({ id: crypto.randomUUID(), revision: 0, ...text, count: (now?.count ?? 0) + 1 }));
    scrollTo(0, 0);
  }, []);
  const openFile = useCallback(
    async (file: File) => {
      if (isTableFile(file)) {
        // The open book takes it; without one, an empty book is opened for it.
        if (!giveTable(file)) open({ text: emptyBook, file: "book.vacuo" });
        return;
      }
      const read = await readBookFile(file);
      if ("refused" in read) tell(read.refused);
      else open({ text: read.text, file: read.name });
    },
    [open, tell],
  );
  const dropping = useDropping(openFile);
  const saver = useRef<SaveNow>(undefined);
  const onSaver = useCallback((save: SaveNow | undefined) => {
    saver.current = save;
  }, []);
  const notices = [...useNewVersion(() => saver.current, tell), ...told];
  useSharedLink({
    before: async () => saver.current?.(),
    open: (text) => {
      open({ text, file: "book.vacuo" });
      tell(
        "This book came in a link. It is a copy: what you change here stays here until you send a link back.",
        false,
      );
    },
    refuse: tell,
  });

  useEffect(() => {
    openKeeping(indexedDB).then(setDb, () => setDb("none"));
    // The first sign of life fetches what a book needs; what did not come is asked for again, and told, when one is opened.
    const signs = ["pointermove", "pointerdown", "keydown", "scroll"] as const;
    const fetch = () => {
      for (const sign of signs) removeEventListener(sign, fetch);
      desk.ask();
    };
    for (const sign of signs) addEventListener(sign, fetch, { passive: true });
    return () => {
      for (const sign of signs) removeEventListener(sign, fetch);
    };
  }, []);

  const toStart = () => {
    setOpened(undefined);
    document.title = "Invacuo";
    // What is kept stands at the top; the keyboard begins there too, now that its place in the book is gone.
    scrollTo(0, 0);
    requestAnimationFrame(() => document.querySelector<HTMLElement>(".start h1")?.focus());
  };
  return (
    <div className={dropping ? "dropping" : undefined}>
      {opened === undefined ? (
        <KeptStart db={db} notices={notices} tell={tell} open={open} openFile={openFile} />
      ) : (
        <Fetched
          of={desk}
          says="Opening the book"
          frame={(words) => (
            <main className="start prose">
              <h1>Invacuo</h1>
              {words}
              <button type="button" className="act" onClick={toStart}>
                Back to the start
              </button>
            </main>
          )}
        >
          {({ default: Desk }) => (
            <Desk
              key={`${opened.id} ${opened.count}`}
              opened={opened}
              db={db}
              notices={notices}
              tell={tell}
              onOpen={open}
              onStart={toStart}
              onSaver={onSaver}
            />
          )}
        </Fetched>
      )}
    </div>
  );
}

interface KeptStartProps {
  readonly db: IDBDatabase | "none" | undefined;
  readonly notices: readonly Notice[];
  readonly tell: Tell;
  readonly open: Open;
  readonly openFile: (file: File) => Promise<void>;
}

/** The start, with the books that this browser keeps. */
function KeptStart({ db, notices, tell, open, openFile }: KeptStartProps) {
  const [kept, setKept] = useState<readonly KeptHead[]>([]);
  const store = db === "none" ? undefined : db;
  useEffect(() => {
    if (store === undefined) return;
    keptBooks(store).then(setKept, (error: unknown) =>
      tell(`The kept books cannot be read: ${wordsOf(error)}`),
    );
  }, [store, tell]);

  const openKept = async (head: KeptHead) => {
    if (store === undefined) return;
    const found = await openBookKept(store, head.id);
    if (found === undefined) {
      tell(`“${head.title}” is kept here, but both of its copies are damaged.`);
      return;
    }
    open({ text: found.text, file: found.head.file, id: head.id, revision: found.head.revision });
    if (found.fellBack) tell("The newest copy was damaged; this is the one saved before it.", false);
  };
  const forget = async (head: KeptHead) => {
    if (store === undefined) return;
    const found = await openBookKept(store, head.id);
    await forgetBook(store, head.id);
    const putRunBack = await removeRunOf(head.id);
    setKept((now) => now.filter((h) => h.id !== head.id));
    const back = {
      word: "Undo: open it again",
      act: () => {
        const again = () => open({ text: found?.text ?? "", file: head.file, id: head.id });
        putRunBack().then(again, again);
      },
    };
    tell(
      `Removed “${head.title || "Untitled"}” from this browser.`,
      false,
      found === undefined ? [] : [back],
    );
  };
  /** Opens a book that begins here, under a title by which it is told from the kept ones. */
  const begin = (text: string, file: string) => {
    const own = titledApart(
      text,
      kept.map((head) => head.title),
    );
    // A file of that name is the first one's: this one's goes by its title.
    open({ text: own, file: own === text ? file : "book.vacuo" });
  };
  const openOrTell = (head: KeptHead) => {
    openKept(head).catch((error: unknown) => tell(`The book cannot be opened: ${wordsOf(error)}`));
  };
  useOpenAgain(kept, openOrTell);
  const begun = useBegunRuns(kept, openOrTell);
  return (
    <Start
      kept={kept}
      notices={[...begun, ...notices]}
      onExample={(example: Example) => {
        example.text().then(
          (text) => begin(text, example.file),
          (error: unknown) => tell(`“${example.title}” cannot be opened: ${wordsOf(error)}`),
        );
      }}
      onEmpty={() => begin(emptyBook, "book.vacuo")}
      onFile={(file) => void openFile(file)}
      onKept={openOrTell}
      onForget={(head) => {
        forget(head).catch((error: unknown) => tell(`The book cannot be removed: ${wordsOf(error)}`));
      }}
      timeOf={timeOf}
    />
  );
}

const timeOf = (head: KeptHead): string =>
  new Date(head.savedAt).toLocaleString("en-GB", { dateStyle: "medium", timeStyle: "short" });

/** A file dragged over the window is opened as a new copy when it is let go. */
function useDropping(onFile: (file: File) => Promise<void>): boolean {
  const [over, setOver] = useState(false);
  const depth = useRef(0);
  useEffect(() => {
    const holdsFile = (event: DragEvent) => event.dataTransfer?.types.includes("Files") ?? false;
    const within = (change: number) => (event: DragEvent) => {
      if (!holdsFile(event)) return;
      depth.current = Math.max(0, depth.current + change);
      setOver(depth.current > 0);
    };
    const enter = within(1);
    const leave = within(-1);
    const move = (event: DragEvent) => {
      if (holdsFile(event)) event.preventDefault();
    };
    const drop = (event: DragEvent) => {
      if (!holdsFile(event)) return;
      event.preventDefault();
      depth.current = 0;
      setOver(false);
      const file = event.dataTransfer?.files[0];
      if (file) void onFile(file);
    };
    addEventListener("dragenter", enter);
    addEventListener("dragleave", leave);
    addEventListener("dragover", move);
    addEventListener("drop", drop);
    return () => {
      removeEventListener("dragenter", enter);
      removeEventListener("dragleave", leave);
      removeEventListener("dragover", move);
      removeEventListener("drop", drop);
    };
  }, [onFile]);
  return over;
}
