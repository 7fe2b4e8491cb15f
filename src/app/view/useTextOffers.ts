import { type RefObject, useMemo, useState } from "react";
import type { Book } from "../../engine";
import type { OfferList } from "./Offers";
import { useHelp } from "./useHelp";

/** Proposals that the list shows. */
const MOST = 12;

export interface Caret {
  readonly text: string;
  readonly caret: number;
}

/** The offers at a caret of the text, as long as it stands where something was just typed. */
export function useTextOffers(
  book: Book,
  at: Caret | undefined,
  area: RefObject<HTMLTextAreaElement | null>,
): OfferList & { shut(): void } {
  const [walked, setWalked] = useState<{ readonly at: Caret; readonly to: number }>();
  const [shut, setShut] = useState<Caret>();
  const help = useHelp();
  const offered = useMemo(
    () => (at === undefined ? undefined : help?.offeredInText(book, at.text, at.caret, MOST)),
    [book, at, help],
  );
  const open =
    offered !== undefined && (shut === undefined || shut.text !== at?.text || shut.caret !== at.caret);
  const list = open ? offered.proposals : [];
  const first = open && at !== undefined ? (help?.firstChoice(offered, at) ?? -1) : -1;
  const chosen =
    list.length === 0
      ? -1
      : walked !== undefined && walked.at === at
        ? Math.min(walked.to, list.length - 1)
        : first;
  return {
    list,
    chosen,
    held: false,
    signature: open ? offered.signature : undefined,
    expected: offered?.expected,
    walk(way) {
      if (at === undefined || list.length === 0) return;
      const to = way === "next" ? (chosen + 1) % list.length : (chosen <= 0 ? list.length : chosen) - 1;
      setWalked({ at, to });
    },
    take(index) {
      const offer = list[index];
      const field = area.current;
      if (offer === undefined || offered === undefined || at === undefined || field === null) return;
      const text = at.text.slice(0, offered.from) + offer.insert + at.text.slice(offered.to);
      const caret = offered.from + offer.caret;
      // What was just taken is not offered again, unless it opens a call.
      if (offer.caret === offer.insert.length) setShut({ text, caret });
      field.focus();
      field.setSelectionRange(offered.from, offered.to);
      // Written like something typed, so that the field's own undo knows it.
      document.execCommand("insertText", false, offer.insert);
      field.setSelectionRange(caret, caret);
    },
    shut: () => setShut(at),
  };
}
