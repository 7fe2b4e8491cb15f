import {
  addRow,
  clearCells,
  fillDown,
  moveColumn,
  moveItem,
  moveRow,
  removeColumn,
  removeItem,
  removeRows,
} from "../state/item-edits";
import type { Command } from "../state/keys";
import { type Action, chosenExtent, type Notebook, nextPlace } from "../state/notebook";
import { pathOfPlace } from "../state/paths";
import { FORMULAS_ROW, samePlace } from "../state/place";
import type { Edit, Refusal } from "../state/slot";
import { slotAt } from "../state/slots";
import type { Store } from "../state/store";
import { openPlace } from "./WritingPlace";

/** Does what a key or a button asks for, at the place where the writer stands. True when it was dealt with. */
export function perform(store: Store<Notebook, Action>, command: Command): boolean {
  const state = store.get();
  const { here, book } = state;
  switch (command.do) {
    case "move":
      store.send({ type: "move", move: command.move, extend: command.extend });
      return true;
    case "choose":
      store.send({ type: "choose", what: command.what });
      return true;
    case "open":
      if (here?.in === "cell" && computedCell(state)) {
        // A computed cell is written in its formula: the line shows it, for every row at once.
        store.send({ type: "write", via: "line" });
        return true;
      }
      openPlace(store);
      return true;
    case "keep":
      store.send({ type: "keep", next: command.next });
      return true;
    case "step":
      // Past the last cell Tab leaves the table, as it does without filling.
      if (here === undefined || samePlace(nextPlace(state, here, command.next), here)) {
        store.send({ type: "leave" });
        return false;
      }
      store.send({ type: "step", next: command.next });
      return true;
    case "leave":
      store.send({ type: "leave" });
      return true;
    case "why": {
      const path = here === undefined ? undefined : pathOfPlace(book, here);
      if (path !== undefined) store.send({ type: "ask", path });
      return true;
    }
    case "clear":
    case "fill-down": {
      const extent = chosenExtent(state);
      if (here?.in !== "cell" || extent === undefined) return false;
      if (command.do === "fill-down") apply(store, fillDown(book, here.key, extent));
      else if (here.row < 0 || here.row >= rowsOf(state)) clearSlot(store);
      else apply(store, clearCells(book, here.key, extent));
      return true;
    }
    case "add-row":
      if (here?.in !== "cell") return false;
      apply(store, addRow(book, here.key, Math.min(Math.max(here.row, -1), rowsOf(state) - 1)));
      return true;
    case "remove-row": {
      if (here === undefined) return false;
      if (here.in === "item") apply(store, removeItem(book, here.key));
      else if (here.row < 0) apply(store, removeColumn(book, here.key, here.column));
      else {
        const extent = chosenExtent(state)!;
        apply(store, removeRows(book, here.key, extent.top, extent.bottom));
      }
      return true;
    }
    case "shift": {
      if (here === undefined) return false;
      if (command.way === "left" || command.way === "right") {
        if (here.in !== "cell") return false;
        apply(store, moveColumn(book, here.key, here.column, command.way));
      } else if (here.in === "item") apply(store, moveItem(book, here.key, command.way));
      else if (here.row >= 0) apply(store, moveRow(book, here.key, here.row, command.way));
      return true;
    }
    default:
      return false;
  }
}

/** Makes an edit, or says why it cannot be made. */
export function apply(store: Store<Notebook, Action>, edit: Edit | Refusal): void {
  if ("refused" in edit) store.send({ type: "say", text: edit.refused });
  else store.send({ type: "edit", edit });
}

function rowsOf(state: Notebook): number {
  if (state.here?.in !== "cell") return 0;
  const { key } = state.here;
  const item = state.book.items.find(
    (i) => i.type === "table" && `table:${i.name}` === key.replace(/~\d+$/, ""),
  );
  return item?.type === "table" ? item.rowCount : 0;
}

/** Whether the writer stands on a cell that is worked out from its column's formula. */
function computedCell(state: Notebook): boolean {
  const { here, book } = state;
  if (here?.in !== "cell" || here.row <= FORMULAS_ROW || here.row >= rowsOf(state)) return false;
  return slotAt(book, here)?.language === "formula";
}

function clearSlot(store: Store<Notebook, Action>): void {
  const state = store.get();
  const slot = state.here === undefined ? undefined : slotAt(state.book, state.here);
  if (slot !== undefined && slot.language === "formula" && slot.text !== "") apply(store, slot.write(""));
}
