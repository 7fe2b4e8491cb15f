import { type ReactNode, useLayoutEffect, useRef } from "react";
import { RunCommand } from "../run/RunCommand";
import type { Side } from "../state/notebook";
import { useStore } from "../state/store";
import { Drawer } from "./Drawer";
import { Fetched } from "./Fetched";
import { Mark } from "./Mark";
import { parcel } from "./parcel";
import { useNarrow } from "./useNarrow";
import { setTour } from "./useTour";
import { ThemeButtons } from "./ViewSettings";
import { useNotebook } from "./workbench";

const link = parcel("What makes links", () => import("./LinkCommand"));
const linkOnItsWay = (words: ReactNode) => <div className="drawer-words">{words}</div>;

/** What the top of the page says about where the book is kept. */
export type KeptState =
  | { readonly state: "saved"; readonly at: string }
  | { readonly state: "saving" }
  | { readonly state: "not-kept"; readonly why: string };

export interface StripProps {
  readonly kept: KeptState;
  readonly savesFiles: boolean;
  readonly fileName: string | undefined;
  readonly onSave: () => void;
  readonly onCopy: () => void;
  readonly onExport: (ending: "xlsx" | "ods") => void;
  readonly onPrintCard: () => void;
  readonly onPrintBook: () => void;
  readonly onPersist: (() => void) | undefined;
  readonly onStart: () => void;
}

/** The commands of the book, as words at the top of the page; on a phone the first of them, and the rest behind a word. */
export function Strip(props: StripProps) {
  const narrow = useNarrow();
  const bar = useRef<HTMLDivElement>(null);
  // What is scrolled to stops below the part of the bar that stays.
  useLayoutEffect(() => {
    const element = bar.current!;
    const root = document.documentElement.style;
    const watch = new ResizeObserver(() =>
      root.setProperty(
        "--strip",
        `${Math.ceil(element.offsetHeight + Number.parseFloat(getComputedStyle(element).top))}px`,
      ),
    );
    watch.observe(element);
    return () => {
      watch.disconnect();
      root.removeProperty("--strip");
    };
  }, []);
  const goOver = <GoOverCommands />;
  const keep = <KeepCommands {...props} />;
  const rest = (
    <>
      <SideButton side="text">Text</SideButton>
      <SideButton side="functions">Functions</SideButton>
    </>
  );
  const view = (
    <>
      <ThemeButtons />
      <hr />
      <button type="button" className="act" onClick={() => setTour("begun")}>
        A first look, in three steps
      </button>
    </>
  );
  const books = (
    <button type="button" className="act" onClick={props.onStart}>
      Books
    </button>
  );
  return (
    <div className="strip" ref={bar}>
      <span className="kept" role="status" aria-atomic="true">
        <KeptWords kept={props.kept} />
      </span>
      <nav aria-label="Book">
        <TurnButton way="undo" />
        <TurnButton way="redo" />
        <SideButton side="why">Why</SideButton>
        {narrow ? null : rest}
        {narrow ? null : <Drawer word="Go over">{goOver}</Drawer>}
        <RunCommand />
        <button type="button" className="act" onClick={props.onPrintCard}>
          Print card
        </button>
        {narrow ? (
          <Drawer word="Book">
            {rest}
            {books}
            <hr />
            {goOver}
            <hr />
            {keep}
            <hr />
            {view}
          </Drawer>
        ) : (
          <>
            <Drawer word="Keep and send">{keep}</Drawer>
            <Drawer word="View">{view}</Drawer>
            {books}
          </>
        )}
      </nav>
    </div>
  );
}

const turnWords = { undo: "Undo", redo: "Redo" } as const;

/** Takes the last change back, or makes it again; named by what it changes. */
function TurnButton({ way }: { way: "undo" | "redo" }) {
  const store = useNotebook();
  const says = useStore(store, (s) => (way === "undo" ? s.history.past.at(-1) : s.history.future[0])?.says);
  const word = turnWords[way];
  return (
    <button
      type="button"
      className="act"
      disabled={says === undefined}
      title={says}
      aria-label={says === undefined ? word : `${word}: ${says}`}
      onClick={() => store.send({ type: way })}
    >
      {word}
    </button>
  );
}

function GoOverCommands() {
  const store = useNotebook();
  return (
    <>
      <button type="button" className="act" onClick={() => store.send({ type: "side", side: "read" })}>
        Read through every formula
      </button>
      <button type="button" className="act" onClick={() => store.send({ type: "side", side: "compare" })}>
        Compare with another version
      </button>
    </>
  );
}

function KeepCommands(props: StripProps) {
  return (
    <>
      <button type="button" className="act" onClick={props.onSave}>
        {props.savesFiles
          ? props.fileName === undefined
            ? "Save in a file"
            : `Save in ${props.fileName}`
          : "Download a copy"}
        <small className="by-key">Ctrl S</small>
      </button>
      <button type="button" className="act" onClick={props.onCopy}>
        Copy this book
      </button>
      {props.onPersist === undefined ? null : (
        <button type="button" className="act" onClick={props.onPersist}>
          Ask the browser to keep my books
        </button>
      )}
      <hr />
      <Fetched of={link} frame={linkOnItsWay}>
        {({ LinkCommand }) => <LinkCommand />}
      </Fetched>
      <button type="button" className="act" onClick={() => props.onExport("xlsx")}>
        Spreadsheet <small>.xlsx</small>
      </button>
      <button type="button" className="act" onClick={() => props.onExport("ods")}>
        Spreadsheet, open format <small>.ods</small>
      </button>
      <button type="button" className="act" onClick={props.onPrintBook}>
        Print the whole book
      </button>
    </>
  );
}

function KeptWords({ kept }: { kept: KeptState }) {
  if (kept.state === "saved") {
    return (
      <>
        <Mark name="met" />
        Saved in this browser, {kept.at}
      </>
    );
  }
  // Heard is where the book is kept, not that this is on its way.
  if (kept.state === "saving") return <span aria-hidden="true">Saving in this browser</span>;
  return (
    <>
      <Mark name="care" />
      {kept.why}
    </>
  );
}

function SideButton({ side, children }: { side: Side; children: ReactNode }) {
  const store = useNotebook();
  const open = useStore(store, (s) => s.side === side);
  return (
    <button
      type="button"
      className="act"
      aria-pressed={open}
      onClick={() => store.send({ type: "side", side: open ? "none" : side })}
    >
      {children}
    </button>
  );
}
