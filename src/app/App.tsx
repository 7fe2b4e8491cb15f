import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import { openBook } from "../engine";
import { type Example, emptyBook } from "./state/examples";
import { downloadCopy, fileNameFor, canSaveFiles, type FileHandle, readBookFile, saveToFile } from "./state/files";
import { forgetBook, type KeptHead, keptBooks, openBookKept, openKeeping } from "./state/keeping";
import { type Action, type Notebook, notebook, openNotebook } from "./state/notebook";
import { createStore, type Store } from "./state/store";
import { useKeeping } from "./useKeeping";
import { NotebookView } from "./view/NotebookView";
import type { Notice } from "./view/NoticeSlip";
import { Start } from "./view/Start";
import { NotebookProvider } from "./view/workbench";

interface OpenDesk {
  readonly store: Store<Notebook, Action>;
  /** Revision of the kept copy that this tab started from; 0 when it is new. */
  readonly revision: number;
}

const newId = (): string => crypto.randomUUID();

/** The page: the start, or an open book. */
export function App() {
  const [desk, setDesk] = useState<OpenDesk>();
  const [kept, setKept] = useState<readonly KeptHead[]>([]);
  const [notices, setNotices] = useState<readonly Notice[]>([]);
  const [db, setDb] = useState<IDBDatabase | "none">();

  const tell = useCallback((says: string, grave = true, answers: Notice["answers"] = []) => {
    setNotices((now) => [
      ...now.filter((n) => n.says !== says),
      { says, grave, answers: [...answers, { word: "Close", act: () => setNotices((n) => n.filter((x) => x.says !== says)) }] },
    ]);
  }, []);

  useEffect(() => {
    openKeeping(indexedDB).then(setDb, () => setDb("none"));
  }, []);
  useEffect(() => {
    if (desk !== undefined || db === undefined || db === "none") return;
    keptBooks(db).then(setKept, (error: unknown) => tell(`The kept books cannot be read: ${wordsOf(error)}`));
  }, [db, desk, tell]);

  const open = useCallback((text: string, file: string, id = newId(), revision = 0) => {
    setNotices([]);
    setDesk({ store: createStore(notebook, openNotebook(id, file, openBook(text))), revision });
    scrollTo(0, 0);
  }, []);
  const openFile = useCallback(
    async (file: File) => {
      const read = await readBookFile(file);
      if ("refused" in read) tell(read.refused);
      else open(read.text, read.name);
    },
    [open, tell],
  );
  const dropping = useDropping(openFile);

  const view =
    desk === undefined ? (
      <Start
        kept={kept}
        notices={notices}
        onExample={(example: Example) => open(example.text, example.file)}
        onEmpty={() => open(emptyBook, "book.vacuo")}
        onFile={(file) => void openFile(file)}
        onKept={(head) => {
          if (db === undefined || db === "none") return;
          openBookKept(db, head.id).then(
            (opened) => {
              if (opened === undefined) {
                tell(`“${head.title}” is kept here, but both of its copies are damaged.`);
                return;
              }
              open(opened.text, opened.head.file, head.id, opened.head.revision);
              if (opened.fellBack) tell("The newest copy was damaged; this is the one saved before it.", false);
            },
            (error: unknown) => tell(`The book cannot be opened: ${wordsOf(error)}`),
          );
        }}
        onForget={(head) => {
          if (db === undefined || db === "none") return;
          const { title } = head;
          openBookKept(db, head.id)
            .then((opened) => forgetBook(db, head.id).then(() => opened))
            .then(
              (opened) => {
                setKept((now) => now.filter((h) => h.id !== head.id));
                tell(
                  `Removed “${title || "Untitled"}” from this browser.`,
                  false,
                  opened === undefined ? [] : [{ word: "Undo: open it again", act: () => open(opened.text, head.file) }],
                );
              },
              (error: unknown) => tell(`The book cannot be removed: ${wordsOf(error)}`),
            );
        }}
        timeOf={timeOf}
      />
    ) : (
      <NotebookProvider value={desk.store} key={desk.store.get().id}>
        <Desk desk={desk} db={db} notices={notices} tell={tell} onOpen={open} onStart={() => setDesk(undefined)} />
      </NotebookProvider>
    );
  return <div className={dropping ? "dropping" : undefined}>{view}</div>;
}

interface DeskProps {
  readonly desk: OpenDesk;
  readonly db: IDBDatabase | "none" | undefined;
  readonly notices: readonly Notice[];
  readonly tell: (says: string, grave?: boolean, answers?: Notice["answers"]) => void;
  readonly onOpen: (text: string, file: string, id?: string, revision?: number) => void;
  readonly onStart: () => void;
}

