import { type RefObject, useEffect, useLayoutEffect, useMemo, useRef, useState } from "react";
import type { Book } from "../../engine";
import type { Proposal, Signature } from "../../engine/editing";
import { unitReadings } from "../state/bare-numbers";
import type { Reading } from "../state/commas";
import type { Draft, Onward } from "../state/notebook";
import type { Offered } from "../state/offers";
import { slotAt } from "../state/slots";
import { useStore } from "../state/store";
import { Amount } from "./Amount";
import { Mark } from "./Mark";
import { Prose } from "./Prose";
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

const isReading = (o: Proposal | Reading): o is Reading => !("insert" in o);
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

interface OffersProps {
  readonly offers: OfferList;
  readonly draft: Pick<Draft, "ask" | "refused">;
  readonly anchor: RefObject<HTMLElement | null>;
  /** The field stands at the bottom of the window: the list stands above it. */
  readonly above?: boolean;
}

/** The list of what can stand at the caret, under its field or above the formula line. */
export function Offers({ offers, draft, anchor, above = false }: OffersProps) {
  const box = useRef<HTMLDivElement>(null);
  const { list, chosen, signature } = offers;
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
        `${Math.max(4, Math.min(r.left, document.documentElement.clientWidth - element.offsetWidth - 4))}px`,
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
  if (list.length === 0 && signature === undefined && draft.refused === undefined) return null;
  return (
    <div className="offers" ref={box} onMouseDown={(event) => event.preventDefault()}>
      {list.length === 0 ? null : (
        <ul
          id="offers"
          role="listbox"
          aria-label={isReading(list[0]!) ? "Which number is meant?" : "What can stand here"}
        >
          {list.map((offer, i) => (
            <li
              key={isReading(offer) ? offer.text + offer.says : `${offer.thing} ${offer.label}`}
              id={`offer-${i}`}
              role="option"
              aria-selected={i === chosen}
              className={!isReading(offer) && !offer.fits ? "less" : undefined}
              onClick={() => offers.take(i)}
            >
              {isReading(offer) ? <ReadingOffer is={offer} /> : <NameOffer is={offer} />}
            </li>
          ))}
        </ul>
      )}
      {draft.refused === undefined ? null : <p className="foretell fault-ink">{draft.refused}</p>}
      {signature === undefined || draft.ask !== undefined ? null : <SignatureHelp is={signature} />}
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

/** The mark of things that have a value; functions, units and words have none. */
const markFor = (is: Proposal) =>
  is.shown === undefined ? undefined : is.shown.state === "ok" ? is.shown.origin : is.shown.state;

function NameOffer({ is }: { is: Proposal }) {
  const mark = markFor(is);
  const says = is.misfit ?? is.says ?? (is.shown === undefined ? is.is : "");
  return (
    <>
      {mark === undefined ? <span /> : <Mark name={mark} />}
      <code>{is.signature ?? is.label}</code>
      {is.shown === undefined ? <span /> : <Amount shown={is.shown} />}
      {says === "" ? null : (
        <span className="says">
          <Prose text={says} />
        </span>
      )}
    </>
  );
}

/** The call around the caret, with the parameter whose turn it is apart. */
function SignatureHelp({ is }: { is: Signature }) {
  const active = is.active === undefined ? undefined : is.parameters[is.active];
  return (
    <p className="foretell">
      <code>
        {is.name}(
        {is.parameters.map((p, i) => (
          <span key={p.name}>
            {i > 0 ? ", " : ""}
            {p === active ? <b>{p.name}</b> : p.name}
            {p.byLabel ? ":" : ""}
          </span>
        ))}
        )
      </code>
      <br />
      <Prose text={active === undefined ? is.says : `${active.says} (${active.takes})`} />
    </p>
  );
}
