import { writeName, writePart } from "../../../grammar";
import type { Book } from "../../engine";
import { placedItems } from "./items";
import type { Place } from "./place";

/** The parts of a dotted path, backticks removed: ``a.`b c`.d`` is a, b c, d. */
export function partsOf(path: string): string[] {
  const parts: string[] = [];
  for (const match of path.matchAll(/`([^`]*)`|([^.`]+)/gu)) parts.push(match[1] ?? match[2]!);
  return parts;
}

/** The dotted path of what stands at a place, or undefined when nothing there has a value. */
export function pathOfPlace(book: Book, place: Place): string | undefined {
  const placed = placedItems(book).find((p) => p.key === place.key);
  if (placed === undefined) return undefined;
  const { item } = placed;
  if (place.in === "item") return item.type === "value" ? item.shown.path : undefined;
  if (item.type !== "table") return undefined;
  const column = item.columns[place.column];
  if (column === undefined) return undefined;
  if (place.row >= item.rowCount) return item.feet.get(column.name)?.shown.path;
  if (place.row < 0) return column.typed ? undefined : `${writeName(item.name)}.${writePart(column.name)}`;
  return item.cell(place.row, place.column).path;
}
