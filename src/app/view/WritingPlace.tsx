import {
  type ClipboardEvent,
  type CSSProperties,
  type KeyboardEvent,
  type ReactNode,
  type RefObject,
  useEffect,
  useLayoutEffect,
  useRef,
} from "react";
import { elementId } from "../state/items";
import { atItem, inGrid, type KeyPress, whileWriting } from "../state/keys";
import { type Draft, type Notebook, wouldAsk } from "../state/notebook";
import { type Place, samePlace } from "../state/place";
import { slotAt } from "../state/slots";
import type { Store } from "../state/store";
import { useStore } from "../state/store";
import { perform } from "./commands";
import { Inked } from "./Inked";
import { type OfferList, Offers, useListHeard, useOffers } from "./Offers";
import { useNotebook } from "./workbench";

interface WritingPlaceProps {
  readonly place: Place;
  /** Read aloud: what it is and what stands there. A cell says that itself. */
  readonly label?: string;
  /** The id of the cell that it lies over, in a table: one field serves all cells, and goes where the writer goes. */
  readonly cell?: string;
  readonly children?: ReactNode;
  readonly className?: string;
  /** Nothing can be typed here; the keys still work. */
  readonly readOnly?: boolean;
  /** False: reached by touch and by command, not by Tab. */
  readonly stop?: boolean;
  /** The field grows towards the left. */
  readonly fromRight?: boolean;
  readonly onCopy?: (event: ClipboardEvent<HTMLTextAreaElement>) => void;
  readonly onPaste?: (event: ClipboardEvent<HTMLTextAreaElement>) => void;
}

/** Requests for the keyboard that were served, so that a place that is drawn anew does not take it again. */
const served = new WeakMap<object, number>();

/**
 * A place where something can be written. A real text field lies over what is shown, empty and focused while
 * the place is only chosen, so that typing (and an input method) starts in it; it becomes visible when it opens.
 */
export function WritingPlace(props: WritingPlaceProps) {
  const { place, label, cell, children, className = "", readOnly = false, stop = true } = props;
  const store = useNotebook();
  const { here, draft, focus } = useStore(store, (s) => standing(s, place), sameStanding);
  const area = useRef<HTMLTextAreaElement>(null);
  const box = useRef<HTMLSpanElement>(null);
  const open = draft !== undefined && draft.via === "place";
  const offers = useOffers(open ? draft : undefined);
  const heard = useListHeard(offers);

  useOverCell(box, cell);
  useLayoutEffect(() => {
    if (!here || focus <= (served.get(store) ?? 0) || draft?.via === "line") return;
    served.set(store, focus);
    area.current?.focus();
  }, [here, focus, draft?.via, store]);

  // A field that has the keyboard already is not scrolled to; its cell is, once the formula line has its height.
  useEffect(() => {
    if (here && focus > 0 && cell !== undefined)
      document.getElementById(cell)?.scrollIntoView({ block: "nearest", inline: "nearest" });
  }, [here, focus, cell]);

  useFieldRect(open, props.fromRight ?? false, box, cell);
  useLayoutEffect(() => {
    const field = area.current;
    if (!open || !field || document.activeElement !== field) return;
    if (draft.all) field.select();
    else if (field.selectionStart !== draft.caret) field.setSelectionRange(draft.caret, draft.caret);
  }, [open, draft?.caret, draft?.all]);

  const grid = place.in === "cell";
  return (
    <span ref={box} className={`place ${className}${open ? " open" : ""}`}>
      {cell === undefined ? <span className="shown">{children}</span> : null}
      <span className={open ? "field" : "catcher"}>
        <span className="ink-under" aria-hidden="true">
          {open ? <Inked text={draft.text} place={place} caret={draft.caret} /> : null}
        </span>
        <textarea
          ref={area}
          className={open ? "writes" : "catch"}
          rows={1}
          value={open ? draft.text : ""}
          readOnly={readOnly}
          tabIndex={stop ? 0 : -1}
          aria-label={label}
          aria-labelledby={cell}
          aria-readonly={readOnly || undefined}
          aria-autocomplete={open ? "list" : undefined}
          aria-controls={open ? heard.list : grid && here ? elementId(place.key) : undefined}
          aria-activedescendant={open ? heard.option : here ? cell : undefined}
          aria-invalid={draft?.refused === undefined ? undefined : true}
          aria-describedby={draft?.refused === undefined ? undefined : "foretell"}
          inputMode={open ? "text" : "none"}
          autoCapitalize="off"
          autoCorrect="off"
          autoComplete="off"
          spellCheck={false}
          enterKeyHint="done"
          onFocus={() =>
            store.send({ type: "go", place, focus: false, extend: keepsExtent(store.get(), place) })
          }
          // The field of another place may be open by now; that one is not left.
          onBlur={open ? (event) => leaveField(store, event.relatedTarget, "place") : undefined}
          onChange={(event) => typed(store, place, event.currentTarget)}
          onSelect={(event) => followCaret(store, event.currentTarget, "place")}
          onKeyDown={(event) => pressed(store, event, open, offers, grid)}
          onCopy={open ? undefined : props.onCopy}
          onCut={open ? undefined : props.onCopy}
          onPaste={open ? undefined : props.onPaste}
        />
      </span>
      {open ? <Offers offers={offers} draft={draft} anchor={box} /> : null}
    </span>
  );
}

