import {
  type KeyboardEvent,
  useCallback,
  useDeferredValue,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from "react";
import type { Book } from "../../engine";
import type { Hover } from "../../engine/editing";
import { inksOfBook } from "../state/inks";
import { slotAt } from "../state/slots";
import { useStore } from "../state/store";
import { NameInText } from "./NameInText";
import { Offers, useListHeard } from "./Offers";
import { SideSheet } from "./SideSheet";
import { MessageSlip } from "./Slips";
import { TextHover } from "./TextHover";
import { caretPlace, offsetAt } from "./text-geometry";
import { useHelp } from "./useHelp";
import { type Caret, useTextOffers } from "./useTextOffers";
import { useNotebook } from "./workbench";
import "./text-pane.css";

/** Characters above which the text is shown without inks, so that typing never waits for them. */
const INKED = 60_000;

/** The text of the book, which is the book. It is worked out again while it is typed in. */
export default function TextPane({ book }: { book: Book }) {
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
  const shown = useRef<HTMLPreElement>(null);
  const anchor = useRef<HTMLSpanElement>(null);
  const [written, setWritten] = useState<Caret>();
  const offers = useTextOffers(book, written, area);
  const heard = useListHeard(offers);
  useLayoutEffect(() => {
    if (written === undefined || shown.current === null || anchor.current === null) return;
    const { left, top, height } = caretPlace(shown.current, written.text, written.caret);
    anchor.current.style.translate = `${left}px ${top}px`;
    anchor.current.style.height = `${height}px`;
  }, [written]);
  const card = useHoverCard(book, text, shown);
  const [caret, setCaret] = useState(0);
  const [renaming, setRenaming] = useState(false);
  // A browser tells of a caret that was moved only some time after it was.
  const told = useRef(0);
  // The field puts its caret at the end of a text that was changed for it; this is where it belongs.
  const [returns, setReturns] = useState<number>();
  useLayoutEffect(() => {
    if (returns === undefined || text !== book.text) return;
    area.current?.setSelectionRange(returns, returns);
    told.current = returns;
    setCaret(returns);
    setReturns(undefined);
  }, [returns, text, book.text]);
  const follow = (offset: number) => {
    if (told.current === offset) return;
    told.current = offset;
    setCaret(offset);
    setRenaming(false);
  };
  const goTo = (from: number, to: number) => {
    const field = area.current;
    if (field === null || sheet.current === null) return;
    field.focus({ preventScroll: true });
    field.setSelectionRange(from, to);
    follow(from);
    bringLine(sheet.current, field, text, from);
  };
  const keys = (event: KeyboardEvent<HTMLTextAreaElement>) => {
    if (event.nativeEvent.isComposing) return;
    if (event.key === "Enter" && event.altKey) {
      card.tell(event.currentTarget.selectionStart);
      event.preventDefault();
      return;
    }
    if (event.key === "F2") {
      setRenaming(true);
      event.preventDefault();
      return;
    }
    if (offers.list.length === 0 && offers.signature === undefined) return;
    if (event.key === "Escape") offers.shut();
    else if (event.key === "ArrowDown" && offers.list.length > 0) offers.walk("next");
    else if (event.key === "ArrowUp" && offers.list.length > 0) offers.walk("previous");
    else if ((event.key === "Enter" || event.key === "Tab") && offers.chosen >= 0) offers.take(offers.chosen);
    else return;
    event.preventDefault();
  };
  return (
    <SideSheet
      label="Text of the book"
      className="text"
      title="Text"
      onClose={() => store.send({ type: "side", side: "none" })}
    >
      <div className="text-sheet" ref={sheet}>
        <div>
          <pre aria-hidden="true" ref={shown}>
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
            aria-autocomplete="list"
            aria-controls={heard.list}
            aria-activedescendant={heard.option}
            aria-describedby={card.is === undefined ? undefined : "text-hover"}
            onKeyDown={keys}
            onSelect={(event) => {
              const { selectionStart: from, selectionEnd: to, value } = event.currentTarget;
              follow(from);
              // Offers go with what was typed; a caret that went elsewhere asks for none.
              setWritten((now) =>
                now !== undefined && from === to && from === now.caret && value === now.text
                  ? now
                  : undefined,
              );
            }}
            onPointerMove={(event) => {
              if (event.pointerType === "mouse" && event.buttons === 0)
                card.rest(event.clientX, event.clientY);
            }}
            onPointerLeave={card.leave}
            onChange={(event) => {
              const words = event.currentTarget.value;
              setText(words);
              card.close();
              setWritten({ text: words, caret: event.currentTarget.selectionStart });
              clearTimeout(typing.current);
              // A book that is quick to work out follows each letter; a slow one waits for a pause.
              if (cost.current < 12) settle(words);
              else typing.current = setTimeout(() => settle(words), Math.min(600, cost.current * 4));
            }}
            onBlur={() => {
              setWritten(undefined);
              if (typing.current === undefined) return;
              clearTimeout(typing.current);
              settle(text);
            }}
          />
          <span ref={anchor} className="caret-place" aria-hidden="true" />
        </div>
      </div>
      {written === undefined ? null : <Offers offers={offers} draft={{}} anchor={anchor} />}
      {card.is === undefined ? null : (
        <TextHover
          is={card.is.hover}
          word={card.is.word}
          onEnter={card.stay}
          onLeave={card.leave}
          onClose={card.close}
        />
      )}
      <NameInText
        book={book}
        caret={text === book.text ? caret : undefined}
        renaming={renaming}
        onRenaming={(open, from) => {
          setRenaming(open);
          if (open) return;
          area.current?.focus({ preventScroll: true });
          setReturns(from);
        }}
        onGo={goTo}
      />
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

/** Milliseconds for which the pointer rests on a word before it is told, and in which it may leave it for the card. */
const RESTS = 350;
const LEAVES = 300;

/** The card on the word under the resting pointer, or under the caret when a key asks for it. */
function useHoverCard(book: Book, text: string, shown: React.RefObject<HTMLPreElement | null>) {
  const [is, setIs] = useState<{ readonly hover: Hover; readonly word: DOMRect }>();
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const help = useHelp();
  const close = useCallback(() => {
    clearTimeout(timer.current);
    setIs(undefined);
  }, []);
  useEffect(() => () => clearTimeout(timer.current), []);
  const tell = (offset: number) => {
    clearTimeout(timer.current);
    const box = shown.current;
    const found = box === null ? undefined : help?.hover(book, { in: "book", text }, offset);
    if (box === null || found === undefined) {
      setIs(undefined);
      return;
    }
    const corner = box.getBoundingClientRect();
    const [from, to] = [caretPlace(box, text, found.from), caretPlace(box, text, found.to)];
    const word = new DOMRect(
      corner.left + from.left,
      corner.top + from.top,
      to.left - from.left,
      from.height,
    );
    setIs({ hover: found, word });
  };
  const inside = (x: number, y: number): boolean =>
    is !== undefined && x >= is.word.left && x <= is.word.right && y >= is.word.top && y <= is.word.bottom;
  return {
    is,
    tell,
    close,
    stay: () => clearTimeout(timer.current),
    leave: () => {
      clearTimeout(timer.current);
      timer.current = setTimeout(() => setIs(undefined), LEAVES);
    },
    rest(x: number, y: number) {
      clearTimeout(timer.current);
      if (inside(x, y)) return;
      timer.current = setTimeout(
        () => {
          const at = shown.current === null ? undefined : offsetAt(shown.current, text, x, y);
          if (at === undefined) setIs(undefined);
          else tell(at);
        },
        is === undefined ? RESTS : LEAVES,
      );
    },
  };
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
    bringLine(box, field, store.get().book.text, span.from);
    field.setSelectionRange(span.from, span.to);
  }, [here, area, sheet, store]);
}

/** Scrolls the line of a letter into sight, when it is not there already. */
function bringLine(box: HTMLDivElement, field: HTMLTextAreaElement, text: string, offset: number): void {
  const lines = text.slice(0, offset).split("\n").length - 1;
  const height = Number.parseFloat(getComputedStyle(field).lineHeight);
  const top = lines * height;
  if (top < box.scrollTop + height || top > box.scrollTop + box.clientHeight - 3 * height)
    box.scrollTop = Math.max(0, top - box.clientHeight / 3);
}