/** An open book with what the browser does for it: keeping, saving, sending, printing. */
function Desk({ desk, db, notices, tell, onOpen, onStart }: DeskProps) {
  const { store } = desk;
  const [handle, setHandle] = useState<FileHandle>();
  const keeping = useKeeping(store, db, desk.revision);
  const [persisted, setPersisted] = useState<boolean>();
  useEffect(() => {
    navigator.storage?.persisted?.().then(setPersisted, () => setPersisted(undefined));
  }, []);

  const save = useCallback(() => {
    const { book, file } = store.get();
    const name = file === "" || file === "book.vacuo" ? fileNameFor(book.title) : file;
    if (!canSaveFiles()) {
      downloadCopy(name, book.text, "text/plain;charset=utf-8");
      store.send({ type: "say", text: `Downloaded a copy, ${name}.` });
      return;
    }
    saveToFile(book.text, name, handle).then(
      (written) => {
        if (written === undefined) return;
        setHandle(written);
        store.send({ type: "say", text: `Saved in ${written.name}.` });
      },
      (error: unknown) => tell(`The file could not be written: ${wordsOf(error)} The book is still kept in this browser.`),
    );
  }, [store, handle, tell]);

  const send = useCallback(
    (ending: "xlsx" | "ods") => {
      const { book } = store.get();
      exportBook(book, ending).then(
        ({ data, type }) => {
          const name = fileNameFor(book.title, ending);
          downloadCopy(name, data, type);
          store.send({ type: "say", text: `Downloaded ${name}.` });
        },
        (error: unknown) => tell(`The sheet could not be written: ${wordsOf(error)}`),
      );
    },
    [store, tell],
  );

  const conflict = useMemo((): readonly Notice[] => {
    if (keeping.conflict === undefined) return [];
    const { conflict: theirs } = keeping;
    return [
      {
        grave: true,
        says: "This book was changed in another tab since it was opened here, so nothing is saved over it. What you have here is still on the page.",
        answers: [
          { word: "Keep mine as a new copy", act: () => onOpen(store.get().book.text, store.get().file) },
          ...(theirs === "gone"
            ? []
            : [{ word: "Show the other", act: () => onOpen(theirs.text, theirs.head.file, theirs.head.id, theirs.head.revision) }]),
        ],
      },
    ];
  }, [keeping, onOpen, store]);

  return (
    <NotebookView
      notices={[...conflict, ...notices]}
      kept={keeping.kept}
      savesFiles={canSaveFiles()}
      fileName={handle?.name}
      onSave={save}
      onExport={send}
      onPrintCard={() => printOnly("card")}
      onPrintBook={() => printOnly("book")}
      onPersist={
        persisted === false
          ? () => {
              navigator.storage.persist().then(
                (granted) => {
                  setPersisted(granted);
                  store.send({
                    type: "say",
                    text: granted
                      ? "The browser keeps your books until you remove them."
                      : "The browser makes no promise. Save important books in a file.",
                  });
                },
                () => setPersisted(undefined),
              );
            }
          : undefined
      }
      onStart={() => {
        keeping.flush();
        onStart();
      }}
    />
  );
}

/** Writes a sheet. The code for it is fetched when it is first asked for. */
async function exportBook(
  book: Notebook["book"],
  ending: "xlsx" | "ods",
): Promise<{ data: Uint8Array; type: string }> {
  if (ending === "xlsx") {
    const { exportXlsx } = await import("../exchange");
    return {
      data: await exportXlsx(book),
      type: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    };
  }
  const { exportOds } = await import("../exchange");
  return { data: await exportOds(book), type: "application/vnd.oasis.opendocument.spreadsheet" };
}

/** Prints the card alone, or the whole book. */
function printOnly(what: "card" | "book"): void {
  document.body.dataset.print = what;
  addEventListener("afterprint", () => delete document.body.dataset.print, { once: true });
  print();
}

/** A file dragged over the window is opened as a new copy when it is let go. */
function useDropping(onFile: (file: File) => Promise<void>): boolean {
  const [over, setOver] = useState(false);
  const depth = useRef(0);
  useEffect(() => {
    const holdsFile = (event: DragEvent) => event.dataTransfer?.types.includes("Files") ?? false;
    const enter = (event: DragEvent) => {
      if (!holdsFile(event)) return;
      depth.current++;
      setOver(true);
    };
    const leave = (event: DragEvent) => {
      if (!holdsFile(event)) return;
      depth.current = Math.max(0, depth.current - 1);
      if (depth.current === 0) setOver(false);
    };
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

const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

const timeOf = (head: KeptHead): string =>
  new Date(head.savedAt).toLocaleString("en-GB", { dateStyle: "medium", timeStyle: "short" });