/** Focus arriving at the place where the writer stands already leaves the chosen rectangle alone. */
const keepsExtent = (state: Notebook, place: Place): boolean =>
  samePlace(state.here, place) && state.anchor !== undefined;

interface Standing {
  readonly here: boolean;
  readonly draft: Draft | undefined;
  readonly focus: number;
}

function standing(state: Notebook, place: Place): Standing {
  const here = samePlace(state.here, place);
  return {
    here,
    draft: here && samePlace(state.draft?.place, place) ? state.draft : undefined,
    focus: here ? state.focus : 0,
  };
}

const sameStanding = (a: Standing, b: Standing): boolean =>
  a.here === b.here && a.draft === b.draft && a.focus === b.focus;

/** What was typed goes into the draft; the first letter opens the field. */
export function typed(store: ReturnType<typeof useNotebook>, place: Place, field: HTMLTextAreaElement): void {
  const { draft } = store.get();
  const caret = field.selectionStart;
  if (draft !== undefined && samePlace(draft.place, place))
    store.send({ type: "change", text: field.value, caret });
  else store.send({ type: "write", text: field.value, caret, via: "place" });
}

export function followCaret(
  store: ReturnType<typeof useNotebook>,
  field: HTMLTextAreaElement,
  via: "place" | "line",
): void {
  const { draft } = store.get();
  if (draft === undefined || draft.via !== via || draft.caret === field.selectionStart) return;
  if (draft.text !== field.value) return;
  // As long as all is chosen, what is offered is what fits at its caret.
  if (draft.all && field.selectionStart === 0 && field.selectionEnd === field.value.length) return;
  store.send({ type: "change", text: draft.text, caret: field.selectionStart });
}

/** Leaving a field keeps what was typed, unless only the other field for the same place takes over. */
export function leaveField(
  store: ReturnType<typeof useNotebook>,
  to: EventTarget | null,
  via: "place" | "line",
): void {
  const { draft } = store.get();
  if (draft === undefined || draft.via !== via || !document.hasFocus()) return;
  if (to instanceof Element && to.closest("[data-line], .offers") !== null) return;
  store.send({ type: "keep", next: "here" });
}

export const pressOf = (event: KeyboardEvent): KeyPress => ({
  key: event.key,
  ctrl: event.ctrlKey || event.metaKey,
  shift: event.shiftKey,
  alt: event.altKey,
  composing: event.nativeEvent.isComposing || event.keyCode === 229,
});

