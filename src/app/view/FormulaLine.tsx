import { type ReactNode, useLayoutEffect, useRef } from "react";
import type { Book } from "../../engine";
import type { Foretold } from "../state/foretell";
import { whileWriting } from "../state/keys";
import { type Aside, type Draft, meantBy } from "../state/notebook";
import type { Place } from "../state/place";
import type { Slot } from "../state/slot";
import { slotAt } from "../state/slots";
import { useStore } from "../state/store";
import { Amount } from "./Amount";
import { perform } from "./commands";
import { Fetched } from "./Fetched";
import { Inked } from "./Inked";
import { askedOf, isUntouched, Offers, useListHeard, useOffers } from "./Offers";
import { Prose } from "./Prose";
import { parcel } from "./parcel";
import { useHelp } from "./useHelp";
import { useTour } from "./useTour";
import { followCaret, leaveField, pressOf } from "./WritingPlace";
import { useNotebook } from "./workbench";

/** What is done with the chosen item comes behind the book. */
export const itemCommands = parcel("What is done with values and tables", () => import("./ItemCommands"));
const tour = parcel("The first look", () => import("./TourLine"));
const tourOnItsWay = (words: ReactNode) => <section className="tour">{words}</section>;

/** The one line at the bottom: what is chosen, how it is written, and what it would become. */
export function FormulaLine({ book }: { book: Book }) {
  const store = useNotebook();
  const here = useStore(store, (s) => s.here);
  const draft = useStore(store, (s) => s.draft);
  const touring = useTour() === "begun";
  const box = useRef<HTMLDivElement>(null);
  useLineHeight(box);
  const aside = useStore(store, (s) => s.aside);
  const slot = here === undefined ? undefined : slotAt(book, here);
  return (
    <div className="foot-of-page" ref={box}>
      {touring ? (
        <Fetched of={tour} says="The first look is on its way" frame={tourOnItsWay}>
          {({ TourLine }) => <TourLine book={book} />}
        </Fetched>
      ) : null}
      <section
        className="writing-line"
        aria-label="Formula line"
        data-writing={draft === undefined ? undefined : true}
      >
        <div data-line>
          <div className="where">
            {slot === undefined ? "nothing chosen" : slot.of} {slot === undefined ? null : <b>{slot.what}</b>}
          </div>
          {slot === undefined || here === undefined ? (
            <p className="text hint">
              <span className="ink-under ghost">Choose a number, a formula or a cell to write in it.</span>
            </p>
          ) : (
            <LineField slot={slot} here={here} draft={draft} />
          )}
          <div className="tells">
            {draft !== undefined ? (
              <Tells book={book} draft={draft} />
            ) : aside !== undefined ? (
              <NotKept aside={aside} />
            ) : (
              <Fetched of={itemCommands}>
                {({ ItemCommands }) => <ItemCommands book={book} here={here} />}
              </Fetched>
            )}
          </div>
        </div>
      </section>
    </div>
  );
}

function LineField({ slot, here, draft }: { slot: Slot; here: Place; draft: Draft | undefined }) {
  const store = useNotebook();
  const area = useRef<HTMLTextAreaElement>(null);
  const box = useRef<HTMLDivElement>(null);
  const focus = useStore(store, (s) => s.focus);
  const mine = draft?.via === "line";
  const offers = useOffers(mine ? draft : undefined);
  const heard = useListHeard(offers);
  const text = draft?.text ?? slot.text;

  // It stays open where a question must be answered first.
  useLayoutEffect(() => {
    if (mine && focus > 0) area.current?.focus();
  }, [mine, focus]);
  useLayoutEffect(() => {
    const field = area.current;
    if (field === null || !mine) return;
    if (document.activeElement !== field) field.focus();
    if (draft.all) field.select();
    else if (field.selectionStart !== draft.caret && field.value === draft.text)
      field.setSelectionRange(draft.caret, draft.caret);
  }, [mine, draft?.caret, draft?.text, draft?.all]);

  return (
    <div className="text" ref={box}>
      <span className="ink-under" aria-hidden="true">
        <Inked text={text} place={here} caret={mine ? draft.caret : undefined} />
      </span>
      <textarea
        ref={area}
        className="writes"
        rows={1}
        value={text}
        aria-label={`${slot.of}, ${slot.what}`}
        aria-autocomplete="list"
        aria-controls={mine ? heard.list : undefined}
        aria-activedescendant={mine ? heard.option : undefined}
        aria-invalid={draft?.refused === undefined ? undefined : true}
        aria-describedby="foretell"
        autoCapitalize="off"
        autoCorrect="off"
        autoComplete="off"
        spellCheck={false}
        enterKeyHint="done"
        onFocus={(event) =>
          store.send({ type: "write", caret: event.currentTarget.selectionStart, via: "line" })
        }
        onBlur={(event) => leaveField(store, event.relatedTarget, "line")}
        onChange={(event) =>
          store.send({
            type: "change",
            text: event.currentTarget.value.replace(/\n/g, " "),
            caret: event.currentTarget.selectionStart,
            via: "line",
          })
        }
        onSelect={(event) => followCaret(store, event.currentTarget, "line")}
        onKeyDown={(event) => {
          const press = pressOf(event);
          const command = whileWriting(press, {
            shown: offers.held || offers.list.length > 0,
            chosen: offers.chosen >= 0,
          });
          if (command.do === "none") return;
          if (command.do === "keep" && offers.chosen >= 0) {
            event.preventDefault();
            offers.take(offers.chosen, command.next);
          } else if (command.do === "offer") {
            event.preventDefault();
            offers.walk(command.way);
          } else if (perform(store, command)) event.preventDefault();
        }}
      />
      {mine ? <Offers offers={offers} draft={draft} anchor={box} above /> : null}
    </div>
  );
}

