import { type ReactNode, useEffect, useRef, useState } from "react";
import type { Side } from "../state/notebook";
import { useStore } from "../state/store";
import { Mark } from "./Mark";
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
          title={undo === undefined ? undefined : `Undo: ${undo}`}
          onClick={() => store.send({ type: "undo" })}
        >
          Undo<span className="unseen">{undo === undefined ? "" : `: ${undo}`}</span>
        </button>
        <button
          type="button"
          className="act"
          disabled={redo === undefined}
          title={redo === undefined ? undefined : `Redo: ${redo}`}
          onClick={() => store.send({ type: "redo" })}
        >
          Redo<span className="unseen">{redo === undefined ? "" : `: ${redo}`}</span>
        </button>
        <SideButton side="why">Why</SideButton>
        <SideButton side="text">Text</SideButton>
        <SideButton side="functions">Functions</SideButton>
        <button type="button" className="act" onClick={props.onPrintCard}>
          Print card
        </button>
        <Drawer word="Keep and send">
          <button type="button" className="act" onClick={props.onSave}>
            {props.savesFiles ? (props.fileName === undefined ? "Save in a file" : `Save in ${props.fileName}`) : "Download a copy"}
            <small>Ctrl S</small>
          </button>
          {props.onPersist === undefined ? null : (
            <button type="button" className="act" onClick={props.onPersist}>
              Ask the browser to keep my books
            </button>
          )}
          <hr />
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

/** A word that opens a short list under it, or above it. Escape and a touch elsewhere close it. */
export function Drawer({ word, up = false, children }: { word: string; up?: boolean; children: ReactNode }) {
  const [open, setOpen] = useState(false);
  const box = useRef<HTMLDivElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (!open) return;
    const outside = (event: PointerEvent) => {
      if (event.target instanceof Node && !box.current?.contains(event.target)) setOpen(false);
    };
    addEventListener("pointerdown", outside);
    return () => removeEventListener("pointerdown", outside);
  }, [open]);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: it only listens for Escape on its way up
    <div
      className={up ? "drawer up" : "drawer"}
      ref={box}
      onKeyDown={(event) => {
        if (event.key !== "Escape" || !open) return;
        event.stopPropagation();
        setOpen(false);
        button.current?.focus();
      }}
      onBlur={(event) => {
        if (event.relatedTarget !== null && !event.currentTarget.contains(event.relatedTarget)) setOpen(false);
      }}
    >
      <button type="button" className="act" ref={button} aria-expanded={open} onClick={() => setOpen(!open)}>
        {word}
      </button>
      {open ? (
        // biome-ignore lint/a11y/useSemanticElements: a fieldset would bring a border and a legend
        // biome-ignore lint/a11y/noStaticElementInteractions lint/a11y/useKeyWithClickEvents: a click on any word in it closes it
        <div role="group" aria-label={word} onClick={() => setOpen(false)}>
          {children}
        </div>
      ) : null}
    </div>
  );
}

const themes = [
  ["", "As the system"],
  ["light", "Light"],
  ["dark", "Dark"],
] as const;

/** Light, dark, or as the system; close rows or roomy ones. Kept for this browser. */
export function ThemeButtons() {
  const [theme, setTheme] = useState(() => document.documentElement.dataset.theme ?? "");
  const [close, setClose] = useState(() => document.documentElement.dataset.density === "close");
  return (
    <>
      {themes.map(([value, word]) => (
        <button
          key={value}
          type="button"
          className="act"
          aria-pressed={theme === value}
          onClick={() => {
            setTheme(value);
            keepSetting("theme", value);
          }}
        >
          {word}
        </button>
      ))}
      <hr />
      <button
        type="button"
        className="act"
        aria-pressed={close}
        onClick={() => {
          setClose(!close);
          keepSetting("density", close ? "" : "close");
        }}
      >
        Close rows
      </button>
    </>
  );
}

/** Applies a setting of the view and keeps it, where the browser lets the page keep anything. */
export function keepSetting(name: "theme" | "density", value: string): void {
  if (value === "") delete document.documentElement.dataset[name];
  else document.documentElement.dataset[name] = value;
  try {
    if (value === "") localStorage.removeItem(`invacuo.${name}`);
    else localStorage.setItem(`invacuo.${name}`, value);
  } catch (error) {
    // A browser that keeps nothing still shows the setting until the page is closed.
    if (!(error instanceof DOMException)) throw error;
  }
}

/** Applies the settings that were kept. */
export function recallSettings(): void {
  for (const name of ["theme", "density"] as const) {
    try {
      const value = localStorage.getItem(`invacuo.${name}`);
      if (value !== null) document.documentElement.dataset[name] = value;
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
    }
  }
}
