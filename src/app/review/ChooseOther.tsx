import { useEffect, useId, useRef, useState } from "react";
import { type Base, basesOf } from "../state/bases";
import { readBookFile } from "../state/files";
import { type KeptHead, keptBooks, openBookKept, openKeeping } from "../state/keeping";
import { useStore } from "../state/store";
import { wordsOf } from "../view/words";
import { useNotebook } from "../view/workbench";

/** A book that stands beside the open one. */
export interface Other {
  readonly text: string;
  readonly name: string;
}

const how = { opened: "as it was opened", sent: "as it was sent", merged: "as it came back" } as const;
const timeOf = (at: number): string =>
  new Date(at).toLocaleString("en-GB", { dateStyle: "medium", timeStyle: "short" });

/** Asks for the other version: another book of this browser, an earlier text of this book, a file, or a link. */
export function ChooseOther({ onChoose }: { onChoose: (other: Other) => void }) {
  const store = useNotebook();
  const id = useStore(store, (s) => s.id);
  const picker = useRef<HTMLInputElement>(null);
  const box = useRef<HTMLDivElement>(null);
  const linkId = useId();
  const [link, setLink] = useState("");
  const [refused, setRefused] = useState("");
  const [bases, setBases] = useState<readonly Base[]>([]);
  const [kept, setKept] = useState<readonly KeptHead[]>([]);

  useEffect(() => box.current?.focus({ preventScroll: true }), []);
  useEffect(() => {
    const look = async () => {
      setBases([...(await basesOf(indexedDB, id))].reverse());
      const db = await openKeeping(indexedDB);
      try {
        setKept((await keptBooks(db)).filter((head) => head.id !== id));
      } finally {
        db.close();
      }
    };
    look().catch((error: unknown) => setRefused(`What this browser keeps cannot be read: ${wordsOf(error)}`));
  }, [id]);

  const fromFile = async (file: File) => {
    const read = await readBookFile(file);
    if ("refused" in read) setRefused(read.refused);
    else onChoose({ text: read.text, name: read.name });
  };
  const fromLink = async () => {
    const hash = link.indexOf("#");
    const { decodeLink } = await import("../../exchange/link");
    onChoose({ text: decodeLink(hash < 0 ? link : link.slice(hash)), name: "the link" });
  };
  const fromKept = async (head: KeptHead) => {
    const db = await openKeeping(indexedDB);
    try {
      const found = await openBookKept(db, head.id);
      if (found === undefined) setRefused(`“${head.title}” is kept here, but its copies are damaged.`);
      else onChoose({ text: found.text, name: head.title || "Untitled" });
    } finally {
      db.close();
    }
  };
  const orTell = (promise: Promise<void>) => {
    promise.catch((error: unknown) => setRefused(wordsOf(error)));
  };
  const now = store.get().book.text;
  const older = bases.filter((base) => base.text !== now);
  return (
    <div
      ref={box}
      tabIndex={-1}
      className="choose-other"
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        const file = event.dataTransfer.files[0];
        if (file === undefined) return;
        event.preventDefault();
        orTell(fromFile(file));
      }}
    >
      <p>Which version shall stand beside this book?</p>
      {refused === "" ? null : (
        <p className="slip fault" role="alert">
          {refused}
        </p>
      )}
      {kept.length === 0 ? null : (
        <section>
          <h3>Kept in this browser</h3>
          <div className="links">
            {kept.map((head) => (
              <button type="button" key={head.id} onClick={() => orTell(fromKept(head))}>
                <span>{head.title || "Untitled"}</span>
                <span className="u">{timeOf(head.savedAt)}</span>
              </button>
            ))}
          </div>
        </section>
      )}
      {older.length === 0 ? null : (
        <section>
          <h3>This book, earlier</h3>
          <div className="links">
            {older.map((base) => (
              <button
                type="button"
                key={`${base.at} ${base.how}`}
                onClick={() =>
                  onChoose({ text: base.text, name: `this book ${how[base.how]}, ${timeOf(base.at)}` })
                }
              >
                <span>{how[base.how]}</span>
                <span className="u">{timeOf(base.at)}</span>
              </button>
            ))}
          </div>
        </section>
      )}
      <section>
        <h3>A file</h3>
        <button type="button" className="act framed" onClick={() => picker.current?.click()}>
          Choose a file
        </button>
        <input
          ref={picker}
          type="file"
          data-for="compare"
          accept=".vacuo,text/plain"
          hidden
          onChange={(event) => {
            const file = event.currentTarget.files?.[0];
            event.currentTarget.value = "";
            if (file) orTell(fromFile(file));
          }}
        />
      </section>
      <section>
        <h3>A link</h3>
        <form
          onSubmit={(event) => {
            event.preventDefault();
            orTell(fromLink());
          }}
        >
          <label htmlFor={linkId}>Paste the link that was sent to you</label>
          <input
            id={linkId}
            className="search"
            value={link}
            autoComplete="off"
            spellCheck={false}
            onChange={(event) => setLink(event.currentTarget.value)}
          />
          <p className="fixes">
            <button type="submit" className="act framed" disabled={link.trim() === ""}>
              Compare with the link
            </button>
          </p>
        </form>
      </section>
    </div>
  );
}
