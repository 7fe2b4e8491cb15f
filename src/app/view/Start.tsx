import { Fragment, useRef } from "react";
import { beginnings, type Example, examples, shelves } from "../state/examples";
import type { KeptHead } from "../state/keeping";
import { Drawer } from "./Drawer";
import { type Notice, NoticeSlip } from "./NoticeSlip";
import { TourOffer } from "./TourOffer";
import { setTour, useTour } from "./useTour";
import { ThemeButtons } from "./ViewSettings";

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
  const tour = useTour();
  // Opening one of these is the first step of the first look, by whatever button.
  const openLooked = (example: Example) => {
    if (tour !== "away") setTour("begun");
    props.onExample(example);
  };
  return (
    <main className="start">
      <header>
        <h1 tabIndex={-1}>Invacuo</h1>
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
        plain text: values with their units, tables, checks, charts and the steps at the bench. Nothing leaves
        this device unless you send it.
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
      <TourOffer title={examples[0]!.title} onOpen={() => openLooked(examples[0]!)} />
      <section aria-labelledby="h-begin">
        <h2 id="h-begin">Begin</h2>
        <div className="shelf four">
          {beginnings.map((b, i) => (
            <Jar
              key={b.file}
              is={b}
              title={["Start a blend", "Start a honey", "Start a run"][i]!}
              onOpen={openLooked}
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
        {shelves.map(({ heading, examples: books }) => (
          <Fragment key={heading}>
            <h3>{heading}</h3>
            <div className="shelf">
              {books.map((e) => (
                <Jar
                  key={e.file}
                  is={e}
                  title={e.title}
                  onOpen={openLooked}
                  pointed={tour !== "away" && e === examples[0]}
                />
              ))}
            </div>
          </Fragment>
        ))}
      </section>
    </main>
  );
}

interface JarProps {
  readonly is: Example;
  readonly title: string;
  readonly onOpen: (example: Example) => void;
  /** The first look speaks of it. */
  readonly pointed?: boolean;
}

function Jar({ is, title, onOpen, pointed = false }: JarProps) {
  return (
    <button
      type="button"
      className="jar"
      data-pointed={pointed ? "1" : undefined}
      onClick={() => onOpen(is)}
      style={{ "--fill": `${is.fill}%` } as React.CSSProperties}
    >
      <b>{title}</b>
      <span>{is.says}</span>
    </button>
  );
}
