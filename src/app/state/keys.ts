import type { Move } from "./place";

/** What a key asks for. `none`: leave the key to the browser. */
export type Command =
  | { readonly do: "move"; readonly move: Move; readonly extend: boolean }
  | { readonly do: "choose"; readonly what: "all" | "row" | "column" }
  | { readonly do: "open" }
  | { readonly do: "keep"; readonly next: "down" | "up" | "next" | "previous" | "stay" }
  | { readonly do: "step"; readonly next: "next" | "previous" }
  | { readonly do: "leave" }
  | { readonly do: "clear" }
  | { readonly do: "undo" | "redo" | "save" | "why" | "fill-down" }
  | { readonly do: "add-row" | "remove-row" }
  | { readonly do: "shift"; readonly way: "up" | "down" | "left" | "right" }
  | { readonly do: "offer"; readonly way: "next" | "previous" }
  | { readonly do: "none" };

/** The parts of a keyboard event that decide. `composing` is true while an input method is at work. */
export interface KeyPress {
  readonly key: string;
  readonly ctrl?: boolean;
  readonly shift?: boolean;
  readonly alt?: boolean;
  readonly composing?: boolean;
}

const none: Command = { do: "none" };

const moves: ReadonlyMap<string, Move> = new Map([
  ["ArrowUp", "up"],
  ["ArrowDown", "down"],
  ["ArrowLeft", "left"],
  ["ArrowRight", "right"],
  ["Home", "row-start"],
  ["End", "row-end"],
  ["PageUp", "page-up"],
  ["PageDown", "page-down"],
]);

const arrows: ReadonlyMap<string, "up" | "down" | "left" | "right"> = new Map([
  ["ArrowUp", "up"],
  ["ArrowDown", "down"],
  ["ArrowLeft", "left"],
  ["ArrowRight", "right"],
]);

/** Keys that mean the same wherever the focus stands, unless a field is open (which has its own undo). */
export function anywhere(press: KeyPress): Command {
  if (press.composing || !press.ctrl || press.alt) return none;
  switch (press.key.toLowerCase()) {
    case "z":
      return { do: press.shift ? "redo" : "undo" };
    case "y":
      return { do: "redo" };
    case "s":
      return { do: "save" };
    default:
      return none;
  }
}

/** Keys in a table while nothing is being written. One who is filling it goes on with Tab; else a table is one stop. */
export function inGrid(press: KeyPress, filling = false): Command {
  if (press.composing) return none;
  const { key, ctrl = false, shift = false, alt = false } = press;
  if (alt) {
    const way = arrows.get(key);
    if (way === "down" && shift) return { do: "fill-down" };
    if (way !== undefined && !shift) return { do: "shift", way };
    if (key === "Enter") return { do: "why" };
    return none;
  }
  if (ctrl) {
    if (key === "Home") return { do: "move", move: "first", extend: shift };
    if (key === "End") return { do: "move", move: "last", extend: shift };
    if (key === "Enter") return { do: "add-row" };
    if (key === "Backspace" || key === "Delete") return { do: "remove-row" };
    if (key === " ") return { do: "choose", what: "column" };
    if (key.toLowerCase() === "a") return { do: "choose", what: "all" };
    return anywhere(press);
  }
  if (filling && key === "Tab") return { do: "step", next: shift ? "previous" : "next" };
  if (filling && key === "Escape") return { do: "leave" };
  const move = moves.get(key);
  if (move !== undefined) return { do: "move", move, extend: shift };
  if (shift && key === " ") return { do: "choose", what: "row" };
  if (key === "Enter" || key === "F2") return { do: "open" };
  if (key === "Delete" || key === "Backspace") return { do: "clear" };
  return none;
}

/** Keys at a value, a check or any other item outside a table, while nothing is being written. */
export function atItem(press: KeyPress): Command {
  if (press.composing) return none;
  const { key, ctrl = false, shift = false, alt = false } = press;
  if (alt) {
    if (key === "ArrowUp") return { do: "shift", way: "up" };
    if (key === "ArrowDown") return { do: "shift", way: "down" };
    if (key === "Enter") return { do: "why" };
    return none;
  }
  if (ctrl) {
    if (key === "Backspace" || key === "Delete") return { do: "remove-row" };
    return anywhere(press);
  }
  if (shift) return none;
  if (key === "Enter" || key === "F2") return { do: "open" };
  return none;
}

/** Keys while something is being written. With offers on show, arrows walk through them and Enter takes the chosen one. */
export function whileWriting(
  press: KeyPress,
  offers: { readonly shown: boolean; readonly chosen: boolean },
): Command {
  if (press.composing) return none;
  const { key, ctrl = false, shift = false, alt = false } = press;
  if (key === "Escape") return { do: "leave" };
  if (ctrl && key.toLowerCase() === "s") return { do: "save" };
  if (ctrl || alt) return none;
  if (offers.shown && key === "ArrowDown") return { do: "offer", way: "next" };
  if (offers.shown && key === "ArrowUp") return { do: "offer", way: "previous" };
  if (key === "Enter") return { do: "keep", next: shift ? "up" : "down" };
  if (key === "Tab") return { do: "keep", next: shift ? "previous" : "next" };
  if (key === "F2") return { do: "keep", next: "stay" };
  return none;
}
