import { type RefObject, useEffect, useLayoutEffect, useMemo, useRef, useState } from "react";
import type { Reading } from "../state/commas";
import { type Completion, completionFor, type Offer, taken } from "../state/completion";
import type { Draft } from "../state/notebook";
import { useStore } from "../state/store";
import { Amount } from "./Amount";
import { Mark } from "./Mark";
import { useNotebook } from "./workbench";

/** What is on show under a field, and the ways to walk through it. */
export interface OfferList {
  readonly list: readonly (Offer | Reading)[];
  readonly chosen: number;
  readonly hint: Completion["hint"];
  walk(way: "next" | "previous"): void;
  take(index: number): void;
}

const isReading = (o: Offer | Reading): o is Reading => !("insert" in o);
const nothing: Completion = { offers: [] };

/**
 * The offers for a draft. Readings of a comma come first and one is chosen at once; names are chosen only when
 * the person walks to them or has begun to type one, so that Enter keeps what was typed.
 */
export function useOffers(draft: Draft | undefined): OfferList {
  const store = useNotebook();
  const book = useStore(store, (s) => s.book);
  const [walked, setWalked] = useState<{ for: string; at: number }>();
  const [shut, setShut] = useState<string>();
  const text = draft?.text;
  const caret = draft?.caret;
  const ask = draft?.ask;
  const sign = `${text} ${caret} ${ask === undefined ? "" : "ask"}`;
  // biome-ignore lint/correctness/useExhaustiveDependencies: a draft is its text, caret and question
  const completion = useMemo(
    () => (draft === undefined ? nothing : completionFor(book, draft)),
    [book, text, caret, draft?.place],
  );
  const asIs: Reading | undefined =
    ask === undefined ? undefined : { text: text ?? "", says: "as it is typed" };
  const list: readonly (Offer | Reading)[] =
    ask === undefined ? (shut === sign ? [] : completion.offers) : [...ask, asIs!];
  const first = ask !== undefined || offersItself(list[0], draft) ? 0 : -1;
  const chosen = walked?.for === sign ? Math.min(walked.at, list.length - 1) : list.length === 0 ? -1 : first;
  return {
    list,
    chosen,
    hint: completion.hint,
    walk(way) {
      const at = way === "next" ? (chosen + 1) % list.length : (chosen <= 0 ? list.length : chosen) - 1;
      setWalked({ for: sign, at });
    },
    take(index) {
      const offer = list[index];
      if (offer === undefined || draft === undefined) return;
      if (isReading(offer)) {
        store.send({ type: "keep", next: "down", text: offer.text, asIs: true });
        return;
      }
      const next = taken(draft, offer);
      store.send({ type: "change", ...next });
      setShut(`${next.text} ${next.caret} `);
    },
  };
}

/** A name that has been begun offers itself when it fits; a whole word typed out does not need to be taken. */
function offersItself(offer: Offer | Reading | undefined, draft: Draft | undefined): boolean {
  if (offer === undefined || draft === undefined || isReading(offer) || offer.misfit !== undefined)
    return false;
  const typed = draft.text.slice(offer.from, draft.caret);
  return (
    typed !== "" &&
    offer.insert.toLowerCase().startsWith(typed.toLowerCase()) &&
    offer.insert !== typed &&
    draft.caret === offer.to
  );
}

interface OffersProps {
  readonly offers: OfferList;
  readonly draft: Draft;
  readonly anchor: RefObject<HTMLElement | null>;
  /** The field stands at the bottom of the window: the list stands above it. */
  readonly above?: boolean;
}

/** The list of what can stand at the caret, under its field or above the formula line. */
export function Offers({ offers, draft, anchor, above = false }: OffersProps) {
  const box = useRef<HTMLDivElement>(null);
  const { list, chosen, hint } = offers;
  useLayoutEffect(() => {
    const element = box.current;
    const field = anchor.current?.querySelector(".field") ?? anchor.current;
    if (element === null || !field) return;
    const put = () => {
      const r = field.getBoundingClientRect();
      const height = element.offsetHeight;
      const over = above || r.bottom + height + 8 > innerHeight;
      element.style.setProperty(
        "--x",
        `${Math.max(4, Math.min(r.left, innerWidth - element.offsetWidth - 4))}px`,
      );
      element.style.setProperty("--y", `${over ? Math.max(4, r.top - height - 8) : r.bottom + 7}px`);
    };
    put();
    addEventListener("scroll", put, { passive: true, capture: true });
    return () => removeEventListener("scroll", put, { capture: true });
  });
  useEffect(() => {
    if (chosen >= 0) box.current?.querySelector(`#offer-${chosen}`)?.scrollIntoView({ block: "nearest" });
  }, [chosen]);
  if (list.length === 0 && hint === undefined && draft.refused === undefined) return null;
  return (
    <div className="offers" ref={box} onMouseDown={(event) => event.preventDefault()}>
      {list.length === 0 ? null : (
        <ul
          id="offers"
          role="listbox"
          aria-label={draft.ask === undefined ? "What can stand here" : "Which number is meant?"}
        >
          {list.map((offer, i) => (
            <li
              key={isReading(offer) ? offer.text + offer.says : offer.label + offer.from}
              id={`offer-${i}`}
              role="option"
              aria-selected={i === chosen}
              className={!isReading(offer) && offer.misfit !== undefined ? "less" : undefined}
              onClick={() => offers.take(i)}
            >
              {isReading(offer) ? <ReadingOffer is={offer} /> : <NameOffer is={offer} />}
            </li>
          ))}
        </ul>
      )}
      {draft.refused === undefined ? null : <p className="foretell fault-ink">{draft.refused}</p>}
      {hint === undefined || draft.ask !== undefined ? null : (
        <p className="foretell">
          <code>
            {hint.before}
            <b>{hint.now}</b>
            {hint.after}
          </code>
          <br />
          {hint.says}
        </p>
      )}
    </div>
  );
}

function ReadingOffer({ is }: { is: Reading }) {
  return (
    <>
      <Mark name="typed" />
      <code>{is.text}</code>
      <span className="u">{is.says}</span>
    </>
  );
}

function NameOffer({ is }: { is: Offer }) {
  return (
    <>
      {is.mark === undefined ? <span /> : <Mark name={is.mark} />}
      <code>{is.label}</code>
      {is.shown === undefined ? <span /> : <Amount shown={is.shown} />}
      {is.misfit === undefined && is.says === undefined ? null : (
        <span className="says">{is.misfit || is.says}</span>
      )}
    </>
  );
}
