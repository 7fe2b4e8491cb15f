import { type ReactNode, type RefObject, useMemo, useState } from "react";
import type { Book } from "../../engine";
import type { Proposal, Signature } from "../../engine/editing";
import { unitReadings } from "../state/bare-numbers";
import type { Reading } from "../state/commas";
import type { Draft, Onward } from "../state/notebook";
import type { Offered } from "../state/offers";
import { slotAt } from "../state/slots";
import { useStore } from "../state/store";
import { Fetched } from "./Fetched";
import { parcel, useDelivery } from "./parcel";
import { useHelp } from "./useHelp";
import { useNotebook } from "./workbench";

/** What is on show under a field, and the ways to walk through it. */
export interface OfferList {
  readonly list: readonly (Proposal | Reading)[];
  readonly chosen: number;
  /** There are offers, which are shown when they are asked for. */
  readonly held: boolean;
  readonly signature: Signature | undefined;
  readonly expected: string | undefined;
  walk(way: "next" | "previous"): void;
  /** Takes an offer; one that answers a question is kept, and `next` says where that leads. */
  take(index: number, next?: Onward): void;
}

export const isReading = (o: Proposal | Reading): o is Reading => !("insert" in o);
const nothing: Offered = { from: 0, to: 0, typed: "", proposals: [] };

/**
 * The offers for a draft. Of the readings of a comma the first is chosen at once; a name is chosen when the person
 * walks to it or has begun to type it, so that Enter otherwise keeps what was typed.
 */
export function useOffers(draft: Draft | undefined): OfferList {
  const store = useNotebook();
  const book = useStore(store, (s) => s.book);
  const [walked, setWalked] = useState<{ readonly draft: Draft; readonly at: number }>();
  const [shut, setShut] = useState("");
  const help = useHelp();
  const offered = useMemo(
    () => (draft === undefined ? nothing : (help?.offeredFor(book, draft) ?? nothing)),
    [book, draft, help],
  );
  const ask = useMemo(() => (draft === undefined ? undefined : askedOf(book, draft)), [book, draft]);
  const held = draft !== undefined && ask === undefined && isUntouched(book, draft);
  const list: readonly (Proposal | Reading)[] =
    ask !== undefined
      ? ask
      : held || (draft !== undefined && shut === `${draft.caret} ${draft.text}`)
        ? []
        : offered.proposals;
  const first = draft === undefined ? -1 : ask !== undefined ? 0 : (help?.firstChoice(offered, draft) ?? -1);
  const chosen =
    list.length === 0
      ? -1
      : walked !== undefined && walked.draft === draft
        ? Math.min(walked.at, list.length - 1)
        : first;
  return {
    list,
    chosen,
    held: held && offered.proposals.length > 0,
    signature: offered.signature,
    expected: offered.expected,
    walk(way) {
      if (draft === undefined) return;
      if (held) {
        store.send({ type: "offer" });
        return;
      }
      const at = way === "next" ? (chosen + 1) % list.length : (chosen <= 0 ? list.length : chosen) - 1;
      setWalked({ draft, at });
    },
    take(index, next = "down") {
      const offer = list[index];
      if (offer === undefined || draft === undefined) return;
      if (isReading(offer)) {
        store.send({ type: "keep", next, text: offer.text, asIs: true });
        return;
      }
      if (help === undefined) return;
      const now = help.taken(draft, offered, offer);
      store.send({ type: "change", ...now });
      // What was just taken is not offered again, unless it opens a call.
      if (offer.caret === offer.insert.length) setShut(`${now.caret} ${now.text}`);
    },
  };
}

/** Nothing was typed yet, so nothing is offered until it is asked for: a field is often opened only to be read. */
export const isUntouched = (book: Book, draft: Draft): boolean =>
  !draft.asked && draft.text === slotAt(book, draft.place)?.text;

/** How a number may be meant whose comma is asked about, or whose unit was left away; a comma that is settled keeps the unit. */
export function askedOf(book: Book, draft: Draft): readonly Reading[] | undefined {
  const slot = slotAt(book, draft.place);
  if (draft.ask === undefined) return unitReadings(slot, draft.text);
  const whole = draft.ask.map(({ text, says }) => ({
    text: unitReadings(slot, text)?.[0]?.text ?? text,
    says,
  }));
  return [...whole, { text: draft.text, says: "as it is typed" }];
}

export interface OffersProps {
  readonly offers: OfferList;
  readonly draft: Pick<Draft, "ask" | "refused">;
  readonly anchor: RefObject<HTMLElement | null>;
  /** The field stands at the bottom of the window: the list stands above it. */
  readonly above?: boolean;
}

/** Nothing is offered before something is written: what shows offers is fetched once the book is on the page. */
export const offersBox = parcel("What shows what can stand here", () => import("./OffersBox"));

/** What the field says of its list to those who hear the page: which it is, and what is chosen in it. */
export function useListHeard(offers: OfferList): {
  readonly list: "offers" | undefined;
  readonly option: string | undefined;
} {
  const here = useDelivery(offersBox).is === "here";
  return {
    list: here && offers.list.length > 0 ? "offers" : undefined,
    option: here && offers.chosen >= 0 ? `offer-${offers.chosen}` : undefined,
  };
}

// It belongs to the open field: a press on its words must not end the writing there.
const onItsWay = (words: ReactNode) => (
  <div className="on-its-way" data-line onMouseDown={(event) => event.preventDefault()}>
    {words}
  </div>
);

/** The list of what can stand at the caret, under its field or above the formula line. */
export function Offers(props: OffersProps) {
  const { list, signature } = props.offers;
  if (list.length === 0 && signature === undefined && props.draft.refused === undefined) return null;
  return (
    <Fetched of={offersBox} frame={onItsWay}>
      {({ OffersBox }) => <OffersBox {...props} />}
    </Fetched>
  );
}
