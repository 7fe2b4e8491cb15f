import { type ReactNode, type RefObject, useEffect, useRef, useState } from "react";
import type { Book } from "../../engine";
import { type FirstLook, firstLook, shownAt } from "../state/first-look";
import { elementId } from "../state/items";
import { useStore } from "../state/store";
import { Amount } from "./Amount";
import { setTour } from "./useTour";
import { useNotebook } from "./workbench";

/** A book that has just been opened, or a command that has just gone with its list, leaves the keyboard with nobody. */
function nobodyHasTheKeyboard(): boolean {
  const at = document.activeElement;
  return at === null || at === document.body || at.closest(".drawer") !== null;
}

const putAway = () => setTour("away");

/**
 * The second and third step of the first look, in a line above the formula line: it covers nothing, waits for nothing,
 * and goes on by itself when a step was done. What it speaks of is outlined on the page.
 */
export function TourLine({ book }: { book: Book }) {
  const [look] = useState(() => firstLook(book));
  if (look === undefined)
    return (
      <Line heading="First look" onClose={putAway} close="Put away">
        Nothing in this book follows from a number yet. Open an example under Books for the first look.
      </Line>
    );
  return <Looking book={book} look={look} />;
}

function Looking({ book, look }: { book: Book; look: FirstLook }) {
  const store = useNotebook();
  const asked = useStore(store, (s) => s.side === "why" && s.asked !== undefined);
  const { change, follows } = look;
  const now = shownAt(book, follows.key, follows.part);
  const [before] = useState(now);
  const [step, setStep] = useState<2 | 3 | "done">(2);
  const changed = now?.state === "ok" && now.text !== before?.text;
  useEffect(() => {
    if (step === 2 && changed) setStep(3);
    if (step === 3 && asked) setStep("done");
  }, [step, changed, asked]);

  const find = (): HTMLElement | undefined => {
    const item = document.getElementById(elementId(step === 2 ? change.key : follows.key));
    const parts = item?.querySelectorAll<HTMLElement>(".parts > button");
    return step === 3 && follows.part !== undefined
      ? parts?.[follows.part]
      : (item?.querySelector<HTMLElement>(".amount") ?? undefined);
  };
  useEffect(() => {
    const element = step === "done" ? undefined : find();
    element?.setAttribute("data-pointed", String(step));
    return () => element?.removeAttribute("data-pointed");
  });
  const led = useRef(false);
  const show = () => {
    const element = find();
    element?.scrollIntoView({ block: "center" });
    const field = element?.matches("button")
      ? element
      : element?.querySelector<HTMLElement>("textarea, button");
    field?.focus({ preventScroll: true });
    led.current = field !== undefined;
  };
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    // Who was led to the place by the button here is brought back when the step is done.
    const back = step !== 2 && led.current;
    led.current = false;
    if (back || nobodyHasTheKeyboard()) head.current?.focus({ preventScroll: true });
  }, [step]);

  if (step === "done")
    return (
      <Line heading="First look, done" head={head} onClose={putAway} close="Done">
        Here stand the formula with its values, the equation and its source. Functions, at the top, lists all
        that can be asked. Books leads back to where a book of your own begins.
      </Line>
    );
  return (
    <Line heading={`First look, ${step} of 3`} head={head} onShow={show} onClose={putAway} close="Put away">
      {now?.state !== "ok" ? (
        <>
          That does not fit yet, so <b>{follows.path}</b> cannot be worked out: a number takes its unit with
          it. Write it again, or take it back with Undo.
        </>
      ) : step === 2 ? (
        <>
          <b>Change a number.</b> Choose the number at <b>{change.name}</b>, write another with its unit, and
          keep it with Enter. <b>{follows.path}</b> is <Amount shown={now} /> now.
        </>
      ) : (
        <>
          <b>{follows.path}</b> went from {before && <Amount shown={before} />} to <Amount shown={now} />.{" "}
          <b>Ask why:</b> choose that number.
        </>
      )}
    </Line>
  );
}

interface LineProps {
  readonly heading: string;
  readonly head?: RefObject<HTMLHeadingElement | null>;
  readonly onShow?: () => void;
  readonly onClose: () => void;
  readonly close: string;
  readonly children: ReactNode;
}

function Line({ heading, head, onShow, onClose, close, children }: LineProps) {
  return (
    <section className="tour" aria-labelledby="h-tour">
      <h2 id="h-tour" ref={head} tabIndex={-1}>
        {heading}
      </h2>
      <p role="status" aria-atomic="true">
        {children}
      </p>
      <span className="doors">
        {onShow === undefined ? null : (
          <button type="button" className="act framed" onClick={onShow}>
            Show me
          </button>
        )}
        <button type="button" className="act" onClick={onClose}>
          {close}
        </button>
      </span>
    </section>
  );
}
