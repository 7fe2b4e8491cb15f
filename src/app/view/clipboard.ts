import type { ClipboardEvent } from "react";
import type { TableItem } from "../../engine";
import { clearCells, clipOf, pasteCells, pasteTrouble } from "../state/cells";
import { fromClipboard, toClipboard } from "../state/clipboard";
import { readings } from "../state/commas";
import { tableAt } from "../state/items";
import { type Action, chosenExtent, type Notebook } from "../state/notebook";
import { type CellPlace, cellsIn } from "../state/place";
import type { Store } from "../state/store";
import { apply } from "./commands";

/** Copies the chosen cells in three flavours; a cut also leaves the typed ones blank. */
export function copied(
  event: ClipboardEvent<HTMLTextAreaElement>,
  store: Store<Notebook, Action>,
  table: TableItem,
): void {
  const state = store.get();
  const extent = chosenExtent(state);
  if (extent === undefined || state.here?.in !== "cell") return;
  const clip = clipOf(table, extent);
  if (clip.length === 0) return;
  event.preventDefault();
  for (const flavour of toClipboard(clip)) event.clipboardData.setData(flavour.type, flavour.data);
  const count = cellsIn(extent);
  if (event.type === "cut") apply(store, clearCells(state.book, state.here.key, extent));
  else store.send({ type: "say", text: count === 1 ? "Copied a cell." : `Copied ${count} cells.` });
}

/** Pastes cells from the active one on. What could be read in two ways, or has no room, is shown first. */
export function pasted(
  event: ClipboardEvent<HTMLTextAreaElement>,
  store: Store<Notebook, Action>,
  place: CellPlace,
): void {
  const state = store.get();
  const table = tableAt(state.book, place.key);
  if (table === undefined) return;
  event.preventDefault();
  if (place.row < 0) {
    store.send({ type: "say", text: "Choose a cell below the heading to paste into." });
    return;
  }
  const { rows, own } = fromClipboard((type) => event.clipboardData.getData(type), tableOfHtml);
  if (rows.length === 0) return;
  const trouble = pasteTrouble(table, place.column, rows);
  const commas = !own && rows.some((row) => row.some((word) => readings(word) !== undefined));
  if (commas || trouble.columnsOver > 0 || trouble.computed > 0) {
    store.send({ type: "paste", question: { place, rows, rule: commas ? "decimal" : "as-is" } });
    return;
  }
  const extent = chosenExtent(state) ?? {
    top: place.row,
    bottom: place.row,
    left: place.column,
    right: place.column,
  };
  apply(store, pasteCells(state.book, place.key, extent, rows));
}

/** The first table of a piece of HTML. It is parsed as a document of its own and never shown. */
function tableOfHtml(html: string): string[][] | undefined {
  const table = new DOMParser().parseFromString(html, "text/html").querySelector("table");
  if (table === null) return undefined;
  return [...table.rows].map((row) => [...row.cells].map((cell) => (cell.textContent ?? "").trim()));
}
