import { useRef, useState } from "react";
import { beginnings, type Example, examples } from "../state/examples";
import type { KeptHead } from "../state/keeping";
import { Drawer } from "./Drawer";
import { type Notice, NoticeSlip } from "./NoticeSlip";
import { keepSetting, ThemeButtons } from "./ViewSettings";

interface StartProps {
  readonly kept: readonly KeptHead[];
  readonly notices: readonly Notice[];
  readonly onExample: (example: Example) => void;
  readonly onEmpty: () => void;
  readonly onFile: (file: File) => void;
  readonly onKept: (head: KeptHead) => void;
  readonly onForget: (head: KeptHead) => void;
  readonly timeOf: (head: KeptHead) => string;
}

/** The empty start, which is not empty. */
export function Start(props: StartProps) {
  const file = useRef<HTMLInputElement>(null);
  return (
    <main className="start">
      <header>
        <h1>Invacuo</h1>
        <span>
          <button type="button" className="act framed" onClick={() => file.current?.click()}>
            Open a file
          </button>
          <input
            ref={file}
            type="file"
            accept=".vacuo,.xlsx,.ods,.csv,text/plain,text/csv"
            hidden
            onChange={(event) => {
              const picked = event.currentTarget.files?.[0];
              if (picked) props.onFile(picked);
              event.currentTarget.value = "";
            }}
          />
          <Drawer word="View">
            <ThemeButtons />
          </Drawer>
        </span>
      </header>
      <p className="prose">
        A notebook that computes, for a kitchen or a small distillery with a bench vacuum still. A book is
        plain text: values with their units, tables, checks, charts and the steps at the bench.
      </p>
      {props.notices.map((notice) => (
        <NoticeSlip key={notice.says} notice={notice} />
      ))}
      {props.kept.length === 0 ? null : (
        <section aria-labelledby="h-kept">
          <h2 id="h-kept">Kept in this browser</h2>
          <ul className="kept-books">
            {props.kept.map((head) => (
              <li key={head.id}>
                <button type="button" className="act" onClick={() => props.onKept(head)}>
                  {head.title === "" ? "Untitled" : head.title}
                </button>
                <span>
                  <small>{props.timeOf(head)}</small>
                  <button
                    type="button"
                    className="act"
                    aria-label={`Remove ${head.title === "" ? "Untitled" : head.title} from this browser`}
                    onClick={() => props.onForget(head)}
                  >
                    Remove
                  </button>
                </span>
              </li>
            ))}
          </ul>
        </section>
      )}
      <section aria-labelledby="h-begin">
        <h2 id="h-begin">Begin</h2>
        <div className="shelf">
          {beginnings.map((b, i) => (
            <Jar
              key={b.file}
              is={b}
              title={["Start a blend", "Start a honey", "Start a run"][i]!}
              onOpen={props.onExample}
            />
          ))}
          <button
            type="button"
            className="jar"
            onClick={props.onEmpty}
            style={{ "--fill": "4%" } as React.CSSProperties}
          >
            <b>An empty book</b>
            <span>A title and a blank page.</span>
          </button>
        </div>
      </section>
      <section aria-labelledby="h-examples">
        <h2 id="h-examples">Examples, each opened as a copy</h2>
        <div className="shelf">
          {examples.map((e) => (
            <Jar key={e.file} is={e} title={e.title} onOpen={props.onExample} />
          ))}
        </div>
      </section>
      <ThreeThings />
    </main>
  );
}

/** A first acquaintance in three sentences. Once it is put away it stays away, until it is asked for. */
function ThreeThings() {
  const [away, setAway] = useState(() => document.documentElement.dataset.hint === "known");
  const put = (known: boolean) => {
    setAway(known);
    keepSetting("hint", known ? "known" : "");
  };
  if (away)
    return (
      <p>
        <button type="button" className="act" onClick={() => put(false)}>
          Three things to know
        </button>
      </p>
    );
  return (
    <section aria-labelledby="h-how">
      <h2 id="h-how">Three things to know</h2>
      <ol className="prose numbered">
        <li>
          What stands on a line is yours to write. Touch it, touch it again, and type: a number with its unit.
        </li>
        <li>What stands free is worked out. Touch it to see why.</li>
        <li>
          Nothing leaves this device unless you send it. A book can be saved as a file, a spreadsheet, a
          printed card.
        </li>
      </ol>
      <button type="button" className="act framed" onClick={() => put(true)}>
        Put this away
      </button>
    </section>
  );
}

function Jar({ is, title, onOpen }: { is: Example; title: string; onOpen: (example: Example) => void }) {
  return (
    <button
      type="button"
      className="jar"
      onClick={() => onOpen(is)}
      style={{ "--fill": `${is.fill}%` } as React.CSSProperties}
    >
      <b>{title}</b>
      <span>{is.says}</span>
    </button>
  );
}
