import { type Book, underwayOf } from "../../engine";
import { unitReadings } from "./bare-numbers";
import { type CommaRule, type Reading, readings } from "./commas";
import { type History, noHistory, redone, remembered, undone } from "./history";
import type { Incoming } from "./incoming";
import { itemAt, tableAt } from "./items";
import {
  cellPlace,
  type Extent,
  extentOf,
  FORMULAS_ROW,
  type GridShape,
  type Move,
  moved,
  NAMES_ROW,
  type Place,
  samePlace,
} from "./place";
import type { Edit, Slot } from "./slot";
import { slotAt } from "./slots";

/** Where keeping leads: to a neighbour, or nowhere. */
export type Onward = "down" | "up" | "next" | "previous" | "stay";

/** What is being written, and where. What was typed lives here until it is kept in the text or given up. */
export interface Draft {
  readonly place: Place;
  readonly text: string;
  /** Where the caret stands in `text`. */
  readonly caret: number;
  /** The whole text is chosen, so that the first letter takes its place: it stands there only until it is written. */
  readonly all?: boolean;
  /** Which of the two fields has the keyboard: the one in its place, or the formula line. */
  readonly via: "place" | "line";
  /** A comma was typed: which number is meant? And where the key that asked leads once that is told. */
  readonly ask?: readonly Reading[];
  readonly onward?: Onward;
  /** What can stand here was asked for, though nothing was typed yet. */
  readonly asked?: boolean;
  /** Why it could not be kept. */
  readonly refused?: string;
}

/** A corner of what is chosen. The other one is `to`, or where the writer stands. */
interface Corner {
  readonly row: number;
  readonly column: number;
  readonly to?: { readonly row: number; readonly column: number };
}

/** Where the writer stands; kept with each change, so that undo puts the writer back. */
export interface Standing {
  readonly here?: Place | undefined;
  readonly anchor?: Corner | undefined;
}

export type Side = "none" | "why" | "text" | "functions" | "read" | "compare";

/** An open book and everything about how it is being worked on. */
export interface Notebook extends Standing {
  /** Under this name the browser keeps it. */
  readonly id: string;
  /** Name of the file, offered when it is saved. */
  readonly file: string;
  readonly book: Book;
  readonly history: History<Standing>;
  readonly draft?: Draft | undefined;
  /** Dotted path that *why* explains. */
  readonly asked?: string | undefined;
  readonly side: Side;
  /** Enter or Tab led to `here` from a cell that was written: Tab goes on to the next cell instead of out of the table. */
  readonly filling?: boolean;
  /** Counts up whenever the keyboard must go to `here`. */
  readonly focus: number;
  /** Read aloud: what just happened. */
  readonly said: string;
  /** Shown for a moment: what could not be done, or was done out of sight. Counts apart two of the same words. */
  readonly told?: { readonly text: string; readonly count: number } | undefined;
  /** What could not be kept when its field was left, so that it can be taken up again. */
  readonly aside?: Aside | undefined;
  /** A paste that needs an answer first. */
  readonly paste?: PasteQuestion | undefined;
  /** Tables on their way in. */
  readonly bring?: Incoming | undefined;
}

export interface Aside {
  readonly place: Place;
  readonly text: string;
  readonly why: string;
}

export interface PasteQuestion {
  readonly place: Place;
  readonly rows: readonly (readonly string[])[];
  readonly rule: CommaRule;
}

