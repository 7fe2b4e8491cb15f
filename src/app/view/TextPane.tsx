import { useDeferredValue, useEffect, useLayoutEffect, useMemo, useRef, useState } from "react";
import type { Book } from "../../engine";
import { inksOfBook } from "../state/inks";
import { slotAt } from "../state/slots";
import { useStore } from "../state/store";
import { SideSheet } from "./SideSheet";
import { MessageSlip } from "./Slips";
import { useNotebook } from "./workbench";

/** Characters above which the text is shown without inks, so that typing never waits for them. */
const INKED = 200_000;

/** The text of the book, which is the book. It is worked out again while it is typed in. */
export function TextPane({ book }: { book: Book }) {
  const store = useNotebook();
  const area = useRef<HTMLTextAreaElement>(null);
  const sheet = useRef<HTMLDivElement>(null);
  const [text, setText] = useState(book.text);
  const typing = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const cost = useRef(0);

  // What changes elsewhere shows here at once, unless this field holds words that are still to be worked out.
  useLayoutEffect(() => {
    if (typing.current === undefined) setText(book.text);
  }, [book.text]);
  const settle = (words: string) => {
    typing.current = undefined;
    const before = performance.now();
    store.send({ type: "typed", text: words });
    cost.current = performance.now() - before;
  };
  useEffect(() => () => clearTimeout(typing.current), []);
  useFollowedPlace(area, sheet);

  const later = useDeferredValue(text);
  const inks = useMemo(
    () => (later.length > INKED ? undefined : inksOfBook(later, later === book.text ? book.messages : [])),
    [later, book],
  );
  const faults = book.messages.slice(0, 20);
  return (
    <SideSheet
      label="Text of the book"
      className="text"
      title="Text"
      onClose={() => store.send({ type: "side", side: "none" })}
    >
      <div className="text-sheet" ref={sheet}>
        <div>
          <pre aria-hidden="true">
            {inks === undefined || later !== text
              ? text
              : inks.map((ink) => (
                  <span key={ink.from} className={ink.ink}>
                    {text.slice(ink.from, ink.to)}
                  </span>
                ))}
            {"\n"}
          </pre>
          <textarea
            ref={area}
            value={text}
            aria-label="Text of the book"
            wrap="off"
            autoCapitalize="off"
            autoCorrect="off"
            autoComplete="off"
            spellCheck={false}
            onChange={(event) => {
              const words = event.currentTarget.value;
              setText(words);
              clearTimeout(typing.current);
              // A book that is quick to work out follows each letter; a slow one waits for a pause.
              if (cost.current < 12) settle(words);
              else typing.current = setTimeout(() => settle(words), Math.min(600, cost.current * 4));
            }}
            onBlur={() => {
              if (typing.current === undefined) return;
              clearTimeout(typing.current);
              settle(text);
            }}
          />
        </div>
      </div>
      {faults.length === 0 ? null : (
        <section className="text-slips" aria-label="Messages">
          {faults.map((message) => (
            <MessageSlip
              key={`${message.from}-${message.code}`}
              message={message}
              where={`Line ${message.line}`}
            />
          ))}
        </section>
      )}
    </SideSheet>
  );
}

/** Scrolls the text to what is chosen on the page. */
function useFollowedPlace(
  area: React.RefObject<HTMLTextAreaElement | null>,
  sheet: React.RefObject<HTMLDivElement | null>,
): void {
  const store = useNotebook();
  const here = useStore(store, (s) => s.here);
  useEffect(() => {
    const field = area.current;
    const box = sheet.current;
    if (here === undefined || field === null || box === null || document.activeElement === field) return;
    const span = slotAt(store.get().book, here)?.span;
    if (span === undefined) return;
    const lines = store.get().book.text.slice(0, span.from).split("\n").length - 1;
    const height = Number.parseFloat(getComputedStyle(field).lineHeight);
    const top = lines * height;
    if (top < box.scrollTop + height || top > box.scrollTop + box.clientHeight - 3 * height)
      box.scrollTop = Math.max(0, top - box.clientHeight / 3);
    field.setSelectionRange(span.from, span.to);
  }, [here, area, sheet, store]);
}
