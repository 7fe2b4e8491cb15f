import { useEffect, useLayoutEffect, useRef } from "react";
import type { Hover } from "../../engine/editing";
import { Amount } from "./Amount";
import { Prose } from "./Prose";

interface TextHoverProps {
  readonly is: Hover;
  /** Where the word stands in the window. */
  readonly word: DOMRect;
  readonly onEnter: () => void;
  readonly onLeave: () => void;
  readonly onClose: () => void;
}

/** What a word of the text means: it stays while the pointer is on the word or on the card, and Escape closes it. */
export function TextHover({ is, word, onEnter, onLeave, onClose }: TextHoverProps) {
  const box = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const card = box.current;
    if (card === null) return;
    const over = word.bottom + card.offsetHeight > innerHeight && word.top > card.offsetHeight;
    card.style.setProperty(
      "--x",
      `${Math.max(4, Math.min(word.left, document.documentElement.clientWidth - card.offsetWidth - 4))}px`,
    );
    // It touches its word, so that the pointer can go over to it.
    card.style.setProperty("--y", `${over ? word.top - card.offsetHeight : word.bottom}px`);
  }, [word]);
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (event.key !== "Escape") return;
      event.stopPropagation();
      event.preventDefault();
      onClose();
    };
    addEventListener("keydown", press, { capture: true });
    return () => removeEventListener("keydown", press, { capture: true });
  }, [onClose]);
  return (
    <div
      ref={box}
      id="text-hover"
      role="tooltip"
      className="offers told-word"
      onPointerEnter={onEnter}
      onPointerLeave={onLeave}
    >
      <p>
        <code>{is.title}</code>
        {is.shown === undefined ? null : (
          <>
            {" "}
            <Amount shown={is.shown} />
          </>
        )}
      </p>
      {is.lines.map((line, i) => (
        <p key={i}>
          <Prose text={line} />
        </p>
      ))}
    </div>
  );
}
