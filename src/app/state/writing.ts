import type { Book } from "../../engine";
import type { Field } from "../../engine/editing";
import type { Draft } from "./notebook";
import { slotAt } from "./slots";

/** A draft as the engine reads it: in which field it stands, and where its caret is there. */
export interface WritingField {
  readonly field: Field;
  readonly caret: number;
  /** How many characters of the draft stand before the field's text: a leading equals sign, a name. */
  readonly shift: number;
}

export function fieldAt(book: Book, draft: Draft): WritingField | undefined {
  const slot = slotAt(book, draft.place);
  if (slot?.field === undefined) return undefined;
  const shift = slot.begins === undefined ? 0 : slot.begins(draft.text);
  if (shift === undefined || draft.caret < shift) return undefined;
  return { field: slot.field(draft.text.slice(shift)), caret: draft.caret - shift, shift };
}
