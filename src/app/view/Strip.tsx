import type { ReactNode } from "react";
import { RunCommand } from "../run/RunCommand";
import type { Side } from "../state/notebook";
import { useStore } from "../state/store";
import { Drawer } from "./Drawer";
import { LinkCommand } from "./LinkCommand";
import { Mark } from "./Mark";
import { ThemeButtons } from "./ViewSettings";
import { useNotebook } from "./workbench";

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
  readonly onExport: (ending: "xlsx" | "ods") => void;
  readonly onPrintCard: () => void;
  readonly onPrintBook: () => void;
  readonly onPersist: (() => void) | undefined;
  readonly onStart: () => void;
}

/** The commands of the book, as words at the top of the page. */
export function Strip(props: StripProps) {
  const store = useNotebook();
  const undo = useStore(store, (s) => s.history.past.at(-1)?.says);
  const redo = useStore(store, (s) => s.history.future[0]?.says);
  return (
    <div className="strip">
      <span className="kept" role="status">
        <KeptWords kept={props.kept} />
      </span>
      <nav aria-label="Book">
        <button
          type="button"
          className="act"
          disabled={undo === undefined}
          title={undo}
          aria-label={undo === undefined ? "Undo" : `Undo: ${undo}`}
          onClick={() => store.send({ type: "undo" })}
        >
          Undo
        </button>
        <button
          type="button"
          className="act"
          disabled={redo === undefined}
          title={redo}
          aria-label={redo === undefined ? "Redo" : `Redo: ${redo}`}
          onClick={() => store.send({ type: "redo" })}
        >
          Redo
        </button>
        <SideButton side="why">Why</SideButton>
        <SideButton side="text">Text</SideButton>
        <SideButton side="functions">Functions</SideButton>
        <Drawer word="Go over">
          <button type="button" className="act" onClick={() => store.send({ type: "side", side: "read" })}>
            Read through every formula
          </button>
          <button type="button" className="act" onClick={() => store.send({ type: "side", side: "compare" })}>
            Compare with another version
          </button>
        </Drawer>
        <RunCommand />
        <button type="button" className="act" onClick={props.onPrintCard}>
          Print card
        </button>
        <Drawer word="Keep and send">
          <button type="button" className="act" onClick={props.onSave}>
            {props.savesFiles
              ? props.fileName === undefined
                ? "Save in a file"
                : `Save in ${props.fileName}`
              : "Download a copy"}
            <small>Ctrl S</small>
          </button>
          {props.onPersist === undefined ? null : (
            <button type="button" className="act" onClick={props.onPersist}>
              Ask the browser to keep my books
            </button>
          )}
          <hr />
          <LinkCommand />
          <button type="button" className="act" onClick={() => props.onExport("xlsx")}>
            Spreadsheet <small>.xlsx</small>
          </button>
          <button type="button" className="act" onClick={() => props.onExport("ods")}>
            Open document sheet <small>.ods</small>
          </button>
          <button type="button" className="act" onClick={props.onPrintBook}>
            Print the whole book
          </button>
        </Drawer>
        <Drawer word="View">
          <ThemeButtons />
        </Drawer>
        <button type="button" className="act" onClick={props.onStart}>
          Books
        </button>
      </nav>
    </div>
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
  if (kept.state === "saving") return <>Saving in this browser</>;
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
