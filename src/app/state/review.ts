import { removeTick, setTick, writeName, writePart } from "../../../grammar";
import type { Book, TableItem, Tick } from "../../engine";
import { placedItems } from "./items";
import { type Edit, made, type Refusal } from "./slot";
import { tickAt } from "./ticks";

/**
 * The read-through of a book: every formula once, a column's once for all its rows, and the ticks that stand in the
 * text on what was read.
 */
export interface Stop {
  /** As it is written in a formula; under it the tick stands in the text. */
  readonly path: string;
  readonly kind: "value" | "function" | "column" | "cell" | "foot";
  /** Key of the item on the page. */
  readonly key: string;
  readonly formula: string;
  readonly state: StopState;
  readonly note?: string | undefined;
  /** No tick can point here, for this reason. */
  readonly untickable?: string | undefined;
}
/** `changed`: was checked, and the formula is another one since. */
export type StopState = "open" | "checked" | "changed";

export interface Review {
  readonly stops: readonly Stop[];
  /** Ticks that stand on nothing any more. */
  readonly lost: readonly Tick[];
}

const stateOf = (tick: Tick | undefined): StopState =>
  tick === undefined ? "open" : tick.state === "holds" ? "checked" : "changed";

/** Everything that is to be read, in the order of the page. */
export function reviewOf(book: Book): Review {
  const stops: Stop[] = [];
  const put = (stop: Omit<Stop, "state" | "note">): void => {
    const tick = tickAt(book, stop.path);
    stops.push({ ...stop, state: stateOf(tick), note: tick?.text });
  };
  for (const { key, item } of placedItems(book)) {
    if (item.type === "value") {
      const path = writeName(item.name);
      // A typed number is read where it stands; it counts here once somebody has ticked it.
      if (item.shown.origin !== "typed" || tickAt(book, path) !== undefined)
        put({ path, kind: "value", key, formula: item.formula });
    } else if (item.type === "define")
      put({ path: writeName(item.name), kind: "function", key, formula: item.formula });
    else if (item.type === "table") for (const stop of stopsOf(item, key)) put(stop);
  }
  return { stops, lost: book.ticks.filter((tick) => tick.state === "lost") };
}

function* stopsOf(table: TableItem, key: string): Generator<Omit<Stop, "state" | "note">> {
  const counts = new Map<string, number>();
  for (let row = 0; row < table.rowCount; row++) {
    const name = table.rowName(row);
    counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  for (let row = 0; row < table.rowCount; row++) {
    for (const [c, cell] of table.tree.rows[row]!.node.cells.entries()) {
      if (cell.content.type !== "formula" || table.columns[c] === undefined) continue;
      const name = table.rowName(row);
      const untickable =
        name === ""
          ? "This row has no name, so no tick can point to it. Give the row a name."
          : counts.get(name)! > 1
            ? "Two rows have this name, so no tick can point to one of them. Give the row a name of its own."
            : undefined;
      yield {
        path: table.cell(row, c).path,
        kind: "cell",
        key,
        formula: cell.raw.trim().replace(/^=\s*/, ""),
        untickable,
      };
    }
  }
  const own = writeName(table.name);
  for (const column of table.columns)
    if (column.formula !== undefined)
      yield { path: `${own}.${writePart(column.name)}`, kind: "column", key, formula: column.formula };
  for (const foot of table.feet.values())
    yield { path: foot.shown.path, kind: "foot", key, formula: foot.formula };
}

export interface Progress {
  readonly checked: number;
  readonly changed: number;
  readonly of: number;
}

/** How far the reading has come; what cannot be ticked does not count. */
export function progressOf({ stops }: Review): Progress {
  const counted = stops.filter((stop) => stop.untickable === undefined);
  const count = (state: StopState) => counted.filter((stop) => stop.state === state).length;
  return { checked: count("checked"), changed: count("changed"), of: counted.length };
}

/** The next stop from an index on that is not checked, going round; -1 when all are. */
export function nextUnread({ stops }: Review, from: number): number {
  for (let i = 0; i < stops.length; i++) {
    const at = (from + i) % stops.length;
    const stop = stops[at]!;
    if (stop.state !== "checked" && stop.untickable === undefined) return at;
  }
  return -1;
}

/** Ticks a formula as read, with a note if there is one. */
export function tick(book: Book, stop: Stop, note: string): Edit | Refusal {
  const mark = stop.untickable === undefined ? book.markOf(stop.path) : undefined;
  if (mark === undefined)
    return { refused: stop.untickable ?? `\`${stop.path}\` is not in the book any more.` };
  return made(book, `the tick of ${stop.path}`, setTick(book.tree, stop.path, mark, note));
}

/** Takes the tick of a path away. */
export const untick = (book: Book, path: string): Edit | Refusal =>
  made(book, `taking away the tick of ${path}`, removeTick(book.tree, path));