/** What could not be kept when its field was left. */
function NotKept({ aside }: { aside: Aside }) {
  const store = useNotebook();
  return (
    <>
      <span className="fault-ink">
        Not kept: <code>{aside.text}</code>. <Prose text={aside.why} />
      </span>
      <button type="button" className="act framed" onClick={() => store.send({ type: "aside", take: true })}>
        Take it up again
      </button>
      <button type="button" className="act" onClick={() => store.send({ type: "aside", take: false })}>
        Let it go
      </button>
    </>
  );
}

const nothingYet: Foretold = { type: "nothing" };

/** What keeping the draft would do, and with which keys. */
function Tells({ book, draft }: { book: Book; draft: Draft }) {
  const store = useNotebook();
  const help = useHelp();
  const slot = slotAt(book, draft.place);
  // Where it is asked how a number is meant, Keep takes the reading that stands first, as Enter does.
  const meant = askedOf(book, draft)?.[0]?.text;
  const whole = slot && meantBy(slot, draft);
  return (
    <>
      <span id="foretell">
        {draft.ask === undefined ? (
          <ForetoldWords
            is={help?.foretold(book, whole === undefined ? draft : { ...draft, text: whole }) ?? nothingYet}
            refused={draft.refused}
            slotHelp={slot?.help}
          />
        ) : (
          <>
            Which number is meant? Enter or Tab takes <b>{meant}</b>.
          </>
        )}
      </span>
      {/* a press on these must not first take the focus from the field, which would keep what is in it */}
      <span className="keys" onMouseDown={(event) => event.preventDefault()}>
        <button
          type="button"
          className="act framed"
          onClick={() =>
            store.send({
              type: "keep",
              next: "stay",
              ...(meant !== undefined && { text: meant, asIs: true }),
            })
          }
        >
          Keep <span className="key">Enter</span>
        </button>
        <button type="button" className="act" onClick={() => store.send({ type: "leave" })}>
          Leave as it was <span className="key">Esc</span>
        </button>
        {isUntouched(book, draft) && help?.offeredFor(book, draft).proposals.length ? (
          <button type="button" className="act" onClick={() => store.send({ type: "offer" })}>
            What fits here <span className="key">↓</span>
          </button>
        ) : null}
      </span>
    </>
  );
}

function ForetoldWords({
  is,
  refused,
  slotHelp,
}: {
  is: Foretold;
  refused: string | undefined;
  slotHelp: string | undefined;
}) {
  if (refused !== undefined)
    return (
      <b className="fault-ink">
        <Prose text={refused} />
      </b>
    );
  if (is.type === "nothing") return slotHelp === undefined ? null : <Prose text={slotHelp} />;
  if (is.type === "trouble")
    return (
      <span className={is.unfinished ? undefined : "gap-ink"}>
        <Prose text={is.says} /> <Prose text={is.help} />
      </span>
    );
  return (
    <>
      becomes{" "}
      <b>
        <Amount shown={is.shown} />
      </b>
    </>
  );
}

const putHeight = (element: HTMLElement): void =>
  document.documentElement.style.setProperty("--line-height", `${Math.ceil(element.offsetHeight)}px`);

/** The height of the line, so that sheets stand on it and the page keeps clear of it. */
function useLineHeight(box: React.RefObject<HTMLElement | null>): void {
  useLayoutEffect(() => {
    if (box.current !== null) putHeight(box.current);
  });
  useLayoutEffect(() => {
    const element = box.current;
    if (element === null) return;
    const watch = new ResizeObserver(() => putHeight(element));
    watch.observe(element);
    // The keyboard of a tablet covers the bottom of the window in some browsers; the line stands on it.
    const view = window.visualViewport;
    const lift = () => {
      const covered = view === null ? 0 : Math.max(0, innerHeight - view.height - view.offsetTop);
      document.documentElement.style.setProperty("--keyboard", `${Math.round(covered)}px`);
    };
    lift();
    view?.addEventListener("resize", lift);
    view?.addEventListener("scroll", lift);
    return () => {
      watch.disconnect();
      view?.removeEventListener("resize", lift);
      view?.removeEventListener("scroll", lift);
    };
  }, [box]);
}
