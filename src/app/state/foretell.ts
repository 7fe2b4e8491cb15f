import type { Book, Shown } from "../../engine";
import { foretell } from "../../engine/editing";
import type { Draft } from "./notebook";
import { slotAt } from "./slots";
import { fieldAt } from "./writing";

/** What a draft would become if it were kept. */
export type Foretold =
  | { readonly type: "nothing" }
  | { readonly type: "value"; readonly shown: Shown }
  /** `unfinished`: only the end is missing, or time to work it out, which is no mistake while it is being typed. */
  | { readonly type: "trouble"; readonly says: string; readonly help?: string; readonly unfinished: boolean };

export function foretold(book: Book, draft: Draft): Foretold {
  const slot = slotAt(book, draft.place);
  if (slot === undefined || draft.text.trim() === "" || draft.text === slot.text) return { type: "nothing" };
  const at = fieldAt(book, draft);
  const told = at && foretell(book, at.field);
  if (at === undefined || told === undefined) return { type: "nothing" };
  const { shown, trouble } = told;
  if (trouble !== undefined) {
    const { says, help } = trouble;
    const unfinished = trouble.to + at.shift >= draft.text.trimEnd().length;
    return { type: "trouble", says, unfinished, ...(help === undefined ? {} : { help }) };
  }
  if (shown.state === "fault")
    return { type: "trouble", says: shown.message ?? "This cannot be worked out.", unfinished: false };
  if (shown.value.type === "gap" && shown.value.waits)
    return { type: "trouble", says: shown.value.says, unfinished: true };
  return { type: "value", shown };
}
