import type { Book } from "../../engine";
import { elementId, placedItems } from "./items";
import type { Action, Notebook } from "./notebook";
import { partsOf } from "./paths";
import { cellPlace, FORMULAS_ROW, itemPlace, type Place } from "./place";
import type { Store } from "./store";

/** Where a dotted path stands on the page. */
export interface PathPlace {
  /** Id of the element to bring into view. */
  readonly id: string;
  /** Where the writer can stand there. */
  readonly place: Place;
}

/** The place of a path, or undefined when the book shows it nowhere. */
export function placeOfPath(book: Book, path: string): PathPlace | undefined {
  const parts = partsOf(path);
  const name = parts[0];
  if (name === undefined) return undefined;
  for (const { key, item } of placedItems(book)) {
    if (item.type === "value" && item.name === name)
      return { id: elementId(key), place: itemPlace(key, "formula") };
    if (item.type === "define" && item.name === name)
      return { id: elementId(key), place: itemPlace(key, "formula") };
    if (item.type !== "table" || item.name !== name) continue;
    const place = (row: number, column: number) => ({
      id: elementId(key),
      place: cellPlace(key, row, column),
    });
    const columnOf = (word: string | undefined) => item.columns.findIndex((c) => c.name === word);
    if (parts.length === 1) return place(0, 0);
    if (parts[1] === "foot") return place(item.rowCount, Math.max(0, columnOf(parts[2])));
    const column = columnOf(parts[1]);
    if (column >= 0) return place(FORMULAS_ROW, column);
    const row = rowOf(item, parts[1]!);
    if (row === -1) return place(0, 0);
    return place(row, Math.max(0, columnOf(parts[2])));
  }
  const step = /^step (\d+)$/.exec(path);
  if (step !== null) {
    const found = placedItems(book).find((p) => p.item.type === "step" && p.item.number === Number(step[1]));
    if (found) return { id: elementId(found.key), place: itemPlace(found.key, "text") };
  }
  return undefined;
}

function rowOf(table: { readonly rowCount: number; rowName(row: number): string }, word: string): number {
  const nameless = /^row (\d+)$/.exec(word);
  const plain = word.replace(/ \(\d+\)$/, "");
  for (let row = 0; row < table.rowCount; row++) {
    const name = table.rowName(row);
    if (name === word || (name === plain && plain !== word)) return row;
  }
  if (nameless === null) return -1;
  const row = Number(nameless[1]) - 1;
  return row < table.rowCount ? row : -1;
}

/** Brings a place into view, puts the keyboard there, and explains it. */
export function goTo(store: Store<Notebook, Action>, to: PathPlace, path: string): void {
  store.send({ type: "go", place: to.place });
  store.send({ type: "ask", path });
  document.getElementById(to.id)?.scrollIntoView({ block: "nearest" });
}

/** A formula cut at the paths it uses. Longer paths win over shorter ones that they begin with. */
export function pathsIn(
  formula: string,
  paths: readonly string[],
): readonly { readonly text: string; readonly path?: string }[] {
  const byWord = new Map<string, string>();
  for (const path of [...paths].sort((a, b) => a.length - b.length)) {
    byWord.set(path, path);
    // In a table a column is called by its bare name.
    const last = path.slice(path.lastIndexOf(".") + 1);
    if (!byWord.has(last)) byWord.set(last, path);
  }
  const words = [...byWord.keys()].sort((a, b) => b.length - a.length);
  if (words.length === 0) return [{ text: formula }];
  const pattern = new RegExp(
    words.map((w) => `(?<![\\p{L}\\p{N}_.])${escapePattern(w)}(?![\\p{L}\\p{N}_(])`).join("|"),
    "gu",
  );
  const pieces: { text: string; path?: string }[] = [];
  let at = 0;
  for (const match of formula.matchAll(pattern)) {
    if (match.index > at) pieces.push({ text: formula.slice(at, match.index) });
    pieces.push({ text: match[0], path: byWord.get(match[0])! });
    at = match.index + match[0].length;
  }
  if (at < formula.length) pieces.push({ text: formula.slice(at) });
  return pieces;
}

const escapePattern = (word: string): string => word.replace(/[\\^$.*+?()[\]{}|`]/g, "\\$&");
