import { useEffect, useLayoutEffect, useRef } from "react";
import type { Proposal, Signature } from "../../engine/editing";
import type { Reading } from "../state/commas";
import { Amount } from "./Amount";
import { Mark } from "./Mark";
import { isReading, type OffersProps } from "./Offers";
import { Prose } from "./Prose";

/** The box with what can stand at the caret, kept beside its field while anything scrolls. */
export function OffersBox({ offers, draft, anchor, above = false }: OffersProps) {
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