export type Action =
  | { readonly type: "go"; readonly place: Place; readonly extend?: boolean; readonly focus?: boolean }
  | { readonly type: "move"; readonly move: Move; readonly extend: boolean }
  | { readonly type: "choose"; readonly what: "all" | "row" | "column" }
  | {
      readonly type: "write";
      readonly text?: string;
      readonly caret?: number;
      /** All that stands there is chosen, so that what is typed takes its place. */
      readonly all?: boolean;
      readonly via: "place" | "line";
    }
  | {
      readonly type: "change";
      readonly text: string;
      readonly caret: number;
      readonly via?: "place" | "line";
    }
  | {
      readonly type: "keep";
      readonly next: Onward | "here";
      readonly text?: string;
      readonly asIs?: boolean;
    }
  | { readonly type: "leave" }
  /** Takes up again what was set aside, or lets it go. */
  /** On to the next cell that is typed, or the one before. */
  /** Shows what can stand at the caret of the open draft. */
  | { readonly type: "offer" }
  | { readonly type: "step"; readonly next: "next" | "previous" }
  | { readonly type: "aside"; readonly take: boolean }
  | { readonly type: "edit"; readonly edit: Edit; readonly thread?: string }
  | { readonly type: "typed"; readonly text: string }
  | { readonly type: "undo" }
  | { readonly type: "redo" }
  | { readonly type: "ask"; readonly path: string | undefined }
  | { readonly type: "side"; readonly side: Side }
  | { readonly type: "say"; readonly text: string }
  | { readonly type: "paste"; readonly question: PasteQuestion | undefined }
  /** The same text, worked out anew: with functions that have come, or values that were searched for elsewhere. */
  | { readonly type: "again"; readonly book: Book }
  | { readonly type: "bring"; readonly what: Incoming | undefined }
  | { readonly type: "renew"; readonly book: Book };

export function openNotebook(id: string, file: string, book: Book): Notebook {
  return { id, file, book, history: noHistory(), side: "none", focus: 0, said: "" };
}

/** The next state. Pure: the same state and action give the same result. */
export function notebook(state: Notebook, action: Action): Notebook {
  switch (action.type) {
    case "go": {
      // Arriving where a draft is open already is no reason to close it.
      const isThere = samePlace(state.draft?.place, action.place);
      const left = isThere ? state : kept(state);
      if (left.draft !== undefined && !isThere) return left;
      return gone(left, action.place, action.extend ?? false, action.focus ?? true);
    }
    case "move":
      return movedBy(state, action.move, action.extend);
    case "choose":
      return chosen(state, action.what);
    case "write":
      return action.all
        ? chosenWhole(written(state, undefined, undefined, action.via))
        : written(state, action.text, action.caret, action.via);
    case "change": {
      if (state.draft === undefined) return state;
      // What is typed on behind a question does not become part of the number that is asked about.
      if (
        state.draft.ask !== undefined &&
        action.text !== state.draft.text &&
        action.text.startsWith(state.draft.text)
      )
        return tell(state, SAY_FIRST);
      const { ask: _, refused: __, all: ___, ...draft } = state.draft;
      return {
        ...state,
        draft: { ...draft, text: action.text, caret: action.caret, via: action.via ?? draft.via },
      };
    }
    case "keep":
      return keptThen(state, action);
    case "offer":
      return state.draft === undefined ? state : { ...state, draft: { ...state.draft, asked: true } };
    case "step": {
      const to = state.here && nextPlace(state, state.here, action.next);
      return to === undefined ? state : { ...gone(state, to, false, true), filling: true };
    }
    case "leave": {
      if (state.draft === undefined) return { ...state, filling: false };
      if (state.draft.ask !== undefined) return { ...state, draft: { ...state.draft, ask: undefined } };
      return { ...state, draft: undefined, filling: false, focus: state.focus + 1, said: "Left as it was." };
    }
    case "aside": {
      const { aside } = state;
      if (aside === undefined) return state;
      const cleared = { ...state, aside: undefined };
      return action.take
        ? written(gone(kept(cleared), aside.place, false, true), aside.text, aside.text.length, "place")
        : cleared;
    }
    case "edit":
      return edited(state, action.edit, action.thread);
    case "typed":
      return edited(state, { says: "typing in the text", text: action.text }, "text");
    case "undo":
    case "redo":
      return turned(state, action.type);
    case "ask":
      if (action.path === undefined) return { ...state, asked: undefined };
      return {
        ...state,
        asked: action.path,
        side: "why",
        said: `Beside the page stands why ${action.path} is what it is.`,
      };
    case "side":
      return { ...state, side: action.side };
    case "say":
      return tell(state, action.text);
    case "paste":
      return { ...state, paste: action.question };
    case "bring":
      return { ...state, bring: action.what };
    case "again": {
      const isThere = underwayOf(state.book) && !underwayOf(action.book);
      const says = state.history.past.at(-1)?.says;
      const said = says === undefined ? "The book is worked out." : outcome(state.book, action.book, says);
      return { ...state, book: action.book, ...(isThere && { said }) };
    }
    case "renew":
      return {
        ...state,
        book: action.book,
        history: noHistory(),
        draft: undefined,
        here: undefined,
        anchor: undefined,
      };
  }
}

