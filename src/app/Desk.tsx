import { useCallback, useEffect, useMemo, useState } from "react";
import { openBookWith, underwayOf } from "../engine";
import { callsAway, fetchFunctions } from "../vocabulary/arrival";
import type { Open, OpenedText, Tell } from "./App";
import { OnItsWay } from "./OnItsWay";
import type { SaveNow } from "./offline/useNewVersion";
import { RunLayer } from "./run/RunLayer";
import { useRunNotices } from "./run/useRunNotices";
import { noteBase } from "./state/bases";
import { canSaveFiles, downloadCopy, type FileHandle, fileNameFor, saveToFile } from "./state/files";
import { keptBooks } from "./state/keeping";
import { type Notebook, notebook, openNotebook } from "./state/notebook";
import { PutOffSearches } from "./state/searches";
import { createStore } from "./state/store";
import { titledApart } from "./state/titles";
import { useBehind } from "./useBehind";
import { useFunctions } from "./useFunctions";
import { useKeeping } from "./useKeeping";
import { Fetched } from "./view/Fetched";
import { MishapBoundary } from "./view/MishapBoundary";
import { NotebookView } from "./view/NotebookView";
import type { Notice } from "./view/NoticeSlip";
import { parcel } from "./view/parcel";
import { wordsOf } from "./view/words";
import { NotebookProvider } from "./view/workbench";

export interface DeskProps {
  readonly opened: OpenedText;
  readonly db: IDBDatabase | "none" | undefined;
  readonly notices: readonly Notice[];
  readonly tell: Tell;
  readonly onOpen: Open;
  readonly onStart: () => void;
  /** Is given the way to save this book, as long as it is open. */
  readonly onSaver: (save: SaveNow | undefined) => void;
}

/** A book, opened once the functions that it calls are here. */
export default function Desk(props: DeskProps) {
  const { text } = props.opened;
  // Another book is another Desk.
  const [own] = useState(() =>
    callsAway(text) ? parcel("What this book calculates with", () => fetchFunctions(text)) : undefined,
  );
  if (own === undefined) return <OpenDesk {...props} />;
  return (
    <Fetched
      of={own}
      says="Opening the book"
      frame={(words) => (
        <main className="start prose">
          <h1>Invacuo</h1>
          {words}
          <button type="button" className="act" onClick={props.onStart}>
            Back to the start
          </button>
        </main>
      )}
    >
      {() => <OpenDesk {...props} />}
    </Fetched>
  );
}

/** An open book with what the browser does for it: keeping, saving, sending, printing. */
function OpenDesk({ opened, db, notices, tell, onOpen, onStart, onSaver }: DeskProps) {
  const [searches] = useState(() => new PutOffSearches());
  const [store] = useState(() =>
    createStore(notebook, openNotebook(opened.id, opened.file, openBookWith(searches, opened.text))),
  );
  const [handle, setHandle] = useState<FileHandle>();
  const runNotices = useRunNotices(store);
  const behindNotices = useBehind(store, searches);
  const functionNotices = useFunctions(store, searches);
  const keeping = useKeeping(store, db, opened.revision);
  const { flush } = keeping;
  useEffect(() => {
    onSaver(async () => {
      if (store.get().draft !== undefined) store.send({ type: "keep", next: "stay" });
      if (store.get().draft !== undefined) return { unkept: "what you are writing is not finished." };
      const saved = await flush();
      return saved ? { kept: store.get().id } : { unkept: "the book could not be saved. Save it in a file." };
    });
    return () => onSaver(undefined);
  }, [flush, store, onSaver]);
  // Versions that come back from elsewhere began as what is opened here, or as what is sent from here.
  useEffect(() => noteBase(store.get(), "opened"), [store]);
  const [persisted, setPersisted] = useState<boolean>();
  useEffect(() => {
    navigator.storage?.persisted?.().then(setPersisted, () => setPersisted(undefined));
  }, []);

  const save = useCallback(() => {
    const { book, file } = store.get();
    const name = file === "" || file === "book.vacuo" ? fileNameFor(book.title) : file;
    if (!canSaveFiles()) {
      downloadCopy(name, book.text, "text/plain;charset=utf-8");
      noteBase(store.get(), "sent");
      store.send({ type: "say", text: `Downloaded a copy, ${name}.` });
      return;
    }
    saveToFile(book.text, name, handle).then(
      (written) => {
        if (written === undefined) return;
        setHandle(written);
        noteBase(store.get(), "sent");
        store.send({ type: "say", text: `Saved in ${written.name}.` });
      },
      (error: unknown) =>
        tell(`The file could not be written: ${wordsOf(error)} The book is still kept in this browser.`),
    );
  }, [store, handle, tell]);

  const send = useCallback(
    (ending: "xlsx" | "ods") => {
      const { book: shown } = store.get();
      // A sheet holds all values: who asks for one waits for them.
      const book = underwayOf(shown)?.goOn(() => true) ?? shown;
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

  /** Opens a second book that begins as this one is, which stays as it was. */
  const copy = useCallback(() => {
    if (store.get().draft !== undefined) store.send({ type: "keep", next: "stay" });
    const { draft, book } = store.get();
    // What is being written asks something first.
    if (draft !== undefined) return;
    const { text, title } = book;
    flush()
      .then(() => (db === undefined || db === "none" ? [] : keptBooks(db)))
      .then(
        (others) =>
          onOpen({
            text: titledApart(text, [title, ...others.map((head) => head.title)]),
            file: "book.vacuo",
          }),
        (error: unknown) => tell(`The book could not be copied: ${wordsOf(error)}`),
      );
  }, [store, flush, db, onOpen, tell]);

  const conflict = useMemo((): readonly Notice[] => {
    if (keeping.conflict === undefined) return [];
    const { conflict: theirs } = keeping;
    return [
      {
        grave: true,
        says: "This book was changed in another tab since it was opened here, so nothing is saved over it. What you have here is still on the page.",
        answers: [
          {
            word: "Keep mine as a new copy",
            act: () => onOpen({ text: store.get().book.text, file: store.get().file }),
          },
          ...(theirs === "gone"
            ? []
            : [{ word: "Show the other", act: () => onOpen({ ...theirs.head, text: theirs.text }) }]),
        ],
      },
    ];
  }, [keeping, onOpen, store]);

  return (
    <NotebookProvider value={store}>
      <MishapBoundary
        text={() => store.get().book.text}
        file={() => store.get().file}
        onAgain={(text, file) => onOpen({ text, file })}
      >
        <RunLayer>
          <NotebookView
            notices={[...conflict, ...behindNotices, ...functionNotices, ...runNotices, ...notices]}
            kept={keeping.kept}
            savesFiles={canSaveFiles()}
            fileName={handle?.name}
            onSave={save}
            onExport={send}
            onCopy={copy}
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
              void flush();
              onStart();
            }}
          />
          <OnItsWay store={store} searches={searches} />
        </RunLayer>
      </MishapBoundary>
    </NotebookProvider>
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
  const over = new AbortController();
  // A browser that does not print tells of no end; a hand on the page again is one too, for the print window holds the page.
  for (const end of ["afterprint", "pointerdown", "keydown"])
    addEventListener(
      end,
      () => {
        delete document.body.dataset.print;
        over.abort();
      },
      { capture: true, signal: over.signal },
    );
  print();
}
