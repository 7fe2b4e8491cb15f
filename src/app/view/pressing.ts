import type { MouseEvent } from "react";
import type { Action, Notebook } from "../state/notebook";
import type { Store } from "../state/store";

/**
 * Handlers for what holds the whole page. Pressing a command takes nothing out of an open field: what is written there is
 * kept when the press is let go, for keeping it earlier may move the page, and the command from under the pointer.
 */
export const pressing = (store: Store<Notebook, Action>) => ({
  onMouseDownCapture(event: MouseEvent) {
    if (store.get().draft !== undefined && onCommand(event.target)) event.preventDefault();
  },
  onClickCapture(event: MouseEvent) {
    if (store.get().draft === undefined || !onCommand(event.target)) return;
    store.send({ type: "keep", next: "here" });
    // It asks which number is meant: the command waits for the answer.
    if (store.get().draft === undefined) return;
    event.preventDefault();
    event.stopPropagation();
  },
});

/** A command of the page; the ones of the open field itself decide on their own what becomes of it. */
const onCommand = (target: EventTarget): boolean =>
  target instanceof Element &&
  target.closest("button, a, summary") !== null &&
  target.closest("[data-line], .offers") === null;