/** Says something to those who hear the page and to those who see it. */
const tell = (state: Notebook, text: string): Notebook => ({
  ...state,
  said: text,
  told: { text, count: (state.told?.count ?? 0) + 1 },
});

/** The rectangle of cells that is chosen, or undefined outside tables. */
export function chosenExtent(state: Standing): Extent | undefined {
  if (state.here?.in !== "cell") return undefined;
  return extentOf(state.anchor?.to ?? state.here, state.anchor ?? state.here);
}

/** What the keyboard can reach in the table under a key. */
export function shapeOf(book: Book, key: string): GridShape | undefined {
  const table = tableAt(book, key);
  return table && { rows: table.rowCount, columns: table.columns.length, hasFoot: table.feet.size > 0 };
}

function gone(state: Notebook, place: Place, extend: boolean, focus: boolean): Notebook {
  const anchor =
    extend && place.in === "cell" && state.here?.in === "cell" && state.here.key === place.key
      ? state.anchor === undefined || state.anchor.to !== undefined
        ? { row: state.here.row, column: state.here.column }
        : state.anchor
      : undefined;
  if (!focus && samePlace(state.here, place) && state.anchor === anchor) return state;
  return { ...state, here: place, anchor, filling: false, focus: focus ? state.focus + 1 : state.focus };
}

function movedBy(state: Notebook, move: Move, extend: boolean): Notebook {
  const { here } = state;
  if (here?.in !== "cell") return state;
  const shape = shapeOf(state.book, here.key);
  if (shape === undefined) return state;
  const to = moved(here, move, shape);
  return gone(state, cellPlace(here.key, to.row, to.column), extend, true);
}

function chosen(state: Notebook, what: "all" | "row" | "column"): Notebook {
  const { here } = state;
  if (here?.in !== "cell") return state;
  const shape = shapeOf(state.book, here.key);
  if (shape === undefined || shape.rows === 0) return state;
  const right = shape.columns - 1;
  const row = Math.min(Math.max(here.row, 0), shape.rows - 1);
  const [to, anchor] =
    what === "all"
      ? [
          { row: 0, column: 0 },
          { row: shape.rows - 1, column: right },
        ]
      : what === "row"
        ? [
            { row, column: 0 },
            { row, column: right },
          ]
        : [
            { row: 0, column: here.column },
            { row: shape.rows - 1, column: here.column },
          ];
  return {
    ...state,
    // The writer stays: what is typed goes into the same cell as before.
    here: cellPlace(here.key, row, here.column),
    anchor: { ...anchor, to },
    filling: false,
    focus: state.focus + 1,
  };
}

function written(
  state: Notebook,
  text: string | undefined,
  caret: number | undefined,
  via: "place" | "line",
): Notebook {
  const { here } = state;
  if (here === undefined) return state;
  if (state.draft !== undefined && samePlace(state.draft.place, here))
    return { ...state, draft: { ...state.draft, via } };
  const slot = slotAt(state.book, here);
  if (slot === undefined) return tell(state, "Nothing can be written here.");
  const start = text ?? slot.text;
  return {
    ...state,
    anchor: undefined,
    draft: { place: here, text: start, caret: caret ?? start.length, via },
  };
}

const SAY_FIRST = "Say first which number is meant: Enter takes the chosen one, Esc goes back to writing.";

/**
 * What a draft is taken for when its field is left: a comma of one reading is settled, a number without its unit gets it.
 * Undefined where a comma has several readings. A comma among words stays.
 */
export function meantBy(slot: Slot, { text, ask }: Pick<Draft, "text" | "ask">): string | undefined {
  const read = slot.words ? undefined : (ask ?? commaQuestion(slot, text));
  if (read?.[1] !== undefined) return undefined;
  const number = read?.[0]?.text ?? text;
  return unitReadings(slot, number)?.[0]?.text ?? number;
}

/**
 * Keeps an open draft before something else happens: what was typed is never lost. Where only the writer can say which
 * number is meant, the draft stays open and asks.
 */
