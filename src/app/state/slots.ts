import type { Book } from "../../engine";
import { cellSlot } from "./cell-slots";
import { itemSlot } from "./item-slots";
import type { Place } from "./place";
import type { Slot } from "./slot";

/** The slot of a place, or undefined when nothing can be written there. */
export function slotAt(book: Book, place: Place): Slot | undefined {
  return place.in === "cell" ? cellSlot(book, place) : itemSlot(book, place);
}