/** One key at a writing place, open or only chosen. */
export function pressed(
  store: Store<Notebook, Parameters<ReturnType<typeof useNotebook>["send"]>[0]>,
  event: KeyboardEvent,
  open: boolean,
  offers: OfferList,
  grid: boolean,
): void {
  const press = pressOf(event);
  const command = open
    ? whileWriting(press, { shown: offers.held || offers.list.length > 0, chosen: offers.chosen >= 0 })
    : grid
      ? inGrid(press, store.get().filling)
      : atItem(press);
  if (command.do === "none") return;
  if (open && command.do === "keep" && offers.chosen >= 0 && (press.key === "Enter" || press.key === "Tab")) {
    event.preventDefault();
    offers.take(offers.chosen, command.next);
    return;
  }
  // Outside tables Tab goes on to the next place by itself, and leaving the field keeps what was typed; a comma is asked about first.
  if (open && !grid && press.key === "Tab" && !wouldAsk(store.get())) return;
  if (command.do === "offer") {
    event.preventDefault();
    offers.walk(command.way);
    return;
  }
  if (perform(store, command)) event.preventDefault();
}

/** Keeps the raised field over its place while anything scrolls, so that no table cuts it off. */
function useFieldRect(
  open: boolean,
  fromRight: boolean,
  box: RefObject<HTMLSpanElement | null>,
  over: string | undefined,
): void {
  useLayoutEffect(() => {
    const element = box.current;
    if (!open || element === null) return;
    const cell = (over === undefined ? null : document.getElementById(over)) ?? element;
    const put = () => {
      const r = cell.getBoundingClientRect();
      const set = (name: string, value: number) => element.style.setProperty(name, `${Math.round(value)}px`);
      set("--x", r.left);
      set("--y", r.top);
      set("--w", r.width);
      set("--h", r.height);
      set("--right", document.documentElement.clientWidth - r.right);
      // A field grows to where it has more room; that of a number, which stands at the right, sooner to the left.
      element.classList.toggle("from-right", r.left > innerWidth * (fromRight ? 0.35 : 0.6));
    };
    put();
    addEventListener("scroll", put, { passive: true, capture: true });
    addEventListener("resize", put);
    return () => {
      removeEventListener("scroll", put, { capture: true });
      removeEventListener("resize", put);
    };
  }, [open, fromRight, box, over]);
}

/** Lays the empty field over its cell: an input method and a touch that is held begin there. */
function useOverCell(box: RefObject<HTMLSpanElement | null>, over: string | undefined): void {
  useLayoutEffect(() => {
    const cell = over === undefined ? null : document.getElementById(over);
    const hold = box.current?.parentElement;
    if (box.current === null || cell === null || !hold) return;
    const r = cell.getBoundingClientRect();
    const from = hold.getBoundingClientRect();
    Object.assign(box.current.style, {
      left: `${r.left - from.left + hold.scrollLeft}px`,
      top: `${r.top - from.top + hold.scrollTop}px`,
      width: `${r.width}px`,
      height: `${r.height}px`,
    });
  });
}

/** Custom properties as a style, for the few places where a length comes from the data. */
export const lengths = (properties: Readonly<Record<`--${string}`, string>>): CSSProperties =>
  properties as CSSProperties;

/** Opens a place that was chosen already: in itself at a desk, in the formula line under a finger. */
export function openPlace(store: ReturnType<typeof useNotebook>): void {
  const state = store.get();
  if (state.here === undefined || slotAt(state.book, state.here) === undefined) return;
  // A finger does not find the place before a unit: there what is typed takes the place of all.
  store.send(writesInLine() ? { type: "write", via: "line", all: true } : { type: "write", via: "place" });
}

/** On a phone and under a finger the formula line is the field, for it stands above the keyboard. */
export const writesInLine = (): boolean => matchMedia("(pointer: coarse), (max-width: 719px)").matches;