function kept(state: Notebook): Notebook {
  const { draft } = state;
  const slot = draft && slotAt(state.book, draft.place);
  const closed = { ...state, draft: undefined };
  if (slot === undefined || draft!.text === slot.text) return closed;
  const text = meantBy(slot, draft!);
  const ask = commaQuestion(slot, draft!.text);
  if (text === undefined)
    return gone(tell({ ...state, draft: { ...draft!, ask } }, SAY_FIRST), draft!.place, false, true);
  const edit = slot.write(text);
  if ("refused" in edit) return setAside(closed, draft!, edit.refused);
  const after = edited(closed, { says: edit.says, text: edit.text });
  return slot.words || ask === undefined || draft!.ask !== undefined
    ? after
    : tell(after, `${draft!.text} was kept as ${text}; Undo takes it back.`);
}

function keptThen(state: Notebook, action: Extract<Action, { type: "keep" }>): Notebook {
  const { draft } = state;
  // Leaving the field took the keyboard elsewhere already; it stays there.
  if (action.next === "here") return kept(state);
  if (draft === undefined) return state;
  const slot = slotAt(state.book, draft.place);
  if (slot === undefined) return { ...state, draft: undefined };
  const text = action.text ?? draft.text;
  const question = action.asIs || action.text !== undefined ? undefined : commaQuestion(slot, text);
  if (question !== undefined && draft.ask === undefined)
    return { ...state, draft: { ...draft, ask: question, onward: action.next } };
  const edit = text === slot.text ? undefined : slot.write(text);
  if (edit !== undefined && "refused" in edit) {
    return { ...state, draft: { ...draft, text, refused: edit.refused, ask: undefined }, said: edit.refused };
  }
  const closed = { ...state, draft: undefined };
  const after = edit === undefined ? closed : edited(closed, edit);
  // An answer about a comma goes on to where the key led that was answered by the question.
  const next = action.text === undefined ? action.next : (draft.onward ?? action.next);
  if (edit?.lands === undefined && slot.leads !== undefined)
    return openAt(gone(after, slot.leads, false, true), { open: true });
  const place = edit?.lands ?? nextPlace(after, draft.place, next);
  return { ...gone(after, place, false, true), filling: place.in === "cell" && next !== "stay" };
}

/** What was typed and cannot stand there is not thrown away: it waits to be taken up again. */
const setAside = (state: Notebook, draft: Draft, why: string): Notebook => ({
  ...state,
  aside: { place: draft.place, text: draft.text, why },
  said: `Not kept: ${draft.text}. ${why}`,
});

/** Whether keeping the open draft would first ask how a comma is meant. */
export function wouldAsk({ book, draft }: Notebook): boolean {
  if (draft === undefined || draft.ask !== undefined) return false;
  const slot = slotAt(book, draft.place);
  return slot !== undefined && commaQuestion(slot, draft.text) !== undefined;
}

/** Commas are asked about where a quantity is wanted, never inside sentences and names. */
function commaQuestion(slot: Slot, text: string): readonly Reading[] | undefined {
  if (slot.language !== "cell" && slot.language !== "formula") return undefined;
  return readings(text);
}

/** Where Enter and Tab lead after something was kept. */
export function nextPlace(state: Notebook, place: Place, next: Onward): Place {
  if (place.in !== "cell" || next === "stay") return place;
  const shape = shapeOf(state.book, place.key);
  const table = tableAt(state.book, place.key);
  if (shape === undefined || table === undefined) return place;
  // Below the name of a typed column its cells begin; below that of a computed one stands its formula.
  if (next === "down" && place.row === NAMES_ROW && table.columns[place.column]?.typed && shape.rows > 0)
    return cellPlace(place.key, 0, place.column);
  // From the name of the last row its numbers are next, if one is still to be filled in.
  if (next === "down" && place.column === 0 && place.row === shape.rows - 1) {
    const blank = table.columns.findIndex(
      ({ typed }, c) => c > 0 && typed && table.cell(place.row, c).state === "gap",
    );
    if (blank > 0) return cellPlace(place.key, place.row, blank);
  }
  if (next === "down" || next === "up") {
    const to = moved(place, next, shape);
    return cellPlace(place.key, to.row, to.column);
  }
  const step = next === "next" ? 1 : -1;
  if (place.row < 0 || place.row >= shape.rows)
    return cellPlace(place.key, place.row, Math.min(Math.max(place.column + step, 0), shape.columns - 1));
  let row = place.row;
  let column = place.column + step;
  for (;;) {
    if (column < 0 || column >= shape.columns) {
      row += step;
      if (row < 0 || row >= shape.rows) return place;
      column = step === 1 ? 0 : shape.columns - 1;
    }
    if (table.columns[column]!.typed) return cellPlace(place.key, row, column);
    column += step;
  }
}

function edited(state: Notebook, edit: Edit, thread?: string): Notebook {
  const standing: Standing = { here: state.here, anchor: state.anchor };
  const there: Standing = edit.lands === undefined ? standing : { here: edit.lands };
  if (edit.text === state.book.text) {
    return edit.lands === undefined ? state : openAt(gone(state, edit.lands, false, true), edit);
  }
  const history = remembered(state.history, state.book.text, edit.text, {
    says: edit.says,
    before: standing,
    after: there,
    ...(thread === undefined ? {} : { thread }),
  });
  const book = state.book.edit(edit.text);
  const next: Notebook = { ...state, book, history, said: outcome(state.book, book, edit.says) };
  const settled = edit.lands === undefined ? settledIn(next) : gone(next, edit.lands, false, true);
  return openAt(settled, edit);
}

/** Opens what was just added. Its first words stand in for the writer's own; a whole statement is a pattern to go by. */
function openAt(state: Notebook, edit: Pick<Edit, "open">): Notebook {
  if (!edit.open) return state;
  const { here } = state;
  // A whole statement has no field on the page: it is written in the formula line.
  if (here?.in === "item" && here.field === "statement") return written(state, undefined, undefined, "line");
  return chosenWhole(written(state, undefined, 0, "place"));
}

const chosenWhole = (open: Notebook): Notebook =>
  open.draft === undefined ? open : { ...open, draft: { ...open.draft, all: true } };

/** One sentence on what a change did, for those who hear the page. */
function outcome(before: Book, after: Book, says: string): string {
  if (underwayOf(after)) return `Changed ${says}. The book is being worked out.`;
  const parts = [`Changed ${says}, recalculated.`];
  const { faults, gaps, unmet } = after.tally;
  if (faults !== before.tally.faults)
    parts.push(faults === 0 ? "No faults." : faults === 1 ? "1 fault." : `${faults} faults.`);
  if (unmet !== before.tally.unmet)
    parts.push(
      unmet === 0 ? "All checks met." : unmet === 1 ? "1 check not met." : `${unmet} checks not met.`,
    );
  if (gaps !== before.tally.gaps) parts.push(gaps === 1 ? "1 gap." : `${gaps} gaps.`);
  return parts.join(" ");
}

/** The same standing, inside what the book has now. */
function settledIn(state: Notebook): Notebook {
  const { here, book } = state;
  if (here === undefined) return state;
  if (here.in === "item")
    return itemAt(book, here.key) ? state : { ...state, here: undefined, anchor: undefined };
  const shape = shapeOf(book, here.key);
  if (shape === undefined) return { ...state, here: undefined, anchor: undefined };
  const lowest = shape.rows - 1 + (shape.hasFoot ? 1 : 0);
  const row = Math.min(Math.max(here.row, NAMES_ROW), Math.max(lowest, FORMULAS_ROW));
  const column = Math.min(here.column, Math.max(0, shape.columns - 1));
  if (row === here.row && column === here.column) return state;
  return { ...state, here: cellPlace(here.key, row, column), anchor: undefined };
}

function turned(state: Notebook, way: "undo" | "redo"): Notebook {
  const step =
    way === "undo" ? undone(state.history, state.book.text) : redone(state.history, state.book.text);
  if (step === undefined) return tell(state, way === "undo" ? "Nothing to undo." : "Nothing to redo.");
  const standing = way === "undo" ? step.entry.before : step.entry.after;
  return settledIn({
    ...tell(state, `${way === "undo" ? "Took back" : "Made again"}: ${step.entry.says}.`),
    book: state.book.edit(step.text),
    history: step.history,
    draft: undefined,
    here: standing.here,
    anchor: standing.anchor,
    filling: false,
    focus: state.focus + 1,
  });
}
